package labor_test

import (
	"encoding/json"
	"fmt"
	"os"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/labor"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// The crown of a corridor of the schoolhouse is installed at 10 ft: the carpenters need planks,
// and every hour is traced to its rate.
func Example() {
	crown := stock.Profile{Name: "crown", Role: stock.RoleCrown, Thickness: 9 * measure.Inch / 16, Width: 17 * measure.Inch / 4, Lengths: []measure.Length{16 * measure.Foot}}
	rooms := []takeoff.Room{{Name: "corridor", Height: 10 * measure.Foot, Walls: []takeoff.Wall{
		{Name: "N", Length: 14 * measure.Foot}, {Name: "E", Length: 6 * measure.Foot}, {Name: "S", Length: 14 * measure.Foot}, {Name: "W", Length: 6 * measure.Foot},
	}}}
	list, err := takeoff.Take(rooms, takeoff.Scheme{Crown: &crown}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	o := &labor.Options{Profiles: []stock.Profile{crown}, Conditions: []labor.Condition{{Factor: "old plaster", Room: "corridor"}}}
	lines, err := labor.Lines(list, rooms, nil, labor.Rates{}, o)
	if err != nil {
		fmt.Println(err)
		return
	}
	if err := labor.WriteText(os.Stdout, lines, labor.Rates{}, measure.Locale{}); err != nil {
		fmt.Println(err)
	}
	// Output:
	// corridor
	//   set-up for install: 1h8m, carpenter
	//     set-up: 1 x 20m = 20m [95]
	//     test corner: 1 x 3m = 3m [96]
	//     staging: 1 x 45m = 45m [102]
	//   crown: install: 5h4m34s, carpenter, at least 2 people
	//     length: 40' x 2m per 1' x 162% = 2h9m36s [44]
	//     piece: 4 x 12m x 162% = 1h17m46s [45]
	//     cope: 4 x 15m x 162% = 1h37m12s [46]
	//     162% = overhead 120% x old plaster 135%
	//   clean-up for install: 12m, carpenter
	//     clean-up: 1 x 12m = 12m [97]
	// labor: 6h24m34s
	// rates
	//   common practice, no source; 2020s; one finish carpenter, pneumatic nailer, saw in or near the room, ceilings of 8 ft, drywall, paint grade
	//     [44] install, length of crown: 2m per 1'
	//     [45] install, piece of crown: 12m
	//     [46] install, cope of crown: 15m
	//     [95] install, set-up: 20m
	//     [96] install, test corner: 3m
	//     [97] install, clean-up: 12m
	//   common practice, no source; 2020s; ceilings of 10 ft and more: planks or a rolling scaffold
	//     [102] install, staging, from 9' 6" up: 45m
	// factors
	//   overhead 120%, from 9' 6" up: common practice, no source; 2020s; at ceilings of 10 ft, from planks
	//   old plaster 135%: common practice, no source; 2020s; walls out of flat and corners out of square
}

// Base alone, and its set-up.
func ExampleLines() {
	list := &takeoff.List{RoomTotals: []takeoff.ProfileTotals{
		{Profile: "base", Room: "cloakroom", Net: 28 * measure.Foot, Pieces: 4, Joints: takeoff.Joints{Copes: 3, Stops: 2}},
	}}
	lines, err := labor.Lines(list, nil, nil, labor.Rates{}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, l := range lines {
		fmt.Println(l.Room, l.Kind, l.Profile, l.Step, l.Labor, l.Skill)
		for _, p := range l.Parts {
			fmt.Println("  ", p.Quantity, p.Event, p.Time)
		}
	}
	total, err := labor.Total(lines)
	fmt.Println(total, err)
	// Output:
	// cloakroom set-up  set-up 23m carpenter
	//    1 ct set-up 20m
	//    1 ct test corner 3m
	// cloakroom work base install 1h14m30s carpenter
	//    28 ft length 28m
	//    4 ct piece 24m
	//    3 ct cope 19m30s
	//    2 ct stop 3m
	// cloakroom clean-up  clean-up 12m carpenter
	//    1 ct clean-up 12m
	// 1h49m30s <nil>
}

// Your own rates replace the usual ones, as data.
func ExampleRates() {
	var r labor.Rates
	err := measure.UnmarshalStrict([]byte(`{
		"table": [
			{"task": "install", "event": "length", "per": "100 ft", "time": "2h", "source": "timed in the classroom", "date": "2026-11"},
			{"task": "install", "event": "cope", "roles": ["crown"], "time": "14m"},
			{"task": "install", "event": "cope", "roles": ["crown"], "above": "10ft", "time": "18m"}
		],
		"factors": [{"name": "old plaster", "by": "125%", "tasks": ["install"]}],
		"cap": "150%"
	}`), &r)
	if err == nil {
		err = r.Validate()
	}
	if err != nil {
		fmt.Println(err)
		return
	}
	at := func(height measure.Length) measure.Duration {
		return r.Table[r.Find(finish.TaskInstall, labor.EventCope, labor.Trim{Role: stock.RoleCrown, Height: height})].Time
	}
	fmt.Println(at(8*measure.Foot), at(12*measure.Foot))
	// Output: 14m 18m
}

func ExampleRates_Validate() {
	r := labor.Rates{Table: []labor.Rate{
		{Task: finish.TaskPaint, Event: labor.EventCope, Time: measure.Duration(60e9)},
		{Event: labor.EventArea, Per: finish.AmountOf(measure.Foot)},
	}, Skills: []labor.Skill{{Name: "carpenter", People: -1}}}
	for bad := range measure.FieldErrors(r.Validate()) {
		fmt.Println(bad)
	}
	// Output:
	// table[0].event is "cope", want length, area, count or joint: other events are counted for the tasks install and set alone
	// table[1].per is "1 ft", want as much as 1 sq ft, the unit of the event
	// skills[0].people is -1, want zero or more
}

// 33 man-hours per 1,000 sq ft (NAVEDTRA 14045).
func ExampleRate_For() {
	r := labor.Rate{Event: labor.EventArea, Per: finish.AmountOf(1000 * measure.SquareFoot), Time: measure.Duration(33 * 3600e9)}
	fmt.Println(r.For(finish.AmountOf(16000 * measure.SquareFoot)))
	// Output: 528h <nil>
}

// The book's example: 70 man-days, a crew of 12 with an attendance of three quarters, 7.5
// productive hours a day.
func ExampleCrew() {
	delay, err := labor.DelayFactor(63 * measure.Percent)
	fmt.Println(delay, err)
	crew := labor.Crew{People: 12, Availability: 75 * measure.Percent, Productive: 9375 * measure.Percent / 100}
	took, err := crew.Time(measure.Duration(70 * 8 * 3600e9))
	fmt.Println(took.Labor.Hours()/8, "man-days,", took.Working, "of work,", took.Days, "days", err)
	// Output:
	// 106.3492% <nil>
	// 70 man-days, 66h22m13.333333334s of work, 9 days <nil>
}

func ExampleDeviation() {
	off, err := labor.Deviation(measure.Duration(36*3600e9), measure.Duration(40*3600e9))
	fmt.Println(off, off <= labor.PreliminaryLimit, err)
	// Output: 10% true <nil>
}

// The events and their units.
func ExampleEvent() {
	for _, e := range []labor.Event{
		labor.EventLength, labor.EventArea, labor.EventCount, labor.EventJoint,
		labor.EventPiece, labor.EventCope, labor.EventInsideMiter, labor.EventOutsideMiter, labor.EventFlatMiter, labor.EventRakeMiter, labor.EventScarf,
		labor.EventReturn, labor.EventButt, labor.EventStop, labor.EventScribedEnd, labor.EventScribe, labor.EventCourseJoint,
		labor.EventSide, labor.EventBend, labor.EventNotch, labor.EventStep, labor.EventMiteredStep, labor.EventPanel,
		labor.EventSetUp, labor.EventStaging, labor.EventTestCorner, labor.EventCleanUp,
	} {
		fmt.Println(e, "by", e.Unit())
	}
	for _, k := range []labor.Kind{labor.KindWork, labor.KindSetUp, labor.KindCleanUp} {
		fmt.Println(k)
	}
	// Output:
	// length by 1 ft
	// area by 1 sq ft
	// count by 1 ct
	// joint by 1 ct
	// piece by 1 ct
	// cope by 1 ct
	// inside miter by 1 ct
	// outside miter by 1 ct
	// flat miter by 1 ct
	// rake miter by 1 ct
	// scarf by 1 ct
	// return by 1 ct
	// butt by 1 ct
	// stop by 1 ct
	// scribed end by 1 ct
	// scribe by 1 ft
	// course joint by 1 ct
	// side by 1 ct
	// bend by 1 ct
	// notch by 1 ct
	// step by 1 ct
	// mitered step by 1 ct
	// panel by 1 ct
	// set-up by 1 ct
	// staging by 1 ct
	// test corner by 1 ct
	// clean-up by 1 ct
	// work
	// set-up
	// clean-up
}

// Factors that apply on request, and one that applies automatically.
func ExampleFactor() {
	for _, f := range labor.DefaultRates().Factors {
		fmt.Println(f.Name, f.By, f.Condition)
	}
	text, err := json.Marshal(labor.FactorUse{Factor: 3, Name: "old plaster", By: 135 * measure.Percent})
	fmt.Println(string(text), err)
	// Output:
	// overhead 120% at ceilings of 10 ft, from planks
	// overhead 140% at ceilings of 12 ft, from a scaffold
	// small room 140% closets and the like: no room to swing a stick
	// old plaster 135% walls out of flat and corners out of square
	// hardwood 150% stain grade: predrilled, no filler in joints
	// occupied 120% people live or work there: furniture, hours, dust
	// second person 120% two hold long stock: each of them 60 % of the time of one
	// {"factor":3,"name":"old plaster","by":"135%"} <nil>
}
