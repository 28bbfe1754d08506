package optimize_test

import (
	"context"
	"errors"
	"testing"
	"time"

	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
	"example.com/longpoint/optimize"
)

// silentContext is a context whose timer cannot fire because the search has the only thread: its
// deadline passes after a number of looks at it, its Err stays nil.
type silentContext struct {
	context.Context
	left int
}

func (c *silentContext) Deadline() (time.Time, bool) {
	if c.left--; c.left < 0 {
		return time.Unix(0, 0), true
	}
	return time.Date(2200, 1, 1, 0, 0, 0, 0, time.UTC), true
}

func TestDeadlineWithoutTimer(t *testing.T) {
	simple := openJob(t)
	ruled := simple
	ruled.Rules.MaxPieces = 12
	for _, tt := range []struct {
		name  string
		p     optimize.Problem
		looks []int
	}{{"plain", simple, []int{1, 2, 5, 20, 60}}, {"rules", ruled, []int{1, 20}}} {
		for _, looks := range tt.looks {
			plan, err := optimize.Solve(&silentContext{context.Background(), looks}, tt.p, &optimize.Options{Work: -1})
			if err != nil {
				t.Fatalf("%s, %d looks: %v", tt.name, looks, err)
			}
			if plan.Stop != optimize.StopDeadline || plan.Proven || plan.Bound <= 0 || plan.Bound >= plan.Cost {
				t.Errorf("%s, %d checks: stop %v, cost %d, bound %d", tt.name, looks, plan.Stop, plan.Cost, plan.Bound)
			}
			if err := optimize.Check(context.Background(), tt.p, plan); err != nil {
				t.Errorf("%s, %d looks: %v", tt.name, looks, err)
			}
		}
		if plan, err := optimize.Solve(&silentContext{context.Background(), 0}, tt.p, nil); plan != nil || !errors.Is(err, context.DeadlineExceeded) {
			t.Errorf("%s, past on entry: plan %t, %v", tt.name, plan != nil, err)
		}
	}

	var le *optimize.LimitError
	plan, err := optimize.SolveWith(&silentContext{context.Background(), 1}, sound(), nil, func(context.Context, *rules.Problem, search.Options) search.Result {
		return search.Result{Stop: search.Interrupted}
	})
	if plan != nil || !errors.As(err, &le) || le.Stop != optimize.StopDeadline || !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("without a plan: %v, %v", plan, err)
	}
}

// A deadline that passes after the work was used up did not end the search.
func TestLimitErrorNamesOneCause(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	_, err := optimize.SolveWith(ctx, sound(), nil, func(context.Context, *rules.Problem, search.Options) search.Result {
		cancel()
		return search.Result{Stop: search.WorkLimit}
	})
	var le *optimize.LimitError
	if !errors.As(err, &le) || le.Stop != optimize.StopWork || le.Cause != nil || errors.Is(err, context.Canceled) {
		t.Errorf("%+v", err)
	}
}

// If the context has a deadline and no work limit is given, only the deadline counts, in both engines.
func TestDeadlineInsteadOfDefaultWork(t *testing.T) {
	soon, cancel := context.WithTimeout(context.Background(), time.Hour)
	defer cancel()
	for _, tt := range []struct {
		ctx  context.Context
		o    *optimize.Options
		want int64
	}{
		{nil, nil, optimize.DefaultWork},
		{context.Background(), nil, optimize.DefaultWork},
		{context.Background(), &optimize.Options{}, optimize.DefaultWork},
		{context.Background(), &optimize.Options{Work: 7}, 7},
		{context.Background(), &optimize.Options{Work: -1}, 0},
		{soon, nil, 0},
		{soon, &optimize.Options{}, 0},
		{soon, &optimize.Options{Work: 7}, 7},
		{soon, &optimize.Options{Work: -1}, 0},
	} {
		if got := optimize.WorkLimit(tt.ctx, tt.o); got != tt.want {
			t.Errorf("%v, %+v: work %d, want %d", tt.ctx, tt.o, got, tt.want)
		}
	}
	optimize.SolveWith(soon, sound(), &optimize.Options{}, func(_ context.Context, _ *rules.Problem, o search.Options) search.Result {
		if o.Work != 0 {
			t.Errorf("the engine may take only %d steps", o.Work)
		}
		return search.Result{}
	})
}
