package solvertest

import (
	"fmt"
	"math"
	"slices"

	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/model"
)

// Stick is a stick with pieces on it.
type Stick struct {
	Bin  int
	Left int64
}

// Sizes returns the size of each piece.
func Sizes(p *model.Problem) (sizes []int64) {
	for _, it := range p.Items {
		for range it.Demand {
			sizes = append(sizes, it.Size)
		}
	}
	return sizes
}

// EveryPlan calls visit with the nonempty sticks of every plan in the box and its cost, once for
// plans that differ only in the order of equal sticks. It skips plans of which some sticks cost at
// least the result of below.
func EveryPlan(p *model.Problem, box bound.Box, below func() int64, visit func(sticks []Stick, cost int64)) {
	sizes := Sizes(p)
	used := make([]int64, len(p.Bins))
	var sticks []Stick
	var rec func(k int, cost int64)
	rec = func(k int, cost int64) {
		if cost >= below() {
			return
		}
		if k == len(sizes) {
			if within(used, box) {
				visit(sticks, cost)
			}
			return
		}
		for i := range sticks {
			if sticks[i].Left >= sizes[k] && !slices.Contains(sticks[:i], sticks[i]) {
				sticks[i].Left -= sizes[k]
				rec(k+1, cost)
				sticks[i].Left += sizes[k]
			}
		}
		for b, bin := range p.Bins {
			if used[b] < box.Hi[b] && bin.Cap >= sizes[k] {
				used[b]++
				sticks = append(sticks, Stick{b, bin.Cap - sizes[k]})
				rec(k+1, cost+bin.Cost)
				sticks = sticks[:len(sticks)-1]
				used[b]--
			}
		}
	}
	rec(0, 0)
}

func within(used []int64, box bound.Box) bool {
	for b, n := range used {
		if n < box.Lo[b] {
			return false
		}
	}
	return true
}

// Least returns the cost of the cheapest plan in the box, and whether there is one.
func Least(p *model.Problem, box bound.Box) (cost int64, ok bool) {
	cost = math.MaxInt64
	EveryPlan(p, box, func() int64 { return cost }, func(_ []Stick, c int64) { cost = min(cost, c) })
	return cost, cost < math.MaxInt64
}

// LeastOfAll is Least over all plans.
func LeastOfAll(p *model.Problem) (cost int64, ok bool) { return Least(p, bound.Full(p)) }

// Patterns lists every pattern of a bin with at most limit[i] of each item, including the empty one.
func Patterns(p *model.Problem, bin int, limit []int64) (out []model.Pattern) {
	var uses []model.Use
	var rec func(i int, left int64)
	rec = func(i int, left int64) {
		if i == len(p.Items) {
			out = append(out, model.Pattern{Bin: bin, Uses: slices.Clone(uses)})
			return
		}
		rec(i+1, left)
		for n := int64(1); n <= limit[i] && n*p.Items[i].Size <= left; n++ {
			uses = append(uses, model.Use{Item: i, N: n})
			rec(i+1, left-n*p.Items[i].Size)
			uses = uses[:len(uses)-1]
		}
	}
	rec(0, p.Bins[bin].Cap)
	return out
}

// Maximal reports whether no further item in demand fits into a pattern.
func Maximal(p *model.Problem, pat model.Pattern) bool {
	left := p.Bins[pat.Bin].Cap - p.Size(pat.Uses)
	more := p.Demands()
	for _, u := range pat.Uses {
		more[u.Item] -= u.N
	}
	for i, it := range p.Items {
		if more[i] > 0 && it.Size <= left {
			return false
		}
	}
	return true
}

// Most returns the greatest value of a pattern within the capacity.
func Most(p *model.Problem, value []int64, cap int64) int64 {
	var rec func(i int, cap int64) int64
	rec = func(i int, cap int64) int64 {
		if i == len(p.Items) {
			return 0
		}
		best := int64(0)
		for n := int64(0); n <= p.Items[i].Demand && n*p.Items[i].Size <= cap; n++ {
			best = max(best, n*value[i]+rec(i+1, cap-n*p.Items[i].Size))
		}
		return best
	}
	return rec(0, cap)
}

// Feasible returns an error if a plan is invalid: patterns must fit and be in order, the box's
// upper bounds must hold, and the demand must be met exactly.
func Feasible(p *model.Problem, box bound.Box, plan []model.PatternCount) error {
	cut := make([]int64, len(p.Items))
	used := make([]int64, len(p.Bins))
	for k, c := range plan {
		if c.Count <= 0 || len(c.Uses) == 0 {
			return fmt.Errorf("pattern %d is empty: %+v", k, c)
		}
		last := -1
		for _, u := range c.Uses {
			if u.Item <= last || u.N <= 0 {
				return fmt.Errorf("pattern %d: uses %v", k, c.Uses)
			}
			last = u.Item
			cut[u.Item] += u.N * c.Count
		}
		if s := p.Size(c.Uses); s > p.Bins[c.Bin].Cap {
			return fmt.Errorf("pattern %d takes %d of %d", k, s, p.Bins[c.Bin].Cap)
		}
		used[c.Bin] += c.Count
	}
	for b, n := range used {
		if n > box.Hi[b] {
			return fmt.Errorf("bin %d is used %d times, at most %d", b, n, box.Hi[b])
		}
	}
	for i, it := range p.Items {
		if cut[i] != it.Demand {
			return fmt.Errorf("item %d is cut %d times, demand %d", i, cut[i], it.Demand)
		}
	}
	return nil
}

// Fits reports whether the pieces fit in the given number of bins.
func Fits(sizes []int64, cap, bins int64) bool {
	left := slices.Repeat([]int64{cap}, int(bins))
	var put func(k int) bool
	put = func(k int) bool {
		if k == len(sizes) {
			return true
		}
		for b := range left {
			if left[b] < sizes[k] || slices.Contains(left[:b], left[b]) {
				continue
			}
			left[b] -= sizes[k]
			if put(k + 1) {
				return true
			}
			left[b] += sizes[k]
		}
		return false
	}
	return put(0)
}
