package stock

import (
	"strconv"
	"strings"
)

// marshalName and unmarshalName are the one way in which the enumerations of
// this package turn into text, so that all of them fail alike.
func marshalName(field string, names []string, v uint8) ([]byte, error) {
	if int(v) < len(names) {
		return []byte(names[v]), nil
	}
	return nil, &FieldError{Field: field, Value: strconv.Itoa(int(v)), Want: "one of " + strings.Join(names, ", ")}
}

func unmarshalName(field string, names []string, text []byte) (uint8, error) {
	for i, n := range names {
		if n == string(text) {
			return uint8(i), nil
		}
	}
	return 0, &FieldError{Field: field, Value: string(text), Want: "one of " + strings.Join(names, ", ")}
}
