package paper_test

import (
	"bytes"
	"fmt"
	"os"
	"strings"
	"time"

	"example.com/longpoint/finish/paper"
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/measure"
)

// A proposal for the client's signature, as text.
func Example() {
	p := paper.Proposal{
		Title: "Trim in the teacher's room", Number: "2026-15",
		Date:       schedule.Date{Year: 2026, Month: time.November, Day: 16},
		Contractor: paper.Party{Name: "The trim crew"},
		Client:     paper.Party{Name: "The workshop committee", Lines: []string{"Schoolhouse, hill road"}},
		Scope: []paper.Scope{{Room: "Teacher's room", Items: []paper.Item{{
			Label: "base, poplar", Length: 41 * measure.Foot, Grade: "paint grade", Finish: "primer, two coats", Work: []string{"fit and paint"},
		}}}},
		Excluded:   []string{"repair of plaster behind the old base"},
		Allowances: []paper.Allowance{{Label: "hooks", Amount: 14400}},
		Alternates: []paper.Alternate{{Label: "oak, varnished", Change: 21000}},
		Price:      90000,
		Parts:      []paper.PricePart{{Label: "material", Amount: 30000}, {Label: "labor", Amount: 60000}},
		Taxes:      []paper.Tax{{Label: "sales tax on material, 8.25%", Amount: 2475}},
		Payments:   []paper.Payment{{Label: "when the order is placed", Amount: 9000}, {Label: "when it is done", Amount: 83475}},
		Cautions:   []paper.Caution{{About: "Dust", Text: "Keep the door to the classroom closed."}},
		ChangeRule: "Changes are agreed in writing, with their price, before they are done.",
		Locale:     measure.Locale{Currency: measure.Currency{Symbol: "$"}},
		Dates:      paper.DateWords,
	}
	if err := p.WriteText(os.Stdout, 72); err != nil {
		fmt.Println(err)
	}
	// Output:
	// Trim in the teacher's room
	// ==========================
	//
	// Number  2026-15
	// Date    November 16, 2026
	// For     The workshop committee
	//         Schoolhouse, hill road
	// From    The trim crew
	//
	// The work, by room ------------------------------------------------------
	//     Trim          Length  Grade and finish                Work
	//   Teacher's room
	//     base, poplar     41'  paint grade, primer, two coats  fit and paint
	//   Work not named in this proposal is not included.
	//
	// Not included -----------------------------------------------------------
	//   - repair of plaster behind the old base
	//
	// Allowances -------------------------------------------------------------
	//   Allowance for   Amount
	//   hooks          $144.00
	//   An allowance is part of the price, for an item to be chosen later.
	//   When it is chosen, the price changes by the difference.
	//
	// Price ------------------------------------------------------------------
	//   material                      $300.00
	//   labor                         $600.00
	//   Price before tax              $900.00
	//   sales tax on material, 8.25%   $24.75
	//   -------------------------------------
	//   Price with tax                $924.75
	//
	// Payments ---------------------------------------------------------------
	//   When                       Amount
	//   when the order is placed   $90.00
	//   when it is done           $834.75
	//   ---------------------------------
	//   Total                     $924.75
	//
	// Alternates -------------------------------------------------------------
	//        Alternate             Price
	//   [ ]  oak, varnished  add $210.00
	//   Check the boxes that you choose. Work that is not checked is not
	//   included. The changes are before tax.
	//
	// Changes ----------------------------------------------------------------
	// Changes are agreed in writing, with their price, before they are done.
	//
	// Lead notice ------------------------------------------------------------
	// ! Lead paint: Paint in buildings from before 1978 may contain lead, and
	//   its dust harms children most. Do not sand, scrape or break painted
	//   trim yourself. If the building may be that old, tell us before the
	//   work begins: painted trim is then tested, or removed under the federal
	//   renovation rule. (40 CFR 745.80 to 745.92)
	//
	// Before and during the work ---------------------------------------------
	// ! Dust: Keep the door to the classroom closed.
	//
	// Acceptance -------------------------------------------------------------
	// By signing, both parties agree to the work, the price and the terms of
	// this proposal.
	//
	//   ______________________________________________________  ______________
	//   The workshop committee                                  Date
	//
	//   ______________________________________________________  ______________
	//   The trim crew                                           Date
}

