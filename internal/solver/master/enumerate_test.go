package master_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/solvertest"
)

// A list contains each maximal pattern that every one of the duals accepts, once: compared with all
// patterns.
func TestEnumerateAgainstEveryPattern(t *testing.T) {
	r := rand.New(rand.NewPCG(40, 4))
	listed, left, closed := 0, 0, 0
	for k := range 400 {
		p := small(r)
		m := master.New(p)
		m.ToOptimality = true
		var by []master.Duals
		for n := range 1 + r.IntN(3) {
			if n > 0 {
				demand := make([]float64, len(p.Items))
				for i := range demand {
					demand[i] = r.Float64()
				}
				m.Perturb(demand)
			}
			if m.Solve(noCutoff, new(meter.Meter)) == master.Converged {
				by = append(by, m.Duals.Clone())
			}
		}
		least, ok := solvertest.LeastOfAll(p)
		if !ok || len(by) == 0 {
			continue
		}
		box := bound.Full(p)
		cutoff := least + r.Int64N(3)
		effort := master.Effort{Columns: 1_000_000, Visits: 20_000_000}
		if r.IntN(2) == 0 {
			effort = master.Effort{Columns: 1_000_000, Tries: 1 + r.IntN(3), Each: 100}
		}
		list, ok := m.Enumerate(box, by, cutoff, &effort, new(meter.Meter))
		if !ok {
			t.Fatalf("problem %d: gave up\n%+v", k, p)
		}
		if list.Alone != nil {
			if closed++; cutoff > least {
				t.Fatalf("problem %d: no plan below %d found, but there is one of %d\n%+v", k, cutoff, least, p)
			}
			continue
		}
		filters := list.Filters
		if len(filters) != len(by) {
			t.Fatalf("problem %d: %d filters by %d duals", k, len(filters), len(by))
		}
		want := map[string]bool{}
		for b := range p.Bins {
			for _, pat := range solvertest.Patterns(p, b, p.Demands()) {
				in := solvertest.Maximal(p, pat) && box.Hi[b] > 0
				for i := range filters {
					in = in && filters[i].Accepts(m.P, &rules.Column{Fill: &pat})
				}
				if in {
					want[fmt.Sprint(pat)] = true
				} else {
					left++
				}
			}
		}
		for _, c := range list.Columns {
			key := fmt.Sprint(*c.Fill)
			if !want[key] {
				t.Fatalf("problem %d: %s is listed below %d\n%+v", k, key, cutoff, p)
			}
			delete(want, key)
			listed++
		}
		if len(want) > 0 {
			t.Fatalf("problem %d: %v are not listed below %d\n%+v", k, want, cutoff, p)
		}
	}
	if listed < 500 || left < 2000 || closed < 10 {
		t.Errorf("%d patterns listed, %d left out, %d boxes closed", listed, left, closed)
	}
}
