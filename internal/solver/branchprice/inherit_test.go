package branchprice

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/solvertest"
)

// The residual problem, after some columns of a relaxation are fixed, starts with columns and a basis
// of that relaxation: each column is valid for the residual problem, and the relaxation has the same
// value as without them.
func TestInheritedColumnsAreOfWhatIsLeft(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 14))
	looked, inherited := 0, 0
	for i := range 1500 {
		one, two := solvertest.Feature(1)<<r.IntN(10), solvertest.Feature(1)<<r.IntN(10)
		p := solvertest.Tiny(r, one|two)
		x := &solver{p: p, mt: meter.New(context.Background(), 400_000_000), objective: rules.Objective{Main: rules.Price}, cost: rules.NoCost}
		x.m = master.NewOf(p, x.objective)
		x.addInitialColumns()
		if x.m.Solve(rules.NoCost, x.mt) != master.Converged {
			continue
		}
		var fixed []rules.ColumnCount
		gone := map[int]bool{}
		for j := range x.m.Columns {
			c := &x.m.Columns[j]
			if v := x.m.LP.Value(x.m.Col(j)); v > 0.4 && !gone[c.Run] && r.IntN(2) == 0 {
				if c.Fill == nil {
					gone[c.Run] = true
				}
				fixed = append(fixed, rules.ColumnCount{Column: c, N: 1})
			}
		}
		q := p.Residual(fixed)
		if q == nil || len(fixed) == 0 {
			continue
		}
		solved := func(with bool) (master.Status, float64, *master.Master) {
			s := &solver{p: q, objective: x.residualObjective(fixed), mt: x.mt, cost: rules.NoCost}
			s.m = master.NewOf(q, s.objective)
			s.m.ToOptimality = true
			s.addInitialColumns()
			if with {
				s.inherit(x.m, fixed)
			}
			st := s.m.Solve(rules.NoCost, x.mt)
			return st, s.m.Value(), s.m
		}
		st, v, _ := solved(false)
		got, w, m := solved(true)
		if got != st || st == master.Converged && math.Abs(v-w) > 1e-5 {
			t.Fatalf("case %d: %v, %v with initial columns, %v, %v without\n%+v\nof %+v", i, got, w, st, v, q, p)
		}
		for _, c := range m.Columns {
			if c.Fill == nil {
				if c.Run >= len(q.Runs) || len(c.Path) == 0 {
					t.Fatalf("case %d: a way along run %d of %d", i, c.Run, len(q.Runs))
				}
				at := 0
				for _, a := range c.Path {
					if q.Runs[c.Run].Arcs[a].From != at {
						t.Fatalf("case %d: way %v does not go along its run", i, c.Path)
					}
					at = q.Runs[c.Run].Arcs[a].To
				}
				if at != q.Runs[c.Run].Nodes-1 {
					t.Fatalf("case %d: way %v ends at node %d of its run", i, c.Path, at)
				}
				continue
			}
			if f, ok := q.Fill(c.Fill); !ok || q.Costs(c.Fill, &f) != c.Cost {
				t.Fatalf("case %d: %+v is not a pattern of the residual problem", i, *c.Fill)
			}
		}
		looked++
		if len(m.Columns) > 0 {
			inherited++
		}
	}
	if looked < 300 || inherited < looked/2 {
		t.Errorf("%d of %d relaxations had initial columns", inherited, looked)
	}
	t.Logf("%d relaxations", looked)
}
