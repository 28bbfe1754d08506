package paper

import (
	"math"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/internal/fault"
)

// checker collects the faults of a document.
type checker struct{ faults fault.List }

// at is the path of an element of a list.

// text checks that text is UTF-8: JSON cannot carry anything else.
func (c *checker) text(path, s string) {
	if !utf8.ValidString(s) {
		c.faults.Add(path, strings.Trim(strconv.QuoteToASCII(s), `"`), "text in UTF-8")
	}
}

// named is text that must say something.
func (c *checker) named(path, s string) {
	if strings.TrimSpace(s) == "" {
		c.faults.Add(path, s, "a text that says something")
		return
	}
	c.text(path, s)
}

// lines are texts that must say something each.
func (c *checker) lines(path string, all []string) {
	for i, s := range all {
		c.named(fault.At(path, i), s)
	}
}

// date is a day that may be left out. It reports whether there is one that can be compared.
func (c *checker) date(path string, d schedule.Date) bool {
	if d == (schedule.Date{}) {
		return false
	}
	if _, err := d.MarshalText(); err != nil {
		c.faults.Under(path, err)
		return false
	}
	return true
}

// order wants the second of two days, if there are both, not before the first.
func (c *checker) order(firstPath, path string, first, d schedule.Date) {
	one, two := c.date(firstPath, first), c.date(path, d)
	if one && two && noon(d).Before(noon(first)) {
		c.faults.Add(path, d, "not before "+firstPath+" ("+first.String()+")")
	}
}

// valid reports whether there is a day, and the calendar has it.
func valid(d schedule.Date) bool {
	_, err := d.MarshalText()
	return d != (schedule.Date{}) && err == nil
}

func noon(d schedule.Date) time.Time {
	return time.Date(d.Year, d.Month, d.Day, 12, 0, 0, 0, time.UTC)
}

// amount is money of a document, which none of is less than zero.
func (c *checker) amount(path string, n int64) {
	if n < 0 {
		c.faults.Add(path, n, "zero or more")
	}
}

// sum adds amounts up, and reports whether it can.
func sum(n int, amount func(int) int64) (total int64, ok bool) {
	for i := range n {
		a := amount(i)
		if a < 0 || a > math.MaxInt64-total {
			return 0, false
		}
		total += a
	}
	return total, true
}

func (c *checker) cautions(path string, all []Caution) {
	for i, one := range all {
		path := fault.At(path, i)
		c.text(path+".about", one.About)
		c.named(path+".text", one.Text)
		c.text(path+".source", one.Source)
	}
}

func (c *checker) dates(s DateStyle) {
	if _, err := s.MarshalText(); err != nil {
		c.faults.Under("dates", err)
	}
}

// Validate returns a *[measure.FieldError] for every fault of the proposal, joined, or nil: a
// text that is not UTF-8, an empty element, an amount or a length below zero, a date that does
// not exist or is out of order, Parts that do not add up to Price, Payments that do not add up
// to Price and Taxes, Allowances of more than Price, an Alternate that deducts more than
// Price.
func (p *Proposal) Validate() error {
	if p == nil {
		p = new(Proposal)
	}
	var c checker
	c.text("title", p.Title)
	c.text("number", p.Number)
	c.order("date", "until", p.Date, p.Until)
	for _, side := range []struct {
		path string
		*Party
	}{{"contractor", &p.Contractor}, {"client", &p.Client}} {
		c.text(side.path+".name", side.Name)
		c.lines(side.path+".lines", side.Lines)
	}
	c.lines("site", p.Site)
	for i := range p.Scope {
		c.scope(fault.At("scope", i), &p.Scope[i])
	}
	c.lines("included", p.Included)
	c.lines("excluded", p.Excluded)
	c.money(p)
	c.text("change_rule", p.ChangeRule)
	c.order("start", "done", p.Start, p.Done)
	c.cautions("lead", p.Lead)
	c.cautions("cautions", p.Cautions)
	c.lines("notes", p.Notes)
	c.faults.Under("locale", p.Locale.Validate())
	c.dates(p.Dates)
	return c.faults.Err()
}

func (c *checker) scope(path string, s *Scope) {
	c.named(path+".room", s.Room)
	for i := range s.Items {
		it, path := &s.Items[i], fault.At(path+".items", i)
		c.named(path+".label", it.Label)
		if it.Length < 0 {
			c.faults.Add(path+".length", it.Length.About(), "zero or more")
		}
		c.text(path+".grade", it.Grade)
		c.text(path+".finish", it.Finish)
		c.lines(path+".work", it.Work)
	}
}

// money checks every amount, and that they add up.
func (c *checker) money(p *Proposal) {
	for i, a := range p.Allowances {
		c.named(fault.At("allowances", i)+".label", a.Label)
		c.amount(fault.At("allowances", i)+".amount", a.Amount)
	}
	for i, a := range p.Alternates {
		path := fault.At("alternates", i)
		c.named(path+".label", a.Label)
		switch {
		case p.Price >= 0 && a.Change < -p.Price:
			c.faults.Add(path+".change", a.Change, "not to deduct more than the price ("+strconv.FormatInt(p.Price, 10)+")")
		case p.Price >= 0 && a.Change > math.MaxInt64-p.Price:
			c.faults.Add(path+".change", a.Change, "a price that can be written")
		}
	}
	c.amount("price", p.Price)
	for i, a := range p.Parts {
		c.named(fault.At("parts", i)+".label", a.Label)
		c.amount(fault.At("parts", i)+".amount", a.Amount)
	}
	for i, a := range p.Taxes {
		c.named(fault.At("taxes", i)+".label", a.Label)
		c.amount(fault.At("taxes", i)+".amount", a.Amount)
	}
	for i, a := range p.Payments {
		path := fault.At("payments", i)
		c.named(path+".label", a.Label)
		if c.date(path+".due", a.Due) && valid(p.Date) && noon(a.Due).Before(noon(p.Date)) {
			c.faults.Add(path+".due", a.Due, "not before date ("+p.Date.String()+")")
		}
		c.amount(path+".amount", a.Amount)
	}
	c.sums(p)
}

