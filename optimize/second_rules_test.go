package optimize_test

import (
	"context"
	"encoding/json"
	"fmt"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// secondRules is a second checker of leaves of problems with rules, written from the documentation of
// Proof. It does not know runs, defects, spares, charges, yard cuts and sums of costs.
type secondRules struct {
	p     *optimize.Problem
	class [][]int    // sticks of each class
	lots  []string   // in the order of the sticks
	from  []int      // per piece: where its values for lots begin, 0 none
	count int        // of values
	cut   [][]secCut // per class: its patterns, each set and turn of pieces once
}

// secCut has the yield of a pattern, and the longest offcut of any order of it.
type secCut struct {
	pieces []int
	offcut measure.Length
}

func newSecondRules(p *optimize.Problem) *secondRules {
	s := &secondRules{p: p, count: len(p.Pieces), from: make([]int, len(p.Pieces))}
	for i := range p.Sticks {
		st := p.Sticks[i]
		if st.Limit == stock.SoldOut {
			continue
		}
		if !slices.Contains(s.lots, st.Lot) {
			s.lots = append(s.lots, st.Lot)
		}
		own := func(st *stock.Stick) bool { return st.Bundle > 1 || st.Minimum > 1 || len(st.Breaks) > 0 }
		k := slices.IndexFunc(s.class, func(of []int) bool {
			a, b := p.Sticks[of[0]], st
			if own(&a) || own(&b) {
				return false
			}
			alike := func(s *stock.Stick) string {
				return fmt.Sprint(int64(s.Length), int64(s.TrimStart), int64(s.TrimEnd), s.Price, s.Supplier, "/", s.Lot, s.Grade, s.Rack)
			}
			return alike(&a) == alike(&b)
		})
		if k < 0 {
			k = len(s.class)
			s.class = append(s.class, nil)
		}
		s.class[k] = append(s.class[k], i)
	}
	for _, g := range p.Rules.Groups {
		if g.Kind == optimize.GroupOneLot && !g.Started {
			for _, i := range g.Pieces {
				s.from[i] = s.count
				s.count += len(s.lots)
			}
		}
	}
	for _, of := range s.class {
		at, cut := map[string]int{}, []secCut(nil)
		everyPattern(p, of[0], func(pat *optimize.Pattern) {
			if slices.ContainsFunc(pat.Pieces, func(i int) bool { return !fromLot(p, i, p.Sticks[of[0]].Lot) }) {
				return
			}
			var key []string
			for j, i := range pat.Pieces {
				key = append(key, fmt.Sprint(i, pat.Turned[j]))
			}
			slices.Sort(key)
			name := fmt.Sprint(key)
			k, known := at[name]
			if !known {
				k = len(cut)
				at[name] = k
				cut = append(cut, secCut{slices.Clone(pat.Pieces), -1})
			}
			cut[k].offcut = max(cut[k].offcut, pat.Offcut)
		})
		s.cut = append(s.cut, cut)
	}
	return s
}

// limit returns how often a class is used at most.
func (s *secondRules) limit(c int) int64 {
	useful, n := int64(0), int64(0)
	for i := range s.p.Pieces {
		useful += int64(max(1, s.p.Pieces[i].Quantity))
	}
	for _, i := range s.class[c] {
		if st := &s.p.Sticks[i]; st.Limit == 0 {
			n += useful
		} else {
			n += int64(st.Limit)
			if b := int64(max(1, st.Bundle)); b > 1 || st.Minimum > 1 {
				if n -= n % b; n < int64(st.Minimum) {
					n = 0
				}
			}
		}
	}
	return min(n, useful)
}

// bill returns the least cost of n sticks of a class, nil if they are not available.
func (s *secondRules) bill(c int, n int64) *big.Int {
	if n == 0 {
		return new(big.Int)
	}
	st := &s.p.Sticks[s.class[c][0]]
	byLength := s.byLength()
	var least *big.Int
	top := n + int64(max(1, st.Bundle)*max(1, st.Minimum)) + 64
	for y := n; y <= top; y++ {
		if y < int64(st.Minimum) || st.Bundle > 1 && y%int64(st.Bundle) != 0 {
			continue
		}
		if own := st.Bundle > 1 || st.Minimum > 1 || len(st.Breaks) > 0; own && st.Limit > 0 && y > int64(st.Limit) {
			continue
		}
		price := st.Price
		for _, b := range st.Breaks {
			if y >= int64(b.From) {
				price = b.Price
			}
		}
		if byLength {
			price = int64(st.Length)
		}
		if v := new(big.Int).Mul(big.NewInt(y), big.NewInt(price)); least == nil || v.Cmp(least) < 0 {
			least = v
		}
	}
	return least
}

func (s *secondRules) byLength() bool {
	for i := range s.p.Sticks {
		if st := &s.p.Sticks[i]; st.Price > 0 || slices.ContainsFunc(st.Breaks, func(b stock.PriceBreak) bool { return b.Price > 0 }) {
			return false
		}
	}
	return true
}

func (s *secondRules) worth(l measure.Length) (v int64) {
	for _, w := range s.p.Rules.OffcutValues {
		if l >= w.Length {
			v = w.Value
		}
	}
	return v
}

// sum returns, over the box, the least numerator for the cost or, for a later goal, the number that is
// positive if the leaf proves its bound.
func (s *secondRules) sum(l *secondLeaf, unit *big.Int, goals []optimize.GoalResult) *big.Int {
	p, sum := s.p, new(big.Int)
	add := func(to, a *big.Int, b int64) { to.Add(to, new(big.Int).Mul(a, big.NewInt(b))) }
	for i := range p.Pieces {
		add(sum, l.values[i], int64(max(1, p.Pieces[i].Quantity)))
	}
	if len(l.values) >= s.count {
		for _, g := range p.Rules.Groups {
			if g.Kind != optimize.GroupOneLot || g.Started {
				continue
			}
			var least *big.Int
			for n := range s.lots {
				v := new(big.Int)
				for _, i := range g.Pieces {
					add(v, l.values[s.from[i]+n], int64(max(1, p.Pieces[i].Quantity)))
				}
				if least == nil || v.Cmp(least) < 0 {
					least = v
				}
			}
			sum.Add(sum, least)
		}
	}
	weight := map[optimize.Goal]*big.Int{optimize.GoalCost: l.scale}
	for k := range goals {
		g, w := &goals[k], l.scale
		last := k == len(goals)-1
		if !last {
			w = l.values[s.count+k]
		}
		weight[g.Goal] = w
		switch {
		case g.Goal == optimize.GoalPatterns:
		case g.Goal == optimize.GoalLongestOffcut:
			add(sum, w, 1)
		case g.Goal == optimize.GoalCost:
			add(sum, w, -new(big.Int).Div(big.NewInt(g.Value), unit).Int64())
		case g.Goal == optimize.GoalOffcutValue && last:
			add(sum, w, g.Bound+1)
		case g.Goal == optimize.GoalOffcutValue:
			add(sum, w, g.Value)
		case last:
			add(sum, w, -(g.Bound - 1))
		default:
			add(sum, w, -g.Value)
		}
	}
	for c := range s.class {
		st := &p.Sticks[s.class[c][0]]
		lot := slices.Index(s.lots, st.Lot)
		var most *big.Int // K
		for _, q := range s.cut[c] {
			v := new(big.Int)
			for _, i := range q.pieces {
				v.Add(v, l.values[i])
				if s.from[i] > 0 && len(l.values) >= s.count {
					v.Add(v, l.values[s.from[i]+lot])
				}
			}
			if len(goals) > 0 {
				cuts := int64(len(q.pieces) - 1)
				if q.offcut > 0 {
					cuts++
				}
				worth := s.worth(q.offcut)
				if st.Rack {
					worth -= s.worth(st.Length)
				}
				for g, by := range map[optimize.Goal]int64{optimize.GoalSticks: -1, optimize.GoalCuts: -cuts, optimize.GoalOffcutValue: worth} {
					if w := weight[g]; w != nil {
						add(v, w, by)
					}
				}
				for k := range goals {
					long := goals[k].Value
					if k == len(goals)-1 {
						long = goals[k].Bound + 1
					}
					if goals[k].Goal == optimize.GoalLongestOffcut && int64(q.offcut) >= long {
						v.Add(v, weight[optimize.GoalLongestOffcut])
					}
				}
			}
			if most == nil || v.Cmp(most) > 0 {
				most = v
			}
		}
		if most == nil {
			most = new(big.Int) // no pattern
		}
		var least *big.Int
		for n := l.lo[c].Int64(); n <= l.hi[c].Int64(); n++ {
			cost := s.bill(c, n)
			if cost == nil {
				continue
			}
			v := new(big.Int).Mul(new(big.Int).Div(cost, unit), weight[optimize.GoalCost])
			if add(v, most, -n); least == nil || v.Cmp(least) < 0 {
				least = v
			}
		}
		if least != nil {
			sum.Add(sum, least)
		}
	}
	return sum
}

// TestSecondCheckerWithRules compares Check with the documentation of leaves: the second checker
// accepts what Check accepts, and in these problems Check verifies as much.
func TestSecondCheckerWithRules(t *testing.T) {
	which := featuresNamed("grades", "most", "hold", "nest", "in sequence", "one stick", "one lot", "bundle", "minimum", "breaks", "poor stick", "worth", "goals")
	runs := 700
	if testing.Short() {
		runs = 150
	}
	costs, bounds, refused := 0, 0, 0
	for seed := range uint64(runs) {
		r := rand.New(rand.NewPCG(seed, 33))
		p := bothAdded(which[r.IntN(len(which))], which[r.IntN(len(which))], seed)
		few(&p)
		if r.IntN(2) == 0 {
			p.Rules.Goals = laterGoals(&p, seed)
		}
		if p.Validate() != nil || optimize.Plain(&p) {
			continue
		}
		plan := solveOrNil(p)
		if plan == nil {
			continue
		}
		s := newSecondRules(&p)
		look := func(proof optimize.Proof, goals []optimize.GoalResult) {
			pr := optimize.Unseal(proof)
			if len(pr.Leaves) == 0 || slices.ContainsFunc(pr.Leaves, func(l optimize.Leaf) bool { return l.Spare > 0 }) {
				return
			}
			for try := range 4 {
				for j := range pr.Leaves {
					l := copied(&pr.Leaves[j])
					l.Sums = false
					for i := range l.Values {
						if try > 0 && r.IntN(3) == 0 {
							l.Values[i] = r.Int64N(2*l.Values[i] + 2)
						}
					}
					pr.Leaves[j] = l
				}
				sealed, err := pr.Sealed()
				if err != nil {
					t.Fatal(err)
				}
				text, err := json.Marshal(sealed)
				if err != nil {
					t.Fatal(err)
				}
				second, err := readSecond(text)
				if err != nil {
					t.Fatal(err)
				}
				if goals != nil {
					bounds++
				} else {
					costs++
				}
				if !s.agrees(t, &p, plan, second, pr, goals) {
					refused++
				}
				if t.Failed() {
					t.Fatalf("seed %d, try %d, %v\n%s", seed, try, goals, written(&p))
				}
			}
		}
		if k := plan.Proof.Kind(); k == optimize.ProofDual || k == optimize.ProofTree || k == optimize.ProofSearch {
			look(plan.Proof, nil)
		}
		for k := range plan.Goals {
			if k > 0 && plan.Goals[k].Proof.Kind() != optimize.ProofNone {
				look(plan.Goals[k].Proof, plan.Goals[:k+1])
			}
		}
	}
	if costs < runs/2 || bounds < runs/4 || refused < runs/8 {
		t.Errorf("%d and %d proofs, %d rejected: too few", costs, bounds, refused)
	}
}

// agrees compares the results of the second checker and Check for leaves, and reports whether they
// accept them.
func (s *secondRules) agrees(t *testing.T, p *optimize.Problem, plan *optimize.Plan, second *secondProof, pr *optimize.OpenProof, goals []optimize.GoalResult) bool {
	t.Helper()
	if second.classes != len(s.class) {
		t.Fatalf("%d classes, not %d", second.classes, len(s.class))
	}
	for k := range second.leaves {
		for c, hi := range second.leaves[k].hi {
			if hi.Int64() > s.limit(c) {
				t.Fatalf("class %d is used %v times, at most %d", c, hi, s.limit(c))
			}
		}
	}
	if goals != nil {
		all := true
		for k := range second.leaves {
			all = all && s.sum(&second.leaves[k], second.unit, goals).Sign() > 0
		}
		if got := takesGoal(p, plan, len(goals)-1, goals[len(goals)-1].Bound, pr); got != all {
			t.Errorf("Check accepts the bound: %t, the second checker: %t", got, all)
		}
		return all
	}
	var least *big.Int
	for k := range second.leaves {
		l := &second.leaves[k]
		v := s.sum(l, second.unit, nil)
		switch {
		case v.Sign() <= 0:
			v.SetInt64(0)
		case l.scale.Sign() == 0:
			continue
		default:
			v.Add(v, l.scale).Sub(v, big.NewInt(1)).Div(v, l.scale).Mul(v, second.unit)
		}
		if least == nil || v.Cmp(least) < 0 {
			least = v
		}
	}
	if least == nil || !least.IsInt64() || least.Int64() > plan.Cost {
		least = big.NewInt(plan.Cost)
	}
	takes := func(shown int64) bool {
		q := *plan.WithoutProof()
		q.Bound, q.Proven, q.Stop = plan.Cost, true, optimize.StopUnknown
		pr.Kind, pr.LeafBound = optimize.ProofSearch, shown
		if shown == plan.Cost {
			if pr.Kind = optimize.ProofTree; len(pr.Leaves) == 1 {
				pr.Kind = optimize.ProofDual
			}
		}
		var err error
		if q.Proof, err = pr.Sealed(); err != nil {
			t.Fatal(err)
		}
		q.Goals = slices.Clone(plan.Goals)
		sound := true
		for k := range q.Goals {
			if q.Goals[k].Proof = (optimize.Proof{}); k == 0 {
				q.Goals[k].Bound = q.Bound
			}
			sound = sound && q.Goals[k].Bound == q.Goals[k].Value
			q.Goals[k].Proven = sound
		}
		return optimize.Check(context.Background(), *p, &q) == nil
	}
	if !takes(least.Int64()) {
		t.Errorf("Check rejects %v, which the second checker accepts", least)
	}
	if v := least.Int64(); v < plan.Cost && takes(v+1) {
		t.Errorf("Check accepts %d, the second checker %d", v+1, v)
	}
	return least.Int64() == plan.Cost
}
