package crosscheck

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
)

// simplex returns the value of the relaxation over all patterns: each stick's full patterns, in
// fractions. It is dense, so it returns false if there are too many.
func simplex(j job) (value float64, err error) {
	costs := j.costs()
	rows := len(j.pieces)
	var limited []int
	for b, k := range j.sticks {
		if k.limit > 0 {
			limited = append(limited, b)
		}
	}
	var c []float64
	var columns [][]float64
	for b, k := range j.sticks {
		if !j.patterns(k, 400, func(counts []int) {
			col := make([]float64, rows+len(limited))
			for i, n := range counts {
				col[i] = float64(n)
			}
			for r, l := range limited {
				if l == b {
					col[rows+r] = 1
				}
			}
			c, columns = append(c, float64(costs[b])), append(columns, col)
		}) {
			return 0, errTooMany
		}
	}
	b := make([]float64, rows+len(limited))
	for i, q := range j.pieces {
		b[i] = float64(q.quantity)
	}
	for r, l := range limited {
		b[rows+r] = float64(j.sticks[l].limit)
	}
	m, n := len(b), len(columns)
	a := mat.NewDense(m, n+m, nil)
	for k, col := range columns {
		a.SetCol(k, col)
	}
	for i := range m { // surplus of pieces, slack of limits
		a.Set(i, n+i, -1)
		if i >= rows {
			a.Set(i, n+i, 1)
		}
		c = append(c, 0)
	}
	value, _, err = lp.Simplex(c, a, b, 1e-10, nil)
	return value, err
}

var errTooMany = errors.New("too many patterns")

// engineModel states the job to the engine: a kerf added to each piece and
// each stick.
func (j job) engineModel() *model.Problem {
	p := &model.Problem{}
	for _, q := range j.pieces {
		p.Items = append(p.Items, model.Item{Size: int64(q.length + j.kerf), Demand: int64(q.quantity)})
	}
	costs := j.costs()
	for b, k := range j.sticks {
		limit := j.count()
		if k.limit > 0 {
			limit = min(limit, k.limit)
		}
		p.Bins = append(p.Bins, model.Bin{
			Cap: int64(k.length - k.trim + j.kerf), Cost: int64(costs[b]), Limit: int64(limit),
		})
	}
	return p
}

// sorted reports whether pieces are by falling length and sticks differ, as a
// model wants it.
func (j job) sorted() bool {
	for i := 1; i < len(j.pieces); i++ {
		if j.pieces[i].length >= j.pieces[i-1].length {
			return false
		}
	}
	costs := j.costs()
	for a := range j.sticks {
		for b := range a {
			x, y := j.sticks[a], j.sticks[b]
			if x.length-x.trim == y.length-y.trim && costs[a] == costs[b] {
				return false
			}
		}
	}
	return true
}

// TestRelaxation compares the column generation's relaxation and its exact
// bound with a general simplex over all patterns listed one by one.
func TestRelaxation(t *testing.T) {
	const tol = 1e-6
	n := 1500
	if testing.Short() {
		n = 150
	}
	r := rand.New(rand.NewPCG(7, 31))
	values, rounded, none, failed := 0, 0, 0, 0
	for c := range n {
		j := random(r, shape{lengths: 7, quantity: 12, pieces: 40, longest: 90, sticks: 3, span: 3})
		sortPieces(j)
		if !j.sorted() {
			continue
		}
		want, err := simplex(j)
		if err != nil && !errors.Is(err, lp.ErrInfeasible) {
			failed++ // too large for a dense table, or singular on the way
			continue
		}
		m := master.New(j.engineModel())
		status := m.Solve(math.MaxInt64/4, meter.New(context.Background(), 0))
		if err != nil {
			none++
			if status != master.Infeasible {
				t.Fatalf("case %d: %+v has no fractional plan; got status %d", c, j, status)
			}
			continue
		}
		if status != master.Converged {
			t.Fatalf("case %d: %+v: status %d, the value is %g", c, j, status, want)
		}
		// The bound is the value rounded up, whatever happens in between.
		if lo, hi := math.Ceil(want-tol), math.Ceil(want+tol); float64(m.Bound) < lo || float64(m.Bound) > hi {
			t.Fatalf("case %d: %+v: bound %d, the value is %.9g", c, j, m.Bound, want)
		}
		// Generation may end early, with a value between the true one and the
		// bound, when the bound has met it.
		switch got := m.Value(); {
		case math.Abs(got-want) <= tol*max(1, want):
			values++
		case got > want && got <= float64(m.Bound)+tol:
			rounded++
		default:
			t.Fatalf("case %d: %+v: value %.9g, want %.9g; bound %d", c, j, got, want, m.Bound)
		}
	}
	t.Logf("%d equal values, %d ended by the bound, %d without a plan, %d without a reference", values, rounded, none, failed)
	if values < n/3 || none < n/50 || failed > n/4 {
		t.Errorf("%d equal values, %d without a plan, %d without a reference: the generator is too uniform", values, none, failed)
	}
}
