package replan_test

import (
	"context"
	"encoding/json"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/replan"
	"example.com/longpoint/stock"
)

// All faults are reported at once, in the order of the data, each at its place.
func TestReplanReportsAllFaults(t *testing.T) {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 10 * measure.Foot, Price: 100}, {Length: 6 * measure.Foot, Price: 90}},
		Pieces: []stock.Piece{{Length: 4 * measure.Foot, Quantity: 4}, {Length: 3 * measure.Foot}},
	}
	plan := mustSolve(t, p)
	_, err := replan.Solve(context.Background(), p, plan, replan.Progress{
		Cut:     []int{-1, 99},
		Started: []replan.Started{{Stick: 2}, {Stick: 0, Pieces: []int{7, 1, 9}, Left: -1}},
		Owned: []replan.Owned{{Stick: 0}, {Stick: -1, Place: replan.PlaceWhole}, {Stick: 1, Place: replan.PlaceWhole, Count: -1, Refund: -2, Length: -3},
			{Stick: 1, Place: replan.PlaceLeftover, Length: 7 * measure.Foot, Refund: 1}, {Stick: 1, Place: replan.PlaceStarted}},
		Spoiled: []replan.Spoiled{{Piece: 2}},
		Supply:  []replan.Supply{{Stick: 0, Left: -1}, {Stick: 0}},
	}, nil)
	want := []string{
		"progress.cut[0]", "progress.cut[1]",
		"progress.started[0].stick", "progress.started[1].pieces[0]", "progress.started[1].pieces[2]", "progress.started[1].left",
		"progress.owned[0].place", "progress.owned[1].stick", "progress.owned[2].length", "progress.owned[2].count", "progress.owned[2].refund",
		"progress.owned[3].length", "progress.owned[3].refund", "progress.owned[4].place",
		"progress.spoiled[0].piece",
		"progress.supply[0].left", "progress.supply[1].stick",
	}
	var got []string
	for e := range measure.FieldErrors(err) {
		got = append(got, e.Field)
	}
	if !slices.Equal(got, want) {
		t.Errorf("%q\nwant\n%q", got, want)
	}
	// A problem and a plan that are wrong come first, by their own names.
	p.Kerf, p.Sticks[1].TrimEnd = -1, -1
	_, err = replan.Solve(context.Background(), p, plan, replan.Progress{Cut: []int{-1}}, nil)
	got = nil
	for e := range measure.FieldErrors(err) {
		got = append(got, e.Field)
	}
	slices.Sort(got)
	if !slices.Equal(got, []string{"problem.kerf", "problem.sticks[1].trim_end"}) {
		t.Errorf("%q", got)
	}
}

// No fault hides another one, and the order is that of the data.
func TestNoFaultOfProgressHidesAnother(t *testing.T) {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 10 * measure.Foot, Price: 100}, {Length: 6 * measure.Foot, Price: 190}},
		Pieces: []stock.Piece{{Length: 4 * measure.Foot, Quantity: 4}, {Length: 3 * measure.Foot}},
	}
	plan := mustSolve(t, p)
	faults := []struct {
		field string
		make  func(d *replan.Progress)
	}{
		{"cut[0]", func(d *replan.Progress) { d.Cut[0] = -1 }},
		{"started[0].stick", func(d *replan.Progress) { d.Started[0].Stick = 9 }},
		{"started[0].pieces[0]", func(d *replan.Progress) { d.Started[0].Pieces[0] = -1 }},
		{"started[0].left", func(d *replan.Progress) { d.Started[0].Left = -1 }},
		{"owned[0].stick", func(d *replan.Progress) { d.Owned[0].Stick = -1 }},
		{"owned[0].place", func(d *replan.Progress) { d.Owned[0].Place = replan.PlaceStarted }},
		{"owned[0].length", func(d *replan.Progress) { d.Owned[0].Length = -1 }},
		{"owned[0].count", func(d *replan.Progress) { d.Owned[0].Count = -1 }},
		{"owned[0].refund", func(d *replan.Progress) { d.Owned[0].Refund = -1 }},
		{"owned[1].length", func(d *replan.Progress) { d.Owned[1].Length = -1 }},
		{"owned[1].count", func(d *replan.Progress) { d.Owned[1].Count = -1 }},
		{"owned[1].refund", func(d *replan.Progress) { d.Owned[1].Refund = 1 }},
		{"spoiled[0].piece", func(d *replan.Progress) { d.Spoiled[0].Piece = 9 }},
		{"spoiled[0].count", func(d *replan.Progress) { d.Spoiled[0].Count = -1 }},
		{"supply[0].stick", func(d *replan.Progress) { d.Supply[0].Stick = 9 }},
		{"supply[0].left", func(d *replan.Progress) { d.Supply[0].Left = -1 }},
	}
	for a := range faults {
		for b := a; b < len(faults); b++ {
			d := replan.Progress{
				Cut:     []int{1},
				Started: []replan.Started{{Stick: 0, Pieces: []int{0}, Left: measure.Foot}},
				Owned:   []replan.Owned{{Stick: 0, Place: replan.PlaceWhole}, {Stick: 0, Place: replan.PlaceLeftover, Length: measure.Foot}},
				Spoiled: []replan.Spoiled{{Piece: 0}},
				Supply:  []replan.Supply{{Stick: 0, Left: 9}},
			}
			if a == 0 && b == 0 {
				if _, err := replan.Solve(context.Background(), p, plan, d, nil); err != nil {
					t.Fatal(err)
				}
			}
			faults[a].make(&d)
			faults[b].make(&d)
			_, err := replan.Solve(context.Background(), p, plan, d, nil)
			var got []string
			for e := range measure.FieldErrors(err) {
				got = append(got, e.Field)
			}
			i, j := slices.Index(got, "progress."+faults[a].field), slices.Index(got, "progress."+faults[b].field)
			if i < 0 || j < i {
				t.Errorf("%s and %s: %q", faults[a].field, faults[b].field, got)
			}
		}
	}
}

