package bound

import (
	"math/bits"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/sumset"
)

// ReachableCosts is a set that contains all costs below a limit of plans in a box, and possibly
// others. A bound may be rounded up to the next member. Nil contains every cost.
type ReachableCosts struct {
	base, unit, limit int64
	set               sumset.Set // k: base + k*unit; nil: every k
}

// Terms describes the cost of a plan: the base, one amount of each member of OneOf, and any
// multiple of each amount in AnyOf. No amount is below zero.
type Terms struct {
	Base  int64
	OneOf [][]Stretch
	AnyOf []int64
}

// Stretch is a sequence of evenly spaced amounts: From and up to Count steps more.
type Stretch struct{ From, Step, Count int64 }

const (
	// reachableBits and reachableWork limit memory and work; beyond either, every multiple of
	// the common divisor counts as reachable.
	reachableBits = 1 << 21
	reachableWork = 1 << 22

	// Below is less than every cost: the cutoff if no plan is cheap enough.
	Below = -1 << 40
)

// Reachable computes the costs below the limit that counts of bins in the box can add up to.
func Reachable(p *model.Problem, box Box, limit int64, mt *meter.Meter) *ReachableCosts {
	var t Terms
	for b, bin := range p.Bins {
		lo := box.Lo[b]
		if t.Base >= limit || lo > 0 && bin.Cost > (limit-1-t.Base)/lo {
			t.Base = limit // no plan in the box costs less
			break
		}
		t.Base += lo * bin.Cost
		if n := box.Hi[b] - lo; n > 0 && bin.Cost > 0 {
			t.OneOf = append(t.OneOf, []Stretch{{0, bin.Cost, n}})
		}
	}
	return t.Reachable(limit, mt)
}

// Reachable computes the sums of the terms below the limit.
func (t *Terms) Reachable(limit int64, mt *meter.Meter) *ReachableCosts {
	x := &ReachableCosts{base: t.Base, unit: 1, limit: limit}
	if x.base >= limit {
		return x
	}
	common := int64(0)
	for _, v := range t.AnyOf {
		common = sumset.Divisor(common, v)
	}
	for _, l := range t.OneOf {
		for _, s := range l {
			common = sumset.Divisor(sumset.Divisor(common, s.From), s.Step)
		}
	}
	width := int64(1)
	if common > 0 {
		x.unit = common
		width = (limit-1-x.base)/common + 1
	}
	work := t.work(x.unit, width)
	if width > reachableBits || work > reachableWork {
		return x
	}
	mt.Spend(work/4 + 1)
	x.set = sumset.New(width)
	for _, v := range t.AnyOf {
		if v > 0 {
			multiples(x.set, v/x.unit, width, width)
		}
	}
	var sum, part sumset.Set
	for _, l := range t.OneOf {
		if len(l) == 1 && l[0].From == 0 {
			multiples(x.set, l[0].Step/x.unit, l[0].Count, width)
			continue
		}
		sum = append(sum[:0], x.set...)
		clear(sum)
		for _, s := range l {
			part = append(part[:0], x.set...)
			clear(part)
			if s.From/x.unit < width {
				part.Shift(x.set, s.From/x.unit)
			}
			multiples(part, s.Step/x.unit, s.Count, width)
			for k := range sum {
				sum[k] |= part[k]
			}
		}
		copy(x.set, sum)
	}
	return x
}

// work estimates the words of work for adding up the terms.
func (t *Terms) work(unit, width int64) int64 {
	words, work := (width+63)/64, int64(0)
	times := func(step, n int64) int64 {
		return words * int64(bits.Len64(uint64(min(n, width/max(step/unit, 1)))))
	}
	for _, v := range t.AnyOf {
		if v > 0 {
			work += times(v, width)
		}
	}
	for _, l := range t.OneOf {
		for _, s := range l {
			work += times(s.Step, s.Count)
		}
		if len(l) > 1 {
			work += int64(3*len(l)) * words
		}
	}
	return work
}

// multiples adds up to n times a step to each number of a set below width: up to 1, 3, 7...
// times, then the rest.
func multiples(set sumset.Set, step, n, width int64) {
	if step == 0 {
		return
	}
	n = min(n, width/step)
	for k := int64(1); n > 0; k *= 2 {
		k = min(k, n)
		n -= k
		set.Shift(set, k*step)
	}
}

// RoundUp returns the least member that is at least v, or the limit if there is none below the
// limit; a v at or above the limit is returned unchanged.
func (x *ReachableCosts) RoundUp(v int64) int64 {
	switch {
	case x == nil:
		return v
	case v >= x.limit || x.base >= x.limit:
		return max(v, x.limit)
	case v <= x.base:
		return x.base
	}
	k := (v - x.base - 1) / x.unit // of the greatest member below v
	if k >= (x.limit-1-x.base)/x.unit {
		return x.limit
	}
	k++
	if x.set == nil {
		return x.base + k*x.unit
	}
	if k = x.set.Next(k); k < 0 {
		return x.limit
	}
	return min(x.base+k*x.unit, x.limit)
}

// Cutoff returns one more than the greatest member below v, which is at most the limit, or
// Below if there is none: a bound at least this great shows that the box contains no plan below
// v.
func (x *ReachableCosts) Cutoff(v int64) int64 {
	if x == nil {
		return v
	}
	if v <= x.base {
		return Below
	}
	last := (v - 1 - x.base) / x.unit
	if x.set == nil {
		return x.base + last*x.unit + 1
	}
	// Every set contains zero.
	return x.base + x.set.Last(last)*x.unit + 1
}
