package master

import (
	"context"
	"maps"
	"math"
	"math/rand"
	"slices"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/model"
)

// many returns a problem of n items, most wanted once, that fill two bins in many ways.
func many(rng *rand.Rand, n int) *model.Problem {
	p := &model.Problem{Bins: []model.Bin{{Cap: 5000, Cost: 51, Limit: int64(n)}, {Cap: 3600, Cost: 37, Limit: int64(n)}}}
	size := int64(3500)
	for range n {
		p.Items = append(p.Items, model.Item{Size: size, Demand: 1 + int64(rng.Intn(5)/4)})
		size -= 1 + rng.Int63n(3400/int64(n))
	}
	return p
}

// Exchange columns change the path to the relaxation, not its value, and its bounds are valid.
func TestInequalities(t *testing.T) {
	rng := rand.New(rand.NewSource(5))
	for range 30 {
		p := many(rng, 5+rng.Intn(60))
		plain, with := New(p), New(p)
		for i, it := range p.Items {
			for _, m := range []*Master{plain, with} {
				m.Add(0, []model.Use{{Item: i, N: min(it.Demand, p.Bins[0].Cap/it.Size)}})
			}
		}
		mt := meter.New(context.Background(), 0)
		plain.ToOptimality, with.ToOptimality = true, true
		if st := plain.Solve(math.MaxInt64, mt); st != Converged {
			t.Fatalf("without exchanges: status %d", st)
		}
		if st := with.SolveWithInequalities(math.MaxInt64, mt); st != Converged {
			t.Fatalf("with exchanges: status %d", st)
		}
		if with.Bound > plain.Bound {
			t.Errorf("bound %d with exchanges, %d without", with.Bound, plain.Bound)
		}
		if st := with.Solve(math.MaxInt64, mt); st != Converged {
			t.Fatalf("after exchanges: status %d", st)
		}
		if a, b := plain.Value(), with.Value(); math.Abs(a-b) > 1e-5*a {
			t.Errorf("relaxation %v without, %v after exchanges", a, b)
		}
	}
}

// If dual inequalities stay, the relaxation has the same cost, and its shares are patterns that meet
// the demand at that cost.
func TestShares(t *testing.T) {
	rng := rand.New(rand.NewSource(8))
	split := 0
	for range 30 {
		p := many(rng, 5+rng.Intn(60))
		for i := range p.Items {
			p.Items[i].Demand += int64(rng.Intn(20))
		}
		p.Bins[0].Limit = p.Pieces() / int64(3+rng.Intn(4))
		p.Bins[1].Limit = p.Pieces()
		plain, kept := New(p), New(p)
		kept.KeepInequalities()
		for _, m := range []*Master{plain, kept} {
			m.ToOptimality = true
			for i, it := range p.Items {
				m.Add(1, []model.Use{{Item: i, N: min(it.Demand, p.Bins[1].Cap/it.Size)}})
			}
			if st := m.Solve(math.MaxInt64, meter.New(context.Background(), 0)); st != Converged {
				t.Fatalf("status %d", st)
			}
		}
		if a, b := plain.Value(), kept.Value(); math.Abs(a-b) > 1e-5*a || kept.Bound > plain.Bound {
			t.Errorf("relaxation %v, bound %d; with exchanges %v, %d", a, plain.Bound, b, kept.Bound)
		}
		for _, m := range []*Master{plain, kept} {
			cost, got, used := 0.0, make([]float64, len(p.Items)), make([]float64, len(p.Bins))
			for _, s := range m.Shares(nil) {
				last, size := -1, int64(0)
				for _, u := range s.Uses {
					if u.Item <= last || u.N <= 0 {
						t.Fatalf("uses %v", s.Uses)
					}
					last, size = u.Item, size+u.N*p.Items[u.Item].Size
					got[u.Item] += s.X * float64(u.N)
				}
				if size > p.Bins[s.Bin].Cap {
					t.Fatalf("%v does not fit", s)
				}
				used[s.Bin] += s.X
				cost += s.X * float64(p.Bins[s.Bin].Cost)
			}
			if o := m.Value(); math.Abs(cost-o) > 1e-5*o {
				t.Errorf("shares cost %v, the relaxation %v", cost, o)
			}
			for i, it := range p.Items {
				if got[i] < float64(it.Demand)-1e-4 {
					t.Errorf("item %d: %v of %d", i, got[i], it.Demand)
				}
			}
			for b, bin := range p.Bins {
				if used[b] > float64(bin.Limit)+1e-4 {
					t.Errorf("bin %d: %v of %d", b, used[b], bin.Limit)
				}
			}
		}
		whole := make([]int64, len(kept.Columns))
		for j := range whole {
			whole[j] = int64(kept.LP.Value(kept.Col(j)))
		}
		for _, s := range kept.Shares(whole) {
			if _, fresh := kept.Add(s.Bin, s.Uses); fresh {
				split++
			}
			if s.X > 1.001*float64(len(kept.Columns)) {
				t.Errorf("share %v beyond the whole part", s)
			}
		}
	}
	if split == 0 {
		t.Error("no exchange was used")
	}
}

// BenchmarkInequalities solves the relaxation of a problem in which nothing may be wasted, of 240 items
// wanted once each, without and with dual inequalities.
func BenchmarkInequalities(b *testing.B) {
	const cap = 10_000
	rng := rand.New(rand.NewSource(3))
	sizes := map[int64]int64{}
	for range 80 {
		x := 2000 + rng.Int63n(4000)
		y := 1000 + rng.Int63n(cap-x-1500)
		for _, size := range []int64{x, y, cap - x - y} {
			sizes[size]++
		}
	}
	p := &model.Problem{Bins: []model.Bin{{Cap: cap, Cost: 1, Limit: 240}}}
	for _, size := range slices.Backward(slices.Sorted(maps.Keys(sizes))) {
		p.Items = append(p.Items, model.Item{Size: size, Demand: sizes[size]})
	}
	for _, with := range []bool{false, true} {
		b.Run(map[bool]string{false: "without", true: "with"}[with], func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				m := New(p)
				for i, it := range p.Items {
					m.Add(0, []model.Use{{Item: i, N: min(it.Demand, p.Bins[0].Cap/it.Size)}})
				}
				mt := meter.New(context.Background(), 0)
				if with {
					m.SolveWithInequalities(math.MaxInt64, mt)
				}
				if st := m.Solve(math.MaxInt64, mt); st != Converged {
					b.Fatalf("status %d", st)
				}
				b.ReportMetric(float64(mt.Tally().Pivots), "pivots")
				b.ReportMetric(float64(mt.Used()), "steps")
			}
		})
	}
}
