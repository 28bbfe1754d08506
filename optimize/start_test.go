package optimize_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// begun solves from a start and verifies the result.
func begun(t *testing.T, name any, p optimize.Problem, start *optimize.Plan, work int64) (*optimize.Plan, error) {
	t.Helper()
	o := &optimize.Options{Work: work, Start: start}
	before := fmt.Sprintf("%+v", start)
	plan, err := optimize.Solve(context.Background(), p, o)
	if fmt.Sprintf("%+v", start) != before {
		t.Fatalf("%v: the start was changed\n%s", name, written(&p))
	}
	if err == nil {
		if err := optimize.Check(context.Background(), p, plan); err != nil {
			t.Fatalf("%v: %v\n%s\nstart %s", name, err, written(&p), before)
		}
		if again, _ := optimize.Solve(context.Background(), p, o); asJSON(t, again) != asJSON(t, plan) {
			t.Fatalf("%v: two different plans from one start\n%s\nstart %s", name, written(&p), before)
		}
	}
	if errors.As(err, new(*optimize.InternalError)) {
		t.Fatalf("%v: %v\n%s\nstart %s", name, err, written(&p), before)
	}
	return plan, err
}

// ofStart reports whether an error names only fields of the start.
func ofStart(err error) bool {
	n := 0
	for f := range measure.FieldErrors(err) {
		if n++; !strings.HasPrefix(f.Field, "start.") || f.Want == "" || f.Value == "" {
			return false
		}
	}
	return n > 0
}

// aboutBuying are faults in the purchases of a dealt plan, which a start may omit.
var aboutBuying = []string{"not sold like this", "more cut than bought", "two cuts in the yard", "spare"}

// TestStartBrute begins from random plans, most of which break a rule. A valid start never becomes worse, and
// no other start is accepted.
func TestStartBrute(t *testing.T) {
	taken, refused, kept := 0, 0, 0
	for seed := range uint64(100 * *bruteCases) {
		r := rand.New(rand.NewPCG(seed, 1923))
		p := tinyBase(r)
		chosen := r.Perm(len(features))[:r.IntN(6)]
		slices.Sort(chosen)
		for _, k := range chosen {
			if features[k].Name != "runs" {
				features[k].Add(r, &p)
			}
		}
		p.Rules.Goals = nil
		if p.Validate() != nil {
			continue
		}
		for range 4 {
			d := dealt{p: &p, r: r}
			ok := d.plan()
			for k := range d.out.Patterns { // the caller need not know it
				d.out.Patterns[k].Offcut = 0
			}
			plan, err := begun(t, seed, p, &d.out, 1)
			if errors.As(err, new(*optimize.InfeasibleError)) && !ok {
				break
			}
			switch {
			case ok && err != nil:
				t.Fatalf("seed %d: %v\n%+v\n%s", seed, err, d.out, written(&p))
			case ok && plan.Cost > d.out.Cost:
				t.Fatalf("seed %d: cost %d from a start of %d\n%+v\n%s", seed, plan.Cost, d.out.Cost, d.out, written(&p))
			case ok:
				if taken++; plan.Cost == d.out.Cost {
					kept++
				}
			case slices.Contains(aboutBuying, d.why):
			case !ofStart(err):
				t.Fatalf("seed %d: %q by the rules, but %v\n%+v\n%s", seed, d.why, err, d.out, written(&p))
			default:
				refused++
			}
			if !ok {
				continue
			}
			// A part of a good plan is a good part.
			part := d.out
			part.Patterns = slices.DeleteFunc(slices.Clone(part.Patterns), func(optimize.Pattern) bool { return r.IntN(2) == 0 })
			if _, err := begun(t, seed, p, &part, 1); err != nil && !errors.As(err, new(*optimize.LimitError)) {
				t.Fatalf("seed %d: %v\n%+v\n%s", seed, err, part, written(&p))
			}
		}
	}
	t.Logf("%d starts accepted, %d of them not improved, %d rejected", taken, kept, refused)
	if taken < 5**bruteCases || refused < 5**bruteCases || kept < *bruteCases {
		t.Error("the test shows little")
	}
}

