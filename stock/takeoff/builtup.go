package takeoff

import (
	"cmp"
	"fmt"
	"slices"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
)

// An Assembly is trim that is built up of members, each with its own profile: base, cap and
// shoe; a cornice of frieze, soffit, bed molding and crown; a chair rail with a band.
//
// Members are listed in the order of installation, so that each comes after those behind it:
// frieze, soffit, bed molding, crown; base, cap, shoe (common practice, no source). The
// standoff of a member is the projection of the earlier members that share some of its height.
// Its corners are in that plane: around an outside corner it is longer than a member on the
// wall, in an inside corner shorter. Each member stops at obstacles at its own height, and has
// its own lengths: one wall length does not suit all.
type Assembly struct {
	Name string `json:"name"` // required and unique

	// At is where the assembly begins: its height above the floor, or its distance below the
	// ceiling if FromCeiling is set. Zero is the floor or the ceiling itself.
	At          measure.Length `json:"at,omitzero"`
	FromCeiling bool           `json:"from_ceiling,omitempty"`

	Members []Member `json:"members"` // one or more

	// ReturnToWall makes every member that is returned at an open end go around the members
	// behind it, to the wall, as the whole would go around an outside corner: each ends short
	// by the difference between its projection and that of the outermost one. Otherwise all end
	// at the same place, and each is returned to the member behind it.
	ReturnToWall bool `json:"return_to_wall,omitempty"`

	// Rooms names the rooms in which it is run; empty means all. Unknown names are ignored.
	Rooms []string `json:"rooms,omitempty"`
}

// A Member is one molding or board of an Assembly.
type Member struct {
	// Profile is the section; its Role is the kind of member: base, shoe, cap, chair rail,
	// picture rail, band, fillet, frieze, soffit, bed molding, crown or backing. A soffit lies
	// flat against the member above it.
	Profile stock.Profile `json:"profile"`

	// Name distinguishes the member if another one of the assembly has the same Role.
	Name string `json:"name,omitempty"`

	// At is the lower edge of the member above the start of the assembly or, if it hangs from
	// the ceiling, its upper edge below the start.
	At measure.Length `json:"at,omitzero"`

	// Off is its distance from the member behind it, as on strips that are not taken off.
	Off measure.Length `json:"off,omitzero"`

	// Backing is the nailing for crown or a bed molding; nil for none.
	Backing *Backing `json:"backing,omitempty"`
}

// course is one line of trim around the rooms.
type course struct {
	profile  stock.Profile
	lo, hi   measure.Length // lower and upper edge above the floor or, if it hangs there, above the ceiling
	ceiling  bool           // it hangs from the ceiling
	foot     bool           // it belongs to the trim on the floor
	standoff measure.Length // distance from the wall to the back of the trim
	stone    bool           // it is laid in strips of stone or tile

	behind []int  // the courses behind it
	before string // the one of them with the greatest projection
	called int    // its calling of the walls: by room and name, or callings[called-1]

	assembly string // name of its assembly
	order    int    // order of installation, from 1
	stack    int    // number of its assembly, or its own if it has none
	rooms    []string
	toWall   bool // it is returned to the wall
	backing  *Backing
	backed   int    // the calling of its backing
	paneled  bool   // it runs only along wainscot
	paneling bool   // it stands for the wainscot itself
	name     string // of the member
}

// memberRoles are the kinds of trim that run around rooms.
var memberRoles = []stock.Role{
	stock.RoleBase, stock.RoleShoe, stock.RoleCap, stock.RoleChairRail, stock.RolePictureRail, stock.RoleBand, stock.RoleFillet,
	stock.RoleFrieze, stock.RoleSoffit, stock.RoleBed, stock.RoleCrown, stock.RoleBacking,
}

// runs reports whether trim of the role runs around rooms.
func runs(r stock.Role) bool { return slices.Contains(memberRoles, r) }

