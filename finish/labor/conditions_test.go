package labor_test

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/labor"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/curve"
	"example.com/longpoint/stock/stair"
	"example.com/longpoint/stock/takeoff"
)

// closed is a room of a size, without openings.
func closed(name string, long, wide, height measure.Length) takeoff.Room {
	return takeoff.Room{Name: name, Height: height, Walls: []takeoff.Wall{{Name: "N", Length: long}, {Name: "E", Length: wide}, {Name: "S", Length: long}, {Name: "W", Length: wide}}}
}

func trim() takeoff.Scheme {
	return takeoff.Scheme{
		Base: board("base", stock.RoleBase, 9*in/16, 13*in/4), Casing: board("casing", stock.RoleCasing, 11*in/16, 9*in/4),
		Crown: board("crown", stock.RoleCrown, 9*in/16, 17*in/4), PictureRail: board("picture rail", stock.RolePictureRail, 3*in/4, 7*in/4),
	}
}

// lineOf returns the work of a task on a profile in a room.
func lineOf(t *testing.T, lines []labor.Line, room, profile string, task finish.Task) labor.Line {
	t.Helper()
	k := slices.IndexFunc(lines, func(l labor.Line) bool {
		return l.Kind == labor.KindWork && l.Room == room && l.Profile == profile && l.Task == task
	})
	if k < 0 {
		t.Fatalf("no %v of %s in %s", task, profile, room)
	}
	return lines[k]
}

// Crown takes longer to install at 10 ft and at 12 ft, and to paint; base is unaffected. An unmeasured
// height has no effect.
func TestOverhead(t *testing.T) {
	for _, x := range []struct {
		height  measure.Length
		factor  measure.Ratio
		staging bool
	}{
		{8 * ft, 100, false}, {9*ft + 5*in, 100, false}, {9*ft + 11*in, 120, true}, {10 * ft, 120, true}, {11*ft + 5*in, 120, true}, {12 * ft, 140, true}, {0, 100, false},
	} {
		s := trim()
		room := closed("classroom", 20*ft, 16*ft, x.height)
		list := take(t, s, room)
		lines := mustLines(t, list, []takeoff.Room{room}, stepsOf(t, list.RoomTotals, profilesOf(s)), labor.Rates{}, &labor.Options{Profiles: profilesOf(s)})
		for _, task := range []finish.Task{finish.TaskInstall, finish.TaskPaint} {
			if l := lineOf(t, lines, "classroom", "crown", task); l.Factor != x.factor*measure.Percent || len(l.Factors) > 1 {
				t.Errorf("%v, crown: %+v", x.height, l.Factors)
			}
			if l := lineOf(t, lines, "classroom", "base", task); l.Factors != nil {
				t.Errorf("%v, base: %+v", x.height, l.Factors)
			}
			if l := lineOf(t, lines, "classroom", "picture rail", task); l.Factors != nil { // at the height of door heads
				t.Errorf("%v, picture rail: %+v", x.height, l.Factors)
			}
		}
		staging := 0
		for _, l := range lines {
			for _, p := range l.Parts {
				if p.Event == labor.EventStaging {
					staging++
					if l.Kind != labor.KindSetUp {
						t.Errorf("staging in %+v", l)
					}
				}
			}
		}
		if staging != map[bool]int{true: 2}[x.staging] { // for the carpenter and for the painter
			t.Errorf("%v: %d stagings", x.height, staging)
		}
	}
}

// Crown over a door is not overhead, however high the ceiling is; a frieze below the crown of the room is.
func TestOverheadIsAtTheCeiling(t *testing.T) {
	s := takeoff.Scheme{Casing: board("casing", stock.RoleCasing, 3*in/4, 7*in/2)}
	s.CasingStyles = []takeoff.CasingStyle{{Name: "entablature", Joint: takeoff.CasingButt, Head: []takeoff.HeadMember{
		{Profile: board("head frieze", stock.RoleFrieze, 3*in/4, 11*in/2)}, {Profile: board("head crown", stock.RoleCrown, 9*in/16, 3*in)},
	}}}
	s.Assemblies = []takeoff.Assembly{{Name: "cornice", FromCeiling: true, Members: []takeoff.Member{
		{Profile: *board("crown", stock.RoleCrown, 9*in/16, 17*in/4)}, {Profile: *board("frieze", stock.RoleFrieze, in/2, 4*in), At: 3 * in},
	}}}
	room := classroom(12 * ft)
	lines := mustLines(t, take(t, s, room), []takeoff.Room{room}, nil, labor.Rates{}, nil)
	for profile, want := range map[string]measure.Ratio{"casing": 100, "head frieze": 100, "head crown": 100, "crown": 140, "frieze": 140} {
		if l := lineOf(t, lines, "classroom", profile, finish.TaskInstall); l.Factor != want*measure.Percent {
			t.Errorf("%s: %v", profile, l.Factor)
		}
	}
}

