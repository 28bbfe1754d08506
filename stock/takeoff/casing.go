package takeoff

import (
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
)

// takeCasing takes off the trim around every opening of a room, this side only.
//
// A door or a cased opening gets a head and two legs, a window a frame of four, or a
// stool, an apron and then as a door. The short points follow the jambs with the reveal:
// head opening + 2·reveal, legs height + reveal (less the floor gap or the plinth). Each
// mitered end adds width/tan 45°, the width. Left and right are as the piece lies on its
// back with the outer edge away: the upper end of the left leg is its right one, that of
// the right leg its left one, so that molded legs come out as a pair.
//
// The order is that of the work: stool, apron and plinths, then legs and head, then the
// backband ("Carpentry", Griffith 1916, and NAVEDTRA 14044, Builder).
func takeCasing(r *Room, called [][]string, s Scheme, opt Options, list *List) (wrong []wallFault) {
	for wi, w := range r.Walls {
		for oi, o := range w.Openings {
			if !o.cased(s) {
				continue
			}
			c := casing{
				o: o, scheme: s, opt: opt, name: called[wi][oi],
				room: r.Name, wall: w.Name, list: list, stool: o.hasStool(s),
			}
			if err := c.take(); err != nil {
				wrong = append(wrong, wallFault{wi, oi, err})
			}
		}
	}
	return wrong
}

// casing adds the pieces around one opening to the list.
type casing struct {
	o          Opening
	scheme     Scheme
	opt        Options
	name       string
	room, wall string
	list       *List
	stool      bool
}

func (c casing) take() *measure.FieldError {
	if c.stool {
		if err := c.takeStool(); err != nil {
			return err
		}
	}
	foot := stock.Allowance{} // what the legs are shorter by at the floor
	if c.o.Kind != OpeningWindow {
		switch {
		case c.scheme.Plinth != nil:
			foot = stock.Allowance{Name: "plinth", Length: -c.scheme.plinthHeight()}
		case c.opt.FloorGap != 0:
			foot = stock.Allowance{Name: "floor gap", Length: -c.opt.FloorGap}
		}
		if c.scheme.Plinth != nil {
			if err := c.takePlinths(); err != nil {
				return err
			}
		}
	}

	frame := c.o.Kind == OpeningWindow && !c.stool
	reveal := func(as []stock.Allowance, where string) []stock.Allowance {
		if rv := c.o.reveal(); rv != 0 {
			as = append(as, stock.Allowance{Name: "reveal at " + where, Length: rv})
		}
		return as
	}
	up := func(h measure.Length) []stock.Allowance {
		as := reveal([]stock.Allowance{{Name: "height", Length: h}}, "top")
		if frame {
			as = reveal(as, "bottom")
		}
		if foot.Length != 0 {
			as = append(as, foot)
		}
		return as
	}
	across := func(w measure.Length) []stock.Allowance {
		return reveal(reveal([]stock.Allowance{{Name: "opening", Length: w}}, "left"), "right")
	}
	parts := []part{
		{"leg left", up(c.o.height()), frame, true}, {"leg right", up(c.o.rightHeight()), true, frame}, {"head", across(c.o.topWidth()), true, true},
	}
	if frame {
		parts = append(parts, part{"bottom", across(c.o.Width), true, true})
	}
	if err := c.surround(*c.scheme.Casing, stock.RoleCasing, "casing", parts, 0); err != nil {
		return err
	}
	if c.stool || c.scheme.Plinth != nil && c.o.Kind != OpeningWindow {
		c.list.count(c.list.totals(*c.scheme.Casing, false), Joints{Butts: 2})
	}
	if c.scheme.Backband == nil {
		return nil
	}
	w := c.scheme.Casing.Width
	for i, p := range parts {
		n := measure.Length(1)
		if p.left && p.right {
			n = 2
		}
		parts[i].short = append(p.short[:len(p.short):len(p.short)], stock.Allowance{Name: "casing", Length: n * w})
		if lap := c.scheme.BackbandLap; lap != 0 {
			parts[i].short = append(parts[i].short, stock.Allowance{Name: "lap over the casing", Length: -n * lap})
		}
	}
	return c.surround(*c.scheme.Backband, stock.RoleBackband, "backband", parts, w-c.scheme.BackbandLap)
}

