package estimate

import (
	"math/big"

	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

// pricing builds up the price of an alternative, in exact amounts: where the terms round
// line by line, each amount is made whole before the next is computed from it.
type pricing struct {
	terms Terms
	costs []Cost
	plain []*big.Rat // amount of each cost, without burden
	own   []*big.Rat // markup of its own of each cost
	lines []exactLine
	ok    bool

	burden                *big.Rat // per cent of labor
	taxIn, taxOut         *big.Rat // per cent of what is taxed, marked up or passed on
	overhead, contingency *big.Rat // per cent of their bases
	markup                *big.Rat // per cent of the marked cost

	cost, price, clientTax, total int64
	amounts                       []int64     // of each line, in cents
	added                         []QuoteLine // minimum and rounding
	shares                        []CostShare
	labor                         int64
}

// exactLine is a line of a quote before its amount is made whole.
type exactLine struct {
	label  string
	part   LinePart
	amount *big.Rat
}

func newPricing(c Alternative, t Terms) *pricing {
	zero := new(big.Rat)
	p := &pricing{terms: t, costs: c.all(), ok: true, burden: zero, taxIn: zero, taxOut: zero, overhead: zero, contingency: zero, markup: zero}
	p.build()
	return p
}

// ratio returns a share as a number.
func ratio(r measure.Ratio) *big.Rat { return big.NewRat(int64(r), int64(whole)) }

// whole makes an amount a line's: in whole cents, unless only totals are.
func (p *pricing) whole(x *big.Rat) *big.Rat {
	if p.terms.Rounding.PerTotal {
		return x
	}
	n, ok := roundRat(x, p.terms.Rounding.HalfUp)
	p.ok = p.ok && ok
	return new(big.Rat).SetInt64(n)
}

// line adds a line and returns its amount.
func (p *pricing) line(label string, part LinePart, amount *big.Rat) *big.Rat {
	amount = p.whole(amount)
	p.lines = append(p.lines, exactLine{label, part, amount})
	return amount
}

// percent adds the line of a share of base, if there is one, and returns what it comes to
// and how much that is per cent of base after rounding.
func (p *pricing) percent(name, suffix string, part LinePart, r, of measure.Ratio, base *big.Rat) (amount, per *big.Rat) {
	if r == 0 {
		return new(big.Rat), new(big.Rat)
	}
	factor := ratio(r)
	if of != whole {
		factor = big.NewRat(int64(r), int64(of))
	}
	amount = p.line(name+" "+p.terms.Locale.FormatRatio(r)+suffix, part, factor.Mul(factor, base))
	if base.Sign() == 0 {
		return amount, new(big.Rat)
	}
	return amount, new(big.Rat).Quo(amount, base)
}

// build writes the lines up to the price before minimum, rounding and the client's tax.
func (p *pricing) build() {
	t := p.terms
	labor := p.direct()
	_, p.burden = p.percent("labor burden", "", PartBurden, t.Burden, whole, labor)
	in, taxedIn, risky := new(big.Rat), new(big.Rat), new(big.Rat) // of what is marked up
	taxedOut := new(big.Rat)
	for i, c := range p.costs {
		d := p.burdened(i)
		taxed := t.TaxRule.Base == TaxAll || t.TaxRule.Base == TaxMaterialCost && c.material()
		switch {
		case t.TaxRule.ByClient || !taxed:
		case t.TaxRule.inside() && !c.Apart:
			taxedIn.Add(taxedIn, d)
		default:
			taxedOut.Add(taxedOut, d)
		}
		if c.Apart {
			continue
		}
		in.Add(in, d)
		if c.Risky {
			risky.Add(risky, d)
		}
	}
	var tax, over, cont *big.Rat
	if taxedIn.Sign() > 0 || taxedOut.Sign() == 0 && t.TaxRule.inside() {
		tax, p.taxIn = p.percent("tax", "", PartTax, t.Tax, whole, taxedIn)
		in.Add(in, tax)
	}
	over, p.overhead = p.percent("overhead", "", PartOverhead, t.Overhead, whole, in)
	in.Add(in, over)
	base, suffix := in, ""
	if t.ContingencyRisky {
		base, suffix = risky, " of what is risky"
	}
	base = new(big.Rat).Set(base)
	if !t.ContingencyAfter {
		cont, p.contingency = p.percent("contingency", suffix, PartContingency, t.Contingency, whole, base)
		in.Add(in, cont)
	}
	if t.Margin > 0 {
		_, p.markup = p.percent("margin", " of price", PartMarkup, t.Margin, whole-t.Margin, in)
	} else {
		_, p.markup = p.percent("markup", " of cost", PartMarkup, t.Markup, whole, in)
	}
	if t.ContingencyAfter {
		_, p.contingency = p.percent("contingency", suffix, PartContingency, t.Contingency, whole, base)
	}
	p.own = make([]*big.Rat, len(p.costs))
	for i, c := range p.costs {
		p.own[i], _ = p.percent("markup", " of "+c.Label, PartMarkup, c.Markup, whole, p.burdened(i))
	}
	if taxedOut.Sign() > 0 {
		_, p.taxOut = p.percent("tax", " passed on", PartTax, t.Tax, whole, taxedOut)
	}
}

// direct writes the lines of the costs and returns what labor comes to.
func (p *pricing) direct() (labor *big.Rat) {
	labor = new(big.Rat)
	p.plain = make([]*big.Rat, len(p.costs))
	for i, c := range p.costs {
		amount := new(big.Rat).SetInt64(c.Amount)
		if c.Kind == CostLabor {
			amount.SetFrac64(int64(c.Labor), int64(hour))
			amount.Mul(amount, new(big.Rat).SetInt64(p.terms.Wage))
		}
		p.plain[i] = p.line(c.Label, PartDirect, amount)
		if c.Kind == CostLabor {
			labor.Add(labor, p.plain[i])
			sum, ok := natural.Add(p.labor, int64(c.Labor))
			p.labor, p.ok = sum, p.ok && ok
		}
	}
	return labor
}

// burdened returns the direct cost of cost number i with its burden.
func (p *pricing) burdened(i int) *big.Rat {
	if p.costs[i].Kind != CostLabor || p.burden.Sign() == 0 {
		return p.plain[i]
	}
	x := new(big.Rat).Mul(p.plain[i], p.burden)
	return x.Add(x, p.plain[i])
}

// settle makes cost and price whole, and the lines with them; it is false where one does
// not fit.
func (p *pricing) settle() bool {
	if !p.ok {
		return false
	}
	r := p.terms.Rounding
	cost, price := new(big.Rat), new(big.Rat)
	for _, l := range p.lines {
		price.Add(price, l.amount)
		if !l.part.profit() {
			cost.Add(cost, l.amount)
		}
	}
	var ok1, ok2 bool
	p.cost, ok1 = roundRat(cost, r.HalfUp)
	p.price, ok2 = roundRat(price, r.HalfUp)
	if !ok1 || !ok2 {
		return false
	}
	p.wholeLines()
	add := func(label string, part LinePart, amount int64) {
		p.added = append(p.added, QuoteLine{label, part, amount})
		var ok bool
		p.price, ok = natural.Add(p.price, amount)
		p.ok = p.ok && ok
	}
	if short := p.terms.Minimum - p.price; short > 0 {
		add("minimum charge", PartMinimum, short)
	}
	if r.UpTo > 0 && p.price%r.UpTo > 0 {
		add("up to the next "+p.terms.Locale.FormatMoney(r.UpTo), PartRounding, r.UpTo-p.price%r.UpTo)
	}
	return p.ok
}

// wholeLines gives the lines of cost, and those beyond it, whole amounts that add up.
func (p *pricing) wholeLines() {
	p.amounts = make([]int64, len(p.lines))
	if !p.terms.Rounding.PerTotal {
		for i, l := range p.lines {
			p.amounts[i] = l.amount.Num().Int64()
		}
		return
	}
	for _, profit := range []bool{false, true} {
		weights := make([]*big.Rat, len(p.lines))
		for i, l := range p.lines {
			weights[i] = new(big.Rat)
			if l.part.profit() == profit {
				weights[i] = l.amount
			}
		}
		sum := p.cost
		if profit {
			sum = p.price - p.cost
		}
		for i, n := range apportion(sum, weights) {
			p.amounts[i] += n
		}
	}
}
