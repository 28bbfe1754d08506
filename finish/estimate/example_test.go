package estimate_test

import (
	"fmt"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
)

func ExampleCompare() {
	c, err := estimate.Compare([]estimate.Alternative{
		{Label: "primed pine", Net: 212 * measure.Foot, Sticks: 48160, Consumables: 21350, Labor: 14 * hour},
		{Label: "slate", Net: 212 * measure.Foot, Sticks: 118900, Consumables: 9640, Labor: 31 * hour},
	}, estimate.Terms{Wage: 4200, Tax: 6 * measure.Percent, Contingency: 10 * measure.Percent, Margin: 20 * measure.Percent})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, i := range c.Order {
		q := c.Quotes[i]
		fmt.Println(q.Label, q.Total, "or", q.UnitPrice, "a foot")
		for _, l := range q.Lines {
			fmt.Printf("%8d %s\n", l.Amount, l.Label)
		}
	}
	// Output:
	// primed pine 182161 or 859 a foot
	//    48160 sticks
	//    21350 consumables
	//    58800 labor
	//     4171 tax 6%
	//    13248 contingency 10%
	//    36432 margin 20% of price
	// slate 366371 or 1728 a foot
	//   118900 sticks
	//     9640 consumables
	//   130200 labor
	//     7712 tax 6%
	//    26645 contingency 10%
	//    73274 margin 20% of price
}

// What one alternative costs installed, line by line. The money is in cents.
func ExampleNewQuote() {
	q, err := estimate.NewQuote(estimate.Alternative{
		Label: "fir picture rail", Net: 62 * measure.Foot, Sticks: 15120, Consumables: 2875, Labor: 5 * hour,
		Costs: []estimate.Cost{{Label: "delivery", Amount: 4500}},
	}, estimate.Terms{Wage: 4200, Tax: 6 * measure.Percent})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, l := range q.Lines {
		fmt.Printf("%6d %s\n", l.Amount, l.Label)
	}
	fmt.Println(q.Total, "or", q.UnitPrice, "a foot")
	// Output:
	// 15120 sticks
	//   2875 consumables
	//   4500 delivery
	//  21000 labor
	//   1080 tax 6%
	// 44575 or 719 a foot
}

// The same kind of quote where trim is sold by the meter and priced in yen, which have no
// minor unit.
func ExampleTerms_metric() {
	terms := estimate.Terms{Wage: 3600, Tax: 10 * measure.Percent, Contingency: 75 * measure.Percent / 10,
		Locale: measure.Locale{Metric: true, Length: measure.Style{Unit: measure.Meter}, Currency: measure.Currency{Symbol: "JPY", After: true, Minor: 1}}}
	q, err := estimate.NewQuote(estimate.Alternative{
		Label: "fir picture rail", Net: 19 * measure.Meter, Sticks: 21600, Consumables: 4100, Labor: 5 * hour,
	}, terms)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, l := range q.Lines {
		fmt.Printf("%10s %s\n", terms.Locale.FormatMoney(l.Amount), l.Label)
	}
	fmt.Println(terms.Locale.FormatMoney(q.Total), "or", terms.Locale.FormatMoney(q.UnitPrice), "for", terms.Locale.FormatLength(q.Unit))
	// Output:
	// 21,600 JPY sticks
	//  4,100 JPY consumables
	// 18,000 JPY labor
	//  2,570 JPY tax 10%
	//  3,470 JPY contingency 7.5%
	// 49,740 JPY or 2,618 JPY for 1 m
}

// How long the steps of a finishing list take, at the usual rates.
func ExampleLabor() {
	system := finish.System{Label: "prime and paint", Steps: []finish.Step{{Task: finish.TaskPrime}, {Task: finish.TaskPaint, Coats: 2}}}
	list, err := finish.NewList([]finish.Work{{System: system, Job: finish.Job{Label: "classroom base", Length: 96 * measure.Foot, Height: 8 * measure.Inch}}},
		finish.Shelf{Products: []finish.Product{
			{Label: "wood primer", Material: "primer", Packages: []finish.Package{{Size: finish.AmountOf(measure.Gallon), Price: 3299}}},
			{Label: "semigloss", Material: "paint", Packages: []finish.Package{{Size: finish.AmountOf(measure.Gallon), Price: 4599}}},
		}})
	if err != nil {
		fmt.Println(err)
		return
	}
	each, total, err := estimate.Labor(list.Steps, nil)
	for i, d := range each {
		fmt.Println(list.Steps[i].Step, d)
	}
	fmt.Println(total, err)
	// Output:
	// prime 57m36s
	// paint 2h24m
	// 3h21m36s <nil>
}

// A crew that has timed itself puts its own rate for paint in the place of the usual one.
func ExampleDefaultRates() {
	rates := estimate.DefaultRates()
	for i, r := range rates {
		if r.Task == finish.TaskPaint {
			rates[i].PerHour, rates[i].Source = finish.AmountOf(120*measure.Foot), "our own job, cloakroom"
		}
	}
	steps := []finish.StepResult{{Job: "corridor base", Step: "paint", Task: finish.TaskPaint, Coats: 2, Length: 240 * measure.Foot}}
	_, usual, err := estimate.Labor(steps, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	_, ours, err := estimate.Labor(steps, rates)
	fmt.Println("usual", usual, "ours", ours, err)
	// Output: usual 3h ours 2h <nil>
}

// The same steps as activities for a schedule: a coat each, with what it waits for.
func ExampleActivities() {
	activities, err := estimate.Activities([]finish.StepResult{
		{Job: "corridor base", Step: "prime", Task: finish.TaskPrime, Length: 100 * measure.Foot, Dry: finish.Drying{Recoat: 3 * hour}},
		{Job: "corridor base", Step: "paint", Task: finish.TaskPaint, Coats: 2, Length: 160 * measure.Foot, Dry: finish.Drying{Recoat: 16 * hour}},
	}, nil)
	for _, a := range activities {
		fmt.Println(a.ID, a.Name, a.Labor, a.After)
	}
	fmt.Println(err)
	// Output:
	// 1.1 prime 1h []
	// 2.1 paint 1h [{1.1 finish-start 3h false}]
	// 2.2 paint, coat 2 1h [{2.1 finish-start 16h false}]
	// <nil>
}
