package joint_test

import (
	"fmt"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
	"pgregory.net/rapid"
)

// Crown sold as "52/38" leans 38° from the wall and 52° from the ceiling (a saw manual). Entering 52
// gives 38.24° and 25.81° instead of 31.62° and 33.86° (derived).
func TestCheckSpring(t *testing.T) {
	p := stock.Profile{Name: "crown", Role: stock.RoleCrown, Width: 4 * measure.Inch, Thickness: measure.Inch / 2, Spring: 52 * measure.Degree}
	mistake, ok := joint.CheckSpring(p)
	if !ok || mistake.Entered != p.Spring || mistake.Meant != 38*measure.Degree {
		t.Fatalf("%+v, %v", mistake, ok)
	}
	near(t, "wrong miter", mistake.Wrong.Miter.Degrees(), 38.24, .005)
	near(t, "wrong bevel", mistake.Wrong.Bevel.Degrees(), 25.81, .005)
	near(t, "right miter", mistake.Right.Miter.Degrees(), 31.62, .005)
	near(t, "right bevel", mistake.Right.Bevel.Degrees(), 33.86, .005)
	if mistake.Gap < measure.Inch || !strings.Contains(mistake.Reason, "31.62°") {
		t.Errorf("gap %v, %s", mistake.Gap, mistake.Reason)
	}
	for _, s := range []measure.Angle{0, 30 * measure.Degree, 38 * measure.Degree, 45 * measure.Degree, 90 * measure.Degree, -1} {
		p.Spring = s
		if mistake, ok := joint.CheckSpring(p); ok {
			t.Errorf("%v: %+v", s, mistake)
		}
	}
	p.Role, p.Spring = stock.RoleBase, 52*measure.Degree
	if _, ok := joint.CheckSpring(p); ok {
		t.Error("base has no spring")
	}
}

// A published rule (a home how-to on measuring crown corners) halves the corner, which
// is right at 90° only: at 135° it gives 67.5° for 22.5°.
func TestCheckMiter(t *testing.T) {
	const d = measure.Degree
	mistake, ok := joint.CheckMiter(9*measure.Inch/16, 67*d+d/2, 135*d)
	if !ok || mistake.Meant != 22*d+d/2 || mistake.Gap <= 0 {
		t.Fatalf("%+v, %v", mistake, ok)
	}
	for _, c := range []struct{ setting, corner measure.Angle }{
		{45 * d, 90 * d}, {22*d + d/2, 135 * d}, {30 * d, 135 * d}, {45 * d, 90*d + d/4}, {0, 0}, {45 * d, 200 * d},
	} {
		if mistake, ok := joint.CheckMiter(measure.Inch, c.setting, c.corner); ok {
			t.Errorf("%v at %v: %+v", c.setting, c.corner, mistake)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		a := corners().Draw(t, "corner")
		m, _ := joint.MiterAngle(a)
		if mistake, ok := joint.CheckMiter(measure.Inch, m, a); ok {
			t.Fatalf("the correct setting is reported as a mistake: %+v", mistake)
		}
		_, ok := joint.CheckMiter(measure.Inch, a/2, a)
		if off := a - 90*d; ok != (off > d/2+1 || off < -d/2-1) && (off > d || off < -d) {
			t.Fatalf("half of %v: %v", a, ok)
		}
	})
}

func ExampleCheckSpring() {
	mistake, _ := joint.CheckSpring(stock.Profile{Name: "crown", Role: stock.RoleCrown, Width: 4 * measure.Inch, Spring: 52 * measure.Degree})
	fmt.Println(mistake.Reason)
	// Output: a spring of 52° is probably the angle to the ceiling; the angle to the wall is then 38°, and a square corner is cut at miter 31.62°, bevel 33.86° instead of 38.24° and 25.81°
}
