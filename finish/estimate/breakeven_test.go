package estimate_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
)

// pineOffer comes in sticks and takes little labor; slateOffer comes by the
// carton, with a fixed cost and no paint. The prices are the tests' own.
func pineOffer() estimate.Offer {
	return estimate.Offer{
		Label: "painted pine",
		Trim: finish.Product{Label: "pine", Material: "trim", Packages: []finish.Package{
			{Size: finish.AmountOf(8 * measure.Foot), Price: 1400}, {Size: finish.AmountOf(12 * measure.Foot), Price: 2250}}},
		Waste: finish.Waste{Share: 10 * measure.Percent},
		Supplies: []finish.Product{
			{Label: "paint", Material: "paint", Yield: finish.Yield{Covers: finish.AmountOf(110 * measure.Foot), Of: finish.AmountOf(measure.Quart)}, Packages: []finish.Package{{Size: finish.AmountOf(measure.Quart), Price: 1999}}}},
		Pace: 9 * ft,
	}
}

func vinylOffer() estimate.Offer {
	return estimate.Offer{
		Label: "vinyl",
		Trim: finish.Product{Label: "vinyl", Material: "trim", Packages: []finish.Package{
			{Label: "carton of 40 ft", Size: finish.AmountOf(40 * measure.Foot), Price: 9900}}},
		Pace:  14 * ft,
		Costs: []estimate.Cost{{Label: "delivery", Amount: 7500}},
	}
}

func ExampleBreakEven() {
	spans, err := estimate.BreakEven(pineOffer(), vinylOffer(), estimate.Terms{Wage: 4200}, estimate.LengthRange{From: 10 * measure.Foot, To: 200 * measure.Foot})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range spans {
		fmt.Printf("%v to %v: %s\n", s.From, s.To, s.Cheaper)
	}
	// Output:
	// 10' to 69' 1": painted pine
	// 69' 2" to 80': vinyl
	// 80' 1" to 96' 10": painted pine
	// 96' 11" to 200': vinyl
}

func ExampleBreakEvenPrice() {
	pine := estimate.Alternative{Label: "pine", Net: 212 * measure.Foot, StickCost: 48160, Consumables: 21350, Labor: 14 * hour}
	poplar := estimate.Alternative{Label: "poplar", Net: 212 * measure.Foot, StickCost: 61020, Consumables: 18900, Labor: 13 * hour}
	most, _, err := estimate.BreakEvenPrice(poplar, pine, estimate.Terms{Wage: 4200, Tax: 6 * measure.Percent})
	fmt.Println("poplar pays at", most, "for the sticks, not at", poplar.StickCost, err)
	// Output: poplar pays at 54573 for the sticks, not at 61020 <nil>
}

// The break-even price of a base of poplar against pine, in a whole job that is priced line by
// line.
func ExampleAlternative_SticksOf() {
	job := func(label string, base int64) estimate.Alternative {
		return estimate.Alternative{Label: label, Net: 212 * measure.Foot, Costs: []estimate.Cost{
			{Label: "sticks", Kind: estimate.CostTrim, Profile: "base", Amount: base},
			{Label: "sticks", Kind: estimate.CostTrim, Profile: "crown", Amount: 62000},
			{Label: "labor", Kind: estimate.CostLabor, Labor: 31 * hour},
		}}
	}
	terms := estimate.Terms{Wage: 4200, Tax: 6 * measure.Percent}
	poplar, err := job("poplar", 61020).SticksOf("base")
	if err != nil {
		fmt.Println(err)
		return
	}
	most, _, err := estimate.BreakEvenPrice(poplar, job("pine", 48160), terms)
	fmt.Println(poplar.StickCost, most, err)
	// Output: 61020 48160 <nil>
}

