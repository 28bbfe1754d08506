package heuristic

import (
	"slices"

	"example.com/longpoint/internal/solver/diversify"
	"example.com/longpoint/internal/solver/rules"
)

// The least number of pieces to plan again, the greatest number beyond that, and the greatest number of equal
// sticks to consider.
const (
	fewestPieces = 16
	morePieces   = 16
	mostAlike    = 12
)

// Neighborhoods is a large neighborhood search: it repeatedly takes a few sticks out of the
// best plan, preferably sticks with a high reduced cost, and plans their pieces again.
type Neighborhoods struct {
	Problem *rules.Problem
	Dual    []int64 // per item
	Scale   int64   // of the duals
	Random  *diversify.Stream

	Plan  func() []rules.ColumnCount      // the best so far
	Solve func(fixed []rules.ColumnCount) // plans the residual problem of the fixed part of the best plan
	Cost  func() int64                    // of the best plan
	Done  func() bool
}

// Search tries until the given number of consecutive tries have failed.
func (s *Neighborhoods) Search(tries int) {
	for fails := 0; fails < tries && !s.Done(); fails++ {
		before := s.Cost()
		s.Solve(s.choose(s.Plan()))
		if s.Cost() < before {
			fails = -1
		}
	}
}

// choose takes sticks out of a plan, usually those that yield the parts of some run and some
// more, and returns the rest.
func (s *Neighborhoods) choose(plan []rules.ColumnCount) (fixed []rules.ColumnCount) {
	h := neighborhood{p: s.Problem, plan: plan, counts: make([]int64, len(plan)), free: make([]int64, len(s.Problem.Items))}
	h.listSticks(s.Dual, s.Scale)
	want := fewestPieces + s.Random.Int(morePieces)
	for n := len(s.Problem.Runs); n > 0 && s.Random.Int(5) < 3; {
		h.freeRun(s.Random.Int(n))
	}
	for h.pieces < want && len(h.sticks) > 0 {
		at := h.dear * float64(s.Random.Int(1<<20)) / (1 << 20)
		k := 0
		for k < len(h.sticks)-1 && at >= h.sticks[k].dear {
			at -= h.sticks[k].dear
			k++
		}
		h.release(k)
	}
	h.openRuns()
	for k, n := range h.counts {
		if n > 0 {
			fixed = append(fixed, rules.ColumnCount{Column: plan[k].Column, N: n})
		}
	}
	return fixed
}

// neighborhood is a set of sticks of a plan whose pieces are planned again.
type neighborhood struct {
	p      *rules.Problem
	plan   []rules.ColumnCount
	sticks []stickOfPlan // those that are left, individually
	dear   float64       // total of their reduced costs
	counts []int64       // of each column of the rest of the plan
	pieces int
	free   []int64 // of each item
}

// stickOfPlan is a stick with its reduced cost: its cost minus the dual value of its pieces.
type stickOfPlan struct {
	at   int
	dear float64
}

// listSticks lists the sticks of the plan, and some of many equal ones.
func (h *neighborhood) listSticks(dual []int64, scale int64) {
	classOf := h.p.ClassOf()
	for k, q := range h.plan {
		h.counts[k] = q.N
		f := q.Column.Fill
		if f == nil {
			continue
		}
		cost := float64(h.p.Classes[classOf[f.Bin]].Tiers[0].Price + q.Column.Cost[rules.Price])
		dear := cost * float64(scale)
		for _, u := range f.Uses {
			dear -= float64(float64(dual[u.Item]) * float64(u.N))
		}
		dear = max(dear, 0) + float64(0.02*float64(scale)*(1+cost))
		for range min(q.N, mostAlike) {
			h.sticks = append(h.sticks, stickOfPlan{k, dear})
			h.dear += dear
		}
	}
}

// release takes a stick out of the plan.
func (h *neighborhood) release(k int) {
	s := h.sticks[k]
	h.dear -= s.dear
	h.sticks = slices.Delete(h.sticks, k, k+1)
	h.counts[s.at]--
	for _, u := range h.plan[s.at].Column.Fill.Uses {
		h.pieces += int(u.N)
		h.free[u.Item] += u.N
	}
}

// freeRun releases the sticks that yield the parts of a run.
func (h *neighborhood) freeRun(run int) {
	for _, q := range h.plan {
		if q.Column.Fill != nil || q.Column.Run != run {
			continue
		}
		for _, u := range h.p.Runs[run].Uses(q.Column.Path) {
			for k := 0; h.free[u.Item] < u.N && k < len(h.sticks); {
				if slices.ContainsFunc(h.plan[h.sticks[k].at].Column.Fill.Uses, func(v rules.Use) bool { return v.Item == u.Item }) {
					h.release(k)
				} else {
					k++
				}
			}
		}
	}
}

// openRuns removes the assemblies of runs whose parts are all released, so that the runs can be
// split differently.
func (h *neighborhood) openRuns() {
	for k, q := range h.plan {
		if q.Column.Fill != nil {
			continue
		}
		uses := h.p.Runs[q.Column.Run].Uses(q.Column.Path)
		if slices.ContainsFunc(uses, func(u rules.Use) bool { return h.free[u.Item] < u.N }) {
			continue
		}
		for _, u := range uses {
			h.free[u.Item] -= u.N
		}
		h.counts[k] = 0
	}
}
