package takeoff

import (
	"cmp"
	"fmt"
	"slices"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// group is an opening, or several joined ones, with one casing around it. Its Opening extends
// from the first left jamb to the last right one.
type group struct {
	Opening
	first    int // index of the leftmost on its wall, which gives the name
	mullions []mullion
}

// mullion is the wall between two joined openings, from jamb to jamb.
type mullion struct {
	from, to measure.Length
	height   measure.Length // of the jamb at its left
}

// groups returns the groups of openings with one casing on a wall, in the order of the list.
func (w Wall) groups() []group {
	gs := make([]group, 0, len(w.Openings))
	joined := slices.ContainsFunc(w.Openings, func(o Opening) bool { return o.Joined })
	if !joined {
		for i, o := range w.Openings {
			gs = append(gs, group{Opening: o, first: i})
		}
		return gs
	}
	order := w.fromLeft()
	for k := 0; k < len(order); k++ {
		last := w.Openings[order[k]]
		g := group{Opening: last, first: order[k]}
		for ; last.Joined && k+1 < len(order); k++ {
			next := w.Openings[order[k+1]]
			g.mullions = append(g.mullions, mullion{last.At + last.Width, next.At, last.rightHeight()})
			g.Width, g.RightHeight = next.At+next.Width-g.At, next.rightHeight()
			last = next
		}
		gs = append(gs, g)
	}
	slices.SortStableFunc(gs, func(a, b group) int { return cmp.Compare(a.first, b.first) })
	return gs
}

// fromLeft returns the indices of the openings from left to right.
func (w Wall) fromLeft() []int {
	order := make([]int, len(w.Openings))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(w.Openings[a].At, w.Openings[b].At) })
	return order
}

// validateJoined rejects openings that cannot be cased together with the next one.
func (w Wall) validateJoined(bad *faults) {
	order := w.fromLeft()
	for k, i := range order {
		a := w.Openings[i]
		if !a.Joined {
			continue
		}
		at := indexed("openings", i) + ".joined"
		if k+1 == len(order) {
			bad.Add(at, "true", "another opening to its right")
			continue
		}
		b, name := w.Openings[order[k+1]], w.openingName(order[k+1])
		switch {
		case a.Kind == OpeningPlain:
			bad.Add(at, "true", "nothing, because a plain opening has no casing")
		case a.Kind != b.Kind || a.Style != b.Style || a.ExistingWidth != b.ExistingWidth:
			bad.Add(at, "true", "a kind and a casing like those of "+name)
		case a.rightHeight() != b.height() || a.Sill != b.Sill || a.reveal() != b.reveal():
			bad.Add(at, "true", "height, sill and reveal like those of "+name)
		case a.TopWidth != 0 || b.TopWidth != 0:
			bad.Add(at, "true", "no width at the head of its own, nor of "+name)
		case a.ArchRise != 0 || b.ArchRise != 0:
			bad.Add(at, "true", "no arch of its own, nor of "+name)
		}
	}
}

// takeMullions adds the casings between joined openings, from stool, floor or bottom to head.
func (c casing) takeMullions() *measure.FieldError {
	p := c.scheme.Casing
	if m := c.style.Mullion; m != nil {
		p = m
	}
	for i, m := range c.mullions {
		name := numbered("casing mullion", i+1, len(c.mullions))
		wide := m.to - m.from - 2*c.o.reveal()
		if wide <= 0 || wide > p.Width {
			return uncut(c.name+" "+name, wide, fmt.Errorf("between the reveals are %v, and %s is %v wide", wide.About(), p.Name, p.Width.About()))
		}
		as := []stock.Allowance{{Name: "height", Length: m.height}}
		at := place{start: m.from + c.o.reveal(), bottom: c.above(0), slope: rightAngle}
		butts := 2
		if rv := c.o.reveal(); rv != 0 {
			as = append(as, stock.Allowance{Name: "reveal at top", Length: rv})
			if c.frame() {
				as = append(as, stock.Allowance{Name: "reveal at bottom", Length: rv})
				at.bottom = c.above(-rv)
			}
		}
		if c.o.Kind != OpeningWindow {
			butts, at.bottom = 1, c.opt.FloorGap+c.o.height()-m.height
			if c.opt.FloorGap != 0 {
				as = append(as, stock.Allowance{Name: "floor gap", Length: -c.opt.FloorGap})
			}
		}
		if err := c.add(*p, stock.RoleCasing, name, at, as, stock.End{}, stock.End{}); err != nil {
			return err
		}
		q := *p
		q.Role = stock.RoleCasing
		c.list.count(c.list.totals(c.room, q, false), Joints{Butts: butts})
		if off := p.Width - wide; off > 0 {
			w := c.opt.words()
			c.list.Findings = append(c.list.Findings, Finding{
				Code: FindingCasingFit, Severity: SeverityNote, Room: c.room, Wall: c.wall, Length: off,
				Reason: fmt.Sprintf("%s %s is ripped to %v, what is between the reveals", c.name, name, w.About(wide)),
			})
		}
	}
	return nil
}
