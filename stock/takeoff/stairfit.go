package takeoff

import (
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// steepCut is the steepest cut that every miter saw reaches: manuals of saws name 50° to 52° to
// the left and 60° to the right.
const steepCut = 50 * measure.Degree

// stairFits reports conflicts of the stairs of a room with their surroundings and, if cuts is
// set, describes the ends of a skirt.
func stairFits(r *Room, s Scheme, opt Options, cuts bool) []Finding {
	var fs []Finding
	for i := range r.Walls {
		w := &r.Walls[i]
		if w.Stair == nil {
			continue
		}
		add := func(severity Severity, l measure.Length, a measure.Angle, reason string) {
			fs = append(fs, Finding{Code: FindingStairFit, Severity: severity, Room: r.Name, Wall: w.Name, Length: l, Angle: a, Reason: reason})
		}
		say := opt.words()
		from, to := w.Stair.extent()
		for k, o := range w.Openings {
			if over := min(o.At+o.Width, to) - max(o.At, from); over > 0 && (o.Kind != OpeningWindow || o.Sill == 0 || w.Stair.covers(o)) {
				add(SeverityDoubt, over, 0, fmt.Sprintf("the stair covers %v of %s", say.About(over), w.openingName(k)))
			}
		}
		fs = append(fs, w.Stair.inCorner(r, i, s, say)...)
		b, ok := w.Stair.skirt(s, r)
		if !ok {
			continue
		}
		if cuts && b.FootLevel > 0 {
			add(SeverityNote, b.FootLevel, 0, fmt.Sprintf("the foot of %s bears %s on the floor, cut level, and is cut plumb where it meets the base", called("skirt", s.Skirt.Name), say.about(b.FootLevel)))
		}
		if cuts && b.HeadLevel > 0 {
			add(SeverityNote, b.HeadLevel, 0, fmt.Sprintf("%s is notched at its head: %v up the last riser, then %s along the upper floor", called("skirt", s.Skirt.Name), say.About(w.Stair.Flight.Rise), say.about(b.HeadLevel)))
		}
		if b.AboveNosings < leastAbove {
			add(SeverityAdvice, leastAbove-b.AboveNosings, 0, fmt.Sprintf("%s of %v ends %s above the nosings; a board that is %v wider stands clear of them",
				called("skirt", s.Skirt.Name), say.About(s.Skirt.Width), say.about(b.AboveNosings), say.About(leastAbove-b.AboveNosings, s.Skirt.Width)))
		}
		if base := s.baseAtSkirt(r); base != nil && base.Thickness > s.Skirt.Thickness {
			over := base.Thickness - s.Skirt.Thickness
			add(SeverityAdvice, over, 0, fmt.Sprintf("%s is %v thicker than %s that it meets; its end will show", called("base", base.Name), say.About(over, base.Thickness), called("skirt", s.Skirt.Name)))
		}
		steep := measure.Angle(0)
		for _, e := range []stock.End{b.Foot, b.FootBase, b.Head, b.HeadBase} {
			if e.Kind == stock.EndRake {
				steep = max(steep, e.Angle, -e.Angle)
			}
		}
		if steep > steepCut {
			add(SeverityAdvice, 0, steep, fmt.Sprintf("the miter of %s, %v wide, and the base is %s from square, more than most saws reach; a plumb joint is simpler",
				called("skirt", s.Skirt.Name), say.About(s.Skirt.Width), say.FormatAngle(steep.Round(measure.Degree/10, measure.RoundHalfEven))))
		}
		for _, e := range []struct {
			lack measure.Length
			at   string
		}{{b.FootLack, "foot"}, {b.HeadLack, "head"}} {
			switch {
			case e.lack > 0:
				add(SeverityAdvice, e.lack, 0, fmt.Sprintf("base stands %s above %s at its %s; its end will show", say.about(e.lack), called("skirt", s.Skirt.Name), e.at))
			case e.lack < 0:
				add(SeverityAdvice, -e.lack, 0, fmt.Sprintf("%s stands %s above the base at its %s; its end will show", called("skirt", s.Skirt.Name), say.about(-e.lack), e.at))
			}
		}
	}
	return fs
}

// leastAbove is the least height of a skirt above the nosings; common practice, no source.
const leastAbove = measure.Inch / 2

// covers reports whether the steps reach up to a window.
func (s *Stair) covers(o Opening) bool {
	from, to := s.extent()
	high := o.At + o.Width - from // along the flight to the window's upper end
	if s.RisesLeft {
		high = to - o.At
	}
	steps := min(high/s.Flight.Run+1, measure.Length(s.Flight.Risers))
	return high > 0 && steps*s.Flight.Rise > o.Sill
}

// inCorner reports a flight whose head is in a corner of the room, around which raked trim
// would have to continue.
func (s *Stair) inCorner(r *Room, wall int, of Scheme, say words) []Finding {
	from, to := s.extent()
	w := &r.Walls[wall]
	corner, gap := w.Corner, w.Length-to
	if s.RisesLeft {
		corner, gap = r.before(wall), from
	}
	if gap >= s.Flight.Run || !corner.joined() || corner.straight() || s.Head == 0 && of.ChairRail == nil {
		return nil
	}
	slope, err := measure.NewSlope(s.Flight.Rise, s.Flight.Run)
	if err != nil {
		return nil
	}
	p := of.ChairRail
	if p == nil {
		if p = of.Skirt; p == nil {
			return nil
		}
	}
	level, _, err := p.Width.MulDiv(int64(s.Flight.Run), int64(hypot(s.Flight.Rise, s.Flight.Run)), measure.RoundHalfEven)
	if err != nil {
		return nil
	}
	return []Finding{{
		Code: FindingStairFit, Severity: SeverityAdvice, Room: r.Name, Wall: w.Name, Length: level, Angle: slope.Angle(),
		Reason: fmt.Sprintf("the head of the stair is in a corner: trim that goes around it on the rake is cut in three planes at once and does not meet its counterpart; %s needs to be %s wide on the rake where it is %v on the level, or level off before the corner",
			p.Name, say.about(level), say.About(p.Width)),
	}}
}
