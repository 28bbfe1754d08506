package cutsheet

import (
	"strconv"

	"example.com/longpoint/stock"
)

// line is one kind of stick that the plan needs.
type line struct {
	stick int
	count int64 // to buy, or take from the rack
	cut   int64 // how many of them are cut; the others stay whole
	each  int64 // the price of one
}

func (l *line) price() int64 { return l.each * l.count }

// charge is a cost other than the sticks.
type charge struct {
	kind    string // row type in the table for spreadsheets
	what    string
	who     string // foreign text; may be empty
	count   int64  // 0 if there is nothing to count
	each    int64
	amount  int64
	subject string // the counted noun: "splice"
}

// purchases lists the sticks and the other costs, so that all lines add up to the cost of the
// plan. Prices are listed only if the cost is money.
func (s *Sheet) purchases(cut []int64) {
	p := &s.problem
	var yard int64
	for _, b := range s.plan.Buy {
		st := &p.Sticks[b.Stick]
		s.lines = append(s.lines, line{b.Stick, int64(b.Count), cut[b.Stick], priceFor(st, b.Count)})
		if s.inYard(st) {
			yard += cut[b.Stick]
		}
	}
	if !s.priced() {
		return
	}
	var rack int64
	for _, l := range s.lines {
		if p.Sticks[l.stick].Rack {
			rack += l.price()
		}
	}
	if rack > 0 {
		s.bill = append(s.bill, charge{kind: "rack", what: "sticks off the rack", amount: rack})
	}
	splices := make(map[int64]int64) // by price
	var prices []int64
	for k := range s.plan.Spliced {
		n, price := int64(len(s.plan.Spliced[k].At)), p.Runs[k].Splice.Price
		if n == 0 || price == 0 {
			continue
		}
		if _, known := splices[price]; !known {
			prices = append(prices, price)
		}
		splices[price] += n
	}
	for _, price := range prices {
		n := splices[price]
		s.bill = append(s.bill, charge{kind: "splice", what: "splices", subject: "splice", count: n, each: price, amount: n * price})
	}
	if yard > 0 && p.Rules.YardCut > 0 {
		s.bill = append(s.bill, charge{kind: "yard cut", what: "cuts in the yard", subject: "yard cut", count: yard, each: p.Rules.YardCut, amount: yard * p.Rules.YardCut})
	}
	used := make(map[string]bool)
	for _, l := range s.lines {
		used[p.Sticks[l.stick].Supplier] = true
	}
	for _, c := range p.Rules.Charges {
		if used[c.Supplier] && c.Amount > 0 {
			s.bill = append(s.bill, charge{kind: "charge", what: "one-time charge by", who: c.Supplier, amount: c.Amount})
		}
	}
}

// priceFor returns the price of each stick for a purchase of count.
func priceFor(st *stock.Stick, count int) int64 {
	price := st.Price
	for _, b := range st.Breaks {
		if count >= b.From {
			price = b.Price
		}
	}
	return price
}

// breakFor returns the least number at which the price for count applies; 0 if it is the usual
// price.
func breakFor(st *stock.Stick, count int64) int64 {
	from := 0
	for _, b := range st.Breaks {
		if count >= int64(b.From) {
			from = b.From
		}
	}
	return int64(from)
}

// toBuy returns the price of the sticks alone.
func (s *Sheet) toBuy() int64 {
	var sum int64
	for i := range s.lines {
		if l := &s.lines[i]; !s.problem.Sticks[l.stick].Rack {
			sum += l.price()
		}
	}
	return sum
}

// chargeWords describes a charge, except its amount.
func (s *Sheet) chargeWords(c *charge) string {
	switch {
	case c.count > 0:
		return s.plural(c.count, c.subject) + " at " + s.money(c.each)
	case c.who != "":
		return c.what + " " + c.who
	}
	return c.what
}

// notes describes a stick, its material and how it is sold.
func (s *Sheet) notes(l *line) []string {
	var words []string
	st := &s.problem.Sticks[l.stick]
	for _, w := range append([]string{s.stickLabel(st), onRack(st), s.remarks(l.stick)}, s.sale(l)...) {
		if w != "" {
			words = append(words, w)
		}
	}
	return words
}

// onRack returns the ID of a stick on the rack, or nothing: offcuts of one length may differ in
// their defects.
func onRack(st *stock.Stick) string {
	if !st.Rack || st.ID == "" {
		return ""
	}
	return "as " + st.ID
}

// sale describes how a stick is sold and the use of the bought sticks, or returns nothing.
func (s *Sheet) sale(l *line) (words []string) {
	st := &s.problem.Sticks[l.stick]
	if st.Supplier != "" {
		words = append(words, "from "+st.Supplier)
	}
	if n := int64(st.Bundle); n > 1 {
		words = append(words, s.plural(l.count/n, "bundle")+" of "+s.count(n))
	}
	if n := st.Minimum; n > 1 {
		words = append(words, "minimum order "+strconv.Itoa(n))
	}
	if n := breakFor(st, l.count); n > 0 && s.priced() {
		words = append(words, "price for "+s.count(n)+" or more; otherwise "+s.money(st.Price))
	}
	if whole := l.count - l.cut; whole > 0 {
		text := s.count(whole) + " whole, not cut"
		if l.cut > 0 {
			text = s.count(l.cut) + " to cut, " + text
		}
		words = append(words, text)
	}
	return words
}

// spare describes the number of spare sticks required.
func (s *Sheet) spare() string {
	n := s.problem.Rules.Spare
	if n == 0 {
		return ""
	}
	return "Spares, kept whole: " + s.count(int64(n)) + "."
}
