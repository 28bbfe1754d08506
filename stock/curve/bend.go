package curve

import "example.com/longpoint/internal/kind"

// A Bend is the direction in which a wall curves, seen from the room.
type Bend uint8

const (
	BendConvex  Bend = iota // it bulges into the room
	BendConcave             // it is hollow, like an apse or a bay
)

var bendNames = [...]string{BendConvex: "convex", BendConcave: "concave"}

// String returns "convex" or "concave".
func (b Bend) String() string { return kind.Text("Bend", bendNames[:], b) }

// MarshalText writes the name; an unknown bend is a [*measure.FieldError].
func (b Bend) MarshalText() ([]byte, error) { return kind.Marshal("Bend", "a bend", bendNames[:], b) }

// UnmarshalText reads the name; any other text is a [*measure.FieldError].
func (b *Bend) UnmarshalText(text []byte) error {
	return kind.Unmarshal("a bend", bendNames[:], text, b)
}
