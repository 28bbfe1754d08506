package optimize

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/longpoint/stock"
)

// evidence is the subject of a proof, computed from the problem alone.
type evidence struct {
	class []stickClass // in order of first appearance
	size  []int64      // per piece, a kerf added
	count []int64      // per piece
	steps *effort
	known recent[holding]

	lastBox *boxSums // the last sums; copies of the evidence share it
}

// holding has the most valuable patterns of each class by some values.
type holding struct {
	best  []int64 // K or an upper bound; below zero before it is computed
	exact []bool  // whether best is K
	from  []int64 // the value below which best need not be exact
}

// recent remembers a result for each of the last values of leaves. Leaves of a tree repeat values, but the
// leaves of a hostile proof must not fill the memory.
type recent[T any] []struct {
	values leaf
	about  *T
}

// of returns the remembered result for a leaf's values, or a new one.
func (r *recent[T]) of(l *leaf) (about *T, known bool) {
	for k := range *r {
		v := &(*r)[k].values
		if v.Scale == l.Scale && v.Spare == l.Spare && slices.Equal(v.Values, l.Values) && slices.Equal(v.Parts, l.Parts) {
			at := (*r)[k]
			copy((*r)[1:k+1], (*r)[:k])
			(*r)[0] = at
			return at.about, true
		}
	}
	if len(*r) < 8 {
		*r = append(*r, (recent[T]{{}})...)
	}
	copy((*r)[1:], *r)
	about = new(T)
	(*r)[0].values = leaf{Scale: l.Scale, Spare: l.Spare, Values: l.Values, Parts: l.Parts}
	(*r)[0].about = about
	return about, false
}

type stickClass struct {
	room  int64 // usable length, a kerf added
	cost  int64
	limit int64
}

func gather(p *Problem, steps *effort) *evidence {
	e := &evidence{steps: steps, lastBox: &boxSums{}}
	pieces := int64(0)
	for i := range p.Pieces {
		n := int64(wanted(p, i))
		e.size = append(e.size, int64(p.Pieces[i].Length+p.Kerf))
		e.count = append(e.count, n)
		pieces += min(n, math.MaxInt64-pieces)
	}
	_, cost := costing(p)
	index := make(map[[2]int64]int)
	for i := range p.Sticks {
		s := &p.Sticks[i]
		if s.Limit == stock.SoldOut {
			continue
		}
		key := [2]int64{int64(s.Length - s.TrimStart - s.TrimEnd), cost[i]}
		c, ok := index[key]
		if !ok {
			c = len(e.class)
			index[key] = c
			e.class = append(e.class, stickClass{room: key[0] + int64(p.Kerf), cost: key[1]})
		}
		n := int64(s.Limit)
		if n == 0 {
			n = pieces
		}
		e.class[c].limit += min(n, pieces-e.class[c].limit)
	}
	return e
}

// checkProof verifies the plan's proof and reports the bound that it shows.
func checkProof(p *Problem, plan *Plan, x *exhibit, steps *effort) (*Report, error) {
	if r := unproven(plan); r != nil {
		return r, nil
	}
	shown, open, err := showPlain(p, x, steps)
	if err != nil {
		return nil, err
	}
	return audited(plan.Bound, x.leafBound, shown, open)
}

// audited returns the report on a plan's bound. The leaves claim leafBound and show shown; open describes
// evidence that might show more. It is an error if the leaves show less than they claim, whatever the reason.
func audited(bound, leafBound, shown int64, open []string) (*Report, error) {
	if shown < leafBound {
		want := fmt.Sprintf("at most %d", shown)
		if len(open) > 0 {
			want += ", for it could not be shown " + strings.Join(open, ", nor ")
		}
		return nil, wrong("proof.leaf_bound", leafBound, want)
	}
	return reportOn(bound, min(shown, bound), openSearch), nil
}

