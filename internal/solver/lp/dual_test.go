package lp_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/lp"
)

// change tightens or loosens the bounds of a row or a column, or adds a row of ones.
func change(r *rand.Rand, p *problem, x *lp.LP) string {
	switch what := r.IntN(6); what {
	case 0:
		if len(p.a) > 9 {
			return ""
		}
		lo, hi := randomRow(r)
		row := make([]int64, len(p.cost))
		var cols []int32
		for j := range row {
			if r.IntN(2) == 0 {
				row[j] = 1
				cols = append(cols, int32(j))
			}
		}
		p.a, p.rlo, p.rhi = append(p.a, row), append(p.rlo, lo), append(p.rhi, hi)
		x.AddRow(float(lo), float(hi), cols, nil)
		return "row"
	case 1, 2:
		i := r.IntN(len(p.a))
		p.rlo[i], p.rhi[i] = randomRow(r)
		x.SetRow(i, float(p.rlo[i]), float(p.rhi[i]))
		return "bounds of a row"
	case 3, 4:
		// Near the current values, as in a search: half of the variables can then go to both ends.
		j := r.IntN(len(p.cost))
		at := max(int64(x.Value(j)), -50)
		switch r.IntN(4) {
		case 0:
			p.lo[j], p.hi[j] = at+1, plusInf
		case 1:
			p.lo[j], p.hi[j] = at, at
		default:
			p.lo[j], p.hi[j] = min(0, at), at+r.Int64N(2)
		}
		x.SetColumn(j, float(p.lo[j]), float(p.hi[j]))
		return "bounds of a column"
	default:
		j := r.IntN(len(p.cost))
		p.lo[j], p.hi[j] = randomBounds(r, true)
		x.SetColumn(j, float(p.lo[j]), float(p.hi[j]))
		return "bounds of a column, any"
	}
}

// After changes of rows and bounds, the dual method either reports the optimum correctly or leaves a
// basis from which the primal method finds it; an exact method supplies the optimum, or that there is
// none.
func TestDualAgainstExact(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 7))
	done, left, none, moved := 0, 0, 0, int64(0)
	for run := range 1300 {
		p := random(r, 2+r.IntN(6), 3+r.IntN(8), run%3 == 0)
		if run%2 == 0 { // costs alike: the dual is degenerate
			for j := range p.cost {
				p.cost[j] = 1 + r.Int64N(2)
			}
		}
		x := build(p)
		if x.Solve(new(meter.Meter)) != lp.Optimal {
			continue
		}
		var log []string
		for range 6 {
			for range 1 + r.IntN(3) {
				log = append(log, change(r, p, x))
			}
			var m meter.Meter
			ok := x.Dually(&m)
			moved += m.Tally().Pivots
			if ok && !x.Inside() {
				t.Fatalf("run %d, after %v: values out of bounds\n%+v", run, log, *p)
			}
			pivots := m.Tally().Pivots
			st := x.Solve(&m)
			if err := judge(p, x, st); err != nil {
				t.Fatalf("run %d, after %v: %v\n%+v", run, log, err, *p)
			}
			switch {
			case ok && st == lp.Optimal && m.Tally().Pivots == pivots:
				done++
			case st == lp.Optimal:
				left++
			default:
				none++
			}
			if st != lp.Optimal {
				break
			}
		}
	}
	if done < 700 || none < 100 || moved < 500 {
		t.Errorf("%d times to the optimum, %d almost, %d infeasible; %d pivots: too few", done, left, none, moved)
	}
	if left > done/4 {
		t.Errorf("the primal method had to finish %d of %d times", left, left+done)
	}
}

// Slack rows can be dropped: values stay, the right rows remain, and later solves end as if the dropped
// rows had never existed.
func TestDrop(t *testing.T) {
	r := rand.New(rand.NewPCG(42, 7))
	dropped, kept, solved := 0, 0, 0
	for run := range 1600 {
		p := random(r, 3+r.IntN(7), 3+r.IntN(8), run%3 == 0)
		x := build(p)
		x.Warm = run%2 == 0
		if x.Solve(new(meter.Meter)) != lp.Optimal {
			continue
		}
		var before []float64
		for j := range p.cost {
			before = append(before, x.Value(j))
		}
		from := r.IntN(len(p.a))
		stays := x.Drop(from)
		if len(stays) != len(p.a)-from {
			t.Fatalf("run %d: reported %d rows, want %d", run, len(stays), len(p.a)-from)
		}
		a, rlo, rhi := p.a[:from:from], p.rlo[:from:from], p.rhi[:from:from]
		for k, stay := range stays {
			if stay {
				a, rlo, rhi = append(a, p.a[from+k]), append(rlo, p.rlo[from+k]), append(rhi, p.rhi[from+k])
				kept++
			} else {
				dropped++
			}
		}
		p.a, p.rlo, p.rhi = a, rlo, rhi
		if x.Rows() != len(p.a) {
			t.Fatalf("run %d: %d rows left, want %d", run, x.Rows(), len(p.a))
		}
		for j, v := range before {
			if x.Value(j) != v {
				t.Fatalf("run %d: column %d went from %v to %v", run, j, v, x.Value(j))
			}
		}
		var m meter.Meter
		if st := x.Solve(&m); st != lp.Optimal || m.Tally().Pivots != 0 {
			t.Fatalf("run %d: %v after %d pivots, want optimal as it is", run, st, m.Tally().Pivots)
		}
		if len(p.a) == 0 {
			continue
		}
		for range 3 {
			change(r, p, x)
			st := x.Solve(new(meter.Meter))
			if err := judge(p, x, st); err != nil {
				t.Fatalf("run %d: %v\n%+v", run, err, *p)
			}
			solved++
			if st != lp.Optimal {
				break
			}
		}
	}
	if dropped < 300 || kept < 100 || solved < 500 {
		t.Errorf("%d rows dropped, %d kept, %d solves after: too few", dropped, kept, solved)
	}
}

