package takeoff

import (
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
)

// A Stretch is a part of a wall with trim that differs from the scheme: old trim that stays, or
// new trim of another profile.
type Stretch struct {
	Name string     `json:"name"`          // such as "old base"; required
	Role stock.Role `json:"role,omitzero"` // role of the trim that it replaces

	At    measure.Length `json:"at"`             // left end, from the left end of the wall
	Width measure.Length `json:"width,omitzero"` // along the wall; zero means to its right end

	// Profile is the trim there. Existing is set if it stays: none of it is taken off, and
	// Paint is the paint that its dimensions do not include. Measure old trim: nominal 1 in may
	// be a full inch, or 7/8.
	Profile  stock.Profile `json:"profile"`
	Existing bool          `json:"existing,omitempty"`
	Paint    Paint         `json:"paint,omitzero"`

	// Left and Right are the joints with the adjoining trim on both sides, if any. A block
	// takes the place of that trim.
	Left  Meet `json:"left,omitzero"`
	Right Meet `json:"right,omitzero"`
}

// A Transition is a place where a run ends at other trim and not square.
type Transition struct {
	Room  string     `json:"room"`
	Wall  string     `json:"wall"`
	Run   string     `json:"run"`  // label of the run
	Side  joint.Side `json:"side"` // its end, left or right
	Meet  Meet       `json:"meet"`
	Other string     `json:"other"` // name of the other trim

	// Excess is the thickness of the run less that of the other trim, and Step the difference
	// in height, if known.
	Excess measure.Length `json:"excess,omitzero"`
	Step   measure.Length `json:"step,omitzero"`

	// Chamfer is the length of the chamfer along the face, see joint.Chamfer.
	Chamfer measure.Length `json:"chamfer,omitzero"`

	// Thickness and Height are the size of a block: those of the thicker and the taller of the
	// two, plus the reveal.
	Thickness measure.Length `json:"thickness,omitzero"`
	Height    measure.Length `json:"height,omitzero"`
}

// joining is the joint of a line with one side of a block.
type joining struct {
	meet              Meet
	thickness, height measure.Length // of the other trim; height zero if that does not matter
	midWall           bool           // no door or corner is there
	stretch           *Stretch
}

// meetsAt returns the block with the joint of the scheme for trim that is thicker than the
// casing or the plinth in it.
func (t *taker) meetsAt(b block) block {
	c := t.course
	if c.paneling {
		return b // CheckTrim reports the projection
	}
	excess := c.profile.Projection() - b.depth
	if c.standoff > 0 { // trim before the base ends with it
		excess = c.standoff - b.depth
	}
	how := t.scheme.ThickEnd
	if b.depth == 0 || excess <= 0 || b.ends != stock.EndSquare || t.atCeiling() {
		return b
	}
	switch {
	case how == MeetReturn:
		b.from -= t.opt.reveal()
		b.to += t.opt.reveal()
		b.ends = stock.EndReturn
	case c.standoff > 0 || how == MeetSquare && t.elsewhere == nil: // CheckTrim checks the scheme
		return b
	}
	b.with = &joining{meet: how, thickness: b.depth}
	return b
}

// atCeiling reports whether the course runs along the ceiling.
func (t *taker) atCeiling() bool { return t.course.ceiling }

// reveal returns the projection of a block beyond the trim that dies into it, and the distance
// of a return from a casing, with its default.
func (o Options) reveal() measure.Length {
	if o.MeetReveal == 0 {
		return measure.Inch / 8
	}
	return o.MeetReveal
}

// stretches returns the blocks that other trim on a wall forms for the course.
func (t *taker) stretches(wall int) (bs []block) {
	if t.elsewhere != nil {
		return t.outside(wall)
	}
	w := t.room.Walls[wall]
	if s := t.section(wall); s.segment {
		w.Length = s.whole
	}
	for i := range w.Stretches {
		s := &w.Stretches[i]
		thick, high := s.Paint.over(s.Profile)
		switch own := s.Role == t.course.profile.Role; {
		case own:
		case s.Role == stock.RoleBase && inFront(t.course):
			if thick == t.course.standoff {
				continue
			}
			to := s.end(w)
			bs = append(bs, block{from: s.At, to: to, depth: thick, name: s.Name})
			continue
		case !t.stacksWith(s.Role): // a cap ends where its base does
			continue
		}
		to := s.end(w)
		middle := s.At + (to-s.At)/2
		left := t.sideOf(s, s.Left, thick, high, s.At > 0)
		left.from, left.to = s.At, middle
		right := t.sideOf(s, s.Right, thick, high, to < w.Length)
		right.from, right.to = middle, to
		if s.Left == MeetBlock && t.scheme.Block != nil {
			left.from -= t.scheme.Block.Width
		}
		if s.Right == MeetBlock && t.scheme.Block != nil {
			right.to += t.scheme.Block.Width
		}
		bs = append(bs, left, right)
	}
	return bs
}

