package joint_test

import (
	"fmt"
	"math"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock/joint"
	"pgregory.net/rapid"
)

// A base of 3/4 in that dies into a casing of 9/16 in.
func ExampleChamfer() {
	over := 3*measure.Inch/4 - 9*measure.Inch/16
	for _, angle := range []measure.Angle{45 * measure.Degree, 15 * measure.Degree} {
		long, err := joint.Chamfer(over, angle)
		fmt.Println(over.About(), "at", angle, "is", long.About(), err)
	}
	// Output:
	// 3/16" at 45° is 3/16" <nil>
	// 3/16" at 15° is about 11/16" <nil>
}

// Derived: 3/16·cot 45°, and 3/16·cot 15° = 3/16·(2 + √3) = .6998.
func TestChamfer(t *testing.T) {
	const in = measure.Inch
	if long, err := joint.Chamfer(3*in/16, 45*measure.Degree); err != nil || long != 3*in/16 {
		t.Errorf("at 45°: %v, %v", long, err)
	}
	if long, err := joint.Chamfer(3*in/16, 15*measure.Degree); err != nil || math.Abs(long.Inches()-.6998) > .00005 {
		t.Errorf("at 15°: %v, %v", long.Inches(), err)
	}
	for _, c := range []struct {
		excess measure.Length
		angle  measure.Angle
	}{{-1, 45 * measure.Degree}, {in, 0}, {in, 90 * measure.Degree}, {in, -1}, {math.MaxInt64, 1}} {
		if long, err := joint.Chamfer(c.excess, c.angle); err == nil {
			t.Errorf("%v at %v: %v", c.excess, c.angle, long)
		}
	}
}

// The chamfer, cut as a solid in steps along the face, ends at the thinner neighbor and nowhere cuts
// deeper.
func TestChamferArrives(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		excess := measure.Length(rapid.Int64Range(1, 64).Draw(t, "excess")) * measure.Inch / 64
		angle := measure.Angle(rapid.Int64Range(5, 60).Draw(t, "angle")) * measure.Degree
		long, err := joint.Chamfer(excess, angle)
		if err != nil {
			t.Fatal(err)
		}
		x, y := 0.0, 0.0 // lengths are to the tick, so not too steep; walk down the slope from the face until the excess is gone
		step := long.Inches() / 1000 / math.Cos(angle.Radians())
		for range 1000 {
			x += step * math.Cos(angle.Radians())
			y += step * math.Sin(angle.Radians())
		}
		if math.Abs(x-long.Inches()) > 1e-6 || math.Abs(y-excess.Inches()) > 1e-6 {
			t.Fatalf("%v at %v: %v long, %v deep", excess, angle, x, y)
		}
	})
}