// unproven returns the report on a plan whose proof claims to show nothing, and nil for any other
// plan.
func unproven(plan *Plan) *Report {
	switch plan.Proof.kind {
	case ProofNone:
		return reportOn(plan.Bound, plan.Bound, "")
	case ProofOmitted:
		return reportOn(plan.Bound, min(0, plan.Bound), openNothing)
	}
	return nil
}

// showPlain verifies the form of the leaves. It returns the bound that they show and, in words, the evidence
// that might show more with more steps.
func showPlain(p *Problem, x *exhibit, steps *effort) (int64, []string, error) {
	if x.leaves == 0 {
		return 0, nil, nil
	}
	e := gather(p, steps)
	base := int64(0)
	if x.beyond != nil {
		rest, cost, known, err := e.peel(x)
		switch {
		case err != nil:
			return 0, nil, err
		case !known:
			return 0, []string{"whether the forced sticks are in some plan"}, nil
		}
		x, base = rest, cost
	}
	shown, open, err := e.showRest(x)
	if base == 0 || err != nil {
		return shown, open, err
	}
	if shown < x.leafBound { // the sticks are forced only in plans below that cost
		return 0, open, nil
	}
	return min(shown, math.MaxInt64-base) + base, open, nil
}

// showRest is showPlain for the pieces that the forced sticks leave.
func (e *evidence) showRest(x *exhibit) (int64, []string, error) {
	covered := coverUnknown
	if x.manageable() {
		if err := e.form(x); err != nil {
			return 0, nil, err
		}
		covered = e.covered(x)
	}
	switch covered {
	case coverHole:
		return 0, nil, wrong("proof.leaves", "boxes with a hole between them", "boxes that hold every count of sticks")
	case coverUnknown:
		return 0, []string{"whether the boxes of the leaves hold every count of sticks"}, nil
	}
	return e.leaves(x)
}

// form verifies the form of the leaves.
func (e *evidence) form(x *exhibit) error {
	for c := range e.class {
		if x.unit < 1 || e.class[c].cost%x.unit != 0 {
			return wrong("proof.unit", x.unit, "a divisor of every stick's cost")
		}
	}
	if err := x.speaksOf(len(e.class), len(e.size), 0); err != nil {
		return err
	}
	for k, l := range x.all {
		if !e.steps.awaited(int64(len(e.class) + len(e.size))) {
			return e.steps.cause
		}
		if err := e.checkLeaf(k, l, x); err != nil {
			return err
		}
	}
	return nil
}

// speaksOf verifies the numbers of classes, pieces and charges.
func (x *exhibit) speaksOf(classes, pieces, charges int) error {
	for _, n := range [...]struct {
		claim     string
		got, want int
	}{{"proof.classes", x.classes, classes}, {"proof.pieces", x.pieces, pieces}, {"proof.charges", x.charges, charges}} {
		if n.got != n.want {
			return wrong(n.claim, n.got, n.want)
		}
	}
	return nil
}

// checkKind verifies that the kind of a proof matches its parts.
func checkKind(p *Problem, plan *Plan, pr *exhibit) error {
	if pr.kind == ProofMaterial && !p.plain() {
		return wrong("proof.kind", pr.kind, "dual, tree, enumeration or exhausted search in a problem with rules")
	}
	if err := checkBeyond(p, pr); err != nil {
		return err
	}
	leaves := func(got int, want string) error { return wrong("proof.leaves", fmt.Sprintf("%d leaves", got), want) }
	n := pr.leaves
	switch pr.kind {
	case ProofNone:
		switch {
		case n != 0:
			return leaves(n, "none for a proof of no kind")
		case pr.leafBound != 0:
			return wrong("proof.leaf_bound", pr.leafBound, "0, since there are no leaves")
		case plan.Bound > 0:
			return wrong("bound", plan.Bound, "0, since there is no proof")
		}
		return nil
	case ProofMaterial, ProofDual:
		if n != 1 {
			return leaves(n, fmt.Sprintf("one for a proof of kind %v", pr.kind))
		}
	case ProofTree:
		if n < 2 {
			return leaves(n, "several for a tree")
		}
	case ProofEnumeration, ProofPacking:
		if n < 1 {
			return leaves(n, fmt.Sprintf("one at least for a proof of kind %v", pr.kind))
		}
	case ProofSearch:
		if plan.Bound <= pr.leafBound {
			return wrong("proof.kind", pr.kind, "another, since the leaves show the bound")
		}
		if n == 0 && pr.leafBound > 0 {
			return wrong("proof.leaf_bound", pr.leafBound, "0, since there are no leaves")
		}
		return nil
	case ProofOmitted:
		switch {
		case n != 0:
			return leaves(n, "none where the proof is left out")
		case pr.leafBound != 0:
			return wrong("proof.leaf_bound", pr.leafBound, "0, since there are no leaves")
		}
		return nil
	default:
		return wrong("proof.kind", pr.kind, "a kind that has a name")
	}
	if plan.Bound != pr.leafBound {
		return wrong("bound", plan.Bound, fmt.Sprintf("the bound that the leaves show, %d", pr.leafBound))
	}
	return nil
}

