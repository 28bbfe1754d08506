package main

import (
	"fmt"
	"time"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/measure"
)

func reportOrder(p *page, v *view) {
	p.heading("Orders")
	comes := "Ordered at the start of the job, it arrives on"
	if v.e.Job.OrderOn != (schedule.Date{}) { // it may come before the site is ready
		comes = "Not to be delivered before"
	}
	for i, o := range v.e.Orders {
		if i > 0 {
			p.blank()
		}
		p.line("%s", supplier(o))
		var rows [][]string
		for _, l := range o.Lines {
			rows = append(rows, []string{fmt.Sprint(l.Count, " x"), p.tape(l.Length), l.Profile, p.money(l.Cost)})
		}
		if o.Delivery > 0 {
			rows = append(rows, []string{"", "", "delivery", p.money(o.Delivery)})
		}
		rows = append(rows, []string{"", "", "total", p.money(o.Total)})
		p.table("  ", "rrlr", rows)
		if o.Comes != (schedule.Date{}) {
			p.para("  ", "  ", fmt.Sprintf("%s %s. Order by %s at the latest, or the work waits.", comes, day(o.Comes), day(o.OrderBy)))
		}
		if o.Short > 0 {
			p.line("  %s short of the minimum order", p.money(o.Short))
		}
	}
	p.blank()
	for _, plan := range v.e.Plans {
		p.para("", "  ", plan.Profile+": "+p.proofText(plan))
	}
	p.blank()
	var buy []finish.Purchase
	buy = append(append(buy, v.e.Sheeting...), v.e.Finish.Purchases...)
	var total int64
	rows := [][]string{{"", "need", "on hand", "left over", "cost"}}
	for _, b := range buy {
		over := b.Left
		if n, counted := b.Need.Pieces(); counted { // a count of packages has no fractions
			have, _ := b.Bought.Pieces()
			used, _ := b.Used.Pieces()
			over = finish.Count(have + used - n)
		}
		rows = append(rows, []string{b.Product, p.amountText(b.Need), p.amountText(b.Used), p.amountText(over), p.money(b.Cost)})
		for _, l := range b.Lines {
			rows = append(rows, []string{fmt.Sprintf("%d x %s at %s", l.Count, l.Package, p.money(l.Price))})
		}
		total += b.Cost
	}
	rows = append(rows, []string{"total", "", "", "", p.money(total)})
	p.table("", "lrrrr", rows)
	p.blank()
	p.para("", "", "Whole packages, the cheapest mix of sizes. Needs include waste.")
}

// day writes a day of the calendar for people.
func day(d schedule.Date) string {
	return time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, time.UTC).Format("Mon 2 Jan")
}

func supplier(o estimate.Order) string {
	if o.Supplier == "" {
		return "Sticks"
	}
	return "Sticks from " + o.Supplier
}

// proofText says how good a plan is, and no more than was verified.
func (p *page) proofText(c estimate.ProfilePlan) string {
	text := p.money(c.Cost) + ", proven: no plan costs less"
	if !c.Plan.Proven {
		text = fmt.Sprintf("%s, stopped (%v); none costs less than %s", p.money(c.Cost), c.Plan.Stop, p.money(c.Plan.Bound/c.Parts))
	}
	if c.Spare > 0 {
		text += fmt.Sprintf("; of it %s for %s", p.money(c.SpareCost), count(c.Spare, "spare stick", "spare sticks"))
	}
	if c.SpareShort > 0 {
		text += fmt.Sprintf("; %s asked for, not available", count(c.SpareShort, "spare stick", "spare sticks"))
	}
	return text
}

// amountText formats an amount with the precision that a shopper needs.
func (p *page) amountText(a finish.Amount) string {
	if a.IsZero() {
		return ""
	}
	if n, ok := a.Pieces(); ok {
		return fmt.Sprint(n)
	}
	if l, ok := a.Length(); ok {
		if p.country.Metric {
			return l.Round(measure.Meter, measure.RoundUp).Format(measure.Style{Unit: measure.Meter, Graduation: measure.Meter})
		}
		return p.about(l.Round(measure.Foot, measure.RoundUp))
	}
	if v, ok := a.Area(); ok {
		return p.country.FormatArea(v)
	}
	if v, ok := a.Volume(); ok && p.country.Metric {
		return p.country.FormatVolume(v)
	} else if ok && v >= measure.Gallon {
		return fmt.Sprintf("%.2f gal", float64(v)/float64(measure.Gallon))
	} else if ok {
		return fmt.Sprintf("%.2f fl oz", float64(v)/float64(measure.FluidOunce))
	}
	if w, ok := a.Weight(); ok && p.country.Metric {
		return p.country.FormatWeight(w)
	} else if ok {
		return fmt.Sprintf("%.2f lb", float64(w)/float64(measure.Pound))
	}
	return a.String()
}
