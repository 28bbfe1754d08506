package branchprice

import (
	"context"
	"testing"

	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/plain"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
	"example.com/longpoint/internal/solver/solvertest"
	"example.com/longpoint/internal/trimjob"
)

// fromModel states a plain problem in this package's terms.
func fromModel(q *model.Problem) *rules.Problem {
	p := &rules.Problem{Kinds: []rules.PatternRules{{}}}
	for _, it := range q.Items {
		p.Items = append(p.Items, rules.Item{Demand: it.Demand, Most: it.Demand, Pieces: 1, Orientations: []rules.Orientation{{Size: it.Size, Left: rules.Square, Right: rules.Square}}})
	}
	for b, bin := range q.Bins {
		p.Bins = append(p.Bins, rules.Bin{Cap: bin.Cap})
		p.Classes = append(p.Classes, rules.StockClass{Bins: []int{b}, Limit: bin.Limit, Tiers: []rules.Tier{{From: 1, Price: bin.Cost}}, Bundle: 1, Minimum: 1})
	}
	return p
}

// On plain problems this package and package plain, which share the simplex method
// only, agree.
func TestAgreesWithTheEngineForPlainProblems(t *testing.T) {
	for seed := range uint64(12) {
		q := solvertest.Job(t, trimjob.Room, seed)
		e := plain.Solve(context.Background(), q, search.Options{})
		b := Solve(context.Background(), fromModel(q), search.Options{})
		if e.Stop != search.Proven || b.Stop != search.Proven || e.Cost != b.Cost {
			t.Errorf("room %d: engine %d (stop %d), here %d (stop %d)", seed, e.Cost, e.Stop, b.Cost, b.Stop)
		}
	}
}

// Both engines on plain jobs of house size: ns/op of the two tells what the
// generality costs.
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
				if plain.Solve(context.Background(), q, search.Options{Work: 1_000_000_000}).Stop == search.Proven {
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
				if r := Solve(context.Background(), fromModel(q), search.Options{Work: 1_000_000_000}); r.Stop == search.Proven {
					proven++
				}
			}
		}
		b.ReportMetric(float64(proven), "proven")
	})
}
