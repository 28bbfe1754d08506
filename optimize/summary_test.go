package optimize_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// The sticks to buy, their cost and the offcuts worth keeping, for a bill of materials.
func ExamplePlan_Summary() {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Label: "12-foot base", Length: 12 * measure.Foot, Price: 1690, Supplier: "mill"}},
		Pieces: []stock.Piece{{Label: "stage front", Length: 5 * measure.Foot, Quantity: 3}},
		Runs: []stock.Run{{Label: "long wall", Length: 18 * measure.Foot,
			Splice: stock.SpliceRule{At: []measure.Length{9 * measure.Foot}, Price: 300}}},
		Kerf:  measure.Inch / 8,
		Rules: optimize.Rules{Charges: []optimize.Charge{{Supplier: "mill", Amount: 2500}}},
	}
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		panic(err)
	}
	s, err := plan.Summary(p, 2*measure.Foot)
	if err != nil {
		panic(err)
	}
	for _, b := range s.Buy {
		fmt.Println(b.Count, p.Sticks[b.Stick].Label, b.Cost)
	}
	fmt.Println("sticks", s.StickCost, "splices", s.SpliceCost, "charges", s.ChargeCost, "total", s.Cost)
	for _, o := range s.Kept {
		fmt.Println("keep", o.Count, "of", o.Length.About())
	}
	fmt.Println("bought", s.Bought, "used", s.Used, "kept", s.KeptLength.About(), "kerf", s.Kerf, "waste", s.Waste.About())
	// Output:
	// 4 12-foot base 6760
	// sticks 6760 splices 300 charges 2500 total 9560
	// keep 2 of 2' 11-7/8"
	// keep 1 of 6' 11-7/8"
	// bought 48' used 33' kept 12' 11-5/8" kerf 5/8" waste 1' 11-3/4"
}

// The parts of the length add up, and so do those of the cost; kerfs and kept offcuts are counted from
// the patterns if they are plain.
func TestSummaryAddsUp(t *testing.T) {
	check := func(t interface{ Fatalf(string, ...any) }, p optimize.Problem, plan *optimize.Plan, keep measure.Length) {
		s, err := plan.Summary(p, keep)
		if err != nil {
			t.Fatalf("%v\n%s", err, written(&p))
		}
		if s.Used+s.KeptLength+s.Kerf+s.Waste != s.Bought || s.Used < 0 || s.KeptLength < 0 || s.Kerf < 0 || s.Waste < 0 {
			t.Fatalf("%+v\n%s", s, written(&p))
		}
		var kept measure.Length
		for _, o := range s.Kept {
			if o.Length < keep {
				t.Fatalf("%v is kept, but Keep is %v", o.Length, keep)
			}
			kept += o.Length * measure.Length(o.Count)
		}
		if kept != s.KeptLength {
			t.Fatalf("%v are kept, reported %v", kept, s.KeptLength)
		}
		if plan.ByLength {
			if s.StickCost != 0 || s.Cost != 0 {
				t.Fatalf("%+v without prices", s)
			}
		} else if s.StickCost+s.SpliceCost+s.YardCutCost+s.ChargeCost != s.Cost || s.Cost != plan.Cost || s.StickCost < 0 {
			t.Fatalf("%+v for a cost of %d\n%s", s, plan.Cost, written(&p))
		}
		if p.Rules.Nest || p.Rules.MaxTransport > 0 {
			return
		}
		var used, bought measure.Length
		for _, pat := range plan.Patterns {
			for _, i := range pat.Pieces {
				pc := plan.Parts
				if i < len(p.Pieces) {
					pc = p.Pieces[i : i+1]
				} else {
					pc = pc[i-len(p.Pieces):]
				}
				used += pc[0].Length * measure.Length(pat.Count)
			}
			if p.Sticks[pat.Stick].Rack {
				bought += p.Sticks[pat.Stick].Length * measure.Length(pat.Count)
			}
		}
		for _, b := range plan.Buy {
			if !p.Sticks[b.Stick].Rack {
				bought += p.Sticks[b.Stick].Length * measure.Length(b.Count)
			}
		}
		if used != s.Used || bought != s.Bought {
			t.Fatalf("used %v of %v, reported %v of %v", used, bought, s.Used, s.Bought)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t)
		plan := solved(t, p)
		keep := measure.Length(rapid.IntRange(0, 40).Draw(t, "keep")) * inch
		check(t, p, plan, keep)
		s, _ := plan.Summary(p, keep)
		var kerf measure.Length // each cut between pieces, and the one that frees the offcut or turns it to dust
		for _, pat := range plan.Patterns {
			st := &p.Sticks[pat.Stick]
			room := st.Length - st.TrimStart - st.TrimEnd - pat.Offcut
			for _, i := range pat.Pieces {
				room -= p.Pieces[i].Length
			}
			kerf += room * measure.Length(pat.Count)
		}
		if kerf != s.Kerf {
			t.Fatalf("kerfs of %v, reported %v", kerf, s.Kerf)
		}
	})
	n := 0
	for a := range features {
		for b := range features {
			p := bothAdded(a, b, 5)
			if plan := solveOrNil(p); plan != nil {
				n++
				check(t, p, plan, 3*measure.Millimeter)
			}
		}
	}
	if n < 30 {
		t.Errorf("only %d plans", n)
	}
}

func TestSummaryErrors(t *testing.T) {
	p := sound()
	plan := mustSolve(t, p)
	if _, err := plan.Summary(p, -1); !errors.As(err, new(*measure.FieldError)) {
		t.Error(err)
	}
	bad := *plan
	bad.Cost++
	if _, err := bad.Summary(p, 0); !errors.As(err, new(*optimize.CheckError)) {
		t.Error(err)
	}
	if _, err := (*optimize.Plan)(nil).Summary(p, 0); !errors.As(err, new(*optimize.CheckError)) {
		t.Error(err)
	}
	many := optimize.Problem{Sticks: []stock.Stick{{Length: math.MaxInt64 / 4, Price: 1}}, Pieces: []stock.Piece{{Length: math.MaxInt64 / 6, Quantity: 9}}}
	hand := &optimize.Plan{Patterns: []optimize.Pattern{{Count: 9, Pieces: []int{0}, Offcut: math.MaxInt64/4 - math.MaxInt64/6}}, Cost: 9}
	buys(&many, hand)
	if _, err := hand.Summary(many, 0); !errors.As(err, new(*measure.RangeError)) {
		t.Error(err)
	}
}