// Worked by hand (derived): 10.00 for each 10 ft begun against 20.00 and 5.00
// for each. Three packs cost less, four as much, five more.
func TestBreakEvenByHand(t *testing.T) {
	pack := func(label string, price int64) finish.Product {
		return finish.Product{Label: label, Material: "trim", Packages: []finish.Package{{Size: finish.AmountOf(10 * ft), Price: price}}}
	}
	a := estimate.Offer{Label: "a", Trim: pack("a", 1000)}
	b := estimate.Offer{Label: "b", Trim: pack("b", 500), Costs: []estimate.Cost{{Label: "set-up", Amount: 2000}}}
	got := must[[]estimate.LengthSpan](t)(estimate.BreakEven(a, b, estimate.Terms{}, estimate.LengthRange{From: 1, To: 1 + 100*ft, Step: ft / 8}))
	want := []estimate.LengthSpan{{From: 1, To: 1 + 30*ft - ft/8, Cheaper: "a"}, {From: 1 + 30*ft, To: 1 + 40*ft - ft/8}, {From: 1 + 40*ft, To: 1 + 100*ft, Cheaper: "b"}}
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("spans %v, want %v", got, want)
	}
	// To the tick, around the change: a length of 30 ft takes three packs.
	got = must[[]estimate.LengthSpan](t)(estimate.BreakEven(a, b, estimate.Terms{}, estimate.LengthRange{From: 30*ft - 2, To: 30*ft + 2, Step: 1}))
	want = []estimate.LengthSpan{{From: 30*ft - 2, To: 30 * ft, Cheaper: "a"}, {From: 30*ft + 1, To: 30*ft + 2}}
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("spans %v, want %v", got, want)
	}
	// The order changes back: of two sizes each is the better fit for a while.
	c := estimate.Offer{Label: "c", Trim: finish.Product{Label: "c", Material: "trim", Packages: []finish.Package{{Size: finish.AmountOf(15 * ft), Price: 1500}}}}
	got = must[[]estimate.LengthSpan](t)(estimate.BreakEven(a, c, estimate.Terms{}, estimate.LengthRange{From: ft, To: 30 * ft, Step: ft}))
	if len(got) != 4 || got[1].From != 11*ft || got[1].Cheaper != "c" || got[2].From != 16*ft || got[2].Cheaper != "a" || got[3].Cheaper != "" {
		t.Errorf("spans %v, want a to 10 ft, c to 15, a to 20, then equal costs", got)
	}
}

// Every length has the order that pricing it alone gives.
func TestBreakEvenEqualsScan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		offer := func(label string) estimate.Offer {
			n := func(name string, least, most int64) int64 {
				return rapid.Int64Range(least, most).Draw(t, label+" "+name)
			}
			o := estimate.Offer{Label: label, Pace: measure.Length(n("pace", 0, 20)) * ft, Setup: minute * measure.Duration(n("setup", 0, 60)),
				Waste: finish.Waste{Share: measure.Ratio(n("waste", 0, 20)) * measure.Percent},
				Costs: []estimate.Cost{{Label: "delivery", Amount: n("delivery", 0, 900)}}}
			o.Trim = finish.Product{Label: "trim", Material: "trim", Packages: []finish.Package{
				{Label: "short", Size: finish.AmountOf(measure.Length(n("short", 1, 8)) * ft), Price: n("price of short", 0, 500)},
				{Label: "long", Size: finish.AmountOf(measure.Length(n("long", 8, 16)) * ft), Price: n("price of long", 0, 1500)}}}
			o.Supplies = []finish.Product{{Label: "paint", Material: "paint", Yield: finish.Yield{Covers: finish.AmountOf(9 * measure.Foot), Of: finish.AmountOf(measure.Quart)},
				Packages: []finish.Package{{Size: finish.AmountOf(measure.Quart), Price: n("paint", 0, 300)}}}}
			return o
		}
		a, b := offer("a"), offer("b")
		terms := estimate.Terms{Wage: 100, Tax: 7 * measure.Percent, Margin: 10 * measure.Percent}
		at := estimate.LengthRange{From: ft, Step: 7 * in}
		at.To = at.From + measure.Length(rapid.Int64Range(0, 60).Draw(t, "steps"))*at.Step
		spans, err := estimate.BreakEven(a, b, terms, at)
		if err != nil {
			t.Fatal(err)
		}
		for i, s := range spans {
			if s.To < s.From || i > 0 && (s.From != spans[i-1].To+at.Step || s.Cheaper == spans[i-1].Cheaper) {
				t.Fatalf("spans %v", spans)
			}
		}
		if spans[0].From != at.From || spans[len(spans)-1].To != at.To {
			t.Fatalf("spans %v omit an end", spans)
		}
		k := 0
		for l := at.From; l <= at.To; l += at.Step {
			if l > spans[k].To {
				k++
			}
			x, err1 := a.At(l)
			y, err2 := b.At(l)
			p, err3 := estimate.NewQuote(x, terms)
			q, err4 := estimate.NewQuote(y, terms)
			if err := errors.Join(err1, err2, err3, err4); err != nil {
				t.Fatal(err)
			}
			want := ""
			if p.Total < q.Total {
				want = "a"
			} else if q.Total < p.Total {
				want = "b"
			}
			if spans[k].Cheaper != want {
				t.Fatalf("at %v, %q is cheaper, but the span says %q", l, want, spans[k].Cheaper)
			}
		}
	})
}