// Below 60 sq ft there is no room to swing a stick; painting is unaffected.
func TestSmallRoom(t *testing.T) {
	s := takeoff.Scheme{Base: board("base", stock.RoleBase, 9*in/16, 13*in/4)}
	for _, x := range []struct {
		long, wide measure.Length
		small      bool
	}{{5 * ft, 6 * ft, true}, {10 * ft, 6*ft - in, true}, {10 * ft, 6 * ft, false}, {20 * ft, 16 * ft, false}} {
		room := closed("book room", x.long, x.wide, 8*ft)
		list := take(t, s, room)
		lines := mustLines(t, list, []takeoff.Room{room}, stepsOf(t, list.RoomTotals, profilesOf(s)), labor.Rates{}, nil)
		if l := lineOf(t, lines, "book room", "base", finish.TaskInstall); (len(l.Factors) == 1) != x.small || x.small && l.Factors[0].Name != "small room" {
			t.Errorf("%v by %v: %+v", x.long, x.wide, l.Factors)
		}
		if l := lineOf(t, lines, "book room", "base", finish.TaskPaint); l.Factors != nil {
			t.Errorf("%+v", l.Factors)
		}
		// An unmeasured room, or one with walls at other angles, is small if marked so.
		room.Walls[0].Corner.Angle = 91 * measure.Degree
		for _, rooms := range [][]takeoff.Room{nil, {room}} {
			o := &labor.Options{}
			if l := lineOf(t, mustLines(t, list, rooms, nil, labor.Rates{}, o), "book room", "base", finish.TaskInstall); l.Factors != nil {
				t.Errorf("%+v", l.Factors)
			}
			o.Conditions = []labor.Condition{{Factor: "small room", Room: "book room"}}
			if l := lineOf(t, mustLines(t, list, rooms, nil, labor.Rates{}, o), "book room", "base", finish.TaskInstall); len(l.Factors) != 1 {
				t.Errorf("%+v", l.Factors)
			}
		}
	}
}

// Conditions apply to a room, a profile, both or all; their product has a cap, and set-up has no
// factor.
func TestConditions(t *testing.T) {
	s := trim()
	rooms := []takeoff.Room{classroom(12 * ft), closed("corridor", 20*ft, 6*ft, 8*ft)}
	list := take(t, s, rooms...)
	o := &labor.Options{Profiles: profilesOf(s), Conditions: []labor.Condition{
		{Factor: "hardwood", Profile: "crown"}, {Factor: "old plaster", Room: "classroom"}, {Factor: "second person", Room: "corridor", Profile: "crown"},
	}}
	lines := mustLines(t, list, rooms, nil, labor.Rates{}, o)
	for _, x := range []struct {
		room, profile string
		names         string
		factor        measure.Ratio // in percent
		capped        bool
	}{
		{"classroom", "crown", "overhead old plaster hardwood", 200, true}, // 283.5 %
		{"classroom", "base", "old plaster", 135, false},
		{"corridor", "crown", "hardwood second person", 180, false},
		{"corridor", "base", "", 100, false},
	} {
		l := lineOf(t, lines, x.room, x.profile, finish.TaskInstall)
		var names []string
		for _, f := range l.Factors {
			names = append(names, f.Name)
		}
		if strings.Join(names, " ") != x.names || l.Factor != x.factor*measure.Percent || l.Capped != x.capped {
			t.Errorf("%s, %s: %+v, %v", x.room, x.profile, l.Factors, l.Factor)
		}
	}
}

