package optimize_test

import (
	"context"
	"errors"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// Sticks cut in the yard, with the shortest part that the saw holds and the longest offcut, against
// brute force. Each of the two parts has to be held by itself.
func TestYardBrute(t *testing.T) {
	cut, longest, proven := 0, 0, 0
	for seed := range uint64(30 * *bruteCases) {
		r := rand.New(rand.NewPCG(seed, 47))
		p := tinyBase(r)
		for i := range p.Sticks {
			p.Sticks[i].Length += measure.Length(r.IntN(25)) * u
		}
		p.Rules.MaxTransport = measure.Length(15+r.IntN(20)) * u
		p.Rules.YardCut = int64(r.IntN(3))
		if r.IntN(3) > 0 {
			p.Rules.MinHold = measure.Length(5+r.IntN(20)) * u
		}
		if r.IntN(2) == 0 {
			p.Rules.Goals = []optimize.Goal{optimize.GoalCost, optimize.GoalLongestOffcut}
			if r.IntN(2) == 0 {
				p.Rules.Goals = slices.Insert(p.Rules.Goals, 1+r.IntN(2), optimize.GoalSticks)
			}
		}
		if !againstBrute(t, &p) || t.Failed() {
			t.Fatalf("seed %d\n%s", seed, written(&p))
		}
		plan, err := optimize.Solve(context.Background(), p, nil)
		if err != nil {
			continue
		}
		for _, pat := range plan.Patterns {
			if p.Sticks[pat.Stick].Length > p.Rules.MaxTransport && p.Rules.MinHold > 0 {
				cut++
			}
		}
		for _, l := range plan.Goals {
			if l.Goal == optimize.GoalLongestOffcut {
				longest++
				if l.Proven {
					proven++
				}
			}
		}
	}
	t.Logf("%d sticks cut in the yard and held, %d of %d longest offcuts proven", cut, proven, longest)
	if cut < 20 || proven*4 < longest*3 {
		t.Error("the test shows little")
	}
}

// oddPieces returns pieces that nearly fill a stick of 40 ft, of lengths that are multiples of a step, and the
// stick, which the yard has to cut.
func oddPieces(n int, step measure.Length) optimize.Problem {
	r := rand.New(rand.NewPCG(uint64(n), 3))
	p := optimize.Problem{Sticks: []stock.Stick{{Length: 480 * measure.Inch, Price: 5000}}, Kerf: measure.Inch / 8}
	p.Rules.MaxTransport = 260 * measure.Inch
	for range n {
		l := 470*measure.Inch/measure.Length(n) - measure.Inch/2 + measure.Length(r.Int64N(int64(measure.Inch/2)))
		p.Pieces = append(p.Pieces, stock.Piece{Length: l / step * step})
	}
	return p
}

// Pieces of odd lengths can lie before and after the yard's cut in twice as many ways for each
// further piece. The work limit counts these steps, and beyond about twenty pieces Solve returns an
// error.
func TestYardTooManyWays(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		pieces int
		step   measure.Length
		held   bool
		want   string
	}{
		{10, 1, false, ""}, {16, 1, false, ""}, {16, 1, true, ""}, {30, measure.Inch / 64, false, ""},
		{30, 1, false, "rules.max_transport"}, {30, 1, true, "rules.max_transport"},
	} {
		p := oddPieces(c.pieces, c.step)
		if c.held {
			p.Rules.MinHold = 12 * measure.Inch
		}
		plan, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: 20_000_000})
		var wrong *measure.FieldError
		switch {
		case c.want == "" && err != nil:
			t.Errorf("%d pieces in steps of %v: %v", c.pieces, c.step, err)
		case c.want == "":
			if err := optimize.Check(context.Background(), p, plan); err != nil {
				t.Errorf("%d pieces in steps of %v: %v", c.pieces, c.step, err)
			}
			if c.pieces == 16 && c.step == 1 && plan.Work < 1<<17 {
				t.Errorf("%d pieces in %d steps: the ways to divide them were not counted", c.pieces, plan.Work)
			}
		case !errors.As(err, &wrong) || wrong.Field != c.want:
			t.Errorf("%d pieces in steps of %v: %v, want an error at %s", c.pieces, c.step, err, c.want)
		}
	}
}

// Tens of thousands of pieces on a stick that the yard cuts: the same, instead of minutes for each pattern.
func TestYardManyPieces(t *testing.T) {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 60_000 * measure.Inch, Price: 5}},
		Pieces: []stock.Piece{{Length: measure.Inch, Quantity: 1_000_000}, {Length: 9 * measure.Inch / 8, Quantity: 1_000_000}},
	}
	p.Rules.MaxTransport = 40_000 * measure.Inch
	var wrong *measure.FieldError
	if _, err := optimize.Solve(context.Background(), p, nil); !errors.As(err, &wrong) || wrong.Field != "rules.max_transport" {
		t.Errorf("error %v, want one at rules.max_transport", err)
	}
}
