package optimize_test

import (
	"context"
	"errors"
	"math"
	"testing"

	"example.com/longpoint/internal/solver"
	"example.com/longpoint/internal/solver/certificate"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

type solverFunc = func(context.Context, *rules.Problem, search.Options) search.Result

// spoiled runs the engine and changes its result.
func spoiled(change func(p *rules.Problem, r *search.Result)) solverFunc {
	return func(ctx context.Context, p *rules.Problem, o search.Options) search.Result {
		r := solver.Solve(ctx, p, o)
		change(p, &r)
		return r
	}
}

var wrongEngines = map[string]solverFunc{
	"a column lost":       spoiled(func(_ *rules.Problem, r *search.Result) { r.Patterns = r.Patterns[1:] }),
	"a column too much":   spoiled(func(_ *rules.Problem, r *search.Result) { r.Patterns = append(r.Patterns, r.Patterns[0]) }),
	"no columns":          spoiled(func(_ *rules.Problem, r *search.Result) { r.Patterns = []model.PatternCount{} }),
	"count 0":             spoiled(func(_ *rules.Problem, r *search.Result) { r.Patterns[0].Count = 0 }),
	"count too great":     spoiled(func(_ *rules.Problem, r *search.Result) { r.Patterns[0].Count = math.MaxInt64 }),
	"bin below":           spoiled(func(_ *rules.Problem, r *search.Result) { r.Patterns[0].Bin = -1 }),
	"bin above":           spoiled(func(p *rules.Problem, r *search.Result) { r.Patterns[0].Bin = len(p.Bins) }),
	"item below":          spoiled(func(_ *rules.Problem, r *search.Result) { r.Patterns[0].Uses = []model.Use{{Item: -1, N: 1}} }),
	"item above":          spoiled(func(p *rules.Problem, r *search.Result) { r.Patterns[0].Uses = []model.Use{{Item: len(p.Items), N: 1}} }),
	"item negative often": spoiled(func(_ *rules.Problem, r *search.Result) { r.Patterns[0].Uses = []model.Use{{Item: 0, N: -1}} }),
	"item too often": spoiled(func(_ *rules.Problem, r *search.Result) {
		r.Patterns[0].Uses = []model.Use{{Item: 0, N: math.MaxInt64}}
	}),
	"empty pattern": spoiled(func(_ *rules.Problem, r *search.Result) { r.Patterns[0].Uses = nil }),
	"all on one stick": spoiled(func(p *rules.Problem, r *search.Result) {
		c := model.PatternCount{Count: 1}
		for i, it := range p.Items {
			c.Uses = append(c.Uses, model.Use{Item: i, N: it.Demand})
		}
		r.Patterns = []model.PatternCount{c}
	}),
	"bound above cost": spoiled(func(_ *rules.Problem, r *search.Result) { r.Bound++ }),
	"proven for nothing": spoiled(func(_ *rules.Problem, r *search.Result) {
		r.Bound--
		r.LeafBound--
		r.Stop = search.Proven
	}),
	"leaf of another shape": spoiled(func(_ *rules.Problem, r *search.Result) { r.Leaves[0].Dual = nil }),
	"values too high": spoiled(func(_ *rules.Problem, r *search.Result) {
		for i := range r.Leaves[0].Dual {
			r.Leaves[0].Dual[i] *= 2
		}
	}),
	"box too small": spoiled(func(_ *rules.Problem, r *search.Result) { r.Leaves[0].Hi[0]-- }),
}

// TestEngineStops translates the possible answers of the engine.
func TestEngineStops(t *testing.T) {
	gap := func(stop search.Stop) solverFunc {
		return spoiled(func(_ *rules.Problem, r *search.Result) {
			r.Bound, r.LeafBound, r.Stop = 0, 0, stop
		})
	}
	nothing := func(stop search.Stop) solverFunc {
		return func(context.Context, *rules.Problem, search.Options) search.Result {
			return search.Result{Stop: stop, Work: 7}
		}
	}
	// A problem whose material bound falls short of its cost.
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 10 * inch, Price: 1}},
		Pieces: []stock.Piece{{Length: 6 * inch, Quantity: 3}},
	}
	for _, tt := range []struct {
		engine search.Stop
		want   optimize.Stop
	}{
		{search.WorkLimit, optimize.StopWork},
		{search.Stuck, optimize.StopExhausted},
		{search.Interrupted, optimize.StopCanceled},
		{0, optimize.StopUnknown},
	} {
		plan, err := optimize.SolveWith(context.Background(), p, nil, gap(tt.engine))
		if err != nil || plan.Stop != tt.want || plan.Proven || plan.Cost != 3 || plan.Bound != 2 {
			t.Errorf("engine's stop %d: plan %+v, error %v", tt.engine, plan, err)
			continue
		}
		// The material proves two sticks, whatever the engine knows.
		if plan.Proof.Kind() != optimize.ProofMaterial || optimize.Check(context.Background(), p, plan) != nil {
			t.Errorf("kind %v, check %v", plan.Proof.Kind(), optimize.Check(context.Background(), p, plan))
		}
		plan, err = optimize.SolveWith(context.Background(), p, nil, nothing(tt.engine))
		var le *optimize.LimitError
		if plan != nil || !errors.As(err, &le) || !errors.As(err, new(*optimize.LimitError)) || le.Stop != tt.want || le.Work != 7 {
			t.Errorf("engine's stop %d without a plan: plan %v, error %v", tt.engine, plan, err)
		}
	}

	cause := errors.New("the lumber yard closed")
	ctx, cancel := context.WithCancelCause(context.Background())
	plan, err := optimize.SolveWith(ctx, p, nil, func(context.Context, *rules.Problem, search.Options) search.Result {
		cancel(cause)
		return search.Result{Stop: search.Interrupted}
	})
	if plan != nil || !errors.As(err, new(*optimize.LimitError)) || !errors.Is(err, cause) {
		t.Errorf("canceled without a plan: %v, %v", plan, err)
	}
	if _, err := optimize.SolveWith(context.Background(), p, nil, func(context.Context, *rules.Problem, search.Options) search.Result {
		return search.Result{Infeasible: true}
	}); !errors.As(err, new(*optimize.InfeasibleError)) {
		t.Errorf("infeasible: %v", err)
	}
}