// assemblies returns all trim that runs around rooms as assemblies of one or more members.
func (s Scheme) assemblies() []Assembly {
	var as []Assembly
	alone := func(ceiling bool, at measure.Length, ms ...Member) {
		if len(ms) > 0 {
			as = append(as, Assembly{At: at, FromCeiling: ceiling, Members: ms})
		}
	}
	member := func(p *stock.Profile, r stock.Role) []Member {
		if p == nil {
			return nil
		}
		q := *p
		q.Role = r
		return []Member{{Profile: q}}
	}
	alone(false, 0, append(member(s.Base, stock.RoleBase), member(s.Shoe, stock.RoleShoe)...)...)
	alone(false, cmp.Or(s.ChairRailAt, usualChairRail), member(s.ChairRail, stock.RoleChairRail)...)
	alone(false, cmp.Or(s.PictureRailAt, usualPictureRail), member(s.PictureRail, stock.RolePictureRail)...)
	alone(true, 0, member(s.Crown, stock.RoleCrown)...)
	return append(as, s.Assemblies...)
}

// stacked returns the lines of trim of the scheme, stacked on each other. If o is nil, the
// profiles are as given, not as cut.
func (s Scheme) stacked(o *Options) []course {
	var cs []course
	as := s.assemblies()
	wainscot := len(as)
	for i, a := range append(as, s.wainscotAssemblies()...) {
		first, order := len(cs), 0
		for _, m := range a.Members {
			c := course{
				profile: m.Profile, ceiling: a.FromCeiling, foot: !a.FromCeiling && a.At == 0, assembly: a.Name, stack: i, paneled: i >= wainscot,
				rooms: a.Rooms, toWall: a.ReturnToWall, backing: m.Backing, name: m.Name,
			}
			if c.profile.Role == stock.RoleBacking {
				c.profile.ButtSpliced = true
			}
			if flat := c.profile.Role == stock.RoleBacking || c.profile.Role == stock.RoleSoffit; flat && c.profile.Inside == stock.JointCope {
				c.profile.Inside = stock.JointButt // square edges: a cope of them is a butt joint
			}
			if o != nil {
				c.profile, c.stone = o.cutAs(c.profile)
			}
			if c.lo = a.At + m.At; a.FromCeiling {
				c.lo = -c.lo - c.profile.Drop()
			}
			c.hi = c.lo + c.profile.Drop()
			for k := first; k < len(cs); k++ {
				if b := cs[k]; b.lo < c.hi && c.lo < b.hi {
					c.behind = append(c.behind, k)
					if face := b.face(); face > c.standoff {
						c.standoff, c.before = face, b.profile.Role.String()
					}
				}
			}
			if c.standoff += m.Off; m.Off > 0 && c.before == "" {
				c.before = "gap"
			}
			if len(a.Members) > 1 || m.Backing != nil {
				if order++; m.Backing != nil {
					order++ // its backing goes first
				}
				c.order = order
			}
			cs = append(cs, c)
		}
	}
	return cs
}

// courses returns the lines of trim of the scheme, as they are cut.
func (s Scheme) courses(o Options) []course {
	cs := s.stacked(&o)
	names := callings(cs)
	for i, c := range cs {
		index := func(calling []string) int {
			return 1 + slices.IndexFunc(names, func(of []string) bool { return slices.Equal(of, calling) })
		}
		cs[i].called = index(c.calling(cs))
		cs[i].backed = index(c.backedCalling(cs))
	}
	return cs
}

// callings returns all texts between the name of a wall and the kind of trim, each once.
func callings(cs []course) [][]string {
	var names [][]string
	for _, c := range cs {
		for _, of := range [][]string{c.calling(cs), c.backedCalling(cs)} {
			if of != nil && !slices.ContainsFunc(names, func(n []string) bool { return slices.Equal(n, of) }) {
				names = append(names, of)
			}
		}
	}
	return names
}

