package optimize_test

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
)

// forgery is a way to make up a proof. It changes a leaf that covers every plan, or the whole proof;
// the test tries the claims.
type forgery struct {
	name string
	make func(r *rand.Rand, p *optimize.Problem, pr *optimize.OpenProof)
}

// inLeaf is a forgery of one leaf.
func inLeaf(name string, f func(r *rand.Rand, p *optimize.Problem, l *optimize.Leaf)) forgery {
	return forgery{name, func(r *rand.Rand, p *optimize.Problem, pr *optimize.OpenProof) {
		f(r, p, &pr.Leaves[r.IntN(len(pr.Leaves))])
	}}
}

func valuesOf(v int64) func(*rand.Rand, *optimize.Problem, *optimize.Leaf) {
	return func(_ *rand.Rand, _ *optimize.Problem, l *optimize.Leaf) {
		for i := range l.Values {
			l.Values[i] = v
		}
	}
}

func oneValue(v int64) func(*rand.Rand, *optimize.Problem, *optimize.Leaf) {
	return func(r *rand.Rand, p *optimize.Problem, l *optimize.Leaf) {
		valuesOf(0)(r, p, l)
		if len(l.Values) > 0 {
			l.Values[r.IntN(len(l.Values))] = v
		}
	}
}

func partsOf(v int64) func(*rand.Rand, *optimize.Problem, *optimize.Leaf) {
	return func(_ *rand.Rand, p *optimize.Problem, l *optimize.Leaf) {
		l.Parts = nil
		seen := map[measure.Length]bool{}
		for i := range p.Runs {
			run := &p.Runs[i]
			ends := append(append([]measure.Length{0}, run.Splice.At...), run.Length)
			o := run.Splice.Overlap
			for a := range ends {
				for b := a + 1; b < len(ends); b++ {
					for _, more := range []measure.Length{0, o / 2, o - o/2, o} {
						seen[ends[b]-ends[a]+more] = true
					}
				}
			}
		}
		for n := range seen {
			if n > 0 {
				l.Parts = append(l.Parts, optimize.Part{Length: int64(n), Value: v})
			}
		}
		slices.SortFunc(l.Parts, func(a, b optimize.Part) int { return int(a.Length - b.Length) })
	}
}

// huge returns numbers around those at which sums of 64 bits go wrong.
func huge(r *rand.Rand) int64 {
	v := int64(1) << (20 + r.IntN(43))
	return oneOf(r, v, v-1, v+1, v/int64(1+r.IntN(6)), math.MaxInt64, math.MaxInt64/4, math.MaxInt64/4+1, math.MaxInt64/2, math.MaxInt64/3)
}

