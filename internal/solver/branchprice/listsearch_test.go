package branchprice

import (
	"cmp"
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/internal/meter"
)

// ofUse returns how often a column is used at most in a plan in which no stick could be left out.
func ofUse(p *Problem, c *column) int64 {
	if c.fill == nil {
		return 1
	}
	most, held := int64(1), map[int]int64{}
	for _, u := range c.fill.Uses {
		held[u.Item] += u.N
	}
	for i, n := range held {
		most = max(most, (p.Items[i].Most+n-1)/n)
	}
	return min(most, 3)
}

// bestOf tries every plan of the listed columns whose counts of sticks lie in the box, and returns the
// least that one comes to by the objective.
func bestOf(p *Problem, a objective, b box, list []column) int64 {
	best := int64(noCost)
	var plan []columnCount
	var rec func(j int)
	rec = func(j int) {
		if j < len(list) {
			rec(j + 1)
			for n := int64(1); n <= ofUse(p, &list[j]); n++ {
				plan = append(plan, columnCount{&list[j], n})
				rec(j + 1)
				plan = plan[:len(plan)-1]
			}
			return
		}
		crit, ok := evaluate(p, plan)
		used := make([]int64, len(p.Bins))
		crit = [criteria]int64{}
		for _, q := range plan {
			if q.column.fill != nil {
				used[q.column.fill.Bin] += q.n
			}
			for k := range criteria {
				crit[k] += q.n * q.column.cost[k]
			}
		}
		// Sticks that the box asks for are bought, used or not.
		for c, n := range p.counts(used) {
			single := len(p.Classes[c].Bins) == 1
			ok = ok && n <= b.hi[c] && (n >= b.lo[c] || !single)
			n = max(n, b.lo[c])
			_, cost := p.Classes[c].buy(n)
			crit[Price] += cost
			crit[Sticks] += n * p.Classes[c].Count
			crit[Salvage] += n * p.Classes[c].Idle
		}
		for g := range p.Suppliers {
			if b.on[g] == yes {
				crit[Price] += p.Suppliers[g].Charge
			}
		}
		for k := range criteria {
			ok = ok && (!a.capped[k] || crit[k] <= a.limit[k])
		}
		if ok {
			best = min(best, crit[a.main])
		}
	}
	rec(0)
	return best
}

// The search over a list finds what trying every plan of its columns finds.
func TestListAgainstEveryPlan(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 31))
	searched, found, none, runs, planned, yoked, capped := 0, 0, 0, 0, 0, 0, 0
	for i := range 8000 {
		with := feature(1) << r.IntN(11)
		if r.IntN(2) == 0 {
			with |= runsToo
		}
		p := tiny(r, with|buying)
		x := &solver{p: p, mt: meter.New(context.Background(), 400_000_000), objective: objective{main: Price}, cost: noCost}
		x.m = newMaster(p, x.objective)
		x.addInitialColumns()
		if x.m.solve(noCost, x.mt) != converged {
			continue
		}
		b := x.m.root.clone()
		for c := range b.lo {
			if r.IntN(2) == 0 {
				b.lo[c] += r.Int64N(min(2, b.hi[c]-b.lo[c]) + 1)
			}
			if r.IntN(2) == 0 {
				b.hi[c] -= r.Int64N(b.hi[c] - b.lo[c] + 1)
			}
		}
		for g := range b.on {
			if b.on[g] = []supplierUse{yes, no}[r.IntN(2)]; b.on[g] == no {
				for _, c := range p.Suppliers[g].Classes {
					b.lo[c], b.hi[c] = 0, 0
				}
			}
		}
		if !x.affineOn(b) {
			continue
		}
		list := slices.Clone(x.m.cols)
		r.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
		if len(p.Runs) > 0 { // which need an assembly each
			slices.SortStableFunc(list[:min(len(list), 20)], func(a, b column) int { return cmp.Compare(len(b.path), len(a.path)) })
		}
		list = list[:min(len(list), 8+min(len(p.Runs), 1))]
		a := x.objective
		if a.main = []int{Price, Price, Sticks, Salvage}[r.IntN(4)]; r.IntN(3) == 0 {
			k := r.IntN(criteria - 1)
			a.capped[k], a.limit[k] = true, r.Int64N(20)
		}
		want := bestOf(p, a, b, list)
		cutoff := int64(noCost)
		if r.IntN(2) == 0 {
			cutoff = 1 + r.Int64N(80)
		}
		plan, complete := searchList(p, a, b, list, cutoff, nil, x.mt)
		if !complete {
			t.Fatalf("case %d: not certain", i)
		}
		searched++
		if len(p.Runs) > 0 {
			runs++
			if want < cutoff {
				planned++
			}
		}
		if a.capped != [criteria]bool{} {
			capped++
		}
		if slices.ContainsFunc(p.Classes, func(c StockClass) bool { return len(c.Bins) > 1 }) {
			yoked++
		}
		if plan == nil {
			if none++; want < cutoff {
				t.Fatalf("case %d, features %b, cutoff %d: no plan, and yet one of %d\n%+v\nin %+v by %+v", i, with, cutoff, want, p, b, a)
			}
			continue
		}
		found++
		crit, ok := evaluate(p, plan)
		for k := range criteria {
			ok = ok && (!a.capped[k] || crit[k] <= a.limit[k])
		}
		if !ok || crit[a.main] >= cutoff || crit[a.main] > want {
			t.Fatalf("case %d, features %b: plan of %d (%v), best %d, cutoff %d\n%+v\nin %+v by %+v", i, with, crit[a.main], ok, want, cutoff, p, b, a)
		}
	}
	if searched < 500 || found < 200 || none < 200 || planned < 5 || yoked < 30 || capped < 100 {
		t.Errorf("%d lists, %d with runs (%d plans), %d of sticks with several bins, %d with limits, %d plans, %d times none", searched, runs, planned, yoked, capped, found, none)
	}
	t.Logf("%d lists, %d with runs (%d plans), %d of sticks with several bins, %d with limits, %d plans, %d times none", searched, runs, planned, yoked, capped, found, none)
}
