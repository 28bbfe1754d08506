package schedule_test

import (
	"context"
	"errors"
	"math"
	"testing"

	"example.com/longpoint/finish/schedule"
)

// endsAfter is a context that ends after some calls of Err: a deadline without a clock.
type endsAfter struct {
	context.Context
	calls *int
}

func (c endsAfter) Err() error {
	if *c.calls--; *c.calls < 0 {
		return context.Canceled
	}
	return nil
}

// A search of any length ends soon after its context, with a schedule that is as good as the
// first passes make it, and a bound.
func TestContextEndsSearch(t *testing.T) {
	for seed := range uint64(20) {
		activities, cal := trimNetwork(seed, 3+int(seed)%10)
		usual, err := schedule.Build(context.Background(), activities, cal, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, calls := range []int{1, 2, 50} {
			got, err := schedule.Build(endsAfter{context.Background(), &calls}, activities, cal, &schedule.Options{Work: math.MaxInt64 / 2})
			if err != nil {
				t.Fatal(err)
			}
			if len(got.Slots) != len(activities) || got.Bound.After(got.Done) || got.Proven != got.Bound.Equal(got.Done) || got.Bound.After(usual.Done) {
				t.Fatalf("seed %d: done %v, bound %v, proven %v", seed, got.Done, got.Bound, got.Proven)
			}
			if !got.Proven && calls >= 0 {
				t.Fatalf("seed %d: the search ended by itself, unproven, with any work", seed)
			}
		}
	}
}

func TestContextEndedBefore(t *testing.T) {
	cause := errors.New("the phone rang")
	ctx, cancel := context.WithCancelCause(context.Background())
	cancel(cause)
	activities, cal := trimNetwork(1, 2)
	if s, err := schedule.Build(ctx, activities, cal, nil); s != nil || !errors.Is(err, cause) {
		t.Errorf("%v, error %v, want the cause", s, err)
	}
}
