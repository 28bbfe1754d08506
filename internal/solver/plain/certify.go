package plain

import (
	"context"

	"example.com/longpoint/internal/meter"
)

// showAgain looks for a list that proves the result of a search for a packing, since that search leaves no
// certificate. Its work is not part of the search: it is counted separately, and limited to twice the work of
// the proof and to the caller's limit.
func (r *solver) showAgain(ctx context.Context, limit int64) {
	if r.plan == nil || r.bound < r.cost || r.leafBound >= r.cost || r.leaves[0].Search != nil {
		return
	}
	used := r.mt.Used()
	work := showAgainShare*used + showAgainLeast
	if limit > 0 {
		work = min(work, limit-used)
	}
	if work > 0 && meter.Ended(ctx) == nil {
		r.certifyPacking(meter.New(ctx, work))
	}
}
