package labor

import (
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// jobOf holds the takeoff's counts of the work on a profile, in one room or in all of
// them.
type jobOf struct {
	profile, room string
	role          stock.Role
	course        bool
	n             [EventSetUp]int64 // of each event: ticks, units of area, or a count
	width         measure.Length    // of the profile; zero if it is not known
	longest       measure.Length    // longest part installed in one piece
	height        measure.Length    // of the work above the floor; zero if it is not known
	joints        int64             // corners and splices, as a finishing job has them
	floor         measure.Area
	floorKnown    bool

	rooms []int // indices of the rooms that it is in
}

// key is a profile in a room.
type key struct{ profile, room string }

// roomOf is a room.
type roomOf struct {
	name       string
	floor      measure.Area
	floorKnown bool
	done       []doneOf // the work in it
}

// doneOf is a line of work in a room.
type doneOf struct {
	line int
	job  *jobOf // in this room
}

// counter computes lines.
type counter struct {
	rates      Rates
	index      index
	conditions []Condition
	widths     map[string]measure.Length // of profiles
	jobs       []jobOf                   // as List.RoomTotals
	whole      []jobOf                   // as List.Totals
	at         map[key]int               // of jobs
	rooms      []roomOf                  // in the order of the lines
	roomAt     map[string]int
	measured   map[string]*takeoff.Room
	stepsAlone bool // there is no takeoff

	lines []Line // of work, in the order of the steps
}

// countJoints adds the joint counts of the totals.
func (w *jobOf) countJoints(t *takeoff.ProfileTotals) error {
	returns, pieces := t.Joints.Returns, t.Pieces
	for _, x := range [...]struct {
		e    Event
		n    int
		name string
	}{
		{EventCope, t.Joints.Copes, "joints.copes"}, {EventInsideMiter, t.Joints.InsideMiters, "joints.inside_miters"},
		{EventOutsideMiter, t.Joints.OutsideMiters, "joints.outside_miters"}, {EventFlatMiter, t.Joints.FlatMiters, "joints.flat_miters"},
		{EventRakeMiter, t.Joints.RakeMiters, "joints.rake_miters"}, {EventScarf, t.Joints.Scarfs, "joints.scarfs"},
		{EventReturn, returns, "joints.returns"}, {EventButt, t.Joints.Butts, "joints.butts"}, {EventStop, t.Joints.Stops, "joints.stops"},
		{EventScribedEnd, t.Joints.Scribes, "joints.scribes"}, {EventCourseJoint, t.CourseJoints, "course_joints"},
		{EventPiece, pieces, "pieces"}, {events, t.Corners, "corners"}, {events, t.Splices, "splices"},
	} {
		if x.n < 0 {
			return fault.Field(x.name, x.n, "zero or more")
		}
		if x.e < EventSetUp {
			w.n[x.e] = int64(x.n)
		}
	}
	var ok bool
	if w.joints, ok = natural.Add(int64(t.Corners), int64(t.Splices)); !ok {
		return tooLarge("the number of joints")
	}
	w.n[EventPiece] = max(0, w.n[EventPiece]-w.n[EventReturn]) // the little pieces go with the returns
	for _, x := range [...]struct {
		e    Event
		l    measure.Length
		name string
	}{{EventLength, t.Net, "net"}, {EventScribe, t.Scribed, "scribed"}} {
		if x.l < 0 {
			return fault.Field(x.name, x.l.About(), "zero or more")
		}
		w.n[x.e] = int64(x.l)
	}
	return nil
}

// count adds the results of the takeoff.
func (c *counter) count(list *takeoff.List, rooms []takeoff.Room, open []string) error {
	var bad fault.List
	c.at, c.roomAt, c.measured = make(map[key]int, len(list.RoomTotals)), make(map[string]int), make(map[string]*takeoff.Room, len(rooms))
	for i := range rooms {
		c.measured[rooms[i].Name] = &rooms[i]
	}
	c.jobs, c.whole = make([]jobOf, len(list.RoomTotals)), make([]jobOf, len(list.Totals))
	of := make(map[string][]int, len(list.Totals))
	for i := range list.RoomTotals {
		t := &list.RoomTotals[i]
		w, room := &c.jobs[i], c.room(t.Room)
		if err := w.take(t, c); err != nil {
			bad.Under(fault.At("list.room_totals", i), err)
		}
		if t.Room == "" {
			bad.Add(fault.At("list.room_totals", i)+".room", "", "a room")
		}
		if _, twice := c.at[key{t.Profile, t.Room}]; twice {
			bad.Add(fault.At("list.room_totals", i), t.Profile+", "+t.Room, "a profile and a room that no other has")
		}
		c.at[key{t.Profile, t.Room}] = i
		w.rooms, w.floor, w.floorKnown = []int{room}, c.rooms[room].floor, c.rooms[room].floorKnown
		of[t.Profile] = append(of[t.Profile], i)
	}
	if err := bad.Err(); err != nil {
		return err
	}
	c.countRuns(list)
	c.countAround(list)
	if err := c.countSteps(open); err != nil {
		return err
	}
	for i := range list.Totals {
		t, w := &list.Totals[i], &c.whole[i]
		if err := w.take(t, c); err != nil {
			bad.Under(fault.At("list.totals", i), err)
		}
		for _, k := range of[t.Profile] {
			w.join(&c.jobs[k])
		}
	}
	for i := range list.Panels {
		c.room(list.Panels[i].Room)
	}
	return bad.Err()
}

// take adds the totals.
func (w *jobOf) take(t *takeoff.ProfileTotals, c *counter) error {
	w.profile, w.room, w.role, w.course, w.width = t.Profile, t.Room, t.Role, t.Course, c.widths[t.Profile]
	return w.countJoints(t)
}

// join adds those counts of a room that the totals of all rooms do not have.
func (w *jobOf) join(o *jobOf) {
	for _, e := range [...]Event{EventSide, EventBend, EventNotch, EventStep, EventMiteredStep} {
		w.n[e] += o.n[e]
	}
	w.longest = max(w.longest, o.longest)
	w.rooms = append(w.rooms, o.rooms...)
}

// room returns the index of a room, which it adds if it is new.
func (c *counter) room(name string) int {
	i, ok := c.roomAt[name]
	if !ok {
		i = len(c.rooms)
		c.roomAt[name] = i
		r := roomOf{name: name}
		if m := c.measured[name]; m != nil {
			r.floor, r.floorKnown = floorOf(m)
		}
		c.rooms = append(c.rooms, r)
	}
	return i
}

// countRuns adds the facts that only runs have: the height of the work, the longest part,
// the sides of openings.
func (c *counter) countRuns(list *takeoff.List) {
	last, w := key{}, (*jobOf)(nil)
	for i := range list.Runs {
		r := &list.Runs[i]
		if k := (key{r.Profile, r.Room}); w == nil || k != last {
			n, ok := c.at[k]
			if !ok {
				continue
			}
			last, w = k, &c.jobs[n]
		}
		if r.Role == stock.RoleCasing && r.Slope == -90*measure.Degree {
			w.n[EventSide]++ // each has one leg at its right
		}
		from := measure.Length(0)
		for _, at := range r.Splices {
			w.longest, from = max(w.longest, at-from), at
		}
		w.longest = max(w.longest, r.Length-from)
		w.height = max(w.height, c.heightOf(r))
	}
}

// nearCeiling is the distance below the ceiling within which work counts as being at
// the ceiling.
const nearCeiling = 18 * measure.Inch

// heightOf returns the height of the work on a run, zero if unknown.
func (c *counter) heightOf(r *stock.Run) measure.Length {
	top := ceilingOf(c.measured[r.Room])
	if r.Bottom == 0 && r.Role.Sprung() || r.Bottom > 0 && r.Bottom >= top-nearCeiling {
		return max(top, r.Bottom)
	}
	return max(0, r.Bottom)
}

// ceilingOf returns the highest of a room's heights, zero if none was measured.
func ceilingOf(r *takeoff.Room) measure.Length {
	if r == nil {
		return 0
	}
	top := r.Height
	for i := range r.Walls {
		top = max(top, r.Walls[i].HeightLeft, r.Walls[i].HeightRight)
	}
	return max(0, top)
}

// countAround counts curves and notches, which name runs.
func (c *counter) countAround(list *takeoff.List) {
	if len(list.Curves)+len(list.Notches) == 0 {
		return
	}
	of := make(map[string]int, len(list.Runs))
	for i := range list.Runs {
		if n, ok := c.at[key{list.Runs[i].Profile, list.Runs[i].Room}]; ok {
			of[list.Runs[i].Label] = n
		}
	}
	for i := range list.Curves {
		for _, run := range list.Curves[i].Runs {
			if n, ok := of[run]; ok {
				c.jobs[n].n[EventBend]++
				break // all of them are one stretch, in segments
			}
		}
	}
	for i := range list.Notches {
		if n, ok := of[list.Notches[i].Run]; ok {
			c.jobs[n].n[EventNotch]++
		}
	}
}

// countSteps counts the steps along skirts.
func (c *counter) countSteps(open []string) error {
	for i := range c.jobs {
		w := &c.jobs[i]
		r := c.measured[w.room]
		if w.role != stock.RoleSkirt || r == nil {
			continue
		}
		e := EventStep
		for _, name := range open {
			if name == w.room {
				e = EventMiteredStep
			}
		}
		for k := range r.Walls {
			s := r.Walls[k].Stair
			if s == nil {
				continue
			}
			n, ok := natural.Mul(int64(max(1, s.Skirts)), int64(max(0, s.Flight.Risers)))
			if ok {
				n, ok = natural.Add(w.n[e], n)
			}
			if !ok {
				return tooLarge("the number of steps")
			}
			w.n[e] = n
		}
	}
	return nil
}
