package packing

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/solvertest"
)

// drawn returns pieces of which triples nearly or exactly fill bins.
func drawn(r *rand.Rand) (sizes []int64, cap, bins int64) {
	cap = 12 + r.Int64N(80)
	bins = 2 + r.Int64N(3)
	for range bins {
		a := 1 + r.Int64N(cap*3/4)
		b := 1 + r.Int64N(cap-a)
		sizes = append(sizes, a, b)
		if c := cap - a - b; c > 0 {
			sizes = append(sizes, c)
		}
	}
	for range r.IntN(4) {
		a, b := r.IntN(len(sizes)), r.IntN(len(sizes))
		switch d := 1 + r.Int64N(4); {
		case r.IntN(3) == 0 && sizes[a] > d && len(sizes) < 12:
			sizes[a] -= d // a piece is cut in two
			sizes = append(sizes, d)
		case sizes[a] > d && sizes[b]+d <= cap:
			sizes[a] -= d
			if r.IntN(6) > 0 {
				sizes[b] += d
			}
		}
	}
	return sizes, cap, bins
}

// Numbers of sub-multisets by sum, with some pieces taken out, against counting them.
func TestCountsAgainstEverySubset(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		cap, slack := 1+r.Int64N(40), r.Int64N(6)
		c := newCounts(cap, slack)
		var sizes []int64
		for range r.IntN(9) {
			s := 1 + r.Int64N(cap)
			c.add(s)
			sizes = append(sizes, s)
		}
		if len(sizes) > 0 && r.IntN(3) == 0 {
			k := r.IntN(len(sizes))
			c.remove(sizes[k])
			sizes = slices.Delete(sizes, k, k+1)
		}
		r.Shuffle(len(sizes), func(i, j int) { sizes[i], sizes[j] = sizes[j], sizes[i] })
		out := r.IntN(min(len(sizes), 4) + 1)
		v := r.Int64N(cap + 1)
		want := uint64(0)
		for set := range 1 << (len(sizes) - out) {
			sum := int64(0)
			for k, s := range sizes[out:] {
				if set>>k&1 == 1 {
					sum += s
				}
			}
			if sum <= v && sum >= v-slack {
				want++
			}
		}
		if got := c.without(v, sizes[:out]...); got != want {
			t.Fatalf("%v without %d of them, sum %d less %d: %d, want %d", sizes, out, v, slack, got, want)
		}
	}
}

// Peeling leaves a rest that fits exactly if all did, and a verdict is right, however small the
// exhaustive search at the end is.
func TestPeelAgainstEveryPacking(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 9))
	n := 12_000
	if testing.Short() {
		n = 2_000
	}
	var found, none, open, peeled, probed int
	for i := range n {
		sizes, cap, bins := drawn(r)
		p := solvertest.Packing(sizes, cap)
		s := NewPeeler(p, bins)
		if s == nil {
			continue
		}
		s.state.few = r.Int64N(8)
		mt := meter.New(context.Background(), 0)
		verdict := s.Peel(mt)
		all := solvertest.Fits(sizes, cap, bins)
		if verdict == Open {
			var rest []int64
			for k, n := range s.state.left {
				for range n {
					rest = append(rest, s.state.size[k])
				}
			}
			peeled += len(s.state.done)
			if solvertest.Fits(rest, cap, s.state.bins) != all {
				t.Fatalf("case %d: %v of %d in %d bins: %v; after %v: %v", i, sizes, cap, bins, all, s.state.done, !all)
			}
			if verdict = s.Probe(mt); verdict == Found {
				probed++
			}
		}
		switch verdict {
		case Found:
			found++
			made := make([]int64, len(p.Items))
			used := int64(0)
			for _, c := range s.Columns() {
				used += c.Count
				if p.Size(c.Uses) > cap {
					t.Fatalf("case %d: pattern %v is too long", i, c)
				}
				for _, u := range c.Uses {
					made[u.Item] += u.N * c.Count
				}
			}
			if used > bins || !slices.Equal(made, p.Demands()) {
				t.Fatalf("case %d: %d bins of %d make %v of %v", i, used, bins, made, p.Demands())
			}
		case None:
			none++
			if all {
				t.Fatalf("case %d: reported as impossible, but %d bins hold %v of %d", i, bins, sizes, cap)
			}
		default:
			open++
		}
	}
	t.Logf("%d found, %d of them by pairs, %d impossible, %d open, %d bins peeled off those", found, probed, none, open, peeled)
	if found < n/10 || none < n/50 || open < n/50 || probed < n/200 || peeled < n/50 {
		t.Error("too few of one kind")
	}
}

// A refutation relies on sets of sums, not on numbers that could be a multiple of 2^64.
func TestPeelVerifies(t *testing.T) {
	// The bin of 5 can be filled by 3 and 2 as well as by 4 and 1.
	s := NewPeeler(solvertest.Packing([]int64{5, 4, 1, 3, 2, 5}, 10), 2)
	s.state.mt = meter.New(context.Background(), 0)
	s.state.done = [][]int64{{5, 4, 1}}
	if s.state.verified(s.p) {
		t.Error("a replaceable triple is reported as forced")
	}
	s.state.done = [][]int64{{5, 5}}
	if !s.state.verified(s.p) {
		t.Error("two pieces that fill a bin are not accepted")
	}
}

// Interrupted anywhere, peeling returns nothing false and can continue.
func TestPeelStopsAnywhere(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	for i := range 1000 {
		sizes, cap, bins := drawn(r)
		s := NewPeeler(solvertest.Packing(sizes, cap), bins)
		if s == nil {
			continue
		}
		s.state.few = r.Int64N(6)
		verdict := s.Peel(meter.New(context.Background(), 1+r.Int64N(2000)))
		for range 20 {
			if verdict == Open {
				verdict = s.Probe(meter.New(context.Background(), 1+r.Int64N(2000)))
			}
		}
		if all := solvertest.Fits(sizes, cap, bins); verdict == Found && !all || verdict == None && all {
			t.Fatalf("case %d: verdict %d, but a packing exists: %v", i, verdict, all)
		}
	}
}

// A few hundred pieces whose packing is hidden in triples are packed, with one of them cut in two.
func TestPeelHidden(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 5))
	const cap, bins = 60_000, 20
	found := 0
	for range 20 {
		var sizes []int64
		for range bins {
			a := cap/2 + r.Int64N(cap/3)
			b := 1 + r.Int64N(cap-a-1)
			sizes = append(sizes, a, b, cap-a-b)
		}
		k := r.IntN(len(sizes))
		if d := sizes[k] / 3; d > 0 {
			sizes[k] -= d
			sizes = append(sizes, d)
		}
		s := NewPeeler(solvertest.Packing(sizes, cap), bins)
		mt := meter.New(context.Background(), 200_000_000)
		if s.Peel(mt) == Found || s.Probe(mt) == Found {
			found++
		}
	}
	t.Logf("%d of 20 found", found)
	if found < 5 {
		t.Error("too few")
	}
}
