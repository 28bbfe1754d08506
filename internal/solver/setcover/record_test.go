package setcover_test

import (
	"errors"
	"fmt"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/certificate"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/solvertest"
)

// statement is the claim of a recorded tree: no plan of the patterns within the box costs less than
// cutoff.
type statement struct {
	p      *model.Problem
	box    bound.Box
	pats   []model.Pattern
	cutoff int64
}

// visit is a node on the path down a tree, with the conditions there.
type visit struct {
	lo, hi []int64 // of each bin
	rows   []counted
	left   []bool // which patterns a cheaper plan may still use
}

// counted is a row on the path: at most, or at least, a number of its patterns are used.
type counted struct {
	row  certificate.Row
	at   int64
	more bool
}

func (s *statement) root() visit {
	return visit{lo: s.box.Lo, hi: s.box.Hi, left: slices.Repeat([]bool{true}, len(s.pats))}
}

// child returns the visit of a child of a branching node.
func (v *visit) child(n *certificate.Node, more bool) visit {
	c := visit{slices.Clone(v.lo), slices.Clone(v.hi), slices.Clone(v.rows), v.left}
	switch b := n.Row.Class; {
	case !n.Row.Range() && more:
		c.rows = append(c.rows, counted{n.Row, n.At + 1, true})
	case !n.Row.Range():
		c.rows = append(c.rows, counted{n.Row, n.At, false})
	case more:
		c.lo[b] = max(c.lo[b], n.At+1)
	default:
		c.hi[b] = min(c.hi[b], n.At)
	}
	return c
}

// held returns how many of an item a pattern holds.
func held(pat *model.Pattern, item int) (n int64) {
	for _, u := range pat.Uses {
		if u.Item == item {
			n += u.N
		}
	}
	return n
}

// counts reports whether a pattern counts in a row.
func counts(row *certificate.Row, pat *model.Pattern) bool {
	if row.Class >= 0 && pat.Bin != row.Class {
		return false
	}
	return !slices.ContainsFunc(row.Holds, func(h certificate.Hold) bool { return held(pat, h.Item) < h.N })
}

// weigh returns the bound of a vector, times its scale, and the reduced costs of the patterns.
func (s *statement) weigh(v *visit, x *certificate.Vector) (num *big.Int, reduced []*big.Int, err error) {
	if len(x.Items) != len(s.p.Items) || len(x.Classes) != len(s.p.Bins) || len(x.Rows) != len(v.rows) {
		return nil, nil, errors.New("a vector of another form")
	}
	if x.Scale < 0 || slices.ContainsFunc(x.Items, func(u int64) bool { return u < 0 }) {
		return nil, nil, errors.New("a value below zero")
	}
	num = new(big.Int)
	add := func(sum *big.Int, a, b int64) { sum.Add(sum, new(big.Int).Mul(big.NewInt(a), big.NewInt(b))) }
	for i, u := range x.Items {
		add(num, u, s.p.Items[i].Demand)
	}
	for b, z := range x.Classes {
		if z > 0 {
			add(num, z, v.lo[b])
		} else {
			add(num, z, v.hi[b])
		}
	}
	for k, y := range x.Rows {
		if y > 0 && !v.rows[k].more || y < 0 && v.rows[k].more {
			return nil, nil, errors.New("a row of the wrong sign")
		}
		add(num, y, v.rows[k].at)
	}
	for _, c := range x.Cuts {
		if c.By < 0 {
			return nil, nil, errors.New("a cut below zero")
		}
		wanted := int64(0)
		for _, i := range c.Items {
			wanted += s.p.Items[i].Demand
		}
		add(num, c.By, (wanted+1)/2)
	}
	for j := range s.pats {
		pat := &s.pats[j]
		rc := new(big.Int)
		add(rc, x.Scale, s.p.Bins[pat.Bin].Cost)
		add(rc, -1, x.Classes[pat.Bin])
		for i, u := range x.Items {
			add(rc, -u, held(pat, i))
		}
		for k, y := range x.Rows {
			if counts(&v.rows[k].row, pat) {
				add(rc, -1, y)
			}
		}
		for _, c := range x.Cuts {
			holds := int64(0)
			for _, i := range c.Items {
				holds += held(pat, i)
			}
			add(rc, -c.By, (holds+1)/2)
		}
		reduced = append(reduced, rc)
		if v.left[j] && rc.Sign() < 0 {
			most := int64(0) // more of it than this yields nothing that is wanted
			for _, u := range pat.Uses {
				most = max(most, (s.p.Items[u.Item].Demand+u.N-1)/u.N)
			}
			num.Add(num, new(big.Int).Mul(rc, big.NewInt(min(most, v.hi[pat.Bin]))))
		}
	}
	return num, reduced, nil
}

