package estimate

import (
	"cmp"
	"strconv"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// PaymentTerms determine when a price is paid. The zero value is one payment at completion.
// Except for the down payment, no payment is ahead of the work.
type PaymentTerms struct {
	Down      measure.Ratio  `json:"down,omitempty"`      // share of the price due on signing; 0-100 %. 10 % is usual where it is legal (common practice, no source)
	DownLimit DownLimit      `json:"down_limit,omitzero"` // limit by local law; see [DownLimits]
	Stages    []PaymentStage `json:"stages,omitempty"`    // progress payments, the last at 100 %; none means completion alone
	Retainage measure.Ratio  `json:"retainage,omitempty"` // share of the earned amount held until the release; 0 to below 100 %. 5-10 %, rare in small residential work (common practice, no source)
	Release   string         `json:"release,omitempty"`   // label of the payment of the retainage; "" = release of retainage
	Locale    measure.Locale `json:"locale,omitzero"`     // format of findings
}

// PaymentStage is a point of the work at which a payment is due.
type PaymentStage struct {
	Label string        `json:"label"` // not empty, such as "base and casing installed"
	Done  measure.Ratio `json:"done"`  // share of the whole work done by then; more than the stage before, 100 % at the last
}

// DownLimit is the greatest down payment that the law of a place allows before work begins.
// With a share and an amount the lower one applies; the zero value is no limit.
type DownLimit struct {
	Label  string        `json:"label,omitempty"`   // place and kind of work
	Share  measure.Ratio `json:"share,omitempty"`   // of the price; 0 = no limit by share
	Amount int64         `json:"amount,omitempty"`  // in cents; 0 = no limit by amount
	Source string        `json:"source,omitempty"`  // statute
	Date   string        `json:"date,omitempty"`    // of the source, as published
	LookUp string        `json:"look_up,omitempty"` // what to look up before use
}

// DownLimits returns the limits of some places, as a fresh slice: examples to start from, not
// advice.
func DownLimits() []DownLimit {
	return []DownLimit{{Label: "California, home improvement", Share: 10 * measure.Percent, Amount: 1000_00,
		Source: "Business and Professions Code 7159, 7159.5", LookUp: "whether the sections still say so, and what else the contract must have"}}
}

// of returns the limit for a price.
func (l DownLimit) of(price int64) int64 {
	most := price
	if l.Share > 0 {
		down, _, _ := measure.Length(price).MulDiv(int64(l.Share), int64(whole), measure.RoundDown)
		most = min(most, int64(down))
	}
	if l.Amount > 0 {
		most = min(most, l.Amount)
	}
	return most
}

// PaymentSchedule lists the payments of a price, to the cent.
type PaymentSchedule struct {
	Payments []Payment `json:"payments"`           // sum exactly to the price
	Findings []Finding `json:"findings,omitempty"` // a down payment that was reduced to the limit
}

// Payment is one payment of a schedule. Amounts are in cents.
type Payment struct {
	Label  string        `json:"label"`  // of its stage, "on signing" or that of the release
	Done   measure.Ratio `json:"done"`   // share of the work done by then
	Earned int64         `json:"earned"` // by then, rounded half to even
	Held   int64         `json:"held"`   // of that as retainage, rounded half to even
	Due    int64         `json:"due"`    // now: earned and not held, less earlier payments
	Paid   int64         `json:"paid"`   // total, with this payment
}

func (t PaymentTerms) check() error {
	var bad fault.List
	bad.Under("", fault.UpTo("down", t.Down, whole))
	bad.Under("", fault.Below("retainage", t.Retainage, whole))
	bad.Under("down_limit", fault.UpTo("share", t.DownLimit.Share, whole))
	if t.DownLimit.Amount < 0 {
		bad.Add("down_limit.amount", t.DownLimit.Amount, wantCents)
	}
	before := measure.Ratio(0)
	for i, s := range t.Stages {
		at := "stages[" + strconv.Itoa(i) + "]."
		if s.Label == "" {
			bad.Add(at+"label", s.Label, "a name")
		}
		switch last := i == len(t.Stages)-1; {
		case last && s.Done != whole:
			bad.Add(at+"done", s.Done, "100% at the last stage")
		case !last && (s.Done <= before || s.Done >= whole):
			bad.Add(at+"done", s.Done, "more than "+before.String()+" and less than 100%")
		}
		before = max(before, s.Done)
	}
	bad.Under("locale", t.Locale.Validate())
	return bad.Err()
}

// NewPaymentSchedule divides a price, such as Total of a quote, into payments. A down payment
// above the limit is reduced to it and reported as a finding. At each stage the amount earned
// is due, less retainage and earlier payments; nothing is due while the down payment exceeds
// it.
//
// The error joins a [*measure.FieldError] for a price below zero and each invalid term.
func NewPaymentSchedule(price int64, t PaymentTerms) (*PaymentSchedule, error) {
	var bad fault.List
	if price < 0 {
		bad.Add("price", price, wantCents)
	}
	bad.Under("terms", t.check())
	if err := bad.Err(); err != nil {
		return nil, err
	}
	s := &PaymentSchedule{}
	paid := int64(0)
	add := func(p Payment) {
		p.Due = max(0, p.Earned-p.Held-paid)
		paid += p.Due
		p.Paid = paid
		s.Payments = append(s.Payments, p)
	}
	if t.Down > 0 {
		down := of(price, t.Down)
		if most := t.DownLimit.of(price); down > most {
			s.Findings = append(s.Findings, Finding{FindingDownPayment, "terms.down", t.Down.String(), "of " + t.Locale.FormatMoney(price) + " that is " + t.Locale.FormatMoney(down) +
				"; " + cmp.Or(t.DownLimit.Label, "the limit") + " allows " + t.Locale.FormatMoney(most) + ", which is asked"})
			down = most
		}
		paid = down
		s.Payments = append(s.Payments, Payment{Label: "on signing", Due: down, Paid: down})
	}
	stages := t.Stages
	if len(stages) == 0 {
		stages = []PaymentStage{{"completion", whole}}
	}
	for _, g := range stages {
		earned := of(price, g.Done)
		add(Payment{Label: g.Label, Done: g.Done, Earned: earned, Held: of(earned, t.Retainage)})
	}
	if paid < price {
		add(Payment{Label: cmp.Or(t.Release, "release of retainage"), Done: whole, Earned: price})
	}
	return s, nil
}

// of returns a share up to 100 % of an amount, rounded half to even.
func of(amount int64, r measure.Ratio) int64 {
	n, _ := mulDiv(amount, int64(r), int64(whole))
	return n
}
