package optimize

import (
	"cmp"
	"context"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
	"example.com/longpoint/measure"
)

// instance is a problem in the solver's integers, with the way back.
//
// A kerf is added to every piece at its right end and one to every usable length: n pieces with n-1
// kerfs between them fit a length exactly when n pieces with n kerfs fit the
// length and one kerf more. Where ends may nest everything is doubled, so that half a
// setback is whole.
type instance struct {
	problem  *Problem
	ruled    bool // there are rules
	byLength bool
	model    rules.Problem
	plain    *model.Problem // the same where there are no rules, otherwise nil
	goals    []search.Goal
	unit     int64 // ticks to one unit of size
	double   int64 // 2 where ends nest, else 1
	costUnit int64 // cost to one unit of the solver's cost

	items   []item
	classes []class
	ends    []endClass
	parts   [][]measure.Length // per run of Problem.Runs: the position of each node
	runs    int                // the solver's runs before those of lots
	lots    []lotRun
	longest measure.Length // of all pieces: what a spare must replace

	ctx      context.Context
	mt       *meter.Meter // of what comes before and after the search; nil looks at no context
	endAt    map[endClass]int
	itemAt   map[itemKey][]int
	lotAt    map[string]int
	grades   []int // per item: the least that will do
	kindOf   []kindKey
	lotNames []string
	total    int64 // pieces
	useful   int64 // sticks: no plan needs more
	spare    int   // the item of the spare sticks, -1 without
}

// compile turns a problem that passed validate into an instance, or says why
// that cannot be done or why no plan can exist. It is an error, too, that the context ends.
func compile(ctx context.Context, p *Problem) (*instance, error) {
	in := &instance{problem: p, ruled: !p.plain(), double: 1, ctx: ctx, mt: meter.New(ctx, 0).First(compileSteps),
		endAt: map[endClass]int{}, itemAt: map[itemKey][]int{}, lotAt: map[string]int{}}
	if p.Rules.Nest {
		in.double = 2
	}
	for i := range p.Pieces {
		in.longest = max(in.longest, p.Pieces[i].Length)
	}
	for _, add := range [...]func() error{in.addItems, in.addRuns, in.addSticks, in.addLots} {
		if err := add(); err != nil {
			return nil, err
		}
	}
	in.addSpares()
	if err := cmp.Or(in.small(), in.crowding(), in.took(len(in.items)*len(in.model.Bins)/8)); err != nil {
		return nil, err
	}
	in.bar()
	in.divide()
	if err := cmp.Or(in.inRange(), in.fits()); err != nil {
		return nil, err
	}
	in.setGoals()
	if in.ruled {
		return in, nil
	}
	in.plain = in.model.Plain()
	return in, in.supply()
}

// setGoals says what to strive for: by itself a problem asks for the least cost, and of such plans for one that is good
// to cut.
func (in *instance) setGoals() {
	in.goals = append(in.goals, search.LeastPrice)
	given := in.problem.Rules.Goals
	if len(given) == 0 {
		in.goals = append(in.goals, search.FewestSticks, search.FewestSplices, search.LongestOffcut)
		return
	}
	for _, g := range given[1:] {
		in.goals = append(in.goals, solverGoals[g])
	}
}

// solverGoals are the goals as the solver knows them.
var solverGoals = [...]search.Goal{GoalCost: search.LeastPrice, GoalSticks: search.FewestSticks, GoalOffcutValue: search.MostSalvage,
	GoalLongestOffcut: search.LongestOffcut, GoalPatterns: search.FewestPatterns, GoalCuts: search.FewestCuts, GoalSplices: search.FewestSplices}

// compileSteps is what compiling may still take once the context has ended: some
// milliseconds, so that all but the largest problems get a first plan.
const compileSteps = 1 << 20

// took counts steps of compiling and returns an error once the context has ended and
// there are too many.
func (in *instance) took(n int) error {
	if in.mt.Watch(int64(n)) {
		return nil
	}
	return noPlan(in.ctx, interrupted(in.ctx), 0)
}
