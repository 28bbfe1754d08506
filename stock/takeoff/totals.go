package takeoff

import (
	"slices"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// ProfileTotals has the totals of one profile, in all rooms or in one of them, for fastening,
// fitting, caulking and finishing. See estimate.FinishJob.
type ProfileTotals struct {
	Profile string     `json:"profile"`
	Room    string     `json:"room,omitempty"` // empty for all rooms
	Role    stock.Role `json:"role,omitzero"`  // of its first run

	Net    measure.Length `json:"net"` // installed length, along the walls; casing and backband along the outer edge
	Runs   int            `json:"runs"`
	Pieces int            `json:"pieces"` // including the small ones that close returned ends

	Joints Joints `json:"joints,omitzero"` // of this profile only

	// Corners are the joints at which it goes around a corner, inside, outside or between
	// the head and the leg of a casing.
	Corners int `json:"corners,omitempty"`

	// Splices are the joints within runs, scarfed or square. Those of a course of stone or tile
	// are not splices but CourseJoints, which are grouted or sealed.
	Splices      int `json:"splices,omitempty"`
	CourseJoints int `json:"course_joints,omitempty"`

	// Course is set for stone and tile, identified by the material, or by an open joint between
	// strips.
	Course bool `json:"course,omitempty"`

	// Scribed is the length along which an edge is cut to a floor or a wall, according to
	// Run.Scribe.
	Scribed measure.Length `json:"scribed,omitzero"`

	// Edges is the number of edges that are caulked, or sealed for a course: one for base, two
	// for casing and crown, floor and top for a course.
	Edges int `json:"edges"`
}

// totals returns the totals of a profile in the current room, added if there are none yet. The
// pointer is valid until the next call.
func (l *List) totals(room string, p stock.Profile, stone bool) *ProfileTotals {
	for i := len(l.RoomTotals) - 1; i >= 0 && l.RoomTotals[i].Room == room; i-- {
		if l.RoomTotals[i].Profile == p.Name {
			return &l.RoomTotals[i]
		}
	}
	l.RoomTotals = append(l.RoomTotals, ProfileTotals{Profile: p.Name, Room: room, Role: p.Role, Course: stone})
	return &l.RoomTotals[len(l.RoomTotals)-1]
}

// sumUp computes the totals of all rooms from those of each.
func (l *List) sumUp() {
	at := make(map[string]int)
	for _, t := range l.RoomTotals {
		k, ok := at[t.Profile]
		if !ok {
			at[t.Profile] = len(l.Totals)
			t.Room = ""
			l.Totals = append(l.Totals, t)
			continue
		}
		l.Totals[k] = l.Totals[k].plus(t)
	}
}

// plus returns the sum of the totals of a profile in two rooms, as those of the first.
func (t ProfileTotals) plus(o ProfileTotals) ProfileTotals {
	t.Net += o.Net // at most the walls and openings of one call
	t.Runs += o.Runs
	t.Pieces += o.Pieces
	t.Joints = t.Joints.plus(o.Joints)
	t.Corners += o.Corners
	t.Splices += o.Splices
	t.CourseJoints += o.CourseJoints
	t.Scribed += o.Scribed
	t.Edges = max(t.Edges, o.Edges)
	return t
}

// add adds a run, its pieces and the joints at its ends to the list.
func (l *List) add(p stock.Profile, stone bool, run stock.Run, pieces []stock.Piece, ends Joints, corners int) {
	l.Runs = append(roomFor(l.Runs, 1), run)
	t := l.totals(run.Room, p, stone)
	t.Net += run.Net
	t.Runs++
	for i := 1; i < len(run.Scribe); i++ {
		if a, b := run.Scribe[i-1], run.Scribe[i]; a.Depth != 0 || b.Depth != 0 {
			t.Scribed += b.At - a.At
		}
	}
	t.Edges = max(t.Edges, p.Role.Edges())
	if n := len(run.Splices); stone {
		t.CourseJoints += n
		t.Edges = max(t.Edges, 2)
	} else {
		t.Splices += n
	}
	if p.ButtSpliced {
		ends.Butts += len(run.Splices)
	} else {
		ends.Scarfs += len(run.Splices)
	}
	t.Corners += corners
	l.count(t, ends)
	l.cut(t, run.Room, run.Wall, pieces...)
}

// cut adds pieces for a wall of a room to the list.
func (l *List) cut(t *ProfileTotals, room, wall string, pieces ...stock.Piece) {
	for i := range pieces {
		pieces[i].Room, pieces[i].Wall = room, wall
	}
	l.Pieces = append(roomFor(l.Pieces, len(pieces)), pieces...)
	t.Pieces += len(pieces)
}

// roomFor makes room for n more, and doubles the capacity at least. By itself append grows by a
// quarter, and copies a long list of large structs several times as often.
func roomFor[T any](list []T, n int) []T {
	if cap(list)-len(list) >= n {
		return list
	}
	return slices.Grow(list, max(n, len(list)))
}

// expect makes room for the remaining walls, assuming that they are like those that are done,
// within reason.
func (l *List) expect(done, left int) {
	l.Runs = likely(l.Runs, done, left)
	l.Pieces = likely(l.Pieces, done, left)
}

func likely[T any](list []T, done, left int) []T {
	n := int64(len(list)) * int64(left) / int64(done)
	if int64(cap(list)-len(list)) >= n/2 {
		return list // roomFor does the rest, if there is any
	}
	return slices.Grow(list, int(min(n, max(int64(len(list)), 1<<14))))
}

// count counts joints, of a profile and of all.
func (l *List) count(t *ProfileTotals, j Joints) {
	t.Joints = t.Joints.plus(j)
	l.Joints = l.Joints.plus(j)
}

// plus returns the sum of both.
func (j Joints) plus(k Joints) Joints {
	return Joints{
		Copes:         j.Copes + k.Copes,
		InsideMiters:  j.InsideMiters + k.InsideMiters,
		OutsideMiters: j.OutsideMiters + k.OutsideMiters,
		FlatMiters:    j.FlatMiters + k.FlatMiters,
		RakeMiters:    j.RakeMiters + k.RakeMiters,
		Scarfs:        j.Scarfs + k.Scarfs,
		Returns:       j.Returns + k.Returns,
		Butts:         j.Butts + k.Butts,
		Stops:         j.Stops + k.Stops,
		Scribes:       j.Scribes + k.Scribes,
	}
}
