package finish_test

import (
	"math"
	"testing"

	"example.com/longpoint/finish"
	"example.com/longpoint/measure"
)

func purchase(t *testing.T, l *finish.List, material string) finish.Purchase {
	t.Helper()
	for _, p := range l.Purchases {
		if p.Material == material {
			return p
		}
	}
	t.Fatalf("no purchase of %s", material)
	return finish.Purchase{}
}

// Worked by hand from the quantities (derived); the rates are the defaults.
func TestPlanPaintedTrim(t *testing.T) {
	l := must[*finish.List](t)(finish.NewList(paintedJobs(), shelf(t)))

	// Each material is bought once for the three jobs together.
	seen := map[string]bool{}
	cost := int64(0)
	for _, p := range l.Purchases {
		if seen[p.Product] || !p.Proven {
			t.Errorf("%s: bought twice or not proven", p.Product)
		}
		seen[p.Product] = true
		cost += p.Cost
	}
	if len(l.Purchases) != 9 || cost != l.Cost {
		t.Errorf("%d purchases sum to %d, list says %d", len(l.Purchases), cost, l.Cost)
	}
	if len(l.Steps) != 31 {
		t.Errorf("%d steps, want ten for each of three jobs and the brads of the casing", len(l.Steps))
	}

	// Paint: (212x8 + 196x5.75 + 190x6)/12 ft2 x 2 coats x 1.1 / 350.
	area := (212*8 + 196*5.75 + 190*6) / 12.0
	paint := purchase(t, l, "paint")
	near(t, "paint, gallons", volume(t, paint.Need).Gallons(), area*2*1.1/350, 1e-6)
	if paint.Packages != 3 || paint.Cost != 2*4599+1999 { // 2.08 gal
		t.Errorf("paint: %+v, want two gallons and a quart", paint)
	}
	// Primer: a pint is on hand and counts first.
	primer := purchase(t, l, "primer")
	near(t, "primer, gallons", volume(t, primer.Need).Gallons(), area*1.1/300, 1e-6)
	if primer.Used != quantityOf("1 pt") {
		t.Errorf("primer on hand: used %v, want 1 pt", primer.Used)
	}
	// Tape: two edges, 10 % torn.
	if got, want := purchase(t, l, "tape").Need, finish.AmountOf(598*ft*2*11/10); got != want {
		t.Errorf("tape %v, want %v", got, want)
	}
	// Caulk: a fillet of 3/32 in along the top of the base and both edges of casing and
	// crown, and up every corner and splice.
	feet := 212 + 2*196 + 2*190 + (32*7.25+24*4.5+29*5.25)/12
	near(t, "caulk, cubic inches", volume(t, purchase(t, l, "caulk").Need).CubicInches(), feet*12*9/2048*1.15, 1e-6)
	// Nails: base 159 studs and 23 runs, casing 147 + 36, crown 143 + 18; two at
	// each and at each splice, but of the casing one, and a brad; 10 % waste; by the
	// pound.
	brads := 147 + 36
	count := 2*(159+23+6) + (147 + 36) + 2*(143+18+9)
	near(t, "nails, pounds", pounds(t, purchase(t, l, "nails").Need), float64(count)*1.1/189, 0.001)
	if n, _ := purchase(t, l, "brads").Need.Pieces(); n != int64(brads*11+9)/10 {
		t.Errorf("%d brads, want %d and a tenth", n, brads)
	}
	count += brads
	near(t, "filler, cubic inches", volume(t, purchase(t, l, "filler").Need).CubicInches(), float64(count)*math.Pi/4/512*4, 0.001)

	// Glue: both faces of 10 joints of base and 13 of crown, an inch through, twice;
	// 250 ft2 per gal.
	near(t, "glue, gallons", volume(t, purchase(t, l, "wood glue").Need).Gallons(), 2*2*(10*7.25+13*5.25)/144/250, 1e-6)

	todo, total := timed(t, l)
	// Labor of the base: 212 ft at a minute and 32 joints at 10 minutes.
	near(t, "installing the base, hours", todo[1].Hours(), (212.0+32*10)/60, 0.001)
	sum := measure.Duration(0)
	for i, s := range l.Steps {
		sum += todo[i]
		if s.Task != finish.TaskClean && len(s.Need.Reasoning) == 0 {
			t.Errorf("%s %s: no reasoning", s.Job, s.Step)
		}
	}
	if sum != total {
		t.Errorf("labor of the steps %v, of the list %v", sum, total)
	}
	topics := map[finish.Hazard]bool{}
	for _, c := range l.Cautions {
		topics[c.Topic] = true
	}
	for _, h := range []finish.Hazard{finish.HazardSaws, finish.HazardWoodDust, finish.HazardSolvents, finish.HazardLadders, finish.HazardGeneral} {
		if !topics[h] {
			t.Errorf("no caution about %v", h)
		}
	}
	if topics[finish.HazardSilica] {
		t.Error("painted trim warns of silica")
	}
}

