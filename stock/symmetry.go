package stock

import "fmt"

// Symmetry is how a piece may be turned before it is cut, so that a miter for one hand
// can be cut for the other.
type Symmetry uint8

const (
	SymmetryNone Symmetry = iota // molded: one edge is up, one face is out
	SymmetryEnds                 // either edge may be up: alike upside down, one face is out
	SymmetryAll                  // either edge up and either face out, as a board with square edges
)

var symmetryNames = [...]string{SymmetryNone: "one way", SymmetryEnds: "end for end", SymmetryAll: "any way"}

// String returns "one way", "end for end" or "any way".
func (s Symmetry) String() string {
	if int(s) < len(symmetryNames) {
		return symmetryNames[s]
	}
	return fmt.Sprintf("Symmetry(%d)", uint8(s))
}

// MarshalText writes the name; an unknown value is a *FieldError.
func (s Symmetry) MarshalText() ([]byte, error) {
	return marshalName("symmetry", symmetryNames[:], uint8(s))
}

// UnmarshalText reads the name; any other text is a *FieldError.
func (s *Symmetry) UnmarshalText(text []byte) error {
	v, err := unmarshalName("symmetry", symmetryNames[:], text)
	if err == nil {
		*s = Symmetry(v)
	}
	return err
}

// MayTurn reports whether a piece may be turned end for end with its face still out,
// which puts its other edge up. Its left end is then at the right.
func (s Symmetry) MayTurn() bool { return s == SymmetryEnds || s == SymmetryAll }

// MayRoll reports whether a piece may be turned so that its back becomes its face.
func (s Symmetry) MayRoll() bool { return s == SymmetryAll }
