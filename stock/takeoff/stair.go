package takeoff

import (
	"fmt"
	"slices"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
	"example.com/longpoint/stock/stair"
)

// A Stair is a straight flight of steps against a wall. Base ends at its foot, or is joined to
// the Skirt of the Scheme, as is the base of an Assembly that stands on the floor. Shoe ends at
// the first riser. A chair rail follows the slope, at its height above the floor, measured from
// the nosings. Other trim, such as a base cap, ends where it meets the skirt or the nosings. Trim
// of the upper floor is listed with a room up there. If Head is set, the wall beyond the last
// riser belongs to the upper floor: trim of the lower floor stops there, as a Finding says,
// except trim that passes above the upper floor, or hangs from the ceiling. Without Head, as with
// a closet below a landing, trim continues there on the lower floor, unless a Fixture stops it.
type Stair struct {
	Flight stair.Flight `json:"flight"`

	// At is the first riser, from the left end of the wall. The flight rises to the right or,
	// if RisesLeft is set, to the left, and ends within the wall.
	At        measure.Length `json:"at"`
	RisesLeft bool           `json:"rises_left,omitempty"`

	Width measure.Length `json:"width,omitzero"` // extent into the room; zero is not measured

	// Head is the height of the base on the upper floor, to which skirt and chair rail are
	// mitered. Zero for none: they end plumb at the last riser and the last nosing, and the wall
	// beyond belongs to the lower floor.
	Head measure.Length `json:"head,omitzero"`

	Joint stair.Joint `json:"joint,omitzero"` // of skirt and base

	// Skirts is the number of skirts: one at the wall, and a second, its mirror image, for a
	// wall across; zero means one.
	Skirts int `json:"skirts,omitempty"`
}

// maxSlope limits the slope of a ceiling either way, as package stair does.
const maxSlope = 20

// validate returns every fault of the stair, joined. The length is that of its wall.
func (s *Stair) validate(length measure.Length) error {
	if s == nil {
		return nil
	}
	var bad faults
	err := s.Flight.Validate()
	bad.Under("flight", err)
	bad.length("at", s.At, 0, maxWall)
	bad.length("width", s.Width, 0, maxWall)
	bad.length("head", s.Head, 0, maxHeight)
	bad.Under("joint", s.validateJoint())
	if s.Skirts < 0 || s.Skirts > 2 {
		bad.Add("skirts", fmt.Sprint(s.Skirts), "1 or 2, or zero for 1")
	}
	if err != nil || s.At < 0 || s.At > maxWall || length <= 0 || length > maxWall {
		return bad.Err()
	}
	if from, to := s.extent(); from < 0 || to > length {
		bad.Add("at", s.At.About(), fmt.Sprintf("a first riser from which %v of flight end within the wall's %v", (to-from).About(), length.About()))
	}
	return bad.Err()
}

func (s *Stair) validateJoint() error {
	_, err := s.Joint.MarshalText()
	return err
}

// extent returns the extent of the steps on the wall.
func (s *Stair) extent() (from, to measure.Length) {
	long := measure.Length(s.Flight.Risers-1) * s.Flight.Run
	if s.RisesLeft {
		return s.At - long, s.At
	}
	return s.At, s.At + long
}

// skirt returns the board beside the stair; it returns false if the scheme has none or the
// board is too narrow, which takeStairs reports. It is that of a flight that rises to the
// right.
func (s *Stair) skirt(of Scheme, r *Room) (stair.Board, bool) {
	if of.Skirt == nil {
		return stair.Board{}, false
	}
	b, err := s.board(of, r)
	return b, err == nil
}

func (s *Stair) board(of Scheme, r *Room) (stair.Board, error) {
	k := stair.Skirt{Width: of.Skirt.Width, Head: s.Head, Joint: s.Joint}
	if base := of.baseAtSkirt(r); base != nil {
		k.Foot = base.Width
	}
	return s.Flight.Skirt(k)
}

