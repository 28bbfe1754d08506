package branchprice

import (
	"context"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
	"example.com/longpoint/internal/solver/solvertest"
)

// brute solves tiny problems by trying every way: sets of pieces that one pattern
// can hold, by subset, then the cheapest partition with purchases.
func brute(p *rules.Problem) (int64, bool) {
	best := int64(rules.NoCost)
	var runs func(r int, demand []int64, cost int64)
	var pieces func(demand []int64, cost int64)
	runs = func(r int, demand []int64, cost int64) {
		if r == len(p.Runs) {
			pieces(demand, cost)
			return
		}
		run := &p.Runs[r]
		var walk func(v, n int, d []int64, c int64)
		walk = func(v, n int, d []int64, c int64) {
			if v == run.Nodes-1 {
				runs(r+1, d, c)
				return
			}
			if run.Most > 0 && n == run.Most {
				return
			}
			for _, a := range run.Arcs {
				if a.From == v {
					e := append([]int64(nil), d...)
					e[a.Item] += a.N
					walk(a.To, n+1, e, c+a.Cost)
				}
			}
		}
		walk(0, 0, demand, cost)
	}
	pieces = func(demand []int64, cost int64) {
		var flat []int
		for i, d := range demand {
			for range d {
				flat = append(flat, i)
			}
		}
		if len(flat) > 7 {
			panic("too many pieces")
		}
		full := 1<<len(flat) - 1
		// ok[b][set]: own cost of pattern bin b with the set, noCost where it cannot.
		own := make([][]int64, len(p.Bins))
		for b := range p.Bins {
			own[b] = make([]int64, full+1)
			for set := 1; set <= full; set++ {
				own[b][set] = rules.NoCost
				var try func(k int, f rules.Pattern)
				try = func(k int, f rules.Pattern) {
					if k == len(flat) {
						if x, ok := p.Fill(&f); ok {
							own[b][set] = min(own[b][set], p.Costs(&f, &x)[rules.Price])
						}
						return
					}
					if set&(1<<k) == 0 {
						try(k+1, f)
						return
					}
					for w := range p.Items[flat[k]].Orientations {
						try(k+1, f.With(flat[k], w, 1))
					}
				}
				try(0, rules.Pattern{Bin: b})
			}
		}
		used := make([]int64, len(p.Bins))
		var part func(left int, c int64)
		part = func(left int, c int64) {
			if left == 0 {
				if v, ok := p.Bought(p.Counts(used)); ok {
					best = min(best, cost+c+v)
				}
				return
			}
			low := left & -left
			for set := left; set > 0; set = (set - 1) & left {
				if set&low == 0 {
					continue
				}
				for b := range p.Bins {
					if own[b][set] < rules.NoCost {
						used[b]++
						part(left&^set, c+own[b][set])
						used[b]--
					}
				}
			}
		}
		part(full, 0)
	}
	d := make([]int64, len(p.Items))
	for i := range p.Items {
		d[i] = p.Items[i].Demand
	}
	runs(0, d, 0)
	return best, best < rules.NoCost
}

func TestAgainstEveryPlan(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	proven, feasible, n := 0, 0, 4000
	if testing.Short() {
		n = 600
	}
	for i := range n {
		with := solvertest.Feature(1) << r.IntN(10)
		if i%2 == 0 {
			with |= solvertest.Feature(1) << r.IntN(10)
		}
		if with&solvertest.WithNest != 0 {
			with &^= solvertest.WithPart // the two are never asked for together
		}
		p := solvertest.Tiny(r, with)
		want, ok := brute(p)
		var res search.Result
		if i%3 > 0 {
			res = Solve(context.Background(), p, search.Options{Work: 400_000_000})
		} else {
			// Without the quick plans and the dives, which would hide what the
			// proofs get wrong.
			x := &solver{p: p, mt: meter.New(context.Background(), 400_000_000), objective: rules.Objective{Main: rules.Price}, exactOnly: true}
			x.solve(nil)
			res = x.result()
		}
		if !ok {
			if res.Patterns != nil {
				t.Fatalf("case %d: a plan of %d where there is none\n%+v\n%+v", i, res.Cost, p, res)
			}
			if !res.Infeasible {
				t.Errorf("case %d, features %b: infeasible not proven: %v", i, with, res.Stop)
			}
			continue
		}
		feasible++
		if res.Bound > want {
			t.Fatalf("case %d, features %b: bound %d above the optimum %d\n%+v", i, with, res.Bound, want, p)
		}
		if res.Patterns == nil || res.Cost < want {
			t.Fatalf("case %d, features %b: cost %d, optimum %d\n%+v\n%+v", i, with, res.Cost, want, p, res)
		}
		if res.Cost > want {
			t.Errorf("case %d, features %b: cost %d, optimum %d, %v", i, with, res.Cost, want, res.Stop)
		}
		if res.Stop == search.Proven {
			proven++
		}
	}
	t.Logf("%d of %d proven", proven, feasible)
	if proven < feasible*99/100 {
		t.Errorf("only %d of %d proven", proven, feasible)
	}
}
