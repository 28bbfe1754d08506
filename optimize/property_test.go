package optimize_test

import (
	"context"
	"errors"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/longpoint/internal/solver"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// drawProblem draws a problem of a room's size: too large for brute force,
// small enough to be proven at once.
func drawProblem(t *rapid.T) optimize.Problem {
	var p optimize.Problem
	sixteenth := inch / 16
	p.Kerf = measure.Length(rapid.IntRange(0, 3).Draw(t, "kerf")) * sixteenth
	priced := rapid.Bool().Draw(t, "priced")
	long := 0
	for i := range rapid.IntRange(1, 4).Draw(t, "sticks") {
		l := rapid.IntRange(100, 400).Draw(t, "stick")
		s := stock.Stick{Length: measure.Length(l) * sixteenth}
		if priced {
			s.Price = int64(rapid.IntRange(0, 50).Draw(t, "price"))
		}
		if rapid.IntRange(0, 3).Draw(t, "trimmed") == 0 {
			s.TrimStart, s.TrimEnd = sixteenth, 2*sixteenth
		}
		if i > 0 { // the first has no limit, so that there always is a plan
			s.Limit = rapid.IntRange(0, 5).Draw(t, "limit")
		} else {
			long = l - 3
		}
		p.Sticks = append(p.Sticks, s)
	}
	for range rapid.IntRange(1, 8).Draw(t, "pieces") {
		p.Pieces = append(p.Pieces, stock.Piece{
			Length:   measure.Length(rapid.IntRange(20, long).Draw(t, "piece")) * sixteenth,
			Quantity: rapid.IntRange(0, 5).Draw(t, "quantity"),
		})
	}
	owned(&p)
	return p
}

// solved solves and checks. Problems that are not proven are skipped: the properties do not concern
// them.
func solved(t *rapid.T, p optimize.Problem) *optimize.Plan {
	plan, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: 20_000_000})
	if err != nil {
		t.Fatalf("%v\n%#v", err, p)
	}
	if err := optimize.Check(context.Background(), p, plan); err != nil {
		t.Fatalf("%v\n%#v\n%+v", err, p, plan)
	}
	if plan.Bound > plan.Cost {
		t.Fatalf("cost %d below bound %d", plan.Cost, plan.Bound)
	}
	return plan
}

func TestOrderDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t)
		plan := solved(t, p)
		q := optimize.Problem{
			Sticks: rapid.Permutation(p.Sticks).Draw(t, "order of sticks"),
			Pieces: rapid.Permutation(p.Pieces).Draw(t, "order of pieces"),
			Kerf:   p.Kerf,
		}
		other := solved(t, q)
		if plan.Cost != other.Cost || plan.Bound != other.Bound || plan.Sticks() != other.Sticks() ||
			longestOffcut(plan) != longestOffcut(other) || plan.Work != other.Work {
			t.Fatalf("cost %d, bound %d; in another order %d, %d", plan.Cost, plan.Bound, other.Cost, other.Bound)
		}
	})
}

func TestMoreSticksNeverCostMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t)
		plan := solved(t, p)
		more := stock.Stick{
			Length: measure.Length(rapid.IntRange(20, 500).Draw(t, "more")) * inch / 16,
			Limit:  rapid.IntRange(0, 3).Draw(t, "more limit"),
		}
		if !plan.ByLength {
			more.Price = int64(rapid.IntRange(0, 60).Draw(t, "more price"))
			more.Rack = more.Price == 0
		}
		p.Sticks = append(slices.Clone(p.Sticks), more)
		other := solved(t, p)
		if other.Bound > plan.Cost {
			t.Fatalf("bound %d above %d, the cost without the last stick", other.Bound, plan.Cost)
		}
		if plan.Proven && other.Proven && other.Cost > plan.Cost {
			t.Fatalf("cost %d, with one more kind of stick %d", plan.Cost, other.Cost)
		}
	})
}

func TestScaleDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t)
		plan := solved(t, p)
		k := measure.Length(rapid.IntRange(2, 1000).Draw(t, "scale"))
		q := optimize.Problem{Sticks: slices.Clone(p.Sticks), Pieces: slices.Clone(p.Pieces), Kerf: k * p.Kerf}
		for i := range q.Sticks {
			q.Sticks[i].Length *= k
			q.Sticks[i].TrimStart *= k
			q.Sticks[i].TrimEnd *= k
		}
		for i := range q.Pieces {
			q.Pieces[i].Length *= k
		}
		want := sameParts(plan)
		for i := range want.Patterns {
			want.Patterns[i].Offcut *= k
		}
		if want.ByLength {
			want.Cost *= int64(k)
			want.Bound *= int64(k)
			for i := range want.Buy {
				want.Buy[i].Cost *= int64(k)
			}
			forge(t, want, func(pr *optimize.OpenProof) { pr.Unit, pr.LeafBound = pr.Unit*int64(k), pr.LeafBound*int64(k) })
		}
		if d := cmp.Diff(want, solved(t, q)); d != "" {
			t.Fatalf("-scaled plan +plan of the scaled problem\n%s", d)
		}
	})
}

func sameParts(plan *optimize.Plan) *optimize.Plan {
	out := *plan
	out.Patterns = slices.Clone(plan.Patterns)
	return &out
}

// TestListingDoesNotMatter writes each piece of several as several pieces, and
// each stick with a limit as several sticks.
func TestListingDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t)
		plan := solved(t, p)
		q := optimize.Problem{Kerf: p.Kerf}
		for _, s := range p.Sticks {
			for n := s.Limit; n > 1; n-- {
				one := s
				one.Limit = 1
				q.Sticks = append(q.Sticks, one)
				s.Limit = n - 1
			}
			q.Sticks = append(q.Sticks, s)
		}
		for _, pc := range p.Pieces {
			for range max(1, pc.Quantity) {
				q.Pieces = append(q.Pieces, stock.Piece{Length: pc.Length})
			}
		}
		other := solved(t, q)
		if plan.Cost != other.Cost || plan.Bound != other.Bound || plan.Work != other.Work {
			t.Fatalf("cost %d, bound %d; listed one by one %d, %d", plan.Cost, plan.Bound, other.Cost, other.Bound)
		}
	})
}

// TestSamePlan solves the same problem twice, to the last field.
func TestSamePlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t)
		if d := cmp.Diff(solved(t, p), solved(t, p)); d != "" {
			t.Fatalf("-first +second\n%s", d)
		}
	})
}

// TestHugeCounts decodes quantities that could not be listed: a plan must stay a handful of patterns
// however many pieces there are, and however many entries of the problem share a length or a kind of
// stick.
func TestHugeCounts(t *testing.T) {
	for seed := range uint64(120) {
		r := rand.New(rand.NewPCG(seed, 5))
		p := optimize.Problem{Kerf: measure.Length(r.IntN(3))}
		for range 1 + r.IntN(3) {
			l, limit := measure.Length(50+r.IntN(100)), r.IntN(2)
			for range 1 + r.IntN(3) {
				p.Sticks = append(p.Sticks, stock.Stick{Length: l, Price: int64(l) / 7, Limit: limit * r.IntN(1000)})
			}
		}
		p.Sticks = append(p.Sticks, stock.Stick{Length: 90, Price: 13})
		for range 1 + r.IntN(4) {
			l := measure.Length(10 + r.IntN(80))
			for range 1 + r.IntN(3) {
				p.Pieces = append(p.Pieces, stock.Piece{Length: l, Quantity: 1 + r.IntN(1<<r.IntN(31))})
			}
		}
		columns := 0
		plan, err := optimize.SolveWith(context.Background(), p, &optimize.Options{Work: 3_000_000},
			func(ctx context.Context, m *rules.Problem, o search.Options) search.Result {
				res := solver.Solve(ctx, m, o)
				columns = len(res.Patterns)
				return res
			})
		if err == nil {
			err = optimize.Check(context.Background(), p, plan)
		}
		if err != nil {
			t.Fatalf("seed %d: %v\n%#v", seed, err, p)
		}
		if most := columns + len(p.Sticks) + 2*len(p.Pieces); len(plan.Patterns) > most {
			t.Errorf("seed %d: %d patterns from %d columns, %d sticks and %d pieces", seed, len(plan.Patterns), columns, len(p.Sticks), len(p.Pieces))
		}
		if !slices.IsSortedFunc(plan.Patterns, func(a, b optimize.Pattern) int { return a.Stick - b.Stick }) {
			t.Errorf("seed %d: patterns are not in the order of the sticks", seed)
		}
		for _, pat := range plan.Patterns {
			if !slices.IsSortedFunc(pat.Pieces, func(a, b int) int {
				if d := p.Pieces[a].Length - p.Pieces[b].Length; d != 0 {
					return int(d)
				}
				return a - b
			}) {
				t.Errorf("seed %d: pieces are not in cutting order: %v", seed, pat.Pieces)
			}
		}
	}
}

