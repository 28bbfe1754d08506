package takeoff

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// elsewhere is a course that runs only on stretches: their own new trim, or trim in front of
// theirs, such as shoe before old base.
type elsewhere struct {
	course
	rest   course                // the course on the other walls
	only   func(s *Stretch) bool // the stretches where it runs
	suffix string                // of its labels, which those of the rest lack
}

// elsewheres returns the courses that run only on stretches of a room, in the order of the
// stretches.
func (s Scheme) elsewheres(courses []course, r *Room, o Options) (es []elsewhere) {
	type key struct {
		role  stock.Role
		name  string
		thick measure.Length
	}
	seen := map[key]bool{}
	for i := range r.Walls {
		for k := range r.Walls[i].Stretches {
			v := &r.Walls[i].Stretches[k]
			thick, _ := v.Paint.over(v.Profile)
			own := key{role: v.Role, name: v.Profile.Name}
			front := key{role: v.Role, thick: thick}
			for _, c := range courses {
				e := elsewhere{course: c, rest: c}
				switch {
				case c.profile.Role == v.Role && !v.Existing && !seen[own]:
					p, stone := o.cutAs(v.Profile)
					p.Role = v.Role
					if e.profile, e.stone, e.hi = p, stone, c.lo+p.Drop(); c.ceiling {
						e.lo, e.hi = c.hi-p.Drop(), c.hi
					}
					e.only = func(s *Stretch) bool { return s.Role == v.Role && !s.Existing && s.Profile.Name == v.Profile.Name }
					e.suffix = " of " + v.Profile.Name
				case inFront(c) && v.Role == stock.RoleBase && thick != c.standoff && !seen[front]:
					e.standoff = thick
					e.only = func(s *Stretch) bool {
						t, _ := s.Paint.over(s.Profile)
						return s.Role == stock.RoleBase && t == thick
					}
					e.suffix = " before " + v.Name
					if n := slices.IndexFunc(es, func(f elsewhere) bool { return f.suffix == e.suffix }); n >= 0 {
						e.suffix += ", " + strconv.Itoa(len(es)+1)
					}
				default:
					continue
				}
				es = append(es, e)
				seen[own] = seen[own] || c.profile.Role == v.Role
			}
			seen[own], seen[front] = true, true
		}
	}
	return es
}

// inFront reports whether a course stands on the floor before a base.
func inFront(c course) bool { return c.profile.Role == stock.RoleShoe && c.standoff > 0 }

// among returns the taker of the course on the other walls, or nil.
func (e *elsewhere) among(takers []*taker) *taker {
	for _, t := range takers {
		if t != nil && t.course.profile.Role == e.rest.profile.Role && t.course.profile.Name == e.rest.profile.Name && t.course.assembly == e.rest.assembly {
			return t
		}
	}
	return nil
}

// suffix returns the suffix of the labels of a wall: a course before several stretches of one
// thickness has the name of the one that is there, unless two of a wall have the same name.
func (t *taker) suffix(wall int) string {
	name, called := "", map[string]measure.Length{}
	for i := range t.room.Walls[wall].Stretches {
		s := &t.room.Walls[wall].Stretches[i]
		if s.Role != stock.RoleBase || !inFront(t.course) {
			continue
		}
		thick, _ := s.Paint.over(s.Profile)
		if was, ok := called[s.Name]; ok && was != thick {
			return t.elsewhere.suffix
		}
		called[s.Name] = thick
		if name == "" && t.elsewhere.only(s) {
			name = s.Name
		}
	}
	if name == "" {
		return t.elsewhere.suffix
	}
	return " before " + name
}

// meetRest ends shoe before a base of another thickness in an inside corner where the next wall
// has the base and the shoe of the scheme: its back stays off that base, and it is coped to
// that shoe, which runs on to the face of the base on this wall. Shoe that is not coped stays
// off the shoe too. The function returns the line of a course that reaches the corner on the
// next wall, negative for none.
func (t *taker) meetRest(m *meeting, c Corner, at func(*taker) int) {
	if t.rest == nil || !inFront(t.course) || c.Kind != CornerInside || c.straight() || m.short != 0 {
		return
	}
	m.behind = t.rest.behindAt(c, at)
	if at(t.rest) < 0 {
		return
	}
	off := c.angle() - rightAngle
	if t.course.profile.Inside != stock.JointCope || t.course.stone || off < -copeWithin || off > copeWithin {
		m.behind = t.rest.tight()
		return
	}
	m.end, m.name, m.count, m.own, m.face = stock.End{Kind: stock.EndCope, Angle: c.Angle}, stock.EndCope.String(), &t.ends.Copes, true, false
}

// outside returns the blocks that keep a course on its stretches.
func (t *taker) outside(wall int) (bs []block) {
	w := t.room.Walls[wall]
	if s := t.section(wall); s.segment {
		w.Length = s.whole
	}
	var on []*Stretch
	for i := range w.Stretches {
		if s := &w.Stretches[i]; t.elsewhere.only(s) {
			on = append(on, s)
		}
	}
	slices.SortStableFunc(on, func(a, b *Stretch) int { return cmp.Compare(a.At, b.At) })
	rest := t.elsewhere.rest.profile
	end := func(how Meet) block {
		b := block{name: rest.Name}
		p := t.course.profile
		taller := p.Width > rest.Width || p.Width == rest.Width && p.Thickness > rest.Thickness
		switch {
		case p.Role == stock.RoleShoe:
		case how == MeetReturn && taller:
			b.ends = stock.EndReturn
		case how == MeetScribe && !taller:
			b.ends = stock.EndScribe
		}
		if how != MeetBlock && p.Role != stock.RoleShoe {
			b.with = &joining{meet: how, thickness: rest.Thickness, height: rest.Width}
		}
		return b
	}
	at, before := measure.Length(0), MeetSquare
	for _, s := range on {
		if s.At > at {
			a, b := end(before), end(s.Left)
			middle := at + (s.At-at)/2
			a.from, a.to, b.from, b.to = at, middle, middle, s.At
			bs = append(bs, a, b)
		}
		at, before = s.end(w), s.Right
	}
	if at < w.Length {
		b := end(before)
		b.from, b.to = at, w.Length
		bs = append(bs, b)
	}
	return bs
}

// validateSections rejects profiles with one name and different sections, on stretches and in
// the scheme.
func validateSections(rooms []Room, s Scheme, bad *faults) {
	type section struct{ thickness, width measure.Length }
	known := map[string]section{}
	for _, p := range s.profiles() {
		known[p.Name] = section{p.Thickness, p.Width}
	}
	for i := range rooms {
		for k, w := range rooms[i].Walls {
			for n, v := range w.Stretches {
				if v.Existing {
					continue
				}
				is := section{v.Profile.Thickness, v.Profile.Width}
				if was, ok := known[v.Profile.Name]; ok && was != is {
					bad.Add(fmt.Sprintf("rooms[%d].walls[%d].stretches[%d].profile.name", i, k, n), v.Profile.Name, "a name that no other section has")
				}
				known[v.Profile.Name] = is
			}
		}
	}
}
