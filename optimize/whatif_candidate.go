package optimize

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"math/big"
	"slices"
	"strings"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/stock"
)

// Candidate is a stick that could be added to the supplier's list.
type Candidate struct {
	Stick stock.Stick `json:"stick"` // as it was given

	// BreakEven is a price from which on the stick cannot lower what the leaves of the
	// plan's proof show; -1 where they do not tell. At that price or above it saves less than
	// Proof.Unit, and nothing if the price is a multiple of Proof.Unit, where the plan is
	// proven by leaves. Below it, it may save something or not.
	BreakEven int64 `json:"break_even"`

	// Saves holds what adding the stick lowers the least cost by.
	Saves Range `json:"saves"`

	// Plan is one with the stick added at the end of the list; nil where the proof
	// alone shows that nothing is saved, or where the search ended before.
	Plan *Plan `json:"plan,omitempty"`
}

// Range holds a number that is at least Low and at most High.
type Range struct {
	Low  int64 `json:"low"`
	High int64 `json:"high"`
}

// Exact reports whether the number is known to the cent: Low and High are the same.
func (r Range) Exact() bool { return r.Low == r.High }

// Candidates tells what each of some sticks would save if it were on the list besides,
// the most first. The plan is one for the problem as it is.
//
// With the values of a leaf, a stick of another length holds pieces worth K at most, as
// at [Proof]. Priced at K*Unit/Scale or more it leaves the leaf's sum as it is: that is the
// break-even; where a leaf is rounded up to sums what the rounding adds comes on top, once. Priced at a part of that, it leaves at least that part of the sum, since
// all values may be made smaller together. A stick that saves nothing by this is not
// solved for. The others are, each with an equal share of the work or the time, from the most promising
// on; where the context or the limit ends that, the range that the proof shows stays. Once it has ended the proof is not asked any more.
//
// With rules, K is reckoned as [Check] does, and a supplier's charge for the stick is left
// out, so that a break-even may be higher than it need be. The proof tells nothing of a
// stick with Breaks or, where the problem has no rules, with other rules of its own; nothing
// of one that with rules is alike another on the list; and nothing of one that has the
// longest clear stretch where there are runs, since that would allow longer parts. Those are
// solved for. Errors are a [CheckError] for the plan, a [ProblemError] that names the field of a
// candidate or the problem, and the cause of a context that ends before the plan is checked.
func Candidates(ctx context.Context, p Problem, plan *Plan, sticks []stock.Stick, o *Options) ([]Candidate, error) {
	steps := prompt(0, ending(ctx))
	if err := verify(&p, plan, &steps); err != nil {
		return nil, err
	}
	out := make([]Candidate, len(sticks))
	var open []int
	ended := false
	for k, s := range sticks {
		q := p
		q.Sticks = append(slices.Clip(slices.Clone(p.Sticks)), s)
		if err := offered(k, len(p.Sticks), validate(&q)); err != nil {
			return nil, err
		}
		if objectiveOf(&q) != plan.Objective {
			return nil, &ProblemError{fmt.Sprintf("Candidates[%d].Price", k), fmt.Sprint(s.Price), "zero, as all others"}
		}
		if err := offered(k, len(p.Sticks), validatePrices(&q)); err != nil {
			return nil, err
		}
		out[k] = Candidate{Stick: s, BreakEven: -1, Saves: Range{0, plan.Cost}}
		if ended = ended || ctx != nil && meter.Ended(ctx) != nil; ended {
			// Nobody waits for what the proof says.
		} else if e := entering(ctx, &p, plan, &s); e != nil {
			out[k].BreakEven = e.breakEven()
			out[k].Saves.High = plan.Cost - min(plan.Cost, e.least(s.Price))
		}
		if out[k].Saves.High > 0 {
			open = append(open, k)
		}
	}
	// The most promising first, in case that not all can be solved.
	slices.SortStableFunc(open, func(a, b int) int { return cmp.Compare(out[b].Saves.High, out[a].Saves.High) })
	for n, k := range open {
		c := &out[k]
		mine, o, done := o.shareOf(ctx, n, len(open))
		d, err := WhatIf(mine, p, plan, o, Offered(c.Stick))
		done()
		switch {
		case err == nil:
			c.Saves.Low, c.Saves.High = max(-d.High, 0), min(c.Saves.High, max(-d.Low, 0))
			c.Plan = d.After
		case errors.Is(err, ErrLimit) || meter.Ended(mine) != nil:
		default:
			return nil, offered(k, len(p.Sticks), err)
		}
	}
	slices.SortStableFunc(out, func(a, b Candidate) int {
		return cmp.Or(cmp.Compare(b.Saves.Low, a.Saves.Low), cmp.Compare(b.Saves.High, a.Saves.High))
	})
	return out, nil
}

// offered names a candidate in an error about the stick after the n of the problem.
func offered(k, n int, err error) error {
	var bad *ProblemError
	if errors.As(err, &bad) {
		if field, ok := strings.CutPrefix(bad.Field, fmt.Sprintf("Sticks[%d]", n)); ok {
			return &ProblemError{fmt.Sprintf("Candidates[%d]%s", k, field), bad.Value, bad.Want}
		}
	}
	return err
}

