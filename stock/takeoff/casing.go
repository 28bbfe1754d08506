package takeoff

import (
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
)

// takeCasing takes off the trim around every opening of a room, on this side only.
//
// A door or a cased opening gets a head and two legs, a window a frame of four, or a
// stool, an apron and then as a door. The short points follow the jambs with the reveal:
// head opening + 2·reveal, legs height + reveal (less the floor gap or the plinth). Each
// mitered end adds width/tan 45°, the width; a CasingStyle may have other joints. Left and
// right are as the piece lies on its back with the outer edge away: the upper end of the left
// leg is its right one, that of the right leg its left one, so that molded legs come out as a
// pair.
//
// The order is that of the work: stool, apron, plinths and blocks, then legs and head, what
// lies on them from below, and last the backband ("Carpentry", Griffith 1916, and NAVEDTRA
// 14044, Builder).
func takeCasing(r *Room, called [][]string, s Scheme, opt Options, list *List) (wrong []wallFault) {
	for wi, w := range r.Walls {
		for _, g := range w.groups() {
			o := g.Opening
			at := s.at(o)
			if !o.cased(at) {
				continue
			}
			c := casing{
				o: o, mullions: g.mullions, scheme: at, style: at.style(), opt: opt, name: called[wi][g.first],
				room: r.Name, wall: w.Name, list: list, stool: o.hasStool(at),
			}
			if err := c.take(); err != nil {
				wrong = append(wrong, wallFault{wi, g.first, err})
			}
		}
	}
	return wrong
}

// casing adds the pieces around one opening to the list.
type casing struct {
	o          Opening
	mullions   []mullion
	scheme     Scheme // as it is at the opening
	style      CasingStyle
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
	if c.scheme.Plinth != nil && c.o.Kind != OpeningWindow {
		if err := c.takePlinths(); err != nil {
			return err
		}
	}
	if c.style.Joint == CasingBlock {
		if err := c.takeBlocks(); err != nil {
			return err
		}
	}
	if c.o.ArchRise != 0 {
		return c.takeArch()
	}
	mitered := c.style.Joint == CasingMiter
	if err := c.surround(*c.scheme.Casing, stock.RoleCasing, "casing", c.parts(mitered, mitered), 0); err != nil {
		return err
	}
	c.list.count(c.list.totals(c.room, *c.scheme.Casing, false), Joints{Butts: c.butts()})
	if err := c.takeMullions(); err != nil {
		return err
	}
	if err := c.takeHead(); err != nil || c.scheme.Backband == nil {
		return err
	}
	// It goes around the head as well, unless that is wider than the legs or between blocks.
	mitered = mitered || c.style.Joint == CasingButt && len(c.style.Head) == 0
	parts, out := c.parts(mitered, c.style.Joint != CasingBlock), c.scheme.Casing.Width-c.scheme.BackbandLap
	for i, p := range parts {
		n := measure.Length(0)
		for _, mitered := range []bool{p.left, p.right} {
			if mitered {
				n++
			}
		}
		if n == 0 {
			continue
		}
		parts[i].short = append(p.short[:len(p.short):len(p.short)], stock.Allowance{Name: "casing", Length: n * c.scheme.Casing.Width})
		if lap := c.scheme.BackbandLap; lap != 0 {
			parts[i].short = append(parts[i].short, stock.Allowance{Name: "lap over the casing", Length: -n * lap})
		}
	}
	return c.surround(*c.scheme.Backband, stock.RoleBackband, "backband", parts, out)
}

// butts counts the square joints between the pieces of the casing and their neighbors.
func (c casing) butts() int {
	n := 0
	if c.stool || c.scheme.Plinth != nil && c.o.Kind != OpeningWindow {
		n = 2
	}
	switch c.style.Joint {
	case CasingButt:
		n += 2
		if c.frame() {
			n += 2
		}
	case CasingBlock:
		n += 4
		if c.frame() {
			n += 4
		}
	}
	return n
}

// frame reports whether the casing goes around all four sides of a window.
func (c casing) frame() bool { return c.o.Kind == OpeningWindow && !c.stool }

// part is one piece of a surround: the sum of short is its length at the inner edge. It is
// mitered at the ends that are set, left and right as the piece lies with its outer edge away.
// Its square ends lie the given distance beyond the jambs.
type part struct {
	name        string
	short       []stock.Allowance
	left, right bool
	square      measure.Length
}