// master is a master problem of n items with random patterns; now and then the items demand more than
// the bins allow.
func master(r *rand.Rand, items, bins, cols int) *problem {
	p := &problem{}
	for range items {
		p.a = append(p.a, make([]int64, cols))
		p.rlo, p.rhi = append(p.rlo, 1+r.Int64N(9)), append(p.rhi, plusInf)
	}
	for range bins {
		p.a = append(p.a, make([]int64, cols))
		p.rlo, p.rhi = append(p.rlo, minusInf), append(p.rhi, plusInf)
	}
	for j := range cols {
		b := r.IntN(bins)
		p.cost = append(p.cost, 3+2*int64(b))
		p.lo, p.hi = append(p.lo, 0), append(p.hi, plusInf)
		p.a[items+b][j] = 1
		p.a[j%items][j] = 1 + r.Int64N(3)
		for range r.IntN(4) {
			p.a[r.IntN(items)][j] = 1 + r.Int64N(3)
		}
	}
	return p
}

// Boxes of a tree: the counts of bins are split repeatedly, from the basis of the enclosing box. Solve
// begins with the dual method there, ends where the primal method alone does, and takes fewer pivots.
func TestBoxesFromTheBasisAround(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 8))
	warm, cold, began := int64(0), int64(0), 0
	for run := range 40 {
		const bins = 5
		items := 12 + r.IntN(30)
		p := master(r, items, bins, 4*items)
		x, y := build(p), build(p)
		x.Warm = true
		var basis lp.Basis
		for split := 0; split < 12; split++ {
			var mx, my meter.Meter
			if split > 0 && x.Few() {
				began++
			}
			sx, sy := x.Solve(&mx), y.Solve(&my)
			if split > 0 {
				warm, cold = warm+mx.Tally().Pivots, cold+my.Tally().Pivots
			}
			if sx != sy {
				t.Fatalf("run %d, split %d: status %d, by the primal method %d", run, split, sx, sy)
			}
			if sx != lp.Optimal {
				break
			}
			if a, b := x.Objective(), y.Objective(); a > b+1e-7 || b > a+1e-7 {
				t.Fatalf("run %d, split %d: objective %g, by the primal method %g", run, split, a, b)
			}
			if _, slip := lagrangian(p, x, p.cost); slip > 1e-7 {
				t.Fatalf("run %d, split %d: duals are off by %g", run, split, slip)
			}
			x.Save(&basis)
			// Off the use of a bin, down or up.
			b := items + r.IntN(bins)
			used := 0.0
			for j := range p.cost {
				used += float64(p.a[b][j]) * x.Value(j)
			}
			if down := int64(used); r.IntN(2) == 0 {
				p.rlo[b], p.rhi[b] = 0, down
			} else {
				p.rlo[b], p.rhi[b] = down+1, plusInf
			}
			x.SetRow(b, float(p.rlo[b]), float(p.rhi[b]))
			y.SetRow(b, float(p.rlo[b]), float(p.rhi[b]))
			x.Restore(&basis)
		}
	}
	if began < 200 {
		t.Errorf("the dual method began %d times", began)
	}
	if 10*warm > 9*cold {
		t.Errorf("%d pivots, %d without the dual method", warm, cold)
	}
}

// A meter may run out anywhere, and leaves a valid basis.
func TestDualStops(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 9))
	stops := 0
	for run := range 60 {
		p := master(r, 10, 3, 40)
		x := build(p)
		if x.Solve(new(meter.Meter)) != lp.Optimal {
			continue
		}
		for b := 10; b < 13; b++ {
			p.rlo[b] = r.Int64N(9)
			x.SetRow(b, float(p.rlo[b]), float(p.rhi[b]))
		}
		if !x.Dually(new(meter.Meter).Sub(1 + r.Int64N(2000))) {
			stops++
		}
		if err := judge(p, x, x.Solve(new(meter.Meter))); err != nil {
			t.Fatal(fmt.Errorf("run %d: %w", run, err))
		}
	}
	if stops < 10 {
		t.Errorf("stopped %d times", stops)
	}
}
