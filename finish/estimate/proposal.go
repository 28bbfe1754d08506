package estimate

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/labor"
	"example.com/longpoint/finish/paper"
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/finish/tearout"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// Proposal returns the offer to the client: the scope of each room, allowances, the variants as
// alternates, and the price. The caller fills in parties, number, dates and other facts that
// only the caller knows. It contains no cost, hour, rate, share or supplier of the estimate, in
// any field or text; but profiles keep their names from the job.
func (e *Estimate) Proposal() *paper.Proposal {
	e = e.complete()
	p := &paper.Proposal{
		Title: e.Job.Name, Locale: e.Job.Locale, Price: e.Quote.Price,
		Included: []string{"material, delivery and disposal of scrap", "protection of floors and finished surfaces at the work", "daily clean-up"},
		Excluded: []string{
			"repair of walls, ceilings and floors, and painting them",
			"damage hidden by old trim",
			"work on wiring, pipes and ducts",
			"tests for lead and asbestos and their removal, unless named above",
		},
	}
	for _, x := range e.Payments.Payments {
		if x.Due > 0 {
			p.Payments = append(p.Payments, paper.Payment{Label: x.Label, Amount: x.Due})
		}
	}
	if e.Schedule != nil {
		p.Start, p.Done = schedule.DateOf(e.Job.Calendar.Start), schedule.DateOf(e.Schedule.Done)
	}
	e.scope(p)
	for _, c := range e.Quote.Costs {
		if c.Allowance {
			p.Allowances = append(p.Allowances, paper.Allowance{Label: c.Label, Amount: c.Price})
		}
	}
	for i, o := range e.Variants {
		p.Alternates = append(p.Alternates, paper.Alternate{Label: e.inPlaceOf(i), Change: o.Estimate.Quote.Price - e.Quote.Price})
	}
	if e.Quote.ClientTax > 0 {
		p.Taxes = []paper.Tax{{Label: "sales tax", Amount: e.Quote.ClientTax}}
	}
	for _, t := range tearOutSteps(e.TearOut) {
		if t.Task == tearout.TaskNotify {
			p.Lead = append(p.Lead, paper.Caution{About: "lead pamphlet", Source: "40 CFR 745.84",
				Text: "Before the work begins we give you the federal pamphlet on lead and renovation, and you sign for it. Read it, and ask us about anything that is not clear."})
		}
	}
	for _, c := range e.Cautions {
		if c.Topic == finish.HazardLeadPaint && !forWorkers(c) {
			p.Lead = append(p.Lead, paper.Caution{About: c.Trigger, Text: c.Text, Source: c.Source})
		}
	}
	legible(reflect.ValueOf(p))
	return p
}

// forWorkers reports whether a caution is only about the duties of an employer: the crew has it
// on its sheets, and it is of no use to a client.
func forWorkers(c finish.Caution) bool { return strings.HasPrefix(c.Source, "29 CFR") }

// inPlaceOf names a variant and what it replaces.
func (e *Estimate) inPlaceOf(variant int) string {
	label := e.Variants[variant].Label
	if variant >= len(e.Job.Variants) {
		return label
	}
	var from []string
	for _, s := range e.Job.Variants[variant].Swap {
		if !strings.Contains(label, s.From) && !slices.Contains(from, s.From) {
			from = append(from, s.From)
		}
	}
	if len(from) == 0 {
		return label
	}
	return label + ", instead of " + strings.Join(from, ", ")
}

// scope fills in the work in each room, in the order of the takeoff. Work common to all trim is
// listed once.
func (e *Estimate) scope(p *paper.Proposal) {
	var common []string
	alike := true
	for _, room := range e.Job.Rooms {
		s := e.scopeOf(room.Name)
		for _, item := range s.Items {
			if len(item.Work) == 0 {
				continue
			}
			if common == nil {
				common = item.Work
			}
			alike = alike && slices.Equal(common, item.Work)
		}
		if len(s.Items) > 0 {
			p.Scope = append(p.Scope, s)
		}
	}
	if !alike || common == nil {
		return
	}
	for i := range p.Scope {
		for k := range p.Scope[i].Items {
			p.Scope[i].Items[k].Work = nil
		}
	}
	p.Included = append([]string{"all new trim: " + strings.Join(common, ", ")}, p.Included...)
}