// called names the part of a surround of a kind: "casing head", but "bottom casing".
func (p part) called(kind string) string {
	if p.name == "bottom" {
		return p.name + " " + kind
	}
	return kind + " " + p.name
}

// parts returns the legs, the head if it is mitered or between blocks, and the bottom of a
// frame, with the given corners mitered.
func (c casing) parts(above, below bool) []part {
	foot := stock.Allowance{} // the reduction of the legs at the floor
	switch {
	case c.o.Kind == OpeningWindow:
	case c.scheme.Plinth != nil:
		foot = stock.Allowance{Name: "plinth", Length: -c.scheme.plinthHeight()}
	case c.opt.FloorGap != 0:
		foot = stock.Allowance{Name: "floor gap", Length: -c.opt.FloorGap}
	}
	frame := c.frame()
	add := func(as []stock.Allowance, name string, l measure.Length) []stock.Allowance {
		if l != 0 {
			as = append(as, stock.Allowance{Name: name, Length: l})
		}
		return as
	}
	inset := c.inset()
	end := func(as []stock.Allowance, where string) []stock.Allowance {
		return add(add(as, "reveal at "+where, c.o.reveal()), "block at "+where, -inset)
	}
	up := func(h measure.Length) []stock.Allowance {
		as := end([]stock.Allowance{{Name: "height", Length: h}}, "top")
		if frame {
			as = end(as, "bottom")
		}
		return add(as, foot.Name, foot.Length)
	}
	across := func(w measure.Length) []stock.Allowance {
		return end(end([]stock.Allowance{{Name: "opening", Length: w}}, "left"), "right")
	}
	low := below && frame
	square := c.o.reveal() - inset
	parts := []part{
		{"leg left", up(c.o.height()), low, above, square},
		{"leg right", up(c.o.rightHeight()), above, low, square},
	}
	if above || c.style.Joint == CasingBlock {
		parts = append(parts, part{"head", across(c.o.topWidth()), above, above, square})
	}
	switch {
	case !frame:
	case low || c.style.Joint == CasingBlock:
		parts = append(parts, part{"bottom", across(c.o.Width), low, low, square})
	default: // the legs stand on it
		parts = append(parts, part{"bottom", c.across(c.o.Width, c.scheme.Casing.Width), false, false, c.o.reveal() + c.scheme.Casing.Width})
	}
	return parts
}

