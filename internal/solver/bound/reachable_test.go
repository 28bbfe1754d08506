package bound_test

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/model"
)

// totals returns every sum that counts in the box add up to.
func totals(p *model.Problem, box bound.Box) map[int64]bool {
	all := map[int64]bool{0: true}
	for b, bin := range p.Bins {
		next := map[int64]bool{}
		for v := range all {
			for n := box.Lo[b]; n <= box.Hi[b]; n++ {
				next[v+n*bin.Cost] = true
			}
		}
		all = next
	}
	return all
}

func TestSumsAgainstEverySum(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 8))
	mt := meter.New(context.Background(), 0)
	gaps := 0
	for range 4000 {
		p := &model.Problem{}
		var box bound.Box
		factor := 1 + r.Int64N(3)
		for range 1 + r.IntN(4) {
			p.Bins = append(p.Bins, model.Bin{Cap: 1, Cost: factor * r.Int64N(60), Limit: 9})
			lo := r.Int64N(4)
			box.Lo, box.Hi = append(box.Lo, lo), append(box.Hi, lo+r.Int64N(5))
		}
		all := totals(p, box)
		limit := r.Int64N(700)
		s := bound.Reachable(p, box, limit, mt)
		cutoff := int64(bound.Below)
		for v := range all {
			if v < limit {
				cutoff = max(cutoff, v+1)
			}
		}
		if got := s.Cutoff(limit); got != cutoff {
			t.Fatalf("Cutoff below %d = %d, want %d; %v box %v", limit, got, cutoff, p.Bins, box)
		}
		for range 20 {
			v := r.Int64N(800) - 20
			want := max(v, limit)
			for x := range all {
				if x >= v && x < want {
					want = x
				}
			}
			if v >= limit {
				want = v
			}
			if got := s.RoundUp(v); got != want {
				t.Fatalf("Up(%d) below %d = %d, want %d; %v box %v", v, limit, got, want, p.Bins, box)
			}
			if want > v && want < limit {
				gaps++
			}
		}
	}
	if gaps < 10_000 {
		t.Errorf("only %d bounds were rounded up", gaps)
	}
}

// If there are too many sums to list, every multiple of the common divisor above the least counts as
// one, and nothing overflows.
func TestSumsBeyondTheList(t *testing.T) {
	mt := meter.New(context.Background(), 0)
	p := &model.Problem{Bins: []model.Bin{{Cost: 6 << 40, Limit: 1 << 17}, {Cost: 15, Limit: 1 << 17}, {Cost: 21, Limit: 1 << 17}}}
	box := bound.Box{Lo: []int64{1, 0, 0}, Hi: []int64{1, 1 << 17, 1 << 17}}
	s := bound.Reachable(p, box, 7<<40, mt)
	if got, want := s.RoundUp(6<<40+1), int64(6<<40+3); got != want {
		t.Errorf("Up = %d, want %d", got, want)
	}
	if got := s.RoundUp(0); got != 6<<40 {
		t.Errorf("Up(0) = %d", got)
	}
	if got, want := s.Cutoff(7<<40), int64(6<<40+(1<<40-1)/3*3+1); got != want {
		t.Errorf("Cutoff = %d, want %d", got, want)
	}
	box.Lo[0] = 1 << 17
	box.Hi[0] = 1 << 17
	p.Bins[0].Cost = 1 << 59
	s = bound.Reachable(p, box, math.MaxInt64/4, mt)
	if got := s.RoundUp(5); got != math.MaxInt64/4 || s.Cutoff(math.MaxInt64/4) != bound.Below {
		t.Errorf("a box beyond the limit: Up = %d, Cutoff = %d", got, s.Cutoff(math.MaxInt64/4))
	}
}
