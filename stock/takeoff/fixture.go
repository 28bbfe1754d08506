package takeoff

import "example.com/longpoint/measure"

// Fixture is what else stops the trim on a wall: a cabinet, a tub, a hearth, a
// built-in, a radiator.
type Fixture struct {
	Name  string         `json:"name"`  // not empty
	At    measure.Length `json:"at"`    // left edge, from the left end of the wall
	Width measure.Length `json:"width"` // along the wall, more than zero

	// Bottom and Height say which trim it stops: what runs between the two.
	// Height is the top above the floor, more than Bottom; zero stops all but crown.
	Bottom measure.Length `json:"bottom,omitzero"`
	Height measure.Length `json:"height,omitzero"`

	// Depth is how far it reaches into the room. In an inside corner it shortens
	// the trim of the neighboring wall by as much; zero leaves that as it is.
	Depth measure.Length `json:"depth,omitzero"`

	// Ends is what the trim does at either side. The zero value is Butt.
	Ends Termination `json:"ends,omitzero"`
}

// Termination is what trim does where it stops.
type Termination uint8

const (
	Butt     Termination = iota // dies square into what stops it
	Returned                    // is mitered and returned to the wall
	Scribed                     // is left long and scribed to what stops it
)

var terminationNames = [...]string{Butt: "butt", Returned: "return", Scribed: "scribe"}

// String returns "butt", "return" or "scribe".
func (t Termination) String() string { return nameOr("Termination", terminationNames[:], uint8(t)) }

// MarshalText writes the name; an unknown value is a *measure.FieldError.
func (t Termination) MarshalText() ([]byte, error) {
	return marshalName("ends", terminationNames[:], uint8(t))
}

// UnmarshalText reads the name; any other text is a *measure.FieldError.
func (t *Termination) UnmarshalText(text []byte) error {
	v, err := unmarshalName("ends", terminationNames[:], text)
	if err == nil {
		*t = Termination(v)
	}
	return err
}