func TestPlanTileBase(t *testing.T) {
	l := must[*finish.List](t)(finish.NewList(tileJob(), shelf(t)))
	// 212 ft x 6 in = 106 ft2, 10 % waste, 50 lb per 80 ft2: 72.9 lb.
	near(t, "thinset, pounds", pounds(t, purchase(t, l, "thinset").Need), 106*1.1*50/80, 1e-6)
	// Upright joints: 212 x 12 / 12.125 = 209.8, so 210, and 8 outside corners, each
	// 6 x 3/8 x 1/8.
	perPound := 0.45359237 / 1.6 / 0.016387064 // cubic inches
	near(t, "grout, pounds", pounds(t, purchase(t, l, "grout").Need), 218*6*0.375*0.125/perPound*1.1, 1e-6)
	// Sealant: 1/8 in square along floor and top and up 18 inside corners.
	near(t, "sealant, cubic inches", volume(t, purchase(t, l, "sealant").Need).CubicInches(), (2*212*12+18*6)/64.0*1.15, 1e-6)
	silica := false
	for _, c := range l.Cautions {
		silica = silica || c.Topic == finish.HazardSilica
	}
	if !silica {
		t.Error("no caution about silica")
	}
}

// Of two products the cheaper purchase wins; a step may name the other, and what two pools take of
// one product is bought together.
func TestPlanPicksProduct(t *testing.T) {
	caulk := func(label string, price int64) finish.Product {
		return finish.Product{Label: label, Material: "caulk", Packages: []finish.Package{{Size: quantityOf("10.1 fl oz"), Price: price}}}
	}
	s := finish.Shelf{Products: []finish.Product{caulk("dear", 700), caulk("cheap", 400)}}
	job := finish.Job{Label: "base", Length: 200 * ft} // 0.58 of a cartridge of 3/32 in fillet
	steps := func(pins ...string) []finish.Work {
		var sys finish.System
		for _, p := range pins {
			sys.Steps = append(sys.Steps, finish.Step{Task: finish.TaskCaulk, Product: p})
		}
		return []finish.Work{{System: sys, Job: job}}
	}
	for _, c := range []struct {
		pins []string
		cost int64
		buys int
	}{
		{[]string{""}, 400, 1},
		{[]string{"dear"}, 700, 1},
		{[]string{"", "cheap"}, 800, 1},
		{[]string{"", "dear"}, 1100, 2},
		{[]string{"", "", ""}, 800, 1},
	} {
		l := must[*finish.List](t)(finish.NewList(steps(c.pins...), s))
		if l.Cost != c.cost || len(l.Purchases) != c.buys {
			t.Errorf("pins %q: %d purchases cost %d, want %d at %d", c.pins, len(l.Purchases), l.Cost, c.buys, c.cost)
		}
	}
	if _, err := finish.NewList(steps("none such"), s); err == nil {
		t.Error("no error for a step that names a missing product")
	}
}

