package takeoff

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
	"example.com/longpoint/stock/panel"
)

// A Panel is the panel in an opening of a frame, or the sheet behind a stretch of paneling. It
// is listed, but not laid out on sheets or boards: only lengths are optimized.
type Panel struct {
	Label    string `json:"label"`
	Room     string `json:"room,omitempty"`
	Wall     string `json:"wall,omitempty"`
	Material string `json:"material,omitempty"` // as Wainscot.PanelMaterial

	// Width by Height is the visible part; its lower left corner is at Start, from the left end
	// of the wall, and Bottom, above the floor.
	Start  measure.Length `json:"start,omitzero"`
	Bottom measure.Length `json:"bottom,omitzero"`
	Width  measure.Length `json:"width"`
	Height measure.Length `json:"height"`

	// BlankWidth and BlankHeight are the size to cut: opening + 2·groove − float. For a sheet
	// they equal Width and Height.
	BlankWidth  measure.Length `json:"blank_width"`
	BlankHeight measure.Length `json:"blank_height"`
}

// Area returns the area of the blank, to the nearest unit, half to even. The error is a
// *measure.RangeError.
func (p Panel) Area() (measure.Area, error) {
	return p.BlankWidth.Area(p.BlankHeight, measure.RoundHalfEven)
}

// paneler takes off the wainscot of one room. The walls are divided into stretches, and meet in
// corners, like a course as high as the wainscot.
type paneler struct {
	taker
	w      *Wainscot
	design panel.Design
	rows   []panel.Row
	stile  stock.Profile
	corner stock.Profile // for stiles in corners
	miter  stock.End     // of boxes

	stretches []stretch
	members   *int
	count     []map[string]int // by wall: labels given so far
}

// stretch is a stretch of a wall that is divided separately.
type stretch struct {
	wall   int
	from   measure.Length // where it begins on the wall
	what   panel.Stretch
	layout panel.Layout
	own    []int  // indices of its devices among those of the wall
	below  bool   // it is below and above an opening or a fixture
	holes  []hole // in strips, which continue below and above them
}

// hole is a part of a wall occupied by openings and fixtures, with the rows left below and
// above them.
type hole struct {
	from, to measure.Length
	rows     []panel.Row
	name     string
}

// maxPaneling limits the pieces of paneling of one call, far above any house.
const maxPaneling = 100_000

// takePanels takes off the wainscot of a room. Members counts those of all rooms.
func takePanels(r *Room, called [][]string, s Scheme, opt Options, courses []course, members *int, list *List) []wallFault {
	w := s.Wainscot
	if !s.panels(r) || *members > maxPaneling {
		return nil
	}
	p := paneler{w: w, members: members, design: w.design(), rows: s.wainscotRows(), stile: *w.Profile, count: make([]map[string]int, len(r.Walls))}
	p.stile.Role = w.role()
	p.corner = p.stile
	if w.CornerStile != nil {
		p.corner = *w.CornerStile
		p.corner.Role = p.stile.Role
	}
	p.taker = taker{room: r, called: called, scheme: s, opt: opt, list: list, courses: courses, course: course{
		profile: p.stile, lo: p.rows[0].Bottom, hi: p.rows[len(p.rows)-1].Top, paneling: true,
	}}
	if w.Kind == panel.KindBoxes { // boxes within margins take nothing in corners
		p.course.profile.Thickness = 1
		cut, err := joint.NewCut(p.stile, stock.End{Kind: stock.EndFlatMiter})
		if err != nil {
			return []wallFault{{0, -1, uncut(p.label(0), 0, err)}}
		}
		p.miter = cut.End
	}
	p.layOut()
	p.mitered = make([]bool, len(r.Walls))
	for again := true; again; again = p.giveUp() {
		p.meetCorners()
	}
	for i := range r.Walls {
		if s.paneled(r, i) {
			p.divide(i)
		}
	}
	p.bare()
	p.lay()
	p.narrow()
	for i := range p.stretches {
		p.build(&p.stretches[i])
	}
	return p.bad
}

