package estimate

import (
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/kind"
	"example.com/longpoint/measure"
)

// Quote is the price of one alternative, and what it is made of.
type Quote struct {
	Label string      `json:"label"` // the alternative's
	Lines []QuoteLine `json:"lines"` // sum to Total exactly
	Costs []CostShare `json:"costs"` // what each cost bears of Cost, Price and ClientTax; sums to them exactly

	Direct    int64 `json:"direct"`     // direct cost with labor burden, in cents
	Cost      int64 `json:"cost"`       // in cents, all that the contractor expects to spend: all lines before markup or margin, contingency and the contractor's tax
	Price     int64 `json:"price"`      // what the contract asks before the client's tax
	Materials int64 `json:"materials"`  // of Price, what a separated contract states for trim, consumables and what else is Taxed: their cost with the exact shares of the terms, at most Price, all of it where there is nothing else
	ClientTax int64 `json:"client_tax"` // on top of the price
	Total     int64 `json:"total"`      // what the client pays: Price and ClientTax

	Labor     measure.Duration `json:"labor"`      // of all costs
	Net       measure.Length   `json:"net"`        // the alternative's
	UnitPrice int64            `json:"unit_price"` // Total per Unit of Net in cents, rounded half to even; 0 without Net
	Unit      measure.Length   `json:"unit"`       // a foot, or a meter where the terms are metric

	Markup  measure.Ratio `json:"markup,omitempty"`  // of cost, as the terms say or as their margin makes it
	Margin  measure.Ratio `json:"margin,omitempty"`  // of price, as the terms say or as their markup makes it
	Reached measure.Ratio `json:"reached,omitempty"` // margin of Price over Cost as it comes out, with what is passed on and all rounding; half to even

	Findings []Finding `json:"findings,omitempty"` // what in the terms is allowed and probably a mistake
}

// LinePart says which part of a price a line is.
type LinePart uint8

// The parts of a price, in the order in which they are built up.
const (
	PartDirect      LinePart = iota // one of the costs
	PartBurden                      // on labor
	PartTax                         // that the contractor pays
	PartOverhead                    // of the business
	PartContingency                 // for what is not known yet
	PartMarkup                      // or margin, the terms' or a cost's own
	PartMinimum                     // what a small job lacks to the minimum charge
	PartRounding                    // up to a round price
	PartClientTax                   // that the client pays on top
)

var linePartNames = [...]string{"direct", "burden", "tax", "overhead", "contingency", "markup", "minimum", "rounding", "client tax"}

// String returns the name of the part, such as overhead.
func (p LinePart) String() string { return kind.Text("LinePart", linePartNames[:], p) }

// MarshalText returns the name; a part without one is a [*measure.FieldError].
func (p LinePart) MarshalText() ([]byte, error) {
	return kind.Marshal("LinePart", "a part of a price", linePartNames[:], p)
}

// UnmarshalText reads a name; any other text is a [*measure.FieldError].
func (p *LinePart) UnmarshalText(b []byte) error {
	return kind.Unmarshal("a part of a price", linePartNames[:], b, p)
}

// profit reports whether the part is beyond cost.
func (p LinePart) profit() bool { return p == PartMarkup || p == PartMinimum || p == PartRounding }

// QuoteLine is one amount of a quote.
type QuoteLine struct {
	Label  string   `json:"label"`  // such as "labor" or "tax 6%"
	Part   LinePart `json:"part"`   // what it is
	Amount int64    `json:"amount"` // in cents
}

// CostShare is a cost and what it bears of a quote. Shares are exact before they are made
// whole: cents left over go to the largest remainders, so that any table of a quote adds
// up to its total.
type CostShare struct {
	Cost      `json:"cost"` // as given, or what the short fields of the alternative stand for
	Direct    int64         `json:"direct"`     // in cents, with burden: of the quote's Direct
	Loaded    int64         `json:"loaded"`     // of the quote's Cost
	Price     int64         `json:"price"`      // of the quote's Price; at least Loaded
	ClientTax int64         `json:"client_tax"` // of the quote's ClientTax
}

// NewQuote prices an alternative. Unless the terms round per total, each line is computed
// from the lines before it as they stand, in whole cents, and rounded once; so the lines
// sum to the total without a difference. All that is wrong with terms and alternative is
// reported at once.
func NewQuote(c Alternative, t Terms) (*Quote, error) {
	var bad fault.List
	bad.Under("terms", t.check())
	bad.Under("", c.check())
	if err := bad.Err(); err != nil {
		return nil, err
	}
	p := newPricing(c, t)
	if !p.settle() {
		return nil, tooLarge("the installed cost of " + c.Label)
	}
	p.spread()
	if !p.charge() {
		return nil, tooLarge("the tax on " + c.Label)
	}
	q := p.quote(c)
	if t.Locale.Metric {
		q.Unit = measure.Meter
	}
	ok := true
	if q.Net > 0 {
		q.UnitPrice, ok = mulDiv(q.Total, int64(q.Unit), int64(q.Net))
	}
	if !ok {
		return nil, tooLarge("the unit price of " + c.Label)
	}
	if q.Price > 0 {
		r, _ := mulDiv(q.Price-q.Cost, int64(whole), q.Price)
		q.Reached = measure.Ratio(r)
	}
	return q, nil
}

// priceOf returns what the client pays, the Total of NewQuote; terms and alternative have
// been checked.
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
