package dual

import (
	"math/bits"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/model"
)

// Sums is the costs below a limit that counts of bins in a box can add up to. A
// plan in the box costs one of them, so that a bound may be rounded up to the next.
type Sums struct {
	base, unit, limit int64
	set               []uint64 // bit k: base + k*unit; nil: every k
}

const (
	// sumsBits and sumsWork bound what SumsOf keeps and does; beyond either it takes
	// every multiple of the common divisor for a sum.
	sumsBits = 1 << 21
	sumsWork = 1 << 22
)

// SumsOf works out the sums of the box below limit.
func SumsOf(p *model.Problem, box Box, limit int64, mt *meter.Meter) *Sums {
	s := &Sums{limit: limit, unit: 1}
	common := int64(0)
	for b, bin := range p.Bins {
		lo := box.Lo[b]
		if s.base >= limit || lo > 0 && bin.Cost > (limit-1-s.base)/lo {
			s.base = limit // no plan in the box costs less
			return s
		}
		s.base += lo * bin.Cost
		if box.Hi[b] > lo {
			common = gcd(common, bin.Cost)
		}
	}
	if s.base >= limit {
		return s
	}
	room := int64(1)
	if common > 0 {
		s.unit = common
		room = (limit-1-s.base)/common + 1
	}
	words := (room + 63) / 64
	work := int64(0)
	for b, bin := range p.Bins {
		if n := box.Hi[b] - box.Lo[b]; n > 0 && bin.Cost > 0 {
			work += words * int64(bits.Len64(uint64(min(n, room/(bin.Cost/s.unit)))))
		}
	}
	if room > sumsBits || work > sumsWork {
		return s
	}
	mt.Spend(work/4 + 1)
	s.set = make([]uint64, words)
	s.set[0] = 1
	for b, bin := range p.Bins {
		left := box.Hi[b] - box.Lo[b]
		if left <= 0 || bin.Cost == 0 {
			continue
		}
		// Up to 1, 3, 7... more of the bin, then the rest.
		step := bin.Cost / s.unit
		left = min(left, room/step)
		for k := int64(1); left > 0; k *= 2 {
			k = min(k, left)
			left -= k
			raise(s.set, k*step)
		}
	}
	return s
}

// raise adds to the set what is n above its members.
func raise(set []uint64, n int64) {
	words, rest := int(n/64), uint(n%64)
	for k := len(set) - 1; k >= words; k-- {
		v := set[k-words] << rest
		if rest > 0 && k > words {
			v |= set[k-words-1] >> (64 - rest)
		}
		set[k] |= v
	}
}

// Up returns the least sum from v on, or the limit where there is none below; what
// is at the limit or above stays.
func (s *Sums) Up(v int64) int64 {
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
	for w := k / 64; w < int64(len(s.set)); w++ {
		word := s.set[w]
		if w == k/64 {
			word &^= 1<<uint(k%64) - 1
		}
		if word != 0 {
			return min(s.base+(w*64+int64(bits.TrailingZeros64(word)))*s.unit, s.limit)
		}
	}
	return s.limit
}

// Cutoff returns one more than the greatest sum below the limit, 0 where there is
// none: a bound of so much says that the box holds no plan below the limit.
func (s *Sums) Cutoff() int64 {
	if s.base >= s.limit {
		return 0
	}
	last := (s.limit - 1 - s.base) / s.unit
	if s.set == nil {
		return s.base + last*s.unit + 1
	}
	for w := int64(len(s.set)) - 1; w >= 0; w-- {
		word := s.set[w]
		if w == last/64 && last%64 < 63 {
			word &= 1<<uint(last%64+1) - 1
		}
		if word != 0 {
			return s.base + (w*64+63-int64(bits.LeadingZeros64(word)))*s.unit + 1
		}
	}
	return 0
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
