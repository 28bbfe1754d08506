package optimize

import "fmt"

// lists describes the columns of a problem, with or without rules.
type lists interface {
	// counts returns the numbers of items and classes that vectors have values for.
	counts() (items, classes int)

	// top returns the greatest cost below the claim, in units, of a plan in the box; some is false if there
	// is none. It is not known if that takes too many steps.
	top(l *leaf, pr *exhibit) (most int64, some, known bool)

	checkFilter(f *vector, pr *exhibit) error

	// sieve returns the requirement of a filter for the columns of plans in a box that cost at most the given
	// number of units. The filter alone may show that there are none. It is not ok if sums overflow or the
	// context ended.
	sieve(box *leaf, f *vector, most int64, pr *exhibit) (g sieve, shown, ok bool)

	// list lists the columns that pass all sieves; the first guides the enumeration. It is not ok if there are
	// too many, or it takes too many steps.
	list(box *leaf, sieves []sieve, unit int64) (all *list, ok bool)

	// work returns the counter of steps.
	work() **effort
}

func (e *evidence) counts() (items, classes int) { return len(e.size), len(e.class) }

func (e *evidence) work() **effort { return &e.steps }

func (e *evidence) top(l *leaf, pr *exhibit) (most int64, some, known bool) {
	most = (pr.leafBound - 1) / pr.unit
	if l.Sums {
		return e.outlay(l, pr.unit).last(most+1, e.steps)
	}
	return most, true, true
}

