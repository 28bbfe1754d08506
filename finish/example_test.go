package finish_test

import (
	"encoding/json"
	"errors"
	"fmt"

	"example.com/longpoint/finish"
	"example.com/longpoint/measure"
)

// The classroom's base gets a bead along its top edge.
func ExampleBead() {
	n, err := finish.Bead{
		Section: finish.Section{Shape: finish.BeadFillet, Width: measure.Inch / 8},
		Length:  96*measure.Foot + 6*measure.Inch,
		Waste:   finish.Waste{Share: 15 * measure.Percent},
	}.Need()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(n.Material, n.Gross)
	for _, line := range n.Reasoning {
		fmt.Println("-", line)
	}
	// Output:
	// caulk 5.76 fl oz
	// - 96.5 ft of 0.125 in fillet bead is 5.01 fl oz
	// - plus waste, 15% of the need: 5.76 fl oz
}

func ExampleSection_Reach() {
	s := finish.Section{Width: measure.Inch / 4}
	l, _ := s.Reach(101 * measure.FluidOunce / 10)
	fmt.Println("a 10.1 fl oz cartridge lays", l.Round(measure.Inch, measure.RoundDown), "of 1/4 in bead")
	// Output: a 10.1 fl oz cartridge lays 24' 3" of 1/4 in bead
}

func ExampleAdhesive() {
	n, _ := finish.Adhesive{Length: 60 * measure.Foot}.Need()
	fmt.Println(n.Net)
	fmt.Println(n.Reasoning[0])
	// Output:
	// 25.46 fl oz
	// a 0.25 in round bead 130% as long as 60 ft of trim is 25.46 fl oz
}

func ExampleNails() {
	n, _ := finish.Nails{Length: 421 * measure.Foot, Spacing: 16 * measure.Inch}.Need()
	chart, _ := finish.NailChart("finishing")
	eightPenny := chart[6]
	w, _ := eightPenny.Yield().Material(n.Net)
	fmt.Printf("%v, %v of %dd\n", n.Net, w, eightPenny.Penny)
	fmt.Println(n.Reasoning[0])
	// Output:
	// 634 ct, 3.35 lb of 8d
	// 421 ft at 16 in meets 317 studs, 2 nails each: 634
}

func ExampleHoles() {
	n, _ := finish.Holes{Count: 634, Waste: finish.Waste{Share: 300 * measure.Percent}}.Need()
	fmt.Println(n.Gross)
	// Output: 2.16 fl oz
}

func ExampleSanding() {
	n, _ := finish.Sanding{Length: 421 * measure.Foot, Times: 2}.Need()
	sheets, _ := n.Gross.Pieces()
	fmt.Println(n.Net, "so", sheets, "sheets")
	// Output: 16.84 ct so 17 sheets
}

func ExampleCoating() {
	face := 29*measure.Inch/4 + 3*measure.Inch/4 // height and the edge on top
	n, _ := finish.Coating{
		Length: 212 * measure.Foot,
		Face:   face,
		Coats:  2,
		Spread: finish.Yield{Covers: finish.AmountOf(350 * measure.SquareFoot), Of: finish.AmountOf(measure.Gallon)},
		Waste:  finish.Waste{Share: 10 * measure.Percent},
	}.Need()
	for _, line := range n.Reasoning {
		fmt.Println(line)
	}
	// Output:
	// 212 ft with a developed face of 8 in
	// 141.33 sq ft, 2 coats, 350 sq ft per gal: 103.38 fl oz
	// plus waste, 10% of the need: 113.71 fl oz
}

// A data sheet gives solids and dry film; transfer loses a tenth.
func ExampleSpreadRate() {
	y, _ := finish.SpreadRate(2*measure.Inch/1000, 38*measure.Percent, 10*measure.Percent)
	fmt.Println(y)
	// Output: 274.31 sq ft per gal
}

func ExampleMasking() {
	n, _ := finish.Masking{Length: 212 * measure.Foot, Waste: finish.Waste{Share: 10 * measure.Percent}}.Need()
	fmt.Println(n.Gross)
	// Output: 466.4 ft
}

func ExampleBackerRod() {
	n, _ := finish.BackerRod{Length: 16 * measure.Foot, Joint: 3 * measure.Inch / 8, Waste: finish.Waste{Share: 5 * measure.Percent}}.Need()
	fmt.Println(n.Gross)
	fmt.Println(n.Reasoning[0])
	// Output:
	// 16.8 ft
	// 16 ft of joint takes as much rod, 0.5 in thick for a joint 0.375 in wide
}

