package finish_test

// More published figures, each with its source: cartridges, nail charts, spreading rates, boards, labor
// and the printed cautions.

import (
	"strings"
	"testing"
	"time"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/labor"
	"example.com/longpoint/measure"
)

func cubicInches(t *testing.T, text string) float64 {
	t.Helper()
	return volume(t, quantityOf(text)).CubicInches()
}

// Sealant supplier's FAQ: 10.1 oz = 18.3, 20 oz = 36.6, 27 oz = 48.7 and 30 oz =
// 54.1 cubic inches. Derived: the first two are 300 and 600 mL by another name;
// taken at their word, in fluid ounces, they hold less.
func TestCartridges(t *testing.T) {
	for text, want := range map[string]float64{"300 mL": 18.3, "600 mL": 36.6, "27 fl oz": 48.7, "30 fl oz": 54.1} {
		near(t, text+" in cubic inches", cubicInches(t, text), want, 0.05)
	}
	for text, printed := range map[string]float64{"10.1 fl oz": 18.3, "20 fl oz": 36.6} {
		if got := cubicInches(t, text); got > printed-0.05 {
			t.Errorf("%s hold %.3f cubic inches, so the figure is wrong: the rounded %v was used", text, got, printed)
		}
	}

	// Weak web pages: 24-27 ft of 1/4 x 1/4 in. Many sheets (from memory): 55-56 ft
	// of 3/16 in round and 30-31 ft of 1/4 in round from 10.1 fl oz.
	for _, c := range []struct {
		s         finish.Section
		low, high float64
	}{
		{finish.Section{Width: in / 4}, 24, 27},
		{finish.Section{Shape: finish.BeadRound, Width: 3 * in / 16}, 55, 56},
		{finish.Section{Shape: finish.BeadRound, Width: in / 4}, 30, 31},
	} {
		l := must[measure.Length](t)(c.s.Reach(volume(t, quantityOf("10.1 fl oz"))))
		if got := l.Feet(); got < c.low || got > c.high {
			t.Errorf("%v reaches %.2f ft, published %v-%v", c.s, got, c.low, c.high)
		}
	}
	// Negative: weak pages promise 100-200 ft, or 50-100 ft, "per tube" of no
	// stated bead. Of the 1/4 in bead no tube gives either.
	if l := must[measure.Length](t)((finish.Section{Width: in / 4}).Reach(volume(t, quantityOf("10.1 fl oz")))); l >= 50*ft {
		t.Errorf("1/4 in bead reaches %v", l)
	}
}

// Virginian-Pilot, 6 April 1996: 900 ft of base and 1,700 ft of casing from 4.5
// cartridges. Derived: a fillet with legs of .0725 in, which needs 0.6 of the default bead, legs of 3/32 in.
func TestTightBead(t *testing.T) {
	perCartridge := 2600 / 4.5
	cartridge := volume(t, quantityOf("10.1 fl oz"))
	leg := finish.Section{Shape: finish.BeadFillet, Width: 725 * in / 10000}
	near(t, "feet of the tight bead", must[measure.Length](t)(leg.Reach(cartridge)).Feet(), perCartridge, 1)
	l := must[*finish.List](t)(finish.NewList([]finish.Work{{System: finish.System{Steps: []finish.Step{{Task: finish.TaskCaulk}}},
		Job: finish.Job{Label: "base and casing", Length: 2600 * ft, Height: 3 * in}}}, shelf(t)))
	near(t, "cartridges of the default bead", volume(t, l.Steps[0].Need.Net).CubicInches()/cartridge.CubicInches(), 4.5/0.598, 0.03)
}

// NAVEDTRA 14044, chapter 6: casing is nailed in pairs about 16 in apart, into
// stud and jamb. Derived: one side of a door 36 x 80 in with 2 1/4 in casing takes six
// pairs a leg and four on the head, 16 finish nails and 16 brads.
func TestCasingOfADoor(t *testing.T) {
	leg, head := (80*in + 3*in/16 + 9*in/4), (36*in + 6*in/16 + 9*in/2)
	l := must[*finish.List](t)(finish.NewList([]finish.Work{{System: finish.PaintedCasing(), Job: finish.Job{
		Label: "casing", Length: 2*leg + head, Height: 9 * in / 4, Runs: 3, Edges: 2, Corners: 2, Glued: 2}}}, shelf(t)))
	for _, s := range l.Steps {
		if n, _ := s.Need.Net.Pieces(); (s.Task == finish.TaskInstall || s.Task == finish.TaskBrad) && n != 16 {
			t.Errorf("%v: %d, want 16", s.Task, n)
		}
	}
}

