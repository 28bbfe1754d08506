package optimize_test

import (
	"errors"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// The part of the second checker that is about searches and forced sticks.

type secondMore struct {
	items    int
	forced   [][3]int
	searches []secondSearch
}

type secondSearch struct {
	leaf    int
	cuts    [][]int
	filters []secondVector
	root    *secondNode
}

type secondVector struct {
	scale   *big.Int
	u, z, y []*big.Int
	cuts    []int
	w       []*big.Int
}

type secondNode struct {
	kind  int
	v     secondVector
	class int // -1: any
	item  []int
	least []*big.Int
	k     *big.Int
	below [2]*secondNode
}

func (n *secondNode) ranged() bool { return n.class >= 0 && len(n.item) == 0 }

func (r *secondReader) more(p *secondProof) *secondMore {
	m := &secondMore{items: r.below(p.pieces + 1)}
	if m.items == 0 && r.err == nil {
		r.err = errors.New("no items")
	}
	for range r.many() {
		m.forced = append(m.forced, [3]int{r.below(m.items), r.below(m.items), r.below(m.items+1) - 1})
	}
	at := -1
	for range r.many() {
		at += 1 + r.below(len(p.leaves)-1-at)
		size := r.many()
		end := r.in.Len() - size
		s := secondSearch{leaf: at}
		for range r.many() {
			cut, i := []int{}, -1
			for range r.many() {
				if r.err != nil {
					break
				}
				i += 1 + r.below(m.items-1-i)
				cut = append(cut, i)
			}
			s.cuts = append(s.cuts, cut)
		}
		for range r.many() {
			if r.err != nil {
				break
			}
			s.filters = append(s.filters, secondVector{scale: r.number(), u: r.differences(m.items, new(big.Int))})
		}
		s.root = r.node(p, m, &s, 0)
		if r.err == nil && r.in.Len() != end {
			r.err = errors.New("a search of another size")
		}
		m.searches = append(m.searches, s)
		if r.err != nil {
			break
		}
	}
	return m
}

func (r *secondReader) node(p *secondProof, m *secondMore, s *secondSearch, rows int) *secondNode {
	n := &secondNode{kind: r.below(3)}
	if r.err != nil {
		return n
	}
	if n.kind < 2 {
		n.v = secondVector{scale: r.number(), u: r.differences(m.items, new(big.Int))}
		for range p.classes {
			n.v.z = append(n.v.z, r.number())
		}
		for range rows {
			n.v.y = append(n.v.y, r.number())
		}
		for range r.many() {
			n.v.cuts, n.v.w = append(n.v.cuts, r.below(len(s.cuts))), append(n.v.w, r.number())
		}
		if n.kind == 1 && r.err == nil {
			n.below[0] = r.node(p, m, s, rows)
		}
		return n
	}
	n.class = r.below(p.classes+1) - 1
	for range r.many() {
		n.item, n.least = append(n.item, r.below(m.items)), append(n.least, r.number())
	}
	n.k = r.number()
	if !n.ranged() {
		rows++
	}
	for k := range n.below {
		if r.err == nil {
			n.below[k] = r.node(p, m, s, rows)
		}
	}
	return n
}

// secondWanted is the demand for a piece; a negative one means zero, since zero means one.
func secondWanted(p *optimize.Problem, i int) int64 {
	switch q := p.Pieces[i].Quantity; {
	case q < 0:
		return 0
	default:
		return int64(max(1, q))
	}
}

// secondItems returns the sizes of pieces, kerfs included, and how often each is wanted.
func secondItems(p *optimize.Problem) (size, wanted []int64) {
	for i := range p.Pieces {
		size = append(size, int64(p.Pieces[i].Length+p.Kerf))
	}
	slices.Sort(size)
	size = slices.Compact(size)
	wanted = make([]int64, len(size))
	for i := range p.Pieces {
		k, _ := slices.BinarySearch(size, int64(p.Pieces[i].Length+p.Kerf))
		wanted[k] += secondWanted(p, i)
	}
	return size, wanted
}

// withoutForced returns the rest that forced sticks leave, and their cost. It changes the limit of the
// class in place.
func (pr *secondProof) withoutForced(p *optimize.Problem, classes []secondClass) (*optimize.Problem, *secondProof, *big.Int, error) {
	size, wanted := secondItems(p)
	if pr.more.items != len(size) {
		return nil, nil, nil, errors.New("another number of items")
	}
	if len(pr.more.forced) == 0 {
		return p, pr, new(big.Int), nil
	}
	if len(classes) != 1 || classes[0].cost.Sign() == 0 || pr.leafBound.Sign() <= 0 {
		return nil, nil, nil, errors.New("not one class of sticks at a price")
	}
	sticks := new(big.Int).Sub(pr.leafBound, big.NewInt(1))
	sticks.Div(sticks, classes[0].cost)
	full := classes[0].usable + int64(p.Kerf)
	slack := new(big.Int).Mul(sticks, big.NewInt(full))
	for i, n := range wanted {
		slack.Sub(slack, big.NewInt(n*size[i]))
	}
	if slack.Sign() < 0 || sticks.Cmp(big.NewInt(int64(len(pr.more.forced)))) < 0 {
		return nil, nil, nil, errors.New("no slack at all")
	}
	rest := *p
	rest.Pieces = slices.Clone(p.Pieces)
	for _, f := range pr.more.forced {
		sum := int64(0)
		for _, i := range f {
			if i < 0 {
				continue
			}
			k := slices.IndexFunc(rest.Pieces, func(pc stock.Piece) bool { return int64(pc.Length+p.Kerf) == size[i] && pc.Quantity >= 0 })
			if k < 0 {
				return nil, nil, nil, errors.New("pieces that are not wanted any more")
			}
			if pc := &rest.Pieces[k]; pc.Quantity <= 1 {
				pc.Quantity = -1
			} else {
				pc.Quantity--
			}
			sum += size[i]
			wanted[i]--
		}
		if sum != full {
			return nil, nil, nil, errors.New("pieces that do not fill a stick")
		}
		if f[2] < 0 {
			continue
		}
		// Every sum of the other pieces.
		sums := map[int64]bool{0: true}
		left := full - size[f[0]]
		for i, n := range wanted {
			for range n {
				for v := range cloneKeys(sums) {
					if v+size[i] <= left {
						sums[v+size[i]] = true
					}
				}
			}
		}
		for v := range sums {
			if new(big.Int).Add(big.NewInt(v), slack).Cmp(big.NewInt(left)) >= 0 {
				return nil, nil, nil, errors.New("others fill the stick, too")
			}
		}
	}
	pieces := int64(0)
	for _, n := range wanted {
		pieces += n
	}
	n := int64(len(pr.more.forced))
	classes[0].limit = max(0, min(classes[0].limit-n, pieces))
	cost := new(big.Int).Mul(classes[0].cost, big.NewInt(n))
	left := *pr
	left.leafBound = new(big.Int).Sub(pr.leafBound, cost)
	return &rest, &left, cost, nil
}

func cloneKeys(m map[int64]bool) map[int64]bool {
	out := map[int64]bool{}
	for k := range m {
		out[k] = true
	}
	return out
}

func (pr *secondProof) searchOf(leaf int) *secondSearch {
	if pr.more == nil {
		return nil
	}
	for k := range pr.more.searches {
		if pr.more.searches[k].leaf == leaf {
			return &pr.more.searches[k]
		}
	}
	return nil
}

type secondPattern struct {
	class int
	holds []int64 // of each item
	most  *big.Int
}

// secondTree is the state of a search on the way through its tree.
type secondTree struct {
	top    *big.Int
	cost   []*big.Int // of classes, in units
	wanted []int64
	cuts   [][]int
	lo, hi []*big.Int
	rows   []*secondNode
	second []bool
	list   []secondPattern
}

// holds reports whether a search proves that no plan in a leaf's box costs less than the leaves should
// prove.
func (s *secondSearch) holds(p *optimize.Problem, pr *secondProof, classes []secondClass, l *secondLeaf) (bool, error) {
	size, wanted := secondItems(p)
	t := &secondTree{wanted: wanted, cuts: s.cuts, lo: slices.Clone(l.lo), hi: slices.Clone(l.hi)}
	for _, c := range classes {
		t.cost = append(t.cost, new(big.Int).Div(c.cost, pr.unit))
	}
	// The greatest number of units below the bound.
	t.top = new(big.Int).Sub(pr.leafBound, big.NewInt(1))
	t.top.Div(t.top, pr.unit)
	if l.sums {
		var best *big.Int
		var each func(c int, cost *big.Int)
		each = func(c int, cost *big.Int) {
			if c == len(classes) {
				if cost.Cmp(t.top) <= 0 && (best == nil || cost.Cmp(best) > 0) {
					best = cost
				}
				return
			}
			for n := l.lo[c].Int64(); n <= l.hi[c].Int64(); n++ {
				each(c+1, new(big.Int).Add(cost, new(big.Int).Mul(t.cost[c], big.NewInt(n))))
			}
		}
		if each(0, new(big.Int)); best == nil {
			return true, nil
		}
		t.top = best
	}
	if len(s.filters) == 0 {
		return false, errors.New("no filters")
	}
	// Every pattern that a stick of a class in use holds.
	for c := range classes {
		if l.hi[c].Sign() == 0 {
			continue
		}
		at := make([]int64, len(size))
		var fill func(i int, room int64)
		fill = func(i int, room int64) {
			if i < len(size) {
				for at[i] = 0; at[i] <= wanted[i] && at[i]*size[i] <= room; at[i]++ {
					fill(i+1, room-at[i]*size[i])
				}
				at[i] = 0
				return
			}
			q := secondPattern{class: c, holds: slices.Clone(at), most: new(big.Int)}
			for j := range size {
				if at[j] < wanted[j] && size[j] <= room {
					return
				}
				if at[j] > 0 {
					q.most = maxBig(q.most, big.NewInt((wanted[j]+at[j]-1)/at[j]))
				}
			}
			if q.most.Cmp(l.hi[c]) > 0 {
				q.most = l.hi[c]
			}
			t.list = append(t.list, q)
		}
		fill(0, classes[c].usable+int64(p.Kerf))
	}
	all := t.list
	for k := range s.filters {
		f := &s.filters[k]
		if f.scale.Sign() < 1 || slices.ContainsFunc(f.u, func(v *big.Int) bool { return v.Sign() < 0 }) {
			return false, errors.New("a filter of the wrong sign")
		}
		// K is the greatest value of a stick; only maximal patterns matter.
		sum := new(big.Int)
		for i, v := range f.u {
			sum.Add(sum, new(big.Int).Mul(v, big.NewInt(wanted[i])))
		}
		most := make([]*big.Int, len(classes))
		for c := range classes {
			most[c] = new(big.Int)
			for _, q := range all {
				if q.class == c {
					most[c] = maxBig(most[c], worthBig(q.holds, f.u))
				}
			}
			gain := new(big.Int).Mul(f.scale, t.cost[c])
			open := gain
			if l.lo[c].Sign() > 0 {
				open = new(big.Int)
			}
			gain = new(big.Int).Sub(gain, most[c])
			n := l.lo[c]
			if gain.Sign() < 0 {
				n = l.hi[c]
			}
			sum.Add(sum, new(big.Int).Mul(gain, n))
			most[c] = maxBig(most[c], open)
		}
		gap := new(big.Int).Mul(f.scale, t.top)
		if gap.Sub(gap, sum).Sign() < 0 {
			return true, nil
		}
		t.list = slices.DeleteFunc(slices.Clone(t.list), func(q secondPattern) bool {
			return worthBig(q.holds, f.u).Cmp(new(big.Int).Sub(most[q.class], gap)) < 0
		})
	}
	return t.node(s.root)
}

func maxBig(a, b *big.Int) *big.Int {
	if a.Cmp(b) < 0 {
		return b
	}
	return a
}

func worthBig(holds []int64, u []*big.Int) *big.Int {
	v := new(big.Int)
	for i, n := range holds {
		v.Add(v, new(big.Int).Mul(u[i], big.NewInt(n)))
	}
	return v
}

// node reports whether a node and its descendants are valid.
func (t *secondTree) node(n *secondNode) (bool, error) {
	if n.kind == 2 {
		if n.k.Sign() < 0 {
			return false, errors.New("a row below zero")
		}
		for side, below := range n.below {
			if n.ranged() {
				lo, hi := t.lo[n.class], t.hi[n.class]
				if side == 0 && hi.Cmp(n.k) > 0 {
					t.hi[n.class] = n.k
				} else if side == 1 {
					t.lo[n.class] = maxBig(lo, new(big.Int).Add(n.k, big.NewInt(1)))
				}
				holds, err := t.node(below)
				if t.lo[n.class], t.hi[n.class] = lo, hi; !holds || err != nil {
					return false, err
				}
				continue
			}
			t.rows, t.second = append(t.rows, n), append(t.second, side == 1)
			holds, err := t.node(below)
			if t.rows, t.second = t.rows[:len(t.rows)-1], t.second[:len(t.second)-1]; !holds || err != nil {
				return false, err
			}
		}
		return true, nil
	}
	shown, reduced, err := t.bound(&n.v)
	if err != nil {
		return false, err
	}
	gap := new(big.Int).Mul(n.v.scale, t.top)
	gap.Sub(gap, shown)
	if n.kind == 0 {
		return gap.Sign() < 0, nil
	}
	if n.v.scale.Sign() == 0 {
		return false, errors.New("a fixing without a scale")
	}
	all := t.list
	t.list = nil
	for k, q := range all {
		if reduced[k].Cmp(gap) <= 0 {
			t.list = append(t.list, q)
		}
	}
	holds, err := t.node(n.below[0])
	t.list = all
	return holds, err
}

func (t *secondTree) counts(n *secondNode, q *secondPattern) bool {
	if n.class >= 0 && n.class != q.class {
		return false
	}
	for k, i := range n.item {
		if big.NewInt(q.holds[i]).Cmp(n.least[k]) < 0 {
			return false
		}
	}
	return true
}

// bound returns the bound of a vector and the reduced costs of the remaining patterns.
func (t *secondTree) bound(v *secondVector) (shown *big.Int, reduced []*big.Int, err error) {
	negative := func(x *big.Int) bool { return x.Sign() < 0 }
	if v.scale.Sign() < 0 || slices.ContainsFunc(v.u, negative) || slices.ContainsFunc(v.w, negative) {
		return nil, nil, errors.New("a number below zero")
	}
	shown = new(big.Int)
	add := func(a, b *big.Int) { shown.Add(shown, new(big.Int).Mul(a, b)) }
	for i, u := range v.u {
		add(u, big.NewInt(t.wanted[i]))
	}
	for c, z := range v.z {
		if z.Sign() > 0 {
			add(z, t.lo[c])
		} else {
			add(z, t.hi[c])
		}
	}
	for k, y := range v.y {
		if y.Sign() > 0 && !t.second[k] || y.Sign() < 0 && t.second[k] {
			return nil, nil, errors.New("a row of the wrong sign")
		}
		at := t.rows[k].k
		if t.second[k] {
			at = new(big.Int).Add(at, big.NewInt(1))
		}
		add(y, at)
	}
	for k, cut := range v.cuts {
		n := int64(0)
		for _, i := range t.cuts[cut] {
			n += t.wanted[i]
		}
		add(v.w[k], big.NewInt((n+1)/2))
	}
	for j := range t.list {
		q := &t.list[j]
		rc := new(big.Int).Mul(v.scale, t.cost[q.class])
		rc.Sub(rc, v.z[q.class])
		rc.Sub(rc, worthBig(q.holds, v.u))
		for k, y := range v.y {
			if t.counts(t.rows[k], q) {
				rc.Sub(rc, y)
			}
		}
		for k, cut := range v.cuts {
			n := int64(0)
			for _, i := range t.cuts[cut] {
				n += q.holds[i]
			}
			rc.Sub(rc, new(big.Int).Mul(v.w[k], big.NewInt((n+1)/2)))
		}
		reduced = append(reduced, rc)
		if rc.Sign() < 0 {
			most := q.most
			if most.Cmp(t.hi[q.class]) > 0 {
				most = t.hi[q.class]
			}
			add(rc, most)
		}
	}
	return shown, reduced, nil
}

// searchedInstead gives a plan a proof by a search, with sticks that may be forced, if there is one.
func searchedInstead(t *testing.T, r *rand.Rand, p *optimize.Problem, plan *optimize.Plan) *optimize.Plan {
	var forced [][3]int
	size, _ := secondItems(p)
	if len(p.Sticks) == 1 && len(size) > 1 && r.IntN(3) > 0 {
		full := int64(p.Sticks[0].Length - p.Sticks[0].TrimStart - p.Sticks[0].TrimEnd + p.Kerf)
		for a := range size {
			for b := range size {
				for c := -1; c < len(size) && len(forced) == 0; c++ {
					if c < 0 && size[a]+size[b] == full || c >= 0 && size[a]+size[b]+size[c] == full && r.IntN(3) == 0 {
						forced = [][3]int{{a, b, c}}
					}
				}
			}
		}
	}
	for _, f := range [][][3]int{forced, nil} {
		o := optimize.Searched(p, plan.Bound, f, r.IntN(2) == 0)
		if o == nil {
			continue
		}
		out := clone(t, plan)
		var err error
		if out.Proof, err = o.Sealed(); err != nil {
			t.Fatal(err)
		}
		return out
	}
	return plan
}
