// Package replan continues a cutting plan from the current state of the job.
//
// [Solve] takes a problem, its plan, and the [Progress] of the work: the sticks that are cut,
// started, on hand or missing, and the pieces that were spoiled. The [Revision] is a problem
// and a plan for the rest of the job, which keeps as much of the old plan as possible at no
// extra cost. It lists what to buy, what is surplus, and the cost beyond the planned cost.
// Money is in the currency's minor unit, as in the problem; if nothing has a price, costs are
// lengths. [Revision.Picture] draws the job before and after.
//
// Bad input is a [*measure.FieldError] for each fault, joined. Each Field begins with the name
// of the argument: problem or progress.
//
// Solve may be called concurrently. It changes none of its arguments. A nil context never ends.
package replan
