package listing_test

import (
	"cmp"
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/listing"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/setcover"
	"example.com/longpoint/internal/solver/solvertest"
)

// ofUse returns the greatest count of a column in a plan from which no stick can be omitted.
func ofUse(p *rules.Problem, c *rules.Column) int64 {
	if c.Fill == nil {
		return 1
	}
	most, held := int64(1), map[int]int64{}
	for _, u := range c.Fill.Uses {
		held[u.Item] += u.N
	}
	for i, n := range held {
		most = max(most, (p.Items[i].Most+n-1)/n)
	}
	return min(most, 3)
}

// bestOf tries every plan of the listed columns whose counts of sticks lie in the box, and returns the
// least value of the objective.
func bestOf(p *rules.Problem, a rules.Objective, b bound.Box, list []rules.Column) int64 {
	best := int64(rules.NoCost)
	var plan []rules.ColumnCount
	var rec func(j int)
	rec = func(j int) {
		if j < len(list) {
			rec(j + 1)
			for n := int64(1); n <= ofUse(p, &list[j]); n++ {
				plan = append(plan, rules.ColumnCount{Column: &list[j], N: n})
				rec(j + 1)
				plan = plan[:len(plan)-1]
			}
			return
		}
		crit, ok := rules.Evaluate(p, plan)
		used := make([]int64, len(p.Bins))
		crit = [rules.Criteria]int64{}
		for _, q := range plan {
			if q.Column.Fill != nil {
				used[q.Column.Fill.Bin] += q.N
			}
			for k := range rules.Criteria {
				crit[k] += q.N * q.Column.Cost[k]
			}
		}
		// Sticks that the box requires are bought, used or not.
		for c, n := range p.Counts(used) {
			single := len(p.Classes[c].Bins) == 1
			ok = ok && n <= b.Hi[c] && (n >= b.Lo[c] || !single)
			n = max(n, b.Lo[c])
			_, cost := p.Classes[c].Extra(n)
			crit[rules.Price] += cost
			crit[rules.Sticks] += n * p.Classes[c].Count
			crit[rules.Salvage] += n * p.Classes[c].Idle
		}
		for g := range p.Suppliers {
			if b.On[g] == bound.Yes {
				crit[rules.Price] += p.Suppliers[g].Charge
			}
		}
		for k := range rules.Criteria {
			ok = ok && (!a.Capped[k] || crit[k] <= a.Limit[k])
		}
		if ok {
			best = min(best, crit[a.Main])
		}
	}
	rec(0)
	return best
}

// affine reports whether the cost of each class in the box is a constant plus a price per stick.
func affine(m *master.Master, b bound.Box) bool {
	for c := range m.P.Classes {
		lo, hi := m.Range(b, c)
		if _, _, ok := m.P.Classes[c].Affine(lo, hi); !ok {
			return false
		}
	}
	return true
}

var branchings = [...]setcover.Branching{{}, {Cuts: true}, {ColumnsFirst: true}, {PairsFirst: true, Cuts: true}}

// The search over a list finds the same as trying every plan of its columns.
func TestListAgainstEveryPlan(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 31))
	searched, found, none, runs, planned, paired, capped := 0, 0, 0, 0, 0, 0, 0
	for i := range 8000 {
		with := solvertest.Feature(1) << r.IntN(11)
		if r.IntN(2) == 0 {
			with |= solvertest.WithRuns
		}
		p := solvertest.Tiny(r, with|solvertest.WithBuying)
		a := rules.Objective{Main: rules.Price}
		m, mt := master.NewOf(p, a), meter.New(context.Background(), 400_000_000)
		m.Cheapest()
		if m.Solve(rules.NoCost, mt) != master.Converged {
			continue
		}
		b := m.Root.Clone()
		for c := range b.Lo {
			if r.IntN(2) == 0 {
				b.Lo[c] += r.Int64N(min(2, b.Hi[c]-b.Lo[c]) + 1)
			}
			if r.IntN(2) == 0 {
				b.Hi[c] -= r.Int64N(b.Hi[c] - b.Lo[c] + 1)
			}
		}
		for g := range b.On {
			if b.On[g] = []bound.Supply{bound.Yes, bound.No}[r.IntN(2)]; b.On[g] == bound.No {
				for _, c := range p.Suppliers[g].Classes {
					b.Lo[c], b.Hi[c] = 0, 0
				}
			}
		}
		list := slices.Clone(m.Columns)
		r.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
		if len(p.Runs) > 0 { // which need an assembly each
			slices.SortStableFunc(list[:min(len(list), 20)], func(a, b rules.Column) int { return cmp.Compare(len(b.Path), len(a.Path)) })
		}
		list = list[:min(len(list), 8+min(len(p.Runs), 1))]
		if a.Main = []int{rules.Price, rules.Price, rules.Sticks, rules.Salvage}[r.IntN(4)]; r.IntN(3) == 0 {
			k := r.IntN(rules.Criteria - 1)
			a.Capped[k], a.Limit[k] = true, r.Int64N(20)
		}
		want := bestOf(p, a, b, list)
		cutoff := int64(rules.NoCost)
		if r.IntN(2) == 0 {
			cutoff = 1 + r.Int64N(80)
		}
		x := listing.Search{P: p, Objective: a, Box: b, Columns: list, Branching: branchings[r.IntN(len(branchings))]}
		plan, complete := x.Run(cutoff, mt)
		if !complete {
			if affine(m, b) {
				t.Fatalf("case %d: not certain", i)
			}
			continue
		}
		searched++
		if len(p.Runs) > 0 {
			runs++
			if want < cutoff {
				planned++
			}
		}
		if a.Capped != [rules.Criteria]bool{} {
			capped++
		}
		if slices.ContainsFunc(p.Classes, func(c rules.StockClass) bool { return len(c.Bins) > 1 }) {
			paired++
		}
		if plan == nil {
			if none++; want < cutoff {
				t.Fatalf("case %d, features %b, cutoff %d: no plan found, but there is one of %d\n%+v\nin %+v by %+v", i, with, cutoff, want, p, b, a)
			}
			continue
		}
		found++
		crit, ok := rules.Evaluate(p, plan)
		for k := range rules.Criteria {
			ok = ok && (!a.Capped[k] || crit[k] <= a.Limit[k])
		}
		if !ok || crit[a.Main] >= cutoff || crit[a.Main] > want {
			t.Fatalf("case %d, features %b: plan of %d (%v), best %d, cutoff %d\n%+v\nin %+v by %+v", i, with, crit[a.Main], ok, want, cutoff, p, b, a)
		}
	}
	if searched < 500 || found < 200 || none < 200 || planned < 5 || paired < 30 || capped < 100 {
		t.Errorf("%d lists, %d with runs (%d plans), %d of sticks with several bins, %d with limits, %d plans, %d times none", searched, runs, planned, paired, capped, found, none)
	}
	t.Logf("%d lists, %d with runs (%d plans), %d of sticks with several bins, %d with limits, %d plans, %d times none", searched, runs, planned, paired, capped, found, none)
}