// Derived: 100 ft of 12 x 4 x 3/8 in tile with joints of 1/8 in is 99 pieces; the 98
// joints between them take 18.375 cubic inches, 1.063 lb of grout at 100 lb per cubic
// foot, the floor joint 1/8 x 1/4 in 37.5 cubic inches of sealant, and the backs are
// 33.33 square feet.
func TestTileBaseByHand(t *testing.T) {
	const pound = "1 cu ft per 100 lb"
	system := finish.System{Steps: []finish.Step{
		{Task: finish.TaskSet},
		{Task: finish.TaskGrout, Top: true, Yield: yieldOf(pound)},
		{Task: finish.TaskGrout, Yield: yieldOf(pound)},
		{Task: finish.TaskCaulk, Material: "sealant", Section: finish.Section{Width: in / 8, Depth: in / 4}},
	}}
	l := must[*finish.List](t)(finish.NewList([]finish.Work{{System: system, Job: finish.Job{Label: "base", Length: 100 * ft, Height: 4 * in,
		CourseJoints: 98, Tile: finish.Tile{Length: 12 * in, Thickness: 3 * in / 8, Joint: in / 8}}}}, shelf(t)))
	back, _ := l.Steps[0].Need.Net.Area()
	near(t, "backs, square feet", back.SquareFeet(), 33.33, 0.005)
	near(t, "grout, pounds", pounds(t, l.Steps[2].Need.Net), 1.063, 0.001)
	near(t, "grout with the top, pounds", pounds(t, l.Steps[1].Need.Net), (18.375+1200*0.375*0.125)/1728*100, 0.001)
	near(t, "sealant at the floor, cubic inches", volume(t, l.Steps[3].Need.Net).CubicInches(), 37.5, 1e-6)
}

// Woodworking nail chart, finishing nails per pound. The chart of the package
// (sizes.com) agrees within a tenth.
func TestNailChartsAgree(t *testing.T) {
	other := map[int]float64{2: 1300, 3: 880, 4: 600, 5: 500, 6: 300, 8: 200, 10: 120, 12: 110, 16: 90, 20: 60}
	agreed := 0
	for _, n := range chart("finishing") {
		if want, ok := other[n.Penny]; ok {
			near(t, "finishing nails per pound", float64(n.PerPound), want, want/10)
			agreed++
		}
	}
	if agreed != len(other) {
		t.Errorf("%d sizes compared, want %d", agreed, len(other))
	}

	// ICS Building Construction, volume 4: cut finish nails, 6d 204, 8d 102, 10d 80.
	for i, want := range []int64{204, 102, 80} {
		if n := chart("cut finish")[i]; n.PerPound != want {
			t.Errorf("%dd cut finish nails: %d per pound, want %d", n.Penny, n.PerPound, want)
		}
	}

	// US Army course EN0069A: the rule 1.67 x d x MBF gives 105.21 lb for ten-penny
	// nails and 6.3 MBF where the count gives 97.3. Negative: it says the rule is
	// 8.25 % higher; it is 8.13 %.
	byCount := pounds(t, must[finish.Amount](t)(yieldOf("74 ct per lb").Material(finish.Count(7200))))
	byRule := 1.67 * 10 * 6.3
	near(t, "the rule, pounds", byRule, 105.21, 0.005)
	near(t, "the rule over the count, percent", (byRule/byCount-1)*100, 8.13, 0.005)

	// NAVEDTRA 14044: two nails to a stud. Derived: 1.5 a foot at 16 in, 1 at 24.
	for spacing, want := range map[measure.Length]int64{16 * in: 1500, 24 * in: 1000} {
		n := must[finish.Need](t)(finish.Nails{Length: 1000 * ft, Spacing: spacing}.Need())
		if got, _ := n.Net.Pieces(); got != want+2 { // and both nails of the last stud
			t.Errorf("1000 ft at %v: %d nails, want %d", spacing, got, want+2)
		}
	}
}

