package finish_test

import (
	"encoding"
	"encoding/json"
	"errors"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
)

func gallons(n int64) finish.Amount { return finish.AmountOf(measure.Volume(n) * measure.Gallon) }

func primer() finish.Product {
	return finish.Product{Label: "primer", Material: "primer", Packages: []finish.Package{{Label: "gallon", Size: gallons(1), Price: 2899}}}
}

func TestFieldErrors(t *testing.T) {
	spread := yieldOf("350 sq ft per gal")
	bead := finish.Section{Width: in / 8}
	k := finish.Tile{Length: ft, Width: 4 * in, Thickness: in / 4, Joint: in / 8}
	edit := func(f func(*finish.Product)) finish.Product {
		p := primer()
		f(&p)
		return p
	}
	buy := func(p finish.Product) func() error {
		return func() error { _, err := finish.Buy(gallons(1), p); return err }
	}
	need := func(q quantity) func() error { return func() error { _, err := q.Need(); return err } }
	plan := func(w []finish.Work, s finish.Shelf) func() error {
		return func() error { _, err := finish.NewList(w, s); return err }
	}
	price := func(c estimate.Alternative, terms estimate.Terms) func() error {
		return func() error { _, err := estimate.NewQuote(c, terms); return err }
	}
	good := estimate.Alternative{Label: "pine", Net: ft}
	job := func(f func(*finish.Job)) []finish.Work {
		j := finish.Job{Label: "base", Length: ft}
		f(&j)
		return []finish.Work{{Job: j}}
	}
	for _, c := range []struct {
		name, field, value string
		do                 func() error
	}{
		{"no width", "section.width", "0 ft", need(finish.Bead{Length: ft})},
		{"negative depth", "section.depth", "-1 in", need(finish.Bead{Section: finish.Section{Width: in, Depth: -in}, Length: ft})},
		{"depth of a round bead", "section.depth", "1 in", need(finish.Bead{Section: finish.Section{Shape: finish.BeadRound, Width: in, Depth: in}, Length: ft})},
		{"unknown shape", "section.shape", "9", need(finish.Bead{Section: finish.Section{Shape: 9, Width: in}, Length: ft})},
		{"negative length", "length", "-1 ft", need(finish.Bead{Section: bead, Length: -ft})},
		{"negative waste", "waste.share", "-1%", need(finish.Bead{Section: bead, Length: ft, Waste: finish.Waste{Share: -measure.Percent}})},
		{"all of the purchase lost", "waste.share", "100%", need(finish.Bead{Section: bead, Length: ft, Waste: finish.Waste{Share: 100 * measure.Percent, OfPurchase: true}})},
		{"path", "path", "-5%", need(finish.Adhesive{Section: bead, Length: ft, Path: -5 * measure.Percent})},
		{"studs", "spacing", "-1 in", need(finish.Nails{Length: ft, Spacing: -in})},
		{"nails at a stud", "per_stud", "-2", need(finish.Nails{Length: ft, PerStud: -2})},
		{"holes", "count", "-1", need(finish.Holes{Count: -1})},
		{"times", "times", "-1", need(finish.Sanding{Length: ft, Times: -1})},
		{"coats", "coats", "-1", need(finish.Coating{Length: ft, Coats: -1, Spread: spread})},
		{"no spreading rate", "spread", "not stated", need(finish.Coating{Length: ft})},
		{"lines", "lines", "-3", need(finish.Masking{Length: ft, Lines: -3})},
		{"rod joint", "joint", "-1 in", need(finish.BackerRod{Length: ft, Joint: -in})},
		{"rod length", "length", "-1 ft", need(finish.BackerRod{Length: -ft})},
		{"rod oversize", "oversize", "101%", need(finish.BackerRod{Length: ft, Oversize: 101 * measure.Percent})},
		{"product dries before it was put on", "products[0].dry.recoat", "-1h", plan(nil, finish.Shelf{Products: []finish.Product{edit(func(p *finish.Product) { p.Dry.Recoat = -hour })}})},
		{"drying twice", "drying[1].task", "fill", plan(nil, finish.Shelf{Drying: []finish.TaskDrying{{Task: finish.TaskFill}, {Task: finish.TaskFill}}})},
		{"drying of what task", "drying[0].task", "99", plan(nil, finish.Shelf{Drying: []finish.TaskDrying{{Task: 99}}})},
		{"cures before it can be recoated", "drying[0].dry.cure", "1h", plan(nil, finish.Shelf{Drying: []finish.TaskDrying{{Task: finish.TaskFill, Dry: finish.Drying{Recoat: 2 * hour, Cure: hour}}}})},
		{"step dries backward", "work[0].system.steps[0].dry.recoat", "-1h", plan([]finish.Work{{Job: finish.Job{Label: "base"}, System: finish.System{Steps: []finish.Step{{Dry: finish.Drying{Recoat: -hour}}}}}}, finish.Shelf{})},
		{"mortar height", "height", "-1 in", need(finish.Mortar{Length: ft, Height: -in, Coverage: yieldOf("80 sq ft per 50 lb")})},
		{"tile", "tile.width", "0 ft", need(finish.Grout{Tile: finish.Tile{Length: in}})},
		{"joint", "tile.joint", "-1 in", need(finish.Grout{Tile: finish.Tile{Length: in, Width: in, Thickness: in, Joint: -in}})},
		{"ends", "ends", "-1", need(finish.Grout{Tile: k, Ends: -1})},

		{"no label", "label", "", buy(edit(func(p *finish.Product) { p.Label = "" }))},
		{"no material", "material", "", buy(edit(func(p *finish.Product) { p.Material = "" }))},
		{"no packages", "packages", "0", buy(edit(func(p *finish.Product) { p.Packages = nil }))},
		{"empty package", "packages[0].size", "0 gal", buy(edit(func(p *finish.Product) { p.Packages[0].Size = gallons(0) }))},
		{"negative price", "packages[0].price", "-1", buy(edit(func(p *finish.Product) { p.Packages[0].Price = -1 }))},
		{"package twice", "packages[1].label", "gallon", buy(edit(func(p *finish.Product) { p.Packages = append(p.Packages, p.Packages[0]) }))},
		{"less than nothing on hand", "on_hand", "-1 gal", buy(edit(func(p *finish.Product) { p.OnHand = gallons(-1) }))},
		{"half a yield", "yield", "1 gal per 0 ct", buy(edit(func(p *finish.Product) { p.Yield.Covers = gallons(1) }))},
		{"negative need", "need", "-1 gal", func() error { _, err := finish.Buy(gallons(-1), primer()); return err }},

		{"product twice", "products[1].label", "primer", plan(nil, finish.Shelf{Products: []finish.Product{primer(), primer()}})},
		{"bad product", "products[0].packages[0].price", "-1", plan(nil, finish.Shelf{Products: []finish.Product{edit(func(p *finish.Product) { p.Packages[0].Price = -1 })}})},
		{"no job label", "work[0].job.label", "", plan(job(func(j *finish.Job) { j.Label = "" }), finish.Shelf{})},
		{"job twice", "work[1].job.label", "base", plan(append(job(func(*finish.Job) {}), job(func(*finish.Job) {})...), finish.Shelf{})},
		{"negative corners", "work[0].job.corners", "-4", plan(job(func(j *finish.Job) { j.Corners = -4 }), finish.Shelf{})},
		{"negative run", "work[0].job.length", "-1 ft", plan(job(func(j *finish.Job) { j.Length = -ft }), finish.Shelf{})},
		{"unknown task", "work[0].system.steps[0].task", "99", plan([]finish.Work{{Job: finish.Job{Label: "base"}, System: finish.System{Steps: []finish.Step{{Task: 99}}}}}, finish.Shelf{})},

		{"no height of a tile that is sealed", "work[0].job.tile.width", "0 ft", plan([]finish.Work{{Job: finish.Job{Label: "base", Length: ft, Tile: finish.Tile{Length: ft, Thickness: in}}, System: finish.System{Steps: []finish.Step{{Task: finish.TaskCaulk}}}}}, finish.Shelf{})},
		{"more outside corners than corners", "work[0].job.outside", "3", plan(job(func(j *finish.Job) { j.Corners, j.Outside = 2, 3 }), finish.Shelf{})},
		{"negative edges", "work[0].job.edges", "-1", plan(job(func(j *finish.Job) { j.Edges = -1 }), finish.Shelf{})},
		{"joints between tiles", "between", "-1", need(finish.Grout{Tile: k, Between: -1})},
		{"occupancy", "occupancy", "9", func() error {
			_, err := finish.USLeadRule().Cautions(finish.Building{Occupancy: 9}, nil, measure.Locale{})
			return err
		}},
		{"assisted, and no housing", "assisted", "true", func() error {
			_, err := finish.USLeadRule().Cautions(finish.Building{Occupancy: finish.OccupancyOther, Assisted: true}, nil, measure.Locale{})
			return err
		}},
		{"no tile", "work[0].job.tile.length", "0 ft", plan([]finish.Work{{Job: finish.Job{Label: "base", Length: ft, Height: in}, System: finish.TileBase()}}, finish.Shelf{})},

		{"no candidate label", "label", "", price(estimate.Alternative{Net: ft}, estimate.Terms{})},
		{"no net length", "alternatives[0].net", `0"`, func() error {
			_, err := estimate.Compare([]estimate.Alternative{{Label: "pine"}}, estimate.Terms{})
			return err
		}},
		{"negative sticks", "stick_cost", "-1", price(estimate.Alternative{Label: "pine", Net: ft, StickCost: -1}, estimate.Terms{})},
		{"extra twice", "costs[1].label", "delivery", price(estimate.Alternative{Label: "pine", Net: ft, Costs: []estimate.Cost{{Label: "delivery"}, {Label: "delivery"}}}, estimate.Terms{})},
		{"negative wage", "terms.wage", "-1", price(good, estimate.Terms{Wage: -1})},
		{"margin of all", "terms.margin", "100%", price(good, estimate.Terms{Margin: 100 * measure.Percent})},
		{"markup and margin", "terms.margin", "20%", price(good, estimate.Terms{Markup: 25 * measure.Percent, Margin: 20 * measure.Percent})},
		{"candidate twice", "alternatives[1].label", "pine", func() error {
			_, err := estimate.Compare([]estimate.Alternative{good, good}, estimate.Terms{})
			return err
		}},
		{"no room", "removed[0].room", "", func() error { _, err := finish.USLeadRule().Rooms([]finish.RemovedTrim{{Length: ft}}); return err }},
		{"negative girth", "removed[0].girth", "-1 in", func() error {
			_, err := finish.USLeadRule().Rooms([]finish.RemovedTrim{{Room: "corridor", Girth: -in}})
			return err
		}},
		{"negative year", "year", "-1", func() error {
			_, err := finish.USLeadRule().Cautions(finish.Building{Year: -1}, nil, measure.Locale{})
			return err
		}},
		{"unknown hazard", "hazards[1]", "dragons", func() error { _, err := finish.Cautions(measure.Locale{}, finish.HazardSaws, "dragons"); return err }},
	} {
		err := c.do()
		var f *measure.FieldError
		if !errors.As(err, &f) {
			t.Errorf("%s: %T %v, want a FieldError", c.name, err, err)
			continue
		}
		if f.Field != c.field || f.Value != c.value || f.Want == "" {
			t.Errorf("%s: field %q value %q reason %q, want field %q value %q", c.name, f.Field, f.Value, f.Want, c.field, c.value)
		}
		if s := err.Error(); !strings.HasPrefix(s, c.field+" is ") || strings.ContainsRune(s, '\n') {
			t.Errorf("%s: %q is not a single line that names the field", c.name, s)
		}
	}
}