var forgeries = []forgery{
	inLeaf("all of 2^61", valuesOf(1<<61)),
	inLeaf("all of 2^62", valuesOf(1<<62)),
	inLeaf("all just below 2^62", valuesOf(1<<62-1)),
	inLeaf("all as great as can be", valuesOf(math.MaxInt64)),
	inLeaf("all of a quarter of that", valuesOf(math.MaxInt64/4)),
	inLeaf("all just above that", valuesOf(math.MaxInt64/4+1)),
	inLeaf("all of 2^60", valuesOf(1<<60)),
	inLeaf("one of 2^61", oneValue(1<<61)),
	inLeaf("one of 2^62", oneValue(1<<62)),
	inLeaf("one just below 2^62", oneValue(1<<62-1)),
	inLeaf("one as great as can be", oneValue(math.MaxInt64)),
	inLeaf("one of a quarter of that", oneValue(math.MaxInt64/4)),
	inLeaf("some huge", func(r *rand.Rand, p *optimize.Problem, l *optimize.Leaf) {
		for i := range l.Values {
			if r.IntN(2) == 0 {
				l.Values[i] = huge(r)
			}
		}
	}),
	inLeaf("huge, at a huge scale", func(r *rand.Rand, p *optimize.Problem, l *optimize.Leaf) {
		for i := range l.Values {
			l.Values[i] = huge(r)
		}
		l.Scale = huge(r)
	}),
	inLeaf("negative", func(r *rand.Rand, p *optimize.Problem, l *optimize.Leaf) { oneValue(-1)(r, p, l) }),
	inLeaf("doubled", func(r *rand.Rand, p *optimize.Problem, l *optimize.Leaf) {
		for i := range l.Values {
			l.Values[i] *= 2
		}
	}),
	inLeaf("one raised", func(r *rand.Rand, p *optimize.Problem, l *optimize.Leaf) {
		if len(l.Values) > 0 {
			l.Values[r.IntN(len(l.Values))] += 1 + l.Scale/int64(1+r.IntN(4))
		}
	}),
	inLeaf("half the scale", func(r *rand.Rand, p *optimize.Problem, l *optimize.Leaf) { l.Scale /= 2 }),
	inLeaf("no scale", func(r *rand.Rand, p *optimize.Problem, l *optimize.Leaf) { l.Scale = 0 }),
	inLeaf("no scale, one value", func(r *rand.Rand, p *optimize.Problem, l *optimize.Leaf) {
		oneValue(huge(r))(r, p, l)
		l.Scale = 0
	}),
	inLeaf("huge scale", func(r *rand.Rand, p *optimize.Problem, l *optimize.Leaf) { l.Scale = huge(r) }),
	inLeaf("negative scale", func(r *rand.Rand, p *optimize.Problem, l *optimize.Leaf) { l.Scale = -huge(r) }),
	inLeaf("small numbers", func(r *rand.Rand, p *optimize.Problem, l *optimize.Leaf) {
		for i := range l.Values {
			l.Values[i] = int64(r.IntN(12))
		}
		l.Scale = int64(r.IntN(4))
		if l.Spare > 0 || r.IntN(3) == 0 && p.Rules.Spare > 0 {
			l.Spare = int64(r.IntN(12))
		}
		if len(p.Runs) > 0 {
			partsOf(int64(r.IntN(12)))(r, p, l)
		}
	}),
	inLeaf("parts of 2^62", func(r *rand.Rand, p *optimize.Problem, l *optimize.Leaf) { partsOf(1<<62)(r, p, l) }),
	inLeaf("parts as great as can be", func(r *rand.Rand, p *optimize.Problem, l *optimize.Leaf) { partsOf(math.MaxInt64)(r, p, l) }),
	inLeaf("huge parts", func(r *rand.Rand, p *optimize.Problem, l *optimize.Leaf) { partsOf(huge(r))(r, p, l) }),
	inLeaf("parts out of order", func(r *rand.Rand, p *optimize.Problem, l *optimize.Leaf) {
		partsOf(1)(r, p, l)
		slices.Reverse(l.Parts)
	}),
	inLeaf("parts twice", func(r *rand.Rand, p *optimize.Problem, l *optimize.Leaf) {
		partsOf(1)(r, p, l)
		for _, v := range l.Parts {
			l.Parts = append(l.Parts, optimize.Part{Length: v.Length, Value: 1 << 40})
		}
	}),
	inLeaf("huge spare", func(r *rand.Rand, p *optimize.Problem, l *optimize.Leaf) { l.Spare = huge(r) }),
	inLeaf("spare as great as can be", func(r *rand.Rand, p *optimize.Problem, l *optimize.Leaf) { l.Spare = math.MaxInt64 }),
	inLeaf("every charge paid", func(r *rand.Rand, p *optimize.Problem, l *optimize.Leaf) {
		for g := range l.Used {
			l.Used[g] = 1
		}
	}),
	inLeaf("no charge paid", func(r *rand.Rand, p *optimize.Problem, l *optimize.Leaf) {
		for g := range l.Used {
			l.Used[g] = -1
		}
	}),
	inLeaf("charges without a name", func(r *rand.Rand, p *optimize.Problem, l *optimize.Leaf) { l.Used = append(l.Used, 0) }),
	inLeaf("sums of costs", func(r *rand.Rand, p *optimize.Problem, l *optimize.Leaf) { l.Sums = !l.Sums }),
	inLeaf("box too small above", func(r *rand.Rand, p *optimize.Problem, l *optimize.Leaf) {
		if c := r.IntN(len(l.Hi)); l.Hi[c] > l.Lo[c] {
			l.Hi[c]--
		}
	}),
	inLeaf("box too small below", func(r *rand.Rand, p *optimize.Problem, l *optimize.Leaf) {
		if c := r.IntN(len(l.Hi)); l.Hi[c] > l.Lo[c] {
			l.Lo[c]++
		}
	}),
	inLeaf("box beyond the limits", func(r *rand.Rand, p *optimize.Problem, l *optimize.Leaf) {
		c := r.IntN(len(l.Hi))
		l.Lo[c], l.Hi[c] = l.Hi[c], oneOf(r, l.Hi[c]+1, math.MaxInt64)
	}),
	inLeaf("empty box", func(r *rand.Rand, p *optimize.Problem, l *optimize.Leaf) {
		c := r.IntN(len(l.Hi))
		l.Lo[c] = l.Hi[c] + 1
	}),
	inLeaf("values missing", func(r *rand.Rand, p *optimize.Problem, l *optimize.Leaf) { l.Values = nil }),
	inLeaf("a value too many", func(r *rand.Rand, p *optimize.Problem, l *optimize.Leaf) { l.Values = append(l.Values, r.Int64N(12)) }),
	{"values for lots", func(r *rand.Rand, p *optimize.Problem, pr *optimize.OpenProof) {
		n, _, _ := optimize.Numbers(p)
		for k := range pr.Leaves {
			l := &pr.Leaves[k]
			l.Values = append(slices.Clone(l.Values), make([]int64, max(0, n-len(l.Values)))...)
			for i := range l.Values {
				l.Values[i] = r.Int64N(12)
			}
			l.Scale = int64(r.IntN(4))
		}
	}},
	{"values for lots that are none", func(r *rand.Rand, p *optimize.Problem, pr *optimize.OpenProof) {
		for k := range pr.Leaves {
			l := &pr.Leaves[k]
			l.Values = append(slices.Clone(l.Values), 1, 1<<61, huge(r))
		}
	}},
	inLeaf("a class missing", func(r *rand.Rand, p *optimize.Problem, l *optimize.Leaf) { l.Lo, l.Hi = l.Lo[1:], l.Hi[1:] }),
	{"the same leaf twice", func(r *rand.Rand, p *optimize.Problem, pr *optimize.OpenProof) {
		pr.Leaves = append(pr.Leaves, pr.Leaves[0])
	}},
	{"a leaf of its own for one corner", func(r *rand.Rand, p *optimize.Problem, pr *optimize.OpenProof) {
		l := copied(&pr.Leaves[0])
		for c := range l.Lo {
			l.Lo[c] = l.Hi[c]
		}
		valuesOf(huge(r))(r, p, &l)
		pr.Leaves = append(pr.Leaves, l)
	}},
	{"two halves with a gap", func(r *rand.Rand, p *optimize.Problem, pr *optimize.OpenProof) {
		a, b := copied(&pr.Leaves[0]), copied(&pr.Leaves[0])
		c := r.IntN(len(a.Lo))
		a.Hi[c] = a.Lo[c]
		b.Lo[c] = min(b.Hi[c], a.Lo[c]+2)
		pr.Leaves = []optimize.Leaf{a, b}
	}},
	{"halves, one of them with other values", func(r *rand.Rand, p *optimize.Problem, pr *optimize.OpenProof) {
		pr.Leaves = cutBoxes(r, pr.Leaves, 1+r.IntN(3))
		for k := range pr.Leaves {
			pr.Leaves[k] = copied(&pr.Leaves[k])
			if l := &pr.Leaves[k]; r.IntN(2) == 0 {
				for i := range l.Values {
					l.Values[i] = r.Int64N(1 << r.IntN(60))
				}
				l.Scale = r.Int64N(1 << r.IntN(60))
			}
		}
	}},
	{"no leaves", func(r *rand.Rand, p *optimize.Problem, pr *optimize.OpenProof) { pr.Leaves = nil }},
	{"leaves of nothing", func(r *rand.Rand, p *optimize.Problem, pr *optimize.OpenProof) {
		pr.Leaves = make([]optimize.Leaf, 1+r.IntN(3))
	}},
	{"unit", func(r *rand.Rand, p *optimize.Problem, pr *optimize.OpenProof) {
		pr.Unit = oneOf(r, 0, -1, 1, 2*pr.Unit, 7*pr.Unit, math.MaxInt64, 1<<62)
	}},
	{"as it was", func(r *rand.Rand, p *optimize.Problem, pr *optimize.OpenProof) {}},
}

