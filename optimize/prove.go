package optimize

import (
	"cmp"
	"context"
	"errors"
	"math/bits"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/search"
)

// prove sets the plan's bound and returns a proof from the solver's leaves, or from the material
// alone if that shows as much.
func (in *instance) prove(plan *Plan, r *search.Result) (*unsealed, error) {
	for i := range r.Leaves {
		l := &r.Leaves[i]
		if len(l.Lo) != len(in.classes) || len(l.Hi) != len(in.classes) || len(l.Dual) != len(in.items) {
			return nil, errors.New("engine's leaves do not match the problem")
		}
	}
	// A split at the end of a range leaves an empty box, which is not needed.
	found := slices.DeleteFunc(slices.Clone(r.Leaves), func(l search.Leaf) bool {
		for b := range l.Lo {
			if l.Lo[b] > l.Hi[b] {
				return true
			}
		}
		return false
	})
	pr := &unsealed{}
	pr.Unit = in.costUnit
	material, least, ok := in.material()
	if ok && least >= r.Bound {
		plan.Bound = least * in.costUnit
		pr.LeafBound = plan.Bound
		if least > 0 {
			pr.kind = ProofMaterial
			pr.Leaves = []leaf{in.leaf(&material)}
		}
		return pr, nil
	}
	plan.Bound = r.Bound * in.costUnit
	leaves, shown := found, r.LeafBound
	if ok && least >= shown {
		leaves, shown = []search.Leaf{material}, least
	}
	for i := range leaves {
		pr.Leaves = append(pr.Leaves, in.leaf(&leaves[i]))
	}
	pr.LeafBound = shown * in.costUnit
	if l := r.Root; l != nil && len(l.Lo) == len(in.classes) && len(l.Dual) == len(in.items) {
		pr.root, pr.rootBound = []leaf{in.leaf(l)}, min(r.RootBound, r.Bound)*in.costUnit
	}
	switch {
	case plan.Bound > pr.LeafBound:
		pr.kind = ProofSearch
		pr.found = in.certifiable(found, r.Packed)
	case plan.Bound <= 0:
		pr.kind, pr.Leaves = ProofNone, nil
	case len(leaves) > 1:
		pr.kind = ProofTree
	default:
		pr.kind = ProofDual
	}
	return pr, nil
}

// selfCheckSteps limits the steps that Solve uses to check its own proof, unless the search took
// more: some tens of milliseconds for a tree of hundreds of leaves.
const selfCheckSteps = 1 << 23

// settle reduces the claim for the leaves to the bound that Check can show in fewer steps than it has; the
// rest of the bound then rests on the search. Wrong leaves are an error.
func (in *instance) settle(ctx context.Context, plan *Plan, pr *unsealed) error {
	if in.certify(ctx, plan, pr) {
		return nil
	}
	for len(pr.Leaves) > 0 {
		steps := hurried(min(max(selfCheckSteps, plan.Work), auditSteps), func() error { return meter.Ended(ctx) })
		shown, open, err := showPlain(in.problem, pr.exhibit(), &steps)
		if err != nil {
			return err
		}
		if shown >= pr.LeafBound {
			in.keepPrices(pr, &steps)
			in.shorten(ctx, plan, pr, min(shown, plan.Bound))
			return nil
		}
		if len(open) == 0 {
			_, err := audited(plan.Bound, pr.LeafBound, shown, nil)
			return err
		}
		// The result may depend on the claim, see Proof.
		pr.kind, pr.LeafBound = ProofSearch, shown
		if shown < pr.rootBound {
			if pr.Leaves, pr.LeafBound = pr.root, pr.rootBound; pr.LeafBound == plan.Bound {
				pr.kind = ProofDual
			}
		} else if shown == 0 {
			pr.Leaves = nil
		}
		pr.rootBound = 0
	}
	return nil
}

