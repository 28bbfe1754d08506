package estimate

import (
	"math/big"

	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

// spread computes the share of each cost in cost and price. All costs of one class bear the
// same load per cent of direct cost, so there are few factors.
func (p *pricing) spread() {
	n := len(p.costs)
	direct, loaded, profit := make([]*big.Rat, n), make([]*big.Rat, n), make([]*big.Rat, n)
	type load struct{ loaded, profit *big.Rat }
	known := map[class]load{}
	made, burdened := p.made(), p.burden.rat()
	burdened.Add(burdened, big.NewRat(1, 1))
	for i, c := range p.costs {
		f, ok := known[c.class()]
		if !ok {
			f.loaded, f.profit = p.load(c.class(), made)
			known[c.class()] = f
		}
		direct[i] = p.plain[i].rat()
		if c.Kind == CostLabor {
			direct[i] = new(big.Rat).Mul(direct[i], burdened)
		}
		loaded[i] = new(big.Rat).Mul(direct[i], f.loaded)
		if c.PassThrough {
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

// class determines the loads of a cost.
type class struct{ material, risky, apart bool }

func (c *Cost) class() class { return class{c.material(), c.Risky, c.PassThrough} }

// loads are the charges, per cent of their base.
type loads struct{ taxIn, taxOut, overhead, contingency, markup *big.Rat }

// made returns the loads of the rounded lines.
func (p *pricing) made() loads {
	return loads{p.taxIn.rat(), p.taxOut.rat(), p.overhead.rat(), p.contingency.rat(), p.markup.rat()}
}

// agreed returns the exact loads of the terms.
func (t Terms) agreed() loads {
	l := loads{ratio(t.Tax), ratio(t.Tax), ratio(t.Overhead), ratio(t.Contingency), ratio(t.Markup)}
	if t.Margin > 0 {
		l.markup = big.NewRat(int64(t.Margin), int64(whole-t.Margin))
	}
	return l
}

// load returns the loaded cost and the markup of a cent of direct cost of a class.
func (p *pricing) load(c class, l loads) (loaded, profit *big.Rat) {
	one := big.NewRat(1, 1)
	loaded, profit = new(big.Rat).Set(one), new(big.Rat)
	rule := p.terms.TaxRule
	taxed, inside := rule.taxesClass(c.material), rule.inside() && !c.apart
	if taxed && inside {
		loaded.Add(loaded, l.taxIn)
	}
	if !c.apart {
		loaded.Mul(loaded, one.Add(one, l.overhead))
		contingency := new(big.Rat)
		switch {
		case !p.terms.ContingencyRisky:
			contingency.Mul(loaded, l.contingency)
		case c.risky:
			contingency.Set(l.contingency)
		}
		marked := new(big.Rat).Set(loaded)
		loaded.Add(loaded, contingency)
		if !p.terms.ContingencyAfter {
			marked.Set(loaded)
		}
		profit.Mul(marked, l.markup)
	}
	if taxed && !inside {
		loaded.Add(loaded, l.taxOut)
	}
	return loaded, profit
}

// lift adds the minimum charge and the rounding of the price to the profits, in proportion to
// the price of each cost without them: on costs that are not materials or, if there are none,
// on all. Costs that are passed on stay as they are, unless there are no others.
func (p *pricing) lift(by int64, loaded, profit []*big.Rat) {
	for _, bears := range []func(*Cost) bool{
		func(c *Cost) bool { return !c.PassThrough && !c.material() },
		func(c *Cost) bool { return !c.PassThrough },
		func(c *Cost) bool { return true },
	} {
		sum := new(big.Rat)
		for i := range p.costs {
			if bears(&p.costs[i]) {
				sum.Add(sum, loaded[i])
				sum.Add(sum, profit[i])
			}
		}
		if sum.Sign() == 0 {
			continue
		}
		f := new(big.Rat).SetInt64(by)
		f.Quo(f, sum)
		for i := range p.costs {
			if bears(&p.costs[i]) {
				x := new(big.Rat).Add(loaded[i], profit[i])
				profit[i] = x.Add(profit[i], x.Mul(x, f))
			}
		}
		return
	}
}

// materials returns the part of the price for materials, by the exact shares of the terms, so
// that it depends only on the materials; if there are no other costs it is the price.
func (p *pricing) materials() (int64, bool) {
	sum, others := new(big.Rat), len(p.costs) == 0
	costs := map[class]number{}
	var order []class
	for i := range p.costs {
		c := &p.costs[i]
		if !c.material() {
			others = true
			continue
		}
		if c.Markup > 0 { // its own
			own := p.sum(func(x *Cost) bool { return x == c }).times(int64(c.Markup), int64(whole))
			sum.Add(sum, own.rational)
		}
		k := c.class()
		if _, known := costs[k]; !known {
			order = append(order, k)
			costs[k] = p.sum(func(x *Cost) bool { return x.material() && x.class() == k })
		}
	}
	if !others {
		return p.price, true
	}
	for _, k := range order {
		loaded, profit := p.load(k, p.terms.agreed())
		sum.Add(sum, loaded.Mul(loaded.Add(loaded, profit), costs[k].rat()))
	}
	n, ok := roundRat(sum, p.terms.Rounding.HalfUp)
	return min(n, p.price), ok
}

// charge computes the price of materials, the client's tax, and the total; it returns false on
// overflow.
func (p *pricing) charge() bool {
	rule, ok := p.terms.TaxRule, true
	if p.shares != nil || rule.ByClient && rule.Base == TaxMaterialPrice {
		if p.material, ok = p.materials(); !ok {
			return false
		}
	}
	base := number{}
	if rule.ByClient {
		switch rule.Base {
		case TaxMaterialCost:
			base = p.sum((*Cost).material)
		case TaxMaterialPrice:
			base.whole = p.material
		case TaxAll:
			base.whole = p.price
		}
	}
	if p.clientTax, ok = base.round(int64(p.terms.Tax), int64(whole), p.terms.Rounding.HalfUp); !ok {
		return false
	}
	p.total, ok = natural.Add(p.price, p.clientTax)
	return ok
}

// taxWeights returns the part of each cost on which the client pays tax, for a nonzero tax.
func (p *pricing) taxWeights() []*big.Rat {
	base := p.terms.TaxRule.Base
	weights := make([]*big.Rat, len(p.costs))
	for i, c := range p.costs {
		weights[i] = new(big.Rat)
		switch {
		case base != TaxAll && !c.material():
		case base == TaxMaterialCost:
			weights[i].SetInt64(p.shares[i].Direct)
		default:
			weights[i].SetInt64(p.shares[i].Price)
		}
	}
	return weights
}

// quote returns the result.
func (p *pricing) quote(c Alternative) *Quote {
	q := &Quote{Label: c.Label, Net: c.Net, Unit: measure.Foot, Labor: measure.Duration(p.hours), Costs: p.shares,
		Cost: p.cost, Price: p.price, Materials: p.material, ClientTax: p.clientTax, Total: p.total, Findings: p.terms.findings(c.Costs)}
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