// The label of the cleaner in these tests says 600 square feet to a quart.
func ExampleCoating_cleaner() {
	n, _ := finish.Coating{Material: "cleaner", Length: 212 * measure.Foot, Face: 8 * measure.Inch, Coats: 2, Spread: finish.Yield{Covers: finish.AmountOf(600 * measure.SquareFoot), Of: finish.AmountOf(measure.Quart)}}.Need()
	fmt.Println(n.Net)
	fmt.Println(n.Reasoning[1])
	// Output:
	// 15.08 fl oz
	// 141.33 sq ft, wiped 2 times, 600 sq ft per qt: 15.08 fl oz
}

func ExampleMortar() {
	n, _ := finish.Mortar{
		Length: 212 * measure.Foot, Height: 6 * measure.Inch,
		Coverage: finish.Notches()[0].Low,
	}.Need()
	fmt.Println(n.Net)
	// Output: 66.25 lb
}

func ExampleGrout() {
	n, _ := finish.Grout{
		Area:  96 * measure.SquareFoot,
		Tile:  finish.Tile{Length: 3 * measure.Inch / 8, Width: 3 * measure.Inch / 8, Thickness: 3 * measure.Inch / 8, Joint: measure.Inch / 16},
		Waste: finish.Waste{Share: 10 * measure.Percent},
	}.Need()
	for _, line := range n.Reasoning {
		fmt.Println(line)
	}
	// Output:
	// 96 sq ft of 0.375 in x 0.375 in tile with 0.0625 in joints, 0.375 in deep
	// 5.95 gal of joint takes 79.5 lb
	// plus waste, 10% of the need: 87.45 lb
}

func ExampleGrout_course() {
	g := finish.Grout{
		Length: 212 * measure.Foot,
		Tile:   finish.Tile{Length: 12 * measure.Inch, Width: 6 * measure.Inch, Thickness: 3 * measure.Inch / 8, Joint: measure.Inch / 8},
	}
	joints, _ := g.Joints()
	n, _ := g.Need()
	fmt.Println(joints, "joints,", n.Net)
	// Output: 210 joints, 3.41 lb
}

// The same percentage, of the need and of the purchase.
func ExampleWaste() {
	need := finish.Count(100)
	for _, of := range []bool{false, true} {
		got, _ := finish.Waste{Share: 15 * measure.Percent, OfPurchase: of}.Apply(need)
		fmt.Println("15%, of the purchase:", of, "=", got)
	}
	// Output:
	// 15%, of the purchase: false = 115 ct
	// 15%, of the purchase: true = 117.65 ct
}

func ExampleBuy() {
	paint := finish.Product{
		Label: "semigloss", Material: "paint",
		Yield: finish.Yield{Covers: finish.AmountOf(350 * measure.SquareFoot), Of: finish.AmountOf(measure.Gallon)},
		Packages: []finish.Package{
			{Label: "quart", Size: finish.AmountOf(measure.Quart), Price: 1999},
			{Label: "gallon", Size: finish.AmountOf(measure.Gallon), Price: 4599},
		},
		OnHand: finish.AmountOf(measure.Pint),
	}
	b, err := finish.Buy(finish.AmountOf(500*measure.SquareFoot), paint)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, l := range b.Lines {
		fmt.Println(l.Count, l.Package, l.Cost)
	}
	fmt.Println("cost", b.Cost, "left", b.Left)
	// Output:
	// 2 quart 3998
	// 1 gallon 4599
	// cost 8597 left 25.14 fl oz
}

func ExampleNewList() {
	shelf := finish.Shelf{Products: []finish.Product{
		{Label: "wood primer", Material: "primer", Packages: []finish.Package{{Size: finish.AmountOf(measure.Gallon), Price: 3299}, {Size: finish.AmountOf(measure.Quart), Price: 1499}}},
		{Label: "semigloss", Material: "paint", Packages: []finish.Package{{Size: finish.AmountOf(measure.Gallon), Price: 4599}, {Size: finish.AmountOf(measure.Quart), Price: 1999}}},
	}}
	system := finish.System{Label: "prime and paint", Steps: []finish.Step{
		{Task: finish.TaskPrime},
		{Task: finish.TaskPaint, Coats: 2},
	}}
	list, err := finish.NewList([]finish.Work{
		{System: system, Job: finish.Job{Label: "classroom base", Length: 96 * measure.Foot, Height: 8 * measure.Inch}},
		{System: system, Job: finish.Job{Label: "corridor base", Length: 70 * measure.Foot, Height: 8 * measure.Inch}},
	}, shelf)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range list.Purchases {
		for _, l := range p.Lines {
			fmt.Println(p.Product, "-", l.Count, "x", l.Package)
		}
	}
	fmt.Println("cost", list.Cost)
	// Output:
	// wood primer - 2 x 1 qt
	// semigloss - 1 x 1 gal
	// cost 7597
}

