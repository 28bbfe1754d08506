package estimate

import (
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/kind"
	"example.com/longpoint/measure"
)

// Quote is the price of one alternative, with its parts.
type Quote struct {
	Label string      `json:"label"` // the alternative's
	Lines []QuoteLine `json:"lines"` // first a line for each of Costs, in their order, then the others; they sum to Total exactly
	Costs []CostShare `json:"costs"` // share of each cost in Cost, Price and ClientTax; they sum to them exactly

	Direct    int64 `json:"direct"`     // direct cost with labor burden, in cents
	Cost      int64 `json:"cost"`       // in cents, the contractor's total expected cost: all lines before markup or margin, contingency and the contractor's tax included
	Price     int64 `json:"price"`      // the contract price before the client's tax
	Materials int64 `json:"materials"`  // part of Price that a separated contract states for trim, consumables and other Taxed costs: their cost with the exact shares of the terms, at most Price, all of it if there are no other costs
	ClientTax int64 `json:"client_tax"` // in addition to the price
	Total     int64 `json:"total"`      // total for the client: Price and ClientTax

	Labor     measure.Duration `json:"labor"`      // of all costs
	Net       measure.Length   `json:"net"`        // the alternative's
	UnitPrice int64            `json:"unit_price"` // Total per Unit of Net in cents, rounded half to even; 0 without Net
	Unit      measure.Length   `json:"unit"`       // a foot, or a meter if the terms are metric

	Markup  measure.Ratio `json:"markup,omitempty"`  // of cost, given by the terms or computed from their margin
	Margin  measure.Ratio `json:"margin,omitempty"`  // of price, given by the terms or computed from their markup
	Reached measure.Ratio `json:"reached,omitempty"` // actual margin of Price over Cost, with all that is passed on and all rounding; half to even

	Findings []Finding `json:"findings,omitempty"` // values in the terms that are allowed but probably mistakes
}

// Part is the part of a price to which a line belongs.
type Part uint8

// The parts of a price, in the order of its calculation.
const (
	PartDirect      Part = iota // one of the costs
	PartBurden                  // on labor
	PartTax                     // paid by the contractor
	PartOverhead                // of the business
	PartContingency             // for unknowns
	PartMarkup                  // or margin, of the terms or of a cost itself
	PartMinimum                 // difference to the minimum charge
	PartRounding                // up to a round price
	PartClientTax               // paid by the client on top
)

var partNames = [...]string{"direct", "burden", "tax", "overhead", "contingency", "markup", "minimum", "rounding", "client tax"}

// String returns the name of the part, such as overhead.
func (p Part) String() string { return kind.Text("Part", partNames[:], p) }

// MarshalText returns the name; a part without one is a [*measure.FieldError].
func (p Part) MarshalText() ([]byte, error) {
	return kind.Marshal("Part", "a part of a price", partNames[:], p)
}

// UnmarshalText reads a name; any other text is a [*measure.FieldError].
func (p *Part) UnmarshalText(b []byte) error {
	return kind.Unmarshal("a part of a price", partNames[:], b, p)
}

// profit reports whether the part is added to cost.
func (p Part) profit() bool { return p == PartMarkup || p == PartMinimum || p == PartRounding }

// QuoteLine is one amount of a quote.
type QuoteLine struct {
	Label  string `json:"label"`  // such as "sticks, pine base" or "tax 6%": of a cost its label with those of its profile, step and room with which it does not begin
	Part   Part   `json:"part"`   // the part of the price
	Amount int64  `json:"amount"` // in cents
}

// CostShare is a cost and its shares of a quote. Shares are exact before rounding; the
// remaining cents go to the largest remainders, so that any table of a quote adds up to its
// total.
type CostShare struct {
	Cost      `json:"cost"` // as given, or from the short fields of the alternative
	Direct    int64         `json:"direct"`     // in cents, with burden: part of the quote's Direct
	Loaded    int64         `json:"loaded"`     // part of the quote's Cost
	Price     int64         `json:"price"`      // part of the quote's Price; at least Loaded
	ClientTax int64         `json:"client_tax"` // part of the quote's ClientTax
}

// NewQuote prices an alternative. Unless the terms round per total, each line is computed from
// the rounded lines before it, and rounded once to whole cents, so the lines sum to the total
// exactly. All faults of terms and alternative are reported together.
func NewQuote(a Alternative, t Terms) (*Quote, error) {
	var bad fault.List
	bad.Under("terms", t.check())
	bad.Under("", a.check())
	if err := bad.Err(); err != nil {
		return nil, err
	}
	p := newPricing(a, t)
	if !p.settle() {
		return nil, tooLarge("the installed cost of " + a.Label)
	}
	p.spread()
	if !p.charge() {
		return nil, tooLarge("the tax on " + a.Label)
	}
	q := p.quote(a)
	if t.Locale.Metric {
		q.Unit = measure.Meter
	}
	ok := true
	if q.Net > 0 {
		q.UnitPrice, ok = mulDiv(q.Total, int64(q.Unit), int64(q.Net))
	}
	if !ok {
		return nil, tooLarge("the unit price of " + a.Label)
	}
	if q.Price > 0 {
		r, _ := mulDiv(q.Price-q.Cost, int64(whole), q.Price)
		q.Reached = measure.Ratio(r)
	}
	return q, nil
}

// priceOf returns the client's total, the Total of NewQuote, for valid terms and alternative.
func priceOf(c Alternative, t Terms) (int64, error) {
	p := newPricing(c, t)
	ok := p.settle()
	if ok {
		ok = p.charge()
	}
	if !ok {
		return 0, tooLarge("the installed cost of " + c.Label)
	}
	return p.total, nil
}
