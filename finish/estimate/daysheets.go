package estimate

import (
	"cmp"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"time"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/paper"
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/finish/sequence"
)

// DaySheets returns the work by day, crew and room, with the materials to bring and the
// cautions before their step; it is nil if the job has no calendar. Work that a crew begins on
// one day and ends on another is on the sheet of each day.
func (e *Estimate) DaySheets() *paper.DaySheets {
	e = e.complete()
	if e.Schedule == nil {
		return nil
	}
	b := daySheets{e: e, at: map[dayKey]int{}, brought: map[string]bool{}, said: map[string]bool{}}
	b.out = paper.DaySheets{Title: e.Job.Name}
	for _, s := range e.Schedule.Slots {
		if s.Crew > 0 {
			b.add(s)
		}
	}
	slices.SortStableFunc(b.out.Days, func(x, y paper.DaySheet) int {
		return cmp.Or(strings.Compare(x.Date.String(), y.Date.String()), strings.Compare(x.Crew, y.Crew))
	})
	legible(reflect.ValueOf(&b.out))
	return &b.out
}

// wholeJob is the room of work done in all rooms, such as the punch list.
const wholeJob = "whole job"

// daySheets is the state of building the sheets.
type daySheets struct {
	e       *Estimate
	out     paper.DaySheets
	at      map[dayKey]int
	brought map[string]bool // materials listed with an earlier step
	said    map[string]bool // cautions of an earlier step, by crew
}

type dayKey struct {
	day  schedule.Date
	crew int64
}

// add writes a slot on the sheet of each of its days. No schedule has a slot of more than ten
// years; an estimate that was edited might.
func (b *daySheets) add(s schedule.Slot) {
	if s.End.Sub(s.Start) > mostDays*24*time.Hour {
		return
	}
	loc := s.Start.Location()
	first := true
	for from := s.Start; from.Before(s.End); {
		y, m, d := from.Date()
		next := time.Date(y, m, d+1, 0, 0, 0, 0, loc)
		to := s.End
		if next.Before(to) {
			to = next
		}
		if open, end, ok := b.e.Job.Calendar.Hours(schedule.DateOf(from)); ok {
			from, to = later(from, open), earlier(to, end)
			if from.Before(to) {
				b.step(s, from, to, first)
				first = false
			}
		}
		from = next
	}
}

func later(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}

func earlier(a, b time.Time) time.Time {
	if b.Before(a) {
		return b
	}
	return a
}

// sheet returns the sheet of a crew on the day of a time.
func (b *daySheets) sheet(s schedule.Slot, at time.Time) *paper.DaySheet {
	key := dayKey{schedule.DateOf(at), s.Crew}
	k, ok := b.at[key]
	if !ok {
		k = len(b.out.Days)
		b.at[key] = k
		crew := b.e.Job.Calendar.Crews
		sheet := paper.DaySheet{Date: key.day, Crew: s.CrewName}
		if s.Crew <= int64(len(crew)) {
			sheet.People = max(crew[s.Crew-1].People, 1)
		}
		b.out.Days = append(b.out.Days, sheet)
	}
	return &b.out.Days[k]
}

func (b *daySheets) step(s schedule.Slot, from, to time.Time, first bool) {
	sheet := b.sheet(s, from)
	name := s.Name
	if s.Job != "" {
		name = s.Job + ": " + s.Name
	}
	step := paper.Step{Name: name, From: from, To: to}
	if !first {
		step.Notes = append(step.Notes, "continued")
	}
	works := b.e.worksOf(s.Activity)
	for _, w := range works {
		if t, ok := b.e.tearOutStep(w); ok && first {
			step.Notes = append(step.Notes, t.Text)
		}
		if b.e.handsMissing(w, max(sheet.People, 1)) {
			step.Notes = append(step.Notes, "long pieces take two: rest the far end on a prop or a ledger before you climb, or get a helper")
		}
	}
	for _, c := range b.cautions(works) {
		if key := fmt.Sprint(s.Crew, c.Text, c.Trigger); !b.said[key] && c.Topic != finish.HazardGeneral { // each sheet begins with that one
			b.said[key] = true
			step.Cautions = append(step.Cautions, paper.Caution{About: c.Trigger, Text: c.Text, Source: c.Source})
		}
	}
	if len(works) > 1 && s.Job == "" {
		for _, w := range works {
			step.Do = append(step.Do, w.Profile)
		}
		slices.Sort(step.Do)
		step.Do = slices.Compact(step.Do)
	}
	for _, w := range works {
		b.bring(sheet, w)
	}
	where := cmp.Or(s.Room, wholeJob)
	if n := len(sheet.Rooms); n == 0 || sheet.Rooms[n-1].Room != where {
		sheet.Rooms = append(sheet.Rooms, paper.Work{Room: where})
	}
	room := &sheet.Rooms[len(sheet.Rooms)-1]
	room.Steps = append(room.Steps, step)
	if s.Dry.After(s.End) && to.Equal(s.End) {
		sheet.Drying = append(sheet.Drying, paper.Drying{Room: s.Room, Label: name, Until: s.Dry})
	}
}

