package takeoff

import (
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/curve"
	"example.com/longpoint/stock/joint"
)

// apex returns the height of an opening, including its arch.
func (o Opening) apex() measure.Length { return o.height() + o.ArchRise }

// takeArch adds the casing and the backband around an opening with an arched head.
func (c casing) takeArch() *measure.FieldError {
	if err := c.arch(*c.scheme.Casing, stock.RoleCasing, "casing", 0); err != nil {
		return err
	}
	c.list.count(c.list.totals(c.room, *c.scheme.Casing, false), Joints{Butts: c.butts()})
	if c.scheme.Backband == nil {
		return nil
	}
	return c.arch(*c.scheme.Backband, stock.RoleBackband, "backband", c.scheme.Casing.Width-c.scheme.BackbandLap)
}

// arch adds the legs, the bent head and the bottom of a surround whose inner edge lies beyond the
// reveal by out.
func (c casing) arch(p stock.Profile, role stock.Role, kind string, out measure.Length) *measure.FieldError {
	p.Role = role
	fail := func(err error) *measure.FieldError { return uncut(c.name+" "+kind, c.o.Width, err) }
	trim, err := curve.Arch{Width: c.o.Width, Rise: c.o.ArchRise}.Trim(c.o.reveal()+out, p.Width)
	if err != nil {
		return fail(err)
	}
	upper := stock.End{}
	if trim.Miter != 0 {
		upper = stock.End{Kind: stock.EndFlatMiter, Angle: halfTurn - 2*trim.Miter}
	}
	top, err := joint.NewCut(p, upper)
	if err != nil {
		return fail(err)
	}
	miter, err := joint.NewCut(p, stock.End{Kind: stock.EndFlatMiter})
	if err != nil {
		return fail(err)
	}
	corners := 0
	for _, q := range c.parts(true, true) {
		if q.name == "head" {
			if err := c.bentHead(p, role, kind, trim, top.End); err != nil {
				return err
			}
			continue
		}
		left, right := miter.End, miter.End
		as := append(q.short[:len(q.short):len(q.short)], stock.Allowance{Name: "casing", Length: 2 * out},
			stock.Allowance{Name: "miter at one end", Length: miter.Allowance}, stock.Allowance{Name: "miter at other end", Length: miter.Allowance})
		if q.name != "bottom" {
			as = c.archedLeg(q.short, trim, top)
			left, right = stock.End{}, top.End
			if c.frame() {
				left = miter.End
				as = append(as, stock.Allowance{Name: "casing", Length: out}, stock.Allowance{Name: "miter at lower end", Length: miter.Allowance})
				corners++
			}
			if q.name == "leg right" {
				left, right = right, left
			}
		}
		if err := c.add(p, role, q.called(kind), c.around(q, p.Width, out), withoutZero(as), left, right); err != nil {
			return err
		}
	}
	t, joints := c.list.totals(c.room, p, false), Joints{FlatMiters: corners}
	if trim.Miter == 0 {
		joints.Butts = 2
	} else {
		joints.FlatMiters += 2
	}
	t.Corners += corners + 2
	c.list.count(t, joints)
	return nil
}

// archedLeg returns the allowances of a leg under an arch, but for those at its lower end.
func (c casing) archedLeg(short []stock.Allowance, trim curve.ArchTrim, top joint.Cut) []stock.Allowance {
	as := make([]stock.Allowance, 0, 6)
	for _, a := range short {
		if a.Name == "reveal at top" { // the arcs continue from there
			a = stock.Allowance{Name: "arch above its spring line", Length: trim.LegInner}
		}
		as = append(as, a)
	}
	if c.o.reveal() == 0 {
		as = append(as, stock.Allowance{Name: "arch above its spring line", Length: trim.LegInner})
	}
	return append(as, stock.Allowance{Name: "miter at upper end", Length: top.Allowance})
}

// withoutZero removes allowances of zero.
func withoutZero(as []stock.Allowance) []stock.Allowance {
	kept := make([]stock.Allowance, 0, len(as))
	for _, a := range as {
		if a.Length != 0 {
			kept = append(kept, a)
		}
	}
	return kept
}

// bentHead adds the head, one piece of flexible or preformed molding, as long as its outer edge.
func (c casing) bentHead(p stock.Profile, role stock.Role, kind string, trim curve.ArchTrim, end stock.End) *measure.FieldError {
	for _, q := range c.scheme.Flexible {
		if q.Role == role {
			p = q
		}
	}
	end.Setback = 0 // it is preformed, and cut where it is held against the legs
	reach := c.o.margin(c.scheme)
	if role == stock.RoleCasing {
		reach = c.o.reveal() + p.Width
	}
	at := place{start: c.o.At - reach, bottom: c.above(c.o.height() + trim.LegInner)}
	as := []stock.Allowance{{Name: "inner edge of the arch", Length: trim.Inner}, {Name: "outer edge of the arch", Length: trim.Outer - trim.Inner}}
	name := kind + " head"
	if err := c.add(p, role, name, at, as, end, end); err != nil {
		return err
	}
	c.list.Curves = append(c.list.Curves, CurvedTrim{
		Room: c.room, Wall: c.wall, Role: role, Method: CurveFlexible, Bend: curve.BendConvex, Radius: trim.Radius, Runs: []string{c.name + " " + name},
	})
	return nil
}

// validateArch returns the faults of the arch of an opening, joined.
func (o Opening) validateArch(s Scheme) error {
	var bad faults
	if o.ArchRise == 0 {
		return nil
	}
	if o.Width > 0 && o.Width <= maxWall {
		_, err := curve.Arch{Width: o.Width, Rise: o.ArchRise}.Trim(0, measure.Inch)
		for e := range measure.FieldErrors(err) {
			bad.Add("arch_rise", o.ArchRise.About(), e.Want)
		}
	}
	if o.topWidth() != o.Width {
		bad.Add("top_width", o.TopWidth.About(), "nothing, because the head is an arch")
	}
	if o.rightHeight() != o.height() {
		bad.Add("right_height", o.RightHeight.About(), "nothing, because the head is an arch")
	}
	if at := s.at(o); o.cased(at) {
		if style := at.style(); style.Joint != CasingMiter || len(style.Head) > 0 {
			bad.Add("arch_rise", o.ArchRise.About(), fmt.Sprintf("nothing, because the style %s has a straight head", style.Name))
		}
	}
	return bad.Err()
}