// shorten reduces the size of a proof of several leaves, or of one leaf that shows part of the bound, without
// reducing the bound that it shows. The values of a single leaf that shows everything are prices, and stay as
// they are.
func (in *instance) shorten(ctx context.Context, plan *Plan, pr *unsealed, much int64) {
	if pr.kind != ProofTree && pr.kind != ProofSearch {
		return
	}
	steps := hurried(min(max(selfCheckSteps, plan.Work), auditSteps), func() error { return meter.Ended(ctx) })
	short := *pr
	short.Leaves = slices.Clone(pr.Leaves)
	x := short.exhibit()
	e := gather(in.problem, &steps)
	shorten(short.Leaves, func(*leaf) func(*leaf) bool {
		own := *e
		own.known = nil // it remembers only these values
		return func(l *leaf) bool {
			shown, exact, known, ok := own.shownBy(l, x)
			return ok && exact && known && shown >= much && steps.left >= 0
		}
	})
	// Leaves for which the steps did not suffice stay long. To verify all of them again takes no more
	// steps than settle.
	again := hurried(min(max(selfCheckSteps, plan.Work), auditSteps), func() error { return meter.Ended(ctx) })
	if shown, _, err := showPlain(in.problem, x, &again); err == nil && shown >= much {
		pr.Leaves = short.Leaves
	}
}

// keepPrices makes the values of a proof's only leaf prices (see Plan.PieceValues): no stick in
// sufficient supply holds more value than it costs. If the bound does not allow that, the leaf is
// marked by Sums, which never shows less.
func (in *instance) keepPrices(pr *unsealed, steps *effort) {
	if pr.kind != ProofMaterial && pr.kind != ProofDual {
		return
	}
	l := &pr.Leaves[0]
	num, den := in.prices(l, pr.Unit, steps)
	if num == den {
		return
	}
	if den > 0 && pr.kind == ProofDual {
		// Reduce all values by the ratio of the worst stick.
		less := []leaf{*l}
		less[0].Values = slices.Clone(l.Values)
		for i, v := range l.Values {
			hi, lo := bits.Mul64(uint64(v), uint64(num))
			q, _ := bits.Div64(hi, lo, uint64(den)) // less than v
			less[0].Values[i] = int64(q)
		}
		with := *pr
		with.Leaves = less
		shown, _, err := showPlain(in.problem, with.exhibit(), steps)
		if n, d := in.prices(&less[0], pr.Unit, steps); err == nil && shown >= pr.LeafBound && n == d {
			pr.Leaves = less
			return
		}
	}
	l.Sums = true
}

// prices returns the ratio, below one, by which a leaf's values exceed the cost of the worst
// stick in sufficient supply; 1, 1 if no stick holds more than it costs, and 0, 0 if that is not
// known.
func (in *instance) prices(l *leaf, unit int64, steps *effort) (num, den int64) {
	e := gather(in.problem, steps)
	bag, total := e.bag(l.Values), in.total
	num, den = 1, 1
	for c := range e.class {
		cl := &e.class[c]
		if cl.limit < total {
			continue
		}
		most, exact := fill(bag, cl.room, 0, false, steps)
		if !exact {
			return 0, 0
		}
		if cost := cl.cost / unit * l.Scale; most > cost && cmpProducts(cost, den, num, most) < 0 {
			num, den = cost, most
		}
	}
	return num, den
}

// leaf translates a leaf into the problem's classes and pieces.
func (in *instance) leaf(l *search.Leaf) leaf {
	out := leaf{
		Lo:     make([]int64, len(in.classes)),
		Hi:     make([]int64, len(in.classes)),
		Values: make([]int64, len(in.problem.Pieces)),
		Scale:  l.Scale,
		Sums:   l.RoundedUp,
	}
	for c, at := range in.listed() {
		out.Lo[at], out.Hi[at] = l.Lo[c], l.Hi[c]
	}
	for k := range in.items {
		for _, i := range in.items[k].pieces {
			out.Values[i] = l.Dual[k]
		}
	}
	return out
}

// material returns the bound by lengths alone in the solver's cost, and its dual values.
func (in *instance) material() (leaf search.Leaf, least int64, ok bool) {
	box := bound.Full(in.plain)
	leaf.Lo, leaf.Hi = box.Lo, box.Hi
	per, scale, least, ok := bound.Material(in.plain)
	leaf.Scale = scale
	for _, it := range in.plain.Items {
		leaf.Dual = append(leaf.Dual, per*it.Size)
	}
	return leaf, least, ok
}

// compareProducts compares a*b with c*d; none is negative.
func compareProducts(a, b, c, d int64) int {
	h1, l1 := bits.Mul64(uint64(a), uint64(b))
	h2, l2 := bits.Mul64(uint64(c), uint64(d))
	return cmp.Or(cmp.Compare(h1, h2), cmp.Compare(l1, l2))
}
