package plain

import "example.com/longpoint/internal/solver/heuristic"

// What each method may spend, and how long its lists may get. Work is in steps, some of which a
// processor does in a nanosecond; all numbers were found on the classes of internal/bench, where a
// house takes some tens of millions and a hard packing some hundreds. A change shows there first.
const (
	// The relaxation. Further optimal duals of the root have so much and such a share of what was
	// spent; those of a point so much each.
	alternativesWork  = 100_000_000
	alternativesShare = 10
	pointDualsWork    = 20_000_000

	// Lists for the whole problem: of so many patterns at most, once before the dives, and then
	// three times with more work. Of several kinds of stick the tree is better, and they get less.
	earlyList       = 3_000
	rootList        = 10_000
	earlyWork       = 250_000_000
	earlyWorkMany   = 5_000_000
	treeFirstWork   = 8_000_000 // before the tree; of one kind none
	middleWork      = 1_000_000_000
	lastWork        = 4_000_000_000
	goOnPackingWork = 1_000_000_000 // for a packing without waste, after each further dive

	// Lists in the boxes of the tree start small and grow fourfold on each further visit. Each
	// pattern of the limit is worth so many steps.
	firstList     = 20_000
	lastList      = 3_000_000
	listGrowth    = 4
	listStep      = 2_000
	residualList  = 3_000 // for what dives and neighborhoods leave
	residualWork  = 4_000_000
	firstGapShare = 64 // the first such list goes that part of the way from its bound to the cutoff

	// An enumeration by one filter may meet so many patterns: at first, and at the end for each
	// of those that a list may have.
	mostVisits = 20

	// Better plans. The last pieces of a dive, a neighborhood, and what the whole part of a
	// relaxation leaves, of which little is gained where copies are few.
	finishWork       = 20_000_000
	neighborWork     = 8_000_000
	residualRunWork  = 150_000_000
	fewCopiesWork    = 10_000_000
	handOverWork     = 300_000 // for each piece that a dive into a huge problem leaves
	mostHandOverWork = 150_000_000

	// Packings without waste. A pass settles all bins once; first comes a short run, then what it
	// leaves, then a long one. Where more may be wasted, both are short.
	mostPass     = 500_000_000
	shortWork    = 2_000_000
	shortPasses  = 4
	leftPasses   = 200
	longPasses   = 25
	longWork     = 6_000_000_000
	wastefulWork = 30_000_000
	partWork     = 1_000_000_000 // for what a part of a packing leaves
	probeWork    = 4_000_000_000 // for two pieces that belong together, or by the piece, of so many:
	probePiece   = 8_000_000
	mostProbed   = 2_000

	// What shows a proof by itself, and neighborhoods in vain after dives.
	certifyShare      = 2 // boxes that show by themselves what a search has proven
	certifyLeast      = 100_000
	showAgainShare    = 2 // lists that show what has been proven by other means: times the work of the proof
	showAgainLeast    = 500_000
	manyKinds         = 50 // from so many on there are too many counts to come to whole ones
	boxTries          = 10 // neighborhoods in vain after a dive in the tree
	boxTriesOfOneKind = 20
)

// When the tree looks for better plans; with many kinds of stick there are too many counts to come
// to whole ones.
var (
	turns = [...]heuristic.Turn{
		{Name: heuristic.DiveTurn, Every: 8, Share: 4},
		{Name: heuristic.NeighborhoodTurn, Every: 8, Share: 4, Tries: boxTries},
	}
	turnsOfMany = [...]heuristic.Turn{
		{Name: heuristic.DiveTurn, Every: 2, Share: 2},
		{Name: heuristic.NeighborhoodTurn, Every: 2, Share: 2, Tries: boxTries},
	}
)
