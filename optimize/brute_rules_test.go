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
	"example.com/longpoint/stock"
)

// u is the grain of random lengths: as fine as what a bevel's kerf is rounded to, so that
// small numbers meet often.
const u = inch / 64

// feature adds one rule to a random problem.
type feature struct {
	name string
	add  func(r *rand.Rand, p *optimize.Problem)
}

// tinyBase returns a plain random problem of up to six single pieces.
func tinyBase(r *rand.Rand) optimize.Problem {
	p := optimize.Problem{Kerf: measure.Length(r.IntN(3)) * u}
	priced := r.IntN(4) > 0
	for i := range 1 + r.IntN(3) {
		s := stock.Stick{Length: measure.Length(20+r.IntN(30)) * u}
		if priced {
			s.Price = int64(r.IntN(12))
		}
		if i > 0 {
			s.Limit = r.IntN(4)
		}
		if r.IntN(4) == 0 {
			s.TrimStart, s.TrimEnd = measure.Length(r.IntN(3))*u, measure.Length(r.IntN(3))*u
		}
		p.Sticks = append(p.Sticks, s)
	}
	for n := 0; n < 2+r.IntN(4); {
		pc := stock.Piece{Length: measure.Length(4+r.IntN(18)) * u, Quantity: r.IntN(3)}
		n += max(1, pc.Quantity)
		p.Pieces = append(p.Pieces, pc)
	}
	owned(&p)
	return p
}

// owned lays what has no price on the rack where other sticks have one.
func owned(p *optimize.Problem) {
	if slices.ContainsFunc(p.Sticks, func(s stock.Stick) bool { return s.Price != 0 }) {
		for i := range p.Sticks {
			p.Sticks[i].Rack = p.Sticks[i].Rack || p.Sticks[i].Price == 0
		}
	}
}

func oneOf[T any](r *rand.Rand, of ...T) T { return of[r.IntN(len(of))] }

func someStick(r *rand.Rand, p *optimize.Problem) *stock.Stick {
	return &p.Sticks[r.IntN(len(p.Sticks))]
}

// group adds a group of pieces that are in none yet.
func group(r *rand.Rand, p *optimize.Problem, kind optimize.GroupKind) {
	var free []int
	for i := range p.Pieces {
		if !slices.ContainsFunc(p.Rules.Groups, func(g optimize.Group) bool { return slices.Contains(g.Pieces, i) }) {
			free = append(free, i)
		}
	}
	r.Shuffle(len(free), func(i, j int) { free[i], free[j] = free[j], free[i] })
	if len(free) < 2 {
		return
	}
	g := optimize.Group{Kind: kind, Pieces: free[:2+r.IntN(min(2, len(free)-1))]}
	for _, i := range g.Pieces {
		p.Pieces[i].Quantity = p.Pieces[g.Pieces[0]].Quantity
	}
	p.Rules.Groups = append(p.Rules.Groups, g)
}

// miter returns a random end; those of one angle have one setback.
func miter(r *rand.Rand) stock.End {
	e := oneOf(r,
		stock.End{}, stock.End{},
		stock.End{Kind: stock.EndInsideMiter, Setback: 3 * u},
		stock.End{Kind: stock.EndOutsideMiter, Setback: 3 * u},
		stock.End{Kind: stock.EndOutsideMiter, Angle: 120 * measure.Degree, Setback: 2 * u},
		stock.End{Kind: stock.EndCope, Angle: 120 * measure.Degree, Setback: 2 * u},
		stock.End{Kind: stock.EndFlatMiter, Setback: 3 * u},
		stock.End{Kind: stock.EndScarfOver, Setback: 3 * u},
		stock.End{Kind: stock.EndButt, Angle: 100 * measure.Degree, Setback: u})
	return e
}

