// Package whatif says what a change would do to the least cost of a cutting problem.
//
// [Solve] makes any [Change] in a problem for which there is a plan - one more piece, a
// longer one, a stick that is missing or costs more - and gives the [Difference] of the
// least costs. [Candidates] says which sticks would be worth adding to the supplier's list,
// and [PriceToBuy] at which price a stick begins to be bought.
//
// Every number is a difference of proven costs, or a [Range] that surely holds it: searches
// that end early make a range wider, never wrong. Money is in the currency's minor unit, as
// in the problem; if nothing has a price, length takes its place.
//
// Bad input is reported as *[measure.FieldError], all faults joined. Each Field begins with
// the name of the argument: problem, changes, sticks, stick or most, or with start for
// Options.Start.
//
// All functions may be called at the same time. They change none of their arguments.
package whatif