// Crown longer than 8 ft takes two people; the skills are data.
func TestSkills(t *testing.T) {
	s := trim()
	s.Base.Material = "limestone"
	rooms := []takeoff.Room{closed("classroom", 20*ft, 16*ft, 8*ft), closed("book room", 6*ft, 8*ft, 8*ft)}
	list := take(t, s, rooms...)
	var work []finish.Work
	for _, total := range list.RoomTotals {
		system := finish.PaintedTrim()
		if total.Course {
			system = finish.TileBase()
		}
		work = append(work, finish.Work{Job: finish.Job{Label: total.Profile + ", " + total.Room, Length: total.Net, Height: 3 * in, Tile: finish.Tile{}}, System: system})
		if total.Course {
			work[len(work)-1].Job.Tile = finish.Tile{Length: ft, Width: 3 * in, Thickness: in / 2, Joint: in / 8}
		}
	}
	done, err := finish.NewList(work, shelf())
	if err != nil {
		t.Fatal(err)
	}
	lines := mustLines(t, list, rooms, done.Steps, labor.Rates{}, nil)
	for _, x := range []struct {
		room, profile string
		task          finish.Task
		skill         string
		people        int64
	}{
		{"classroom", "crown", finish.TaskInstall, "carpenter", 2}, {"book room", "crown", finish.TaskInstall, "carpenter", 1},
		{"classroom", "crown", finish.TaskPaint, "painter", 1}, {"classroom", "crown", finish.TaskClean, "", 1},
		{"classroom", "base", finish.TaskSet, "tile setter", 1}, {"classroom", "base", finish.TaskCaulk, "tile setter", 1},
		{"classroom", "base", finish.TaskClean, "tile setter", 1}, {"classroom", "picture rail", finish.TaskCaulk, "painter", 1},
	} {
		if l := lineOf(t, lines, x.room, x.profile, x.task); l.Skill != x.skill || l.People != x.people {
			t.Errorf("%+v: %s, %d people", x, l.Skill, l.People)
		}
	}
	// Spliced from sticks of 8 ft it is one man's work.
	s.Crown.Lengths[0] = 8 * ft
	short := take(t, s, rooms...)
	if l := lineOf(t, mustLines(t, short, rooms, nil, labor.Rates{}, nil), "classroom", "crown", finish.TaskInstall); l.People != 1 {
		t.Errorf("%d people", l.People)
	}
	// Stone is set at 8 to 15 ft an hour with its corners: common practice, no source.
	l := lineOf(t, lines, "classroom", "base", finish.TaskSet)
	if feet := 7200 * int64(hour) / int64(l.Labor); feet < 800 || feet > 1500 {
		t.Errorf("%v for 72 ft: %d hundredths of a foot an hour", l.Labor, feet)
	}
}

// A room is set up once for the carpenter, with a corner on trial for each profile that has any; a second step on the
// same profile is no second trial.
func TestSetUp(t *testing.T) {
	total := func(profile string, copes int) takeoff.ProfileTotals {
		return takeoff.ProfileTotals{Profile: profile, Room: "corridor", Net: 10 * ft, Pieces: 2, Joints: takeoff.Joints{Copes: copes}}
	}
	list := &takeoff.List{RoomTotals: []takeoff.ProfileTotals{total("base", 4), total("shoe", 4), total("rail", 0)}}
	steps := []finish.StepResult{
		{Job: "base, corridor", Step: "tack"}, {Job: "base, corridor", Step: "nail"}, {Job: "shoe, corridor", Step: "nail"}, {Job: "rail, corridor", Step: "nail"},
	}
	lines := mustLines(t, list, nil, steps, labor.Rates{}, nil)
	var got []string
	for _, l := range lines {
		for _, p := range l.Parts {
			if l.Kind != labor.KindWork {
				got = append(got, fmt.Sprint(l.Kind, " ", p.Event, " ", p.Quantity, " ", p.Time))
			}
		}
	}
	want := []string{"set-up set-up 1 ct 20m", "set-up test corner 2 ct 6m", "clean-up clean-up 1 ct 12m"}
	if !reflect.DeepEqual(got, want) || len(lines) != 6 || lines[0].Kind != labor.KindSetUp || lines[5].Kind != labor.KindCleanUp {
		t.Errorf("got %q, want %q", got, want)
	}
}

