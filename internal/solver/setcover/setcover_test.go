package setcover_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/solvertest"
	"github.com/google/go-cmp/cmp"
)

const noCutoff = math.MaxInt64 / 4

// patterns lists every pattern but the empty one; maximal, only those to which nothing can be added.
func patterns(p *model.Problem, maximal bool) (out []model.Pattern) {
	for b := range p.Bins {
		for _, pat := range solvertest.Patterns(p, b, p.Demands()) {
			if len(pat.Uses) > 0 && (!maximal || solvertest.Maximal(p, pat)) {
				out = append(out, pat)
			}
		}
	}
	return out
}

// shape is of problems of some pieces whose patterns can be listed.
func shape(pieces int64) *solvertest.Shape {
	return &solvertest.Shape{
		Largest: [2]int64{4, 12}, Step: [2]int64{1, 4}, Items: 5, Copies: 3, Pieces: pieces,
		Bins: 3, Cap: [2]int64{2, 19}, Cost: [2]int64{0, 29}, Scarce: 1, Of: 2, Limit: 4,
	}
}

func TestOptimumOfEveryPattern(t *testing.T) {
	r := rand.New(rand.NewPCG(51, 1))
	feasibles, infeasibles := 0, 0
	for k := range 400 {
		p := shape(7).Draw(r)
		box := bound.Full(p)
		want, ok := solvertest.Least(p, box)
		for _, maximal := range []bool{false, true} {
			pats := patterns(p, maximal)
			r.Shuffle(len(pats), func(i, j int) { pats[i], pats[j] = pats[j], pats[i] })
			before := slices.Clone(pats)
			plan, complete := solve(p, box, pats, noCutoff, true, new(meter.Meter))
			if d := cmp.Diff(before, pats); d != "" {
				t.Fatalf("problem %d: the argument was changed:\n%s", k, d)
			}
			if !complete {
				t.Fatalf("problem %d: not complete without a limit\n%+v", k, *p)
			}
			if !ok {
				infeasibles++
				if plan != nil {
					t.Fatalf("problem %d: a plan for an infeasible problem: %+v\n%+v", k, plan, *p)
				}
				continue
			}
			feasibles++
			if plan == nil {
				t.Fatalf("problem %d: no plan, the best costs %d\n%+v", k, want, *p)
			}
			if err := solvertest.Feasible(p, box, plan); err != nil {
				t.Fatalf("problem %d: %v\n%+v\n%+v", k, err, *p, plan)
			}
			if got := model.Cost(p, plan); got != want {
				t.Fatalf("problem %d: costs %d, the best %d\n%+v\n%+v", k, got, want, *p, plan)
			}
			if bare, complete := solve(p, box, pats, noCutoff, false, new(meter.Meter)); !complete || model.Cost(p, bare) != want {
				t.Fatalf("problem %d: without cuts: complete %v, %+v, the best costs %d", k, complete, bare, want)
			}
			again, _ := solve(p, box, pats, noCutoff, true, new(meter.Meter))
			if d := cmp.Diff(plan, again); d != "" {
				t.Fatalf("problem %d: two runs differ:\n%s", k, d)
			}
		}
	}
	if feasibles < 200 || infeasibles < 100 {
		t.Errorf("%d feasible, %d infeasible: too few of one kind", feasibles, infeasibles)
	}
}

// Within a box: the result costs no more than any plan there, and no plan at all costs less than the
// result.
func TestBoxes(t *testing.T) {
	r := rand.New(rand.NewPCG(51, 2))
	inside, outside, lower := 0, 0, 0
	for k := range 400 {
		p := shape(6).Draw(r)
		box := bound.Full(p)
		for b := range box.Hi {
			if r.IntN(2) == 0 {
				box.Hi[b] = r.Int64N(box.Hi[b] + 1)
			}
			if r.IntN(2) == 0 {
				box.Lo[b] = r.Int64N(min(box.Hi[b], 3) + 1)
				lower = lower + int(box.Lo[b])
			}
		}
		want, ok := solvertest.Least(p, box)
		open := box.Clone()
		clear(open.Lo)
		least, okOpen := solvertest.Least(p, open)
		plan, complete := solve(p, box, patterns(p, false), noCutoff, true, new(meter.Meter))
		if !complete {
			t.Fatalf("problem %d: not complete without a limit", k)
		}
		if plan == nil {
			if ok {
				t.Fatalf("problem %d: no plan, the best in the box costs %d\n%+v\n%+v", k, want, *p, box)
			}
			outside++
			continue
		}
		if err := solvertest.Feasible(p, box, plan); err != nil {
			t.Fatalf("problem %d: %v\n%+v\n%+v\n%+v", k, err, *p, box, plan)
		}
		got := model.Cost(p, plan)
		if ok && got > want || !okOpen || got < least {
			t.Fatalf("problem %d: costs %d, the best in the box %d (%t), without lower ends %d (%t)\n%+v\n%+v\n%+v",
				k, got, want, ok, least, okOpen, *p, box, plan)
		}
		inside++
	}
	if inside < 100 || outside < 100 || lower < 100 {
		t.Errorf("%d with a plan, %d without, %d lower ends: too few of one kind", inside, outside, lower)
	}
}