func copied(l *optimize.Leaf) optimize.Leaf {
	out := *l
	out.Lo, out.Hi, out.Values = slices.Clone(l.Lo), slices.Clone(l.Hi), slices.Clone(l.Values)
	out.Parts, out.Used = slices.Clone(l.Parts), slices.Clone(l.Used)
	return out
}

// rootLeaf is one leaf over all counts with no values.
func rootLeaf(p *optimize.Problem) optimize.Leaf {
	limits := optimize.ClassLimits(p)
	return optimize.Leaf{Lo: make([]int64, len(limits)), Hi: limits, Values: make([]int64, len(p.Pieces)), Scale: 1, Used: make([]int, len(p.Rules.Charges))}
}

// dearer returns a more expensive plan, which was optimal at other prices; nil if none is found. It
// makes no claim about itself.
func dearer(r *rand.Rand, p *optimize.Problem) *optimize.Plan {
	q := *p
	q.Sticks = slices.Clone(p.Sticks)
	for i := range q.Sticks {
		q.Sticks[i].Price = int64(1 + r.IntN(20))
	}
	plan := solveOrNil(q)
	if plan == nil {
		return nil
	}
	plan.Bound, plan.Proof, plan.Proven, plan.Stop = 0, optimize.Proof{}, false, optimize.StopWork
	plan.ByLength = false
	for range 40 {
		var ce *optimize.CheckError
		switch err := optimize.Check(context.Background(), *p, plan); {
		case err == nil:
			return plan
		case !errors.As(err, &ce):
			return nil
		}
		want, err := strconv.ParseInt(ce.Want, 10, 64)
		k := 0
		switch {
		case ce.Field == "by_length":
			plan.ByLength = true
		case ce.Field == "buy" || ce.Field == "proven":
			return nil
		case err != nil && !strings.HasPrefix(ce.Field, "goals"):
			return nil
		case ce.Field == "cost":
			plan.Cost = want
		case scanned(ce.Field, "buy[%d].cost", &k):
			plan.Buy[k].Cost = want
		case scanned(ce.Field, "goals[%d].", &k):
			if l := &plan.Goals[k]; strings.HasSuffix(ce.Field, "value") {
				l.Value = want
			} else if l.Bound, l.Proven = l.Value, false; l.Goal == optimize.GoalCost {
				l.Bound = 0
			}
		default:
			return nil
		}
	}
	return nil
}