// TestEngineSees fixes the input of the engine: sizes with the kerf folded in, everything divided,
// equal lengths and equal sticks merged, limits added up and reduced to the number of pieces, in an
// order that does not depend on the order of the problem.
func TestEngineSees(t *testing.T) {
	p := optimize.Problem{
		Sticks: []stock.Stick{
			{Length: 96 * inch, Price: 900, Limit: 2},
			{Length: 144 * inch, Price: 1200},
			{Length: 98 * inch, Price: 900, Limit: 3, TrimStart: inch, TrimEnd: inch}, // as the first
			{Length: 96 * inch, Price: 600, Limit: 5000},
		},
		Pieces: []stock.Piece{
			{Length: 30 * inch, Quantity: 2},
			{Length: 40 * inch},
			{Length: 30 * inch, Quantity: 7},
		},
		Kerf: 2 * inch,
	}
	var saw model.Problem
	plan, err := optimize.SolveWith(context.Background(), p, &optimize.Options{Work: 12345}, func(ctx context.Context, m *rules.Problem, o search.Options) search.Result {
		saw = *m.Plain()
		if o.Work != 12345 {
			t.Errorf("work %d", o.Work)
		}
		return solver.Solve(ctx, m, o)
	})
	if err != nil || optimize.Check(context.Background(), p, plan) != nil {
		t.Fatal(err, optimize.Check(context.Background(), p, plan))
	}
	want := model.Problem{ // gcd of 42, 32, 146 and 98 inches: 2
		Items: []model.Item{{Size: 21, Demand: 1}, {Size: 16, Demand: 9}},
		Bins:  []model.Bin{{Cap: 73, Cost: 4, Limit: 10}, {Cap: 49, Cost: 2, Limit: 10}, {Cap: 49, Cost: 3, Limit: 5}},
	}
	if !equalModels(saw, want) {
		t.Errorf("the engine saw %+v, want %+v", saw, want)
	}
	for o, want := range map[*optimize.Options]int64{nil: optimize.DefaultWork, {}: optimize.DefaultWork, {Work: -3}: 0, {Work: 5}: 5} {
		optimize.SolveWith(context.Background(), p, o, func(_ context.Context, _ *rules.Problem, got search.Options) search.Result {
			if got.Work != want {
				t.Errorf("options %+v: work %d, want %d", o, got.Work, want)
			}
			return search.Result{}
		})
	}
}

func equalModels(a, b model.Problem) bool {
	if len(a.Items) != len(b.Items) || len(a.Bins) != len(b.Bins) {
		return false
	}
	for i := range a.Items {
		if a.Items[i] != b.Items[i] {
			return false
		}
	}
	for i := range a.Bins {
		if a.Bins[i] != b.Bins[i] {
			return false
		}
	}
	return true
}

// A search that turns out to be unnecessary, since the costs of its box are no less than the claim by now, leaves a proof
// without searches, which is a tree.
func TestUnnecessarySearch(t *testing.T) {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 100 * measure.Inch, Price: 10}, {Length: 60 * measure.Inch, Price: 7}},
		Pieces: []stock.Piece{{Length: 50 * measure.Inch, Quantity: 1}},
	}
	plan, err := optimize.SolveWith(context.Background(), p, nil, spoiled(func(q *rules.Problem, r *search.Result) {
		short := 0
		if q.Bins[1].Cap < q.Bins[0].Cap {
			short = 1
		}
		box := func(lo, hi int64, dual int64) search.Leaf {
			l := search.Leaf{Lo: []int64{0, 0}, Hi: []int64{1, 1}, Dual: []int64{dual}, Scale: 1}
			l.Lo[short], l.Hi[short] = lo, hi
			return l
		}
		with := box(1, 1, 0)
		nothing := &certificate.Vector{Items: []int64{0}, Classes: []int64{0, 0}, Scale: 1}
		with.Search = &certificate.Search{Filters: []certificate.Vector{{Scale: 1, Items: []int64{0}}}, Root: &certificate.Node{Vector: nothing}}
		r.Leaves, r.LeafBound = []search.Leaf{with, box(0, 0, 7)}, 0
	}))
	if err != nil {
		t.Fatal(err)
	}
	if kind := plan.Proof.Kind(); kind != optimize.ProofTree || !plan.Proven {
		t.Errorf("a proof of kind %v, proven: %t", kind, plan.Proven)
	}
	if err := optimize.Check(context.Background(), p, plan); err != nil {
		t.Error(err)
	}
}
