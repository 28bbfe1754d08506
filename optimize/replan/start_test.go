package replan

import (
	"context"
	"errors"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/meter"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/internal/begin"
	"example.com/longpoint/optimize/internal/brute"
)

// partly is a partly done job: some sticks are cut, one is started, a piece is spoiled.
func partly(r *rand.Rand, p *optimize.Problem, plan *optimize.Plan) Progress {
	d := Progress{Cut: make([]int, len(plan.Patterns))}
	for k := range plan.Patterns {
		if d.Cut[k] = r.IntN(plan.Patterns[k].Count + 1); d.Cut[k] > 0 && len(d.Spoiled) == 0 && r.IntN(3) == 0 {
			d.Spoiled = []Spoiled{{Piece: plan.Patterns[k].Pieces[0]}}
		}
	}
	if k := r.IntN(len(plan.Patterns)); d.Cut[k] < plan.Patterns[k].Count && r.IntN(2) == 0 {
		s := plan.Patterns[k].Stick
		d.Started = []Started{{Stick: s, Left: measure.Length(r.Int64N(int64(clearest(&p.Sticks[s])) + 1))}}
	}
	return d
}

// The rest of the old plan is a start that Solve accepts, except for parts that can no longer be
// held; the least cost is the same with it.
func TestBeginsFromTheOldPlan(t *testing.T) {
	ctx := context.Background()
	compared, taken, parts := 0, 0, 0
	for a := range brute.Features {
		for b := range a + 1 {
			r := rand.New(rand.NewPCG(uint64(a), uint64(b)))
			p := brute.Both(a, b, uint64(10))
			plan, err := optimize.Solve(ctx, p, nil)
			if err != nil {
				continue
			}
			done := partly(r, &p, plan)
			with, err := solve(ctx, p, plan, done, nil, true)
			without, err2 := solve(ctx, p, plan, done, nil, false)
			if (err == nil) != (err2 == nil) {
				t.Errorf("%v with a start, %v without\n%s", err, err2, brute.Written(&p))
			}
			if err != nil || err2 != nil || with.Plan == nil {
				continue
			}
			if err := optimize.Check(ctx, with.Problem, with.Plan); err != nil {
				t.Errorf("%v\n%s", err, brute.Written(&p))
			}
			if with.Proven && without.Proven && with.Cost != without.Cost || with.Bound > without.Cost || without.Bound > with.Cost {
				t.Errorf("cost %d, bound %d with a start, %d and %d without\n%+v\n%s", with.Cost, with.Bound, without.Cost, without.Bound, done, brute.Written(&p))
			}
			if with.Proven && without.Proven {
				compared++
			}
			q := &replan{p: &p, old: plan, done: &done, mt: meter.New(ctx, 0)}
			q.tries = q.mt.First(keepGrace).Sub(keepTries)
			if err := errors.Join(q.count(), q.remain()); err != nil {
				t.Fatal(err)
			}
			q.begin()
			q.fill()
			start := q.start()
			if start == nil {
				continue
			}
			_, err = optimize.Solve(ctx, q.rev.Problem, &optimize.Options{Work: 1, Start: start})
			if !fault.Any(err) {
				taken++
				continue
			}
			// The rest of a stick may be too short to hold.
			if p.Rules.MinHold == 0 {
				t.Errorf("%v\n%+v\n%s", err, done, brute.Written(&p))
			}
			if _, err = begin.Solve(ctx, q.rev.Problem, &optimize.Options{Work: 1}, start); fault.Any(err) {
				t.Errorf("%v of a part\n%+v\n%s", err, done, brute.Written(&p))
			}
			parts++
		}
	}
	if compared < 60 || taken < 50 || parts == 0 {
		t.Errorf("%d compared, %d starts accepted, %d partly: this tests little", compared, taken, parts)
	}
}
