package estimate_test

import (
	"fmt"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// The cost of an hour of labor: the wages of a year, their burden, and the billable hours. The
// rates are made up; look yours up.
func ExampleEmployment() {
	r, err := estimate.Employment{
		Wage: 2600, Hours: 2080 * hour, Overtime: 60 * hour,
		Cash: []estimate.YearlyAmount{{Label: "tools", Amount: 60000}},
		Burden: []estimate.BurdenItem{
			{Label: "payroll tax", Rate: 765 * measure.Percent / 100},
			{Label: "unemployment", Rate: 3 * measure.Percent, Limit: 900000},
			{Label: "health", Amount: 420000},
		},
		Off: []estimate.PaidTime{{Label: "vacation", Time: 80 * hour}, {Label: "holidays", Time: 56 * hour}},
	}.Rate()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, l := range r.Lines {
		fmt.Printf("%8d %s\n", l.Amount, l.Label)
	}
	fmt.Printf("%8d for %v: %d an hour, %v on top\n", r.Total, r.Billable, r.PerHour, r.Burden)
	// Output:
	// 5408000 wages
	//   234000 overtime
	//    60000 tools
	//   436203 payroll tax
	//    27000 unemployment
	//   420000 health
	//  6585203 for 2004h: 3286 an hour, 26.3846% on top
}

// Markup on cost is not margin on price, and neither is what a business needs.
func ExampleMarkupOf() {
	margin, err := estimate.MarginOf(50 * measure.Percent)
	fmt.Println("a markup of 50% is a margin of", margin, err)
	markup, err := estimate.MarkupOf(20 * measure.Percent)
	fmt.Println("a margin of 20% takes a markup of", markup, err)
	needed, err := estimate.MarkupNeeded(20_000_000, 10_000_000, 60_000_000)
	fmt.Println("overhead and profit need", needed, err)
	// Output:
	// a markup of 50% is a margin of 33.3333% <nil>
	// a margin of 20% takes a markup of 25% <nil>
	// overhead and profit need 50% <nil>
}

// Payments follow the work; local law limits the down payment.
func ExampleNewPaymentSchedule() {
	s, err := estimate.NewPaymentSchedule(1_500_000, estimate.PaymentTerms{
		Down: 30 * measure.Percent, DownLimit: estimate.DownLimits()[0], Retainage: 10 * measure.Percent,
		Stages: []estimate.PaymentStage{{Label: "casing and base hung", Done: 40 * measure.Percent}, {Label: "crown hung", Done: 75 * measure.Percent}, {Label: "painted", Done: 100 * measure.Percent}},
		Locale: measure.Locale{Currency: measure.Currency{Symbol: "$"}},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range s.Payments {
		fmt.Printf("%8d %s\n", p.Due, p.Label)
	}
	for _, f := range s.Findings {
		fmt.Println(f.Field, f.Value+":", f.Reason)
	}
	// Output:
	// 100000 on signing
	//   440000 casing and base hung
	//   472500 crown hung
	//   337500 painted
	//   150000 release of retainage
	// terms.down 30%: of $15,000.00 that is $4,500.00; California, home improvement allows $1,000.00, which is asked
}

// Stone instead of painted pine: the additional cost, and its parts.
func ExampleNewChange() {
	price := func(label string, base estimate.Cost, hours measure.Duration, paint int64) *estimate.Quote {
		q, err := estimate.NewQuote(estimate.Alternative{Label: label, Costs: []estimate.Cost{
			base,
			{Label: "hang", Kind: estimate.CostLabor, Room: "classroom", Profile: "base", Labor: hours},
			{Label: "paint", Kind: estimate.CostConsumables, Profile: "base", Amount: paint},
			{Label: "casing", Kind: estimate.CostTrim, Room: "classroom", Profile: "casing", Amount: 21000},
		}}, estimate.Terms{Wage: 5000, Markup: 50 * measure.Percent})
		if err != nil {
			panic(err)
		}
		return q
	}
	pine := price("painted pine", estimate.Cost{Label: "pine base", Kind: estimate.CostTrim, Room: "classroom", Profile: "base", Amount: 30200}, 9*hour, 4599)
	stone := price("stone", estimate.Cost{Label: "stone base", Kind: estimate.CostTrim, Room: "classroom", Profile: "base", Amount: 81000}, 14*hour, 900)
	c, err := estimate.NewChange(pine, stone)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, l := range c.Lines {
		fmt.Printf("%-8v %-10s %7d to %7d: %d by quantity, %d by rate; price %d\n", l.Change, l.Label, l.Was.Direct, l.Now.Direct, l.ByQuantity, l.ByRate, l.Price)
	}
	for _, p := range c.Parts {
		fmt.Printf("%v %d to %d\n", p.Part, p.Was, p.Now)
	}
	fmt.Println("stone adds", c.Total)
	fmt.Println(estimate.ChangeModified, estimate.ChangeAdded, estimate.ChangeRemoved)
	// Output:
	// removed  pine base    30200 to       0: -30200 by quantity, 0 by rate; price -45300
	// changed  hang         45000 to   70000: 25000 by quantity, 0 by rate; price 37500
	// changed  paint         4599 to     900: 0 by quantity, -3699 by rate; price -5549
	// added    stone base       0 to   81000: 81000 by quantity, 0 by rate; price 121500
	// direct 100799 to 172900
	// markup 50400 to 86450
	// stone adds 108151
	// changed added removed
}

// Work that was not in the contract: the order shows the client scope, price and days, and
// nothing else.
func ExampleNewChangeOrder() {
	room := estimate.Cost{Label: "hang chair rail", Kind: estimate.CostLabor, Room: "teacher's room", Labor: 5 * hour}
	job := estimate.Alternative{Label: "workshop", Costs: []estimate.Cost{{Label: "hang base", Kind: estimate.CostLabor, Room: "classroom", Labor: 20 * hour}}}
	terms := estimate.Terms{Wage: 5000, Markup: 50 * measure.Percent, Rounding: estimate.Rounding{UpTo: 500}}
	was, err1 := estimate.NewQuote(job, terms)
	job.Costs = append(job.Costs, room)
	now, err2 := estimate.NewQuote(job, terms)
	if err1 != nil || err2 != nil {
		fmt.Println(err1, err2)
		return
	}
	order, err := estimate.NewChangeOrder("chair rail", was, now, 1)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range order.Scope {
		fmt.Println(s.Change, s.Label, "in the", s.Room)
	}
	total, err := estimate.Contract{Label: "workshop", Price: was.Total, Days: 3, Orders: []estimate.ChangeOrder{*order}}.Total()
	fmt.Println(order.Price, "more,", total.Price, "in", total.Days, "days", err)
	// Output:
	// added hang chair rail in the teacher's room
	// 37500 more, 187500 in 4 days <nil>
}

// After the job: the actual and the estimated costs, and the rack as it is now.
func ExampleNewActual() {
	terms := estimate.Terms{Wage: 5000, Markup: 50 * measure.Percent}
	q, err := estimate.NewQuote(estimate.Alternative{Label: "corridor", Costs: []estimate.Cost{
		{Label: "base, 12 ft", Kind: estimate.CostTrim, Quantity: finish.Count(10), Amount: 30000},
		{Label: "hang", Kind: estimate.CostLabor, Labor: 8 * hour},
	}}, terms)
	if err != nil {
		fmt.Println(err)
		return
	}
	log := estimate.JobLog{
		Entries: []estimate.LogEntry{
			{Date: "Monday", Label: "base, 12 ft", Kind: estimate.CostTrim, Quantity: finish.Count(11), Amount: 34100},
			{Date: "Monday", Label: "hang", Kind: estimate.CostLabor, Labor: 6 * hour},
			{Date: "Tuesday", Label: "hang", Kind: estimate.CostLabor, Labor: 3 * hour},
		},
		Rack: []stock.RackChange{{ID: "corridor base", Leaves: []stock.Offcut{{Profile: "base", Length: 7 * measure.Foot}}}},
	}
	a, err := estimate.NewActual(q, terms, log, stock.Rack{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, l := range a.Change.Lines {
		fmt.Println(l.Label, "by quantity", l.ByQuantity, "by rate", l.ByRate, l.Now.Labor-l.Was.Labor)
	}
	fmt.Println("kept", a.Kept, "of", q.Price-q.Cost, "and", len(a.Rack.Offcuts), "offcut")
	// Output:
	// base, 12 ft by quantity 3000 by rate 1100 0s
	// hang by quantity 5000 by rate 0 1h
	// kept 25900 of 35000 and 1 offcut
}

// A spare stick at 35.00 against the trip that it may save.
func ExampleSecondTrip() {
	c, err := estimate.SecondTrip{Chance: 20 * measure.Percent, Rate: 6500, Drive: 90 * minute, Idle: hour, Miles: 20, PerMile: 70}.Cost()
	fmt.Println(c.Whole, "if it happens,", c.Expected, "to be expected", err)
	// Output: 17650 if it happens, 3530 to be expected <nil>
}
