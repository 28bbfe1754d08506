package optimize_test

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/replan"
	"example.com/longpoint/optimize/whatif"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// If a zero stands for something else, an explicit zero in JSON is an error.
func TestWrittenZeros(t *testing.T) {
	for _, c := range []struct {
		into         any
		text, want   string // the rejected text, and the suggestion of the error
		right        string // a valid replacement
		field, value string
	}{
		{new(stock.Stick), `{"length":"8ft","limit":0}`, `"sold out"`, `{"length":"8ft","limit":"sold out"}`, "limit", "0"},
		{new(stock.Stick), `{"length":"8ft","limit":"none"}`, `"sold out"`, `{"length":"8ft"}`, "limit", "none"},
		{new(stock.Stick), `{"length":"8ft","bundle":0}`, "nothing for 1", `{"length":"8ft","bundle":1}`, "bundle", "0"},
		{new(stock.Stick), `{"length":"8ft","minimum":0}`, "nothing for 1", `{"length":"8ft","minimum":2}`, "minimum", "0"},
		{new(stock.Stick), `{"length":"8ft","nominal":"0in"}`, "nothing for its length", `{"length":"7ft 6in","nominal":"8ft"}`, "nominal", "0in"},
		{new(stock.End), `{"kind":"inside miter","angle":"0deg"}`, "nothing for 90deg", `{"kind":"inside miter","angle":"91deg"}`, "angle", "0deg"},
		{new(stock.SpliceRule), `{"at":["3ft"],"max_splices":0}`, "nothing for no limit", `{"at":["3ft"],"max_splices":2}`, "max_splices", "0"},
		{new(stock.Profile), `{"name":"crown","thickness":"1in","width":"4in","spring":"0deg"}`, "nothing for 38deg", `{"name":"crown","thickness":"1in","width":"4in","spring":"45deg"}`, "spring", "0deg"},
		{new(stock.Profile), `{"name":"base","thickness":"1in","width":"4in","face":"0in"}`, "nothing for width plus", `{"name":"base","thickness":"1in","width":"4in","face":"5in"}`, "face", "0in"},
		{new(stock.Rip), `{"width":"12in","strip":"3in","min_strip":"0in"}`, "nothing for 1in", `{"width":"1ft","strip":"3in","min_strip":"3/4in"}`, "min_strip", "0in"},
		{new(optimize.Rules), `{"max_pieces":0}`, "nothing for no limit", `{"max_pieces":3}`, "max_pieces", "0"},
		{new(optimize.Rules), `{"max_transport":"0mm"}`, "nothing for no limit", `{"max_transport":"10ft"}`, "max_transport", "0mm"},
		{new(stock.Piece), `{"label":"a","length":"8ft","quantity":0}`, "1 or more", `{"label":"a","length":"8ft","quantity":3}`, "quantity", "0"},
		{new(stock.Offcut), `{"profile":"base","length":"8ft","count":0}`, "1 or more", `{"profile":"base","length":"8ft"}`, "count", "0"},
		{new(takeoff.Opening), `{"at":"0in","width":"30in","reveal":"0in"}`, `"flush": true`, `{"at":"0in","width":"2ft 6in","flush":true}`, "reveal", "0in"},
		{new(takeoff.Scheme), `{"plinth_height":"0in"}`, "1in more than the base", `{"plinth_height":"8in"}`, "plinth_height", "0in"},
		{new(takeoff.Scheme), `{"chair_rail_at":"0in"}`, "nothing for 32in", `{"chair_rail_at":"2ft 6in"}`, "chair_rail_at", "0in"},
		{new(takeoff.Scheme), `{"picture_rail_at":"0mm"}`, "nothing for 84in", `{"picture_rail_at":"6ft 6in"}`, "picture_rail_at", "0mm"},
		{new(takeoff.Options), `{"bevel":"0deg"}`, `nothing for 45deg`, `{"bevel":"30deg"}`, "bevel", "0deg"},
		{new(takeoff.Options), `{"clear":"0in"}`, `nothing for 24in`, `{"clear":"1ft"}`, "clear", "0in"},
		{new(takeoff.Options), `{"min_part":"0in"}`, `nothing for 16in`, `{"min_part":"1ft"}`, "min_part", "0in"},
		{new(takeoff.Options), `{"scribe":"0in"}`, `nothing for 1/4in`, `{"scribe":"1/2in"}`, "scribe", "0in"},
		{new(takeoff.Options), `{"horn":"0in"}`, `1/128in for next to none`, `{"horn":"1in"}`, "horn", "0in"},
		{new(takeoff.Options), `{"chamfer":"0deg"}`, `nothing for 45deg`, `{"chamfer":"30deg"}`, "chamfer", "0deg"},
		{new(takeoff.Options), `{"meet_reveal":"0in"}`, `nothing for 1/8in`, `{"meet_reveal":"1/4in"}`, "meet_reveal", "0in"},
		{new(takeoff.Options), `{"movement_joint":"0in"}`, `nothing for 1/8in`, `{"movement_joint":"1/4in"}`, "movement_joint", "0in"},
		{new(takeoff.Options), `{"straight_cut":"0in"}`, `exact_cut`, `{"straight_cut":"1/8in"}`, "straight_cut", "0in"},
		{new(takeoff.Options), `{"min_base":"0in"}`, `three quarters`, `{"min_base":"4in"}`, "min_base", "0in"},
		{new(replan.Owned), `{"stick":0,"place":"leftover","length":"8ft","count":0}`, "1 or more", `{"stick":0,"place":"leftover","length":"8ft","count":2}`, "count", "0"},
		{new(replan.Spoiled), `{"piece":0,"count":0}`, "1 or more", `{"piece":0}`, "count", "0"},
		{new(optimize.Problem), `{"sticks":[],"pieces":[],"min_remnant":"0mm"}`, "8in", `{"sticks":null,"pieces":null,"min_remnant":"1/16in"}`, "min_remnant", "0mm"},
	} {
		err := json.Unmarshal([]byte(c.text), c.into)
		var field, value string
		if fe := (*measure.FieldError)(nil); errors.As(err, &fe) {
			field, value = fe.Field, fe.Value
		}
		if field != c.field || value != c.value || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want an error for %s", c.text, err, c.field)
		}
		// UnmarshalStrict knows the place as well.
		list := reflect.New(reflect.SliceOf(reflect.TypeOf(c.into).Elem()))
		var fe *measure.FieldError
		name := strings.ToLower(c.field)
		err = measure.UnmarshalStrict([]byte("["+c.right+", "+c.text+"]"), list.Interface())
		if !errors.As(err, &fe) || fe.Field != "[1]."+name || fe.Value != c.value || !strings.Contains(fe.Want, c.want) {
			t.Errorf("%s: %v, want an error for [1].%s", c.text, err, name)
		}
		if err := measure.UnmarshalStrict([]byte("["+c.right+"]"), list.Interface()); err != nil {
			t.Errorf("%s: %v", c.right, err)
		}
		if err := measure.UnmarshalStrict([]byte("["+strings.TrimSuffix(c.right, "}")+`,"misspelled":1}]`), list.Interface()); !errors.As(err, &fe) || fe.Field != "[0].misspelled" {
			t.Errorf("%s with another name: %v", c.right, err)
		}
		if err := json.Unmarshal([]byte(c.right), c.into); err != nil {
			t.Errorf("%s: %v", c.right, err)
			continue
		}
		if back, err := json.Marshal(c.into); err != nil || string(back) != c.right && !strings.Contains(c.right, ":1}") {
			t.Errorf("%s is written as %s, %v", c.right, back, err)
		}
	}
	// Somewhere in a job, too.
	for _, text := range []string{
		`{"sticks":[{"length":"8ft","limit":0}],"pieces":[{"label":"","length":"1ft"}]}`,
		`{"sticks":[{"length":"8ft"}],"pieces":[{"label":"","length":"1ft"},{"label":"","length":"1ft","quantity":0}]}`,
	} {
		if err := json.Unmarshal([]byte(text), new(optimize.Problem)); err == nil {
			t.Errorf("%s is read", text)
		}
	}
}

