package master

import (
	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/pricing"
	"example.com/longpoint/internal/solver/rules"
)

// Relaxed is what is known of the relaxation of a whole problem, for a search that goes on from it.
type Relaxed struct {
	Basis []model.Pattern // the patterns of its basis
	Duals []Duals         // several of its optima
}

// Roomiest returns a length that no offcut exceeds in a plan that costs at most cost, by duals of the root: a pattern
// that leaves more gains too little. It reports false if the duals show nothing, or the meter ran out.
func (f *Families) Roomiest(d *Duals, cost int64, mt *meter.Meter) (most int64, ok bool) {
	g, closed, ok := f.FilterOf(d, f.Root, cost+1)
	if closed || !ok {
		return 0, false
	}
	prices := pricing.Prices{Item: g.Item, Weight: g.Weight, Need: g.need, Limit: f.limit}
	best := make([]int64, len(g.Best))
	for _, o := range f.oracles {
		x, patterns := o.(*pricing.Knapsack)
		if !patterns {
			continue
		}
		if !x.Build(&prices, best, nil, mt) {
			return 0, false
		}
		for _, b := range x.Places() {
			if g.need[b] != pricing.Closed {
				most = max(most, x.Roomiest(b, g.need[b]))
			}
		}
	}
	return most, true
}

// List returns all columns that every filter accepts, also patterns with room for more. It reports false if there are more
// than the limit by each of the filters, or the meter ran out.
func (f *Families) List(filters []Filter, limit int, mt *meter.Meter) ([]rules.Column, bool) {
	p, all := *f.P, *f
	p.Exact, all.P = true, &p
	for k := len(filters) - 1; k >= 0; k-- {
		if list, how := all.enumerateBy(filters, k, limit, 0, mt); how == listedAll {
			return list, true
		}
	}
	return nil, false
}
