package stock

import (
	"strconv"
	"strings"

	"example.com/longpoint/internal/fault"
)

// kind is a small set of values with names.
type kind interface{ ~uint8 }

// nameOf, marshalName and unmarshalName are how the kinds of this package turn into text,
// so that all of them print and fail alike.
func nameOf[K kind](typ string, names []string, v K) string {
	if int(v) < len(names) {
		return names[v]
	}
	return typ + "(" + strconv.Itoa(int(v)) + ")"
}

func marshalName[K kind](typ, what string, names []string, v K) ([]byte, error) {
	if int(v) < len(names) {
		return []byte(names[v]), nil
	}
	return nil, fault.Field("", nameOf(typ, names, v), oneOf(what, names))
}

func unmarshalName[K kind](what string, names []string, text []byte, v *K) error {
	for i, n := range names {
		if n == string(text) {
			*v = K(i)
			return nil
		}
	}
	return fault.Field("", string(text), oneOf(what, names))
}

// oneOf says which names there are.
func oneOf(what string, names []string) string { return what + ": " + strings.Join(names, ", ") }