func scanned(s, format string, k *int) bool {
	n, err := fmt.Sscanf(s, format, k)
	return n == 1 && (err == nil || strings.HasSuffix(format, "."))
}

var forgedJobs = flag.Int("forgedjobs", 400, "random problems for which TestForgedProofs forges proofs")

// TestForgedProofs forges proofs for optimal plans and for expensive ones, of problems with and without
// rules: nothing that Audit verifies is above the least cost, and nothing that Check accepts claims
// more, unless it says that the rest relies on a search.
func TestForgedProofs(t *testing.T) {
	t.Parallel()
	jobs := *forgedJobs
	if testing.Short() {
		jobs = min(jobs, 120)
	}
	shown, refused, dear := make([]int, len(forgeries)), make([]int, len(forgeries)), 0
	for seed := range uint64(jobs) {
		r := rand.New(rand.NewPCG(seed, 71))
		var p optimize.Problem
		switch seed % 4 {
		case 0:
			p = tiny(r)
		case 1:
			p = bothAdded(int(seed/4)%len(features), int(seed/4)%len(features), seed)
		default:
			p = bothAdded(r.IntN(len(features)), r.IntN(len(features)), seed)
		}
		least, ok := bruteSolve(&p)
		right := solveOrNil(p)
		if !ok || right == nil {
			continue
		}
		plans := []*optimize.Plan{right}
		if d := dearer(r, &p); d != nil && d.Cost > least[0] {
			plans = append(plans, d)
			dear++
		}
		honest := optimize.Unseal(right.Proof)
		for k := range forgeries {
			for _, plan := range plans {
				pr := &optimize.OpenProof{Unit: max(1, honest.Unit)}
				if len(honest.Leaves) == 0 || r.IntN(3) == 0 {
					pr.Leaves = []optimize.Leaf{rootLeaf(&p)}
				}
				for j := range honest.Leaves {
					if len(pr.Leaves) == j {
						pr.Leaves = append(pr.Leaves, copied(&honest.Leaves[j]))
					}
				}
				forgeries[k].make(r, &p, pr)
				tally(t, &p, plan, pr, least[0], &shown[k], &refused[k])
				if t.Failed() {
					t.Fatalf("seed %d: %s", seed, forgeries[k].name)
				}
			}
		}
	}
	total := 0
	for k := range forgeries {
		total += shown[k]
		if shown[k]+refused[k] == 0 {
			t.Errorf("%s: neither rejected nor verified", forgeries[k].name)
		}
	}
	if total == 0 || dear < jobs/8 || len(forgeries) < 30 {
		t.Errorf("%d verified, %d expensive plans: this tests little", total, dear)
	}
}

