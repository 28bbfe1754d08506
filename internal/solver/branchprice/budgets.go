package branchprice

import (
	"example.com/longpoint/internal/solver/heuristic"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/search"
)

// What each method may spend, and how long its lists may get. Work is in steps, some of which a
// processor does in a nanosecond; the numbers were found by BenchmarkRules of package optimize, whose houses
// take some tens of millions where rules are few. A change shows there first.
const (
	// The relaxation: each further optimal dual solution.
	perturbedWork = 20_000_000
	pointDives    = 3 // dives at a point from other optima each time

	// Lists. An enumeration may take so many steps for each column of its limit.
	listSteps    = 500
	listShare    = 4      // of the work of a list: once dives have taken so much it comes before more of them
	listedCounts = 20_000 // counts of sticks whose costs are looked at one by one
	smallList    = 3_000  // columns, for what dives and neighborhoods leave

	// Better plans.
	roundWork      = 2_000_000 // among the columns of the root
	finishWork     = 10_000_000
	diveWork       = 60_000_000
	neighborWork   = 8_000_000
	neighborFinish = 5_000_000
	countsWork     = 100_000_000 // for a plan of given counts
	assembliesWork = 60_000_000  // for the sticks once all assemblies are settled

	// Points that no list closes are taken up again so often, after all else. Duals are inherited from so
	// many boxes around, and so many are used.
	mostAgain = 10
	mostNear  = 12
	mostDuals = 6

	// A point is searched for plans of the least sum first, or of an eighth of what is open.
	mostLevels = 8

	// Goals after the first: so much and so many times what that took; of a brief solve less. Each
	// longer offcut that is asked for has a run of its own.
	goalWork      = 100_000_000
	goalShare     = 3
	briefShare    = 12
	briefOfOne    = 300_000 // for the offcut where there is one kind of stick
	mostBriefWork = 20_000_000
	offcutWork    = 40_000_000
	roomiestWork  = 50_000 // to bound the longest offcut by duals
	roomiestShare = 20

	// All patterns that a plan of the least cost may have: so many at most, and steps to list them and to search them.
	goalList      = 3_000
	shortList     = 400
	goalListWork  = 100_000
	goalListShare = 10
	mostGoalList  = 400_000
	pickWork      = 5_000_000
)

// briefWork is what each goal of a brief solve may spend, besides its share.
var briefWork = [...]int64{search.FewestSticks: 5_000_000, search.FewestSplices: 12_000_000, search.LongestOffcut: 2_500_000}

// listLimits are limits of a list: of its columns, and of the steps in all; and whether it is branched on pairs
// first, with cuts.
type listLimits struct {
	master.Effort
	work  int64
	pairs bool
}

// rootList is tried before anything else, the others one after another. The longest is for points, of
// which it mostly comes to its end at once; it takes much space. A search that goes astray on one kind of branching comes
// to its end by the other.
var (
	rootList = listLimits{master.Effort{Columns: 1_000, Tries: 1, Each: listSteps}, 5_000_000, false}
	lists    = [...]listLimits{
		{master.Effort{Columns: 4_000, Tries: 1, Each: listSteps}, 20_000_000, false},
		{master.Effort{Columns: 15_000, Tries: 1, Each: listSteps}, 150_000_000, true},
		{master.Effort{Columns: 60_000, Tries: 1, Each: listSteps}, 1_500_000_000, false},
	}
	pointLists = [...]listLimits{
		{master.Effort{Columns: 4_000, Tries: 3, Each: listSteps}, 20_000_000, false},
		{master.Effort{Columns: 15_000, Tries: 3, Each: listSteps}, 150_000_000, true},
		{master.Effort{Columns: 150_000, Tries: 1, Each: 750}, 1_500_000_000, false},
	}
)

// turns says when a tree looks for better plans.
var turns = [...]heuristic.Turn{
	{Name: heuristic.DiveTurn, Every: 3, Share: 3},
	{Name: heuristic.NeighborhoodTurn, First: 2, Every: 6, Share: 3, Tries: 10},
}
