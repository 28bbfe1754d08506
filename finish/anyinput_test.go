package finish_test

import (
	"context"
	"encoding/json"
	"errors"
	"math"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/finish/labor"
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/measure"
)

// anyInt draws numbers that break arithmetic more often than chance would.
var anyInt = rapid.OneOf(
	rapid.SampledFrom([]int64{0, 1, -1, 2, math.MaxInt64, math.MinInt64, math.MaxInt64 - 1, math.MaxInt32, 1_000_000}),
	rapid.Int64(), rapid.Int64Range(0, 1<<40))

// TestAnyInput feeds every entry point numbers of any size and sign: each returns a valid result or a
// typed error, and none panics.
func TestAnyInput(t *testing.T) {
	typed := func(t *rapid.T, what string, err error) {
		var f *measure.FieldError
		var o *measure.RangeError
		if err != nil && !errors.As(err, &f) && !errors.As(err, &o) {
			t.Fatalf("%s: untyped error %T %v", what, err, err)
		}
		if err != nil && err.Error() == "" {
			t.Fatalf("%s: empty error", what)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		n := func() int64 { return anyInt.Draw(t, "n") }
		l := func() measure.Length { return measure.Length(n()) }
		amount := func() finish.Amount {
			switch rapid.IntRange(0, 4).Draw(t, "kind") {
			case 0:
				return finish.Count(n())
			case 1:
				return finish.AmountOf(l())
			case 2:
				return finish.AmountOf(measure.Area(n()))
			case 3:
				return finish.AmountOf(measure.Volume(n()))
			}
			return finish.AmountOf(measure.Weight(n()))
		}
		yield := func() finish.Yield { return finish.Yield{Covers: amount(), Of: amount()} }
		small := func() uint8 { return rapid.Uint8Range(0, 16).Draw(t, "small") }
		waste := func() finish.Waste {
			return finish.Waste{Share: measure.Ratio(n()), OfPurchase: small()%2 == 0}
		}
		section := func() finish.Section { return finish.Section{Shape: finish.BeadShape(small()), Width: l(), Depth: l()} }
		tile := func() finish.Tile { return finish.Tile{Length: l(), Width: l(), Thickness: l(), Joint: l()} }
		for _, q := range []quantity{
			finish.Bead{Section: section(), Length: l(), Waste: waste()},
			finish.Adhesive{Section: section(), Length: l(), Path: measure.Ratio(n()), Waste: waste()},
			finish.Nails{Length: l(), Runs: n(), Spacing: l(), PerStud: n(), Joints: n(), PerJoint: n(), Waste: waste()},
			finish.Holes{Count: n(), Diameter: l(), Depth: l(), Waste: waste()},
			finish.Sanding{Length: l(), Times: n(), Reach: yield(), Waste: waste()},
			finish.Coating{Length: l(), Face: l(), Area: measure.Area(n()), Coats: n(), Spread: yield(), Waste: waste()},
			finish.Masking{Length: l(), Lines: n(), Waste: waste()},
			finish.Mortar{Length: l(), Height: l(), Area: measure.Area(n()), Coverage: yield(), Waste: waste()},
			finish.Grout{Area: measure.Area(n()), Tile: tile(), Density: yield(), Waste: waste()},
			finish.Grout{Length: l(), Tile: tile(), Ends: n(), Bottom: true, Density: yield(), Waste: waste()},
			finish.Bead{Length: l(), Section: finish.Section{Depth: l()}, Readings: []finish.GapReading{{At: l(), Width: l()}, {At: l(), Width: l()}}, Waste: waste()},
			finish.BackerRod{Length: l(), Joint: l(), Oversize: measure.Ratio(n()), Waste: waste()},
			finish.Coating{Material: "cleaner", Length: l(), Face: l(), Area: measure.Area(n()), Coats: n(), Spread: yield(), Waste: waste()},
		} {
			need, err := q.Need()
			typed(t, "need", err)
			if err == nil && (need.Net.Sign() < 0 || raw(need.Gross) < raw(need.Net)) {
				t.Fatalf("%+v: net %v, gross %v", q, need.Net, need.Gross)
			}
		}
		_, err := section().Area()
		typed(t, "area", err)
		_, err = section().Reach(measure.Volume(n()))
		typed(t, "reach", err)
		_, err = finish.SpreadRate(l(), measure.Ratio(n()), measure.Ratio(n()))
		typed(t, "spread", err)
		_, err = yield().Material(amount())
		typed(t, "material", err)
		_, err = yield().Work(amount())
		typed(t, "work", err)
		_, err = amount().Add(amount())
		typed(t, "add", err)
		_ = amount().String() + yield().String() + measure.Ratio(n()).String() + measure.Duration(n()).String()

		product := func() finish.Product {
			p := finish.Product{Label: "p", Material: "paint", Yield: yield(), OnHand: amount(), Minimum: amount()}
			for range rapid.IntRange(0, 3).Draw(t, "packages") {
				p.Packages = append(p.Packages, finish.Package{Size: amount(), Price: n()})
			}
			return p
		}
		b, err := finish.Buy(amount(), product())
		typed(t, "buy", err)
		if (b == nil) == (err == nil) {
			t.Fatalf("buy: %v, %v", b, err)
		}
		job := finish.Job{Label: "job", Length: l(), Height: l(), Face: l(), Runs: n(), Edges: n(), Splices: n(), CourseJoints: n(), Outside: n(), Glued: n(), Back: l(), Preprimed: n()%2 == 0, Corners: n(), Studs: l(), Holes: n(), Tile: tile(), Hazards: rapid.SliceOfN(rapid.SampledFrom([]finish.Hazard{finish.HazardSaws, finish.HazardSilica, "dragons", ""}), 0, 2).Draw(t, "hazards")}
		step := finish.Step{Task: finish.Task(small()), Material: "paint", Waste: waste(), Section: section(), Path: measure.Ratio(n()), Lines: n(), Coats: n(), PerStud: n(), Yield: yield()}
		list, err := finish.NewList([]finish.Work{{Job: job, System: finish.System{Steps: []finish.Step{step}}}},
			finish.Shelf{Products: []finish.Product{product()}})
		typed(t, "plan", err)
		if (list == nil) == (err == nil) {
			t.Fatalf("plan: %v, %v", list, err)
		}
		steps := []finish.StepResult{{Task: finish.Task(small()), Length: l(), Area: measure.Area(n()), Count: n(), Joints: n()}}
		if list != nil {
			steps = append(steps, list.Steps...)
		}
		_, err = labor.Lines(nil, nil, steps, labor.Rates{Table: []labor.Rate{{Task: finish.Task(small()), Per: amount(), Time: measure.Duration(n())}}}, nil)
		typed(t, "labor", err)
		_, err = estimate.Compare([]estimate.Alternative{{Label: "a", Net: l(), StickCost: n(), Consumables: n(), Labor: measure.Duration(n()), Costs: []estimate.Cost{{Label: "x", Amount: n(), Taxed: true}}}},
			estimate.Terms{Wage: n(), Burden: measure.Ratio(n()), Tax: measure.Ratio(n()), Contingency: measure.Ratio(n()), Markup: measure.Ratio(n()), Margin: measure.Ratio(n())})
		typed(t, "compare", err)
		offer := func(label string) estimate.Offer {
			return estimate.Offer{Label: label, Trim: product(), Waste: waste(), Supplies: []finish.Product{product()}, Pace: l(), Setup: measure.Duration(n())}
		}
		from, pitch := l(), measure.Length(rapid.Int64Range(-1, 1000).Draw(t, "pitch"))
		_, err = estimate.BreakEven(offer("a"), offer("b"), estimate.Terms{Wage: n()}, estimate.LengthRange{From: from, To: from + 10*pitch, Step: pitch})
		typed(t, "break-even", err)
		_, _, err = estimate.BreakEvenPrice(estimate.Alternative{Label: "a", Net: l(), Consumables: n()}, estimate.Alternative{Label: "b", Net: l(), StickCost: n()}, estimate.Terms{Wage: n()})
		typed(t, "break-even price", err)
		span := func() measure.Duration { return measure.Duration(n()) }
		table, err := schedule.Build(context.Background(), []schedule.Activity{
			{ID: "a", Labor: span(), People: n() % 3, Dry: span(), Cure: span(), Dusty: n()%2 == 0, Wet: n()%2 == 0},
			{ID: "b", Labor: span(), Dry: span(), Wet: true, After: []schedule.Link{{ID: "a", Type: schedule.LinkType(small()), Lag: span(), Working: n()%2 == 0}}}},
			schedule.Calendar{Start: time.Unix(n()%(1<<38), n()%1e9).UTC(), Open: span() % (25 * hour), Close: span() % (25 * hour), Days: schedule.Weekdays(small()), Crews: []schedule.Crew{{People: n() % 5}, {}}}, nil)
		typed(t, "schedule", err)
		if (table == nil) == (err == nil) {
			t.Fatalf("schedule: %v, %v", table, err)
		}
		_, err = finish.USLeadRule().Cautions(finish.Building{Year: int(n()), Assisted: true}, []finish.RemovedTrim{{Room: "r", Length: l(), Girth: l()}}, measure.Locale{})
		typed(t, "building", err)
		_, err = finish.USLeadRule().Rooms([]finish.RemovedTrim{{Room: "r", Length: l(), Girth: l(), Area: measure.Area(n())}, {Room: "r", Area: measure.Area(n())}})
		typed(t, "lead", err)
	})
}

