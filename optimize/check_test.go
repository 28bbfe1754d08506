package optimize_test

import (
	"context"
	"encoding/json"
	"errors"
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// clone copies a plan through its JSON form, which has to be complete for that.
func clone(t testing.TB, plan *optimize.Plan) *optimize.Plan {
	t.Helper()
	b, err := json.Marshal(plan)
	if err != nil {
		t.Fatal(err)
	}
	out := new(optimize.Plan)
	if err := json.Unmarshal(b, out); err != nil {
		t.Fatalf("%v\n%s", err, b)
	}
	return out
}

// TestCheckNamesTheClaim makes one claim wrong at a time.
func TestCheckNamesTheClaim(t *testing.T) {
	p := optimize.Problem{
		Sticks: []stock.Stick{
			{Label: "eight foot", Length: 96 * inch, Price: 800, TrimStart: inch},
			{Label: "twelve foot", Length: 144 * inch, Price: 1100, Limit: 2},
			{Label: "from the rack", Length: 50 * inch, Limit: 1, Rack: true},
		},
		Pieces: []stock.Piece{
			{Label: "north", Length: 90 * inch, Quantity: 2},
			{Label: "south", Length: 47 * inch, Quantity: 3},
			{Label: "porch", Length: 20 * inch, Quantity: 4},
		},
		Kerf: inch / 8,
	}
	good := mustSolve(t, p)
	if good.Proof.Kind() != optimize.ProofDual || len(good.Patterns) < 3 || good.Patterns[0].Stick != 0 {
		t.Fatalf("the plan does not have the form that this test changes: %+v", good)
	}
	all := len(p.Pieces)
	last := len(good.Patterns) - 1 // the stick from the rack
	tests := []struct {
		name  string
		spoil func(p *optimize.Problem, plan *optimize.Plan)
		claim string
	}{
		{"stick below", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[1].Stick = -1 }, "patterns[1].stick"},
		{"stick above", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[1].Stick = 3 }, "patterns[1].stick"},
		{"no count", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[0].Count = 0 }, "patterns[0].count"},
		{"negative count", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[0].Count = math.MinInt }, "patterns[0].count"},
		{"nothing cut", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[0].Pieces = nil }, "patterns[0].pieces"},
		{"piece below", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[0].Pieces[0] = -1 }, "patterns[0].pieces[0]"},
		{"piece above", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[0].Pieces[0] = all }, "patterns[0].pieces[0]"},
		{"wider kerf", func(p *optimize.Problem, _ *optimize.Plan) { p.Kerf = 30 * inch }, "patterns[0].offcut"},
		{"kerfs too wide together", func(p *optimize.Problem, pl *optimize.Plan) {
			p.Kerf = 30 * inch
			pl.Patterns = pl.Patterns[2:]
		}, "patterns[0].pieces"},
		{"longer piece", func(p *optimize.Problem, _ *optimize.Plan) { p.Pieces[2].Length = 60 * inch }, "patterns[2].pieces"},
		{"shorter stick", func(p *optimize.Problem, _ *optimize.Plan) { p.Sticks[0].TrimEnd = 94 * inch }, "patterns[0].pieces"},
		{"cut too often", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[last].Count = 2 }, "patterns[3].count"},
		{"count out of range", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[last].Count = math.MaxInt }, "patterns[3].count"},
		{"piece twice", func(p *optimize.Problem, pl *optimize.Plan) {
			p.Sticks[2].Limit = 0
			pl.Patterns[last].Count = math.MaxInt
		}, "patterns[3].pieces[0]"},
		{"more wanted", func(p *optimize.Problem, _ *optimize.Plan) { p.Pieces[2].Quantity = 5 }, "patterns"},
		{"a pattern lost", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns = pl.Patterns[:last] }, "patterns"},
		{"no pattern", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns = nil }, "patterns"},
		{"offcut", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Patterns[0].Offcut++ }, "patterns[0].offcut"},
		{"narrower kerf", func(p *optimize.Problem, _ *optimize.Plan) { p.Kerf-- }, "patterns[0].offcut"},
		{"by_length", func(_ *optimize.Problem, pl *optimize.Plan) { pl.ByLength = true }, "by_length"},
		{"cost", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Cost--; pl.Bound-- }, "cost"},
		{"price", func(p *optimize.Problem, _ *optimize.Plan) { p.Sticks[1].Price++ }, "buy[1].cost"},
		{"price out of range", func(p *optimize.Problem, _ *optimize.Plan) { p.Sticks[1].Price = math.MaxInt64 }, "buy[1].cost"},
		{"bound above cost", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Bound++ }, "bound"},
		{"not proven", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Proven = false }, "proven"},
		{"proven without", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Bound-- }, "proven"},
		{"stop", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Bound--; pl.Proven = false }, "stop"},
		{"stop without a name", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Stop = 99 }, "stop"},
		{"work", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Work = -1 }, "work"},
		{"kind without a name", inProof(func(pr *optimize.OpenProof) { pr.Kind = 99 }), "proof.kind"},
		{"no proof", func(_ *optimize.Problem, pl *optimize.Plan) { pl.Proof = optimize.Proof{} }, "bound"},
		{"leaf of no kind", inProof(func(pr *optimize.OpenProof) { pr.Kind = optimize.ProofNone }), "proof.leaves"},
		{"bound of no leaf", inProof(func(pr *optimize.OpenProof) {
			pr.Kind, pr.Leaves = optimize.ProofNone, nil
		}), "proof.leaf_bound"},
		{"search without leaves", inProof(func(pr *optimize.OpenProof) {
			pr.Kind, pr.Leaves, pr.LeafBound, pr.Beyond = optimize.ProofSearch, nil, 1, nil
		}), "proof.leaf_bound"},
		{"search for nothing", inProof(func(pr *optimize.OpenProof) { pr.Kind = optimize.ProofSearch }), "proof.kind"},
		{"tree of one", inProof(func(pr *optimize.OpenProof) { pr.Kind = optimize.ProofTree }), "proof.leaves"},
		{"no leaf", inProof(func(pr *optimize.OpenProof) { pr.Leaves = nil }), "proof.leaves"},
		{"not material", inProof(func(pr *optimize.OpenProof) { pr.Kind = optimize.ProofMaterial }), "proof.leaves[0].values[1]"},
		{"leaf bound below bound", inProof(func(pr *optimize.OpenProof) { pr.LeafBound-- }), "bound"},
		{"no unit", inProof(func(pr *optimize.OpenProof) { pr.Unit = 0 }), "proof.unit"},
		{"unit", inProof(func(pr *optimize.OpenProof) { pr.Unit *= 2 }), "proof.unit"},
		{"lower corner", inProof(func(pr *optimize.OpenProof) { pr.Leaves[0].Lo, pr.Leaves[0].Hi = nil, nil }), "proof.classes"},
		{"upper corner", inProof(func(pr *optimize.OpenProof) { pr.Leaves[0].Lo, pr.Leaves[0].Hi = []int64{0}, []int64{1} }), "proof.classes"},
		{"below zero", inProof(func(pr *optimize.OpenProof) { pr.Leaves[0].Lo[1] = -1 }), "proof.leaves[0].lo[1]"},
		{"empty box", inProof(func(pr *optimize.OpenProof) { pr.Leaves[0].Lo[1] = 3 }), "proof.leaves[0].lo[1]"},
		{"above the limit", inProof(func(pr *optimize.OpenProof) { pr.Leaves[0].Hi[1] = 3 }), "proof.leaves[0].hi[1]"},
		{"part of the box", inProof(func(pr *optimize.OpenProof) { pr.Leaves[0].Hi[1]-- }), "proof.leaves"},
		{"another part", inProof(func(pr *optimize.OpenProof) { pr.Leaves[0].Lo[0]++ }), "proof.leaves"},
		{"negative scale", inProof(func(pr *optimize.OpenProof) { pr.Leaves[0].Scale = -1 }), "proof.leaves[0].scale"},
		{"great scale", inProof(func(pr *optimize.OpenProof) { pr.Leaves[0].Scale = math.MaxInt64 }), "proof.leaves[0].scale"},
		{"values missing", inProof(func(pr *optimize.OpenProof) { pr.Leaves[0].Values = nil }), "proof.pieces"},
		{"negative value", inProof(func(pr *optimize.OpenProof) { pr.Leaves[0].Values[1] = -1 }), "proof.leaves[0].values[1]"},
		{"values too low", inProof(func(pr *optimize.OpenProof) {
			for i := range pr.Leaves[0].Values {
				pr.Leaves[0].Values[i] /= 2
			}
		}), "proof.leaf_bound"},
		{"values too high", inProof(func(pr *optimize.OpenProof) {
			for i := range pr.Leaves[0].Values {
				pr.Leaves[0].Values[i] *= 2
			}
		}), "proof.leaf_bound"},
		{"scale too high", inProof(func(pr *optimize.OpenProof) { pr.Leaves[0].Scale *= 2 }), "proof.leaf_bound"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			q := p
			q.Sticks, q.Pieces = slices.Clone(p.Sticks), slices.Clone(p.Pieces)
			plan := clone(t, good)
			tt.spoil(&q, plan)
			err := optimize.Check(context.Background(), q, plan)
			var ce *optimize.CheckError
			if !errors.As(err, &ce) {
				t.Fatalf("error %v, want a CheckError", err)
			}
			if ce.Field != tt.claim {
				t.Errorf("%v; want the claim %s", err, tt.claim)
			}
		})
	}
	if err := optimize.Check(context.Background(), p, nil); err == nil || err.Error() != "optimize: plan is wrong: it is nil, want a plan" {
		t.Errorf("nil plan: %v", err)
	}
	if err := optimize.Check(context.Background(), optimize.Problem{}, good); !errors.As(err, new(*measure.FieldError)) {
		t.Errorf("empty problem: %v", err)
	}
	if err := optimize.Check(context.Background(), p, clone(t, good)); err != nil {
		t.Errorf("after a trip through JSON: %v", err)
	}
}