// surround adds the pieces of a casing or a backband, whose inner edge lies beyond the reveal
// by out.
func (c casing) surround(p stock.Profile, role stock.Role, kind string, parts []part, out measure.Length) *measure.FieldError {
	p.Role = role
	miter, err := joint.NewCut(p, stock.End{Kind: stock.EndFlatMiter})
	if err != nil {
		return uncut(c.name+" "+kind, c.o.Width, err)
	}
	ends := 0
	for _, q := range parts {
		as, left, right := q.short[:len(q.short):len(q.short)], stock.End{}, stock.End{}
		var names []string
		switch {
		case q.left && q.right:
			names = []string{"one end", "other end"}
		case q.name == "leg left" && q.left || q.name == "leg right" && q.right:
			names = []string{"lower end"}
		case q.left || q.right:
			names = []string{"upper end"}
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
		if err := c.add(p, role, q.called(kind), c.around(q, p.Width, out), as, left, right); err != nil {
			return err
		}
	}
	t := c.list.totals(c.room, p, false)
	t.Corners += ends / 2
	c.list.count(t, Joints{FlatMiters: ends / 2})
	return nil
}

// outer returns the width of the casing of an opening of the given width, to its outer edges.
func (c casing) outer(width measure.Length) []stock.Allowance {
	w, _ := c.o.casing(c.scheme)
	return c.across(width, w)
}

// across returns the width covered by a casing of the given width around an opening.
func (c casing) across(width, casing measure.Length) []stock.Allowance {
	as := []stock.Allowance{{Name: "opening", Length: width}}
	if rv := c.o.reveal(); rv != 0 {
		as = append(as, stock.Allowance{Name: "reveal at left", Length: rv}, stock.Allowance{Name: "reveal at right", Length: rv})
	}
	return append(as, stock.Allowance{Name: "casing at left", Length: casing}, stock.Allowance{Name: "casing at right", Length: casing})
}

// takeStool adds the stool, from horn to horn, and the apron below it, as wide as the
// casing.
func (c casing) takeStool() *measure.FieldError {
	as := append(c.outer(c.o.Width),
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
	if err := c.add(p, stock.RoleApron, "apron", at, c.outer(c.o.Width), end, end); err != nil {
		return err
	}
	if !c.opt.ReturnApron {
		return nil
	}
	for i, ends := range [][2]stock.End{{{}, end}, {end, {}}} {
		c.list.cut(c.list.totals(c.room, p, false), c.room, c.wall, stock.Piece{
			Label: numbered(c.name+" apron return", i+1, 2), Length: end.Setback, Profile: p.Name, Left: ends[0], Right: ends[1],
			Allowances: []stock.Allowance{{Name: "projection of " + p.Name, Length: end.Setback}},
		})
	}
	c.list.count(c.list.totals(c.room, p, false), Joints{Returns: 2})
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
		at := place{start: c.o.At - c.o.reveal() - c.scheme.Plinth.Width, bottom: c.opt.FloorGap, slope: rightAngle}
		if i == 1 {
			at.start = c.o.At + c.o.Width + c.o.reveal()
			at.bottom -= c.drops()
		}
		if err := c.add(*c.scheme.Plinth, stock.RolePlinth, "plinth "+side, at, as, stock.End{}, stock.End{}); err != nil {
			return err
		}
	}
	return nil
}

// place is the position of a piece on the wall, as in stock.Run.
type place struct {
	start, bottom measure.Length
	slope         measure.Angle
	standoff      measure.Length
}

// above returns the height of a point at a distance above the sill, or above the floor at a
// door; zero if the sill was not measured.
func (c casing) above(x measure.Length) measure.Length {
	switch {
	case c.o.Kind != OpeningWindow:
		return x
	case c.o.Sill == 0:
		return 0
	}
	return c.o.Sill + x
}

// drops returns how much lower the floor is at the right jamb of a door than at the left one,
// if its head is level.
func (c casing) drops() measure.Length {
	if c.o.Kind == OpeningWindow {
		return 0
	}
	return c.o.rightHeight() - c.o.height()
}

// around returns the position of a part of a surround of the given width whose inner edge lies
// beyond the reveal by out.
func (c casing) around(q part, width, out measure.Length) place {
	inner := c.o.reveal() + out
	end := func(mitered bool) measure.Length {
		if mitered {
			return inner + width
		}
		return q.square
	}
	foot := func(mitered bool) measure.Length {
		switch {
		case c.stool:
			return c.above(0)
		case c.o.Kind == OpeningWindow:
			return c.above(-end(mitered))
		case c.scheme.Plinth != nil:
			return c.scheme.plinthHeight()
		}
		return c.opt.FloorGap
	}
	switch q.name {
	case "leg left":
		return place{start: c.o.At - inner - width, bottom: foot(q.left), slope: rightAngle}
	case "leg right":
		return place{start: c.o.At + c.o.Width + inner, bottom: foot(q.right) - c.drops(), slope: -rightAngle}
	case "head": // wider or narrower than the opening below by the same amount at both sides
		return place{start: c.o.At - c.o.widens() - end(q.left), bottom: c.above(c.o.height() + inner)}
	}
	return place{start: c.o.At - end(q.left), bottom: c.above(-inner - width), slope: halfTurn}
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

// add adds one piece whose length is the sum of the allowances.
func (c casing) add(p stock.Profile, role stock.Role, name string, at place, as []stock.Allowance, left, right stock.End) *measure.FieldError {
	length, err := total(as)
	label := c.name + " " + name
	if err != nil {
		return uncut(label, length, err)
	}
	if length <= 0 {
		return uncut(label, length, nil)
	}
	if longest := p.Longest(); longest > 0 && length > longest {
		return uncut(label, length, &SpliceError{Run: label, Length: length, Longest: longest})
	}
	p.Role = role
	c.list.add(p, false, stock.Run{
		Label: label, Profile: p.Name, Role: role, Room: c.room, Wall: c.wall,
		Start: at.start, Net: length, Bottom: at.bottom, Standoff: at.standoff, Slope: at.slope, Length: length, Left: left, Right: right, Allowances: as,
	}, []stock.Piece{{
		Label: label, Length: length, Profile: p.Name, Run: label, Part: 1, Parts: 1,
		Left: left, Right: right, Allowances: as,
	}}, Joints{}, 0)
	return nil
}
