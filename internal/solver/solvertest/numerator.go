package solvertest

import (
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/wide"
)

// Numerator returns scale times the bound of package bound, by its formula. With scale 0 it ignores
// costs, and a positive result shows that the box contains no plan.
func Numerator(p *model.Problem, box bound.Box, dual, best []int64, scale int64) wide.Int {
	var n wide.Int
	for i, it := range p.Items {
		n.AddMul(dual[i], it.Demand)
	}
	for b, bin := range p.Bins {
		r := bin.Cost*scale - best[b]
		if r >= 0 {
			n.AddMul(r, box.Lo[b])
		} else {
			n.AddMul(r, box.Hi[b])
		}
	}
	return n
}
