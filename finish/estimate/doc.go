// Package estimate turns a finishing list into labor and money: how long its steps
// take, what a material costs installed, which of several is the cheapest, and at what
// length or price that changes.
//
// [Labor] works out the hours of the steps of a [finish.List] from a [Rate] for each task.
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
// Money is an int64 in cents, the currency's minor unit, rounded once per line, half to
// even, or as the terms say. A value that cannot be right is a [*measure.FieldError], a result that does not
// fit a [*measure.RangeError]. Nothing here takes or returns a floating-point number.
package estimate
