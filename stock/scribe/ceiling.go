package scribe

import (
	"math"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/kind"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// A CeilingFit is the way to fit crown to a ceiling that is out of level.
type CeilingFit uint8

const (
	CeilingFollow CeilingFit = iota // crown lies against wall and ceiling, and is as far out of level as the ceiling
	CeilingLevel                    // crown is dropped to a level line at the lowest point; the gap above is filled
	CeilingRoll                     // its lower edge is level and its upper one on the ceiling: spring and projection change
)

var ceilingNames = [...]string{CeilingFollow: "follow", CeilingLevel: "level", CeilingRoll: "roll"}

// String returns "follow", "level" or "roll".
func (f CeilingFit) String() string { return kind.Text("CeilingFit", ceilingNames[:], f) }

// MarshalText writes the name; an unknown fit is a [*measure.FieldError].
func (f CeilingFit) MarshalText() ([]byte, error) {
	return kind.Marshal("CeilingFit", "a fit at the ceiling", ceilingNames[:], f)
}

// UnmarshalText reads the name; any other text is a [*measure.FieldError].
func (f *CeilingFit) UnmarshalText(text []byte) error {
	return kind.Unmarshal("a fit at the ceiling", ceilingNames[:], text, f)
}

// MaxFillGap is the widest gap above crown that is filled in good work (A. Rae,
// questions and answers, Woodworker's Journal).
const MaxFillGap = 3 * measure.Inch / 16

// A Ceiling is the ceiling of one room above its crown.
type Ceiling struct {
	Walls []Surface     `json:"walls"` // each wall's readings; a wall without readings is ignored
	Crown stock.Profile `json:"crown"` // treated as crown, whatever its role
}

// A CeilingShape describes the consequences for crown of a ceiling that is out of
// level.
type CeilingShape struct {
	Low  Point `json:"low"`  // nearest to the level line
	High Point `json:"high"` // farthest from it

	// Rise is the height of High above Low: the widest gap above crown that is dropped to
	// a level line.
	Rise measure.Length `json:"rise"`

	// Fall is the greatest rise or fall of the ceiling along one wall within FollowOver.
	// MayFollow is set if Fall is at most MaxFollowFall, MayFill if Rise is at most MaxFillGap.
	Fall      measure.Length `json:"fall,omitzero"`
	MayFollow bool           `json:"may_follow,omitempty"`
	MayFill   bool           `json:"may_fill,omitempty"`

	// Rolled is the crown at High if the crown at Low has its proper drop and its lower
	// edge is level. MayRoll is set if that is possible: if the crown is wider than the
	// drop at High.
	Rolled  Roll `json:"rolled,omitzero"`
	MayRoll bool `json:"may_roll,omitempty"`

	// Advice is the fit with the least work: follow, if the ceiling is straight enough for
	// the eye; else a level line, if the gap may be filled; else roll, if that is possible.
	Advice CeilingFit `json:"advice"`
}

// Shape finds the lowest and the highest point of the room's ceiling, the first of
// several, and their consequences for crown. All readings are from one level line.
//
// The error joins a [*measure.FieldError] for each field out of range, and one for a
// ceiling without readings.
func (c Ceiling) Shape() (CeilingShape, error) {
	var bad fault.List
	var l CeilingShape
	l.Low, l.High, l.Fall = look(&bad, c.Walls)
	crown := c.Crown
	crown.Role = stock.RoleCrown
	bad.Under("crown", crown.Validate())
	if err := bad.Err(); err != nil {
		return CeilingShape{}, err
	}
	l.Rise = l.High.FromLine - l.Low.FromLine
	l.MayFollow = l.Fall <= MaxFollowFall
	l.MayFill = l.Rise <= MaxFillGap
	if drop := crown.Drop() + l.Rise; drop < crown.Width {
		roll, err := NewRoll(crown, drop)
		if err != nil {
			return CeilingShape{}, err
		}
		l.Rolled, l.MayRoll = roll, true
	}
	switch {
	case l.MayFollow:
	case l.MayFill || !l.MayRoll:
		l.Advice = CeilingLevel
	default:
		l.Advice = CeilingRoll
	}
	return l, nil
}

// A Roll is crown with a forced drop: it is rolled about its lower edge until the upper one
// lies on the ceiling, which changes its projection and its spring angle. Miters are cut at
// that spring angle.
type Roll struct {
	Drop       measure.Length `json:"drop"`
	Projection measure.Length `json:"projection"` // √(width² − drop²), to the nearest tick
	Spring     measure.Angle  `json:"spring"`     // from the wall: its cosine is drop/width
}

// NewRoll returns the crown with a forced drop. The drop of the profile gives exactly the
// projection and the spring angle of the profile.
//
// The error is a [*measure.FieldError] for a width that is not positive or more than 1000
// ft (width), a spring (spring), and a drop that is not between zero and the width
// (drop).
func NewRoll(crown stock.Profile, drop measure.Length) (Roll, error) {
	var bad fault.List
	if across(&bad, "width", crown.Width, 1); crown.Spring < 0 || crown.Spring >= 90*measure.Degree {
		bad.Add("spring", crown.Spring.String(), "more than 0° and less than 90°, or zero for 38°")
	}
	if drop <= 0 || len(bad) == 0 && drop >= crown.Width {
		bad.Add("drop", drop.About(), "more than zero and less than the width of the crown, "+crown.Width.About())
	}
	if err := bad.Err(); err != nil {
		return Roll{}, err
	}
	crown.Role = stock.RoleCrown
	if drop == crown.Drop() {
		return Roll{Drop: drop, Projection: crown.Projection(), Spring: crown.SpringAngle()}, nil
	}
	// (w − d)(w + d) avoids the cancellation in w² − d².
	p := math.Sqrt(float64(float64(crown.Width-drop) * float64(crown.Width+drop)))
	// The arc cosine is flat near 1; the arc tangent is not.
	spring := degrees(math.Atan2(p, float64(drop)))
	return Roll{
		Drop: drop, Projection: measure.Length(math.RoundToEven(p)),
		Spring: spring,
	}, nil
}