// calling returns the texts that distinguish the course from others of its kind: none if it is
// the only one of a room.
func (c course) calling(cs []course) []string {
	var names []string
	for _, d := range cs {
		switch {
		case c.assembly == "" || d.profile.Role != c.profile.Role || !shareRoom(c.rooms, d.rooms):
		case c.stack != d.stack && names == nil:
			names = []string{c.assembly}
		case c.stack == d.stack && c.name != d.name:
			names = []string{c.assembly}
			if c.name != "" {
				names = append(names, c.name)
			}
			return names
		}
	}
	return names
}

// backedCalling returns the same for its backing.
func (c course) backedCalling(cs []course) []string {
	if c.backing == nil {
		return nil
	}
	return append(c.calling(cs), c.profile.Role.String())
}

// shareRoom reports whether two assemblies may be in one room.
func shareRoom(a, b []string) bool {
	return len(a) == 0 || len(b) == 0 || slices.ContainsFunc(a, func(name string) bool { return slices.Contains(b, name) })
}

// runsIn reports whether the course is run in the room.
func (c course) runsIn(r *Room) bool { return len(c.rooms) == 0 || slices.Contains(c.rooms, r.Name) }

// running returns the courses that are run in a room.
func running(cs []course, r *Room) []course {
	var here []course
	for _, c := range cs {
		if c.runsIn(r) {
			here = append(here, c)
		}
	}
	return here
}

// face returns the distance from the wall to the face of the trim.
func (c course) face() measure.Length { return c.standoff + c.profile.Projection() }

// edges returns the lower and the upper edge of the course above the floor; they are unknown at
// a ceiling whose height was not measured.
func (c course) edges(r *Room, wall int) (lo, hi measure.Length, known bool) {
	if !c.ceiling {
		return c.lo, c.hi, true
	}
	h := r.low(wall)
	return h + c.lo, h + c.hi, h > 0
}

// foot returns the trim on the floor: the name of its first member and its height, without the
// shoe; the height is zero if there is none.
func foot(cs []course) (name string, height measure.Length) {
	for _, c := range cs {
		if !c.foot || c.profile.Role == stock.RoleShoe {
			continue
		}
		if name == "" {
			name = c.profile.Name
		}
		height = max(height, c.hi)
	}
	return name, height
}

// members returns the profiles of the assemblies as they are named in JSON.
func (s Scheme) members() []namedProfile {
	var ps []namedProfile
	for i := range s.Assemblies {
		for k := range s.Assemblies[i].Members {
			m, at := &s.Assemblies[i].Members[k], indexed("assemblies", i)+"."+indexed("members", k)
			ps = append(ps, namedProfile{at + ".profile", &m.Profile, m.Profile.Role})
			if m.Backing != nil {
				ps = append(ps, namedProfile{at + ".backing.profile", &m.Backing.Profile, stock.RoleBacking})
			}
		}
	}
	return ps
}

// maxMembers limits the members of all assemblies, far above any real number.
const maxMembers = 50

// validateAssemblies adds the faults of assemblies, except those of their profiles, and of
// those that overlap other trim.
func (s Scheme) validateAssemblies(bad *faults) {
	n := 0
	for i := range s.Assemblies {
		n += 1 + len(s.Assemblies[i].Members)
	}
	if bad.count("assemblies", n, maxMembers, "assemblies and members"); n > maxMembers {
		return
	}
	names := map[string]bool{}
	for i := range s.Assemblies {
		a, at := &s.Assemblies[i], indexed("assemblies", i)
		switch {
		case a.Name == "":
			bad.Add(at+".name", "", "a name")
		case names[a.Name]:
			bad.Add(at+".name", a.Name, "a name that no other assembly has")
		}
		bad.named(at+".name", a.Name)
		names[a.Name] = true
		bad.length(at+".at", a.At, 0, maxHeight)
		if len(a.Members) == 0 {
			bad.Add(at+".members", "[]", "at least one member")
		}
		called := map[string]bool{}
		for k := range a.Members {
			m, at := &a.Members[k], at+"."+indexed("members", k)
			role := m.Profile.Role
			if !runs(role) || a.FromCeiling && (role == stock.RoleBase || role == stock.RoleShoe) {
				bad.Add(at+".profile.role", role.String(), "a kind of trim that runs there, such as crown, frieze or band")
			}
			bad.named(at+".name", m.Name)
			if as := role.String() + " " + m.Name; called[as] {
				bad.Add(at+".name", m.Name, fmt.Sprintf("a name that no other %s of the assembly has", role))
			} else {
				called[as] = true
			}
			bad.length(at+".at", m.At, 0, maxHeight)
			bad.length(at+".off", m.Off, 0, maxHeight)
			if m.Backing != nil {
				m.Backing.validate(m.Profile, at+".backing", bad)
			}
		}
	}
	if len(bad.List) == 0 {
		s.validateApart(bad)
	}
}

