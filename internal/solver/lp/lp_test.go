package lp_test

import (
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/lp"
)

func float(v int64) float64 {
	switch v {
	case minusInf:
		return math.Inf(-1)
	case plusInf:
		return math.Inf(1)
	}
	return float64(v)
}

// build builds p from scratch.
func build(p *problem) *lp.LP {
	x := new(lp.LP)
	for r := range p.a {
		x.AddRow(float(p.rlo[r]), float(p.rhi[r]), nil, nil)
	}
	for j := range p.cost {
		addColumn(x, p, j)
	}
	return x
}

func addColumn(x *lp.LP, p *problem, j int) {
	var idx []int32
	var val []float64
	for r := range p.a {
		if v := p.a[r][j]; v != 0 {
			idx, val = append(idx, int32(r)), append(val, float64(v))
		}
	}
	x.AddColumn(float64(p.cost[j]), idx, val)
	if p.lo[j] != 0 || p.hi[j] != plusInf {
		x.SetColumn(j, float(p.lo[j]), float(p.hi[j]))
	}
}

// lagrangian is the bound of the duals for the objective cost (nil: 0): the sum of each row's and each
// column's worst case. A term without a finite bound must have a weight of almost zero.
func lagrangian(p *problem, x *lp.LP, cost []int64) (bound, slip float64) {
	term := func(w float64, lo, hi int64) {
		at := lo
		if w < 0 {
			at = hi
		}
		if at == minusInf || at == plusInf {
			slip = max(slip, math.Abs(w))
			return
		}
		bound += w * float64(at)
	}
	for r := range p.a {
		term(x.Dual(r), p.rlo[r], p.rhi[r])
	}
	for j := range p.cost {
		d := 0.0
		if cost != nil {
			d = float64(cost[j])
		}
		for r := range p.a {
			d -= x.Dual(r) * float64(p.a[r][j])
		}
		term(d, p.lo[j], p.hi[j])
	}
	return bound, slip
}

// judge solves p exactly and compares x, just solved with status st, with it.
func judge(p *problem, x *lp.LP, st lp.Status) error {
	want, v := exact(p)
	switch v {
	case unbounded:
		if st != lp.Stopped {
			return fmt.Errorf("status %d for an unbounded problem", st)
		}
		return nil
	case infeasible:
		if st != lp.Infeasible {
			return fmt.Errorf("status %d for an infeasible problem", st)
		}
		ray, slip := lagrangian(p, x, nil)
		if ray < 1e-7 || slip > 1e-7 {
			return fmt.Errorf("the duals are not a Farkas ray: worth %g, off by %g", ray, slip)
		}
		return nil
	}
	w, _ := want.Float64()
	tol := 1e-7 * (1 + math.Abs(w))
	if st != lp.Optimal {
		return fmt.Errorf("status %d for a problem with optimum %v", st, want)
	}
	if got := x.Objective(); !(math.Abs(got-w) <= tol) {
		return fmt.Errorf("objective %g, want %v", got, want)
	}
	z := 0.0
	for j := range p.cost {
		v := x.Value(j)
		z += v * float64(p.cost[j])
		if !(v >= float(p.lo[j])-1e-7 && v <= float(p.hi[j])+1e-7) {
			return fmt.Errorf("column %d = %g outside %g to %g", j, v, float(p.lo[j]), float(p.hi[j]))
		}
	}
	if !(math.Abs(z-w) <= tol) {
		return fmt.Errorf("values cost %g, want %v", z, want)
	}
	for r := range p.a {
		s := 0.0
		for j, v := range p.a[r] {
			s += float64(v) * x.Value(j)
		}
		if !(s >= float(p.rlo[r])-1e-6 && s <= float(p.rhi[r])+1e-6) {
			return fmt.Errorf("row %d = %g outside %g to %g", r, s, float(p.rlo[r]), float(p.rhi[r]))
		}
	}
	// Weak duality is true for any duals; equality is complementary slackness.
	bound, slip := lagrangian(p, x, p.cost)
	if !(math.Abs(bound-w) <= 10*tol) || slip > 1e-7 {
		return fmt.Errorf("duals show %g for an optimum of %v, off by %g", bound, want, slip)
	}
	return nil
}

// random draws a program of any shape; with columns that may be negative when general is set.
func random(r *rand.Rand, rows, cols int, general bool) *problem {
	p := &problem{}
	for range rows {
		p.a = append(p.a, nil)
		addRandomRow(r, p)
	}
	for range cols {
		addRandomColumn(r, p, general)
	}
	return p
}

