package estimate

import (
	"errors"
	"math"
	"strconv"

	"example.com/longpoint/finish"
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

// LengthRange is the range of net lengths From, From + Step, From + 2 Step and so on up to To.
type LengthRange struct {
	From measure.Length `json:"from"`           // > 0
	To   measure.Length `json:"to"`             // >= From
	Step measure.Length `json:"step,omitempty"` // 0 = 1 in; at most 100,000 steps
}

const maxSteps = 100_000

func (l *LengthRange) fill() (steps int64, err error) {
	if l.Step == 0 {
		l.Step = measure.Inch
	}
	var bad fault.List
	if l.From <= 0 {
		bad.Add("from", finish.AmountOf(l.From), "more than zero")
	}
	if l.To < l.From {
		bad.Add("to", finish.AmountOf(l.To), "at least from ("+finish.AmountOf(l.From).String()+")")
	}
	switch {
	case l.Step < 0:
		bad.Add("step", finish.AmountOf(l.Step), "zero or more")
	case len(bad) == 0 && (l.To-l.From)/l.Step > maxSteps:
		bad.Add("step", finish.AmountOf(l.Step), "more: at most 100,000 steps from from to to")
	}
	if err := bad.Err(); err != nil {
		return 0, err
	}
	return int64((l.To - l.From) / l.Step), nil
}

// LengthSpan is a range of lengths over which the order of two offers is the same.
type LengthSpan struct {
	From    measure.Length `json:"from"`    // first length
	To      measure.Length `json:"to"`      // last length
	Cheaper string         `json:"cheaper"` // label of the cheaper offer, "" if they cost the same
}

// BreakEven returns which of two offers is cheaper at each of the lengths: consecutive spans,
// each with one order. It uses whole packages and lines rounded to the cent, without smoothing,
// so near the break-even the order may change several times. No length between two with the
// same order is missed: the price of an offer never falls with its length, so a range is
// settled by its ends only if the higher end price of one offer is less than the lower end
// price of the other.
//
// All faults of offers, terms and lengths are reported together. A purchase that is not proven
// the cheapest is a [*measure.RangeError], since a price might then fall.
func BreakEven(a, b Offer, t Terms, at LengthRange) ([]LengthSpan, error) {
	var bad fault.List
	steps, err := at.fill()
	bad.Under("lengths", err)
	bad.Under("terms", t.check())
	offers := [2]Offer{a, b}
	for k, o := range offers {
		bad.Under("offers["+strconv.Itoa(k)+"]", o.check())
	}
	if a.Label == b.Label && a.Label != "" {
		bad.Add("offers[1].label", b.Label, "a label that no other has")
	}
	if err := bad.Err(); err != nil {
		return nil, err
	}
	length := func(i int64) measure.Length { return at.From + measure.Length(i)*at.Step }
	m := mapping{net: [2]int64{1, 1}, price: func(i int64) (p [2]int64, err error) {
		for k, o := range offers {
			path := "offers[" + strconv.Itoa(k) + "]"
			c, proven, err := o.at(length(i))
			if err != nil {
				return p, fault.Under(path, err)
			}
			if !proven {
				return p, tooLarge(path + ": the number of mixes of packages for " + finish.AmountOf(c.Net).String())
			}
			if p[k], err = priceOf(c, t); err != nil {
				return p, fault.Under(path, err)
			}
		}
		return p, nil
	}}
	if err := m.run(steps); err != nil {
		return nil, err
	}
	var spans []LengthSpan
	for _, s := range m.spans {
		spans = append(spans, LengthSpan{From: length(s.from), To: length(s.to), Cheaper: cheaper(s.order, a.Label, b.Label)})
	}
	return spans, nil
}

// cheaper returns the label of the cheaper offer.
func cheaper(order int, a, b string) string {
	switch {
	case order < 0:
		return a
	case order > 0:
		return b
	}
	return ""
}

// mapping finds which of two prices is lower at each of many steps; neither price falls from
// one step to the next.
type mapping struct {
	price func(step int64) ([2]int64, error)
	net   [2]int64 // lengths by which the prices are divided
	spans []stepSpan
}

// stepSpan is a range of steps with one order: -1 if the first costs less, 0 if both cost the
// same.
type stepSpan struct {
	from, to int64
	order    int
}

// run maps the steps from 0 to last.
func (m *mapping) run(last int64) error {
	lo, err := m.price(0)
	if err != nil {
		return err
	}
	hi, err := m.price(last)
	if err != nil {
		return err
	}
	return m.settle(0, last, lo, hi)
}

// compare compares a price of the first with one of the second.
func (m *mapping) compare(a, b int64) int { return natural.CompareProducts(a, m.net[1], b, m.net[0]) }

// settle adds the spans of steps lo to hi, whose prices are given.
func (m *mapping) settle(lo, hi int64, first, last [2]int64) error {
	if first == last || m.compare(last[0], first[1]) < 0 || m.compare(first[0], last[1]) > 0 {
		m.add(stepSpan{lo, hi, m.compare(first[0], first[1])})
		return nil
	}
	mid := lo + (hi-lo)/2
	before, err := m.price(mid)
	if err != nil {
		return err
	}
	after, err := m.price(mid + 1)
	if err != nil {
		return err
	}
	if err := m.settle(lo, mid, first, before); err != nil {
		return err
	}
	return m.settle(mid+1, hi, after, last)
}

func (m *mapping) add(s stepSpan) {
	if n := len(m.spans); n > 0 && m.spans[n-1].order == s.order {
		m.spans[n-1].to = s.to
		return
	}
	m.spans = append(m.spans, s)
}

// checkPair reports all faults of two alternatives and their terms.
func checkPair(a, b Alternative, t Terms) error {
	var bad fault.List
	bad.Under("terms", t.check())
	for k, c := range []Alternative{a, b} {
		at := "alternatives[" + strconv.Itoa(k) + "]"
		bad.Under(at, c.check())
		bad.Under(at, c.checkNet())
	}
	return bad.Err()
}

// BreakEvenPrice returns the greatest total price of the trim of a, in the currency's minor
// unit, at which a costs no more per installed net foot than b; at one unit more, b is cheaper.
// Divide by the number of sticks for a stick price. It is exact, since it uses the rounded
// lines of [NewQuote]. ok is false if a costs more even with free trim; limit is the greatest
// int64 if a never costs more. The trim whose price varies is in StickCost; other trim, whose
// price is fixed, is in Costs.
//
// The error joins a [*measure.FieldError] for each fault of alternatives and terms, or is a
// [*measure.RangeError].
func BreakEvenPrice(a, b Alternative, t Terms) (limit int64, ok bool, err error) {
	if err := checkPair(a, b, t); err != nil {
		return 0, false, err
	}
	want, err := priceOf(b, t)
	if err != nil {
		return 0, false, fault.Under("alternatives[1]", err)
	}
	a.StickCost = 0
	if _, err := priceOf(a, t); err != nil {
		return 0, false, fault.Under("alternatives[0]", err)
	}
	// The price never falls as the price of the trim rises, and a price out of range exceeds
	// any in range.
	dearer := func(sticks int64) bool {
		a.StickCost = sticks
		total, err := priceOf(a, t)
		var over *measure.RangeError
		return errors.As(err, &over) || err == nil && natural.CompareProducts(total, int64(b.Net), want, int64(a.Net)) > 0
	}
	if dearer(0) {
		return 0, false, nil
	}
	lo, hi := int64(0), int64(math.MaxInt64) // lo does not cost more; hi does, or is the end
	if !dearer(hi) {
		return hi, true, nil
	}
	for hi-lo > 1 {
		if mid := lo + (hi-lo)/2; dearer(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return lo, true, nil
}
