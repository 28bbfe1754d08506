package stock

import (
	"errors"

	"example.com/longpoint/internal/explicit"
	"example.com/longpoint/measure"
)

// maxFaults is how many faults are reported of one value.
const maxFaults = 100

// faults collects what is wrong with a value, in the order of its fields.
type faults []error

// add notes a field that cannot be used.
func (f *faults) add(field, value, want string) {
	f.under("", &measure.FieldError{Field: field, Value: value, Want: want})
}

// under notes every fault of the field parent.
func (f *faults) under(parent string, err error) {
	for e := range measure.FieldErrors(err) {
		if len(*f) < maxFaults {
			*f = append(*f, e.Under(parent))
		}
	}
}

// temperature notes one that is far beyond any site.
func (f *faults) temperature(field string, t measure.Temperature) {
	if t < -maxTemperature || t > maxTemperature {
		f.add(field, t.String(), "at most 10,000°F from zero")
	}
}

// err returns the faults joined, or nil if there are none.
func (f faults) err() error { return errors.Join(f...) }

// unmarshal reads an object into a struct without methods, and refuses zeros that stand for
// something else.
func unmarshal(data []byte, v any) error {
	fault, err := explicit.Unmarshal(data, v)
	if fault != nil {
		return &measure.FieldError{Field: fault.Name, Value: fault.Value, Want: fault.Want}
	}
	return err
}