func addRandomRow(r *rand.Rand, p *problem) {
	lo, hi := randomRow(r)
	p.rlo, p.rhi = append(p.rlo, lo), append(p.rhi, hi)
}

func randomRow(r *rand.Rand) (lo, hi int64) {
	b := r.Int64N(25) - 4
	switch r.IntN(6) {
	case 0, 1:
		return b, plusInf
	case 2, 3:
		return minusInf, b
	case 4:
		return b, b
	}
	if r.IntN(4) == 0 {
		return minusInf, plusInf
	}
	return b, b + r.Int64N(8)
}

func addRandomColumn(r *rand.Rand, p *problem, general bool) {
	p.cost = append(p.cost, r.Int64N(14)-2)
	lo, hi := randomBounds(r, general)
	p.lo, p.hi = append(p.lo, lo), append(p.hi, hi)
	for i := range p.a {
		v := int64(0)
		if r.IntN(5) < 3 {
			v = r.Int64N(9) - 2
		}
		p.a[i] = append(p.a[i], v)
	}
}

func randomBounds(r *rand.Rand, general bool) (lo, hi int64) {
	switch k := r.IntN(10); {
	case k < 5:
		return 0, plusInf
	case k < 7:
		return 0, r.Int64N(6)
	case k < 8 || !general:
		lo = r.Int64N(4)
		if r.IntN(2) == 0 {
			return lo, plusInf
		}
		return lo, lo + r.Int64N(5)
	case k < 9:
		lo = -r.Int64N(5)
		return lo, lo + r.Int64N(9)
	}
	if r.IntN(2) == 0 {
		return minusInf, r.Int64N(8) - 3
	}
	return minusInf, plusInf
}

func TestRandomAgainstExact(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 1))
	count := map[lp.Status]int{}
	for k := range 1200 {
		p := random(r, 1+r.IntN(5), 1+r.IntN(6), k%2 == 1)
		x := build(p)
		st := x.Solve(new(meter.Meter))
		count[st]++
		if err := judge(p, x, st); err != nil {
			t.Fatalf("problem %d: %v\n%+v", k, err, *p)
		}
	}
	if count[lp.Optimal] < 300 || count[lp.Infeasible] < 200 || count[lp.Stopped] < 20 {
		t.Errorf("statuses %v: too few of one kind", count)
	}
}

// The shape of a master problem: few negative numbers, many columns.
func TestMasterShapeAgainstExact(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 2))
	for k := range 60 {
		p := &problem{}
		items, bins, cols := 2+r.IntN(5), 1+r.IntN(3), 4+r.IntN(22)
		for range items {
			p.a = append(p.a, make([]int64, cols))
			p.rlo, p.rhi = append(p.rlo, 1+r.Int64N(40)), append(p.rhi, plusInf)
		}
		for range bins {
			p.a = append(p.a, make([]int64, cols))
			lo, hi := int64(minusInf), int64(plusInf)
			if r.IntN(2) == 0 {
				hi = r.Int64N(30)
			}
			if r.IntN(4) == 0 {
				lo = min(r.Int64N(4), hi)
			}
			p.rlo, p.rhi = append(p.rlo, lo), append(p.rhi, hi)
		}
		for j := range cols {
			b := r.IntN(bins)
			p.cost = append(p.cost, int64(b*b+b+1))
			p.lo, p.hi = append(p.lo, 0), append(p.hi, plusInf)
			p.a[items+b][j] = 1
			for range 1 + r.IntN(3) {
				p.a[r.IntN(items)][j] = 1 + r.Int64N(4)
			}
		}
		x := build(p)
		if err := judge(p, x, x.Solve(new(meter.Meter))); err != nil {
			t.Fatalf("problem %d: %v\n%+v", k, err, *p)
		}
	}
}

