package estimate

import (
	"strconv"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// Terms are the terms under which alternatives are priced. Every zero charges nothing.
//
// A price is calculated in this order: direct cost and labor burden; the contractor's tax,
// unless the rule passes it on; overhead; contingency, unless it comes after markup. Their sum
// is the cost to which markup or margin applies. Then come the costs passed on: costs that are
// PassThrough with their own markup, contingency after markup, tax that is passed on. Then the
// minimum charge and the rounding up of the price, and finally the client's tax.
type Terms struct {
	Wage        int64         `json:"wage"`                  // cents per hour of labor; >= 0. Less than 100 is a [Finding]. See [Employment] for a burdened rate
	Burden      measure.Ratio `json:"burden,omitempty"`      // of the wage: insurance, payroll taxes; 0-1000 %. 30-50 % (common practice, no source)
	Tax         measure.Ratio `json:"tax,omitempty"`         // sales tax rate at the site; 0-1000 %. Look it up
	TaxRule     TaxRule       `json:"tax_rule,omitzero"`     // base and payer of the tax; see [TaxRules]
	Overhead    measure.Ratio `json:"overhead,omitempty"`    // of all before it; 0-1000 %. Zero if the markup covers it
	Contingency measure.Ratio `json:"contingency,omitempty"` // of everything before it; 0-1000 %. 5-10 % in a known house, 10-20 % in an old one (common practice, no source)

	ContingencyRisky bool `json:"contingency_risky,omitempty"` // contingency is a share only of the costs that are Risky, with their burden
	ContingencyAfter bool `json:"contingency_after,omitempty"` // contingency is added after markup, without markup on it

	Markup measure.Ratio `json:"markup,omitempty"` // of cost; 0-1000 %. Exclusive with Margin
	Margin measure.Ratio `json:"margin,omitempty"` // of price; below 100 %. Exclusive with Markup

	Minimum  int64    `json:"minimum,omitempty"` // minimum price before the client's tax, in cents; >= 0. Half a day is usual (common practice, no source)
	Rounding Rounding `json:"rounding,omitzero"`

	// Locale is the format of the labels of lines. If it is metric, a unit price is per meter.
	// Amounts are in the minor unit of its Currency, called cents in these comments.
	Locale measure.Locale `json:"locale,omitzero"`
}

// Rounding defines how amounts are rounded to cents. The zero value rounds every line, a half
// to the even cent.
type Rounding struct {
	PerTotal bool  `json:"per_total,omitempty"` // round cost, price and the client's tax once each, from exact amounts, and then make the lines add up
	HalfUp   bool  `json:"half_up,omitempty"`   // round a half up, not to the even cent
	UpTo     int64 `json:"up_to,omitempty"`     // round the price before the client's tax up, once, to a multiple of this many cents; >= 0. 500 is the next $5
}

// Finding is a value that is allowed but probably a mistake.
type Finding struct {
	Code   FindingCode `json:"code"`   // what is found
	Field  string      `json:"field"`  // path by JSON names, such as "terms.wage"
	Value  string      `json:"value"`  // the value as text
	Reason string      `json:"reason"` // the reason, in one sentence
}

// A FindingCode names a kind of finding in a quote, a payment schedule or an update of rates. Later
// versions may add codes: go by the Reason of a finding with an unknown one.
type FindingCode string

const (
	FindingLowWage     FindingCode = "low wage"     // less than a major unit an hour, such as dollars entered for cents
	FindingDownPayment FindingCode = "down payment" // more than the law allows: reduced to the limit
	FindingLoggedHours FindingCode = "logged hours" // at least three times the estimate, or at most a third of it
)

// wantCents describes a valid amount of money.
const wantCents = "whole cents, zero or more"

// findings lists the terms and the wages of costs that are probably mistakes.
func (t Terms) findings(costs []Cost) []Finding {
	found := t.oddWage("terms.wage", t.Wage)
	for i, c := range costs {
		found = append(found, t.oddWage("costs["+strconv.Itoa(i)+"].wage", c.Wage)...)
	}
	return found
}

// oddWage reports a wage of less than a major unit.
func (t Terms) oddWage(field string, n int64) []Finding {
	minor := t.Locale.Currency.Minor
	if minor == 0 {
		minor = 100
	}
	if n <= 0 || n >= minor {
		return nil
	}
	wage := strconv.FormatInt(n, 10)
	if t.Locale.Currency != (measure.Currency{}) {
		meant := n * minor // below 10^18
		return []Finding{{FindingLowWage, field, wage, "money is in the minor unit, so this is " + t.Locale.FormatMoney(n) + " an hour; " +
			t.Locale.FormatMoney(meant) + " would be " + strconv.FormatInt(meant, 10)}}
	}
	return []Finding{{FindingLowWage, field, wage, "money is in cents, so this is " + wage + " cents an hour; " + wage + " dollars would be " + wage + "00"}}
}

// shares returns the markup on cost and the margin on price of the terms, each computed from
// the other.
func (t Terms) shares() (markup, margin measure.Ratio) {
	switch {
	case t.Markup > 0:
		m, _ := mulDiv(int64(t.Markup), int64(whole), int64(whole+t.Markup))
		return t.Markup, measure.Ratio(m)
	case t.Margin > 0:
		m, _ := mulDiv(int64(t.Margin), int64(whole), int64(whole-t.Margin))
		return measure.Ratio(m), t.Margin
	}
	return 0, 0
}

func (t Terms) check() error {
	var bad fault.List
	if t.Wage < 0 {
		bad.Add("wage", t.Wage, wantCents)
	}
	for _, f := range [...]struct {
		name string
		r    measure.Ratio
	}{{"burden", t.Burden}, {"tax", t.Tax}, {"overhead", t.Overhead}, {"contingency", t.Contingency}, {"markup", t.Markup}} {
		bad.Under("", fault.UpTo(f.name, f.r, 10*whole))
	}
	bad.Under("", fault.Below("margin", t.Margin, whole))
	if t.Markup != 0 && t.Margin != 0 {
		bad.Add("margin", t.Margin, "nothing beside markup ("+t.Markup.String()+")")
	}
	bad.Under("tax_rule", t.TaxRule.check())
	if t.Minimum < 0 {
		bad.Add("minimum", t.Minimum, wantCents)
	}
	if t.Rounding.UpTo < 0 {
		bad.Add("rounding.up_to", t.Rounding.UpTo, wantCents)
	}
	bad.Under("locale", t.Locale.Validate())
	return bad.Err()
}
