package optimize_test

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// A carpenter cuts everything from 8-foot sticks, the longest pieces first, and wants to know the
// savings of the solver.
func ExampleEvaluate() {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Label: "8-foot", Length: 8 * measure.Foot, Price: 1150}, {Label: "12-foot", Length: 12 * measure.Foot, Price: 1690}},
		Pieces: []stock.Piece{
			{Label: "bookshelf", Length: 5*measure.Foot + 2*measure.Inch, Quantity: 3},
			{Label: "coat rail", Length: 3*measure.Foot + 4*measure.Inch, Quantity: 4},
		},
		Kerf: measure.Inch / 8,
	}
	hand := &optimize.Plan{Patterns: []optimize.Pattern{
		{Stick: 0, Count: 3, Pieces: []int{0}},
		{Stick: 0, Count: 2, Pieces: []int{1, 1}},
	}}
	mine, err := optimize.Evaluate(context.Background(), p, hand)
	if err != nil {
		panic(err)
	}
	best, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		panic(err)
	}
	fmt.Println("by hand", mine.Cost, "at best", best.Cost, best.Proven)
	for _, pat := range mine.Patterns {
		fmt.Println(p.Sticks[pat.Stick].Label, "leaves", pat.Offcut)
	}

	// What cannot be cut is reported pattern by pattern.
	hand.Patterns[0].Pieces = []int{0, 1}
	_, err = optimize.Evaluate(context.Background(), p, hand)
	fmt.Println(err)
	// Output:
	// by hand 5750 at best 4530 true
	// 8-foot leaves 2' 9-7/8"
	// 8-foot leaves 1' 3-3/4"
	// optimize: plan is wrong: patterns[0].pieces is too long at index 1 by 6-1/8", want pieces and kerfs that fit the usable length
}

// Evaluate accepts Solve's patterns and reports the same about them.
func TestEvaluateSolved(t *testing.T) {
	check := func(t interface{ Fatalf(string, ...any) }, p optimize.Problem, plan *optimize.Plan) {
		hand := &optimize.Plan{Spliced: slices.Clone(plan.Spliced)}
		for _, pat := range plan.Patterns {
			pat.Offcut = -7
			hand.Patterns = append(hand.Patterns, pat)
		}
		for k := range hand.Spliced {
			hand.Spliced[k].Pieces = nil
		}
		got, err := optimize.Evaluate(context.Background(), p, hand)
		if err != nil {
			t.Fatalf("%v\n%s", err, written(&p))
		}
		if err := optimize.Check(context.Background(), p, got); err != nil {
			t.Fatalf("Check: %v", err)
		}
		if got.Cost > plan.Cost || plan.Proven && got.Cost != plan.Cost || got.Bound > plan.Cost || got.ByLength != plan.ByLength {
			t.Fatalf("cost %d, bound %d; solved %d, proven %v\n%s", got.Cost, got.Bound, plan.Cost, plan.Proven, written(&p))
		}
		if d := cmp.Diff(plan.Patterns, got.Patterns); d != "" {
			t.Fatalf("(-solved +evaluated):\n%s", d)
		}
		if d := cmp.Diff(plan.Parts, got.Parts); d != "" {
			t.Fatalf("(-solved +evaluated):\n%s", d)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t)
		check(t, p, solved(t, p))
	})
	n := 0
	for a := range features {
		for b := range features {
			for seed := range uint64(2) {
				p := bothAdded(a, b, seed)
				if plan := solveOrNil(p); plan != nil {
					n++
					check(t, p, plan)
				}
			}
		}
	}
	if n < 50 {
		t.Errorf("only %d plans", n)
	}
}

// Evaluate rejects exactly the patterns that Check rejects in a plan with the resulting offcuts,
// purchases and cost.
func TestEvaluateRefuses(t *testing.T) {
	taken, refused := 0, 0
	for seed := range uint64(400) {
		r := rand.New(rand.NewPCG(seed, 31))
		p := tiny(r)
		if seed%2 == 0 {
			p = bothAdded(r.IntN(len(features)), r.IntN(len(features)), seed)
		}
		plan := solveOrNil(p)
		if plan == nil {
			continue
		}
		for range 6 {
			hand := &optimize.Plan{Patterns: slices.Clone(plan.Patterns), Spliced: slices.Clone(plan.Spliced)}
			for k := range hand.Patterns {
				hand.Patterns[k].Pieces = slices.Clone(hand.Patterns[k].Pieces)
			}
			pat := &hand.Patterns[r.IntN(len(hand.Patterns))]
			j := r.IntN(len(pat.Pieces))
			switch r.IntN(6) {
			case 0:
				pat.Stick = r.IntN(len(p.Sticks) + 1)
			case 1:
				pat.Count += r.IntN(3) - 1
			case 2:
				pat.Pieces[j] = r.IntN(len(p.Pieces) + 1)
			case 3:
				pat.Pieces = slices.Delete(pat.Pieces, j, j+1)
			case 4:
				k := r.IntN(len(pat.Pieces))
				pat.Pieces[j], pat.Pieces[k] = pat.Pieces[k], pat.Pieces[j]
			case 5:
				pat.YardAfter = r.IntN(2)
			}
			got, err := optimize.Evaluate(context.Background(), p, hand)
			if err != nil {
				refused++
				if got != nil || !errors.As(err, new(*optimize.CheckError)) {
					t.Fatalf("plan %v, error %v", got, err)
				}
				// With offcuts and cost filled in as far as Check reports them, it rejects the plan as
				// well.
				if refill(p, hand) {
					t.Fatalf("seed %d: Evaluate returns %v, but Check accepts the plan\n%+v\n%s", seed, err, hand, written(&p))
				}
				continue
			}
			taken++
			if err := optimize.Check(context.Background(), p, got); err != nil {
				t.Fatalf("Check says %v", err)
			}
		}
	}
	if t.Logf("%d taken, %d refused", taken, refused); taken < 100 || refused < 100 {
		t.Error("the test shows little")
	}
}

