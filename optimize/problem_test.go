package optimize_test

import (
	"context"
	"errors"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

const inch = measure.Inch

// sound is a problem that has a plan, to be spoiled in one place.
func sound() optimize.Problem {
	return optimize.Problem{
		Sticks: []stock.Stick{
			{Label: "eight foot", Length: 96 * inch, Price: 1100},
			{Label: "twelve foot", Length: 144 * inch, Price: 1700, Limit: 2, TrimStart: inch, TrimEnd: inch / 2},
		},
		Pieces: []stock.Piece{
			{Label: "north wall", Length: 90 * inch},
			{Label: "stage front", Length: 40 * inch, Quantity: 3},
			{Label: "cloakroom door", Length: 7 * inch, Quantity: 2},
		},
		Kerf: inch / 8,
	}
}

func TestBadProblem(t *testing.T) {
	const top = math.MaxInt64
	tests := []struct {
		name  string
		spoil func(p *optimize.Problem)
		field string
	}{
		{"nothing", func(p *optimize.Problem) { *p = optimize.Problem{} }, "sticks"},
		{"no sticks", func(p *optimize.Problem) { p.Sticks = nil }, "sticks"},
		{"no pieces", func(p *optimize.Problem) { p.Pieces = nil }, "pieces"},
		{"negative kerf", func(p *optimize.Problem) { p.Kerf = -1 }, "kerf"},
		{"stick of no length", func(p *optimize.Problem) { p.Sticks[1].Length = 0 }, "sticks[1].length"},
		{"stick of negative length", func(p *optimize.Problem) { p.Sticks[0].Length = math.MinInt64 }, "sticks[0].length"},
		{"negative start", func(p *optimize.Problem) { p.Sticks[1].TrimStart = -1 }, "sticks[1].trim_start"},
		{"negative end", func(p *optimize.Problem) { p.Sticks[1].TrimEnd = math.MinInt64 }, "sticks[1].trim_end"},
		{"start takes all", func(p *optimize.Problem) { p.Sticks[1].TrimStart = 144 * inch }, "sticks[1].trim_start"},
		{"end takes all", func(p *optimize.Problem) { p.Sticks[1].TrimEnd = top }, "sticks[1].trim_end"},
		{"both ends take all", func(p *optimize.Problem) { p.Sticks[1].TrimEnd = 143 * inch }, "sticks[1].trim_end"},
		{"negative price", func(p *optimize.Problem) { p.Sticks[0].Price = -1 }, "sticks[0].price"},
		{"negative limit", func(p *optimize.Problem) { p.Sticks[1].Limit = -2 }, "sticks[1].limit"},
		{"piece of no length", func(p *optimize.Problem) { p.Pieces[2].Length = 0 }, "pieces[2].length"},
		{"piece of negative length", func(p *optimize.Problem) { p.Pieces[0].Length = -inch }, "pieces[0].length"},
		{"negative quantity", func(p *optimize.Problem) { p.Pieces[1].Quantity = -3 }, "pieces[1].quantity"},
		{"piece of another profile", func(p *optimize.Problem) {
			p.Sticks[1].Profile, p.Pieces[0].Profile, p.Pieces[2].Profile = "base", "base", "crown"
		}, "pieces[2].profile"},
		{"stick of another profile", func(p *optimize.Problem) {
			p.Sticks[0].Profile, p.Sticks[1].Profile = "base", "crown"
		}, "sticks[1].profile"},

		{"stick and kerf out of range", func(p *optimize.Problem) { p.Sticks[0].Length = top }, "sticks[0].length"},
		{"piece and kerf out of range", func(p *optimize.Problem) { p.Pieces[0].Length = top }, "pieces[0].length"},
		{"stick beyond what is summed", func(p *optimize.Problem) { p.Sticks[0].Length = 1<<62 + 2 }, "sticks[0].length"},
		{"number of pieces", func(p *optimize.Problem) {
			for i := range p.Pieces {
				p.Pieces[i].Quantity = math.MaxInt
			}
		}, "pieces[0].quantity"},
		{"total length", func(p *optimize.Problem) {
			p.Sticks[0].Length = 1 << 40
			p.Pieces = []stock.Piece{{Length: 1 << 39, Quantity: 1 << 21}, {Length: 1<<39 - 1, Quantity: 1 << 24}}
		}, "pieces"},
		{"total length in ticks only", func(p *optimize.Problem) {
			p.Kerf = 0
			p.Sticks = []stock.Stick{{Length: 1 << 40, Price: 1}}
			p.Pieces = []stock.Piece{{Length: 1 << 40, Quantity: 1 << 23}}
		}, "pieces"},
		{"total price", func(p *optimize.Problem) {
			p.Sticks[0].Price = top / 2
			p.Sticks[1].Price = top / 3
		}, "sticks[0].price"},
		{"total price in minor units only", func(p *optimize.Problem) {
			p.Sticks = []stock.Stick{{Length: 96 * inch, Price: 1 << 62}}
		}, "sticks[0].price"},
		{"total stock length", func(p *optimize.Problem) {
			p.Sticks = []stock.Stick{{Length: 96 * inch}, {Length: 1 << 59}}
			p.Pieces[1].Quantity = 100
		}, "sticks[1].length"},
		{"too many pieces on one stick", func(p *optimize.Problem) {
			p.Pieces[1].Length, p.Pieces[1].Quantity = 1, math.MaxInt32
			p.Kerf = 1
		}, "pieces[1].length"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if tt.name == "number of pieces" && math.MaxInt == math.MaxInt32 {
				t.Skip("three counts of 32 bits cannot add up to that")
			}
			p := sound()
			tt.spoil(&p)
			plan, err := optimize.Solve(context.Background(), p, nil)
			if plan != nil {
				t.Error("a plan together with an error")
			}
			var pe *measure.FieldError
			if !errors.As(err, &pe) {
				t.Fatalf("error %v, want a FieldError", err)
			}
			if pe.Field != tt.field || pe.Value == "" || pe.Want == "" {
				t.Errorf("field %q, value %q, want %q; want field %q", pe.Field, pe.Value, pe.Want, tt.field)
			}
			if !strings.Contains(err.Error(), tt.field) || !strings.Contains(err.Error(), strings.Trim(strconv.Quote(pe.Value), `"`)) {
				t.Errorf("message %q does not name field and value", err)
			}
			if errors.As(err, new(*optimize.InfeasibleError)) || errors.As(err, new(*optimize.LimitError)) {
				t.Error("the error has two types")
			}
		})
	}
	mustSolve(t, sound())
}

