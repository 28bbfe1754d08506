// Package replan goes on with a cutting plan from where the job stands.
//
// [Solve] takes a problem, its plan, and the [Progress] of the work: what is cut, which
// sticks are started, on hand or missing, and which pieces were spoiled. The [Revision] is a
// problem and a plan for what is left, with as much of the old plan as costs nothing, what to
// buy besides, what is not needed, and what it costs beyond what was planned. Money is in
// the currency's minor unit, as in the problem; if nothing has a price, length takes its
// place. [Revision.Picture] draws the job before and after.
//
// Bad input is reported as *[measure.FieldError], all faults joined. Each Field begins with
// the name of the argument: problem or progress.
//
// Solve may be called at the same time by several goroutines. It changes none of its
// arguments.
package replan
