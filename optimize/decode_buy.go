package optimize

import (
	"fmt"
	"math"
)

// buy fills in the purchases.
func (d *decoder) buy() error {
	in, p := d.in, d.in.problem
	count := make([]int64, len(p.Sticks))
	cost := make([]int64, len(p.Sticks))
	for c := range in.classes {
		cl := &in.model.Classes[c]
		for _, i := range in.classes[c].sticks {
			count[i] = d.used[i]
			cost[i] = count[i] * cl.Tiers[0].Price * in.costUnit
		}
		if in.classes[c].special && d.bought[c] > 0 {
			i := in.classes[c].sticks[0]
			n, v := cl.Buy(d.bought[c])
			count[i], cost[i] = n, v*in.costUnit
		}
		if in.classes[c].yard {
			for _, i := range in.classes[c].sticks {
				cost[i] += d.cutOf[i] * p.Rules.YardCut
			}
		}
	}
	d.plan.Buy = []Purchase{}
	for i := range count {
		if count[i] > math.MaxInt {
			return tooManySticks(i)
		}
		if count[i] > 0 {
			d.plan.Buy = append(d.plan.Buy, Purchase{Stick: i, Count: int(count[i]), Cost: cost[i]})
		}
	}
	return nil
}

// tooManySticks reports a plan that buys more sticks of a kind than fit an int, which happens
// only if that has 32 bits.
func tooManySticks(stick int) error {
	return fieldError(fmt.Sprintf("sticks[%d].limit", stick), "no limit", fmt.Sprintf("pieces so few that at most %d sticks of a kind are bought", math.MaxInt))
}

// sells reports whether the purchases do not follow directly from the patterns.
func (p *Problem) sells() bool {
	if len(p.Rules.Charges) > 0 || p.Rules.Spare > 0 || p.Rules.MaxTransport > 0 {
		return true
	}
	for i := range p.Sticks {
		if s := &p.Sticks[i]; s.Bundle > 1 || s.Minimum > 1 || len(s.Breaks) > 0 {
			return true
		}
	}
	return false
}