// entrant is a stick that is not on the list, as the leaves of a proof see it.
type entrant struct {
	price  bool
	length int64      // what the stick counts where nothing has a price
	sum    []*big.Rat // per leaf: what it shows, before rounding, in the unit of cost
	worth  []*big.Rat // per leaf: the most that the stick holds, in the unit of cost; nil: the leaf shows that there is no plan
	adds   []*big.Rat // per leaf: what rounding up to sums of costs adds, for plans without the stick
	unit   int64
}

// entering returns what a proof says about a stick, nil where it says nothing.
func entering(ctx context.Context, p *Problem, plan *Plan, s *stock.Stick) *entrant {
	with := *p
	with.Sticks = []stock.Stick{*s}
	left := whileAwaited(ctx)
	pr, err := plan.Proof.open(&left)
	if err != nil || pr.leaves == 0 || pr.unit < 1 {
		return nil
	}
	x := &entrant{price: plan.Objective == LeastPrice, length: int64(s.Length), unit: pr.unit}
	if !p.plain() {
		if !x.withRules(&left, p, pr, s) {
			return nil
		}
		return x
	}
	if !with.plain() {
		return nil
	}
	e := gather(p, &left)
	if pr.speaksOf(len(e.class), len(e.size), 0) != nil {
		return nil
	}
	for _, l := range pr.all {
		n, _, ok := e.numerator(l, pr)
		most, _ := fill(e.bag(l.Values), int64(usable(s)+p.Kerf), 0, false, e.steps)
		if !ok || most == tooMuch {
			return nil
		}
		if l.Scale == 0 {
			if most > 0 {
				return nil // with the stick there may be plans in the box
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
				return nil
			}
			x.round(v, pr.unit)
		}
	}
	return x
}

// whileAwaited returns as many steps as Audit takes, few once the context has ended.
func whileAwaited(ctx context.Context) effort {
	if ctx == nil {
		return patient(auditSteps)
	}
	return hurried(auditSteps, func() error { return meter.Ended(ctx) })
}

// see adds what a leaf shows, and the most that the stick holds by its values.
func (x *entrant) see(l *leaf, unit int64, n int128, most int64) {
	per := big.NewRat(unit, l.Scale)
	sum := new(big.Int).Lsh(big.NewInt(n.hi), 64)
	sum.Add(sum, new(big.Int).SetUint64(n.lo))
	x.sum = append(x.sum, new(big.Rat).Mul(new(big.Rat).SetInt(sum), per))
	x.worth = append(x.worth, new(big.Rat).Mul(new(big.Rat).SetInt64(most), per))
	x.adds = append(x.adds, new(big.Rat))
}

// round says up to which multiple of the unit the last leaf is rounded.
func (x *entrant) round(to, unit int64) {
	k := len(x.sum) - 1
	v := new(big.Rat).SetInt64(to)
	v.Mul(v, new(big.Rat).SetInt64(unit))
	if v.Sub(v, x.sum[k]); v.Sign() > 0 {
		x.adds[k] = v
	}
}

// withRules adds what the leaves of a proof with rules say, and reports whether they say
// anything: the stick is a class after all others, of which the leaves use none.
func (x *entrant) withRules(left *effort, p *Problem, pr *exhibit, s *stock.Stick) bool {
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
		return false // alike the last on the list
	}
	for _, seen := range pr.all {
		l := *seen
		l.Lo, l.Hi = append(slices.Clone(l.Lo), 0), append(slices.Clone(l.Hi), 0)
		most, exact, ok := e.most(&l, pr.unit)
		if !exact || !ok {
			return false
		}
		n, ok := e.sum(&l, pr.unit, most)
		if !ok || n.over {
			return false
		}
		if l.Scale == 0 {
			if most[last] > 0 {
				return false // with the stick there may be plans in the box
			}
			continue
		}
		x.see(&l, pr.unit, n, most[last])
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

// breakEven returns the least price that leaves every leaf's sum as it is.
func (e *entrant) breakEven() int64 {
	if !e.price {
		return -1
	}
	price := new(big.Int)
	for k, w := range e.worth {
		if c := ceil(new(big.Rat).Add(w, e.adds[k])); c.Cmp(price) > 0 {
			price = c
		}
	}
	if !price.IsInt64() {
		return -1
	}
	return price.Int64()
}

// least returns what every plan costs at least with the stick at a price.
func (e *entrant) least(price int64) int64 {
	if !e.price {
		price = e.length
	}
	var least *big.Rat
	for k, sum := range e.sum {
		v := sum
		switch c := new(big.Rat).SetInt64(price); {
		case c.Cmp(e.worth[k]) >= 0:
			// A plan without the stick is rounded up, one with it pays at least so much.
			if c.Sub(c, e.worth[k]); c.Cmp(e.adds[k]) > 0 {
				c = e.adds[k]
			}
			v = new(big.Rat).Add(sum, c)
		case v.Sign() > 0:
			v = new(big.Rat).Mul(sum, c.Quo(c, e.worth[k]))
		}
		if least == nil || v.Cmp(least) < 0 {
			least = v
		}
	}
	if least == nil || least.Sign() <= 0 {
		return 0
	}
	// Costs are multiples of what divides every price.
	unit := big.NewInt(max(1, gcd(e.unit, price)))
	n := ceil(new(big.Rat).Quo(least, new(big.Rat).SetInt(unit)))
	if n.Mul(n, unit); !n.IsInt64() {
		return 0
	}
	return n.Int64()
}

func ceil(x *big.Rat) *big.Int {
	n := new(big.Int).Add(x.Num(), x.Denom())
	return n.Div(n.Sub(n, big.NewInt(1)), x.Denom())
}
