package stair

import (
	"fmt"
	"math"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// A Transition describes the ways to bring crown from level to a rake around a corner. The
// lengths of a way that is impossible are zero.
type Transition struct {
	// Drop and Projection are the dimensions of the crown as sold.
	Drop       measure.Length `json:"drop"`
	Projection measure.Length `json:"projection"`

	// RakeWidth is the width across the back to which crown for the rake must be milled to
	// meet the crown as sold, running level; RakeDrop is its drop square to the rake and
	// RakeSpring its spring angle. Its projection is the same. This is impossible if
	// RakeDrop would not be positive.
	RakeDrop   measure.Length `json:"rake_drop,omitzero"`
	RakeWidth  measure.Length `json:"rake_width,omitzero"`
	RakeSpring measure.Angle  `json:"rake_spring,omitzero"`

	// LevelWidth is the width that crown for the level wall must have to meet the crown as
	// sold, running up the rake, and LevelDrop its drop.
	LevelDrop  measure.Length `json:"level_drop,omitzero"`
	LevelWidth measure.Length `json:"level_width,omitzero"`

	// Miss is the distance by which the upper edges miss each other if the crown as sold
	// runs both ways: LevelDrop − Drop, even if LevelDrop would not be positive. At one
	// particular slope of a falling corner it is zero: the edges then meet, but the faces
	// between them do not.
	Miss measure.Length `json:"miss"`

	// RolledSpring is the spring angle of the crown as sold on the level wall, rolled until
	// its top lies in the ceiling: it then turns the corner as on a level ceiling, with
	// fillets out of plumb. This works only at a corner of 90°.
	RolledSpring measure.Angle `json:"rolled_spring,omitzero"`

	// WedgeEdge is the length at the wall of a level piece on the raked wall that makes the
	// turn, with an ordinary miter or cope in the corner and a rake miter of half the slope
	// at its other end. At an inside corner it comes to a point at the ceiling. WedgeLine
	// is the distance of the lower edge of the level crown below the line of wall and
	// ceiling in the corner, if the ceiling is square to the raked wall, as it is at a
	// corner of 90°.
	WedgeEdge measure.Length `json:"wedge_edge,omitzero"`
	WedgeLine measure.Length `json:"wedge_line,omitzero"`

	// Trouble explains, in one sentence each, why a way whose lengths are zero is
	// impossible.
	Trouble []string `json:"trouble,omitempty"`
}

// Crown computes the ways to bring crown, or a bed molding, around the corner. All
// derived; the three ways are common practice.
//
// The error is a [*measure.FieldError] for a corner without a slope or out of range (slope,
// angle), and for a width or a spring angle out of range (profile.width, profile.spring).
func (c Corner) Crown(p stock.Profile) (Transition, error) {
	var bad fault.List
	c.faults(&bad)
	if c.Slope == (measure.Slope{}) {
		bad.Add("slope", c.Slope.String(), "other than level")
	}
	p.Role = stock.RoleCrown
	length(&bad, "profile.width", p.Width, 1)
	checkSpring(&bad, p)
	if err := bad.Err(); err != nil {
		return Transition{}, err
	}
	s := slope(c.Slope)
	sin, cos := math.Sincos(p.SpringAngle().Radians())
	out, drop := float64(float64(p.Width)*sin), float64(float64(p.Width)*cos) // not yet rounded
	lift := float64(out * c.lift())                                           // rise of the ceiling edge in the miter
	if math.Abs(lift) > 1<<60 {
		return Transition{}, fault.Field("angle", c.Angle, "an angle at which the miter is of finite length")
	}
	t := Transition{Drop: p.Drop(), Projection: p.Projection()}

	level := drop/s.cos + lift
	t.Miss = round(level) - t.Drop
	if t.LevelDrop = round(level); t.LevelDrop > 0 {
		t.LevelWidth = round(math.Sqrt(float64(out*out) + float64(level*level)))
	} else {
		t.LevelDrop = 0
		t.Trouble = append(t.Trouble, "on the level wall no crown meets the one on the rake: it would have no drop")
	}
	if q := float64((drop - lift) * s.cos); round(q) > 0 {
		t.RakeDrop, t.RakeWidth = round(q), round(math.Sqrt(float64(out*out)+float64(q*q)))
		t.RakeSpring = angleOf(math.Atan2(out, q))
	} else {
		t.Trouble = append(t.Trouble, "on the rake no crown meets the level one: it would have no drop")
	}
	rolled := p.SpringAngle() - angleOf(math.Copysign(math.Abs(math.Atan(s.tan)), c.lift()))
	switch {
	case c.Angle != 0 && c.Angle != rightAngle:
		t.Trouble = append(t.Trouble, fmt.Sprintf("the level crown cannot be rolled: the corner is %v, not 90°", c.Angle))
	case rolled > 0 && rolled < rightAngle:
		t.RolledSpring = rolled
	default:
		t.Trouble = append(t.Trouble, fmt.Sprintf("the level crown cannot be rolled: the slope of %.1f° is too steep for its spring of %v", math.Abs(s.angle.Degrees()), p.SpringAngle()))
	}
	// Along the raked wall, from the corner: the ceiling edge of the level piece ends at the
	// miter, and the two lower edges meet at half the slope.
	reach := lift / s.tan
	edge, line := reach+float64(drop*s.half()), drop-lift
	if round(edge) > 0 && round(line) > 0 {
		t.WedgeEdge, t.WedgeLine = round(edge), round(line)
	} else {
		t.Trouble = append(t.Trouble, "a wedge cannot be: "+wedgeTrouble(round(line) <= 0))
	}
	return t, nil
}

func wedgeTrouble(low bool) string {
	if low {
		return "the lower edge of the level crown would lie in the ceiling"
	}
	return "it would end before it begins"
}