var features = []feature{
	{"runs", func(r *rand.Rand, p *optimize.Problem) {
		p.Pieces = p.Pieces[:min(len(p.Pieces), 2)]
		for i := range p.Pieces {
			p.Pieces[i].Quantity = 0
		}
		runs := 1 + r.IntN(2)
		for range runs {
			run := stock.Run{Length: measure.Length(18+r.IntN(40)) * u}
			rule := &run.Splice
			rule.Overlap = measure.Length(r.IntN(4)-1) * u
			rule.MinPart = measure.Length(r.IntN(10)) * u
			rule.Price, rule.MaxSplices = int64(r.IntN(3)), 1+r.IntN(3-runs)
			if rule.Overlap > 0 && r.IntN(2) == 0 {
				rule.Bevel = 45 * measure.Degree
			}
			if len(rule.At) < 3 && r.IntN(2) == 0 {
				rule.MaxSplices = 0
			}
			rule.RightOver = r.IntN(2) == 1
			for x := measure.Length(4 + r.IntN(8)); x*u < run.Length && len(rule.At) < 4-runs; x += 3 + measure.Length(r.IntN(9)) {
				rule.At = append(rule.At, x*u)
			}
			p.Runs = append(p.Runs, run)
		}
		if r.IntN(4) == 0 {
			p.Pieces = nil
		}
	}},
	{"grades", func(r *rand.Rand, p *optimize.Problem) {
		for i := range p.Sticks {
			p.Sticks[i].Grade = r.IntN(3)
		}
		p.Sticks[0].Grade = 1 + r.IntN(2)
		for i := range p.Pieces {
			p.Pieces[i].Grade = r.IntN(4) - 1
		}
	}},
	{"most", func(r *rand.Rand, p *optimize.Problem) { p.Rules.MaxPieces = 1 + r.IntN(3) }},
	{"hold", func(r *rand.Rand, p *optimize.Problem) { p.Rules.MinHold = measure.Length(5+r.IntN(20)) * u }},
	{"nest", func(r *rand.Rand, p *optimize.Problem) {
		p.Rules.Nest = true
		for i := range p.Pieces {
			p.Pieces[i].Left, p.Pieces[i].Right = miter(r), miter(r)
			p.Pieces[i].Symmetry = stock.Symmetry(r.IntN(3))
			p.Pieces[i].Length += 4 * u
		}
		for i := range p.Runs {
			p.Runs[i].Left, p.Runs[i].Right = miter(r), miter(r)
			if p.Runs[i].Splice.Bevel > 0 {
				p.Runs[i].Splice.Overlap = 3 * u
			}
		}
	}},
	{"transport", func(r *rand.Rand, p *optimize.Problem) {
		p.Rules.MaxTransport = measure.Length(15+r.IntN(30)) * u
		p.Rules.YardCut = int64(r.IntN(4))
		someStick(r, p).Rack = r.IntN(2) == 0
	}},
	{"one stick", func(r *rand.Rand, p *optimize.Problem) { group(r, p, optimize.GroupOneStick) }},
	{"in sequence", func(r *rand.Rand, p *optimize.Problem) { group(r, p, optimize.GroupInSequence) }},
	{"one lot", func(r *rand.Rand, p *optimize.Problem) {
		for i := range p.Sticks {
			p.Sticks[i].Lot = oneOf(r, "", "A", "B")
		}
		group(r, p, optimize.GroupOneLot)
		if k := len(p.Rules.Groups) - 1; k >= 0 && p.Rules.Groups[k].Kind == optimize.GroupOneLot && r.IntN(3) == 0 {
			g := &p.Rules.Groups[k]
			g.Started, g.Lot = true, oneOf(r, p.Sticks[0].Lot, "A", "B")
			if g.Pieces = g.Pieces[:1+r.IntN(len(g.Pieces))]; len(g.Pieces) > 1 {
				p.Pieces[g.Pieces[0]].Quantity = r.IntN(3)
			}
		}
	}},
	{"defects", func(r *rand.Rand, p *optimize.Problem) {
		s := someStick(r, p)
		s.Limit = 1 + r.IntN(3)
		for range 1 + r.IntN(2) {
			from := measure.Length(r.IntN(int(s.Length/u) - 1))
			to := min(from+1+measure.Length(r.IntN(4)), s.Length/u)
			s.Defects = append(s.Defects, stock.Defect{From: from * u, To: to * u})
		}
		p.Sticks = append(p.Sticks, stock.Stick{Length: 50 * u, Price: int64(r.IntN(20))})
	}},
	{"bundle", func(r *rand.Rand, p *optimize.Problem) {
		if s := someStick(r, p); s.Limit == 0 || s.Limit > 1 {
			s.Bundle = 2 + r.IntN(min(2, max(1, s.Limit-1)))
		}
	}},
	{"minimum", func(r *rand.Rand, p *optimize.Problem) {
		if s := someStick(r, p); s.Limit == 0 || s.Limit > 1 {
			s.Minimum = 2
		}
	}},
	{"breaks", func(r *rand.Rand, p *optimize.Problem) {
		s := someStick(r, p)
		for from := 2; from < 6; from += 1 + r.IntN(3) {
			s.Breaks = append(s.Breaks, stock.PriceBreak{From: from, Price: int64(r.IntN(10))})
		}
	}},
	{"charges", func(r *rand.Rand, p *optimize.Problem) {
		for i := range p.Sticks {
			p.Sticks[i].Supplier = oneOf(r, "", "M", "N")
		}
		p.Rules.Charges = []optimize.Charge{{Supplier: "M", Amount: int64(r.IntN(10))}, {Supplier: "N", Amount: int64(r.IntN(10))}}
	}},
	{"poor stick", func(r *rand.Rand, p *optimize.Problem) {
		someStick(r, p).Grade = -1
		if r.IntN(3) > 0 {
			p.Sticks = append(p.Sticks, stock.Stick{Length: 50 * u, Price: int64(1 + r.IntN(20))})
		}
	}},
	{"spare", func(r *rand.Rand, p *optimize.Problem) { p.Rules.Spare = 1 + r.IntN(2) }},
	{"worth", func(r *rand.Rand, p *optimize.Problem) {
		p.Rules.OffcutValues = []optimize.OffcutValue{{Length: 6 * u, Value: 2}, {Length: 12 * u, Value: 5}}
		someStick(r, p).Rack = r.IntN(2) == 0
		p.Rules.Goals = []optimize.Goal{optimize.GoalCost, optimize.GoalOffcutValue}
		if r.IntN(2) == 0 {
			p.Rules.Goals = append(p.Rules.Goals, oneOf(r, optimize.GoalSticks, optimize.GoalLongestOffcut, optimize.GoalCuts, optimize.GoalSplices))
		}
	}},
	{"goals", func(r *rand.Rand, p *optimize.Problem) {
		rest := []optimize.Goal{optimize.GoalSticks, optimize.GoalLongestOffcut, optimize.GoalCuts, optimize.GoalSplices, optimize.GoalPatterns}
		if len(p.Rules.OffcutValues) > 0 {
			rest = append(rest, optimize.GoalOffcutValue)
		}
		r.Shuffle(len(rest), func(i, j int) { rest[i], rest[j] = rest[j], rest[i] })
		p.Rules.Goals = append([]optimize.Goal{optimize.GoalCost}, rest[:1+r.IntN(len(rest))]...)
	}},
}

