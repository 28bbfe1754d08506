package takeoff

import (
	"example.com/longpoint/internal/explicit"
	"example.com/longpoint/measure"
)

// explicitly reads an object in which a zero that would stand for something else is a fault.
func explicitly(data []byte, v any) error {
	fault, err := explicit.Unmarshal(data, v)
	if fault != nil {
		return &measure.FieldError{Field: fault.Name, Value: fault.Value, Want: fault.Want}
	}
	return err
}
