package cutsheet

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
)

// setting is the setting of the saw for one kind of end at one side of a piece.
type setting struct {
	kind   stock.EndKind
	corner measure.Angle
	side   joint.Side

	long           stock.SectionPoint
	standing, flat joint.Setting
	hand           joint.Hand
}

// settings returns each setting that the pieces need once, except square cuts: by kind, then by
// angle, the left end before the right one.
func settings(ctx context.Context, p *optimize.Problem, plan *optimize.Plan, o *Options) ([]setting, error) {
	profile := o.profile()
	var all []setting
	seen := make(map[setting]bool)
	for i := range len(p.Pieces) + len(plan.Parts) {
		if i%lookEvery == 0 {
			if err := ended(ctx); err != nil {
				return nil, err
			}
		}
		var pc *stock.Piece
		field, part := fmt.Sprintf("pieces[%d].", i), i-len(p.Pieces)
		if part < 0 {
			pc = &p.Pieces[i]
		} else {
			pc, field = &plan.Parts[part], runField(plan, i)
		}
		for _, e := range [...]struct {
			name string
			end  stock.End
			side joint.Side
		}{{"left", pc.Left, joint.SideLeft}, {"right", pc.Right, joint.SideRight}} {
			field := field + e.name
			if part >= 0 && e.end.Kind.Spliced() {
				field = runField(plan, i) + "splice.bevel"
			}
			c, err := joint.NewCut(profile, e.end)
			if err != nil {
				return nil, fieldError(field, fmt.Sprintf("%v %v", e.end.Kind, e.end.Angle), "an end that can be cut ("+err.Error()+")")
			}
			if e.end.Setback < 0 && (part < 0 || !e.end.Kind.Spliced()) { // an open joint removes the length that a scarf adds
				return nil, fieldError(field+".setback", e.end.Setback.About(), "zero or more")
			}
			if p.Rules.Nest && part < 0 && e.end.Setback > pc.Length {
				return nil, fieldError(field+".setback", e.end.Setback.About(), "at most the length of the piece, "+pc.Length.About())
			}
			if c.Standing == (joint.Setting{}) && c.Flat == (joint.Setting{}) {
				continue
			}
			s := setting{
				kind: e.end.Kind, corner: e.end.Corner(), side: e.side, long: e.end.LongPoint(),
				standing: c.Standing, flat: c.Flat, hand: c.Hand(e.side),
			}
			if !seen[s] {
				seen[s] = true
				all = append(all, s)
			}
		}
	}
	slices.SortFunc(all, func(a, b setting) int {
		return cmp.Or(cmp.Compare(a.kind, b.kind), cmp.Compare(a.corner, b.corner), cmp.Compare(a.side, b.side))
	})
	return all, nil
}

// runField is the path of the run that a part comes from.
func runField(plan *optimize.Plan, i int) string {
	return fmt.Sprintf("runs[%d].", runOf(plan, i))
}

// angle writes an angle to the graduation, marked like a length.
func (s *Sheet) angle(a measure.Angle) string {
	r := a.Round(s.options.graduation(), measure.RoundHalfEven)
	switch {
	case a > r:
		return s.options.Locale.FormatAngle(r) + "+"
	case a < r:
		return s.options.Locale.FormatAngle(r) + "-"
	}
	return s.options.Locale.FormatAngle(r)
}

// inexactAngle reports whether a setting is marked with + or -.
func (s *Sheet) inexactAngle() bool {
	grain := s.options.graduation()
	for i := range s.settings {
		t := &s.settings[i]
		for _, a := range [...]measure.Angle{t.corner, t.standing.Miter, t.standing.Bevel, t.flat.Miter, t.flat.Bevel} {
			if a != a.Round(grain, measure.RoundHalfEven) {
				return true
			}
		}
	}
	return false
}

// saw describes the setting of the saw.
func (s *Sheet) saw(set joint.Setting) string {
	miter, bevel := "miter "+s.angle(set.Miter), "bevel "+s.angle(set.Bevel)
	switch {
	case set.Bevel == 0 && set.Miter == 0:
		return "square"
	case set.Bevel == 0:
		return miter
	case set.Miter == 0:
		return bevel
	}
	return miter + ", " + bevel
}

// handed describes the direction of the miter and the side of the blade to keep.
func (t *setting) handed() string {
	if t.hand.Miter == joint.SideNone {
		return ""
	}
	return fmt.Sprintf("miter %v, keep %v", t.hand.Miter, t.hand.Keep)
}

// handIsFlat reports whether the direction applies to a piece that lies flat.
func (t *setting) handIsFlat() bool { return t.kind == stock.EndFlatMiter || t.kind.Raked() }

// profile returns the molding. Without one a plain section is used: the angles of trim with a
// flat back do not depend on its size.
func (o *Options) profile() stock.Profile {
	if o.Profile != nil {
		return *o.Profile
	}
	return stock.Profile{Thickness: measure.Inch, Width: measure.Inch}
}

// atSaw returns the saw setting for an end: for an upright piece, or for a flat one if the end
// is cut across its face. For that the blade is tilted for crown, as it stands.
func (s *Sheet) atSaw(e stock.End) joint.Setting {
	c, err := joint.NewCut(s.options.profile(), e)
	switch {
	case err != nil: // New has checked every end of the plan
		return joint.Setting{}
	case e.Kind == stock.EndFlatMiter, e.Kind.Raked() && c.Standing.Miter == 0 && c.Flat.Bevel == 0:
		return c.Flat
	}
	return c.Standing
}

// endName describes an end by the readings of the saw. The corner of a miter is another number;
// setting the saw to it would spoil the piece.
func (s *Sheet) endName(e stock.End) string {
	set, name := s.atSaw(e), e.Kind.String()
	switch {
	case set == (joint.Setting{}):
		return name
	case set.Bevel == 0:
		name += " " + s.angle(set.Miter)
	default:
		name += ", " + s.saw(set)
	}
	if e.Kind.Raked() { // the kind does not tell which edge is the longer
		name += ", long at the " + string(e.LongPoint())
	}
	return name
}

// ends describes both ends of a piece, or returns nothing if both are square.
func (s *Sheet) ends(p *stock.Piece) string {
	left, right := s.endName(p.Left), s.endName(p.Right)
	square := stock.EndSquare.String()
	switch {
	case left == square && right == square:
		return ""
	case left == right:
		return left + " both ends"
	}
	return "left " + left + ", right " + right
}

// kindName names the end of a setting, and the corner or the bevel if it is not the usual one.
func (s *Sheet) kindName(t *setting) string {
	usual := stock.End{Kind: t.kind}
	switch {
	case t.corner == usual.Corner():
		return t.kind.String()
	case t.kind.Spliced():
		return t.kind.String() + ", bevel " + s.angle(t.corner)
	case t.kind.Raked():
		return t.kind.String() + " " + s.angle(max(t.corner, -t.corner))
	}
	return t.kind.String() + ", corner " + s.angle(t.corner)
}

// upright returns the trade's word for a piece that stands against the fence as on the wall:
// crown is nested between fence and table.
func (s *Sheet) upright() string {
	if s.options.Profile != nil && s.options.Profile.Role.Sprung() {
		return "nested"
	}
	return "upright"
}