// At the break-even price a costs no more, one unit above it does.
func TestBreakEvenPrice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(label string) estimate.Alternative {
			n := func(name string, most int64) int64 { return rapid.Int64Range(0, most).Draw(t, label+" "+name) }
			return estimate.Alternative{Label: label, Net: ft + measure.Length(n("net", int64(300*ft))), StickCost: n("sticks", 100_000),
				Consumables: n("consumables", 50_000), Labor: minute * measure.Duration(n("labor", 3000))}
		}
		a, b := draw("a"), draw("b")
		terms := estimate.Terms{Wage: 4200, Tax: 6 * measure.Percent, Contingency: 10 * measure.Percent, Markup: measure.Ratio(rapid.Int64Range(0, 500_000).Draw(t, "markup"))}
		most, ok, err := estimate.BreakEvenPrice(a, b, terms)
		if err != nil {
			t.Fatal(err)
		}
		ahead := func(sticks int64) bool { // b first, so that a is ahead only where it costs less
			a.StickCost = sticks
			c, err := estimate.Compare([]estimate.Alternative{a, b}, terms)
			if err != nil {
				t.Fatal(err)
			}
			return c.Order[0] == 0
		}
		if ok && !ahead(most) || ok && ahead(most+1) || !ok && ahead(0) {
			t.Fatalf("most %d, %v", most, ok)
		}
	})
	// Worked by hand (derived): 100 ft at 5.00 a foot leave 300.00 of 500.00.
	a := estimate.Alternative{Label: "a", Net: 100 * ft, Consumables: 20000}
	b := estimate.Alternative{Label: "b", Net: 200 * ft, StickCost: 100000}
	if most, ok, err := estimate.BreakEvenPrice(a, b, estimate.Terms{}); most != 30000 || !ok || err != nil {
		t.Errorf("most %d, %v, %v; want 300.00", most, ok, err)
	}
	a.Consumables = 50001
	if _, ok, err := estimate.BreakEvenPrice(a, b, estimate.Terms{}); ok || err != nil {
		t.Errorf("consumables alone cost more: %v, %v", ok, err)
	}
	b.StickCost, a.Net = 1<<62, 1
	if _, _, err := estimate.BreakEvenPrice(estimate.Alternative{Label: "a", Net: ft}, b, estimate.Terms{}); err != nil {
		t.Errorf("a has no price limit: %v", err)
	}
}

// Of a whole job the trim of one profile is put in question; its price stays the same.
func TestSticksOfAProfile(t *testing.T) {
	r := rand.New(rand.NewPCG(53, 59))
	for range 300 {
		job, terms := randomJob(r)
		job.Net = 100 * ft
		moved := must[estimate.Alternative](t)(job.SticksOf("base"))
		x, y := must[*estimate.Quote](t)(estimate.NewQuote(job, terms)), must[*estimate.Quote](t)(estimate.NewQuote(moved, terms))
		if x.Total != y.Total || x.Cost != y.Cost || moved.StickCost+moved.Consumables < job.StickCost {
			t.Fatalf("%+v\n%+v: %d, %d", job, moved, x.Total, y.Total)
		}
		for _, c := range moved.Costs {
			if c.Kind == estimate.CostTrim && c.Profile == "base" && !c.PassThrough && !c.Risky {
				t.Fatalf("%+v", c)
			}
		}
	}
	_, err := estimate.Alternative{}.SticksOf("base")
	fields(t, err, "label")
	if _, err := (estimate.Alternative{Label: "a", StickCost: math.MaxInt64, Costs: []estimate.Cost{{Label: "x", Kind: estimate.CostTrim, Amount: 1}}}).SticksOf(""); !errors.As(err, new(*measure.RangeError)) {
		t.Error(err)
	}
}

