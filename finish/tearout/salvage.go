package tearout

import (
	"cmp"
	"math"
	"slices"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// salvage determines the pieces that survive. Of the pieces of a profile in one material,
// a share survives, rounded down, and the shortest ones are assumed to: long ones break,
// and a plan must not count on pieces that may not exist. These lose their ends, and
// pieces that are then not worth keeping by the rules of the rack are thrown away.
func (p *planner) salvage() error {
	type kind struct{ profile, material string }
	groups := make(map[kind][]int) // parts of each
	var order []kind
	for i, part := range p.job.Parts {
		if part.Method != MethodSalvage {
			continue
		}
		k := kind{part.Profile, part.Material}
		if groups[k] == nil {
			order = append(order, k)
		}
		groups[k] = append(groups[k], i)
	}
	rule := p.job.Rules.Salvage
	for _, k := range order {
		parts := groups[k]
		var all int64
		for _, i := range parts {
			p.add(&all, p.job.Parts[i].count(), "the pieces of "+k.profile)
		}
		survive, _, err := measure.Length(all).MulDiv(int64(rule.Yield), int64(whole), measure.RoundDown) // a carrier: exact to 128 bits
		if err != nil {
			return tooLarge("the pieces of " + k.profile)
		}
		left := int64(survive)
		slices.SortStableFunc(parts, func(a, b int) int { return cmp.Compare(p.job.Parts[a].Length, p.job.Parts[b].Length) })
		for _, i := range parts {
			part := p.job.Parts[i]
			n := min(left, part.count())
			left -= n
			o := stock.Offcut{Label: "saved from " + part.Room, Profile: part.Profile, Material: part.Material, Length: part.Length - 2*rule.End}
			if rule.End >= part.Length || n == 0 || !p.job.Rack.Keeps(o) {
				continue
			}
			if n > math.MaxInt32 {
				return tooLarge("the pieces of " + k.profile)
			}
			o.Count = int(n)
			p.saved[i] = n
			p.plan.Salvage = append(p.plan.Salvage, o)
		}
	}
	return nil
}