func TestPlanOfNothing(t *testing.T) {
	none := func(l *finish.List) {
		t.Helper()
		if _, total := timed(t, l); total != 0 {
			t.Errorf("nothing takes %v", total)
		}
	}
	l := must[*finish.List](t)(finish.NewList(nil, finish.Shelf{}))
	if l.Cost != 0 || l.Purchases != nil || l.Cautions != nil {
		t.Errorf("no work: %+v", l)
	}
	none(l)
	w := append(paintedJobs(), finish.Work{System: finish.TileBase(), Job: finish.Job{Label: "hearth"}})
	for i := range w {
		w[i].Job.Length = 0
	}
	l = must[*finish.List](t)(finish.NewList(w, finish.Shelf{}))
	if l.Cost != 0 || l.Purchases != nil || l.Cautions != nil {
		t.Errorf("work of no length: cost %d, purchases %v", l.Cost, l.Purchases)
	}
	none(l)
}

// Rod behind the sealant and a wash before the paint, by step (derived).
func TestPlanRodAndCleaner(t *testing.T) {
	shelf := finish.Shelf{Products: []finish.Product{
		{Label: "foam rod", Material: "backer rod", Packages: []finish.Package{{Size: quantityOf("100 ft"), Price: 1299}}},
		{Label: "soap", Material: "cleaner", Yield: yieldOf("600 sq ft per qt"), Packages: []finish.Package{{Size: quantityOf("1 qt"), Price: 899}}},
	}}
	work := []finish.Work{{Job: finish.Job{Label: "base", Length: 90 * ft, Height: 8 * in}, System: finish.System{Steps: []finish.Step{
		{Task: finish.TaskBackerRod, Lines: 2, Section: finish.Section{Width: in / 2}},
		{Task: finish.TaskClean, Material: "cleaner", Coats: 2},
		{Task: finish.TaskClean, Material: "cleaner", Yield: yieldOf("60 sq ft per qt")},
		{Task: finish.TaskClean},
	}}}}
	l := must[*finish.List](t)(finish.NewList(work, shelf))
	if got := purchase(t, l, "backer rod"); got.Need != finish.AmountOf(180*ft) || got.Packages != 2 {
		t.Errorf("rod: %+v, want 180 ft in two packs", got)
	}
	if got := purchase(t, l, "cleaner"); got.Need != quantityOf("1.2 qt") || got.Packages != 2 {
		t.Errorf("cleaner: %+v, want 2 x 60/600 and 60/60 of a quart", got)
	}
	each, _ := timed(t, l)
	if n := l.Steps[3].Need; n.Material != "" || !n.Gross.IsZero() || each[3] == 0 {
		t.Errorf("cleaning without a material: %+v, want labor only", l.Steps[3])
	}
}

// Factory-primed trim is primed where the shop exposed bare wood: an inch for each hole and the height
// for each of two ends of 23 runs and 6 splices (derived).
func TestPreprimedIsSpotPrimed(t *testing.T) {
	w := paintedJobs()[:1]
	w[0].Job.Preprimed = true
	l := must[*finish.List](t)(finish.NewList(w, shelf(t)))
	holes := 0.0
	primed := 0
	todo, _ := timed(t, l)
	for i, s := range l.Steps {
		if s.Task == finish.TaskInstall {
			n, _ := s.Need.Net.Pieces()
			holes = float64(n)
		}
		if s.Task != finish.TaskPrime {
			continue
		}
		primed++
		inches := holes + 2*29*7.25
		a, _ := s.Need.Net.Area()
		near(t, "spots, square inches", a.SquareFeet()*144, inches, 1e-6)
		near(t, "spot priming, hours", todo[i].Hours(), inches/12/80, 0.001)
		if s.Step != "spot prime" {
			t.Errorf("the step is %q", s.Step)
		}
	}
	if primed != 1 {
		t.Errorf("primed %d times, want once", primed)
	}
}

func TestMinimumOrder(t *testing.T) {
	p := primer()
	p.Minimum = gallons(4)
	for _, c := range []struct{ need, want int64 }{{0, 0}, {1, 4}, {4, 4}, {5, 5}} {
		b := must[*finish.Purchase](t)(finish.Buy(gallons(c.need), p))
		if b.Packages != c.want {
			t.Errorf("%d gallons needed of at least 4: %d bought, want %d", c.need, b.Packages, c.want)
		}
	}
}