func TestOtherErrors(t *testing.T) {
	var d *measure.FieldError
	if _, err := finish.Buy(finish.AmountOf(measure.Pound), primer()); !errors.As(err, &d) || d.Want != "a volume" {
		t.Errorf("buying a weight of primer: %v, want a FieldError that wants a volume", err)
	}
	mixed := primer()
	mixed.Packages = append(mixed.Packages, finish.Package{Size: finish.AmountOf(measure.Pound)})
	if err := mixed.Validate(); !errors.As(err, &d) || d.Field != "packages[1].size" {
		t.Errorf("packages of two kinds: %v, want a FieldError on packages[1].size", err)
	}
	if _, err := (finish.Coating{Length: ft, Face: in, Spread: yieldOf("80 sq ft per lb")}).Need(); !errors.As(err, &d) {
		t.Errorf("paint by the pound: %v, want a FieldError", err)
	}

	// Everything that no product supplies is said at once.
	w := []finish.Work{{Job: finish.Job{Label: "base", Length: ft, Height: in}, System: finish.System{Steps: []finish.Step{{Task: finish.TaskPrime}, {Task: finish.TaskPaint}, {Task: finish.TaskSeal, Product: "shellac"}, {Task: finish.TaskPaint}}}}}
	_, err := finish.NewList(w, finish.Shelf{Products: []finish.Product{primer()}})
	var missing []string
	for f := range measure.FieldErrors(err) {
		missing = append(missing, f.Field+" "+f.Value)
	}
	if want := []string{"products paint", "products shellac"}; !slices.Equal(missing, want) {
		t.Errorf("%v; missing are %q, want %q", err, missing, want)
	}
	if got, want := w[0].System.Materials(), []string{"primer", "paint", "sealer"}; !slices.Equal(got, want) {
		t.Errorf("materials %q, want %q", got, want)
	}

	var o *measure.RangeError
	huge := measure.Length(math.MaxInt64)
	for name, err := range map[string]error{
		"bead": func() error {
			_, err := finish.Bead{Section: finish.Section{Width: huge}, Length: huge}.Need()
			return err
		}(),
		"nails": func() error { _, err := finish.Nails{Length: huge, Spacing: 1}.Need(); return err }(),
		"paint": func() error {
			_, err := finish.Coating{Length: huge, Face: huge, Spread: yieldOf("1 sq ft per gal")}.Need()
			return err
		}(),
		"waste": func() error {
			_, err := finish.Waste{Share: 1}.Apply(finish.AmountOf(measure.Volume(math.MaxInt64)))
			return err
		}(),
		"cost": func() error {
			_, err := estimate.NewQuote(estimate.Alternative{Label: "pine", Net: ft, StickCost: math.MaxInt64, Consumables: 1}, estimate.Terms{})
			return err
		}(),
		"purchase": func() error {
			p := primer()
			p.Packages[0].Price = math.MaxInt64 / 2
			_, err := finish.Buy(gallons(3), p)
			return err
		}(),
		"lead": func() error {
			_, err := finish.USLeadRule().Rooms([]finish.RemovedTrim{{Room: "corridor", Area: math.MaxInt64}, {Room: "corridor", Area: 1}})
			return err
		}(),
	} {
		if !errors.As(err, &o) {
			t.Errorf("%s: %v, want a RangeError", name, err)
		}
	}
}

