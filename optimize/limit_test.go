package optimize_test

import (
	"context"
	"errors"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"example.com/longpoint/internal/trimjob"
	"example.com/longpoint/optimize"
)

// openJob is a house that remains open for far longer than a test may take.
func openJob(t *testing.T) optimize.Problem {
	t.Helper()
	j, err := trimjob.Generate("house", 1008, "house-09")
	if err != nil {
		t.Fatal(err)
	}
	return problem(j)
}

func TestWorkLimit(t *testing.T) {
	p := openJob(t)
	var last *optimize.Plan
	for work := int64(1); work < 60_000_000; work *= 8 {
		o := &optimize.Options{Work: work}
		plan, err := optimize.Solve(context.Background(), p, o)
		if err != nil {
			t.Fatal(err)
		}
		if err := optimize.Check(context.Background(), p, plan); err != nil {
			t.Fatalf("work %d: %v", work, err)
		}
		if plan.Proven || plan.Stop != optimize.StopWork {
			t.Fatalf("work %d: proven %v, stop %v", work, plan.Proven, plan.Stop)
		}
		if work < 10_000_000 {
			again, err := optimize.Solve(context.Background(), p, o)
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(plan, again); d != "" {
				t.Fatalf("work %d: -first +second\n%s", work, d)
			}
		}
		if last != nil && (plan.Cost > last.Cost || plan.Bound < last.Bound) {
			t.Errorf("work %d: cost %d, bound %d; with less work %d, %d", work, plan.Cost, plan.Bound, last.Cost, last.Bound)
		}
		last = plan
	}
}

// TestWorkEnds ends searches in all of their rooms.
func TestWorkEnds(t *testing.T) {
	t.Parallel()
	houses := trimjob.OfClass("house")
	if testing.Short() {
		houses = houses[10:11]
	}
	for _, k := range houses {
		for work := int64(5_000_000); work <= 40_000_000; work += 5_000_000 {
			p := problem(k.Job())
			plan, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: work})
			if err != nil {
				t.Fatalf("%s, work %d: %v", k.Name, work, err)
			}
			if err := optimize.Check(context.Background(), p, plan); err != nil {
				t.Errorf("%s, work %d: %v", k.Name, work, err)
			}
		}
	}
}

func TestDoneOnEntry(t *testing.T) {
	p := sound()
	cause := errors.New("the power is out")
	ctx, cancel := context.WithCancelCause(context.Background())
	cancel(cause)
	if plan, err := optimize.Solve(ctx, p, nil); plan != nil || err != cause {
		t.Errorf("canceled: %v, %v", plan, err)
	}
	past, cancelPast := context.WithDeadline(context.Background(), time.Unix(0, 0))
	defer cancelPast()
	if plan, err := optimize.Solve(past, p, nil); plan != nil || !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("past deadline: %v, %v", plan, err)
	}
	var none context.Context
	if plan, err := optimize.Solve(none, p, nil); err != nil || !plan.Proven {
		t.Errorf("nil context: %v, %v", plan, err)
	}
}

// stepContext is done after a number of looks at it.
type stepContext struct {
	context.Context
	left int
	err  error
}

func (c *stepContext) Err() error {
	if c.left--; c.left < 0 {
		return c.err
	}
	return nil
}

func TestContextEnds(t *testing.T) {
	p := openJob(t)
	for _, tt := range []struct {
		err  error
		want optimize.Stop
	}{
		{context.Canceled, optimize.StopCanceled},
		{context.DeadlineExceeded, optimize.StopDeadline},
	} {
		for _, steps := range []int{1, 2, 5, 20, 60} {
			ctx := &stepContext{context.Background(), steps, tt.err}
			plan, err := optimize.Solve(ctx, p, &optimize.Options{Work: -1})
			if err != nil {
				t.Fatalf("%v after %d looks: %v", tt.err, steps, err)
			}
			if plan.Stop != tt.want || plan.Proven || plan.Bound <= 0 || plan.Bound >= plan.Cost {
				t.Errorf("%v after %d checks: stop %v, cost %d, bound %d", tt.err, steps, plan.Stop, plan.Cost, plan.Bound)
			}
			if err := optimize.Check(context.Background(), p, plan); err != nil {
				t.Errorf("%v after %d looks: %v", tt.err, steps, err)
			}
		}
	}
}
