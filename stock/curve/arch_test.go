package curve_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock/curve"
)

// The cased opening between classroom and corridor has a flat arch: 6 ft wide, 12 in high.
func ExampleArch() {
	var trim curve.ArchTrim
	trim, err := curve.Arch{Width: 72 * measure.Inch, Rise: 12 * measure.Inch}.Trim(3*measure.Inch/16, 7*measure.Inch/2)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("head: radius", trim.Radius.About(), "inner edge", trim.Inner.About(), "outer edge", trim.Outer.Round(measure.Inch/16, measure.RoundUp).About())
	fmt.Println("legs above the spring line:", trim.LegInner.About(), "and", trim.LegOuter.About(), "miter", trim.Miter.Round(measure.Degree/10, measure.RoundHalfEven))
	// Output:
	// head: radius 5' 3/16" inner edge about 6' 5-5/8" outer edge 7' 1-3/4"
	// legs above the spring line: about 1/16" and about 1-13/16" miter 26.1°
}

// Derived: half a circle over 32 in with casing of 3 1/2 in and a reveal of 3/16 in has legs that
// end square on the spring line, π·16 3/16 = 50.8545 along the inner edge and π·19 11/16 = 61.8501
// along the outer one. The arc over 90 by 36 is 124.49, where the rule of thumb of width and rise
// says 126 (an article on molding on a curve).
func TestArch(t *testing.T) {
	a, err := curve.Arch{Width: 32 * in, Rise: 16 * in}.Trim(3*in/16, 7*in/2)
	if err != nil || a.LegInner != 0 || a.LegOuter != 0 || a.Miter != 0 || a.Radius != 259*in/16 {
		t.Errorf("%+v, %v", a, err)
	}
	near(t, "inner edge", a.Inner, 50.8545, 4)
	near(t, "outer edge", a.Outer, 61.8501, 4)
	if a, err = (curve.Arch{Width: 90 * in, Rise: 36 * in}).Trim(0, in); err != nil || a.LegInner != 0 {
		t.Errorf("%+v, %v", a, err)
	}
	near(t, "arc", a.Inner, 124.49, 2)
	for field, arch := range map[string]curve.Arch{"width": {Rise: in}, "rise": {Width: in}} {
		_, err := arch.Trim(0, in)
		wantField(t, err, field)
	}
	_, err = curve.Arch{Width: 32 * in, Rise: 16*in + 1}.Trim(-1, in)
	wantField(t, err, "rise")
	wantField(t, err, "offset")
	_, err = curve.Arch{Width: 32 * in, Rise: 16 * in}.Trim(0, 0)
	wantField(t, err, "width")
}

// Legs and head cut as solids touch along the joint: its two ends are on the edges of the leg and at
// the right distances from the center, found here by bisection, and the edges of the head are as long
// as the sum of their chords.
func TestArchMeets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		width := measure.Length(rapid.Int64Range(16*16, 120*16).Draw(t, "width")) * in / 16
		rise := measure.Length(rapid.Int64Range(16, int64(width/in)*8).Draw(t, "rise")) * in / 16
		reveal, casing := measure.Length(rapid.Int64Range(0, 16).Draw(t, "reveal"))*in/16, measure.Length(rapid.Int64Range(16, 96).Draw(t, "casing"))*in/16
		a, err := curve.Arch{Width: width, Rise: rise}.Trim(reveal, casing)
		if err != nil {
			t.Fatal(err)
		}
		// The circle through both springs and the crown of the arch: its center by bisection.
		lo, hi := -1e7, rise.Inches()
		dist := func(x, y, c float64) float64 { return math.Hypot(x, y-c) }
		for range 200 {
			mid := (lo + hi) / 2
			if dist(width.Inches()/2, 0, mid) < rise.Inches()-mid {
				lo = mid
			} else {
				hi = mid
			}
		}
		center := (lo + hi) / 2
		radius := rise.Inches() - center
		for _, e := range []struct{ out, up, long measure.Length }{{reveal, a.LegInner, a.Inner}, {reveal + casing, a.LegOuter, a.Outer}} {
			x := width.Inches()/2 + e.out.Inches()
			if off := dist(x, e.up.Inches(), center) - radius - e.out.Inches(); math.Abs(off) > 1e-4 {
				t.Fatalf("%+v: the edge at %v misses its arc by %v", a, e.out, off)
			}
			from := math.Atan2(x, e.up.Inches()-center)
			sum, n := 0.0, 20000
			chord := 2 * (radius + e.out.Inches()) * math.Sin(from/float64(n))
			sum = chord * float64(n)
			if math.Abs(sum-e.long.Inches()) > 1e-3 {
				t.Fatalf("%+v: %v along the edge at %v", a, sum, e.out)
			}
		}
		if off := math.Tan(a.Miter.Radians())*casing.Inches() - (a.LegOuter - a.LegInner).Inches(); math.Abs(off) > 1e-5 || a.Miter < 0 || a.LegInner < 0 {
			t.Fatalf("%+v", a)
		}
	})
}