// inProof spoils a proof.
func inProof(f func(*optimize.OpenProof)) func(*optimize.Problem, *optimize.Plan) {
	return func(_ *optimize.Problem, pl *optimize.Plan) {
		pr := optimize.Unseal(pl.Proof)
		f(pr)
		var err error
		if pl.Proof, err = pr.Sealed(); err != nil {
			panic(err)
		}
	}
}

// meaning evaluates a plan in the most obvious way: whether it can be cut, and its cost.
func meaning(p optimize.Problem, plan *optimize.Plan) (cost int64, ok bool) {
	made := make([]int, len(p.Pieces))
	used := make([]int, len(p.Sticks))
	priced := false
	for _, s := range p.Sticks {
		priced = priced || s.Price > 0
	}
	for _, pat := range plan.Patterns {
		if pat.Stick < 0 || pat.Stick >= len(p.Sticks) || pat.Count < 1 || pat.Count > 1000 || len(pat.Pieces) == 0 {
			return 0, false
		}
		s := p.Sticks[pat.Stick]
		used[pat.Stick] += pat.Count
		var sum measure.Length
		for _, i := range pat.Pieces {
			if i < 0 || i >= len(made) {
				return 0, false
			}
			made[i] += pat.Count
			sum += p.Pieces[i].Length
		}
		n := measure.Length(len(pat.Pieces))
		room := s.Length - s.TrimStart - s.TrimEnd
		if sum+(n-1)*p.Kerf > room || pat.Offcut != max(0, room-sum-n*p.Kerf) {
			return 0, false
		}
		if s.Limit > 0 && used[pat.Stick] > s.Limit {
			return 0, false
		}
		if priced {
			cost += s.Price * int64(pat.Count)
		} else {
			cost += int64(s.Length) * int64(pat.Count)
		}
	}
	for i, pc := range p.Pieces {
		if made[i] != max(1, pc.Quantity) {
			return 0, false
		}
	}
	return cost, true
}

