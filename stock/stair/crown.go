package stair

import (
	"fmt"
	"math"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// A Transition is what it takes to bring crown from level to a rake around a corner. Its
// lengths are zero where that way cannot be.
type Transition struct {
	// Drop and Projection are those of the crown as it is sold.
	Drop       measure.Length `json:"drop"`
	Projection measure.Length `json:"projection"`

	// RakeWidth is how wide across its back crown for the rake has to be milled to meet the
	// crown as sold, running level; RakeDrop is its drop square to the rake and RakeSpring its spring
	// angle. Its projection is the same. It cannot be where RakeDrop would be nothing.
	RakeDrop   measure.Length `json:"rake_drop,omitzero"`
	RakeWidth  measure.Length `json:"rake_width,omitzero"`
	RakeSpring measure.Angle  `json:"rake_spring,omitzero"`

	// LevelWidth is how wide crown for the level wall has to be to meet the crown as sold,
	// running up the rake, and LevelDrop its drop.
	LevelDrop  measure.Length `json:"level_drop,omitzero"`
	LevelWidth measure.Length `json:"level_width,omitzero"`

	// Miss is by how much the upper edges of the crown as sold miss each other if it runs
	// both ways: LevelDrop − Drop, and that difference too where LevelDrop would be nothing.
	// At one slope of a corner that falls it is nothing: the edges then meet, the faces between
	// them do not.
	Miss measure.Length `json:"miss"`

	// RolledSpring is the spring angle of the crown as sold on the level wall, rolled until
	// its top lies in the ceiling: it then turns the corner as on a level ceiling, with fillets
	// out of plumb. At a corner of 90° only.
	RolledSpring measure.Angle `json:"rolled_spring,omitzero"`

	// WedgeEdge is how long at the wall a level piece on the raked wall is that makes the turn:
	// an ordinary miter or cope in the corner, a rake miter of half the slope at its other
	// end. At an inside corner it comes to a point at the ceiling. WedgeLine is how far the
	// lower edge of the level crown then lies below the line where wall and ceiling meet in
	// the corner, if the ceiling is square to the raked wall, as it is at a corner of 90°.
	WedgeEdge measure.Length `json:"wedge_edge,omitzero"`
	WedgeLine measure.Length `json:"wedge_line,omitzero"`

	// Trouble says why the ways that are zero cannot be, one sentence each.
	Trouble []string `json:"trouble,omitempty"`
}

// Crown works out the ways of crown, or of a bed molding, around the corner. All derived;
// the three ways are common practice.
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
	lift := float64(out * c.lift())                                           // of the ceiling edge in the miter
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
		t.Trouble = append(t.Trouble, fmt.Sprintf("the level crown cannot be rolled: the slope of %.1f° is beyond what its spring of %v leaves", math.Abs(s.angle.Degrees()), p.SpringAngle()))
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
