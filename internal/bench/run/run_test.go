package run_test

import (
	"context"
	"strings"
	"testing"
	"time"

	"example.com/longpoint/internal/bench/instance"
	"example.com/longpoint/internal/bench/run"
)

func read(t *testing.T, text string) *instance.Instance {
	t.Helper()
	list, err := instance.ReadText("c", strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return list[0]
}

// The roll of 5600 mm, 13 widths: 73 rolls are the best known (data and figure
// in the OR-Tools C++ sample "cutting stock", which quotes an encyclopedia).
const paper = "paper 5600 73 73 1 2200*20 2150*18 2140*16 2100*14 2050*12 2000*10 1930*20 1880*18 1820*18 1710*14 1560*12 1520*25 1380*22"

func TestSolvers(t *testing.T) {
	in := read(t, paper)
	for name, solve := range map[string]run.Solver{"engine": run.Engine, "optimize": run.Public} {
		r := run.Instance(context.Background(), in, solve, run.Limits{})
		if r.Wrong != "" || !r.Proven || r.Cost != 73 || r.Bound != 73 || r.Work <= 0 || r.Heap == 0 || r.Wall <= 0 {
			t.Errorf("%s: %+v", name, r)
		}
		if counted := name == "engine"; r.Counted() != counted || (r.Tally.Columns > 0) != counted || (r.Tally.Pivots > 0) != counted {
			t.Errorf("%s: stage %q, %+v", name, r.Stage, r.Tally)
		}
	}
	r := run.Instance(context.Background(), in, run.Engine, run.Limits{Work: 1})
	if r.Proven || r.Stage != run.Open {
		t.Errorf("one step: %+v", r)
	}
}

// Both ways through the engine see the same problem, so they take the same
// steps to the same costs; trim jobs have kerf, limits and several sticks.
func TestSolversAgree(t *testing.T) {
	classes, err := instance.BuiltIn()
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, c := range classes {
		if c.Name != "room" && c.Name != "waescher" {
			continue
		}
		for _, in := range c.Every(6).Instances {
			l := run.Limits{Work: 20_000_000}
			a := run.Instance(context.Background(), in, run.Engine, l)
			b := run.Instance(context.Background(), in, run.Public, l)
			n++
			if a.Wrong != "" || b.Wrong != "" || a.Cost != b.Cost || a.Bound != b.Bound || a.Work != b.Work {
				t.Errorf("%s: engine %+v\noptimize %+v", in.Name, a, b)
			}
		}
	}
	if n < 5 {
		t.Errorf("only %d instances", n)
	}
}

// Judgment is tried with claims that no solver makes.
func TestJudgment(t *testing.T) {
	proven := run.Claim{Cost: 5, Bound: 5, Plan: true, Proven: true}
	for _, test := range []struct {
		bounds string
		claim  run.Claim
		wrong  string
	}{
		{"5 5 1", proven, ""},
		{"4 6 0", proven, ""},
		{"6 6 1", proven, "below the published bound"},
		{"6 6 1", run.Claim{Cost: 5, Bound: 4, Plan: true}, "below the published bound"},
		{"4 4 1", proven, "said to be the least"},
		{"4 4 1", run.Claim{Cost: 6, Bound: 5, Plan: true}, "above the published plan"},
		{"4 4 1", run.Claim{Bound: 5}, "above the published plan"},
		{"4 4 1", run.Claim{Cost: 6, Bound: 4, Plan: true}, ""},
		{"4 4 1", run.Claim{Infeasible: true, Proven: true}, "said to have no plan"},
	} {
		in := read(t, "a 10 "+test.bounds+" 7*5")
		solve := func(context.Context, *instance.Instance, int64) func() (run.Claim, error) {
			return func() (run.Claim, error) { return test.claim, nil }
		}
		r := run.Instance(context.Background(), in, solve, run.Limits{})
		if (r.Wrong == "") != (test.wrong == "") || !strings.Contains(r.Wrong, test.wrong) {
			t.Errorf("bounds %s, %+v: %q, want %q", test.bounds, test.claim, r.Wrong, test.wrong)
		}
	}
}

// A solver that would never end is ended by either clock.
func TestLimits(t *testing.T) {
	busy := func(ctx context.Context, _ *instance.Instance, _ int64) func() (run.Claim, error) {
		for ctx.Err() == nil {
			time.Sleep(time.Microsecond)
		}
		return func() (run.Claim, error) { return run.Claim{Stop: "interrupted"}, nil }
	}
	in := read(t, paper)
	for _, l := range []run.Limits{{Wall: 20 * time.Millisecond}, {CPU: 20 * time.Millisecond}} {
		if r := run.Instance(context.Background(), in, busy, l); r.Stop != "interrupted" || r.Wall < l.Wall {
			t.Errorf("%+v: %+v", l, r)
		}
	}
}
