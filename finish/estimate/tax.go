package estimate

import (
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/kind"
)

// TaxBase is the base of a sales tax.
type TaxBase uint8

// The bases of a sales tax.
const (
	TaxMaterialCost  TaxBase = iota // the contractor's cost of materials
	TaxMaterialPrice                // the price of materials, marked up
	TaxAll                          // the whole price or, if the contractor pays it, all direct cost
	TaxNone                         // no tax
)

var taxBaseNames = [...]string{"material cost", "material price", "all", "none"}

// String returns the name of the base, such as material cost.
func (b TaxBase) String() string { return kind.Text("TaxBase", taxBaseNames[:], b) }

// MarshalText returns the name; a base without one is a [*measure.FieldError].
func (b TaxBase) MarshalText() ([]byte, error) {
	return kind.Marshal("TaxBase", "a taxable base", taxBaseNames[:], b)
}

// UnmarshalText reads a name; any other text is a [*measure.FieldError].
func (b *TaxBase) UnmarshalText(t []byte) error {
	return kind.Unmarshal("a taxable base", taxBaseNames[:], t, b)
}

// TaxRule defines the base of a sales tax and who pays it. Rules differ by place, kind of
// building and kind of contract, and change: look yours up and keep its date. In the zero rule
// the contractor pays tax on materials as a consumer and counts it as cost before markup.
type TaxRule struct {
	Label       string  `json:"label,omitempty"`        // place and kind of work
	Base        TaxBase `json:"base,omitempty"`         // the amount of which it is a share
	ByClient    bool    `json:"by_client,omitempty"`    // the client pays it on top of the price; else the contractor pays it
	PassThrough bool    `json:"pass_through,omitempty"` // the contractor's tax is passed on without overhead, contingency and markup
	Source      string  `json:"source,omitempty"`       // statute, regulation or publication
	Date        string  `json:"date,omitempty"`         // of the source, as published
	LookUp      string  `json:"look_up,omitempty"`      // what to look up before use
}

func (r TaxRule) check() error {
	var bad fault.List
	if _, err := r.Base.MarshalText(); err != nil {
		bad.Under("base", err)
	}
	if r.Base == TaxMaterialPrice && !r.ByClient {
		bad.Add("by_client", r.ByClient, "true: a tax on the price of materials is charged to the client")
	}
	return bad.Err()
}

// inside reports whether the tax is a cost to which overhead and markup are added.
func (r TaxRule) inside() bool { return r.Base != TaxNone && !r.ByClient && !r.PassThrough }

// taxes reports whether the contractor pays tax on a direct cost.
func (r TaxRule) taxes(c *Cost) bool { return r.taxesClass(c.material()) }

func (r TaxRule) taxesClass(material bool) bool {
	return !r.ByClient && (r.Base == TaxAll || r.Base == TaxMaterialCost && material)
}

// TaxRules returns the rules of some places, as a fresh slice: examples to start from, not
// advice. None has a rate; the rate is that of the site, in the terms.
func TaxRules() []TaxRule {
	const lookUp = "the rate where the work is done, and whether the rule still stands"
	const texas = "34 TAC 3.291; Comptroller Publication 94-116; Audit Procedures for Contractors, chapter 3"
	const newYork = "New York State Publication 862"
	return []TaxRule{
		{Label: "Texas, residential repair or remodeling, lump sum", Base: TaxMaterialCost, Source: texas, Date: "2008", LookUp: lookUp},
		{Label: "Texas, residential repair or remodeling, separated contract", Base: TaxMaterialPrice, ByClient: true, Source: texas, Date: "2008", LookUp: lookUp},
		{Label: "Texas, nonresidential remodeling", Base: TaxAll, ByClient: true, Source: texas, Date: "2008", LookUp: lookUp},
		{Label: "California, materials in a lump sum", Base: TaxMaterialCost, Source: "Regulation 1521", LookUp: lookUp + "; fixtures are sold at retail"},
		{Label: "California, tax billed on marked-up materials", Base: TaxMaterialPrice, ByClient: true, Source: "Regulation 1521", LookUp: lookUp + "; who bills it is a retailer of them"},
		{Label: "New York, capital improvement with Form ST-124", Base: TaxMaterialCost, Source: newYork, Date: "4/01", LookUp: lookUp},
		{Label: "New York, repair, maintenance or installation", Base: TaxAll, ByClient: true, Source: newYork, Date: "4/01", LookUp: lookUp + "; how tax paid on purchases counts"},
		{Label: "Washington, work for a consumer", Base: TaxAll, ByClient: true, Source: "WAC 458-20-170, from memory", LookUp: lookUp},
	}
}