// gap returns by how much a reduced cost may exceed zero, times the scale, in a plan below the cutoff.
func (s *statement) gap(x *certificate.Vector, num *big.Int) *big.Int {
	most := new(big.Int).Mul(big.NewInt(x.Scale), big.NewInt(s.cutoff-1))
	return most.Sub(most, num)
}

// without returns the visit after the patterns whose reduced cost exceeds the gap are removed.
func (v visit) without(reduced []*big.Int, gap *big.Int) visit {
	v.left = slices.Clone(v.left)
	for j, rc := range reduced {
		v.left[j] = v.left[j] && rc.Cmp(gap) <= 0
	}
	return v
}

// shown returns an error unless the tree proves the statement: each branching node has both cases, and
// each leaf is closed by a bound that is computed here in exact arithmetic.
func (s *statement) shown(n *certificate.Node, v visit) error {
	if n == nil {
		return errors.New("a case is missing")
	}
	if n.Vector == nil {
		if n.At < 0 {
			return errors.New("a row below zero")
		}
		return errors.Join(s.shown(n.Less, v.child(n, false)), s.shown(n.More, v.child(n, true)))
	}
	num, reduced, err := s.weigh(&v, n.Vector)
	if err != nil {
		return err
	}
	gap := s.gap(n.Vector, num)
	switch {
	case n.Then == nil && gap.Sign() >= 0:
		return fmt.Errorf("an open leaf: %v over %d", num, n.Vector.Scale)
	case n.Then == nil:
		return nil
	case n.Vector.Scale < 1:
		return errors.New("patterns taken out by a ray")
	}
	return s.shown(n.Then, v.without(reduced, gap))
}

// chosen is a plan as counts of the patterns.
type chosen []int64

// every calls yield with plans that meet the demand, and their costs; each stick yields something that
// is still needed, in the order of the list. The cheapest plan is among them.
func (s *statement) every(yield func(plan chosen, cost int64)) {
	left, used := s.p.Demands(), make([]int64, len(s.p.Bins))
	plan := make(chosen, len(s.pats))
	var rec func(j int, cost int64)
	rec = func(j int, cost int64) {
		if slices.Max(left) <= 0 {
			for b, n := range used {
				if n < s.box.Lo[b] {
					return
				}
			}
			yield(plan, cost)
			return
		}
		if j == len(s.pats) {
			return
		}
		rec(j+1, cost)
		pat := &s.pats[j]
		useful := slices.ContainsFunc(pat.Uses, func(u model.Use) bool { return left[u.Item] > 0 })
		if !useful || used[pat.Bin] == s.box.Hi[pat.Bin] {
			return
		}
		take := func(n int64) {
			plan[j] += n
			used[pat.Bin] += n
			for _, u := range pat.Uses {
				left[u.Item] -= n * u.N
			}
		}
		take(1)
		rec(j, cost+s.p.Bins[pat.Bin].Cost)
		take(-1)
	}
	rec(0, 0)
}

