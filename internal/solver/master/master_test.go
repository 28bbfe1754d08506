package master_test

import (
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/solvertest"
	"example.com/longpoint/internal/trimjob"
	"github.com/google/go-cmp/cmp"
)

const noCutoff = math.MaxInt64 / 4

// bars returns a problem with one stock length and no limit. The order of size and demand pairs
// does not matter.
func bars(cap, cost int64, sizeDemand ...int64) *model.Problem {
	return stocks([]model.Bin{{Cap: cap, Cost: cost}}, sizeDemand...)
}

// stocks is like bars for several lengths; a limit of 0 means no limit.
func stocks(bins []model.Bin, sizeDemand ...int64) *model.Problem {
	p := &model.Problem{Bins: bins}
	for k := 0; k < len(sizeDemand); k += 2 {
		p.Items = append(p.Items, model.Item{Size: sizeDemand[k], Demand: sizeDemand[k+1]})
	}
	slices.SortFunc(p.Items, func(a, b model.Item) int { return int(b.Size - a.Size) })
	for b := range p.Bins {
		if p.Bins[b].Limit == 0 {
			p.Bins[b].Limit = p.Pieces()
		}
	}
	return p
}

// certified checks in integers, by enumeration of all patterns, that the master's numbers show its bound.
func certified(p *model.Problem, m *master.Master) error {
	for b := range p.Bins {
		if m.Box.Hi[b] == 0 {
			continue
		}
		most := int64(0)
		for _, pat := range solvertest.Patterns(p, b, p.Demands()) {
			v := int64(0)
			for _, u := range pat.Uses {
				v += m.Duals.Item[u.Item] * u.N
			}
			most = max(most, v)
		}
		if m.Duals.Best[b] < most {
			return fmt.Errorf("Best[%d] = %d, want at least %d", b, m.Duals.Best[b], most)
		}
	}
	num := solvertest.Numerator(p, m.Box, m.Duals.Item, m.Duals.Best, m.Duals.Scale)
	if num.Cmp(m.Num) != 0 {
		return fmt.Errorf("Num does not follow from the values and the box")
	}
	if m.Duals.Scale > 0 && num.CeilDiv(m.Duals.Scale) != m.Bound {
		return fmt.Errorf("Bound = %d, Num/Scale rounded up is %d", m.Bound, num.CeilDiv(m.Duals.Scale))
	}
	if m.Duals.Scale == 0 && num.Sign() <= 0 {
		return fmt.Errorf("Num does not show infeasibility")
	}
	return nil
}

// fits checks that the columns are patterns of the problem, all different.
func fits(p *model.Problem, m *master.Master) error {
	seen := map[string]bool{}
	for j := range m.Columns {
		pat := m.Columns[j].Fill
		if key := fmt.Sprint(pat); seen[key] {
			return fmt.Errorf("column %d: %v occurs twice", j, pat)
		} else {
			seen[key] = true
		}
		last := -1
		for _, u := range pat.Uses {
			if u.Item <= last || u.N <= 0 || u.N > p.Items[u.Item].Demand {
				return fmt.Errorf("column %d: uses %v", j, pat.Uses)
			}
			last = u.Item
		}
		if p.Size(pat.Uses) > p.Bins[pat.Bin].Cap {
			return fmt.Errorf("column %d: %v does not fit", j, pat)
		}
	}
	return nil
}

