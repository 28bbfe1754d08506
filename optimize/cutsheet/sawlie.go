package cutsheet

import (
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
)

// sawLie is the position of a piece on the saw for the cut at one of its ends, as seen by the
// operator: the fence is at the far side of the table.
type sawLie struct {
	name   string // upright, nested, flat
	fence  string // the part of the piece against the fence
	table  string // the part on the table
	across measure.Length
	high   measure.Length // distance from the fence to its near edge, and height above the table
	spring measure.Angle  // between back and fence; zero if the back is against the fence or on the table

	set  joint.Setting
	keep joint.Side // the piece is to this side of the blade
	long sawCorner
}

// sawCorner is the position of the long point in the section: 1 at the fence or at the top, -1
// toward the operator or on the table, 0 if the piece is equally long in that direction.
type sawCorner struct{ far, up int }

// miter returns the side to which the saw swings, tilt the side to which the top of the blade
// leans. A blade that runs from a long point at the fence comes toward the piece; one that
// begins at a long point on the table leans over it.
func (l *sawLie) miter() joint.Side { return leaning(l.set.Miter, l.keep, l.long.far > 0) }
func (l *sawLie) tilt() joint.Side  { return leaning(l.set.Bevel, l.keep, l.long.up < 0) }

func leaning(a measure.Angle, keep joint.Side, toward bool) joint.Side {
	switch {
	case a == 0:
		return joint.SideNone
	case toward:
		return keep
	}
	return opposite(keep)
}

func opposite(s joint.Side) joint.Side {
	if s == joint.SideLeft {
		return joint.SideRight
	}
	return joint.SideLeft
}

// lieOnSaw returns the position of a piece for a cut at its end: as in the saw settings of a
// sheet, or flat on its back, for a blade that tilts to the left.
func lieOnSaw(p stock.Profile, c joint.Cut, side joint.Side, flat bool) sawLie {
	kind := c.End.Kind
	across := kind == stock.EndFlatMiter || kind.Raked() && !p.Role.Sprung() // cut across the face
	switch {
	case across:
		l := sawLie{name: "flat", fence: "outer edge", table: "back", across: p.Width, high: p.Thickness, set: c.Flat, keep: opposite(side)}
		if kind.Raked() {
			l.fence = "upper edge"
		}
		switch c.End.LongPoint() {
		case stock.SectionOuterEdge, stock.SectionUpperEdge:
			l.long.far = 1
		case stock.SectionLowerEdge:
			l.long.far = -1
		}
		return l
	case p.Role == stock.RoleSoffit:
		return soffitLie(p, c, side)
	case flat:
		return flatLie(p, c, side)
	case p.Role.Sprung():
		return nestedLie(p, c, side)
	}
	l := sawLie{name: "upright", fence: "back", table: "bottom", across: p.Thickness, high: p.Width, set: c.Standing, keep: opposite(side)}
	switch c.End.LongPoint() {
	case stock.SectionBack:
		l.long.far = 1
	case stock.SectionFace:
		l.long.far = -1
	}
	return l
}

// nestedLie is crown upside down: the wall edge against the fence, the ceiling edge on the
// table. The left end of the piece on the wall lies at the right.
func nestedLie(p stock.Profile, c joint.Cut, side joint.Side) sawLie {
	l := sawLie{
		name: "nested", fence: "wall edge", table: "ceiling edge", across: p.Projection(), high: p.Drop(), spring: p.SpringAngle(),
		set: c.Standing, keep: side,
	}
	switch c.End.LongPoint() {
	case stock.SectionBack:
		l.long.far = 1
	case stock.SectionFace:
		l.long.far = -1
	case stock.SectionUpperEdge:
		l.long.up = -1
	case stock.SectionLowerEdge:
		l.long.up = 1
	}
	return l
}

// soffitLie is a board as it is under the ceiling: the wall edge against the fence, the back
// up.
func soffitLie(p stock.Profile, c joint.Cut, side joint.Side) sawLie {
	l := sawLie{name: "face down", fence: "wall edge", table: "face", across: p.Width, high: p.Thickness, set: c.Standing, keep: opposite(side)}
	toward := 0
	switch c.End.LongPoint() {
	case stock.SectionBack:
		toward = 1
	case stock.SectionFace:
		toward = -1
	}
	if c.End.Kind.Spliced() { // through the thickness
		l.long.up = toward
	} else {
		l.long.far = toward
	}
	return l
}

// flatLie is a piece with its back on the table. The blade tilts to the left, over the piece if
// that is longest at the back. This decides which side of the blade is kept and, with the end,
// which edge is against the fence.
func flatLie(p stock.Profile, c joint.Cut, side joint.Side) sawLie {
	l := sawLie{name: "flat", table: "back", across: p.Width, high: p.Thickness, set: c.Flat, keep: joint.SideLeft}
	point := c.End.LongPoint()
	switch point {
	case stock.SectionBack, stock.SectionUpperEdge:
		l.long.up = -1
	case stock.SectionFace, stock.SectionLowerEdge:
		l.long.up, l.keep = 1, joint.SideRight
	default:
		l.keep = opposite(side)
	}
	upper, lower := "top edge", "bottom edge"
	if p.Role.Sprung() {
		upper, lower = "ceiling edge", "wall edge"
	}
	l.fence = upper
	turned := l.keep == side // end for end
	if turned {
		l.fence = lower
	}
	if p.Role.Sprung() && point != "" {
		// The wall is at the lower edge, the ceiling at the upper one.
		l.long.far = 1
		if upperLong := point == "face" || point == "upper edge"; upperLong == turned {
			l.long.far = -1
		}
	}
	return l
}