// bare reports walls that get no paneling, though it could be expected.
func (p *paneler) bare() {
	for i, w := range p.room.Walls {
		say := func(format, name string) {
			p.note(Finding{Code: FindingUnpaneled, Severity: SeverityAdvice, Room: p.room.Name, Wall: w.Name, Reason: fmt.Sprintf(format, name)})
		}
		if w.Curve != nil && !w.Unpaneled {
			say("%s is curved; the list has no paneling for it", w.Name)
		}
		if w.Stair != nil && !w.Unpaneled {
			say("%s is along a stair; the list has no paneling for it", w.Name)
		}
		for _, g := range w.groups() {
			if o := g.Opening; o.Kind == OpeningWindow && o.Sill == 0 && p.scheme.paneled(p.room, i) {
				say("the sill of %s was not measured; the list has no paneling below it", w.openingName(g.first))
			}
		}
	}
}

// oldBase returns base other than the scheme's, which the wainscot goes on above.
func (t *taker) oldBase(wall int) (bs []block) {
	w := t.room.Walls[wall]
	for i := range w.Stretches {
		s := &w.Stretches[i]
		if thick, high := s.Paint.over(s.Profile); t.course.paneling && s.Role == stock.RoleBase && high > t.course.lo {
			bs = append(bs, block{from: s.At, to: s.end(w), depth: thick, name: s.Name, hi: high})
		}
	}
	return bs
}

// divide finds the stretches of a wall.
func (p *paneler) divide(wall int) {
	span := p.spans[wall]
	var lines []*line
	for k := span.first; k < span.last; k++ {
		if l := &p.lines[k]; !l.gone {
			lines = append(lines, l)
		}
	}
	holes := p.holes(span.blocks)
	for i := range holes { // a stretch below a window in a corner stays clear of the wall beside it
		h, r := &holes[i], p.room
		h.from = max(h.from, p.cornered(r.before(wall), (wall+len(r.Walls)-1)%len(r.Walls)))
		h.to = min(h.to, span.length-p.cornered(r.Walls[wall].Corner, (wall+1)%len(r.Walls)))
	}
	if p.w.Kind == panel.KindStrips {
		p.across(wall, lines, holes)
		return
	}
	for _, l := range lines {
		s := stretch{wall: wall, what: panel.Stretch{Rows: p.rows}}
		left, right := p.ends(l, &s)
		p.begin(s, l.from+left, l.to-right)
	}
	for _, h := range holes {
		if len(h.rows) == 0 {
			continue
		}
		p.begin(stretch{wall: wall, below: true, what: panel.Stretch{Rows: h.rows}}, h.from, h.to)
	}
}

// across finds the stretches of a wall of strips, which continue below and above windows.
func (p *paneler) across(wall int, lines []*line, holes []hole) {
	var s *stretch
	var from, to measure.Length
	end := func() {
		if s != nil {
			p.begin(*s, from, to)
		}
		s = nil
	}
	start := func(x measure.Length) {
		if s == nil {
			s, from = &stretch{wall: wall, what: panel.Stretch{Rows: p.rows}}, x
		}
	}
	for len(lines)+len(holes) > 0 {
		if len(holes) == 0 || len(lines) > 0 && lines[0].from < holes[0].from {
			l := lines[0]
			lines = lines[1:]
			if s != nil && to != l.from {
				end()
			}
			var e stretch
			left, right := p.ends(l, &e)
			first := s == nil
			start(l.from + left)
			if first {
				s.what.Left = e.what.Left
			}
			to, s.what.Right = l.to-right, e.what.Right
			continue
		}
		h := holes[0]
		holes = holes[1:]
		if len(h.rows) == 0 {
			end()
			continue
		}
		if s != nil && to != h.from {
			end()
		}
		start(h.from)
		to, s.what.Right = h.to, panel.Side{}
		s.holes = append(s.holes, h)
	}
	end()
}

// cornered returns the width of a wall that the wainscot on the wall beside it occupies in an
// inside corner.
func (p *paneler) cornered(c Corner, beside int) measure.Length {
	if c.Kind != CornerInside || c.straight() || !p.scheme.paneled(p.room, beside) {
		return 0
	}
	return miterAt(p.w.SheetThickness+p.course.profile.Thickness, c.angle())
}

// begin adds a stretch between two places on its wall.
func (p *paneler) begin(s stretch, from, to measure.Length) {
	if to <= from {
		p.sliver(s.wall, max(0, to-from), "its corners")
		return
	}
	s.from, s.what.Length = from, to-from
	for i, v := range p.room.Walls[s.wall].Devices {
		left, right, _, _ := v.Plate()
		if right+p.w.Clear > from && left-p.w.Clear < to {
			v.At -= from
			s.what.Devices, s.own = append(s.what.Devices, v), append(s.own, i)
		}
	}
	p.stretches = append(p.stretches, s)
}

