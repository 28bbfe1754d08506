package finish_test

import (
	"fmt"
	"slices"

	"example.com/longpoint/finish"
	"example.com/longpoint/measure"
)

// Your own system: fiberboard trim for the corridor, in the order of work. Its materials are
// known before a list is made.
func ExampleSystem() {
	fiberboard := finish.System{Label: "fiberboard, two coats", Steps: []finish.Step{
		{Task: finish.TaskGlueJoints},
		{Task: finish.TaskInstall, Hazards: []finish.Hazard{finish.HazardFiberboard, finish.HazardHiddenServices}},
		{Task: finish.TaskBrad},
		{Task: finish.TaskFill},
		{Task: finish.TaskSand},
		{Task: finish.TaskClean},
		{Task: finish.TaskPrime},
		{Task: finish.TaskCaulk, Section: finish.Section{Shape: finish.BeadRectangle, Width: measure.Inch / 8, Depth: measure.Inch / 8}},
		{Task: finish.TaskMask},
		{Task: finish.TaskPaint, Coats: 2},
	}}
	fmt.Println(fiberboard.Materials())
	// Output: [wood glue nails brads filler sandpaper primer caulk tape paint]
}

// Base and casing take the same paint, but not the same nails: casing has brads at the jamb.
func ExamplePaintedCasing() {
	tasks := func(s finish.System) (all []finish.Task) {
		for _, step := range s.Steps {
			all = append(all, step.Task)
		}
		return all
	}
	base, casing := tasks(finish.PaintedTrim()), tasks(finish.PaintedCasing())
	for _, t := range casing {
		if !slices.Contains(base, t) {
			fmt.Println("casing only:", t)
		}
	}
	// Output: casing only: brad
}

// Oak base for the teacher's room: nothing is caulked, and the holes are filled in the color of
// the sealed wood. The list says how much of each to buy, and that the rags are a danger.
func ExampleStainedTrim() {
	quarts := func(material string) finish.Product {
		return finish.Product{Label: material, Material: material, Packages: []finish.Package{{Size: finish.AmountOf(measure.Quart), Price: 1900}}}
	}
	each := func(material string, size finish.Amount) finish.Product {
		return finish.Product{Label: material, Material: material, Packages: []finish.Package{{Size: size, Price: 900}}}
	}
	oak := finish.Job{Label: "oak base", Length: 48 * measure.Foot, Height: 5 * measure.Inch, Runs: 6, Corners: 4}
	list, err := finish.NewList([]finish.Work{{System: finish.StainedTrim(), Job: oak}}, finish.Shelf{Products: []finish.Product{
		quarts("stain"), quarts("sanding sealer"), quarts("varnish"),
		each("wood glue", finish.AmountOf(8*measure.FluidOunce)), each("colored putty", finish.AmountOf(4*measure.FluidOunce)),
		each("nails", finish.Count(500)), each("sandpaper", finish.Count(5)), each("tape", finish.AmountOf(180*measure.Foot)),
	}})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range list.Steps {
		fmt.Println(s.Step)
	}
	for _, p := range list.Purchases {
		fmt.Println(p.Need, "of", p.Product)
	}
	fmt.Println(slices.ContainsFunc(list.Cautions, func(c finish.Caution) bool { return c.Topic == finish.HazardOilyRags }))
	// Output:
	// glue joints
	// install
	// sand the wood
	// mask
	// stain
	// seal the wood
	// fill with colored putty
	// sand the sealer
	// varnish
	// clean
	// 92.4 ct of nails
	// 1.92 ct of sandpaper
	// 105.6 ft of tape
	// 8.05 fl oz of stain
	// 8.05 fl oz of sanding sealer
	// 0.515418 cu in of colored putty
	// 16.09 fl oz of varnish
	// true
}

// A slate base in mortar: a bond breaker behind the joint along the top, and no grout there,
// since wall and slate move.
func ExampleSystem_stone() {
	slate := finish.System{Label: "slate base", Steps: []finish.Step{
		{Task: finish.TaskSet, Hazards: []finish.Hazard{finish.HazardSilica}},
		{Task: finish.TaskGrout, Bottom: true},
		{Task: finish.TaskBackerRod},
		{Task: finish.TaskSeal, Coats: 1},
	}}
	for _, s := range slate.Steps {
		fmt.Println(s.Task)
	}
	fmt.Println(slate.Materials())
	// Output:
	// set
	// grout
	// back
	// seal
	// [thinset grout backer rod sealer]
}