func TestInfeasible(t *testing.T) {
	label := func(p *optimize.Problem) { p.Pieces[0].Label = "north wall" }
	tests := []struct {
		name string
		p    optimize.Problem
		want optimize.InfeasibleError
	}{
		{"piece longer than every stick",
			optimize.Problem{
				Sticks: []stock.Stick{{Length: 96 * inch}, {Length: 120 * inch, TrimStart: inch, TrimEnd: inch}, {Length: 118 * inch}},
				Pieces: []stock.Piece{{Length: 90 * inch}, {Length: 118*inch + inch/16}},
			},
			optimize.InfeasibleError{Reason: optimize.ReasonPieceTooLong, ShortFrom: -1, Run: -1, Group: -1, Piece: 1, Stick: 1, Need: 118*inch + inch/16, Have: 118 * inch}},
		{"supply too short in total",
			optimize.Problem{
				Sticks: []stock.Stick{{Length: 96 * inch, Limit: 1}, {Length: 48 * inch, Limit: 2}},
				Pieces: []stock.Piece{{Length: 40 * inch, Quantity: 4}, {Length: 32 * inch, Quantity: 2}},
				Kerf:   inch / 8,
			},
			optimize.InfeasibleError{Reason: optimize.ReasonSupplyTooShort, Run: -1, Group: -1, Piece: -1, ShortFrom: 1, Stick: -1,
				Need: 224*inch + 6*inch/8, Have: 192*inch + 3*inch/8}},
		{"supply of the long ones too short",
			optimize.Problem{
				Sticks: []stock.Stick{{Length: 100 * inch, Limit: 1}, {Length: 48 * inch}},
				Pieces: []stock.Piece{{Length: 10 * inch, Quantity: 100}, {Length: 50 * inch, Quantity: 3}},
			},
			optimize.InfeasibleError{Reason: optimize.ReasonSupplyTooShort, Run: -1, Group: -1, Piece: -1, ShortFrom: 1, Stick: -1, Need: 150 * inch, Have: 100 * inch}},
		{"too few fit",
			optimize.Problem{
				Sticks: []stock.Stick{{Length: 96 * inch, Limit: 3}},
				Pieces: []stock.Piece{{Length: 50 * inch, Quantity: 4}},
			},
			optimize.InfeasibleError{Reason: optimize.ReasonSupplyTooFew, Run: -1, Group: -1, Piece: -1, ShortFrom: 0, Stick: -1, NeedCount: 4, HaveCount: 3}},
		{"only the solver can tell",
			optimize.Problem{
				Sticks: []stock.Stick{{Length: 10 * inch, Limit: 2}},
				Pieces: []stock.Piece{{Length: 4 * inch, Quantity: 3}, {Length: 7 * inch}},
			},
			optimize.InfeasibleError{Reason: optimize.ReasonSupplyDoesNotFit, ShortFrom: -1, Run: -1, Group: -1, Piece: -1, Stick: -1}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			plan, err := optimize.Solve(context.Background(), tt.p, nil)
			if tt.want.Reason == optimize.ReasonSupplyDoesNotFit {
				if _, ok := slowSolve(tt.p); ok {
					t.Fatal("the problem has a plan")
				}
			}
			var got *optimize.InfeasibleError
			if plan != nil || !errors.As(err, &got) || !errors.As(err, new(*optimize.InfeasibleError)) {
				t.Fatalf("plan %v, error %v, want an InfeasibleError", plan, err)
			}
			if d := cmp.Diff(tt.want, *got); d != "" {
				t.Errorf("-want +got\n%s", d)
			}
			if i := max(got.Piece, got.ShortFrom); i >= 0 {
				label(&tt.p)
				tt.p.Pieces[1%len(tt.p.Pieces)].Label = "south wall"
				_, err := optimize.Solve(context.Background(), tt.p, nil)
				if want := tt.p.Pieces[i].Label; !strings.Contains(err.Error(), want) {
					t.Errorf("message %q does not name the piece, %q", err, want)
				}
			}
		})
	}
}

