package branchprice

import (
	"context"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/plain"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
	"example.com/longpoint/internal/solver/solvertest"
	"example.com/longpoint/internal/trimjob"
)

// On plain problems this package and package plain agree. They share the simplex method only.
func TestAgreesWithTheEngineForPlainProblems(t *testing.T) {
	for seed := range uint64(12) {
		q := solvertest.Job(t, trimjob.Room, seed)
		e, _ := plain.Run(context.Background(), q, new(meter.Meter), nil, search.Options{})
		b := Solve(context.Background(), rules.Of(q), search.Options{})
		if e.Stop != search.Proven || b.Stop != search.Proven || e.Cost != b.Cost {
			t.Errorf("room %d: engine %d (stop %d), here %d (stop %d)", seed, e.Cost, e.Stop, b.Cost, b.Stop)
		}
	}
}

// Both engines on plain jobs of house size: comparing their ns/op shows the cost of generality.
func BenchmarkPlainHouses(b *testing.B) {
	var jobs []*model.Problem
	for seed := range uint64(8) {
		jobs = append(jobs, solvertest.Job(b, trimjob.House, seed))
	}
	b.Run("engine", func(b *testing.B) {
		proven := 0
		for range b.N {
			proven = 0
			for _, q := range jobs {
				o := search.Options{Work: 1_000_000_000}
				if r, _ := plain.Run(context.Background(), q, meter.New(context.Background(), o.Work), nil, o); r.Stop == search.Proven {
					proven++
				}
			}
		}
		b.ReportMetric(float64(proven), "proven")
	})
	b.Run("branchprice", func(b *testing.B) {
		proven := 0
		for range b.N {
			proven = 0
			for _, q := range jobs {
				if r := Solve(context.Background(), rules.Of(q), search.Options{Work: 1_000_000_000}); r.Stop == search.Proven {
					proven++
				}
			}
		}
		b.ReportMetric(float64(proven), "proven")
	})
}