// A job file names hazards, tasks and shapes by words; for a wrong word the error lists the right ones.
func TestUnknownWords(t *testing.T) {
	for _, c := range []struct {
		text string
		into any
	}{
		{`{"task":"varnish"}`, new(finish.Step)},
		{`{"shape":"oval"}`, new(finish.Section)},
		{`{"labor":"soon"}`, new(estimate.Alternative)},
		{`{"size":"a lot"}`, new(finish.Package)},
		{`{"yield":"plenty per can"}`, new(finish.Product)},
		{`{"tax":"much"}`, new(estimate.Terms)},
	} {
		var field *measure.FieldError
		var text *measure.ParseError
		if err := json.Unmarshal([]byte(c.text), c.into); !errors.As(err, &field) && !errors.As(err, &text) {
			t.Errorf("%s: %v, want a FieldError or a ParseError", c.text, err)
		}
		if err := measure.UnmarshalStrict([]byte(c.text), c.into); !errors.As(err, &field) || field.Field != strings.Split(c.text, `"`)[1] {
			t.Errorf("%s: %v, want a FieldError", c.text, err)
		}
	}
}

// Unreadable text of a quantity is an error of package measure that names the kind of quantity.
func TestBadText(t *testing.T) {
	parse := func(kind, text string) (err error) {
		if kind == "yield" {
			_, err = finish.ParseYield(text)
		} else {
			_, err = finish.ParseAmount(text)
		}
		return err
	}
	for _, c := range []struct {
		kind, text, part string
		err              error
	}{
		{"amount", "NaN gal", "NaN gal", measure.ErrUnit},
		{"amount", "Inf", "Inf", measure.ErrUnit},
		{"amount", "", "", measure.ErrSyntax},
		{"amount", "1.0000001 ct", "1.0000001 ct", measure.ErrInexact},
		{"amount", "10000000000000 ct", "10000000000000 ct", measure.ErrRange},
		{"amount", "1/3 lb", "1/3 lb", measure.ErrInexact},
		{"amount", "1e9 lb", "1e9 lb", measure.ErrUnit},
		{"yield", "350 sq ft", "350 sq ft", measure.ErrSyntax},
		{"yield", "plenty per can", "plenty", measure.ErrUnit},
		{"yield", "350 sq ft per heap", "heap", measure.ErrUnit},
		{"yield", "0 sq ft per gal", "0 sq ft per gal", measure.ErrRange},
	} {
		err := parse(c.kind, c.text)
		var p *measure.ParseError
		if !errors.As(err, &p) || p.Kind != c.kind || p.Input != c.text || p.Part != c.part || p.Input[p.Offset:p.Offset+len(p.Part)] != p.Part || p.Reason == "" || !errors.Is(err, c.err) {
			t.Errorf("%s %q: %#v, want %v at %q", c.kind, c.text, err, c.err, c.part)
		}
	}
}

