package main

import (
	"cmp"
	"fmt"
	"slices"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock/takeoff"
)

func reportCautions(p *page, v *view) {
	p.heading("Cautions: read before the work begins")
	say := func(cs []finish.Caution) {
		for _, c := range cs {
			p.para("- ", "  ", fmt.Sprintf("%s: %s (%s)", c.Trigger, c.Text, c.Source))
		}
	}
	last := max(0, len(v.e.Cautions)-1) // the last one applies to all of them
	say(v.e.Cautions[:last])
	type kind struct {
		room string
		code takeoff.FindingCode
	}
	count := map[kind]int{}
	for _, f := range v.e.Findings {
		count[kind{f.Room, f.Code}]++
	}
	for _, f := range v.e.Findings { // the first of a kind represents the others of its room
		k := kind{f.Room, f.Code}
		if n := count[k]; f.Severity == takeoff.SeverityCaution && n > 0 {
			text := f.Reason
			if n > 1 {
				text += fmt.Sprintf("; %d more like it", n-1)
			}
			p.para("- ", "  ", fmt.Sprintf("%s: %s", f.Room, text))
			count[k] = 0
		}
	}
	say(v.e.Cautions[last:])
}

func reportDoubts(p *page, v *view) {
	p.heading("Measurements to check")
	rooms := v.e.Job.Rooms
	walls, openings := 0, 0
	var around measure.Length
	for _, r := range rooms {
		walls += len(r.Walls)
		for _, wall := range r.Walls {
			openings += len(wall.Openings)
			around += wall.Length // at most a mile each
		}
	}
	p.para("", "", fmt.Sprintf("%s, %s, %s; %s of wall.",
		count(len(rooms), "room", "rooms"), count(walls, "wall", "walls"), count(openings, "opening", "openings"), p.about(around)))
	p.blank()
	for _, f := range v.e.Sequence.Findings { // of the order of work
		p.para("- ", "  ", f.Reason)
	}
	said := len(v.e.Sequence.Findings) > 0
	for _, x := range v.e.Spares {
		if x.Short > 0 {
			said = true
			p.para("- ", "  ", fmt.Sprintf("%s: %s requested but not available. Ask the supplier before the work begins: a spoiled long piece would stop it.",
				x.Profile, count(x.Short, "spare stick", "spare sticks")))
		}
	}
	if said {
		p.blank()
	}
	if len(v.e.Findings) == 0 {
		p.line("Every room closes, and nothing else stands out.")
		return
	}
	// The worst first; equally bad ones stay in the order of the rooms.
	fs := slices.Clone(v.e.Findings)
	slices.SortStableFunc(fs, func(a, b takeoff.Finding) int { return cmp.Compare(b.Severity, a.Severity) })
	var rows [][]string
	for _, f := range fs {
		if f.Severity == takeoff.SeverityCaution {
			continue // listed with the other cautions
		}
		where := f.Room
		if f.Wall != "" {
			where += ", " + f.Wall
		}
		rows = append(rows, []string{f.Severity.String(), where, f.Reason})
	}
	p.table("", "lll", rows)
	if slices.ContainsFunc(fs, func(f takeoff.Finding) bool { return f.Severity == takeoff.SeverityDoubt }) {
		p.blank()
		p.para("", "", "Measure doubtful dimensions again before you buy anything. The rest of this report uses every reading as given.")
	}
}

func reportDecision(p *page, v *view) {
	p.heading("Alternatives")
	rows := [][]string{{"", "whole job", "difference"}, {asPlanned, p.money(v.planned.Quote.Total), ""}}
	for _, o := range v.planned.Variants {
		sign := "+"
		if o.Difference < 0 {
			sign = "-"
		}
		rows = append(rows, []string{o.Label, p.money(o.Estimate.Quote.Total), sign + p.money(max(o.Difference, -o.Difference))})
	}
	p.table("", "lrr", rows)
	for _, o := range v.planned.Variants {
		reportLevel(p, v, o)
	}
	p.blank()
	p.para("", "", fmt.Sprintf("The same rooms and terms, all other trim unchanged. This report is for %s: %s.", v.label, v.why))
	for _, f := range append(slices.Clone(v.planned.Quote.Findings), v.e.Payments.Findings...) { // of the common terms, and of the payments
		p.para("", "", fmt.Sprintf("Probably a mistake: %s is %s: %s.", f.Field, f.Value, f.Reason))
	}
}

// reportLevel describes the break-even of a variant with the job as planned: the price of its
// sticks, or the wage.
func reportLevel(p *page, v *view, o estimate.VariantResult) {
	job, terms := v.planned.Job, v.planned.Job.Terms
	terms.Locale = job.Locale
	i := slices.IndexFunc(job.Variants, func(x estimate.Variant) bool { return x.Label == o.Label })
	if i < 0 {
		return
	}
	p.blank()
	planned := v.planned.Alternative(asPlanned)
	profile := job.Variants[i].Swap[0].To
	other, err := o.Estimate.Alternative(o.Label).SticksOf(profile)
	if err != nil {
		return
	}
	if most, ok, err := estimate.BreakEvenPrice(other, planned, terms); err == nil && ok {
		p.para("", "", fmt.Sprintf("%s: its sticks cost %s; at %s both jobs would cost the same.", o.Label, p.money(other.StickCost), p.money(most)))
	} else if err == nil {
		p.para("", "", fmt.Sprintf("%s: its sticks cost %s; with free sticks the job would still cost more than as planned.", o.Label, p.money(other.StickCost)))
	}
	spans, err := estimate.BreakEvenWage(planned, other, terms, wagesOf(terms))
	if err != nil {
		return
	}
	for k := 1; k < len(spans); k++ {
		if spans[k].Cheaper != "" && spans[k].Cheaper != spans[k-1].Cheaper {
			p.para("", "", fmt.Sprintf("At a wage of %s an hour or more, %s is cheaper (the job is priced at %s).", p.money(spans[k].From), spans[k].Cheaper, p.money(terms.Wage)))
		}
	}
	if len(spans) == 1 {
		p.para("", "", fmt.Sprintf("No wage up to %s an hour changes which of the two is cheaper.", p.money(spans[0].To)))
	}
}

// wagesOf returns the range of wages for comparing ways to do a job.
func wagesOf(t estimate.Terms) estimate.WageRange {
	return estimate.WageRange{To: 4 * t.Wage, Step: max(t.Wage/50, 1)}
}
