package paper

import (
	"cmp"
	"io"

	"example.com/longpoint/finish/schedule"
)

// WriteText writes the proposal as UTF-8, in lines of at most width cells of a terminal; 0
// means 80, and less than 32 or more than 1000 is a *[measure.FieldError].
func (p *Proposal) WriteText(w io.Writer, width int) error {
	if p == nil {
		p = new(Proposal)
	}
	if err := p.Validate(); err != nil {
		return err
	}
	t, err := newTextPen(width)
	if err != nil {
		return err
	}
	p.write(t)
	return t.to(w)
}

// WriteHTML writes the proposal as one self-contained page: no script, no font, no external
// picture, and a policy in its head that forbids them. It is also well-formed XML, prints
// on US letter and A4, in color or in black, and fits a telephone. The number, the title
// and the page number are at the foot of each printed page, if the browser supports that.
func (p *Proposal) WriteHTML(w io.Writer) error {
	if p == nil {
		p = new(Proposal)
	}
	if err := p.Validate(); err != nil {
		return err
	}
	title := cmp.Or(p.Title, usualTitle)
	h := newPagePen(title, joined(p.Number, title))
	p.write(h)
	return h.to(w)
}

func (p *Proposal) write(to pen) {
	p.head(to)
	p.scope(to)
	section(to, "Included", p.Included)
	section(to, "Not included", p.Excluded)
	p.price(to)
	p.choices(to)
	p.expected(to)
	p.terms(to)
	p.signatures(to)
}

// section writes a part that is a list, if it has anything.
func section(to pen, heading string, items []string) {
	if len(items) == 0 {
		return
	}
	to.section(heading, len(items) <= wholeRows)
	to.lists([]list{{items: items}}, false)
	to.end()
}

// wholeRows is the maximum number of rows of a part that stays on one page.
const wholeRows = 12

func (p *Proposal) head(to pen) {
	to.title(cmp.Or(p.Title, usualTitle), nil)
	var facts []fact
	add := func(name string, lines ...string) {
		if len(lines) > 0 && lines[0] != "" {
			facts = append(facts, fact{name, lines})
		}
	}
	day := func(name string, d schedule.Date) {
		if d != (schedule.Date{}) {
			add(name, p.Dates.date(d))
		}
	}
	add("Number", p.Number)
	day("Date", p.Date)
	day("Valid through", p.Until)
	add("For", p.Client.all()...)
	add("From", p.Contractor.all()...)
	add("Site", p.Site...)
	if len(facts) > 0 {
		to.facts(facts)
	}
}

// all returns the lines of a party.
func (p Party) all() []string {
	if p.Name == "" {
		return p.Lines
	}
	return append([]string{p.Name}, p.Lines...)
}

func (p *Proposal) scope(to pen) {
	if len(p.Scope) == 0 {
		return
	}
	t := table{columns: []column{{"Trim", columnText, false}, {"Length", columnMoney, true}, {"Grade and finish", columnText, false}, {"Work", columnText, false}}}
	for i := range p.Scope {
		s := &p.Scope[i]
		g := group{heading: s.Room}
		for k := range s.Items {
			it := &s.Items[k]
			length := ""
			if it.Length != 0 {
				length = p.Locale.About(it.Length)
			}
			c := words(it.Label, length, joined(it.Grade, it.Finish), "")
			if c[3].lines = it.Work; len(it.Work) == 1 {
				c[3] = cell{text: it.Work[0]}
			}
			g.rows = append(g.rows, row{cells: c})
		}
		t.groups = append(t.groups, g)
	}
	t.withoutEmpty()
	to.section("The work, by room", false)
	to.table(&t)
	to.para(usualScope, true)
	to.end()
}

// joined joins two texts with a comma, if both are present.
func joined(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + ", " + b
}

