package optimize

import (
	"context"
	"math/bits"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/certificate"
	"example.com/longpoint/internal/solver/search"
)

// certifiable is evidence beyond leaves alone: leaves, some with searches, and forced sticks.
type certifiable struct {
	leaves []leaf
	beyond certificate.Searching
}

// certifiable translates searches of leaves, or the evidence that there is no packing, into the problem's
// classes and items, which are in ascending order of size; the solver's are in descending order. It returns
// nil if there is none.
func (in *instance) certifiable(leaves []search.Leaf, packed *search.Packed) *certifiable {
	out := &certifiable{}
	out.beyond.Items = len(in.items)
	t := reversing(len(in.items), in.listed())
	if packed != nil {
		leaves = []search.Leaf{packed.Leaf}
		for _, items := range packed.Forced {
			f := [3]int{2: -1}
			for k, i := range items {
				f[k] = t.itemOf[i]
			}
			out.beyond.Forced = append(out.beyond.Forced, f)
		}
	}
	for k := range leaves {
		out.leaves = append(out.leaves, in.leaf(&leaves[k]))
		s := leaves[k].Search
		if s == nil {
			continue
		}
		out.beyond.Searches = append(out.beyond.Searches, *t.search(k, s))
		out.leaves[k].Sums = true
	}
	if len(out.beyond.Searches) == 0 && len(out.beyond.Forced) == 0 {
		return nil
	}
	return out
}

// certify adds searches to leaves that show too little, if Check can verify them. It reports
// whether it did.
func (in *instance) certify(ctx context.Context, plan *Plan, pr *unsealed) bool {
	if pr.kind != ProofSearch || pr.found == nil {
		return false
	}
	limit := min(max(selfCheckSteps, plan.Work), auditSteps)
	steps := hurried(limit, func() error { return meter.Ended(ctx) })
	full := unsealed{kind: ProofEnumeration}
	if len(pr.found.beyond.Forced) > 0 {
		full.kind = ProofPacking
	}
	full.Unit, full.LeafBound, full.Leaves = pr.Unit, plan.Bound, slices.Clone(pr.found.leaves)
	full.Beyond = &certificate.Searching{Items: pr.found.beyond.Items, Forced: pr.found.beyond.Forced}
	x := full.exhibit()
	if x.beyond == nil {
		return false
	}
	e := gather(in.problem, &steps)
	x, _, known, err := e.peel(x)
	if err != nil || !known {
		return false
	}
	items, ok := e.itemized()
	if !ok {
		return false
	}
	for k := range pr.found.beyond.Searches {
		s := &pr.found.beyond.Searches[k]
		short, ok := pressed(items, &full.Leaves[s.Leaf], s, x)
		if !ok {
			return false
		}
		if short != nil {
			full.Beyond.Searches = append(full.Beyond.Searches, *short)
		}
	}
	if len(full.Beyond.Searches) == 0 && len(full.Beyond.Forced) == 0 {
		// Better plans were found after the searches, and the leaves alone show the bound by now.
		return in.bare(pr, &full, e, x)
	}
	e.shortenBetween(&full, x)
	again := hurried(limit, func() error { return meter.Ended(ctx) })
	whole := full.exhibit()
	if whole.beyond == nil {
		return false
	}
	// The forced sticks are already subtracted.
	whole.leafBound, e.steps = x.leafBound, &again
	shown, _, err := e.showRest(whole)
	if err != nil || shown < whole.leafBound {
		return false
	}
	*pr = full
	return true
}

// bare makes the leaves the proof if they show the bound without any search, and reports whether they do.
func (in *instance) bare(pr, full *unsealed, e *evidence, x *exhibit) bool {
	if shown, _, err := e.showRest(x); err != nil || shown < full.LeafBound {
		return false
	}
	full.Beyond = nil
	if full.kind = ProofTree; len(full.Leaves) == 1 {
		full.kind = ProofDual
	}
	*pr = *full
	return true
}

// shortenBetween shortens the leaves without a search.
func (e *evidence) shortenBetween(full *unsealed, x *exhibit) {
	full.shortenBetween(len(e.size), func(*leaf) func(*leaf) bool {
		own := *e
		own.known = nil // it remembers these values only
		return func(l *leaf) bool {
			shown, exact, known, ok := own.shownBy(l, x)
			return ok && exact && known && shown >= x.leafBound && e.steps.left >= 0
		}
	})
}

// shortenBetween shortens the leaves without a search, as shorten does. A leaf with a search gets the
// values of the leaf before it, since its own do not matter; values is their number.
func (pr *unsealed) shortenBetween(values int, shows func(values *leaf) func(*leaf) bool) {
	searched := make([]bool, len(pr.Leaves))
	for k := range pr.Beyond.Searches {
		searched[pr.Beyond.Searches[k].Leaf] = true
	}
	var bare []leaf
	for k := range pr.Leaves {
		if !searched[k] {
			bare = append(bare, pr.Leaves[k])
		}
	}
	shorten(bare, shows)
	last := leaf{Values: make([]int64, values), Scale: 1}
	for k := range pr.Leaves {
		if searched[k] {
			pr.Leaves[k] = withValues(&pr.Leaves[k], &last)
			continue
		}
		pr.Leaves[k], bare = bare[0], bare[1:]
		last = pr.Leaves[k]
	}
}