// A gallon covers the published areas, in the published units.
func TestPublishedSpread(t *testing.T) {
	gallon := finish.AmountOf(measure.Gallon)
	for _, c := range []struct {
		source, yield string
		low, high     float64 // square feet per gallon
	}{
		{"Cyclopedia of Architecture, Carpentry and Building, priming 50 square yards", "50 sq yd per gal", 450, 450},
		{"the same, white 44 square yards", "44 sq yd per gal", 396, 396},
		{"mastic data sheet, 3/16 x 5/32 in V notch, 3.5 gal do 95-112", "94.5 sq ft per 3.5 gal", 27, 32},
		{"mastic data sheet, 1/4 in square notch, 3.5 gal do 63-81", "63 sq ft per 3.5 gal", 18, 23},
	} {
		a, _ := must[finish.Amount](t)(yieldOf(c.yield).Work(gallon)).Area()
		if got := a.SquareFeet(); got < c.low-1e-9 || got > c.high+1e-9 {
			t.Errorf("%s: %v square feet, want %v to %v", c.source, got, c.low, c.high)
		}
	}
	// The mastic's high ends, rounded up on the sheet.
	for yield, want := range map[string]float64{"32 sq ft per gal": 112, "23 sq ft per gal": 80.5} {
		a, _ := must[finish.Amount](t)(yieldOf(yield).Work(quantityOf("3.5 gal"))).Area()
		near(t, "3.5 gal of mastic at "+yield, a.SquareFeet(), want, 1e-6)
	}

	// The defaults if nothing is stated: primer 300, the high end of Griffith's old work (Painting,
	// 1916, 250-300) and within the 200 of a reference Q&A to the 450 above; paint 350, Griffith's new
	// work and a contractor's page.
	shelf := finish.Shelf{Products: []finish.Product{
		{Label: "p", Material: "primer", Packages: []finish.Package{{Size: gallon}}}, {Label: "f", Material: "paint", Packages: []finish.Package{{Size: gallon}}}}}
	l := must[*finish.List](t)(finish.NewList([]finish.Work{{Job: finish.Job{Label: "base", Length: 2100 * ft, Height: ft},
		System: finish.System{Steps: []finish.Step{{Task: finish.TaskPrime}, {Task: finish.TaskPaint}}}}}, shelf))
	near(t, "primer for 2100 square feet, gallons", volume(t, purchase(t, l, "primer").Need).Gallons(), 2100.0/300, 1e-9)
	near(t, "paint for 2100 square feet, gallons", volume(t, purchase(t, l, "paint").Need).Gallons(), 2100.0/350, 1e-9)

	// Contractor's page: trim takes running feet x 0.5 / 350 gallons.
	n := must[finish.Need](t)(finish.Coating{Length: 421 * ft, Face: 6 * in, Spread: yieldOf("350 sq ft per gal")}.Need())
	near(t, "421 ft of trim, gallons", volume(t, n.Net).Gallons(), 421*0.5/350, 1e-9)

	// Cyclopedia of Architecture, Carpentry and Building: a pound of putty stops 20
	// square yards.
	w := must[finish.Amount](t)(yieldOf("180 sq ft per lb").Material(quantityOf("360 sq ft")))
	if w != finish.AmountOf(2*measure.Pound) {
		t.Errorf("putty for 40 square yards: %v, want 2 lb", w)
	}
}

// Grout maker's bulletin: a joint of 1/8 in that is 1/32 wider takes 25 % more.
// By the pitch formula it is a little less, the less the smaller the tile
// (derived).
func TestWiderJoint(t *testing.T) {
	a := grout(t, 1000*measure.SquareFoot, tile(12*in, 12*in, 3*in/8, in/8))
	b := grout(t, 1000*measure.SquareFoot, tile(12*in, 12*in, 3*in/8, 5*in/32))
	near(t, "5/32 in joints over 1/8 in, percent", (b/a-1)*100, 25, 0.5)
}

