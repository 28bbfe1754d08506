// Package model states a cutting stock problem in integers, the only form that the solver
// reads.
//
// The kerf is included in sizes: a bin of usable length W cut with kerf k has capacity W+k, and
// an item of length w has size w+k, since n pieces need n-1 cuts between them. All sizes may be
// divided by a common factor first, and all costs by another.
package model

// Item is a size with a demand.
type Item struct {
	Size   int64 // > 0
	Demand int64 // > 0
}

// Bin is a class of sticks that are equal for the solver.
type Bin struct {
	Cap   int64 // >= 0
	Cost  int64 // >= 0
	Limit int64 // the greatest number of uses, at least 0; at most the total demand
}

// Problem asks for the cheapest set of patterns that yields every item's demand and uses no bin
// more often than its limit. Items are distinct and in strictly decreasing size; bins are
// distinct pairs of capacity and cost in any order. The sum of Size*Demand, the sum of Demand,
// and the sum of Cost*Limit over the cheapest sufficient set are below 1<<60.
type Problem struct {
	Items []Item
	Bins  []Bin
}

// Divide divides sizes and capacities by their greatest common divisor.
func (p *Problem) Divide() {
	unit := int64(0)
	take := func(n int64) {
		for n != 0 {
			unit, n = n, unit%n
		}
	}
	for i := range p.Items {
		take(p.Items[i].Size)
	}
	for b := range p.Bins {
		take(p.Bins[b].Cap)
	}
	if unit < 2 {
		return
	}
	for i := range p.Items {
		p.Items[i].Size /= unit
	}
	for b := range p.Bins {
		p.Bins[b].Cap /= unit
	}
}

// Use is one item's share of a pattern. If items can lie in several ways, Orient is the index
// of one; in a Problem of this package it is zero.
type Use struct {
	Item, Orient int   // index into the problem's items, and into the item's orientations
	N            int64 // > 0
}

// Pattern is the set of items cut from one bin. Uses are in increasing order of Item, then
// Orient.
type Pattern struct {
	Bin  int
	Uses []Use
}

// PatternCount is a pattern that is cut Count times.
type PatternCount struct {
	Pattern
	Count int64
}

// Size returns the capacity that the pattern takes.
func (p *Problem) Size(uses []Use) int64 {
	var s int64
	for _, u := range uses {
		s += p.Items[u.Item].Size * u.N
	}
	return s
}

// Demands returns each item's demand.
func (p *Problem) Demands() []int64 {
	d := make([]int64, len(p.Items))
	for i, it := range p.Items {
		d[i] = it.Demand
	}
	return d
}

// Pieces returns the total demand.
func (p *Problem) Pieces() int64 {
	var n int64
	for _, it := range p.Items {
		n += it.Demand
	}
	return n
}

// With returns the pattern with n more of an item in an orientation.
func (f *Pattern) With(item, orient int, n int64) Pattern {
	g := Pattern{Bin: f.Bin, Uses: make([]Use, 0, len(f.Uses)+1)}
	put := false
	for _, u := range f.Uses {
		if !put && (u.Item > item || u.Item == item && u.Orient >= orient) {
			put = true
			if u.Item == item && u.Orient == orient {
				u.N += n
			} else {
				g.Uses = append(g.Uses, Use{item, orient, n})
			}
		}
		g.Uses = append(g.Uses, u)
	}
	if !put {
		g.Uses = append(g.Uses, Use{item, orient, n})
	}
	return g
}
