package optimize_test

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/trimjob"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

func smallJob(r *rand.Rand) optimize.Problem {
	p := optimize.Problem{Kerf: measure.Length(r.IntN(3)) * measure.Inch / 8}
	for range 1 + r.IntN(3) {
		p.Sticks = append(p.Sticks, stock.Stick{Length: measure.Length(60+r.IntN(100)) * measure.Inch, Price: 1 + r.Int64N(40), Limit: r.IntN(2) * 5})
	}
	for range 1 + r.IntN(4) {
		p.Pieces = append(p.Pieces, stock.Piece{Length: measure.Length(10+r.IntN(50)) * measure.Inch, Quantity: 1 + r.IntN(2)})
	}
	return p
}

// The threshold against solving at every price.
func TestPriceToBuyAgainstEveryPrice(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 1))
	bought := 0
	for i := range 150 {
		p := smallJob(r)
		s := r.IntN(len(p.Sticks))
		got, err := optimize.PriceToBuy(context.Background(), p, s, 60, nil)
		if errors.Is(err, optimize.ErrInfeasible) || errors.Is(err, optimize.ErrProblem) {
			continue
		}
		if err != nil {
			t.Fatal(i, err)
		}
		without := p
		if err := optimize.AtMost(s, 0)(&without); err != nil {
			t.Fatal(err)
		}
		base := int64(1) << 60
		if len(without.Sticks) > 0 {
			if plan, err := optimize.Solve(context.Background(), without, nil); err == nil {
				base = plan.Cost
			}
		}
		want := int64(-1)
		for price := int64(0); price <= 60; price++ {
			q := p
			if err := optimize.Priced(s, price)(&q); err != nil {
				t.Fatal(err)
			}
			plan, err := optimize.Solve(context.Background(), q, nil)
			if err == nil && plan.Objective == optimize.LeastPrice && plan.Cost < base {
				want = price
			}
		}
		if got.Price != want || got.Above != want+1 && want != -1 {
			t.Errorf("%d: price %d, above %d, want %d\n%+v", i, got.Price, got.Above, want, p)
		}
		if want >= 0 {
			bought++
		}
	}
	if bought < 40 {
		t.Errorf("only %d thresholds: the test shows little", bought)
	}
}

func TestWhatIf(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for i := range 120 {
		p := smallJob(r)
		plan, err := optimize.Solve(context.Background(), p, nil)
		if err != nil {
			continue
		}
		for _, c := range []struct {
			change optimize.Change
			sign   int // 1: cannot cost less, -1: cannot cost more
		}{
			{optimize.OneMore(0), 1},
			{optimize.Longer(0, measure.Inch), 1},
			{optimize.Longer(0, -measure.Inch), -1},
			{optimize.WiderKerf(measure.Inch / 8), 1},
			{optimize.AtMost(0, 1), 1},
			{optimize.Offered(stock.Stick{Length: 12 * measure.Foot, Price: 20}), -1},
		} {
			d, err := optimize.WhatIf(context.Background(), p, plan, nil, c.change)
			if errors.Is(err, optimize.ErrInfeasible) || errors.Is(err, optimize.ErrProblem) {
				continue
			}
			if err != nil {
				t.Fatal(i, err)
			}
			if !d.Exact() || d.Low != d.After.Cost-plan.Cost {
				t.Errorf("%d: %d to %d, the costs differ by %d", i, d.Low, d.High, d.After.Cost-plan.Cost)
			}
			if int64(c.sign)*d.Low < 0 && len(p.Sticks) > 0 && p.Sticks[0].Limit != 0 {
				t.Errorf("%d: a change of sign %d makes %d", i, c.sign, d.Low)
			}
			if err := optimize.Check(d.Problem, d.After); err != nil {
				t.Error(i, err)
			}
		}
		// The problem itself is left alone.
		if err := optimize.Check(p, plan); err != nil {
			t.Fatal(i, err)
		}
	}
}

