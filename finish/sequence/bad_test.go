package sequence_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/finish/sequence"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// Each fault is named by its path, all at once.
func TestNetworkRefuses(t *testing.T) {
	base := sequence.Trim{Room: "classroom", Profile: "base", Role: stock.RoleBase}
	inst, caulk, prime, paint := sequence.Work{Trim: base}, sequence.Work{Trim: base, Task: finish.TaskCaulk}, sequence.Work{Trim: base, Task: finish.TaskPrime}, sequence.Work{Trim: base, Task: finish.TaskPaint}
	fill := sequence.Work{Trim: base, Task: finish.TaskFill}
	putty := fill
	putty.OilPutty = true
	jobs := func(w ...sequence.Work) sequence.Job { return sequence.Job{Work: w} }
	for _, c := range []struct {
		name string
		job  sequence.Job
		o    *sequence.Options
		want []string // fields
	}{
		{"caulk on bare wood", jobs(inst, caulk, prime), nil, []string{"work[1].task"}},
		{"caulk on the last coat", jobs(inst, prime, paint, caulk), nil, []string{"work[3].task"}},
		{"oil putty on bare wood", jobs(inst, putty, prime), nil, []string{"work[1].task"}},
		{"holes without nails", jobs(fill, inst), nil, []string{"work[0].task"}},
		{"back of what is up", jobs(inst, sequence.Work{Trim: base, Stage: sequence.StageBackPrime}), nil, []string{"work[1].stage"}},
		{"no room, no profile", jobs(sequence.Work{}), nil, []string{"work[0].room", "work[0].profile"}},
		{"no such stage", jobs(sequence.Work{Stage: "roof"}), nil, []string{"work[0].stage"}},
		{"no such task", jobs(sequence.Work{Task: 99}), nil, []string{"work[0].task"}},
		{"no work", jobs(sequence.Work{Stage: sequence.StageDelivery}), nil, []string{"work[0].stage"}},
		{"negative", jobs(sequence.Work{Trim: sequence.Trim{Room: "r", Profile: "p", Role: 200, Longest: -1, Order: -1}, Labor: -1, Coats: -1, People: -1, Dry: finish.Drying{Recoat: -1}}), nil,
			[]string{"work[0].role", "work[0].labor", "work[0].coats", "work[0].dry.recoat", "work[0].people", "work[0].longest", "work[0].order"}},
		{"cures before it dries", jobs(sequence.Work{Trim: base, Dry: finish.Drying{Recoat: 2, Cure: 1}}), nil, []string{"work[0].dry.cure"}},
		{"wet walls of no room", jobs(sequence.Work{Stage: sequence.StageWallPaint}), nil, []string{"work[0].room"}},
		{"trim that is torn out", jobs(sequence.Work{Stage: sequence.StageTearOut, Trim: base}), nil, []string{"work[0].profile"}},
		{"two of one ID", jobs(sequence.Work{ID: "a", Trim: base}, sequence.Work{ID: "a", Trim: base}), nil, []string{"work[1].id"}},
		{"too many coats", jobs(sequence.Work{Trim: base, Task: finish.TaskPaint, Coats: math.MaxInt64}), nil, []string{"work[0].coats"}},
		{"too many activities", jobs(slices.Repeat([]sequence.Work{{Trim: base, Task: finish.TaskPaint, Coats: 1000}}, 200)...), nil, []string{"work[100]"}},
		{"an other of no name, a link to nothing", sequence.Job{Others: []sequence.Other{{}}}, nil, []string{"others[0].activity.id"}},
		{"a link to nothing", sequence.Job{Others: []sequence.Other{{Activity: schedule.Activity{ID: "a", After: []schedule.Link{{ID: "b"}}}, Before: []string{"c"}}}}, nil,
			[]string{"others[0].activity.after[0].id", "others[0].before[0]"}},
		{"an other of a name that is taken", sequence.Job{Work: []sequence.Work{inst}, Others: []sequence.Other{{Activity: schedule.Activity{ID: "classroom: base: install"}}}}, nil, []string{"others[0].activity.id"}},
		{"before itself", sequence.Job{Others: []sequence.Other{{Activity: schedule.Activity{ID: "a"}, Before: []string{"b"}}, {Activity: schedule.Activity{ID: "b"}, Before: []string{"a"}}}}, nil, []string{"work"}},
		{"deliveries", sequence.Job{Deliveries: []sequence.Delivery{{LeadDays: -1, Class: 99, Moisture: -1, Tasks: []finish.Task{99}}, {LeadDays: 3}}}, nil,
			[]string{"deliveries[0].tasks[0]", "deliveries[0].lead_days", "deliveries[0].class", "deliveries[0].moisture", "deliveries[1].day"}},
		{"options", sequence.Job{}, &sequence.Options{Floor: 9, Pace: 9, CaulkAfterWalls: true, WallsAfterTrim: true, LongPiece: -1, Site: finish.Climate{Humidity: -1},
			Skills: []sequence.StageSkill{{Stage: "roof"}}, Acclimation: []sequence.Acclimation{{Lag: -1}}, Dusting: -1, Punch: -1, FinalClean: -1},
			[]string{"options.floor", "options.pace", "options.caulk_after_walls", "options.long_piece", "options.site.humidity", "options.skills[0].stage",
				"options.acclimation[0].lag", "options.dusting", "options.punch", "options.final_clean"}},
	} {
		order, err := sequence.Network(c.job, c.o)
		var got []string
		for bad := range measure.FieldErrors(err) {
			got = append(got, bad.Field)
		}
		if !slices.Equal(got, c.want) || order != nil {
			t.Errorf("%s: %v at %q, want %q", c.name, err, got, c.want)
		}
	}
}

