package replan_test

import (
	"context"
	"errors"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/replan"
	"example.com/longpoint/stock"
)

// Progress as large as the job is looked up, not searched: comparing everything with everything would
// run into the time limit of the whole test.
func TestHostileReplan(t *testing.T) {
	const n = 7_000 // with the stock on hand, nearly the limit of kinds of sticks
	var p optimize.Problem
	plan := &optimize.Plan{Cost: int64(7 * n)}
	for i := range n { // patterns of two pieces each, of as many kinds of sticks
		p.Sticks = append(p.Sticks, stock.Stick{Length: measure.Length(1000 + i), Price: 7})
		p.Pieces = append(p.Pieces, stock.Piece{Length: 400}, stock.Piece{Length: 500})
		plan.Buy = append(plan.Buy, optimize.Purchase{Stick: i, Count: 1, Cost: 7})
		plan.Patterns = append(plan.Patterns, optimize.Pattern{Stick: i, Count: 1, Pieces: []int{2 * i, 2*i + 1}, Offcut: measure.Length(100 + i)})
	}
	for i := range p.Sticks {
		p.Sticks[i].Limit = 2
	}
	var done replan.Progress
	for i := range n {
		done.Cut = append(done.Cut, 0)
		switch i % 4 {
		case 0:
			done.Cut[i] = 1
		case 1:
			done.Started = append(done.Started, replan.Started{Stick: i, Pieces: []int{2 * i}, Left: 500 + measure.Length(i)})
		case 2:
			done.Supply = append(done.Supply, replan.Supply{Stick: i, Left: 1})
		}
	}
	whole := 0
	for _, n := range []int{2, 5, 40, 1_000_000} {
		ctx := &looks{Context: context.Background(), left: n}
		rev, err := replan.Solve(ctx, p, plan, done, &optimize.Options{Work: 1})
		if err != nil {
			if !errors.Is(err, context.DeadlineExceeded) {
				t.Errorf("%d looks: %v", n, err)
			}
			continue
		}
		whole++
		if err := optimize.Check(context.Background(), rev.Problem, rev.Plan); err != nil {
			t.Errorf("%d looks: %v", n, err)
		}
		if ctx.after > 2_000 {
			t.Errorf("%d checks of a context that has ended", ctx.after)
		}
	}
	if whole == 0 {
		t.Error("no revision")
	}
}