// checkBeyond verifies that a proof has searches and forced sticks exactly if its kind says so.
func checkBeyond(p *Problem, pr *exhibit) error {
	switch kind := pr.kind; {
	case kind != ProofEnumeration && kind != ProofPacking:
		if pr.beyond != nil {
			return wrong("proof.kind", kind, fmt.Sprintf("%v or %v for a proof with searches", ProofEnumeration, ProofPacking))
		}
	case !p.plain() && kind == ProofPacking:
		return wrong("proof.kind", kind, "dual, tree, enumeration or exhausted search in a problem with rules")
	case pr.beyond == nil:
		return wrong("proof.searches", "nothing", fmt.Sprintf("something for a proof of kind %v", kind))
	case kind == ProofEnumeration && (len(pr.beyond.Searches) == 0 || len(pr.beyond.Forced) > 0):
		return wrong("proof.searches", fmt.Sprintf("%d, and %d forced sticks", len(pr.beyond.Searches), len(pr.beyond.Forced)), "one at least, and no forced sticks")
	case kind == ProofPacking && len(pr.beyond.Forced) == 0:
		return wrong("proof.forced", "no sticks", "one at least")
	}
	return nil
}

// checkLeaf verifies the form of a leaf.
func (e *evidence) checkLeaf(k int, l *leaf, pr *exhibit) error {
	claim := func(name string) string { return fmt.Sprintf("proof.leaves[%d].%s", k, name) }
	for c := range e.class {
		if l.Lo[c] < 0 || l.Lo[c] > l.Hi[c] {
			return wrong(claim(fmt.Sprintf("lo[%d]", c)), l.Lo[c], fmt.Sprintf("0 to %d", l.Hi[c]))
		}
		if l.Hi[c] > e.class[c].limit {
			return wrong(claim(fmt.Sprintf("hi[%d]", c)), l.Hi[c], fmt.Sprintf("at most %d", e.class[c].limit))
		}
		if v, ok := mul(e.class[c].cost/pr.unit, l.Scale).int64(); !ok || v >= maxValue {
			return wrong(claim("scale"), l.Scale, "such that every cost times it is less than 1<<62")
		}
	}
	if l.Scale < 0 {
		return wrong(claim("scale"), l.Scale, "zero or more")
	}
	if len(l.Parts) > 0 || l.Spare != 0 {
		return wrong(claim("parts or spare"), "set", "none for a problem without rules")
	}
	for i, v := range l.Values {
		if v < 0 {
			return wrong(claim(fmt.Sprintf("values[%d]", i)), v, "zero or more")
		}
		if pr.kind == ProofMaterial && cmpProducts(v, e.size[0], l.Values[0], e.size[i]) != 0 {
			return wrong(claim(fmt.Sprintf("values[%d]", i)), v, "a value in proportion to the length and a kerf")
		}
	}
	return nil
}

