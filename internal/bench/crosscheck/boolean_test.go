package crosscheck

import (
	"context"
	"errors"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/optimize"
	"github.com/crillab/gophersat/solver"
)

// pseudoBoolean returns the least cost of cutting the job, found by a pseudo-Boolean solver: one
// variable for each piece and stick says that the stick yields the piece, one for each stick that it is
// used.
func pseudoBoolean(j job) (cost int, feasible bool) {
	var lengths []int
	for _, q := range j.pieces {
		for range q.quantity {
			lengths = append(lengths, q.length)
		}
	}
	n := 0
	variable := func() int { n++; return n }
	var constraints []solver.PBConstr
	from := make([][]int, len(lengths)) // per piece: the variables of sticks it may come from
	costs := j.costs()
	var used, weights []int
	for b, k := range j.sticks {
		last := 0
		for s := range j.most(k) {
			y := variable()
			if costs[b] > 0 {
				used, weights = append(used, y), append(weights, costs[b])
			}
			if last > 0 {
				constraints = append(constraints, solver.PropClause(last, -y)) // in order
			}
			last = y
			// sum of (length+kerf) <= (usable+kerf)*y
			room := k.length - k.trim + j.kerf
			lits, w := []int{y}, []int{room}
			for i := s; i < len(lengths); i++ { // sticks of a kind by their first piece
				x := variable()
				from[i] = append(from[i], x)
				constraints = append(constraints, solver.PropClause(-x, y))
				if lengths[i]+j.kerf > room {
					constraints = append(constraints, solver.PropClause(-x))
					continue
				}
				lits, w = append(lits, -x), append(w, lengths[i]+j.kerf)
			}
			sum := 0
			for _, v := range w[1:] {
				sum += v
			}
			constraints = append(constraints, solver.GtEq(lits, w, sum))
		}
	}
	for _, f := range from {
		if len(f) == 0 {
			return 0, false
		}
		constraints = append(constraints, solver.PropClause(f...))
	}
	p := solver.ParsePBConstrs(constraints)
	lits := make([]solver.Lit, len(used))
	for i, v := range used {
		lits[i] = solver.IntToLit(int32(v))
	}
	if p.Status == solver.Unsat {
		return 0, false
	}
	p.SetCostFunc(lits, weights)
	cost = solver.New(p).Minimize()
	return cost, cost >= 0
}

// TestPseudoBoolean compares optima, and infeasibility, on small jobs with kerf, trims, several kinds
// of stick and limits.
func TestPseudoBoolean(t *testing.T) {
	n := 2500
	if testing.Short() {
		n = 200
	}
	r := rand.New(rand.NewPCG(5, 29))
	solved, none := 0, 0
	for c := range n {
		j := random(r, shape{lengths: 5, quantity: 4, pieces: 9, longest: 40, sticks: 3, span: 2})
		want, feasible := pseudoBoolean(j)
		p := j.problem()
		plan, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: 100_000_000})
		if !feasible {
			none++
			if !errors.As(err, new(*optimize.InfeasibleError)) {
				t.Fatalf("case %d: %+v has no plan; got %v, error %v", c, j, plan, err)
			}
			continue
		}
		solved++
		if err != nil {
			t.Fatalf("case %d: %+v costs %d; got %v", c, j, want, err)
		}
		if got := planCost(plan); got != want || !plan.Proven {
			t.Fatalf("case %d: %+v costs %d; got %d, proven %t", c, j, want, got, plan.Proven)
		}
		if err := optimize.Check(context.Background(), p, plan); err != nil {
			t.Fatalf("case %d: %+v: %v", c, j, err)
		}
	}
	t.Logf("%d solved, %d without a plan", solved, none)
	if solved < n/2 || none < n/20 {
		t.Errorf("%d solved, %d without a plan: the generator is too uniform", solved, none)
	}
}
