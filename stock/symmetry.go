package stock

import "example.com/longpoint/internal/kind"

// Symmetry describes how a piece may be turned on the stick without a difference where it
// is installed: a square tube in any way, molded trim not at all. A piece that may be
// turned can share a mitered cut with its neighbor.
type Symmetry uint8

const (
	SymmetryNone Symmetry = iota // one edge is up and one face out, as for molded trim
	SymmetryEnds                 // either edge may be up, one face is out, as for a board with one good face
	SymmetryAll                  // either edge up and either face out, as for square-edged boards, bars and tubes
)

var symmetryNames = [...]string{SymmetryNone: "one way", SymmetryEnds: "end for end", SymmetryAll: "any way"}

// String returns "one way", "end for end" or "any way".
func (s Symmetry) String() string { return kind.Text("Symmetry", symmetryNames[:], s) }

// MarshalText writes the name; an unknown value is a [*measure.FieldError].
func (s Symmetry) MarshalText() ([]byte, error) {
	return kind.Marshal("Symmetry", "a symmetry", symmetryNames[:], s)
}

// UnmarshalText reads the name; any other text is a [*measure.FieldError].
func (s *Symmetry) UnmarshalText(text []byte) error {
	return kind.Unmarshal("a symmetry", symmetryNames[:], text, s)
}

// MayTurn reports whether a piece may be turned end for end with its face still out, so
// that its other edge is up and its left end at the right.
func (s Symmetry) MayTurn() bool { return s == SymmetryEnds || s == SymmetryAll }

// MayRoll reports whether a piece may be turned so that its back becomes its face.
func (s Symmetry) MayRoll() bool { return s == SymmetryAll }