// Both skirts of a stair have its steps.
func TestSteps(t *testing.T) {
	for _, x := range []struct {
		skirts int
		want   int64
	}{{0, 14}, {1, 14}, {2, 28}} {
		room := takeoff.Room{Name: "corridor", Walls: []takeoff.Wall{{Name: "N", Length: 20 * ft, Corner: takeoff.Corner{Kind: takeoff.CornerStop}, Stair: &takeoff.Stair{
			Flight: stair.Flight{Risers: 14, Rise: 15 * in / 2, Run: 10 * in, Nosing: in}, At: 3 * ft, Skirts: x.skirts,
		}}}}
		list := take(t, takeoff.Scheme{Skirt: board("skirt", stock.RoleSkirt, 3*in/4, 45*in/4)}, room)
		var got int64
		for _, p := range lineOf(t, mustLines(t, list, []takeoff.Room{room}, nil, labor.Rates{}, nil), "corridor", "skirt", finish.TaskInstall).Parts {
			if p.Event == labor.EventStep {
				got, _ = p.Quantity.Pieces()
			}
		}
		if got != x.want {
			t.Errorf("%d skirts: %d steps, want %d", x.skirts, got, x.want)
		}
	}
}

// Notches and curves are counted from the takeoff, and steps along skirts.
func TestNotchesAndBends(t *testing.T) {
	s := takeoff.Scheme{Base: board("base", stock.RoleBase, 9*in/16, 13*in/4), Shoe: board("shoe", stock.RoleShoe, in/2, 3*in/4)}
	s.Base.Lengths[0] = 40 * ft
	s.Crown = board("crown", stock.RoleCrown, 9*in/16, 17*in/4) // in segments, past the radiator
	room := takeoff.Room{Name: "tower", Walls: []takeoff.Wall{
		{Name: "N", Length: 10 * ft, Fixtures: []takeoff.Fixture{{Name: "outlet", At: 3 * ft, Width: 3 * in, Height: 2 * in, Notch: in / 8}}},
		{Name: "E", Fixtures: []takeoff.Fixture{{Name: "radiator", At: 4 * ft, Width: 2 * ft}}, Curve: &takeoff.Curve{Trim: takeoff.CurveFlexible, Arc: curve.Arc{Radius: 6 * ft, Angle: 90 * measure.Degree}}, Corner: takeoff.Corner{Kind: takeoff.CornerStop}},
	}}
	list := take(t, s, room)
	if len(list.Notches) == 0 || len(list.Curves) == 0 {
		t.Fatalf("%+v, %+v", list.Notches, list.Curves)
	}
	lines := mustLines(t, list, []takeoff.Room{room}, nil, labor.Rates{}, nil)
	of := func(profile string, e labor.Event) int64 {
		for _, p := range lineOf(t, lines, "tower", profile, finish.TaskInstall).Parts {
			if p.Event == e {
				n, _ := p.Quantity.Pieces()
				return n
			}
		}
		return 0
	}
	for _, x := range []struct {
		profile string
		event   labor.Event
		want    int64
	}{{"base", labor.EventBend, 2}, {"shoe", labor.EventBend, 2}, {"crown", labor.EventBend, 1}, {"base", labor.EventNotch, 1}} {
		if got := of(x.profile, x.event); got != x.want {
			t.Errorf("%s: %d of %v, want %d", x.profile, got, x.event, x.want)
		}
	}
}