// Whatever the progress, no fault is without a place in it, and they are a hundred at most.
func TestReplanFaultsHaveAPlace(t *testing.T) {
	faults := 0
	for seed := range uint64(400) {
		r := rand.New(rand.NewPCG(seed, 5))
		p := tinyBase(r)
		features[r.IntN(len(features))].Add(r, &p)
		plan, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: 1 << 18})
		if err != nil {
			continue
		}
		d := onPlan(r, &p, plan)
		for range 1 << r.IntN(9) {
			nonsense(r, &p, plan, &d)
		}
		_, err = replan.Solve(context.Background(), p, plan, d, &optimize.Options{Work: 1 << 16})
		text, merr := json.Marshal(d)
		if merr != nil {
			t.Fatal(merr) // a place that is none
		}
		var tree any
		if err := json.Unmarshal(text, &tree); err != nil {
			t.Fatal(err)
		}
		n := 0
		for e := range measure.FieldErrors(err) {
			if path, ok := strings.CutPrefix(e.Field, "progress."); !ok || !isIn(tree, path) {
				if !strings.HasPrefix(e.Field, "problem.") { // the rest may exceed a limit
					t.Errorf("seed %d: %v\n%s", seed, e, text)
				}
			}
			if e.Value == "" || e.Want == "" {
				t.Errorf("seed %d: %v is not specific enough", seed, e)
			}
			n++
		}
		if n > 100 {
			t.Errorf("seed %d: %d faults", seed, n)
		}
		faults += n
	}
	if faults < 1000 {
		t.Errorf("%d faults", faults)
	}
}

// isIn reports whether JSON has a value at a path; the last name may be missing, as zeros are.
func isIn(tree any, path string) bool {
	parts := strings.FieldsFunc(path, func(r rune) bool { return r == '.' || r == '[' || r == ']' })
	for k, name := range parts {
		switch v := tree.(type) {
		case map[string]any:
			next, ok := v[name]
			if !ok {
				return k == len(parts)-1
			}
			tree = next
		case []any:
			i, err := strconv.Atoi(name)
			if err != nil || i < 0 || i >= len(v) {
				return false
			}
			tree = v[i]
		default:
			return false
		}
	}
	return true
}

// Strict reading names the place of unreadable input.
func TestProgressReadStrictly(t *testing.T) {
	var d replan.Progress
	err := measure.UnmarshalStrict([]byte(`{"cut": [1], "owned": [{"stick": 0, "place": "attic"}, {"stick": 1, "place": "whole", "count": 0}],
		"spoiled": [{"piece": 0, "count": 0}], "opened": [], "started": [{"stick": 0, "left": "a foot"}]}`), &d)
	var got []string
	for e := range measure.FieldErrors(err) {
		got = append(got, e.Field)
	}
	slices.Sort(got)
	want := []string{"opened", "owned[0].place", "owned[1].count", "spoiled[0].count", "started[0].left"}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q\n%v", got, want, err)
	}
}