// spoil changes a plan in a few places, sometimes so that its parts still agree with each other.
func spoil(r *rand.Rand, plan *optimize.Plan) {
	nudge := func(x int64) int64 {
		switch r.IntN(6) {
		case 0:
			return x - 1
		case 1:
			return 0
		case 2:
			return x * 2
		case 3:
			return -x
		case 4:
			return x + int64(r.IntN(10)) - 4
		}
		return x + 1
	}
	pr := optimize.Unseal(plan.Proof)
	defer func() {
		var err error
		if plan.Proof, err = pr.Sealed(); err != nil {
			panic(err)
		}
	}()
	for range 1 + r.IntN(3) {
		pat := &plan.Patterns[r.IntN(len(plan.Patterns))]
		switch r.IntN(16) {
		case 0:
			pat.Count = int(nudge(int64(pat.Count)))
		case 1:
			pat.Stick = int(nudge(int64(pat.Stick)))
		case 2:
			pat.Offcut = measure.Length(nudge(int64(pat.Offcut)))
		case 3:
			if len(pat.Pieces) > 0 {
				i := r.IntN(len(pat.Pieces))
				pat.Pieces[i] = int(nudge(int64(pat.Pieces[i])))
			}
		case 4: // swap pieces between patterns
			other := &plan.Patterns[r.IntN(len(plan.Patterns))]
			if len(pat.Pieces) > 0 && len(other.Pieces) > 0 {
				i, j := r.IntN(len(pat.Pieces)), r.IntN(len(other.Pieces))
				pat.Pieces[i], other.Pieces[j] = other.Pieces[j], pat.Pieces[i]
			}
		case 5:
			plan.Cost = nudge(plan.Cost)
		case 6: // claim more, or less, with all that belongs to it
			plan.Bound = nudge(plan.Bound)
			if r.IntN(2) == 0 {
				pr.LeafBound = plan.Bound
			}
			plan.Proven = plan.Cost == plan.Bound
			if !plan.Proven {
				plan.Stop = optimize.StopExhausted
			}
		case 7:
			pr.Unit = nudge(pr.Unit)
		case 8:
			pr.LeafBound = nudge(pr.LeafBound)
		case 9:
			pr.Kind = optimize.ProofKind(r.IntN(5))
		default:
			if len(pr.Leaves) == 0 {
				continue
			}
			l := &pr.Leaves[r.IntN(len(pr.Leaves))]
			c := r.IntN(len(l.Lo))
			v := r.IntN(len(l.Values))
			switch r.IntN(7) {
			case 6:
				l.Sums = !l.Sums
			case 0:
				l.Lo[c] = nudge(l.Lo[c])
			case 1:
				l.Hi[c] = nudge(l.Hi[c])
			case 2:
				l.Scale = nudge(l.Scale)
			case 3: // cut the box in two
				if l.Lo[c] < l.Hi[c] {
					m := *l
					m.Lo, m.Hi, m.Values = slices.Clone(l.Lo), slices.Clone(l.Hi), slices.Clone(l.Values)
					m.Lo[c] += r.Int64N(m.Hi[c]-m.Lo[c]) + 1
					l.Hi[c] = m.Lo[c] - 1
					pr.Leaves = append(pr.Leaves, m)
					if pr.Kind == optimize.ProofDual {
						pr.Kind = optimize.ProofTree
					}
				}
			default:
				l.Values[v] = nudge(l.Values[v])
			}
		}
	}
}

