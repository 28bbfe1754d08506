// Package estimate works out a whole job in one call: from measured rooms to what is bought, cut and
// done, when, by whom, and what it costs.
//
//	e, err := estimate.New(ctx, job, nil)
//	fmt.Println(e.Quote.Total)       // the price
//	fmt.Println(e.Orders)            // what to order, from whom, by when
//	e.Proposal().WriteHTML(w)        // for the client
//	e.DaySheets().WriteHTML(w)       // for the crew
//
// # The whole job
//
// A [Job] is plain data: rooms, trim, materials with the sticks that suppliers have, the rack,
// products and systems that finish it, crews, terms. [New] takes the rooms off, plans the sticks
// of each profile, buys packages, works out hours, order of work and dates, and prices all of
// it. Every part of the [Estimate] is there to be looked at, and each cost says where it comes from. To
// replace a part, change the job and call New again with the plans of before as
// [Options].Start: what is cut as before is not searched for again. A [Variant] is
// another way to do the same job, compared with it as a whole.
//
// Begin with rooms, trim, materials and a shelf; [Job.Validate] says what is missing. A shelf needs a
// product for each material that [finish.System.Materials] names, and for what holds the dust of a
// tear-out; the job of the schoolhouse among the example programs has all of them to copy from.
//
// # Prices alone
//
// An [Alternative] is one way to do a job, with its [Cost] lines; [NewQuote] prices it under
// [Terms], as one price and by room, profile, step and kind of cost, and [Compare] prices
// several. An [Offer] is an alternative of any length: [BreakEven] finds where two of them
// change places, [BreakEvenPrice] what the trim of one may cost, [BreakEvenWage] at which
// wage the other becomes the cheaper.
//
// [Employment] gives the wage of an hour with its burden. [NewChange] compares two quotes
// line by line, [NewChangeOrder] makes an order for the client of it, [NewPaymentSchedule]
// divides a price into payments, [NewActual] holds what a job took against its estimate, and
// [UpdateRates] averages rates of labor with it.
//
// CostPicture, SchedulePicture, CrossoverPicture and WageCrossoverPicture draw what several ways cost, who does
// what when, and from which length and which wage on another way is the cheaper.
//
// Money is an int64 in cents, the currency's minor unit, rounded once per line, half to
// even, or as the terms say. A value that cannot be right is a [*measure.FieldError], a result that does not
// fit a [*measure.RangeError]. Nothing here takes or returns a floating-point number.
package estimate
