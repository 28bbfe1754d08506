// Package estimate estimates a whole job in one call: from measured rooms to purchases, cuts,
// hours, dates and the price.
//
//	data, err := os.ReadFile("examples/schoolhouse/job.json")
//	if err != nil {
//		log.Fatal(err)
//	}
//	var job estimate.Job
//	if err := measure.UnmarshalStrict(data, &job); err != nil {
//		log.Fatal(err)
//	}
//	e, err := estimate.New(context.Background(), job, nil)
//	if err != nil {
//		log.Fatal(err)
//	}
//	for _, o := range e.Orders {
//		fmt.Println("order from", o.Supplier, "by", o.OrderBy, "for", job.Locale.FormatMoney(o.Total))
//	}
//	for _, o := range e.Variants {
//		fmt.Println(o.Label, "would change the price by", job.Locale.FormatMoney(o.Difference))
//	}
//	fmt.Println(job.Locale.FormatMoney(e.Quote.Price), "for", e.Quote.Labor, "of work, done on", schedule.DateOf(e.Schedule.Done))
//
// e.Proposal returns the paper for the client, e.DaySheets that for the crew.
//
// # The whole job
//
// A [Job] is plain data: rooms, trim, materials with the sticks that suppliers have, the rack,
// products and finishing systems, crews, terms. [New] takes off the rooms, plans the sticks of
// each profile, buys packages, computes hours, the order of work and dates, and prices all of
// it. The [Estimate] has every part, and each cost names its origin. After a change to the job,
// call New again with the old plans as [Options].Start: plans that the change does not affect
// are not searched again. A [Variant] is another way to do the same job, compared as a whole.
//
// Begin with rooms, trim, materials and a shelf; [Job.Validate] reports what is missing. A
// shelf needs a product for each material that [finish.System.Materials] names, and for the
// dust containment of a tear-out. The job of the schoolhouse among the example programs has
// all of them.
//
// # Prices alone
//
// An [Alternative] is one way to do a job, with its [Cost] lines. [NewQuote] prices it under
// [Terms], as one price and by room, profile, step and kind of cost; [Compare] prices several.
// An [Offer] is an alternative of any length: [BreakEven] finds the length at which two offers
// cost the same, [BreakEvenPrice] the price of the trim, [BreakEvenWage] the wage.
//
// [Employment] computes the wage of an hour with its burden. [NewChange] compares two quotes
// line by line, [NewChangeOrder] makes a change order for the client from it,
// [NewPaymentSchedule] divides a price into payments, [NewActual] compares the hours and costs
// of a finished job with its estimate, and [UpdateRates] averages labor rates with them.
//
// CostPicture, SchedulePicture, BreakEvenPicture and BreakEvenWagePicture draw the costs of
// several alternatives, the schedule, and the length and the wage at which another alternative
// becomes cheaper.
//
// Money is an int64 in cents, the currency's minor unit, rounded once per line, half to even,
// or as the terms say. An invalid value is a [*measure.FieldError], a result out of range a
// [*measure.RangeError]. Nothing here takes or returns a floating-point number.
package estimate
