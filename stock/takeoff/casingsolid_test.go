package takeoff_test

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// part is a piece, or a part of its section, as it is sawn and fastened to a wall, in inches:
// its outline in plan at a height. Nothing of it comes from the rules of a style, only from
// runs, pieces and sections.
type part struct {
	label  string
	lo, hi float64
	at     func(z float64) []place // along the wall, off the wall; convex
}

// rail reports whether it runs along the wall.
func (p part) rail() bool {
	return strings.Contains(p.label, " base") || strings.Contains(p.label, "picture rail")
}

// strip is the part of a run between two distances from its outer edge (level runs: from the
// upper one) and between two planes off the wall.
func strip(r stock.Run, section stock.Profile, d0, d1, y0, y1 float64) part {
	x0, z0 := (r.Start - r.Reach).Inches(), r.Bottom.Inches()
	long, wide := r.Length.Inches(), section.Drop().Inches()
	inner := func(e stock.End) float64 { // how far the inner edge stays short at a flat miter
		if e.Kind == stock.EndFlatMiter {
			return e.Setback.Inches()
		}
		return 0
	}
	left, right := inner(r.Left), inner(r.Right)
	p := part{label: r.Label, lo: z0, hi: z0 + long}
	flat := func(a, b float64) []place { return []place{{a, y0}, {b, y0}, {b, y1}, {a, y1}} }
	switch r.Slope {
	case 0:
		p.lo, p.hi = z0+wide-d1, z0+wide-d0
		p.at = func(z float64) []place {
			f := (z0 + wide - z) / wide
			return flat(x0+f*left, x0+long-f*right)
		}
	case 180 * measure.Degree:
		p.lo, p.hi = z0+d0, z0+d1
		p.at = func(z float64) []place {
			f := (z - z0) / wide
			return flat(x0+f*right, x0+long-f*left)
		}
	default:
		low, high := left, right
		if r.Slope < 0 {
			low, high = right, left
		}
		p.at = func(z float64) []place {
			d := d1 // the part of the width at that height
			if low > 0 {
				d = min(d, (z-z0)/low*wide)
			}
			if high > 0 {
				d = min(d, (p.hi-z)/high*wide)
			}
			if d <= d0 {
				return nil
			}
			if r.Slope < 0 {
				return flat(x0+wide-d, x0+wide-d0)
			}
			return flat(x0+d0, x0+d)
		}
	}
	return p
}

// returned is a run whose ends are returned to the wall, with the return pieces. A sprung one fills the
// space between its edges and the wall's side of its face.
func returned(t *rapid.T, list *takeoff.List, r stock.Run, section stock.Profile) []part {
	x0, x1 := (r.Start - r.Reach).Inches(), (r.Start - r.Reach + r.Length).Inches()
	back, setback := r.Standoff.Inches(), r.Left.Setback.Inches()
	lo, hi := r.Bottom.Inches(), r.Bottom.Inches()+section.Drop().Inches()
	deep := func(z float64) float64 {
		if section.Role.Sprung() {
			return section.Projection().Inches() * (z - lo) / (hi - lo)
		}
		return section.Projection().Inches()
	}
	a, b := x0+setback, x1-setback
	area := func(ps []place) (twice float64) {
		for i, p := range ps {
			q := ps[(i+1)%len(ps)]
			twice += p.x*q.y - p.y*q.x
		}
		return math.Abs(twice)
	}
	parts := []part{{r.Label, lo, hi, func(z float64) []place {
		d := deep(z)
		return []place{{a, back}, {b, back}, {b + d, back + d}, {a - d, back + d}}
	}}}
	for side, x := range []float64{a, b} {
		label := fmt.Sprintf("%s return %d of 2", r.Label, side+1)
		k := slices.IndexFunc(list.Pieces, func(p stock.Piece) bool { return p.Label == label })
		if k < 0 {
			t.Fatalf("no piece %s", label)
		}
		piece := list.Pieces[k]
		end, sign := piece.Right, -1.0
		if side == 1 {
			end, sign = piece.Left, 1
		}
		if end.Kind != stock.EndReturn {
			t.Fatalf("%s is cut %+v, %+v", label, piece.Left, piece.Right)
		}
		short := (piece.Length - end.Setback).Inches()
		parts = append(parts, part{label, lo, hi, func(z float64) []place {
			d := deep(z)
			return []place{{x, 0}, {x, short}, {x + sign*d, short + d}, {x + sign*d, 0}}
		}})
	}
	// It wraps the part behind it, without a hole.
	z := (lo + hi) / 2
	all, d := 0.0, deep(z)
	for _, p := range parts {
		all += area(p.at(z)) / 2
	}
	if want := (b-a+2*d)*(back+d) - (b-a)*back; math.Abs(all-want) > 1e-4 {
		t.Fatalf("%s with its returns is %.5f in plan, want %.5f", r.Label, all, want)
	}
	return parts
}