var bruteCases = flag.Int("brutecases", 6, "random problems for each pair of rules in TestRulesBrute")

// againstBrute solves a problem both ways and compares. It reports whether the
// problem made sense.
func againstBrute(t *testing.T, p *optimize.Problem) bool {
	t.Helper()
	_, sound, faults := compared(p)
	for _, f := range faults {
		t.Error(f)
	}
	return sound
}

// compared solves a problem both ways and returns the plan, whether the problem made sense and
// what differs.
func compared(p *optimize.Problem) (plan *optimize.Plan, sound bool, faults []string) {
	fault := func(format string, v ...any) { faults = append(faults, fmt.Sprintf(format, v...)) }
	plan, err := optimize.Solve(context.Background(), *p, nil)
	if errors.As(err, new(*measure.FieldError)) {
		return nil, false, nil
	}
	want, ok := bruteSolve(p)
	if !ok {
		if !errors.As(err, new(*optimize.InfeasibleError)) {
			fault("plan %+v, error %v for a problem without a plan\n%s", plan, err, written(p))
		}
		return plan, true, faults
	}
	if err != nil {
		fault("%v, want a plan of cost %d\n%s", err, want[0], written(p))
		return plan, true, faults
	}
	if err := optimize.Check(context.Background(), *p, plan); err != nil {
		fault("%v\n%+v\n%s", err, plan, written(p))
	}
	if plan.Cost != want[0] || plan.Bound > want[0] || !plan.Proven {
		fault("cost %d, bound %d, want %d, proven\n%+v\n%s", plan.Cost, plan.Bound, want[0], plan, written(p))
		return plan, true, faults
	}
	// The least cost is a sum of what plans in some leaf's box can cost.
	if pr := optimize.Unseal(plan.Proof); !optimize.Plain(p) && len(pr.Leaves) > 0 && !slices.ContainsFunc(pr.Leaves, func(l optimize.Leaf) bool { return optimize.Holds(p, &l, want[0]) }) {
		fault("no leaf's sums hold the least cost, %d\n%+v\n%s", want[0], plan, written(p))
	}
	if len(p.Rules.Goals) == 0 && plan.Sticks() != want[1] {
		fault("%d sticks, want %d\n%+v\n%s", plan.Sticks(), want[1], plan, written(p))
	}
	if n := splices(plan); len(p.Rules.Goals) == 0 && n != want[2] {
		fault("%d splices, want %d\n%+v\n%s", n, want[2], plan, written(p))
	}
	for k := 1; k < len(want) && k < len(plan.Goals); k++ {
		l := &plan.Goals[k]
		more := l.Goal == optimize.GoalOffcutValue || l.Goal == optimize.GoalLongestOffcut
		wrong := more && (l.Value > want[k] || l.Bound < want[k]) || !more && (l.Value < want[k] || l.Bound > want[k])
		if wrong || l.Proven && l.Value != want[k] {
			fault("%+v, want %d\n%+v\n%s", *l, want[k], plan, written(p))
		}
		if l.Value != want[k] {
			break // the goals after it are others
		}
	}
	return plan, true, faults
}

