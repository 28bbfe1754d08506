package optimize_test

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/internal/brute"
	"example.com/longpoint/stock"
)

var mutantJobs = flag.Int("mutantjobs", 1500, "random problems for TestMutants")

// A mutant makes a valid plan claim something that is false whatever the problem is, and reports
// whether it applies to the plan. All other claims of the plan stay as they were, or follow the false
// claim as a liar would have it.
type mutant struct {
	name string
	make func(r *rand.Rand, p *optimize.Problem, plan *optimize.Plan) bool
}

// anyPattern returns a pattern of the plan and its number.
func anyPattern(r *rand.Rand, plan *optimize.Plan) *optimize.Pattern {
	return &plan.Patterns[r.IntN(len(plan.Patterns))]
}

// pieceAt returns the problem's piece, or the part, that an index of Pattern.Pieces stands for.
func pieceAt(p *optimize.Problem, plan *optimize.Plan, i int) *stock.Piece {
	if i < len(p.Pieces) {
		return &p.Pieces[i]
	}
	return &plan.Parts[i-len(p.Pieces)]
}

var mutants = []mutant{
	{"a cent less", func(_ *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		plan.Cost--
		plan.Bound = min(plan.Bound, plan.Cost)
		return true
	}},
	{"a cent more", func(_ *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		plan.Cost++
		plan.Proven = false
		return true
	}},
	{"free of charge", func(_ *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		if plan.Cost == 0 {
			return false
		}
		plan.Cost, plan.Bound, plan.Proven = 0, 0, true
		return true
	}},
	{"a negative cost", func(_ *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		plan.Cost, plan.Bound = -1-plan.Cost, -1-plan.Cost
		return true
	}},
	{"a bound above the cost", func(_ *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		plan.Bound = plan.Cost + 1
		return true
	}},
	{"a negative bound", func(_ *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		plan.Bound, plan.Proven = -1, false
		return true
	}},
	{"proven with a gap", func(_ *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		if plan.Cost == 0 {
			return false
		}
		plan.Bound, plan.Proven = plan.Cost-1, true
		return true
	}},
	{"not proven without a gap", func(_ *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		if !plan.Proven {
			return false
		}
		plan.Proven = false
		return true
	}},
	{"the other unit of cost", func(_ *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		plan.ByLength = !plan.ByLength
		return true
	}},
	{"an unknown reason to stop", func(_ *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		plan.Stop = 200
		return true
	}},
	{"a limit on what is proven", func(_ *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		open := func(g optimize.GoalResult) bool { return !g.Proven }
		if !plan.Proven || slices.ContainsFunc(plan.Goals, open) {
			return false
		}
		plan.Stop = optimize.StopDeadline
		return true
	}},
	{"negative work", func(_ *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		plan.Work = -1
		return true
	}},
	{"a pattern left out", func(r *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		k := r.IntN(len(plan.Patterns))
		plan.Patterns = slices.Delete(plan.Patterns, k, k+1)
		return true
	}},
	{"a pattern twice", func(r *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		plan.Patterns = append(plan.Patterns, *anyPattern(r, plan))
		return true
	}},
	{"a pattern once more", func(r *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		anyPattern(r, plan).Count++
		return true
	}},
	{"a pattern once less", func(r *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		anyPattern(r, plan).Count--
		return true
	}},
	{"a negative count", func(r *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		pat := anyPattern(r, plan)
		pat.Count = -pat.Count
		return true
	}},
	{"a pattern without pieces", func(r *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		pat := *anyPattern(r, plan)
		pat.Pieces, pat.Turned, pat.Stretch, pat.YardAfter = nil, nil, nil, 0
		plan.Patterns = append(plan.Patterns, pat)
		return true
	}},
	{"a piece left out", func(r *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		pat := anyPattern(r, plan)
		n := len(pat.Pieces) - 1
		pat.Pieces = pat.Pieces[:n]
		pat.Turned, pat.Stretch = pat.Turned[:min(n, len(pat.Turned))], pat.Stretch[:min(n, len(pat.Stretch))]
		return true
	}},
	{"a piece too many", func(r *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		pat := anyPattern(r, plan)
		pat.Pieces = append(pat.Pieces, pat.Pieces[0])
		if pat.Turned != nil {
			pat.Turned = append(pat.Turned, pat.Turned[0])
		}
		if pat.Stretch != nil {
			pat.Stretch = append(pat.Stretch, pat.Stretch[len(pat.Stretch)-1])
		}
		return true
	}},
	{"another piece instead", func(r *rand.Rand, p *optimize.Problem, plan *optimize.Plan) bool {
		pat := anyPattern(r, plan)
		n := len(p.Pieces) + len(plan.Parts)
		j := r.IntN(len(pat.Pieces))
		if n < 2 {
			return false
		}
		pat.Pieces[j] = (pat.Pieces[j] + 1 + r.IntN(n-1)) % n
		return true
	}},
	{"a piece that is none", func(r *rand.Rand, p *optimize.Problem, plan *optimize.Plan) bool {
		pat := anyPattern(r, plan)
		pat.Pieces[r.IntN(len(pat.Pieces))] = len(p.Pieces) + len(plan.Parts)
		return true
	}},
	{"a negative piece", func(r *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		pat := anyPattern(r, plan)
		pat.Pieces[r.IntN(len(pat.Pieces))] = -1
		return true
	}},
	{"a stick that is none", func(r *rand.Rand, p *optimize.Problem, plan *optimize.Plan) bool {
		anyPattern(r, plan).Stick = len(p.Sticks)
		return true
	}},
	{"a negative stick", func(r *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		anyPattern(r, plan).Stick = -1
		return true
	}},
	{"a stick that is too short", func(r *rand.Rand, p *optimize.Problem, plan *optimize.Plan) bool {
		pat := anyPattern(r, plan)
		var sum, saved measure.Length
		for _, i := range pat.Pieces {
			pc := pieceAt(p, plan, i)
			sum += pc.Length
			saved += pc.Left.Setback + pc.Right.Setback
		}
		for i := range p.Sticks {
			if s := &p.Sticks[i]; i != pat.Stick && s.Length < sum-saved {
				pat.Stick = i
				return true
			}
		}
		return false
	}},
	{"a longer offcut", func(r *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		anyPattern(r, plan).Offcut++
		return true
	}},
	{"a shorter offcut", func(r *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		anyPattern(r, plan).Offcut--
		return true
	}},
	{"pieces that lie nowhere", func(r *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		pat := anyPattern(r, plan)
		if pat.Stretch == nil {
			pat.Stretch = make([]int, len(pat.Pieces)+1)
		} else {
			pat.Stretch[len(pat.Stretch)-1] = 1 << 20
		}
		return true
	}},
	{"stretches in disorder", func(_ *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		for k := range plan.Patterns {
			if s := plan.Patterns[k].Stretch; len(s) > 1 && s[0] < s[len(s)-1] {
				slices.Reverse(s)
				return true
			}
		}
		return false
	}},
	{"turns of too many pieces", func(r *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		pat := anyPattern(r, plan)
		pat.Turned = make([]optimize.Turn, len(pat.Pieces)+1)
		return true
	}},
	{"a turn that the piece does not bear", func(_ *rand.Rand, p *optimize.Problem, plan *optimize.Plan) bool {
		for k := range plan.Patterns {
			for j := range plan.Patterns[k].Turned {
				if pieceAt(p, plan, plan.Patterns[k].Pieces[j]).Symmetry == stock.SymmetryNone {
					plan.Patterns[k].Turned[j] = optimize.Turn{EndForEnd: true}
					return true
				}
			}
		}
		return false
	}},
	{"a cut in the yard beyond the pieces", func(r *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		pat := anyPattern(r, plan)
		pat.YardAfter = len(pat.Pieces) + 1
		return true
	}},
	{"a stick less is bought", func(r *rand.Rand, p *optimize.Problem, plan *optimize.Plan) bool {
		// Liars lower the cost, too. A stick may have been bought for a price break alone.
		i := r.IntN(len(plan.Buy))
		b := &plan.Buy[i]
		used := 0
		for k := range plan.Patterns {
			if plan.Patterns[k].Stick == b.Stick {
				used += plan.Patterns[k].Count
			}
		}
		if b.Count > used {
			return false
		}
		less := b.Cost / int64(b.Count)
		b.Count--
		b.Cost -= less
		plan.Cost -= less
		plan.Bound = min(plan.Bound, plan.Cost)
		return true
	}},
	{"a purchase for less", func(r *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		plan.Buy[r.IntN(len(plan.Buy))].Cost--
		plan.Cost--
		plan.Bound = min(plan.Bound, plan.Cost)
		return true
	}},
	{"a purchase left out", func(r *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		i := r.IntN(len(plan.Buy))
		if !slices.ContainsFunc(plan.Patterns, func(pat optimize.Pattern) bool { return pat.Stick == plan.Buy[i].Stick }) {
			return false // rack sticks may be taken at no cost and left whole
		}
		plan.Cost -= plan.Buy[i].Cost
		plan.Bound = min(plan.Bound, plan.Cost)
		plan.Buy = slices.Delete(plan.Buy, i, i+1)
		return true
	}},
	{"a purchase twice", func(r *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		i := r.IntN(len(plan.Buy))
		plan.Buy = slices.Insert(plan.Buy, i, plan.Buy[i])
		return true
	}},
	{"purchases in disorder", func(_ *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		slices.Reverse(plan.Buy)
		return len(plan.Buy) > 1
	}},
	{"a purchase of nothing", func(_ *rand.Rand, p *optimize.Problem, plan *optimize.Plan) bool {
		for i := range p.Sticks {
			if !slices.ContainsFunc(plan.Buy, func(b optimize.Purchase) bool { return b.Stick == i }) {
				k := 0
				for k < len(plan.Buy) && plan.Buy[k].Stick < i {
					k++
				}
				plan.Buy = slices.Insert(plan.Buy, k, optimize.Purchase{Stick: i})
				return true
			}
		}
		return false
	}},
	{"a shorter part", func(r *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		if len(plan.Parts) == 0 {
			return false
		}
		plan.Parts[r.IntN(len(plan.Parts))].Length--
		return true
	}},
	{"a part left out", func(_ *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		if len(plan.Parts) == 0 {
			return false
		}
		plan.Parts = plan.Parts[:len(plan.Parts)-1]
		return true
	}},
	{"a part too many", func(_ *rand.Rand, p *optimize.Problem, plan *optimize.Plan) bool {
		plan.Parts = append(plan.Parts, stock.Piece{Length: measure.Inch})
		return true
	}},
	{"a splice beside its place", func(_ *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		for k := range plan.Spliced {
			if s := &plan.Spliced[k]; len(s.At) > 0 {
				s.At[0]++
				return true
			}
		}
		return false
	}},
	{"a splice that is none", func(_ *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		for k := range plan.Spliced {
			if s := &plan.Spliced[k]; len(s.At) > 0 {
				s.At = s.At[:len(s.At)-1]
				return true
			}
		}
		return false
	}},
	{"a run left out", func(_ *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		if len(plan.Spliced) == 0 {
			return false
		}
		plan.Spliced = plan.Spliced[1:]
		return true
	}},
	{"the piece of another run", func(_ *rand.Rand, p *optimize.Problem, plan *optimize.Plan) bool {
		if len(plan.Spliced) == 0 {
			return false
		}
		plan.Spliced[0].Pieces[0] = len(p.Pieces) + len(plan.Parts)
		return true
	}},
	{"a goal left out", func(_ *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		if len(plan.Goals) == 0 {
			return false
		}
		plan.Goals = plan.Goals[:len(plan.Goals)-1]
		return true
	}},
	{"a goal too many", func(_ *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		plan.Goals = append(plan.Goals, optimize.GoalResult{Goal: optimize.GoalCuts, Proven: true})
		return true
	}},
	{"a goal reached by one more", func(r *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		if len(plan.Goals) == 0 {
			return false
		}
		plan.Goals[r.IntN(len(plan.Goals))].Value++
		return true
	}},
	{"a goal reached by one less", func(r *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		if len(plan.Goals) == 0 {
			return false
		}
		plan.Goals[r.IntN(len(plan.Goals))].Value--
		return true
	}},
	{"a goal that the problem has not", func(r *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		if len(plan.Goals) == 0 {
			return false
		}
		g := &plan.Goals[r.IntN(len(plan.Goals))]
		g.Goal = (g.Goal + 1) % 7
		return true
	}},
	{"a goal's bound beyond its value", func(r *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		if len(plan.Goals) == 0 {
			return false
		}
		g := &plan.Goals[r.IntN(len(plan.Goals))]
		if g.Goal == optimize.GoalOffcutValue || g.Goal == optimize.GoalLongestOffcut {
			g.Bound = g.Value - 1
		} else {
			g.Bound = g.Value + 1
		}
		return true
	}},
	{"a goal that is proven with a gap", func(r *rand.Rand, _ *optimize.Problem, plan *optimize.Plan) bool {
		if len(plan.Goals) < 2 {
			return false
		}
		g := &plan.Goals[1+r.IntN(len(plan.Goals)-1)]
		if g.Goal == optimize.GoalOffcutValue || g.Goal == optimize.GoalLongestOffcut {
			g.Bound = g.Value + 1
		} else {
			g.Bound = g.Value - 1
		}
		g.Proven = true
		return true
	}},
	{"a dearer stick said to be as cheap", func(_ *rand.Rand, p *optimize.Problem, plan *optimize.Plan) bool {
		// Another stick of the same length replaces the cut one, for the old price.
		for k := range plan.Patterns {
			from := plan.Patterns[k].Stick
			for i := range p.Sticks {
				if i != from && p.Sticks[i].Length == p.Sticks[from].Length && p.Sticks[i].Price > p.Sticks[from].Price {
					plan.Patterns[k].Stick = i
					for b := range plan.Buy {
						if plan.Buy[b].Stick == from && plan.Buy[b].Count == plan.Patterns[k].Count {
							plan.Buy[b].Stick = i
							return true
						}
					}
				}
			}
		}
		return false
	}},
}

