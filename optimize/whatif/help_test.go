package whatif_test

import (
	"context"
	"errors"
	"math/rand/v2"
	"testing"
	"time"

	"example.com/longpoint/internal/trimjob"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/internal/bridge"
	"example.com/longpoint/optimize/internal/brute"
	"example.com/longpoint/stock"
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

// unit returns the number of which every cost is a multiple by a plan's proof, if the proof concerns
// the stick.
func unit(t *testing.T, p *optimize.Problem, plan *optimize.Plan, s *stock.Stick) int64 {
	t.Helper()
	_, n, ok := bridge.Enter(context.Background(), p, plan, s)
	if !ok {
		t.Fatalf("a break-even for %+v, which the proof does not determine\n%s", s, written(p))
	}
	return n
}

// openJob is a house that remains open for far longer than a test may take.
func openJob(t *testing.T) optimize.Problem {
	t.Helper()
	j, err := trimjob.Generate("house", 1012, "house-13")
	if err != nil {
		t.Fatal(err)
	}
	return problem(j)
}

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
