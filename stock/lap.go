package stock

import "fmt"

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
func (l Lap) String() string {
	if int(l) < len(lapNames) {
		return lapNames[l]
	}
	return fmt.Sprintf("Lap(%d)", uint8(l))
}

// MarshalText writes the name; an unknown value is a *FieldError.
func (l Lap) MarshalText() ([]byte, error) { return marshalName("lap", lapNames[:], uint8(l)) }

// UnmarshalText reads the name; any other text is a *FieldError.
func (l *Lap) UnmarshalText(text []byte) error {
	v, err := unmarshalName("lap", lapNames[:], text)
	if err == nil {
		*l = Lap(v)
	}
	return err
}
