package takeoff

import (
	"strings"

	"example.com/longpoint/internal/kind"
	"example.com/longpoint/measure"
)

const rightAngle = 90 * measure.Degree

// A CornerKind is the kind of end of a wall.
type CornerKind uint8

const (
	CornerInside  CornerKind = iota // the next wall comes toward the room
	CornerOutside                   // the next wall goes away from the room
	CornerOpen                      // no next wall: the trim is returned
	CornerStop                      // no next wall: the trim dies square into something
	CornerRough                     // no next wall: the trim is left long and scribed, as to stone
)

var cornerNames = [...]string{CornerInside: "inside", CornerOutside: "outside", CornerOpen: "open", CornerStop: "stop", CornerRough: "rough"}

// String returns "inside", "outside", "open", "stop" or "rough".
func (k CornerKind) String() string {
	return kind.Text("CornerKind", cornerNames[:], k)
}

// A Corner is the end of a wall. The zero value is an inside corner of 90°.
//
// Its text, in JSON too, is the kind, the angle, or both: "outside", "135", "outside
// 92.5°"; a lone angle is an inside corner.
type Corner struct {
	Kind CornerKind

	// Angle is the angle between the two walls, more than 0° and at most 180°, for inside and
	// outside corners alike; zero means 90°. At 180° one wall has two names.
	Angle measure.Angle
}

// joined reports whether a next wall follows.
func (c Corner) joined() bool { return c.Kind == CornerInside || c.Kind == CornerOutside }

// angle returns the angle with its default filled in.
func (c Corner) angle() measure.Angle {
	if c.Angle == 0 {
		return rightAngle
	}
	return c.Angle
}

func (c Corner) straight() bool { return c.Angle == halfTurn }

// turn returns the turn to the right from this wall to the next.
func (c Corner) turn() measure.Angle {
	switch c.Kind {
	case CornerInside:
		return halfTurn - c.angle()
	case CornerOutside:
		return c.angle() - halfTurn
	}
	return 0
}

const halfTurn = 180 * measure.Degree

// String returns the corner's text.
func (c Corner) String() string {
	if c.Angle == 0 {
		return c.Kind.String()
	}
	return c.Kind.String() + " " + c.Angle.String()
}

// MarshalText writes the corner's text; an unknown kind is a *measure.FieldError.
func (c Corner) MarshalText() ([]byte, error) {
	if _, err := kind.Marshal("CornerKind", "a corner", cornerNames[:], c.Kind); err != nil {
		return nil, err
	}
	return []byte(c.String()), nil
}

// UnmarshalText reads the corner's text. Invalid text is a *measure.FieldError.
func (c *Corner) UnmarshalText(text []byte) error {
	bad := &measure.FieldError{
		Value: string(text),
		Want:  `a kind (inside, outside, open, stop or rough), an angle or both, such as "outside 135"`,
	}
	word, rest, _ := strings.Cut(strings.TrimSpace(string(text)), " ")
	var v Corner
	found := false
	for k, name := range cornerNames {
		if name == word {
			v.Kind, found = CornerKind(k), true
		}
	}
	if !found {
		rest = string(text)
	}
	if rest = strings.TrimSpace(rest); rest != "" {
		a, err := measure.ParseAngle(rest)
		if err != nil {
			return bad
		}
		if v.Angle = a; a == 0 {
			return bad // zero would silently mean 90°
		}
	} else if !found {
		return bad
	}
	*c = v
	return nil
}