// Whatever a problem is, it reads back as it was, and no zero is written that is refused.
func TestProblemsReadBack(t *testing.T) {
	for seed := range uint64(300) {
		r := rand.New(rand.NewPCG(seed, 88))
		p := bothAdded(r.IntN(len(features)), r.IntN(len(features)), seed)
		for i := range p.Sticks {
			if r.IntN(5) == 0 {
				p.Sticks[i].Limit = stock.SoldOut
			}
		}
		text, err := json.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		var q optimize.Problem
		if err := json.Unmarshal(text, &q); err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		if d := cmp.Diff(p, q, cmp.Transformer("nil", func(s []measure.Length) []measure.Length { return append([]measure.Length{}, s...) })); d != "" {
			t.Fatalf("%s\n%s", text, d)
		}
	}
}

// A stick that is sold out is as good as one that is not on the list, in both engines.
func TestSoldOut(t *testing.T) {
	none := 0
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.IntRange(-1, len(features)-1).Draw(t, "feature")
		seed := uint64(rapid.IntRange(0, 1000).Draw(t, "seed"))
		p := tinyBase(rand.New(rand.NewPCG(seed, 5)))
		if a >= 0 {
			p = bothAdded(a, a, seed)
		}
		// Not the charges and prices that determine the unit of the cost.
		q := p
		q.Sticks = nil
		at := []int{}
		p.Sticks = slices.Clone(p.Sticks)
		money := slices.ContainsFunc(p.Sticks, func(s stock.Stick) bool { return s.Price != 0 })
		gone := stock.Stick{Length: 300 * u, Limit: stock.SoldOut, Grade: 2, Rack: true}
		if money {
			gone.Price = 1
		}
		n := rapid.IntRange(0, len(p.Sticks)).Draw(t, "at")
		q.Sticks = p.Sticks
		p.Sticks = slices.Insert(slices.Clone(p.Sticks), n, gone)
		for i := range q.Sticks {
			if i >= n {
				at = append(at, i+1)
			} else {
				at = append(at, i)
			}
		}
		o := &optimize.Options{Work: 3_000_000}
		want, errWant := optimize.Solve(context.Background(), q, o)
		got, err := optimize.Solve(context.Background(), p, o)
		if (err == nil) != (errWant == nil) || errors.As(err, new(*optimize.InfeasibleError)) != errors.As(errWant, new(*optimize.InfeasibleError)) {
			t.Fatalf("%v, without the stick %v\n%s", err, errWant, written(&p))
		}
		if err != nil {
			none++
			return
		}
		if err := optimize.Check(context.Background(), p, got); err != nil {
			t.Fatalf("%v\n%s", err, written(&p))
		}
		if got.Cost != want.Cost || got.Bound != want.Bound {
			t.Fatalf("cost %d and bound %d, without the stick %d and %d\n%s", got.Cost, got.Bound, want.Cost, want.Bound, written(&p))
		}
		for k := range want.Patterns {
			pat := want.Patterns[k]
			if pat.Stick = at[pat.Stick]; cmp.Diff(pat, got.Patterns[k]) != "" {
				t.Fatalf("%+v, without the stick %+v", got.Patterns, want.Patterns)
			}
		}
		// A plan that takes it all the same is refused.
		bad := *got
		bad.Patterns = slices.Clone(got.Patterns)
		bad.Patterns[0].Stick = n
		var ce *optimize.CheckError
		if err := optimize.Check(context.Background(), p, &bad); !errors.As(err, &ce) {
			t.Fatalf("a plan with a stick that is sold out: %v", err)
		}
	})
	all := optimize.Problem{Sticks: []stock.Stick{{Length: 90, Price: 3, Limit: stock.SoldOut}}, Pieces: []stock.Piece{{Length: 9}}}
	for _, rules := range []optimize.Rules{{}, {MaxPieces: 3}} {
		all.Rules = rules
		if _, err := optimize.Solve(context.Background(), all, nil); !errors.As(err, new(*optimize.InfeasibleError)) {
			t.Errorf("%+v: %v", rules, err)
		}
	}
	all.Sticks[0].Limit = -2
	if _, err := optimize.Solve(context.Background(), all, nil); !errors.As(err, new(*measure.FieldError)) {
		t.Error(err)
	}
}