// holes returns the occupied parts of a wall, from left to right, overlapping ones merged.
func (p *paneler) holes(blocks []block) (hs []hole) {
	type cut struct {
		hole
		lo, hi measure.Length
	}
	var cuts []cut
	for _, b := range blocks {
		c := cut{hole{from: b.from, to: b.to, name: b.name}, b.lo, b.hi}
		if n := len(cuts); n > 0 && c.from < cuts[n-1].to {
			last := &cuts[n-1]
			last.to, last.lo, last.hi = max(last.to, c.to), min(last.lo, c.lo), max(last.hi, c.hi)
			continue
		}
		cuts = append(cuts, c)
	}
	for _, c := range cuts {
		for _, r := range p.rows {
			if lo := min(r.Top, c.lo); lo > r.Bottom {
				c.rows = append(c.rows, panel.Row{Bottom: r.Bottom, Top: lo})
			}
			if hi := max(r.Bottom, c.hi); hi < r.Top {
				c.rows = append(c.rows, panel.Row{Bottom: hi, Top: r.Top})
			}
		}
		hs = append(hs, c.hole)
	}
	return hs
}

// ends sets the ends of the stretch of a line and returns the distance of its visible part from
// the ends of the line; that is negative around an outside corner.
func (p *paneler) ends(l *line, s *stretch) (left, right measure.Length) {
	left, s.what.Left = p.side(l, &l.left, p.room.before(l.wall), true)
	right, s.what.Right = p.side(l, &l.right, p.room.Walls[l.wall].Corner, false)
	return left, right
}

func (p *paneler) side(l *line, m *meeting, c Corner, first bool) (in measure.Length, e panel.Side) {
	b := l.after
	if first {
		b = l.before
	}
	stiles := p.w.Kind == panel.KindFrame || p.w.Kind == panel.KindBattens
	switch {
	case b != nil || !c.joined():
		return 0, e
	case p.bullnose(l.wall, first) != 0: // it ends where the round begins
		return miterAt(p.bullnose(l.wall, first), c.angle()), e
	case c.straight():
		e.None = stiles && first && m.next >= 0 // the stile of the wall before is there
		return 0, e
	case m.next < 0 && c.Kind == CornerInside && m.short == 0:
		return slantAt(p.w.SheetThickness+p.course.profile.Thickness, min(c.angle(), rightAngle)), e
	case m.next < 0:
		return 0, e
	}
	sheet := miterAt(p.w.SheetThickness, c.angle())
	if c.Kind == CornerOutside {
		sheet = -sheet
	}
	if p.w.Kind == panel.KindBoxes {
		return sheet, e
	}
	corner := panel.Corner{Outside: c.Kind == CornerOutside, Angle: c.Angle, Miter: p.w.MiterCorners}
	left, right, err := corner.Stiles(p.stile.Thickness)
	if err != nil {
		p.fault(l, err)
		return 0, e
	}
	own := left
	if first {
		own = right
	}
	e.Extra = own.Extra
	if stiles {
		p.stileInCorner(l, first, left, right, &e)
	}
	return sheet + own.Face, e
}

// stileInCorner decides how the stile at the end of a wall meets the one around the corner: on
// stock that is wide enough, ripped so that both show as much, or with less of it showing.
func (p *paneler) stileInCorner(l *line, first bool, left, right panel.CornerStile, e *panel.Side) {
	over := max(left.Extra, right.Extra)
	if over <= 0 {
		p.ripped(first, l, p.stile.Width, left, right)
		return
	}
	switch shows := p.stile.Width - over; {
	case p.w.CornerStile != nil && p.stile.Width+over > p.corner.Width:
		p.noteOnce(first, Finding{
			Code: FindingCornerStile, Severity: SeverityDoubt, Room: p.room.Name, Wall: p.room.Walls[l.wall].Name, Length: p.stile.Width + over - p.corner.Width,
			Reason: fmt.Sprintf("%s is %v wide and a stile in this corner takes %v", p.corner.Name, p.words().About(p.corner.Width), p.words().about(p.stile.Width+over)),
		})
	case p.w.CornerStile != nil:
		p.ripped(first, l, p.stile.Width, left, right)
	case shows < measure.Inch:
		e.Visible = max(1, shows)
		p.noteOnce(first, Finding{
			Code: FindingSliver, Severity: SeverityAdvice, Room: p.room.Name, Wall: p.room.Walls[l.wall].Name, Length: max(0, shows),
			Reason: fmt.Sprintf("%v of the %s in a corner shows; wider stock for corners would show as much as elsewhere", p.words().about(max(0, shows)), p.stile.Role),
		})
		if shows < 1 {
			e.Extra -= 1 - shows
		}
	default:
		e.Visible = shows
		p.ripped(first, l, shows, left, right)
	}
}