// splices counts those of all runs.
func splices(plan *optimize.Plan) (n int64) {
	for k := range plan.Spliced {
		n += int64(len(plan.Spliced[k].At))
	}
	return n
}

// bothAdded returns a random problem with two features, or with one that is given twice.
func bothAdded(a, b int, seed uint64) optimize.Problem {
	r := rand.New(rand.NewPCG(uint64(a*1000+b), seed))
	p := tinyBase(r)
	features[min(a, b)].add(r, &p)
	if a != b {
		features[max(a, b)].add(r, &p)
	}
	owned(&p)
	return p
}

// TestRulesBrute solves random problems with each rule and each pair of rules.
func TestRulesBrute(t *testing.T) {
	for a := range features {
		for b := range a + 1 {
			name := features[b].name + " and " + features[a].name
			if a == b {
				name = features[a].name
			}
			t.Run(name, func(t *testing.T) {
				sound := 0
				for seed := range *bruteCases {
					p := bothAdded(a, b, uint64(seed))
					if againstBrute(t, &p) {
						sound++
					}
					if t.Failed() {
						return
					}
				}
				if sound == 0 && *bruteCases >= 6 && !apart[[2]string{features[b].name, features[a].name}] {
					t.Error("no problem made sense")
				}
			})
		}
	}
}

// apart are the pairs of rules that do not go together.
var apart = map[[2]string]bool{
	{"nest", "one stick"}: true,
}
