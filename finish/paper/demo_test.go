package paper_test

import (
	"bytes"
	"io"
	"testing"
	"time"

	"example.com/longpoint/finish/paper"
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/measure"
)

var dollars = measure.Locale{Length: measure.Style{Graduation: measure.Foot}, Currency: measure.Currency{Symbol: "$"}}

func date(y int, m time.Month, d int) schedule.Date { return schedule.Date{Year: y, Month: m, Day: d} }

// schoolhouse is the proposal for the trim of the workshop.
func schoolhouse() *paper.Proposal {
	enamel := "primer and two coats of enamel, satin white"
	return &paper.Proposal{
		Title: "Trim for the schoolhouse workshop", Number: "2026-14",
		Date: date(2026, 11, 16), Until: date(2026, 12, 4),
		Contractor: paper.Party{Name: "The trim crew", Lines: []string{"at the lumber shed", "license 0000"}},
		Client:     paper.Party{Name: "The workshop committee", Lines: []string{"Schoolhouse, hill road"}},
		Site:       []string{"One-room schoolhouse, hill road", "key at the cloakroom door"},
		Scope: []paper.Scope{
			{Room: "Classroom", Items: []paper.Item{
				{Label: `base, 5-1/4" poplar`, Length: 118 * measure.Foot, Grade: "paint grade", Finish: enamel, Work: []string{"take off the old base and pull its nails", "fit new base to the floor, inside corners coped", "fill, sand, prime, paint"}},
				{Label: `casing, 3-1/2" poplar, 6 windows and 2 doors`, Length: 176 * measure.Foot, Grade: "paint grade", Finish: enamel, Work: []string{"case one side", "fill, sand, prime, paint"}},
				{Label: `crown, 4-1/4" poplar`, Length: 118 * measure.Foot, Grade: "paint grade", Finish: enamel, Work: []string{"fit on blocking, coped"}},
			}},
			{Room: "Cloakroom", Items: []paper.Item{
				{Label: "base and peg rail, red oak", Length: 45 * measure.Foot, Grade: "stain grade", Finish: "two coats of clear varnish", Work: []string{"fit, sand, varnish"}},
			}},
			{Room: "Teacher's room", Items: []paper.Item{{Label: `base, 5-1/4" poplar`, Length: 41*measure.Foot + 5*measure.Inch, Grade: "paint grade", Finish: enamel, Work: []string{"fit and paint"}}}},
		},
		Included: []string{"delivery of the trim and its storage indoors until it is fitted", "covering floors, and cleaning every room when it is done", "taking away old trim and scrap"},
		Excluded: []string{"repair of plaster behind the old base", "painting of walls, ceilings and sashes", "work on wires, pipes and heating"},
		Allowances: []paper.Allowance{
			{Label: "hooks for the peg rail, 24 pieces", Amount: 14400},
			{Label: "repair of the sill at the north window", Amount: 25000},
		},
		Alternates: []paper.Alternate{
			{Label: "crown in the teacher's room as well", Change: 61500},
			{Label: "no crown in the classroom", Change: -148000},
			{Label: "oak at the classroom doors, varnished", Change: 0},
		},
		Price: 874500, Parts: []paper.PricePart{{Label: "material", Amount: 291000}, {Label: "labor", Amount: 583500}},
		Taxes: []paper.Tax{{Label: "sales tax on material, 8.25%", Amount: 24008}},
		Payments: []paper.Payment{
			{Label: "when the order is placed", Due: date(2026, 12, 4), Amount: 80000},
			{Label: "when the classroom is fitted", Amount: 500000},
			{Label: "when all is done and clean", Amount: 318508},
		},
		Start: date(2026, 12, 7), Done: date(2026, 12, 18),
		Lead: []paper.Caution{{About: "Lead paint", Source: "40 CFR 745.80 to 745.92",
			Text: "The building is from the 1920s, and its old base is broken off: that is never minor repair. The paint is tested before the work begins. If it holds lead, a certified renovator does the tear-out, and you get the pamphlet on lead in the home first."}},
		Notes:  []string{"The committee may withdraw from this agreement in writing until midnight of the third business day after it signs."},
		Locale: dollars, Dates: paper.DateWords,
	}
}

func at(d, h, m int) time.Time { return time.Date(2026, 12, d, h, m, 0, 0, time.UTC) }