// Events of nothing, and that end before they start.
func TestCheckRefuses(t *testing.T) {
	job := sequence.Job{Work: []sequence.Work{{Stage: sequence.StagePunch}}}
	_, err := sequence.Check(job, []sequence.Event{{Work: 1}, {Work: -1}, {Delivery: true}, {Start: monday}}, nil)
	var got []string
	for bad := range measure.FieldErrors(err) {
		got = append(got, bad.Field)
	}
	if want := []string{"events[0].work", "events[1].work", "events[2].work", "events[3].end"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestFromStepsRefuses(t *testing.T) {
	_, err := sequence.FromSteps([]finish.StepResult{{Job: "base"}}, make([]measure.Duration, 2), []sequence.Trim{{Job: "casing"}, {Job: "casing"}})
	var got []string
	for bad := range measure.FieldErrors(err) {
		got = append(got, bad.Field)
	}
	if want := []string{"trims[1].job", "labor", "steps[0].job"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// An empty job is valid, and so is a job without trim.
func TestNothing(t *testing.T) {
	order := must[*sequence.Order](t)(sequence.Network(sequence.Job{}, nil))
	if len(order.Activities) != 0 {
		t.Errorf("%+v", order.Activities)
	}
	if v := must[[]sequence.Violation](t)(sequence.Check(sequence.Job{}, nil, nil)); v != nil {
		t.Errorf("%+v", v)
	}
	order = must[*sequence.Order](t)(sequence.Network(sequence.Job{Work: []sequence.Work{{Stage: sequence.StageSignOff}, {Stage: sequence.StageFloor}}}, nil))
	if first, last := order.Steps[0].Stage, order.Steps[len(order.Steps)-1].Stage; first != sequence.StageFloor || last != sequence.StageSignOff {
		t.Errorf("%v to %v", first, last)
	}
	if order.Events([]schedule.Slot{{Activity: -1}, {Activity: 99}}) != nil {
		t.Error("events without an activity")
	}
	var zero *sequence.Order = order
	if zero.WaitsFor("nobody") != nil {
		t.Error("a reason for an unknown activity")
	}
}

// A job has the content of its file.
func TestJSON(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job, o := drawJob(t)
		for _, v := range []any{&job, o} {
			text, err := json.Marshal(v)
			if err != nil {
				t.Fatal(err)
			}
			back := reflect.New(reflect.TypeOf(v).Elem())
			if err := measure.UnmarshalStrict(text, back.Interface()); err != nil {
				t.Fatalf("%v: %s", err, text)
			}
			again, err := json.Marshal(back.Interface())
			if err != nil || string(again) != string(text) {
				t.Fatalf("%v\n%s\n%s", err, text, again)
			}
		}
	})
	order := must[*sequence.Order](t)(sequence.Network(sequence.Job{Work: classroom()}, nil))
	text, err := json.Marshal(order)
	if err != nil {
		t.Fatal(err)
	}
	var back sequence.Order
	if err := measure.UnmarshalStrict(text, &back); err != nil || !reflect.DeepEqual(back.Activities, order.Activities) || !reflect.DeepEqual(back.Edges, order.Edges) {
		t.Errorf("%v", err)
	}
}

// Any values at all: an error or an order, never a panic, and the same each time.
func TestAnyValues(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		odd := rapid.SampledFrom([]int64{0, 1, -1, 2, 3, math.MaxInt64, math.MinInt64, 1 << 40})
		name := rapid.SampledFrom([]string{"", "a", "b", "ready: a", "Küche", "部屋", strings.Repeat("x", 300), "\x00", "\xff"})
		stage := rapid.SampledFrom([]sequence.Stage{"", "", "", sequence.StageFloor, sequence.StageWalls, sequence.StagePunch, sequence.StageDust, sequence.StageInstall, sequence.StageWallPaint, "?"})
		var job sequence.Job
		for range rapid.IntRange(0, 5).Draw(t, "works") {
			job.Work = append(job.Work, sequence.Work{ID: name.Draw(t, "id"), Stage: stage.Draw(t, "stage"), Task: finish.Task(rapid.IntRange(0, 20).Draw(t, "task")),
				Trim: sequence.Trim{Room: name.Draw(t, "room"), Profile: name.Draw(t, "profile"), Role: stock.Role(rapid.IntRange(0, 30).Draw(t, "role")),
					Assembly: name.Draw(t, "assembly"), Order: int(int32(odd.Draw(t, "order"))), Longest: measure.Length(odd.Draw(t, "longest"))},
				Labor: measure.Duration(odd.Draw(t, "labor")), Coats: min(odd.Draw(t, "coats"), 1<<40), People: odd.Draw(t, "people"),
				Dry: finish.Drying{Recoat: measure.Duration(odd.Draw(t, "dry")), Cure: measure.Duration(odd.Draw(t, "cure"))}})
		}
		for range rapid.IntRange(0, 2).Draw(t, "deliveries") {
			job.Deliveries = append(job.Deliveries, sequence.Delivery{ID: name.Draw(t, "id"), Profile: name.Draw(t, "profile"), LeadDays: int64(int32(odd.Draw(t, "lead"))),
				Settle: measure.Duration(odd.Draw(t, "settle")), Moisture: measure.Ratio(odd.Draw(t, "moisture")), Class: stock.Class(rapid.IntRange(0, 9).Draw(t, "class"))})
		}
		for range rapid.IntRange(0, 2).Draw(t, "others") {
			job.Others = append(job.Others, sequence.Other{Activity: schedule.Activity{ID: name.Draw(t, "id"), Dry: measure.Duration(odd.Draw(t, "dry")),
				After: []schedule.Link{{ID: name.Draw(t, "after"), Lag: measure.Duration(odd.Draw(t, "lag")), Type: schedule.LinkType(rapid.IntRange(0, 5).Draw(t, "type"))}}}, Before: []string{name.Draw(t, "before")}})
		}
		o := &sequence.Options{Pace: sequence.Pace(rapid.IntRange(0, 3).Draw(t, "pace")), Floor: sequence.Floor(rapid.IntRange(0, 3).Draw(t, "floor")),
			Site: finish.Climate{Temperature: measure.Temperature(odd.Draw(t, "°F")), Humidity: measure.Ratio(odd.Draw(t, "%"))}}
		order, err := sequence.Network(job, o)
		if (order == nil) == (err == nil) {
			t.Fatalf("%v, %v", order, err)
		}
		if again, _ := sequence.Network(job, o); !reflect.DeepEqual(order, again) {
			t.Fatal("another order")
		}
		var events []sequence.Event
		for i := range job.Work {
			start := monday.Add(time.Duration(odd.Draw(t, "start")))
			events = append(events, sequence.Event{Work: i, Coat: odd.Draw(t, "coat"), Start: start, End: start.Add(time.Duration(max(odd.Draw(t, "long"), 0)))})
		}
		if _, err := sequence.Check(job, events, o); err != nil && !errors.As(err, new(*measure.FieldError)) {
			t.Fatal(err)
		}
	})
}

