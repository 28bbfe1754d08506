package takeoff_test

import (
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/scribe"
	"example.com/longpoint/stock/takeoff"
)

// The classroom's floor falls toward the stove in the corner of N and E, and its E wall leans
// out. Base is scribed so that its top is level all around.
func Example_floorOutOfLevel() {
	in := measure.MustParse
	level := func(readings ...string) scribe.Surface { // every 4 ft, down from a level line
		var s scribe.Surface
		for i, r := range readings {
			s = append(s, scribe.Reading{At: measure.Length(i) * 4 * measure.Foot, FromLine: in(r)})
		}
		return s
	}
	room := takeoff.Room{Name: "classroom", Walls: []takeoff.Wall{
		{Name: "N", Length: in("16ft"), Floor: level("12in", "12-1/8in", "12-3/8in", "12-3/8in", "12-1/2in")},
		{Name: "E", Length: in("12ft"), Floor: level("12-1/2in", "12-1/4in", "12-1/4in", "12-1/4in"), Lean: scribe.Lean{Out: in("3/8in"), Over: in("48in")}},
		{Name: "S", Length: in("16ft"), Floor: level("12-1/4in", "12-1/8in", "12-1/8in", "12in", "12in")},
		{Name: "W", Length: in("12ft"), Floor: level("12in", "12in", "12in", "12in"),
			Openings: []takeoff.Opening{{At: in("4ft"), Width: in("36in")}}},
	}}
	scheme := takeoff.Scheme{
		Base: &stock.Profile{Name: "pine base", Thickness: in("3/4in"), Width: in("5-1/4in")},
		Shoe: &stock.Profile{Name: "shoe", Thickness: in("1/2in"), Width: in("3/4in")},
	}
	list, err := takeoff.Take([]takeoff.Room{room}, scheme, &takeoff.Options{MinBase: in("5in")})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range list.Runs {
		if r.Role != stock.RoleBase || r.Wall == "W" {
			continue
		}
		fmt.Printf("%s, %s:", r.Label, r.Length.About())
		for _, m := range r.Scribe {
			fmt.Printf(" %v at %v,", m.Depth, m.At)
		}
		fmt.Printf(" top beyond foot %.3f in right\n", r.LeanRight.Inches())
	}
	for _, f := range list.Findings {
		fmt.Printf("%s (%v): %s\n", f.Code, f.Severity, f.Reason)
		switch f.Code {
		case takeoff.FindingFloorLevel, takeoff.FindingCornerReading, takeoff.FindingHeightReading, takeoff.FindingCeilingLevel, takeoff.FindingUnevenLegs:
			// a matter of the house
		case takeoff.FindingBaseHeight, takeoff.FindingShoeGap:
			// a matter of the purchase
		}
	}
	// Output:
	// classroom N base, about 16' 1/16": 1/2" at 0", 3/8" at 4', 1/8" at 8', 1/8" at 12', 0" at 16', top beyond foot 0.041 in right
	// classroom E base, 12': 0" at 0", 1/4" at 4', 1/4" at 8', 1/4" at 12', top beyond foot 0.000 in right
	// classroom S base, about 16' 1/16": 5/16" at 0", 9/16" at 16', top beyond foot 0.000 in right
	// floor level (advice): the floor is 1/2" higher at 0" of N than at 16' of N, at most 5/16" within 6 ft: more than the 1/4 in per 6 ft that base may follow: set it level, and shoe covers the gap
	// base height (advice): scribed by up to 1/2", base pine base of 5-1/4" keeps 4-3/4" where the floor is highest; to keep 5" it would have to be sold 5-1/2" high
}
