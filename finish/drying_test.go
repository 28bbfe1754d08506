package finish_test

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/finish"
	"example.com/longpoint/measure"
)

// Paint is in use when the data sheets say so: 14 to 30 days (data sheets of trim
// enamels), by whatever table the package starts from.
func TestPaintCuresAsDataSheetsSay(t *testing.T) {
	for _, d := range finish.DefaultDrying() {
		if day := 24 * hour; d.Task == finish.TaskPaint && (d.Dry.Cure < 14*day || d.Dry.Cure > 30*day) {
			t.Errorf("paint cures in %v, data sheets say 14 to 30 days", d.Dry.Cure)
		}
		if d.Source == "" {
			t.Errorf("%v has no source", d.Task)
		}
	}
}

// If a step states its drying time, that applies; else that of the product bought for it; else the
// shelf's table for the task.
func TestWhichDrying(t *testing.T) {
	own, sheet, table := finish.Drying{Recoat: hour}, finish.Drying{Recoat: 2 * hour}, finish.Drying{Recoat: 3 * hour}
	can := finish.Product{Label: "primer", Material: "primer", Dry: sheet, Packages: []finish.Package{{Size: gallons(1), Price: 1}}}
	unstated := can
	unstated.Label, unstated.Dry, unstated.Packages = "no sheet", finish.Drying{}, []finish.Package{{Size: gallons(1), Price: 2}}
	for _, c := range []struct {
		name string
		step finish.Step
		want finish.Drying
	}{
		{"step", finish.Step{Task: finish.TaskPrime, Dry: own}, own},
		{"product", finish.Step{Task: finish.TaskPrime}, sheet},
		{"shelf", finish.Step{Task: finish.TaskPrime, Product: "no sheet"}, table},
		{"no coat", finish.Step{Task: finish.TaskClean}, finish.Drying{}},
	} {
		l := must[*finish.List](t)(finish.NewList(
			[]finish.Work{{Job: finish.Job{Label: "base", Length: ft, Height: in}, System: finish.System{Steps: []finish.Step{c.step}}}},
			finish.Shelf{Products: []finish.Product{can, unstated}, Drying: []finish.TaskDrying{{Task: finish.TaskPrime, Dry: table}}}))
		if got := l.Steps[0].Dry; got != c.want {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
	}
}

// A sheet that dries by the air, in any order: at least so warm, at most so humid.
var bySheet = finish.Product{Label: "enamel", Material: "paint", Packages: []finish.Package{{Size: gallons(1), Price: 1}},
	DryAt: []finish.DryingRow{
		{MinTemperature: 50 * measure.DegreeF, MaxHumidity: 70 * measure.Percent, Dry: finish.Drying{Recoat: 24 * hour}},
		{MinTemperature: 70 * measure.DegreeF, MaxHumidity: 50 * measure.Percent, Dry: finish.Drying{Recoat: 16 * hour, Cure: 720 * hour}},
		{MinTemperature: 60 * measure.DegreeF, MaxHumidity: 70 * measure.Percent, Dry: finish.Drying{Recoat: 20 * hour}},
	}}

// The row that the site meets counts, the quickest of several; nothing is read between rows.
func TestDryInTheRowThatTheSiteMeets(t *testing.T) {
	for _, c := range []struct {
		temp, humidity int
		want           measure.Duration
		doubt          bool
	}{
		{70, 50, 16 * hour, false}, {75, 30, 16 * hour, false},
		{69, 50, 20 * hour, false}, {70, 51, 20 * hour, false}, {60, 70, 20 * hour, false},
		{59, 40, 24 * hour, false}, {50, 70, 24 * hour, false},
		{49, 40, 24 * hour, true}, {70, 71, 24 * hour, true}, {0, 0, 24 * hour, true},
	} {
		d, doubt := bySheet.DryIn(finish.Climate{Temperature: measure.Temperature(c.temp) * measure.DegreeF, Humidity: measure.Ratio(c.humidity) * measure.Percent})
		if d.Recoat != c.want || (doubt != "") != c.doubt {
			t.Errorf("%d°F %d%%: %v %q, want %v", c.temp, c.humidity, d, doubt, c.want)
		}
		if c.doubt && d.Cure != 720*hour {
			t.Errorf("%d°F %d%%: cures in %v, want the slowest", c.temp, c.humidity, d.Cure)
		}
	}
}

// Warmer and drier air never dries slower, and a climate outside every row takes the slowest.
func TestDryInIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := finish.Product{Label: "p", Material: "paint", Packages: bySheet.Packages}
		for range rapid.IntRange(0, 5).Draw(t, "rows") {
			p.DryAt = append(p.DryAt, finish.DryingRow{
				MinTemperature: measure.Temperature(rapid.IntRange(30, 90).Draw(t, "at")) * measure.DegreeF,
				MaxHumidity:    measure.Ratio(rapid.IntRange(0, 100).Draw(t, "to")) * measure.Percent,
				Dry:            finish.Drying{Recoat: measure.Duration(rapid.IntRange(1, 48).Draw(t, "hours")) * hour}})
		}
		if err := p.Validate(); err != nil {
			t.Fatal(err)
		}
		f, h := rapid.IntRange(20, 100).Draw(t, "°F"), rapid.IntRange(1, 99).Draw(t, "%")
		at := func(f, h int) finish.Climate {
			return finish.Climate{Temperature: measure.Temperature(f) * measure.DegreeF, Humidity: measure.Ratio(h) * measure.Percent}
		}
		here, _ := p.DryIn(at(f, h))
		better, _ := p.DryIn(at(f+rapid.IntRange(0, 20).Draw(t, "warmer"), h-rapid.IntRange(0, h).Draw(t, "drier")))
		unknown, _ := p.DryIn(finish.Climate{})
		if better.Recoat > here.Recoat || here.Recoat > unknown.Recoat {
			t.Fatalf("%v, better air %v, unknown %v", here, better, unknown)
		}
	})
}

