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
	d.leaveSpares(count, cost)
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

// leaveSpares leaves sticks at no cost where they are, if others to spare suffice: the solver
// counts out the spares, and a bundle or a minimum may bring them anyway. Sticks on the rack are
// left first.
func (d *decoder) leaveSpares(count, cost []int64) {
	in, p := d.in, d.in.problem
	surplus := -int64(p.Rules.Spare)
	if surplus == 0 {
		return
	}
	for c := range in.classes {
		if d.toSpare(c) {
			for _, i := range in.classes[c].sticks {
				surplus += count[i] - d.cutOf[i]
			}
		}
	}
	for _, rack := range []bool{true, false} {
		for c := range in.classes {
			if !d.toSpare(c) {
				continue
			}
			for _, i := range in.classes[c].sticks {
				extra := min(surplus, count[i]-d.cutOf[i])
				if p.Sticks[i].Rack != rack || extra <= 0 {
					continue
				}
				n, v := count[i]-extra, int64(0)
				switch {
				case n == 0:
				case in.classes[c].special:
					n, v = in.model.Classes[c].Buy(n)
				default:
					v = n * in.model.Classes[c].Tiers[0].Price
				}
				if n >= count[i] || v*in.costUnit != cost[i] || n == 0 && d.onlyOf(i, count) {
					continue
				}
				surplus -= count[i] - n
				count[i] = n
			}
		}
	}
}

// toSpare reports whether whole sticks of a class count as spare sticks.
func (d *decoder) toSpare(c int) bool {
	m := &d.in.model
	return m.Kinds[m.Bins[m.Classes[c].Bins[0]].Kind].Spare
}

// onlyOf reports whether a stick's supplier has a charge, and no other stick of this supplier is bought:
// without this stick the cost would change.
func (d *decoder) onlyOf(stick int, count []int64) bool {
	p := d.in.problem
	for _, ch := range p.Rules.Charges {
		if ch.Supplier != p.Sticks[stick].Supplier || ch.Amount == 0 {
			continue
		}
		for i := range p.Sticks {
			if i != stick && count[i] > 0 && p.Sticks[i].Supplier == ch.Supplier {
				return false
			}
		}
		return true
	}
	return false
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