// TestStartIsKept begins from the best known plan, with no time to search. Solve must return this plan or one
// as good.
func TestStartIsKept(t *testing.T) {
	t.Parallel()
	gained, mended := 0, 0
	r := rand.New(rand.NewPCG(3, 1925))
	watched(t, func(t *testing.T, w followed) {
		best, err := optimize.Solve(context.Background(), w.p, &optimize.Options{Work: w.work})
		if err != nil {
			return
		}
		quick, err := optimize.Solve(context.Background(), w.p, &optimize.Options{Work: 1})
		if err != nil || quick.Cost > best.Cost {
			gained++
		}
		plan, err := begun(t, w.name, w.p, best, 1)
		if err != nil {
			t.Fatalf("%s: %v\n%s", w.name, err, written(&w.p))
		}
		if plan.Cost > best.Cost {
			t.Fatalf("%s: cost %d from a start of %d\n%s\n%+v", w.name, plan.Cost, best.Cost, written(&w.p), best)
		}
		if better(w.p.Rules.Goals, best, plan, 99) {
			t.Fatalf("%s: goals\n%+v\nfrom a start of\n%+v\n%s", w.name, plan.Goals, best.Goals, written(&w.p))
		}

		// Remove one piece: the start then has room for it.
		bad := *best
		bad.Patterns = slices.Clone(best.Patterns)
		pat := &bad.Patterns[r.IntN(len(bad.Patterns))]
		if len(pat.Pieces) < 2 || pat.YardAfter > 0 {
			return
		}
		at := r.IntN(len(pat.Pieces))
		pat.Pieces = slices.Delete(slices.Clone(pat.Pieces), at, at+1)
		if pat.Turned != nil {
			pat.Turned = slices.Delete(slices.Clone(pat.Turned), at, at+1)
		}
		if pat.Stretch != nil {
			if n := pat.Stretch[at]; slices.Index(pat.Stretch, n) == at && !slices.Contains(pat.Stretch[at+1:], n) {
				return // an uncut stretch is not filled up
			}
			pat.Stretch = slices.Delete(slices.Clone(pat.Stretch), at, at+1)
		}
		switch plan, err = begun(t, w.name, w.p, &bad, 1); {
		case ofStart(err): // the rest is too short to hold, or part of a group
		case err != nil:
			t.Fatalf("%s: %v\n%s\n%+v", w.name, err, written(&w.p), bad)
		case plan.Cost > best.Cost:
			t.Fatalf("%s: cost %d from a start of %d that lacks a piece\n%s\n%+v", w.name, plan.Cost, best.Cost, written(&w.p), bad)
		case quick == nil || quick.Cost > best.Cost:
			mended++
		}
	})
	if gained < 20 || mended < 10 {
		t.Errorf("a quick plan was worse %d times, %d times a start with a missing piece was completed: this tests little", gained, mended)
	}
}

// TestStartOfAnotherList removes pieces from the list and adds some, and begins from the plan for the old
// list.
func TestStartOfAnotherList(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		p := drawProblem(rt)
		start := solved(rt, p)
		q := p
		q.Pieces = slices.Clone(p.Pieces)
		for i := range q.Pieces {
			q.Pieces[i].Quantity = rapid.IntRange(0, 6).Draw(rt, "now")
		}
		for range rapid.IntRange(0, 2).Draw(rt, "more") {
			q.Pieces = append(q.Pieces, q.Pieces[rapid.IntRange(0, len(p.Pieces)-1).Draw(rt, "like")])
		}
		plan, err := begun(t, "another list", q, start, rapid.SampledFrom([]int64{1, 1_000_000}).Draw(rt, "work"))
		if err != nil {
			rt.Fatal(err)
		}
		fewer := !slices.ContainsFunc(q.Pieces[len(p.Pieces):], func(stock.Piece) bool { return true })
		for i := range p.Pieces {
			fewer = fewer && max(q.Pieces[i].Quantity, 1) <= max(p.Pieces[i].Quantity, 1)
		}
		if fewer && plan.Cost > start.Cost {
			rt.Fatalf("fewer pieces cost %d, the start %d", plan.Cost, start.Cost)
		}
	})
}

// TestStartHostile breaks a good start in one place.
func TestStartHostile(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 1924))
	some := func() int { return oneOf(r, -1, 0, 1, 2, 3, 1<<20, math.MaxInt, math.MinInt) }
	refused := 0
	for seed := range uint64(*mixedCases) {
		p := mixed(seed)
		good, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: 100_000})
		if err != nil {
			continue
		}
		bad := *good
		bad.Patterns = slices.Clone(good.Patterns)
		pat := &bad.Patterns[r.IntN(len(bad.Patterns))]
		pat.Pieces = slices.Clone(pat.Pieces)
		switch r.IntN(12) {
		case 0:
			pat.Stick = some()
		case 1:
			pat.Count = some()
		case 2:
			pat.Pieces[r.IntN(len(pat.Pieces))] = some()
		case 3:
			pat.Pieces = append(pat.Pieces, pat.Pieces...)
		case 4:
			pat.Pieces = nil
		case 5:
			pat.YardAfter = some()
		case 6:
			pat.Stretch = append(slices.Clone(pat.Stretch), some())
		case 7:
			pat.Turned = append(slices.Clone(pat.Turned), anyTurn(r))
		case 8:
			bad.Parts, bad.Spliced = nil, nil
		case 9:
			bad.Spliced = append(slices.Clone(bad.Spliced), optimize.SplicedRun{Run: some(), At: []measure.Length{measure.Length(some())}, Pieces: []int{some()}})
		case 10:
			bad.Buy = append(slices.Clone(bad.Buy), optimize.Purchase{Stick: some(), Count: some()})
		case 11:
			bad.Patterns = append(bad.Patterns, bad.Patterns...)
		}
		plan, err := begun(t, seed, p, &bad, 1)
		switch {
		case err == nil:
			// Solve accepts a start that Check accepts.
			if optimize.Check(context.Background(), p, &bad) == nil && plan.Cost > bad.Cost {
				t.Fatalf("seed %d: cost %d from a start of %d\n%s\n%+v", seed, plan.Cost, bad.Cost, written(&p), bad)
			}
		case ofStart(err):
			if optimize.Check(context.Background(), p, &bad) == nil {
				t.Fatalf("seed %d: Check accepts the start, but %v\n%s\n%+v", seed, err, written(&p), bad)
			}
			refused++
		case !errors.As(err, new(*optimize.LimitError)): // nothing of the start was of use
			t.Fatalf("seed %d: %v\n%s\n%+v", seed, err, written(&p), bad)
		}
	}
	if refused < *mixedCases/20 {
		t.Errorf("%d starts rejected: this tests little", refused)
	}
}