// searched verifies the search of a leaf: whether it shows that no plan in the leaf's box costs
// less than LeafBound. The result is not known if that takes too many steps.
func searched(e lists, l *leaf, s *foundSearch, pr *exhibit) (holds, known bool, err error) {
	most, some, known := e.top(l, pr) // in units, of a plan below the claim
	if !some || !known {
		return !some, known, nil
	}
	if len(s.Filters) == 0 {
		return false, false, wrong(searchOf(s), "no filters", "at least one, which selects patterns")
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
	all, ok := e.list(l, sieves, pr.unit)
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

// walker traverses the tree of a search.
type walker struct {
	*list
	claim  string
	nodes  *cursor
	most   int64   // the greatest cost of a plan below the claim, in units
	cost   []int64 // of classes, in units
	lo, hi []int64 // range of the number of sticks per class
	path   []onPath
	active []int32 // patterns that a plan below the claim can use
	rc     []int64 // their reduced costs
	with   [][]share
	cuts   map[int][]share
	cached int
	sum    []int64 // per pattern: items in one cut; zero between cuts

	known bool
	err   error
}

// share is the coefficient of a pattern in a row or cut.
type share struct {
	pattern int32
	by      int64
}

// onPath is a row on the path to a node.
type onPath struct {
	members []int32
	at      int64
	more    bool // the row is at least at, else at most
}

// maxShares limits the memory for the shares.
const maxShares = 1 << 22

func newWalker(all *list, box *leaf, s *foundSearch, most, unit int64) *walker {
	w := &walker{list: all, claim: searchOf(s), nodes: s.Nodes(), most: most, known: true, cuts: map[int][]share{}}
	w.lo, w.hi = append(w.lo, box.Lo...), append(w.hi, box.Hi...)
	for c := range all.class {
		w.cost = append(w.cost, all.class[c].cost/unit)
	}
	if all.rules != nil {
		all.rules.begin(w.lo, w.hi)
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

// node verifies the next node and its descendants.
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
	case wayNode:
		return w.branchOnWay(n.Way)
	}
	return w.refuse("the end", "a node")
}

func (w *walker) refuse(got, want string) bool {
	if w.err == nil {
		w.err = wrong(w.claim, got, want)
	}
	return false
}

// spend uses steps.
func (w *walker) spend(n int) bool {
	w.known = w.known && w.steps.spend(int64(n))
	return w.known
}

// takeOut removes the patterns whose reduced cost exceeds the gap. They move behind the others.
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

// branch verifies both children of a node.
func (w *walker) branch(row *row, at int64, isRange bool) bool {
	if at < 0 || at >= maxValue {
		return w.refuse(fmt.Sprintf("a row at %d", at), "zero or more, less than 1<<62")
	}
	if isRange {
		lo, hi := w.lo[row.Class], w.hi[row.Class]
		w.hi[row.Class] = min(hi, at)
		if !w.node() {
			return false // the rest does not matter
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

// members returns the patterns with a coefficient in a row.
func (w *walker) members(row *row) []int32 {
	var out []int32
	steps := len(w.active)
	for _, j := range w.active {
		p := &w.all[j]
		in := row.Class < 0 && int(p.class) < len(w.class) || int(p.class) == row.Class
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
			return max(x.times, -x.times) >= h.N // a pattern takes one of its stretch's item
		}
	}
	return false
}

// bound computes the reduced costs of the active patterns and the bound that a vector shows,
// times its scale.
func (w *walker) bound(v *vector) (num int128, ok bool) {
	if !w.fits(v) {
		return num, false
	}
	steps := len(v.Items) + len(v.Classes)
	for i, u := range v.Items {
		num = num.add(mul(u, w.demand[i]))
	}
	sticks, ok := w.sticks(v)
	if !ok {
		w.known = false
		return num, false
	}
	num = num.add(sticks)
	steps += w.reducedCosts(v)
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
			wanted += w.demand[i] // the total is less than maxValue: see itemized
		}
		num = num.add(mul(c.By, wanted/2+wanted%2))
		for _, s := range w.cut(&c) {
			w.rc[s.pattern] -= c.By * s.by
		}
		steps += len(w.cuts[c.Cut])
	}
	if w.rules != nil {
		num = num.add(w.rules.leastWays(w))
	}
	for _, j := range w.active {
		if p := &w.all[j]; w.rc[j] < 0 && int(p.class) < len(w.class) { // leastWays has made those of ways zero or more
			num = num.add(mul(w.rc[j], min(p.most, w.hi[p.class])))
		}
	}
	return num, w.spend(steps) && !num.over
}

// sticks returns the contribution of the numbers of sticks to a bound.
func (w *walker) sticks(v *vector) (sum int128, ok bool) {
	if w.rules != nil {
		return w.rules.sticks(w.lo, w.hi, v)
	}
	for c, z := range v.Classes {
		if z > 0 {
			sum = sum.add(mul(z, w.lo[c]))
		} else {
			sum = sum.add(mul(z, w.hi[c]))
		}
	}
	return sum, true
}

// reducedCosts computes the reduced costs of the active patterns from the values of items and
// sticks. It returns the steps that takes.
func (w *walker) reducedCosts(v *vector) (steps int) {
	for _, j := range w.active {
		p := &w.all[j]
		rc := v.Scale * p.own
		switch {
		case w.rules == nil:
			rc += v.Scale*w.cost[p.class] - v.Classes[p.class]
		case int(p.class) < len(w.class):
			rc += v.Classes[p.class]
		}
		for _, h := range w.held[p.from:p.to] {
			rc -= v.Items[h.item] * h.times
		}
		w.rc[j] = rc
		steps += 1 + int(p.to-p.from)
	}
	return steps
}

// fits verifies the signs of a vector, and that no reduced cost overflows.
func (w *walker) fits(v *vector) bool {
	top, value := int64(0), int64(0)
	for _, c := range w.cost {
		top = max(top, c)
	}
	if w.rules != nil {
		top = w.rules.mostOwn
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
	for c, z := range v.Classes {
		if z != 0 && w.rules != nil && w.rules.of.gap[c] != noItem {
			return w.refuse("a value of a class with several clear stretches", "values of its stretches instead")
		}
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
		if n := len(c.Items); w.rules != nil && n > 0 && c.Items[n-1] >= w.rules.of.cut {
			return w.refuse("a cut with a clear stretch", "cuts of what is cut from sticks")
		}
		sum = sum.add(mul(c.By, w.mostPieces))
	}
	if limit := mul(maxValue, 1); sum.over || !sum.less(limit) {
		return w.refuse("values too great", "values at which each pattern is worth less than 1<<62")
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

// cut returns the coefficients of patterns in a cut: half the number of their items in it, rounded up.
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
		out[k] = share{j, (w.sum[j] + 1) >> 1} // below zero for a way, which takes items
		w.sum[j] = 0
	}
	w.spend(steps)
	if w.cached += len(out); w.cached > maxShares {
		w.known = false
	}
	w.cuts[c.Cut] = out
	return out
}