// baseAtSkirt returns the base to which skirts of a room are joined, nil if there is none: that
// of the scheme, or the member of an assembly that stands on the floor against the wall.
func (s Scheme) baseAtSkirt(r *Room) *stock.Profile {
	if s.Base != nil {
		return s.Base
	}
	for i := range s.Assemblies {
		a := &s.Assemblies[i]
		if a.FromCeiling || a.At != 0 || len(a.Rooms) > 0 && !slices.Contains(a.Rooms, r.Name) {
			continue
		}
		if len(a.Members) == 0 {
			continue
		}
		if m := &a.Members[0]; m.Profile.Role == stock.RoleBase && m.At == 0 && m.Off == 0 {
			return &m.Profile
		}
	}
	return nil
}

// stairBlock returns the part of the wall that the stair blocks for the course, if any.
func (t *taker) stairBlock(wall int, length measure.Length) []block {
	s := t.room.Walls[wall].Stair
	if s == nil || t.atCeiling() {
		return nil
	}
	from, to := s.extent()
	b := block{from: from, to: to, depth: s.Width, name: "stair", right: s.RisesLeft}
	before := measure.Length(0) // distance before the first riser at which the course ends
	board, skirted := s.skirt(t.scheme, t.room)
	lo, role := t.course.lo, t.course.profile.Role
	switch {
	case role == stock.RoleBase && skirted && lo == 0 && t.course.standoff == 0:
		b.foot, before = board.FootBase, board.FootLevel
	case role == stock.RoleChairRail && t.course.assembly == "":
		rail, err := s.Flight.Rail(t.course.profile.Width)
		if err != nil { // cannot be: both are validated
			return nil
		}
		before, b.foot = -rail.FootAt, rail.Foot
	case lo > 0:
		// Above the floor it meets the upper edge of the skirt, or the line of the nosings,
		// which is this far above the foot of the first riser.
		up := s.Flight.Rise
		if skirted {
			up = board.Plumb
		}
		dist, _, err := (lo - up).MulDiv(int64(s.Flight.Run), int64(s.Flight.Rise), measure.RoundHalfEven)
		if err != nil || dist >= to-from { // it passes above the stair
			return nil
		}
		if before = -dist; skirted && board.Foot.Kind != stock.EndRake {
			before = min(before, board.FootLevel) // where the skirt is cut plumb
		}
	}
	// Before the first riser there is only the skirt or the rail, and no step in a corner beyond.
	ahead := b
	ahead.depth = t.course.profile.Projection()
	if skirted {
		ahead.depth = max(ahead.depth, t.scheme.Skirt.Thickness)
	}
	bs := []block{b}
	switch {
	case before > 0 && s.RisesLeft:
		ahead.from, ahead.to = to, to+before
		bs = []block{b, ahead}
	case before > 0:
		ahead.from, ahead.to = from-before, from
		bs = []block{ahead, b}
	case s.RisesLeft:
		bs[0].to += before
	default:
		bs[0].from -= before
	}
	from, to = s.beyond(length)
	bs = append(bs, block{from: from, to: to, name: "upper floor"})
	for i := range bs {
		bs[i].from, bs[i].to = max(bs[i].from, 0), min(bs[i].to, length)
	}
	return slices.DeleteFunc(bs, func(b block) bool { return b.from >= b.to })
}

// turn makes the end of a line at the foot of a stair the miter that turns up it.
func (l *line) turn() {
	for _, e := range []struct {
		m *meeting
		b *block
	}{{&l.left, l.before}, {&l.right, l.after}} {
		if e.b != nil && e.b.foot != (stock.End{}) && e.b.right == (e.m == &l.left) {
			e.m.end, e.m.count, e.m.face = stock.End{Kind: e.b.foot.Kind, Angle: e.b.foot.Angle}, nil, false
		}
	}
}

// takeStairs adds the skirts of the stairs of a room, and the rails that follow their slope.
func takeStairs(r *Room, called []string, s Scheme, opt Options, list *List) (wrong []wallFault) {
	list.Findings = append(list.Findings, stairFits(r, s, opt, true)...)
	for i := range r.Walls {
		if r.Walls[i].Stair == nil {
			continue
		}
		c := flight{room: r, wall: &r.Walls[i], s: r.Walls[i].Stair, called: called[i], scheme: s, opt: opt, list: list}
		if err := c.take(); err != nil {
			wrong = append(wrong, wallFault{i, -1, err})
		}
	}
	return wrong
}