// solids returns everything around the openings of a wall as parts.
func solids(t *rapid.T, list *takeoff.List, profiles map[string]*stock.Profile, lap, casing measure.Length) []part {
	var all []part
	for _, r := range list.Runs {
		p := *profiles[r.Profile]
		p.Role = r.Role
		wide, back, face := p.Drop().Inches(), r.Standoff.Inches(), (r.Standoff + p.Projection()).Inches()
		switch {
		case r.Left.Kind == stock.EndReturn:
			all = append(all, returned(t, list, r, p)...)
		case r.Role == stock.RoleStool: // it lies flat
			flat := r
			p.Thickness, p.Width = p.Width, p.Thickness
			all = append(all, strip(flat, p, 0, p.Width.Inches(), 0, p.Thickness.Inches()))
		case r.Role == stock.RoleBackband && lap > 0: // a rabbet is taken out of it
			all = append(all, strip(r, p, 0, wide-lap.Inches(), back, face), strip(r, p, wide-lap.Inches(), wide, casing.Inches(), face))
		default:
			all = append(all, strip(r, p, 0, wide, back, face))
		}
	}
	return all
}

// style draws a way to case an opening, with the profiles that it needs.
func style(t *rapid.T, s *takeoff.Scheme) takeoff.CasingStyle {
	const in = measure.Inch
	size := func(name string, lo, hi measure.Length) measure.Length { return length(lo, hi).Draw(t, name) }
	has := func(name string) bool { return rapid.Bool().Draw(t, name) }
	c := takeoff.CasingStyle{Name: "style", Casing: s.Casing, Joint: takeoff.CasingJoint(rapid.IntRange(0, 2).Draw(t, "joint"))}
	if c.Joint == takeoff.CasingBlock {
		c.Block = board("block", size("block thick", in/2, in), s.Casing.Width+size("block", 0, in/2))
		if has("high block") {
			c.BlockHeight = c.Block.Width + size("higher", in/16, 2*in)
		}
		return c
	}
	member := func(role stock.Role, name string, thick, wide measure.Length) {
		m := takeoff.HeadMember{Profile: rolled(role, name, thick, wide)}
		if !role.Sprung() {
			m.Overhang = size(name+" overhang", 0, 3*in)
			m.Return = has(name + " returned")
		}
		c.Head = append(c.Head, m)
	}
	if has("fillet") {
		member(stock.RoleFillet, "fillet", size("fillet", in/2, 2*in), in/2)
	}
	if has("frieze") {
		member(stock.RoleFrieze, "frieze", size("frieze", in/2, in), size("frieze high", 4*in, 6*in))
		if has("cove") {
			c.Head = append(c.Head, takeoff.HeadMember{Profile: rolled(stock.RoleBand, "cove", size("cove", in/4, in), in), Around: true})
		} else if has("crown") {
			member(stock.RoleCrown, "crown", in/2, size("crown", 2*in, 4*in))
		}
	}
	if has("cap") {
		member(stock.RoleCap, "cap", size("cap", in, 4*in), 3*in/4)
	}
	if len(c.Head) == 0 && has("overhang") {
		c.Head = []takeoff.HeadMember{{Overhang: size("overhang", 0, in)}}
	}
	return c
}

