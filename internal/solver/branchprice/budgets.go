package branchprice

import (
	"example.com/longpoint/internal/solver/heuristic"
	"example.com/longpoint/internal/solver/listing"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/search"
	"example.com/longpoint/internal/solver/setcover"
)

// Work limits of the methods, in steps, and lengths of their lists. A step takes a nanosecond or two. The numbers were
// tuned by BenchmarkRules of package optimize, whose houses take some tens of millions of steps if they have few rules;
// those of brief goals by BenchmarkGoals of internal/bench.
const (
	// The relaxation: each further optimal dual solution.
	perturbedWork = 20_000_000
	pointDives    = 3 // dives at a point from other optima each time

	// Lists. listSteps is the limit of an enumeration for each column that the list may have.
	listSteps    = 500
	listShare    = 4      // of the work of a list: after as many steps of dives, the list has its turn
	listedCounts = 20_000 // counts of sticks whose costs are computed one by one
	smallList    = 3_000  // columns, for residual problems of dives and neighborhoods

	// Better plans.
	finishWork       = 10_000_000
	diveWork         = 60_000_000
	neighborWork     = 8_000_000
	neighborFinish   = 5_000_000
	handOverWork     = 300_000 // for each piece that a dive leaves of a huge problem without rules
	mostHandOverWork = 150_000_000
	certifyShare     = 2 // boxes whose relaxations prove the result of a search
	certifyLeast     = 100_000
	countsWork       = 100_000_000 // for a plan of given counts
	assembliesWork   = 60_000_000  // for the sticks once all assemblies are settled

	// Points that no list closes are tried again mostAgain times, after everything else. Duals are inherited from at most
	// mostNear surrounding boxes, and at most mostDuals are used.
	mostAgain = 10
	mostNear  = 12
	mostDuals = 6

	// A point is searched for plans of the least possible cost first, or in an eighth of the gap.
	mostLevels = 8

	// Goals after the first: goalWork and goalShare times the work of the first. In a brief solve: briefWork and the work
	// of the first divided by briefShare. Each question for a longer offcut may take offcutWork.
	goalWork      = 100_000_000
	goalShare     = 3
	briefShare    = 12
	briefOfOne    = 300_000 // for the offcut if there is one kind of stick
	mostBriefWork = 20_000_000
	offcutWork    = 40_000_000
	roomiestWork  = 50_000 // to bound the longest offcut by duals
	roomiestShare = 20

	// The list of all patterns that a plan of the least cost can use: its length, and steps to make and to search it. Up to
	// shortList patterns, it is searched before a relaxation.
	goalList      = 3_000
	shortList     = 400
	goalListWork  = 100_000
	goalListShare = 10
	mostGoalList  = 400_000
	pickWork      = 5_000_000
)

// briefWork is the work limit of each goal of a brief solve, besides its share.
var briefWork = [...]int64{search.FewestSticks: 5_000_000, search.FewestSplices: 12_000_000, search.LongestOffcut: 2_500_000}

// Lists are branched on columns, or on pairs with cuts.
var (
	byColumns = setcover.Branching{ColumnsFirst: true}
	byPairs   = setcover.Branching{Cuts: true, PairsFirst: true}
)

// listLimits are the limits of a list, and of all its steps.
type listLimits struct {
	listing.Effort
	work int64
}

func listOf(columns, tries int, each, work int64, by setcover.Branching) listLimits {
	return listLimits{listing.Effort{Effort: master.Effort{Columns: columns, Tries: tries, Each: each}, Branching: by}, work}
}

// rootList is tried at the root, the others one after another in boxes whose counts of sticks are all fixed as far as they
// affect the cost; the last, which takes much memory and whose search mostly ends at its root, only at points. The lists
// differ in branching, since a search that does not end by one kind often ends by the other.
var (
	rootList = listOf(1_000, 1, listSteps/4, 5_000_000, byColumns)
	lists    = [...]listLimits{
		listOf(4_000, 1, listSteps/2, 20_000_000, setcover.Branching{Cuts: true}),
		listOf(15_000, 3, listSteps, 150_000_000, byPairs),
		listOf(150_000, 1, 750, 1_500_000_000, byColumns),
	}
)

// Work limits for problems without rules that have one kind of stick. They were tuned on the classes of internal/bench,
// where a hard packing takes some hundreds of millions of steps.
const (
	// Lists for the whole problem, by their greatest number of patterns: one before the dives, and then others with more
	// work. For large demands a dive is better, so lists get less work. An enumeration by one filter may visit mostVisits
	// patterns for each pattern that the list may have.
	earlyList     = 3_000
	longList      = 10_000
	earlyWork     = 250_000_000
	earlyWorkMany = 5_000_000
	manyWork      = 8_000_000
	middleWork    = 1_000_000_000
	lastWork      = 4_000_000_000
	mostVisits    = 20

	// Better plans: backtracks of a dive, and neighborhoods in a row that fail.
	mostBacktracksOfOne = 6
	triesOfOneKind      = 20

	// Packings without waste. A pass settles all sticks once. A short run comes first, then the rest that it
	// leaves, then a long run. If more may be wasted, both runs are short.
	mostPass        = 500_000_000
	shortWork       = 2_000_000
	shortPasses     = 4
	leftPasses      = 200
	longPasses      = 25
	longWork        = 6_000_000_000
	wastefulWork    = 30_000_000
	goOnPackingWork = 1_000_000_000 // after each further dive
	partWork        = 1_000_000_000 // for the rest that a part of a packing leaves
	probeWork       = 4_000_000_000 // to find two pieces that belong together, or, if that is more, probePiece per piece:
	probePiece      = 8_000_000
	mostProbed      = 2_000

	// Lists that prove the result of a search for a packing: multiple of that search's work.
	showAgainShare = 2
	showAgainLeast = 500_000
)

// turns says when a tree looks for better plans.
var turns = [...]heuristic.Turn{
	{Name: heuristic.DiveTurn, Every: 3, Share: 8},
	{Name: heuristic.NeighborhoodTurn, Every: 6, Share: 8, Tries: 10},
}

// turnsOfMany is for problems without rules with so many kinds of stick that not all of their counts become integers.
var turnsOfMany = [...]heuristic.Turn{
	{Name: heuristic.DiveTurn, Every: 2, Share: 2},
	{Name: heuristic.NeighborhoodTurn, Every: 2, Share: 2, Tries: 10},
}

const manyKinds = 50