// Whatever happened before, the result is that of a cold start.
func TestWarmStarts(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 3))
	for run := range 120 {
		p := random(r, 1+r.IntN(3), 1+r.IntN(3), false)
		x := build(p)
		var log []string
		var basis lp.Basis
		var saved struct {
			ok               bool
			rows, cols       int
			rlo, rhi, lo, hi []int64
		}
		for range 14 {
			what := r.IntN(9)
			switch {
			case what == 0 && len(p.a) < 6:
				// A new row has ones only, as the LP wants it.
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
				if got := x.AddRow(float(lo), float(hi), cols, nil); got != len(p.a)-1 {
					t.Fatalf("AddRow = %d, want %d", got, len(p.a)-1)
				}
			case what <= 2 && len(p.cost) < 9:
				addRandomColumn(r, p, true)
				addColumn(x, p, len(p.cost)-1)
			case what == 3:
				i := r.IntN(len(p.a))
				p.rlo[i], p.rhi[i] = randomRow(r)
				x.SetRow(i, float(p.rlo[i]), float(p.rhi[i]))
			case what == 4:
				j := r.IntN(len(p.cost))
				p.lo[j], p.hi[j] = randomBounds(r, true)
				x.SetColumn(j, float(p.lo[j]), float(p.hi[j]))
				if lo, hi := x.Bounds(j); lo != float(p.lo[j]) || hi != float(p.hi[j]) {
					t.Fatalf("Bounds(%d) = %g, %g", j, lo, hi)
				}
			case what == 5:
				j := r.IntN(len(p.cost))
				p.cost[j] = r.Int64N(14) - 2
				x.SetCost(j, float64(p.cost[j]))
			case what == 6:
				x.Save(&basis)
				saved.ok, saved.rows, saved.cols = true, len(p.a), len(p.cost)
				saved.rlo, saved.rhi = slices.Clone(p.rlo), slices.Clone(p.rhi)
				saved.lo, saved.hi = slices.Clone(p.lo), slices.Clone(p.hi)
			case what == 7 && saved.ok:
				// A search sets the bounds back first; others may not.
				back := r.IntN(2) == 0
				for i := range saved.rows {
					if !back {
						break
					}
					p.rlo[i], p.rhi[i] = saved.rlo[i], saved.rhi[i]
					x.SetRow(i, float(p.rlo[i]), float(p.rhi[i]))
				}
				for j := range saved.cols {
					if !back {
						break
					}
					p.lo[j], p.hi[j] = saved.lo[j], saved.hi[j]
					x.SetColumn(j, float(p.lo[j]), float(p.hi[j]))
				}
				x.Restore(&basis)
				p.a, p.rlo, p.rhi = p.a[:saved.rows], p.rlo[:saved.rows], p.rhi[:saved.rows]
			case what == 8:
				var cols []int32
				for j := range p.cost {
					if r.IntN(3) == 0 {
						cols = append(cols, int32(j))
					}
				}
				x.Start(cols)
			default:
				continue
			}
			log = append(log, fmt.Sprint(what))
			if x.Rows() != len(p.a) || x.Columns() != len(p.cost) {
				t.Fatalf("%d rows, %d columns, want %d, %d", x.Rows(), x.Columns(), len(p.a), len(p.cost))
			}
			if r.IntN(5) == 0 {
				continue // two changes at once
			}
			if err := judge(p, x, x.Solve(new(meter.Meter))); err != nil {
				t.Fatalf("run %d, after %v: %v\n%+v", run, log, err, *p)
			}
			cold := build(p)
			if err := judge(p, cold, cold.Solve(new(meter.Meter))); err != nil {
				t.Fatalf("run %d, cold: %v\n%+v", run, err, *p)
			}
		}
	}
}

// trace records the bits of all results of a run.
func trace(seed uint64) []uint64 {
	r := rand.New(rand.NewPCG(seed, 4))
	p := random(r, 5, 9, false)
	x := build(p)
	var out []uint64
	var basis lp.Basis
	for k := range 6 {
		out = append(out, uint64(x.Solve(new(meter.Meter))), math.Float64bits(x.Objective()))
		for i := range x.Rows() {
			out = append(out, math.Float64bits(x.Dual(i)))
		}
		for j := range x.Columns() {
			out = append(out, math.Float64bits(x.Value(j)))
			if x.Basic(j) {
				out = append(out, 1)
			}
		}
		switch k {
		case 0:
			x.Save(&basis)
		case 3:
			x.Restore(&basis)
		}
		addRandomColumn(r, p, false)
		addColumn(x, p, len(p.cost)-1)
	}
	return out
}

func TestSameCallsSameBits(t *testing.T) {
	for seed := range uint64(30) {
		if a, b := trace(seed), trace(seed); !slices.Equal(a, b) {
			t.Fatalf("seed %d: two runs differ", seed)
		}
	}
}

