package takeoff

import (
	"fmt"
	"strconv"
	"strings"

	"example.com/longpoint/measure"
)

// The enumerations of this package all turn into text and back in the same way, so
// that all of them fail alike.

func nameOr(kind string, names []string, v uint8) string {
	if int(v) < len(names) {
		return names[v]
	}
	return fmt.Sprintf("%s(%d)", kind, v)
}

func marshalName(field string, names []string, v uint8) ([]byte, error) {
	if int(v) < len(names) {
		return []byte(names[v]), nil
	}
	return nil, &measure.FieldError{Field: field, Value: strconv.Itoa(int(v)), Want: "one of " + strings.Join(names, ", ")}
}

func unmarshalName(field string, names []string, text []byte) (uint8, error) {
	for v, name := range names {
		if name == string(text) {
			return uint8(v), nil
		}
	}
	return 0, &measure.FieldError{Field: field, Value: string(text), Want: "one of " + strings.Join(names, ", ")}
}
