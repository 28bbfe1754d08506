package optimize

import "math/bits"

// temper reduces the values of leaves if the checker cannot follow the solver. By length alone a stick may
// seem to yield more value than it costs: only the solver knows the savings of nesting pieces. A plan with
// very many of such sticks would then seem to cost nothing. A greater Scale reduces the values of all pieces
// alike, until such a stick yields no more than its cost; among the Scales for each class the one that shows
// the most is used. The bound of a leaf is valid for any values.
//
// temper returns the bound that the leaves show afterwards. If that is no more than before, it leaves them
// unchanged.
func (e *ruleEvidence) temper(pr *unsealed, already, claim int64) int64 {
	was := make([]int64, len(pr.Leaves))
	for k := range pr.Leaves {
		was[k] = pr.Leaves[k].Scale
	}
	e.rescale(pr)
	if v, ok, err := e.shown(pr.exhibit(), claim); ok && err == nil && v > already {
		return v
	}
	for k := range pr.Leaves {
		pr.Leaves[k].Scale = was[k]
	}
	return already
}

// rescale sets the Scale of each leaf to the one that shows the most.
func (e *ruleEvidence) rescale(pr *unsealed) {
	for k := range pr.Leaves {
		l := &pr.Leaves[k]
		if l.Scale <= 0 {
			return
		}
		h := e.holding(l)
		shown := func() int64 {
			sum, _, o := e.sum(l, pr.Unit, h)
			if o != worked || sum.over {
				return 0
			}
			return atLeast(sum, l.Scale, pr.Unit)
		}
		scale, best := l.Scale, shown()
		for c := range e.class {
			w := e.weights(l)
			cost := e.buy(&e.class[c], 1)
			most, _, o := e.yields(l, c, true, &w, pr.Unit, h)
			if o != worked {
				return
			}
			if cost <= 0 || most <= 0 {
				continue
			}
			// The least Scale at which the stick costs as much as it yields.
			hi, lo := bits.Mul64(uint64(most), uint64(pr.Unit))
			if hi >= uint64(cost) {
				continue
			}
			q, rest := bits.Div64(hi, lo, uint64(cost))
			if rest > 0 {
				q++
			}
			if q >= 1<<61 || int64(q) <= scale {
				continue
			}
			was := l.Scale
			l.Scale = int64(q)
			if v := shown(); v > best {
				best = v
			} else {
				l.Scale = was
			}
		}
	}
}