// If everything with a price is sold out, the rack is cut for nothing, in both engines.
func TestNothingLeftToPay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t)
		for i := range p.Sticks {
			p.Sticks[i].Price, p.Sticks[i].Rack = 0, true
		}
		n := rapid.IntRange(0, len(p.Sticks)).Draw(t, "at")
		gone := stock.Stick{Length: 500 * inch, Price: 3, Limit: stock.SoldOut}
		p.Sticks = slices.Insert(p.Sticks, n, gone)
		if rapid.Bool().Draw(t, "rules") {
			p.Rules.MaxPieces = 100
		}
		plan := solved(t, p)
		if plan.ByLength || plan.Cost != 0 || !plan.Proven {
			t.Fatalf("by length %v, %d, proven %v", plan.ByLength, plan.Cost, plan.Proven)
		}
		from, err := optimize.Solve(context.Background(), p, &optimize.Options{Start: plan, Progress: func(g optimize.Progress) bool { return g.Bound == 0 }})
		if err != nil || from.Cost != 0 || !from.Proven {
			t.Fatalf("from its plan: %+v, %v", from, err)
		}
		p.Sticks = p.Sticks[n : n+1]
		if _, err := optimize.Solve(context.Background(), p, nil); !errors.As(err, new(*optimize.InfeasibleError)) {
			t.Fatalf("without the rack: %v", err)
		}
	})
}

