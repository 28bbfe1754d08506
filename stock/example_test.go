package stock_test

import (
	"encoding/json"
	"fmt"
	"slices"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

func ExamplePiece() {
	p := stock.Piece{
		Label: "classroom chimney base", Length: 5*measure.Foot + 9*measure.Inch/16,
		Left: stock.End{Kind: stock.EndCope}, Right: stock.End{Kind: stock.EndOutsideMiter},
		Allowances: []stock.Allowance{
			{Name: "wall", Length: 5 * measure.Foot},
			{Name: "outside miter at right", Length: 9 * measure.Inch / 16},
		},
	}
	text, err := json.MarshalIndent(p, "", "  ")
	fmt.Println(string(text), err)
	// Output:
	// {
	//   "label": "classroom chimney base",
	//   "length": "5ft 9/16in",
	//   "left": {
	//     "kind": "cope"
	//   },
	//   "right": {
	//     "kind": "outside miter"
	//   },
	//   "allowances": [
	//     {
	//       "name": "wall",
	//       "length": "5ft"
	//     },
	//     {
	//       "name": "outside miter at right",
	//       "length": "9/16in"
	//     }
	//   ]
	// } <nil>
}

func ExampleProfile() {
	var p stock.Profile
	err := json.Unmarshal([]byte(`{
		"name": "fir crown", "role": "crown", "thickness": "11/16in", "width": "4in", "spring": "30°",
		"lengths": ["8ft", "16ft"], "end_trim": "1/4in"}`), &p)
	fmt.Println(p.Projection(), p.Longest(), err)
	// Output: 2" 15' 11-1/2" <nil>
}

// All faults of a profile are reported together, with the names of its fields in JSON.
func ExampleProfile_Validate() {
	p := stock.Profile{Width: 5 * measure.Inch, Spring: 95 * measure.Degree, Lengths: []measure.Length{0, 12 * measure.Foot}}
	for e := range measure.FieldErrors(p.Validate()) {
		fmt.Println(e.Under("profile"))
	}
	// Output:
	// profile.name is "", want a name
	// profile.thickness is "0\"", want more than zero, at most 1000 ft
	// profile.spring is "95°", want more than 0° and less than 90°, or zero for 38°
	// profile.lengths[0] is "0\"", want more than the two trimmed ends and mill_short
}

func ExampleRack() {
	rack := stock.Rack{Offcuts: []stock.Offcut{
		{Profile: "fir base", Length: 31 * measure.Inch},
		{Profile: "fir base", Length: 74 * measure.Inch, Count: 2},
	}}
	for _, s := range rack.Sticks("fir base") {
		fmt.Println(s.Length, s.Limit)
	}
	// Output:
	// 6' 2" 2
	// 2' 7" 1
}

// Where to mark: every kind of end with its long point.
func ExampleEnd_LongPoint() {
	for _, k := range []stock.EndKind{
		stock.EndSquare, stock.EndCope, stock.EndInsideMiter, stock.EndOutsideMiter, stock.EndScarfOver,
		stock.EndScarfUnder, stock.EndReturn, stock.EndFlatMiter, stock.EndScribe,
	} {
		point := stock.End{Kind: k}.LongPoint()
		if point == stock.SectionAll {
			point = "all points alike"
		}
		fmt.Printf("%-14v %s\n", k, point)
	}
	for _, corner := range []measure.Angle{80 * measure.Degree, 100 * measure.Degree} {
		fmt.Println("butt at", corner, "", stock.End{Kind: stock.EndButt, Angle: corner}.LongPoint())
	}
	// The foot of a skirt that rises to the right, its head, and the foot on the floor.
	for _, e := range []stock.End{
		{Kind: stock.EndRake, Angle: -18 * measure.Degree}, {Kind: stock.EndPlumb, Angle: 36 * measure.Degree}, {Kind: stock.EndLevel, Angle: 54 * measure.Degree},
	} {
		fmt.Printf("%-14v %s, raked: %v\n", e.Kind, e.LongPoint(), e.Kind.Raked())
	}
	// Output:
	// square         all points alike
	// cope           back
	// inside miter   back
	// outside miter  face
	// scarf over     face
	// scarf under    back
	// return         face
	// flat miter     outer edge
	// scribe         all points alike
	// butt at 80°  back
	// butt at 100°  face
	// rake miter     lower edge, raked: true
	// plumb cut      upper edge, raked: true
	// level cut      upper edge, raked: true
}

// The length of caulk for the trim of the classroom: the edges of each kind, times its length.
func ExampleRole_Edges() {
	var all measure.Length
	for _, trim := range []struct {
		role   stock.Role
		length measure.Length
	}{
		{stock.RoleBase, 112 * measure.Foot}, {stock.RoleShoe, 112 * measure.Foot}, {stock.RoleChairRail, 98 * measure.Foot},
		{stock.RolePictureRail, 104 * measure.Foot}, {stock.RoleCasing, 136 * measure.Foot}, {stock.RoleBackband, 136 * measure.Foot},
		{stock.RoleStool, 24 * measure.Foot}, {stock.RoleApron, 22 * measure.Foot}, {stock.RolePlinth, 2 * measure.Foot},
		{stock.RoleCrown, 116 * measure.Foot},
	} {
		caulk := measure.Length(trim.role.Edges()) * trim.length
		fmt.Printf("%-13v %v\n", trim.role, caulk)
		all += caulk
	}
	fmt.Println("together", all)
	// Output:
	// base          112'
	// shoe          112'
	// chair rail    196'
	// picture rail  104'
	// casing        272'
	// backband      136'
	// stool         24'
	// apron         22'
	// plinth        4'
	// crown         232'
	// together 1214'
}

// The rules of the trade depend on the class of a material.
func ExampleClass() {
	rule := map[stock.Class]string{
		stock.ClassWood:      "cope it, scarf it, bow it in",
		stock.ClassComposite: "the same, and leave room to swell along it",
		stock.ClassPlastic:   "leave room to expand",
		stock.ClassStone:     "butt it, seal what moves",
		stock.ClassTile:      "lay it out without slivers",
	}
	for _, name := range []string{"red oak", "fiberboard", "cellular PVC", "marble", "ceramic tile"} {
		m, _ := stock.GenericCatalog().Material(name)
		fmt.Printf("%s (%v): %s\n", name, m.Class, rule[m.Class])
	}
	// Output:
	// red oak (wood): cope it, scarf it, bow it in
	// fiberboard (composite): the same, and leave room to swell along it
	// cellular PVC (plastic): leave room to expand
	// marble (stone): butt it, seal what moves
	// ceramic tile (tile): lay it out without slivers
}

// The inside corners of three profiles of the schoolhouse, as in its catalog.
func ExampleInsideJoint() {
	for _, p := range []stock.Profile{
		{Name: "molded fir base", Inside: stock.JointCope},
		{Name: "square-edged base", Inside: stock.JointButt},
		{Name: "exterior PVC band", Inside: stock.JointMiter},
	} {
		text, err := p.Inside.MarshalText()
		fmt.Printf("%s: %s %v\n", p.Name, text, err)
	}
	var j stock.InsideJoint
	fmt.Println(j.UnmarshalText([]byte("dovetail")))
	// Output:
	// molded fir base: cope <nil>
	// square-edged base: butt <nil>
	// exterior PVC band: miter <nil>
	// value is "dovetail", want a joint: cope, miter, butt
}

// A maker's rule for an exterior board takes precedence over the calculated gap: this one
// depends on the temperature on the day of installation.
func ExampleGapStep() {
	board := stock.Material{Name: "exterior board", Class: stock.ClassPlastic, Thermal: 58_680, Gaps: []stock.GapStep{
		{Below: 60 * measure.DegreeF, Gap: measure.Inch / 8, Per: 18 * measure.Foot},
		{Below: 80 * measure.DegreeF, Gap: measure.Inch / 16, Per: 18 * measure.Foot},
	}}
	for _, today := range []measure.Temperature{45 * measure.DegreeF, 70 * measure.DegreeF, 90 * measure.DegreeF} {
		fit := stock.Fit{InstallTemp: today, MaxTemp: 95 * measure.DegreeF, Published: true}
		as, err := fit.Allowances(board, 18*measure.Foot, false)
		fmt.Println(as, err)
	}
	// Output:
	// [{gap when installed at 45°F, as published -1/8"}] <nil>
	// [{gap when installed at 70°F, as published -1/16"}] <nil>
	// [] <nil>
}

// A plan used one offcut and leaves another. Applying it twice, as after a crash, changes
// nothing.
func ExampleRack_Apply() {
	rack := stock.Rack{
		Keep:    16 * measure.Inch,
		Offcuts: []stock.Offcut{{Profile: "fir base", Length: 74 * measure.Inch, Count: 2}},
	}
	change := stock.RackChange{
		ID:     "corridor base",
		Uses:   []stock.Offcut{{Profile: "fir base", Length: 74 * measure.Inch}},
		Leaves: []stock.Offcut{{Profile: "fir base", Length: 20 * measure.Inch}, {Profile: "fir base", Length: 3 * measure.Inch}},
	}
	for range 2 {
		var err error
		if rack, err = rack.Apply(change); err != nil {
			fmt.Println(err)
			return
		}
		a, b := rack.Offcuts[0], rack.Offcuts[1]
		fmt.Println(a.Count, "of", a.Length, "and", b.Count, "of", b.Length)
	}
	_, err := rack.Apply(stock.RackChange{ID: "porch", Uses: []stock.Offcut{{Profile: "fir base", Length: 74 * measure.Inch, Count: 2}}})
	fmt.Println(err)
	// Output:
	// 1 of 6' 2" and 1 of 1' 8"
	// 1 of 6' 2" and 1 of 1' 8"
	// uses[0]: the rack holds 1 of 2 offcuts of "fir base", 6' 2"
}

// Wood is cut long and bowed in; plastic installed in a cool room gets room at its ends
// instead.
func ExampleFit_Allowances() {
	bow := stock.UsualBow()
	warm := stock.Fit{Bow: &bow, InstallTemp: 60 * measure.DegreeF, MaxTemp: 85 * measure.DegreeF}
	for _, job := range []struct {
		material string
		fit      stock.Fit
	}{{"pine", stock.Fit{Bow: &bow}}, {"polystyrene", warm}} {
		material, _ := stock.GenericCatalog().Material(job.material)
		as, err := job.fit.Allowances(material, 8*measure.Foot, false)
		if err != nil {
			fmt.Println(err)
			return
		}
		for _, a := range as {
			fmt.Println(job.material+":", a.Name, a.Length.Round(measure.Inch/64, measure.RoundHalfEven))
		}
	}
	// Output:
	// pine: long, to be bowed in 3/64"
	// polystyrene: room to expand from 60°F to 85°F -3/32"
}

// Strips for a tile base from field tile of 12 in: two keep a factory edge on top.
func ExampleRip_Blanks() {
	rip := stock.Rip{
		Width: 12 * measure.Inch, Strip: 3*measure.Inch + 7*measure.Inch/8, Kerf: measure.Inch / 16,
		FinishedEdges: 2, KeepEdge: true,
	}
	one, err := rip.Blank()
	if err != nil {
		fmt.Println(err)
		return
	}
	tiles, err := rip.Blanks(37)
	fmt.Println(one.Strips, "strips a tile,", one.Rest, "left;", tiles, "tiles for 37 strips", err)
	// Output: 2 strips a tile, 4-1/8" left; 19 tiles for 37 strips <nil>
}

// The studs for one splice of a run of 20 ft from sticks of 12 ft.
func ExampleSpliceRule_Choices() {
	run := stock.Run{Label: "N base", Length: 20 * measure.Foot, Splice: stock.SpliceRule{
		At:      []measure.Length{5 * measure.Foot, 9 * measure.Foot, 11 * measure.Foot},
		Overlap: measure.Inch / 2, MinPart: 16 * measure.Inch, Bevel: 45 * measure.Degree,
	}}
	for _, at := range run.Splice.Choices(run.Length, 12*measure.Foot, 10) {
		pieces, err := run.Pieces(at)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Println(at, pieces[0].Length, pieces[1].Length)
	}
	// Output:
	// [11'] 11' 1/4" 9' 1/4"
	// [9'] 9' 1/4" 11' 1/4"
}

func ExampleCatalog_With() {
	var mine stock.Catalog
	err := json.Unmarshal([]byte(`{"materials": [{"name": "slate", "class": "stone", "rigid": true, "lengths": ["2ft", "4ft"]}]}`), &mine)
	if err != nil {
		fmt.Println(err)
		return
	}
	all := stock.GenericCatalog().With(mine)
	slate, ok := all.Material("slate")
	fmt.Println(slate.Class, slate.Class.Mineral(), ok, all.Validate())
	// Output: stone true true <nil>
}

// A run of 20 ft from sticks of 12 ft, spliced on the stud that makes one part as long as
// possible, and the resulting parts: half of the scarf belongs to either.
func ExampleSpliceRule_Place() {
	run := stock.Run{Label: "corridor base", Length: 20 * measure.Foot, Splice: stock.SpliceRule{
		At:      slices.Collect(measure.OnCenter(20*measure.Foot, 7*measure.Inch, 16*measure.Inch)),
		Overlap: measure.Inch / 2, MinPart: 16 * measure.Inch, Bevel: 45 * measure.Degree,
	}}
	at, ok := run.Splice.Place(run.Length, 12*measure.Foot)
	fmt.Println(at, ok)
	pieces, err := run.Pieces(at)
	for _, p := range pieces {
		fmt.Println(p.Label, p.Length, p.Left.Kind, p.Right.Kind)
	}
	fmt.Println(err)
	// Output:
	// [8' 7"] true
	// corridor base 1 of 2 8' 7-1/4" square scarf over
	// corridor base 2 of 2 11' 5-1/4" scarf under square
	// <nil>
}

// A notch for a heat register is on only one of the two parts of a run, and in its notes.
func ExampleRunNote() {
	run := stock.Run{
		Label: "corridor base", Room: "corridor", Wall: "N", Length: 20 * measure.Foot,
		Splice: stock.SpliceRule{At: []measure.Length{9 * measure.Foot}, Assumed: true},
		Notes:  []stock.RunNote{{From: 14 * measure.Foot, To: 15 * measure.Foot, Text: `notch the lower edge 12" x 4" up, 14' from the left end`}},
	}
	pieces, err := run.Pieces([]measure.Length{9 * measure.Foot})
	for _, p := range pieces {
		fmt.Println(p.Label, "in the", p.Room, "on", p.Wall, p.Assumed)
		for _, note := range p.Notes {
			fmt.Println("-", note)
		}
	}
	fmt.Println(err)
	// Output:
	// corridor base 1 of 2 in the corridor on N true
	// corridor base 2 of 2 in the corridor on N true
	// - what follows is measured along the whole run, this part from 9' to 20'
	// - notch the lower edge 12" x 4" up, 14' from the left end
	// <nil>
}

// Blocking behind the whole rail allows splices anywhere. An optimizer needs a list of
// positions: here every two feet.
func ExampleSpliceRule_Every() {
	rule := stock.SpliceRule{Anywhere: true, Clear: 3 * measure.Foot}
	fmt.Println(rule.Every(12*measure.Foot, 2*measure.Foot).At)
	// Output:
	// [4' 6' 8']
}

// A blade with a kerf of 1/8 in takes more of the stick at a bevel or a miter.
func ExampleEnd_KerfAlong() {
	kerf := measure.Inch / 8
	for _, e := range []stock.End{{}, {Kind: stock.EndOutsideMiter}, {Kind: stock.EndOutsideMiter, Angle: 135 * measure.Degree}} {
		fmt.Println(e.Kind, e.Corner(), e.KerfAlong(kerf))
	}
	// Output:
	// square 90° 1/8"
	// outside miter 90° 3/16"
	// outside miter 135° 9/64"
}

// How far a fiberboard base of 12 ft grows from the dry winter to the damp summer, and
// a polystyrene one from a cool room to a hot one.
func ExampleMaterial_SwellAlong() {
	board, _ := stock.GenericCatalog().Material("fiberboard")
	grown, err := board.SwellAlong(12*measure.Foot, 6*measure.Percent, 10*measure.Percent)
	fmt.Println(grown.Round(measure.Inch/64, measure.RoundHalfEven), err)
	plastic, _ := stock.GenericCatalog().Material("polystyrene")
	grown, err = plastic.Expansion(12*measure.Foot, 60*measure.DegreeF, 95*measure.DegreeF)
	fmt.Println(grown.Round(measure.Inch/64, measure.RoundHalfEven), err)
	// Output:
	// 9/32" <nil>
	// 13/64" <nil>
}

// One rack, two woods: the offcuts for a plan for fir.
func ExampleRack_SticksIn() {
	rack := stock.Rack{Keep: 16 * measure.Inch, Offcuts: []stock.Offcut{
		{Profile: "picture rail", Material: "fir", Length: 52 * measure.Inch},
		{Profile: "picture rail", Material: "oak", Length: 80 * measure.Inch},
	}}
	if err := rack.Validate(); err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range rack.SticksIn("picture rail", "fir") {
		fmt.Println(s.Length, s.Limit, s.Rack)
	}
	total, err := rack.Total()
	fmt.Println(total, rack.Keeps(stock.Offcut{Length: 15 * measure.Inch}), err)
	// Output:
	// 4' 4" 1 true
	// 11' false <nil>
}
