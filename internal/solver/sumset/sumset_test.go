package sumset_test

import (
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/solver/sumset"
)

// A set behaves like a list of bools.
func TestAgainstList(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1))
	for range 300 {
		n := 1 + r.Int64N(300)
		s := sumset.New(n)
		room := int64(len(s)) * 64
		in := make([]bool, room)
		in[0] = true
		for range r.IntN(6) {
			by := r.Int64N(room)
			s.Shift(s, by)
			for k := room - 1; k >= by; k-- {
				in[k] = in[k] || in[k-by]
			}
		}
		next, last := int64(-1), int64(-1)
		for k := room - 1; k >= 0; k-- {
			if in[k] {
				next = k
			}
			if got := s.Next(k); got != next {
				t.Fatalf("next from %d is %d, want %d", k, got, next)
			}
		}
		for k := range room {
			if in[k] {
				last = k
			}
			if got := s.Last(k); got != last {
				t.Fatalf("last up to %d is %d, want %d", k, got, last)
			}
		}
		if got := s.Next(room); got != -1 {
			t.Fatalf("next beyond all is %d", got)
		}
		if got := s.Last(room + 70); got != last {
			t.Fatalf("last up to far beyond is %d, want %d", got, last)
		}
	}
}

// The sums of one number, and of two in a separate set.
func TestShiftInto(t *testing.T) {
	from := sumset.New(200)
	from.Shift(from, 64) // 0 and 64
	to := make(sumset.Set, len(from))
	to.Shift(from, 5)
	for _, c := range []struct{ from, next int64 }{{0, 5}, {6, 69}, {70, -1}} {
		if got := to.Next(c.from); got != c.next {
			t.Errorf("next from %d is %d, want %d", c.from, got, c.next)
		}
	}
	for _, c := range []struct{ a, b, want int64 }{{0, 0, 0}, {0, 6, 6}, {6, 0, 6}, {12, 18, 6}, {7, 9, 1}} {
		if got := sumset.Divisor(c.a, c.b); got != c.want {
			t.Errorf("divisor of %d and %d is %d, want %d", c.a, c.b, got, c.want)
		}
	}
}