// end returns the right end of the stretch on its wall.
func (s *Stretch) end(w Wall) measure.Length {
	if s.Width == 0 {
		return w.Length
	}
	return s.At + s.Width
}

// sideOf returns one half of a stretch as an end for the course. Members of one assembly end
// together.
func (t *taker) sideOf(s *Stretch, how Meet, thick, high measure.Length, midWall bool) block {
	b := block{depth: thick, name: s.Name}
	if s.Role == t.course.profile.Role {
		b.with = &joining{meet: how, thickness: thick, height: high, midWall: midWall, stretch: s}
	}
	bottom, _, _ := t.stackSize()
	top := t.course.hi - bottom
	taller := top > high || top == high && t.course.face() > thick
	switch {
	case how == MeetReturn && taller:
		b.ends = stock.EndReturn
	case how == MeetScribe && !taller:
		b.ends = stock.EndScribe
	}
	return b
}

// stacksWith reports whether the course has a member of a role in its assembly.
func (t *taker) stacksWith(r stock.Role) bool {
	for _, c := range t.courses {
		if !t.course.paneling && c.stack == t.course.stack && c.profile.Role == r && c.runsIn(t.room) {
			return true
		}
	}
	return false
}

// stackSize returns the lower edge, the height and the projection of the course's assembly,
// without shoe.
func (t *taker) stackSize() (bottom, height, thickness measure.Length) {
	c := t.course
	bottom, top, thickness := c.lo, c.hi, c.face()
	for _, d := range t.courses {
		if t.elsewhere == nil && d.stack == c.stack && d.profile.Role != stock.RoleShoe && d.runsIn(t.room) {
			bottom, top, thickness = min(bottom, d.lo), max(top, d.hi), max(thickness, d.face())
		}
	}
	return bottom, top - bottom, thickness
}

// recordEnds adds to the list the ends of a run at other trim.
func (t *taker) recordEnds(l *line, label string) error {
	for _, e := range []struct {
		side joint.Side
		at   *block
	}{{joint.SideLeft, l.before}, {joint.SideRight, l.after}} {
		if e.at == nil || e.at.with == nil {
			continue
		}
		j, p := e.at.with, t.course.profile
		v := Transition{
			Room: t.room.Name, Wall: t.room.Walls[l.wall].Name, Run: label, Side: e.side, Meet: j.meet, Other: e.at.name,
			Excess: p.Projection() - j.thickness,
		}
		_, high, thick := t.stackSize()
		if j.height != 0 {
			v.Step = high - j.height
		}
		switch {
		case j.midWall:
			t.noteStep(l, v, j)
		case j.meet == MeetSquare && j.height == 0:
			t.noteThick(v)
		}
		switch j.meet {
		case MeetSquare:
			continue
		case MeetChamfer:
			if v.Excess <= 0 && (j.stretch == nil || !j.stretch.Existing) {
				continue // the other one is
			}
			var err error
			if v.Chamfer, err = joint.Chamfer(max(v.Excess, -v.Excess), t.opt.chamfer()); err != nil {
				return err
			}
		case MeetBlock:
			v.Thickness = max(thick, j.thickness) + t.opt.reveal()
			v.Height = max(high, j.height) + t.opt.reveal()
			t.cutBlock(l, v)
		}
		t.list.Transitions = append(t.list.Transitions, v)
	}
	return nil
}

// chamfer returns the angle of a chamfer to the face, with its default.
func (o Options) chamfer() measure.Angle {
	if o.Chamfer == 0 {
		return 45 * measure.Degree
	}
	return o.Chamfer
}

