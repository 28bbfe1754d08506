package stair_test

import (
	"encoding/json"
	"errors"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock/stair"
)

// A zero that is written out would stand for 90°.
func TestZeroAngleIsRefused(t *testing.T) {
	text := []byte(`{"slope": "6:12", "angle": "0deg"}`)
	for name, err := range map[string]error{
		"json":   json.Unmarshal(text, new(stair.Corner)),
		"strict": measure.UnmarshalStrict(text, new(stair.Corner)),
	} {
		var field *measure.FieldError
		if !errors.As(err, &field) || field.Field != "angle" {
			t.Errorf("%s: %v", name, err)
		}
	}
}
