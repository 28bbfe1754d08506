package optimize

import (
	"context"
	"fmt"
	"math"
	"math/big"
	"math/bits"
	"slices"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// Change is one thing that could be otherwise in a problem; see [WhatIf]. A
// function of the caller's own may change anything but what its slices share with
// the problem before; the changes of this package copy what they touch.
type Change func(p *Problem) error

func unknown(what string, i, n int) error {
	return &ProblemError{what, fmt.Sprint(i), fmt.Sprintf("an index below %d", n)}
}

// OneMore asks for one more of a piece.
func OneMore(piece int) Change {
	return func(p *Problem) error {
		if piece < 0 || piece >= len(p.Pieces) {
			return unknown("OneMore", piece, len(p.Pieces))
		}
		q := int(quantity(&p.Pieces[piece]))
		if q == math.MaxInt {
			return &ProblemError{"OneMore", fmt.Sprint(piece), "a piece whose quantity can grow"}
		}
		p.Pieces = slices.Clone(p.Pieces)
		p.Pieces[piece].Quantity = q + 1
		return nil
	}
}

// Longer makes every one of a piece longer, or shorter where by is below zero.
func Longer(piece int, by measure.Length) Change {
	return func(p *Problem) error {
		if piece < 0 || piece >= len(p.Pieces) {
			return unknown("Longer", piece, len(p.Pieces))
		}
		l, err := p.Pieces[piece].Length.Add(by)
		if err != nil {
			return err
		}
		p.Pieces = slices.Clone(p.Pieces)
		p.Pieces[piece].Length = l
		return nil
	}
}

// LongerRun makes a run longer at its right end, or shorter where by is below zero.
func LongerRun(run int, by measure.Length) Change {
	return func(p *Problem) error {
		if run < 0 || run >= len(p.Runs) {
			return unknown("LongerRun", run, len(p.Runs))
		}
		l, err := p.Runs[run].Length.Add(by)
		if err != nil {
			return err
		}
		p.Runs = slices.Clone(p.Runs)
		p.Runs[run].Length = l
		return nil
	}
}

// WiderKerf makes every saw cut wider, or narrower where by is below zero.
func WiderKerf(by measure.Length) Change {
	return func(p *Problem) error {
		k, err := p.Kerf.Add(by)
		if err != nil {
			return err
		}
		p.Kerf = k
		return nil
	}
}

// AtMost limits how many of a stick can be had. With none it is taken off the list,
// and those after it move up.
func AtMost(stick, n int) Change {
	return func(p *Problem) error {
		if stick < 0 || stick >= len(p.Sticks) {
			return unknown("AtMost", stick, len(p.Sticks))
		}
		if n < 0 {
			return &ProblemError{"AtMost", fmt.Sprint(n), "zero or more sticks"}
		}
		p.Sticks = slices.Clone(p.Sticks)
		if n == 0 {
			p.Sticks = slices.Delete(p.Sticks, stick, stick+1)
		} else {
			p.Sticks[stick].Limit = n
		}
		return nil
	}
}

// Priced gives a stick another price.
func Priced(stick int, price int64) Change {
	return func(p *Problem) error {
		if stick < 0 || stick >= len(p.Sticks) {
			return unknown("Priced", stick, len(p.Sticks))
		}
		p.Sticks = slices.Clone(p.Sticks)
		p.Sticks[stick].Price = price
		return nil
	}
}

// Offered puts one more stick on the list, at its end.
func Offered(s stock.Stick) Change {
	return func(p *Problem) error {
		p.Sticks = append(slices.Clone(p.Sticks), s)
		return nil
	}
}

// Difference is what a change does to the cost.
type Difference struct {
	// Low and High hold what the least cost changes by: after less before. They
	// are the same where both plans are proven.
	Low, High int64

	Problem Problem // the changed problem
	After   *Plan   // its plan
}

// Exact reports whether the difference is known to the cent.
func (d *Difference) Exact() bool { return d.Low == d.High }

// WhatIf solves the problem with the changes, made one after the other, and
// compares the cost with that of a plan for the problem as it is. Both objectives
// must be the same: a change that gives the first stick a price is none of them.
//
// Errors are those of a change, of Solve for the changed problem (an
// [InfeasibleError] says that with the change there is no plan), and a [CheckError]
// for the plan.
func WhatIf(ctx context.Context, p Problem, plan *Plan, o *Options, changes ...Change) (*Difference, error) {
	if _, err := audit(&p, plan, 0); err != nil {
		return nil, err
	}
	q := p
	for _, c := range changes {
		if err := c(&q); err != nil {
			return nil, err
		}
	}
	after, err := Solve(ctx, q, o)
	if err != nil {
		return nil, err
	}
	if after.Objective != plan.Objective {
		return nil, &ProblemError{"Sticks", "prices that change what is best", fmt.Sprintf("a change that leaves the objective, %v, as it is", plan.Objective)}
	}
	return &Difference{Low: after.Bound - plan.Cost, High: after.Cost - plan.Bound, Problem: q, After: after}, nil
}

// PieceValue is what a piece is worth by a plan's proof: Num/Den of the plan's unit of
// cost, in lowest terms.
type PieceValue struct {
	Piece    int // index in Problem.Pieces
	Num, Den int64
}

// PieceValues returns what each piece is worth by the proof, and whether the proof has
// such values: it does where it is of kind [ProofMaterial] or [ProofDual].
//
// The values are the prices at which the linear program would sell pieces one by
// one: together they make up the cost, a piece that fits into what is left over
// anyhow is worth nothing. One piece more or less changes the cost by about as
// much, but in whole sticks: [WhatIf] with [OneMore] tells exactly.
func (pl *Plan) PieceValues() ([]PieceValue, bool) {
	pr := &pl.Proof
	if pr.Kind != ProofMaterial && pr.Kind != ProofDual || len(pr.Leaves) != 1 || pr.Leaves[0].Scale <= 0 {
		return nil, false
	}
	l := &pr.Leaves[0]
	out := make([]PieceValue, len(l.Values))
	for i, v := range l.Values {
		num, den := v, l.Scale
		if g := gcd(num, den); g > 1 {
			num, den = num/g, den/g
		}
		// Times the unit.
		if g := gcd(pr.Unit, den); g > 1 {
			den /= g
			num = saturated(num, pr.Unit/g)
		} else {
			num = saturated(num, pr.Unit)
		}
		out[i] = PieceValue{i, num, den}
	}
	return out, true
}

func saturated(a, b int64) int64 {
	hi, lo := bits.Mul64(uint64(a), uint64(b))
	if hi > 0 || lo > math.MaxInt64 {
		return math.MaxInt64
	}
	return int64(lo)
}

// Candidate is a stick that could be added to the supplier's list.
type Candidate struct {
	Stick stock.Stick

	// Worthless is a price from which on the plan's proof alone shows that the stick
	// cannot lower the cost; -1 where the proof does not tell.
	Worthless int64

	// Saves is what adding the stick saves: between Low and High, both zero where the
	// proof alone shows it.
	Saves struct{ Low, High int64 }

	Plan *Plan // with the stick added at the end of the list; nil where it was not worth solving
}

// Candidates tells what each of some sticks would save if it were on the list besides,
// the most first. The plan is one for the problem as it is.
//
// Where the plan is proven by the values of one leaf, the most that a stick of
// another length could hold by these values is what it can be worth; a price at or
// above that saves nothing and is not solved for. The rest is solved, each with an
// equal share of the work.
func Candidates(ctx context.Context, p Problem, plan *Plan, sticks []stock.Stick, o *Options) ([]Candidate, error) {
	if _, err := audit(&p, plan, 0); err != nil {
		return nil, err
	}
	share := &Options{Work: o.work()}
	if share.Work == 0 {
		share.Work = -1
	} else {
		share.Work = max(share.Work/int64(max(len(sticks), 1)), 1)
	}
	var out []Candidate
	for _, s := range sticks {
		c := Candidate{Stick: s, Worthless: worthless(&p, plan, &s)}
		if c.Worthless < 0 || s.Price < c.Worthless || plan.Objective == LeastLength {
			d, err := WhatIf(ctx, p, plan, share, Offered(s))
			if err != nil {
				return nil, err
			}
			c.Saves.Low, c.Saves.High = max(-d.High, 0), max(-d.Low, 0)
			c.Plan = d.After
		}
		out = append(out, c)
	}
	slices.SortStableFunc(out, func(a, b Candidate) int {
		switch {
		case a.Saves.Low != b.Saves.Low:
			if a.Saves.Low > b.Saves.Low {
				return -1
			}
			return 1
		case a.Saves.High > b.Saves.High:
			return -1
		case a.Saves.High < b.Saves.High:
			return 1
		}
		return 0
	})
	return out, nil
}

// worthless returns the price from which on the proof shows that a stick saves
// nothing, -1 where it does not tell.
func worthless(p *Problem, plan *Plan, s *stock.Stick) int64 {
	pr := &plan.Proof
	if !p.plain() || !plan.Proven || plan.Objective != LeastPrice || len(pr.Leaves) != 1 ||
		pr.Kind != ProofMaterial && pr.Kind != ProofDual || pr.Leaves[0].Scale <= 0 {
		return -1
	}
	if s.Length <= 0 || s.TrimStart < 0 || s.TrimEnd < 0 || s.TrimStart >= s.Length || s.TrimEnd >= s.Length-s.TrimStart || s.Length > math.MaxInt64-p.Kerf {
		return -1
	}
	e := gather(p, auditSteps)
	// The plan's bound may owe something to rounding up to a multiple of Unit, which
	// another price need not be one of: the leaf has to show the cost without that.
	n, _ := e.numerator(&pr.Leaves[0], pr)
	if n.over || !shows(n, pr.Unit, pr.Leaves[0].Scale, plan.Cost) {
		return -1
	}
	most, _ := fill(e.bag(pr.Leaves[0].Values), int64(usable(s)+p.Kerf), 0, false, &e.steps)
	// The least price with price*Scale/Unit >= most.
	hi, lo := bits.Mul64(uint64(most), uint64(pr.Unit))
	if hi >= uint64(pr.Leaves[0].Scale) {
		return -1
	}
	q, r := bits.Div64(hi, lo, uint64(pr.Leaves[0].Scale))
	if r > 0 {
		q++
	}
	if q > math.MaxInt64 {
		return -1
	}
	return int64(q)
}

// shows reports whether n*unit/scale is more than cost-1.
func shows(n int128, unit, scale, cost int64) bool {
	x := new(big.Int).Lsh(big.NewInt(n.hi), 64)
	x.Add(x, new(big.Int).SetUint64(n.lo))
	x.Mul(x, big.NewInt(unit))
	y := new(big.Int).Mul(big.NewInt(cost-1), big.NewInt(scale))
	return x.Cmp(y) > 0
}

// Threshold is the price at which a stick begins to be bought.
type Threshold struct {
	// Price is the greatest price at which buying the stick is known to lower the
	// cost; -1 where even as a gift it does not. Above is the least price at which
	// it is known not to; one more than Price where the solves were proven.
	Price, Above int64

	Plan *Plan // the plan at Price, nil where Price is -1
}

// PriceToBuy finds how cheap a stick must be for the problem to buy it: bisection
// over its price, from nothing up to at most the given one. That works because a
// lower price never raises the least cost. Each solve has an equal share of the
// work; where one ends unproven, Price and Above may lie apart.
func PriceToBuy(ctx context.Context, p Problem, stick int, most int64, o *Options) (*Threshold, error) {
	if stick < 0 || stick >= len(p.Sticks) {
		return nil, unknown("PriceToBuy", stick, len(p.Sticks))
	}
	if most < 0 {
		return nil, &ProblemError{"PriceToBuy", fmt.Sprint(most), "a price of zero or more"}
	}
	if !slices.ContainsFunc(p.Sticks, func(s stock.Stick) bool { return s.Price != 0 }) {
		return nil, &ProblemError{"Sticks", "without prices", "prices: without any the objective is the least length"}
	}
	share := &Options{Work: o.work()}
	if share.Work == 0 {
		share.Work = -1
	} else {
		share.Work = max(share.Work/int64(bits.Len64(uint64(most))+2), 1)
	}
	without := p
	if err := AtMost(stick, 0)(&without); err != nil {
		return nil, err
	}
	t := &Threshold{Price: -1, Above: most + 1}
	low, high := int64(math.MaxInt64), int64(math.MaxInt64) // of the cost without it
	if len(without.Sticks) > 0 {
		base, err := Solve(ctx, without, share)
		switch {
		case err == nil:
			low, high = base.Bound, base.Cost
			if w := worthless(&without, base, &p.Sticks[stick]); w >= 0 {
				t.Above = min(t.Above, w)
			}
		case !isInfeasible(err):
			return nil, err
		}
	}
	// Prices up to t.Price lower the cost, those from t.Above on do not; doubt shrinks
	// what is tried.
	lo, hi := int64(0), t.Above-1
	for lo <= hi {
		mid := lo + (hi-lo)/2
		q := p
		if err := Priced(stick, mid)(&q); err != nil {
			return nil, err
		}
		if mid == 0 && !slices.ContainsFunc(q.Sticks, func(s stock.Stick) bool { return s.Price != 0 }) {
			break // nothing has a price any more
		}
		plan, err := Solve(ctx, q, share)
		if err != nil {
			if t.Plan == nil && t.Price < 0 && !isInfeasible(err) {
				return nil, err
			}
			return t, nil
		}
		switch {
		case plan.Cost < low:
			t.Price, t.Plan = mid, plan
			lo = mid + 1
		case plan.Bound >= high:
			t.Above = mid
			hi = mid - 1
		default:
			hi = mid - 1 // not known: look below for what is
		}
	}
	return t, nil
}

func isInfeasible(err error) bool {
	_, ok := err.(*InfeasibleError)
	return ok
}
