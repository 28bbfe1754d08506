package replan_test

import (
	"context"
	"errors"
	"math"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/replan"
	"example.com/longpoint/stock"
)

// Refunds that would overflow the difference are rejected; the greatest that do not are right to the
// cent.
func TestReplanGreatRefunds(t *testing.T) {
	ten := stock.Stick{Length: 10 * measure.Foot, Price: math.MaxInt64}
	p := optimize.Problem{Sticks: []stock.Stick{ten, ten}, Pieces: []stock.Piece{{Length: 9 * measure.Foot}}}
	for _, c := range []struct{ price, refund int64 }{
		{math.MaxInt64, 0}, {math.MaxInt64 - 5, 5}, {math.MaxInt64 - 1<<59, 1 << 59}, {7, 1<<60 - 1},
	} {
		p.Sticks[0].Price, p.Sticks[1].Price = c.price, c.price
		plan := mustSolve(t, p)
		// The piece comes from the other stick, so one more can be returned.
		other := 1 - plan.Patterns[0].Stick
		done := replan.Progress{
			Started: []replan.Started{{Stick: other, Pieces: []int{0}}},
			Owned:   []replan.Owned{{Place: replan.PlaceWhole, Stick: other, Refund: c.refund}},
		}
		rev := mustReplan(t, p, plan, done)
		checkRevision(t, &p, plan, &done, rev)
		if rev.Cost != -c.refund || rev.Planned != c.price || rev.Extra() != -c.refund-c.price {
			t.Errorf("%+v: cost %d, planned %d, extra %d", c, rev.Cost, rev.Planned, rev.Extra())
		}
		done.Owned[0].Refund++
		var pe *measure.FieldError
		if _, err := replan.Solve(context.Background(), p, plan, done, nil); !errors.As(err, &pe) || pe.Field != "progress.owned[0].refund" {
			t.Errorf("%+v, and one more: %v", c, err)
		}
	}
}

// With the owned sticks the rest may exceed the limits: the error names the fields that the caller
// knows.
func TestReplanBeyondLimits(t *testing.T) {
	const far = measure.Length(1) << 56
	for _, c := range []struct {
		sticks []stock.Stick
		pieces []stock.Piece
		hand   replan.Owned
		field  string
	}{
		{ // a refund that breaks the great common divisor of the prices
			[]stock.Stick{{Length: far, Price: 1 << 58}, {Length: 2 * far, Price: 1 << 59}},
			[]stock.Piece{{Length: 2 * far}, {Length: far, Quantity: 14}},
			replan.Owned{Place: replan.PlaceWhole, Stick: 0, Refund: 1}, "problem.sticks[1].price",
		},
		{ // a length that breaks that of the lengths
			[]stock.Stick{{Length: far, Price: 1}, {Length: 2 * far, Price: 2}},
			[]stock.Piece{{Length: 2 * far}, {Length: far, Quantity: 17}},
			replan.Owned{Place: replan.PlaceWhole, Stick: 0, Length: far - 1}, "problem.pieces",
		},
		{ // a stick that turns out to hold too many pieces
			[]stock.Stick{{Length: 10 * measure.Foot, Price: 1}},
			[]stock.Piece{{Length: 10 * measure.Foot}, {Length: measure.Inch, Quantity: 70_000}},
			replan.Owned{Place: replan.PlaceWhole, Stick: 0, Length: 69_000 * measure.Inch}, "problem.pieces[1].length",
		},
	} {
		p := optimize.Problem{Sticks: c.sticks, Pieces: c.pieces}
		plan := mustSolve(t, p)
		done := replan.Progress{Owned: []replan.Owned{c.hand}}
		first := true
		for _, pat := range plan.Patterns {
			n := 0
			if first && pat.Pieces[0] == 0 {
				n, first = 1, false // the rest begins after piece 0
			}
			done.Cut = append(done.Cut, n)
		}
		_, err := replan.Solve(context.Background(), p, plan, done, nil)
		var pe *measure.FieldError
		if !errors.As(err, &pe) || pe.Field != c.field {
			t.Errorf("%+v: %v, want an error for %s", c.hand, err, c.field)
		}
	}
}
