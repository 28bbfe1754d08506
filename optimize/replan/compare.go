package replan

import (
	"fmt"
	"slices"

	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/internal/price"
)

// unchanged is the revision of a plan with no progress.
func (r *replan) unchanged() *Revision {
	p, plan := r.p, r.old
	rev := &Revision{Problem: *p, Plan: plan, Cost: plan.Cost, Bound: plan.Bound, Proven: plan.Proven && plan.Cost == plan.Bound, Planned: plan.Cost, ByLength: plan.ByLength}
	for i := range p.Pieces {
		rev.Pieces = append(rev.Pieces, i)
	}
	for k := range p.Runs {
		rev.Runs = append(rev.Runs, k)
	}
	for i := range p.Sticks {
		rev.Sticks = append(rev.Sticks, Owned{Stick: i})
	}
	for j := range plan.Patterns {
		n := plan.Patterns[j].Count
		rev.Changes = append(rev.Changes, PatternChange{Pattern: j, Left: n, Kept: n})
	}
	rev.Buy = slices.Clone(plan.Buy)
	return rev
}

// compare fills in the patterns kept, the purchases, the surplus and the remaining cost.
func (r *replan) compare() {
	rev := &r.rev
	rev.ByLength = r.old.ByLength
	r.compareOld()
	if rev.Plan != nil {
		for k := range rev.Plan.Spliced {
			if run := rev.Runs[k]; !slices.Equal(rev.Plan.Spliced[k].At, r.old.Spliced[run].At) {
				rev.Respliced = append(rev.Respliced, run)
			}
		}
	}
	if len(r.done.Spoiled) > 0 {
		again := make([]int, len(r.left))
		for _, s := range r.done.Spoiled {
			again[s.Piece] += max(1, s.Count)
		}
		for i, n := range again {
			if n = min(n, r.left[i]); n > 0 {
				rev.Recut = append(rev.Recut, Spoiled{i, n})
			}
		}
	}
	r.compareSticks()
	rev.Planned = r.planned()
	refunds := int64(0)
	for _, o := range r.done.Owned {
		refunds += o.Refund * int64(max(1, o.Count)) // at most maxRefund in total
	}
	if plan := rev.Plan; plan != nil && !r.free() {
		rev.Cost, rev.Bound = plan.Cost, plan.Bound
	}
	rev.Cost -= refunds
	rev.Bound -= refunds
	rev.Proven = rev.Cost == rev.Bound
}

// shape is a key that two ways of cutting share if they are the same for people: the stick, by
// its number in the old problem, and the pieces that it yields.
func (r *replan) shape(pat *optimize.Pattern, revised bool) string {
	s := pat.Stick
	ids := slices.Clone(pat.Pieces)
	if revised {
		s = r.rev.Sticks[s].Stick
		for k, i := range ids {
			if n := len(r.rev.Pieces); i >= n {
				ids[k] = r.partID(i)
			} else {
				ids[k] = r.rev.Pieces[i]
			}
		}
	}
	slices.Sort(ids)
	return fmt.Sprint(s, ids)
}

// partID returns the number in the old problem of a part of the new plan, or a negative number
// if its run is spliced differently.
func (r *replan) partID(i int) int {
	if r.parts == nil {
		r.parts = map[int]int{}
		for k := range r.rev.Plan.Spliced {
			s, old := &r.rev.Plan.Spliced[k], &r.old.Spliced[r.rev.Runs[k]]
			if slices.Equal(s.At, old.At) {
				for at, part := range s.Pieces {
					r.parts[part] = old.Pieces[at]
				}
			}
		}
	}
	if part, same := r.parts[i]; same {
		return part
	}
	return -1 - i
}

