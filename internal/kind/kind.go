// Package kind turns small sets of values with names into text and back, so that the kinds
// of all packages print, read and fail alike.
package kind

import (
	"strconv"
	"strings"

	"example.com/longpoint/internal/fault"
)

// Text returns the name of a value, or a text like Task(99) for one without a name.
func Text[K ~uint8](typ string, names []string, v K) string {
	if int(v) < len(names) {
		return names[v]
	}
	return typ + "(" + strconv.Itoa(int(v)) + ")"
}

// Marshal returns the name of a value; a value without a name is a *measure.FieldError.
// what is the kind in words, with its article.
func Marshal[K ~uint8](typ, what string, names []string, v K) ([]byte, error) {
	if int(v) < len(names) {
		return []byte(names[v]), nil
	}
	return nil, fault.Field("", Text(typ, names, v), OneOf(what, names))
}

// Unmarshal sets v to the value with a name; any other text is a *measure.FieldError and
// leaves v unchanged.
func Unmarshal[K ~uint8](what string, names []string, text []byte, v *K) error {
	for i, n := range names {
		if n == string(text) {
			*v = K(i)
			return nil
		}
	}
	return fault.Field("", string(text), OneOf(what, names))
}

// OneOf lists the names.
func OneOf(what string, names []string) string { return what + ": " + strings.Join(names, ", ") }
