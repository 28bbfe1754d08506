package replan

import (
	"math/rand/v2"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// The longest stretch that can be used is the longest run of ticks that neither an end nor a
// defect takes.
func TestClearest(t *testing.T) {
	for seed := range uint64(2000) {
		r := rand.New(rand.NewPCG(seed, 6))
		n := 1 + r.IntN(20)
		s := stock.Stick{Length: measure.Length(n)}
		s.TrimStart = measure.Length(r.IntN(n))
		s.TrimEnd = measure.Length(r.IntN(n - int(s.TrimStart)))
		for range r.IntN(4) {
			from := r.IntN(n)
			s.Defects = append(s.Defects, stock.Defect{From: measure.Length(from), To: measure.Length(from + 1 + r.IntN(n-from))})
		}
		var longest, here measure.Length
		for x := range s.Length {
			here++
			if x < s.TrimStart || x >= s.Length-s.TrimEnd {
				here = 0
			}
			for _, d := range s.Defects {
				if d.From <= x && x < d.To {
					here = 0
				}
			}
			longest = max(longest, here)
		}
		if got := clearest(&s); got != longest {
			t.Fatalf("%+v: %d ticks, want %d", s, got, longest)
		}
	}
}