// TestNoFaultOfAStartHidesAnother makes two faults at a time: both are reported, in the order of the
// data.
func TestNoFaultOfAStartHidesAnother(t *testing.T) {
	p := sound()
	faults := []struct {
		field string
		make  func(s *optimize.Plan)
	}{
		{"patterns[0].stick", func(s *optimize.Plan) { s.Patterns[0].Stick = -1 }},
		{"patterns[0].count", func(s *optimize.Plan) { s.Patterns[0].Count = 0 }},
		{"patterns[0].pieces[0]", func(s *optimize.Plan) { s.Patterns[0].Pieces[0] = 99 }},
		{"patterns[0].turned", func(s *optimize.Plan) { s.Patterns[0].Turned = make([]optimize.Turn, 1) }},
		{"patterns[0].stretch", func(s *optimize.Plan) { s.Patterns[0].Stretch = []int{0} }},
		{"patterns[0].yard_after", func(s *optimize.Plan) { s.Patterns[0].YardAfter = 1 }},
		{"patterns[1].pieces", func(s *optimize.Plan) { s.Patterns[1].Pieces = nil }},
		{"spliced", func(s *optimize.Plan) { s.Spliced = make([]optimize.SplicedRun, 1) }},
	}
	for a := range faults {
		for b := a; b < len(faults); b++ {
			s := &optimize.Plan{Patterns: []optimize.Pattern{{Count: 1, Pieces: []int{0}}, {Count: 1, Pieces: []int{0}}}}
			faults[a].make(s)
			faults[b].make(s)
			_, err := optimize.Solve(context.Background(), p, &optimize.Options{Start: s})
			var got []string
			for e := range measure.FieldErrors(err) {
				got = append(got, e.Field)
			}
			i, j := slices.Index(got, "start."+faults[a].field), slices.Index(got, "start."+faults[b].field)
			if i < 0 || j < i {
				t.Errorf("%s and %s: %q", faults[a].field, faults[b].field, got)
			}
		}
	}
}

// TestStartFaults names fields.
func TestStartFaults(t *testing.T) {
	p := sound()
	p.Sticks[0].Limit = 2
	n := len(p.Pieces)
	start := &optimize.Plan{Patterns: []optimize.Pattern{
		{Stick: 9, Count: 1, Pieces: []int{0}},
		{Stick: 0, Count: 0, Pieces: []int{0, n}},
		{Stick: 0, Count: 3, Pieces: []int{0}},
		{Stick: 0, Count: 1, Pieces: slices.Repeat([]int{0}, 1000)},
		{Stick: 0, Count: 1, Pieces: []int{0}, Stretch: []int{0}},
	}}
	_, err := optimize.Solve(context.Background(), p, &optimize.Options{Start: start})
	var got []string
	for f := range measure.FieldErrors(err) {
		got = append(got, f.Field)
	}
	want := []string{"start.patterns[0].stick", "start.patterns[1].count", "start.patterns[1].pieces[1]",
		"start.patterns[2].count", "start.patterns[3].pieces", "start.patterns[4].stretch"}
	if !slices.Equal(got, want) {
		t.Errorf("%v\n%q\nwant %q", err, got, want)
	}
	start = &optimize.Plan{Patterns: make([]optimize.Pattern, 1000)}
	_, err = optimize.Solve(context.Background(), p, &optimize.Options{Start: start})
	if n := len(slices.Collect(measure.FieldErrors(err))); n != 100 {
		t.Errorf("%d faults at once, want 100", n)
	}
	if plan, err := optimize.Solve(context.Background(), p, &optimize.Options{Start: &optimize.Plan{}}); err != nil || !plan.Proven {
		t.Errorf("an empty start: %+v, %v", plan, err)
	}
}