// bullnose returns the radius of the corner at one end of a wall, zero if it is sharp.
func (p *paneler) bullnose(wall int, first bool) measure.Length {
	if n := len(p.room.Walls); first {
		wall = (wall + n - 1) % n
	}
	return p.room.Walls[wall].Bullnose
}

// ripped reports the width to which the stiles in the corner at the right end of a line are
// ripped, if it differs from all others.
func (p *paneler) ripped(first bool, l *line, shows measure.Length, left, right panel.CornerStile) {
	a, b := shows+left.Extra, shows+right.Extra
	if first || a <= 0 || b <= 0 || a == p.stile.Width && b == p.stile.Width && left.Bevel == 0 && right.Bevel == 0 {
		return
	}
	words, edges := p.words(), ""
	if right.Bevel != 0 {
		edges = ", its edge beveled by " + words.FormatAngle(right.Bevel)
		if left.Bevel != 0 {
			edges = ", their edges beveled by " + words.FormatAngle(right.Bevel)
		}
	}
	p.note(Finding{
		Code: FindingCornerStile, Severity: SeverityNote, Room: p.room.Name, Wall: p.room.Walls[l.wall].Name, Length: a, Angle: right.Bevel,
		Reason: fmt.Sprintf("in this corner the %s on the left is ripped to %s and that on the right to %s%s", p.stile.Role, words.about(a), words.about(b), edges),
	})
}

// noteOnce adds a finding about a corner, at the wall left of it.
func (p *paneler) noteOnce(first bool, f Finding) {
	if !first {
		p.note(f)
	}
}

func (p *paneler) words() words { return p.opt.words() }

// beside reports whether a stretch ends, or else begins, at a position with a stile.
func (p *paneler) beside(wall int, at measure.Length, ends bool) bool {
	return slices.ContainsFunc(p.stretches, func(s stretch) bool {
		x := s.from
		if ends {
			x += s.what.Length
		}
		return s.wall == wall && !s.below && x == at && len(s.layout.Members) > 0
	})
}

// lay lays out the stretches, the longest first if the others should match it. Stretches below
// windows come last: they share a stile with the stretches beside them.
func (p *paneler) lay() {
	order := make([]int, len(p.stretches))
	for i := range order {
		order[i] = i
	}
	rank := func(i int) int {
		if p.stretches[i].below {
			return 1
		}
		return 0
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(rank(a), rank(b)) })
	match := p.w.Match && p.w.Count == 0 && p.w.Kind != panel.KindStrips
	if match {
		slices.SortStableFunc(order, func(a, b int) int {
			return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(p.stretches[b].what.Length, p.stretches[a].what.Length))
		})
	}
	for _, i := range order {
		s := &p.stretches[i]
		if s.below && p.w.Kind != panel.KindBoxes {
			s.what.Left.None, s.what.Right.None = p.beside(s.wall, s.from, true), p.beside(s.wall, s.from+s.what.Length, false)
		}
		var err error
		if s.layout, err = p.design.Lay(s.what); err != nil {
			p.bad = append(p.bad, wallFault{wall: s.wall, opening: -1, err: uncut(p.label(s.wall), s.what.Length, err)})
			continue
		}
		if *p.members += len(s.layout.Members); *p.members > maxPaneling {
			why := &measure.FieldError{Field: "wainscot.target", Value: p.design.Target.About(), Want: fmt.Sprintf("more, so that there are at most %d pieces", maxPaneling)}
			p.bad, s.layout = append(p.bad, wallFault{wall: s.wall, opening: -1, err: uncut(p.label(s.wall), s.what.Length, why)}), panel.Layout{}
			break
		}
		if fs := s.layout.Fields; match && len(fs) > 0 {
			p.design.Target = fs[len(fs)/2].Width
			match = false
		}
	}
	for i := range p.stretches {
		p.told(&p.stretches[i])
	}
}

