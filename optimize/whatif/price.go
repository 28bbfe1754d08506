package whatif

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/bits"
	"slices"
	"strconv"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/internal/begin"
	"example.com/longpoint/optimize/internal/price"
	"example.com/longpoint/optimize/internal/share"
	"example.com/longpoint/stock"
)

// Threshold is the price below which a stick is bought, in the currency's minor unit.
type Threshold struct {
	// Price is the greatest price at which the stick on the list is known to lower the
	// cost; -1 if none is known. Above is the least price at or above which it is known not
	// to. The threshold is exactly Price if Above is Price+1, as is the case if every
	// relevant search was proven; otherwise it is at least Price and less than Above.
	Price int64 `json:"price"`
	Above int64 `json:"above"`

	// Needed reports that there is no plan without the stick: it is bought at any price,
	// and Price is the greatest price requested.
	Needed bool `json:"needed,omitempty"`

	// Plan is the plan at Price, nil if Price is -1. If Price is zero, the plan is for a
	// problem in which the stick is from the rack.
	Plan *optimize.Plan `json:"plan,omitempty"`
}

// Exact reports whether the threshold is known: Above is one more than Price.
func (t *Threshold) Exact() bool { return t != nil && t.Above == t.Price+1 }

// PriceToBuy finds the greatest price from zero to maxPrice at which a stick on the list is
// bought. A stick counts as bought if every plan without it costs more; at the price at
// which both cost the same, it need not be bought. Nil options mean the zero value; Start
// and Progress are ignored.
//
// The method is bisection over whole prices. It finds the threshold because the least cost
// never falls as the price rises, while the least cost without the stick is constant.
// Prices at or above the break-even of [Candidate], or the cost of a whole plan without the
// stick, need not be tried. Each solve has an equal share of the work or the time; one that
// ends unproven decides nothing, or only that the threshold is above or below. A price of
// zero is not tried if the stick is too long to be carried or if offcuts have a value: a
// stick without a price would then count as one from the rack.
//
// If the context or the limit ends the searches, PriceToBuy returns the results so far,
// and an error only if there are none. Otherwise errors are those of [optimize.Solve]: an
// [*optimize.InfeasibleError] if there is no plan with the stick either, and a
// [*measure.FieldError] for each bad field of the problem (problem.kerf), for an unknown
// stick (stick), for a greatest price that is below zero or too large (max_price) and for a
// problem in which nothing has a price. The stick's own price is ignored; its Breaks are
// unchanged.
func PriceToBuy(ctx context.Context, p optimize.Problem, stick int, maxPrice int64, o *optimize.Options) (*Threshold, error) {
	var high error
	if maxPrice < 0 || maxPrice == math.MaxInt64 {
		high = &measure.FieldError{Field: "max_price", Value: strconv.FormatInt(maxPrice, 10), Want: fmt.Sprintf("a price from zero to %d", int64(math.MaxInt64-1))}
	}
	q, known := p, index("stick", stick, len(p.Sticks))
	if known == nil && p.Sticks[stick].Price == 0 {
		q.Sticks = slices.Clone(p.Sticks)
		q.Sticks[stick].Price = 1 // zero could not be distinguished from a missing price
	}
	if err := fault.Join(fault.Under("problem", q.Validate()), known, high); err != nil {
		return nil, err
	}
	if price.ByLength(&p) {
		return nil, &measure.FieldError{Field: "problem.sticks", Value: "without prices", Want: "prices: without any the objective is the least length"}
	}
	s := &search{ctx: ctx, p: &p, stick: stick, o: o, n: 2*bits.Len64(uint64(maxPrice)) + 3, t: &Threshold{Price: -1, Above: maxPrice + 1}}
	if err := s.without(); err != nil {
		return nil, err
	}
	if s.t.Needed {
		plan, err := s.at(maxPrice)
		if err != nil {
			return nil, err
		}
		s.t.Price, s.t.Plan = maxPrice, plan
		return s.t, nil
	}
	// First find the prices at which the stick is surely bought, treating doubt as not
	// bought; then, above them, those at which it is surely not bought, treating doubt
	// as bought.
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
	if s.t.Price < 0 && s.t.Above == maxPrice+1 && s.err != nil {
		return nil, s.err
	}
	return s.t, nil
}

// search is the state of a search for a threshold.
type search struct {
	ctx       context.Context
	p         *optimize.Problem
	stick     int
	o         *optimize.Options
	k, n      int            // solves so far, and their maximum number
	last      *optimize.Plan // plan at the previous price, the start of the next search
	low, high int64          // bounds of the least cost without the stick
	t         *Threshold
	err       error // last error of a solve
}

// without solves the problem without the stick.
func (s *search) without() error {
	q := *s.p
	q.Sticks = slices.Delete(slices.Clone(q.Sticks), s.stick, s.stick+1)
	if len(q.Sticks) == 0 {
		s.t.Needed = true
		return nil
	}
	base, err := s.solve(q, nil)
	var no *optimize.InfeasibleError
	if errors.As(err, &no) {
		s.t.Needed = true
		return nil
	}
	if err != nil {
		return err
	}
	s.low, s.high = counted(false, base)
	stick := &s.p.Sticks[s.stick]
	if len(stick.Breaks) == 0 {
		s.t.Above = min(s.t.Above, s.high) // a single one costs as much as the whole plan
	}
	if !base.ByLength {
		if e := entering(s.ctx, &q, base, stick); e != nil {
			if b := e.breakEven(); b >= 0 && b < s.t.Above && e.least(b) >= s.high {
				s.above(b, e)
			}
		}
	}
	return nil
}

// above lowers Above to a price from which on the proof shows that the stick saves
// nothing, whatever the common divisor of the prices there.
func (s *search) above(price int64, e *entrant) {
	e.unit = 1
	if e.least(price) >= s.high {
		s.t.Above = price
	}
}

// at solves the problem with the stick at a price.
func (s *search) at(price int64) (*optimize.Plan, error) {
	q := *s.p
	q.Sticks = slices.Clone(q.Sticks)
	st := &q.Sticks[s.stick]
	if st.Price = price; price == 0 && !s.alikeOnTheRack(st) {
		return nil, &measure.FieldError{Field: "max_price", Value: "0", Want: "a price above zero for a stick that counts otherwise on the rack"}
	}
	// The price of zero is intended; a stick from the rack may have it.
	st.Rack = st.Rack || price == 0
	plan, err := s.solve(q, s.last)
	if err == nil {
		s.last = plan
	}
	return plan, err
}

// alikeOnTheRack reports whether plans do not depend on whether the stick is from the rack.
func (s *search) alikeOnTheRack(st *stock.Stick) bool {
	r := &s.p.Rules
	return st.Rack || len(r.OffcutValues) == 0 && (r.MaxTransport == 0 || st.Length <= r.MaxTransport)
}

// solve solves a problem with its share of the work, starting from a plan if there is
// one.
func (s *search) solve(q optimize.Problem, from *optimize.Plan) (*optimize.Plan, error) {
	ctx, o, done := share.Of(s.ctx, s.o, s.k, s.n)
	defer done()
	s.k++
	plan, err := begin.Solve(ctx, q, o, from)
	return plan, fault.Under("problem", err)
}

// try solves at a price and reports whether the stick is surely bought at it, or surely
// not.
func (s *search) try(price int64) (yes, no bool) {
	plan, err := s.at(price)
	if err != nil {
		s.err = err
		return false, false
	}
	bound, cost := counted(false, plan)
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
