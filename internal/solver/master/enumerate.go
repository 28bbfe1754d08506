package master

import (
	"cmp"
	"math"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/pricing"
	"example.com/longpoint/internal/solver/rules"
)

// Filter says what a column must gain by some duals to be part of a plan that costs less
// than some cutoff.
type Filter struct {
	*Duals
	need []int64 // per place
}

// FilterOf returns the filter that duals give in a box, or that they rule out such plans by
// themselves. It reports false where they are of no use.
//
// A column can be part of such a plan only if the Lagrangian bound plus its own reduced cost stays below: compare R.
// Baldacci, S. Coniglio, J.-F. Cordeau, F. Furini, A numerically exact algorithm for the
// bin-packing problem, INFORMS Journal on Computing 36 (2024) 141-162.
func (f *Families) FilterOf(d *Duals, b bound.Box, cutoff int64) (g Filter, closed, ok bool) {
	if d.Scale == 0 || f.Plain != nil && cutoff >= rules.NoCost {
		return g, false, false
	}
	d = f.raised(d, b)
	left := f.Numerator(d, b)
	_, narrow := left.Int64()
	left.AddMul(d.Scale, -(cutoff - 1))
	if left.Sign() > 0 {
		return g, true, true
	}
	r, ok := left.Int64()
	switch {
	case f.Plain != nil && (!ok || !narrow || r == math.MinInt64):
		// Of a few hundred sticks the cost at the finest scale leaves 63 bits. With what is left a list is mostly too
		// long, and to find that out takes its time (Falkenauer U 1.19, houses 1.06, tracts 1.15 of the steps).
		return g, false, false
	case f.Plain == nil && (!ok || r < -mostGap):
		r = -mostGap // no plan is known: every column may be in one
	}
	g = Filter{d, make([]int64, len(d.Best))}
	for i, best := range d.Best {
		if i >= len(f.P.Bins) {
			g.need[i] = best + r
			continue
		}
		c := f.classOf[i]
		_, hi := f.Range(b, c)
		if hi == 0 {
			g.need[i] = pricing.Closed
			continue
		}
		g.need[i] = max(0, best) + r
		if b.Lo[c] == 0 {
			g.need[i] += f.opening(d, c, hi) // the bound does not count this class yet
		}
		if f.Plain != nil {
			g.need[i] = max(0, g.need[i])
		}
	}
	return g, false, true
}

// mostGap is the widest gap that a filter reckons with where there are rules.
const mostGap = 1 << 60

// raised returns duals that give every item a value, since items of none must be part of patterns, too, and those of
// a problem without rules come without them otherwise. The bound is loosened by what was added.
func (f *Families) raised(d *Duals, b bound.Box) *Duals {
	if f.Plain == nil {
		return d
	}
	up := d.Clone()
	for i, it := range f.Plain.Items {
		if d.Item[i] > 0 {
			continue
		}
		up.Item[i] = 1
		for k, bin := range f.Plain.Bins {
			if b.Hi[k] > 0 {
				up.Best[k] += min(it.Demand, bin.Cap/it.Size)
			}
		}
	}
	return &up
}

// opening returns what the bound of duals gains where at least one of up to hi sticks of a class is used.
func (f *Families) opening(d *Duals, c int, hi int64) int64 {
	zero, _ := f.least(d, c, 0, hi)
	one, ok := f.least(d, c, 1, hi)
	if !ok {
		return 0
	}
	v, ok := one.Sub(zero).Int64()
	if !ok {
		return 0
	}
	return max(0, v)
}

// Wide reports whether the filter accepts columns with half the gain of the best at every place: it excludes next to
// nothing.
func (g *Filter) Wide() bool {
	for i, need := range g.need {
		if need != pricing.Closed && need > g.Best[i]/2 {
			return false
		}
	}
	return true
}

// Accepts reports whether a column gains enough.
func (g *Filter) Accepts(p *rules.Problem, c *rules.Column) bool {
	gain, place := int64(0), 0
	for k, w := range g.Weight {
		gain -= w * c.Cost[k]
	}
	if c.Fill == nil {
		place = len(p.Bins) + c.Run
		for _, u := range p.Runs[c.Run].Uses(c.Path) {
			gain -= u.N * g.Item[u.Item]
		}
	} else {
		place = c.Fill.Bin
		for _, u := range c.Fill.Uses {
			gain += u.N * g.Item[u.Item]
		}
	}
	return gain >= g.need[place]
}

