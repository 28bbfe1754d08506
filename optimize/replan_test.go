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

func TestReplanWithNothingDone(t *testing.T) {
	for _, k := range trimjob.OfClass("room")[:10] {
		p := problem(k.Job())
		plan := mustSolve(t, p)
		rev, err := optimize.Replan(context.Background(), p, plan, optimize.Progress{}, nil)
		if err != nil {
			t.Fatal(k.Name, err)
		}
		if rev.Cost != plan.Cost || !rev.Plan.Proven {
			t.Errorf("%s: cost %d, bound %d, was %d", k.Name, rev.Cost, rev.Plan.Bound, plan.Cost)
		}
		for _, o := range rev.Old {
			if o.Kept != o.Left {
				t.Errorf("%s: pattern %d kept %d times of %d", k.Name, o.Pattern, o.Kept, o.Left)
			}
		}
		if err := optimize.Check(rev.Problem, rev.Plan); err != nil {
			t.Errorf("%s: %v", k.Name, err)
		}
	}
}

func TestReplanWithEverythingDone(t *testing.T) {
	p := problem(trimjob.OfClass("room")[0].Job())
	plan := mustSolve(t, p)
	var done optimize.Progress
	for _, pat := range plan.Patterns {
		done.Cut = append(done.Cut, pat.Count)
	}
	done.InHand = []optimize.InHand{{Stick: 0, Count: 2}}
	rev, err := optimize.Replan(context.Background(), p, plan, done, nil)
	if err != nil {
		t.Fatal(err)
	}
	if rev.Plan != nil || rev.Cost != 0 || len(rev.Old) != 0 || len(rev.Buy) != 0 {
		t.Errorf("something is left: %+v", rev)
	}
	if len(rev.Idle) != 1 || rev.Idle[0].Count != 2 || rev.Idle[0].Stick != 0 {
		t.Errorf("idle %+v, want the two sticks in hand", rev.Idle)
	}
}

// Random progress: what is left is planned at the least cost, never more than by buying
// everything that is left anew, and every number adds up.
func TestReplanAnywhere(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 9))
	n := 120
	if testing.Short() {
		n = 30
	}
	keptAll := 0
	for i := range n {
		k := trimjob.OfClass("room")[r.IntN(30)]
		p := problem(k.Job())
		if r.IntN(4) == 0 {
			p.Rules.Goals = []optimize.Goal{optimize.LeastCost, optimize.FewestSticks}
		}
		plan := mustSolve(t, p)
		var d optimize.Progress
		made := make([]int, len(p.Pieces))
		for _, pat := range plan.Patterns {
			c := r.IntN(pat.Count + 1)
			d.Cut = append(d.Cut, c)
			for _, j := range pat.Pieces {
				made[j] += c
			}
		}
		for j, m := range made {
			if m > 0 && r.IntN(4) == 0 {
				d.Spoiled = append(d.Spoiled, optimize.Spoiled{Piece: j, Count: 1})
				made[j]--
			}
		}
		for s := range p.Sticks {
			if p.Sticks[s].Limit == 0 && r.IntN(3) == 0 {
				d.InHand = append(d.InHand, optimize.InHand{Stick: s, Count: 1 + r.IntN(2)})
			}
		}
		if r.IntN(2) == 0 {
			d.Opened = append(d.Opened, optimize.Opened{Stick: 0, Left: p.Sticks[0].Length / 2})
		}
		rev, err := optimize.Replan(context.Background(), p, plan, d, nil)
		if errors.Is(err, optimize.ErrInfeasible) {
			continue // a spoiled piece can be one too many
		}
		if err != nil {
			t.Fatal(i, k.Name, err)
		}
		left := 0
		for j, m := range made {
			want := max(p.Pieces[j].Quantity, 1)
			left += want - m
		}
		got := 0
		for _, pc := range rev.Problem.Pieces {
			got += max(pc.Quantity, 1)
		}
		if got != left {
			t.Fatalf("%d: %d pieces left, want %d", i, got, left)
		}
		if rev.Plan == nil {
			continue
		}
		if err := optimize.Check(rev.Problem, rev.Plan); err != nil {
			t.Fatalf("%d: %v", i, err)
		}
		fresh := mustSolve(t, rev.Problem)
		if rev.Cost != fresh.Cost || rev.Plan.Proven != fresh.Proven {
			t.Errorf("%d: cost %d, from scratch %d", i, rev.Cost, fresh.Cost)
		}
		bill := int64(0)
		for _, b := range rev.Buy {
			bill += b.Cost
		}
		if bill != rev.Cost {
			t.Errorf("%d: bill %d, cost %d", i, bill, rev.Cost)
		}
		all := true
		for _, o := range rev.Old {
			all = all && o.Kept == o.Left
		}
		if all {
			keptAll++
		}
		if len(d.Spoiled) == 0 && len(d.InHand) == 0 && len(d.Opened) == 0 && !all {
			t.Errorf("%d: nothing went wrong, yet not all is kept: %+v", i, rev.Old)
		}
	}
	t.Logf("everything kept in %d of %d", keptAll, n)
}

