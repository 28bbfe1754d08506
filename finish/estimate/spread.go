package estimate

import (
	"math/big"

	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

// spread works out what each cost bears of cost and price. All costs that are treated
// alike bear the same per cent of direct cost, so there are few factors.
func (p *pricing) spread() {
	n := len(p.costs)
	direct, loaded, profit := make([]*big.Rat, n), make([]*big.Rat, n), make([]*big.Rat, n)
	type class struct{ material, risky, apart bool }
	type load struct{ loaded, profit *big.Rat }
	known := map[class]load{}
	for i, c := range p.costs {
		k := class{c.material(), c.Risky, c.Apart}
		f, ok := known[k]
		if !ok {
			f.loaded, f.profit = p.load(c)
			known[k] = f
		}
		direct[i] = p.burdened(i).rat()
		loaded[i] = new(big.Rat).Mul(direct[i], f.loaded)
		if c.Apart {
			profit[i] = p.own[i].rat()
		} else {
			profit[i] = new(big.Rat).Mul(direct[i], f.profit)
		}
	}
	lift := int64(0)
	for _, l := range p.added {
		lift += l.Amount
	}
	if lift > 0 {
		p.lift(lift, loaded, profit)
	}
	p.shares = make([]CostShare, n)
	sum := int64(0)
	for i, l := range p.lines {
		if l.part == PartDirect || l.part == PartBurden {
			sum += p.amounts[i]
		}
	}
	for i, v := range apportion(sum, direct) {
		p.shares[i] = CostShare{Cost: p.costs[i], Direct: v}
	}
	for i, v := range apportion(p.cost, loaded) {
		p.shares[i].Loaded = v
	}
	for i, v := range apportion(p.price-p.cost, profit) {
		p.shares[i].Price = p.shares[i].Loaded + v
	}
}

// load returns what a cent of direct cost such as c bears of the cost and of the markup.
func (p *pricing) load(c Cost) (loaded, profit *big.Rat) {
	one := big.NewRat(1, 1)
	loaded, profit = new(big.Rat).Set(one), new(big.Rat)
	rule := p.terms.TaxRule
	inside := rule.inside() && !c.Apart
	if rule.taxes(&c) && inside {
		loaded.Add(loaded, p.taxIn.rat())
	}
	if !c.Apart {
		loaded.Mul(loaded, one.Add(one, p.overhead.rat()))
		contingency := p.contingency.rat()
		switch {
		case !p.terms.ContingencyRisky:
			contingency.Mul(loaded, contingency)
		case !c.Risky:
			contingency.SetInt64(0)
		}
		marked := new(big.Rat).Set(loaded)
		loaded.Add(loaded, contingency)
		if !p.terms.ContingencyAfter {
			marked.Set(loaded)
		}
		profit.Mul(marked, p.markup.rat())
	}
	if rule.taxes(&c) && !inside {
		loaded.Add(loaded, p.taxOut.rat())
	}
	return loaded, profit
}

// lift adds the minimum charge and the rounding of the price to the profits, in proportion
// to the price that each cost has without them. What is passed on stays as it is, unless
// there is nothing else.
func (p *pricing) lift(by int64, loaded, profit []*big.Rat) {
	for _, apart := range []bool{false, true} {
		sum := new(big.Rat)
		for i, c := range p.costs {
			if c.Apart == apart {
				sum.Add(sum, loaded[i])
				sum.Add(sum, profit[i])
			}
		}
		if sum.Sign() == 0 {
			continue
		}
		f := new(big.Rat).SetInt64(by)
		f.Quo(f, sum)
		for i, c := range p.costs {
			if c.Apart == apart {
				x := new(big.Rat).Add(loaded[i], profit[i])
				profit[i] = x.Add(profit[i], x.Mul(x, f))
			}
		}
		return
	}
}

// charge works out the tax that the client pays, and the total; it is false where one
// does not fit.
func (p *pricing) charge() bool {
	rule, base := p.terms.TaxRule, new(big.Rat)
	if rule.ByClient && rule.Base != TaxNone && p.terms.Tax > 0 {
		for _, w := range p.taxWeights() {
			base.Add(base, w)
		}
		if rule.Base == TaxAll {
			base.SetInt64(p.price)
		}
		var ok bool
		if p.clientTax, ok = roundRat(base.Mul(base, ratio(p.terms.Tax)), p.terms.Rounding.HalfUp); !ok {
			return false
		}
	}
	var ok bool
	p.total, ok = natural.Add(p.price, p.clientTax)
	return ok
}

// taxWeights returns what of each cost the client pays tax on.
func (p *pricing) taxWeights() []*big.Rat {
	rule := p.terms.TaxRule
	weights := make([]*big.Rat, len(p.costs))
	for i, c := range p.costs {
		weights[i] = new(big.Rat)
		switch {
		case rule.Base == TaxMaterialCost && c.material():
			weights[i] = p.burdened(i).rat()
		case p.shares != nil && (rule.Base == TaxAll || rule.Base == TaxMaterialPrice && c.material()):
			weights[i].SetInt64(p.shares[i].Price)
		}
	}
	return weights
}

// quote returns what has been worked out.
func (p *pricing) quote(c Alternative) *Quote {
	q := &Quote{Label: c.Label, Net: c.Net, Unit: measure.Foot, Labor: measure.Duration(p.hours), Costs: p.shares,
		Cost: p.cost, Price: p.price, ClientTax: p.clientTax, Total: p.total, Findings: p.terms.findings(c.Costs)}
	q.Markup, q.Margin = p.terms.shares()
	for i, l := range p.lines {
		q.Lines = append(q.Lines, QuoteLine{l.label, l.part, p.amounts[i]})
		if l.part == PartDirect || l.part == PartBurden {
			q.Direct += p.amounts[i]
		}
	}
	q.Lines = append(q.Lines, p.added...)
	if p.clientTax == 0 {
		return q
	}
	on := map[TaxBase]string{TaxMaterialPrice: " on materials", TaxMaterialCost: " on the cost of materials", TaxAll: ""}[p.terms.TaxRule.Base]
	q.Lines = append(q.Lines, QuoteLine{"tax " + p.terms.Locale.FormatRatio(p.terms.Tax) + on, PartClientTax, p.clientTax})
	for i, v := range apportion(p.clientTax, p.taxWeights()) {
		q.Costs[i].ClientTax = v
	}
	return q
}
