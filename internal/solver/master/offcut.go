package master

import (
	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/pricing"
	"example.com/longpoint/internal/solver/rules"
)

// Roomiest returns an upper bound on the offcuts of plans that cost at most cost, by duals of the root: the reduced cost
// of a pattern that leaves more is too large. It reports false if the duals give no bound, or the meter ran out.
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

// List returns all columns that every filter accepts, including patterns with room for more pieces. It reports false if
// by each filter there are more than the limit, or the meter ran out.
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