func ExampleLeadRule_Cautions() {
	list, _ := finish.USLeadRule().Cautions(finish.Building{Year: 1924}, []finish.RemovedTrim{
		{Room: "classroom", Label: "old base", Length: 40 * measure.Foot, Girth: 21 * measure.Inch / 4},
		{Room: "cloakroom", Label: "old base", Length: 12 * measure.Foot, Girth: 21 * measure.Inch / 4},
	}, measure.Locale{})
	for _, c := range list {
		fmt.Println(c.Topic, "-", c.Trigger)
	}
	// Output:
	// lead paint - painted trim in a building from before 1978
	// lead paint - paid work in target housing and child-occupied facilities from before 1978
	// lead paint - workers at painted surfaces with lead, in any building
	// lead paint - classroom: 17.5 sq ft of painted trim removed, the limit is 6 sq ft
}

// A teacher's room rented with federal assistance has the smaller limit.
func ExampleLeadRule_Cautions_assisted() {
	list, _ := finish.USLeadRule().Cautions(finish.Building{Year: 1924, Assisted: true}, []finish.RemovedTrim{
		{Room: "teacher's room", Label: "old base", Length: 12 * measure.Foot, Girth: 21 * measure.Inch / 4},
	}, measure.Locale{})
	fmt.Println(list[len(list)-1].Trigger)
	// Output: teacher's room: 5.25 sq ft of painted trim removed, the limit is 2 sq ft
}

func ExampleCautions() {
	list, _ := finish.Cautions(measure.Locale{}, finish.HazardSmallPieces, finish.HazardNoise)
	for _, c := range list {
		fmt.Println(c.Topic, "-", c.Source)
	}
	// Output:
	// small pieces - table-saw manual; school shop sheet; Wood magazine
	// noise - 29 CFR 1926.52, Table D-2
	// general - common practice, no source
}

// A job file names amounts, rates and tasks in words.
func ExampleProduct() {
	var p finish.Product
	err := json.Unmarshal([]byte(`{
		"label": "painter's caulk", "material": "caulk",
		"packages": [{"size": "10.1 fl oz", "price": 429}, {"size": "300 mL", "price": -1}]
	}`), &p)
	fmt.Println(err)
	err = p.Validate()
	fmt.Println(err)
	var f *measure.FieldError
	fmt.Println(errors.As(err, &f), f.Field, f.Value)
	// Output:
	// <nil>
	// packages[1].price is -1, want whole cents, zero or more
	// true packages[1].price -1
}

// A yield works in both directions: the coverage of a can, and the need of a wall.
func ExampleParseYield() {
	y, err := finish.ParseYield("400 sq ft per gal")
	if err != nil {
		fmt.Println(err)
		return
	}
	takes, err := y.Material(finish.AmountOf(90 * measure.SquareFoot))
	fmt.Println(takes, err)
	covers, err := y.Work(finish.AmountOf(measure.Quart))
	fmt.Println(covers, err)
	_, err = y.Material(finish.AmountOf(90 * measure.Foot))
	fmt.Println(err)
	// Output:
	// 28.8 fl oz <nil>
	// 100 sq ft <nil>
	// work is "90 ft", want an area
}

// The removal of trim in a building from before 1978, room by room, as the federal renovation
// rule counts it.
func ExampleLeadRule_Rooms() {
	rooms, err := finish.USLeadRule().Rooms([]finish.RemovedTrim{
		{Room: "classroom", Label: "old base", Length: 40 * measure.Foot, Girth: 7 * measure.Inch},
		{Room: "corridor", Label: "old shoe", Length: 22 * measure.Foot, Girth: measure.Inch},
	})
	for _, r := range rooms {
		fmt.Println(r.Room, finish.AmountOf(r.Removed), r.Over)
	}
	fmt.Println(err)
	// Output:
	// classroom 23.33 sq ft true
	// corridor 264 sq in false
	// <nil>
}

// The steps of painted trim, to be adapted.
func ExamplePaintedTrim() {
	for _, s := range finish.PaintedTrim().Steps {
		fmt.Print(s.Task, " ")
	}
	fmt.Println()
	// Output: glue joints install fill sand prime sand caulk mask paint clean
}

// A maker gives the wet film; the spreading rate follows.
func ExampleSpreadRate_wet() {
	y, err := finish.SpreadRate(4*measure.Inch/1000, 100*measure.Percent, 0)
	if err != nil {
		fmt.Println(err)
		return
	}
	need, err := finish.Coating{Length: 120 * measure.Foot, Face: 6 * measure.Inch, Coats: 2, Spread: y}.Need()
	fmt.Println(need.Net, err)
	// Output:
	// 38.3 fl oz <nil>
}
