package master_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/solvertest"
)

// The parts removed from a box and the remaining box cover all of it, and no two have a count in
// common. Wherever a part is removed, the duals prove the cutoff, for every count alone and for the
// part as a whole; and no end of the remaining box could be removed as well.
func TestShrunkAgainstEveryCount(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 28))
	parts, whole := 0, 0
	for range 5000 {
		p := &model.Problem{}
		var box bound.Box
		s := master.Duals{Scale: 1 + r.Int64N(1000)}
		s.Weight[rules.Price] = s.Scale
		for range 1 + r.IntN(3) {
			p.Items = append(p.Items, model.Item{Size: 1, Demand: 1 + r.Int64N(9)})
			s.Item = append(s.Item, r.Int64N(20)*s.Scale/4)
		}
		for range 1 + r.IntN(3) {
			p.Bins = append(p.Bins, model.Bin{Cap: 1, Cost: 1 + r.Int64N(30), Limit: 6})
			s.Best = append(s.Best, r.Int64N(35)*s.Scale*3/4)
			lo := r.Int64N(4)
			box.Lo, box.Hi = append(box.Lo, lo), append(box.Hi, lo+r.Int64N(4))
		}
		least := func(b bound.Box) int64 {
			n := solvertest.Numerator(p, b, s.Item, s.Best, s.Scale)
			n.AddMul(s.Scale, 1<<40)
			return n.CeilDiv(s.Scale) - 1<<40
		}
		cutoff := least(box) + r.Int64N(40)
		left, off := master.NewFamilies(p).Fix(&s, box, cutoff)
		if parts += len(off); len(off) == 0 {
			whole++
		}
		holds := func(b bound.Box, n []int64) bool {
			for k := range n {
				if n[k] < b.Lo[k] || n[k] > b.Hi[k] {
					return false
				}
			}
			return true
		}
		for _, b := range off {
			if least(b) < cutoff {
				t.Fatalf("the part %v of %v shows %d, below %d", b, box, least(b), cutoff)
			}
		}
		n := slices.Clone(box.Lo)
		for more := true; more; {
			in := 0
			for _, b := range append(off[:len(off):len(off)], left) {
				if holds(b, n) {
					in++
				}
			}
			if in != 1 {
				t.Fatalf("%v is in %d parts of %v, cutoff %d", n, in, box, cutoff)
			}
			if at := (bound.Box{Lo: n, Hi: n}); !holds(left, n) && least(at) < cutoff {
				t.Fatalf("%v costs at least %d, below %d, but is excluded from %v", n, least(at), cutoff, box)
			}
			more = false
			for k := range n {
				if n[k]++; n[k] <= box.Hi[k] {
					more = true
					break
				}
				n[k] = box.Lo[k]
			}
		}
		if least(left) >= cutoff {
			continue // nothing had to be removed
		}
		for b := range p.Bins {
			for _, end := range [...]int64{left.Lo[b], left.Hi[b]} {
				at := left.Clone()
				at.Lo[b], at.Hi[b] = end, end
				if left.Lo[b] < left.Hi[b] && least(at) >= cutoff {
					t.Fatalf("%d uses of bin %d show %d, but remain in %v", end, b, least(at), left)
				}
			}
		}
	}
	if parts < 1000 || whole < 500 {
		t.Errorf("%d parts excluded, %d boxes unchanged", parts, whole)
	}
	t.Logf("%d parts excluded, %d boxes unchanged", parts, whole)
}