// week is the work of two crews on three days.
func week() *paper.DaySheets {
	dust := paper.Caution{About: "Dust", Text: "Extract at the tool and wear a respirator that fits.", Source: "OSHA wood dust page"}
	saws := paper.Caution{About: "Saws", Text: "Never cross arms. Let the blade stop before you reach in.", Source: "29 CFR 1926.300"}
	nailers := paper.Caution{About: "Nailers", Text: "Full sequential trigger only. Keep the holding hand out of the line of fire.", Source: "OSHA/NIOSH, Nail Gun Safety, 2011"}
	lead := paper.Caution{About: "Lead paint", Text: "Nobody breaks off old base before the test is back. Plastic on the floor to 6 ft from the wall, doors and ducts closed.", Source: "40 CFR 745.85"}
	return &paper.DaySheets{
		Title: "Schoolhouse workshop, trim", Site: []string{"Hill road, key at the cloakroom door"},
		Days: []paper.DaySheet{
			{
				Date: date(2026, 12, 7), Crew: "Carpenters", People: 2,
				Cautions: []paper.Caution{lead},
				Bring: paper.Load{
					Sticks:   []string{`4 @ 16' base, 5-1/4" poplar, primed`, `3 @ 12' base, 5-1/4" poplar, primed`, `7 @ 8' casing, 3-1/2" poplar, primed`},
					Packages: []string{`finish nails, 15 gauge 2-1/2", 1 box`, "wood glue, 1 bottle", "contractor bags, 42 gal, 4"},
					Tools:    []string{"miter saw and stand", "coping saw, jigsaw", "pry bars, nail pullers", "nailers, compressor, hoses", "HEPA vacuum"},
				},
				Rooms: []paper.Work{
					{Room: "Classroom", Steps: []paper.Step{
						{Name: "Take off the old base", From: at(7, 8, 0), To: at(7, 11, 40), Do: []string{"score the paint along the top edge", "pry at the studs, from left of the door", "pull nails through the back, bag what is broken"}, Notes: []string{"keep what is 6' and longer for the closet"}},
						{Name: "Case the doors and windows", From: at(7, 11, 40), To: at(7, 16, 0), Cautions: []paper.Caution{saws, nailers}, Do: []string{"windows N1 to N4: cut list A to C", "doors S1 and S2: cut list D"}},
					}},
				},
			},
			{
				Date: date(2026, 12, 8), Crew: "Carpenters", People: 2,
				Rooms: []paper.Work{
					{Room: "Classroom", Steps: []paper.Step{
						{Name: "Fit the base", From: at(8, 8, 0), To: at(8, 12, 0), Cautions: []paper.Caution{saws, nailers}, Do: []string{"walls N, E, S, W in this order: cut list E to H"}},
					}},
					{Room: "Teacher's room", Steps: []paper.Step{
						{Name: "Fit the base", From: at(8, 12, 0), To: at(8, 15, 10), Cautions: []paper.Caution{saws, nailers}},
						{Name: "Clean both rooms", From: at(8, 15, 10), To: at(8, 16, 0), Do: []string{"vacuum with HEPA filter, then wipe"}},
					}},
				},
				Notes: []string{"The painter comes at 13:00 and needs the classroom free of dust by the next morning."},
			},
			{
				Date: date(2026, 12, 9), Crew: "Painter", People: 1,
				Bring: paper.Load{Packages: []string{"enamel, satin white, 1 gal", "caulk, 2 tubes", "sandpaper, 220, 6 sheets"}, Tools: []string{"brushes, tray, drop cloths"}},
				Rooms: []paper.Work{
					{Room: "Classroom", Steps: []paper.Step{
						{Name: "Sand", From: at(9, 8, 0), To: at(9, 9, 30), Cautions: []paper.Caution{dust}},
						{Name: "First coat", From: at(9, 9, 45), To: at(9, 14, 20), Cautions: []paper.Caution{{About: "Paint", Text: "Ventilate; no flames."}}, Do: []string{"crown, then casing, then base"}},
					}},
				},
				Drying: []paper.Drying{{Room: "Classroom", Label: "first coat on all trim", Until: at(10, 6, 20)}, {Room: "Cloakroom", Label: "varnish on the peg rail", Until: at(21, 14, 0)}},
			},
		},
		Dates: paper.DateWords,
	}
}

// text returns what a function writes.
func text(t testing.TB, write func(io.Writer) error) string {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}