// maxMemberThings limits the members of assemblies times the number of walls, openings and
// fixtures, such as fifty members with six hundred, to keep calls quick.
const maxMemberThings = 30_000

// maxBlocks limits the blocks of backing in all rooms.
const maxBlocks = 20_000

// validateExtent rejects assemblies with too many members for so many rooms.
func (s Scheme) validateExtent(rooms []Room, bad *faults) {
	members, things := 0, 0
	var around measure.Length
	for i := range rooms {
		things += rooms[i].things()
		for _, w := range rooms[i].Walls {
			around += min(max(w.Length, 0), maxWall) // no more than size allows, or refused there
		}
	}
	for i := range s.Assemblies {
		members += len(s.Assemblies[i].Members)
	}
	if members*things > maxMemberThings {
		bad.Add("assemblies", fmt.Sprintf("%d members in rooms with %d %s", members, things, manyThings), fmt.Sprintf("fewer rooms in one call: at most %d of one times the other", maxMemberThings))
	}
	blocks := measure.Length(0)
	for i := range s.Assemblies {
		for k, m := range s.Assemblies[i].Members {
			if m.Backing == nil || m.Backing.BlockLength <= 0 || m.Backing.Spacing < 0 {
				continue
			}
			spacing := m.Backing.filled().Spacing
			if blocks += around / spacing; blocks > maxBlocks {
				bad.Add(indexed("assemblies", i)+"."+indexed("members", k)+".backing.spacing", spacing.About(), fmt.Sprintf("wider: at most %d blocks in one call", maxBlocks))
				return
			}
		}
	}
}

// validateApart rejects assemblies that share a height with other trim of the same rooms.
func (s Scheme) validateApart(bad *faults) {
	all := s.assemblies()
	bands := make([]interval, len(all))
	for _, c := range s.stacked(nil) {
		if c.paneled {
			continue // validateWainscot looks at those
		}
		b := &bands[c.stack]
		if b.lo == b.hi {
			*b = interval{c.lo, c.hi}
		}
		b.lo, b.hi = min(b.lo, c.lo), max(b.hi, c.hi)
	}
	first := len(all) - len(s.Assemblies)
	for i := first; i < len(all); i++ {
		for k := range i {
			a, b := all[i], all[k]
			if a.FromCeiling != b.FromCeiling || !shareRoom(a.Rooms, b.Rooms) || bands[i].lo >= bands[k].hi || bands[k].lo >= bands[i].hi {
				continue
			}
			from, to, where := bands[k].lo, bands[k].hi, "above the floor"
			if a.FromCeiling {
				from, to, where = -to, -from, "below the ceiling"
			}
			bad.Add(indexed("assemblies", i-first)+".at", a.At.About(),
				fmt.Sprintf("clear of the %s, from %v to %v %s", called(b.Members[0].Profile.Role.String(), b.Members[0].Profile.Name), from.About(), to.About(), where))
			break
		}
	}
}