// An unknown kind prints as its number, and is neither written nor read.
func TestUnknownKinds(t *testing.T) {
	for _, c := range []struct {
		text string
		kind interface {
			String() string
			MarshalText() ([]byte, error)
		}
	}{{"Task(99)", finish.Task(99)}, {"BeadShape(9)", finish.BeadShape(9)}, {"Occupancy(4)", finish.Occupancy(4)}} {
		if got := c.kind.String(); got != c.text {
			t.Errorf("%s prints as %s", c.text, got)
		}
		if _, err := c.kind.MarshalText(); !errors.As(err, new(*measure.FieldError)) {
			t.Errorf("%s is written: %v", c.text, err)
		}
	}
	if err := new(finish.Task).UnmarshalText([]byte("Task(99)")); !errors.As(err, new(*measure.FieldError)) {
		t.Errorf("Task(99) is read: %v", err)
	}
}

// Everything that is wrong is said at once, in the order of the data.
func TestAllFaultsAtOnce(t *testing.T) {
	shelf := finish.Shelf{Products: []finish.Product{
		{Label: "a", Packages: []finish.Package{{Price: -1}}},
		{Label: "a", Material: "paint", Packages: []finish.Package{{Size: gallons(1)}}, Hazards: []finish.Hazard{"dragons"}},
	}, Drying: []finish.TaskDrying{{Task: 99}, {Task: finish.TaskFill, Dry: finish.Drying{Recoat: -1}}}}
	work := []finish.Work{
		{Job: finish.Job{Length: -ft, Corners: 1, Outside: 2}, System: finish.System{Steps: []finish.Step{{Task: 99}, {Task: finish.TaskFill, Coats: -1}}}},
		{Job: finish.Job{Label: "b"}},
		{Job: finish.Job{Label: "b"}},
	}
	_, err := finish.NewList(work, shelf)
	var got []string
	for f := range measure.FieldErrors(err) {
		got = append(got, f.Field)
	}
	want := []string{
		"products[0].material", "products[0].packages[0].size", "products[0].packages[0].price",
		"products[1].label", "products[1].hazards[0]", "drying[0].task", "drying[1].dry.recoat",
		"work[0].job.label", "work[0].job.length", "work[0].job.outside", "work[2].job.label",
	}
	if !slices.Equal(got, want) {
		t.Errorf("faults at\n%q, want\n%q", got, want)
	}
}