func TestCutoff(t *testing.T) {
	r := rand.New(rand.NewPCG(51, 3))
	for k := range 150 {
		p := shape(6).Draw(r)
		box := bound.Full(p)
		want, ok := solvertest.Least(p, box)
		if !ok {
			continue
		}
		pats := patterns(p, true)
		for _, cutoff := range []int64{0, want / 2, want, want + 1, want + 2, want + 40} {
			plan, complete := solve(p, box, pats, cutoff, true, new(meter.Meter))
			if !complete {
				t.Fatalf("problem %d: not complete without a limit", k)
			}
			if cutoff <= want {
				if plan != nil {
					t.Fatalf("problem %d: cutoff %d, a plan of %d, the best %d", k, cutoff, model.Cost(p, plan), want)
				}
				continue
			}
			if plan == nil || model.Cost(p, plan) != want {
				t.Fatalf("problem %d: cutoff %d: plan %+v, the best costs %d\n%+v", k, cutoff, plan, want, *p)
			}
		}
	}
}

// A subset of the patterns: the optimum is that of choosing among them.
func TestSubsetOfPatterns(t *testing.T) {
	r := rand.New(rand.NewPCG(51, 4))
	found, none := 0, 0
	for k := range 250 {
		p := shape(7).Draw(r)
		box := bound.Full(p)
		pats := patterns(p, false)
		r.Shuffle(len(pats), func(i, j int) { pats[i], pats[j] = pats[j], pats[i] })
		pats = pats[:min(len(pats), 1+r.IntN(9))]
		best := int64(math.MaxInt64)
		left := make([]int64, len(p.Items))
		for i, it := range p.Items {
			left[i] = it.Demand
		}
		supply := slices.Clone(box.Hi)
		var rec func(j int, cost int64)
		rec = func(j int, cost int64) {
			if slices.Max(left) <= 0 {
				best = min(best, cost)
				return
			}
			if j == len(pats) {
				return
			}
			rec(j+1, cost)
			pat := pats[j]
			useful := slices.ContainsFunc(pat.Uses, func(u model.Use) bool { return left[u.Item] > 0 })
			if supply[pat.Bin] == 0 || !useful {
				return
			}
			supply[pat.Bin]--
			for _, u := range pat.Uses {
				left[u.Item] -= u.N
			}
			rec(j, cost+p.Bins[pat.Bin].Cost)
			for _, u := range pat.Uses {
				left[u.Item] += u.N
			}
			supply[pat.Bin]++
		}
		rec(0, 0)
		plan, complete := solve(p, box, pats, noCutoff, true, new(meter.Meter))
		if !complete {
			t.Fatalf("problem %d: not complete without a limit", k)
		}
		if best == math.MaxInt64 {
			none++
			if plan != nil {
				t.Fatalf("problem %d: a plan for an infeasible problem\n%+v\n%+v\n%+v", k, *p, pats, plan)
			}
			continue
		}
		found++
		if plan == nil || model.Cost(p, plan) != best {
			t.Fatalf("problem %d: plan %+v, the best costs %d\n%+v\n%+v", k, plan, best, *p, pats)
		}
		if err := solvertest.Feasible(p, box, plan); err != nil {
			t.Fatalf("problem %d: %v", k, err)
		}
	}
	if found < 60 || none < 60 {
		t.Errorf("%d with a plan, %d without: too few of one kind", found, none)
	}
}