// TestProblemUntouched keeps Solve and Check to their word.
func TestProblemUntouched(t *testing.T) {
	p := sound()
	mustSolve(t, p)
	if d := cmp.Diff(sound(), p); d != "" {
		t.Errorf("the problem changed: -before +after\n%s", d)
	}
}

// TestExtremes tries values at the ends of their ranges in every field. Other tests check the results;
// here nothing may panic, and a plan and an error must not come together.
func TestExtremes(t *testing.T) {
	lengths := []measure.Length{math.MinInt64, -1, 0, 1, 2, inch, 96 * inch, 1 << 59, 1 << 60, 1 << 61, math.MaxInt64 - 1, math.MaxInt64}
	counts := []int{math.MinInt, -1, 0, 1, 2, 65536, 65537, math.MaxInt32, math.MaxInt/2 + 1, math.MaxInt}
	prices := []int64{math.MinInt64, -1, 0, 1, 1 << 59, 1 << 60, math.MaxInt64}
	try := func(spoil func(p *optimize.Problem)) {
		p := sound()
		spoil(&p)
		plan, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: 1_000_000})
		if (plan == nil) != (err != nil) {
			t.Fatalf("plan %v, error %v\n%#v", plan, err, p)
		}
		var ie *optimize.InternalError
		if errors.As(err, &ie) {
			t.Fatalf("%v\n%#v", err, p)
		}
		if plan != nil {
			if err := optimize.Check(context.Background(), p, plan); err != nil {
				t.Fatalf("%v\n%#v", err, p)
			}
		}
		optimize.Check(context.Background(), p, &optimize.Plan{Patterns: []optimize.Pattern{{Stick: 1, Count: 1, Pieces: []int{0, 1, 2}}}})
	}
	for _, l := range lengths {
		for _, k := range lengths {
			try(func(p *optimize.Problem) { p.Sticks[1].Length, p.Pieces[1].Length = l, k })
			try(func(p *optimize.Problem) { p.Sticks[1].Length, p.Kerf = l, k })
			try(func(p *optimize.Problem) { p.Sticks[1].TrimStart, p.Sticks[1].TrimEnd = l, k })
			try(func(p *optimize.Problem) { p.Pieces[0].Length, p.Kerf = l, k })
		}
		for _, c := range counts {
			try(func(p *optimize.Problem) { p.Pieces[2].Length, p.Pieces[2].Quantity = l, c })
			try(func(p *optimize.Problem) { p.Sticks[1].Length, p.Sticks[1].Limit = l, c })
		}
		for _, c := range prices {
			try(func(p *optimize.Problem) { p.Sticks[1].Length, p.Sticks[1].Price = l, c })
		}
	}
	for _, c := range counts {
		for _, m := range prices {
			try(func(p *optimize.Problem) { p.Pieces[2].Quantity, p.Sticks[0].Price = c, m })
		}
		for _, k := range counts {
			try(func(p *optimize.Problem) { p.Pieces[2].Quantity, p.Sticks[1].Limit = c, k })
		}
	}
}