// pressed returns a search that shows as much in fewer bytes; nil if the leaf or a filter alone
// shows it. It is not ok if Check could not verify it.
func pressed(e lists, l *leaf, s *certificate.Search, x *exhibit) (short *certificate.Search, ok bool) {
	most, some, known := e.top(l, x)
	if !some || !known {
		return nil, known
	}
	var sieves []sieve
	for k := range s.Filters {
		g, shown, ok := e.sieve(l, &s.Filters[k], most, x)
		if !ok {
			return nil, false
		}
		if shown { // possible if better plans were found later
			return &certificate.Search{Leaf: s.Leaf, Filters: s.Filters[k : k+1], Root: nothing(e)}, true
		}
		sieves = append(sieves, g)
	}
	steps := *e.work()
	for limit := steps.left / 64; ; limit *= 8 {
		for k := range sieves {
			order := slices.Concat(sieves[k:k+1], sieves[:k], sieves[k+1:])
			own := &effort{left: min(limit, steps.left)}
			*e.work() = own
			all, ok := e.list(l, order, x.unit)
			*e.work() = steps
			steps.spend(min(limit, steps.left) - own.left)
			if !ok {
				continue
			}
			all.steps = steps
			filters := slices.Concat(s.Filters[k:k+1], s.Filters[:k], s.Filters[k+1:])
			for effort := range 3 {
				p := presser{newWalker(all, l, &certificate.OpenSearch{}, most, x.unit), effort}
				if root := p.node(s.Root, 0); root != nil {
					return &certificate.Search{Leaf: s.Leaf, Filters: filters, Root: root}, true
				}
				if p.err != nil || !p.known {
					break
				}
			}
			return nil, false
		}
		if limit >= steps.left {
			return nil, false
		}
	}
}

// nothing returns a tree that shows nothing.
func nothing(e lists) *certificate.Node {
	items, classes := e.counts()
	return &certificate.Node{Vector: &certificate.Vector{Items: make([]int64, items), Classes: make([]int64, classes)}}
}

// presser copies the tree that a walker traverses, with numbers in few places. With little care
// it omits most fixings.
type presser struct {
	*walker
	care int // 0 to 2
}

// node returns a node and its descendants that show as much in fewer bytes, nil if they do not
// show it; branches is the number of branches above.
func (p *presser) node(n *certificate.Node, branches int) *certificate.Node {
	switch {
	case n == nil || p.err != nil || !p.known:
		return nil
	case n.Vector != nil && n.Then == nil:
		for _, v := range p.versions(n.Vector, 0) {
			num, ok := p.bound(v)
			if !ok {
				return nil
			}
			if mul(v.Scale, p.most).less(num) {
				return &certificate.Node{Vector: v}
			}
		}
		return nil
	case n.Vector != nil:
		return p.fix(n, branches)
	}
	out := &certificate.Node{Way: n.Way, Row: n.Row, At: n.At}
	if n.Way != nil {
		all := len(p.active)
		p.keepWays(n.Way, false)
		out.Less = p.node(n.Less, branches+1)
		if p.active = p.active[:all]; out.Less != nil {
			p.keepWays(n.Way, true)
			out.More = p.node(n.More, branches+1)
		}
		p.active = p.active[:all]
	} else if n.Row.Range() {
		c := n.Row.Class
		lo, hi := p.lo[c], p.hi[c]
		p.hi[c] = min(hi, n.At)
		if out.Less = p.node(n.Less, branches+1); out.Less != nil {
			p.lo[c], p.hi[c] = max(lo, n.At+1), hi
			out.More = p.node(n.More, branches+1)
		}
		p.lo[c], p.hi[c] = lo, hi
	} else {
		p.path = append(p.path, onPath{at: n.At, members: p.members(&n.Row)})
		if out.Less = p.node(n.Less, branches+1); out.Less != nil {
			p.path[len(p.path)-1].more = true
			out.More = p.node(n.More, branches+1)
		}
		p.path = p.path[:len(p.path)-1]
	}
	if out.Less == nil || out.More == nil {
		return nil
	}
	return out
}

// fix copies a fixing, or omits it.
func (p *presser) fix(n *certificate.Node, branches int) *certificate.Node {
	if p.care == 0 && branches > 0 {
		return p.node(n.Then, branches)
	}
	all := len(p.active)
	defer func() { p.active = p.active[:all] }()
	left := -1
	var v *certificate.Vector
	versions := p.versions(n.Vector, 2)
	for _, v = range slices.Concat(versions[len(versions)-1:], versions) {
		p.active = p.active[:all]
		num, ok := p.bound(v)
		if !ok {
			return nil
		}
		p.takeOut(mul(v.Scale, p.most).add(num.negative()))
		if left >= 0 && len(p.active) <= left {
			break
		}
		if left < 0 {
			left = len(p.active)
		}
	}
	if gone := all - left; gone == 0 || p.care < 2 && gone*20 < all {
		p.active = p.active[:all]
		return p.node(n.Then, branches)
	}
	if then := p.node(n.Then, branches); then != nil {
		return &certificate.Node{Vector: v, Then: then}
	}
	return nil
}

// versions returns a vector in more and more places, and the vector itself last.
func (p *presser) versions(v *certificate.Vector, from int) (all []*certificate.Vector) {
	size := v.Scale
	if size == 0 {
		for _, x := range v.Items {
			size = max(size, x)
		}
	}
	for _, n := range places[from:] {
		by := bits.Len64(uint64(size)) - 1 - n
		if by <= 0 {
			break
		}
		all = append(all, shifted(v, by))
	}
	return append(all, v)
}

// shifted returns a vector without its last bits, all numbers rounded down.
func shifted(v *certificate.Vector, by int) *certificate.Vector {
	down := func(all []int64) []int64 {
		out := make([]int64, len(all))
		for k, x := range all {
			out[k] = x >> by
		}
		return out
	}
	out := &certificate.Vector{Scale: v.Scale >> by, Items: down(v.Items), Classes: down(v.Classes), Rows: down(v.Rows)}
	for _, c := range v.Cuts {
		if c.By >>= by; c.By != 0 {
			out.Cuts = append(out.Cuts, c)
		}
	}
	return out
}
