// Package optimize finds the cheapest way to buy and cut sticks, and proves a lower bound
// on the cost.
//
// A [Problem] lists the sticks that can be had, the pieces that are wanted and
// the width of a saw cut. [Solve] returns a [Plan]: the cutting patterns, what
// they cost, and a lower bound that no plan can beat. Where cost and bound
// meet, the plan is proven optimal. [Check] verifies a plan without the
// solver, in integers only. [Evaluate] works out what a plan of one's own costs, and
// [Plan.Summary] says what any plan comes to.
//
// Calls may run side by side: there is no state outside a call, and none changes its
// arguments. Each profile is a problem of its own, so a job of several is several calls.
//
// # What a stick holds
//
// A stick's usable length is its length less the ends that cannot be used. It
// holds n pieces when their lengths and n-1 kerfs are no more than that: n
// pieces need n-1 cuts between them, and one more only where an offcut is
// left. What is left after that last cut is the offcut; a remainder no wider
// than the kerf becomes sawdust.
//
// # What is best
//
// The objective is the least total price. Where every price is zero, charges and yard cuts
// included, it is the least total length of the sticks used, each counted as delivered. Of plans
// that cost the same the one with fewer sticks is better, and of those the one
// that keeps the longest single offcut.
//
// Such ties are decided once the cost is proven, within a share of the work that
// the proof took. That is enough for a room; a large problem's may stay open.
//
// # What a shop asks besides
//
// [Rules], the fields of sticks and pieces that a plain job leaves at zero, and
// Problem.Runs say more: long runs to be spliced where it is cheapest together
// with everything else, miters that share a cut with a parallel neighbor, grades,
// lots and pieces that stay together, sticks with knots, bundles, price breaks and
// delivery charges, spare sticks, what the saw can hold, and a ladder of goals
// beyond the cost. Each may be used with others, each is decided in the one
// optimum, and Check knows all of them. Where two do not go together, the
// [*measure.FieldError] says so.
//
// The proof then covers purchases, ways along runs and what a stick holds by
// length and grade; what only the search over the other rules shows is named by
// [Audit].
//
// # Before and after the saw
//
// Package whatif says what a change would do to the least cost, and which length or price
// would be worth having. Package replan goes on when a piece was spoiled or a stick is
// missing. [RackChange] says which offcuts a plan uses up and leaves; package cutsheet
// writes a plan down for the saw.
//
// Problems and plans read and write JSON, with lengths as text and kinds by their names. A plan that was stored is checked again by [Check].
//
// # On the saw
//
// The pieces of a pattern are in the order in which they are cut: short ones first, so
// that each is cut from the end of what is still long, as far as nesting, sequences,
// defects and the yard's cut let them change places. No piece comes from a remnant that
// is shorter than Problem.MinRemnant where any order avoids it; the cut sheet marks those
// for which none does. A piece lies turned only where the plan needs that, or that care.
//
// # Exactness
//
// Lengths are whole ticks of [measure.Length] and money is whole minor units;
// nothing is rounded. Quantities may be billions: time and memory depend on how
// many different lengths there are, not on how many pieces.
//
// Three limits keep every sum inside 64 bits. With all lengths divided by
// their greatest common divisor, the total of the pieces (a kerf added to
// each) and each usable length stay below 1<<60, and so does the total number
// of pieces; the price of the dearest plan with a stick to each piece fits
// int64, and divided by the greatest common divisor of the prices stays below
// 1<<60; and no stick holds more than 65,536 pieces. Problems with rules have
// somewhat narrower limits. A problem beyond them is a [*measure.FieldError].
//
// Others keep time and memory bounded, so that the end of a context is heard at once:
// at most 10,000 different lengths of pieces, 10,000 kinds of sticks, and 4,194,304
// for the product of the two. With rules there are at most 10,000 kinds of pieces and
// parts, told apart by length, ends, grade and lot, 1,000 shapes of ends that nest,
// 60,000 parts that runs can be cut into, as many pieces of lots times lots, 1,000
// charges, 32 price breaks for a stick and 1,000 for all, and 100,000 defects on all
// sticks together that have the same.
//
// # While it searches
//
// Options.Progress is told of better plans and bounds, and ends a search that is good
// enough; [Plans] is an iterator over the plans. Options.Start is a plan to begin from, one
// made by hand or last week's.
//
// # Reproducibility
//
// The same problem and options give the same plan on every machine, unless the
// context ends the search first. The order in which sticks and pieces are
// listed changes neither cost nor bound.
//
// # Errors
//
// Solve returns a plan or an error, never both. A [*measure.FieldError] names a field
// with a value that makes no sense, an [InfeasibleError] the piece or stick
// that makes the problem impossible, a [LimitError] the limit that was reached
// before any plan was found. A limit reached with a plan in hand is no error:
// [Plan.Stop] tells.
package optimize
