package pricing

import (
	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/rules"
)

// Paths finds the cheapest assemblies of one run.
type Paths struct {
	p     *rules.Problem
	run   int
	r     *rules.Run
	place int
	d     *Prices
	from  [][]int // node -> arcs that leave it
	toEnd []int64 // [used*nodes+node]: the least cost from the node to the end
	cost  []int64 // per arc
}

// NewPaths returns the oracle of a run.
func NewPaths(p *rules.Problem, run int) *Paths {
	r := &p.Runs[run]
	x := &Paths{p: p, run: run, place: len(p.Bins) + run, r: r, from: make([][]int, r.Nodes), cost: make([]int64, len(r.Arcs))}
	for a, arc := range r.Arcs {
		x.from[arc.From] = append(x.from[arc.From], a)
	}
	return x
}

// layers returns how many numbers of arcs are distinguished.
func (x *Paths) layers() int {
	if x.r.Most == 0 {
		return 1
	}
	return x.r.Most + 1
}

// next returns the layer after one more arc.
func (x *Paths) next(layer int) int {
	if x.r.Most == 0 {
		return 0
	}
	return layer + 1
}

// Places implements Oracle.
func (x *Paths) Places() []int { return []int{x.place} }

// Build implements Oracle. If there is no assembly, the best gains -rules.NoCost.
func (x *Paths) Build(d *Prices, best []int64, _ func(rules.Column) bool, _ *meter.Meter) bool {
	x.d = d
	best[x.place] = -x.Price(d.Item, &d.Weight)
	return true
}

// mostPaths limits the assemblies that are added at a time.
const mostPaths = 3

// Columns implements Oracle.
func (x *Paths) Columns(tol int64, add func(rules.Column) bool, _ *meter.Meter) {
	if -x.Least() <= x.d.Need[x.place]+tol {
		return
	}
	x.Cheapest(add)
}

// Cheapest offers some of the cheapest assemblies by the last prices, if there are any.
func (x *Paths) Cheapest(add func(rules.Column) bool) {
	got := 0
	if x.Least() >= rules.NoCost {
		return
	}
	x.Walk(x.Least(), func(p rules.Path, _ int64) bool {
		add(x.p.Assembly(x.run, p))
		got++
		return got < mostPaths
	})
}

// enumerationStep is the number of steps counted for one assembly.
const enumerationStep = 50

// Enumerate implements Oracle.
func (x *Paths) Enumerate(_ int, need int64, mt *meter.Meter, visit func(c rules.Column, gain int64) bool) bool {
	return x.Walk(-need, func(p rules.Path, cost int64) bool {
		return visit(x.p.Assembly(x.run, p), -cost) && mt.Spend(enumerationStep)
	})
}

// Maximal implements Oracle.
func (x *Paths) Maximal(*rules.Column) bool { return true }

// Worth implements Oracle.
func (x *Paths) Worth(dual []float64, _ []int64, weight *[rules.Criteria]float64) float64 {
	top := 0.0
	for _, a := range x.r.Arcs {
		cost := float64(max(1, weight[rules.Price])*float64(a.Cost)) + float64(weight[rules.Splices]*float64(a.Splices))
		top = max(top, float64(float64(a.N)*max(dual[a.Item], 0))+cost)
	}
	return top * float64(x.r.Nodes)
}

// Price computes the least cost if an arc costs its criteria by their weights plus the dual of
// its items; NoCost if there is no assembly.
func (x *Paths) Price(value []int64, weight *[rules.Criteria]int64) int64 {
	n := x.r.Nodes
	for a, arc := range x.r.Arcs {
		x.cost[a] = weight[rules.Price]*arc.Cost + weight[rules.Splices]*arc.Splices + arc.N*value[arc.Item]
	}
	x.toEnd = x.toEnd[:0]
	for range x.layers() * n {
		x.toEnd = append(x.toEnd, rules.NoCost)
	}
	for l := x.layers() - 1; l >= 0; l-- {
		for v := n - 1; v >= 0; v-- {
			best := int64(rules.NoCost)
			if v == n-1 {
				best = 0
			}
			if to := x.next(l); to < x.layers() {
				for _, a := range x.from[v] {
					if r := x.toEnd[to*n+x.r.Arcs[a].To]; r < rules.NoCost {
						best = min(best, r+x.cost[a])
					}
				}
			}
			x.toEnd[l*n+v] = best
		}
	}
	return x.toEnd[0]
}

// Least returns the cost of the cheapest assembly by the last prices.
func (x *Paths) Least() int64 { return x.toEnd[0] }

// Walk calls visit for every assembly that costs at most limit by the last prices, the cheapest
// first at every node, until visit returns false; it reports whether it visited all.
func (x *Paths) Walk(limit int64, visit func(p rules.Path, cost int64) bool) bool {
	var p rules.Path
	n := x.r.Nodes
	var down func(v, layer int, have int64) bool
	down = func(v, layer int, have int64) bool {
		if v == n-1 {
			return visit(append(rules.Path(nil), p...), have)
		}
		to := x.next(layer)
		if to >= x.layers() {
			return true
		}
		// The arc on the shortest path first.
		first := -1
		for k := -1; k < len(x.from[v]); k++ {
			var a int
			if k < 0 {
				for _, b := range x.from[v] {
					if r := x.toEnd[to*n+x.r.Arcs[b].To]; r < rules.NoCost && r+x.cost[b] == x.toEnd[layer*n+v] {
						first = b
						break
					}
				}
				if first < 0 {
					return true
				}
				a = first
			} else if a = x.from[v][k]; a == first {
				continue
			}
			r := x.toEnd[to*n+x.r.Arcs[a].To]
			if r >= rules.NoCost || have+x.cost[a]+r > limit {
				continue
			}
			p = append(p, a)
			ok := down(x.r.Arcs[a].To, to, have+x.cost[a])
			p = p[:len(p)-1]
			if !ok {
				return false
			}
		}
		return true
	}
	if x.toEnd[0] > limit {
		return true
	}
	return down(0, 0, 0)
}
