package finish

import (
	"errors"
	"fmt"

	"example.com/longpoint/measure"
)

// bad reports a value that cannot be right.
func bad(field string, value any, want string) error {
	return &measure.FieldError{Field: field, Value: fmt.Sprint(value), Want: want}
}

// wrongKind reports an amount of another kind than the one wanted: a weight where a
// volume is needed, say.
func wrongKind(field string, value Amount, want dimension) error {
	return bad(field, value, [...]string{"a count", "a length", "an area", "a volume", "a weight"}[want])
}

// tooLarge reports a result outside the range of its type.
func tooLarge(what string) error {
	return &measure.RangeError{Op: "finish", Value: what, Reason: "too large to represent"}
}

// within puts the path of the value that holds what err is about before its field.
func within(path string, err error) error {
	switch e := err.(type) {
	case *measure.FieldError:
		return e.Under(path)
	case *measure.RangeError:
		return &measure.RangeError{Op: e.Op, Value: path + ": " + e.Value, Reason: e.Reason}
	case interface{ Unwrap() []error }:
		var f faults
		f.add(path, err)
		return f.join()
	}
	return err
}

// maxFaults is how many faults are reported at once.
const maxFaults = 100

// faults collects what is wrong, each below a path.
type faults []error

func (f *faults) add(path string, err error) {
	if err == nil {
		return
	}
	if many, ok := err.(interface{ Unwrap() []error }); ok {
		for _, e := range many.Unwrap() {
			f.add(path, e)
		}
		return
	}
	if len(*f) < maxFaults {
		if path != "" {
			err = within(path, err)
		}
		*f = append(*f, err)
	}
}

func (f *faults) bad(field string, value any, want string) { f.add("", bad(field, value, want)) }

// join returns the faults as one error, or nil.
func (f faults) join() error { return errors.Join(f...) }
