package estimate

import (
	"strconv"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

// Alternative is one way to do a job: a material with what it takes.
type Alternative struct {
	Label       string           `json:"label"`            // not empty
	Net         measure.Length   `json:"net"`              // installed, net of waste; > 0
	Sticks      int64            `json:"sticks"`           // cost of the trim itself in cents, such as Sticks of a plan's summary; >= 0. Splices are labor: an extra that is not taxed
	Consumables int64            `json:"consumables"`      // cost of whole packages in cents, such as List.Cost; >= 0
	Labor       measure.Duration `json:"labor"`            // >= 0
	Extras      []Extra          `json:"extras,omitempty"` // delivery, disposal, ...
}

// Extra is a further cost of an alternative.
type Extra struct {
	Label  string `json:"label"`           // not empty, told apart
	Amount int64  `json:"amount"`          // in cents; >= 0
	Taxed  bool   `json:"taxed,omitempty"` // material tax applies
}

// Terms are what all alternatives are priced under. Every zero charges nothing.
type Terms struct {
	Wage        int64         `json:"wage"`                  // cents per hour of labor; >= 0. Less than 100 is a [Finding]
	Burden      measure.Ratio `json:"burden,omitempty"`      // of the wage: insurance, payroll taxes; 0-1000 %
	Tax         measure.Ratio `json:"tax,omitempty"`         // of materials; 0-1000 %. A local rule: look it up
	LaborTaxed  bool          `json:"labor_taxed,omitempty"` // the tax applies to labor too, as in some places
	Contingency measure.Ratio `json:"contingency,omitempty"` // of everything before it; 0-1000 %. 5-10 % in a known house, 10-20 % in an old one (common practice, no source)
	Markup      measure.Ratio `json:"markup,omitempty"`      // of cost; 0-1000 %. Not together with Margin
	Margin      measure.Ratio `json:"margin,omitempty"`      // of price; below 100 %. Not together with Markup

	// Locale is how the labels of lines are written. With Metric, a unit price is per
	// meter. Amounts are counted in the minor unit of its Currency, of which the
	// comments here speak as cents.
	Locale measure.Locale `json:"locale,omitzero"`
}

// Quote is the installed cost of one alternative.
type Quote struct {
	Label     string         `json:"label"`      // the alternative's
	Lines     []QuoteLine    `json:"lines"`      // sum to Total exactly
	Cost      int64          `json:"cost"`       // in cents, before markup or margin
	Total     int64          `json:"total"`      // the price, in cents
	Net       measure.Length `json:"net"`        // the alternative's
	UnitPrice int64          `json:"unit_price"` // Total per Unit of Net in cents, rounded half to even
	Unit      measure.Length `json:"unit"`       // a foot, or a meter where the terms are metric

	Markup measure.Ratio `json:"markup,omitempty"` // of cost, as the terms say or as their margin makes it
	Margin measure.Ratio `json:"margin,omitempty"` // of price, as the terms say or as their markup makes it

	Findings []Finding `json:"findings,omitempty"` // what in the terms is allowed and probably a mistake
}

// QuoteLine is one amount of a quote, rounded once, half to even.
type QuoteLine struct {
	Label  string `json:"label"`  // such as "labor" or "tax 6%"
	Amount int64  `json:"amount"` // in cents
}

// Finding is a value that is allowed and yet probably a mistake.
type Finding struct {
	Field  string `json:"field"`  // path by JSON names, such as "terms.wage"
	Value  string `json:"value"`  // the value as text
	Reason string `json:"reason"` // what is odd about it, in one sentence
}

// wantCents says what an amount of money must be.
const wantCents = "whole cents, zero or more"

// findings lists what in the terms is probably a mistake.
func (t Terms) findings() []Finding {
	minor := t.Locale.Currency.Minor
	if minor == 0 {
		minor = 100
	}
	if t.Wage <= 0 || t.Wage >= minor {
		return nil
	}
	wage := strconv.FormatInt(t.Wage, 10)
	if t.Locale.Currency != (measure.Currency{}) {
		meant := t.Wage * minor // below 10^18
		return []Finding{{"terms.wage", wage, "money is in the minor unit, so this is " + t.Locale.FormatMoney(t.Wage) + " an hour; " +
			t.Locale.FormatMoney(meant) + " would be " + strconv.FormatInt(meant, 10)}}
	}
	return []Finding{{"terms.wage", wage, "money is in cents, so this is " + wage + " cents an hour; " + wage + " dollars would be " + wage + "00"}}
}

// shares returns the markup on cost and the margin on price that the terms make, each
// from the other, rounded half to even: a markup of 25 % is a margin of 20 %.
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
	if t.Wage < 0 {
		return fault.Field("wage", t.Wage, wantCents)
	}
	for _, f := range [...]struct {
		name string
		r    measure.Ratio
	}{{"burden", t.Burden}, {"tax", t.Tax}, {"contingency", t.Contingency}, {"markup", t.Markup}} {
		if err := upTo(f.name, f.r, 10*whole); err != nil {
			return err
		}
	}
	if err := share("margin", t.Margin, whole); err != nil {
		return err
	}
	if t.Markup != 0 && t.Margin != 0 {
		return fault.Field("margin", t.Margin, "nothing beside markup ("+t.Markup.String()+")")
	}
	return fault.Under("locale", t.Locale.Validate())
}