// price writes the price, the allowances in it, and the payments.
func (p *Proposal) price(to pen) {
	money := p.Locale.FormatMoney
	if len(p.Allowances) > 0 {
		t := table{columns: []column{{"Allowance for", columnText, false}, {"Amount", columnMoney, false}}}
		var g group
		for _, a := range p.Allowances {
			g.rows = append(g.rows, row{cells: words(a.Label, money(a.Amount))})
		}
		t.groups = []group{g}
		to.section("Allowances", len(g.rows) <= wholeRows)
		to.table(&t)
		to.para(usualAllowance, true)
		to.end()
	}

	t := table{columns: []column{{"", columnText, false}, {"Amount", columnMoney, false}}, plain: true}
	var g group
	add := func(what string, amount int64) { g.rows = append(g.rows, row{cells: words(what, money(amount))}) }
	for _, a := range p.Parts {
		add(a.Label, a.Amount)
	}
	last, total := "Price", p.Price
	if len(p.Taxes) > 0 {
		add("Price before tax", p.Price)
		for _, a := range p.Taxes {
			add(a.Label, a.Amount)
		}
		last = "Price with tax"
		total, _ = p.Total() // Validate has checked that it fits
	}
	if len(g.rows) > 0 {
		t.groups = []group{g}
	}
	t.foot = []row{{cells: words(last, money(total))}}
	to.section("Price", len(g.rows) <= wholeRows)
	to.table(&t)
	to.end()

	p.payments(to, total)
}

func (p *Proposal) payments(to pen, total int64) {
	to.section("Payments", len(p.Payments) <= wholeRows)
	if len(p.Payments) == 0 {
		to.para(usualPayment, false)
		to.end()
		return
	}
	t := table{columns: []column{{"When", columnText, false}, {"By", columnShort, true}, {"Amount", columnMoney, false}}}
	var g group
	for _, a := range p.Payments {
		due := ""
		if a.Due != (schedule.Date{}) {
			due = p.Dates.date(a.Due)
		}
		g.rows = append(g.rows, row{cells: words(a.Label, due, p.Locale.FormatMoney(a.Amount))})
	}
	t.groups = []group{g}
	t.withoutEmpty()
	foot := words("Total", "", p.Locale.FormatMoney(total))
	if len(t.columns) == 2 {
		foot = words("Total", p.Locale.FormatMoney(total))
	}
	t.foot = []row{{cells: foot}}
	to.table(&t)
	to.end()
}

// choices writes the alternates.
func (p *Proposal) choices(to pen) {
	if len(p.Alternates) == 0 {
		return
	}
	t := table{columns: []column{{"Choose", columnTick, false}, {"Alternate", columnText, false}, {"Price", columnMoney, false}}}
	var g group
	for _, a := range p.Alternates {
		change := "no change"
		switch {
		case a.Change > 0:
			change = "add " + p.Locale.FormatMoney(a.Change)
		case a.Change < 0:
			change = "deduct " + p.Locale.FormatMoney(-a.Change)
		}
		g.rows = append(g.rows, row{cells: []cell{{box: "choose " + a.Label}, {text: a.Label}, {text: change}}})
	}
	t.groups = []group{g}
	to.section("Alternates", len(g.rows) <= wholeRows)
	to.table(&t)
	note := usualAlternate
	if len(p.Taxes) > 0 {
		note += " The changes are before tax."
	}
	to.para(note, true)
	to.end()
}

// expected writes the expected dates of the work.
func (p *Proposal) expected(to pen) {
	var facts []fact
	if p.Start != (schedule.Date{}) {
		facts = append(facts, fact{"Start", []string{p.Dates.long(p.Start)}})
	}
	if p.Done != (schedule.Date{}) {
		facts = append(facts, fact{"Completion", []string{p.Dates.long(p.Done)}})
	}
	if len(facts) == 0 {
		return
	}
	to.section("Expected dates", true)
	to.facts(facts)
	to.para(usualDates, true)
	to.end()
}

func (p *Proposal) terms(to pen) {
	to.section("Changes", true)
	to.para(cmp.Or(p.ChangeRule, usualChange), false)
	to.end()
	lead, cautions := p.Lead, p.Cautions
	if len(lead) == 0 {
		lead = usualLead
	}
	if len(cautions) == 0 {
		cautions = usualCautions
	}
	to.section("Lead notice", len(lead) <= wholeRows)
	to.care(lead)
	to.end()
	to.section("Before and during the work", len(cautions) <= wholeRows)
	to.care(cautions)
	to.end()
	if len(p.Notes) > 0 {
		to.section("Other terms", len(p.Notes) <= wholeRows)
		for _, n := range p.Notes {
			to.para(n, false)
		}
		to.end()
	}
}

func (p *Proposal) signatures(to pen) {
	to.section("Acceptance", true)
	to.para(usualAccept, false)
	if p.Until != (schedule.Date{}) {
		to.para("This proposal can be accepted through "+p.Dates.long(p.Until)+".", false)
	}
	to.sign(cmp.Or(p.Client.Name, "Client"))
	to.sign(cmp.Or(p.Contractor.Name, "Contractor"))
	to.end()
}
