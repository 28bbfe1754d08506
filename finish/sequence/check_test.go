package sequence_test

import (
	"fmt"
	"maps"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/sequence"
	"example.com/longpoint/stock"
)

// plainly states some rules in the simplest way, in whole hours: rule and index of the event that is
// too early.
func plainly(job sequence.Job, events []sequence.Event, oneAir bool) map[string]bool {
	out := map[string]bool{}
	found := func(rule sequence.RuleCode, k int) { out[fmt.Sprint(rule, " ", k)] = true }
	at := func(t time.Time) int { return int(t.Sub(monday) / time.Hour) }
	hung := map[string]int{} // when a trim starts to go up
	for _, e := range events {
		if w := job.Work[e.Work]; w.Stage == "" && w.Task == finish.TaskInstall {
			k := w.Room + w.Profile
			if h, ok := hung[k]; !ok || at(e.Start) < h {
				hung[k] = at(e.Start)
			}
		}
	}
	for i, b := range events {
		w := job.Work[b.Work]
		primed := w.Preprimed
		if _, ok := hung[w.Room+w.Profile]; !ok {
			primed = true
		}
		for k, a := range events {
			v := job.Work[a.Work]
			same := v.Room == w.Room && v.Profile == w.Profile
			dry := at(a.End) + int(v.Dry.Recoat/hour)
			starts := at(b.Start)
			if same && v.Profile != "" && k != i && (at(a.Start) < starts || at(a.Start) == starts && k < i) && starts < dry {
				found(sequence.RuleDry, i)
			}
			if same && k != i && v.Stage == "" && (v.Task == finish.TaskPrime || v.Task == finish.TaskPaint) && at(a.End) <= starts {
				primed = true
			}
			if v.Room == w.Room && v.Task == finish.TaskInstall && w.Task == finish.TaskInstall && v.Stage == "" && w.Stage == "" &&
				v.Role == stock.RoleCasing && w.Role == stock.RoleBase && v.Profile != w.Profile && starts < dry {
				found(sequence.RuleCasing, i)
			}
			if w.Stage == sequence.StagePunch && v.Stage == "" && starts < dry {
				found(sequence.RulePunch, i)
			}
			racks := func(w sequence.Work, e sequence.Event) bool {
				h, ok := hung[w.Room+w.Profile]
				return ok && w.Task != finish.TaskInstall && at(e.Start) < h
			}
			air := oneAir || racks(w, b) && racks(v, a) || !racks(w, b) && !racks(v, a) && v.Room == w.Room
			dusty := w.Stage == "" && (w.Task == finish.TaskInstall || w.Task == finish.TaskSand) && b.Start.Before(b.End)
			wet := v.Stage == "" && (v.Task == finish.TaskPrime || v.Task == finish.TaskPaint) && at(a.Start) < dry
			if air && dusty && wet && starts < dry && at(a.Start) < at(b.End) {
				found(sequence.RuleAir, i)
			}
		}
		if w.Stage == "" && w.Task == finish.TaskCaulk && !primed {
			found(sequence.RulePrimed, i)
		}
	}
	return out
}

// Check finds exactly the violations that the simplest statements of the rules find in random orders of
// work.
func TestCheckAgainstPlainStatements(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var job sequence.Job
		for range rapid.IntRange(0, 6).Draw(t, "works") {
			k := rapid.IntRange(0, 3).Draw(t, "trim")
			w := sequence.Work{
				Trim: sequence.Trim{Room: []string{"classroom", "corridor"}[k/2], Profile: []string{"casing", "base"}[k%2],
					Role: []stock.Role{stock.RoleCasing, stock.RoleBase}[k%2], Preprimed: k == 3},
				Task: rapid.SampledFrom([]finish.Task{finish.TaskInstall, finish.TaskSand, finish.TaskCaulk, finish.TaskPrime, finish.TaskPaint}).Draw(t, "task"),
			}
			if w.Task >= finish.TaskCaulk {
				w.Dry.Recoat = 5 * hour
			}
			job.Work = append(job.Work, w)
		}
		job.Work = append(job.Work, sequence.Work{Stage: sequence.StagePunch})
		var events []sequence.Event
		for i := range job.Work {
			start := monday.Add(time.Duration(rapid.IntRange(0, 24).Draw(t, "start")) * time.Hour)
			events = append(events, sequence.Event{Work: i, Start: start, End: start.Add(time.Duration(rapid.IntRange(0, 3).Draw(t, "hours")) * time.Hour)})
		}
		o := &sequence.Options{OneAir: rapid.Bool().Draw(t, "one air")}
		v, err := sequence.Check(job, events, o)
		if err != nil {
			t.Fatal(err)
		}
		got := map[string]bool{}
		for _, x := range v {
			switch x.Rule {
			case sequence.RuleDry, sequence.RuleCasing, sequence.RulePunch, sequence.RuleAir, sequence.RulePrimed:
				got[fmt.Sprint(x.Rule, " ", x.Early)] = true
			}
		}
		want := plainly(job, events, o.OneAir)
		if !maps.Equal(got, want) {
			t.Fatalf("found %v, want %v", slices.Sorted(maps.Keys(got)), slices.Sorted(maps.Keys(want)))
		}
	})
}

