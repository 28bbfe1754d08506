// Package sumset stores sets of small numbers as bits, to compute the sums of some numbers.
package sumset

import "math/bits"

// Set has bit k for the number k. Numbers shifted beyond its length are dropped.
type Set []uint64

// New returns the set {0} with room for the numbers below n.
func New(n int64) Set {
	s := make(Set, (n+63)/64)
	s[0] = 1
	return s
}

// Shift adds to s the numbers of from, each increased by n; from may be s.
func (s Set) Shift(from Set, n int64) {
	words, rest := n/64, uint(n%64)
	for k := int64(len(s)) - 1; k >= words; k-- {
		v := from[k-words] << rest
		if rest > 0 && k > words {
			v |= from[k-words-1] >> (64 - rest)
		}
		s[k] |= v
	}
}

// Next returns the least number of the set that is at least k >= 0, or -1.
func (s Set) Next(k int64) int64 {
	for w := k / 64; w < int64(len(s)); w++ {
		word := s[w]
		if w == k/64 {
			word &^= 1<<uint(k%64) - 1
		}
		if word != 0 {
			return w*64 + int64(bits.TrailingZeros64(word))
		}
	}
	return -1
}

// Last returns the greatest number of the set that is at most k >= 0, or -1.
func (s Set) Last(k int64) int64 {
	for w := min(k/64, int64(len(s))-1); w >= 0; w-- {
		word := s[w]
		if w == k/64 && k%64 < 63 {
			word &= 1<<uint(k%64+1) - 1
		}
		if word != 0 {
			return w*64 + 63 - int64(bits.LeadingZeros64(word))
		}
	}
	return -1
}

// Divisor returns the greatest common divisor of a and b, both >= 0; if one is zero, it is the other.
func Divisor(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
