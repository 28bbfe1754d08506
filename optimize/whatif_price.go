package optimize

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/bits"

	"example.com/longpoint/internal/engine"
)

// Threshold is the price at which a stick begins to be bought.
type Threshold struct {
	// Price is the greatest price at which having the stick on the list is known to
	// lower the cost; -1 where none is known. Above is the least price from which on
	// it is known not to. The threshold is Price exactly where Above is one more, as it is
	// where every search that counts was proven; else it is Price or more and less than
	// Above.
	Price int64 `json:"price"`
	Above int64 `json:"above"`

	// Needed says that there is no plan without the stick: it is bought whatever it
	// costs, and Price is the greatest that was asked for.
	Needed bool `json:"needed,omitempty"`

	Plan *Plan `json:"plan,omitempty"` // the plan at Price, nil where Price is -1
}

// Exact reports whether the threshold is known to the cent.
func (t *Threshold) Exact() bool { return t.Above == t.Price+1 }

// PriceToBuy finds how cheap a stick on the list must be for the problem to buy it,
// among prices from zero up to most. A stick counts as bought where every plan without it
// costs more; at the price where both cost the same it need not be bought.
//
// It is bisection over whole prices. That finds the threshold since a plan costs no less
// when the stick does: the least cost never falls as the price rises, while the
// least cost without the stick stays. From the break-even of [Candidate] on, and from the
// price of a whole plan without the stick on, nothing has to be tried. Each solve has
// an equal share of the work or the time; one that ends unproven settles nothing, or only
// that the threshold is above or below.
//
// Where the context or the limit ends the searches, what is known by then is returned, and
// an error only where that is nothing. Otherwise errors are those of Solve: an
// [InfeasibleError] where there is no plan with the stick either, a [ProblemError]
// also for an unknown stick, a price below zero or too great, and a problem in
// which nothing has a price. The stick's own price does not count; its Breaks stay.
func PriceToBuy(ctx context.Context, p Problem, stick int, most int64, o *Options) (*Threshold, error) {
	if stick < 0 || stick >= len(p.Sticks) {
		return nil, unknown("PriceToBuy", stick, len(p.Sticks))
	}
	if most < 0 || most == math.MaxInt64 {
		return nil, &ProblemError{"PriceToBuy", fmt.Sprint(most), fmt.Sprintf("a price from zero to %d", int64(math.MaxInt64-1))}
	}
	if err := validate(&p); err != nil {
		return nil, err
	}
	if objectiveOf(&p) == LeastLength {
		return nil, &ProblemError{"Sticks", "without prices", "prices: without any the objective is the least length"}
	}
	s := &search{ctx: ctx, p: &p, stick: stick, o: o, n: 2*bits.Len64(uint64(most)) + 3, t: &Threshold{Price: -1, Above: most + 1}}
	if err := s.without(); err != nil {
		return nil, err
	}
	if s.t.Needed {
		plan, err := s.at(most)
		if err != nil {
			return nil, err
		}
		s.t.Price, s.t.Plan = most, plan
		return s.t, nil
	}
	// First what is surely bought, with doubt taken for not bought; then, above, what is
	// surely not, with doubt taken for bought.
	lo, hi := int64(-1), s.t.Above
	doubt := s.t.Above
	for hi-lo > 1 {
		mid := lo + (hi-lo)/2
		switch yes, no := s.try(mid); {
		case yes:
			lo = mid
		case no:
			hi, doubt = mid, mid
		default:
			hi = mid
		}
	}
	for lo, hi = hi, doubt; hi-lo > 1; {
		mid := lo + (hi-lo)/2
		if _, no := s.try(mid); no {
			hi = mid
		} else {
			lo = mid
		}
	}
	if s.t.Price < 0 && s.t.Above == most+1 && s.err != nil {
		return nil, s.err
	}
	return s.t, nil
}

// search is the work on a threshold.
type search struct {
	ctx       context.Context
	p         *Problem
	stick     int
	o         *Options
	k, n      int   // solves so far, and how many there may be
	low, high int64 // hold the least cost without the stick
	t         *Threshold
	err       error // the last that a solve ended with
}

// without solves the problem without the stick.
func (s *search) without() error {
	q := *s.p
	if err := AtMost(s.stick, 0)(&q); err != nil {
		return err
	}
	if len(q.Sticks) == 0 {
		s.t.Needed = true
		return nil
	}
	base, err := s.solve(q)
	var no *InfeasibleError
	if errors.As(err, &no) {
		s.t.Needed = true
		return nil
	}
	if err != nil {
		return err
	}
	s.low, s.high = priced(LeastPrice, base)
	stick := &s.p.Sticks[s.stick]
	if len(stick.Breaks) == 0 {
		s.t.Above = min(s.t.Above, s.high) // one of it costs as much as the whole plan
	}
	if base.Objective == LeastPrice {
		if e := entering(s.ctx, &q, base, stick); e != nil {
			if b := e.breakEven(); b >= 0 && b < s.t.Above && e.least(b) >= s.high {
				s.above(b, e)
			}
		}
	}
	return nil
}

// above lowers Above to a price from which on the proof shows that nothing is saved,
// whatever divides the prices there.
func (s *search) above(price int64, e *entrant) {
	e.unit = 1
	if e.least(price) >= s.high {
		s.t.Above = price
	}
}

func (s *search) at(price int64) (*Plan, error) {
	q := *s.p
	if err := Priced(s.stick, price)(&q); err != nil {
		return nil, err
	}
	return s.solve(q)
}

// solve solves a problem in its share.
func (s *search) solve(q Problem) (*Plan, error) {
	ctx, o, done := s.o.shareOf(s.ctx, s.k, s.n)
	defer done()
	s.k++
	return solveIf(ctx, q, o, engine.Solve, validate) // the price that is tried may be zero
}

// try solves at a price and says whether the stick is surely bought at it, or surely not.
func (s *search) try(price int64) (yes, no bool) {
	plan, err := s.at(price)
	if err != nil {
		s.err = err
		return false, false
	}
	bound, cost := priced(LeastPrice, plan)
	switch {
	case cost < s.low:
		if price > s.t.Price {
			s.t.Price, s.t.Plan = price, plan
		}
		return true, false
	case bound >= s.high:
		s.t.Above = min(s.t.Above, price)
		return false, true
	}
	return false, false
}
