package sequence_test

import (
	"context"
	"fmt"
	"strings"
	"time"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/finish/sequence"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// painted returns the usual steps of trim that is painted in place.
func painted(trim sequence.Trim) []sequence.Work {
	enamel := finish.Drying{Recoat: 16 * hour, Cure: 720 * hour}
	return []sequence.Work{
		{Trim: trim, Task: finish.TaskInstall, Labor: 4 * hour},
		{Trim: trim, Task: finish.TaskFill, Labor: hour, Dry: finish.Drying{Recoat: 2 * hour}},
		{Trim: trim, Task: finish.TaskSand, Labor: hour},
		{Trim: trim, Task: finish.TaskPrime, Labor: hour, Dry: finish.Drying{Recoat: 4 * hour}},
		{Trim: trim, Task: finish.TaskCaulk, Labor: hour, Dry: finish.Drying{Recoat: 2 * hour}},
		{Trim: trim, Task: finish.TaskPaint, Labor: 2 * hour, Coats: 2, Dry: enamel},
	}
}

// classroom is the trim of one room: casing, crown of long pieces, and base.
func classroom() []sequence.Work {
	var all []sequence.Work
	for _, t := range []sequence.Trim{
		{Profile: "casing", Role: stock.RoleCasing}, {Profile: "base", Role: stock.RoleBase},
		{Profile: "crown", Role: stock.RoleCrown, Longest: 14 * measure.Foot},
	} {
		t.Room = "classroom"
		all = append(all, painted(t)...)
	}
	return all
}

// The classroom of the schoolhouse, by a carpenter with a helper, and a painter: crown is
// installed before anything is wet, the room is painted from the top down, and the punch list
// comes last.
func ExampleNetwork() {
	job := sequence.Job{Work: classroom()}
	order, err := sequence.Network(job, &sequence.Options{Dusting: hour / 2, Punch: hour, FinalClean: hour})
	if err != nil {
		fmt.Println(err)
		return
	}
	s, err := schedule.Build(context.Background(), order.Activities, schedule.Calendar{Start: time.Date(2026, 6, 1, 8, 0, 0, 0, time.UTC), Crews: []schedule.Crew{
		{Name: "carpenters", People: 2, Skills: []string{"carpenter"}}, {Name: "painter", Skills: []string{"painter"}}}}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, slot := range s.Slots {
		switch step := order.Steps[slot.Activity]; step.Stage {
		case sequence.StageInstall, sequence.StageDust, sequence.StageCoat, sequence.StagePunch, sequence.StageFinalClean:
			fmt.Println(slot.Start.Format("Mon 15:04"), slot.ID)
		}
	}
	for _, e := range order.WaitsFor("classroom: base: install") {
		fmt.Printf("base waits for %s: %s\n", e.From, e.Reason)
	}
	found, err := sequence.Check(order.Job, order.Events(s.Slots), nil)
	fmt.Println(len(found), "rules broken", err)
	// Output:
	// Mon 08:00 classroom: casing: install
	// Mon 10:00 classroom: crown: install
	// Mon 12:00 classroom: base: install
	// Tue 14:00 classroom: vacuum and dust
	// Thu 10:15 classroom: paint, coat 1 of 2
	// Fri 08:00 classroom: paint, coat 2 of 2
	// Mon 08:00 punch list
	// Mon 08:30 final cleaning
	// base waits for classroom: casing: install: base, rails and paneling die into casing, which is up first
	// base waits for classroom: crown: install: crown and base: which goes up first is a choice
	// 0 rules broken <nil>
}

// A hasty order saws next to wet enamel, and caulks bare wood.
func ExampleCheck() {
	trim := sequence.Trim{Room: "corridor", Profile: "base", Role: stock.RoleBase}
	other := sequence.Trim{Room: "corridor", Profile: "old casing", Role: stock.RoleCasing}
	job := sequence.Job{Work: []sequence.Work{
		{Trim: trim, Task: finish.TaskInstall},
		{Trim: trim, Task: finish.TaskCaulk},
		{Trim: other, Task: finish.TaskPaint, Dry: finish.Drying{Recoat: 4 * hour}},
		{Trim: other, Task: finish.TaskSand},
	}}
	at := func(h int) time.Time { return time.Date(2026, 6, 1, h, 0, 0, 0, time.UTC) }
	found, err := sequence.Check(job, []sequence.Event{
		{Work: 0, Start: at(8), End: at(10)},
		{Work: 1, Start: at(10), End: at(11)},
		{Work: 2, Start: at(8), End: at(9)},
		{Work: 3, Start: at(14), End: at(15)},
	}, &sequence.Options{OneAir: true})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, v := range found {
		fmt.Println(v.Rule+":", v.Reason)
	}
	// Output:
	// air: install, base, corridor at 2026-06-01 08:00: paint, old casing, corridor is wet until 2026-06-01 13:00
	// primed: caulk, base, corridor at 2026-06-01 10:00: the wood is bare, and draws the water out of the caulk
	// last-coat: paint, old casing, corridor at 2026-06-01 08:00: a trade is still to work in the room: install, base, corridor
}

// Steps of a finishing list become works; only the plan knows their trim.
func ExampleFromSteps() {
	list, err := finish.NewList([]finish.Work{{
		Job:    finish.Job{Label: "base, cloakroom", Length: 40 * measure.Foot, Height: 5 * measure.Inch},
		System: finish.System{Steps: []finish.Step{{Task: finish.TaskSand}, {Task: finish.TaskClean}}},
	}}, finish.Shelf{Products: []finish.Product{{Label: "220", Material: "sandpaper", Packages: []finish.Package{{Size: finish.Count(10), Price: 899}}}}})
	if err != nil {
		fmt.Println(err)
		return
	}
	works, err := sequence.FromSteps(list.Steps, []measure.Duration{hour, hour / 2},
		[]sequence.Trim{{Job: "base, cloakroom", Room: "cloakroom", Profile: "base", Role: stock.RoleBase}})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, w := range works {
		fmt.Println(w.Room, w.Profile, w.Step, w.Labor, w.Validate())
	}
	// Output:
	// cloakroom base sand 1h <nil>
	// cloakroom base clean 30m <nil>
}

// Base comes a week after the order and acclimates for three days by the plan; a meter reading
// makes it ready at once.
func ExampleDelivery() {
	d := sequence.Delivery{Profile: "base", Day: time.Date(2026, 6, 1, 7, 0, 0, 0, time.UTC), LeadDays: 7}
	site := finish.Climate{Temperature: 70 * measure.DegreeF, Humidity: 45 * measure.Percent}
	for _, reads := range []measure.Ratio{0, 9 * measure.Percent, 14 * measure.Percent} {
		d.Moisture = reads
		order, err := sequence.Network(sequence.Job{Work: classroom(), Deliveries: []sequence.Delivery{d}}, &sequence.Options{Site: site})
		if err != nil {
			fmt.Println(err)
			return
		}
		for _, e := range order.WaitsFor("classroom: base: install") {
			if e.Rule == sequence.RuleSettled || e.Rule == sequence.RuleOnSite {
				fmt.Println(e.From, "on", d.On().Format(time.DateOnly)+",", e.Lag, "more:", e.Reason)
			}
		}
		for _, f := range order.Findings {
			if f.Code == sequence.FindingMoisture {
				fmt.Println(f.Reason)
			}
		}
	}
	// Output:
	// delivery: base on 2026-06-08, 72h more: it settles for 72h (Woodweb, 2008: 48 to 72 h for stock molding on stickers, 1 to 2 weeks for solid or stain grade; the meter decides); the plan goes by the clock, a moisture meter decides: within two points of 8.46%
	// delivery: base on 2026-06-08, 0s more: the meter reads 9%, trim settles at 8.46%: it goes up
	// delivery: base on 2026-06-08, 72h more: it settles for 72h (Woodweb, 2008: 48 to 72 h for stock molding on stickers, 1 to 2 weeks for solid or stain grade; the meter decides); the plan goes by the clock, a moisture meter decides: within two points of 8.46%
	// the meter reads 14%, trim settles at 8.46%: more than two points apart, so it does not go up, whatever the clock says
}

// Acclimation times and skills are data: change your copy.
func ExampleDefaultAcclimation() {
	for _, a := range sequence.DefaultAcclimation() {
		grade := "for paint"
		if a.StainGrade {
			grade = "stain grade"
		}
		fmt.Println(a.Class, grade, a.Lag)
	}
	skills := append(sequence.DefaultSkills(), sequence.StageSkill{Stage: sequence.StagePunch, Skill: "carpenter"})
	fmt.Println(len(skills), skills[0])
	// Output:
	// wood for paint 72h
	// wood stain grade 336h
	// composite for paint 72h
	// composite stain grade 336h
	// plastic for paint 24h
	// 17 {tear-out carpenter}
}

// The options, as in a file.
func ExampleOptions() {
	var o sequence.Options
	err := measure.UnmarshalStrict([]byte(`{"pace": "room by room", "floor": "after paint", "prefinish": true}`), &o)
	fmt.Println(o.Pace == sequence.PaceRoomByRoom, o.Floor == sequence.FloorAfterPaint, o.Prefinish, err)
	for _, p := range []sequence.Pace{sequence.PaceAllAtOnce, sequence.PaceRoomByRoom, sequence.PaceSideBySide} {
		fmt.Println(p)
	}
	for _, f := range []sequence.Floor{sequence.FloorBeforeBase, sequence.FloorAfterBase, sequence.FloorAfterPaint} {
		fmt.Println(f)
	}
	// Output:
	// true true true <nil>
	// all at once
	// room by room
	// side by side
	// before base
	// after base
	// after paint
}

// An inspection after the trim of the classroom is installed, before it is painted.
func ExampleOther() {
	job := sequence.Job{Work: classroom(), Others: []sequence.Other{{
		Activity: schedule.Activity{ID: "inspection", After: []schedule.Link{{ID: sequence.MilestoneTrimUp.In("classroom")}}},
		Before:   []string{"classroom: vacuum and dust"},
	}, {
		Activity: schedule.Activity{ID: "photograph", After: []schedule.Link{{ID: sequence.MilestoneFinished.In("classroom")}}},
	}, {
		Activity: schedule.Activity{ID: "power is off"}, Before: []string{sequence.MilestoneReady.In("classroom")},
	}}}
	order, err := sequence.Network(job, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, id := range []string{"inspection", "classroom: vacuum and dust"} {
		for _, e := range order.WaitsFor(id) {
			fmt.Println(id, "waits for", e.From)
		}
	}
	// Output:
	// inspection waits for trim up: classroom
	// classroom: vacuum and dust waits for ready: classroom
	// classroom: vacuum and dust waits for classroom: sand
	// classroom: vacuum and dust waits for inspection
}

// The rules of the order of work.
func ExampleRules() {
	for _, r := range sequence.Rules() {
		switch r.Code {
		case sequence.RuleHazards, sequence.RuleTearOut, sequence.RuleWallsDry, sequence.RuleClimate, sequence.RuleOnSite, sequence.RuleSettled,
			sequence.RuleBackPrime, sequence.RuleGlue, sequence.RuleJamb, sequence.RuleStool, sequence.RulePlinth, sequence.RuleCasing, sequence.RuleBacking,
			sequence.RuleMember, sequence.RuleShoe, sequence.RuleNailed, sequence.RuleSanded, sequence.RulePrimed, sequence.RulePutty, sequence.RuleCaulked,
			sequence.RuleDry, sequence.RuleCured, sequence.RuleDust, sequence.RuleAir, sequence.RuleLastCoat, sequence.RulePunch, sequence.RuleClean,
			sequence.RuleSignOff:
			fmt.Println(r.Code+":", r.Text)
		case sequence.RuleUsual, sequence.RuleSetUp, sequence.RuleSystem, sequence.RuleCrown, sequence.RuleFloor, sequence.RuleWalls, sequence.RuleCaulkWalls,
			sequence.RuleTopDown, sequence.RulePace, sequence.RuleOther:
			fmt.Println("choice,", r.Code+":", r.Text)
		}
	}
	// Output:
	// hazards: old paint and asbestos are dealt with, by test or by rule, before anything is torn out
	// tear-out: old trim comes off before the walls are repaired and new trim goes up
	// walls-dry: wet work on the walls is done and dry before trim comes into the house
	// climate: heat and dehumidifying run before trim comes into the house
	// on-site: the material is on site before it is used
	// settled: trim settles in the air of the house before it is primed, coated or put up
	// back-prime: trim that is primed or coated before installation is dry when it goes up
	// glue: a joint is glued as its trim goes up, before the nails
	// jamb: jambs are hung and their extensions are on before casing is nailed to them
	// stool: the stool is in before the apron under it and the casing that stands on it
	// plinth: plinth and corner blocks are set before the trim that dies into them
	// casing: base, rails and paneling die into casing, which is up first
	// backing: backing is in before the trim that is nailed to it
	// member: a member goes up before the members that are fixed to it or cover it
	// shoe: shoe lies on the finish floor against the base
	// nailed: trim is fastened before its nail holes are filled, its edges caulked or its joints grouted
	// sanded: filler is sanded before it is coated
	// primed: bare wood is primed before it is caulked: it draws the water out of latex caulk
	// putty: oil putty goes on primed wood: bare wood draws its oil
	// caulked: caulk goes under the first coat in place
	// dry: each coat is dry before the work that goes over it
	// cured: the material under a sealer has cured
	// dust: dusty work is done and the room vacuumed before it is painted
	// air: nobody saws or sands in air in which a coat is wet
	// last-coat: after the last coat in a room no trade works in it
	// punch: the punch list comes after all work, dry
	// clean: the final cleaning comes after the punch list
	// sign-off: the job is accepted after the final cleaning
	// choice, usual: this is the usual order of work in a house
	// choice, set-up: tools and protection are set up before the work in the room
	// choice, system: the steps of the finishing system follow in the order given
	// choice, crown: crown and base: which goes up first is a choice
	// choice, floor: finish floor and base: which comes first is a choice
	// choice, walls: walls and trim: which gets its last coat first is a choice
	// choice, caulk-walls: caulk and the last coat on the walls: which comes first is a choice
	// choice, top-down: a room is painted from the top down: crown, casing, base
	// choice, pace: how the work goes through the rooms is a choice
	// choice, other: the caller says so
}

// A house before its trim: the work of others is in the same network.
func ExampleStage() {
	room := sequence.Trim{Room: "classroom"}
	job := sequence.Job{Work: append([]sequence.Work{
		{Stage: sequence.StageSignOff}, {Stage: sequence.StageClimate}, {Stage: sequence.StageDecision, Labor: hour},
		{Stage: sequence.StageWalls, Trim: room, Labor: 8 * hour, Dry: finish.Drying{Recoat: 48 * hour}},
		{Stage: sequence.StageTearOut, Trim: room, Labor: 6 * hour}, {Stage: sequence.StageSetUp, Trim: room, Labor: hour},
		{Stage: sequence.StageJambs, Trim: room, Labor: 3 * hour}, {Stage: sequence.StageFloor, Trim: room, Labor: 12 * hour},
		{Stage: sequence.StageWallPaint, Trim: room, Labor: 5 * hour, Dry: finish.Drying{Recoat: 4 * hour}},
		{Stage: sequence.StageFloorCoat, Trim: room, Labor: 2 * hour, Dry: finish.Drying{Recoat: 24 * hour}},
	}, classroom()...), Deliveries: []sequence.Delivery{{}, {Tasks: []finish.Task{finish.TaskSet}}}}
	site := finish.Climate{Temperature: 50 * measure.DegreeF, Humidity: 60 * measure.Percent}
	order, err := sequence.Network(job, &sequence.Options{Site: site})
	if err != nil {
		fmt.Println(err)
		return
	}
	seen := map[sequence.Stage]bool{}
	var here, missing []string
	for _, s := range order.Steps {
		if s.Stage != "" && !seen[s.Stage] {
			seen[s.Stage] = true
			here = append(here, string(s.Stage))
		}
	}
	for _, s := range []sequence.Stage{sequence.StageDelivery, sequence.StageBackPrime, sequence.StageFill, sequence.StageSand, sequence.StagePrime, sequence.StageGrout,
		sequence.StageCaulk, sequence.StageMask, sequence.StageSeal, sequence.StageWipe} {
		if !seen[s] {
			missing = append(missing, string(s))
		}
	}
	fmt.Println(strings.Join(here, ", "))
	fmt.Println("not here:", strings.Join(missing, ", "))
	for _, f := range order.Findings {
		switch f.Code {
		case sequence.FindingSite, sequence.FindingUnused, sequence.FindingPace:
			fmt.Println(f.Code, f.Item, f.Reason)
		}
	}
	// Output:
	// decision, tear-out, walls, climate, set-up, jambs, floor, delivery, install, fill, sand, dust, prime, caulk, wall paint, coat, floor coat, punch, final clean, sign-off
	// not here: back-prime, grout, mask, seal, wipe
	// unused delivery: set nothing waits for it: no work is of its profile or its tasks
	// site  millwork is put up at 60°F to 90°F and 30% to 55% (AWI 200, as an installer cites it); here it is 50°F and 60% relative humidity
	// site  trim is painted at 55°F to 80°F and at most 85% (Leahy, Fine Homebuilding); here it is 50°F and 60% relative humidity, and the sheet of the paint decides
}