func TestBoards(t *testing.T) {
	board := func(thick, wide, long measure.Length, count int64) float64 {
		a := must[measure.Area](t)(thick.Area(wide, measure.RoundHalfEven))
		v := must[measure.Volume](t)(a.Volume(long, measure.RoundHalfEven))
		return float64(v) * float64(count) / float64(measure.BoardFoot)
	}
	for _, c := range []struct {
		source            string
		thick, wide, feet measure.Length
		count             int64
		want              float64
	}{
		{"sawmill page", 3, 8, 10, 1, 20},
		{"reclaimed-timber firm, Workshop math", 4, 6, 10, 1, 20},
		{"woodworking encyclopedia, Calculating board feet", 1, 3, 8, 1, 2},
		{"US Army course EN5155, 14 pieces", 1, 4, 8, 14, 37 + 1.0/3},
	} {
		near(t, c.source+", board feet", board(c.thick*in, c.wide*in, c.feet*ft, c.count), c.want, 1e-6)
	}

	// US Army course EN0069A: 500 and 300 sticks and 10 % are 550 and 330; 100
	// tables of 63 board feet are 6.3 thousand.
	for need, want := range map[int64]int64{500: 550, 300: 330} {
		if got := must[finish.Amount](t)(finish.Waste{Share: 10 * measure.Percent}.Apply(finish.Count(need))); got != finish.Count(want) {
			t.Errorf("%d sticks and 10%%: %v, want %d", need, got, want)
		}
	}
	if v := must[measure.Volume](t)((63 * measure.BoardFoot).Mul(100)); v != 6300*measure.BoardFoot {
		t.Errorf("100 tables of 63 board feet are %v", v)
	}

	// Flooring retailer: 80 ft in lengths of 8 ft are 10 pieces; always round up.
	p := finish.Product{Label: "base", Material: "trim", Packages: []finish.Package{{Size: finish.AmountOf(8 * ft), Price: 995}}}
	for need, want := range map[measure.Length]int64{80 * ft: 10, 80*ft + 1: 11} {
		if b := must[*finish.Purchase](t)(finish.Buy(finish.AmountOf(need), p)); b.Packages != want {
			t.Errorf("%v takes %d lengths of 8 ft, want %d", need, b.Packages, want)
		}
	}
}

// Griffith, Painting: walls at 150 square feet an hour for the first coat and 90
// for the second. ICS Building Construction, volume 4: 2 1/2 hours to assemble
// and set a door frame with casing. Cyclopedia of Architecture, Carpentry and
// Building: 100 square yards primed in a day outside.
func TestPublishedLabor(t *testing.T) {
	takes := func(task finish.Task, of labor.Event, per string, takes measure.Duration, j finish.Job) time.Duration {
		j.Label = "job"
		l := must[*finish.List](t)(finish.NewList([]finish.Work{{Job: j, System: finish.System{Steps: []finish.Step{{Task: task}}}}},
			finish.Shelf{Products: []finish.Product{
				{Label: "paint", Material: "paint", Packages: []finish.Package{{Size: gallons(1)}}},
				{Label: "primer", Material: "primer", Packages: []finish.Package{{Size: gallons(1)}}},
				{Label: "filler", Material: "filler", Packages: []finish.Package{{Size: gallons(1)}}}}}))
		return time.Duration(hours(t, l, labor.Rate{Task: task, Event: of, Per: quantityOf(per), Time: takes}))
	}
	wall := finish.Job{Length: 50 * ft, Height: 9 * ft}
	if got := takes(finish.TaskPrime, labor.EventArea, "150 sq ft", hour, wall); got != 3*time.Hour {
		t.Errorf("450 square feet, first coat: %v, want 3 h", got)
	}
	if got := takes(finish.TaskPaint, labor.EventArea, "90 sq ft", hour, wall); got != 5*time.Hour {
		t.Errorf("450 square feet, second coat: %v, want 5 h", got)
	}
	if got := takes(finish.TaskPrime, labor.EventArea, "112.5 sq ft", hour, finish.Job{Length: 100 * ft, Height: 9 * ft}); got != 8*time.Hour {
		t.Errorf("100 square yards: %v, want a day of 8 h", got)
	}
	if got := takes(finish.TaskFill, labor.EventCount, "1 ct", 5*hour/2, finish.Job{Length: ft, Holes: 4}); got != 10*time.Hour { // any counted work
		t.Errorf("four at 2 1/2 hours each: %v, want 10 h", got)
	}
}