func TestTinyMeter(t *testing.T) {
	r := rand.New(rand.NewPCG(51, 5))
	cut, some := 0, 0
	for k := range 200 {
		p := shape(9).Draw(r)
		box := bound.Full(p)
		pats := patterns(p, true)
		var all meter.Meter
		full, _ := solve(p, box, pats, noCutoff, true, &all)
		for _, part := range []int64{1, all.Used() / 10, all.Used() / 3, all.Used() / 2, all.Used() * 9 / 10, all.Used() - 1, all.Used() + 1} {
			m := new(meter.Meter).Sub(part)
			plan, complete := solve(p, box, pats, noCutoff, true, m)
			if complete && (m.Used() > part || (plan == nil) != (full == nil) ||
				plan != nil && model.Cost(p, plan) != model.Cost(p, full)) {
				t.Fatalf("problem %d: complete with %d of %d steps, but a different result", k, part, all.Used())
			}
			if !complete {
				cut++
			}
			if plan == nil {
				continue
			}
			some++
			if err := solvertest.Feasible(p, box, plan); err != nil {
				t.Fatalf("problem %d: %v\n%+v\n%+v", k, err, *p, plan)
			}
			if full == nil || model.Cost(p, plan) < model.Cost(p, full) {
				t.Fatalf("problem %d: better than the optimum", k)
			}
		}
	}
	if cut < 100 || some < 20 {
		t.Errorf("%d limited runs, %d plans: too few", cut, some)
	}
}

func TestNoPatterns(t *testing.T) {
	p := &model.Problem{Items: []model.Item{{Size: 2, Demand: 1}}, Bins: []model.Bin{{Cap: 3, Cost: 1, Limit: 1}}}
	if plan, complete := solve(p, bound.Full(p), nil, noCutoff, true, new(meter.Meter)); plan != nil || !complete {
		t.Errorf("plan %v, complete = %t from no patterns", plan, complete)
	}
}

// worked are published problems with their optimum; the gap between the
// relaxation, rounded up, and the optimum takes a search.
var worked = []struct {
	source string
	p      model.Problem
	want   int64
}{
	{"Belov's data file nIRUP: Fieldhouse (relaxation 149/30)", problem(30, 15, 3, 10, 5, 6, 9), 6},
	{"Belov's data file nIRUP: Gau and Waescher 1, small (relaxation 2.2)", problem(60, 30, 1, 22, 1, 20, 1, 19, 1, 12, 2), 3},
	{"Belov's data file nIRUP: Rietz model (relaxation 8.8)", problem(45, 27, 3, 23, 3, 15, 6, 11, 6, 9, 10), 9},
	{"V. Chvatal, Linear Programming, 1983, ch. 13", problem(100, 45, 97, 36, 610, 31, 395, 14, 211), 453},
	{"AMPL: A Modeling Language for Mathematical Programming, cut model", problem(110, 75, 8, 55, 10, 50, 24, 45, 35, 20, 48), 47},
	{"scipopt/PySCIPOpt issue 851, second", problem(4, 3, 3, 2, 4, 1, 4), 6},
	{"MiniZinc benchmark cutstock, after Kantorovich", problem(10, 7, 2, 5, 2, 3, 4), 4},
	{"F. D. Brandao, thesis, 2012, Example 1", problem(7, 5, 3, 3, 1, 2, 2), 4},
	{"Wikipedia, Cutting stock problem: paper machine, 5600 mm", problem(5600, 2200, 20, 2150, 18, 2140, 16, 2100, 14, 2050, 12,
		2000, 10, 1930, 20, 1880, 18, 1820, 18, 1710, 14, 1560, 12, 1520, 25, 1380, 22), 73},
}

func problem(cap int64, sizeDemand ...int64) model.Problem {
	var p model.Problem
	for k := 0; k < len(sizeDemand); k += 2 {
		p.Items = append(p.Items, model.Item{Size: sizeDemand[k], Demand: sizeDemand[k+1]})
	}
	p.Bins = []model.Bin{{Cap: cap, Cost: 1, Limit: p.Pieces()}}
	return p
}

func TestWorkedExamples(t *testing.T) {
	for _, w := range worked {
		p := &w.p
		box := bound.Full(p)
		plan, complete := solve(p, box, patterns(p, true), noCutoff, true, new(meter.Meter).Sub(300_000_000))
		if plan == nil || !complete {
			t.Errorf("%s: plan %v, complete = %t", w.source, plan, complete)
			continue
		}
		if err := solvertest.Feasible(p, box, plan); err != nil {
			t.Errorf("%s: %v", w.source, err)
		}
		if got := model.Cost(p, plan); got != w.want {
			t.Errorf("%s: %d sticks, want %d", w.source, got, w.want)
		}
	}
}

func BenchmarkSolve(b *testing.B) {
	p := problem(45, 27, 3, 23, 3, 15, 6, 11, 6, 9, 10)
	pats := patterns(&p, true)
	b.ReportAllocs()
	for b.Loop() {
		if _, complete := solve(&p, bound.Full(&p), pats, noCutoff, true, new(meter.Meter)); !complete {
			b.Fatal("not complete")
		}
	}
}
