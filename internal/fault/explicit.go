package fault

import (
	"example.com/longpoint/internal/explicit"
	"example.com/longpoint/measure"
)

// Unmarshal reads an object into a struct without methods, according to its tags; a zero
// that would mean a default is a *measure.FieldError, see package explicit.
func Unmarshal(data []byte, v any) error {
	bad, err := explicit.Unmarshal(data, v)
	if bad != nil {
		return &measure.FieldError{Field: bad.Name, Value: bad.Value, Want: bad.Want}
	}
	return err
}
