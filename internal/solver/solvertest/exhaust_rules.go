package solvertest

import "example.com/longpoint/internal/solver/rules"

// LeastWithRules solves tiny problems by exhaustion: it finds the sets of pieces that one
// pattern can hold, by subset, then the cheapest partition with purchases.
func LeastWithRules(p *rules.Problem) (int64, bool) {
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
		// Cost of a pattern of each bin with each set, NoCost if there is none.
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