// refill corrects each field that follows from the patterns of a plan and that Check rejects, and
// reports whether Check accepts it in the end.
func refill(p optimize.Problem, plan *optimize.Plan) bool {
	solved := solveOrNil(p)
	plan.Parts, plan.Buy, plan.ByLength = solved.Parts, nil, solved.ByLength
	buys(&p, plan)
	for range 50 {
		err := optimize.Check(context.Background(), p, plan)
		var c *optimize.CheckError
		if err == nil {
			return true
		}
		var k int
		var n int64
		switch {
		case !errors.As(err, &c):
			return false
		case scanned(c.Field, "patterns[%d].offcut", &k):
			l, err := measure.Parse(c.Want)
			if err != nil || plan.Patterns[k].Offcut == l {
				return false
			}
			plan.Patterns[k].Offcut = l
		case c.Field == "cost":
			fmt.Sscan(c.Want, &n)
			plan.Cost = n
		case c.Field == "proven":
			plan.Proven = !plan.Proven
		default:
			return false
		}
	}
	return false
}

func TestEvaluateAllAtOnce(t *testing.T) {
	p := sound()
	hand := &optimize.Plan{Patterns: []optimize.Pattern{
		{Stick: 0, Count: 1, Pieces: []int{0, 2}},
		{Stick: 7, Count: 1, Pieces: []int{1}},
		{Stick: 1, Count: 0, Pieces: []int{1}},
		{Stick: 1, Count: 1, Pieces: []int{1, 9}},
	}}
	_, err := optimize.Evaluate(context.Background(), p, hand)
	var claims []string
	if many, ok := err.(interface{ Unwrap() []error }); ok {
		for _, err := range many.Unwrap() {
			var c *optimize.CheckError
			if errors.As(err, &c) {
				claims = append(claims, c.Field)
			}
		}
	}
	want := []string{"patterns[0].pieces", "patterns[1].stick", "patterns[2].count", "patterns[3].pieces[1]", "patterns", "patterns"}
	if !slices.Equal(claims, want) {
		t.Errorf("%q, want %q\n%v", claims, want, err)
	}
	p.Kerf = -1
	if _, err := optimize.Evaluate(context.Background(), p, hand); !errors.As(err, new(*measure.FieldError)) {
		t.Error(err)
	}
	if _, err := optimize.Evaluate(context.Background(), sound(), nil); !errors.As(err, new(*optimize.CheckError)) {
		t.Error(err)
	}
}

// A splice position that the run does not allow is named by its index, with its value and valid values,
// by Evaluate, Check and a start alike.
func TestSpliceFaults(t *testing.T) {
	run := stock.Run{Label: "picture rail", Length: 100 * inch, Splice: stock.SpliceRule{At: []measure.Length{10 * inch, 40 * inch, 60 * inch}, MinPart: 25 * inch}}
	p := optimize.Problem{Sticks: []stock.Stick{{Length: 120 * inch, Price: 1}}, Runs: []stock.Run{run}}
	for _, tt := range []struct {
		at    []measure.Length
		field string
		got   string
	}{
		{[]measure.Length{40 * inch, 50 * inch}, "spliced[0].at[1]", `4' 2"`},
		{[]measure.Length{40 * inch, 40 * inch}, "spliced[0].at[1]", `3' 4"`},
		{[]measure.Length{60 * inch, 40 * inch}, "spliced[0].at[1]", `3' 4"`},
		{[]measure.Length{10 * inch}, "spliced[0].at[0]", `10"`},
		{[]measure.Length{40 * inch, 60 * inch}, "spliced[0].at[1]", `5'`},
	} {
		hand := &optimize.Plan{Patterns: []optimize.Pattern{{Count: 1, Pieces: []int{0}}}, Spliced: []optimize.SplicedRun{{At: tt.at}}}
		_, err := optimize.Evaluate(context.Background(), p, hand)
		var wrong *optimize.CheckError
		if !errors.As(err, &wrong) || wrong.Field != tt.field || wrong.Value != tt.got || strings.Contains(wrong.Want, "want") {
			t.Errorf("%v: %v", tt.at, err)
		}
		if err := optimize.Check(context.Background(), p, hand); !errors.As(err, &wrong) || wrong.Field != tt.field {
			t.Errorf("%v: Check says %v", tt.at, err)
		}
		_, err = optimize.Solve(context.Background(), p, &optimize.Options{Start: hand})
		var bad *measure.FieldError
		if !errors.As(err, &bad) || bad.Field != "start."+tt.field || bad.Value != tt.got {
			t.Errorf("%v: a start: %v", tt.at, err)
		}
	}
}
