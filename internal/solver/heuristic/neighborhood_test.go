package heuristic

import (
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/diversify"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/solvertest"
)

// quickest returns the first quick plan, nil if there is none.
func quickest(p *rules.Problem) (plan []rules.ColumnCount) {
	Quick(p, new(meter.Meter), func(q []rules.ColumnCount) {
		if _, ok := rules.Evaluate(p, q); ok && plan == nil {
			plan = q
		}
	})
	return plan
}

// removed returns the columns of a plan that are not in the rest of it, as counts. It fails the test if
// the rest has a column that the plan does not have, or has one more often.
func removed(t *testing.T, plan, rest []rules.ColumnCount) []int64 {
	t.Helper()
	out := make([]int64, len(plan))
	for k, q := range plan {
		out[k] = q.N
	}
	for _, f := range rest {
		k := slices.IndexFunc(plan, func(q rules.ColumnCount) bool { return q.Column == f.Column })
		if k < 0 || f.N <= 0 || out[k] < f.N {
			t.Fatalf("the rest has %d of %+v, which is not in the plan", f.N, *f.Column)
		}
		out[k] -= f.N
	}
	return out
}

// accounted fails the test unless a run is open exactly if all its parts were removed. It returns the
// number of pieces that the removed sticks yield, and the number of open runs.
func accounted(t *testing.T, p *rules.Problem, plan []rules.ColumnCount, out []int64) (pieces int64, open int) {
	t.Helper()
	loose := make([]int64, len(p.Items)) // pieces that no stick and no assembly has
	for k, q := range plan {
		if f := q.Column.Fill; f != nil {
			for _, u := range f.Uses {
				loose[u.Item] += out[k] * u.N
				pieces += out[k] * u.N
			}
		}
	}
	for k, q := range plan {
		if q.Column.Fill == nil && out[k] > 0 {
			open++
			for _, a := range q.Column.Path {
				arc := &p.Runs[q.Column.Run].Arcs[a]
				if loose[arc.Item] -= arc.N; loose[arc.Item] < 0 {
					t.Fatalf("run %d is open although its part %d is on a stick that is kept\n%+v", q.Column.Run, arc.Item, *p)
				}
			}
		}
	}
	for k, q := range plan {
		if q.Column.Fill != nil || out[k] > 0 {
			continue
		}
		wants := make([]int64, len(p.Items))
		for _, a := range q.Column.Path {
			wants[p.Runs[q.Column.Run].Arcs[a].Item] += p.Runs[q.Column.Run].Arcs[a].N
		}
		if !slices.ContainsFunc(q.Column.Path, func(a int) bool {
			i := p.Runs[q.Column.Run].Arcs[a].Item
			return loose[i] < wants[i]
		}) {
			t.Fatalf("run %d is kept although all its parts were removed\n%+v", q.Column.Run, *p)
		}
	}
	return pieces, open
}

// leastWith returns the cost of the cheapest plan that keeps the rest of a plan.
func leastWith(p *rules.Problem, rest []rules.ColumnCount) (cost int64, ok bool) {
	q := p.Residual(rest)
	if q == nil {
		return 0, false
	}
	left, ok := solvertest.LeastWithRules(q)
	used := make([]int64, len(p.Bins))
	for _, f := range rest {
		cost += f.N * f.Column.Cost[rules.Price]
		if f.Column.Fill != nil {
			used[f.Column.Fill.Bin] += f.N
		}
	}
	bought, valid := p.Bought(p.Counts(used))
	return cost + bought + left, ok && valid
}

// Random sticks of a tiny plan are removed: the rest is a part of the plan, and the cheapest way to
// complete it, by exhaustion, costs no more than the plan did.
func TestNeighborhoodsOfTinyPlans(t *testing.T) {
	parts, all, opened, better := 0, 0, 0, 0
	for seed := range uint64(8000) {
		p := drawn(seed)
		plan := quickest(p)
		if plan == nil {
			continue
		}
		cost := check(t, p, plan)[rules.Price]
		r := rand.New(rand.NewPCG(seed, 8))
		h := neighborhood{p: p, plan: plan, counts: make([]int64, len(plan)), free: make([]int64, len(p.Items))}
		h.listSticks(make([]int64, len(p.Items)), 1)
		if len(p.Runs) > 0 && r.IntN(2) == 0 {
			h.freeRun(r.IntN(len(p.Runs)))
		}
		for n := r.IntN(len(h.sticks) + 1); n > 0; n-- {
			h.release(r.IntN(len(h.sticks)))
		}
		h.openRuns()
		var rest []rules.ColumnCount
		for k, n := range h.counts {
			if n > 0 {
				rest = append(rest, rules.ColumnCount{Column: plan[k].Column, N: n})
			}
		}
		out := removed(t, plan, rest)
		pieces, open := accounted(t, p, plan, out)
		if int64(h.pieces) != pieces {
			t.Fatalf("seed %d: %d pieces removed, counted %d", seed, pieces, h.pieces)
		}
		opened += open
		got, ok := leastWith(p, rest)
		if len(p.Bins) > len(p.Classes) && len(rest) > 0 {
			// The residual problem counts a stick that stays as used up, its idle stretches too.
			parts++
			continue
		}
		if !ok || got > cost {
			t.Fatalf("seed %d: the best plan that keeps %v costs %d (%t), the plan %d\n%+v", seed, rest, got, ok, cost, *p)
		}
		if got < cost {
			better++
		}
		if len(rest) > 0 {
			parts++
			continue
		}
		all++
		if least, _ := solvertest.LeastWithRules(p); got != least {
			t.Fatalf("seed %d: with everything removed the best costs %d, of all plans %d\n%+v", seed, got, least, *p)
		}
	}
	if parts < 300 || all < 100 || opened < 30 || better < 200 {
		t.Errorf("%d parts, %d whole plans, %d open runs, %d better: too few of one kind", parts, all, opened, better)
	}
}