// told adds the findings about a stretch.
func (p *paneler) told(s *stretch) {
	w := p.room.Walls[s.wall]
	say := func(c FindingCode, sev Severity, l measure.Length, format string, args ...any) {
		p.note(Finding{Code: c, Severity: sev, Room: p.room.Name, Wall: w.Name, Length: l, Reason: fmt.Sprintf(format, args...)})
	}
	words, n := p.words(), len(s.layout.Fields)
	if n == 0 && s.below {
		high := measure.Length(0)
		for _, r := range s.what.Rows {
			high = max(high, r.Top-r.Bottom)
		}
		say(FindingSliver, SeverityAdvice, s.what.Length, "what is left at %v, %v wide and %v high, is too small for a field of paneling; nothing is built there", words.about(s.from), words.about(s.what.Length), words.about(high))
		return
	}
	if n == 0 {
		say(FindingSliver, SeverityAdvice, s.what.Length, "%v of wall at %v is too small for a field of paneling; nothing is built there", words.about(s.what.Length), words.about(s.from))
		return
	}
	switch {
	case s.layout.Shift != 0:
		say(FindingDevice, SeverityNote, max(s.layout.Shift, -s.layout.Shift), "%d boxes at %v are moved by %v out of the middle, so that no plate lies on them", n, words.about(s.from), words.about(max(s.layout.Shift, -s.layout.Shift)))
	case n != s.layout.Usual:
		say(FindingDevice, SeverityNote, s.layout.Fields[0].Width, "%s of wall at %s is divided into %d, not %d, so that no cover plate lands on a %s", words.about(s.what.Length), words.about(s.from), n, s.layout.Usual, p.stile.Role)
	}
	for i, h := range s.layout.Hits {
		if i > 0 && s.layout.Hits[i-1].Device == h.Device {
			continue // once is enough
		}
		left, right, bottom, top := s.what.Devices[h.Device].Plate()
		where := "lies on a %s, by %v"
		if h.Clearance >= 0 {
			where = "is as near to a %s as %v"
		}
		where = fmt.Sprintf(where, s.layout.Members[h.Member].Role, words.about(max(h.Clearance, -h.Clearance)))
		say(FindingDevice, SeverityAdvice, max(0, -h.Clearance), "the plate of %s %s: move it, or set a block behind it, more than %v wide and %v high",
			w.nameOfDevice(s.own[h.Device]), where, words.About(right-left), words.About(top-bottom))
	}
}

// narrow reports stretches whose fields are narrower than half of those beside them.
func (p *paneler) narrow() {
	if p.w.Kind == panel.KindStrips {
		return
	}
	field := func(i int) measure.Length {
		if i < 0 || i >= len(p.stretches) || len(p.stretches[i].layout.Fields) == 0 {
			return 0
		}
		fs := p.stretches[i].layout.Fields
		return fs[len(fs)/2].Width
	}
	slices.SortStableFunc(p.stretches, func(a, b stretch) int {
		return cmp.Or(cmp.Compare(a.wall, b.wall), cmp.Compare(a.from, b.from))
	})
	for i, s := range p.stretches {
		wide := max(field(i-1), field(i+1))
		if w := field(i); w > 0 && 2*w < wide {
			p.note(Finding{
				Code: FindingNarrowPanel, Severity: SeverityAdvice, Room: p.room.Name, Wall: p.room.Walls[s.wall].Name, Length: w,
				Reason: fmt.Sprintf("fields at %v are %v wide, less than half of those beside them with %v", p.words().about(s.from), p.words().about(w), p.words().about(wide)),
			})
		}
	}
}

// next numbers members of a wall with the same name.
func (p *paneler) next(wall int, what string) string {
	if p.count[wall] == nil {
		p.count[wall] = map[string]int{}
	}
	p.count[wall][what]++
	return p.called[0][wall] + " " + what + " " + strconv.Itoa(p.count[wall][what])
}