// worked are published problems, each with the value of its relaxation over patterns that hold no
// more of an item than its demand.
var worked = []struct {
	source string
	lp     float64 // known to within tol
	tol    float64
	p      func(cost int64) *model.Problem
}{
	{"V. Chvatal, Linear Programming, 1983, ch. 13", 452.25, 1e-6, func(c int64) *model.Problem {
		return bars(100, c, 45, 97, 36, 610, 31, 395, 14, 211)
	}},
	{"R. Fourer, D. M. Gay, B. W. Kernighan, AMPL: A Modeling Language for Mathematical Programming, cut model", 46.25, 1e-6, func(c int64) *model.Problem {
		return bars(110, c, 20, 48, 45, 35, 50, 24, 55, 10, 75, 8)
	}},
	{"AMPL API examples, cutting stock (data)", 17.941, 5e-4, func(c int64) *model.Problem {
		return bars(6450, c, 677, 10, 756, 40, 1746, 33, 1876, 10)
	}},
	{"Wikipedia, Cutting stock problem: paper machine, 5600 mm (data)", 72.9167, 5e-5, func(c int64) *model.Problem {
		return bars(5600, c, 1380, 22, 1520, 25, 1560, 12, 1710, 14, 1820, 18, 1880, 18, 1930, 20,
			2000, 10, 2050, 12, 2100, 14, 2140, 16, 2150, 18, 2200, 20)
	}},
	{"scipopt/PySCIPOpt issue 851, first", 5, 1e-6, func(c int64) *model.Problem { return bars(4, c, 3, 3, 2, 4, 1, 3) }},
	{"scipopt/PySCIPOpt issue 851, second", 5.25, 1e-6, func(c int64) *model.Problem { return bars(4, c, 3, 3, 2, 4, 1, 4) }},
	{"MiniZinc benchmark cutstock, after Kantorovich (data)", 11.0 / 3, 1e-6, func(c int64) *model.Problem { return bars(10, c, 7, 2, 5, 2, 3, 4) }},
	{"F. D. Brandao, thesis, 2012, Example 1", 4, 1e-6, func(c int64) *model.Problem { return bars(7, c, 5, 3, 3, 1, 2, 2) }},
	{"Belov's data file nIRUP: Fieldhouse", 149.0 / 30, 1e-6, func(c int64) *model.Problem { return bars(30, c, 15, 3, 10, 5, 6, 9) }},
	{"Belov's data file nIRUP: Gau and Waescher 1", 2.2, 1e-6, func(c int64) *model.Problem {
		return bars(10000, c, 5000, 1, 3750, 1, 3250, 1, 3001, 1, 2000, 2)
	}},
	{"Belov's data file nIRUP: Gau and Waescher 1, small", 2.2, 1e-6, func(c int64) *model.Problem {
		return bars(60, c, 30, 1, 22, 1, 20, 1, 19, 1, 12, 2)
	}},
	{"Belov's data file nIRUP: Rietz model", 8.8, 1e-6, func(c int64) *model.Problem {
		return bars(45, c, 27, 3, 23, 3, 15, 6, 11, 6, 9, 10)
	}},
	{"Belov's data file nIRUP: Rietz x1", 7.00694, 5e-6, func(c int64) *model.Problem {
		return bars(387, c, 177, 3, 145, 2, 133, 2, 130, 1, 129, 5, 127, 2, 121, 2, 113, 1, 105, 1, 97, 1)
	}},
	{"Belov's regression set, n4", 1.94406, 5e-6, func(c int64) *model.Problem {
		return bars(1000000, c, 46620, 21, 9324, 27, 20979, 34)
	}},
	{"S. Umetani, fiber industry, fiber06, at 5180 (data)", 32.83, 5e-3, func(c int64) *model.Problem {
		return bars(5180, c, 1250, 5, 1150, 64, 1120, 9, 1066, 18, 1000, 11, 520, 91)
	}},
	{"JuMP tutorial, column generation: 334 on generated columns", 334, 1e-6, func(c int64) *model.Problem {
		return bars(1000, c, 750, 189, 538, 33, 530, 36, 510, 41, 502, 35, 322, 37, 308, 44, 298, 49, 201, 37, 162, 36,
			145, 42, 110, 33, 86, 47, 82, 35, 66, 49, 51, 42)
	}},
	{"Mosel User Guide, 11.2 (data)", 96.111, 5e-4, func(c int64) *model.Problem {
		return bars(100, c, 6, 9, 11, 6, 17, 20, 21, 30, 24, 17, 28, 19, 30, 25, 33, 12, 42, 8, 49, 20, 56, 5, 69, 14,
			74, 15, 87, 18, 91, 10)
	}},
	{"R. W. Haessler, Management Science 34 (1988), Table 2 (data), in eighths of an inch", 32.7965, 5e-5, func(c int64) *model.Problem {
		return bars(1376, c, 200, 5, 198, 73, 144, 14, 140, 4, 124, 23, 123, 5, 111, 29, 100, 87, 98, 9, 96, 31, 82, 6,
			81, 14, 80, 43, 70, 15, 68, 21, 62, 5)
	}},
	{"P. C. Gilmore, R. E. Gomory, Operations Research 9 (1961), as quoted in course material", 170, 1e-6, func(c int64) *model.Problem {
		return stocks([]model.Bin{{Cap: 5, Cost: 6 * c}, {Cap: 6, Cost: 7 * c}, {Cap: 9, Cost: 10 * c}}, 2, 20, 3, 10, 4, 20)
	}},
	{"F. Brandao, J. P. Pedroso, arc-flow examples, variable-sized bins (data)", 1272.77, 5e-3, func(c int64) *model.Problem {
		return stocks([]model.Bin{{Cap: 100, Cost: 100 * c}, {Cap: 120, Cost: 120 * c}, {Cap: 150, Cost: 150 * c}},
			10, 1, 14, 1, 17, 1, 19, 2, 24, 1, 29, 1, 32, 1, 33, 1, 36, 1, 38, 1, 40, 1, 50, 1, 54, 1, 55, 1, 63, 1, 66, 1,
			71, 1, 77, 2, 79, 1, 83, 1, 92, 1, 95, 1, 99, 1)
	}},
	{"google/or-tools, arc-flow cutting stock example (data)", 304032, 0.5, func(c int64) *model.Problem {
		return stocks([]model.Bin{{Cap: 4000, Cost: 4000 * c}, {Cap: 5000, Cost: 5000 * c}, {Cap: 6000, Cost: 6000 * c},
			{Cap: 7000, Cost: 7000 * c}, {Cap: 8000, Cost: 8000 * c}},
			3980, 14, 3690, 2, 3656, 2, 3290, 2, 3256, 2, 3018, 26, 2890, 2, 2856, 2, 2790, 4, 2756, 4, 2490, 4, 2456, 4,
			2391, 21, 943, 13, 938, 14, 596, 21)
	}},
}