// part is one piece of a surround: the sum of short is its length at the inner edge. It
// is mitered at the ends that are set, left and right as the piece lies with its outer
// edge away.
type part struct {
	name        string
	short       []stock.Allowance
	left, right bool
}

// called names the part of a surround of a kind: "casing head", but "bottom casing".
func (p part) called(kind string) string {
	if p.name == "bottom" {
		return p.name + " " + kind
	}
	return kind + " " + p.name
}

// surround adds the mitered pieces of a casing or a backband, whose inner edge lies beyond
// the reveal by out.
func (c casing) surround(p stock.Profile, role stock.Role, kind string, parts []part, out measure.Length) *measure.FieldError {
	p.Role = role
	miter, err := joint.NewCut(p, stock.End{Kind: stock.EndFlatMiter})
	if err != nil {
		return uncut(c.name+" "+kind, c.o.Width, err)
	}
	ends := 0
	for _, q := range parts {
		as, left, right := q.short[:len(q.short):len(q.short)], stock.End{}, stock.End{}
		names := []string{"upper end"}
		if q.left && q.right {
			names = []string{"one end", "other end"}
		}
		if q.left {
			left = miter.End
		}
		if q.right {
			right = miter.End
		}
		for _, e := range names {
			as = append(as, stock.Allowance{Name: "miter at " + e, Length: miter.Allowance})
		}
		ends += len(names)
		if err := c.add(p, role, q.called(kind), c.around(q.name, p.Width, out), as, left, right); err != nil {
			return err
		}
	}
	t := c.list.totals(p, false)
	t.Corners += ends / 2
	c.list.count(t, Joints{FlatMiters: ends / 2})
	return nil
}

// outer returns what the trim covers across the opening at the foot of a window's
// casing, to its outer edges.
func (c casing) outer() []stock.Allowance {
	as := []stock.Allowance{{Name: "opening", Length: c.o.Width}}
	if rv := c.o.reveal(); rv != 0 {
		as = append(as, stock.Allowance{Name: "reveal at left", Length: rv}, stock.Allowance{Name: "reveal at right", Length: rv})
	}
	w, _ := c.o.casing(c.scheme)
	return append(as, stock.Allowance{Name: "casing at left", Length: w}, stock.Allowance{Name: "casing at right", Length: w})
}

// takeStool adds the stool, from horn to horn, and the apron below it, as wide as the
// casing.
func (c casing) takeStool() *measure.FieldError {
	as := append(c.outer(),
		stock.Allowance{Name: "horn at left", Length: c.opt.Horn}, stock.Allowance{Name: "horn at right", Length: c.opt.Horn})
	margin := c.o.margin(c.scheme)
	at := place{start: c.o.At - margin - c.opt.Horn, bottom: c.above(-c.scheme.Stool.Thickness)}
	if err := c.add(*c.scheme.Stool, stock.RoleStool, "stool", at, as, stock.End{}, stock.End{}); err != nil {
		return err
	}
	if c.scheme.Apron == nil {
		return nil
	}
	p, end := *c.scheme.Apron, stock.End{}
	p.Role = stock.RoleApron
	if c.opt.ReturnApron {
		cut, err := joint.NewCut(p, stock.End{Kind: stock.EndReturn})
		if err != nil {
			return uncut(c.name+" apron", c.o.Width, err)
		}
		end = cut.End
	}
	at = place{start: c.o.At - margin, bottom: c.above(-c.scheme.Stool.Thickness - p.Width)}
	if err := c.add(p, stock.RoleApron, "apron", at, c.outer(), end, end); err != nil {
		return err
	}
	if !c.opt.ReturnApron {
		return nil
	}
	for i, ends := range [][2]stock.End{{{}, end}, {end, {}}} {
		c.list.cut(c.list.totals(p, false), stock.Piece{
			Label: numbered(c.name+" apron return", i+1, 2), Length: end.Setback, Profile: p.Name, Left: ends[0], Right: ends[1],
			Allowances: []stock.Allowance{{Name: "projection of " + p.Name, Length: end.Setback}},
		})
	}
	c.list.count(c.list.totals(p, false), Joints{Returns: 2})
	c.list.Findings = append(c.list.Findings, shortReturn(c.name+" apron return", c.room, c.wall, end.Setback))
	return nil
}