// build adds the members of a stretch to the list.
func (p *paneler) build(s *stretch) {
	var at [2]int // row and field of the last number
	number := ""
	field := func(row, field int, what string) string {
		if at != [2]int{row, field + 1} || number == "" {
			at, number = [2]int{row, field + 1}, p.next(s.wall, what)
		}
		return number
	}
	miters := 0
	for _, m := range s.layout.Members {
		switch m.Role {
		case stock.RolePanelMold:
			p.add(s, m, field(m.Row, m.Field, "box")+" "+m.Place.String(), p.stile)
			miters++
		case stock.RoleRail:
			rail := *p.w.rail(m.Place)
			rail.Role = stock.RoleRail
			p.add(s, m, p.next(s.wall, m.Place.String()+" rail"), rail)
		case stock.RolePanel:
			for _, m := range s.strips(m) {
				p.add(s, m, p.next(s.wall, "strip"), p.stile)
			}
		default:
			of := p.stile
			if m.Ripped > of.Width {
				of = p.corner
			}
			p.add(s, m, p.next(s.wall, m.Role.String()), of)
		}
	}
	if miters > 0 {
		t := p.list.totals(p.room.Name, p.stile, false)
		t.Corners += miters
		p.list.count(t, Joints{FlatMiters: miters})
	}
	w := p.room.Walls[s.wall].Name
	for _, b := range s.layout.Panels {
		p.list.Panels = append(p.list.Panels, Panel{
			Label: p.next(s.wall, "panel"), Room: p.room.Name, Wall: w, Material: p.w.PanelMaterial,
			Start: s.from + b.Start, Bottom: b.Bottom, Width: b.Width, Height: b.Height, BlankWidth: b.BlankWidth, BlankHeight: b.BlankHeight,
		})
	}
	if p.w.SheetThickness == 0 || len(s.layout.Members) == 0 {
		return
	}
	for _, r := range s.what.Rows {
		p.list.Panels = append(p.list.Panels, Panel{
			Label: p.next(s.wall, "sheet"), Room: p.room.Name, Wall: w, Material: p.w.PanelMaterial, Start: s.from, Bottom: r.Bottom,
			Width: s.what.Length, Height: r.Top - r.Bottom, BlankWidth: s.what.Length, BlankHeight: r.Top - r.Bottom,
		})
	}
}

// strips returns the parts of a strip within a hole: below and above it. A strip that is partly
// within is notched, and cut in full.
func (s *stretch) strips(m panel.Member) []panel.Member {
	for _, h := range s.holes {
		if s.from+m.Start < h.from || s.from+m.Start+m.Width > h.to {
			continue
		}
		var ms []panel.Member
		for _, r := range h.rows {
			if r.Bottom >= m.Bottom && r.Top <= m.Bottom+m.Height {
				v := m
				v.Bottom, v.Height, v.Length = r.Bottom, r.Top-r.Bottom, r.Top-r.Bottom
				v.Allowances = []stock.Allowance{{Name: "height", Length: v.Length}}
				ms = append(ms, v)
			}
		}
		return ms
	}
	return []panel.Member{m}
}

// slopes are the directions from the left end of a member to its right one; the outer edge of a
// box is to the left of it.
var slopes = [...]measure.Angle{
	panel.PlaceUpright: rightAngle, panel.PlaceLeft: rightAngle, panel.PlaceRight: -rightAngle, panel.PlaceBottom: halfTurn, panel.PlaceTop: 0, panel.PlaceMiddle: 0,
}

// add takes a member into the list.
func (p *paneler) add(s *stretch, m panel.Member, label string, of stock.Profile) {
	if longest := of.Longest(); longest > 0 && m.Length > longest {
		p.bad = append(p.bad, wallFault{s.wall, -1, uncut(label, m.Length, &SpliceError{Run: label, Length: m.Length, Longest: longest})})
		return
	}
	run := stock.Run{
		Label: label, Profile: of.Name, Role: m.Role, Room: p.room.Name, Wall: p.room.Walls[s.wall].Name,
		Start: s.from + m.Start, Bottom: m.Bottom, Standoff: p.w.SheetThickness, Net: m.Width, Length: m.Length, Ripped: m.Ripped, Allowances: m.Allowances,
	}
	if m.Upright() {
		run.Net = m.Height
	}
	if m.Place == panel.PlaceUpright && m.Start == 0 {
		run.Start -= s.what.Left.Extra // it begins behind another in the corner, or beside its edge
	}
	if m.Role != stock.RoleRail {
		run.Slope = slopes[m.Place]
	}
	var joints Joints
	switch m.Role {
	case stock.RolePanelMold:
		run.Left, run.Right = p.miter, p.miter
	case stock.RoleRail:
		joints.Butts = 2
	}
	if m.Ripped == of.Width {
		run.Ripped = 0
	}
	pieces := []stock.Piece{{
		Label: label, Length: m.Length, Profile: of.Name, Run: label, Part: 1, Parts: 1,
		Left: run.Left, Right: run.Right, Allowances: m.Allowances,
	}}
	p.opt.words().noted(&run, pieces, nil, nil)
	p.list.add(of, false, run, pieces, joints, 0)
}