// auditSpoiled checks that Audit accepts a spoiled plan only if its claims are true. It reports whether
// the plan was accepted.
func auditSpoiled(t *testing.T, seed, spoilSeed uint64) bool {
	p := tiny(rand.New(rand.NewPCG(seed, 1)))
	optimum, ok := slowSolve(p)
	if !ok {
		return false
	}
	plan := clone(t, mustSolve(t, p))
	r := rand.New(rand.NewPCG(spoilSeed, 2))
	spoil(r, plan)
	a, err := optimize.Audit(context.Background(), p, plan)
	if err != nil {
		var ce *optimize.CheckError
		if !errors.As(err, &ce) {
			t.Fatalf("seeds %d %d: error %v is not a CheckError", seed, spoilSeed, err)
		}
		return false
	}
	fail := func(what string) {
		t.Fatalf("seeds %d %d: accepted although %s; audited %+v\n%#v\n%+v", seed, spoilSeed, what, a, p, plan)
	}
	cost, can := meaning(p, plan)
	shown, whole := a.Bound()
	switch {
	case !can:
		fail("it cannot be cut")
	case cost != plan.Cost:
		fail("the cost is wrong")
	case plan.Bound > plan.Cost:
		fail("the bound is above the cost")
	case plan.Proven != (plan.Cost == plan.Bound):
		fail("it is not as proven as it says")
	case shown > optimum.cost:
		fail("the audited bound is above the optimum")
	case shown > plan.Bound, shown < plan.Bound && len(a.Open()) == 0, shown == plan.Bound && len(a.Open()) != 0, whole != (shown == plan.Bound):
		fail("the audit contradicts itself")
	case plan.Bound > optimum.cost && plan.Proof.Kind() != optimize.ProofSearch:
		fail("the bound is above the optimum")
	case plan.Bound > optimum.cost && len(a.Open()) == 0:
		fail("nothing is left open")
	}
	return true
}

