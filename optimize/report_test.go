package optimize_test

import (
	"context"
	"encoding/json"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/optimize"
)

// The text, the methods and the JSON of a report agree.
func TestReport(t *testing.T) {
	for _, c := range []struct {
		bound, shown int64
		why          string
		goals        []string
		complete     bool
		open         []string
		text, json   string
	}{
		{0, 0, "", nil, true, nil, "bound 0 shown", `{"shown":0,"claimed":0}`},
		{5120, 5120, "", nil, true, nil, "bound 5120 shown", `{"shown":5120,"claimed":5120}`},
		{5120, 4990, "exhausted search", nil, false, []string{"exhausted search"},
			"bound 4990 shown of 5120 claimed: exhausted search", `{"shown":4990,"claimed":5120,"open":["exhausted search"]}`},
		{5120, 0, "nothing stored", []string{"bound 3 of the goal fewest cuts"}, false, []string{"nothing stored", "bound 3 of the goal fewest cuts"},
			"bound 0 shown of 5120 claimed: nothing stored, bound 3 of the goal fewest cuts", `{"shown":0,"claimed":5120,"open":["nothing stored","bound 3 of the goal fewest cuts"]}`},
		{7, 7, "", []string{"a", "b"}, true, []string{"a", "b"}, "bound 7 shown; not shown: a, b", `{"shown":7,"claimed":7,"open":["a","b"]}`},
	} {
		r := optimize.ReportOn(c.bound, c.shown, c.why, c.goals)
		text, err := json.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		if string(text) != c.json {
			t.Errorf("%v as JSON is %s, want %s", r, text, c.json)
		}
		var back optimize.Report
		if err := json.Unmarshal(text, &back); err != nil {
			t.Fatal(err)
		}
		for _, r := range []*optimize.Report{r, &back} {
			if r.String() != c.text {
				t.Errorf("%q, want %q", r, c.text)
			}
			if shown, complete := r.Bound(); shown != c.shown || complete != c.complete {
				t.Errorf("%v: bound %d, complete %t", r, shown, complete)
			}
			open := r.Open()
			if !slices.Equal(open, c.open) {
				t.Errorf("%v: open %q, want %q", r, open, c.open)
			}
			if len(open) > 0 {
				open[0] = "nothing at all"
				if slices.Equal(open, r.Open()) {
					t.Errorf("%v: Open returns the report's own slice", r)
				}
			}
		}
	}
	if err := json.Unmarshal([]byte(`{"shown":"all"}`), new(optimize.Report)); err == nil {
		t.Error("accepted a report of a different form")
	}
}

// With an error there is no report, and without one there is.
func TestNoReportOfWhatIsWrong(t *testing.T) {
	p := tinyBase(rand.New(rand.NewPCG(5, 5)))
	for _, most := range []int{0, 9} {
		p.Rules.MaxPieces = most
		plan := mustSolve(t, p)
		if r, err := optimize.Audit(context.Background(), p, plan); r == nil || err != nil {
			t.Errorf("a right plan: %v, %v", r, err)
		}
		plan.Cost++
		if r, err := optimize.Audit(context.Background(), p, plan); r != nil || err == nil {
			t.Errorf("a wrong plan: %v, %v", r, err)
		}
		if r, err := optimize.Audit(context.Background(), optimize.Problem{}, plan); r != nil || err == nil {
			t.Errorf("no problem: %v, %v", r, err)
		}
	}
}