// classics are problems on which a careless simplex method cycles or takes
// long. Rows are all "<=", columns start at zero.
var classics = []struct {
	name string
	cost []int64
	a    [][]int64
	rhs  []int64
	den  int64 // the objective is in units of 1/den
	want *big.Rat
}{
	// E. M. L. Beale, Cycling in the dual simplex algorithm, 1955; from memory,
	// rows times 4 and 2, costs times 4.
	{"Beale", []int64{-3, 80, -2, 24}, [][]int64{{1, -32, -4, 36}, {1, -24, -1, 6}, {0, 0, 1, 0}}, []int64{0, 0, 1}, 4, big.NewRat(-5, 4)},
	// The variant with 1/25 and 1/50, optimum -1/20; from memory, rows times 100, costs times 100.
	{"Beale, hundredths", []int64{-75, 15000, -2, 600}, [][]int64{{25, -6000, -4, 900}, {50, -9000, -2, 300}, {0, 0, 1, 0}}, []int64{0, 0, 1}, 100, big.NewRat(-1, 20)},
	// H. W. Kuhn's example, as told in many textbooks; from memory, second row times 3.
	{"Kuhn", []int64{-2, -3, 1, 12}, [][]int64{{-2, -9, 1, 9}, {1, 3, -1, -6}, {2, 3, -1, -12}}, []int64{0, 0, 2}, 1, big.NewRat(-2, 1)},
	// K. T. Marshall, J. W. Suurballe, A note on cycling in the simplex method, 1969; from memory, with
	// a bound on the sum so that there is an optimum (which the exact method supplies).
	{"Marshall and Suurballe", []int64{-4, -4, 18}, [][]int64{{6, -64, 48}, {2, -18, 6}, {4, -16, 2}, {0, 1, 0}}, []int64{0, 0, 0, 1}, 10, nil},
	// V. Chvatal, Linear Programming, 1983, ch. 3: cycles under the largest
	// coefficient rule; from memory, rows times 2, the last row bounds it.
	{"Chvatal", []int64{-10, 57, 9, 24}, [][]int64{{1, -11, -5, 18}, {1, -3, -1, 2}, {1, 0, 0, 0}}, []int64{0, 0, 1}, 1, big.NewRat(-1, 1)},
}

func TestClassics(t *testing.T) {
	for _, c := range classics {
		p := &problem{cost: c.cost, a: c.a, rhi: c.rhs}
		for range c.rhs {
			p.rlo = append(p.rlo, minusInf)
		}
		for range c.cost {
			p.lo, p.hi = append(p.lo, 0), append(p.hi, plusInf)
		}
		z, v := exact(p)
		if c.want != nil {
			if v != optimal || z.Quo(z, new(big.Rat).SetInt64(c.den)).Cmp(c.want) != 0 {
				t.Errorf("%s: the exact method says %v, want %v", c.name, z, c.want)
			}
		}
		x := build(p)
		if err := judge(p, x, x.Solve(new(meter.Meter))); err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

// V. Klee, G. J. Minty, How good is the simplex algorithm?, 1972, in the form with powers of ten (from
// memory): maximize sum of 10^(n-j) x_j, optimum 100^(n-1).
func TestKleeMinty(t *testing.T) {
	for n := 1; n <= 7; n++ {
		pow := func(b, e int) int64 { return int64(math.Round(math.Pow(float64(b), float64(e)))) }
		p := &problem{}
		for i := range n {
			row := make([]int64, n)
			for j := range i {
				row[j] = 2 * pow(10, i-j)
			}
			row[i] = 1
			p.a, p.rlo, p.rhi = append(p.a, row), append(p.rlo, minusInf), append(p.rhi, pow(100, i))
			p.cost = append(p.cost, -pow(10, n-1-i))
			p.lo, p.hi = append(p.lo, 0), append(p.hi, plusInf)
		}
		x := build(p)
		if st := x.Solve(new(meter.Meter)); st != lp.Optimal || math.Abs(x.Objective()/float64(-pow(100, n-1))-1) > 1e-12 {
			t.Errorf("n = %d: status %d, objective %g, want %d", n, st, x.Objective(), -pow(100, n-1))
		}
	}
}

// Assignment problems: every vertex is degenerate many times over.
func TestAssignment(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 5))
	for range 60 {
		const n = 6
		var cost [n][n]int64
		p := &problem{}
		for range 2 * n {
			p.a = append(p.a, make([]int64, n*n))
			p.rlo, p.rhi = append(p.rlo, 1), append(p.rhi, 1)
		}
		for i := range n {
			for j := range n {
				cost[i][j] = r.Int64N(6)
				p.cost = append(p.cost, cost[i][j])
				p.lo, p.hi = append(p.lo, 0), append(p.hi, plusInf)
				p.a[i][i*n+j], p.a[n+j][i*n+j] = 1, 1
			}
		}
		best := int64(math.MaxInt64)
		var rec func(i int, taken uint, c int64)
		rec = func(i int, taken uint, c int64) {
			if i == n {
				best = min(best, c)
				return
			}
			for j := range n {
				if taken&(1<<j) == 0 {
					rec(i+1, taken|1<<j, c+cost[i][j])
				}
			}
		}
		rec(0, 0, 0)
		x := build(p)
		if st := x.Solve(new(meter.Meter)); st != lp.Optimal || math.Abs(x.Objective()-float64(best)) > 1e-7 {
			t.Fatalf("status %d, objective %g, want %d\n%v", st, x.Objective(), best, cost)
		}
	}
}