func TestReplanErrors(t *testing.T) {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 10 * measure.Foot, Price: 100, TrimStart: measure.Inch}},
		Pieces: []stock.Piece{{Length: 4 * measure.Foot, Quantity: 4}, {Length: 3 * measure.Foot}},
	}
	plan := mustSolve(t, p)
	for _, c := range []struct {
		done  optimize.Progress
		field string
	}{
		{optimize.Progress{Cut: []int{0, 0, 0, 0, 0, 0, 0}}, "Cut"},
		{optimize.Progress{Cut: []int{-1}}, "Cut[0]"},
		{optimize.Progress{Cut: []int{9}}, "Cut[0]"},
		{optimize.Progress{Opened: []optimize.Opened{{Stick: 1}}}, "Opened[0].Stick"},
		{optimize.Progress{Opened: []optimize.Opened{{Left: 11 * measure.Foot}}}, "Opened[0].Left"},
		{optimize.Progress{Opened: []optimize.Opened{{Left: -1}}}, "Opened[0].Left"},
		{optimize.Progress{Opened: []optimize.Opened{{Pieces: []int{2}}}}, "Opened[0].Pieces[0]"},
		{optimize.Progress{Opened: []optimize.Opened{{Pieces: []int{1, 1}}}}, "Opened"},
		{optimize.Progress{Spoiled: []optimize.Spoiled{{Piece: 5, Count: 1}}}, "Spoiled[0].Piece"},
		{optimize.Progress{Spoiled: []optimize.Spoiled{{Piece: 1, Count: 1}}}, "Spoiled[0].Count"},
		{optimize.Progress{InHand: []optimize.InHand{{Stick: -1, Count: 1}}}, "InHand[0].Stick"},
		{optimize.Progress{InHand: []optimize.InHand{{}}}, "InHand[0].Count"},
		{optimize.Progress{InHand: []optimize.InHand{{Count: 1, Length: measure.Inch}}}, "InHand[0].Length"},
		{optimize.Progress{Supply: []optimize.Supply{{Stick: 3}}}, "Supply[0].Stick"},
		{optimize.Progress{Supply: []optimize.Supply{{Left: -2}}}, "Supply[0].Left"},
	} {
		_, err := optimize.Replan(context.Background(), p, plan, c.done, nil)
		var pe *optimize.ProgressError
		if !errors.As(err, &pe) || pe.Field != c.field || !errors.Is(err, optimize.ErrProblem) {
			t.Errorf("%+v: %v, want a ProgressError for %s", c.done, err, c.field)
		}
	}
	bad := *plan
	bad.Cost++
	var ce *optimize.CheckError
	if _, err := optimize.Replan(context.Background(), p, &bad, optimize.Progress{}, nil); !errors.As(err, &ce) {
		t.Errorf("a wrong plan: %v", err)
	}
	// No stick can be had any more.
	_, err := optimize.Replan(context.Background(), p, plan, optimize.Progress{Supply: []optimize.Supply{{Stick: 0, Left: 0}}}, nil)
	if !errors.Is(err, optimize.ErrInfeasible) {
		t.Errorf("no sticks left: %v", err)
	}
}

// One stick had a knot, which spoiled the long piece.
func ExampleReplan() {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Label: "12 ft", Length: 12 * measure.Foot, Price: 1908}, {Label: "16 ft", Length: 16 * measure.Foot, Price: 2608}},
		Pieces: []stock.Piece{
			{Label: "north", Length: measure.MustParse(`12' 1-3/8"`)},
			{Label: "east", Length: measure.MustParse(`7' 4-3/4"`)},
			{Label: "closet", Length: measure.MustParse("41 1/2 in"), Quantity: 2},
		},
		Kerf: measure.MustParse("1/8 in"),
	}
	ctx := context.Background()
	plan, err := optimize.Solve(ctx, p, nil)
	if err != nil {
		panic(err)
	}
	// The 16-foot stick is cut, but the long piece split at the knot; 9 feet of it can be
	// used. The other stick is in hand.
	rev, err := optimize.Replan(ctx, p, plan, optimize.Progress{
		Opened: []optimize.Opened{{Stick: 1, Pieces: []int{2}, Left: 9 * measure.Foot}},
		InHand: []optimize.InHand{{Stick: 0, Count: 1}},
	}, nil)
	if err != nil {
		panic(err)
	}
	fmt.Print(rev)
	for _, pat := range rev.Plan.Patterns {
		src := rev.Sticks[pat.Stick]
		fmt.Println(p.Sticks[src.Stick].Label, src.Place, pat.Pieces)
	}
	// Output:
	// 1 of 2 sticks still to be cut stay as planned
	// pattern 1: 1 of 1 are cut otherwise
	// buy 1 more of stick 1
	// 1 of stick 1, 9' long, not needed
	// still to be paid: 2608, proven to be the least
	// 12 ft whole [1 2]
	// 16 ft to buy [0]
}
