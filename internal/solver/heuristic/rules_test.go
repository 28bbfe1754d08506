package heuristic

import (
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/solvertest"
)

// check fails the test unless the plan is valid and each of its patterns fits and has the stated cost.
func check(t *testing.T, p *rules.Problem, plan []rules.ColumnCount) [rules.Criteria]int64 {
	t.Helper()
	for _, q := range plan {
		if q.N <= 0 {
			t.Fatalf("a pattern %d times", q.N)
		}
		if f := q.Column.Fill; f != nil {
			x, ok := p.Fill(f)
			if !ok || p.Costs(f, &x) != q.Column.Cost {
				t.Fatalf("%+v is not a pattern, or does not cost %v\n%+v", *f, q.Column.Cost, *p)
			}
		}
	}
	sum, ok := rules.Evaluate(p, plan)
	if !ok {
		t.Fatalf("not a plan of %+v: %+v", *p, plan)
	}
	return sum
}

// drawn draws a tiny problem with some rules.
func drawn(seed uint64) *rules.Problem {
	r := rand.New(rand.NewPCG(19, seed))
	with := solvertest.Feature(r.IntN(int(solvertest.Features)))
	if with&solvertest.WithNest != 0 {
		with &^= solvertest.WithPart // the two are never asked for together
	}
	return solvertest.Tiny(r, with)
}

// Quick plans of problems with rules are valid, the same each time, and now and then optimal.
func TestQuickPlansWithRules(t *testing.T) {
	plans, best, none, missed := 0, 0, 0, 0
	for seed := range uint64(600) {
		p := drawn(seed)
		least, feasible := solvertest.LeastWithRules(p)
		run := func() (all [][]rules.ColumnCount) {
			Quick(p, new(meter.Meter), func(plan []rules.ColumnCount) { all = append(all, plan) })
			return all
		}
		all := run()
		if !reflect.DeepEqual(all, run()) {
			t.Fatalf("seed %d: two runs differ", seed)
		}
		cost := int64(rules.NoCost)
		for _, plan := range all {
			// Bundles may exceed the supply, which only the whole plan shows.
			if _, ok := rules.Evaluate(p, plan); ok {
				cost = min(cost, check(t, p, plan)[rules.Price])
			}
		}
		switch {
		case !feasible:
			none++
		case cost == rules.NoCost:
			missed++
		case cost == least:
			best++
		}
		if plans++; cost < least {
			t.Fatalf("seed %d: a plan of %d, the cheapest costs %d\n%+v", seed, cost, least, *p)
		}
	}
	t.Logf("%d problems: %d without a plan, of the others %d missed, %d solved", plans, none, missed, best)
	if best < (plans-none)*3/4 || missed > (plans-none)/20 {
		t.Errorf("%d problems: %d without a plan, of the others %d missed and only %d solved", plans, none, missed, best)
	}
}

// A part of a plan is kept and made whole; with a whole plan nothing is added to it.
func TestComplete(t *testing.T) {
	whole, parts := 0, 0
	for seed := range uint64(400) {
		p := drawn(seed)
		var plan []rules.ColumnCount
		Quick(p, new(meter.Meter), func(q []rules.ColumnCount) {
			if _, ok := rules.Evaluate(p, q); ok && plan == nil {
				plan = q
			}
		})
		if plan == nil {
			continue
		}
		before := check(t, p, plan)
		Complete(p, plan, new(meter.Meter), func(got []rules.ColumnCount) {
			whole++
			if check(t, p, got) != before {
				t.Fatalf("seed %d: a whole plan was changed", seed)
			}
		})
		r := rand.New(rand.NewPCG(seed, 3))
		part := slices.DeleteFunc(slices.Clone(plan), func(q rules.ColumnCount) bool { return q.Column.Fill != nil && r.IntN(2) == 0 })
		kept := slices.Clone(part)
		Complete(p, part, new(meter.Meter), func(got []rules.ColumnCount) {
			if _, ok := rules.Evaluate(p, got); !ok {
				return
			}
			parts++
			check(t, p, got)
			for _, q := range kept {
				if !holds(got, q) {
					t.Fatalf("seed %d: %+v is missing", seed, *q.Column)
				}
			}
		})
		if !reflect.DeepEqual(kept, part) {
			t.Fatalf("seed %d: the part was changed", seed)
		}
	}
	if whole < 100 || parts < 100 {
		t.Errorf("%d whole plans, %d parts: too few of one kind", whole, parts)
	}
}

// holds reports whether a plan has all patterns of another, at least as often.
func holds(plan []rules.ColumnCount, want rules.ColumnCount) bool {
	n := want.N
	for _, q := range plan {
		switch {
		case want.Column.Fill == nil:
			if q.Column.Fill == nil && q.Column.Run == want.Column.Run && slices.Equal(q.Column.Path, want.Column.Path) {
				return true
			}
		case q.Column.Fill != nil && q.Column.Fill.Bin == want.Column.Fill.Bin:
			if !slices.ContainsFunc(want.Column.Fill.Uses, func(u rules.Use) bool {
				return !slices.ContainsFunc(q.Column.Fill.Uses, func(v rules.Use) bool { return v.Item == u.Item && v.N >= u.N })
			}) {
				n -= q.N
			}
		}
	}
	return n <= 0
}
