package takeoff

import (
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/scribe"
)

// A List is the result of a takeoff: every run of trim, the pieces that make it up, and
// the joints to fit. A nil List is read as an empty one.
type List struct {
	Runs   []stock.Run   `json:"runs,omitempty"`   // as measured, with their splices
	Pieces []stock.Piece `json:"pieces,omitempty"` // to be cut
	Joints Joints        `json:"joints,omitzero"`  // to be fitted
	// Transitions are the ends of runs at other trim, Notches the notches in runs.
	Transitions []Transition `json:"transitions,omitempty"`
	Notches     []Notch      `json:"notches,omitempty"`

	Curves   []CurvedTrim `json:"curves,omitempty"`   // trim around curved walls
	Panels   []Panel      `json:"panels,omitempty"`   // of wainscot, and the sheets behind it
	Findings []Finding    `json:"findings,omitempty"` // worth a look

	// Strips are the strips for jamb extensions, the widest first: profiles of Runs and Pieces
	// that are not sold, but ripped from a board.
	Strips []StripStock `json:"strips,omitempty"`

	// Totals has the totals of each profile, in the order of their first runs. Their joints add
	// up to Joints.
	Totals []ProfileTotals `json:"totals,omitempty"`

	// RoomTotals has the totals of each profile in each room, in the order of the rooms, then
	// of first runs. They add up to Totals, except for Edges, of which both have the greatest
	// number.
	RoomTotals []ProfileTotals `json:"room_totals,omitempty"`
}

// Joints counts joints to be fitted, not ends: an outside corner is one.
type Joints struct {
	Copes         int `json:"copes,omitempty"`
	InsideMiters  int `json:"inside_miters,omitempty"`
	OutsideMiters int `json:"outside_miters,omitempty"`
	FlatMiters    int `json:"flat_miters,omitempty"` // head to leg of a casing
	RakeMiters    int `json:"rake_miters,omitempty"` // in the plane of a wall, between slopes: base to skirt, level crown to raked
	Scarfs        int `json:"scarfs,omitempty"`
	Returns       int `json:"returns,omitempty"`
	Butts         int `json:"butts,omitempty"`   // square joints between two pieces
	Stops         int `json:"stops,omitempty"`   // ends that die into a casing, a cabinet or a bare wall
	Scribes       int `json:"scribes,omitempty"` // ends to be scribed
}

// Take takes off the scheme in every room: base, shoe, rails and crown wall by wall from the
// left, then the casing of every opening. A nil o means the zero Options. The list is nil if
// and only if the error is not.
//
// The error joins all faults, at most 100, in the order of rooms, s and o: a
// *measure.FieldError for each invalid field, and for each wall or opening whose trim cannot be
// cut as measured, with the reason as its Err, such as a *SpliceError.
func Take(rooms []Room, s Scheme, o *Options) (*List, error) {
	var bad faults
	bad.Under("", validateRooms(rooms, s))
	bad.Under("", s.validate())
	s.validateExtent(rooms, &bad)
	opt, err := o.filled()
	bad.Under("", err)
	rooms = along(rooms)
	validateSections(rooms, s, &bad)
	s.validateMaterials(opt, &bad)
	s.validateFeet(rooms, opt, &bad)
	s.validateChoice(rooms, &bad)
	if len(bad.List) > 0 {
		return nil, bad.Err()
	}
	bare := rooms
	rooms, list := extended(rooms, s, opt), &List{Strips: newStrips(rooms, s, opt)}
	list.Findings = append(list.Findings, suitability(opt.words(), s, rooms)...)
	courses := s.courses(opt)
	called := newLabels(rooms, callings(courses)...)
	members := 0       // of paneling
	done, left := 0, 0 // walls
	for i := range rooms {
		left += len(rooms[i].Walls)
	}
	for i := range rooms {
		if done > 0 {
			list.expect(done, left)
		}
		done, left = done+len(rooms[i].Walls), left-len(rooms[i].Walls)
		r := roomTaker{
			room: &rooms[i], bare: &bare[i], walls: called.of(i), openings: called.openings[i],
			scheme: s, opt: opt, courses: courses, members: &members, list: list,
		}
		bad.onWalls(indexed("rooms", i), r.take())
	}
	if len(bad.List) > 0 {
		return nil, bad.Err()
	}
	list.sumUp()
	return list, nil
}

// roomTaker takes off all that is in one room.
type roomTaker struct {
	room, bare      *Room      // bare is without the extensions of its jambs
	walls, openings [][]string // labels: of walls by course.called, of openings by wall
	scheme          Scheme
	opt             Options
	courses         []course
	members         *int // number of members of paneling in the list
	list            *List
}