func TestBreakEvenErrors(t *testing.T) {
	a, b := pineOffer(), vinylOffer()
	edit := func(f func(*estimate.Offer)) estimate.Offer { o := pineOffer(); f(&o); return o }
	span := estimate.LengthRange{From: ft, To: 2 * ft}
	for _, c := range []struct {
		field string
		a, b  estimate.Offer
		at    estimate.LengthRange
	}{
		{"lengths.from", a, b, estimate.LengthRange{To: ft}},
		{"lengths.to", a, b, estimate.LengthRange{From: 2 * ft, To: ft}},
		{"lengths.step", a, b, estimate.LengthRange{From: ft, To: 2 * ft, Step: -in}},
		{"lengths.step", a, b, estimate.LengthRange{From: ft, To: 2 * ft, Step: 1}},
		{"offers[1].label", a, a, span},
		{"offers[0].label", edit(func(o *estimate.Offer) { o.Label = "" }), b, span},
		{"offers[1].pace", b, edit(func(o *estimate.Offer) { o.Pace = -ft }), span},
		{"offers[0].setup", edit(func(o *estimate.Offer) { o.Setup = -1 }), b, span},
		{"offers[0].waste.share", edit(func(o *estimate.Offer) { o.Waste.Share = -1 }), b, span},
		{"offers[0].trim.packages", edit(func(o *estimate.Offer) { o.Trim.Packages = nil }), b, span},
		{"offers[0].supplies[0].packages[0].price", edit(func(o *estimate.Offer) { o.Supplies[0].Packages[0].Price = -1 }), b, span},
		{"offers[0].costs[0].amount", edit(func(o *estimate.Offer) { o.Costs = []estimate.Cost{{Label: "x", Amount: -1}} }), b, span},
	} {
		_, err := estimate.BreakEven(c.a, c.b, estimate.Terms{}, c.at)
		if f := (*measure.FieldError)(nil); !errors.As(err, &f) || f.Field != c.field {
			t.Errorf("%s: %v", c.field, err)
		}
	}
	_, err := estimate.BreakEven(estimate.Offer{Pace: -1, Setup: -1}, estimate.Offer{Waste: finish.Waste{Share: -1}}, estimate.Terms{Wage: -1, Tax: -1}, estimate.LengthRange{To: -1, Step: -1})
	fields(t, err, "lengths.from", "lengths.to", "lengths.step", "terms.wage", "terms.tax", "offers[0].label", "offers[0].trim.label", "offers[0].trim.material", "offers[0].trim.packages", "offers[0].pace", "offers[0].setup",
		"offers[1].label", "offers[1].trim.label", "offers[1].trim.material", "offers[1].trim.packages", "offers[1].waste.share")
	_, err = estimate.Compare([]estimate.Alternative{{Label: "a", StickCost: -1}, {Label: "a", Net: -1}}, estimate.Terms{Wage: -1})
	fields(t, err, "terms.wage", "alternatives[0].stick_cost", "alternatives[0].net", "alternatives[1].net", "alternatives[1].label")
	_, _, err = estimate.BreakEvenPrice(estimate.Alternative{}, estimate.Alternative{Label: "b", Net: ft, Consumables: -1}, estimate.Terms{Burden: -1})
	fields(t, err, "terms.burden", "alternatives[0].label", "alternatives[0].net", "alternatives[1].consumables")
	if _, err := estimate.BreakEven(a, b, estimate.Terms{Wage: -1}, span); err == nil || err.Error() != `terms.wage is -1, want whole cents, zero or more` {
		t.Errorf("a negative wage: %v", err)
	}
	sold := edit(func(o *estimate.Offer) { o.Supplies[0].Yield = finish.Yield{} })
	if _, err := estimate.BreakEven(sold, b, estimate.Terms{}, span); !errors.As(err, new(*measure.FieldError)) {
		t.Errorf("paint without a yield: %v, want a FieldError", err)
	}
}