// Whatever the style, its solids are in place: cut numerically and set on the wall, no two overlap at
// any height, and from the outer edge of one leg to that of the other only the opening with its reveals
// is open.
func TestStyleSolids(t *testing.T) {
	const in = measure.Inch
	const touch = 1e-5 // inches: a tick is less than a millionth
	rapid.Check(t, func(t *rapid.T) {
		size := func(name string, lo, hi measure.Length) measure.Length { return length(lo, hi).Draw(t, name) }
		has := func(name string) bool { return rapid.Bool().Draw(t, name) }
		s := takeoff.Scheme{Casing: board("casing", size("thick", in/2, in), size("casing", 2*in, 5*in))}
		c := style(t, &s)
		opt := &takeoff.Options{FloorGap: size("gap", 0, in/4), Horn: size("horn", in/16, in), ReturnApron: has("apron returned")}
		if has("plinth") {
			c.Plinth = board("plinth", size("plinth thick", in/2, 3*in/2), s.Casing.Width+size("plinth", 0, in))
			c.PlinthHeight = size("plinth high", 4*in, 10*in)
		}
		if has("backband") {
			c.Backband = board("band", s.Casing.Thickness+size("band thick", in/16, in/2), size("band", in/2, 3*in/2))
			if has("rabbeted") {
				c.BackbandLap = in / 4
			}
		}
		if has("stool") {
			c.Stool = board("stool", size("stool thick", in/2, in), 5*in)
			if has("apron") {
				c.Apron = board("apron", in/2, size("apron high", 2*in, 4*in))
			}
		}
		o := takeoff.Opening{
			Kind: takeoff.OpeningKind(rapid.IntRange(0, 2).Draw(t, "kind")), At: 40 * in, Width: size("width", 20*in, 40*in), Height: size("height", 40*in, 80*in),
			Reveal: size("reveal", 3*in/8, in/2), Sill: size("sill", 20*in, 30*in),
		}
		on := []takeoff.Opening{o} // joined to others like it
		for range rapid.IntRange(0, 2).Draw(t, "more openings") {
			c.Mullion = board("mullion", in/2, 5*in)
			before := &on[len(on)-1]
			next := *before
			before.Joined = true
			next.At += before.Width + c.Mullion.Width + 2*o.Reveal
			next.Width = size("next width", 10*in, 20*in)
			on = append(on, next)
		}
		s.Base = board("base", in/2, size("base", 3*in, 8*in))
		s.PictureRail, s.PictureRailAt = board("picture rail", in/2, size("rail high", in, 3*in)), size("rail at", 40*in, 110*in)
		s.CasingStyles = []takeoff.CasingStyle{c}
		list, err := takeoff.Take(hall(on...), s, opt)
		if err != nil {
			t.Fatal(err)
		}
		profiles := map[string]*stock.Profile{}
		for _, p := range []*stock.Profile{s.Casing, s.Base, s.PictureRail, c.Block, c.Plinth, c.Backband, c.Stool, c.Apron, c.Mullion} {
			if p != nil {
				profiles[p.Name] = p
			}
		}
		for _, m := range c.Head {
			if m.Profile != nil {
				profiles[m.Profile.Name] = m.Profile
			}
		}
		parts := solids(t, list, profiles, c.BackbandLap, s.Casing.Thickness)

		// The heights at which anything begins or ends; between two of them nothing does, except at
		// miters, which are also tested near their ends.
		var heights []float64
		for _, p := range parts {
			heights = append(heights, p.lo, p.hi)
		}
		slices.Sort(heights)
		heights = slices.CompactFunc(heights, func(a, b float64) bool { return math.Abs(b-a) < touch })
		touching := map[string]bool{} // rails that die into something
		for i := 1; i < len(heights); i++ {
			lo, hi := heights[i-1], heights[i]
			for _, f := range []float64{.01, .5, .99} {
				z := lo + f*(hi-lo)
				slice(t, parts, z, on, c, touching)
			}
		}
		for _, p := range parts {
			if slices.ContainsFunc(list.Runs, func(r stock.Run) bool {
				return r.Role == stock.RoleCrown && p.hi > r.Bottom.Inches() && p.lo < r.Bottom.Inches()+profiles[r.Profile].Drop().Inches()
			}) {
				continue // it stops at the greatest reach of a crown, which may be above it
			}
			if p.rail() && slices.ContainsFunc(list.Runs, func(r stock.Run) bool { return r.Label == p.label && r.Net < 30*measure.Foot }) && !touching[p.label] {
				t.Fatalf("%s dies into nothing", p.label)
			}
		}
	})
}

