package takeoff_test

import (
	"fmt"
	"strings"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// The doors of the schoolhouse's corridor get an entablature: a style is part of the job file.
// The crown is returned around the ends of the frieze, the cap lies on both.
func ExampleCasingStyle() {
	const page = `{
		"casing": {"name": "flat casing", "thickness": "3/4in", "width": "3-1/2in"},
		"casing_styles": [{
			"name": "entablature", "kinds": ["door"], "joint": "butt",
			"head": [
				{"profile": {"name": "fillet", "role": "fillet", "thickness": "1-1/4in", "width": "1/2in"}, "overhang": "1/2in"},
				{"profile": {"name": "frieze", "role": "frieze", "thickness": "3/4in", "width": "5-1/2in"}},
				{"profile": {"name": "cornice", "role": "crown", "thickness": "9/16in", "width": "3in", "spring": "30"}},
				{"profile": {"name": "cap", "role": "cap", "thickness": "3in", "width": "3/4in"}, "overhang": "2in"}],
			"plinth": {"name": "plinth", "thickness": "1in", "width": "3-3/4in"}, "plinth_height": "8in"
		}]}`
	var scheme takeoff.Scheme
	if err := measure.UnmarshalStrict([]byte(page), &scheme); err != nil {
		fmt.Println(err)
		return
	}
	list, err := takeoff.Take([]takeoff.Room{{Name: "corridor", Walls: []takeoff.Wall{{
		Name: "N", Length: 12 * measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerStop},
		Openings: []takeoff.Opening{{At: 56 * measure.Inch, Width: 32 * measure.Inch, Height: 80 * measure.Inch}},
	}}}}, scheme, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("joint:", scheme.CasingStyles[0].Joint)
	for _, r := range list.Runs {
		fmt.Printf("%-17s %-10s from %-10s at %s up\n", strings.TrimPrefix(r.Label, "corridor N door "), r.Length.About(), r.Start.About(), r.Bottom.About())
	}
	for _, p := range list.Pieces {
		if p.Run == "" {
			fmt.Printf("%s: %s along its face, %s at its back\n", strings.TrimPrefix(p.Label, "corridor N door "), p.Length.About(), (p.Length - p.Left.Setback - p.Right.Setback).About())
		}
	}
	fmt.Printf("%+v\n", list.Joints)
	// Output:
	// joint: butt
	// plinth left       8"         from 4' 4-1/16" at 0" up
	// plinth right      8"         from 7' 4-3/16" at 0" up
	// casing leg left   6' 3/16"   from 4' 4-5/16" at 8" up
	// casing leg right  6' 3/16"   from 7' 4-3/16" at 8" up
	// fillet head       3' 4-3/8"  from 4' 3-13/16" at 6' 8-3/16" up
	// frieze head       3' 3-3/8"  from 4' 4-5/16" at 6' 8-11/16" up
	// crown head        3' 6-3/8"  from 4' 2-13/16" at about 6' 11-9/16" up
	// cap head          3' 7-3/8"  from 4' 2-5/16" at 7' 2-3/16" up
	// crown head return 1 of 2: 2-1/4" along its face, 3/4" at its back
	// crown head return 2 of 2: 2-1/4" along its face, 3/4" at its back
	// {Copes:0 InsideMiters:0 OutsideMiters:0 FlatMiters:0 RakeMiters:0 Scarfs:0 Returns:2 Butts:4 Stops:0 Scribes:0}
}

// The casing of one door with each joint, 32 by 80 in with a reveal of 3/16 in: casing of 3 1/2
// in, blocks of 3 3/4 in.
func ExampleCasingJoint() {
	const in = measure.Inch
	door := []takeoff.Room{{Name: "corridor", Walls: []takeoff.Wall{{
		Name: "N", Length: 12 * measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerStop},
		Openings: []takeoff.Opening{{At: 56 * in, Width: 32 * in, Height: 80 * in}},
	}}}}
	for _, style := range []takeoff.CasingStyle{
		{Joint: takeoff.CasingMiter},
		{Joint: takeoff.CasingButt, Head: []takeoff.HeadMember{{Overhang: in / 2}}},
		{Joint: takeoff.CasingBlock, Block: &stock.Profile{Name: "rosette", Thickness: 7 * in / 8, Width: 15 * in / 4}},
	} {
		style.Name = style.Joint.String()
		list, err := takeoff.Take(door, takeoff.Scheme{
			Casing:       &stock.Profile{Name: "casing", Thickness: 3 * in / 4, Width: 7 * in / 2},
			CasingStyles: []takeoff.CasingStyle{style},
		}, nil)
		if err != nil {
			fmt.Println(err)
			return
		}
		var leg, head measure.Length
		for _, r := range list.Runs {
			switch {
			case strings.HasSuffix(r.Label, "leg left"):
				leg = r.Length
			case strings.HasSuffix(r.Label, "head"):
				head = r.Length
			}
		}
		fmt.Printf("%-5s leg %v, head %v, %d blocks\n", style.Joint, leg.About(), head.About(), list.TotalsOf("rosette").Pieces)
	}
	// Output:
	// miter leg 6' 11-11/16", head 3' 3-3/8", 0 blocks
	// butt  leg 6' 8-3/16", head 3' 4-3/8", 0 blocks
	// block leg 6' 8-1/16", head 2' 8-1/8", 2 blocks
}

