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

// instance is a problem in the solver's integers, with the mapping back.
//
// A kerf is added to every piece at its right end and one to every usable length: n pieces with
// n-1 kerfs between them fit a length if and only if n pieces with n kerfs fit the length plus
// one kerf. If ends may nest all sizes are doubled, so that half a setback is an integer.
type instance struct {
	problem  *Problem
	ruled    bool // there are rules
	byLength bool
	model    rules.Problem
	plain    *model.Problem // the same without rules, otherwise nil
	goals    []search.Goal
	unit     int64 // ticks per unit of size
	double   int64 // 2 if ends nest, else 1
	costUnit int64 // cost per unit of the solver's cost

	items   []item
	classes []class
	ends    []endClass
	parts   [][]measure.Length // per run of Problem.Runs: the position of each node
	runs    int                // number of the solver's runs before those of lots
	lots    []lotRun
	longest measure.Length // of all pieces: the length that a spare must replace

	ctx      context.Context
	mt       *meter.Meter // for the work before and after the search; nil ignores the context
	endAt    map[endClass]int
	itemAt   map[itemKey][]int
	lotAt    map[string]int
	grades   []int // per item: the least sufficient grade
	kindOf   []kindKey
	lotNames []string
	total    int64 // number of pieces
	useful   int64 // number of sticks: no plan needs more
	spare    int   // the item of the spare sticks, -1 if none
}

// compile converts a valid problem to an instance, or reports why it cannot or why no plan
// exists. It also returns an error if the context ends.
func compile(ctx context.Context, p *Problem) (*instance, error) {
	in := &instance{problem: p, ruled: !p.plain(), double: 1, ctx: ctx, mt: meter.New(ctx, 0).First(compileSteps),
		endAt: map[endClass]int{}, itemAt: map[itemKey][]int{}, lotAt: map[string]int{}}
	in.model.Parting = new(rules.Parting)
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

// setGoals sets the goals: by default the least cost, then a plan that is easy to cut.
func (in *instance) setGoals() {
	given := in.problem.Rules.Goals
	if len(given) == 0 {
		in.goals = search.UsualGoals()
		return
	}
	in.goals = append(in.goals, search.LeastPrice)
	for _, g := range given[1:] {
		in.goals = append(in.goals, solverGoals[g])
	}
}

// solverGoals maps goals to those of the solver.
var solverGoals = [...]search.Goal{GoalCost: search.LeastPrice, GoalSticks: search.FewestSticks, GoalOffcutValue: search.MostSalvage,
	GoalLongestOffcut: search.LongestOffcut, GoalPatterns: search.FewestPatterns, GoalCuts: search.FewestCuts, GoalSplices: search.FewestSplices}

// compileSteps is the limit on compiling after the context has ended: some milliseconds, so
// that all but the largest problems get a first plan.
const compileSteps = 1 << 20

// took counts steps of compiling and returns an error if the context has ended and there are
// too many.
func (in *instance) took(n int) error {
	if in.mt.Watch(int64(n)) {
		return nil
	}
	return noPlan(in.ctx, interrupted(in.ctx), 0)
}
