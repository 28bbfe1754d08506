package whatif_test

import (
	"context"
	"errors"
	"slices"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/internal/price"
	"example.com/longpoint/optimize/whatif"
	"example.com/longpoint/stock"
)

// fields returns the paths of all faults.
func fields(err error) (list []string) {
	for e := range measure.FieldErrors(err) {
		list = append(list, e.Field)
	}
	return list
}

// All faults are reported at once, each below the argument that it is in.
func TestAllFaultsByArgument(t *testing.T) {
	ctx := context.Background()
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 8 * measure.Foot, Price: 5}, {Length: 9 * measure.Foot, Price: 6}},
		Pieces: []stock.Piece{{Length: measure.Foot}},
	}
	plan := mustSolve(t, p)
	own := errors.New("not today")
	_, err := whatif.Solve(ctx, p, plan, nil,
		whatif.MorePieces(1, 1), whatif.MorePieces(0, -1), whatif.LongerPiece(-1, 0), whatif.LongerRun(0, 0), whatif.StickLimit(2, -1), whatif.StickPrice(2, 0),
		whatif.LongerPiece(0, 1<<62), whatif.LongerPiece(0, 1<<62), whatif.Edit(func(*optimize.Problem) error { return own }),
		whatif.Edit(func(p *optimize.Problem) error { return &measure.FieldError{Field: "height", Want: "a wall"} }))
	want := []string{"changes[0].piece", "changes[1].n", "changes[2].piece", "changes[3].run", "changes[4].stick", "changes[4].n", "changes[5].stick", "changes[7].by", "changes[9].height"}
	if got := fields(err); !slices.Equal(got, want) || !errors.Is(err, own) {
		t.Errorf("%q, %v\nwant\n%q", got, err, want)
	}
	_, err = whatif.Solve(ctx, p, plan, nil, whatif.StickPrice(0, -5), whatif.WiderKerf(-1), whatif.NewPiece(stock.Piece{Length: -1}))
	if got := fields(err); !slices.Contains(got, "problem.kerf") || !slices.Contains(got, "problem.sticks[0].price") || !slices.Contains(got, "problem.pieces[1].length") {
		t.Errorf("%q, %v", got, err)
	}
	_, err = whatif.Solve(ctx, p, plan, &optimize.Options{Start: &optimize.Plan{Patterns: []optimize.Pattern{{Stick: 2, Count: 1, Pieces: []int{0}}}}}, whatif.MorePieces(0, 1))
	if got := fields(err); !slices.Equal(got, []string{"start.patterns[0].stick"}) {
		t.Errorf("%q, %v", got, err)
	}
	_, err = whatif.Candidates(ctx, p, plan, []stock.Stick{{Length: -1, Price: 3}, {Length: measure.Foot, Price: 3}, {Length: measure.Foot}}, nil)
	if got := fields(err); !slices.Equal(got, []string{"sticks[0].length", "sticks[2].price"}) {
		t.Errorf("%q, %v", got, err)
	}
	if _, err = whatif.PriceToBuy(ctx, p, 2, -1, nil); !slices.Equal(fields(err), []string{"stick", "max_price"}) {
		t.Error(err)
	}
	p.Kerf = -1
	for _, call := range []func() error{
		func() error { _, err := whatif.Solve(ctx, p, plan, nil); return err },
		func() error { _, err := whatif.Candidates(ctx, p, plan, nil, nil); return err },
		func() error { _, err := whatif.PriceToBuy(ctx, p, 0, 9, nil); return err },
	} {
		if err := call(); !slices.Equal(fields(err), []string{"problem.kerf"}) {
			t.Error(err)
		}
	}
	// Faults of the problem do not hide the others. No function of the caller's sees such a problem.
	_, err = whatif.Solve(ctx, p, plan, nil, whatif.MorePieces(1, 1), whatif.Edit(func(*optimize.Problem) error { t.Error("called"); return own }), whatif.StickLimit(2, -1))
	if got := fields(err); !slices.Equal(got, []string{"problem.kerf", "changes[0].piece", "changes[2].stick", "changes[2].n"}) || errors.Is(err, own) {
		t.Errorf("%q, %v", got, err)
	}
	_, err = whatif.Candidates(ctx, p, plan, []stock.Stick{{Length: -1, Price: 3, Limit: -9}, {Length: measure.Foot, Price: 3}, {Length: measure.Foot}}, nil)
	if got := fields(err); !slices.Equal(got, []string{"problem.kerf", "sticks[0].length", "sticks[0].limit", "sticks[2].price"}) {
		t.Errorf("%q, %v", got, err)
	}
	if _, err = whatif.PriceToBuy(ctx, p, 2, -1, nil); !slices.Equal(fields(err), []string{"problem.kerf", "stick", "max_price"}) {
		t.Error(err)
	}
	p.Sticks[0].Price, p.Sticks[1].Price = 0, 0
	_, err = whatif.Candidates(ctx, p, plan, []stock.Stick{{Length: -1, Price: 3, Limit: -9}, {Length: measure.Foot, Price: 3}, {Length: measure.Foot}}, nil)
	if got := fields(err); !slices.Equal(got, []string{"problem.kerf", "sticks[0].length", "sticks[0].price", "sticks[0].limit", "sticks[1].price"}) {
		t.Errorf("%q, %v", got, err)
	}
}

