package stock

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
func (s Symmetry) String() string { return nameOf("Symmetry", symmetryNames[:], s) }

// MarshalText writes the name; an unknown value is a *measure.FieldError.
func (s Symmetry) MarshalText() ([]byte, error) {
	return marshalName("Symmetry", "a symmetry", symmetryNames[:], s)
}

// UnmarshalText reads the name; any other text is a *measure.FieldError.
func (s *Symmetry) UnmarshalText(text []byte) error {
	return unmarshalName("a symmetry", symmetryNames[:], text, s)
}

// MayTurn reports whether a piece may be turned end for end with its face still out,
// which puts its other edge up. Its left end is then at the right.
func (s Symmetry) MayTurn() bool { return s == SymmetryEnds || s == SymmetryAll }

// MayRoll reports whether a piece may be turned so that its back becomes its face.
func (s Symmetry) MayRoll() bool { return s == SymmetryAll }
