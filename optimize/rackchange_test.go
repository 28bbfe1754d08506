package optimize_test

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/replan"
	"example.com/longpoint/stock"
)

func ExamplePlan_RackChange() {
	rack := stock.Rack{Keep: measure.Foot, Offcuts: []stock.Offcut{
		{Profile: "fir rail", Material: "fir", Length: 5 * measure.Foot, Count: 2},
	}}
	p := optimize.Problem{
		Sticks: append(rack.SticksIn("fir rail", "fir"),
			stock.Stick{Length: 12 * measure.Foot, Price: 2175, Profile: "fir rail", Material: "fir"}),
		Pieces: []stock.Piece{{Length: 11 * measure.Foot}, {Length: 42 * measure.Inch}},
		Kerf:   measure.Inch / 8,
	}
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	change, err := plan.RackChange(p, "coat rail, 3 May")
	if err != nil {
		fmt.Println(err)
		return
	}
	after, err := rack.Apply(change)
	for _, o := range after.Offcuts {
		fmt.Println(o.Count, "x", o.Length, o.Profile, o.Material)
	}
	fmt.Println(err)
	// Output:
	// 1 x 5' fir rail fir
	// 1 x 1' 5-7/8" fir rail fir
	// <nil>
}

// change solves a problem and returns the plan's change to the rack.
func change(t *testing.T, p optimize.Problem) (stock.RackChange, *optimize.Plan) {
	t.Helper()
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := optimize.Check(context.Background(), p, plan); err != nil {
		t.Fatal(err)
	}
	c, err := plan.RackChange(p, "job")
	if err != nil {
		t.Fatalf("%v\n%+v", err, plan)
	}
	if c.ID != "job" {
		t.Errorf("ID %q", c.ID)
	}
	return c, plan
}

func TestRackChange(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	for _, c := range []struct {
		name   string
		p      optimize.Problem
		uses   []stock.Offcut
		leaves []stock.Offcut
	}{
		// Two sticks that are cut alike are one pattern. 5 ft − 3 ft − 1/8 in, twice.
		{"alike", optimize.Problem{
			Sticks: []stock.Stick{{Label: "by the stove", Length: 5 * ft, Limit: 3, Rack: true, Profile: "base", Material: "oak"}},
			Pieces: []stock.Piece{{Length: 3 * ft, Quantity: 2}}, Kerf: in / 8,
		},
			[]stock.Offcut{{Label: "by the stove", Profile: "base", Material: "oak", Length: 5 * ft, Count: 2}},
			[]stock.Offcut{{Profile: "base", Material: "oak", Length: 2*ft - in/8, Count: 2}},
		},
		// The profile is known by the piece; a remainder that is no wider than the kerf is dust.
		{"dust", optimize.Problem{
			Sticks: []stock.Stick{{Length: 5 * ft, Price: 1}}, Kerf: in / 8,
			Pieces: []stock.Piece{{Length: 5*ft - in/16, Profile: "base"}, {Length: 4 * ft}},
		}, nil, []stock.Offcut{{Profile: "base", Length: ft - in/8, Count: 1}}},
		// A bundle of four, one is cut: three are left, less the ends that cannot be used.
		{"bundle", optimize.Problem{
			Sticks: []stock.Stick{{Length: 8 * ft, Price: 100, Bundle: 4, TrimStart: in, TrimEnd: 2 * in}},
			Pieces: []stock.Piece{{Length: 5 * ft}}, Kerf: in / 8,
		}, nil, []stock.Offcut{{Length: 3*ft - 3*in - in/8, Count: 1}, {Length: 8*ft - 3*in, Count: 3}}},
		// A spare stick off the rack stays where it is.
		{"spare", optimize.Problem{
			Sticks: []stock.Stick{{Length: 6 * ft, Limit: 2, Rack: true}, {Length: 6 * ft, Price: 900}},
			Pieces: []stock.Piece{{Length: 5 * ft}}, Rules: optimize.Rules{Spare: 1},
		}, []stock.Offcut{{Length: 6 * ft, Count: 1}}, []stock.Offcut{{Length: ft, Count: 1}}},
		// Knots part the stick in 3 ft, 4 ft 10 in and 2 ft; the piece takes the second.
		{"defects", optimize.Problem{
			Sticks: []stock.Stick{{Length: 10 * ft, Limit: 1, Rack: true, Defects: []stock.Defect{{From: 8*ft - in, To: 8 * ft}, {From: 3 * ft, To: 3*ft + in}}}},
			Pieces: []stock.Piece{{Length: 4 * ft}}, Kerf: in / 8,
		}, []stock.Offcut{{Length: 10 * ft, Count: 1}}, []stock.Offcut{
			{Length: 3 * ft, Count: 1}, {Length: 10*in - in/8, Count: 1}, {Length: 2 * ft, Count: 1},
		}},
		// Of two such sticks sold together the uncut one leaves its clear stretches.
		{"whole with defects", optimize.Problem{
			Sticks: []stock.Stick{{Length: 10 * ft, Limit: 2, Bundle: 2, Price: 5, Defects: []stock.Defect{{From: 4 * ft, To: 5 * ft}}}},
			Pieces: []stock.Piece{{Length: 5 * ft}},
		}, nil, []stock.Offcut{{Length: 4 * ft, Count: 2}, {Length: 5 * ft, Count: 1}}},
		// 16 ft in a car of 10: cut after the piece of 7 ft, with 9 ft less the kerf for the other
		// part, of which 4 ft are used and one more cut.
		{"yard", optimize.Problem{
			Sticks: []stock.Stick{{Length: 16 * ft, Price: 10}}, Kerf: in / 8,
			Pieces: []stock.Piece{{Length: 7 * ft}, {Length: 4 * ft}}, Rules: optimize.Rules{MaxTransport: 10 * ft, YardCut: 1},
		}, nil, []stock.Offcut{{Length: 5*ft - in/4, Count: 1}}},
		// Runs: the parts are cut as pieces are.
		{"run", optimize.Problem{
			Sticks: []stock.Stick{{Length: 8 * ft, Price: 10, Profile: "base"}},
			Runs:   []stock.Run{{Label: "north", Length: 12 * ft, Splice: stock.SpliceRule{At: []measure.Length{6 * ft}}}},
		}, nil, []stock.Offcut{{Profile: "base", Length: 2 * ft, Count: 2}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, plan := change(t, c.p)
			if d := cmp.Diff(stock.RackChange{ID: "job", Uses: c.uses, Leaves: c.leaves}, got); d != "" {
				t.Errorf("(-want +got):\n%s\n%+v", d, plan)
			}
		})
	}
}