// Two windows of the teacher's room are closer than two casings. Check reports the casing that
// fits between them; joined, they are cased as one.
func ExampleOpening_joined() {
	const in = measure.Inch
	window := takeoff.Opening{Kind: takeoff.OpeningWindow, At: 30 * in, Width: 24 * in, Height: 40 * in, Sill: 30 * in}
	other := window
	other.At = 60 * in
	wall := takeoff.Wall{Name: "E", Length: 12 * measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerStop}, Openings: []takeoff.Opening{window, other}}
	rooms := []takeoff.Room{{Name: "teacher's room", Walls: []takeoff.Wall{wall}}}
	scheme := takeoff.Scheme{
		Casing: &stock.Profile{Name: "casing", Thickness: 3 * in / 4, Width: 7 * in / 2},
		CasingStyles: []takeoff.CasingStyle{{
			Name: "flat", Joint: takeoff.CasingButt, Mullion: &stock.Profile{Name: "1x6", Thickness: 3 * in / 4, Width: 45 * in / 8},
		}},
	}
	findings, err := takeoff.Check(rooms, scheme, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range findings {
		fmt.Println(f.Reason)
	}
	wall.Openings[0].Joined = true
	list, err := takeoff.Take(rooms, scheme, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range list.Pieces {
		fmt.Println(strings.TrimPrefix(p.Label, "teacher's room E "), p.Profile, p.Length.About())
	}
	// Output:
	// the casing of window 2 is 1-3/8" too wide for the one of window 1; between the reveals are 5-5/8": one flat casing of that width serves both, if they are joined
	// window 1 casing leg left casing 3' 4-3/8"
	// window 1 casing leg right casing 3' 4-3/8"
	// window 1 bottom casing casing 5' 1-3/8"
	// window 1 casing mullion 1x6 3' 4-3/8"
	// window 1 casing head casing 5' 1-3/8"
}

// A window on a stool with horns of 3/4 in and an apron, its head butted, and a door on plinths
// with a backband that laps over its casing by 1/4 in: two styles of one house.
func ExampleScheme_casingStyles() {
	const page = `{
		"base": {"name": "base", "thickness": "7/8in", "width": "5-1/4in"},
		"casing": {"name": "casing", "thickness": "3/4in", "width": "3-1/2in"},
		"casing_styles": [
			{"name": "on a stool", "kinds": ["window"], "joint": "butt", "head": [{"overhang": "1/2in"}],
			 "stool": {"name": "stool", "thickness": "1in", "width": "5in"}, "apron": {"name": "apron", "thickness": "1/2in", "width": "3in"}},
			{"name": "in a backband", "kinds": ["door", "cased opening"],
			 "plinth": {"name": "plinth", "thickness": "1-1/8in", "width": "4-3/8in"}, "plinth_height": "8in",
			 "backband": {"name": "backband", "thickness": "1in", "width": "1-1/8in"}, "backband_lap": "1/4in"}
		]}`
	var scheme takeoff.Scheme
	if err := measure.UnmarshalStrict([]byte(page), &scheme); err != nil {
		fmt.Println(err)
		return
	}
	list, err := takeoff.Take([]takeoff.Room{{Name: "cloakroom", Walls: []takeoff.Wall{{
		Name: "N", Length: 16 * measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerStop},
		Openings: []takeoff.Opening{
			{At: 2 * measure.Foot, Width: 32 * measure.Inch, Height: 80 * measure.Inch},
			{Kind: takeoff.OpeningWindow, At: 10 * measure.Foot, Width: 30 * measure.Inch, Height: 48 * measure.Inch, Sill: 32 * measure.Inch},
		},
	}}}}, scheme, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range list.Pieces {
		fmt.Printf("%-26s %s\n", strings.TrimPrefix(p.Label, "cloakroom N "), p.Length.About())
	}
	// Output:
	// base A                     1' 7-7/16"
	// base B                     10' 11-7/16"
	// door plinth left           8"
	// door plinth right          8"
	// door casing leg left       6' 3-11/16"
	// door casing leg right      6' 3-11/16"
	// door casing head           3' 3-3/8"
	// door backband leg left     6' 4-9/16"
	// door backband leg right    6' 4-9/16"
	// door backband head         3' 5-1/8"
	// window stool               3' 2-7/8"
	// window apron               3' 1-3/8"
	// window casing leg left     4' 3/16"
	// window casing leg right    4' 3/16"
	// window casing head         3' 2-3/8"
}
