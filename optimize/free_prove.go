package optimize

import (
	"cmp"
	"context"
	"math"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/certificate"
	"example.com/longpoint/internal/solver/search"
)

// unsealed sets the plan's bound and returns a proof from the solver's leaves.
func (f *instance) unsealed(ctx context.Context, plan *Plan, r *search.Result) *unsealed {
	p := f.problem
	plan.Bound = min(r.Bound*f.costUnit, plan.Cost)
	plan.Proven = plan.Bound == plan.Cost
	pr := &unsealed{}
	pr.Unit = f.costUnit
	if plan.Bound <= 0 {
		plan.Bound = max(plan.Bound, 0)
		return pr
	}
	pr.kind = ProofSearch
	// As many as the search used, and fewer than Check may use for this proof and those of goals.
	limit := min(max(selfCheckSteps, r.Work), auditSteps/2)
	steps := hurried(limit, func() error { return meter.Ended(ctx) })
	e := gatherRules(p, &steps)
	if leaves, _, ok := f.leaves(r.Leaves, e); ok {
		// Their bound is computed as in Check, and may be less than the solver's.
		pr.Leaves = leaves
		if e.covered(pr.exhibit()) == coverFull {
			v, ok, err := e.shown(pr.exhibit(), plan.Bound)
			if ok && err == nil && v < plan.Bound {
				v = e.temper(pr, v, plan.Bound)
			}
			if ok && err == nil && v < plan.Bound {
				v = e.roundedUp(pr, v, plan.Bound)
			}
			if ok && err == nil {
				pr.LeafBound = min(v, plan.Bound)
			}
		}
		if pr.LeafBound > 0 && (len(leaves) > 1 || pr.LeafBound < plan.Bound) {
			e.shorten(pr)
		}
		switch {
		case pr.LeafBound == 0:
			pr.Leaves = nil
		case pr.LeafBound < plan.Bound:
		case len(leaves) == 1:
			pr.kind = ProofDual
			e.keepPrices(&leaves[0], pr.Unit)
		default:
			pr.kind = ProofTree
		}
	}
	if pr.kind == ProofSearch {
		f.certifyRules(ctx, plan, pr, r.Leaves, limit)
	}
	return pr
}

// shorten reduces the size of a proof of several leaves, or of one leaf that shows part of the bound.
func (e *ruleEvidence) shorten(pr *unsealed) {
	short := *pr
	short.Leaves = slices.Clone(pr.Leaves)
	shorten(short.Leaves, func(values *leaf) func(*leaf) bool {
		h := e.holding(values)
		return func(l *leaf) bool {
			v, known, fits := e.shownBy(l, pr.Unit, h, pr.LeafBound, math.MaxInt64)
			return known && fits && v >= pr.LeafBound
		}
	})
	if v, sure, err := e.shown(short.exhibit(), pr.LeafBound); err == nil && sure && v >= pr.LeafBound {
		pr.Leaves = short.Leaves
	}
}

// keepPrices marks a leaf whose values are not prices (see Plan.PieceValues) since some stick may
// hold more value than it costs.
func (e *ruleEvidence) keepPrices(l *leaf, unit int64) {
	h, w := e.holding(l), e.weights(l)
	kept := len(l.Values) == len(e.p.Pieces) // otherwise they depend on the lot
	for c := range e.class {
		cl := &e.class[c]
		if !kept || cl.limit == 0 {
			continue
		}
		most, exact, o := e.yields(l, c, true, &w, unit, h)
		cost, fits := mul(e.cheapest(cl)/unit, l.Scale).int64()
		kept = fits && exact && o == worked && most <= cost
	}
	l.Sums = l.Sums || !kept
}

