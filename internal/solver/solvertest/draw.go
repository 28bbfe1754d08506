package solvertest

import (
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/trimjob"
)

// Shape is the size of a problem to draw: ranges for its items, and limits.
type Shape struct {
	Largest, Step  [2]int64 // size of the first item, and the decrease to the next: from, up to
	Items          int
	Copies, Pieces int64 // of one item, and of all before the items end; 0: no limit
	Bins           int
	Cap, Cost      [2]int64
	Scarce, Of     int   // on average, Scarce of Of bins have a limit
	Limit          int64 // the limit is below this
}

// Draw draws a problem.
func (s *Shape) Draw(r *rand.Rand) *model.Problem {
	p := &model.Problem{}
	in := func(from [2]int64) int64 { return from[0] + r.Int64N(from[1]-from[0]+1) }
	for size := in(s.Largest); size > 0 && len(p.Items) < s.Items && (s.Pieces == 0 || p.Pieces() < s.Pieces); size -= in(s.Step) {
		p.Items = append(p.Items, model.Item{Size: size, Demand: 1 + r.Int64N(s.Copies)})
	}
	for range 1 + r.IntN(s.Bins) {
		b := model.Bin{Cap: in(s.Cap), Cost: in(s.Cost), Limit: p.Pieces()}
		if r.IntN(s.Of) < s.Scarce {
			b.Limit = r.Int64N(s.Limit)
		}
		p.Bins = append(p.Bins, b)
	}
	return p
}

// Part draws a box within the full one; some bins must be used.
func Part(r *rand.Rand, p *model.Problem) bound.Box {
	box := bound.Full(p)
	for b := range box.Hi {
		switch r.IntN(3) {
		case 0:
			box.Hi[b] = r.Int64N(box.Hi[b] + 1)
		case 1:
			box.Lo[b] = r.Int64N(min(box.Hi[b], 3) + 1)
		}
	}
	return box
}

// Job returns a made-up job as a problem in integers, with kerf folded in.
func Job(t testing.TB, class string, seed uint64) *model.Problem {
	t.Helper()
	j, err := trimjob.Generate(class, seed, "test")
	if err != nil {
		t.Fatal(err)
	}
	p := &model.Problem{}
	for _, w := range j.Pieces {
		p.Items = append(p.Items, model.Item{Size: w.Length + j.Kerf, Demand: w.Demand})
	}
	for _, list := range [][]trimjob.Source{j.Stock, j.Offcuts} {
		for _, s := range list {
			b := model.Bin{Cap: s.Length + j.Kerf, Cost: s.Price, Limit: s.Supply}
			if s.Supply == trimjob.Unlimited {
				b.Limit = j.Count()
			}
			p.Bins = append(p.Bins, b)
		}
	}
	return p
}

// Packing returns pieces as a problem of one bin.
func Packing(sizes []int64, cap int64) *model.Problem {
	count := map[int64]int64{}
	top := int64(0)
	for _, s := range sizes {
		count[s]++
		top = max(top, s)
	}
	p := &model.Problem{Bins: []model.Bin{{Cap: cap, Cost: 1, Limit: 1 << 20}}}
	for s := top; s > 0; s-- {
		if count[s] > 0 {
			p.Items = append(p.Items, model.Item{Size: s, Demand: count[s]})
		}
	}
	return p
}

// Small draws a problem small enough to enumerate every plan; some have none.
func Small(rng *rand.Rand, pieces int) *model.Problem {
	var p model.Problem
	top := 4 + rng.Int64N(60)
	seen := map[int64]bool{}
	for left := pieces; left > 0; {
		s := 1 + rng.Int64N(top)
		if seen[s] {
			break
		}
		seen[s] = true
		n := 1 + rng.IntN(min(left, 3))
		p.Items = append(p.Items, model.Item{Size: s, Demand: int64(n)})
		left -= n
	}
	for i := range p.Items { // decreasing sizes
		for j := i + 1; j < len(p.Items); j++ {
			if p.Items[j].Size > p.Items[i].Size {
				p.Items[i], p.Items[j] = p.Items[j], p.Items[i]
			}
		}
	}
	type key [2]int64
	bins := map[key]bool{}
	for range 1 + rng.IntN(3) {
		b := model.Bin{Cap: 1 + rng.Int64N(2*top), Cost: rng.Int64N(12), Limit: p.Pieces()}
		if rng.IntN(3) == 0 {
			b.Cost = b.Cap
		}
		if rng.IntN(3) == 0 {
			b.Limit = min(p.Pieces(), rng.Int64N(3))
		}
		if k := (key{b.Cap, b.Cost}); !bins[k] {
			bins[k] = true
			p.Bins = append(p.Bins, b)
		}
	}
	return &p
}
