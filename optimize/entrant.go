package optimize

import (
	"context"
	"math"
	"math/big"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize/internal/bridge"
	"example.com/longpoint/stock"
)

func init() {
	bridge.Enter = func(ctx context.Context, p, plan any, s *stock.Stick) ([]bridge.Leaf, int64, bool) {
		return entering(ctx, p.(*Problem), plan.(*Plan), s)
	}
	bridge.Used = func(p, pattern any) (measure.Length, error) {
		c := &ruleCheck{p: p.(*Problem), plan: &Plan{}}
		pat := pattern.(*Pattern)
		return c.used(0, pat, 0, len(pat.Pieces))
	}
}

// entrant evaluates a stick that is not in the problem by the leaves of a proof: it has one entry
// for each leaf that does not show its box to be infeasible.
type entrant []bridge.Leaf

// entering evaluates a stick by a proof; it returns false if the proof says nothing about it.
func entering(ctx context.Context, p *Problem, plan *Plan, s *stock.Stick) ([]bridge.Leaf, int64, bool) {
	left := whileAwaited(ctx)
	pr, err := plan.Proof.open(&left)
	if err != nil || pr.leaves == 0 || pr.unit < 1 {
		return nil, 0, false
	}
	var x entrant
	ok := false
	if p.plain() {
		ok = x.plain(p, pr, s, &left)
	} else {
		ok = x.withRules(p, pr, s, &left)
	}
	if ok && pr.beyond != nil {
		x.reach(pr.leafBound)
	}
	return x, pr.unit, ok
}

// reach raises the rounding of each leaf so that plans without the stick cost at least the bound,
// which a proof with searches or forced sticks shows beyond the dual values.
func (x entrant) reach(bound int64) {
	for k := range x {
		v := new(big.Rat).SetInt64(bound)
		if v.Sub(v, x[k].Shows); v.Cmp(x[k].Rounds) > 0 {
			x[k].Rounds = v
		}
	}
}

// whileAwaited returns the effort of an Audit, which ends soon after the context does.
func whileAwaited(ctx context.Context) effort {
	if ctx == nil {
		return patient(auditSteps)
	}
	return hurried(auditSteps, func() error { return meter.Ended(ctx) })
}

// plain adds the leaves of a proof without rules, and reports whether they bound anything.
func (x *entrant) plain(p *Problem, pr *exhibit, s *stock.Stick, left *effort) bool {
	with := *p
	with.Sticks = []stock.Stick{*s}
	if !with.plain() {
		return false
	}
	e := gather(p, left)
	if pr.speaksOf(len(e.class), len(e.size), 0) != nil {
		return false
	}
	for _, l := range pr.all {
		n, _, ok := e.numerator(l, pr)
		most, _ := fill(e.bag(l.Values), int64(usable(s)+p.Kerf), 0, false, e.steps)
		if !ok || most == tooMuch {
			return false
		}
		if l.Scale == 0 {
			if most > 0 {
				return false // with the stick, the box may contain plans
			}
			continue
		}
		x.see(l, pr.unit, n, most)
		if l.Sums {
			shown := int64(0)
			if n.sign() > 0 {
				shown = n.ceilDiv(l.Scale)
			}
			v, known := e.outlay(l, pr.unit).next(shown, pr.leafBound/pr.unit, e.steps)
			if !known {
				return false
			}
			x.round(v, pr.unit)
		}
	}
	return true
}

// see adds the bound of a leaf, and the most value that the stick yields at the leaf's dual
// values.
func (x *entrant) see(l *leaf, unit int64, n int128, most int64) {
	per := big.NewRat(unit, l.Scale)
	sum := new(big.Int).Lsh(big.NewInt(n.hi), 64)
	sum.Add(sum, new(big.Int).SetUint64(n.lo))
	*x = append(*x, bridge.Leaf{
		Shows:  new(big.Rat).Mul(new(big.Rat).SetInt(sum), per),
		Holds:  new(big.Rat).Mul(new(big.Rat).SetInt64(most), per),
		Rounds: new(big.Rat),
	})
}

// round sets the multiple of the unit to which the last leaf is rounded up.
func (x entrant) round(to, unit int64) {
	l := &x[len(x)-1]
	v := new(big.Rat).SetInt64(to)
	v.Mul(v, new(big.Rat).SetInt64(unit))
	if v.Sub(v, l.Shows); v.Sign() > 0 {
		l.Rounds = v
	}
}

// withRules adds the leaves of a proof with rules, and reports whether they bound anything. The
// stick is a class after all others, of which the leaves use none.
func (x *entrant) withRules(p *Problem, pr *exhibit, s *stock.Stick, left *effort) bool {
	if len(s.Breaks) > 0 {
		return false
	}
	q := *p
	q.Sticks = append(slices.Clip(slices.Clone(p.Sticks)), *s)
	e := gatherRules(&q, left)
	last := len(e.class) - 1
	if e.of[len(p.Sticks)] != last {
		return false
	}
	if len(p.Runs) > 0 {
		longest := clearest(s)
		if !slices.ContainsFunc(p.Sticks, func(s stock.Stick) bool { return clearest(&s) >= longest }) {
			return false
		}
	}
	if pr.speaksOf(last, len(p.Pieces), len(p.Rules.Charges)) != nil {
		return false // equal to the last on the list
	}
	for _, seen := range pr.all {
		l := *seen
		l.Lo, l.Hi = append(slices.Clone(l.Lo), 0), append(slices.Clone(l.Hi), 0)
		h, w := e.holding(&l), e.weights(&l)
		most, exact, o := e.yields(&l, last, false, &w, pr.unit, h)
		if !exact || o != worked {
			return false
		}
		n, exact, o := e.sum(&l, pr.unit, h)
		if !exact || o != worked || n.over {
			return false
		}
		if l.Scale == 0 {
			if most > 0 {
				return false // with the stick, the box may contain plans
			}
			continue
		}
		x.see(&l, pr.unit, n, most)
		if l.Sums {
			shown := int64(0)
			if n.sign() > 0 {
				if shown = n.ceilDiv(l.Scale); shown > math.MaxInt64/pr.unit {
					continue
				}
			}
			o := e.outlay(&l)
			if o == nil {
				return false
			}
			v, known := o.next(shown*pr.unit, pr.leafBound, e.steps)
			if !known {
				return false
			}
			x.round(v, 1)
		}
	}
	return true
}

// clearest returns the length of the longest usable stretch of a stick.
func clearest(s *stock.Stick) (l measure.Length) {
	for _, w := range stretches(s) {
		l = max(l, w.To-w.From)
	}
	return l
}