// flight adds the trim of one stair to the list.
type flight struct {
	room   *Room
	wall   *Wall
	s      *Stair
	called string
	scheme Scheme
	opt    Options
	list   *List
}

func (c *flight) take() *measure.FieldError {
	if c.scheme.Skirt != nil {
		if err := c.takeSkirts(); err != nil {
			return err
		}
	}
	if c.scheme.ChairRail != nil {
		return c.takeRail()
	}
	return nil
}

// climbing is a trim that follows a stair that rises to the right.
type climbing struct {
	label         string
	profile       stock.Profile
	length        measure.Length
	net           measure.Length
	start, bottom measure.Length // of the left end of its lower edge, from the first riser
	high          measure.Length // of the right end of its lower edge
	edge          measure.Length // its lower edge, on the level
	reach, beyond measure.Length // of its long points beyond the ends of the lower edge
	left, right   stock.End
	as            []stock.Allowance // of a run that rises to the right
	outline       []stock.Point
	joints        Joints
	corners       int
}

// takeSkirts adds the boards.
func (c *flight) takeSkirts() *measure.FieldError {
	p := *c.scheme.Skirt
	p.Role = stock.RoleSkirt
	b, err := c.s.board(c.scheme, c.room)
	if err != nil {
		return uncut(c.called+" skirt", p.Width, err)
	}
	f := c.s.Flight
	rake, err := f.Rake()
	if err != nil {
		return uncut(c.called+" skirt", p.Width, err)
	}
	n := measure.Length(f.Risers - 1)
	k := climbing{
		profile: p, length: b.Length, net: b.Edge, edge: n * f.Run, high: n * f.Rise, reach: b.Reach, beyond: b.Length - b.Reach - rake.Length,
		left: b.Foot, right: b.Head, outline: b.Outline,
		as: []stock.Allowance{{Name: "from the first riser to the last", Length: rake.Length}, {Name: "beyond the first riser", Length: b.Reach}, {Name: "beyond the last riser", Length: b.Length - b.Reach - rake.Length}},
	}
	k.joint(b.Foot)
	k.joint(b.Head)
	skirts := max(1, c.s.Skirts)
	for i := range skirts {
		k.label = c.called + " skirt"
		if skirts > 1 {
			k.label += " " + letters(i)
		}
		m, wall := k, c.wall.Name
		if i == 1 {
			wall = ""
		}
		if c.s.RisesLeft != (i == 1) { // seen from the other wall it rises the other way
			m = m.mirrored()
		}
		if err := c.add(m, wall); err != nil {
			return err
		}
	}
	return nil
}

// joint counts the joint at an end.
func (k *climbing) joint(e stock.End) {
	if e.Kind == stock.EndRake {
		k.joints.RakeMiters++
		k.corners++
	} else {
		k.joints.Stops++
	}
}

// takeRail adds the part of the chair rail on the slope.
func (c *flight) takeRail() *measure.FieldError {
	p, _ := c.opt.cutAs(*c.scheme.ChairRail)
	p.Role = stock.RoleChairRail
	f := c.s.Flight
	rail, err := f.Rail(p.Width)
	if err != nil {
		return uncut(c.called+" chair rail rake", p.Width, err)
	}
	at := c.scheme.ChairRailAt
	setDefault(&at, usualChairRail)
	n := measure.Length(f.Risers)
	k := climbing{
		label: c.called + " chair rail rake", profile: p, net: rail.Edge, edge: n * f.Run, start: rail.FootAt, bottom: at, high: at + n*f.Rise,
		left: rail.Foot, right: rail.Head,
		as: []stock.Allowance{{Name: "along the nosings", Length: rail.Edge}},
	}
	if c.s.Head == 0 {
		k.right = stock.End{Kind: stock.EndPlumb, Angle: 2 * rail.Head.Angle}
	}
	cut, err := joint.NewCut(p, k.right)
	if err != nil {
		return uncut(k.label, rail.Edge, err)
	}
	k.right, k.beyond = cut.End, cut.Allowance
	k.as = append(k.as, stock.Allowance{Name: k.right.Kind.String() + " at its head", Length: k.beyond})
	k.length = rail.Edge + k.beyond
	k.joint(k.left)
	k.joint(k.right)
	if c.s.RisesLeft {
		k = k.mirrored()
	}
	return c.add(k, c.wall.Name)
}

