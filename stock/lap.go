package stock

// Lap says which part of a scarf lies over the other. The feather edge of the part that
// lies over shows, so it belongs on the side from which one comes: nobody then looks into
// the joint.
type Lap uint8

const (
	LeftOver  Lap = iota // the left part laps over the right one
	RightOver            // the right part laps over the left one
)

var lapNames = [...]string{LeftOver: "left over", RightOver: "right over"}

// String returns "left over" or "right over".
func (l Lap) String() string { return nameOf("Lap", lapNames[:], l) }

// MarshalText writes the name; an unknown value is a *measure.FieldError.
func (l Lap) MarshalText() ([]byte, error) { return marshalName("Lap", "a lap", lapNames[:], l) }

// UnmarshalText reads the name; any other text is a *measure.FieldError.
func (l *Lap) UnmarshalText(text []byte) error { return unmarshalName("a lap", lapNames[:], text, l) }