func TestWorkedExamples(t *testing.T) {
	for _, w := range worked {
		// At a cost of a million a stick, the integer bound shows six decimals.
		for _, cost := range []int64{1, 1_000_000} {
			p := w.p(cost)
			m := master.New(p)
			if st := m.Solve(noCutoff, new(meter.Meter)); st != master.Converged {
				t.Errorf("%s, cost %d: status %d", w.source, cost, st)
				continue
			}
			lo := int64(math.Ceil((w.lp-w.tol)*float64(cost) - 1e-9))
			hi := int64(math.Ceil((w.lp + w.tol) * float64(cost)))
			if cost == 1 {
				hi = int64(math.Ceil(w.lp - 1e-9))
				lo = hi
			}
			if m.Bound < lo || m.Bound > hi {
				t.Errorf("%s, cost %d: bound %d, want %d to %d", w.source, cost, m.Bound, lo, hi)
			}
			// The relaxation may stop once the rounded bound reaches it, and each demand has a
			// slack of 1e-8 of a piece.
			tol := 0.0
			for _, b := range p.Bins {
				tol = max(tol, 1e-6*float64(b.Cost))
			}
			if z := m.Value(); z < float64(m.Bound-1)-tol || z > float64(m.Bound)+tol {
				t.Errorf("%s, cost %d: objective %f, bound %d", w.source, cost, z, m.Bound)
			}
			if err := fits(p, m); err != nil {
				t.Errorf("%s, cost %d: %v", w.source, cost, err)
			}
		}
	}
}

// Three sticks hold each of these; a bound of four would be a rounding error. Source: Belov's data file
// eps_issue, with the remark that 3 is optimal.
func TestLongIntegers(t *testing.T) {
	p := bars(1367814434311377, 1,
		274884374398721, 1, 264600651501467, 1, 258731141537366, 1, 254635954282597, 1, 242155468908822, 1,
		242128468553471, 1, 239655000341958, 1, 232592181284553, 1, 232067924106727, 1, 218644220614643, 1,
		180933023337355, 1, 158751036599280, 1, 156493074518919, 1, 141541685483683, 1, 140556123411558, 1,
		137863258604806, 1, 137746117289530, 1, 109189180667508, 1, 88132179442076, 1, 66419317778749, 1,
		62399697185031, 1, 57669703934578, 1, 54762816719022, 1, 53598890256928, 1, 48203549088677, 1,
		30521068829401, 1, 18564151635008, 1)
	m := master.New(p)
	mt := new(meter.Meter).Sub(20_000_000)
	if st := m.Solve(noCutoff, mt); st != master.Converged && st != master.Stopped || m.Bound > 3 {
		t.Errorf("status %d, bound %d, want at most 3", st, m.Bound)
	}
	if err := fits(p, m); err != nil {
		t.Error(err)
	}
}