// tally tries a forgery, and counts it if it is refused or shows something.
func tally(t *testing.T, p *optimize.Problem, plan *optimize.Plan, pr *optimize.OpenProof, least int64, shown, refused *int) {
	t.Helper()
	if a, err := tryForged(t, p, plan, pr, least); err != nil {
		*refused++
	} else if a > 0 {
		*shown++
	}
}

// tryForged gives a plan a proof and claims increasing bounds. It returns the verified part, or the
// error of Audit for the least of the claims.
func tryForged(t *testing.T, p *optimize.Problem, plan *optimize.Plan, pr *optimize.OpenProof, least int64) (int64, error) {
	t.Helper()
	own := pr.Kind
	claim := func(kind optimize.ProofKind, bound, leaves int64) (int64, error) {
		pl := *plan
		pr.Kind, pr.LeafBound, pl.Bound = kind, leaves, bound
		var err error
		if pl.Proof, err = pr.Sealed(); err != nil {
			return 0, err // there are no bytes that say so
		}
		if pl.Proven = bound == pl.Cost && kind != optimize.ProofOmitted; !pl.Proven || len(pl.Goals) > 0 {
			pl.Stop = optimize.StopUnknown
		}
		pl.Goals = slices.Clone(pl.Goals)
		for k := range pl.Goals {
			l := &pl.Goals[k]
			l.Proven = false
			if l.Goal == optimize.GoalCost {
				l.Bound = min(l.Bound, bound)
			}
		}
		a, err := optimize.Audit(context.Background(), *p, &pl)
		if err != nil {
			return 0, err
		}
		shown, complete := a.Bound()
		if shown > least || shown > bound {
			t.Errorf("Audit reports %d as verified, but the least cost is %d\n%+v\n%s", shown, least, pl, written(p))
		}
		if bound > least && kind != optimize.ProofSearch && (kind != optimize.ProofOmitted || shown > 0) {
			t.Errorf("Check accepts the bound %d by %v, but the least cost is %d\n%+v\n%s", bound, kind, least, pl, written(p))
		}
		if leaves > least {
			t.Errorf("Check accepts %d as the bound of the leaves, but the least cost is %d\n%+v\n%s", leaves, least, pl, written(p))
		}
		if complete != (shown == bound) {
			t.Errorf("%d of %d shown, complete: %t\n%+v\n%s", shown, bound, complete, pl, written(p))
		}
		if shown < bound && len(a.Open()) == 0 {
			t.Errorf("%d of %d verified, but nothing is reported as open\n%+v\n%s", shown, bound, pl, written(p))
		}
		return shown, nil
	}
	for _, kind := range []optimize.ProofKind{optimize.ProofMaterial, optimize.ProofDual, optimize.ProofTree, optimize.ProofEnumeration, optimize.ProofPacking} {
		for _, bound := range []int64{least, least + 1, (least + plan.Cost + 1) / 2, plan.Cost} {
			if bound <= plan.Cost {
				claim(kind, bound, bound)
			}
		}
	}
	if plan.Cost == 0 {
		return 0, nil
	}
	if pr.Beyond != nil { // and so no other kind
		return claim(own, least, least)
	}
	claim(optimize.ProofNone, plan.Cost, 0)
	claim(optimize.ProofOmitted, plan.Cost, 0)
	claim(optimize.ProofSearch, plan.Cost, plan.Cost-1)
	claim(optimize.ProofSearch, plan.Cost, min(least+1, plan.Cost-1))
	return claim(optimize.ProofSearch, plan.Cost, 0)
}

