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

// Offer is a candidate of any length: what it would cost at a length of trim
// that is not known yet. Trim and supplies come in whole packages, so that the
// cost grows in steps.
type Offer struct {
	Label    string           `json:"label"`              // not empty
	Trim     finish.Product   `json:"trim"`               // sticks or cartons: packages of length, or a Yield of length
	Waste    finish.Waste     `json:"waste,omitzero"`     // on the trim; stands for a cutting plan, which only a known job has
	Supplies []finish.Product `json:"supplies,omitempty"` // with a Yield of length each, such as "97 ft per 10.1 fl oz"; waste included
	Pace     measure.Length   `json:"pace,omitempty"`     // installed and finished in an hour of labor; 0 = no labor in proportion
	Setup    measure.Duration `json:"setup,omitempty"`    // labor whatever the length; >= 0
	Extras   []Extra          `json:"extras,omitempty"`   // whatever the length: delivery, a blade
}

// At returns the candidate that the offer is at a net length.
func (o Offer) At(net measure.Length) (Alternative, error) {
	c, _, err := o.at(net)
	return c, err
}

func (o Offer) at(net measure.Length) (c Alternative, proven bool, err error) {
	c = Alternative{Label: o.Label, Net: net, Extras: o.Extras}
	if o.Pace < 0 {
		return c, false, fault.Field("pace", finish.AmountOf(o.Pace), "zero or more")
	}
	if o.Setup < 0 {
		return c, false, fault.Field("setup", o.Setup, "zero or more")
	}
	if err := c.check(); err != nil {
		return c, false, err
	}
	gross, err := o.Waste.Apply(finish.AmountOf(net))
	if err != nil {
		return c, false, err
	}
	b, err := finish.Buy(gross, o.Trim)
	if err != nil {
		return c, false, fault.Under("trim", err)
	}
	c.Sticks, proven = b.Cost, b.Proven
	for i, p := range o.Supplies {
		b, err := finish.Buy(finish.AmountOf(net), p)
		if err != nil {
			return c, false, fault.Under("supplies["+strconv.Itoa(i)+"]", err)
		}
		var ok bool
		if c.Consumables, ok = natural.Add(c.Consumables, b.Cost); !ok {
			return c, false, tooLarge("the cost of the supplies")
		}
		proven = proven && b.Proven
	}
	c.Labor, err = Rate{PerHour: finish.AmountOf(o.Pace), Joint: o.Setup}.time(finish.AmountOf(net), 1)
	return c, proven, err
}

// LengthRange are the net lengths From, From + Step, From + 2 Step and so on as far
// as To.
type LengthRange struct {
	From measure.Length `json:"from"`           // > 0
	To   measure.Length `json:"to"`             // >= From
	Step measure.Length `json:"step,omitempty"` // 0 = 1 in; at most 100,000 steps
}

const maxLengths = 100_000

func (l *LengthRange) fill() (steps int64, err error) {
	if l.Step == 0 {
		l.Step = measure.Inch
	}
	switch {
	case l.From <= 0:
		return 0, fault.Field("from", finish.AmountOf(l.From), "more than zero")
	case l.To < l.From:
		return 0, fault.Field("to", finish.AmountOf(l.To), "at least from ("+finish.AmountOf(l.From).String()+")")
	case l.Step < 0:
		return 0, fault.Field("step", finish.AmountOf(l.Step), "zero or more")
	case (l.To-l.From)/l.Step > maxLengths:
		return 0, fault.Field("step", finish.AmountOf(l.Step), "more: at most 100,000 steps from from to to")
	}
	return int64((l.To - l.From) / l.Step), nil
}

// BreakEvenSpan is a stretch of lengths over which the order of two offers is the same.
type BreakEvenSpan struct {
	From    measure.Length `json:"from"`    // the first length in it
	To      measure.Length `json:"to"`      // the last
	Cheaper string         `json:"cheaper"` // label of the cheaper offer, "" where they cost the same
}