func TestAuditSpoiled(t *testing.T) {
	runs := 5000
	if testing.Short() {
		runs = 1000
	}
	accepted := 0
	for i := range uint64(runs) {
		if auditSpoiled(t, i/4, i) {
			accepted++
		}
	}
	t.Logf("%d of %d changed plans are still right", accepted, runs)
	if accepted == 0 || accepted > runs/2 {
		t.Error("too many or too few of the changed plans are right")
	}
}

func FuzzAudit(f *testing.F) {
	f.Add(uint64(1), uint64(1))
	f.Fuzz(func(t *testing.T, seed, spoilSeed uint64) { auditSpoiled(t, seed, spoilSeed) })
}

// slowLeaf computes the bound of a leaf by trying every pattern and every count in the box; nil means
// that the leaf proves that the box contains no plan.
func slowLeaf(p optimize.Problem, classes []slowClass, l optimize.Leaf, unit int64) *big.Int {
	num := new(big.Int)
	for i, pc := range p.Pieces {
		num.Add(num, new(big.Int).Mul(big.NewInt(l.Values[i]), big.NewInt(int64(max(1, pc.Quantity)))))
	}
	for c, cl := range classes {
		var most int64
		var fill func(i int, room measure.Length, value int64)
		fill = func(i int, room measure.Length, value int64) {
			most = max(most, value)
			if i == len(p.Pieces) {
				return
			}
			for n := 0; n <= max(1, p.Pieces[i].Quantity) && room >= 0; n++ {
				fill(i+1, room, value+int64(n)*l.Values[i])
				room -= p.Pieces[i].Length + p.Kerf
			}
		}
		fill(0, cl.usable+p.Kerf, 0)
		gain := new(big.Int).Mul(big.NewInt(cl.cost/unit), big.NewInt(l.Scale))
		gain.Sub(gain, big.NewInt(most))
		var least *big.Int
		for n := l.Lo[c]; n <= l.Hi[c]; n++ {
			x := new(big.Int).Mul(gain, big.NewInt(n))
			if least == nil || x.Cmp(least) < 0 {
				least = x
			}
		}
		num.Add(num, least)
	}
	switch {
	case num.Sign() <= 0:
		return new(big.Int)
	case l.Scale == 0:
		return nil
	}
	q, m := new(big.Int).DivMod(num, big.NewInt(l.Scale), new(big.Int))
	if m.Sign() > 0 {
		q.Add(q, big.NewInt(1))
	}
	return q.Mul(q, big.NewInt(unit))
}

type slowClass struct {
	usable measure.Length
	cost   int64
	limit  int64
}

func slowClasses(p optimize.Problem, byLength bool) []slowClass {
	pieces := 0
	for _, pc := range p.Pieces {
		pieces += max(1, pc.Quantity)
	}
	var out []slowClass
	for _, s := range p.Sticks {
		c := slowClass{usable: s.Length - s.TrimStart - s.TrimEnd, cost: s.Price}
		if byLength {
			c.cost = int64(s.Length)
		}
		i := slices.IndexFunc(out, func(o slowClass) bool { return o.usable == c.usable && o.cost == c.cost })
		if i < 0 {
			i = len(out)
			out = append(out, c)
		}
		n := int64(s.Limit)
		if n == 0 {
			n = int64(pieces)
		}
		out[i].limit = min(out[i].limit+n, int64(pieces))
	}
	return out
}

