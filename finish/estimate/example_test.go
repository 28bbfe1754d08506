package estimate_test

import (
	"fmt"

	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
)

func ExampleCompare() {
	c, err := estimate.Compare([]estimate.Alternative{
		{Label: "primed pine", Net: 212 * measure.Foot, StickCost: 48160, Consumables: 21350, Labor: 14 * hour},
		{Label: "slate", Net: 212 * measure.Foot, StickCost: 118900, Consumables: 9640, Labor: 31 * hour},
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

// The installed cost of one alternative, line by line. The money is in cents.
func ExampleNewQuote() {
	q, err := estimate.NewQuote(estimate.Alternative{
		Label: "fir picture rail", Net: 62 * measure.Foot, StickCost: 15120, Consumables: 2875, Labor: 5 * hour,
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

// The same kind of quote with trim sold by the meter and priced in yen, which have no minor
// unit.
func ExampleTerms_metric() {
	terms := estimate.Terms{Wage: 3600, Tax: 10 * measure.Percent, Contingency: 75 * measure.Percent / 10,
		Locale: measure.Locale{Metric: true, Length: measure.Style{Unit: measure.Meter}, Currency: measure.Currency{Symbol: "JPY", After: true, Minor: 1}}}
	q, err := estimate.NewQuote(estimate.Alternative{
		Label: "fir picture rail", Net: 19 * measure.Meter, StickCost: 21600, Consumables: 4100, Labor: 5 * hour,
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