// roundedUp sets Sums if the leaves then show more than shown, and returns the bound that they show.
func (e *ruleEvidence) roundedUp(pr *unsealed, shown, claim int64) int64 {
	mark := func(on bool) {
		for k := range pr.Leaves {
			pr.Leaves[k].Sums = on
		}
	}
	mark(true)
	// Check lists sums up to LeafBound, and must get the same result.
	for v := int64(0); claim > shown; claim = v {
		var ok bool
		var err error
		if v, ok, err = e.shown(pr.exhibit(), claim); !ok || err != nil {
			break
		} else if v >= claim {
			return claim
		}
	}
	mark(false)
	return shown
}

// maxLeaves limits the proof of a plan.
const maxLeaves = 2000

// leaves translates the solver's leaves into the problem's classes and pieces. It also returns
// the index of each among the solver's leaves, since it omits empty boxes. It is not ok if there
// are too many leaves, or none.
func (f *instance) leaves(in []search.Leaf, e *ruleEvidence) (out []leaf, at []int, ok bool) {
	if len(in) == 0 || len(in) > maxLeaves {
		return nil, nil, false
	}
	top := make([]int64, len(f.classes)) // of the solver, which may exclude more as useless
	for k := range in {
		for c := range top {
			top[c] = max(top[c], in[k].Hi[c])
		}
	}
	for k := range in {
		b := &in[k]
		if l, some := f.box(b, e, top); some {
			f.valued(&l, b, e, len(in) > 1)
			out, at = append(out, l), append(at, k)
		}
	}
	return out, at, true
}

// box returns a leaf with the box of a leaf of the solver, without values. There is none if the
// box is empty.
func (f *instance) box(b *search.Leaf, e *ruleEvidence, top []int64) (l leaf, some bool) {
	l = leaf{Lo: make([]int64, len(e.class)), Hi: make([]int64, len(e.class)), Scale: b.Scale}
	for c := range f.classes {
		if b.Lo[c] > b.Hi[c] {
			return l, false
		}
		i := e.of[f.classes[c].sticks[0]]
		l.Lo[i], l.Hi[i] = b.Lo[c], b.Hi[c]
		if b.Hi[c] == top[c] {
			l.Hi[i] = e.class[i].limit
		}
	}
	for c := range e.class {
		l.Hi[c] = min(l.Hi[c], e.class[c].limit)
		l.Lo[c] = min(l.Lo[c], l.Hi[c])
	}
	for _, u := range b.Used {
		l.Used = append(l.Used, int(u))
	}
	return l, true
}

// valued copies the values of a leaf of the solver. With several, all leaves have parts of the
// same lengths.
func (f *instance) valued(l *leaf, b *search.Leaf, e *ruleEvidence, several bool) {
	numbers := e.numbers
	if e.goal != nil {
		numbers += e.goal.at
	}
	l.Values = make([]int64, numbers)
	for i := range f.items {
		it := &f.items[i]
		v := b.Dual[i]
		switch {
		case i == f.spare:
			l.Spare = v
		case len(it.group) > 0:
			l.Values[it.group[0]] = v
		default:
			for _, id := range it.pieces {
				if it.lot < 0 || slices.Contains(it.begun, id) {
					l.Values[id] = v
				} else if n := slices.Index(e.lots, f.lotNames[it.lot]); n >= 0 {
					l.Values[e.lotsOf[id]+n] = v
				}
			}
		}
		if it.part && (v != 0 || several) {
			l.Parts = withPart(l.Parts, certificate.Part{Length: int64(it.length), Value: v})
		}
	}
	if e.goal != nil {
		offcut := int64(0) // the last item, if there is one more
		if n := len(f.items); n < len(b.Dual) {
			offcut = b.Dual[n]
		}
		e.weigh(l, b, offcut)
	}
}

// withPart adds the value of a part to parts in the order of their lengths. If two shapes have
// the same length the lesser value applies to both.
func withPart(parts []certificate.Part, p certificate.Part) []certificate.Part {
	at, known := slices.BinarySearchFunc(parts, p.Length, func(q certificate.Part, x int64) int { return cmp.Compare(q.Length, x) })
	if known {
		parts[at].Value = min(parts[at].Value, p.Value)
		return parts
	}
	return slices.Insert(parts, at, p)
}
