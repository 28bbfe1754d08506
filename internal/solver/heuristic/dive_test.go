package heuristic

import (
	"math/rand/v2"
	"reflect"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/diversify"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/solvertest"
)

// dived dives from the relaxation of the master to the end and returns the best plan and its cost.
func dived(t *testing.T, m *master.Master, diversify int, rng diversify.Stream) (best []rules.ColumnCount, cost int64) {
	cost = rules.NoCost
	d := Dive{
		Master: m, Meter: new(meter.Meter), Random: &rng, Diversify: diversify, Backtracks: 3, Bound: m.Bound,
		Cost: func() int64 { return cost },
		Offer: func(plan []rules.ColumnCount) {
			if _, ok := rules.Evaluate(m.P, plan); !ok {
				plan = m.P.Tidy(plan) // the plan may have surplus pieces
			}
			if sum, ok := rules.Evaluate(m.P, plan); ok && sum[rules.Price] < cost {
				if m.Plain == nil {
					check(t, m.P, plan)
				}
				best, cost = plan, sum[rules.Price]
			}
		},
	}
	d.Run()
	return best, cost
}

// A dive into a problem with rules finds a plan, the same each time and mostly the best, and leaves the
// relaxation unchanged.
func TestDivesWithRules(t *testing.T) {
	best, some, none := 0, 0, 0
	for seed := range uint64(500) {
		p := drawn(seed)
		least, feasible := solvertest.LeastWithRules(p)
		if !feasible {
			continue
		}
		m := master.NewOf(p, rules.Objective{Main: rules.Price})
		Quick(p, new(meter.Meter), func(plan []rules.ColumnCount) {
			for _, q := range plan {
				m.AddColumn(*q.Column)
			}
		})
		if m.Solve(rules.NoCost, new(meter.Meter)) != master.Converged {
			continue
		}
		value, bound, box, duals := m.Value(), m.Bound, m.Box.Clone(), m.Duals.Clone()
		plan, cost := dived(t, m, 0, diversify.Start)
		if !reflect.DeepEqual(m.Duals, duals) || m.Bound != bound || !reflect.DeepEqual(m.Box, box) {
			t.Fatalf("seed %d: the dive changed duals, bound or box", seed)
		}
		if m.Solve(rules.NoCost, new(meter.Meter)) != master.Converged || m.Bound != bound || m.Value() > value+1e-6*(1+value) {
			t.Fatalf("seed %d: after the dive the relaxation costs %g, bound %d, before %g, %d", seed, m.Value(), m.Bound, value, bound)
		}
		if again, _ := dived(t, m, 0, diversify.Start); (again == nil) != (plan == nil) {
			t.Fatalf("seed %d: only one of two dives found a plan", seed)
		}
		switch {
		case plan == nil:
			none++
		case cost == least:
			best++
		case cost < least:
			t.Fatalf("seed %d: a plan of %d, the cheapest costs %d", seed, cost, least)
		default:
			some++
		}
	}
	t.Logf("%d dives to the best plan, %d to another, %d to none", best, some, none)
	if all := best + some + none; all < 150 || best < all*3/4 || none > all/10 {
		t.Errorf("%d dives to the best plan, %d to another, %d to none", best, some, none)
	}
}

// Dives into plain problems, too, and two with the same random numbers are the same.
func TestDives(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 11))
	best, all := 0, 0
	for k := range 200 {
		p := shape(1+r.IntN(4), 1+r.Int64N(2)).Draw(r)
		least, ok := solvertest.LeastOfAll(p)
		if !ok {
			continue
		}
		all++
		run := func(diversify int) ([]model.PatternCount, int64) {
			m := master.New(p)
			m.Solve(rules.NoCost, new(meter.Meter))
			plan, cost := dived(t, m, diversify, 5)
			if plan == nil {
				return nil, cost
			}
			return rules.ToPatterns(plan), cost
		}
		got, cost := run(0)
		for n := range 3 {
			one, c := run(n)
			two, _ := run(n)
			if !reflect.DeepEqual(one, two) || n == 0 && !reflect.DeepEqual(one, got) {
				t.Fatalf("problem %d: two dives differ:\n%v\n%v", k, one, two)
			}
			cost = min(cost, c)
		}
		if cost < least {
			t.Fatalf("problem %d: a plan of %d, the cheapest costs %d", k, cost, least)
		}
		if cost == least {
			best++
		}
	}
	t.Logf("%d of %d solved", best, all)
	if all < 100 || best < all*9/10 {
		t.Errorf("%d of %d solved", best, all)
	}
}

// A dive fixes several columns at a time only if there is one kind of stick and a part of a stick may be
// wasted.
func TestSlackToWaste(t *testing.T) {
	p := &model.Problem{Items: []model.Item{{Size: 5, Demand: 3}}, Bins: []model.Bin{{Cap: 10, Cost: 7, Limit: 9}}}
	for _, w := range []struct {
		bound int64
		bins  int
		want  bool
	}{{14, 1, true}, {11, 1, true}, {10, 1, false}, {14, 2, false}} {
		q := *p
		if w.bins == 2 {
			q.Bins = append(q.Bins, model.Bin{Cap: 9, Cost: 7, Limit: 9})
		}
		m := master.New(&q)
		m.Solve(rules.NoCost, new(meter.Meter)) // 10.5: one and a half sticks
		if d := (Dive{Master: m, Bound: w.bound}); d.slackToWaste() != w.want {
			t.Errorf("bound %d, %d bins, relaxation %g: %t", w.bound, w.bins, m.Value(), !w.want)
		}
	}
}