// lands returns an error unless a plan reaches a leaf whose bound is at most its cost, or a node that
// removes one of its patterns, which only plans not below the cutoff may.
func (s *statement) lands(n *certificate.Node, plan chosen, cost int64) error {
	v := s.root()
	for {
		if n.Vector == nil {
			total := int64(0)
			for j, times := range plan {
				if counts(&n.Row, &s.pats[j]) {
					total += times
				}
			}
			more := total > n.At
			v = v.child(n, more)
			if more {
				n = n.More
			} else {
				n = n.Less
			}
			continue
		}
		num, reduced, err := s.weigh(&v, n.Vector)
		if err != nil {
			return err
		}
		if n.Then == nil {
			if costs := new(big.Int).Mul(big.NewInt(n.Vector.Scale), big.NewInt(cost)); num.Cmp(costs) > 0 {
				return fmt.Errorf("a plan of %d in a leaf of %v over %d", cost, num, n.Vector.Scale)
			}
			return nil
		}
		v, n = v.without(reduced, s.gap(n.Vector, num)), n.Then
		for j, times := range plan {
			if times > 0 && !v.left[j] {
				if cost < s.cutoff {
					return fmt.Errorf("a plan of %d lost a pattern", cost)
				}
				return nil
			}
		}
	}
}

// recording is a tree with its claim and the least cost.
type recording struct {
	statement
	tree  *certificate.Node
	least int64
	some  bool // there is a plan
}

// recorded searches the patterns of a tiny problem and records the tree. The list is like the solver's
// own: of patterns to which nothing can be added.
func recorded(t *testing.T, r *rand.Rand) (x recording) {
	t.Helper()
	p := shape(7).Draw(r)
	x.statement = statement{p: p, box: bound.Full(p), pats: patterns(p, true), cutoff: noCutoff}
	if x.least, x.some = solvertest.Least(p, x.box); x.some {
		// Without a plan to beat; with the best; with one more that is found on the way.
		x.cutoff = []int64{noCutoff, x.least, x.least + 1}[r.IntN(3)]
	}
	r.Shuffle(len(x.pats), func(i, j int) { x.pats[i], x.pats[j] = x.pats[j], x.pats[i] })
	plan, tree, complete := record(p, x.box, x.pats, x.cutoff, r.IntN(2) == 0, true, new(meter.Meter))
	if !complete || (plan != nil) != (x.some && x.cutoff > x.least) {
		t.Fatalf("complete %t, plan %+v, cutoff %d, the cheapest costs %d\n%+v", complete, plan, x.cutoff, x.least, *p)
	}
	if plan != nil {
		x.cutoff = model.Cost(p, plan)
	}
	if x.tree = tree; tree == nil {
		t.Fatalf("nothing is recorded\n%+v", *p)
	}
	return x
}

// nodes lists the nodes of a tree.
func nodes(n *certificate.Node) (all []*certificate.Node) {
	if n == nil {
		return nil
	}
	all = append(all, n)
	for _, m := range []*certificate.Node{n.Then, n.Less, n.More} {
		all = append(all, nodes(m)...)
	}
	return all
}

// The tree that a search returns proves the result of the search, by independent arithmetic.
func TestRecordedTreesShow(t *testing.T) {
	r := rand.New(rand.NewPCG(52, 1))
	branched, fixed, cuts, rays, rows := 0, 0, 0, 0, 0
	for k := range 3000 {
		x := recorded(t, r)
		if err := x.shown(x.tree, x.root()); err != nil {
			t.Fatalf("problem %d: no plan below %d found: %v\n%+v", k, x.cutoff, err, *x.p)
		}
		for _, n := range nodes(x.tree) {
			switch {
			case n.Vector == nil && !n.Row.Range():
				rows++
			case n.Vector == nil:
				branched++
			case n.Then != nil:
				fixed++
			case n.Vector.Scale == 0:
				rays++
			}
			if n.Vector != nil && len(n.Vector.Cuts) > 0 {
				cuts++
			}
		}
	}
	t.Logf("%d nodes branch on a count and %d on a row, %d exclude patterns, %d are closed by a ray, %d have cuts", branched, rows, fixed, rays, cuts)
	if min(branched, rows, fixed, rays, cuts) < 200 {
		t.Error("too few of one")
	}
}