// showing is the least visible step between two profiles (common practice, no source).
const showing = measure.Inch / 64

// noteStep advises against a new profile that continues an old one in mid-wall.
func (t *taker) noteStep(l *line, v Transition, j *joining) {
	if j.meet == MeetBlock {
		return
	}
	w := t.opt.words()
	differ := max(v.Excess, -v.Excess, v.Step, -v.Step)
	if differ < showing && !j.stretch.Existing {
		return
	}
	name := t.course.profile.Name
	f := Finding{
		Code: FindingMidWall, Severity: SeverityAdvice, Room: v.Room, Wall: v.Wall, Length: differ,
		Reason: fmt.Sprintf("%s meets %s in mid-wall, %s and %s", name, v.Other, stepped(w, v.Excess, "thicker", "thinner", "as thick"), stepped(w, v.Step, "higher", "lower", "as high")),
	}
	_, high, thick := t.stackSize()
	f.Reason += fmt.Sprintf("; let it change at a door or a corner, or stand a block between them, %v thick and %v high",
		w.About(max(thick, j.thickness)+t.opt.reveal()), w.About(max(high, j.height)+t.opt.reveal()))
	t.note(f)
}

// noteThick advises about trim of a stretch that is thicker than the casing or the plinth into
// which it dies.
func (t *taker) noteThick(v Transition) {
	w, p := t.opt.words(), t.course.profile
	t.note(Finding{
		Code: FindingThickBase, Severity: SeverityAdvice, Room: v.Room, Wall: v.Wall, Length: v.Excess,
		Reason: fmt.Sprintf("%s is %v thicker than the %s that it dies into; its end will show", p.Name, w.About(v.Excess, p.Thickness), v.Other) + waysOut(w, p, v.Excess),
	})
}

// stepped describes a difference in size.
func stepped(w words, by measure.Length, more, less, like string) string {
	by = by.Round(measure.Inch/64, measure.RoundHalfEven) // the thickness of paint is below the accuracy of measurement
	switch {
	case by > 0:
		return fmt.Sprintf("%v %s", w.About(by), more)
	case by < 0:
		return fmt.Sprintf("%v %s", w.About(-by), less)
	}
	return like
}

// cutBlock adds the block at an end of a line to the list.
func (t *taker) cutBlock(l *line, v Transition) {
	p := *t.scheme.Block
	p.Role = stock.RoleBlock
	at := l.to
	if v.Side == joint.SideLeft {
		at = l.from - p.Width
	}
	label := v.Run + " block " + v.Side.String()
	as := []stock.Allowance{{Name: "height of the taller", Length: v.Height - t.opt.reveal()}, {Name: "reveal at the top", Length: t.opt.reveal()}}
	t.list.add(p, false, stock.Run{
		Label: label, Profile: p.Name, Role: p.Role, Room: v.Room, Wall: v.Wall, Start: t.section(l.wall).off(at, t.spans[l.wall].length),
		Net: v.Height, Bottom: t.bottom(l.wall), Slope: rightAngle, Length: v.Height, Allowances: as,
	}, []stock.Piece{{Label: label, Length: v.Height, Profile: p.Name, Run: label, Part: 1, Parts: 1, Allowances: as}}, Joints{}, 0)
	if lacks := v.Thickness - p.Thickness; lacks > 0 {
		w := t.opt.words()
		t.note(Finding{
			Code: FindingThickBase, Severity: SeverityAdvice, Room: v.Room, Wall: v.Wall, Length: lacks,
			Reason: fmt.Sprintf("block %s is %v thick, and %s and %s need %v with a reveal of %v", p.Name, w.About(p.Thickness), t.course.profile.Name, v.Other, w.About(v.Thickness), w.About(t.opt.reveal())),
		})
	}
}