// TestSticksInOrder uses sticks of one kind in the order of the list.
func TestSticksInOrder(t *testing.T) {
	p := optimize.Problem{
		Sticks: []stock.Stick{
			{Label: "shed", Length: 96 * inch, Price: 5, Limit: 1},
			{Label: "porch", Length: 96 * inch, Price: 5, Limit: 2},
			{Label: "yard", Length: 96 * inch, Price: 5},
		},
		Pieces: []stock.Piece{
			{Label: "a", Length: 40 * inch, Quantity: 3},
			{Label: "b", Length: 40 * inch, Quantity: 4},
			{Label: "c", Length: 40 * inch, Quantity: 3},
		},
	}
	plan := mustSolve(t, p)
	want := []optimize.Pattern{
		{Stick: 0, Count: 1, Pieces: []int{0, 0}, Offcut: 16 * inch},
		{Stick: 1, Count: 1, Pieces: []int{0, 1}, Offcut: 16 * inch},
		{Stick: 1, Count: 1, Pieces: []int{1, 1}, Offcut: 16 * inch},
		{Stick: 2, Count: 1, Pieces: []int{1, 2}, Offcut: 16 * inch},
		{Stick: 2, Count: 1, Pieces: []int{2, 2}, Offcut: 16 * inch},
	}
	if d := cmp.Diff(want, plan.Patterns); d != "" {
		t.Errorf("-want +got\n%s", d)
	}
}

// TestNames spells every value of every enumeration and reads it back.
func TestNames(t *testing.T) {
	check := func(v interface {
		String() string
		MarshalText() ([]byte, error)
	}, back func([]byte) (any, error)) {
		t.Helper()
		b, err := v.MarshalText()
		if err != nil || string(b) != v.String() {
			t.Errorf("%#v: text %q, error %v", v, b, err)
		}
		if got, err := back(b); err != nil || got != any(v) {
			t.Errorf("%#v: read back as %#v, error %v", v, got, err)
		}
		if _, err := back([]byte("no such thing")); err == nil {
			t.Errorf("%T: accepted nonsense", v)
		}
	}
	for v := range optimize.StopExhausted + 1 {
		check(v, func(b []byte) (any, error) { var x optimize.Stop; err := x.UnmarshalText(b); return x, err })
	}
	for n := range 4 {
		v := optimize.Turn{EndForEnd: n&1 > 0, Rolled: n&2 > 0}
		check(v, func(b []byte) (any, error) { var x optimize.Turn; err := x.UnmarshalText(b); return x, err })
	}
	for v := range optimize.ProofPacking + 1 {
		check(v, func(b []byte) (any, error) { var x optimize.ProofKind; err := x.UnmarshalText(b); return x, err })
	}
	for v := range optimize.GoalSplices + 1 {
		check(v, func(b []byte) (any, error) { var x optimize.Goal; err := x.UnmarshalText(b); return x, err })
	}
	for v := range optimize.GroupOneLot + 1 {
		check(v, func(b []byte) (any, error) { var x optimize.GroupKind; err := x.UnmarshalText(b); return x, err })
	}
	for v, text := range map[interface {
		String() string
		MarshalText() ([]byte, error)
	}]string{optimize.Stop(99): "Stop(99)", optimize.Goal(9): "Goal(9)", optimize.GroupKind(7): "GroupKind(7)", optimize.ProofKind(99): "ProofKind(99)"} {
		var bad *measure.FieldError
		if _, err := v.MarshalText(); v.String() != text || !errors.As(err, &bad) || !strings.Contains(text, "("+bad.Value+")") || bad.Want == "" {
			t.Errorf("%v, want %s: %v", v, text, err)
		}
	}
	var g optimize.Goal
	var bad *measure.FieldError
	if err := g.UnmarshalText([]byte("best looks")); !errors.As(err, &bad) || bad.Value != "best looks" || !strings.Contains(bad.Want, "least cost, fewest sticks") {
		t.Error(err)
	}
	err := error(&optimize.InternalError{Err: errors.New("x")})
	if err.Error() != "optimize: internal error: x" {
		t.Error(err)
	}
}
