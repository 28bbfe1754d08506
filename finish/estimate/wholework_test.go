package estimate_test

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/finish/paper"
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/finish/sequence"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/scribe"
	"example.com/longpoint/stock/takeoff"
)

// Hours that are in the schedule are in the price: dusting, the punch list and the final cleaning
// too. Their sheets can be written, though they belong to no room.
func TestScheduledHoursArePaid(t *testing.T) {
	j := teachersRoom()
	j.Calendar = &schedule.Calendar{Start: time.Date(2027, 6, 7, 8, 0, 0, 0, time.UTC), Crews: []schedule.Crew{{People: 2}}}
	without := estimated(t, j, nil)
	j.Sequence = sequence.Options{Dusting: hour / 2, Punch: 2 * hour, FinalClean: hour}
	e := estimated(t, j, nil)
	var scheduled, paid measure.Duration
	for _, a := range e.Sequence.Activities {
		scheduled += a.Labor
	}
	for _, c := range e.Costs {
		paid += c.Labor
	}
	if scheduled != paid || e.Quote.Labor-without.Quote.Labor != 3*hour+hour/2 || e.Quote.Total-without.Quote.Total != 7*5200/2 {
		t.Errorf("scheduled %v, paid %v, of which for the sequence %v: %d cents", scheduled, paid, e.Quote.Labor-without.Quote.Labor, e.Quote.Total-without.Quote.Total)
	}
	if err := e.DaySheets().WriteText(new(strings.Builder), 0); err != nil {
		t.Error(err)
	}
	if !slices.ContainsFunc(e.DaySheets().Days, func(d paper.DaySheet) bool {
		return slices.ContainsFunc(d.Rooms, func(r paper.Work) bool { return r.Room == "whole job" })
	}) {
		t.Error("no sheet has the punch list")
	}
}

// Spares that are a share of the sticks that are cut are a share of those that the plan with the
// spares cuts.
func TestShareOfWhatIsCut(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 7))
	for range 60 {
		j := teachersRoom()
		for i := range j.Materials {
			m := &j.Materials[i]
			m.Spare.Share = measure.Ratio(5+r.IntN(60)) * measure.Percent
			for k := range m.Sticks {
				s := &m.Sticks[k]
				s.Bundle, s.Price = 1+r.IntN(4), s.Price*int64(80+r.IntN(40))/100
				s.Breaks = []stock.PriceBreak{{From: 4 + r.IntN(4), Price: s.Price * int64(30+r.IntN(60)) / 100}}
			}
		}
		e := estimated(t, j, nil)
		for i, p := range e.Plans {
			cut := int64(0)
			for _, c := range p.Plan.Patterns {
				cut += int64(c.Count)
			}
			part := int64(j.Materials[i].Spare.Share)
			if want := int((cut*part + 100*int64(measure.Percent) - 1) / (100 * int64(measure.Percent))); p.Spare < want {
				t.Errorf("%s: %d spare, want %d of %d that are cut", p.Profile, p.Spare, want, cut)
			}
		}
	}
}

// Faults of a subcontractor's activity are reported before anything is planned, at their place.
func TestFaultsOfOthers(t *testing.T) {
	j := teachersRoom()
	j.Others = []sequence.Other{
		{Activity: schedule.Activity{ID: "inspection"}},
		{Activity: schedule.Activity{ID: "plumber", Labor: -1, People: -2, Dry: -1, After: []schedule.Link{{ID: "inspection", Type: 99}}}},
	}
	j.Building.Year = 19240
	j.Trim.Base = &stock.Profile{Name: "pine base", Spring: -1}
	var got []string
	for bad := range measure.FieldErrors(j.Validate()) {
		got = append(got, bad.Field)
	}
	for _, want := range []string{"others[1].activity.labor", "others[1].activity.people", "others[1].activity.dry", "others[1].activity.after[0].type", "building.year", "trim.base.thickness"} {
		if !slices.Contains(got, want) {
			t.Errorf("no fault of %s in %q", want, got)
		}
	}
}

// A name may be any text; papers that have it can be written all the same.
func TestPapersOfAnyName(t *testing.T) {
	for _, name := range []string{"\xff", " ", "\n", "\u202e", "教室"} {
		j := teachersRoom()
		j.Name, j.Rooms[0].Name, j.Materials[0].Profile.Name = name, name, name
		j.Trim.Base = &stock.Profile{Name: name}
		j.Costs = []estimate.Cost{{Label: name, Amount: 5, Allowance: true}}
		j.Payments.Stages = []estimate.PaymentStage{{Label: name, Done: 100 * measure.Percent}}
		j.Calendar = &schedule.Calendar{Start: time.Date(2027, 6, 7, 8, 0, 0, 0, time.UTC), Crews: []schedule.Crew{{Name: name}}}
		e := estimated(t, j, nil)
		if err := e.Proposal().WriteText(new(strings.Builder), 0); err != nil {
			t.Errorf("%q: %v", name, err)
		}
		if err := e.DaySheets().WriteText(new(strings.Builder), 0); err != nil {
			t.Errorf("%q: %v", name, err)
		}
	}
}

// The yard cuts a board that is too long to carry once, however many strips it yields.
func TestYardCutOfBoard(t *testing.T) {
	j := teachersRoom()
	o := &j.Rooms[0].Walls[2].Openings[0]
	x := measure.Inch / 2
	o.Depths = &scribe.Depths{TopLeft: x, TopRight: x, BottomLeft: x, BottomRight: x}
	j.Trim.Extension = &takeoff.ExtensionStock{Board: stock.Profile{Name: "board"}}
	j.Materials = append(j.Materials, estimate.Material{
		Profile: stock.Profile{Name: "board", Thickness: 3 * measure.Inch / 4, Width: 11 * measure.Inch / 2},
		Sticks:  []stock.Stick{{Length: 16 * measure.Foot, Price: 3001}},
	})
	j.Rules.MaxTransport, j.Rules.YardCut = 15*measure.Foot, 333
	e := estimated(t, j, nil)
	p := e.Plans[slices.IndexFunc(e.Plans, func(p estimate.ProfilePlan) bool { return p.Parts > 1 })]
	if p.Cost != 3001+333 {
		t.Errorf("%d strips of a board cost %d", p.Parts, p.Cost)
	}
}

// A member of a head without a profile is the casing, and causes no panic.
func TestHeadOfTheCasingItself(t *testing.T) {
	j := wholeJob()
	j.Trim.CasingStyles = []takeoff.CasingStyle{{Name: "flat head", Joint: takeoff.CasingButt, Head: []takeoff.HeadMember{{Overhang: measure.Inch / 2}}}}
	if e := estimated(t, j, nil); e.Schedule == nil {
		t.Error("no schedule")
	}
}
