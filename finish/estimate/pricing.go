package estimate

import (
	"cmp"
	"math/big"

	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

// pricing builds the price of an alternative from exact amounts: if the terms round line by
// line, each amount is rounded before the next is computed from it.
type pricing struct {
	terms Terms
	costs []Cost
	plain []number // amount of each cost, without burden
	own   []number // own markup of each cost
	lines []exactLine
	ok    bool

	burden, taxIn, taxOut, overhead, contingency, markup factor

	cost, price, material, clientTax, total int64
	amounts                                 []int64     // of each line, in cents
	added                                   []QuoteLine // minimum and rounding
	shares                                  []CostShare
	hours                                   int64
}

// exactLine is a line of a quote before rounding.
type exactLine struct {
	label  string
	part   Part
	amount number
}

func newPricing(c Alternative, t Terms) *pricing {
	p := &pricing{terms: t, costs: c.all(), ok: true}
	p.build()
	return p
}

// line adds the line of an amount x*num/den and returns the amount: in whole cents, unless only
// totals are rounded.
func (p *pricing) line(label string, part Part, x number, num, den int64) number {
	if p.terms.Rounding.PerTotal {
		x = x.times(num, den)
	} else {
		n, ok := x.round(num, den, p.terms.Rounding.HalfUp)
		p.ok = p.ok && ok
		x = number{whole: n}
	}
	p.lines = append(p.lines, exactLine{label, part, x})
	return x
}

// percent adds the line of a share of a base, if it is not zero.
func (p *pricing) percent(name, suffix string, part Part, r, of measure.Ratio, on number) factor {
	if r == 0 {
		return factor{}
	}
	return factor{p.line(name+" "+p.terms.Locale.FormatRatio(r)+suffix, part, on, int64(r), int64(of)), on}
}

// build writes the lines up to the price before minimum, rounding and the client's tax.
func (p *pricing) build() {
	t := p.terms
	p.direct()
	apart := func(c *Cost) bool { return c.PassThrough }
	marked := p.sum(func(c *Cost) bool { return !c.PassThrough })
	passedOn := func(c *Cost) bool { return t.TaxRule.taxes(c) }
	if t.TaxRule.inside() {
		passedOn = func(c *Cost) bool { return t.TaxRule.taxes(c) && apart(c) }
		p.taxIn = p.percent("tax", "", PartTax, t.Tax, whole, p.sum(func(c *Cost) bool { return t.TaxRule.taxes(c) && !c.PassThrough }))
		marked = marked.plus(p.taxIn.amount)
	}
	p.overhead = p.percent("overhead", "", PartOverhead, t.Overhead, whole, marked)
	marked = marked.plus(p.overhead.amount)
	on, suffix := marked, ""
	if t.ContingencyRisky {
		on, suffix = p.sum(func(c *Cost) bool { return c.Risky && !c.PassThrough }), " of risky costs"
	}
	if !t.ContingencyAfter {
		p.contingency = p.percent("contingency", suffix, PartContingency, t.Contingency, whole, on)
		marked = marked.plus(p.contingency.amount)
	}
	if t.Margin > 0 {
		p.markup = p.percent("margin", " of price", PartMarkup, t.Margin, whole-t.Margin, marked)
	} else {
		p.markup = p.percent("markup", " of cost", PartMarkup, t.Markup, whole, marked)
	}
	if t.ContingencyAfter {
		p.contingency = p.percent("contingency", suffix, PartContingency, t.Contingency, whole, on)
	}
	p.own = make([]number, len(p.costs))
	for i, c := range p.costs {
		if c.Markup > 0 {
			p.own[i] = p.percent("markup", " of "+c.name(), PartMarkup, c.Markup, whole, p.sum(func(x *Cost) bool { return x == &p.costs[i] })).amount
		}
	}
	if out := p.sum(passedOn); !t.TaxRule.ByClient && !out.isZero() {
		p.taxOut = p.percent("tax", " passed on", PartTax, t.Tax, whole, out)
	}
}

// direct writes the lines of the costs and of the burden on labor.
func (p *pricing) direct() {
	p.plain = make([]number, len(p.costs))
	labor := number{}
	for i, c := range p.costs {
		if c.Kind != CostLabor {
			p.plain[i] = p.line(c.name(), PartDirect, number{whole: c.Amount}, 1, 1)
			continue
		}
		p.plain[i] = p.line(c.name(), PartDirect, number{whole: int64(c.Labor)}, cmp.Or(c.Wage, p.terms.Wage), int64(hour))
		labor = labor.plus(p.plain[i])
		sum, ok := natural.Add(p.hours, int64(c.Labor))
		p.hours, p.ok = sum, p.ok && ok
	}
	p.burden = p.percent("labor burden", "", PartBurden, p.terms.Burden, whole, labor)
	p.burden.on = labor
}

// sum returns the direct cost of some costs with their burden: the rounded line of burden if
// they include all labor, else the exact share of the wage, so that a charge on a part never
// falls as a wage rises.
func (p *pricing) sum(of func(*Cost) bool) number {
	var labor, other number
	all := true
	for i := range p.costs {
		switch c := &p.costs[i]; {
		case !of(c):
			all = all && c.Kind != CostLabor
		case c.Kind == CostLabor:
			labor = labor.plus(p.plain[i])
		default:
			other = other.plus(p.plain[i])
		}
	}
	switch {
	case labor.isZero() || p.terms.Burden == 0:
		return other.plus(labor)
	case all:
		return other.plus(labor).plus(p.burden.amount)
	}
	return other.plus(labor.times(int64(whole+p.terms.Burden), int64(whole)))
}

// settle rounds cost and price, and the lines with them; it returns false on overflow.
func (p *pricing) settle() bool {
	if !p.ok {
		return false
	}
	r := p.terms.Rounding
	var cost, profit number
	for _, l := range p.lines {
		if l.part.profit() {
			profit = profit.plus(l.amount)
		} else {
			cost = cost.plus(l.amount)
		}
	}
	var ok1, ok2 bool
	p.cost, ok1 = cost.round(1, 1, r.HalfUp)
	p.price, ok2 = cost.plus(profit).round(1, 1, r.HalfUp)
	if !ok1 || !ok2 {
		return false
	}
	p.wholeLines()
	add := func(label string, part Part, amount int64) {
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

// wholeLines gives the lines of cost, and those after it, whole amounts that add up.
func (p *pricing) wholeLines() {
	p.amounts = make([]int64, len(p.lines))
	if !p.terms.Rounding.PerTotal {
		for i, l := range p.lines {
			p.amounts[i] = l.amount.whole
		}
		return
	}
	for _, profit := range []bool{false, true} {
		weights := make([]*big.Rat, len(p.lines))
		for i, l := range p.lines {
			weights[i] = new(big.Rat)
			if l.part.profit() == profit {
				weights[i] = l.amount.rat()
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