// A rule under the name that it had once is not passed over.
func TestFormerNames(t *testing.T) {
	for text, field := range map[string]string{
		`{"most_pieces":3}`: "most_pieces", `{"hold":"6in"}`: "hold", `{"transport":"9ft"}`: "transport", `{"worth":[]}`: "worth",
		`{"groups":[{"kind":"one lot","pieces":[0,1]},{"kind":"one lot","pieces":[2],"begun":true}]}`: "groups[1].begun",
		`{"Hold":"6in"}`: "Hold", `{"GROUPS":[{"Begun":true}]}`: "groups[0].Begun",
	} {
		var r optimize.Rules
		var bad *measure.FieldError
		if err := json.Unmarshal([]byte(text), &r); !errors.As(err, &bad) || bad.Field != field || !strings.Contains(bad.Want, "its present name, ") || strings.Contains(bad.Value, `"`) {
			t.Errorf("%s: %v", text, err)
		}
		if err := measure.UnmarshalStrict([]byte(text), &r); err == nil {
			t.Errorf("%s is read", text)
		}
	}
}

// One forgotten price would make a plan proven at a wrong cost.
func TestForgottenPrice(t *testing.T) {
	for k, c := range []struct {
		sticks []stock.Stick
		bad    int // -1: none
	}{
		{[]stock.Stick{{Length: 90}, {Length: 80}}, -1},
		{[]stock.Stick{{Length: 90, Price: 1}, {Length: 80}}, 1},
		{[]stock.Stick{{Length: 90}, {Length: 80, Price: 1}, {Length: 70}}, 0},
		{[]stock.Stick{{Length: 90, Rack: true}, {Length: 80, Price: 1}}, -1},
		{[]stock.Stick{{Length: 90, Rack: true, Price: 2}, {Length: 80}}, 1},
		{[]stock.Stick{{Length: 90, Breaks: []stock.PriceBreak{{From: 2, Price: 5}}}, {Length: 80, Price: 7}}, 0},
		{[]stock.Stick{{Length: 90, Breaks: []stock.PriceBreak{{From: 2, Price: 5}}}}, 0},
		{[]stock.Stick{{Length: 90, Price: 6, Breaks: []stock.PriceBreak{{From: 2, Price: 5}}}}, -1},
		{[]stock.Stick{{Length: 90, Price: 6, Breaks: []stock.PriceBreak{{From: 2}}}}, -1},
	} {
		p := optimize.Problem{Sticks: c.sticks, Pieces: []stock.Piece{{Length: 9}}}
		plan, err := optimize.Solve(context.Background(), p, nil)
		if c.bad < 0 {
			if err != nil || optimize.Check(context.Background(), p, plan) != nil {
				t.Errorf("%d: %v", k, err)
			}
			continue
		}
		var pe *measure.FieldError
		if !errors.As(err, &pe) || pe.Field != fmt.Sprintf("sticks[%d].price", c.bad) || !strings.Contains(pe.Want, "rack") {
			t.Errorf("%d: %v", k, err)
		}
	}
	// The price that is looked for may be zero.
	p := optimize.Problem{Sticks: []stock.Stick{{Length: 90, Price: 5}, {Length: 80, Price: 3}}, Pieces: []stock.Piece{{Length: 85}}}
	th, err := whatif.PriceToBuy(context.Background(), p, 1, 4, nil)
	if err != nil || th.Price != -1 || th.Above != 0 {
		t.Errorf("%+v, %v", th, err)
	}
}