// A row that cannot be is named, and so is a climate.
func TestDryingRowsThatCannotBe(t *testing.T) {
	p := bySheet
	p.DryAt = []finish.DryingRow{
		{Dry: finish.Drying{Recoat: hour}},
		{MaxHumidity: -1, Dry: finish.Drying{Recoat: hour}},
		{MaxHumidity: 101 * measure.Percent, Dry: finish.Drying{Recoat: hour}},
		{MaxHumidity: 50 * measure.Percent},
		{Dry: finish.Drying{Recoat: 2 * hour, Cure: hour}},
	}
	_, err := finish.NewList(nil, finish.Shelf{Products: []finish.Product{p}, Climate: finish.Climate{Humidity: 2 * 100 * measure.Percent}})
	var got []string
	for bad := range measure.FieldErrors(err) {
		got = append(got, bad.Field)
	}
	want := []string{"products[0].dry_at[1].max_humidity", "products[0].dry_at[2].max_humidity", "products[0].dry_at[3].dry", "products[0].dry_at[4].dry.cure", "climate.humidity"}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// The list uses the climate of the shelf for drying, and reports unknown drying times.
func TestListDriesByClimate(t *testing.T) {
	for _, c := range []struct {
		climate finish.Climate
		want    measure.Duration
		doubt   bool
	}{
		{finish.Climate{Temperature: 72 * measure.DegreeF, Humidity: 45 * measure.Percent}, 16 * hour, false},
		{finish.Climate{Temperature: 45 * measure.DegreeF, Humidity: 45 * measure.Percent}, 24 * hour, true},
		{finish.Climate{}, 24 * hour, true},
	} {
		l := must[*finish.List](t)(finish.NewList(
			[]finish.Work{{Job: finish.Job{Label: "base", Length: ft, Height: in}, System: finish.System{Steps: []finish.Step{{Task: finish.TaskPaint}}}}},
			finish.Shelf{Products: []finish.Product{bySheet}, Climate: c.climate}))
		if s := l.Steps[0]; s.Dry.Recoat != c.want || (s.DryDoubt != "") != c.doubt {
			t.Errorf("%v: %+v", c.climate, s)
		}
	}
}

// The corridor is colder than the classroom: its enamel waits for the next morning.
func ExampleProduct_DryIn() {
	enamel := finish.Product{Label: "trim enamel", Material: "paint", DryAt: []finish.DryingRow{
		{MinTemperature: 70 * measure.DegreeF, MaxHumidity: 50 * measure.Percent, Dry: finish.Drying{Recoat: 6 * hour}},
		{MinTemperature: 50 * measure.DegreeF, MaxHumidity: 70 * measure.Percent, Dry: finish.Drying{Recoat: 16 * hour}},
	}}
	for _, f := range []measure.Temperature{72, 58, 45} {
		d, doubt := enamel.DryIn(finish.Climate{Temperature: f * measure.DegreeF, Humidity: 45 * measure.Percent})
		fmt.Printf("%v %q\n", d.Recoat, doubt)
	}
	// Output:
	// 6h ""
	// 16h ""
	// 16h "no row of the sheet of trim enamel holds at 45°F and 45% relative humidity: the slowest of its times is used, and it may take longer, or not dry at all"
}
