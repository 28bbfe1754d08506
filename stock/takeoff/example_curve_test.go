package takeoff_test

import (
	"encoding/json"
	"fmt"
	"strings"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/curve"
	"example.com/longpoint/stock/takeoff"
)

// The entry of the schoolhouse curves around the foot of the bell tower. Base goes around it in
// segments, crown as flexible molding.
func ExampleCurve() {
	room := takeoff.Room{Name: "entry", Walls: []takeoff.Wall{
		{Name: "N", Length: 8 * measure.Foot, Start: takeoff.Corner{Kind: takeoff.CornerStop}},
		{Name: "tower", Corner: takeoff.Corner{Kind: takeoff.CornerStop}, Curve: &takeoff.Curve{
			Arc: curve.Arc{Chord: 42 * measure.Inch, Rise: 12 * measure.Inch}, Bend: curve.BendConvex, Tolerance: measure.Inch / 4, Crown: takeoff.CurveFlexible,
		}},
	}}
	base := &stock.Profile{Name: "base", Thickness: 9 * measure.Inch / 16, Width: 5 * measure.Inch, Inside: stock.JointMiter}
	crown := &stock.Profile{Name: "crown", Thickness: measure.Inch / 2, Width: 3 * measure.Inch, Inside: stock.JointMiter}
	list, err := takeoff.Take([]takeoff.Room{room}, takeoff.Scheme{Base: base, Crown: crown}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range list.Pieces {
		if strings.Contains(p.Label, "segment") && !strings.Contains(p.Label, " 1 of 8") {
			continue // all alike, but for the last
		}
		fmt.Printf("%-31s %-14s %v, %v\n", p.Label, p.Length.About(), p.Left.Kind, p.Right.Kind)
	}
	var around takeoff.CurvedTrim
	for _, around = range list.Curves {
		fmt.Println(around.Role, "on", around.Wall, "radius", around.Radius.About(), around.Method, len(around.Runs))
	}
	// Output:
	// entry N base                    about 7' 11-13/16" square, inside miter
	// entry tower segment 1 of 8 base about 6-7/16"  inside miter, outside miter
	// entry N crown                   8'             square, inside miter
	// entry tower crown               about 4' 6-7/16" inside miter, square
	// base on tower radius 2' 3/8" segments 8
	// crown on tower radius 2' 3/8" flexible 1
}

// Doubts about a curve: a measured length that disagrees with chord and rise, and trim that
// should bend too far and has no flexible profile.
func ExampleCurve_findings() {
	wall := takeoff.Wall{Name: "tower", Length: 54 * measure.Inch, Corner: takeoff.Corner{Kind: takeoff.CornerStop}, Curve: &takeoff.Curve{
		Arc: curve.Arc{Chord: 30 * measure.Inch, Rise: 10 * measure.Inch}, Trim: takeoff.CurveFlexible,
	}}
	wall.Openings = []takeoff.Opening{{Kind: takeoff.OpeningCased, At: 5 * measure.Inch, Width: 20 * measure.Inch}}
	rooms := []takeoff.Room{{Name: "entry", Walls: []takeoff.Wall{wall}}}
	scheme := takeoff.Scheme{Base: &stock.Profile{Name: "base", Thickness: measure.Inch / 2, Width: 6 * measure.Inch}, Casing: &stock.Profile{Name: "casing", Thickness: measure.Inch / 2, Width: 3 * measure.Inch}}
	found, err := takeoff.Check(rooms, scheme, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	list, err := takeoff.Take(rooms, scheme, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range append(found, list.Findings...) {
		switch f.Code {
		case takeoff.FindingCurveFit, takeoff.FindingTightCurve, takeoff.FindingCurvedHead, takeoff.FindingRigidTrim:
			fmt.Println(f.Reason)
		}
	}
	// Output:
	// tower is 4' 6" along its curve and its arc makes that about 3' 2-1/4"; measure chord, rise and length again
	// base of 6" bends to a radius of 1' 6", and the wall has 1' 4-1/4"; take segments, or ask the maker
	// the head of cased opening is counted as straight and stands about 6-3/4" off the curved wall; bend it, or saw it from stock that much thicker
	// entry tower base A has to bend, and nothing says that base does; name flexible stock for base, or order it preformed
}

// The methods for a curve, by name.
func ExampleCurveMethod() {
	for _, m := range []takeoff.CurveMethod{takeoff.CurveSegments, takeoff.CurveFlexible, takeoff.CurveKerfed} {
		text, err := json.Marshal(m)
		fmt.Println(string(text), err)
	}
	// Output:
	// "segments" <nil>
	// "flexible" <nil>
	// "kerfed" <nil>
}
