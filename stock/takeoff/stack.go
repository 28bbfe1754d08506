package takeoff

import (
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// stacked doubts trim that the height of a room has no place for: base and rails that
// end above the ceiling or in the crown, and crown that is higher than the room. Each is
// told of once, at the lowest wall.
func stacked(r *Room, s Scheme, opt Options) []Finding {
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
			Reason: fmt.Sprintf("%s %s %s, where the room is %v high", c.profile.Role, c.profile.Name, where, w.About(low)),
		})
	}
	var crown measure.Length
	if s.Crown != nil {
		p := *s.Crown
		p.Role = stock.RoleCrown
		crown = p.Drop()
	}
	for _, c := range s.courses(opt) {
		switch {
		case c.profile.Role == stock.RoleCrown:
			if crown > low {
				doubt(c, crown-low, fmt.Sprintf("reaches down %s", w.about(crown)))
			}
		case c.hi > low:
			doubt(c, c.hi-low, fmt.Sprintf("would end %v above the floor", w.About(c.hi)))
		case crown <= low && c.hi > low-crown:
			doubt(c, c.hi-(low-crown), fmt.Sprintf("would end %v above the floor, %s into the crown", w.About(c.hi), w.about(c.hi-(low-crown))))
		}
	}
	return fs
}