// small draws a problem whose patterns can all be listed.
func small(r *rand.Rand) *model.Problem {
	unit := []int64{1, 1, 100, 12345}[r.IntN(4)]
	p := (&solvertest.Shape{
		Largest: [2]int64{3, 10}, Step: [2]int64{1, 3}, Items: 4, Copies: 5,
		Bins: 3, Cap: [2]int64{1, 13}, Cost: [2]int64{0, 8}, Scarce: 1, Of: 3, Limit: 5,
	}).Draw(r)
	for b := range p.Bins {
		p.Bins[b].Cost *= unit
	}
	return p
}

// check solves m and compares the result with the exact relaxation.
func check(p *model.Problem, m *master.Master, box bound.Box) (feasible bool, err error) {
	want, ok := relaxation(p, box, p.Demands())
	st := m.Solve(noCutoff, new(meter.Meter))
	if err := fits(p, m); err != nil {
		return ok, err
	}
	if !ok {
		if st != master.Infeasible {
			return ok, fmt.Errorf("status %d for an infeasible relaxation", st)
		}
		return ok, certified(p, m)
	}
	if st != master.Converged {
		return ok, fmt.Errorf("status %d for a relaxation of %v", st, want)
	}
	if err := certified(p, m); err != nil {
		return ok, err
	}
	if m.Bound != ceil(want) {
		return ok, fmt.Errorf("bound %d for a relaxation of %v", m.Bound, want)
	}
	w, _ := want.Float64()
	top := 1.0
	for _, b := range p.Bins {
		top = max(top, float64(b.Cost))
	}
	if z := m.Value(); z < w-1e-6*top || z > float64(m.Bound)+1e-6*top {
		return ok, fmt.Errorf("objective %f for a relaxation of %v and a bound of %d", z, want, m.Bound)
	}
	return ok, nil
}

func TestSmallAgainstAllPatterns(t *testing.T) {
	r := rand.New(rand.NewPCG(61, 1))
	feasible, infeasible := 0, 0
	for k := range 45 {
		p := small(r)
		m := master.New(p)
		box := bound.Full(p)
		// The same master is used for one box after another.
		for range 3 {
			ok, err := check(p, m, box)
			if err != nil {
				t.Fatalf("problem %d: %v\n%+v\nbox %+v", k, err, *p, box)
			}
			if ok {
				feasible++
			} else {
				infeasible++
			}
			box = solvertest.Part(r, p)
			m.SetBox(box)
		}
	}
	if feasible < 20 || infeasible < 20 {
		t.Errorf("%d feasible, %d infeasible: too few of one kind", feasible, infeasible)
	}
}

// With limits on new patterns the bound proves nothing; only the objective is compared.
func TestLimits(t *testing.T) {
	r := rand.New(rand.NewPCG(61, 3))
	for k := range 60 {
		p := small(r)
		m := master.New(p)
		limit := p.Demands()
		reduced := false
		for i := range limit {
			n := 1 + r.Int64N(limit[i])
			reduced = reduced || n < limit[i]
			limit[i] = n
		}
		m.SetFixed(&master.Fixed{Most: limit, Need: limit, Used: make([]int64, len(p.Bins)), Enough: -1})
		if !reduced {
			continue
		}
		want, ok := relaxation(p, m.Box, limit)
		st := m.Solve(noCutoff, new(meter.Meter))
		if !ok {
			// This is proven only for the patterns within the limits.
			if st != master.Infeasible && st != master.Stopped {
				t.Fatalf("problem %d: status %d, want infeasible\n%+v limits %v", k, st, *p, limit)
			}
			continue
		}
		w, _ := want.Float64()
		if z := m.Value(); st != master.Converged || m.Bound != 0 || math.Abs(z-w) > 1e-6*(1+w) {
			t.Fatalf("problem %d: status %d, bound %d, objective %g, want %v\n%+v limits %v", k, st, m.Bound, z, want, *p, limit)
		}
	}
}