// Every mutant of a valid plan is rejected, and each kind of mutant occurs. A mutant is false by
// construction, so there is nothing to compare with.
func TestMutants(t *testing.T) {
	t.Parallel()
	tried := make([]int, len(mutants))
	for seed := range uint64(*mutantJobs) {
		p := mixed(seed)
		if seed%3 == 0 {
			p = brute.Job(rand.New(rand.NewPCG(seed, 5)))
		}
		good := solveOrNil(p)
		if good == nil {
			continue
		}
		if err := optimize.Check(context.Background(), p, good); err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		for k, m := range mutants {
			r := rand.New(rand.NewPCG(seed, uint64(k)))
			plan := clone(t, good)
			if !m.make(r, &p, plan) {
				continue
			}
			tried[k]++
			err := optimize.Check(context.Background(), p, plan)
			if claim := new(optimize.CheckError); !errors.As(err, &claim) {
				t.Errorf("%s: Check says %v of\n%+v\n%s", m.name, err, plan, brute.Written(&p))
			}
		}
	}
	var all string
	for k, m := range mutants {
		all += fmt.Sprintf("%6d %s\n", tried[k], m.name)
		if tried[k] == 0 {
			t.Errorf("%q was never made", m.name)
		}
	}
	t.Logf("%d kinds:\n%s", len(mutants), all)
}
