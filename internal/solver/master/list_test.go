package master_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/solvertest"
)

// A list contains every pattern that all filters accept, once, maximal or not: compared with all patterns. A
// list by fewer filters, shortened by the others, is the same.
func TestListAgainstEveryPattern(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 4))
	listed, shortened, wide := 0, 0, 0
	for k := range 300 {
		p := small(r)
		least, ok := solvertest.LeastOfAll(p)
		if !ok {
			continue
		}
		m := master.NewOf(rules.Of(p), rules.Objective{Main: rules.Price})
		m.ToOptimality = true
		cutoff := least + 1 + r.Int64N(2)
		var filters []master.Filter
		for n := range 1 + r.IntN(3) {
			if n > 0 {
				demand := make([]float64, len(p.Items))
				for i := range demand {
					demand[i] = r.Float64()
				}
				m.Perturb(demand)
			}
			if m.Solve(noCutoff, new(meter.Meter)) != master.Converged {
				continue
			}
			d := m.Duals.Clone()
			if g, closed, ok := m.FilterOf(&d, m.Root, cutoff); ok && !closed {
				filters = append(filters, g)
			}
		}
		if len(filters) == 0 {
			continue
		}
		cols, ok := m.List(filters, 1_000_000, new(meter.Meter))
		if !ok {
			t.Fatalf("problem %d: gave up\n%+v", k, p)
		}
		have := map[string]int{}
		for _, c := range cols {
			have[fmt.Sprint(*c.Fill)]++
		}
		want := 0
		for b := range p.Bins {
			for _, pat := range solvertest.Patterns(p, b, p.Demands()) {
				fill := rules.Pattern{Bin: b, Uses: pat.Uses}
				if len(pat.Uses) == 0 || !accepted(m, filters, &fill) {
					continue
				}
				if want++; have[fmt.Sprint(fill)] != 1 {
					t.Fatalf("problem %d: %v is listed %d times\n%+v", k, fill, have[fmt.Sprint(fill)], p)
				}
			}
		}
		if len(cols) != want {
			t.Fatalf("problem %d: %d columns, want %d\n%+v", k, len(cols), want, p)
		}
		listed += want
		more, ok := m.List(filters[:1], 1_000_000, new(meter.Meter))
		if !ok {
			t.Fatalf("problem %d: gave up\n%+v", k, p)
		}
		left := 0
		for _, c := range more {
			if accepted(m, filters, c.Fill) {
				left++
			}
		}
		if left != want {
			t.Fatalf("problem %d: %d columns after shortening, want %d\n%+v", k, left, want, p)
		}
		shortened += len(more) - left
		if filters[0].Wide() {
			wide++
		}
	}
	if listed < 1000 || shortened == 0 || wide == 0 || wide > 200 {
		t.Errorf("%d columns, %d fewer by later filters, %d wide filters", listed, shortened, wide)
	}
}

func accepted(m *master.Master, filters []master.Filter, fill *rules.Pattern) bool {
	x, ok := m.P.Fill(fill)
	if !ok {
		return false
	}
	c := rules.Column{Fill: fill, Cost: m.P.Costs(fill, &x)}
	for i := range filters {
		if !filters[i].Accepts(m.P, &c) {
			return false
		}
	}
	return true
}

// A relaxation that begins with the basis of another reaches the same bound, in fewer pivots.
func TestStartWithBasis(t *testing.T) {
	r := rand.New(rand.NewPCG(42, 4))
	var scratch, started int64
	for k := range 200 {
		p := rules.Of(small(r))
		price := master.NewOf(p, rules.Objective{Main: rules.Price})
		if price.Solve(noCutoff, new(meter.Meter)) != master.Converged {
			continue
		}
		sticks := rules.Objective{Main: rules.Sticks}
		sticks.Capped[rules.Price], sticks.Limit[rules.Price] = true, price.Bound+r.Int64N(3)
		a, b := master.NewOf(p, sticks), master.NewOf(p, sticks)
		a.ToOptimality, b.ToOptimality = true, true
		var places []int
		for _, c := range price.Basics() {
			a.AddColumn(c)
			at, _ := b.AddColumn(c)
			places = append(places, at, at)
		}
		b.StartWith(places, nil)
		var of, with meter.Meter
		sa, sb := a.Solve(noCutoff, &of), b.Solve(noCutoff, &with)
		if sa != sb || sa == master.Converged && a.Bound != b.Bound {
			t.Fatalf("problem %d: status %d, bound %d, and %d, %d from a basis", k, sa, a.Bound, sb, b.Bound)
		}
		scratch, started = scratch+of.Tally().Pivots, started+with.Tally().Pivots
	}
	if scratch == 0 || started >= scratch {
		t.Errorf("%d pivots, %d from a basis", scratch, started)
	}
}
