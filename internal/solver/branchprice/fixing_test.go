package branchprice

import (
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/solver/solvertest"
)

// A box that was reduced and the parts that were removed cover the whole box, and no two of them have a count
// in common. No removed part contains a plan below the cutoff: not even the best plan, if it is below.
func TestShrinkTakesOffOnlyWhatHoldsNothing(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 8))
	shrunk, holding := 0, 0
	for i := range 2500 {
		p := solvertest.Tiny(r, solvertest.WithBuying|solvertest.Feature(1)<<r.IntN(10))
		y, best, ok := solvedAnew(p)
		if !ok {
			continue
		}
		want := y.cost
		cutoff := want + r.Int64N(8) - 2
		whole := y.m.Root
		in, off := y.m.Fix(&y.m.Duals, whole, cutoff)
		if len(off) == 0 {
			continue
		}
		shrunk++
		inside := func(lo, hi, n []int64) bool {
			for c := range n {
				if n[c] < lo[c] || n[c] > hi[c] {
					return false
				}
			}
			return true
		}
		if want < cutoff {
			holding++
			if !inside(in.Lo, in.Hi, best) {
				t.Fatalf("case %d: %v, the counts of the best plan, which costs %d, are not in %v to %v, cutoff %d\n%+v", i, best, want, in.Lo, in.Hi, cutoff, p)
			}
		}
		n := make([]int64, len(best))
		for range 100 {
			for c := range n {
				n[c] = whole.Lo[c] + r.Int64N(whole.Hi[c]-whole.Lo[c]+1)
			}
			parts := 0
			if inside(in.Lo, in.Hi, n) {
				parts++
			}
			for _, l := range off {
				if inside(l.Lo, l.Hi, n) {
					parts++
				}
			}
			if parts != 1 {
				t.Fatalf("case %d: %v is in %d parts of %v to %v", i, n, parts, whole.Lo, whole.Hi)
			}
		}
	}
	if shrunk < 200 || holding < 50 {
		t.Errorf("%d boxes shrunk, %d of them with the best plan", shrunk, holding)
	}
	t.Logf("%d boxes shrunk, %d of them with the best plan", shrunk, holding)
}
