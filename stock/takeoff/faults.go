package takeoff

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// faults collects the faults of an argument, in the order of its data.
type faults struct{ fault.List }

// length rejects a length that is not from lo to hi.
func (f *faults) length(field string, l, lo, hi measure.Length) {
	if l < lo || l > hi {
		f.Add(field, l.About(), fmt.Sprintf("from %v to %v", lo.About(), hi.About()))
	}
}

// positive rejects a length that is not more than zero, or more than hi.
func (f *faults) positive(field string, l, hi measure.Length) {
	if l <= 0 || l > hi {
		f.Add(field, l.About(), fmt.Sprintf("more than zero, at most %v", hi.About()))
	}
}

// temperature rejects a temperature that package stock would reject.
func (f *faults) temperature(field string, t measure.Temperature) {
	if err := (stock.Fit{InstallTemp: t}).Validate(); err != nil {
		f.Add(field, t.String(), "at most 10,000°F from zero")
	}
}

// moisture rejects a moisture content that package stock would reject.
func (f *faults) moisture(field string, m measure.Ratio) {
	if err := (stock.Fit{InstallMoisture: m}).Validate(); err != nil {
		f.Add(field, m.String(), "from 0% to 500%")
	}
}

// count rejects a number of things above a limit.
func (f *faults) count(field string, n, most int, what string) {
	if n > most {
		f.Add(field, strconv.Itoa(n)+" "+what, fmt.Sprintf("at most %d", most))
	}
}

// wallFault is the reason why a run on a wall or, unless its index is negative, the trim of an
// opening cannot be cut.
type wallFault struct {
	wall, opening int
	err           *measure.FieldError
}

// onWalls adds the faults on the walls of a room, in their order.
func (f *faults) onWalls(room string, wrong []wallFault) {
	slices.SortStableFunc(wrong, func(a, b wallFault) int {
		return cmp.Or(cmp.Compare(a.wall, b.wall), cmp.Compare(a.opening, b.opening))
	})
	for _, w := range wrong {
		at := room + "." + indexed("walls", w.wall)
		if w.opening >= 0 {
			at += "." + indexed("openings", w.opening)
		}
		f.Under("", w.err.Under(at))
	}
}

// uncut is the fault of a run that cannot be cut as it was measured.
func uncut(label string, length measure.Length, why error) *measure.FieldError {
	return &measure.FieldError{Value: label + ", " + length.About(), Want: "a run that can be cut as it was measured", Err: why}
}