// Faults come in the order in which the fields stand in the type, whatever is wrong, and
// no fault hides another.
func TestFaultsInOrderOfFields(t *testing.T) {
	bad := finish.Drying{Recoat: -1, Cure: -1}
	product := finish.Product{Packages: []finish.Package{{Size: finish.Count(-1), Price: -1}, {Size: finish.Count(-1), Price: -1}}, OnHand: finish.Count(-1), Minimum: finish.Count(-1), Dry: bad, Hazards: []finish.Hazard{"dragons"}}
	empty := product
	empty.Packages = nil
	tile := finish.Tile{Length: -1, Width: -1, Thickness: -1, Joint: -1}
	for _, c := range []struct {
		v    interface{ Validate() error }
		want int
	}{
		{finish.Job{Length: -1, Height: -1, Face: -1, Back: -1, Runs: -1, Edges: -1, Splices: -1, CourseJoints: -1, Corners: -1, Outside: -1, Glued: -1, Studs: -1, Holes: -1, Tile: tile, Hazards: []finish.Hazard{"dragons"}}, 19},
		{finish.Job{Label: "a", Corners: 1, Outside: 2, Glued: -1}, 2},
		{product, 11},
		{empty, 7},
		{finish.Shelf{Products: []finish.Product{{Label: "a"}, {Label: "a", Dry: bad}}, Drying: []finish.TaskDrying{{Task: 99, Dry: bad}, {Task: 99, Dry: bad}}, Locale: measure.Locale{Currency: measure.Currency{Symbol: "\xff", Minor: 3}}}, 12},
	} {
		var got [][]int
		for f := range measure.FieldErrors(c.v.Validate()) {
			got = append(got, place(t, reflect.TypeOf(c.v), f.Field))
		}
		if !slices.IsSortedFunc(got, slices.Compare[[]int]) || len(got) != c.want {
			t.Errorf("%T: %d faults, want %d in order:\n%v", c.v, len(got), c.want, c.v.Validate())
		}
	}
}