// Effort limits an enumeration. It looks for columns by one of several duals after the other, the others shorten the
// list. It is the same by whichever duals; but by some it may be a hundred times as long as by others.
type Effort struct {
	Columns int   // that a list may have
	Tries   int   // by so many duals; 0: all of them
	Each    int64 // steps of a try for each of these columns; 0: no limit
	Visits  int   // columns that each try may meet; 0: no limit. One duals after another first get firstVisits, then more
}

// firstVisits is how many columns the first tries may meet.
const firstVisits = 1_000

// Enumerate returns every column that a plan better than cutoff can use in the box, by all of
// the duals, which are of the box or one around it. Where it gives up it puts those duals first that led to most
// columns.
func (f *Families) Enumerate(b bound.Box, by []Duals, cutoff int64, most *Effort, mt *meter.Meter) ([]rules.Column, bool) {
	var filters []Filter
	for k := range by {
		g, closed, ok := f.FilterOf(&by[k], b, cutoff)
		if closed {
			return nil, true
		}
		if ok {
			filters = append(filters, g)
		}
	}
	tries := len(filters)
	if most.Tries > 0 {
		tries = min(tries, most.Tries)
	}
	visits := most.Visits
	if tries > 1 && visits > 0 {
		visits = min(firstVisits, visits)
	}
	for len(filters) > 0 {
		for k := range tries {
			part := mt
			if most.Each > 0 {
				part = mt.Sub(int64(most.Columns) * most.Each)
			}
			list, end := f.enumerateBy(filters, k, most.Columns, visits, part)
			if end != gaveUp {
				return list, end == listedAll
			}
			filters[k].Found = len(list)
		}
		if visits == most.Visits || !mt.Left() {
			break
		}
		visits = min(8*visits, most.Visits)
	}
	if f.Plain == nil {
		for k := range tries {
			by[k].Found = filters[k].Found
		}
		slices.SortStableFunc(by[:tries], func(x, y Duals) int { return cmp.Compare(y.Found, x.Found) })
	}
	return nil, false
}

// end is how an enumeration of columns ended.
type end uint8

const (
	listedAll end = iota
	crowded       // more than the list may have
	gaveUp        // no visits or no work left
)

// enumerateBy returns the columns of filter k that the others take, too, those that gain most by it
// first, or as many as it came to.
func (f *Families) enumerateBy(filters []Filter, k, limit, visits int, mt *meter.Meter) ([]rules.Column, end) {
	p, g, a := f.P, &filters[k], &f.Objective
	// Whether an item added to a pattern makes it no worse.
	maximal := !p.Exact && !a.Capped[rules.Salvage] && !a.Capped[rules.Cuts] && a.Main != rules.Salvage && a.Main != rules.Cuts
	var found columnList
	visited := 0
	prices := pricing.Prices{Item: g.Item, Weight: g.Weight, Need: g.need, Limit: f.limit}
	best := make([]int64, len(g.Best))
	for _, o := range f.oracles {
		if !o.Build(&prices, best, nil, mt) {
			return found.cols, gaveUp
		}
		for _, place := range o.Places() {
			if g.need[place] == pricing.Closed {
				continue
			}
			top := f.top(g.Duals, place)
			saw := o.Enumerate(place, g.need[place], mt, func(c rules.Column, gain int64) bool {
				if visited++; visits > 0 && visited > visits {
					return false
				}
				for q := range filters {
					if q != k && !filters[q].Accepts(p, &c) {
						return true
					}
				}
				if maximal && !o.Maximal(&c) {
					return true
				}
				found.add(&c, top-gain)
				return len(found.cols) <= limit
			})
			if len(found.cols) > limit {
				return found.cols, crowded
			}
			if !saw {
				return found.cols, gaveUp
			}
		}
	}
	return found.sorted(), listedAll
}

// columnList is columns with their reduced costs. What they are made of lies in a few pieces of memory.
type columnList struct {
	cols     []rules.Column
	rated    []rated
	patterns []rules.Pattern
	uses     []rules.Use
}

