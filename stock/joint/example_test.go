package joint_test

import (
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
)

// A bay whose walls meet at 135° takes 22.5° on the saw, not half of 135°.
func ExampleMiterAngle() {
	m, err := joint.MiterAngle(135 * measure.Degree)
	fmt.Println(m, err)
	// Output: 22.5° <nil>
}

// Base of 9/16 in around an outside corner is longer than the wall by its thickness.
func ExampleMiterOffset() {
	l, err := joint.MiterOffset(9*measure.Inch/16, 90*measure.Degree)
	fmt.Println(l, err)
	// Output: 9/16" <nil>
}

func ExampleScarfOverlap() {
	l, err := joint.ScarfOverlap(9*measure.Inch/16, 45*measure.Degree)
	fmt.Println(l, err)
	// Output: 9/16" <nil>
}

// Crown with a spring angle of 38°, flat on the table, for a square corner. Both
// settings are rounded to the hundredth of a degree here.
func ExampleCrownSetting() {
	s, err := joint.CrownSetting(38*measure.Degree, 90*measure.Degree)
	grain := measure.Degree / 100
	fmt.Println(s.Miter.Round(grain, measure.RoundHalfEven), s.Bevel.Round(grain, measure.RoundHalfEven), err)
	// Output: 31.62° 33.86° <nil>
}

func ExampleMiterGap() {
	g, err := joint.MiterGap(7*measure.Inch/2, 45*measure.Degree, 91*measure.Degree)
	fmt.Printf("%.3f in, %v\n", g.Inches(), err)
	// Output: 0.086 in, <nil>
}

func ExamplePolygonCorner() {
	a, err := joint.PolygonCorner(8)
	fmt.Println(a, err)
	// Output: 135° <nil>
}

func ExampleNewCut() {
	casing := stock.Profile{Name: "casing", Role: stock.RoleCasing, Thickness: 3 * measure.Inch / 4, Width: 7 * measure.Inch / 2}
	cut, err := joint.NewCut(casing, stock.End{Kind: stock.EndFlatMiter})
	fmt.Println(cut.Allowance, cut.Flat.Miter, cut.End.LongPoint(), err)
	// Output: 3-1/2" 45° outer edge <nil>
}

// Base cut square that runs into a corner of 85° must be short, or its face would touch first.
func ExampleSquareDeduction() {
	l, err := joint.SquareDeduction(measure.Inch/2, 85*measure.Degree)
	fmt.Printf("%.3f in, %v\n", l.Inches(), err)
	// Output: 0.044 in, <nil>
}

// Square-edged base butts its neighbor: it is short by the neighbor's thickness.
func ExampleButtDeduction() {
	l, err := joint.ButtDeduction(measure.Inch/2, 90*measure.Degree)
	fmt.Println(l, err)
	// Output: 1/2" <nil>
}

// A saw with half degrees, a corner of 91.5° and base of 9/16 in: the gap due to the scale, and
// the setting for the right end of the piece.
func ExampleCut_Round() {
	base := stock.Profile{Name: "base", Thickness: 9 * measure.Inch / 16, Width: 5 * measure.Inch}
	cut, err := joint.NewCut(base, stock.End{Kind: stock.EndOutsideMiter, Angle: 91*measure.Degree + measure.Degree/2})
	if err != nil {
		fmt.Println(err)
		return
	}
	saw, err := cut.Round(measure.Degree / 2)
	if err != nil {
		fmt.Println(err)
		return
	}
	hand := cut.Hand(joint.SideRight)
	fmt.Println(cut.Standing.Miter, "is cut at", saw.Standing.Miter, "and opens", saw.StandingGap.Round(measure.Inch/1000, measure.RoundUp).Inches(), "in")
	fmt.Printf("miter %v, keep %v\n", hand.Miter, hand.Keep)
	// Output:
	// 44.25° is cut at 44° and opens 0.007 in
	// miter right, keep left
}

// The allowance of each kind of end for a wall of 10 ft and base of 9/16 in.
func ExampleNewCut_kinds() {
	base := stock.Profile{Name: "base", Thickness: 9 * measure.Inch / 16, Width: 5 * measure.Inch}
	for _, kind := range []stock.EndKind{stock.EndSquare, stock.EndCope, stock.EndInsideMiter, stock.EndOutsideMiter, stock.EndReturn, stock.EndButt} {
		cut, err := joint.NewCut(base, stock.End{Kind: kind})
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%-14v %v\n", kind, 10*measure.Foot+cut.Allowance)
	}
	// Output:
	// square         10'
	// cope           10'
	// inside miter   10'
	// outside miter  10' 9/16"
	// return         10'
	// butt           9' 11-7/16"
}

// The two ends of a run of base, cut with its back against the fence.
func ExampleCut_Hand() {
	base := stock.Profile{Name: "base", Thickness: 9 * measure.Inch / 16, Width: 5 * measure.Inch}
	for _, e := range []struct {
		side joint.Side
		kind stock.EndKind
	}{{joint.SideLeft, stock.EndSquare}, {joint.SideLeft, stock.EndInsideMiter}, {joint.SideRight, stock.EndInsideMiter}} {
		cut, err := joint.NewCut(base, stock.End{Kind: e.kind})
		if err != nil {
			fmt.Println(err)
			return
		}
		hand := cut.Hand(e.side)
		if hand.Miter == joint.SideNone {
			fmt.Printf("%v at the %v: straight, keep %v\n", e.kind, e.side, hand.Keep)
			continue
		}
		fmt.Printf("%v at the %v: miter %v, keep %v\n", e.kind, e.side, hand.Miter, hand.Keep)
	}
	// Output:
	// square at the left: straight, keep right
	// inside miter at the left: miter right, keep right
	// inside miter at the right: miter left, keep left
}

func ExampleCheckMiter() {
	mistake, ok := joint.CheckMiter(measure.Inch/2, 67*measure.Degree+measure.Degree/2, 135*measure.Degree)
	fmt.Println(ok, mistake.Reason)
	// Output: true 67.5° is half the corner of 135°; from the square cut the saw is set to 22.5° (only a saw that shows the included half angle is set to the half)
}

// A cope in a corner of 95° is undercut by at least 5°.
func ExampleCopeRelief() {
	r, err := joint.CopeRelief(9*measure.Inch/16, 95*measure.Degree)
	fmt.Printf("face %.4f in from the corner, back %.4f, bevel %v %v\n", r.Face.Inches(), r.Back.Inches(), r.Bevel, err)
	// Output: face 0.5154 in from the corner, back 0.5646, bevel 5° <nil>
}
