package estimate_test

import (
	"cmp"
	"fmt"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
)

// The parts of a whole job's price, then its rooms. Every column adds up.
func ExampleQuote_ByRoom() {
	workshop := estimate.Alternative{Label: "workshop", Costs: []estimate.Cost{
		{Label: "base, 12 ft", Kind: estimate.CostTrim, Room: "classroom", Profile: "base", Amount: 40200, Quantity: finish.Count(12), Source: "yard, price list of May"},
		{Label: "base, 12 ft", Kind: estimate.CostTrim, Room: "cloakroom", Profile: "base", Amount: 13400, Quantity: finish.Count(4)},
		{Label: "primer", Kind: estimate.CostConsumables, Step: "prime", Amount: 3299, Quantity: finish.Count(1)},
		{Label: "hang base", Kind: estimate.CostLabor, Room: "classroom", Profile: "base", Step: "hang", Labor: 7 * hour},
		{Label: "hang base", Kind: estimate.CostLabor, Room: "cloakroom", Profile: "base", Step: "hang", Labor: 3 * hour, Risky: true},
		{Label: "bags", Kind: estimate.CostDisposal, Amount: 7500},
		{Label: "delivery", Kind: estimate.CostDelivery, Amount: 4500},
		{Label: "staging", Kind: estimate.CostEquipment, Room: "classroom", Amount: 6000},
		{Label: "floor layer", Kind: estimate.CostSubcontract, Room: "classroom", Amount: 90000, PassThrough: true, Markup: 10 * measure.Percent},
		{Label: "door handles", Kind: estimate.CostOther, Room: "cloakroom", Amount: 12000, PassThrough: true, Allowance: true},
	}}
	q, err := estimate.NewQuote(workshop, estimate.Terms{
		Wage: 4141, Tax: 825 * measure.Percent / 100, Overhead: 12 * measure.Percent,
		Contingency: 15 * measure.Percent, ContingencyRisky: true, Margin: 20 * measure.Percent,
		Rounding: estimate.Rounding{HalfUp: true, UpTo: 500},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, l := range q.Lines {
		if l.Part != estimate.PartDirect {
			fmt.Printf("%7d %s (%v)\n", l.Amount, l.Label, l.Part)
		}
	}
	show := func(rows []estimate.TableRow) {
		for _, r := range rows {
			fmt.Printf("%7d %7d %7d %s\n", r.Direct, r.Cost, r.Price, cmp.Or(r.Label, "the whole job"))
		}
	}
	show(q.ByRoom())
	fmt.Println("by kind:")
	show(q.ByKind())
	fmt.Println(len(q.ByProfile()), "profiles,", len(q.ByStep()), "steps;", q.Direct, q.Cost, q.Price, "margin", q.Reached)
	// Output:
	//    4694 tax 8.25% (tax)
	//   14520 overhead 12% (overhead)
	//    1863 contingency 15% of risky costs (contingency)
	//   34347 margin 20% of price (markup)
	//    9000 markup 10% of floor layer, classroom (markup)
	//     267 up to the next 5.00 (rounding)
	//  165187  177923  209057 classroom
	//   37823   44023   52090 cloakroom
	//   15299   17440   21853 the whole job
	// by kind:
	//   53600   64984   81230 trim
	//    3299    4000    5000 consumables
	//   41410   48242   60491 labor
	//    7500    8400   10533 disposal
	//    4500    5040    6320 delivery
	//    6000    6720    8426 equipment
	//   90000   90000   99000 subcontract
	//   12000   12000   12000 other
	// 2 profiles, 3 steps; 218309 239386 283000 margin 15.4113%
}

// Rules for sales tax differ: the same job under each of the built-in examples.
func ExampleTaxRules() {
	job := estimate.Alternative{Label: "base", StickCost: 100000, Labor: 40 * hour}
	for _, rule := range estimate.TaxRules() {
		q, err := estimate.NewQuote(job, estimate.Terms{Wage: 5000, Tax: 825 * measure.Percent / 100, TaxRule: rule, Markup: 50 * measure.Percent})
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%d and %d: %s (%v)\n", q.Price, q.ClientTax, rule.Label, rule.Base)
	}
	// Output:
	// 462375 and 0: Texas, residential repair or remodeling, lump sum (material cost)
	// 450000 and 12375: Texas, residential repair or remodeling, separated contract (material price)
	// 450000 and 37125: Texas, nonresidential remodeling (all)
	// 462375 and 0: California, materials in a lump sum (material cost)
	// 450000 and 12375: California, tax billed on marked-up materials (material price)
	// 462375 and 0: New York, capital improvement with Form ST-124 (material cost)
	// 450000 and 37125: New York, repair, maintenance or installation (all)
	// 450000 and 37125: Washington, work for a consumer (all)
}

// Your own rule: tax on the cost of materials that the client pays, or none.
func ExampleTaxRule() {
	job := estimate.Alternative{Label: "base", StickCost: 100000, Labor: 40 * hour}
	for _, base := range []estimate.TaxBase{estimate.TaxMaterialCost, estimate.TaxMaterialPrice, estimate.TaxAll, estimate.TaxNone} {
		rule := estimate.TaxRule{Label: "ours", Base: base, ByClient: true, Source: "the county's leaflet", Date: "2026"}
		q, err := estimate.NewQuote(job, estimate.Terms{Wage: 5000, Tax: 8 * measure.Percent, TaxRule: rule, Markup: 50 * measure.Percent})
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Println(base, q.Total, "of which materials", q.Materials, "tax", q.ClientTax)
	}
	// Output:
	// material cost 458000 of which materials 150000 tax 8000
	// material price 462000 of which materials 150000 tax 12000
	// all 486000 of which materials 150000 tax 36000
	// none 450000 of which materials 150000 tax 0
}

// Prefinished oak costs more to buy and saves the hours of three coats of paint: which of the
// two is cheaper depends on the wage.
func ExampleBreakEvenWage() {
	spans, err := estimate.BreakEvenWage(
		estimate.Alternative{Label: "painted pine", Net: 212 * measure.Foot, StickCost: 48160, Consumables: 21350, Labor: 31 * hour},
		estimate.Alternative{Label: "prefinished oak", Net: 212 * measure.Foot, StickCost: 118900, Consumables: 2640, Labor: 14 * hour},
		estimate.Terms{Burden: 30 * measure.Percent, Markup: 50 * measure.Percent}, estimate.WageRange{From: 1500, To: 9000})
	for _, s := range spans {
		fmt.Println(s.From, "to", s.To, s.Cheaper)
	}
	fmt.Println(err)
	// Output:
	// 1500 to 2354 painted pine
	// 2355 to 9000 prefinished oak
	// <nil>
}

// The parts of a price and the kinds of cost have names in JSON.
func ExamplePart() {
	for p := estimate.PartDirect; p <= estimate.PartClientTax; p++ {
		fmt.Print(p, "; ")
	}
	fmt.Println(estimate.PartBurden, estimate.PartTax, estimate.PartOverhead, estimate.PartContingency, estimate.PartMarkup, estimate.PartMinimum, estimate.PartRounding)
	// Output: direct; burden; tax; overhead; contingency; markup; minimum; rounding; client tax; burden tax overhead contingency markup minimum rounding
}
