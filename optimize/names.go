package optimize

import (
	"strconv"
	"strings"

	"example.com/longpoint/measure"
)

// names spells the values of an enumeration, so that each type's text forms
// are one line and cannot drift apart.
type names struct {
	kind string   // the type, as an unknown value is printed
	what string   // what it is, with its article
	of   []string // by value
}

func (n names) text(v uint8) string {
	if int(v) < len(n.of) {
		return n.of[v]
	}
	return n.kind + "(" + strconv.Itoa(int(v)) + ")"
}

func (n names) marshal(v uint8) ([]byte, error) {
	if int(v) >= len(n.of) {
		return nil, n.unknown(strconv.Itoa(int(v)))
	}
	return []byte(n.of[v]), nil
}

func (n names) parse(b []byte) (uint8, error) {
	for i, s := range n.of {
		if s == string(b) {
			return uint8(i), nil
		}
	}
	return 0, n.unknown(string(b))
}

// want says which values there are.
func (n names) want() string { return n.what + ": " + strings.Join(n.of, ", ") }

func (n names) unknown(value string) error {
	return &measure.FieldError{Value: value, Want: n.want()}
}
