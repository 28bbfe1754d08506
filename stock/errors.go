package stock

import (
	"fmt"
	"strconv"

	"example.com/longpoint/internal/explicit"
)

// FieldError reports a field whose value cannot be used. It is the error of
// every validation in stock, stock/joint and stock/takeoff.
type FieldError struct {
	Field string // path of the field, such as `walls[2].openings[0].width`
	Value string // its value as text
	Want  string // what would be right
}

// Error names the field, the value and what would be right, on one line.
func (e *FieldError) Error() string {
	return fmt.Sprintf("%s is %s, want %s", e.Field, strconv.Quote(e.Value), e.Want)
}

// unmarshal reads an object into a struct without methods, and refuses zeros that stand for
// something else.
func unmarshal(data []byte, v any) error {
	fault, err := explicit.Unmarshal(data, v)
	if fault != nil {
		return &FieldError{Field: fault.Name, Value: fault.Value, Want: fault.Want}
	}
	return err
}
