package takeoff

import (
	"fmt"

	"example.com/longpoint/measure"
)

// stacked doubts trim that does not fit the height of a room: base and rails that end above the
// ceiling or in the crown, and crown that is higher than the room. Each is reported once, at
// the lowest wall.
func stacked(r *Room, courses []course, opt Options) []Finding {
	wall, low := 0, measure.Length(0)
	for i := range r.Walls {
		if h := r.low(i); h > 0 && (low == 0 || h < low) {
			wall, low = i, h
		}
	}
	if low == 0 {
		return nil
	}
	var fs []Finding
	w := opt.words()
	doubt := func(c course, lacks measure.Length, where string) {
		fs = append(fs, Finding{
			Code: FindingTrimFit, Severity: SeverityDoubt, Room: r.Name, Wall: r.Walls[wall].Name, Length: lacks,
			Reason: fmt.Sprintf("%s %s, where the room is %v high", called(c.profile.Role.String(), c.profile.Name), where, w.About(low)),
		})
	}
	var crown course // the course that reaches down farthest
	for _, c := range courses {
		if c.ceiling && c.runsIn(r) && c.lo < crown.lo {
			crown = c
		}
	}
	ceiling := low + crown.lo
	for _, c := range courses {
		switch {
		case !c.runsIn(r):
		case c.ceiling:
			if -c.lo > low {
				doubt(c, -c.lo-low, fmt.Sprintf("reaches down %s", w.about(-c.lo)))
			}
		case c.hi > low:
			doubt(c, c.hi-low, fmt.Sprintf("would end %v above the floor", w.About(c.hi)))
		case ceiling >= 0 && c.hi > ceiling:
			doubt(c, c.hi-ceiling, fmt.Sprintf("would end %v above the floor, %s into the %s", w.About(c.hi), w.about(c.hi-ceiling), crown.profile.Role))
		}
	}
	return fs
}
