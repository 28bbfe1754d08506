package takeoff

import (
	"example.com/longpoint/internal/kind"
)

// A Meet is the way in which a run ends at other trim.
type Meet uint8

const (
	MeetSquare  Meet = iota // it dies into it, square
	MeetChamfer             // square, the thicker one chamfered down to the face of the other
	MeetReturn              // the taller or, at equal height, the thicker one is returned to the wall; short of a casing
	MeetBlock               // both die into a block that stands between them
	MeetScribe              // the lower one is left long and scribed to the other
)

var meetNames = [...]string{MeetSquare: "square", MeetChamfer: "chamfer", MeetReturn: "return", MeetBlock: "block", MeetScribe: "scribe"}

// String returns "square", "chamfer", "return", "block" or "scribe".
func (m Meet) String() string { return kind.Text("Meet", meetNames[:], m) }

// MarshalText writes the name; an unknown way is a *measure.FieldError.
func (m Meet) MarshalText() ([]byte, error) {
	return kind.Marshal("Meet", "a way to meet other trim", meetNames[:], m)
}

// UnmarshalText reads the name; any other text is a *measure.FieldError.
func (m *Meet) UnmarshalText(text []byte) error {
	return kind.Unmarshal("a way to meet other trim", meetNames[:], text, m)
}