// leaves returns the least bound that the leaves show and, in words, the evidence that might show more.
func (e *evidence) leaves(pr *exhibit) (int64, []string, error) {
	least := int64(math.MaxInt64)
	var open []string
	var items *evidence
	next := 0 // search
	for k, l := range pr.all {
		if !e.steps.awaited(int64(len(e.class) + len(e.size))) {
			return 0, nil, e.steps.cause
		}
		if pr.beyond != nil && next < len(pr.beyond.Searches) && pr.beyond.Searches[next].Leaf == k {
			s := &pr.beyond.Searches[next]
			next++
			if items == nil {
				items, _ = e.itemized() // peel has done the same before
			}
			holds, known, err := searched(items, l, s, pr)
			if err != nil {
				return 0, nil, err
			}
			if !known {
				open = append(open, fmt.Sprintf("the search of leaf %d", k))
			}
			if holds && known {
				least = min(least, pr.leafBound)
				continue
			}
		}
		shown, exact, known, ok := e.shownBy(l, pr)
		if !ok {
			return 0, nil, tooGreat(k)
		}
		if !exact {
			open = append(open, fmt.Sprintf("the best pattern for the values of leaf %d", k))
		}
		if !known {
			open = append(open, fmt.Sprintf("which sums of costs the box of leaf %d holds", k))
		}
		least = min(least, shown)
	}
	return least, open, nil
}

// shownBy returns the cost that a leaf shows, the greatest int64 if its box has no plan. The cost
// is a lower bound if not all is exact or the sums of costs are not known. It is not ok if sums
// overflow.
func (e *evidence) shownBy(l *leaf, pr *exhibit) (shown int64, exact, known, ok bool) {
	n, exact, ok := e.numerator(l, pr)
	if !ok {
		return 0, false, false, false
	}
	units := int64(0)
	if n.sign() > 0 {
		if l.Scale == 0 {
			return math.MaxInt64, exact, true, true
		}
		units = n.ceilDiv(l.Scale)
	}
	known = true
	if l.Sums && units <= math.MaxInt64/pr.unit {
		units, known = e.outlay(l, pr.unit).next(units, pr.leafBound/pr.unit, e.steps)
	}
	if units > math.MaxInt64/pr.unit {
		return math.MaxInt64, exact, known, true // above the cost of any plan
	}
	return units * pr.unit, exact, known, true
}

// tooGreat is the error for a leaf whose sums overflow.
func tooGreat(leaf int) error {
	return wrong(fmt.Sprintf("proof.leaves[%d].values", leaf), "too great", "values of which a stick holds less than 1<<62, and all pieces less than 1<<127")
}

// numerator returns the numerator of the formula at Proof or, if that takes too many steps, a
// lower bound and false. It is not ok if sums overflow.
func (e *evidence) numerator(l *leaf, pr *exhibit) (sum int128, exact, ok bool) {
	for i, v := range l.Values {
		sum = sum.add(mul(v, e.count[i]))
	}
	h, known := e.known.of(l)
	if !known {
		*h = holding{make([]int64, len(e.class)), make([]bool, len(e.class)), make([]int64, len(e.class))}
		for c := range h.best {
			h.best[c] = -1
		}
	}
	var bag []lot
	exact = true
	for c := range e.class {
		if l.Hi[c] == 0 {
			continue
		}
		if !e.steps.awaited(1) {
			return int128{}, false, true
		}
		cost := e.class[c].cost / pr.unit * l.Scale
		// If the class may stay unused, only a value above the cost matters.
		from := int64(0)
		if l.Lo[c] == 0 {
			from = cost
		}
		if h.best[c] < 0 || h.from[c] > from {
			if bag == nil {
				bag = e.bag(l.Values)
			}
			h.from[c] = from
			h.best[c], h.exact[c] = fill(bag, e.class[c].room, from, pr.kind == ProofMaterial, e.steps)
		}
		if h.best[c] == tooMuch {
			return int128{}, false, e.steps.left < 0
		}
		exact = exact && h.exact[c]
		gain := cost - max(h.best[c], from)
		n := l.Lo[c]
		if gain < 0 {
			n = l.Hi[c]
		}
		sum = sum.add(mul(gain, n))
	}
	return sum, exact, !sum.over
}