// cautions returns the cautions of works that are done together.
func (b *daySheets) cautions(works []*sequence.Work) []finish.Caution {
	var all []finish.Caution
	for _, w := range works {
		all = append(all, b.e.cautionsOf(w)...)
	}
	return all
}

// handsMissing reports whether a work was planned with fewer people than it needs.
func (e *Estimate) handsMissing(w *sequence.Work, people int64) bool {
	for i := range e.Labor {
		l := &e.Labor[i]
		if l.People > people && l.Room == w.Room && l.Profile == w.Profile && l.Task == w.Task && l.Step == w.Step {
			return true
		}
	}
	return false
}

// bring lists the materials for the first step of a trim, of a product or of the tear-out.
func (b *daySheets) bring(sheet *paper.DaySheet, w *sequence.Work) {
	once := func(key string) bool {
		seen := b.brought[key]
		b.brought[key] = true
		return !seen
	}
	if t, ok := b.e.tearOutStep(w); ok && t.Room != "" && once("sheeting") {
		for _, p := range b.e.Sheeting {
			sheet.Bring.Packages = append(sheet.Bring.Packages, packagesOf(p))
		}
	}
	if (w.Task == finish.TaskInstall || w.Task == finish.TaskSet) && w.Profile != "" && once("sticks "+w.Profile) {
		b.sticks(sheet, w.Profile)
	}
	for _, step := range b.e.Finish.Steps {
		along := w.Task == finish.TaskInstall && step.Task == finish.TaskBrad // brads are listed with the nails
		if step.Job != w.Job || step.Step != w.Step && !along || step.Need.Material == "" {
			continue
		}
		for _, p := range b.e.Finish.Purchases {
			if p.Material == step.Need.Material && once("product "+p.Product) {
				sheet.Bring.Packages = append(sheet.Bring.Packages, packagesOf(p))
			}
		}
	}
}

// sticks lists the sticks of a profile, first those on the rack.
func (b *daySheets) sticks(sheet *paper.DaySheet, profile string) {
	length := b.e.Job.Locale.About
	for _, p := range b.e.Plans {
		if p.Profile != profile || p.Plan == nil {
			continue
		}
		for _, buy := range p.Plan.Buy {
			if buy.Stick < 0 || buy.Stick >= len(p.Problem.Sticks) {
				continue // the estimate was edited
			}
			if s := p.Problem.Sticks[buy.Stick]; s.Rack {
				sheet.Bring.Sticks = append(sheet.Bring.Sticks, fmt.Sprintf("%d @ %s, %s, from the rack", buy.Count, length(s.Length), profile))
			}
		}
	}
	for _, o := range b.e.Orders {
		for _, l := range o.Lines {
			if l.Profile == profile {
				sheet.Bring.Sticks = append(sheet.Bring.Sticks, fmt.Sprintf("%d @ %s, %s", l.Count, length(l.Length), l.Profile))
			}
		}
	}
}

// packagesOf describes the packages of a product to bring.
func packagesOf(p finish.Purchase) string {
	var parts []string
	if !p.Used.IsZero() {
		parts = append(parts, "what is on hand")
	}
	for _, l := range p.Lines {
		parts = append(parts, fmt.Sprintf("%d x %s", l.Count, l.Package))
	}
	return p.Product + ": " + strings.Join(parts, ", ")
}