// A tract of rooms: every work is there once, and nothing waits for itself.
func TestManyRooms(t *testing.T) {
	var job sequence.Job
	for r := range 60 {
		for _, w := range schoolhouse()[:24] {
			w.Room = fmt.Sprint("room ", r)
			job.Work = append(job.Work, w)
		}
	}
	for pace := sequence.PaceAllAtOnce; pace <= sequence.PaceSideBySide; pace++ {
		order := must[*sequence.Order](t)(sequence.Network(job, &sequence.Options{Pace: pace, OneAir: true}))
		at := map[string]int{}
		for i, a := range order.Activities {
			for _, l := range a.After {
				if k, ok := at[l.ID]; !ok || k >= i {
					t.Fatalf("%v: %s stands before %s", pace, a.ID, l.ID)
				}
			}
			at[a.ID] = i
		}
		if len(at) != len(order.Activities) || len(order.Edges) > 20*len(order.Activities) {
			t.Errorf("%v: %d activities with %d names, %d edges", pace, len(order.Activities), len(at), len(order.Edges))
		}
	}
}

// Every task of package finish has a stage: a new task without one fails this test.
func TestEveryTaskHasAStage(t *testing.T) {
	n := 0
	for k := range finish.Task(255) {
		if _, err := k.MarshalText(); err != nil {
			continue
		}
		n++
		w := sequence.Work{Task: k, Trim: sequence.Trim{Room: "classroom", Profile: "base"}}
		order, err := sequence.Network(sequence.Job{Work: []sequence.Work{{Trim: w.Trim}, {Trim: w.Trim, Task: finish.TaskPrime}, w}}, nil)
		if w.Validate() != nil || err != nil {
			t.Errorf("%v: %v, %v", k, w.Validate(), err)
			continue
		}
		if !slices.ContainsFunc(order.Steps, func(s sequence.Step) bool { return s.Work == 2 && s.Stage != "" }) {
			t.Errorf("%v has no stage", k)
		}
	}
	if n < 15 {
		t.Errorf("%d tasks", n)
	}
}
