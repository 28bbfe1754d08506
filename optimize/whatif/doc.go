// Package whatif computes the effect of a change on the least cost of a cutting
// problem.
//
// [Solve] applies any [Change] to a problem with a known plan - one more piece, a longer
// one, a missing or more expensive stick - and returns the [Difference] of the least costs.
// [Candidates] finds the sticks worth adding to the supplier's list, and [PriceToBuy] the
// price below which a stick is bought.
//
// Every number is a difference of proven costs, or a [Range] that is proven to contain it:
// a search that ends early makes a range wider, never wrong. Money is in the currency's
// minor unit, as in the problem; if nothing has a price, costs are lengths.
//
// Bad input is reported as [*measure.FieldError], all faults joined. Each Field begins with
// the name of the argument: problem, changes, sticks, stick or max_price, or with start for
// Options.Start.
//
// All functions are safe for concurrent use. They do not modify their arguments. A nil context
// never ends.
package whatif