// Panels of the teacher's room are glued to the wall, and the glue needs a rod of another shape
// than the bead of caulk in the corner.
func ExampleSection() {
	glue := finish.Section{Shape: finish.BeadRound, Width: measure.Inch / 4}
	half := finish.Section{Shape: finish.BeadHalfRound, Width: measure.Inch / 4}
	for _, s := range []finish.Section{glue, half} {
		l, _ := s.Reach(101 * measure.FluidOunce / 10)
		fmt.Println(s.Shape, l.Round(measure.Inch, measure.RoundDown))
	}
	list, _ := finish.NewList([]finish.Work{{
		Job:    finish.Job{Label: "teacher's room panels", Length: 20 * measure.Foot, Height: 3 * measure.Foot},
		System: finish.System{Label: "glued", Steps: []finish.Step{{Task: finish.TaskGlue, Section: glue}}},
	}}, finish.Shelf{Products: []finish.Product{{
		Label: "panel adhesive", Material: "adhesive",
		Packages: []finish.Package{{Label: "cartridge", Size: finish.AmountOf(101 * measure.FluidOunce / 10), Price: 649}},
	}}})
	fmt.Println(list.Purchases[0].Lines[0].Count, "cartridge")
	// Output:
	// round 30' 11"
	// half-round 61' 10"
	// 1 cartridge
}

// A program that prints a sign for each hazard branches on the code and treats an unknown one,
// of a later release, as any other.
func ExampleHazard() {
	list, err := finish.Cautions(measure.Locale{},
		finish.HazardLadders, finish.HazardWoodDust, finish.HazardSolvents, finish.HazardNailers, finish.HazardHotPlastic, finish.HazardLeadPaint,
		finish.HazardAsbestos, finish.HazardScrap, finish.HazardTableSaw, finish.HazardAir, finish.HazardPower, finish.HazardRespirators,
		finish.HazardOilyRags, finish.HazardScaffold, finish.HazardFalls)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range list {
		sign := "caution"
		switch c.Topic {
		case finish.HazardLeadPaint, finish.HazardSilica, finish.HazardAsbestos:
			sign = "licensed work"
		case finish.HazardWoodDust, finish.HazardFiberboard, finish.HazardSolvents:
			sign = "breathing"
		}
		fmt.Printf("%s: %s\n", sign, c.Topic)
	}
	// Output:
	// caution: table saw
	// caution: nailers
	// caution: nailers
	// caution: compressed air
	// caution: electric power
	// breathing: wood dust
	// caution: respirators
	// breathing: solvents
	// caution: oily rags
	// caution: hot plastic
	// licensed work: lead paint
	// licensed work: lead paint
	// licensed work: lead paint
	// licensed work: asbestos
	// caution: scrap
	// caution: ladders
	// caution: scaffold
	// caution: falls
	// caution: general
}

// On the day sheet each caution comes before the first step that it concerns.
func ExampleCautionsBefore() {
	steps := []finish.StepResult{
		{Job: "base", Step: "install", Hazards: []finish.Hazard{finish.HazardNailers, finish.HazardNoise}},
		{Job: "base", Step: "sand", Hazards: []finish.Hazard{finish.HazardWoodDust}},
		{Job: "crown", Step: "install", Hazards: []finish.Hazard{finish.HazardNailers, finish.HazardNoise, finish.HazardLadders}},
	}
	before, err := finish.CautionsBefore(measure.Locale{}, steps)
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, s := range steps {
		fmt.Println(s.Job, s.Step)
		for _, c := range before[i] {
			fmt.Println("-", c.Topic)
		}
	}
	// Output:
	// base install
	// - nailers
	// - nailers
	// - noise
	// - general
	// base sand
	// - wood dust
	// - general
	// crown install
	// - ladders
	// - general
}

// The users of the building determine whether the renovation rule covers it. A workshop that
// children use is a child-occupied facility; unknown occupancy counts as covered.
func ExampleOccupancy() {
	old := []finish.RemovedTrim{{Room: "classroom", Label: "old base", Length: 40 * measure.Foot, Girth: 6 * measure.Inch}}
	for _, use := range []finish.Occupancy{finish.OccupancyUnknown, finish.OccupancyHousing, finish.OccupancyChildren, finish.OccupancyOther} {
		list, err := finish.USLeadRule().Cautions(finish.Building{Year: 1924, Occupancy: use}, old, measure.Locale{})
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Println(use, "-", list[len(list)-1].Trigger)
	}
	// Output:
	// unknown - classroom: 20 sq ft of painted trim removed, the limit is 6 sq ft
	// target housing - classroom: 20 sq ft of painted trim removed, the limit is 6 sq ft
	// child-occupied facility - classroom: 20 sq ft of painted trim removed, the limit is 6 sq ft
	// other - a building that is neither target housing nor a child-occupied facility
}

// Amounts as on labels.
func ExampleParseAmount() {
	for _, text := range []string{"10.1 fl oz", "300 mL", "1 gal", "50 lb"} {
		a, err := finish.ParseAmount(text)
		fmt.Println(a, err)
	}
	// Output:
	// 10.1 fl oz <nil>
	// 300 mL <nil>
	// 1 gal <nil>
	// 50 lb <nil>
}

// Drying times for a schoolhouse without heat: twice the usual ones.
func ExampleDefaultDrying() {
	shelf := finish.Shelf{Drying: finish.DefaultDrying()}
	for i := range shelf.Drying {
		d := &shelf.Drying[i]
		d.Dry.Recoat *= 2
		d.Dry.Cure *= 2
		d.Source = "unheated, twice the usual time"
		if d.Task == finish.TaskFill {
			fmt.Println("filler dries in", d.Dry.Recoat)
		}
	}
	// Output: filler dries in 4h
}