func TestCutoff(t *testing.T) {
	r := rand.New(rand.NewPCG(61, 4))
	for k := range 40 {
		p := small(r)
		want, ok := relaxation(p, bound.Full(p), p.Demands())
		if !ok {
			continue
		}
		c := ceil(want)
		for _, cutoff := range []int64{0, c / 2, c, c + 1, c + 5} {
			m := master.New(p)
			st := m.Solve(cutoff, new(meter.Meter))
			if pruned := cutoff <= c; pruned != (st == master.Pruned) || m.Bound > c || pruned && m.Bound < cutoff {
				t.Fatalf("problem %d: cutoff %d, relaxation %v: status %d, bound %d\n%+v", k, cutoff, want, st, m.Bound, *p)
			}
			if err := certified(p, m); err != nil {
				t.Fatalf("problem %d: cutoff %d: %v", k, cutoff, err)
			}
		}
	}
}

func TestInfeasibleSupply(t *testing.T) {
	for name, p := range map[string]*model.Problem{
		"too long":              stocks([]model.Bin{{Cap: 9, Cost: 3}}, 10, 1, 4, 2),
		"too few":               stocks([]model.Bin{{Cap: 10, Cost: 3, Limit: 2}, {Cap: 5, Cost: 1, Limit: 1}}, 5, 6),
		"long ones too few":     stocks([]model.Bin{{Cap: 10, Cost: 3, Limit: 1}, {Cap: 5, Cost: 1}}, 6, 2, 5, 1),
		"free and too few":      stocks([]model.Bin{{Cap: 10, Cost: 0, Limit: 3}}, 6, 4),
		"one of a billion over": stocks([]model.Bin{{Cap: 4, Cost: 3, Limit: 1 << 30}}, 2, 1<<31+1),
		"by a hair, long":       stocks([]model.Bin{{Cap: 1<<50 - 1, Cost: 3}}, 1<<50, 1),
	} {
		m := master.New(p)
		if st := m.Solve(noCutoff, new(meter.Meter)); st != master.Infeasible || m.Duals.Scale != 0 || m.Num.Sign() <= 0 {
			t.Errorf("%s: status %d, scale %d, num %d, want a proof of infeasibility", name, st, m.Duals.Scale, m.Num.Sign())
		}
	}
}

// Demands in the billions take no longer than small ones.
func TestLargeDemands(t *testing.T) {
	for _, f := range []int64{1, 1_000, 1_000_000, 1 << 31} {
		m := master.New(bars(100, 1, 45, 97*f, 36, 610*f, 31, 395*f, 14, 211*f))
		var mt meter.Meter
		st := m.Solve(noCutoff, &mt)
		// 452.25 times f; from a thousand on, rounding hides no error.
		want := ceil(new(big.Rat).Mul(big.NewRat(1809, 4), new(big.Rat).SetInt64(f)))
		if st != master.Converged || m.Bound > want || float64(want-m.Bound) > 1e-9*float64(want) {
			t.Errorf("times %d: status %d, bound %d, want %d", f, st, m.Bound, want)
		}
		if mt.Used() > 1_000_000 {
			t.Errorf("times %d: %d steps", f, mt.Used())
		}
	}
}

// Pricing also works for sticks that hold thousands of pieces of one length.
func TestManyCopies(t *testing.T) {
	for _, n := range []int64{1, 10, 100, 1000, 3000} {
		m := master.New(bars(10*n, 1, 9, 20*n, 7, 30*n, 4, 1000))
		var mt meter.Meter
		st := m.Solve(noCutoff, &mt)
		// The material bound is 39 sticks plus the 4000 of the small pieces.
		material := 39 + (4000+10*n-1)/(10*n)
		if st != master.Converged || m.Bound < material || n >= 100 && m.Bound != material {
			t.Errorf("times %d: status %d, bound %d after %d steps, material %d", n, st, m.Bound, mt.Used(), material)
		}
	}
}