// A piece may lie on either part of a stick that is cut in the yard, and both may leave
// something.
func TestRackChangeOfBothYardParts(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 16 * ft, Price: 10}}, Kerf: in / 8,
		Pieces: []stock.Piece{{Length: 3 * ft}, {Length: 8 * ft}}, Rules: optimize.Rules{MaxTransport: 10 * ft},
	}
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	// The cut comes 6 ft less a kerf from the start at the earliest: 3 ft less two kerfs are
	// left before it, and 2 ft less one behind.
	plan.Patterns = []optimize.Pattern{{Stick: 0, Count: 1, Pieces: []int{0, 1}, YardAfter: 1, Offcut: 3*ft - in/4}}
	plan.Proof, plan.Bound, plan.Proven, plan.Stop = optimize.Proof{}, 0, false, optimize.StopWork
	got, err := plan.RackChange(p, "job")
	if err != nil {
		t.Fatal(err)
	}
	want := stock.RackChange{ID: "job", Leaves: []stock.Offcut{{Length: 3*ft - in/4, Count: 1}, {Length: 2*ft - in/8, Count: 1}}}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
}

// A plan that cannot be cut, or is for another problem, changes no rack.
func TestRackChangeOfAWrongPlan(t *testing.T) {
	p := sound()
	_, plan := change(t, p)
	var wrong *optimize.CheckError
	if _, err := (*optimize.Plan)(nil).RackChange(p, "job"); !errors.As(err, &wrong) {
		t.Errorf("no plan: %v", err)
	}
	if _, err := plan.RackChange(optimize.Problem{}, "job"); !errors.As(err, new(*measure.FieldError)) {
		t.Errorf("no problem: %v", err)
	}
	for name, spoil := range map[string]func(*optimize.Plan){
		"count":  func(b *optimize.Plan) { b.Patterns[0].Count++ },
		"stick":  func(b *optimize.Plan) { b.Patterns[0].Stick = 99 },
		"offcut": func(b *optimize.Plan) { b.Patterns[0].Offcut++ },
		"pieces": func(b *optimize.Plan) { b.Patterns[0].Pieces = nil },
		"buy":    func(b *optimize.Plan) { b.Buy = []optimize.Purchase{{Stick: 99, Count: 1}} },
	} {
		bad := *plan
		bad.Patterns = append([]optimize.Pattern(nil), plan.Patterns...)
		spoil(&bad)
		if c, err := bad.RackChange(p, "job"); !errors.As(err, &wrong) || c.ID != "" {
			t.Errorf("%s: %v, %+v", name, err, c)
		}
	}
}