func (c Alternative) check() error {
	switch {
	case c.Label == "":
		return fault.Field("label", c.Label, "a name")
	case c.Net <= 0:
		return fault.Field("net", c.Net.About(), "more than zero")
	case c.Sticks < 0:
		return fault.Field("sticks", c.Sticks, wantCents)
	case c.Consumables < 0:
		return fault.Field("consumables", c.Consumables, wantCents)
	case c.Labor < 0:
		return fault.Field("labor", c.Labor, "zero or more")
	}
	for i, x := range c.Extras {
		at := "extras[" + strconv.Itoa(i) + "]"
		if x.Label == "" {
			return fault.Field(at+".label", x.Label, "a name")
		}
		if x.Amount < 0 {
			return fault.Field(at+".amount", x.Amount, wantCents)
		}
		for _, other := range c.Extras[:i] {
			if other.Label == x.Label {
				return fault.Field(at+".label", x.Label, "a label that no other has")
			}
		}
	}
	return nil
}

// NewQuote works out the installed cost of an alternative. Each line is computed from
// the lines before it as they stand, in whole cents, and rounded once,
// half to even; so the lines sum to the total without a difference.
func NewQuote(c Alternative, t Terms) (*Quote, error) {
	if err := t.check(); err != nil {
		return nil, fault.Under("terms", err)
	}
	if err := c.check(); err != nil {
		return nil, err
	}
	b := bill{ok: true}
	b.line("sticks", c.Sticks)
	b.line("consumables", c.Consumables)
	taxed := b.total
	for _, x := range c.Extras {
		b.line(x.Label, x.Amount)
		if x.Taxed {
			taxed = b.plus(taxed, x.Amount)
		}
	}
	labor := b.of(int64(c.Labor), t.Wage, int64(hour))
	b.line("labor", labor)
	if t.Burden > 0 {
		burden := b.of(labor, int64(t.Burden), int64(whole))
		b.line("labor burden "+t.Locale.FormatRatio(t.Burden), burden)
		labor = b.plus(labor, burden)
	}
	if t.LaborTaxed {
		taxed = b.plus(taxed, labor)
	}
	if t.Tax > 0 {
		b.line("tax "+t.Locale.FormatRatio(t.Tax), b.of(taxed, int64(t.Tax), int64(whole)))
	}
	if t.Contingency > 0 {
		b.line("contingency "+t.Locale.FormatRatio(t.Contingency), b.of(b.total, int64(t.Contingency), int64(whole)))
	}
	cost := b.total
	switch {
	case t.Markup > 0:
		b.line("markup "+t.Locale.FormatRatio(t.Markup)+" of cost", b.of(cost, int64(t.Markup), int64(whole)))
	case t.Margin > 0:
		b.line("margin "+t.Locale.FormatRatio(t.Margin)+" of price", b.of(cost, int64(t.Margin), int64(whole-t.Margin)))
	}
	per := measure.Foot
	if t.Locale.Metric {
		per = measure.Meter
	}
	unit := b.of(b.total, int64(per), int64(c.Net))
	if !b.ok {
		return nil, tooLarge("the installed cost of " + c.Label)
	}
	markup, margin := t.shares()
	return &Quote{Label: c.Label, Lines: b.lines, Cost: cost, Total: b.total, Net: c.Net, UnitPrice: unit, Unit: per, Markup: markup, Margin: margin, Findings: t.findings()}, nil
}

// bill collects lines and remembers whether everything fitted.
type bill struct {
	lines []QuoteLine
	total int64
	ok    bool
}

func (b *bill) line(label string, amount int64) {
	b.lines = append(b.lines, QuoteLine{label, amount})
	b.total = b.plus(b.total, amount)
}

func (b *bill) plus(x, y int64) int64 {
	s, ok := natural.Add(x, y)
	b.ok = b.ok && ok
	return s
}

func (b *bill) of(x, num, den int64) int64 {
	q, ok := mulDiv(x, num, den)
	b.ok = b.ok && ok
	return q
}