// mirrored returns the same for a flight that rises to the left. Its left end is the upper one.
func (k climbing) mirrored() climbing {
	k.start, k.bottom, k.high = -k.start-k.edge, k.high, k.bottom
	k.left, k.right = k.right, k.left
	k.reach, k.beyond = k.beyond, k.reach
	// The lower edge goes first, from left to right again.
	var out []stock.Point
	for i := range k.outline {
		p := k.outline[(len(k.outline)+1-i)%len(k.outline)]
		out = append(out, stock.Point{Along: k.length - p.Along, Up: p.Up})
	}
	k.outline = out
	return k
}

// add adds a run and its pieces. A skirt across from the wall is on none that is known here.
func (c *flight) add(k climbing, wall string) *measure.FieldError {
	slope, err := measure.NewSlope(k.high-k.bottom, k.edge)
	if err != nil {
		return uncut(k.label, k.length, err)
	}
	run := stock.Run{
		Label: k.label, Profile: k.profile.Name, Role: k.profile.Role, Room: c.room.Name, Wall: wall,
		Start: c.s.At + k.start, Net: k.net, Reach: k.reach, Bottom: k.bottom, Slope: slope.Angle(),
		Length: k.length, Left: k.left, Right: k.right, Allowances: nonzero(k.as), Outline: k.outline,
	}
	if err := c.splice(&run, k.profile); err != nil {
		return uncut(k.label, k.length, err)
	}
	pieces, err := run.Pieces(run.Splices)
	if err != nil {
		return uncut(k.label, k.length, err)
	}
	c.opt.words().noted(&run, pieces, nil, nil)
	c.list.add(k.profile, false, run, pieces, k.joints, k.corners)
	return nil
}

// splice sets where sloped trim may be spliced, and where it is if necessary: on the studs of
// the wall, measured along the slope.
func (c *flight) splice(run *stock.Run, p stock.Profile) error {
	t := taker{room: c.room, scheme: c.scheme, opt: c.opt, course: course{profile: p}}
	rule := stock.SpliceRule{Bevel: c.opt.Bevel}
	rule.Clear, rule.MinPart = t.clear()
	if p.ButtSpliced {
		rule.Bevel = 0
	} else {
		var err error
		if rule.Overlap, err = joint.ScarfOverlap(p.Projection(), rule.Bevel); err != nil {
			return err
		}
	}
	studs := c.wall.Studs
	if studs.isZero() {
		studs = c.room.Studs
	}
	rule.Assumed = studs.isZero()
	from, to := c.s.extent()
	for _, x := range studs.middles(from, to) {
		at := asLength(float64(x-run.Start)*float64(hypot(c.s.Flight.Rise, c.s.Flight.Run))/float64(c.s.Flight.Run)) + run.Reach
		if at > rule.Clear && at < run.Length-rule.Clear {
			rule.At = insert(rule.At, at)
		}
	}
	run.Splice = rule
	longest := p.Longest()
	if longest == 0 || run.Length <= longest {
		return nil
	}
	at, ok := rule.Place(run.Length, longest)
	if !ok {
		return &SpliceError{Run: run.Label, Length: run.Length, Longest: longest, Clear: rule.Clear, MinPart: rule.MinPart, Overlap: rule.Overlap, Studs: len(rule.At)}
	}
	run.Splices = at
	return nil
}

// nonzero returns the nonzero allowances.
func nonzero(as []stock.Allowance) []stock.Allowance {
	var out []stock.Allowance
	for _, a := range as {
		if a.Length != 0 {
			out = append(out, a)
		}
	}
	return out
}