// hidden returns the courses directly behind the course.
func (t *taker) hidden() []*taker {
	var next []*taker
	for _, base := range t.behind {
		if !slices.ContainsFunc(t.behind, func(b *taker) bool { return slices.Contains(b.behind, base) }) {
			next = append(next, base)
		}
	}
	return next
}

// behindAt returns the projection of the courses behind the course of which a line reaches an
// inside corner on the other wall while none of the course does. The function returns that line
// of a course, negative for none.
func (t *taker) behindAt(c Corner, at func(*taker) int) (depth measure.Length) {
	for _, base := range t.behind {
		if c.Kind == CornerInside && !c.straight() && at(base) >= 0 {
			depth = max(depth, base.tight())
		}
	}
	return depth
}

// behindOff returns the distance from the end of its line at which the back of the trim meets
// the face of the courses behind it, on the other wall. An obstacle in the corner may already
// keep it off.
func (t *taker) behindOff(m *meeting, c Corner) measure.Length {
	back := t.course.standoff
	off := miterAt(back, c.angle())
	if m.behind != back { // the same, but rounded twice
		short, err := joint.ButtDeduction(m.behind, c.angle())
		if err != nil {
			return nowhere
		}
		off = min(short+slantAt(back, c.angle()), nowhere)
	}
	return max(0, off-m.short)
}

// wrap sets, for each end that is returned to the wall, its setback for the returns in front of
// it, so that the outermost of those that end there ends at the measured position; and the
// distance of its return from the wall, which is the face of the course behind it if that runs
// on.
func (t *taker) wrap() {
	if !t.course.toWall {
		return
	}
	for k := range t.lines {
		l := &t.lines[k]
		for _, e := range []struct {
			m     *meeting
			right bool
			at    *block
		}{{&l.left, false, l.before}, {&l.right, true, l.after}} {
			if l.gone || e.m.end.Kind != stock.EndReturn {
				continue
			}
			out := t.tight()
			e.m.near = 0
			for i, c := range t.courses {
				if c.stack != t.course.stack {
					continue
				}
				ends, runsOn := t.endsWith(c, l.wall, e.right, e.at)
				if ends {
					out = max(out, c.face())
				}
				if runsOn && slices.Contains(t.course.behind, i) {
					e.m.near = max(e.m.near, c.face())
				}
			}
			e.m.back = out - t.tight()
		}
	}
}

// endsWith reports whether another course of the assembly ends where this one does, at the same
// block or at the same end of the wall, or runs on there.
func (t *taker) endsWith(c course, wall int, right bool, at *block) (ends, runsOn bool) {
	other := *t
	other.course = c
	if at != nil {
		ends = other.stops(wall, at.lo, at.hi) && !(c.ceiling && at.hi == unknownHeight)
		return ends, !ends
	}
	reaches := func(wall int, right bool) bool {
		length := t.room.lengthAt(wall, c)
		return !slices.ContainsFunc(other.blocks(wall, length), func(b block) bool { return b.from <= 0 && !right || b.to >= length && right })
	}
	if !reaches(wall, right) {
		return false, false
	}
	n, corner, next := len(t.room.Walls), t.room.Walls[wall].Corner, wall+1
	if !right {
		corner, next = t.room.before(wall), wall-1
	}
	runsOn = corner.joined() && reaches((next+n)%n, !right)
	return !runsOn, runsOn
}

// returned returns the plan outlines of the return pieces of a line behind its back, if they go
// to the wall.
func (t *taker) returned(l *line, r ray) []polygon {
	var ps []polygon
	thick, back := t.course.profile.Projection(), t.course.standoff
	add := func(m *meeting, from, to measure.Length) {
		if t.course.toWall && m.end.Kind == stock.EndReturn && m.near < back {
			ps = append(ps, polygon{r.to(from, m.near), r.to(to, m.near), r.to(to, back), r.to(from, back)})
		}
	}
	add(&l.left, l.from+l.left.back, l.from+l.left.back+thick)
	add(&l.right, l.to-l.right.back-thick, l.to-l.right.back)
	return ps
}