// A search never continues from a worse plan. On tiny problems, where the neighborhood is the whole
// problem, it ends with the cheapest plan if the removed pieces are planned by exhaustion.
func TestNeighborhoodSearch(t *testing.T) {
	improved := 0
	for seed := range uint64(800) {
		p := drawn(seed)
		plan := quickest(p)
		if plan == nil {
			continue
		}
		first := check(t, p, plan)[rules.Price]
		cost, tries, since := first, 0, 0
		s := Neighborhoods{
			Problem: p, Dual: make([]int64, len(p.Items)), Scale: 1, Random: new(diversify.Stream),
			Plan: func() []rules.ColumnCount { return plan },
			Cost: func() int64 { return cost },
			Solve: func(fixed []rules.ColumnCount) {
				if len(fixed) > 0 {
					t.Fatalf("seed %d: %d columns of a plan with few pieces are kept", seed, len(fixed))
				}
				tries, since = tries+1, since+1
				if got, ok := leastWith(p, fixed); ok && got < cost {
					cost, since = got, 0
				}
			},
			Done: func() bool { return false },
		}
		s.Search(2)
		if least, _ := solvertest.LeastWithRules(p); cost != least || since != 2 || tries > 3 {
			t.Fatalf("seed %d: %d after %d tries, %d fruitless; the cheapest costs %d\n%+v", seed, cost, tries, since, least, *p)
		}
		if cost < first {
			improved++
		}
	}
	if improved < 50 {
		t.Errorf("%d plans were improved: too few", improved)
	}
}

// In plans with many sticks a search removes enough pieces but not all; it stops on request.
func TestNeighborhoodsOfLargePlans(t *testing.T) {
	large, opened := 0, 0
	for seed := range uint64(1000) {
		p := drawn(seed)
		for i := range p.Items {
			if !p.Items[i].Alone {
				p.Items[i].Demand *= 8
				p.Items[i].Most = max(p.Items[i].Most, p.Items[i].Demand)
			}
		}
		for c := range p.Classes {
			p.Classes[c].Limit *= 40
		}
		plan := quickest(p)
		if plan == nil {
			continue
		}
		check(t, p, plan)
		r := rand.New(rand.NewPCG(seed, 9))
		dual := make([]int64, len(p.Items))
		for i := range dual {
			dual[i] = r.Int64N(200)
		}
		tries := 0
		var random diversify.Stream
		s := Neighborhoods{
			Problem: p, Dual: dual, Scale: 1 + r.Int64N(20), Random: &random,
			Plan: func() []rules.ColumnCount { return plan },
			Cost: func() int64 { return 0 },
			Solve: func(fixed []rules.ColumnCount) {
				tries++
				pieces, open := accounted(t, p, plan, removed(t, plan, fixed))
				opened += open
				kept := slices.ContainsFunc(fixed, func(q rules.ColumnCount) bool { return q.Column.Fill != nil && q.N > 0 })
				if pieces < fewestPieces && kept && !slices.ContainsFunc(plan, func(q rules.ColumnCount) bool { return q.N > mostAlike }) {
					t.Fatalf("seed %d: only %d pieces were removed\n%+v", seed, pieces, *p)
				}
				if kept {
					large++
				}
			},
			Done: func() bool { return tries == 5 },
		}
		if s.Search(100); tries != 5 {
			t.Fatalf("seed %d: %d tries, should stop after 5", seed, tries)
		}
	}
	if large < 300 || opened < 30 {
		t.Errorf("%d neighborhoods of a part, %d open runs: too few of one kind", large, opened)
	}
}