// oldCasings finds base that projects beyond casing that stays.
func (s Scheme) oldCasings(w words, rooms []Room) (fs []Finding) {
	if s.ThickEnd != MeetSquare {
		return nil
	}
	courses := s.stacked(nil)
	for i := range rooms {
		for _, wall := range rooms[i].Walls {
			for k, o := range wall.Openings {
				if o.Kind == OpeningWindow || o.ExistingThickness == 0 {
					continue
				}
				for _, c := range running(courses, &rooms[i]) {
					over := c.face() - o.ExistingThickness
					if !c.foot || c.profile.Role == stock.RoleShoe || over <= 0 {
						continue
					}
					fs = append(fs, Finding{
						Code: FindingThickBase, Severity: SeverityAdvice, Room: rooms[i].Name, Wall: wall.Name, Length: over,
						Reason: fmt.Sprintf("%s is %v thicker than the old casing of %s that it dies into; its end will show", c.profile.Name, w.About(over, c.face()), wall.openingName(k)) + waysOut(w, c.profile, over),
					})
				}
			}
		}
	}
	return fs
}

// waysOut describes the remedies for base, or a rail, that is thicker than the casing.
func waysOut(w words, p stock.Profile, over measure.Length) string {
	flat, err := joint.Chamfer(over, 15*measure.Degree)
	if err != nil {
		return ""
	}
	out := fmt.Sprintf("; chamfer it over %v at 45° or %v at 15°, return it short of there, or let it end at a backband at least %v thick",
		w.About(over), w.About(flat), w.About(p.Thickness))
	if p.Role == stock.RoleBase {
		const reveal = measure.Inch / 8
		out += fmt.Sprintf(" or at a plinth %v thick and %v high", w.About(p.Thickness+reveal), w.About(p.Width+reveal))
	}
	return out
}

// validateStretches returns the faults of the stretches of a wall, joined.
func (w Wall) validateStretches(s Scheme) error {
	var bad faults
	for i, v := range w.Stretches {
		at := indexed("stretches", i)
		if v.Name == "" {
			bad.Add(at+".name", "", "a name")
		}
		bad.Under(at+".profile", v.Profile.Validate())
		if !runsAlong(v.Role) {
			bad.Add(at+".role", v.Role.String(), "base, chair rail or picture rail")
		}
		bad.length(at+".at", v.At, 0, maxWall)
		bad.length(at+".width", v.Width, 0, maxWall)
		if v.Width == 0 && w.Length > 0 && v.At >= w.Length {
			bad.Add(at+".at", v.At.About(), fmt.Sprintf("less than the wall's %v", w.Length.About()))
		}
		bad.Under(at, w.holds(v.At, v.Width))
		if bad.Under(at+".paint", v.Paint.validate()); v.Paint != (Paint{}) && !v.Existing {
			bad.Add(at+".paint", v.Paint.Film().About(), "nothing, because the trim is new")
		}
		for _, m := range []struct {
			field string
			meet  Meet
		}{{"left", v.Left}, {"right", v.Right}} {
			_, err := m.meet.MarshalText()
			if bad.Under(at+"."+m.field, err); m.meet == MeetBlock && s.Block == nil && s.draws(v.Role) {
				bad.Add(at+"."+m.field, m.meet.String(), "another way, because the scheme has no block")
			}
		}
		for k := range i {
			u := &w.Stretches[k]
			if u.Role == v.Role && v.At < u.end(w) && u.At < v.end(w) {
				bad.Add(at+".at", v.At.About(), "no part of the wall that "+u.Name+" has")
				break
			}
		}
	}
	return bad.Err()
}

// runsAlong reports whether trim of a role may change along a wall.
func runsAlong(r stock.Role) bool {
	return r == stock.RoleBase || r == stock.RoleChairRail || r == stock.RolePictureRail
}

// draws reports whether the scheme has trim of a role.
func (s Scheme) draws(r stock.Role) bool {
	for _, f := range s.named() {
		if f.p != nil && f.role == r {
			return true
		}
	}
	return false
}

// validateMeet rejects invalid joints in the scheme and the options.
func (s Scheme) validateMeet(bad *faults) {
	if s.ThickEnd != MeetSquare && s.ThickEnd != MeetChamfer && s.ThickEnd != MeetReturn {
		bad.Add("thick_end", s.ThickEnd.String(), "square, chamfer or return")
	}
}

func (o Options) validateMeet(bad *faults) {
	if o.Chamfer < 0 || o.Chamfer >= rightAngle {
		bad.Add("chamfer", o.Chamfer.String(), "more than 0° and less than 90°, or zero for 45°")
	}
	bad.length("meet_reveal", o.MeetReveal, 0, maxHeight)
}
