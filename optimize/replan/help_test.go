package replan_test

import (
	"context"
	"errors"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/trimjob"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/internal/brute"
)

const u = brute.U

type feature = brute.Feature

var (
	bruteSolve = brute.Solve
	written    = brute.Written
	features   = brute.Features
	tinyBase   = brute.Base
	bothAdded  = brute.Both
)

func oneOf[T any](r *rand.Rand, of ...T) T { return brute.OneOf(r, of...) }

func problem(j trimjob.Job) optimize.Problem {
	return optimize.Problem{Sticks: j.Sticks(), Pieces: j.Wanted(), Kerf: j.SawKerf()}
}

func mustSolve(t testing.TB, p optimize.Problem) *optimize.Plan {
	t.Helper()
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		t.Fatalf("Solve: %v\n%#v", err, p)
	}
	if err := optimize.Check(context.Background(), p, plan); err != nil {
		t.Fatalf("Check: %v\n%#v\n%+v", err, p, plan)
	}
	return plan
}

func isField(err error) bool {
	var fe *measure.FieldError
	return errors.As(err, &fe)
}

// looks is a context that ends at the nth look at it, and counts those after.
type looks struct {
	context.Context
	left, after int
}

func (c *looks) Err() error {
	if c.left--; c.left > 0 {
		return nil
	}
	c.after++
	return context.DeadlineExceeded
}
