package tearout_test

import (
	"fmt"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/tearout"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// schoolJob is the job of ExampleNew.
func schoolJob() tearout.Job {
	return tearout.Job{
		Building: finish.Building{Year: 1924, Occupancy: finish.OccupancyChildren},
		Rooms: []tearout.Room{
			{Name: "classroom", Length: 30 * measure.Foot, Width: 20 * measure.Foot, Doors: 1, Ducts: 2, Sills: 4,
				Suspects: []tearout.Suspect{{Kind: tearout.SuspectPlaster, Free: true}}},
		},
		Parts: []tearout.Part{
			{Room: "classroom", Label: "base, long walls", Profile: "old base", Length: 14 * measure.Foot, Count: 4,
				Width: 29 * measure.Inch / 4, Thickness: 3 * measure.Inch / 4, Girth: 8 * measure.Inch, Method: tearout.MethodSalvage, Scored: 1},
			{Room: "classroom", Label: "shoe", Length: 97 * measure.Foot, Width: 3 * measure.Inch / 4, Thickness: measure.Inch / 2, Method: tearout.MethodBreak},
		},
	}
}

// The classroom of a school from 1924 becomes a workshop that children use. Its base is
// pried off whole for the rack, its shoe is broken off.
func ExampleNew() {
	plan, err := tearout.New(tearout.Job{
		Building: finish.Building{Year: 1924, Occupancy: finish.OccupancyChildren},
		Rooms: []tearout.Room{
			{Name: "classroom", Length: 30 * measure.Foot, Width: 20 * measure.Foot, Doors: 1, Ducts: 2, Sills: 4,
				Suspects: []tearout.Suspect{{Kind: tearout.SuspectPlaster, Free: true}}},
		},
		Parts: []tearout.Part{
			{Room: "classroom", Label: "base, long walls", Profile: "old base", Length: 14 * measure.Foot, Count: 4,
				Width: 29 * measure.Inch / 4, Thickness: 3 * measure.Inch / 4, Girth: 8 * measure.Inch, Method: tearout.MethodSalvage, Scored: 1},
			{Room: "classroom", Label: "shoe", Length: 97 * measure.Foot, Width: 3 * measure.Inch / 4, Thickness: measure.Inch / 2, Method: tearout.MethodBreak},
		},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("lead rule:", plan.Gate.Verdict)
	for _, s := range plan.Steps {
		fmt.Println(s.ID, "-", s.Labor)
	}
	d := plan.Debris
	fmt.Println("debris:", measure.Locale{}.FormatWeight(d.Weight), "in", d.Bags, "bags or", plan.Boxes, "box")
	for _, n := range plan.Needs {
		fmt.Println(n.Material, n.Gross)
	}
	// Output:
	// lead rule: covered
	// hand over the pamphlet - 0s
	// contain, classroom - 2h
	// score, classroom - 15m8s
	// break off, classroom - 1h27m18s
	// pry off, classroom - 1h49m12s
	// pull nails, classroom - 38m39s
	// bag, classroom - 10m
	// clean, classroom - 45m
	// inspect, classroom - 10m
	// verify, classroom - 20m
	// take down, classroom - 15m
	// debris: 20.5 lb in 2 bags or 1 box
	// plastic sheeting 545.6 sq ft
	// sheeting tape 193.6 ft
	// heavy-duty bags 2 ct
	// warning signs 1 ct
	// wet cloths 16 ct
}

// Saved pieces go to the rack under an ID, so they cannot be added twice.
func ExamplePlan_salvage() {
	plan, err := tearout.New(schoolJob())
	if err != nil {
		fmt.Println(err)
		return
	}
	rack, err := stock.Rack{Keep: 3 * measure.Foot}.Apply(stock.RackChange{ID: "classroom, tear-out", Leaves: plan.Salvage})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range rack.Sticks("old base") {
		fmt.Println(s.Limit, "of", s.Length, s.Label)
	}
	// Output: 3 of 13' 6" saved from classroom
}

// Each step has its cautions, its skill and its links.
func ExampleStep() {
	job := schoolJob()
	job.Rooms[0].Suspects = []tearout.Suspect{
		{Kind: tearout.SuspectMastic}, {Kind: tearout.SuspectFloorTile}, {Kind: tearout.SuspectPipeWrap},
	}
	plan, err := tearout.New(job)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range plan.Steps[:4] {
		switch {
		case s.Hold:
			fmt.Println("hold:", s.ID, s.Wait)
		case s.Skill == tearout.SkillRenovator:
			fmt.Println("renovator:", s.ID, "after", s.After)
		}
		for _, c := range s.Cautions[:1] {
			fmt.Println("  read:", c.Trigger)
		}
	}
	// Output:
	// hold: hand over the pamphlet 0s
	//   read: the renovation rule covers the job
	// hold: wait for the test, classroom 72h
	//   read: old mastic, 9 in floor tile, plaster and pipe insulation
	// renovator: contain, classroom after [wait for the test, classroom]
	//   read: painted trim in a building from before 1978
	// renovator: score, classroom after [contain, classroom]
	//   read: painted trim in a building from before 1978
}

// A door's casing has a face in each of two rooms, which are counted separately.
func ExampleDoorCasing() {
	casing := tearout.Part{Label: "casing", Width: 9 * measure.Inch / 4, Thickness: 11 * measure.Inch / 16, Method: tearout.MethodPry}
	parts, err := tearout.DoorCasing(casing, 36*measure.Inch, 80*measure.Inch, "classroom", "corridor")
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range parts {
		fmt.Println(p.Room, p.Label, p.Count, "of", p.Length)
	}
	// Output:
	// classroom casing, legs 2 of 6' 10-1/4"
	// classroom casing, head 1 of 3' 4-1/2"
	// corridor casing, legs 2 of 6' 10-1/4"
	// corridor casing, head 1 of 3' 4-1/2"
}

// Rates are data: replace them by your own.
func ExampleRate() {
	rates := tearout.DefaultRates()
	for i := range rates {
		switch rates[i].Task {
		case tearout.TaskPry:
			rates[i].Time, rates[i].Condition = measure.Duration(2*3600*1_000_000_000), "the same school's cloakroom"
		case tearout.TaskNotify, tearout.TaskTest, tearout.TaskClear: // no labor of ours
		case tearout.TaskContain, tearout.TaskClean, tearout.TaskInspect, tearout.TaskVerify, tearout.TaskTakeDown: // by the room
		case tearout.TaskScore, tearout.TaskBreak, tearout.TaskDenail: // by the length
		case tearout.TaskBag, tearout.TaskSweep: // by the bag; by the room
		}
	}
	job := schoolJob()
	job.Rules = tearout.Rules{Rates: rates}
	plan, err := tearout.New(job)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range plan.Steps {
		if s.Task == tearout.TaskPry {
			r := plan.Rates[s.Rate]
			fmt.Println(s.Amount, "at", r.Time, "for", r.Per, "-", s.Labor, "("+r.Condition+")")
		}
	}
	// Output: 56 ft at 2h for 100' - 1h7m12s (the same school's cloakroom)
}

// Every other figure can be replaced too.
func ExampleRules() {
	woods := append(tearout.DefaultWoods(), tearout.Wood{Name: "chestnut", Gravity: 40 * measure.Percent, Moisture: 9 * measure.Percent})
	disposal := tearout.DefaultDisposal()
	disposal.Loose = 400 * measure.Pound
	salvage := tearout.DefaultSalvage()
	salvage.Yield = 50 * measure.Percent
	contain := tearout.DefaultContainment()
	contain.Reach = 10 * measure.Foot
	job := schoolJob()
	job.Rules = tearout.Rules{Woods: woods, Disposal: disposal, Salvage: salvage, Containment: contain}
	job.Parts[0].Material = "chestnut"
	plan, err := tearout.New(job)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(plan.Salvage[0].Count, "pieces saved,", plan.Rooms[0].Sheet, "of plastic")
	// Output: 2 pieces saved, 600 sq ft of plastic
}
