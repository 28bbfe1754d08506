package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"example.com/longpoint/finish"
	"example.com/longpoint/measure"
)

// reportInstall lists the installation of the trim, room by room.
func reportInstall(p *page, v *view) {
	p.heading("Hours: tear-out and installation")
	rows := hourRows(p, v, putsUp)
	if v.e.TearOut != nil {
		total := v.e.TearOut.Labor + sumOf(v, putsUp)
		rows[len(rows)-1][2] = p.hourText(total)
		rows = append([][]string{{"all", "tear-out", p.hourText(v.e.TearOut.Labor)}}, rows...)
	}
	p.table("", "llr", rows)
}

// putsUp reports whether a task belongs to the carpenter or the stone setter.
func putsUp(t finish.Task) bool {
	return t == finish.TaskInstall || t == finish.TaskSet || t == finish.TaskBrad || t == finish.TaskGlue || t == finish.TaskGlueJoints
}

// sumOf returns the labor of some tasks.
func sumOf(v *view, of func(t finish.Task) bool) (total measure.Duration) {
	for _, l := range v.e.Labor {
		if of(l.Task) {
			total += l.Labor
		}
	}
	return total
}

// reportFinishing lists the finishing, step by step.
func reportFinishing(p *page, v *view) {
	p.heading("Hours: finishing")
	p.table("", "llr", hourRows(p, v, func(t finish.Task) bool { return !putsUp(t) }))
}

// hourRows sums the labor of some tasks by room and profile.
func hourRows(p *page, v *view, of func(t finish.Task) bool) [][]string {
	type place struct{ room, what string }
	var order []place
	sum := map[place]measure.Duration{}
	var total measure.Duration
	for _, l := range v.e.Labor {
		if !of(l.Task) || l.Labor == 0 {
			continue
		}
		k := place{l.Room, cmp.Or(l.Profile, l.Kind.String())}
		if _, ok := sum[k]; !ok {
			order = append(order, k)
		}
		sum[k] += l.Labor
		total += l.Labor
	}
	var rows [][]string
	room := ""
	for _, k := range order {
		first := k.room
		if first == room {
			first = ""
		}
		room = k.room
		rows = append(rows, []string{first, k.what, p.hourText(sum[k])})
	}
	return append(rows, []string{"total", "", p.hourText(total)})
}

func (p *page) hourText(t measure.Duration) string {
	text := fmt.Sprintf("%.2f h", t.Hours())
	if p.country.DecimalComma {
		text = strings.Replace(text, ".", ",", 1)
	}
	return text
}

// reportTimes lists the crews and their rooms by day.
func reportTimes(p *page, v *view) {
	s := v.e.Schedule
	if s == nil {
		return
	}
	p.heading("Schedule")
	type key struct {
		day, crew, room string
	}
	var order []key
	steps := map[key][]string{}
	for _, slot := range s.Slots {
		if slot.Crew == 0 {
			continue
		}
		k := key{slot.Start.Format("Mon _2 Jan"), slot.CrewName, slot.Room}
		if _, ok := steps[k]; !ok {
			order = append(order, k)
		}
		name := slot.Name
		if slot.Job != "" {
			name = slot.Job + ": " + name
		}
		if !slices.Contains(steps[k], name) {
			steps[k] = append(steps[k], name)
		}
	}
	var rows [][]string
	var last key
	for _, k := range order {
		day, crew := k.day, k.crew
		if k.day == last.day {
			day = ""
			if k.crew == last.crew {
				crew = ""
			}
		}
		last = k
		rows = append(rows, []string{day, crew, k.room, strings.Join(steps[k], "; ")})
	}
	p.table("", "llll", rows)
	p.blank()
	text := fmt.Sprintf("Done on %s; full cure on %s.", clock(s.Done), s.Cured.Format("Mon 2 Jan"))
	if !s.Proven {
		text += fmt.Sprintf(" No order of the same work with the same crews ends before %s.", clock(s.Bound))
	} else {
		text += " No order of the same work with the same crews ends earlier."
	}
	p.para("", "", text)
	p.para("", "", "A coat waits until the one under it is dry, by the usual times; cold and damp rooms take longer, and the label on the can takes precedence.")
}

func clock(t time.Time) string { return t.Format("Mon 2 Jan 15:04") }

// reportCost lists the costs by room and kind.
func reportCost(p *page, v *view) {
	p.heading("Costs")
	q := v.e.Quote
	rows := [][]string{{"", "hours", "direct", "price"}}
	for _, r := range q.ByKind() {
		rows = append(rows, []string{r.Label, p.hourText(r.Labor), p.money(r.Direct), p.money(r.Price)})
	}
	p.table("", "lrrr", append(rows, []string{"total", p.hourText(q.Labor), p.money(q.Direct), p.money(q.Price)}))
	p.blank()
	rows = [][]string{{"room", "hours", "direct", "price"}}
	for _, r := range q.ByRoom() {
		rows = append(rows, []string{cmp.Or(r.Label, "whole job"), p.hourText(r.Labor), p.money(r.Direct), p.money(r.Price)})
	}
	p.table("", "lrrr", rows)
	p.blank()
	if q.ClientTax > 0 {
		p.line("Tax that the client pays: %s", p.money(q.ClientTax))
	}
	p.line("Total: %s", p.money(q.Total))
}