// takePlinths adds the two blocks, cut to the height of a plinth.
func (c casing) takePlinths() *measure.FieldError {
	as := []stock.Allowance{{Name: "height of a plinth", Length: c.scheme.plinthHeight()}}
	if c.opt.FloorGap != 0 {
		as = append(as, stock.Allowance{Name: "floor gap", Length: -c.opt.FloorGap})
	}
	for i, side := range []string{"left", "right"} {
		at := place{c.o.At - c.o.reveal() - c.scheme.Plinth.Width, c.opt.FloorGap, rightAngle}
		if i == 1 {
			at.start = c.o.At + c.o.Width + c.o.reveal()
		}
		if err := c.add(*c.scheme.Plinth, stock.RolePlinth, "plinth "+side, at, as, stock.End{}, stock.End{}); err != nil {
			return err
		}
	}
	return nil
}

// place is where a piece is on the wall, as stock.Run has it.
type place struct {
	start, bottom measure.Length
	slope         measure.Angle
}

// above returns the height of what lies so far above the sill, or above the floor at a door;
// zero where the sill was not measured.
func (c casing) above(x measure.Length) measure.Length {
	switch {
	case c.o.Kind != OpeningWindow:
		return x
	case c.o.Sill == 0:
		return 0
	}
	return c.o.Sill + x
}

// around returns where a part of a surround is that is so wide and whose inner edge lies
// beyond the reveal by out.
func (c casing) around(name string, width, out measure.Length) place {
	reach := c.o.reveal() + out
	foot := c.above(-reach - width)
	switch {
	case c.stool:
		foot = c.above(0)
	case c.o.Kind != OpeningWindow && c.scheme.Plinth != nil:
		foot = c.scheme.plinthHeight()
	case c.o.Kind != OpeningWindow:
		foot = c.opt.FloorGap
	}
	switch name {
	case "leg left":
		return place{c.o.At - reach - width, foot, rightAngle}
	case "leg right":
		return place{c.o.At + c.o.Width + reach, foot, -rightAngle}
	case "head": // wider or narrower than the opening below by the same at both sides
		return place{c.o.At - (c.o.topWidth()-c.o.Width)/2 - reach - width, c.above(c.o.height() + reach), 0}
	}
	return place{c.o.At - reach - width, foot, halfTurn}
}

// total returns the sum of the allowances.
func total(as []stock.Allowance) (sum measure.Length, err error) {
	for _, a := range as {
		if sum, err = sum.Add(a.Length); err != nil {
			return 0, err
		}
	}
	return sum, nil
}

// add adds one piece of which the allowances are the length.
func (c casing) add(p stock.Profile, role stock.Role, name string, at place, as []stock.Allowance, left, right stock.End) *measure.FieldError {
	length, err := total(as)
	label := c.name + " " + name
	if err != nil {
		return uncut(label, length, err)
	}
	if longest := p.Longest(); longest > 0 && length > longest {
		return uncut(label, length, &SpliceError{Run: label, Length: length, Longest: longest})
	}
	p.Role = role
	c.list.add(p, false, stock.Run{
		Label: label, Profile: p.Name, Role: role, Room: c.room, Wall: c.wall,
		Start: at.start, Net: length, Bottom: at.bottom, Slope: at.slope, Length: length, Left: left, Right: right, Allowances: as,
	}, []stock.Piece{{
		Label: label, Length: length, Profile: p.Name, Run: label, Part: 1, Parts: 1,
		Left: left, Right: right, Allowances: as,
	}}, Joints{}, 0)
	return nil
}