// A sheet for the crew, as text.
func ExampleDaySheets() {
	zone := time.FixedZone("", -6*60*60)
	s := paper.DaySheets{
		Title: "Schoolhouse workshop",
		Days: []paper.DaySheet{{
			Date: schedule.Date{Year: 2026, Month: time.December, Day: 7}, Crew: "Carpenters", People: 2,
			Bring: paper.Load{Sticks: []string{"3 @ 16' base, poplar"}, Tools: []string{"miter saw"}},
			Rooms: []paper.Work{{Room: "Teacher's room", Steps: []paper.Step{{
				Name: "Fit the base", From: time.Date(2026, 12, 7, 8, 0, 0, 0, zone), To: time.Date(2026, 12, 7, 11, 50, 0, 0, zone),
				Cautions: []paper.Caution{{About: "Saws", Text: "Let the blade stop before you reach in.", Source: "29 CFR 1926.300"}},
				Do:       []string{"walls N, E, S, W in this order"},
			}}}},
			Drying: []paper.Drying{{Room: "Classroom", Label: "enamel on the casing", Until: time.Date(2026, 12, 8, 10, 0, 0, 0, zone)}},
		}},
	}
	if err := s.WriteText(os.Stdout, 72); err != nil {
		fmt.Println(err)
	}
	// Output:
	// Schoolhouse workshop
	// ====================
	//
	// Monday 2026-12-07, Carpenters, 2 people ================================
	//
	// ! Always: Follow the tool manuals, keep guards on, and protect eyes,
	//   ears and lungs. Local codes, product data sheets and licensed
	//   professionals take precedence over this sheet.
	//
	// Do not touch -----------------------------------------------------------
	//   Room       What                  Until
	//   Classroom  enamel on the casing  Tue 10:00
	//
	// Bring ------------------------------------------------------------------
	//   Sticks
	//     [ ] 3 @ 16' base, poplar
	//   Tools
	//     [ ] miter saw
	//
	// Work -------------------------------------------------------------------
	//          When     Work
	//   Teacher's room
	//     ! Saws: Let the blade stop before you reach in. (29 CFR 1926.300)
	//     [ ]  morning  Fit the base
	//                   [ ] walls N, E, S, W in this order
}

// A saved proposal is read strictly: a misspelled name is an error, with its place.
func ExampleReadProposal() {
	var saved bytes.Buffer
	p := paper.Proposal{Title: "Trim", Price: 90000, Dates: paper.DateDayFirst}
	if err := p.WriteJSON(&saved); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Print(saved.String())
	again, err := paper.ReadProposal(&saved)
	if err != nil {
		fmt.Println(err)
		return
	}
	total, ok := again.Total()
	fmt.Println(again.Title, total, ok, again.Dates)

	_, err = paper.ReadProposal(strings.NewReader(`{"format": "longpoint proposal", "version": 1, "proposal": {"titel": "Trim"}}`))
	for e := range measure.FieldErrors(err) {
		fmt.Println(e.Field)
	}
	// Output:
	// {"format":"longpoint proposal","version":1,"proposal":{"title":"Trim","price":90000,"dates":"day first"}}
	// Trim 90000 true day first
	// proposal.titel
}

// All faults are reported together.
func ExampleProposal_Validate() {
	p := paper.Proposal{
		Date:     schedule.Date{Year: 2026, Month: time.November, Day: 16},
		Until:    schedule.Date{Year: 2026, Month: time.November, Day: 1},
		Price:    90000,
		Payments: []paper.Payment{{Label: "at the start", Amount: 9000}, {Label: "at the end", Amount: 80000}},
	}
	fmt.Println(p.Validate())
	// Output:
	// until is "2026-11-01", want not before date (2026-11-16)
	// payments is 89000, want together the price with its taxes (90000)
}

// The crew's sheets as a page to print, and from a file again.
func ExampleReadDaySheets() {
	s, err := paper.ReadDaySheets(strings.NewReader(`{"format": "longpoint day sheets", "version": 1, "day_sheets": {
		"days": [{"date": "2026-12-07", "crew": "Painter"}], "dates": "iso"}}`))
	if err != nil {
		fmt.Println(err)
		return
	}
	var page bytes.Buffer
	if err := s.WriteHTML(&page); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(s.Dates == paper.DateISO, strings.Contains(page.String(), "<h2>Monday 2026-12-07</h2>"))
	// Output:
	// true true
}
