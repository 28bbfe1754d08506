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

// Filter has the least gain, by some duals, of a column that can be part of a plan below a cutoff.
type Filter struct {
	*Duals
	need []int64 // per place
}

// FilterOf returns the filter of duals for a box. It is closed if the duals alone rule out plans below the
// cutoff, and not ok if the duals are of no use.
//
// A column can be part of such a plan only if the Lagrangian bound plus the column's reduced cost is below
// the cutoff: compare R. Baldacci, S. Coniglio, J.-F. Cordeau, F. Furini, A numerically exact algorithm for
// the bin-packing problem, INFORMS Journal on Computing 36 (2024) 141-162.
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
		// The cost of a few hundred sticks at the finest scale exceeds 63 bits. A list would then mostly be
		// too long, and finding that out takes work (Falkenauer U 1.19, houses 1.06, tracts 1.15 of the
		// steps).
		return g, false, false
	case f.Plain == nil && (!ok || r < -mostGap):
		r = -mostGap // no plan is known, so every column may be in one
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
			g.need[i] += f.opening(d, c, hi) // the bound contains no stick of this class yet
		}
		if f.Plain != nil {
			g.need[i] = max(0, g.need[i])
		}
	}
	return g, false, true
}

// mostGap is the widest gap that a filter assumes with rules.
const mostGap = 1 << 60

// raised returns duals with a positive value for every item. Without rules, oracles otherwise omit items of
// value zero from patterns, which the list needs. Best is raised by the greatest value that this adds to a
// pattern, so the bound becomes weaker and remains valid.
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

// opening returns the increase of the duals' bound if at least one of up to hi sticks of a class is used.
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

// Wide reports whether the filter accepts columns with half the gain of the best at every place: it excludes
// next to nothing.
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

// Effort limits an enumeration. Each try enumerates columns by one of several dual solutions, and the others
// shorten the list. The list is the same in every try, but the number of columns visited can differ by a
// factor of a hundred.
type Effort struct {
	Columns int   // in a list, at most
	Tries   int   // dual solutions to enumerate by; 0: all
	Each    int64 // steps of a try, for each column that the list may have; 0: no limit
	Visits  int   // columns that a try may visit; 0: no limit. Several tries start with firstVisits each, then get more
}

// firstVisits is the number of columns that each of the first tries may visit.
const firstVisits = 1_000

// List is the result of an enumeration.
type List struct {
	Columns []rules.Column // in increasing order of reduced cost
	Filters []Filter       // accept each of them
	Alone   *Duals         // duals that rule out every plan below the cutoff by themselves, so that no list is needed; nil if there are none
}

// Enumerate returns every column that, by all of the duals, a plan below the cutoff can use in the box. The
// duals are of the box or an enclosing one. If Enumerate gives up and there are rules, it moves the duals
// that found the most columns to the front.
func (f *Families) Enumerate(b bound.Box, by []Duals, cutoff int64, most *Effort, mt *meter.Meter) (list List, ok bool) {
	var filters []Filter
	for k := range by {
		g, closed, ok := f.FilterOf(&by[k], b, cutoff)
		if closed {
			return List{Alone: &by[k]}, true
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
			columns, end := f.enumerateBy(filters, k, most.Columns, visits, part)
			if end != gaveUp {
				return List{Columns: columns, Filters: filters}, end == listedAll
			}
			filters[k].Found = len(columns)
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
	return List{}, false
}

// end is how an enumeration of columns ended.
type end uint8

const (
	listedAll end = iota
	crowded       // more columns than the list may have
	gaveUp        // no visits or no work left
)

// enumerateBy returns the columns that all filters accept, in increasing order of reduced cost by filter k.
// If it ends early, it returns the columns found so far.
func (f *Families) enumerateBy(filters []Filter, k, limit, visits int, mt *meter.Meter) ([]rules.Column, end) {
	p, g, a := f.P, &filters[k], &f.Objective
	// Whether one more item never makes a pattern worse.
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

// columnList is a list of columns with their reduced costs. It allocates patterns and uses many at a time.
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

// sorted returns the columns in increasing order of reduced cost.
func (l *columnList) sorted() []rules.Column {
	slices.SortStableFunc(l.rated, func(a, b rated) int { return cmp.Compare(a.rc, b.rc) })
	out := make([]rules.Column, len(l.cols))
	for i, r := range l.rated {
		out[i] = l.cols[r.at]
	}
	return out
}

// top returns the sum of a column's gain and reduced cost, which is the same for all columns of a place.
func (f *Families) top(d *Duals, place int) int64 {
	if place >= len(f.P.Bins) {
		return d.Best[place]
	}
	if c := f.classOf[place]; f.folded[c] {
		return d.Scale * f.each[c][f.Objective.Main]
	}
	return max(0, d.Best[place])
}

// Fix removes from a box the counts at both ends of a class's range that the duals rule out below the cutoff
// (reduced cost fixing). It returns the remaining box and the removed parts, in the order of removal.
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

// Split divides a box into the point with the given count of sticks of each class and the boxes around it.
// Classes whose count does not affect the cost keep their range.
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
