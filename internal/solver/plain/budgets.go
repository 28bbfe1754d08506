package plain

import "example.com/longpoint/internal/solver/heuristic"

// Work limits of the methods, in steps, and lengths of their lists. A step takes about a nanosecond. The
// numbers were tuned on the classes of internal/bench, where a house takes some tens of millions of steps and
// a hard packing some hundreds of millions. Those classes show the effect of a change first.
const (
	// The relaxation. Further optimal duals of the root may take alternativesWork plus a share of the work so
	// far; those of a point pointDualsWork each.
	alternativesWork  = 100_000_000
	alternativesShare = 10

	// Lists for the whole problem, by their greatest number of patterns: one before the dives, and then three
	// with more work. With several kinds of stick the tree is better, so lists get less work.
	earlyList       = 3_000
	rootList        = 10_000
	earlyWork       = 250_000_000
	earlyWorkMany   = 5_000_000
	treeFirstWork   = 8_000_000 // before the tree; none with one kind of stick
	middleWork      = 1_000_000_000
	lastWork        = 4_000_000_000
	goOnPackingWork = 1_000_000_000 // for a packing without waste, after each further dive

	// Lists in the boxes of the tree start small and grow fourfold on each further visit. They may take
	// listStep steps for each pattern of the limit.
	firstList  = 20_000
	lastList   = 3_000_000
	listGrowth = 4
	listStep   = 2_000

	// An enumeration by one filter may visit this many patterns for each pattern that the list may have.
	mostVisits = 20

	// Better plans: the last pieces of a dive, a neighborhood, and the residual problem that the integer part
	// of a relaxation leaves. The last gains little if copies are few.
	finishWork      = 20_000_000
	neighborWork    = 8_000_000
	residualRunWork = 150_000_000

	// Packings without waste. A pass settles all bins once. A short run comes first, then the rest that it
	// leaves, then a long run. If more may be wasted, both runs are short.
	mostPass     = 500_000_000
	shortWork    = 2_000_000
	shortPasses  = 4
	leftPasses   = 200
	longPasses   = 25
	longWork     = 6_000_000_000
	wastefulWork = 30_000_000
	partWork     = 1_000_000_000 // for the rest that a part of a packing leaves
	probeWork    = 4_000_000_000 // to find two pieces that belong together, or, if that is more, probePiece per piece:
	probePiece   = 8_000_000
	mostProbed   = 2_000

	// Proofs without a search, and failed neighborhoods after dives.
	showAgainShare    = 2 // lists that prove the result of another method: multiple of that method's work
	showAgainLeast    = 500_000
	boxTriesOfOneKind = 20
)

// When the tree looks for better plans. With many kinds of stick, there are too many counts for all to become
// integers, so it looks more often.
var (
	turns = [...]heuristic.Turn{
		{Name: heuristic.DiveTurn, Every: 8, Share: 4},
		{Name: heuristic.NeighborhoodTurn, Every: 8, Share: 4, Tries: 10},
	}
)
