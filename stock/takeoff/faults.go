package takeoff

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strconv"

	"example.com/longpoint/measure"
)

// maxFaults is how many faults one call reports.
const maxFaults = 100

// faults collects what is wrong with an argument, in the order of its data.
type faults []error

// err returns the faults joined, or nil if there are none.
func (f faults) err() error { return errors.Join(f...) }

// put notes an error as it is.
func (f *faults) put(err error) {
	if err != nil && len(*f) < maxFaults {
		*f = append(*f, err)
	}
}

// add notes a field that cannot be used.
func (f *faults) add(field, value, want string) {
	f.put(&measure.FieldError{Field: field, Value: value, Want: want})
}

// under notes every fault of the field parent, or of the argument itself if that is empty.
func (f *faults) under(parent string, err error) {
	for e := range measure.FieldErrors(err) {
		f.put(e.Under(parent))
	}
}

// length notes a length that is not from lo to hi.
func (f *faults) length(field string, l, lo, hi measure.Length) {
	if l < lo || l > hi {
		f.add(field, l.About(), fmt.Sprintf("from %v to %v", lo.About(), hi.About()))
	}
}

// positive notes a length that is not more than zero, or more than hi.
func (f *faults) positive(field string, l, hi measure.Length) {
	if l <= 0 || l > hi {
		f.add(field, l.About(), fmt.Sprintf("more than zero, at most %v", hi.About()))
	}
}

// count notes a number of things that is more than most.
func (f *faults) count(field string, n, most int, what string) {
	if n > most {
		f.add(field, strconv.Itoa(n)+" "+what, fmt.Sprintf("at most %d", most))
	}
}

// wallFault is why a run on a wall or, unless it is negative, the trim of an opening cannot
// be cut.
type wallFault struct {
	wall, opening int
	err           *measure.FieldError
}

// onWalls notes what is wrong on the walls of a room in their order.
func (f *faults) onWalls(room string, wrong []wallFault) {
	slices.SortStableFunc(wrong, func(a, b wallFault) int {
		return cmp.Or(cmp.Compare(a.wall, b.wall), cmp.Compare(a.opening, b.opening))
	})
	for _, w := range wrong {
		at := room + "." + indexed("walls", w.wall)
		if w.opening >= 0 {
			at += "." + indexed("openings", w.opening)
		}
		f.put(w.err.Under(at))
	}
}

// uncut is the fault of a run that cannot be cut as it was measured.
func uncut(label string, length measure.Length, why error) *measure.FieldError {
	return &measure.FieldError{Value: label + ", " + length.About(), Want: "a run that can be cut as it was measured", Err: why}
}
