package solvertest

import "example.com/longpoint/internal/solver/rules"

// LeastWithRules solves tiny problems by exhaustion: it finds the sets of pieces that one
// pattern can hold, by subset, then the cheapest partition with purchases.
func LeastWithRules(p *rules.Problem) (int64, bool) {
	x := exhaustion{p: p, best: rules.NoCost, used: make([]int64, len(p.Bins))}
	d := make([]int64, len(p.Items))
	for i := range p.Items {
		d[i] = p.Items[i].Demand
	}
	x.runs(0, d, 0)
	return x.best, x.best < rules.NoCost
}

// exhaustion tries every plan.
type exhaustion struct {
	p    *rules.Problem
	best int64
	used []int64   // patterns of each bin so far
	own  [][]int64 // cost of a pattern of each bin with each set of pieces, NoCost if there is none
}

// runs tries every assembly of the runs from r on.
func (x *exhaustion) runs(r int, demand []int64, cost int64) {
	if r == len(x.p.Runs) {
		x.pieces(demand, cost)
		return
	}
	run := &x.p.Runs[r]
	var walk func(v, n int, d []int64, c int64)
	walk = func(v, n int, d []int64, c int64) {
		if v == run.Nodes-1 {
			x.runs(r+1, d, c)
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

// pieces tries every way to cut a demand.
func (x *exhaustion) pieces(demand []int64, cost int64) {
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
	x.own = make([][]int64, len(x.p.Bins))
	for b := range x.own {
		x.own[b] = make([]int64, full+1)
		for set := 1; set <= full; set++ {
			x.own[b][set] = rules.NoCost
			x.try(flat, set, 0, rules.Pattern{Bin: b})
		}
	}
	x.part(full, cost)
}

// try adds the pieces of a set from k on to a pattern, in every orientation, and keeps its cost.
func (x *exhaustion) try(flat []int, set, k int, f rules.Pattern) {
	if k == len(flat) {
		if s, ok := x.p.Fill(&f); ok {
			own := &x.own[f.Bin][set]
			*own = min(*own, x.p.Costs(&f, &s)[rules.Price])
		}
		return
	}
	if set&(1<<k) == 0 {
		x.try(flat, set, k+1, f)
		return
	}
	for w := range x.p.Items[flat[k]].Orientations {
		x.try(flat, set, k+1, f.With(flat[k], w, 1))
	}
}

// part divides the pieces that are left among patterns.
func (x *exhaustion) part(left int, cost int64) {
	if left == 0 {
		if v, ok := x.p.Bought(x.p.Counts(x.used)); ok {
			x.best = min(x.best, cost+v)
		}
		return
	}
	low := left & -left
	for set := left; set > 0; set = (set - 1) & left {
		if set&low == 0 {
			continue
		}
		for b := range x.own {
			if x.own[b][set] < rules.NoCost {
				x.used[b]++
				x.part(left&^set, cost+x.own[b][set])
				x.used[b]--
			}
		}
	}
}
