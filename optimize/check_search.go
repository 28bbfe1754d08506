package optimize

import "fmt"

// searched verifies the search that a proof has for a leaf: whether it shows that no plan in the leaf's box
// costs less than the leaves are to show; known is false where that takes too many steps.
func (e *evidence) searched(l *leaf, s *foundSearch, pr *exhibit) (holds, known bool, err error) {
	most := pr.leafBound/pr.unit - 1 // units that a cheaper plan costs at most
	if pr.leafBound%pr.unit != 0 {
		most++
	}
	if l.Sums {
		var some bool
		if most, some, known = e.outlay(l, pr.unit).last(most+1, e.steps); !some || !known {
			return !some, known, nil
		}
	}
	if len(s.Filters) == 0 {
		return false, false, wrong(searchOf(s), "no filters", "one at least, which says what patterns are of use")
	}
	var sieves []sieve
	for k := range s.Filters {
		f := &s.Filters[k]
		if err := e.checkFilter(f, pr); err != nil {
			return false, false, wrong(fmt.Sprintf("%s.filters[%d]", searchOf(s), k), err.Error(), "values of zero or more, a scale of one or more, and costs times it less than 1<<62")
		}
		g, shown, ok := e.sieve(l, f, most, pr)
		if !ok || shown {
			return shown, ok, nil
		}
		sieves = append(sieves, g)
	}
	all, ok := e.list(l, sieves)
	if !ok {
		return false, false, nil
	}
	w := newWalker(all, l, s, most, pr.unit)
	holds = w.node()
	return holds && w.err == nil && w.known, w.known, w.err
}

func searchOf(s *foundSearch) string { return fmt.Sprintf("proof.searches[leaf %d]", s.Leaf) }

type misfit string

func (m misfit) Error() string { return string(m) }

func (e *evidence) checkFilter(f *vector, pr *exhibit) error {
	for _, v := range f.Items {
		if v < 0 {
			return misfit("a value below zero")
		}
	}
	if f.Scale < 1 {
		return misfit("a scale below one")
	}
	for c := range e.class {
		if v, ok := mul(e.class[c].cost/pr.unit, f.Scale).int64(); !ok || v >= maxValue {
			return misfit("a scale too great")
		}
	}
	return nil
}

// walker goes through the tree of a search.
type walker struct {
	*list
	claim  string
	nodes  *cursor
	most   int64   // units that a cheaper plan costs at most
	cost   []int64 // of classes, in units
	lo, hi []int64 // how often classes are used, as branched
	path   []onPath
	active []int32 // patterns that a cheaper plan below can use
	rc     []int64 // their reduced costs
	with   [][]share
	cuts   map[int][]share
	cached int
	sum    []int64 // of one cut; zero between

	known bool
	err   error
}

// share is what a pattern counts.
type share struct {
	pattern int32
	by      int64
}

// onPath is a row on the way to a node.
type onPath struct {
	members []int32
	at      int64
	more    bool // at least so many, else at most
}

// maxShares bounds the memory for what patterns count in rows and cuts.
const maxShares = 1 << 22

func newWalker(all *list, box *leaf, s *foundSearch, most, unit int64) *walker {
	w := &walker{list: all, claim: searchOf(s), nodes: s.Nodes(), most: most, known: true, cuts: map[int][]share{}}
	w.lo, w.hi = append(w.lo, box.Lo...), append(w.hi, box.Hi...)
	for c := range all.class {
		w.cost = append(w.cost, all.class[c].cost/unit)
	}
	w.rc, w.sum = make([]int64, len(all.all)), make([]int64, len(all.all))
	w.with = make([][]share, len(all.size))
	for j := range all.all {
		w.active = append(w.active, int32(j))
		for _, h := range all.held[all.all[j].from:all.all[j].to] {
			w.with[h.item] = append(w.with[h.item], share{int32(j), h.times})
		}
	}
	return w
}

// node verifies the next node and all below it.
func (w *walker) node() bool {
	if w.err != nil || !w.known {
		return false
	}
	n, kind := w.nodes.Next(len(w.path))
	switch kind {
	case leafNode, fixNode:
		num, ok := w.bound(n.Vector)
		if !ok {
			return false
		}
		least := mul(n.Vector.Scale, w.most)
		if kind == leafNode {
			// With scale 0 that is zero.
			return least.less(num)
		}
		if n.Vector.Scale < 1 {
			return w.refuse("a scale of 0 where patterns are taken out", "1 or more")
		}
		all := len(w.active)
		w.takeOut(least.add(num.negative()))
		holds := w.node()
		w.active = w.active[:all]
		return holds
	case branchNode:
		return w.branch(&n.Row, n.At, n.Row.Range())
	}
	return w.refuse("the end", "a node")
}

func (w *walker) refuse(got, want string) bool {
	if w.err == nil {
		w.err = wrong(w.claim, got, want)
	}
	return false
}

// spend takes steps.
func (w *walker) spend(n int) bool {
	w.known = w.known && w.steps.spend(int64(n))
	return w.known
}

// takeOut takes out the patterns whose reduced cost is more than the gap. They stay behind the others.
func (w *walker) takeOut(gap int128) {
	most, ok := gap.int64()
	if !ok {
		if gap.over || gap.sign() > 0 {
			return
		}
		most = -1 << 63
	}
	kept := 0
	for k, j := range w.active {
		if w.rc[j] <= most {
			w.active[k], w.active[kept] = w.active[kept], j
			kept++
		}
	}
	w.active = w.active[:kept]
}

