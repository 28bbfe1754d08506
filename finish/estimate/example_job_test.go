package estimate_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"time"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/finish/tearout"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// bookRoom is a small job: base and casing in one room.
func bookRoom() estimate.Job {
	in := measure.MustParse
	shelf := finish.Shelf{}
	for _, p := range []struct {
		material string
		size     finish.Amount
		price    int64
	}{
		{"nails", finish.Count(1000), 1480}, {"brads", finish.Count(1000), 760}, {"wood glue", finish.AmountOf(8 * measure.FluidOunce), 560},
		{"filler", finish.AmountOf(8 * measure.FluidOunce), 760}, {"sandpaper", finish.Count(15), 1090}, {"primer", finish.AmountOf(measure.Quart), 1450},
		{"caulk", finish.AmountOf(10 * measure.FluidOunce), 445}, {"tape", finish.AmountOf(60 * measure.Yard), 720}, {"paint", finish.AmountOf(measure.Quart), 2290},
	} {
		shelf.Products = append(shelf.Products, finish.Product{Label: p.material, Material: p.material, Packages: []finish.Package{{Size: p.size, Price: p.price}}})
	}
	return estimate.Job{
		Name: "book room",
		Rooms: []takeoff.Room{{Name: "book room", Walls: []takeoff.Wall{
			{Name: "N", Length: in("11ft 6-1/4in")},
			{Name: "E", Length: in("9ft 2in")},
			{Name: "S", Length: in("11ft 6-1/4in"), Openings: []takeoff.Opening{{At: in("3ft"), Width: in("32in")}}},
			{Name: "W", Length: in("9ft 2in")},
		}}},
		Trim: takeoff.Scheme{Base: &stock.Profile{Name: "pine base"}, Casing: &stock.Profile{Name: "casing"}},
		Materials: []estimate.Material{
			{
				Profile:   stock.Profile{Name: "pine base", Thickness: in("9/16in"), Width: in("5-1/4in")},
				Sticks:    []stock.Stick{{Length: in("12ft"), Price: 1908, Supplier: "river mill"}, {Length: in("16ft"), Price: 2608, Supplier: "river mill"}},
				Preprimed: true, Spare: estimate.Spare{Longest: true},
			},
			{
				Profile:   stock.Profile{Name: "casing", Thickness: in("11/16in"), Width: in("3-1/2in")},
				Sticks:    []stock.Stick{{Length: in("7ft 1in"), Price: 1015, Supplier: "river mill"}, {Length: in("10ft"), Price: 1440, Supplier: "river mill"}},
				Preprimed: true,
			},
		},
		Suppliers: []estimate.Supplier{{Name: "river mill", Delivery: 4500, LeadDays: 3}},
		Kerf:      in("1/8in"),
		Shelf:     shelf,
		Calendar:  &schedule.Calendar{Start: time.Date(2027, 6, 7, 8, 0, 0, 0, time.UTC), Crews: []schedule.Crew{{Name: "crew", People: 2}}},
		Terms:     estimate.Terms{Wage: 5200, Burden: 30 * measure.Percent, Markup: 25 * measure.Percent},
		Locale:    measure.Locale{Currency: measure.Currency{Symbol: "$"}},
	}
}

