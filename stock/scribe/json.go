package scribe

import (
	"example.com/longpoint/internal/explicit"
	"example.com/longpoint/measure"
)

// unmarshal reads an object into a struct without methods, and refuses zeros that stand for
// something else.
func unmarshal(data []byte, v any) error {
	fault, err := explicit.Unmarshal(data, v)
	if fault != nil {
		return &measure.FieldError{Field: fault.Name, Value: fault.Value, Want: fault.Want}
	}
	return err
}