// slice returns the solids at a height.
func slice(t *rapid.T, parts []part, z float64, on []takeoff.Opening, c takeoff.CasingStyle, touching map[string]bool) {
	const touch = 1e-5
	type shape struct {
		label   string
		outline []place
		a, b    float64 // along the wall
		rail    bool
	}
	var there []shape
	for _, p := range parts {
		if z <= p.lo || z >= p.hi {
			continue
		}
		outline := p.at(z)
		if outline == nil {
			continue
		}
		s := shape{p.label, outline, math.Inf(1), math.Inf(-1), p.rail()}
		for _, q := range outline {
			s.a, s.b = min(s.a, q.x), max(s.b, q.x)
		}
		there = append(there, s)
	}
	for i, a := range there {
		for _, b := range there[i+1:] {
			if d := depth(a.outline, b.outline); d > touch {
				t.Fatalf("at %.4f: %s and %s share %.6f in:\n%v\n%v", z, a.label, b.label, d, a.outline, b.outline)
			}
			if a.rail != b.rail && min(math.Abs(a.b-b.a), math.Abs(b.b-a.a)) < touch {
				touching[a.label], touching[b.label] = true, true
			}
		}
	}
	// From left to right, without trim along the wall.
	var trim []shape
	for _, s := range there {
		if !s.rail {
			trim = append(trim, s)
		}
	}
	if len(trim) == 0 {
		for _, p := range parts {
			if !p.rail() && p.lo < z && slices.ContainsFunc(parts, func(q part) bool { return !q.rail() && q.hi > z }) {
				t.Fatalf("at %.4f: nothing, above %s", z, p.label)
			}
		}
		return
	}
	slices.SortFunc(trim, func(a, b shape) int { return cmp.Compare(a.a, b.a) })
	var open [][2]float64
	reach := trim[0].b
	for _, s := range trim[1:] {
		if s.a > reach+touch {
			open = append(open, [2]float64{reach, s.a})
		}
		reach = max(reach, s.b)
	}
	o, last := on[0], on[len(on)-1]
	left, right, reveal := o.At.Inches(), (last.At + last.Width).Inches(), o.Reveal.Inches()
	if sum := trim[0].a + reach; math.Abs(sum-left-right) > touch {
		t.Fatalf("at %.4f: from %.4f to %.4f is not in the middle of the opening", z, trim[0].a, reach)
	}
	foot, head := 0.0, o.Height.Inches()+reveal
	if o.Kind == takeoff.OpeningWindow {
		foot += o.Sill.Inches()
		if head += foot; c.Stool == nil {
			foot -= reveal
		}
	}
	var want [][2]float64
	inner, over := reveal, false
	if z > foot && z < head {
		for _, o := range on {
			want = append(want, [2]float64{o.At.Inches() - reveal, (o.At + o.Width).Inches() + reveal})
		}
	}
	if c.Block != nil { // it comes farther in than the legs, and ends above the head or below the bottom
		in, wide := (c.Block.Width-c.Casing.Width).Inches()/2, c.Casing.Width.Inches()
		if c.Backband != nil {
			wide += (c.Backband.Width - c.BackbandLap).Inches()
		}
		frame := o.Kind == takeoff.OpeningWindow && c.Stool == nil
		if z > head-in || frame && z < foot+in {
			inner -= in
		}
		if z > head+wide || frame && z < foot-wide {
			over = true
		}
	}
	if over {
		want = [][2]float64{{}}
	}
	if len(want) > 0 {
		want[0][0], want[len(want)-1][1] = left-inner, right+inner
	}
	same := func(a, b [2]float64) bool { return math.Abs(a[0]-b[0])+math.Abs(a[1]-b[1]) < touch }
	if !slices.EqualFunc(open, want, same) {
		t.Fatalf("at %.4f: open %v, want %v", z, open, want)
	}
}

// hall is a long wall with openings.
func hall(o ...takeoff.Opening) []takeoff.Room {
	rooms := doorWall(o...)
	rooms[0].Walls[0].Length = 30 * measure.Foot
	return rooms
}
