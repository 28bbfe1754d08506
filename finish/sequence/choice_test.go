package sequence_test

import (
	"context"
	"fmt"
	"slices"
	"testing"
	"time"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/finish/sequence"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// schoolhouse is the trim of all rooms.
func schoolhouse() []sequence.Work {
	var all []sequence.Work
	for _, room := range []string{"classroom", "cloakroom", "corridor", "teacher's room"} {
		for _, w := range classroom() {
			w.Room = room
			all = append(all, w)
		}
		all = append(all, painted(sequence.Trim{Room: room, Profile: "shoe", Role: stock.RoleShoe})...)
	}
	return all
}

// reaches reports whether one activity waits for another, if only through others.
func reaches(o *sequence.Order, from, to string) bool {
	seen := map[string]bool{}
	var walk func(id string) bool
	walk = func(id string) bool {
		if id == from {
			return true
		}
		if seen[id] {
			return false
		}
		seen[id] = true
		return slices.ContainsFunc(o.WaitsFor(id), func(e sequence.Edge) bool { return walk(e.From) })
	}
	return from != to && walk(to)
}

// Every choice decides between two orders, and does nothing else.
func TestChoices(t *testing.T) {
	room := sequence.Trim{Room: "classroom"}
	work := append(schoolhouse(),
		sequence.Work{Stage: sequence.StageWallPaint, Trim: room}, sequence.Work{Stage: sequence.StageFloor, Trim: room})
	const crown, base, floor, walls = "classroom: crown: install", "classroom: base: install", "classroom: floor", "classroom: wall paint"
	const coat, caulk, shoe, primer, last = "classroom: base: paint, coat 1", "classroom: base: caulk", "classroom: shoe: install", "classroom: base: prime", "classroom: base: paint, coat 2"
	for _, c := range []struct {
		name        string
		o           sequence.Options
		first, then string
	}{
		{"crown first", sequence.Options{}, crown, base},
		{"base first", sequence.Options{CrownAfterBase: true}, base, crown},
		{"floor first", sequence.Options{}, floor, base},
		{"floor after base", sequence.Options{Floor: sequence.FloorAfterBase}, base, floor},
		{"floor is in before it is painted", sequence.Options{Floor: sequence.FloorAfterBase}, floor, coat},
		{"carpet", sequence.Options{Floor: sequence.FloorAfterPaint}, last, floor},
		{"shoe on carpet", sequence.Options{Floor: sequence.FloorAfterPaint}, floor, shoe},
		{"shoe on the floor", sequence.Options{}, floor, shoe},
		{"walls first", sequence.Options{}, walls, coat},
		{"walls last", sequence.Options{WallsAfterTrim: true}, last, walls},
		{"caulk first", sequence.Options{}, caulk, walls},
		{"caulk after the walls", sequence.Options{CaulkAfterWalls: true}, walls, caulk},
		{"primed on racks", sequence.Options{Prefinish: true}, primer, base},
		{"coated on racks", sequence.Options{Prefinish: true}, coat, base},
		{"but for the last coat", sequence.Options{Prefinish: true}, base, last},
		{"primed in place", sequence.Options{}, base, primer},
		{"top down", sequence.Options{Pace: sequence.PaceSideBySide}, "classroom: crown: paint, coat 1", "classroom: casing: paint, coat 1"},
		{"top down", sequence.Options{Pace: sequence.PaceSideBySide}, "classroom: casing: paint, coat 2", "classroom: base: paint, coat 2"},
		{"all at once", sequence.Options{}, "teacher's room: base: fill", "classroom: base: sand"},
		{"all at once", sequence.Options{}, "teacher's room: crown: install", "classroom: base: install"},
		{"room by room", sequence.Options{Pace: sequence.PaceRoomByRoom}, "classroom: base: install", "cloakroom: casing: install"},
		{"room by room", sequence.Options{Pace: sequence.PaceRoomByRoom}, "classroom: base: paint, coat 2", "cloakroom: crown: fill"},
	} {
		c.o.EachProfile = true
		order, err := sequence.Network(sequence.Job{Work: work}, &c.o)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if !reaches(order, c.first, c.then) || reaches(order, c.then, c.first) {
			t.Errorf("%s: %s is not before %s", c.name, c.first, c.then)
		}
		for _, f := range order.Findings {
			t.Errorf("%s: %v", c.name, f)
		}
	}
	order := must[*sequence.Order](t)(sequence.Network(sequence.Job{Work: work}, &sequence.Options{Pace: sequence.PaceSideBySide, AnyCoatFirst: true}))
	for _, two := range [][2]string{{"classroom: base: install", "cloakroom: casing: install"}, {"classroom: crown: paint, coat 1", "classroom: base: paint, coat 1"}} {
		if reaches(order, two[0], two[1]) || reaches(order, two[1], two[0]) {
			t.Errorf("among %q, one waits for another", two)
		}
	}
}

// The fault of a list of chains: crown went up over wet enamel. However the schoolhouse is run,
// no trim goes up in the air of a wet coat, no room is worked in after its last coat, and the job ends with
// the punch list and the cleaning.
func TestSchoolhouseNeverHangsOverWetEnamel(t *testing.T) {
	for _, oneAir := range []bool{false, true} {
		for _, late := range []bool{false, true} {
			for pace := sequence.PaceAllAtOnce; pace <= sequence.PaceSideBySide; pace++ {
				o := &sequence.Options{OneAir: oneAir, CrownAfterBase: late, Pace: pace, Punch: hour, FinalClean: hour, Dusting: hour / 4}
				order := must[*sequence.Order](t)(sequence.Network(sequence.Job{Work: schoolhouse()}, o))
				s := must[*schedule.Schedule](t)(schedule.Build(context.Background(), order.Activities, schedule.Calendar{Start: monday, Crews: crews}, &schedule.Options{Work: 100_000}))
				name := fmt.Sprintf("one air %v, crown after base %v, %v", oneAir, late, pace)
				closing := time.Time{}
				for i, a := range s.Slots {
					x := order.Activities[a.Activity]
					switch stage := order.Steps[a.Activity].Stage; {
					case stage == sequence.StagePunch:
						closing = a.Start
					case stage == sequence.StageFinalClean && i != len(s.Slots)-1:
						t.Errorf("%s: the cleaning is not the last", name)
					}
					for _, b := range s.Slots {
						y := order.Activities[b.Activity]
						sameAir := oneAir || a.Room == b.Room
						if sameAir && order.Steps[a.Activity].Stage == sequence.StageInstall && y.Wet && b.Dry.After(a.Start) && b.Start.Before(a.End) {
							t.Errorf("%s: %s goes up while %s is wet", name, x.ID, y.ID)
						}
						if a.Room == b.Room && order.Steps[a.Activity].Stage == sequence.StageInstall && order.Steps[b.Activity].Stage == sequence.StageCoat && a.End.After(b.Start) {
							t.Errorf("%s: %s goes up after %s", name, x.ID, y.ID)
						}
					}
				}
				for _, a := range s.Slots {
					if order.Steps[a.Activity].Work >= 0 && a.Start.Before(closing) && a.Dry.After(closing) {
						t.Errorf("%s: %s is not done and dry by the punch list", name, a.ID)
					}
				}
				if v := must[[]sequence.Violation](t)(sequence.Check(order.Job, order.Events(s.Slots), o)); len(v) > 0 {
					t.Errorf("%s: %+v", name, v[0])
				}
			}
		}
	}
}

// Long crown takes two people if it is known to be long, short crown and glue do not.
func TestLongCrownTakesTwo(t *testing.T) {
	for _, c := range []struct {
		role    stock.Role
		longest measure.Length
		people  int64
		o       sequence.Options
		want    int64
	}{
		{stock.RoleCrown, 10 * measure.Foot, 0, sequence.Options{}, 2},
		{stock.RoleBed, 12 * measure.Foot, 0, sequence.Options{}, 2},
		{stock.RoleCrown, 9 * measure.Foot, 0, sequence.Options{}, 0},
		{stock.RoleCrown, 9 * measure.Foot, 0, sequence.Options{LongPiece: 8 * measure.Foot}, 2},
		{stock.RoleCrown, 0, 0, sequence.Options{}, 0},
		{stock.RoleBase, 16 * measure.Foot, 0, sequence.Options{}, 0},
		{stock.RoleCrown, 16 * measure.Foot, 1, sequence.Options{}, 1},
	} {
		trim := sequence.Trim{Room: "classroom", Profile: "trim", Role: c.role, Longest: c.longest}
		order := must[*sequence.Order](t)(sequence.Network(sequence.Job{Work: []sequence.Work{{Trim: trim, Task: finish.TaskGlueJoints}, {Trim: trim, People: c.people}}}, &c.o))
		for i, a := range order.Activities {
			if s := order.Steps[i]; s.Work == 1 && a.People != c.want || s.Work == 0 && a.People != 0 {
				t.Errorf("%+v: %s takes %d", c, a.ID, a.People)
			}
		}
	}
}

// Prefinished trim is wet in the air of the racks and sanded there; spots on preprimed trim are primed on the wall.
func TestPrefinishedOnRacks(t *testing.T) {
	for _, preprimed := range []bool{false, true} {
		job := sequence.Job{Work: painted(sequence.Trim{Room: "classroom", Profile: "base", Preprimed: preprimed})}
		order := must[*sequence.Order](t)(sequence.Network(job, &sequence.Options{Prefinish: true}))
		for i, a := range order.Activities {
			racks := a.Zone == "racks"
			want := order.Steps[i].Stage == sequence.StageCoat && order.Steps[i].Coat == 1 || order.Steps[i].Stage == sequence.StagePrime && !preprimed
			if racks != want {
				t.Errorf("preprimed %v: %s in %q", preprimed, a.ID, a.Zone)
			}
		}
		order = must[*sequence.Order](t)(sequence.Network(job, &sequence.Options{Prefinish: true, OneAir: true}))
		for _, a := range order.Activities {
			if a.Zone != "house" {
				t.Errorf("one air: %s in %q", a.ID, a.Zone)
			}
		}
	}
}

// The works of a stage follow each other as they stand: contain, pry off, clean.
func TestOneStageInItsOrder(t *testing.T) {
	room := sequence.Trim{Room: "classroom"}
	job := sequence.Job{Work: []sequence.Work{
		{ID: "pamphlet", Stage: sequence.StageDecision}, {ID: "contain", Stage: sequence.StageTearOut, Trim: room},
		{ID: "pry off", Stage: sequence.StageTearOut, Trim: room, Dry: finish.Drying{Recoat: hour}}, {ID: "clean", Stage: sequence.StageTearOut, Trim: room},
		{ID: "haul", Stage: sequence.StageTearOut},
	}}
	order := must[*sequence.Order](t)(sequence.Network(job, nil))
	for i, two := range [][2]string{{"pamphlet", "contain"}, {"contain", "pry off"}, {"pry off", "clean"}, {"clean", "haul"}} {
		why := order.WaitsFor(two[1])
		k := slices.IndexFunc(why, func(e sequence.Edge) bool { return e.From == two[0] })
		if k < 0 || i == 2 && why[k].Lag != hour {
			t.Errorf("%s waits for %+v, want %s", two[1], why, two[0])
		}
	}
}

// Joints are glued as their trim goes up, in one activity, not those of the whole house first.
func TestJointsAreGluedWithTheirTrim(t *testing.T) {
	var job sequence.Job
	for _, room := range []string{"classroom", "corridor"} {
		trim := sequence.Trim{Room: room, Profile: "crown", Role: stock.RoleCrown, Preprimed: true}
		for _, k := range []finish.Task{finish.TaskGlueJoints, finish.TaskInstall, finish.TaskFill} {
			job.Work = append(job.Work, sequence.Work{Trim: trim, Task: k, Labor: hour})
		}
	}
	job.Deliveries = []sequence.Delivery{{ID: "glue", Tasks: []finish.Task{finish.TaskGlueJoints}}}
	job.Others = []sequence.Other{{Activity: schedule.Activity{ID: "look at the joints"}, Before: []string{"classroom: crown: glue joints"}}}
	order := must[*sequence.Order](t)(sequence.Network(job, nil))
	if !reaches(order, "corridor: crown: install", "classroom: crown: fill") || !reaches(order, "glue", "classroom: crown: install") || !reaches(order, "look at the joints", "classroom: crown: install") {
		t.Errorf("%+v", order.Edges)
	}
	for i, a := range order.Activities {
		if a.ID == "classroom: crown: install" && (a.Labor != 2*hour || a.Name != "glue joints, install" || !slices.Equal(order.Steps[i].With, []int{0})) {
			t.Errorf("%+v, %+v", a, order.Steps[i])
		}
	}
	job.Work[1].Skill = "somebody else's"
	order = must[*sequence.Order](t)(sequence.Network(job, nil))
	if !reaches(order, "classroom: crown: glue joints", "classroom: crown: install") {
		t.Errorf("%+v", order.Edges)
	}
}