// scopeOf returns the work in a room.
func (e *Estimate) scopeOf(room string) paper.Scope {
	s := paper.Scope{Room: room}
	if e.Job.TearOut != nil {
		var off []string
		for _, t := range e.Job.TearOut.Parts {
			if t.Room == room && t.Label != "" && !slices.Contains(off, t.Label) {
				off = append(off, t.Label)
				what := "removed and hauled away"
				if t.Method == tearout.MethodSalvage {
					what = "removed whole, for reuse"
				}
				s.Items = append(s.Items, paper.Item{Label: t.Label, Finish: what})
			}
		}
	}
	for _, t := range e.Takeoff.RoomTotals {
		if t.Room != room {
			continue
		}
		item := paper.Item{Label: t.Profile}
		if role := t.Role.String(); !strings.Contains(t.Profile, role) {
			item.Label = role + ", " + t.Profile
		}
		n, over := e.sides(t), e.overOpenings(t)
		switch {
		case over:
			item.Label += ", over openings"
		case alongWalls(t.Role):
			item.Length = t.Net.Round(e.clientLength(), measure.RoundUp)
		case n > 0:
			item.Label += ", around " + inNumber(n, "opening", "openings")
		}
		var steps []finish.StepResult
		for _, step := range e.Finish.Steps {
			if step.Job == t.Profile+", "+t.Room {
				steps = append(steps, step)
			}
		}
		item.Grade, item.Finish, item.Work = inWords(steps)
		s.Items = append(s.Items, item)
	}
	return s
}

// overOpenings reports whether trim is only in the heads of casings, where a length would be read as
// that of trim along the walls.
func (e *Estimate) overOpenings(t takeoff.ProfileTotals) bool {
	heads := 0
	for i := range e.Takeoff.Runs {
		r := &e.Takeoff.Runs[i]
		if r.Profile != t.Profile || r.Room != t.Room {
			continue
		}
		if t.Role == stock.RoleCasing || !strings.Contains(r.Label+" ", " "+t.Role.String()+" head ") {
			return false
		}
		heads++
	}
	return heads > 0
}

// clientLength is the unit to which lengths are rounded up for a client, who needs no cut list.
func (e *Estimate) clientLength() measure.Length {
	if e.Job.Locale.Metric {
		return measure.Meter
	}
	return measure.Foot
}

// alongWalls reports whether trim runs along walls, so that its length is meaningful to a
// client.
func alongWalls(r stock.Role) bool {
	return slices.Contains([]stock.Role{stock.RoleBase, stock.RoleShoe, stock.RoleChairRail, stock.RolePictureRail, stock.RoleCrown, stock.RoleBand, stock.RoleFrieze, stock.RoleSoffit}, r)
}

// inWords describes the grade of trim, its finish and its preparation.
func inWords(steps []finish.StepResult) (grade, finished string, work []string) {
	var coats []string
	for _, s := range steps {
		var text string
		switch s.Task {
		case finish.TaskInstall:
			text = "cut, fitted and fastened"
		case finish.TaskSet:
			text = "set in mortar"
		case finish.TaskFill:
			text = "nail holes filled"
		case finish.TaskSand:
			text = "sanded"
		case finish.TaskCaulk:
			text = "joints sealed"
		case finish.TaskGrout:
			text = "grouted"
		case finish.TaskPrime, finish.TaskPaint:
			text, paint := coating(s)
			coats = append(coats, text)
			switch {
			case paint:
				grade = "paint grade"
			case s.Need.Material == "stain":
				grade = "stain grade"
			}
			continue
		case finish.TaskSeal:
			coats = append(coats, "sealer")
		}
		if text != "" && !slices.Contains(work, text) {
			work = append(work, text)
		}
	}
	return grade, strings.Join(coats, ", "), work
}

// coating names the coating of a step, and reports whether it is paint and its primer. Stain or
// varnish is named as such: trim under it is not of paint grade, and stained trim is of stain grade.
func coating(s finish.StepResult) (text string, paint bool) {
	switch m := s.Need.Material; {
	case s.Task == finish.TaskPrime && (m == "" || m == "primer"):
		return "primer", true
	case s.Task == finish.TaskPrime:
		return m, false
	case m == "" || m == "paint":
		return inCoats(s.Coats), true
	default:
		return inCoats(s.Coats) + " of " + m, false
	}
}

func inCoats(n int64) string {
	if n == 1 {
		return "one coat"
	}
	return fmt.Sprint(n, " coats")
}

func inNumber(n int64, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprint(n, " ", many)
}

// sides counts the sides of openings that casing goes around in a room.
func (e *Estimate) sides(t takeoff.ProfileTotals) int64 {
	if t.Role != stock.RoleCasing {
		return 0
	}
	for _, l := range e.Labor {
		if l.Room != t.Room || l.Profile != t.Profile || l.Task != finish.TaskInstall || l.Kind != labor.KindWork {
			continue
		}
		for _, part := range l.Parts {
			if part.Event == labor.EventSide {
				n, _ := part.Quantity.Pieces()
				return n
			}
		}
	}
	return 0
}
