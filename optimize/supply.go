package optimize

import (
	"example.com/longpoint/internal/solver/wide"
	"example.com/longpoint/measure"
)

// supply reports demand that the sticks cannot meet by length or by count. For each length it
// considers the pieces of that length or longer together, since they need the sticks that are
// long enough for them.
//
// A problem that passes may still be infeasible; only the engine can tell.
func (in *instance) supply() error {
	bins, total := in.model.Bins, in.total
	var need, count int64 // size and number of the pieces so far
	var have int64        // capacity of the bins that hold the smallest of them, at most sumLimit
	b := 0
	for i := range in.model.Items {
		size, demand := in.model.Items[i].Orientations[0].Size, in.model.Items[i].Demand
		need += size * demand
		count += demand
		for ; b < len(bins) && bins[b].Cap >= size; b++ {
			if in.model.Classes[b].Limit >= total {
				return nil // every piece from here on has its own stick
			}
			var sum wide.Int
			sum.AddMul(bins[b].Cap, in.model.Classes[b].Limit)
			sum.AddMul(have, 1)
			if v, ok := sum.Int64(); ok && v < sumLimit {
				have = v
			} else {
				have = sumLimit
			}
		}
		p := in.items[i].pieces[0]
		short := infeasible("")
		short.ShortFrom, short.Label = p, in.problem.Pieces[p].Label
		if have < need {
			short.Reason = ReasonSupplyTooShort
			short.Need = measure.Length(need * in.unit)
			short.Have = measure.Length(have * in.unit)
			return short
		}
		var fit int64 // number of pieces of this size that the bins hold, at most count
		for k := 0; k < b && fit < count; k++ {
			each := bins[k].Cap / size
			if more := (count - fit + each - 1) / each; in.model.Classes[k].Limit >= more {
				fit = count
			} else {
				fit += each * in.model.Classes[k].Limit
			}
		}
		if fit < count {
			short.Reason = ReasonSupplyTooFew
			short.NeedCount, short.HaveCount = count, fit
			return short
		}
	}
	return nil
}