// A small piece can be worth a whole stick, however long the others are.
func TestSmallPieceOfHighPrice(t *testing.T) {
	for _, long := range []int64{20, 1 << 20, 1 << 30, 1 << 40, 1 << 50} {
		p := stocks([]model.Bin{{Cap: 1, Cost: 1_000_000}, {Cap: long, Cost: 10_000_000, Limit: 1}}, long, 1, 1, 5)
		m := master.New(p)
		if st := m.Solve(noCutoff, new(meter.Meter)); st != master.Converged || m.Bound != 15_000_000 {
			t.Errorf("beside %d: status %d, bound %d, want 15000000", long, st, m.Bound)
		}
	}
	p := stocks([]model.Bin{{Cap: 136, Cost: 135, Limit: 1}, {Cap: 249, Cost: 246, Limit: 2}, {Cap: 132, Cost: 129, Limit: 1}}, 81, 1, 5, 1)
	m := master.New(p)
	if st := m.Solve(noCutoff, new(meter.Meter)); st != master.Converged || m.Bound != 129 {
		t.Errorf("status %d, bound %d, want 129", st, m.Bound)
	}
}

func TestStopsWithoutBudget(t *testing.T) {
	p := worked[3].p(1)
	var all meter.Meter
	master.New(p).Solve(noCutoff, &all)
	m := master.New(p)
	for part := int64(1); part < all.Used()/2; part += all.Used() / 9 {
		if st := m.Solve(noCutoff, new(meter.Meter).Sub(part)); st != master.Stopped && st != master.Converged {
			t.Errorf("%d steps: status %d", part, st)
		}
		if m.Bound > 73 {
			t.Errorf("%d steps: bound %d", part, m.Bound)
		}
	}
	if st := m.Solve(noCutoff, new(meter.Meter)); st != master.Converged || m.Bound != 73 {
		t.Errorf("resumed: status %d, bound %d, want 73", st, m.Bound)
	}
}

func TestAddKnowsItsColumns(t *testing.T) {
	m := master.New(stocks([]model.Bin{{Cap: 10, Cost: 2}, {Cap: 7, Cost: 1}}, 5, 3, 3, 4, 2, 9))
	all := map[string]int{}
	for round := range 2 {
		for b := range m.Plain.Bins {
			for _, pat := range solvertest.Patterns(m.Plain, b, m.Plain.Demands()) {
				uses := pat.Uses
				j, fresh := m.Add(b, uses)
				key := fmt.Sprint(b, uses)
				if round == 0 {
					if all[key] = j; !fresh || j != len(all)-1 {
						t.Fatalf("Add(%s) = %d, %t", key, j, fresh)
					}
				} else if fresh || j != all[key] {
					t.Fatalf("Add(%s) again = %d, %t, want %d, false", key, j, fresh, all[key])
				}
				if d := cmp.Diff(model.Pattern{Bin: b, Uses: uses}, *m.Columns[j].Fill); d != "" {
					t.Fatalf("column %d (-want +got):\n%s", j, d)
				}
			}
		}
	}
	if m.LP.Columns() != len(all) {
		t.Errorf("%d columns, want %d", m.LP.Columns(), len(all))
	}
}

// On jobs of realistic size the bound itself shows that no column is missing.
func TestHouseConverges(t *testing.T) {
	for seed := range uint64(4) {
		p := solvertest.Job(t, trimjob.House, seed)
		m := master.New(p)
		if st := m.Solve(noCutoff, new(meter.Meter)); st != master.Converged {
			t.Errorf("seed %d: status %d", seed, st)
		}
		if z := m.Value(); float64(m.Bound) < z-1e-3 || float64(m.Bound) > z+1+1e-3 {
			t.Errorf("seed %d: bound %d, objective %f", seed, m.Bound, z)
		}
		if err := fits(p, m); err != nil {
			t.Errorf("seed %d: %v", seed, err)
		}
	}
}

func BenchmarkSolve(b *testing.B) {
	for _, class := range []string{trimjob.Room, trimjob.House, trimjob.Tract} {
		b.Run(class, func(b *testing.B) {
			p := solvertest.Job(b, class, 2)
			b.ReportAllocs()
			for b.Loop() {
				m := master.New(p)
				if st := m.Solve(noCutoff, new(meter.Meter)); st != master.Converged {
					b.Fatal(st)
				}
				// The bound reaches the relaxation of a thousand lengths, too.
				if z := m.Value(); float64(m.Bound) < z-1 || float64(m.Bound) > z+2 {
					b.Fatalf("bound %d, objective %f", m.Bound, z)
				}
			}
		})
	}
}