// TestForgedClaims makes plans with contradictory claims about themselves.
func TestForgedClaims(t *testing.T) {
	p := tinyBase(rand.New(rand.NewPCG(5, 5)))
	for name, rules := range map[string]optimize.Rules{
		"plain": {},
		"rules": {MaxPieces: 9},
		"goals": {Goals: []optimize.Goal{optimize.GoalCost, optimize.GoalSticks, optimize.GoalCuts, optimize.GoalLongestOffcut}},
	} {
		p.Rules = rules
		good := mustSolve(t, p)
		if !good.Proven {
			t.Fatalf("%s: not proven", name)
		}
		for claim, spoil := range map[string]func(*optimize.Plan) string{
			"work":            func(pl *optimize.Plan) string { pl.Work = -1; return "work" },
			"a limit reached": func(pl *optimize.Plan) string { pl.Stop = optimize.StopWork; return "stop" },
			"a deadline":      func(pl *optimize.Plan) string { pl.Stop = optimize.StopDeadline; return "stop" },
			"stuck":           func(pl *optimize.Plan) string { pl.Stop = optimize.StopExhausted; return "stop" },
			"no name":         func(pl *optimize.Plan) string { pl.Stop = optimize.StopExhausted + 1; return "stop" },
			"unproven":        func(pl *optimize.Plan) string { pl.Proven = false; return "proven" },
			"below zero":      func(pl *optimize.Plan) string { pl.Bound, pl.Proven = -1, false; return "bound" },
		} {
			plan := clone(t, good)
			for k := range plan.Goals {
				plan.Goals[k].Bound, plan.Goals[k].Proven = plan.Goals[k].Value, true
			}
			want := spoil(plan)
			var ce *optimize.CheckError
			if err := optimize.Check(context.Background(), p, plan); !errors.As(err, &ce) || ce.Field != want {
				t.Errorf("%s, %s: %v, want a CheckError that names %s", name, claim, err, want)
			}
		}
	}
}

// TestLevelsAreOpen: if the bound of a goal after the cost has no proof, Audit reports it.
func TestLevelsAreOpen(t *testing.T) {
	p := tinyBase(rand.New(rand.NewPCG(5, 5)))
	p.Rules.Goals = []optimize.Goal{optimize.GoalCost, optimize.GoalCuts, optimize.GoalLongestOffcut, optimize.GoalSplices}
	plan := mustSolve(t, p)
	if r, err := optimize.Audit(context.Background(), p, plan); err != nil || slices.ContainsFunc(r.Open(), func(s string) bool { return strings.Contains(s, optimize.GoalCuts.String()) }) {
		t.Errorf("fewest cuts with a proof: %v, %v", r, err)
	}
	for k := range plan.Goals {
		plan.Goals[k].Bound, plan.Goals[k].Proof = plan.Goals[k].Value, optimize.Proof{}
	}
	a, err := optimize.Audit(context.Background(), p, plan)
	if err != nil {
		t.Fatal(err)
	}
	if g := optimize.GoalCuts; !slices.ContainsFunc(a.Open(), func(s string) bool { return strings.Contains(s, g.String()) }) {
		t.Errorf("%q does not say that the bound of %v is open", a.Open(), g)
	}
	if slices.ContainsFunc(a.Open(), func(s string) bool { return strings.Contains(s, optimize.GoalSplices.String()) }) {
		t.Errorf("%q says that the bound of no splices is open", a.Open())
	}
	for k := range plan.Goals {
		l := &plan.Goals[k]
		switch l.Goal {
		case optimize.GoalLongestOffcut:
			l.Bound = math.MaxInt64
		case optimize.GoalCost:
		default:
			l.Bound = 0
		}
		l.Proven = l.Bound == l.Value && (k == 0 || plan.Goals[k-1].Proven)
	}
	if a, err = optimize.Audit(context.Background(), p, plan); err != nil || len(a.Open()) > 0 {
		t.Errorf("with trivial bounds: %v, %v", a, err)
	}
}