// TestAuditLeaves makes up proofs: random boxes, random values. Audit's result must match the formula,
// and never exceed the optimum.
func TestAuditLeaves(t *testing.T) {
	runs := 2000
	if testing.Short() {
		runs = 300
	}
	useful := 0
	for seed := range uint64(runs) {
		r := rand.New(rand.NewPCG(seed, 3))
		p := tiny(r)
		optimum, ok := slowSolve(p)
		if !ok {
			continue
		}
		plan := clone(t, mustSolve(t, p))
		pr := optimize.Unseal(plan.Proof)
		pr.Unit = max(1, pr.Unit)
		classes := slowClasses(p, plan.ByLength)
		root := optimize.Leaf{Values: make([]int64, len(p.Pieces)), Scale: int64(r.IntN(40))}
		for _, c := range classes {
			root.Lo, root.Hi = append(root.Lo, 0), append(root.Hi, c.limit)
		}
		if len(pr.Leaves) == 1 && pr.Kind != optimize.ProofPacking && r.IntN(2) == 0 {
			root = pr.Leaves[0] // the solver's values, on other boxes
		}
		leaves := []optimize.Leaf{root}
		leaves = cutBoxes(r, leaves, r.IntN(6))
		for k := range leaves {
			if r.IntN(3) == 0 {
				continue
			}
			leaves[k].Values = slices.Clone(leaves[k].Values)
			for i := range leaves[k].Values {
				leaves[k].Values[i] = int64(r.IntN(1 << r.IntN(12)))
			}
			leaves[k].Scale = int64(r.IntN(1 << r.IntN(6)))
		}
		want := big.NewInt(plan.Cost)
		for _, l := range leaves {
			if b := slowLeaf(p, classes, l, pr.Unit); b != nil && b.Cmp(want) < 0 {
				want = b
			}
		}
		pr.Kind, pr.Leaves, pr.LeafBound, pr.Beyond = optimize.ProofSearch, leaves, -1, nil
		seal(t, plan, pr)
		a, err := optimize.Audit(context.Background(), p, plan)
		if err != nil {
			t.Fatalf("seed %d: %v\n%#v\n%+v", seed, err, p, pr)
		}
		shown, _ := a.Bound()
		if shown != want.Int64() || shown > optimum.cost {
			t.Fatalf("seed %d: audited %d, want %v, optimum %d\n%#v\n%+v", seed, shown, want, optimum.cost, p, pr)
		}
		if shown > 0 {
			useful++
		}
		// Without one of the boxes the others do not contain every plan.
		k := r.IntN(len(leaves))
		pr.Leaves = slices.Delete(leaves, k, k+1)
		seal(t, plan, pr)
		a, err = optimize.Audit(context.Background(), p, plan)
		if len(pr.Leaves) > 0 {
			var ce *optimize.CheckError
			if !errors.As(err, &ce) || ce.Field != "proof.leaves" {
				t.Fatalf("seed %d: a box is missing, error %v", seed, err)
			}
		} else if shown, _ := a.Bound(); err != nil || shown != 0 {
			t.Fatalf("seed %d: no boxes: audited %d, error %v", seed, shown, err)
		}
	}
	if useful < runs/10 {
		t.Errorf("only %d of %d proofs show anything", useful, runs)
	}
}

// cutBoxes cuts boxes in two, at most the given number of times.
func cutBoxes(r *rand.Rand, leaves []optimize.Leaf, times int) []optimize.Leaf {
	for range times {
		k := r.IntN(len(leaves))
		l := leaves[k]
		c := r.IntN(len(l.Lo))
		if l.Lo[c] == l.Hi[c] {
			continue
		}
		m := l
		m.Lo, l.Hi = slices.Clone(l.Lo), slices.Clone(l.Hi)
		m.Lo[c] += 1 + r.Int64N(l.Hi[c]-l.Lo[c])
		l.Hi[c] = m.Lo[c] - 1
		leaves[k] = l
		leaves = append(leaves, m)
	}
	return leaves
}

// TestAuditGivesUp allows fewer and fewer steps: claims that they do not suffice to verify are
// rejected, or reported as open if the proof says that it comes from a search.
func TestAuditGivesUp(t *testing.T) {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 1376, Price: 5}, {Length: 1900, Price: 7}},
		Pieces: list(t, 1, "200x5, 198x73, 144x14, 140x4, 124x23, 123x5, 111x29, 100x87, 98x9, 96x31, 82x6, 81x14, 80x43, 70x15, 68x21, 62x5"),
	}
	plan := mustSolve(t, p)
	full, err := optimize.Audit(context.Background(), p, plan)
	if err != nil || !complete(full, plan) || full.Open() != nil {
		t.Fatalf("audited %+v, error %v, want all of %d", full, err, plan.Bound)
	}
	searched := clone(t, plan)
	forge(t, searched, func(pr *optimize.OpenProof) { pr.Kind, pr.LeafBound = optimize.ProofSearch, 0 })
	refused, last := 0, plan.Bound
	for steps := int64(1 << 20); steps >= 0; steps = steps/2 - 1 {
		a, err := optimize.AuditWithin(p, searched, steps)
		if err != nil {
			t.Fatalf("%d steps: %v", steps, err)
		}
		shown, whole := a.Bound()
		if whole != (shown == plan.Bound) || whole == (len(a.Open()) > 0) || shown > last {
			t.Errorf("%d steps: %+v", steps, a)
		}
		last = shown
		all, err := optimize.AuditWithin(p, plan, steps)
		var ce *optimize.CheckError
		switch {
		case err == nil && (!complete(all, plan) || all.Open() != nil):
			t.Errorf("%d steps: %+v", steps, all)
		case err != nil && (!errors.As(err, &ce) || ce.Field != "proof.leaf_bound"):
			t.Errorf("%d steps: %v", steps, err)
		case err != nil:
			refused++
		}
	}
	if refused == 0 {
		t.Error("the proof is too short for this test")
	}
}