func roundTrip[T any](t *rapid.T, v T) {
	t.Helper()
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatalf("%#v: %v", v, err)
	}
	var back T
	if err := json.Unmarshal(b, &back); err != nil {
		t.Fatalf("%s: %v", b, err)
	}
	if d := cmp.Diff(v, back, cmp.Comparer(func(a, b finish.Amount) bool { return a == b })); d != "" {
		t.Fatalf("%s: (-written +read)\n%s", b, d)
	}
}

func TestTextRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := anyInt.Draw(t, "n")
		roundTrip(t, finish.Count(n/1_000_000))
		roundTrip(t, finish.AmountOf(measure.Length(n)))
		roundTrip(t, finish.AmountOf(measure.Area(n)))
		roundTrip(t, finish.AmountOf(measure.Volume(n)))
		roundTrip(t, finish.AmountOf(measure.Weight(n)))
		roundTrip(t, measure.Ratio(n))
		roundTrip(t, measure.Duration(n))
		roundTrip(t, finish.Yield{})
		m := max(1, n)
		roundTrip(t, finish.Yield{Covers: finish.AmountOf(measure.Area(m)), Of: finish.AmountOf(measure.Weight(m))})
		roundTrip(t, finish.PaintedTrim())
		roundTrip(t, finish.TileBase())
		roundTrip(t, labor.DefaultRates())
		roundTrip(t, finish.DefaultDrying())
		roundTrip(t, schedule.Weekdays(n&127))
		roundTrip(t, schedule.DateOf(time.Unix(n%60_000_000_000, 0).UTC()))
		roundTrip(t, finish.Waste{Share: measure.Ratio(n), OfPurchase: true})
		all, err := finish.Cautions(measure.Locale{}, finish.HazardSilica, finish.HazardLeadPaint)
		if err != nil {
			t.Fatal(err)
		}
		roundTrip(t, all)
	})
}

func FuzzParseAmount(f *testing.F) {
	for _, s := range []string{"10.1 fl oz", "300 mL", "2 1/2 lb", "1000", "60 yd", "NaN", "1e9 lb", "-0", "1/0 lb", "400 sq ft"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		a, err := finish.ParseAmount(s)
		if err != nil {
			return
		}
		b, err := a.MarshalText()
		if err != nil {
			t.Fatalf("%q: %v", s, err)
		}
		if back, err := finish.ParseAmount(string(b)); err != nil || back != a {
			t.Fatalf("%q is %s, which reads as %v, %v", s, b, back, err)
		}
	})
}
