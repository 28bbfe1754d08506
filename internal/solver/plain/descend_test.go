package plain

import (
	"context"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/search"
	"example.com/longpoint/internal/solver/solvertest"
)

// twoKinds makes a problem of a few pieces and two kinds of bin whose prices
// are close enough a piece of length to make a relaxation cheat.
func twoKinds(rng *rand.Rand, pieces int) *model.Problem {
	cap := 30 + rng.Int64N(200)
	p := &model.Problem{}
	size := cap * 2 / 3
	for left := pieces; left > 0 && size > 3; {
		size -= 1 + rng.Int64N(1+size/6)
		n := 1 + rng.IntN(min(left, 3))
		p.Items = append(p.Items, model.Item{Size: size, Demand: int64(n)})
		left -= n
	}
	p.Bins = []model.Bin{
		{Cap: cap, Cost: 95 + rng.Int64N(10), Limit: p.Pieces()},
		{Cap: cap * 7 / 10, Cost: 65 + rng.Int64N(10), Limit: p.Pieces()},
	}
	return p
}

// start is a run that has solved the relaxation and looks for a plan that
// costs less than the given.
func start(t *testing.T, p *model.Problem, cost int64) *solver {
	t.Helper()
	r := &solver{p: p, mt: meter.New(context.Background(), 0), cost: cost}
	r.master = master.New(p)
	addInitialColumns(r.master, nil)
	if st := r.master.Solve(search.NoPlan, r.mt); st != master.Converged {
		t.Fatalf("%+v: relaxation: %v", p, st)
	}
	return r
}

// TestPairSearchOfTwoKinds lets the search over pairs find and prove the
// optimum of problems that it has to branch for, on both sides of a pair.
func TestPairSearchOfTwoKinds(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	nodes := 0
	for c := range 400 {
		p := twoKinds(rng, 9)
		want, _ := solvertest.LeastOfAll(p)
		r := start(t, p, want+1)
		s := &pairBranching{r: r, mt: r.mt, exactOnly: c%4 > 0}
		m := master.New(p)
		m.SetBox(bound.Full(p))
		addInitialColumns(m, nil)
		if !s.node(unmerged(p), m, 0) {
			t.Fatalf("case %d: %+v not closed", c, p)
		}
		if _, ok := model.Exact(p, r.plan); !ok || r.cost != want || model.Cost(p, r.plan) != want {
			t.Fatalf("case %d: %+v: got %d, want %d", c, p, r.cost, want)
		}
		nodes += s.nodes
	}
	if nodes < 2000 {
		t.Errorf("only %d nodes in all: the cases are too easy", nodes)
	}
}

// TestDescend closes whole problems by the search over pairs with its lists and
// its rounding, as the tree does for a box.
func TestDescend(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	for c := range 200 {
		p := twoKinds(rng, 10)
		want, _ := solvertest.LeastOfAll(p)
		r := start(t, p, want+1)
		if !r.branchOnPairs(bound.Full(p), 1<<40) {
			t.Fatalf("case %d: %+v not closed", c, p)
		}
		if _, ok := model.Exact(p, r.plan); !ok || r.cost != want || model.Cost(p, r.plan) != want {
			t.Fatalf("case %d: %+v: got %d, want %d", c, p, r.cost, want)
		}
	}
}

// TestDescendCutShort ends the search after every amount of work: it may leave a
// problem open, but not call one closed that holds a better plan.
func TestDescendCutShort(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	open, closed := 0, 0
	for c := range 60 {
		p := twoKinds(rng, 10)
		want, _ := solvertest.LeastOfAll(p)
		for work := int64(1); work < 1<<24; work *= 2 {
			r := start(t, p, want+1)
			if !r.branchOnPairs(bound.Full(p), work) {
				open++
				continue
			}
			closed++
			if r.cost != want {
				t.Fatalf("case %d, work %d: %+v closed at %d, want %d", c, work, p, r.cost, want)
			}
		}
	}
	if open < 100 || closed < 100 {
		t.Errorf("%d left open, %d closed: the limits do not cut", open, closed)
	}
}