// complete reports whether all of a plan's bound was verified.
func complete(a *optimize.Report, plan *optimize.Plan) bool {
	shown, complete := a.Bound()
	return complete && shown == plan.Bound
}

// seal gives a plan a proof.
func seal(t testing.TB, plan *optimize.Plan, pr *optimize.OpenProof) {
	t.Helper()
	var err error
	if plan.Proof, err = pr.Sealed(); err != nil {
		t.Fatal(err)
	}
}

// TestFill compares the checker's knapsack with enumeration.
func TestFill(t *testing.T) {
	loose := 0
	for seed := range uint64(4000) {
		r := rand.New(rand.NewPCG(seed, 4))
		n := 1 + r.IntN(6)
		size, value, count := make([]int64, n), make([]int64, n), make([]int64, n)
		for i := range n {
			size[i], value[i], count[i] = 1+r.Int64N(20), r.Int64N(30), 1+r.Int64N(4)
		}
		room := 1 + r.Int64N(60)
		var want int64
		var try func(i int, room, v int64)
		try = func(i int, room, v int64) {
			want = max(want, v)
			for k := int64(0); i < n && k <= count[i] && k*size[i] <= room; k++ {
				try(i+1, room-k*size[i], v+k*value[i])
			}
		}
		try(0, room, 0)
		if got, exact := optimize.Fill(size, value, count, room, 0, 1<<30); got != want || !exact {
			t.Fatalf("seed %d: got %d %v, want %d", seed, got, exact, want)
		}
		from := r.Int64N(want + 10)
		if got, exact := optimize.Fill(size, value, count, room, from, 1<<30); got != max(from, want) || !exact {
			t.Fatalf("seed %d: from %d: got %d %v, want %d", seed, from, got, exact, max(from, want))
		}
		steps := r.Int64N(20)
		got, exact := optimize.Fill(size, value, count, room, from, steps)
		if got < max(from, want) || exact && got != max(from, want) {
			t.Fatalf("seed %d: from %d in %d steps: got %d %v, want at least %d", seed, from, steps, got, exact, max(from, want))
		}
		if !exact {
			loose++
		}
	}
	if loose == 0 {
		t.Error("the steps never ran out")
	}
	if got, exact := optimize.Fill([]int64{1}, []int64{math.MaxInt64}, []int64{math.MaxInt64}, math.MaxInt64, 0, 100); exact || got != math.MaxInt64 {
		t.Errorf("values out of range: %d %v", got, exact)
	}
}

// TestSelfCheck gives Solve a solver with wrong results. Solve must return an error, not a wrong plan.
func TestSelfCheck(t *testing.T) {
	p := sound()
	for name, f := range wrongEngines {
		plan, err := optimize.SolveWith(context.Background(), p, nil, f)
		var ie *optimize.InternalError
		if plan != nil || !errors.As(err, &ie) {
			t.Errorf("%s: plan %v, error %v, want an InternalError", name, plan, err)
		}
	}
}

// The work on a proof after the context has ended is bounded, whatever remains.
func TestChecksInAHurry(t *testing.T) {
	const all = 10 * optimize.LastSteps
	for _, tt := range []struct {
		name  string
		steps int64
		looks int
		want  int64
	}{
		{"ended before", all, 1, optimize.LastSteps},
		{"ended at the third look", all, 3, 2*optimize.AskEvery + optimize.LastSteps},
		{"with less left", optimize.LastSteps / 2, 1, optimize.LastSteps / 2},
		{"never", all, all, all},
	} {
		if got := optimize.Spent(tt.steps, tt.looks); got < tt.want-1 || got > tt.want+1 {
			t.Errorf("%s: %d steps, want %d", tt.name, got, tt.want)
		}
	}
}
