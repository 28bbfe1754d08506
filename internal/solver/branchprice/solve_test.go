package branchprice

import (
	"context"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/meter"
)

// brute solves tiny problems by trying every way: sets of pieces that one pattern
// can hold, by subset, then the cheapest partition with purchases.
func brute(p *Problem) (int64, bool) {
	best := int64(noCost)
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
				own[b][set] = noCost
				var try func(k int, f Pattern)
				try = func(k int, f Pattern) {
					if k == len(flat) {
						if x, ok := p.Fill(&f); ok {
							own[b][set] = min(own[b][set], p.costs(&f, &x)[Price])
						}
						return
					}
					if set&(1<<k) == 0 {
						try(k+1, f)
						return
					}
					for w := range p.Items[flat[k]].Orientations {
						try(k+1, f.with(flat[k], w, 1))
					}
				}
				try(0, Pattern{Bin: b})
			}
		}
		used := make([]int64, len(p.Bins))
		var part func(left int, c int64)
		part = func(left int, c int64) {
			if left == 0 {
				if v, ok := p.bought(p.counts(used)); ok {
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
					if own[b][set] < noCost {
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
	return best, best < noCost
}

type feature uint

const (
	bars feature = 1 << iota
	most
	hold
	nest
	part
	buying
	charges
	pairedBins
	runsToo
	spares
	features
)

func tiny(r *rand.Rand, with feature) *Problem {
	p := &Problem{}
	on := func(f feature) bool { return with&f != 0 }
	double := int64(1)
	if on(nest) {
		double = 2
		for range 1 + r.IntN(2) {
			p.Setbacks = append(p.Setbacks, 2*(1+r.Int64N(3)))
		}
	}
	pieces := 0
	for len(p.Items) < 4 && pieces < 5 {
		d := 1 + r.Int64N(2)
		it := Item{Demand: d, Most: d, Pieces: 1, Long: r.IntN(2) == 0}
		size := double * (7 + r.Int64N(9))
		end := func() int {
			if !on(nest) || r.IntN(3) == 0 {
				return Square
			}
			return r.IntN(len(p.Setbacks))
		}
		w := Orientation{size, end(), end()}
		it.Orientations = []Orientation{w}
		if on(nest) && r.IntN(2) == 0 {
			it.Orientations = append(it.Orientations, Orientation{size, w.Right, w.Left})
		}
		pieces += int(d)
		p.Items = append(p.Items, it)
	}
	kinds := 1 + r.IntN(2)
	for range kinds {
		k := PatternRules{Kerf: r.Int64N(2), Spare: r.IntN(2) == 0}
		if on(bars) {
			k.Barred = make([]bool, len(p.Items))
			for i := range k.Barred {
				k.Barred[i] = r.IntN(4) == 0
			}
		}
		if on(most) {
			k.Most = 1 + r.Int64N(3)
		}
		if on(hold) {
			k.Hold = double * (1 + r.Int64N(10))
			p.Exact = true
		}
		if on(part) && r.IntN(2) == 0 {
			k.Part = [2]int64{double * (10 + r.Int64N(15)), double * (10 + r.Int64N(15))}
		}
		p.Kinds = append(p.Kinds, k)
	}
	for range 1 + r.IntN(2) {
		c := StockClass{Limit: 1 + r.Int64N(6), Bundle: 1, Minimum: 1, Tiers: []Tier{{1, r.Int64N(20)}}}
		n := 1
		if on(pairedBins) && r.IntN(2) == 0 {
			n = 2
		}
		for range n {
			c.Bins = append(c.Bins, len(p.Bins))
			b := Bin{Cap: double * (14 + r.Int64N(30)), Kind: r.IntN(kinds)}
			if on(part) && r.IntN(2) == 0 {
				b.Own[Price] = r.Int64N(5)
			}
			p.Bins = append(p.Bins, b)
		}
		if on(buying) {
			c.Bundle = 1 + r.Int64N(3)
			c.Minimum = 1 + r.Int64N(3)
			if r.IntN(2) == 0 {
				c.Tiers = append(c.Tiers, Tier{2 + r.Int64N(3), r.Int64N(20)})
			}
		}
		p.Classes = append(p.Classes, c)
	}
	if on(charges) {
		s := Supplier{Charge: r.Int64N(25)}
		for c := range p.Classes {
			if r.IntN(2) == 0 || len(s.Classes) == 0 && c == len(p.Classes)-1 {
				s.Classes = append(s.Classes, c)
			}
		}
		p.Suppliers = append(p.Suppliers, s)
		if len(p.Classes) > len(s.Classes) {
			t := Supplier{Charge: r.Int64N(25)}
			for c := range p.Classes {
				in := false
				for _, d := range s.Classes {
					in = in || c == d
				}
				if !in {
					t.Classes = append(t.Classes, c)
				}
			}
			p.Suppliers = append(p.Suppliers, t)
		}
	}
	if on(runsToo) && pieces <= 4 {
		// Two parts of several lengths, or one long one.
		base := len(p.Items)
		for range 4 {
			p.Items = append(p.Items, Item{Most: 2, Pieces: 1, Long: true, Orientations: []Orientation{{double * (5 + r.Int64N(20)), Square, Square}}})
		}
		for k := range p.Kinds {
			if b := p.Kinds[k].Barred; b != nil {
				p.Kinds[k].Barred = append(b, false, false, true, false)
			}
		}
		run := Run{Nodes: 3, Most: r.IntN(3), Arcs: []Arc{{0, 1, base, 1, r.Int64N(4), 1}, {0, 1, base + 1, 1, 0, 1}, {0, 2, base + 2, 1, 0, 0}, {1, 2, base + 3, 1, r.Int64N(4), 0}, {1, 2, base, 1, r.Int64N(4), 1}}}
		p.Runs = append(p.Runs, run)
	}
	if on(spares) && pieces <= 4 && len(p.Runs) == 0 {
		n := 1 + r.Int64N(2)
		p.Items = append(p.Items, Item{Demand: n, Most: n, Pieces: 0, Alone: true, Orientations: []Orientation{{1, Square, Square}}})
		for k := range p.Kinds {
			if b := p.Kinds[k].Barred; b != nil {
				p.Kinds[k].Barred = append(b, false)
			}
		}
		for c := range p.Classes {
			if len(p.Classes[c].Bins) > 1 {
				for _, b := range p.Classes[c].Bins {
					p.Kinds[p.Bins[b].Kind].Spare = false
				}
			}
		}
	}
	return p
}

func TestAgainstEveryPlan(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	proven, feasible, n := 0, 0, 4000
	if testing.Short() {
		n = 600
	}
	for i := range n {
		with := feature(1) << r.IntN(10)
		if i%2 == 0 {
			with |= feature(1) << r.IntN(10)
		}
		if with&nest != 0 {
			with &^= part // the two are never asked for together
		}
		p := tiny(r, with)
		want, ok := brute(p)
		var res Result
		if i%3 > 0 {
			res, _ = Solve(context.Background(), p, Options{Work: 400_000_000})
		} else {
			// Without the quick plans and the dives, which would hide what the
			// proofs get wrong.
			x := &solver{p: p, mt: meter.New(context.Background(), 400_000_000), objective: objective{main: Price}, exactOnly: true}
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
		if res.Stop == Proven {
			proven++
		}
	}
	t.Logf("%d of %d proven", proven, feasible)
	if proven < feasible*99/100 {
		t.Errorf("only %d of %d proven", proven, feasible)
	}
}
