package optimize

import (
	"slices"

	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/stock"
)

// money reports whether a problem's costs are money; otherwise they are lengths of stock.
func (p *Problem) money() bool {
	if p.Rules.YardCut != 0 {
		return true
	}
	for i := range p.Sticks {
		if s := &p.Sticks[i]; s.Price != 0 || slices.ContainsFunc(s.Breaks, func(b stock.PriceBreak) bool { return b.Price != 0 }) {
			return true
		}
	}
	return slices.ContainsFunc(p.Rules.Charges, func(c Charge) bool { return c.Amount != 0 }) ||
		slices.ContainsFunc(p.Runs, func(r stock.Run) bool { return r.Splice.Price != 0 })
}

// addSuppliers makes a supplier for each charge.
func (in *instance) addSuppliers() {
	p := in.problem
	seller := make(map[string]int, len(p.Rules.Charges))
	for g, ch := range p.Rules.Charges {
		seller[ch.Supplier] = g
		in.model.Suppliers = append(in.model.Suppliers, rules.Supplier{Charge: ch.Amount})
	}
	for c := range in.classes {
		if g, ok := seller[p.Sticks[in.classes[c].sticks[0]].Supplier]; ok {
			in.model.Suppliers[g].Classes = append(in.model.Suppliers[g].Classes, c)
		}
	}
}
