package optimize

import (
	"errors"
	"fmt"
	"strconv"
)

// names spells the values of an enumeration, so that each type's text forms
// are one line and cannot drift apart.
type names []string

func (n names) text(v uint8) string {
	if int(v) < len(n) && n[v] != "" {
		return n[v]
	}
	return "unknown " + strconv.Itoa(int(v))
}

func (n names) marshal(v uint8) ([]byte, error) {
	if int(v) >= len(n) || n[v] == "" {
		return nil, errors.New("optimize: " + n.text(v) + " has no text")
	}
	return []byte(n[v]), nil
}

func (n names) parse(b []byte) (uint8, error) {
	for i, s := range n {
		if s != "" && s == string(b) {
			return uint8(i), nil
		}
	}
	return 0, fmt.Errorf("optimize: %q is none of %q", b, []string(n))
}
