// Package price determines whether a problem counts money or length.
package price

import (
	"slices"

	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// ByLength reports whether plans for the problem count length, since nothing in it has a price.
func ByLength(p *optimize.Problem) bool {
	return p.Rules.YardCut == 0 &&
		!slices.ContainsFunc(p.Sticks, Has) &&
		!slices.ContainsFunc(p.Rules.Charges, func(c optimize.Charge) bool { return c.Amount != 0 }) &&
		!slices.ContainsFunc(p.Runs, func(r stock.Run) bool { return r.Splice.Price != 0 })
}

// Has reports whether a stick has a price, if only from some number on.
func Has(s stock.Stick) bool {
	return s.Price != 0 || slices.ContainsFunc(s.Breaks, func(b stock.PriceBreak) bool { return b.Price != 0 })
}

// Of returns the cost of each stick in a plan, without price breaks.
func Of(p *optimize.Problem) []int64 {
	length := ByLength(p)
	out := make([]int64, len(p.Sticks))
	for i := range out {
		if out[i] = p.Sticks[i].Price; length {
			out[i] = int64(p.Sticks[i].Length)
		}
	}
	return out
}