func (r *replan) compareOld() {
	rev := &r.rev
	now := map[string]int{}                       // whole sticks by shape
	on := make([]string, len(rev.Problem.Sticks)) // shape of the pattern on each started stick
	if rev.Plan != nil {
		for k := range rev.Plan.Patterns {
			pat := &rev.Plan.Patterns[k]
			switch rev.Sticks[pat.Stick].Place {
			case PlaceStarted:
				on[pat.Stick] = r.shape(pat, true)
			case PlaceSupplier, PlaceWhole:
				now[r.shape(pat, true)] += pat.Count
			}
		}
	}
	kept := make([]int, len(r.stays))
	for k, j := range r.begun {
		if j < 0 {
			continue
		}
		rest, _ := without(r.old.Patterns[j].Pieces, r.done.Started[k].Pieces)
		at := r.started[k]
		if len(rest) == 0 || at >= 0 && on[at] == r.shape(&optimize.Pattern{Stick: r.old.Patterns[j].Stick, Pieces: rest}, false) {
			kept[j]++
		}
	}
	for j, n := range r.stays {
		if n == 0 {
			continue
		}
		s := r.shape(&r.old.Patterns[j], false)
		more := min(r.whole[j], now[s])
		now[s] -= more
		old := PatternChange{Pattern: j, Left: n, Kept: kept[j] + more}
		if old.Kept < n {
			no := refusal{reason: ReasonNotNeeded} // no pieces are wanted any more
			if r.no != nil {
				no = r.no[j]
			} else if i := slices.IndexFunc(r.old.Patterns[j].Pieces, func(i int) bool { return r.left[i] == 0 }); i >= 0 {
				no.piece = r.old.Patterns[j].Pieces[i]
			}
			old.Reason, old.Piece, old.Extra = no.reason, no.piece, no.extra
		}
		rev.Changes = append(rev.Changes, old)
	}
}

// compareSticks lists the purchases and the surplus.
func (r *replan) compareSticks() {
	rev := &r.rev
	var list []optimize.Purchase
	if rev.Plan != nil {
		list = rev.Plan.Buy
	}
	used := make([]int, len(rev.Problem.Sticks))
	free := r.free()
	for _, b := range list {
		used[b.Stick] = b.Count
		if src := rev.Sticks[b.Stick]; src.Place == PlaceSupplier {
			if free {
				b.Cost = 0 // the cost is a length
			}
			rev.Buy = append(rev.Buy, optimize.Purchase{Stick: src.Stick, Count: b.Count, Cost: b.Cost})
		}
	}
	for s, n := range used {
		if o := rev.Sticks[s]; o.Place != PlaceSupplier && o.Count > n {
			o.Count -= n
			rev.Surplus = append(rev.Surplus, o)
		}
	}
}

// planned returns the remaining cost of the old plan.
func (r *replan) planned() int64 {
	each := price.Of(r.p)
	total := int64(0)
	for _, run := range r.rev.Runs {
		total += r.p.Runs[run].Splice.Price * int64(len(r.old.Spliced[run].At))
	}
	cut := make([]int, len(r.p.Sticks))
	for j := range r.old.Patterns {
		cut[r.old.Patterns[j].Stick] += r.old.Patterns[j].Count
	}
	for _, b := range r.old.Buy {
		s := &r.p.Sticks[b.Stick]
		switch left := max(0, b.Count-r.used[b.Stick]); {
		case left == b.Count:
			total += b.Cost
		case !soldTogether(s):
			total += each[b.Stick] * int64(left)
			if inYard(r.p, s) {
				total += r.p.Rules.YardCut * int64(max(0, cut[b.Stick]-r.used[b.Stick]))
			}
		}
	}
	here, bought := map[string]bool{}, map[string]bool{}
	for i, n := range r.used {
		here[r.p.Sticks[i].Supplier] = here[r.p.Sticks[i].Supplier] || n > 0
	}
	for _, b := range r.old.Buy {
		bought[r.p.Sticks[b.Stick].Supplier] = true
	}
	for _, ch := range r.p.Rules.Charges {
		if bought[ch.Supplier] && !here[ch.Supplier] {
			total += ch.Amount
		}
	}
	return total
}
