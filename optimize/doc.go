// Package optimize finds the cheapest way to buy and cut sticks, and proves a lower bound
// on the cost.
//
//	plan, err := optimize.Solve(context.Background(), optimize.Problem{
//		Sticks: []stock.Stick{{Length: 12 * measure.Foot, Price: 1908}, {Length: 16 * measure.Foot, Price: 2608}},
//		Pieces: []stock.Piece{{Length: measure.MustParse(`12' 1-3/8"`)}, {Length: measure.MustParse(`41-1/2"`), Quantity: 4}},
//		Kerf:   measure.Inch / 8,
//	}, nil)
//	if err != nil {
//		log.Fatal(err)
//	}
//	for _, p := range plan.Patterns {
//		fmt.Println(p.Count, "of stick", p.Stick, "cut into pieces", p.Pieces, "leaves", p.Offcut)
//	}
//	fmt.Println(plan.Cost, "cents; proven to be the least:", plan.Proven)
//
// A [Problem] lists the available sticks, the wanted pieces and the width of a saw cut.
// [Solve] returns a [Plan]: the cutting patterns, their cost, and a lower bound that no plan
// can beat. If cost and bound are equal, the plan is proven optimal. [Check] verifies a plan
// without the solver, in integers only. [Evaluate] computes the cost of a plan made by hand,
// and [Plan.Summary] the totals of any plan.
//
// Calls may run concurrently: there is no state outside a call, and no call changes its
// arguments. Each profile is a separate problem; a job with several profiles takes several
// calls.
//
// # Capacity of a stick
//
// A stick's usable length is its length less its unusable ends. It holds n pieces if the sum
// of their lengths and n-1 kerfs does not exceed it: n pieces need n-1 cuts between them, and
// one more only if there is an offcut. The offcut is the length left after that last cut; a
// remainder no wider than the kerf becomes sawdust.
//
// # Objective
//
// The objective is the least total price. If every price is zero, charges and yard cuts
// included, it is the least total length of the sticks used, each counted as delivered. Ties
// are broken by the fewest sticks, then by the longest single offcut.
//
// Solve breaks ties once the cost is proven, with a share of the work that the proof took. That
// settles most rooms; in others, and in large problems, a longer offcut may remain to be found.
// Goals that [Rules] names get more work.
//
// # Rules of a shop
//
// [Rules], further fields of sticks and pieces, and Problem.Runs add requirements: long runs
// spliced wherever that is cheapest overall, miters that share a cut with a parallel neighbor,
// grades, lots, pieces that stay together, sticks with knots, bundles, price breaks and delivery
// charges, spare sticks, the shortest part that the saw holds safely, and further goals after
// the cost. Rules can be combined, and all are optimized together. Check verifies all of them.
// If two cannot be combined, Solve returns a [*measure.FieldError]: a stick that is cut in the
// yard must have no defects, and excludes Nest and the goals GoalOffcutValue and GoalCuts.
//
// The proof then covers purchases, splices of runs, and the capacity of a stick by length and
// grade. [Audit] reports the part that rests on the search alone.
//
// # Before and after the saw
//
// Package whatif computes the effect of a change on the least cost, and which length or price
// would be worth having. Package replan plans the rest of a job after a piece is spoiled or a
// stick turns out to be missing. [RackChange] lists the offcuts that a plan uses and leaves.
// Package cutsheet writes a plan for the saw.
//
// Problems and plans read and write JSON, with lengths as text and enumerations by name.
// [Check] verifies a plan that was stored.
//
// # Order of cuts
//
// The pieces of a pattern are in cutting order: short pieces first, so that each is cut from
// a remnant that is still long, as far as nesting, sequences, defects and the yard's cut
// permit. A piece is cut from a remnant shorter than Problem.MinRemnant only if no order
// avoids it; the cut sheet marks such pieces. A piece is turned only if the plan needs that, or
// to keep the remnant long.
//
// # Exactness
//
// Lengths are whole ticks of [measure.Length] and money is whole minor units; nothing is
// rounded. Quantities may be billions: time and memory depend on the number of different
// lengths, not on the number of pieces.
//
// Three limits keep every sum within 64 bits. With all lengths divided by their greatest
// common divisor, the total of the pieces (plus a kerf for each), each usable length and the
// total number of pieces must be below 1<<60; undivided, the total must fit int64. The price of the most expensive plan with one
// stick per piece must fit int64 and, divided by the greatest common divisor of the prices, be
// below 1<<60. No stick may hold more than 65,536 pieces. Problems with rules have somewhat
// lower limits. A problem beyond the limits is a [*measure.FieldError].
//
// Other limits bound time and memory, so that Solve notices the end of a context at once: at
// most 10,000 different lengths of pieces, 10,000 kinds of sticks, and 4,194,304 for the
// product of the two. With rules there are at most 10,000 kinds of pieces and parts, which
// differ by length, ends, grade or lot, 1,000 shapes of ends that nest, 60,000 parts of runs,
// 60,000 for the number of pieces of lots times the number of lots, 1,000 charges, 32 price
// breaks for a stick and 1,000 in total, and 100,000 defects in total on sticks with the same
// defects.
//
// # Progress
//
// Options.Progress receives better plans and bounds, and can end the search; [Plans] is an
// iterator over the plans. Options.Start is a plan to begin from, for example one made by hand
// or last week's.
//
// # Reproducibility
//
// The same problem and options give the same plan on every machine, unless the context ends
// the search first. The order of sticks and pieces in the problem affects neither cost nor
// bound.
//
// # Errors
//
// Solve returns a plan or an error, never both. A [*measure.FieldError] names a field with an
// invalid value, an [*InfeasibleError] the piece or stick that makes the problem infeasible, a
// [*LimitError] the limit that was reached before any plan was found. If a limit is reached
// after a plan was found, there is no error; see [Plan.Stop]. Errors of all packages may be
// joined or wrapped: [errors.As] finds the one of a type, [measure.FieldErrors] all fields.
package optimize
