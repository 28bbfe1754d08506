package packing_test

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/packing"
	"example.com/longpoint/internal/solver/solvertest"
)

// draw draws items that fill a number of bins nearly or not quite, unchanged or with one item changed.
func draw(r *rand.Rand) (*model.Problem, []int64, int) {
	cap := 8 + r.Int64N(60)
	n := 2 + r.IntN(3)
	var sizes []int64
	for range n {
		left := cap
		for left > 0 && len(sizes) < 11 {
			s := 1 + r.Int64N(min(left, cap*2/3))
			if r.IntN(3) == 0 || left-s < cap/8 {
				s = left
			}
			sizes = append(sizes, s)
			left -= s
		}
	}
	for range r.IntN(4) {
		// Moved from one to another, so that the total tells nothing; now and then a little is removed.
		a, b, d := r.IntN(len(sizes)), r.IntN(len(sizes)), 1+r.Int64N(3)
		if sizes[a] > d && sizes[b]+d <= cap {
			sizes[a] -= d
			if r.IntN(8) > 0 {
				sizes[b] += d
			}
		}
	}
	count := map[int64]int64{}
	for _, s := range sizes {
		count[s]++
	}
	p := &model.Problem{Bins: []model.Bin{{Cap: cap, Cost: 1, Limit: 99}}}
	for s := cap; s > 0; s-- {
		if count[s] > 0 {
			p.Items = append(p.Items, model.Item{Size: s, Demand: count[s]})
		}
	}
	var all []int64
	for _, it := range p.Items {
		for range it.Demand {
			all = append(all, it.Size)
		}
	}
	return p, all, n
}

// Found and None against brute force. With Open, the fixed patterns belong to a plan if there is one.
// Every returned plan is valid.
func TestAgainstEveryPacking(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 4))
	n := 20_000
	if testing.Short() {
		n = 3_000
	}
	var found, none, open, ruled, parts int
	for i := range n {
		p, sizes, bins := draw(r)
		s := packing.New(p, int64(bins))
		if s == nil {
			ruled++
			continue
		}
		var work int64
		if r.IntN(4) == 0 {
			work = 1 + r.Int64N(3000)
		}
		cols, verdict := s.Run(meter.New(context.Background(), work), func(cols []model.PatternCount) {
			left := p.Demands()
			for _, c := range cols {
				for _, u := range c.Uses {
					left[u.Item] -= u.N * c.Count
				}
			}
			if slices.Min(left) < 0 {
				t.Fatalf("case %d: near miss leaves %v", i, left)
			}
		}, func(cols []model.PatternCount) bool {
			parts++
			packed := int64(0)
			for _, c := range cols {
				packed += c.Count
			}
			if 3*packed < int64(bins) || packed >= int64(bins) {
				t.Fatalf("case %d: %d of %d bins reported as a part", i, packed, bins)
			}
			return r.IntN(4) == 0
		})
		fits := solvertest.Fits(sizes, p.Bins[0].Cap, int64(bins))
		made := make([]int64, len(p.Items))
		used := int64(0)
		for _, c := range cols {
			used += c.Count
			if p.Size(c.Uses) > p.Bins[0].Cap {
				t.Fatalf("case %d: pattern %v is too long", i, c)
			}
			for _, u := range c.Uses {
				made[u.Item] += u.N * c.Count
			}
		}
		switch verdict {
		case packing.Found:
			found++
			for k, it := range p.Items {
				if made[k] != it.Demand {
					t.Fatalf("case %d: %d of item %d, want %d", i, made[k], k, it.Demand)
				}
			}
			if used > int64(bins) || !fits {
				t.Fatalf("case %d: a plan of %d bins, allowed are %d, possible: %v", i, used, bins, fits)
			}
		case packing.None:
			none++
			if fits {
				t.Fatalf("case %d: reported as impossible, but %d bins hold %v of %d", i, bins, sizes, p.Bins[0].Cap)
			}
		default:
			open++
			// The fixed patterns leave a rest that fits if all did.
			var rest []int64
			for k, it := range p.Items {
				for range it.Demand - made[k] {
					rest = append(rest, it.Size)
				}
			}
			if fits && !solvertest.Fits(rest, p.Bins[0].Cap, int64(bins)-used) {
				t.Fatalf("case %d: settled patterns %v rule out every packing", i, cols)
			}
		}
	}
	t.Logf("%d found, %d impossible, %d open, %d not tried", found, none, open, ruled)
	if found < n/20 || none < n/20 || open < n/200 {
		t.Errorf("%d found, %d impossible, %d open: too few of one kind", found, none, open)
	}
	if parts == 0 {
		t.Error("no part of a plan was reported")
	}
}