// sums checks that the amounts add up. Amounts below zero have been reported already.
func (c *checker) sums(p *Proposal) {
	if p.Price < 0 {
		return
	}
	price := strconv.FormatInt(p.Price, 10)
	allowed, ok := sum(len(p.Allowances), func(i int) int64 { return p.Allowances[i].Amount })
	if ok && allowed > p.Price {
		c.faults.Add("allowances", allowed, "together at most the price ("+price+")")
	}
	c.equal("parts", len(p.Parts), func(i int) int64 { return p.Parts[i].Amount }, p.Price, "together the price ("+price+")")
	total, ok := p.Total()
	if !ok {
		for _, t := range p.Taxes {
			if t.Amount < 0 {
				return
			}
		}
		c.faults.Add("taxes", "more than "+strconv.FormatInt(math.MaxInt64-p.Price, 10), "a total that can be written")
		return
	}
	c.equal("payments", len(p.Payments), func(i int) int64 { return p.Payments[i].Amount }, total, "together the price with its taxes ("+strconv.FormatInt(total, 10)+")")
}

// equal wants amounts, if there are any, to add up to a total.
func (c *checker) equal(path string, n int, amount func(int) int64, total int64, want string) {
	if n == 0 {
		return
	}
	for i := range n {
		if amount(i) < 0 {
			return
		}
	}
	switch got, ok := sum(n, amount); {
	case !ok:
		c.faults.Add(path, "too much to be added up", want)
	case got != total:
		c.faults.Add(path, got, want)
	}
}

// Total returns the amount that the client pays, in minor units: Price and Taxes. ok is false
// if an amount is less than zero or the sum does not fit.
func (p *Proposal) Total() (total int64, ok bool) {
	if p == nil {
		p = new(Proposal)
	}
	return sum(1+len(p.Taxes), func(i int) int64 {
		if i == 0 {
			return p.Price
		}
		return p.Taxes[i-1].Amount
	})
}

// Validate returns a *[measure.FieldError] for every fault of the sheets, joined, or nil: a
// text that is not UTF-8, an empty element, a sheet without a day, a step that is not on it or
// ends before it begins, a wait without an end.
func (s *DaySheets) Validate() error {
	if s == nil {
		s = new(DaySheets)
	}
	var c checker
	c.text("title", s.Title)
	c.lines("site", s.Site)
	for i := range s.Days {
		c.day(fault.At("days", i), &s.Days[i])
	}
	c.dates(s.Dates)
	return c.faults.Err()
}

func (c *checker) day(path string, d *DaySheet) {
	dated := c.date(path+".date", d.Date)
	if d.Date == (schedule.Date{}) {
		c.faults.Add(path+".date", "", "a day")
	}
	c.text(path+".crew", d.Crew)
	if d.People < 0 {
		c.faults.Add(path+".people", d.People, "zero or more")
	}
	c.cautions(path+".cautions", d.Cautions)
	c.lines(path+".bring.sticks", d.Bring.Sticks)
	c.lines(path+".bring.packages", d.Bring.Packages)
	c.lines(path+".bring.tools", d.Bring.Tools)
	for i := range d.Rooms {
		room, path := &d.Rooms[i], fault.At(path+".rooms", i)
		c.named(path+".room", room.Room)
		for k := range room.Steps {
			c.step(fault.At(path+".steps", k), &room.Steps[k], d.Date, dated)
		}
	}
	for i, w := range d.Drying {
		path := fault.At(path+".drying", i)
		c.text(path+".room", w.Room)
		c.named(path+".label", w.Label)
		c.moment(path+".until", w.Until)
	}
	c.lines(path+".notes", d.Notes)
}

// moment is a time that must be there, and that JSON can carry.
func (c *checker) moment(path string, t time.Time) bool {
	if _, err := t.MarshalText(); err != nil || t.IsZero() {
		c.faults.Add(path, t, "a time in the years 0 to 9999")
		return false
	}
	return true
}

func (c *checker) step(path string, s *Step, day schedule.Date, dated bool) {
	c.named(path+".name", s.Name)
	if !s.From.IsZero() || !s.To.IsZero() {
		from, to := c.moment(path+".from", s.From), c.moment(path+".to", s.To)
		if from && dated && schedule.DateOf(s.From) != day {
			c.faults.Add(path+".from", s.From, "a time on "+day.String())
		}
		switch {
		case !from || !to:
		case s.To.Before(s.From):
			c.faults.Add(path+".to", s.To, "not before from ("+s.From.String()+")")
		case dated && schedule.DateOf(s.To) != day && (!midnight(s.To) || schedule.DateOf(s.To.Add(-time.Nanosecond)) != day):
			c.faults.Add(path+".to", s.To, "a time on "+day.String()+", or the midnight at its end")
		}
	}
	c.cautions(path+".cautions", s.Cautions)
	c.lines(path+".do", s.Do)
	c.lines(path+".notes", s.Notes)
}

func midnight(t time.Time) bool {
	return t.Hour() == 0 && t.Minute() == 0 && t.Second() == 0 && t.Nanosecond() == 0
}
