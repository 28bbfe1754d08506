package branchprice

import (
	"cmp"
	"slices"
)

// path is an assembly of a run: its arcs in order.
type path []int

// pathOracle finds the cheapest assemblies of one run.
type pathOracle struct {
	r     *Run
	from  [][]int // node -> arcs that leave it
	toEnd []int64 // [used*nodes+node]: the least cost from the node to the end
	cost  []int64 // per arc
}

func newPathOracle(r *Run) *pathOracle {
	x := &pathOracle{r: r, from: make([][]int, r.Nodes), cost: make([]int64, len(r.Arcs))}
	for a, arc := range r.Arcs {
		x.from[arc.From] = append(x.from[arc.From], a)
	}
	return x
}

// layers is how many numbers of arcs are told apart.
func (x *pathOracle) layers() int {
	if x.r.Most == 0 {
		return 1
	}
	return x.r.Most + 1
}

// next is the layer after one more arc.
func (x *pathOracle) next(layer int) int {
	if x.r.Most == 0 {
		return 0
	}
	return layer + 1
}

// price works out the least cost when an arc costs what it comes to by the weights of
// the criteria and the dual per item; noCost where there is no assembly.
func (x *pathOracle) price(value []int64, weight *[criteria]int64) int64 {
	n := x.r.Nodes
	for a, arc := range x.r.Arcs {
		x.cost[a] = weight[Price]*arc.Cost + weight[Splices]*arc.Splices + arc.N*value[arc.Item]
	}
	x.toEnd = x.toEnd[:0]
	for range x.layers() * n {
		x.toEnd = append(x.toEnd, noCost)
	}
	for l := x.layers() - 1; l >= 0; l-- {
		for v := n - 1; v >= 0; v-- {
			best := int64(noCost)
			if v == n-1 {
				best = 0
			}
			if to := x.next(l); to < x.layers() {
				for _, a := range x.from[v] {
					if r := x.toEnd[to*n+x.r.Arcs[a].To]; r < noCost {
						best = min(best, r+x.cost[a])
					}
				}
			}
			x.toEnd[l*n+v] = best
		}
	}
	return x.toEnd[0]
}

// enumerate calls visit for every assembly that costs at most limit, by the duals of the
// last price, cheapest first at every node, until visit returns false; it reports
// whether it saw all.
func (x *pathOracle) enumerate(limit int64, visit func(p path, cost int64) bool) bool {
	var p path
	n := x.r.Nodes
	var down func(v, layer int, have int64) bool
	down = func(v, layer int, have int64) bool {
		if v == n-1 {
			return visit(append(path(nil), p...), have)
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
					if r := x.toEnd[to*n+x.r.Arcs[b].To]; r < noCost && r+x.cost[b] == x.toEnd[layer*n+v] {
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
			if r >= noCost || have+x.cost[a]+r > limit {
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

// assembly returns the column of an assembly of a run.
func (p *Problem) assembly(run int, along path) column {
	c := column{run: run, path: along}
	for _, a := range along {
		c.cost[Price] += p.Runs[run].Arcs[a].Cost
		c.cost[Splices] += p.Runs[run].Arcs[a].Splices
	}
	return c
}

// uses returns what the path takes of each item.
func (r *Run) uses(p path) (uses []Use) {
	for _, a := range p {
		arc := &r.Arcs[a]
		k := 0
		for k < len(uses) && uses[k].Item < arc.Item {
			k++
		}
		if k < len(uses) && uses[k].Item == arc.Item {
			uses[k].N += arc.N
			continue
		}
		uses = append(uses, Use{})
		copy(uses[k+1:], uses[k:])
		uses[k] = Use{Item: arc.Item, N: arc.N}
	}
	return uses
}

// Upper returns what an assembly takes at most of each item that it can take.
func (r *Run) Upper() []Use {
	if r.upTo != nil {
		return r.upTo
	}
	// Arcs that follow each other, by the nearest end first.
	order := make([]int, len(r.Arcs))
	for a := range order {
		order[a] = a
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(r.Arcs[a].Item, r.Arcs[b].Item), cmp.Compare(r.Arcs[a].To, r.Arcs[b].To))
	})
	at := -1
	for _, a := range order {
		arc := &r.Arcs[a]
		k := len(r.upTo) - 1
		if k < 0 || r.upTo[k].Item != arc.Item {
			r.upTo = append(r.upTo, Use{Item: arc.Item})
			k++
			at = -1
		}
		if arc.From >= at {
			r.upTo[k].N += arc.N
			at = arc.To
		}
	}
	return r.upTo
}