// From measured walls to the price of the job, in one call.
func ExampleNew() {
	e, err := estimate.New(context.Background(), bookRoom(), nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	money := e.Job.Locale.FormatMoney
	for _, p := range e.Plans {
		fmt.Printf("%s: %d sticks cut, %d spare, %s, proven %v\n", p.Profile, p.Plan.Sticks(), p.Spare, money(p.Cost), p.Plan.Proven)
	}
	for _, o := range e.Orders {
		fmt.Printf("%s: %s with delivery\n", o.Supplier, money(o.Total))
	}
	for _, r := range e.Quote.ByKind() {
		fmt.Printf("%-12s %9s\n", r.Label, money(r.Direct))
	}
	fmt.Println("price", money(e.Quote.Price), "done", schedule.DateOf(e.Schedule.Done))
	// Output:
	// pine base: 3 sticks cut, 1 spare, $83.32, proven true
	// casing: 3 sticks cut, 0 spare, $30.45, proven true
	// river mill: $158.77 with delivery
	// trim           $113.77
	// delivery        $45.00
	// consumables     $95.55
	// labor          $587.08
	// price $1,051.75 done 2027-06-16
}

// Validate reports all faults of a job together.
func ExampleJob_Validate() {
	j := bookRoom()
	j.Trim.Shoe = &stock.Profile{Name: "oak shoe"}
	j.Materials[1].Sticks[0].Price = 0
	j.Terms.Wage = -1
	fmt.Println(j.Validate())
	// Output:
	// materials[1].sticks[0].price is 0, want the price of a stick, in cents; a free stick belongs on the rack
	// trim.shoe.name is "oak shoe", want the name of the profile of one of the materials
	// terms.wage is -1, want whole cents, zero or more
}

// A profile with too little supply.
func ExamplePlanError() {
	j := bookRoom()
	for i := range j.Materials[1].Sticks {
		j.Materials[1].Sticks[i].Limit = 1
	}
	_, err := estimate.New(context.Background(), j, nil)
	var plan *estimate.PlanError
	var short *optimize.InfeasibleError
	fmt.Println(errors.As(err, &plan) && errors.As(err, &short))
	fmt.Println(plan.Profile)
	// Output:
	// true
	// casing
}

// Oak instead of painted pine, for the whole job.
func ExampleVariant() {
	in := measure.MustParse
	j := bookRoom()
	j.Materials = append(j.Materials, estimate.Material{
		Profile: stock.Profile{Name: "oak base", Thickness: in("9/16in"), Width: in("5-1/4in")},
		Sticks:  []stock.Stick{{Length: in("14ft"), Price: 7200, Supplier: "river mill"}},
	})
	j.Variants = []estimate.Variant{{Label: "oak", Swap: []estimate.Swap{{From: "pine base", To: "oak base"}}}}
	e, err := estimate.New(context.Background(), j, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, o := range e.Variants {
		fmt.Println(o.Label, "adds", j.Locale.FormatMoney(o.Difference))
	}
	// The wage at which the two would change places, if there is one.
	spans, err := estimate.BreakEvenWage(e.Alternative("pine"), e.Variants[0].Estimate.Alternative("oak"), j.Terms, estimate.WageRange{To: 20000, Step: 100})
	for _, s := range spans {
		fmt.Println("from", j.Locale.FormatMoney(s.From), "to", j.Locale.FormatMoney(s.To), "an hour:", s.Cheaper)
	}
	fmt.Println(err)
	// Output:
	// oak adds $295.35
	// from $0.00 to $200.00 an hour: pine
	// <nil>
}

// Only a wage has changed: the cuts stay the same, so there is no new search.
func ExampleOptions() {
	j := bookRoom()
	first, err := estimate.New(context.Background(), j, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	j.Terms.Wage = 6000
	searched := false
	again, err := estimate.New(context.Background(), j, &estimate.Options{
		Start:    first.AllPlans(),
		Progress: func(string, optimize.Progress) bool { searched = true; return true },
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("searched:", searched)
	change, err := estimate.NewChange(first.Quote, again.Quote)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("the price changes by", j.Locale.FormatMoney(change.Price))
	// Output:
	// searched: false
	// the price changes by $112.87
}

// The client's proposal contains no cost.
func ExampleEstimate_Proposal() {
	e, err := estimate.New(context.Background(), bookRoom(), nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	p := e.Proposal()
	p.Number = "27-014"
	p.Date, p.Until = schedule.Date{Year: 2027, Month: 5, Day: 3}, schedule.Date{Year: 2027, Month: 6, Day: 2}
	p.Lead, p.Cautions, p.Excluded = p.Lead[:0], nil, nil
	if err := p.WriteText(os.Stdout, 72); err != nil {
		fmt.Println(err)
	}
	// Output:
	// book room
	// =========
	//
	// Number         27-014
	// Date           2027-05-03
	// Valid through  2027-06-02
	//
	// The work, by room ------------------------------------------------------
	//     Trim                      Length  Grade and finish
	//   book room
	//     pine base                    39'  paint grade, primer, 2 coats
	//     casing, around 1 opening          paint grade, primer, 2 coats
	//   Work not named in this proposal is not included.
	//
	// Included ---------------------------------------------------------------
	//   - all new trim: cut, fitted and fastened, nail holes filled, sanded,
	//     joints sealed
	//   - material, delivery and disposal of scrap
	//   - protection of floors and finished surfaces at the work
	//   - daily clean-up
	//
	// Price ------------------------------------------------------------------
	//   Price  $1,051.75
	//
	// Payments ---------------------------------------------------------------
	//   When           Amount
	//   completion  $1,051.75
	//   ---------------------
	//   Total       $1,051.75
	//
	// Expected dates ---------------------------------------------------------
	// Start       Monday 2027-06-07
	// Completion  Wednesday 2027-06-16
	//   These dates are expected, not promised. They depend on deliveries,
	//   drying times, conditions found behind old trim, and changes to the
	//   work.
	//
	// Changes ----------------------------------------------------------------
	// A change is agreed in a written change order before it is done: what is
	// added or left out, the change in price, and the change in days. Both
	// parties sign it. The price is then the price in this proposal together
	// with all signed change orders.
	//
	// Lead notice ------------------------------------------------------------
	// ! Lead paint: Paint in buildings from before 1978 may contain lead, and
	//   its dust harms children most. Do not sand, scrape or break painted
	//   trim yourself. If the building may be that old, tell us before the
	//   work begins: painted trim is then tested, or removed under the federal
	//   renovation rule. (40 CFR 745.80 to 745.92)
	//
	// Before and during the work ---------------------------------------------
	// ! Dust: Cutting and sanding raise dust, and dust travels. Remove or
	//   cover what must stay clean, close the doors to other rooms, and turn
	//   off fans and forced air while we work.
	// ! Work area: Stay out of rooms while we work in them. Saws, nailers,
	//   nails on the floor and cords injure people who are not used to them.
	//   Ask us first, even when nobody is working.
	// ! Children and pets: Keep children and pets out of the rooms, and away
	//   from tools, paint and dust, until we say that a room is finished and
	//   clean.
	// ! Fumes: Paint, varnish and glue give off fumes. Ventilate the rooms,
	//   keep flames away, and ask for the safety data sheets if anyone in the
	//   house has asthma or is pregnant.
	// ! Wet paint: Do not touch, lean on, close or wash painted trim until the
	//   day that we name. Dry to the touch is not cured.
	// ! Wires and pipes: Tell us about wires, pipes and heating in walls and
	//   floors before we nail. Work on them is for licensed trades.
	//
	// Acceptance -------------------------------------------------------------
	// By signing, both parties agree to the work, the price and the terms of
	// this proposal.
	// This proposal can be accepted through Wednesday 2027-06-02.
	//
	//   ______________________________________________________  ______________
	//   Client                                                  Date
	//
	//   ______________________________________________________  ______________
	//   Contractor                                              Date
}

// The crew's sheet for the first day of installation.
func ExampleEstimate_DaySheets() {
	e, err := estimate.New(context.Background(), bookRoom(), nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, d := range e.DaySheets().Days[:1] {
		fmt.Println(d.Date, d.Crew)
		for _, s := range d.Bring.Sticks {
			fmt.Println("bring", s)
		}
		for _, r := range d.Rooms {
			for _, s := range r.Steps {
				fmt.Println(r.Room, s.From.Format("15:04"), s.Name)
			}
		}
	}
	// Output:
	// 2027-06-14 crew
	// bring 3 @ 7' 1", casing
	// bring 3 @ 12', pine base
	// bring 1 @ 16', pine base
	// book room 08:00 casing: glue joints, install
	// book room 08:23 pine base: glue joints, install
	// book room 09:48 fill
	// book room 12:03 sand the filler
	// book room 12:17 spot prime
}

// The cost of one spare stick compared with a second trip.
func ExampleSpareCost() {
	j := bookRoom()
	j.SecondTrip = &estimate.SecondTrip{Chance: 20 * measure.Percent, Rate: 6500, Drive: measure.Duration(90 * time.Minute), Miles: 20, PerMile: 70, Idle: measure.Duration(time.Hour)}
	e, err := estimate.New(context.Background(), j, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range e.Spares {
		fmt.Println(s.Profile, s.Sticks, j.Locale.FormatMoney(s.Cost), "against", j.Locale.FormatMoney(s.Trip.Expected), s.Pays)
	}
	// Output:
	// pine base 1 $19.08 against $35.30 true
}

// Two yards, one of which charges much for delivery: savings on its sticks must pay for that.
func ExampleSupplier() {
	in := measure.MustParse
	j := bookRoom()
	for i := range j.Materials {
		for k := range j.Materials[i].Sticks {
			cheaper := j.Materials[i].Sticks[k]
			cheaper.Supplier, cheaper.Price = "far mill", cheaper.Price*7/10
			if cheaper.Length == in("10ft") {
				cheaper.Limit = stock.SoldOut
			}
			j.Materials[i].Sticks = append(j.Materials[i].Sticks, cheaper)
		}
	}
	for _, delivery := range []int64{2000, 9000} {
		j.Suppliers = []estimate.Supplier{{Name: "far mill", Delivery: delivery, MinOrder: 12000}}
		e, err := estimate.New(context.Background(), j, nil)
		if err != nil {
			fmt.Println(err)
			return
		}
		for _, o := range e.Orders {
			fmt.Println(o.Supplier, j.Locale.FormatMoney(o.Total), "short of the minimum order by", j.Locale.FormatMoney(o.Short))
		}
	}
	// Output:
	// far mill $99.60 short of the minimum order by $40.40
	// river mill $113.77 short of the minimum order by $0.00
}

// The old base comes off first; the bags go to the landfill.
func ExampleDisposal() {
	in := measure.MustParse
	j := bookRoom()
	j.Building = finish.Building{Year: 1994} // no rule on lead
	j.TearOut = &tearout.Job{
		Rooms: []tearout.Room{{Name: "book room"}},
		Parts: []tearout.Part{{Label: "old base", Room: "book room", Length: in("38ft"), Thickness: in("5/8in"), Width: in("4in")}},
	}
	j.Disposal = estimate.Disposal{Bag: 450}
	j.Shelf.Products = append(j.Shelf.Products, finish.Product{Label: "bags", Material: "heavy-duty bags", Packages: []finish.Package{{Size: finish.Count(20), Price: 3450}}})
	e, err := estimate.New(context.Background(), j, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range e.Quote.ByStep() {
		if r.Label == "break off" || r.Label == "bag" || r.Label == "tear-out" {
			fmt.Println(r.Label, r.Labor, j.Locale.FormatMoney(r.Direct))
		}
	}
	// Output:
	// break off 34m12s $38.53
	// bag 5m $5.63
	// tear-out 0s $4.50
}

// One person alone: work for two is reported, and planned for one.
func ExampleJob_alone() {
	in := measure.MustParse
	j := bookRoom()
	j.Rooms[0].Height = in("9ft")
	j.Trim.Crown = &stock.Profile{Name: "pine crown"}
	j.Materials = append(j.Materials, estimate.Material{
		Profile: stock.Profile{Name: "pine crown", Thickness: in("11/16in"), Width: in("4-5/8in")},
		Sticks:  []stock.Stick{{Length: in("16ft"), Price: 4016, Supplier: "river mill"}},
	})
	j.Calendar.Crews = nil
	e, err := estimate.New(context.Background(), j, &estimate.Options{ScheduleWork: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range e.Findings {
		if f.Code == estimate.FindingHelper {
			fmt.Println(f.Room + ": " + f.Reason)
		}
	}
	// Output:
	// book room: pine crown takes 2 people at its longest pieces, more than any crew has: get a helper for it, or props
}