// place returns the indices of a path within a type: of the field or of the element.
func place(t *testing.T, typ reflect.Type, path string) []int {
	var at []int
	for _, name := range strings.FieldsFunc(path, func(r rune) bool { return r == '.' || r == '[' || r == ']' }) {
		if i, err := strconv.Atoi(name); err == nil {
			at, typ = append(at, i), typ.Elem()
			continue
		}
		for i := range typ.NumField() {
			if tag, _, _ := strings.Cut(typ.Field(i).Tag.Get("json"), ","); tag == name {
				at, typ, name = append(at, i), typ.Field(i).Type, ""
				break
			}
		}
		if name != "" {
			t.Fatalf("%s: %v does not name field %s", path, typ, name)
		}
	}
	return at
}

// Errors about unreadable input are in good English.
func TestUnknownNames(t *testing.T) {
	for want, v := range map[string]encoding.TextUnmarshaler{"an occupancy: ": new(finish.Occupancy), "a task: ": new(finish.Task), "a shape: ": new(finish.BeadShape)} {
		bad := (*measure.FieldError)(nil)
		if err := v.UnmarshalText([]byte("x")); !errors.As(err, &bad) || !strings.HasPrefix(bad.Want, want) {
			t.Errorf("%v, want %q", err, want)
		}
	}
}