// What the trade explicitly forbids: caulk on unprimed bare wood, and sanding in the window in which a
// coat in the same zone is wet or dries.
func TestCheckRejects(t *testing.T) {
	base := sequence.Trim{Room: "classroom", Profile: "base", Role: stock.RoleBase}
	casing := sequence.Trim{Room: "classroom", Profile: "casing", Role: stock.RoleCasing}
	crown := sequence.Trim{Room: "classroom", Profile: "crown", Role: stock.RoleCrown}
	room := sequence.Trim{Room: "classroom"}
	dry := finish.Drying{Recoat: 4 * hour}
	prime := func(x sequence.Trim) sequence.Trim { x.Preprimed = true; return x }
	putty := func(x sequence.Trim) sequence.Trim { x.OilPutty = true; return x }
	type step struct {
		w        sequence.Work
		from, to int // hours
	}
	for _, c := range []struct {
		name  string
		steps []step
		o     *sequence.Options
		want  []sequence.RuleCode
	}{
		{"caulk on bare wood", []step{{sequence.Work{Trim: base}, 0, 1}, {sequence.Work{Trim: base, Task: finish.TaskCaulk}, 1, 2}}, nil, []sequence.RuleCode{sequence.RulePrimed}},
		{"caulk on preprimed wood", []step{{sequence.Work{Trim: prime(base)}, 0, 1}, {sequence.Work{Trim: prime(base), Task: finish.TaskCaulk}, 1, 2}}, nil, nil},
		{"backer rod on bare wood", []step{{sequence.Work{Trim: base}, 0, 1}, {sequence.Work{Trim: base, Task: finish.TaskBackerRod}, 1, 2}}, nil, nil},
		{"oil putty on bare wood", []step{{sequence.Work{Trim: putty(base)}, 0, 1}, {sequence.Work{Trim: putty(base), Task: finish.TaskFill}, 1, 2}}, nil, []sequence.RuleCode{sequence.RulePutty}},
		{"spackle on bare wood", []step{{sequence.Work{Trim: base}, 0, 1}, {sequence.Work{Trim: base, Task: finish.TaskFill}, 1, 2}}, nil, nil},
		{"sanding casing by wet base", []step{{sequence.Work{Trim: base, Task: finish.TaskPaint, Dry: dry}, 0, 1}, {sequence.Work{Trim: casing, Task: finish.TaskSand}, 4, 6}}, nil, []sequence.RuleCode{sequence.RuleAir}},
		{"sanding casing by dry base", []step{{sequence.Work{Trim: base, Task: finish.TaskPaint, Dry: dry}, 0, 1}, {sequence.Work{Trim: casing, Task: finish.TaskSand}, 5, 6}}, nil, nil},
		{"crown over wet enamel", []step{{sequence.Work{Trim: base, Task: finish.TaskPaint, Dry: dry}, 0, 1}, {sequence.Work{Trim: crown}, 2, 3}}, nil,
			[]sequence.RuleCode{sequence.RuleLastCoat, sequence.RuleAir}},
		{"crown after the last coat", []step{{sequence.Work{Trim: base, Task: finish.TaskPaint, Dry: dry}, 0, 1}, {sequence.Work{Trim: crown}, 20, 21}}, nil, []sequence.RuleCode{sequence.RuleLastCoat}},
		{"base before casing", []step{{sequence.Work{Trim: base}, 0, 1}, {sequence.Work{Trim: casing}, 1, 2}}, nil, []sequence.RuleCode{sequence.RuleCasing}},
		{"paint in the dust", []step{{sequence.Work{Trim: base}, 0, 1}, {sequence.Work{Trim: base, Task: finish.TaskPaint}, 1, 2}}, nil, []sequence.RuleCode{sequence.RuleDust}},
		{"paint after the vacuum", []step{{sequence.Work{Trim: base}, 0, 1}, {sequence.Work{Stage: sequence.StageDust, Trim: room}, 1, 2}, {sequence.Work{Trim: base, Task: finish.TaskPaint}, 2, 3}}, nil, nil},
		{"punch list before the end", []step{{sequence.Work{Stage: sequence.StagePunch}, 0, 1}, {sequence.Work{Trim: base}, 1, 2}}, nil, []sequence.RuleCode{sequence.RulePunch}},
		{"trim on wet walls", []step{{sequence.Work{Stage: sequence.StageWalls, Trim: room, Dry: dry}, 0, 1}, {sequence.Work{Trim: base}, 2, 3}}, nil, []sequence.RuleCode{sequence.RuleWallsDry}},
		{"sealer before it has cured", []step{{sequence.Work{Trim: base, Task: finish.TaskGrout, Dry: finish.Drying{Cure: 9 * hour}}, 0, 1}, {sequence.Work{Trim: base, Task: finish.TaskSeal}, 9, 11}}, nil, []sequence.RuleCode{sequence.RuleCured}},
		{"shoe before the floor", []step{{sequence.Work{Trim: sequence.Trim{Room: "classroom", Profile: "shoe", Role: stock.RoleShoe}}, 0, 1}, {sequence.Work{Stage: sequence.StageFloor}, 1, 2}}, nil, []sequence.RuleCode{sequence.RuleShoe}},
	} {
		var job sequence.Job
		var events []sequence.Event
		for i, s := range c.steps {
			job.Work = append(job.Work, s.w)
			events = append(events, sequence.Event{Work: i, Start: monday.Add(time.Duration(s.from) * time.Hour), End: monday.Add(time.Duration(s.to) * time.Hour)})
		}
		var got []sequence.RuleCode
		for _, v := range must[[]sequence.Violation](t)(sequence.Check(job, events, c.o)) {
			got = append(got, v.Rule)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}
