package curve_test

import (
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock/curve"
)

// The entry of the schoolhouse has a wall that curves around the foot of the bell tower: 8 ft
// from end to end, and 24 in deep at the middle of a string between them.
func Example() {
	wall := curve.Arc{Chord: 96 * measure.Inch, Rise: 24 * measure.Inch}
	d, err := wall.Dimensions()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("radius", d.Radius.About(), "angle", d.Angle.Round(measure.Degree/100, measure.RoundHalfEven), "length", d.Length.About())

	base := curve.Strip{Arc: wall, Bend: curve.BendConvex, Thickness: 9 * measure.Inch / 16}
	s, err := base.Segments(measure.Inch / 16)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(s.Count, "segments of", s.Back.About(), "at the back, miter", s.Miter.Round(measure.Degree/10, measure.RoundHalfEven), "gap", s.Gap.About())
	// Output:
	// radius 5' angle 106.26° length about 9' 3-1/4"
	// 21 segments of about 5-5/16" at the back, miter 2.5° gap about 1/16"
}

// Flexible molding on the same wall, as hollow as it was round.
func ExampleStrip_Flexible() {
	var bend curve.Bend
	if err := bend.UnmarshalText([]byte("concave")); err != nil {
		fmt.Println(err)
		return
	}
	s := curve.Strip{Arc: curve.Arc{Radius: 60 * measure.Inch, Angle: 90 * measure.Degree}, Bend: bend, Thickness: 9 * measure.Inch / 16}
	var f curve.Flexible
	f, err := s.Flexible()
	if err != nil {
		fmt.Println(err)
		return
	}
	least, ok := curve.MinRadius(21 * measure.Inch / 4)
	fmt.Println(bend, "back", f.Back.About(), "face", f.Face.About(), "radius", f.Radius.About())
	fmt.Println("a base of 5-1/4 in goes around", least, ok)
	// Output:
	// concave back about 7' 10-1/4" face about 7' 9-3/8" radius 5'
	// a base of 5-1/4 in goes around 1' 6" true
}

// A board with kerfs in its back goes around a convex wall.
func ExampleStrip_Kerfs() {
	s := curve.Strip{Arc: curve.Arc{Radius: 60 * measure.Inch, Angle: 90 * measure.Degree}, Thickness: 5 * measure.Inch / 8}
	k, err := s.Kerfs(curve.Kerf{Width: 3 * measure.Inch / 32})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(k.Count, "kerfs", k.Depth.About(), "deep,", k.EvenSpacing.About(), "apart, leave", k.Web.About())

	s.Bend = curve.BendConcave
	_, err = s.Kerfs(curve.Kerf{Width: measure.Inch / 8})
	fmt.Println(err)
	// Output:
	// 10 kerfs 9/16" deep, about 9-1/2" apart, leave 1/16"
	// bend is "concave", want convex, because kerfs open on a concave wall
}

// A rounded corner bead takes a short piece between the bases of the two walls.
func ExampleBullnose() {
	s, err := curve.Bullnose{Radius: 3 * measure.Inch / 4, Thickness: 9 * measure.Inch / 16}.Segments()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(s.Count, "piece, back", s.Back.About(), "face", s.Face.About(), "miter", s.Miter)
	fmt.Println("each base ends", s.Short.About(), "before the sharp corner")
	// Output:
	// 1 piece, back about 5/8" face about 1-1/16" miter 22.5°
	// each base ends about 7/16" before the sharp corner
}
