package optimize

import (
	"strconv"
	"strings"

	"example.com/longpoint/measure"
)

// names holds the text of the values of an enumeration, so that all text forms of a type agree.
type names struct {
	kind string   // name of the type, for unknown values
	what string   // noun with its article
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

// want lists the valid values.
func (n names) want() string { return n.what + ": " + strings.Join(n.of, ", ") }

func (n names) unknown(value string) error {
	return &measure.FieldError{Value: value, Want: n.want()}
}
