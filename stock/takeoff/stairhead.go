package takeoff

import (
	"fmt"
	"slices"

	"example.com/longpoint/measure"
)

// beyond returns the part of a wall without a lower floor, because the stair has reached the
// upper one: from the last riser to the end of the wall. It is empty without a Head, since
// there may be a closet below a landing.
func (s *Stair) beyond(length measure.Length) (from, to measure.Length) {
	from, to = s.extent()
	switch {
	case s.Head == 0:
		return 0, 0
	case s.RisesLeft:
		return 0, from
	}
	return to, length
}

// upperFloors reports wall beyond a stair that gets no trim here, since it belongs to another
// room, and the trim that stops there.
func upperFloors(r *Room, s Scheme, opt Options, courses []course) []Finding {
	var fs []Finding
	for i := range r.Walls {
		w := &r.Walls[i]
		if w.Stair == nil {
			continue
		}
		from, to := w.Stair.beyond(w.Length)
		if from >= to {
			continue
		}
		var stopped []string
		for _, c := range courses {
			if !c.runsIn(r) || c.paneled || c.paneling {
				continue
			}
			t := taker{room: r, scheme: s, opt: opt, course: c}
			role := c.profile.Role.String()
			if len(t.stairBlock(i, w.Length)) > 0 && !slices.Contains(stopped, role) {
				stopped = append(stopped, role)
			}
		}
		if len(stopped) == 0 {
			continue
		}
		fs = append(fs, Finding{
			Code: FindingStairFit, Severity: SeverityAdvice, Room: r.Name, Wall: w.Name, Length: to - from,
			Reason: fmt.Sprintf("%v of wall beyond the last riser belongs to the upper floor, and trim of this room stops at the stair (%s): list that wall with the room above; if it goes down to this floor, give the stair no head",
				opt.words().About(to-from, w.Length), listed(stopped)),
		})
	}
	return fs
}
