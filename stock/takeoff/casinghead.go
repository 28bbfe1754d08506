package takeoff

import (
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
)

// headPart is the position of a member of a head.
type headPart struct {
	HeadMember
	p      stock.Profile
	lo, hi measure.Length // above the head jamb
	legs   measure.Length // width of the legs on which it lies
	beyond measure.Length // distance of its long points beyond their outer edge
	behind measure.Length // distance from the wall to its back
	under  measure.Length // overhang of the member that it goes around
}

// depth returns the projection of the member into the room.
func (h headPart) depth() measure.Length { return h.behind + h.p.Projection() }

// head returns the members on the legs or the mitered head of an opening, from below.
func (o Opening) head(s Scheme) []headPart {
	style := s.style()
	members := style.Head
	z := o.reveal()
	legs, _ := o.casing(s)
	switch {
	case style.Joint == CasingMiter:
		z = o.margin(s)
	case style.Joint == CasingButt && len(members) == 0:
		members, legs = []HeadMember{{}}, s.Casing.Width // the backband goes around it
	}
	var parts []headPart
	on := 0
	for i, m := range members {
		h := headPart{HeadMember: m, legs: legs}
		if m.Profile != nil {
			h.p = *m.Profile
		} else {
			h.p = *s.Casing
			h.p.Role = stock.RoleCasing
		}
		if m.around() {
			under := parts[on]
			h.hi, h.lo = under.hi, under.hi-h.p.Drop()
			h.under, h.beyond = under.beyond, under.beyond+h.p.Projection()
			h.behind = under.p.Projection()
		} else {
			on = i
			h.lo, h.hi, h.beyond = z, z+h.p.Drop(), m.Overhang
			z = h.hi
		}
		parts = append(parts, h)
	}
	return parts
}

// takeHead adds the members on the legs or on the mitered head, from below.
func (c casing) takeHead() *measure.FieldError {
	parts := c.o.head(c.scheme)
	count, rank := map[stock.Role]int{}, map[stock.Role]int{}
	for _, h := range parts {
		count[h.p.Role]++
	}
	for _, h := range parts {
		role := h.p.Role
		rank[role]++
		name := role.String() + " head"
		if role == stock.RoleCasing && c.style.Joint == CasingMiter {
			name = "casing over head" // the mitered one is the head
		}
		if err := c.takeMember(h, numbered(name, rank[role], count[role])); err != nil {
			return err
		}
	}
	return nil
}

// takeMember adds one member of a head, with the pieces that return it to the wall.
func (c casing) takeMember(h headPart, name string) *measure.FieldError {
	as := c.across(c.o.topWidth(), h.legs)
	both := func(what string, l measure.Length) {
		if l != 0 {
			as = append(as, stock.Allowance{Name: what + " at left", Length: l}, stock.Allowance{Name: what + " at right", Length: l})
		}
	}
	end := stock.End{}
	if h.Return || h.around() {
		cut, err := joint.NewCut(h.p, stock.End{Kind: stock.EndReturn})
		if err != nil {
			return uncut(c.name+" "+name, c.o.topWidth(), err)
		}
		end = cut.End
	}
	if both("overhang", h.Overhang+h.under); h.around() {
		both("return", end.Setback)
	}
	at := place{
		start: c.o.At - c.o.widens() - c.o.reveal() - h.legs - h.beyond, bottom: c.above(c.o.height() + h.lo),
		standoff: h.behind,
	}
	if err := c.add(h.p, h.p.Role, name, at, as, end, end); err != nil {
		return err
	}
	if end.Kind != stock.EndReturn {
		return nil
	}
	t, label := c.list.totals(c.room, h.p, false), c.name+" "+name+" return"
	length := h.behind + end.Setback
	back := []stock.Allowance{{Name: "projection of " + h.p.Name, Length: end.Setback}}
	if h.behind > 0 {
		back = append(back, stock.Allowance{Name: "behind it", Length: h.behind})
	}
	for i, ends := range [][2]stock.End{{{}, end}, {end, {}}} { // the left one has its miter at its right
		c.list.cut(t, c.room, c.wall, stock.Piece{
			Label: numbered(label, i+1, 2), Length: length, Profile: h.p.Name, Left: ends[0], Right: ends[1], Allowances: back,
		})
	}
	c.list.count(t, Joints{Returns: 2})
	c.list.Findings = append(c.list.Findings, shortReturn(label, c.room, c.wall, length))
	return nil
}

// inset returns the reduction of the end of a leg or of the head that meets a block, from the
// line of the reveal.
func (c casing) inset() measure.Length {
	if c.style.Joint != CasingBlock {
		return 0
	}
	return (c.style.Block.Width - c.scheme.Casing.Width) / 2
}

// blockHeight returns the height of a corner block with its default filled in.
func (s CasingStyle) blockHeight() measure.Length {
	if s.BlockHeight != 0 {
		return s.BlockHeight
	}
	return s.Block.Width
}

// takeBlocks adds the blocks in the corners: two, or four around a frame.
func (c casing) takeBlocks() *measure.FieldError {
	p, high := *c.style.Block, c.style.blockHeight()
	as := []stock.Allowance{{Name: "height of a corner block", Length: high}}
	out := c.o.reveal() - c.inset() // position of its inner edge
	for _, b := range []struct {
		name          string
		right, bottom bool
	}{{"block left", false, false}, {"block right", true, false}, {"block lower left", false, true}, {"block lower right", true, true}} {
		at := place{start: c.o.At - out - p.Width, bottom: c.above(c.o.height() + out), slope: rightAngle}
		widens := c.o.widens()
		if b.bottom {
			if !c.frame() {
				continue
			}
			at.bottom, widens = c.above(-out-high), 0
		}
		if at.start -= widens; b.right {
			at.start = c.o.At + c.o.Width + widens + out
		}
		if err := c.add(p, stock.RoleBlock, b.name, at, as, stock.End{}, stock.End{}); err != nil {
			return err
		}
	}
	return nil
}