// The brute force for panels: each is one, and they add up by room and material.
func TestPanels(t *testing.T) {
	list := &takeoff.List{Panels: []takeoff.Panel{
		{Room: "corridor", Material: "plywood", Width: 2 * ft, Height: 3 * ft}, {Room: "classroom", Material: "plywood", Width: 2 * ft, Height: ft},
		{Room: "corridor", Material: "plywood", Width: ft, Height: ft}, {Room: "corridor", Material: "pine", Width: ft, Height: 3 * ft},
	}}
	lines := mustLines(t, list, nil, nil, labor.Rates{}, nil)
	var got []string
	for _, l := range lines {
		if l.Kind == labor.KindWork {
			got = append(got, fmt.Sprint(l.Room, " ", l.Profile, " ", l.Step, " ", l.Parts[0].Quantity, " ", l.Parts[1].Quantity))
		}
	}
	want := []string{"corridor plywood panels 7 sq ft 2 ct", "corridor pine panels 3 sq ft 1 ct", "classroom plywood panels 2 sq ft 1 ct"}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

// Everything that is wrong is said at once, each with its path.
func TestFaults(t *testing.T) {
	part, err := finish.ParseAmount("0.4 ct") // of a piece
	if err != nil {
		t.Fatal(err)
	}
	if _, err := (labor.Rate{Event: labor.EventPiece}).For(part); err == nil {
		t.Error("a rate for a part of a piece")
	}
	list := &takeoff.List{
		RoomTotals: []takeoff.ProfileTotals{
			{Profile: "base", Room: "corridor", Net: -1}, {Profile: "base", Room: "corridor"}, {Profile: "base"}, {Profile: "shoe", Room: "corridor", Joints: takeoff.Joints{Copes: -1}},
		},
	}
	for _, x := range []struct {
		name  string
		list  *takeoff.List
		steps []finish.StepResult
		rates labor.Rates
		o     labor.Options
		want  string
	}{
		{"list", list, nil, labor.Rates{}, labor.Options{}, "list.room_totals[0].net list.room_totals[1] list.room_totals[2].room list.room_totals[3].joints.copes"},
		{"totals", &takeoff.List{Totals: []takeoff.ProfileTotals{{Pieces: -1}}}, nil, labor.Rates{}, labor.Options{}, "list.totals[0].pieces"},
		{"panels", &takeoff.List{Panels: []takeoff.Panel{{Width: -ft, Height: ft}}}, nil, labor.Rates{}, labor.Options{}, "list.panels[0]"},
		{"steps", nil, []finish.StepResult{{Task: 99, Length: -1, Area: -1, Count: -1, Joints: -1}}, labor.Rates{}, labor.Options{},
			"steps[0].task steps[0].length steps[0].area steps[0].count steps[0].joints"},
		{"job", &takeoff.List{}, []finish.StepResult{{}, {Job: "base, attic"}}, labor.Rates{}, labor.Options{}, "steps[0].job steps[1].job"},
		{"rates", nil, nil, labor.Rates{Cap: 1, Round: -1, Table: []labor.Rate{
			{Task: 99, Event: 99}, {Over: -1, Above: -1, Time: -1, Roles: []stock.Role{99}}, {Event: labor.EventCope, Per: finish.AmountOf(ft)}, {Per: finish.AmountOf(-ft)}, {Event: labor.EventPiece, Per: part},
			{Task: finish.TaskPaint, Event: labor.EventSide}, {Event: labor.EventStop}, {Event: labor.EventStop, Roles: []stock.Role{1, 2}}, {Event: labor.EventStop, Roles: []stock.Role{2}}, {Event: labor.EventStop},
		}}, labor.Options{},
			"rates.table[0].task rates.table[0].event rates.table[1].roles[0] rates.table[1].over rates.table[1].above rates.table[1].time rates.table[2].per rates.table[3].per rates.table[4].per rates.table[5].event rates.table[8] rates.table[9] rates.cap rates.round"},
		{"factors", nil, nil, labor.Rates{Factors: []labor.Factor{{Tasks: []finish.Task{99}, Roles: []stock.Role{99}, Above: -1, Under: -1}, {Name: "x", By: 11 * 100 * measure.Percent}}}, labor.Options{},
			"rates.factors[0].name rates.factors[0].by rates.factors[0].tasks[0] rates.factors[0].roles[0] rates.factors[0].above rates.factors[0].under rates.factors[1].by"},
		{"skills", nil, nil, labor.Rates{Skills: []labor.Skill{{Tasks: []finish.Task{99}, Roles: []stock.Role{99}, Longer: -1, People: -1}}}, labor.Options{},
			"rates.skills[0].tasks[0] rates.skills[0].roles[0] rates.skills[0].longer rates.skills[0].people"},
		{"options", &takeoff.List{}, nil, labor.Rates{}, labor.Options{Profiles: []stock.Profile{{Width: -1}}, Conditions: []labor.Condition{{Factor: "ghosts", Room: "attic", Profile: "base"}}},
			"options.profiles[0].width options.conditions[0].factor options.conditions[0].room options.conditions[0].profile"},
		{"too many", nil, nil, labor.Rates{Table: make([]labor.Rate, 1001), Factors: make([]labor.Factor, 1001), Skills: make([]labor.Skill, 1001)},
			labor.Options{Conditions: make([]labor.Condition, 1001), MiteredSkirts: make([]string, 1001)},
			"rates.table rates.factors rates.skills options.conditions options.mitered_skirts"},
	} {
		lines, err := labor.Lines(x.list, nil, x.steps, x.rates, &x.o)
		var got []string
		for bad := range measure.FieldErrors(err) {
			got = append(got, bad.Field)
			if bad.Want == "" {
				t.Errorf("%s: %v", x.name, bad)
			}
		}
		if strings.Join(got, " ") != x.want || lines != nil {
			t.Errorf("%s: %s\nwant %s\n%v", x.name, strings.Join(got, " "), x.want, err)
		}
	}
}

// Results out of range are errors, never wrapped.
func TestOutOfRange(t *testing.T) {
	var over *measure.RangeError
	huge := labor.Rates{Table: []labor.Rate{{Event: labor.EventJoint, Time: math.MaxInt64}, {Event: labor.EventPiece, Time: math.MaxInt64 / 2}, {Event: labor.EventCount, Time: 1}}}
	for name, steps := range map[string][]finish.StepResult{
		"a part": {{Joints: 2}}, "a count": {{Count: math.MaxInt64}}, "joints": {{Joints: math.MaxInt64}},
	} {
		if _, err := labor.Lines(nil, nil, steps, huge, nil); !errors.As(err, &over) {
			t.Errorf("%s: %v", name, err)
		}
	}
	list := &takeoff.List{RoomTotals: []takeoff.ProfileTotals{{Profile: "base", Room: "corridor", Pieces: 1, Joints: takeoff.Joints{Stops: 1}}}}
	huge.Table = append(huge.Table, labor.Rate{Event: labor.EventStop, Time: math.MaxInt64})
	steps := []finish.StepResult{{Job: "base, corridor"}}
	if _, err := labor.Lines(list, nil, steps, huge, nil); !errors.As(err, &over) {
		t.Errorf("a line: %v", err)
	}
	if _, err := labor.Total([]labor.Line{{Labor: math.MaxInt64}, {Labor: 1}}); !errors.As(err, &over) {
		t.Errorf("a total: %v", err)
	}
	if _, err := (labor.Rate{Time: math.MaxInt64}).For(finish.AmountOf(2 * ft)); !errors.As(err, &over) {
		t.Errorf("a quantity: %v", err)
	}
	if _, err := (labor.Crew{Delay: math.MaxInt64}).Time(math.MaxInt64); !errors.As(err, &over) {
		t.Errorf("days: %v", err)
	}
	if _, err := labor.Deviation(math.MaxInt64, 1); !errors.As(err, &over) {
		t.Errorf("a deviation: %v", err)
	}
	if _, err := (labor.Crew{Availability: 101 * measure.Percent}).Time(hour); err == nil {
		t.Error("more people than exist")
	}
	// As many people as you like are a day.
	if took, err := (labor.Crew{People: math.MaxInt64}).Time(hour); err != nil || took.Working != 1 || took.Days != 1 {
		t.Errorf("%+v, %v", took, err)
	}
	var bad *measure.FieldError
	for name, err := range map[string]error{
		"no rating": second2(labor.DelayFactor()), "a low rating": second2(labor.DelayFactor(24 * measure.Percent)), "a high one": second2(labor.DelayFactor(101 * measure.Percent)),
		"nothing detailed": second2(labor.Deviation(hour, 0)), "wrong kind": second2((labor.Rate{}).For(finish.Count(1))), "below zero": second2((labor.Rate{}).For(finish.AmountOf(-ft))),
		"a bad rate": second2((labor.Rate{Time: -1}).For(finish.AmountOf(ft))),
	} {
		if !errors.As(err, &bad) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func second2[T any](_ T, err error) error { return err }