// Nothing comes from nowhere: the rack from which a problem's sticks come accepts the change, and
// the rest is the length on hand and bought, less the pieces, kerfs and unusable parts.
func TestRackChangeKeepsLength(t *testing.T) {
	const in = measure.Inch
	rapid.Check(t, func(t *rapid.T) {
		inches := func(name string, lo, hi int) measure.Length {
			return in * measure.Length(rapid.IntRange(lo, hi).Draw(t, name))
		}
		rack := stock.Rack{}
		for range rapid.IntRange(0, 3).Draw(t, "offcuts") {
			rack.Offcuts = append(rack.Offcuts, stock.Offcut{
				Profile: "base", Material: rapid.SampledFrom([]string{"", "oak"}).Draw(t, "material"),
				Length: inches("offcut", 20, 90), Count: rapid.IntRange(1, 3).Draw(t, "count"),
			})
		}
		p := optimize.Problem{Sticks: rack.Sticks("base"), Kerf: in * measure.Length(rapid.IntRange(0, 1).Draw(t, "kerf"))}
		bought := stock.Stick{Length: 120 * in, Price: 700, Profile: "base", Bundle: rapid.IntRange(0, 3).Draw(t, "bundle"), TrimEnd: inches("trim", 0, 5)}
		if rapid.Bool().Draw(t, "knot") {
			at := inches("knot at", 20, 100)
			bought.Defects, bought.Limit = []stock.Defect{{From: at, To: at + in}}, 12
		}
		if rapid.Bool().Draw(t, "car") {
			p.Rules.MaxTransport = inches("transport", 80, 130)
		}
		p.Sticks = append(p.Sticks, bought)
		for range rapid.IntRange(1, 5).Draw(t, "pieces") {
			p.Pieces = append(p.Pieces, stock.Piece{Length: inches("piece", 5, 45)})
		}
		if bought.Defects != nil {
			p.Rules.MaxTransport = 0
		}
		plan, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: 2_000_000})
		if err != nil {
			t.Skip(err)
		}
		c, err := plan.RackChange(p, "job")
		if err != nil {
			t.Fatal(err)
		}
		if _, err := rack.Apply(c); err != nil {
			t.Fatal(err)
		}
		have := func(os []stock.Offcut) (l measure.Length) {
			for _, o := range os {
				if o.Length <= 0 || o.Count < 1 || o.Profile != "base" {
					t.Fatalf("%+v", o)
				}
				l += o.Length * measure.Length(o.Count)
			}
			return l
		}
		sum := have(c.Uses)
		cut := make([]int, len(p.Sticks))
		for _, pat := range plan.Patterns {
			cut[pat.Stick] += pat.Count
		}
		k := len(p.Sticks) - 1
		n := cut[k]
		for _, b := range plan.Buy {
			if b.Stick == k {
				n = b.Count
			}
		}
		sum += bought.Length * measure.Length(n)
		if left := have(c.Leaves); left > sum {
			t.Fatalf("%v is left of %v", left, sum)
		} else {
			sum -= left
		}
		lost := measure.Length(0) // at least the pieces and no more than this beyond
		for _, pc := range p.Pieces {
			sum -= pc.Length
			lost += p.Kerf
		}
		per := bought.TrimEnd
		if bought.Defects != nil {
			per += in
		}
		lost += measure.Length(n) * per
		if p.Rules.MaxTransport > 0 {
			lost += measure.Length(n) * p.Kerf
		}
		if sum < 0 || sum > lost {
			t.Fatalf("%v is lost, want at most %v\n%+v\n%+v", sum, lost, plan, c)
		}
	})
}

// hostile are labels as people and other programs write them.
var hostile = rapid.SampledFrom([]string{"", "", "a", "a", "a (2)", "a, in hand", "Süd 1/2", "стена", "壁", "\u202eflow", "\x00", "0", "pieces[0]", " ", "a/1", "hall 1/2"})

