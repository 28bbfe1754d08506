package bound

import (
	"math/bits"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/sumset"
)

// ReachableCosts is the costs below a limit that counts of bins in a box can add up to. A
// plan in the box costs one of them, so that a bound may be rounded up to the next.
type ReachableCosts struct {
	base, unit, limit int64
	set               sumset.Set // k: base + k*unit; nil: every k
}

const (
	// reachableBits and sumsWork bound what SumsOf keeps and does; beyond either it takes
	// every multiple of the common divisor for a sum.
	reachableBits = 1 << 21
	reachableWork = 1 << 22
)

// Reachable works out the sums of the box below limit.
func Reachable(p *model.Problem, box Box, limit int64, mt *meter.Meter) *ReachableCosts {
	s := &ReachableCosts{limit: limit, unit: 1}
	common := int64(0)
	for b, bin := range p.Bins {
		lo := box.Lo[b]
		if s.base >= limit || lo > 0 && bin.Cost > (limit-1-s.base)/lo {
			s.base = limit // no plan in the box costs less
			return s
		}
		s.base += lo * bin.Cost
		if box.Hi[b] > lo {
			common = sumset.Divisor(common, bin.Cost)
		}
	}
	if s.base >= limit {
		return s
	}
	width := int64(1)
	if common > 0 {
		s.unit = common
		width = (limit-1-s.base)/common + 1
	}
	words := (width + 63) / 64
	work := int64(0)
	for b, bin := range p.Bins {
		if n := box.Hi[b] - box.Lo[b]; n > 0 && bin.Cost > 0 {
			work += words * int64(bits.Len64(uint64(min(n, width/(bin.Cost/s.unit)))))
		}
	}
	if width > reachableBits || work > reachableWork {
		return s
	}
	mt.Spend(work/4 + 1)
	s.set = sumset.New(width)
	for b, bin := range p.Bins {
		left := box.Hi[b] - box.Lo[b]
		if left <= 0 || bin.Cost == 0 {
			continue
		}
		// Up to 1, 3, 7... more of the bin, then the rest.
		multiple := bin.Cost / s.unit
		left = min(left, width/multiple)
		for k := int64(1); left > 0; k *= 2 {
			k = min(k, left)
			left -= k
			s.set.Shift(s.set, k*multiple)
		}
	}
	return s
}

// RoundUp returns the least sum from v on, or the limit where there is none below; what
// is at the limit or above stays.
func (s *ReachableCosts) RoundUp(v int64) int64 {
	switch {
	case v >= s.limit || s.base >= s.limit:
		return max(v, s.limit)
	case v <= s.base:
		return s.base
	}
	k := (v - s.base - 1) / s.unit // of the last below v
	if k >= (s.limit-1-s.base)/s.unit {
		return s.limit
	}
	k++
	if s.set == nil {
		return s.base + k*s.unit
	}
	if k = s.set.Next(k); k < 0 {
		return s.limit
	}
	return min(s.base+k*s.unit, s.limit)
}

// Cutoff returns one more than the greatest sum below the limit, 0 where there is
// none: a bound of so much says that the box holds no plan below the limit.
func (s *ReachableCosts) Cutoff() int64 {
	if s.base >= s.limit {
		return 0
	}
	last := (s.limit - 1 - s.base) / s.unit
	if s.set == nil {
		return s.base + last*s.unit + 1
	}
	// Zero is in every set.
	return s.base + s.set.Last(last)*s.unit + 1
}
