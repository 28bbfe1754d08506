package optimize_test

import (
	"context"
	"errors"
	"flag"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

var (
	mixedCases = flag.Int("mixedcases", 1500, "random problems in TestMixedRulesBrute")
	mixedFrom  = flag.Int("mixedfrom", 0, "the first seed of TestMixedRulesBrute")
)

// mixed returns a random problem of any number of rules, of up to about seven single pieces.
func mixed(seed uint64) optimize.Problem {
	r := rand.New(rand.NewPCG(seed, 2203))
	p := tinyBase(r)
	if r.IntN(3) == 0 {
		for i := range p.Pieces {
			p.Pieces[i].Quantity = 0
		}
	}
	if r.IntN(3) == 0 {
		// Offcuts and old stock, free besides the bought sticks.
		for i := range p.Sticks {
			if r.IntN(2) == 0 {
				p.Sticks[i].Price, p.Sticks[i].Rack, p.Sticks[i].Limit = 0, true, 1+r.IntN(3)
			}
		}
		if r.IntN(4) > 0 {
			p.Sticks[0].Price, p.Sticks[0].Rack, p.Sticks[0].Limit = int64(1+r.IntN(20)), false, 0
		}
	}
	if r.IntN(3) == 0 {
		someStick(r, &p).TrimStart = measure.Length(r.IntN(6)) * u
		someStick(r, &p).TrimEnd = measure.Length(r.IntN(6)) * u
	}
	most := r.IntN(7)
	chosen := r.Perm(len(features))[:most]
	slices.Sort(chosen)
	for _, k := range chosen {
		features[k].Add(r, &p)
	}
	if r.IntN(3) == 0 {
		// A supplier that sells nothing: costs are money even if they are zero.
		p.Rules.Charges = append(p.Rules.Charges, optimize.Charge{Supplier: "nobody", Amount: 4})
	}
	if r.IntN(2) == 0 {
		goals := []optimize.Goal{optimize.GoalSticks, optimize.GoalLongestOffcut, optimize.GoalCuts, optimize.GoalSplices}
		if len(p.Rules.OffcutValues) > 0 {
			goals = append(goals, optimize.GoalOffcutValue)
		}
		if r.IntN(4) == 0 {
			goals = append(goals, optimize.GoalPatterns)
		}
		r.Shuffle(len(goals), func(i, j int) { goals[i], goals[j] = goals[j], goals[i] })
		p.Rules.Goals = append([]optimize.Goal{optimize.GoalCost}, goals[:1+r.IntN(len(goals))]...)
	}
	if r.IntN(4) == 0 {
		rescale(&p, r)
	}
	return p
}

// rescale makes every length an odd number of ticks: results that are exact in 64ths must be exact
// in ticks, too.
func rescale(p *optimize.Problem, r *rand.Rand) {
	unit := oneOf(r, measure.Length(1), 3, measure.Millimeter, measure.Inch/10)
	odd := func(l *measure.Length) { *l = *l / u * unit }
	for i := range p.Sticks {
		s := &p.Sticks[i]
		odd(&s.Length)
		odd(&s.TrimStart)
		odd(&s.TrimEnd)
		for k := range s.Defects {
			odd(&s.Defects[k].From)
			odd(&s.Defects[k].To)
		}
		if unit > 1 && r.IntN(2) == 0 {
			s.Length++
		}
	}
	for i := range p.Pieces {
		pc := &p.Pieces[i]
		odd(&pc.Length)
		odd(&pc.Left.Setback)
		odd(&pc.Right.Setback)
	}
	for i := range p.Runs {
		run := &p.Runs[i]
		odd(&run.Length)
		odd(&run.Left.Setback)
		odd(&run.Right.Setback)
		odd(&run.Splice.Overlap)
		odd(&run.Splice.MinPart)
		for k := range run.Splice.At {
			odd(&run.Splice.At[k])
		}
	}
	odd(&p.Kerf)
	odd(&p.Rules.MinHold)
	odd(&p.Rules.MaxTransport)
	for i := range p.Rules.OffcutValues {
		odd(&p.Rules.OffcutValues[i].Length)
	}
}

// mirrored returns the problem as it is seen from the other side, and how much of a plan must
// come out the same there: 0 nothing, 1 the cost, 2 every goal.
func mirrored(p *optimize.Problem) (q optimize.Problem, same int) {
	q, same = *p, 2
	yard := false
	q.Sticks, q.Pieces, q.Runs = slices.Clone(p.Sticks), slices.Clone(p.Pieces), slices.Clone(p.Runs)
	q.Rules.Groups = slices.Clone(p.Rules.Groups)
	for i := range q.Sticks {
		s := &q.Sticks[i]
		s.TrimStart, s.TrimEnd = s.TrimEnd, s.TrimStart
		s.Defects = slices.Clone(s.Defects)
		for k, d := range s.Defects {
			s.Defects[k] = stock.Defect{From: s.Length - d.To, To: s.Length - d.From}
		}
		yard = yard || p.Rules.MaxTransport > 0 && !s.Rack && s.Length > p.Rules.MaxTransport
	}
	// A cut at an angle takes its kerf at the right end of a piece, so the mirror images of pieces that
	// cannot be turned may differ.
	slanted := false
	see := func(e stock.End) { slanted = slanted || p.Rules.Nest && e.KerfAlong(p.Kerf) != p.Kerf }
	for i := range q.Pieces {
		pc := &q.Pieces[i]
		pc.Left, pc.Right = pc.Right, pc.Left
		see(pc.Left)
		see(pc.Right)
	}
	for i := range q.Runs {
		run := &q.Runs[i]
		run.Left, run.Right = run.Right, run.Left
		see(run.Left)
		see(run.Right)
		see(stock.End{Kind: stock.EndScarfOver, Angle: run.Splice.Bevel})
		run.Splice.RightOver = !run.Splice.RightOver
		run.Splice.At = slices.Clone(run.Splice.At)
		for k, x := range run.Splice.At {
			run.Splice.At[k] = run.Length - x
		}
		slices.Reverse(run.Splice.At)
		if run.Splice.Overlap%2 != 0 && len(run.Splice.At) > 0 {
			return q, 0 // the half that is rounded down is on the other side
		}
	}
	for g := range q.Rules.Groups {
		gr := &q.Rules.Groups[g]
		if gr.Kind == optimize.GroupInSequence {
			gr.Pieces = slices.Clone(gr.Pieces)
			slices.Reverse(gr.Pieces)
		}
	}
	switch {
	case slanted:
		same = 0
	case yard && p.Rules.MinHold > 0:
		same = 0 // the yard's cut is as early as possible, and the part after it can be held
	case yard || len(p.Rules.Goals) == 0:
		same = 1
	}
	return q, same
}

// TestMixedRulesBrute solves random problems of any number of rules, and their mirror images.
//
// A long run: go test -run TestMixedRulesBrute -timeout 0 ./optimize -mixedcases 1000000
func TestMixedRulesBrute(t *testing.T) {
	t.Parallel()
	sound, four, plans, levels, proven, images, wrong, ties := 0, 0, 0, 0, 0, 0, 0, 0
	for n := range *mixedCases {
		seed := uint64(*mixedFrom + n)
		p := mixed(seed)
		plan, ok, faults := compared(&p)
		if !ok {
			continue
		}
		if len(faults) > 0 && len(p.Rules.Goals) == 0 {
			// Ties are given a share of the work, which may not be enough; as goals they are.
			q := p
			q.Rules.Goals = []optimize.Goal{optimize.GoalCost, optimize.GoalSticks, optimize.GoalSplices, optimize.GoalLongestOffcut}
			if _, _, worse := compared(&q); len(worse) == 0 {
				t.Logf("seed %d, a tie: %s", seed, faults[0])
				ties++
				continue
			}
		}
		if len(faults) > 0 {
			t.Errorf("seed %d: %s", seed, faults[0])
			if wrong++; wrong == 20 {
				break
			}
			continue
		}
		sound++
		if rulesOf(&p) >= 4 {
			four++
		}
		if plan != nil {
			plans++
			for _, l := range plan.Goals {
				levels++
				if l.Proven {
					proven++
				}
			}
		}
		if n%2 > 0 {
			continue
		}
		q, same := mirrored(&p)
		if same == 0 {
			continue
		}
		images++
		image, other := optimize.Solve(context.Background(), q, nil)
		if plan == nil && errors.As(other, new(*optimize.InfeasibleError)) {
			continue
		}
		if plan == nil || other != nil {
			t.Fatalf("seed %d: %+v, of the mirror image %v\n%s", seed, plan, other, written(&p))
		}
		if plan.Cost != image.Cost {
			t.Fatalf("seed %d: cost %d, of the mirror image %d\n%s", seed, plan.Cost, image.Cost, written(&p))
		}
		for k := range plan.Goals {
			a, b := plan.Goals[k], image.Goals[k]
			if a.Goal == optimize.GoalPatterns || same < 2 {
				break
			}
			if a.Proven && b.Proven && a.Value != b.Value {
				t.Fatalf("seed %d: %+v, of the mirror image %+v\n%s", seed, a, b, written(&p))
			}
		}
	}
	t.Logf("%d problems were valid, %d of them with four rules or more, %d had a plan; %d of %d goals proven; %d mirror images", sound, four, plans, proven, levels, images)
	if ties > 1+*mixedCases/50_000 {
		t.Errorf("%d ties were left", ties)
	}
	if *mixedCases >= 1000 && (four*5 < *mixedCases || plans*3 < *mixedCases) {
		t.Error("the test shows little")
	}
}

// rulesOf counts the rules of a problem.
func rulesOf(p *optimize.Problem) (n int) {
	r := &p.Rules
	defects, sold, trimmed, graded := false, false, false, false
	for i := range p.Sticks {
		s := &p.Sticks[i]
		defects = defects || len(s.Defects) > 0
		sold = sold || s.Bundle > 1 || s.Minimum > 1 || len(s.Breaks) > 0
		trimmed = trimmed || s.TrimStart+s.TrimEnd > 0
	}
	for i := range p.Pieces {
		graded = graded || p.Pieces[i].Grade != 0
	}
	for _, on := range []bool{defects, sold, trimmed, graded, len(p.Runs) > 0, r.MaxPieces > 0, r.MinHold > 0, r.Nest, r.MaxTransport > 0,
		len(r.Groups) > 0, len(r.Charges) > 0, r.Spare > 0, len(r.OffcutValues) > 0, len(r.Goals) > 0} {
		if on {
			n++
		}
	}
	return n
}

// TestSupplierOfNothing is a problem of the above in which every plan pays a charge of 8, and a supplier that sells nothing
// has one of 4, which no plan pays: no plan can cost 4.
func TestSupplierOfNothing(t *testing.T) {
	plan, err := optimize.Solve(context.Background(), mixed(5269419), nil)
	if err != nil || !plan.Proven || plan.Cost != 8 {
		t.Errorf("%+v, %v; want a proven cost of 8", plan, err)
	}
}
