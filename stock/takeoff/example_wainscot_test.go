package takeoff_test

import (
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/panel"
	"example.com/longpoint/stock/takeoff"
)

// The classroom gets boxes of molding below its chair rail: equally divided left of the window,
// below it, and right of it, and clear of the outlet.
func ExampleWainscot() {
	const in, ft = measure.Inch, measure.Foot
	profile := func(name string, thickness, width measure.Length) *stock.Profile {
		return &stock.Profile{Name: name, Thickness: thickness, Width: width}
	}
	stop := takeoff.Corner{Kind: takeoff.CornerStop}
	list, err := takeoff.Take([]takeoff.Room{{Name: "classroom", Walls: []takeoff.Wall{{
		Name: "N", Length: 16 * ft, Corner: stop,
		Openings: []takeoff.Opening{{Kind: takeoff.OpeningWindow, At: 7 * ft, Width: 34 * in, Height: 5 * ft, Sill: 30 * in}},
		Devices:  []panel.Device{{Name: "outlet", At: 31 * in, Height: 16 * in}},
	}}}}, takeoff.Scheme{
		Base: profile("base", 3*in/4, 5*in), ChairRail: profile("chair rail", 3*in/4, 3*in), Casing: profile("casing", 3*in/4, 7*in/2),
		Wainscot: &takeoff.Wainscot{Profile: profile("panel mold", in/2, 5*in/4), Target: 24 * in, Clear: in / 4},
	}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range list.Runs {
		if r.Role == stock.RolePanelMold && (r.Slope == 0 || r.Slope == 90*measure.Degree) {
			fmt.Printf("%-22s %v from %v, %v up\n", r.Label, r.Length.About(), r.Start.About(), r.Bottom.About())
		}
	}
	for _, f := range list.Findings {
		fmt.Println(f.Wall+":", f.Reason)
	}
	// Output:
	// classroom N box 1 left 1' 9" from about 2-3/8", 8" up
	// classroom N box 1 top  about 1' 10-3/4" from about 2-3/8", 2' 3-3/4" up
	// classroom N box 2 left 1' 9" from 2' 4-1/8", 8" up
	// classroom N box 2 top  about 1' 10-3/4" from 2' 4-1/8", 2' 3-3/4" up
	// classroom N box 3 left 1' 9" from about 4' 5-7/8", 8" up
	// classroom N box 3 top  about 1' 10-3/4" from about 4' 5-7/8", 2' 3-3/4" up
	// classroom N box 4 left 1' 3-5/16" from 6' 11-5/16", 8" up
	// classroom N box 4 top  1' 4-3/16" from 6' 11-5/16", 1' 10-1/16" up
	// classroom N box 5 left 1' 3-5/16" from 8' 6-1/2", 8" up
	// classroom N box 5 top  1' 4-3/16" from 8' 6-1/2", 1' 10-1/16" up
	// classroom N box 6 left 1' 9" from 10' 4-11/16", 8" up
	// classroom N box 6 top  1' 7-7/16" from 10' 4-11/16", 2' 3-3/4" up
	// classroom N box 7 left 1' 9" from 12' 3-1/8", 8" up
	// classroom N box 7 top  1' 7-7/16" from 12' 3-1/8", 2' 3-3/4" up
	// classroom N box 8 left 1' 9" from 14' 1-9/16", 8" up
	// classroom N box 8 top  1' 7-7/16" from 14' 1-9/16", 2' 3-3/4" up
	// N: 3 boxes at 0" are moved by about 21/32" out of the middle, so that no plate lies on them
}

// A frame of stiles and rails between two corners, with its panels and the cap on top.
func ExampleWainscot_frame() {
	const in, ft = measure.Inch, measure.Foot
	profile := func(name string, thickness, width measure.Length) *stock.Profile {
		return &stock.Profile{Name: name, Thickness: thickness, Width: width}
	}
	rooms := []takeoff.Room{{Name: "teacher's room", Walls: []takeoff.Wall{
		{Name: "N", Length: 8 * ft}, {Name: "E", Length: 6 * ft, Unpaneled: true}, {Name: "S", Length: 8 * ft}, {Name: "W", Length: 6 * ft},
	}}}
	s := takeoff.Scheme{Base: profile("base", 3*in/4, 5*in), Wainscot: &takeoff.Wainscot{
		Rooms: []string{"teacher's room"}, Kind: panel.KindFrame, Profile: profile("1x4", 3*in/4, 7*in/2), BottomRail: profile("1x6", 3*in/4, 11*in/2),
		Cap: profile("cap", 3*in/2, 3*in/4), Target: 20 * in, Groove: 3 * in / 8, Float: in / 8, Solid: true, PanelMaterial: "red oak",
	}}
	list, err := takeoff.Take(rooms, s, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range list.Runs {
		if r.Wall == "N" && r.Role == stock.RoleStile || r.Role == stock.RoleCap {
			fmt.Println(r.Label+":", r.Length.About(), "from", r.Start.About(), "ripped", r.Ripped.About(), r.Left.Kind, r.Right.Kind)
		}
	}
	var p takeoff.Panel = list.Panels[0]
	area, err := p.Area()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s %s by %s, %.2f sq ft of %s\n", p.Label, p.BlankWidth.About(), p.BlankHeight.About(), area.SquareFeet(), p.Material)
	fs, err := takeoff.CheckTrim(rooms, s, takeoff.Conditions{MinMoisture: 6 * measure.Percent, MaxMoisture: 11 * measure.Percent})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range fs {
		fmt.Println(f.Code+":", f.Reason)
	}
	// Output:
	// teacher's room N cap: 8' from 0" ripped 0" cope square
	// teacher's room S cap: 8' from 0" ripped 0" square square
	// teacher's room W cap: 6' from 0" ripped 0" cope square
	// teacher's room N stile 1: 2' 3" from 3/4" ripped 2-3/4" square square
	// teacher's room N stile 2: 2' 3" from 1' 11-1/8" ripped 0" square square
	// teacher's room N stile 3: 2' 3" from 3' 10-1/4" ripped 0" square square
	// teacher's room N stile 4: 2' 3" from 5' 9-3/8" ripped 0" square square
	// teacher's room N stile 5: 2' 3" from 7' 8-1/2" ripped 0" square square
	// teacher's room N panel 1 1' 8-1/4" by 1' 6-5/8", 2.62 sq ft of red oak
	// panel float: a panel of red oak 1' 8" wide moves by 0.369" between 6% and 11%, and has 1/8" to do so
}

// Findings before paneling is built: a cap beside a stool, solid panels, stock for corners, an
// outlet on a stile, a narrow panel beside a door.
func ExampleFindingCode_paneling() {
	const in, ft = measure.Inch, measure.Foot
	profile := func(name string, thickness, width measure.Length) *stock.Profile {
		return &stock.Profile{Name: name, Thickness: thickness, Width: width}
	}
	rooms := []takeoff.Room{{Name: "teacher's room", Walls: []takeoff.Wall{
		{Name: "N", Length: 10 * ft, Openings: []takeoff.Opening{{Kind: takeoff.OpeningWindow, At: 3 * ft, Width: 34 * in, Height: 4 * ft, Sill: 34 * in}}},
		{Name: "E", Length: 8 * ft, Openings: []takeoff.Opening{{At: 18 * in, Width: 30 * in}}, Corner: takeoff.Corner{Kind: takeoff.CornerStop},
			Devices: []panel.Device{{Name: "outlet", At: 53 * in, Height: 16 * in}}},
	}}}
	s := takeoff.Scheme{
		Casing: profile("casing", 3*in/4, 7*in/2), Stool: profile("stool", in, 4*in),
		Wainscot: &takeoff.Wainscot{
			Kind: panel.KindFrame, Profile: profile("1x4", 3*in/4, 7*in/2), CornerStile: profile("wider 1x4", 3*in/4, 4*in), Cap: profile("cap", 3*in/4, 3*in/4),
			Target: 20 * in, Solid: true, PanelMaterial: "red oak",
		},
	}
	list, err := takeoff.Take(rooms, s, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	trim, err := takeoff.CheckTrim(rooms, s, takeoff.Conditions{MinMoisture: 6 * measure.Percent, MaxMoisture: 11 * measure.Percent})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range append(list.Findings, trim...) {
		what := ""
		switch f.Code {
		case takeoff.FindingDevice:
			what = "outlet"
		case takeoff.FindingNarrowPanel:
			what = "narrow"
		case takeoff.FindingCornerStile:
			what = "corner"
		case takeoff.FindingRailStool:
			what = "stool"
		case takeoff.FindingUnpaneled:
			what = "window"
		case takeoff.FindingPanelFloat:
			what = "float"
		}
		fmt.Println(what, f.Severity, f.Wall, f.Length.About())
	}
	// Output:
	// corner doubt N 1/4"
	// outlet advice E 2-11/16"
	// narrow advice E 6-9/16"
	// float doubt  0.369"
	// stool advice N 1-1/4"
}