// What the proof calls worthless saves nothing, whatever the search says; and values make up the
// bound.
func TestCandidates(t *testing.T) {
	shown := 0
	for _, k := range trimjob.OfClass("room")[:12] {
		p := problem(k.Job())
		plan := mustSolve(t, p)
		var sticks []stock.Stick
		for l := 6; l <= 20; l += 2 {
			sticks = append(sticks, stock.Stick{Length: measure.Length(l) * measure.Foot, Price: int64(l) * 170})
		}
		cands, err := optimize.Candidates(context.Background(), p, plan, sticks, nil)
		if err != nil {
			t.Fatal(err)
		}
		last := int64(1) << 60
		for _, c := range cands {
			if c.Saves.Low > last {
				t.Errorf("%s: not in order", k.Name)
			}
			last = c.Saves.Low
			d, err := optimize.WhatIf(context.Background(), p, plan, nil, optimize.Offered(c.Stick))
			if err != nil {
				t.Fatal(err)
			}
			if -d.Low != c.Saves.High || -d.High != c.Saves.Low {
				t.Errorf("%s: %v saves %d to %d, by solving %d to %d", k.Name, c.Stick.Length, c.Saves.Low, c.Saves.High, -d.High, -d.Low)
			}
			if c.Plan == nil {
				shown++
			}
		}
		if values, ok := plan.PieceValues(); ok {
			for _, v := range values {
				if v.Num < 0 || v.Den < 1 {
					t.Errorf("%s: value %+v", k.Name, v)
				}
			}
		}
	}
	if shown == 0 {
		t.Error("no candidate was settled by the proof alone")
	}
}

func TestWhatIfErrors(t *testing.T) {
	p := optimize.Problem{Sticks: []stock.Stick{{Length: 8 * measure.Foot, Price: 5}}, Pieces: []stock.Piece{{Length: measure.Foot}}}
	plan := mustSolve(t, p)
	ctx := context.Background()
	for _, c := range []optimize.Change{
		optimize.OneMore(1), optimize.OneMore(-1), optimize.Longer(7, 1), optimize.LongerRun(0, 1), optimize.AtMost(1, 1),
		optimize.AtMost(0, -1), optimize.Priced(2, 1), optimize.Priced(0, -1), optimize.Priced(0, 0), optimize.Longer(0, -9*measure.Foot), optimize.AtMost(0, 0),
	} {
		if _, err := optimize.WhatIf(ctx, p, plan, nil, c); !errors.Is(err, optimize.ErrProblem) {
			t.Errorf("error %v", err)
		}
	}
	if _, err := optimize.WhatIf(ctx, p, plan, nil, optimize.Longer(0, 1<<62), optimize.Longer(0, 1<<62)); err == nil {
		t.Error("lengths out of range")
	}
	if _, err := optimize.PriceToBuy(ctx, p, 3, 5, nil); !errors.Is(err, optimize.ErrProblem) {
		t.Error(err)
	}
	if _, err := optimize.PriceToBuy(ctx, p, 0, -1, nil); !errors.Is(err, optimize.ErrProblem) {
		t.Error(err)
	}
}

// What does a mistake of an inch on the wainscot cost, and is the yard's 14-foot stick worth
// asking for?
func ExampleWhatIf() {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 12 * measure.Foot, Price: 1908}, {Length: 16 * measure.Foot, Price: 2608}},
		Pieces: []stock.Piece{{Label: "wainscot", Length: measure.MustParse(`3' 11-7/8"`), Quantity: 7}},
		Kerf:   measure.MustParse("1/8 in"),
	}
	ctx := context.Background()
	plan, err := optimize.Solve(ctx, p, nil)
	if err != nil {
		panic(err)
	}
	fmt.Println("as it is:", plan.Cost)
	for _, c := range []struct {
		what   string
		change optimize.Change
	}{
		{"one more", optimize.OneMore(0)},
		{"an inch longer", optimize.Longer(0, measure.Inch)},
		{"a blade 1/8 in wider", optimize.WiderKerf(measure.Inch / 8)},
	} {
		d, err := optimize.WhatIf(ctx, p, plan, nil, c.change)
		if err != nil {
			panic(err)
		}
		fmt.Printf("%s: %+d, exact: %v\n", c.what, d.Low, d.Exact())
	}
	cands, err := optimize.Candidates(ctx, p, plan, []stock.Stick{{Length: 14 * measure.Foot, Price: 2250}, {Length: 8 * measure.Foot, Price: 1260}}, nil)
	if err != nil {
		panic(err)
	}
	for _, c := range cands {
		fmt.Println(c.Stick.Length, "saves", c.Saves.Low)
	}
	// Output:
	// as it is: 4516
	// one more: +700, exact: true
	// an inch longer: +1908, exact: true
	// a blade 1/8 in wider: +1908, exact: true
	// 8' saves 88
	// 14' saves 0
}
