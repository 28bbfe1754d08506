package optimize

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/longpoint/stock"
)

// evidence is what the proof speaks of, worked out from the problem alone.
type evidence struct {
	class []stickClass // in order of first appearance
	size  []int64      // per piece, a kerf added
	count []int64      // per piece
	steps *effort
	best  []int64 // per class: K or an upper bound, for the values in shared
	exact []bool  // per class: whether best is K
	from  []int64 // per class: the value below which best need not be exact
	value []int64 // the values that best belongs to
}

type stickClass struct {
	room  int64 // usable length, a kerf added
	cost  int64
	limit int64
}

func gather(p *Problem, steps *effort) *evidence {
	e := &evidence{steps: steps}
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

// checkProof verifies the plan's proof and returns what it shows.
func checkProof(p *Problem, plan *Plan, steps *effort) (Report, error) {
	pr := &plan.Proof
	switch pr.Kind {
	case ProofNone:
		return Report{Bound: plan.Bound}, nil
	case ProofOmitted:
		return auditOmitted(plan), nil
	}
	shown, open, err := showPlain(p, pr, steps)
	if err != nil {
		return Report{}, err
	}
	return audited(plan, shown, open)
}

// audited returns what was shown of a plan's bound, of which the leaves show so much and
// leave the rest of what they might show open. Leaves that claim more are wrong, for
// whatever reason it could not be shown.
func audited(plan *Plan, shown int64, open []string) (Report, error) {
	if pr := &plan.Proof; shown < pr.LeafBound {
		want := fmt.Sprintf("at most %d", shown)
		if len(open) > 0 {
			want += ", for it could not be shown " + strings.Join(open, ", nor ")
		}
		return Report{}, wrong("Proof.LeafBound", pr.LeafBound, want)
	}
	a := Report{Bound: min(shown, plan.Bound)}
	if a.Bound < plan.Bound {
		a.Open = []string{fmt.Sprintf("the exhausted search above %d", a.Bound)}
	}
	return a, nil
}

// auditOmitted says that nothing of a bound was shown.
func auditOmitted(plan *Plan) Report {
	a := Report{Bound: min(0, plan.Bound)}
	if plan.Bound > 0 {
		a.Open = []string{fmt.Sprintf("nothing is stored that shows a bound of %d: the proof was left out", plan.Bound)}
	}
	return a
}

// showPlain verifies the leaves' form and returns what they show, and in words what
// they might show besides for more steps.
func showPlain(p *Problem, pr *Proof, steps *effort) (int64, []string, error) {
	if len(pr.Leaves) == 0 {
		return 0, nil, nil
	}
	e := gather(p, steps)
	if err := e.form(pr); err != nil {
		return 0, nil, err
	}
	switch e.covered(pr.Leaves) {
	case coverHole:
		return 0, nil, wrong("Proof.Leaves", "boxes with a hole between them", "boxes that hold every count of sticks")
	case coverUnknown:
		return 0, []string{"whether the boxes of the leaves hold every count of sticks"}, nil
	}
	return e.leaves(pr)
}

// form verifies the leaves' form.
func (e *evidence) form(pr *Proof) error {
	for c := range e.class {
		if pr.Unit < 1 || e.class[c].cost%pr.Unit != 0 {
			return wrong("Proof.Unit", pr.Unit, "a divisor of every stick's cost")
		}
	}
	for k := range pr.Leaves {
		if !e.steps.awaited(int64(len(e.class) + len(e.size))) {
			return e.steps.cause
		}
		if err := e.checkLeaf(k, &pr.Leaves[k], pr); err != nil {
			return err
		}
	}
	return nil
}

// checkKind verifies that the kind of proof goes with its parts.
func checkKind(p *Problem, plan *Plan) error {
	pr := &plan.Proof
	if pr.Kind == ProofMaterial && !p.plain() {
		return wrong("Proof.Kind", pr.Kind, "dual, tree or exhausted search in a problem with rules")
	}
	leaves := func(got int, want string) error { return wrong("Proof.Leaves", fmt.Sprintf("%d leaves", got), want) }
	n := len(pr.Leaves)
	switch pr.Kind {
	case ProofNone:
		switch {
		case n != 0:
			return leaves(n, "none for a proof of no kind")
		case pr.LeafBound != 0:
			return wrong("Proof.LeafBound", pr.LeafBound, "0, since there are no leaves")
		case plan.Bound > 0:
			return wrong("Bound", plan.Bound, "0, since there is no proof")
		}
		return nil
	case ProofMaterial, ProofDual:
		if n != 1 {
			return leaves(n, fmt.Sprintf("one for a proof of kind %v", pr.Kind))
		}
	case ProofTree:
		if n < 2 {
			return leaves(n, "several for a tree")
		}
	case ProofSearch:
		if plan.Bound <= pr.LeafBound {
			return wrong("Proof.Kind", pr.Kind, "another, since the leaves show the bound")
		}
		if n == 0 && pr.LeafBound > 0 {
			return wrong("Proof.LeafBound", pr.LeafBound, "0, since there are no leaves")
		}
		return nil
	case ProofOmitted:
		switch {
		case n != 0:
			return leaves(n, "none where the proof is left out")
		case pr.LeafBound != 0:
			return wrong("Proof.LeafBound", pr.LeafBound, "0, since there are no leaves")
		}
		return nil
	default:
		return wrong("Proof.Kind", pr.Kind, "a kind that has a name")
	}
	if plan.Bound != pr.LeafBound {
		return wrong("Bound", plan.Bound, fmt.Sprintf("what the leaves show, %d", pr.LeafBound))
	}
	return nil
}

// checkLeaf verifies a leaf's form.
func (e *evidence) checkLeaf(k int, l *Leaf, pr *Proof) error {
	claim := func(name string) string { return fmt.Sprintf("Proof.Leaves[%d].%s", k, name) }
	if len(l.Lo) != len(e.class) {
		return wrong(claim("Lo"), fmt.Sprintf("%d numbers", len(l.Lo)), fmt.Sprintf("one to each of %d classes", len(e.class)))
	}
	if len(l.Hi) != len(e.class) {
		return wrong(claim("Hi"), fmt.Sprintf("%d numbers", len(l.Hi)), fmt.Sprintf("one to each of %d classes", len(e.class)))
	}
	for c := range e.class {
		if l.Lo[c] < 0 || l.Lo[c] > l.Hi[c] {
			return wrong(claim(fmt.Sprintf("Lo[%d]", c)), l.Lo[c], fmt.Sprintf("0 to %d", l.Hi[c]))
		}
		if l.Hi[c] > e.class[c].limit {
			return wrong(claim(fmt.Sprintf("Hi[%d]", c)), l.Hi[c], fmt.Sprintf("at most %d", e.class[c].limit))
		}
		if v, ok := mul(e.class[c].cost/pr.Unit, l.Scale).int64(); !ok || v >= maxValue {
			return wrong(claim("Scale"), l.Scale, "such that every cost times it is less than 1<<62")
		}
	}
	if l.Scale < 0 {
		return wrong(claim("Scale"), l.Scale, "zero or more")
	}
	if len(l.Parts) > 0 || l.Spare != 0 || len(l.Used) > 0 {
		return wrong(claim("Parts, Spare or Used"), "set", "none for a problem without rules")
	}
	if len(l.Values) != len(e.size) {
		return wrong(claim("Values"), fmt.Sprintf("%d numbers", len(l.Values)), fmt.Sprintf("one to each of %d pieces", len(e.size)))
	}
	for i, v := range l.Values {
		if v < 0 {
			return wrong(claim(fmt.Sprintf("Values[%d]", i)), v, "zero or more")
		}
		if pr.Kind == ProofMaterial && cmpProducts(v, e.size[0], l.Values[0], e.size[i]) != 0 {
			return wrong(claim(fmt.Sprintf("Values[%d]", i)), v, "a value in proportion to the length and a kerf")
		}
	}
	return nil
}

// leaves returns the least that the leaves show, as a cost, and what is open
// about leaves that might show more.
func (e *evidence) leaves(pr *Proof) (int64, []string, error) {
	least := int64(math.MaxInt64)
	var open []string
	for k := range pr.Leaves {
		l := &pr.Leaves[k]
		if !e.steps.awaited(int64(len(e.class) + len(e.size))) {
			return 0, nil, e.steps.cause
		}
		n, exact, ok := e.numerator(l, pr)
		if !ok {
			return 0, nil, tooGreat(k)
		}
		if !exact {
			open = append(open, fmt.Sprintf("the best pattern for the values of leaf %d", k))
		}
		shown := int64(0)
		switch {
		case n.sign() <= 0:
		case l.Scale == 0:
			continue // no plan in this box
		default:
			units := n.ceilDiv(l.Scale)
			if units > math.MaxInt64/pr.Unit {
				continue // dearer than any plan can be
			}
			shown = units
		}
		if l.Sums {
			var known bool
			if shown, known = e.outlay(l, pr.Unit).next(shown, pr.LeafBound/pr.Unit, e.steps); !known {
				open = append(open, fmt.Sprintf("which sums of costs the box of leaf %d holds", k))
			}
			if shown > math.MaxInt64/pr.Unit {
				continue
			}
		}
		least = min(least, shown*pr.Unit)
	}
	return least, open, nil
}

// tooGreat is the error of a leaf whose sums cannot be worked out exactly. What they
// would show is not guessed at.
func tooGreat(leaf int) error {
	return wrong(fmt.Sprintf("Proof.Leaves[%d].Values", leaf), "too great", "values of which a stick holds less than 1<<62, and all pieces less than 1<<127")
}

// numerator returns what stands before the division in the formula at Leaf,
// or, where that takes too many steps, something less and false. It is not ok where
// the sums leave their range.
func (e *evidence) numerator(l *Leaf, pr *Proof) (sum int128, exact, ok bool) {
	for i, v := range l.Values {
		sum = sum.add(mul(v, e.count[i]))
	}
	if !slices.Equal(e.value, l.Values) {
		e.value = l.Values
		e.best = make([]int64, len(e.class))
		e.exact = make([]bool, len(e.class))
		e.from = make([]int64, len(e.class))
		for c := range e.best {
			e.best[c] = -1
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
		cost := e.class[c].cost / pr.Unit * l.Scale
		// Where the class may stay unused, only a value above the cost counts.
		from := int64(0)
		if l.Lo[c] == 0 {
			from = cost
		}
		if e.best[c] < 0 || e.from[c] > from {
			if bag == nil {
				bag = e.bag(l.Values)
			}
			e.from[c] = from
			e.best[c], e.exact[c] = fill(bag, e.class[c].room, from, pr.Kind == ProofMaterial, e.steps)
		}
		if e.best[c] == tooMuch {
			return int128{}, false, e.steps.left < 0
		}
		exact = exact && e.exact[c]
		gain := cost - max(e.best[c], from)
		n := l.Lo[c]
		if gain < 0 {
			n = l.Hi[c]
		}
		sum = sum.add(mul(gain, n))
	}
	return sum, exact, !sum.over
}
