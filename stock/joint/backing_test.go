package joint_test

import (
	"errors"
	"math"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock/joint"
	"pgregory.net/rapid"
)

// Derived, for crown of 4 5/8 in: at 38° it reaches 2.8474 in from the wall and 3.6445 in down
// it, and a strip with 1/4 in to its back is less by 1/4/cos 38° and 1/4/sin 38°; at 45° both are
// 3.2704 in, less .3536 in.
func TestBacking(t *testing.T) {
	for _, c := range []struct {
		spring        measure.Angle
		wall, ceiling float64
	}{{38 * measure.Degree, 3.2385, 2.5302}, {45 * measure.Degree, 2.9168, 2.9168}} {
		wall, ceiling, err := joint.Backing(37*measure.Inch/8, c.spring, measure.Inch/4)
		if err != nil || math.Abs(wall.Inches()-c.wall) > .00005 || math.Abs(ceiling.Inches()-c.ceiling) > .00005 {
			t.Errorf("%v: %v by %v, want %v by %v, %v", c.spring, wall.Inches(), ceiling.Inches(), c.wall, c.ceiling, err)
		}
	}
}

// The long side of the strip lies everywhere at the clearance from the back of the crown: measured
// from its two edges to the line through the edges of the crown.
func TestBackingIsClear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		width := measure.Length(rapid.Int64Range(int64(measure.Inch), int64(measure.Foot)).Draw(t, "width"))
		spring := measure.Angle(rapid.Int64Range(int64(20*measure.Degree), int64(70*measure.Degree)).Draw(t, "spring"))
		gap := measure.Length(rapid.Int64Range(0, int64(measure.Inch/4)).Draw(t, "clearance"))
		wall, ceiling, err := joint.Backing(width, spring, gap)
		if err != nil {
			t.Fatal(err)
		}
		// Down the wall is x, along the ceiling y; the back of the crown runs from (0, out) to (drop, 0).
		down, out := width.Inches()*math.Cos(spring.Radians()), width.Inches()*math.Sin(spring.Radians())
		for _, p := range [][2]float64{{wall.Inches(), 0}, {0, ceiling.Inches()}} {
			off := (down*out - out*p[0] - down*p[1]) / math.Hypot(down, out)
			if math.Abs(off-gap.Inches()) > 1e-6 {
				t.Fatalf("%v at %v: %v off the back, want %v", width, spring, off, gap.Inches())
			}
		}
	})
}

// Derived: 4 5/8 in held to a drop of 3 1/2 in reaches √(4.625² − 3.5²) = 3.0233 in, at 40.82°.
func TestSpringAt(t *testing.T) {
	spring, out, err := joint.SpringAt(37*measure.Inch/8, 7*measure.Inch/2)
	if err != nil || math.Abs(spring.Degrees()-40.82) > .005 || math.Abs(out.Inches()-3.0233) > .00005 {
		t.Errorf("%v, %v, %v", spring.Degrees(), out.Inches(), err)
	}
}

// An impossible value is an error that names the argument.
func TestBackingErrors(t *testing.T) {
	const in = measure.Inch
	for _, c := range []struct {
		field string
		err   error
	}{
		{"width", third(joint.Backing(0, 38*measure.Degree, in/4))},
		{"spring", third(joint.Backing(4*in, 0, in/4))},
		{"spring", third(joint.Backing(4*in, 90*measure.Degree, in/4))},
		{"clearance", third(joint.Backing(4*in, 38*measure.Degree, -1))},
		{"clearance", third(joint.Backing(4*in, 38*measure.Degree, 3*in))},
		{"clearance", third(joint.Backing(math.MaxInt64, 1, math.MaxInt64))},
		{"width", third(joint.SpringAt(-in, in))},
		{"drop", third(joint.SpringAt(4*in, 0))},
		{"drop", third(joint.SpringAt(4*in, 4*in))},
	} {
		var fe *measure.FieldError
		if !errors.As(c.err, &fe) || fe.Field != c.field {
			t.Errorf("%v, want the field %s", c.err, c.field)
		}
	}
}

func third[A, B any](_ A, _ B, err error) error { return err }
