package joint

import (
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// TrapKind is a usual mistake with angles.
type TrapKind uint8

const (
	CeilingAngle TrapKind = iota // the angle of crown to the ceiling was taken for its spring
	HalvedCorner                 // the corner was halved where the saw counts from square
)

var trapNames = [...]string{CeilingAngle: "ceiling angle", HalvedCorner: "halved corner"}

// String returns "ceiling angle" or "halved corner".
func (k TrapKind) String() string {
	if int(k) < len(trapNames) {
		return trapNames[k]
	}
	return fmt.Sprintf("TrapKind(%d)", uint8(k))
}

// Mistake is a setting that somebody has probably entered by mistake.
type Mistake struct {
	Kind           TrapKind       // which mistake
	Entered, Meant measure.Angle  // the angle as it was entered, and as it was probably meant
	Wrong, Right   Setting        // what follows from either
	Gap            measure.Length // that the wrong setting leaves in the joint
	Reason         string         // one sentence for a person
}

// near is how close to a usual mistake an angle counts as one.
const near = measure.Degree / 2

// CheckSpring reports whether the spring angle of crown is probably its angle to the
// ceiling: crown leans closer to the wall than to the ceiling, or as close, so a spring
// of more than 45° is doubtful, and 52° is the other name of 38°. Settings and gap are for
// a square corner with the crown on the flat. Profiles of another use have no trap.
func CheckSpring(p stock.Profile) (Mistake, bool) {
	s := p.SpringAngle()
	if p.Role != stock.RoleCrown || s < 45*measure.Degree+near || s >= rightAngle {
		return Mistake{}, false
	}
	t := Mistake{Kind: CeilingAngle, Entered: s, Meant: rightAngle - s}
	var errs [3]error
	t.Wrong, errs[0] = CrownSetting(t.Entered, rightAngle)
	t.Right, errs[1] = CrownSetting(t.Meant, rightAngle)
	t.Gap, errs[2] = planeGap(max(0, p.Width), t.Right, t.Wrong)
	for _, err := range errs {
		if err != nil {
			return Mistake{}, false
		}
	}
	t.Reason = fmt.Sprintf("a spring of %v is probably the angle to the ceiling; the angle to the wall is then %v, "+
		"and a square corner is cut at miter %.2f°, bevel %.2f° instead of %.2f° and %.2f°",
		t.Entered, t.Meant, t.Right.Miter.Degrees(), t.Right.Bevel.Degrees(), t.Wrong.Miter.Degrees(), t.Wrong.Bevel.Degrees())
	return t, true
}

// CheckMiter reports whether a miter setting, counted from the square cut, is the halved
// corner angle where it should be (180° − corner)/2. At 90° the two are alike. The depth
// is what the miter goes through, for the gap, which is zero where the halved angle
// leaves no joint at all. It reports false for a corner or a depth out of range.
func CheckMiter(setting, corner measure.Angle, depth measure.Length) (Mistake, bool) {
	m, err := MiterAngle(corner)
	if err != nil || depth < 0 {
		return Mistake{}, false
	}
	if off := setting - half(corner); off > near || off < -near {
		return Mistake{}, false
	}
	if off := setting - m; off <= near && off >= -near {
		return Mistake{}, false
	}
	t := Mistake{
		Kind: HalvedCorner, Entered: setting, Meant: m, Wrong: Setting{Miter: setting}, Right: Setting{Miter: m},
		Reason: fmt.Sprintf("%v is half the corner of %v; from the square cut the saw is set to %v "+
			"(only a saw that shows the included half angle is set to the half)", setting, corner, m),
	}
	if t.Gap, err = MiterGap(depth, setting, corner); err != nil {
		t.Gap = 0
	}
	return t, true
}