// take adds the room's runs, pieces and findings to the list, and returns an error for trim
// that cannot be cut.
func (t *roomTaker) take() (wrong []wallFault) {
	curves, runs := len(t.list.Curves), len(t.list.Runs) // of the rooms before
	t.list.Findings = append(t.list.Findings, stacked(t.room, t.courses, t.opt)...)
	t.list.Findings = append(t.list.Findings, levels(t.room, t.scheme, t.opt)...)
	t.list.Findings = append(t.list.Findings, depths(t.bare, t.scheme, t.opt)...)
	t.list.Findings = append(t.list.Findings, stools(t.bare, t.scheme, t.opt)...)
	t.list.Findings = append(t.list.Findings, t.scheme.wainscotTooHigh(t.opt.words(), t.room, t.courses)...)
	wrong = t.takeCourses()
	wrong = append(wrong, takePanels(t.room, t.walls, t.scheme, t.opt, t.courses, t.members, t.list)...)
	t.list.Findings = append(t.list.Findings, upperFloors(t.room, t.scheme, t.opt, t.courses)...)
	t.list.Findings = append(t.list.Findings, curvedHeads(t.room, t.scheme, t.opt)...)
	wrong = append(wrong, takeStairs(t.room, t.walls[0], t.scheme, t.opt, t.list)...)
	wrong = append(wrong, takeExtensions(t.bare, t.openings, t.scheme, t.opt, t.list)...)
	wrong = append(wrong, takeCasing(t.room, t.openings, t.scheme, t.opt, t.list)...)
	if len(t.list.Curves) > curves {
		bent, of := t.list.Curves[curves:], t.list.bentRuns(runs)
		t.list.Findings = append(t.list.Findings, shortSegments(t.opt.words(), bent, of)...)
		t.list.Findings = append(t.list.Findings, t.scheme.rigidBends(bent, of)...)
	}
	notchStools(t.opt.words(), t.bare, t.openings, t.scheme, t.list)
	return wrong
}

// takeCourses takes off the courses: first those that run around the room, then those that run
// on stretches of it.
func (t *roomTaker) takeCourses() (wrong []wallFault) {
	takers := make([]*taker, len(t.courses))
	course := func(c course) *taker {
		return &taker{room: t.room, called: t.walls, scheme: t.scheme, opt: t.opt, course: c, courses: t.courses, list: t.list}
	}
	for k, c := range t.courses {
		if !c.runsIn(t.room) {
			continue
		}
		of := course(c)
		for _, b := range c.behind {
			of.behind = append(of.behind, takers[b])
		}
		of.take()
		wrong = append(wrong, of.bad...)
		takers[k] = of
	}
	for _, e := range t.scheme.elsewheres(running(t.courses, t.room), t.room, t.opt) {
		of := course(e.course)
		of.elsewhere, of.rest = &e, e.among(takers)
		of.take()
		wrong = append(wrong, of.bad...)
	}
	return wrong
}

// PiecesOf returns the pieces of the profile with the given name, in order.
func (l *List) PiecesOf(profile string) []stock.Piece {
	if l == nil {
		return nil
	}
	var ps []stock.Piece
	for _, p := range l.Pieces {
		if p.Profile == profile {
			ps = append(ps, p)
		}
	}
	return ps
}

// TotalsOf returns the totals of the profile with the given name, or zero totals if there is no
// such trim.
func (l *List) TotalsOf(profile string) ProfileTotals {
	if l != nil {
		for _, t := range l.Totals {
			if t.Profile == profile {
				return t
			}
		}
	}
	return ProfileTotals{}
}

// taker takes off one course in one room.
type taker struct {
	room   *Room
	called [][]string // its walls, by course.called
	scheme Scheme
	opt    Options
	course course
	list   *List

	courses []course // of the scheme; behind has the takers of some of them

	lines []line
	spans []span // per wall: its lines and the trim in its corners

	ends      Joints     // counters of the current line
	elsewhere *elsewhere // for a course that runs only on stretches
	rest      *taker     // takes the course on the other walls then; may be nil

	sections []section // per wall: its part of the room as measured; nil if it is that room
	curves   int       // number in the list before

	mitered []bool   // per wall: the inside corner at its right has no room for a cope
	behind  []*taker // the courses behind, such as base behind shoe
	read    *Room    // as measured
	floor   *scribe.FloorShape
	ceiling *scribe.CeilingShape

	ways []*rakeWay // per wall: the way of crown around the corner at its right, if that is to a rake

	bad []wallFault // runs that cannot be cut
}

func (t *taker) take() {
	t.curves = len(t.list.Curves)
	t.read = t.room
	t.unroll()
	t.layOut()
	t.cutBack()
	t.mitered = make([]bool, len(t.room.Walls))
	for again := true; again; {
		t.meetCorners()
		if again = t.giveUp(); again {
			continue
		}
		again = t.cope()
	}
	if len(t.bad) == 0 {
		t.crowd()
	}
	t.cutBacking()
	t.cut()
	t.cutWedges()
}