// A price of zero is tried as a meant one, and the plan at it is valid for a stick from the rack; if
// that would be another stick, it is not tried.
func TestPriceToBuyForNothing(t *testing.T) {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 10 * measure.Foot, Price: 1}, {Length: 9 * measure.Foot, Price: 1}},
		Pieces: []stock.Piece{{Length: 9 * measure.Foot}},
	}
	got, err := whatif.PriceToBuy(context.Background(), p, 1, 9, nil)
	if err != nil || got.Price != 0 || !got.Exact() || price.ByLength(&p) {
		t.Fatalf("%+v, %v", got, err)
	}
	q := p
	q.Sticks = slices.Clone(p.Sticks)
	q.Sticks[1].Price, q.Sticks[1].Rack = 0, true
	if err := optimize.Check(context.Background(), q, got.Plan); err != nil {
		t.Error(err)
	}
	p.Rules.OffcutValues = []optimize.OffcutValue{{Length: 6 * measure.Inch, Value: 1}}
	p.Rules.Goals = []optimize.Goal{optimize.GoalCost, optimize.GoalOffcutValue}
	got, err = whatif.PriceToBuy(context.Background(), p, 1, 9, nil)
	if err != nil || got.Price != -1 || got.Above != 1 || got.Exact() {
		t.Errorf("%+v, %v", got, err)
	}
}

// Calls may run concurrently, and do not modify their arguments.
func TestSideBySide(t *testing.T) {
	ctx := context.Background()
	p := alcove()
	plan := mustSolve(t, p)
	was := written(&p)
	changes := []whatif.Change{whatif.MorePieces(0, 1), whatif.Edit(func(p *optimize.Problem) error {
		p.Pieces[0].Length--
		p.Sticks[0].Price++
		return nil
	})}
	sticks := []stock.Stick{{Length: 12 * measure.Foot, Price: 20}, {Length: 7 * measure.Foot, Price: 9}}
	ask := func() (out [3]any) {
		d, err := whatif.Solve(ctx, p, plan, nil, changes...)
		c, err2 := whatif.Candidates(ctx, p, plan, sticks, nil)
		th, err3 := whatif.PriceToBuy(ctx, p, 0, 30, nil)
		if err := errors.Join(err, err2, err3); err != nil {
			t.Error(err)
		}
		return [3]any{d, c, th}
	}
	want := ask()
	var wg sync.WaitGroup
	for range 4 {
		wg.Add(1)
		go func() {
			defer wg.Done()
			if got := ask(); !cmp.Equal(got, want) {
				t.Errorf("different results in concurrent calls:\n%s", cmp.Diff(want, got))
			}
		}()
	}
	wg.Wait()
	if now := written(&p); now != was {
		t.Errorf("the problem was changed:\n%s\n%s", was, now)
	}
}

func alcove() optimize.Problem {
	return optimize.Problem{
		Sticks: []stock.Stick{{Length: 8 * measure.Foot, Price: 11}, {Length: 10 * measure.Foot, Price: 15}},
		Pieces: []stock.Piece{{Length: 3 * measure.Foot, Quantity: 4}, {Length: 4 * measure.Foot, Quantity: 3}},
		Kerf:   measure.Inch / 8,
	}
}
