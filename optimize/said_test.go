package optimize_test

import (
	"context"
	"errors"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// Figures and corner cases stated in comments.

func TestPositionsOfARun(t *testing.T) {
	for n, ok := range map[int]bool{344: true, 345: false} {
		run := stock.Run{Length: measure.Length(n+1) * measure.Inch}
		for k := range n {
			run.Splice.At = append(run.Splice.At, measure.Length(k+1)*measure.Inch)
		}
		p := optimize.Problem{Sticks: []stock.Stick{{Length: run.Length, Price: 1}}, Runs: []stock.Run{run}}
		_, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: 1})
		var bad *measure.FieldError
		if refused := errors.As(err, &bad); refused == ok || refused && bad.Field != "runs[0].splice.at" {
			t.Errorf("%d positions: %v", n, err)
		}
	}
}

func TestWiderKerfMayFit(t *testing.T) {
	bevel := stock.End{Kind: stock.EndInsideMiter, Angle: 60 * measure.Degree, Setback: measure.Inch / 4}
	p := optimize.Problem{Pieces: []stock.Piece{{Length: 2 * measure.Inch, Right: bevel}}, Rules: optimize.Rules{Nest: true}}
	for kerf, fits := range map[measure.Length]bool{u / 4: false, u / 2: true} {
		if k := bevel.KerfAlong(kerf); k != u {
			t.Fatalf("a kerf of %v takes %v", kerf, k)
		}
		p.Kerf, p.Sticks = kerf, []stock.Stick{{Length: 2*measure.Inch + u/2, Price: 1}}
		if _, err := optimize.Solve(context.Background(), p, nil); (err == nil) != fits {
			t.Errorf("kerf %v: %v", kerf, err)
		}
	}
}

func TestWhatIsPaid(t *testing.T) {
	stick := stock.Stick{Length: 8 * measure.Foot}
	rack := stock.Stick{Length: 8 * measure.Foot, Rack: true, Supplier: "mill"}
	piece := []stock.Piece{{Length: 2 * measure.Foot}}
	for _, tt := range []struct {
		name string
		p    optimize.Problem
		by   bool
		cost int64
	}{
		{"nothing has a price", optimize.Problem{Sticks: []stock.Stick{stick}, Pieces: piece}, true, int64(8 * measure.Foot)},
		{"a cut in the yard", optimize.Problem{Sticks: []stock.Stick{stick}, Pieces: piece, Rules: optimize.Rules{MaxTransport: 9 * measure.Foot, YardCut: 3}}, false, 0},
		{"a charge of nobody", optimize.Problem{Sticks: []stock.Stick{stick}, Pieces: piece, Rules: optimize.Rules{Charges: nobody}}, false, 0},
		{"a charge for the rack", optimize.Problem{Sticks: []stock.Stick{rack}, Pieces: piece, Rules: optimize.Rules{Charges: []optimize.Charge{{Supplier: "mill", Amount: 7}}}}, false, 7},
	} {
		if plan := mustSolve(t, tt.p); plan.ByLength != tt.by || plan.Cost != tt.cost {
			t.Errorf("%s: %v, %d", tt.name, plan.ByLength, plan.Cost)
		}
	}
}

// The value of a stick on the rack, trimmed by an inch at its start: by its whole length, with a defect
// by its clear stretches.
func TestWorthOfTheRack(t *testing.T) {
	worth := []optimize.OffcutValue{{Length: 20 * measure.Inch, Value: 2}, {Length: 50 * measure.Inch, Value: 5}, {Length: 60 * measure.Inch, Value: 11}}
	for _, tt := range []struct {
		stick stock.Stick
		want  int64
	}{
		{stock.Stick{Length: 60 * measure.Inch, TrimStart: measure.Inch, Rack: true, Limit: 1}, 2 - 11}, // 29 in are left
		{stock.Stick{Length: 60 * measure.Inch, TrimStart: measure.Inch, Rack: true, Limit: 1,
			Defects: []stock.Defect{{From: 35 * measure.Inch, To: 38 * measure.Inch}}}, 2 - (2 + 2)}, // of 34 and 22 in the second
	} {
		plan := mustSolve(t, optimize.Problem{Sticks: []stock.Stick{tt.stick}, Pieces: []stock.Piece{{Length: 30 * measure.Inch}},
			Rules: optimize.Rules{OffcutValues: worth, Goals: []optimize.Goal{optimize.GoalCost, optimize.GoalOffcutValue}}})
		if got := plan.Goals[1].Value; got != tt.want {
			t.Errorf("worth %d, want %d", got, tt.want)
		}
	}
}

func TestHalfOfAnOddOverlap(t *testing.T) {
	for overlap, want := range map[measure.Length][2]measure.Length{3: {1, 2}, -3: {-1, -2}, 4: {2, 2}} {
		run := stock.Run{Length: 10 * measure.Inch, Splice: stock.SpliceRule{At: []measure.Length{5 * measure.Inch}, Overlap: overlap}}
		parts, err := run.Pieces(run.Splice.At)
		if err != nil || len(parts) != 2 {
			t.Fatal(parts, err)
		}
		for k := range parts {
			if got := parts[k].Length - 5*measure.Inch; got != want[k] {
				t.Errorf("overlap of %d ticks: part %d is longer by %d, want %d", overlap, k, got, want[k])
			}
		}
	}
}