// The figures that the cautions print are those of their sources.
func TestCautionFigures(t *testing.T) {
	for _, c := range []struct {
		hazard  finish.Hazard
		source  string
		figures []string
	}{
		{finish.HazardSaws, "29 CFR 1926.300(b)(1)", []string{"guards"}},
		{finish.HazardSmallPieces, "table-saw manual; school shop sheet", []string{"under 6 in", "12 in"}},
		{finish.HazardWoodDust, "OSHA wood dust page", []string{"15 mg/m3", "5 mg/m3", "1 mg/m3"}},
		{finish.HazardFiberboard, "eLCOSH, MDF (2010)", []string{"formaldehyde", "months to years"}},
		{finish.HazardSilica, "29 CFR 1926.1153 and its Table 1", []string{"50 ug/m3", "25 ug/m3", "8-hour"}},
		{finish.HazardSilica, "29 CFR 1926.702(i)", []string{"semicircular guard"}},
		{finish.HazardSilica, "29 CFR 1926.1153, Table 1", []string{"25 cu ft a minute for each inch", "99 %", "four hours"}},
		{finish.HazardSilica, "stone trade guide", []string{"93 %", "98 %", "25 to 30 %"}},
		{finish.HazardNailers, "Nail Gun Safety (2011)", []string{"doubles the risk", "Two of five", "four years", "12 in"}},
		{finish.HazardNailers, "1926.302(b)(3) and (5)", []string{"100 psi", "rated"}},
		{finish.HazardAir, "1926.302(b)(1), (4), (6) and (7)", []string{"30 psi", "1/2 in", "by their hoses"}},
		{finish.HazardTableSaw, "1926.304", []string{"riving knife", "never freehand"}},
		{finish.HazardPower, "1926.404(b)(1) and 1926.405", []string{"ground-fault", "three-wire"}},
		{finish.HazardRespirators, "1926.103 and 1910.134", []string{"medically cleared", "fit-tested", "program"}},
		{finish.HazardSolvents, "1910.1200, 1926.57 and 1926.152", []string{"data sheet", "Ventilate", "flames"}},
		{finish.HazardOilyRags, "1926.252(e)", []string{"covered container"}},
		{finish.HazardAsbestos, "1926.1101(k)", []string{"before 1981", "licensed abatement"}},
		{finish.HazardScrap, "1926.25", []string{"bend them over", "walkways"}},
		{finish.HazardHiddenServices, "1926.416", []string{"live", "wiring"}},
		{finish.HazardLadders, "1926.1053(b)", []string{"a quarter of its working length", "3 ft", "top step"}},
		{finish.HazardScaffold, "1926.451 and 1926.452(w)", []string{"10 ft", "2 ft", "18 in", "each shift", "casters"}},
		{finish.HazardFalls, "1926.501", []string{"6 ft"}},
		{finish.HazardHotPlastic, "California Code of Regulations, Title 8, section 4296", []string{"push stick"}},
		{finish.HazardNoise, "29 CFR 1926.52, Table D-2", []string{"90 dBA is allowed for 8 hours", "100 dBA for 2", "110 dBA for half"}},
		{finish.HazardLeadPaint, "40 CFR 745.83", []string{"more than 6 sq ft", "30 days", "2 sq ft"}},
	} {
		list := must[[]finish.Caution](t)(finish.Cautions(measure.Locale{}, c.hazard))
		found := false
		for _, k := range list {
			if k.Topic != c.hazard || !strings.Contains(k.Source, c.source) {
				continue
			}
			found = true
			for _, f := range c.figures {
				if !strings.Contains(k.Text, f) {
					t.Errorf("%v, %s: %q does not say %q", c.hazard, c.source, k.Text, f)
				}
			}
		}
		last := list[len(list)-1]
		if !found || last.Topic != finish.HazardGeneral || !strings.Contains(last.Text, "Local codes, the product's own sheet and licensed practice") {
			t.Errorf("%v: source %q found %v, last %q", c.hazard, c.source, found, last.Text)
		}
	}
	// Every hazard has a trigger, a text and a source.
	for _, h := range []finish.Hazard{finish.HazardSaws, finish.HazardSmallPieces, finish.HazardNailers, finish.HazardWoodDust, finish.HazardFiberboard, finish.HazardSilica, finish.HazardSolvents, finish.HazardHotPlastic, finish.HazardNoise, finish.HazardLeadPaint, finish.HazardHiddenServices, finish.HazardLadders, finish.HazardTableSaw, finish.HazardAir, finish.HazardPower, finish.HazardRespirators, finish.HazardOilyRags, finish.HazardAsbestos, finish.HazardScrap, finish.HazardScaffold, finish.HazardFalls, finish.HazardGeneral} {
		for _, k := range must[[]finish.Caution](t)(finish.Cautions(measure.Locale{}, h)) {
			if k.Trigger == "" || k.Text == "" || k.Source == "" {
				t.Errorf("%v: %+v", h, k)
			}
		}
	}
}