// branch verifies both children.
func (w *walker) branch(row *row, at int64, isRange bool) bool {
	if at < 0 || at >= maxValue {
		return w.refuse(fmt.Sprintf("a row at %d", at), "zero or more, less than 1<<62")
	}
	if isRange {
		lo, hi := w.lo[row.Class], w.hi[row.Class]
		w.hi[row.Class] = min(hi, at)
		if !w.node() {
			return false // and nobody asks for the rest
		}
		w.lo[row.Class], w.hi[row.Class] = max(lo, at+1), hi
		more := w.node()
		w.lo[row.Class] = lo
		return more
	}
	on := onPath{at: at, members: w.members(row)}
	if w.cached += len(on.members); w.cached > maxShares {
		w.known = false
	}
	w.path = append(w.path, on)
	if !w.node() {
		return false
	}
	w.path[len(w.path)-1].more = true
	more := w.node()
	w.path = w.path[:len(w.path)-1]
	w.cached -= len(on.members)
	return more
}

// members returns the patterns that count in a row.
func (w *walker) members(row *row) []int32 {
	var out []int32
	steps := len(w.active)
	for _, j := range w.active {
		p := &w.all[j]
		in := row.Class < 0 || int(p.class) == row.Class
		for k := 0; k < len(row.Holds) && in; k++ {
			in = w.holds(p, &row.Holds[k])
			steps += int(p.to - p.from)
		}
		if in {
			out = append(out, j)
		}
	}
	w.spend(steps)
	return out
}

func (w *walker) holds(p *pattern, h *holds) bool {
	if h.N <= 0 {
		return true
	}
	for _, x := range w.held[p.from:p.to] {
		if int(x.item) == h.Item {
			return x.times >= h.N
		}
	}
	return false
}

// bound works out the reduced costs of the patterns that are left and the bound by a vector, times its scale.
func (w *walker) bound(v *vector) (num int128, ok bool) {
	if !w.fits(v) {
		return num, false
	}
	steps := len(v.Items) + len(v.Classes)
	for i, u := range v.Items {
		num = num.add(mul(u, w.count[i]))
	}
	for c, z := range v.Classes {
		if z > 0 {
			num = num.add(mul(z, w.lo[c]))
		} else {
			num = num.add(mul(z, w.hi[c]))
		}
	}
	for _, j := range w.active {
		p := &w.all[j]
		rc := v.Scale*w.cost[p.class] - v.Classes[p.class]
		for _, h := range w.held[p.from:p.to] {
			rc -= v.Items[h.item] * h.times
		}
		w.rc[j] = rc
		steps += 1 + int(p.to-p.from)
	}
	for k, y := range v.Rows {
		on := &w.path[k]
		if y == 0 {
			continue
		}
		rhs := on.at
		if on.more {
			rhs++
		}
		num = num.add(mul(y, rhs))
		for _, j := range on.members {
			w.rc[j] -= y
		}
		steps += len(on.members)
	}
	for _, c := range v.Cuts {
		wanted := int64(0)
		for _, i := range c.Items {
			wanted += w.count[i] // together less than maxValue: see itemized
		}
		num = num.add(mul(c.By, wanted/2+wanted%2))
		for _, s := range w.cut(&c) {
			w.rc[s.pattern] -= c.By * s.by
		}
		steps += len(w.cuts[c.Cut])
	}
	for _, j := range w.active {
		if rc := w.rc[j]; rc < 0 {
			p := &w.all[j]
			num = num.add(mul(rc, min(p.most, w.hi[p.class])))
		}
	}
	return num, w.spend(steps) && !num.over
}

// fits verifies the signs of a vector, and that no pattern's reduced cost leaves its range.
func (w *walker) fits(v *vector) bool {
	top, value := int64(0), int64(0)
	for _, c := range w.cost {
		top = max(top, c)
	}
	for _, u := range v.Items {
		if u < 0 {
			return w.refuse("a value of an item below zero", "zero or more")
		}
		value = max(value, u)
	}
	if v.Scale < 0 {
		return w.refuse("a scale below zero", "zero or more")
	}
	sum := mul(v.Scale, top).add(mul(value, w.mostPieces))
	for _, z := range v.Classes {
		sum = sum.add(magnitude(z))
	}
	for k, y := range v.Rows {
		if y > 0 && !w.path[k].more || y < 0 && w.path[k].more {
			return w.refuse("a value of a row of the wrong sign", "zero or more where the row holds at least so many, zero or less where at most")
		}
		sum = sum.add(magnitude(y))
	}
	for _, c := range v.Cuts {
		if c.By < 0 {
			return w.refuse("a value of a cut below zero", "zero or more")
		}
		sum = sum.add(mul(c.By, w.mostPieces))
	}
	if limit := mul(maxValue, 1); sum.over || !sum.less(limit) {
		return w.refuse("values too great", "values of which a pattern comes to less than 1<<62")
	}
	return true
}

func magnitude(v int64) int128 {
	x := mul(v, 1)
	if v < 0 {
		return x.negative()
	}
	return x
}

// cut returns what patterns count in a cut: half of how many of its items they hold, rounded up.
func (w *walker) cut(c *weight) []share {
	if known, ok := w.cuts[c.Cut]; ok {
		return known
	}
	var touched []int32
	steps := 0
	for _, i := range c.Items {
		steps += len(w.with[i])
		for _, s := range w.with[i] {
			if w.sum[s.pattern] == 0 {
				touched = append(touched, s.pattern)
			}
			w.sum[s.pattern] += s.by
		}
	}
	out := make([]share, len(touched))
	for k, j := range touched {
		out[k] = share{j, w.sum[j]/2 + w.sum[j]%2}
		w.sum[j] = 0
	}
	w.spend(steps)
	if w.cached += len(out); w.cached > maxShares {
		w.known = false
	}
	w.cuts[c.Cut] = out
	return out
}