// Every plan reaches a leaf whose bound it does not beat: the trees omit no case, and the arithmetic
// here claims no more than is true.
func TestEveryPlanLands(t *testing.T) {
	r := rand.New(rand.NewPCG(52, 2))
	plans := 0
	for k := range 400 {
		x := recorded(t, r)
		least, many := int64(noCutoff), 0
		x.every(func(plan chosen, cost int64) {
			least = min(least, cost)
			if many++; many > 2000 && cost > least {
				return
			}
			plans++
			if err := x.lands(x.tree, plan, cost); err != nil {
				t.Fatalf("problem %d: %v: %v\n%+v", k, plan, err, *x.p)
			}
		})
		if x.some && least != x.least {
			t.Fatalf("problem %d: the cheapest plan costs %d, by another method %d\n%+v", k, least, x.least, *x.p)
		}
	}
	if plans < 5000 {
		t.Errorf("%d plans: too few", plans)
	}
}

// spoil changes something in a tree and describes it; it returns false if the tree has no such thing.
type spoil struct {
	name   string
	always bool // no tree shows anything after that
	do     func(r *rand.Rand, n *certificate.Node, x *recording) bool
}

func leaf(n *certificate.Node) bool { return n.Vector != nil && n.Then == nil }

// some returns the index of one of the nonzero numbers, -1 if there are none.
func some(r *rand.Rand, v []int64) int {
	for _, k := range r.Perm(len(v)) {
		if v[k] != 0 {
			return k
		}
	}
	return -1
}

var spoils = []spoil{
	{"a case is missing", true, func(r *rand.Rand, n *certificate.Node, _ *recording) bool {
		if n.Vector != nil {
			return false
		}
		if r.IntN(2) == 0 {
			n.Less = nil
		} else {
			n.More = nil
		}
		return true
	}},
	{"a leaf that shows nothing", true, func(_ *rand.Rand, n *certificate.Node, x *recording) bool {
		if !leaf(n) || x.cutoff < 1 {
			return false
		}
		v := *n.Vector
		v.Scale, v.Cuts = 1, nil
		v.Items, v.Classes, v.Rows = make([]int64, len(v.Items)), make([]int64, len(v.Classes)), make([]int64, len(v.Rows))
		n.Vector = &v
		return true
	}},
	{"a leaf without duals", true, func(_ *rand.Rand, n *certificate.Node, _ *recording) bool {
		if !leaf(n) {
			return false
		}
		n.Vector = &certificate.Vector{}
		return true
	}},
	{"a number too few", true, func(_ *rand.Rand, n *certificate.Node, _ *recording) bool {
		if n.Vector == nil {
			return false
		}
		n.Vector.Items = n.Vector.Items[1:]
		return true
	}},
	{"a value below zero", true, func(r *rand.Rand, n *certificate.Node, _ *recording) bool {
		if n.Vector == nil {
			return false
		}
		k := some(r, n.Vector.Items)
		if k < 0 {
			return false
		}
		n.Vector.Items[k] *= -1
		return true
	}},
	{"a row of the wrong sign", true, func(r *rand.Rand, n *certificate.Node, _ *recording) bool {
		if n.Vector == nil {
			return false
		}
		k := some(r, n.Vector.Rows)
		if k < 0 {
			return false
		}
		n.Vector.Rows[k] *= -1
		return true
	}},
	{"a cut of the wrong sign", true, func(_ *rand.Rand, n *certificate.Node, _ *recording) bool {
		if n.Vector == nil || len(n.Vector.Cuts) == 0 {
			return false
		}
		n.Vector.Cuts[0].By *= -1
		return true
	}},
	{"a value doubled", false, func(r *rand.Rand, n *certificate.Node, _ *recording) bool {
		if n.Vector == nil {
			return false
		}
		if k := some(r, n.Vector.Items); k >= 0 {
			n.Vector.Items[k] *= 2
		}
		return true
	}},
	{"all values doubled", false, func(_ *rand.Rand, n *certificate.Node, _ *recording) bool {
		if n.Vector == nil {
			return false
		}
		for i := range n.Vector.Items {
			n.Vector.Items[i] *= 2
		}
		return true
	}},
	{"a stick's value off by some", false, func(r *rand.Rand, n *certificate.Node, _ *recording) bool {
		if n.Vector == nil {
			return false
		}
		n.Vector.Classes[r.IntN(len(n.Vector.Classes))] += r.Int64N(2*n.Vector.Scale+9) - n.Vector.Scale - 4
		return true
	}},
	{"a row doubled", false, func(r *rand.Rand, n *certificate.Node, _ *recording) bool {
		if n.Vector == nil || len(n.Vector.Rows) == 0 {
			return false
		}
		n.Vector.Rows[r.IntN(len(n.Vector.Rows))] *= 2
		return true
	}},
	{"a cut of other items", false, func(r *rand.Rand, n *certificate.Node, x *recording) bool {
		if n.Vector == nil || len(n.Vector.Cuts) == 0 {
			return false
		}
		c := &n.Vector.Cuts[r.IntN(len(n.Vector.Cuts))]
		c.Items = []int{r.IntN(len(x.p.Items))}
		c.By *= 2
		return true
	}},
	{"a smaller scale", false, func(_ *rand.Rand, n *certificate.Node, _ *recording) bool {
		if n.Vector == nil {
			return false
		}
		n.Vector.Scale /= 2
		return true
	}},
	{"the two cases swapped", false, func(_ *rand.Rand, n *certificate.Node, _ *recording) bool {
		n.Less, n.More = n.More, n.Less
		return n.Vector == nil
	}},
	{"another number to branch at", false, func(r *rand.Rand, n *certificate.Node, _ *recording) bool {
		n.At += 1 - 2*r.Int64N(2)
		return n.Vector == nil
	}},
	{"another row to branch on", false, func(r *rand.Rand, n *certificate.Node, x *recording) bool {
		n.Row.Class = r.IntN(len(x.p.Bins))
		return n.Vector == nil
	}},
}