// A start from columns that are dependent, too few or too many.
func TestStartFromPoorColumns(t *testing.T) {
	p := &problem{
		cost: []int64{3, 3, 5, 1}, lo: []int64{0, 0, 0, 0}, hi: []int64{plusInf, plusInf, plusInf, plusInf},
		a:   [][]int64{{1, 2, 0, 1}, {2, 4, 1, 0}, {1, 2, 1, 0}},
		rlo: []int64{4, 6, 2}, rhi: []int64{plusInf, plusInf, plusInf},
	}
	for _, cols := range [][]int32{nil, {0}, {0, 1}, {0, 1, 2}, {3, 2, 1}, {0, 1, 2, 3}} {
		x := build(p)
		x.Start(cols)
		if err := judge(p, x, x.Solve(new(meter.Meter))); err != nil {
			t.Errorf("start from %v: %v", cols, err)
		}
		x.Start(cols) // from an optimal basis, too
		if err := judge(p, x, x.Solve(new(meter.Meter))); err != nil {
			t.Errorf("start again from %v: %v", cols, err)
		}
	}
}

func TestEmpty(t *testing.T) {
	var x lp.LP
	if st := x.Solve(new(meter.Meter)); st != lp.Optimal || x.Objective() != 0 {
		t.Errorf("empty problem: status %d, objective %g", st, x.Objective())
	}
	x.AddRow(1, math.Inf(1), nil, nil)
	if st := x.Solve(new(meter.Meter)); st != lp.Infeasible || x.Dual(0) <= 0 {
		t.Errorf("a demand without columns: status %d, dual %g", st, x.Dual(0))
	}
	j := x.AddColumn(2, []int32{0}, []float64{4})
	if st := x.Solve(new(meter.Meter)); st != lp.Optimal || math.Abs(x.Value(j)-0.25) > 1e-12 || math.Abs(x.Dual(0)-0.5) > 1e-12 {
		t.Errorf("one of each: status %d, value %g, dual %g", st, x.Value(j), x.Dual(0))
	}
}

// A spent meter stops a solve, and a later solve with budget continues.
func TestStopsAndResumes(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 6))
	resumed := 0
	for range 40 {
		p := random(r, 6, 14, false)
		var all meter.Meter
		st := build(p).Solve(&all)
		if st == lp.Stopped {
			continue
		}
		x := build(p)
		for part := int64(1); part < all.Used(); part += 1 + all.Used()/7 {
			if got := x.Solve(new(meter.Meter).Sub(part)); got != lp.Stopped && got != st {
				t.Fatalf("status %d with part of the budget, %d with all", got, st)
			}
			resumed++
		}
		if err := judge(p, x, x.Solve(new(meter.Meter))); err != nil {
			t.Fatalf("resumed: %v\n%+v", err, *p)
		}
	}
	if resumed < 100 {
		t.Errorf("only %d stops", resumed)
	}
}

// cutting is a master problem of n items with random patterns.
func cutting(n, cols int) *lp.LP {
	r := rand.New(rand.NewPCG(8, uint64(n)))
	x := new(lp.LP)
	for range n {
		x.AddRow(float64(1+r.IntN(9)), math.Inf(1), nil, nil)
	}
	for j := range cols {
		seen := map[int32]bool{int32(j % n): true}
		for range r.IntN(4) {
			seen[int32(r.IntN(n))] = true
		}
		var idx []int32
		var val []float64
		for i := range int32(n) {
			if seen[i] {
				idx, val = append(idx, i), append(val, float64(1+r.IntN(3)))
			}
		}
		x.AddColumn(1, idx, val)
	}
	return x
}

func BenchmarkSolve(b *testing.B) {
	for _, n := range []int{30, 100, 300} {
		b.Run(fmt.Sprintf("rows=%d", n), func(b *testing.B) {
			x := cutting(n, 8*n)
			var cold lp.Basis
			x.Save(&cold)
			b.ReportAllocs()
			for b.Loop() {
				x.Restore(&cold)
				if st := x.Solve(new(meter.Meter)); st != lp.Optimal {
					b.Fatal(st)
				}
			}
		})
	}
}
