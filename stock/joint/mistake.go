package joint

import (
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// A Mistake describes an angle that was probably entered wrong.
type Mistake struct {
	Entered measure.Angle  `json:"entered"`      // the angle as it was entered
	Meant   measure.Angle  `json:"meant"`        // the angle that was probably meant
	Wrong   Setting        `json:"wrong"`        // the saw settings that follow from Entered
	Right   Setting        `json:"right"`        // the saw settings that follow from Meant
	Gap     measure.Length `json:"gap,omitzero"` // in the joint if the saw is set wrong
	Reason  string         `json:"reason"`       // the mistake, in one sentence for people
}

// near is the distance from a usual mistake within which an angle counts as that
// mistake.
const near = measure.Degree / 2

// CheckSpring reports whether the spring angle of crown or of a bed molding is probably its
// angle to the ceiling. Crown leans at least as close to the wall as to the ceiling, so a
// spring angle of more than 45° is doubtful, and 52° is the complement of 38°. Settings and
// gap are for a square corner, with the crown flat on the table. It reports false for
// profiles of another role.
func CheckSpring(p stock.Profile) (Mistake, bool) {
	s := p.SpringAngle()
	if !p.Role.Sprung() || s < 45*measure.Degree+near || s >= rightAngle {
		return Mistake{}, false
	}
	m := Mistake{Entered: s, Meant: rightAngle - s}
	var errs [3]error
	m.Wrong, errs[0] = CrownSetting(m.Entered, rightAngle)
	m.Right, errs[1] = CrownSetting(m.Meant, rightAngle)
	m.Gap, errs[2] = planeGap(max(0, p.Width), m.Right, m.Wrong)
	for _, err := range errs {
		if err != nil {
			return Mistake{}, false
		}
	}
	m.Reason = fmt.Sprintf("a spring of %v is probably the angle to the ceiling; the angle to the wall is then %v, "+
		"and a square corner is cut at miter %.2f°, bevel %.2f° instead of %.2f° and %.2f°",
		m.Entered, m.Meant, m.Right.Miter.Degrees(), m.Right.Bevel.Degrees(), m.Wrong.Miter.Degrees(), m.Wrong.Bevel.Degrees())
	return m, true
}

// CheckMiter reports whether a miter setting, counted from the square cut, is the halved
// corner angle instead of (180° − corner)/2. At 90° the two are the same. The depth of
// the miter gives the gap, which is zero if no joint exists at the halved angle. It
// reports false for a corner or a depth out of range.
func CheckMiter(depth measure.Length, setting, corner measure.Angle) (Mistake, bool) {
	right, err := MiterAngle(corner)
	if err != nil || depth < 0 {
		return Mistake{}, false
	}
	if off := setting - half(corner); off > near || off < -near {
		return Mistake{}, false
	}
	if off := setting - right; off <= near && off >= -near {
		return Mistake{}, false
	}
	m := Mistake{
		Entered: setting, Meant: right, Wrong: Setting{Miter: setting}, Right: Setting{Miter: right},
		Reason: fmt.Sprintf("%v is half the corner of %v; from the square cut the saw is set to %v "+
			"(only a saw that shows the included half angle is set to the half)", setting, corner, right),
	}
	if m.Gap, err = MiterGap(depth, setting, corner); err != nil {
		m.Gap = 0
	}
	return m, true
}
