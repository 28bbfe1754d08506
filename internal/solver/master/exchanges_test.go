package master

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/lp"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/solvertest"
)

// Relaxations with exchanges cost no more than those without, and their bounds hold: no plan costs less. If
// no rule forbids an exchange, the patterns that exchanges result in cost the same without the exchanges as
// the relaxation with them. Afterwards the relaxation is as before.
func TestExchanges(t *testing.T) {
	r := rand.New(rand.NewPCG(12, 21))
	looked, used := 0, 0
	for i := range 1500 {
		p := solvertest.Tiny(r, solvertest.WithRuns)
		objective := rules.Objective{Main: rules.Price}
		mt := meter.New(context.Background(), 100_000_000)
		solved := func(exchanges bool) *Master {
			m := NewOf(p, objective)
			m.ToOptimality = true
			if exchanges {
				m.KeepExchanges()
			}
			m.Cheapest()
			if m.Solve(rules.NoCost, mt) != Converged {
				return nil
			}
			return m
		}
		plain, with := solved(false), solved(true)
		if plain == nil || with == nil {
			continue
		}
		looked++
		value := with.Value()
		if value > plain.Value()+1e-6 || with.Bound > plain.Bound {
			t.Fatalf("case %d: %v with exchanges, bound %d, %v without, bound %d\n%+v", i, value, with.Bound, plain.Value(), plain.Bound, p)
		}
		before := len(with.Columns)
		open := with.WithoutExchanges(mt)
		if len(with.Columns) > before {
			used++
		}
		for _, j := range with.exchanges.at {
			if v := with.LP.Value(int(j)); math.Abs(v) > 1e-6 {
				t.Fatalf("case %d: a closed exchange is used %v times", i, v)
			}
		}
		if v := with.Value(); with.LP.Solve(mt) == lp.Optimal && v < plain.Value()-1e-6 {
			t.Fatalf("case %d: %v without exchanges, %v is the least\n%+v", i, v, plain.Value(), p)
		}
		open()
		if v := with.Value(); math.Abs(v-value) > 1e-6 {
			t.Fatalf("case %d: %v with exchanges, %v again", i, value, v)
		}
	}
	if looked < 300 || used < 30 {
		t.Errorf("%d relaxations, %d with exchanges in use", looked, used)
	}
}