type rated struct {
	rc int64
	at int // in cols
}

func (l *columnList) add(c *rules.Column, rc int64) {
	l.rated = append(l.rated, rated{rc, len(l.cols)})
	l.cols = append(l.cols, *c)
	if c.Fill == nil {
		return
	}
	if len(l.patterns) == cap(l.patterns) {
		l.patterns = make([]rules.Pattern, 0, 64+len(l.cols)/2)
	}
	if n := len(c.Fill.Uses); cap(l.uses)-len(l.uses) < n {
		l.uses = make([]rules.Use, 0, n+256+2*len(l.cols))
	}
	from := len(l.uses)
	l.uses = append(l.uses, c.Fill.Uses...)
	l.patterns = append(l.patterns, rules.Pattern{Bin: c.Fill.Bin, Uses: l.uses[from:len(l.uses):len(l.uses)]})
	l.cols[len(l.cols)-1].Fill = &l.patterns[len(l.patterns)-1]
}

// sorted returns the columns, those of the least reduced cost first.
func (l *columnList) sorted() []rules.Column {
	slices.SortStableFunc(l.rated, func(a, b rated) int { return cmp.Compare(a.rc, b.rc) })
	out := make([]rules.Column, len(l.cols))
	for i, r := range l.rated {
		out[i] = l.cols[r.at]
	}
	return out
}

// top is what the gain of a column is short of by its reduced cost.
func (f *Families) top(d *Duals, place int) int64 {
	if place >= len(f.P.Bins) {
		return d.Best[place]
	}
	if c := f.classOf[place]; f.folded[c] {
		return d.Scale * f.each[c][f.Objective.Main]
	}
	return max(0, d.Best[place])
}

// Fix takes off a box what the duals show to hold no plan below the cutoff: counts of a class that are too many,
// or too few (reduced cost fixing). It returns the box that is left and the parts taken off, one after the other.
func (f *Families) Fix(d *Duals, b bound.Box, cutoff int64) (in bound.Box, off []bound.Box) {
	if d.Scale == 0 {
		return b, nil
	}
	in = b.Clone()
	for c := range f.P.Classes {
		if lo, hi := f.Range(in, c); lo >= hi {
			continue
		}
		lo, hi := in.Lo[c], in.Hi[c]
		ruledOut := func(from, to int64) bool {
			in.Lo[c], in.Hi[c] = from, to
			out := f.BoundOf(d, in) >= cutoff
			in.Lo[c], in.Hi[c] = lo, hi
			return out
		}
		take := func(from, to int64) {
			part := in.Clone()
			part.Lo[c], part.Hi[c] = from, to
			off = append(off, part)
		}
		if n := hi - lo - rules.Furthest(hi-lo, func(k int64) bool { return ruledOut(hi-k+1, hi) }); n < hi-lo {
			take(lo+n+1, hi)
			hi = lo + n
			in.Hi[c] = hi
		}
		if n := rules.Furthest(hi-lo, func(k int64) bool { return ruledOut(lo, lo+k-1) }); n > 0 {
			take(lo, lo+n-1)
			in.Lo[c] = lo + n
		}
	}
	return in, off
}

// Split cuts a box up: a point, which is the box with just so many sticks of each class, and the boxes around it, which are
// the rest. Classes whose count is nobody's concern keep their range.
func (f *Families) Split(b bound.Box, counts []int64) (point bound.Box, around []bound.Box) {
	in := b.Clone()
	for c := range f.P.Classes {
		lo, hi := in.Lo[c], in.Hi[c]
		if from, to := f.Range(b, c); from >= to {
			continue
		}
		if _, each, ok := f.P.Classes[c].Affine(lo, hi); f.Plain == nil && ok && each == 0 {
			continue
		}
		at := min(max(counts[c], lo), hi)
		for _, r := range [...][2]int64{{lo, at - 1}, {at + 1, hi}} {
			if r[0] <= r[1] {
				part := in.Clone()
				part.Lo[c], part.Hi[c] = r[0], r[1]
				around = append(around, part)
			}
		}
		in.Lo[c], in.Hi[c] = at, at
	}
	return in, around
}
