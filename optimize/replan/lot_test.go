package replan_test

import (
	"context"
	"errors"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/internal/brute"
	"example.com/longpoint/optimize/replan"
	"example.com/longpoint/stock"
)

// The rest of a group of one lot comes from the lot of the cut pieces, at any cost.
func TestReplanOneLot(t *testing.T) {
	const ft = measure.Foot
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 5 * ft, Price: 10, Lot: "A"}, {Length: 5 * ft, Price: 11, Lot: "B"}},
		Pieces: []stock.Piece{{Label: "head", Length: 4 * ft, Quantity: 2}, {Label: "side", Length: 3 * ft, Quantity: 2}, {Label: "shelf", Length: 5 * ft}},
		Rules:  optimize.Rules{Groups: []optimize.Group{{Kind: optimize.GroupOneLot, Pieces: []int{0, 1}}}},
	}
	plan := mustSolve(t, p)
	if plan.Cost != 50 {
		t.Fatalf("cost %d", plan.Cost)
	}
	cut := func(n ...int) []int { // how many of each piece
		out := make([]int, len(plan.Patterns))
		for i, n := range n {
			out[slices.IndexFunc(plan.Patterns, func(pat optimize.Pattern) bool { return slices.Equal(pat.Pieces, []int{i}) })] = n
		}
		return out
	}
	lots := func(rev *replan.Revision) (out []string) { // of the group
		for _, pat := range rev.Plan.Patterns {
			for _, i := range pat.Pieces {
				if l := rev.Problem.Sticks[pat.Stick].Lot; rev.Pieces[i] < 2 && !slices.Contains(out, l) {
					out = append(out, l)
				}
			}
		}
		return out
	}
	opened := func(stick int, pieces ...int) replan.Started { return replan.Started{Stick: stick, Pieces: pieces} }
	for _, tt := range []struct {
		name string
		done replan.Progress
		cost int64
		lots []string
	}{
		{"one of four is cut", replan.Progress{Cut: cut(1)}, 40, []string{"A"}},
		{"all but one are cut, and only the other lot is there", replan.Progress{Cut: cut(2, 1), Owned: []replan.Owned{{Place: replan.PlaceWhole, Stick: 1, Count: 3}}}, 10, []string{"A"}},
		{"one was cut from the dearer lot", replan.Progress{Started: []replan.Started{opened(1, 0)}}, 43, []string{"B"}},
		{"all are spoiled", replan.Progress{Started: []replan.Started{opened(1, 0)}, Spoiled: []replan.Spoiled{{Piece: 0}}}, 50, []string{"A"}},
		{"what was cut from another lot is spoiled", replan.Progress{Started: []replan.Started{opened(0, 0), opened(1, 1)}, Spoiled: []replan.Spoiled{{Piece: 0}}}, 43, []string{"B"}},
		{"all are cut", replan.Progress{Cut: cut(2, 2)}, 10, nil},
	} {
		t.Run(tt.name, func(t *testing.T) {
			rev := mustReplan(t, p, plan, tt.done)
			checkRevision(t, &p, plan, &tt.done, rev)
			if rev.Cost != tt.cost || !rev.Proven || !slices.Equal(lots(rev), tt.lots) {
				t.Errorf("cost %d, proven %v, lots %q", rev.Cost, rev.Proven, lots(rev))
			}
			if want, ok := bruteSolve(&rev.Problem); !ok || rev.Plan.Cost != want[0] {
				t.Errorf("cost %d, by brute force %v", rev.Plan.Cost, want)
			}
		})
	}
	var pe *measure.FieldError
	for _, done := range []replan.Progress{
		{Started: []replan.Started{opened(0, 0), opened(1, 1)}},
		{Started: []replan.Started{opened(0, 0), opened(1, 0)}, Spoiled: []replan.Spoiled{{Piece: 0}}},
	} {
		if _, err := replan.Solve(context.Background(), p, plan, done, nil); !errors.As(err, &pe) || !strings.Contains(err.Error(), "rules.groups[0]") {
			t.Errorf("%+v: %v", done, err)
		}
	}
	var no *optimize.InfeasibleError
	_, err := replan.Solve(context.Background(), p, plan, replan.Progress{Cut: cut(1), Supply: []replan.Supply{{Stick: 0}}}, nil)
	if !errors.As(err, &no) || no.Reason != optimize.ReasonGroupInNoLot || no.Group != 0 {
		t.Errorf("the lot is missing: %v", err)
	}
}

// Random work on random plans with a group of one lot, against brute force on the rest as stated here:
// by grades, without lots.
func TestReplanOneLotBrute(t *testing.T) {
	apart := []string{"bundle", "minimum", "breaks", "charges", "spare", "transport", "defects", "runs", "one lot", "one stick", "in sequence"}
	compared := 0
	for seed := range uint64(25 * 6) {
		r := rand.New(rand.NewPCG(seed, 7))
		p := tinyBase(r)
		for i := range p.Sticks {
			p.Sticks[i].Lot, p.Sticks[i].Limit = oneOf(r, "", "A", "B"), 0
		}
		brute.Group(r, &p, optimize.GroupOneLot)
		if f := features[r.IntN(len(features))]; seed%2 == 0 && !slices.Contains(apart, f.Name) {
			f.Add(r, &p)
		}
		plan, err := optimize.Solve(context.Background(), p, nil)
		if err != nil || len(p.Rules.Groups) == 0 {
			continue
		}
		// Some sticks are cut as planned.
		var done replan.Progress
		left := make([]int, len(p.Pieces))
		for i := range left {
			left[i] = max(1, p.Pieces[i].Quantity)
		}
		lot, begun := "", false
		for _, pat := range plan.Patterns {
			n := r.IntN(pat.Count + 1)
			done.Cut = append(done.Cut, n)
			for _, i := range pat.Pieces {
				left[i] -= n
				if n > 0 && slices.Contains(p.Rules.Groups[0].Pieces, i) {
					lot, begun = p.Sticks[pat.Stick].Lot, true
				}
			}
		}
		q := p
		q.Pieces, q.Sticks, q.Rules.Groups = nil, slices.Clone(p.Sticks), nil
		for i, n := range left {
			if n == 0 {
				continue
			}
			pc := p.Pieces[i]
			pc.Quantity = n
			if begun && slices.Contains(p.Rules.Groups[0].Pieces, i) {
				pc.Grade += 1000
			}
			q.Pieces = append(q.Pieces, pc)
		}
		for i := range q.Sticks {
			if begun && q.Sticks[i].Lot == lot {
				q.Sticks[i].Grade += 1000
			}
		}
		if len(q.Pieces) == 0 {
			continue
		}
		if !begun {
			q.Rules.Groups = p.Rules.Groups
			if len(q.Pieces) < len(p.Pieces) {
				continue // numbers are others; whole groups are tested elsewhere
			}
		}
		want, ok := bruteSolve(&q)
		if !ok {
			t.Fatalf("the plan does not continue\n%s", written(&q))
		}
		rev := mustReplan(t, p, plan, done)
		checkRevision(t, &p, plan, &done, rev)
		if rev.Plan.Cost != want[0] || !rev.Plan.Proven {
			t.Errorf("cost %d, want %d\n%+v\n%s", rev.Plan.Cost, want[0], done, written(&p))
		}
		if begun {
			compared++
		}
	}
	if compared < 20 {
		t.Errorf("%d groups were begun", compared)
	}
}
