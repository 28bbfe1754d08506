package colgen

import (
	"context"
	"maps"
	"math"
	"math/rand"
	"slices"
	"testing"

	"example.com/longpoint/internal/construct"
	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/model"
)

// many returns a problem of n items, most wanted once, that fill two bins in many
// ways.
func many(rng *rand.Rand, n int) *model.Problem {
	p := &model.Problem{Bins: []model.Bin{{Cap: 5000, Cost: 51, Limit: int64(n)}, {Cap: 3600, Cost: 37, Limit: int64(n)}}}
	size := int64(3500)
	for range n {
		p.Items = append(p.Items, model.Item{Size: size, Demand: 1 + int64(rng.Intn(5)/4)})
		size -= 1 + rng.Int63n(3400/int64(n))
	}
	return p
}

// Exchanges change the way to the relaxation, not the relaxation, and its bounds hold.
func TestExchange(t *testing.T) {
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
		plain.Fully, with.Fully = true, true
		if st := plain.Solve(math.MaxInt64, mt); st != Converged {
			t.Fatalf("without exchanges: status %d", st)
		}
		if st := with.Exchange(math.MaxInt64, mt); st != Converged {
			t.Fatalf("with exchanges: status %d", st)
		}
		if with.Bound > plain.Bound {
			t.Errorf("bound %d with exchanges, %d without", with.Bound, plain.Bound)
		}
		if st := with.Solve(math.MaxInt64, mt); st != Converged {
			t.Fatalf("after exchanges: status %d", st)
		}
		if a, b := plain.Objective(), with.Objective(); math.Abs(a-b) > 1e-5*a {
			t.Errorf("relaxation %v without, %v after exchanges", a, b)
		}
	}
}

// BenchmarkExchange solves the relaxation of a problem in which nothing may be
// wasted, of 240 items wanted once each, without and with exchanges.
func BenchmarkExchange(b *testing.B) {
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
				construct.Plans(p, meter.New(context.Background(), 0), func(cols []model.Column) {
					for _, c := range cols {
						m.Add(c.Bin, c.Uses)
					}
				})
				mt := meter.New(context.Background(), 0)
				if with {
					m.Exchange(math.MaxInt64, mt)
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
