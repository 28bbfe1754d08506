package optimize_test

import (
	"context"
	"errors"
	"math"
	"testing"

	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/plain"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

type engineFunc = func(context.Context, *model.Problem, plain.Options) plain.Result

// spoiled runs the engine and changes its result.
func spoiled(change func(p *model.Problem, r *plain.Result)) engineFunc {
	return func(ctx context.Context, p *model.Problem, o plain.Options) plain.Result {
		r := plain.Solve(ctx, p, o)
		change(p, &r)
		return r
	}
}

var wrongEngines = map[string]engineFunc{
	"a column lost":       spoiled(func(_ *model.Problem, r *plain.Result) { r.Columns = r.Columns[1:] }),
	"a column too much":   spoiled(func(_ *model.Problem, r *plain.Result) { r.Columns = append(r.Columns, r.Columns[0]) }),
	"no columns":          spoiled(func(_ *model.Problem, r *plain.Result) { r.Columns = []model.PatternCount{} }),
	"count 0":             spoiled(func(_ *model.Problem, r *plain.Result) { r.Columns[0].Count = 0 }),
	"count too great":     spoiled(func(_ *model.Problem, r *plain.Result) { r.Columns[0].Count = math.MaxInt64 }),
	"bin below":           spoiled(func(_ *model.Problem, r *plain.Result) { r.Columns[0].Bin = -1 }),
	"bin above":           spoiled(func(p *model.Problem, r *plain.Result) { r.Columns[0].Bin = len(p.Bins) }),
	"item below":          spoiled(func(_ *model.Problem, r *plain.Result) { r.Columns[0].Uses = []model.Use{{Item: -1, N: 1}} }),
	"item above":          spoiled(func(p *model.Problem, r *plain.Result) { r.Columns[0].Uses = []model.Use{{Item: len(p.Items), N: 1}} }),
	"item negative often": spoiled(func(_ *model.Problem, r *plain.Result) { r.Columns[0].Uses = []model.Use{{Item: 0, N: -1}} }),
	"item too often":      spoiled(func(_ *model.Problem, r *plain.Result) { r.Columns[0].Uses = []model.Use{{Item: 0, N: math.MaxInt64}} }),
	"empty pattern":       spoiled(func(_ *model.Problem, r *plain.Result) { r.Columns[0].Uses = nil }),
	"all on one stick": spoiled(func(p *model.Problem, r *plain.Result) {
		c := model.PatternCount{Count: 1}
		for i, it := range p.Items {
			c.Uses = append(c.Uses, model.Use{Item: i, N: it.Demand})
		}
		r.Columns = []model.PatternCount{c}
	}),
	"bound above cost": spoiled(func(_ *model.Problem, r *plain.Result) { r.Bound++ }),
	"proven for nothing": spoiled(func(_ *model.Problem, r *plain.Result) {
		r.Bound--
		r.LeafBound--
		r.Stop = plain.Proven
	}),
	"leaf of another shape": spoiled(func(_ *model.Problem, r *plain.Result) { r.Leaves[0].Dual = nil }),
	"values too high": spoiled(func(_ *model.Problem, r *plain.Result) {
		for i := range r.Leaves[0].Dual {
			r.Leaves[0].Dual[i] *= 2
		}
	}),
	"box too small": spoiled(func(_ *model.Problem, r *plain.Result) { r.Leaves[0].Hi[0]-- }),
}

// TestEngineStops translates what the engine may answer.
func TestEngineStops(t *testing.T) {
	gap := func(stop plain.Stop) engineFunc {
		return spoiled(func(_ *model.Problem, r *plain.Result) {
			r.Bound, r.LeafBound, r.Stop = 0, 0, stop
		})
	}
	nothing := func(stop plain.Stop) engineFunc {
		return func(context.Context, *model.Problem, plain.Options) plain.Result {
			return plain.Result{Stop: stop, Work: 7}
		}
	}
	// A problem whose material bound falls short of its cost.
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 10 * inch, Price: 1}},
		Pieces: []stock.Piece{{Length: 6 * inch, Quantity: 3}},
	}
	for _, tt := range []struct {
		engine plain.Stop
		want   optimize.Stop
	}{
		{plain.WorkLimit, optimize.StopWork},
		{plain.Stuck, optimize.StopExhausted},
		{plain.Interrupted, optimize.StopCanceled},
		{0, optimize.StopUnknown},
	} {
		plan, err := optimize.SolveWith(context.Background(), p, nil, gap(tt.engine))
		if err != nil || plan.Stop != tt.want || plan.Proven || plan.Cost != 3 || plan.Bound != 2 {
			t.Errorf("engine's stop %d: plan %+v, error %v", tt.engine, plan, err)
			continue
		}
		// The material shows two sticks, whatever the engine knows.
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
	plan, err := optimize.SolveWith(ctx, p, nil, func(context.Context, *model.Problem, plain.Options) plain.Result {
		cancel(cause)
		return plain.Result{Stop: plain.Interrupted}
	})
	if plan != nil || !errors.As(err, new(*optimize.LimitError)) || !errors.Is(err, cause) {
		t.Errorf("canceled without a plan: %v, %v", plan, err)
	}
	if _, err := optimize.SolveWith(context.Background(), p, nil, func(context.Context, *model.Problem, plain.Options) plain.Result {
		return plain.Result{Infeasible: true}
	}); !errors.As(err, new(*optimize.InfeasibleError)) {
		t.Errorf("infeasible: %v", err)
	}
}

// TestEngineSees pins what the engine is given: sizes with the kerf folded in,
// everything divided, equal lengths and equal sticks merged, limits added up
// and cut to the number of pieces, in an order that does not depend on how the
// problem is listed.
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
	plan, err := optimize.SolveWith(context.Background(), p, &optimize.Options{Work: 12345}, func(ctx context.Context, m *model.Problem, o plain.Options) plain.Result {
		saw = *m
		if o.Work != 12345 {
			t.Errorf("work %d", o.Work)
		}
		return plain.Solve(ctx, m, o)
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
		optimize.SolveWith(context.Background(), p, o, func(_ context.Context, _ *model.Problem, got plain.Options) plain.Result {
			if got.Work != want {
				t.Errorf("options %+v: work %d, want %d", o, got.Work, want)
			}
			return plain.Result{}
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