// copied returns a tree that shares nothing with the given one.
func copied(n *certificate.Node) *certificate.Node {
	if n == nil {
		return nil
	}
	m := *n
	m.Row.Holds = slices.Clone(n.Row.Holds)
	if n.Vector != nil {
		v := *n.Vector
		v.Items, v.Classes, v.Rows, v.Cuts = slices.Clone(v.Items), slices.Clone(v.Classes), slices.Clone(v.Rows), slices.Clone(v.Cuts)
		m.Vector = &v
	}
	m.Then, m.Less, m.More = copied(n.Then), copied(n.Less), copied(n.More)
	return &m
}

// A tree with an essential part spoiled proves nothing, and no tree, spoiled or not, proves a bound
// above the cost of a plan.
func TestSpoiledRecords(t *testing.T) {
	r := rand.New(rand.NewPCG(52, 3))
	tried, refused, falsehoods := make([]int, len(spoils)), make([]int, len(spoils)), 0
	for k := range 2500 {
		x := recorded(t, r)
		deny := func(tree *certificate.Node, what string) {
			if !x.some {
				return
			}
			for _, above := range []int64{1, 2, 1 + x.least} {
				lie := x.statement
				lie.cutoff = x.least + above
				if lie.shown(tree, lie.root()) == nil {
					t.Fatalf("problem %d, %s: accepted a proof that no plan costs less than %d, but one costs %d\n%+v", k, what, lie.cutoff, x.least, *x.p)
				}
				falsehoods++
			}
		}
		deny(x.tree, "nothing spoiled")
		for i, s := range spoils {
			tree := copied(x.tree)
			all := nodes(tree)
			done := false
			for _, m := range r.Perm(len(all)) {
				if done = s.do(r, all[m], &x); done {
					break
				}
			}
			if !done {
				continue
			}
			tried[i]++
			err := x.shown(tree, x.root())
			if err != nil {
				refused[i]++
			} else if s.always {
				t.Fatalf("problem %d, %s: still accepted\n%+v", k, s.name, *x.p)
			}
			deny(tree, s.name)
		}
	}
	for i, s := range spoils {
		t.Logf("%s: %d, %d refused", s.name, tried[i], refused[i])
		if tried[i] < 100 || refused[i] < 5 {
			t.Errorf("%s: %d, %d rejected: too few", s.name, tried[i], refused[i])
		}
	}
	if falsehoods < 20_000 {
		t.Errorf("%d false statements: too few", falsehoods)
	}
}