// BreakEven returns which of two offers is the cheaper, for every one of the
// lengths: the spans follow each other without a gap, and where one begins the
// order changes. Whole packages and lines rounded to the cent are counted as
// they are, not smoothed over; near the break-even the order may therefore
// change several times. No length is left out for being between two that
// agree: the price of an offer never falls with its length, so a stretch is
// settled by its ends only where the dearer end of one offer costs less than the
// cheaper end of the other.
//
// A purchase that was not proven the cheapest is an [*measure.RangeError], since then
// a price might fall.
func BreakEven(a, b Offer, t Terms, at LengthRange) ([]BreakEvenSpan, error) {
	steps, err := at.fill()
	if err != nil {
		return nil, fault.Under("lengths", err)
	}
	if err := t.check(); err != nil {
		return nil, fault.Under("terms", err)
	}
	if a.Label == b.Label {
		return nil, fault.Field("offers[1].label", b.Label, "a label that no other has")
	}
	m := mapping{offers: [2]Offer{a, b}, terms: t, at: at}
	first, err := m.price(0)
	if err != nil {
		return nil, err
	}
	last, err := m.price(steps)
	if err != nil {
		return nil, err
	}
	if err := m.settle(0, steps, first, last); err != nil {
		return nil, err
	}
	return m.spans, nil
}

// mapping is a [BreakEven] at work.
type mapping struct {
	offers [2]Offer
	terms  Terms
	at     LengthRange
	spans  []BreakEvenSpan
}

func (m *mapping) length(i int64) measure.Length { return m.at.From + measure.Length(i)*m.at.Step }

// price returns what both offers cost at length number i.
func (m *mapping) price(i int64) (p [2]int64, err error) {
	for k, o := range m.offers {
		path := "offers[" + strconv.Itoa(k) + "]"
		c, proven, err := o.at(m.length(i))
		if err != nil {
			return p, fault.Under(path, err)
		}
		if !proven {
			return p, tooLarge(path + ": the number of mixes of packages for " + finish.AmountOf(c.Net).String())
		}
		q, err := NewQuote(c, m.terms)
		if err != nil {
			return p, fault.Under(path, err)
		}
		p[k] = q.Total
	}
	return p, nil
}

// settle adds the spans of lengths number lo to hi, whose prices are given.
func (m *mapping) settle(lo, hi int64, first, last [2]int64) error {
	switch {
	case first == last, last[0] < first[1], last[1] < first[0]:
		m.add(lo, hi, first)
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

func (m *mapping) add(lo, hi int64, p [2]int64) {
	s := BreakEvenSpan{From: m.length(lo), To: m.length(hi)}
	switch {
	case p[0] < p[1]:
		s.Cheaper = m.offers[0].Label
	case p[1] < p[0]:
		s.Cheaper = m.offers[1].Label
	}
	if n := len(m.spans); n > 0 && m.spans[n-1].Cheaper == s.Cheaper {
		m.spans[n-1].To = s.To
		return
	}
	m.spans = append(m.spans, s)
}

// BreakEvenPrice returns the most that the trim of a may cost, in the currency's
// minor unit for all of it, so that a is installed for no more per net foot than
// b as it stands; one unit more and b is the cheaper. Divide by the sticks for a
// price to ask for. It is exact, since it is found on the rounded lines of
// [NewQuote]. ok is false where a is dearer even if its trim costs nothing.
func BreakEvenPrice(a, b Alternative, t Terms) (most int64, ok bool, err error) {
	if err := t.check(); err != nil {
		return 0, false, fault.Under("terms", err)
	}
	want, err := NewQuote(b, t)
	if err != nil {
		return 0, false, fault.Under("alternatives[1]", err)
	}
	a.Sticks = 0
	if _, err := NewQuote(a, t); err != nil {
		return 0, false, fault.Under("alternatives[0]", err)
	}
	// The price never falls as the trim gets dearer, and a price beyond the range
	// is dearer than one within it.
	dearer := func(sticks int64) bool {
		a.Sticks = sticks
		q, err := NewQuote(a, t)
		var over *measure.RangeError
		return errors.As(err, &over) || err == nil && natural.CompareProducts(q.Total, int64(want.Net), want.Total, int64(q.Net)) > 0
	}
	if dearer(0) {
		return 0, false, nil
	}
	lo, hi := int64(0), int64(math.MaxInt64) // lo is not dearer; hi is, or is the end
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