// Labels change nothing but names: neither the plan nor its effects.
func TestLabelsAreFree(t *testing.T) {
	changed := 0
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.IntRange(0, len(features)-1).Draw(t, "a"), rapid.IntRange(0, len(features)-1).Draw(t, "b")
		p := bothAdded(a, b, uint64(rapid.IntRange(0, 9).Draw(t, "seed")))
		o := &optimize.Options{Work: 3_000_000}
		want, err := optimize.Solve(context.Background(), p, o)
		if err != nil {
			return
		}
		q := p
		q.Sticks, q.Pieces, q.Runs = slices.Clone(p.Sticks), slices.Clone(p.Pieces), slices.Clone(p.Runs)
		for i := range q.Sticks {
			q.Sticks[i].Label = hostile.Draw(t, "stick")
		}
		for i := range q.Pieces {
			q.Pieces[i].Label = hostile.Draw(t, "piece")
		}
		for i := range q.Runs {
			q.Runs[i].Label = hostile.Draw(t, "run")
		}
		got, err := optimize.Solve(context.Background(), q, o)
		if err != nil {
			t.Fatal(err)
		}
		if err := optimize.Check(context.Background(), q, got); err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(want.Patterns, got.Patterns); d != "" || want.Cost != got.Cost || want.Bound != got.Bound || want.Work != got.Work {
			t.Fatalf("labels change the plan:\n%s", d)
		}
		// Offcuts of the previous job have a name or not.
		done := replan.Progress{Cut: []int{1}, Spoiled: []replan.Spoiled{{Piece: got.Patterns[0].Pieces[0], Count: 1}}}
		before, errBefore := replan.Solve(context.Background(), p, want, done, o)
		after, errAfter := replan.Solve(context.Background(), q, got, done, o)
		if (errBefore == nil) != (errAfter == nil) {
			t.Fatalf("%v, with labels %v", errBefore, errAfter)
		}
		if errBefore == nil {
			changed++
			if d := cmp.Diff(before.Changes, after.Changes); d != "" || before.Cost != after.Cost {
				t.Fatalf("labels change the revision:\n%s", d)
			}
			if after.Plan != nil {
				if err := optimize.Check(context.Background(), after.Problem, after.Plan); err != nil {
					t.Fatal(err)
				}
			}
		}
	})
	if !testing.Short() && changed < 10 {
		t.Errorf("only %d revisions", changed)
	}
}

// Consecutive jobs on one rack always find the offcuts that the plan takes off it, whatever the
// offcuts and the sticks are called, and however many look alike.
func TestJobsOnOneRack(t *testing.T) {
	taken := 0
	rapid.Check(t, func(t *rapid.T) {
		var rack stock.Rack
		for range rapid.IntRange(0, 4).Draw(t, "offcuts") {
			rack.Offcuts = append(rack.Offcuts, stock.Offcut{Label: hostile.Draw(t, "offcut"), Profile: "base", Length: measure.Length(rapid.IntRange(3, 9).Draw(t, "length")) * measure.Foot, Count: rapid.IntRange(0, 2).Draw(t, "count")})
		}
		for job := range 3 {
			p := optimize.Problem{Sticks: rack.Sticks("base"), Kerf: measure.Inch / 8}
			for i := range p.Sticks {
				if rapid.Bool().Draw(t, "by hand") {
					p.Sticks[i].Label = hostile.Draw(t, "label")
				}
			}
			p.Sticks = append(p.Sticks, stock.Stick{Label: hostile.Draw(t, "bought"), Length: 12 * measure.Foot, Price: 900, Profile: "base"})
			for range rapid.IntRange(1, 4).Draw(t, "pieces") {
				p.Pieces = append(p.Pieces, stock.Piece{Label: hostile.Draw(t, "piece"), Length: measure.Length(rapid.IntRange(10, 60).Draw(t, "length")) * measure.Inch})
			}
			plan, err := optimize.Solve(context.Background(), p, nil)
			if err != nil {
				t.Fatal(err)
			}
			c, err := plan.RackChange(p, fmt.Sprintf("job %d", job))
			if err != nil {
				t.Fatal(err)
			}
			after, err := rack.Apply(c)
			if err != nil {
				t.Fatalf("job %d: %v\nuses %+v\nof %+v", job, err, c.Uses, rack.Offcuts)
			}
			if err := after.Validate(); err != nil {
				t.Fatal(err)
			}
			// Offcuts with an ID are gone exactly if the plan has cut them.
			for i := range p.Sticks {
				n := 0
				for _, pat := range plan.Patterns {
					if pat.Stick == i {
						n += pat.Count
					}
				}
				if id := p.Sticks[i].ID; id != "" {
					taken += n
					left := 0
					for _, o := range after.Offcuts {
						if o.ID == id {
							left += o.Count
						}
					}
					if left != p.Sticks[i].Limit-n {
						t.Fatalf("%d of %q are left of %d, %d are cut", left, id, p.Sticks[i].Limit, n)
					}
				}
			}
			text, err := json.Marshal(after)
			if err != nil {
				t.Fatal(err)
			}
			rack = stock.Rack{}
			if err := json.Unmarshal(text, &rack); err != nil {
				t.Fatal(err)
			}
		}
	})
	if !testing.Short() && taken < 20 {
		t.Errorf("only %d offcuts of earlier jobs are cut", taken)
	}
}

// The change to the rack is summed by equal offcuts, without a pass over the whole rack for each stick.
func TestHostileRackChange(t *testing.T) {
	const n = 50_000
	p, plan := twoByTwo(n, func(*optimize.Problem, int) {})(t)
	for i := range p.Sticks {
		p.Sticks[i].Rack, p.Sticks[i].Limit = true, 1
	}
	c, err := plan.RackChange(p, "job")
	if err != nil || len(c.Uses) != n || len(c.Leaves) != n {
		t.Errorf("%d used, %d left, %v", len(c.Uses), len(c.Leaves), err)
	}
}
