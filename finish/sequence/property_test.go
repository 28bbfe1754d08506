package sequence_test

import (
	"context"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/finish/sequence"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

var roles = []stock.Role{stock.RoleBase, stock.RoleShoe, stock.RoleChairRail, stock.RolePictureRail, stock.RoleCasing, stock.RoleCrown,
	stock.RoleStool, stock.RoleApron, stock.RolePlinth, stock.RoleBackband, stock.RoleCap, stock.RoleFrieze, stock.RoleBed,
	stock.RoleBand, stock.RoleBacking, stock.RoleBlock, stock.RoleExtension, stock.RolePanelMold, stock.RoleStile, stock.RolePanel, stock.RoleSkirt}

// drawSystem draws a system in an order that can be done.
func drawSystem(t *rapid.T, trim sequence.Trim) []sequence.Work {
	has := rapid.Bool()
	dry := func() finish.Drying {
		d := finish.Drying{Recoat: measure.Duration(rapid.IntRange(0, 20).Draw(t, "dry")) * hour}
		if has.Draw(t, "cures") {
			d.Cure = d.Recoat + 24*hour
		}
		return d
	}
	var all []sequence.Work
	add := func(task finish.Task, coats int64, d finish.Drying) {
		labor := measure.Duration(rapid.IntRange(1, 300).Draw(t, "minutes")) * minute
		all = append(all, sequence.Work{Trim: trim, Task: task, Coats: coats, Dry: d, Labor: labor})
	}
	if has.Draw(t, "stone") {
		add(finish.TaskSet, 0, dry())
		add(finish.TaskGrout, 0, dry())
		add(finish.TaskCaulk, 0, dry())
		add(finish.TaskSeal, 2, dry())
		add(finish.TaskClean, 0, finish.Drying{})
		return all
	}
	if has.Draw(t, "back prime") {
		add(finish.TaskPrime, 0, dry())
		all[len(all)-1].Stage = sequence.StageBackPrime
	}
	if has.Draw(t, "glued") {
		add(finish.TaskGlueJoints, 0, finish.Drying{Cure: 24 * hour})
	}
	if rapid.IntRange(0, 9).Draw(t, "hangs already") > 0 {
		add(finish.TaskInstall, 0, finish.Drying{})
	}
	if has.Draw(t, "filled") {
		add(finish.TaskFill, 0, dry())
		add(finish.TaskSand, 0, finish.Drying{})
	}
	if !trim.Preprimed || has.Draw(t, "primed") {
		add(finish.TaskPrime, int64(rapid.IntRange(0, 2).Draw(t, "coats of primer")), dry())
	}
	if has.Draw(t, "sanded") {
		add(finish.TaskSand, 2, finish.Drying{})
	}
	if has.Draw(t, "caulked") {
		add(finish.TaskBackerRod, 0, finish.Drying{})
		add(finish.TaskCaulk, 0, dry())
	}
	if has.Draw(t, "masked") {
		add(finish.TaskMask, 0, finish.Drying{})
	}
	if has.Draw(t, "painted") {
		add(finish.TaskPaint, int64(rapid.IntRange(1, 3).Draw(t, "coats")), dry())
		if has.Draw(t, "and again") {
			add(finish.TaskSand, 0, finish.Drying{})
			add(finish.TaskPaint, 1, dry())
		}
	}
	add(finish.TaskClean, 0, finish.Drying{})
	return all
}

// drawJob draws a job, the site's own works around its trim, and choices.
func drawJob(t *rapid.T) (sequence.Job, *sequence.Options) {
	has := rapid.Bool()
	o := &sequence.Options{CrownAfterBase: has.Draw(t, "base first"), Floor: sequence.Floor(rapid.IntRange(0, 2).Draw(t, "floor")),
		WallsAfterTrim: has.Draw(t, "walls after"), Prefinish: has.Draw(t, "racks"), Pace: sequence.Pace(rapid.IntRange(0, 2).Draw(t, "pace")),
		OneAir: has.Draw(t, "one air"), AnyCoatFirst: has.Draw(t, "any coat"), EachProfile: rapid.Bool().Draw(t, "each profile"), Dusting: measure.Duration(rapid.IntRange(0, 30).Draw(t, "dusting")) * minute,
		Punch: hour, Site: finish.Climate{Temperature: 70 * measure.DegreeF, Humidity: 50 * measure.Percent}}
	o.CaulkAfterWalls = !o.WallsAfterTrim && has.Draw(t, "caulk after walls")
	rooms := []string{"classroom", "cloakroom", "corridor"}[:rapid.IntRange(1, 3).Draw(t, "rooms")]
	var job sequence.Job
	stage := func(s sequence.Stage, room string) {
		if rapid.IntRange(0, 2).Draw(t, string(s)) == 0 {
			job.Work = append(job.Work, sequence.Work{Stage: s, Trim: sequence.Trim{Room: room}, Labor: measure.Duration(rapid.IntRange(0, 200).Draw(t, "minutes")) * minute,
				Dry: finish.Drying{Recoat: measure.Duration(rapid.IntRange(0, 30).Draw(t, "dry")) * hour}})
		}
	}
	for _, s := range []sequence.Stage{sequence.StageDecision, sequence.StageTearOut, sequence.StageWalls, sequence.StageClimate, sequence.StageFloor, sequence.StageFloorCoat, sequence.StageSignOff} {
		stage(s, "")
	}
	for _, room := range rooms {
		for _, s := range []sequence.Stage{sequence.StageTearOut, sequence.StageWalls, sequence.StageSetUp, sequence.StageJambs, sequence.StageFloor, sequence.StageWallPaint, sequence.StageFinalClean} {
			stage(s, room)
		}
		for k := range rapid.IntRange(0, 4).Draw(t, "trims") {
			trim := sequence.Trim{Room: room, Profile: "profile " + string(rune('A'+k)), Role: rapid.SampledFrom(roles).Draw(t, "role"),
				Preprimed: has.Draw(t, "preprimed"), Longest: measure.Length(rapid.IntRange(0, 16).Draw(t, "ft")) * measure.Foot}
			if has.Draw(t, "built up") {
				trim.Assembly = "built up"
				trim.Order = rapid.IntRange(0, 3).Draw(t, "order")
			}
			job.Work = append(job.Work, drawSystem(t, trim)...)
		}
	}
	for range rapid.IntRange(0, 2).Draw(t, "deliveries") {
		d := sequence.Delivery{Profile: "profile " + string(rune('A'+rapid.IntRange(0, 3).Draw(t, "of"))), Class: stock.Class(rapid.IntRange(0, 4).Draw(t, "class")),
			Day: monday.AddDate(0, 0, rapid.IntRange(0, 9).Draw(t, "day")), LeadDays: rapid.Int64Range(0, 5).Draw(t, "lead")}
		if has.Draw(t, "paint") {
			d.Tasks = []finish.Task{finish.TaskPaint}
		}
		if has.Draw(t, "metered") {
			d.Moisture = measure.Ratio(rapid.IntRange(5, 15).Draw(t, "reads")) * measure.Percent
		}
		job.Deliveries = append(job.Deliveries, d)
	}
	for k := range rapid.IntRange(0, 2).Draw(t, "others") {
		after, before := rapid.IntRange(0, len(rooms)-1).Draw(t, "after"), rapid.IntRange(0, len(rooms)-1).Draw(t, "before")
		id := "other " + string(rune('A'+k))
		job.Others = append(job.Others, sequence.Other{
			Activity: schedule.Activity{ID: id, Labor: hour, After: []schedule.Link{{ID: sequence.MilestoneTrimUp.In(rooms[min(after, before)])}}},
			Before:   []string{sequence.MilestoneReady.In(rooms[max(after, before)])},
		})
		if after == before {
			job.Others[k].Before = []string{sequence.MilestoneFinished.In(rooms[after])}
		}
	}
	return job, o
}

var monday = time.Date(2026, 6, 1, 8, 0, 0, 0, time.UTC)

var crews = []schedule.Crew{{Name: "carpenters", People: 2, Skills: []string{"carpenter", "plasterer", "floor layer"}}, {Name: "painters", People: 2, Skills: []string{"painter", "tile setter"}}}

// Whatever the job and the choices: the order of Network and its schedule break no rule. If Network
// rejects it, the work waits for itself, as in an assembly with an absurd order, or because of links
// added by the caller.
func TestEveryScheduleKeepsTheRules(t *testing.T) {
	done := 0
	rapid.Check(t, func(t *rapid.T) {
		job, o := drawJob(t)
		order, err := sequence.Network(job, o)
		if err != nil {
			built := slices.ContainsFunc(job.Work, func(w sequence.Work) bool { return w.Assembly != "" && w.Order > 0 })
			if !built && len(job.Others) == 0 {
				t.Fatal(err)
			}
			return
		}
		done++
		coats := map[int]int64{}
		for _, s := range order.Steps {
			if s.Work >= 0 {
				coats[s.Work]++
			}
			for _, w := range s.With {
				coats[w]++
			}
		}
		if len(coats) != len(order.Job.Work) {
			t.Fatalf("only %d of %d works are present", len(coats), len(order.Job.Work))
		}
		s, err := schedule.Build(context.Background(), order.Activities, schedule.Calendar{Start: monday, Crews: crews}, &schedule.Options{Work: 20_000})
		if err != nil {
			t.Fatal(err)
		}
		v, err := sequence.Check(order.Job, order.Events(s.Slots), o)
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range v {
			t.Errorf("%s: %s", x.Rule, x.Reason)
		}
	})
	t.Logf("%d laid out", done)
	if done == 0 {
		t.Error("no job was scheduled")
	}
}

// Every firm link matters: work done before its predecessor is over (and dry, settled, cured) breaks a
// rule that Check finds, although it knows nothing of links.
func TestWhatBreaksAFirmLinkIsFound(t *testing.T) {
	tried := map[sequence.RuleCode]int{}
	rapid.Check(t, func(t *rapid.T) {
		job, o := drawJob(t)
		order, err := sequence.Network(job, o)
		if err != nil {
			return
		}
		s, err := schedule.Build(context.Background(), order.Activities, schedule.Calendar{Start: monday, Crews: crews}, &schedule.Options{Work: 1})
		if err != nil {
			t.Fatal(err)
		}
		events := order.Events(s.Slots)
		of := map[string]int{} // the event of an activity
		for _, slot := range s.Slots {
			step := order.Steps[slot.Activity]
			for k, e := range events {
				if e.Delivery && e.Work == step.Delivery || !e.Delivery && e.Work == step.Work && e.Coat == step.Coat {
					of[slot.ID] = k
				}
			}
		}
		along := map[int][]int{} // events of works that are done along with that of an event
		for _, slot := range s.Slots {
			for _, w := range order.Steps[slot.Activity].With {
				for k, e := range events {
					if !e.Delivery && e.Work == w {
						along[of[slot.ID]] = append(along[of[slot.ID]], k)
					}
				}
			}
		}
		for _, e := range order.Edges {
			from, ok := of[e.From]
			to, ok2 := of[e.To]
			if !ok || !ok2 || !e.Firm || e.Lag == 0 && !events[from].Start.Before(events[from].End) {
				continue
			}
			tried[e.Rule]++
			wrong := slices.Clone(events)
			was := wrong[to]
			wrong[to].Start = wrong[from].End.Add(time.Duration(e.Lag) - time.Second)
			wrong[to].End = wrong[to].Start.Add(was.End.Sub(was.Start))
			for _, k := range along[to] {
				wrong[k].Start, wrong[k].End = wrong[to].Start, wrong[to].End
			}
			v, err := sequence.Check(order.Job, wrong, o)
			if err != nil {
				t.Fatal(err)
			}
			if len(v) == 0 {
				t.Errorf("%s: starting %s before %s is over was not reported; moved from %+v to %+v, it was %+v", e.Rule, e.To, e.From, wrong[from], wrong[to], was)
			}
		}
	})
	t.Log(tried)
}

// The steps of a tear-out in a room follow each other as they stand.
func TestTearOutKeepsItsOrder(t *testing.T) {
	var works []sequence.Work
	for _, step := range []string{"contain", "pry off", "clean", "verify"} {
		for _, room := range []string{"classroom", "entry"} {
			works = append(works, sequence.Work{Stage: sequence.StageTearOut, Step: step, Trim: sequence.Trim{Room: room}, Labor: measure.Duration(3600e9)})
		}
	}
	order, err := sequence.Network(sequence.Job{Work: works}, nil)
	if err != nil {
		t.Fatal(err)
	}
	waits := map[[2]string]bool{}
	for _, e := range order.Edges {
		waits[[2]string{e.From, e.To}] = true
	}
	for i, a := range order.Activities {
		for k, b := range order.Activities {
			if wa, wb := order.Steps[i].Work, order.Steps[k].Work; wa >= 0 && wb == wa+2 && order.Steps[k].Stage == sequence.StageTearOut && !waits[[2]string{a.ID, b.ID}] {
				t.Errorf("%s does not wait for %s", b.ID, a.ID)
			}
		}
	}
}
