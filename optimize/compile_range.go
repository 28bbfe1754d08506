package optimize

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/wide"
	"example.com/longpoint/measure"
)

// inRange checks that sums do not overflow.
func (in *instance) inRange() error {
	if in.ruled {
		return in.ruledInRange()
	}
	return cmp.Or(in.sizesInRange(), in.costsInRange())
}

// sizesInRange checks the pieces, and each stick.
func (in *instance) sizesInRange() error {
	g := in.unit
	var sum wide.Int
	for i := range in.model.Items {
		it := &in.model.Items[i]
		sum.AddMul(it.Orientations[0].Size, it.Demand)
		if v, ok := sum.Int64(); !ok || v >= sumLimit || v > math.MaxInt64/g {
			return fieldError("pieces", "too long in total",
				fmt.Sprintf("a total length, a kerf added to each piece, of at most %v", measure.Length(min(sumLimit-1, math.MaxInt64/g)*g).About()))
		}
	}
	for b := range in.model.Bins {
		if in.model.Bins[b].Cap >= sumLimit {
			s := in.classes[b].sticks[0]
			return fieldError(fmt.Sprintf("sticks[%d].length", s), in.problem.Sticks[s].Length.About(),
				fmt.Sprintf("a usable length, a kerf added, below %v", measure.Length(sumLimit*g).About()))
		}
	}
	return nil
}

// costsInRange checks that no plan's cost overflows, even with one stick per piece.
func (in *instance) costsInRange() error {
	price := func(c int) int64 { return in.model.Classes[c].Tiers[0].Price }
	dearest := make([]int, len(in.classes))
	for c := range dearest {
		dearest[c] = c
	}
	slices.SortFunc(dearest, func(a, b int) int { return cmp.Or(cmp.Compare(price(b), price(a)), a-b) })
	var sum wide.Int
	total := in.total
	for _, c := range dearest {
		n := min(in.model.Classes[c].Limit, total)
		total -= n
		sum.AddMul(price(c), n)
		if v, ok := sum.Int64(); !ok || v >= sumLimit || v > math.MaxInt64/in.costUnit {
			s := in.classes[c].sticks[0]
			stick := &in.problem.Sticks[s]
			if in.byLength {
				return fieldError(fmt.Sprintf("sticks[%d].length", s), stick.Length.About(),
					"sticks and pieces so few that the total length of a stick to each piece stays in range")
			}
			return fieldError(fmt.Sprintf("sticks[%d].price", s), stick.Price,
				"prices and pieces so few that the total price of a stick to each piece stays in range")
		}
	}
	return nil
}

// ruledInRange checks that sums do not overflow if there are rules.
func (in *instance) ruledInRange() error {
	m, g, c := &in.model, in.unit, in.costUnit
	// No plan costs more than buying every class to the limit of its use.
	var sum wide.Int
	for i := range m.Classes {
		top := int64(0)
		for _, t := range m.Classes[i].Tiers {
			top = max(top, t.Price)
		}
		sum.AddMul(top, min(m.Classes[i].Limit, in.useful+m.Classes[i].Bundle+m.Classes[i].Minimum))
		for _, b := range m.Classes[i].Bins {
			sum.AddMul(m.Bins[b].Own[rules.Price], in.useful)
		}
	}
	for s := range m.Suppliers {
		sum.AddMul(m.Suppliers[s].Charge, 1)
	}
	for r := range m.Runs {
		for _, a := range m.Runs[r].Arcs {
			sum.AddMul(a.Cost, 1)
		}
	}
	if v, ok := sum.Int64(); !ok || v > 1<<50 || v > math.MaxInt64/c {
		return fieldError("sticks", "too expensive in total", "prices and numbers of sticks whose total stays in range")
	}
	var all wide.Int
	for i := range m.Items {
		for _, w := range m.Items[i].Orientations {
			all.AddMul(w.Size, m.Items[i].Most+1)
		}
	}
	for b := range m.Bins {
		all.AddMul(m.Bins[b].Cap, 1)
	}
	if v, ok := all.Int64(); !ok || v > 1<<56 {
		return fieldError("pieces", "too long in total", fmt.Sprintf("a total length, kerfs included, below %v", measure.Length(min((1<<56)/in.double, math.MaxInt64/g)*g/in.double).About()))
	}
	return nil
}
