package schedule_test

import (
	"errors"
	"example.com/longpoint/finish/estimate"
	"fmt"
	"slices"
	"testing"
	"time"
	_ "time/tzdata" // the same rules on every machine

	"pgregory.net/rapid"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/measure"
)

const stamp = "Mon Jan 2 15:04"

func location(t testing.TB, name string) *time.Location {
	t.Helper()
	l, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// Two rooms, one painter: while the classroom dries, the corridor is painted.
func ExampleBuild() {
	shelf := finish.Shelf{Products: []finish.Product{
		{Label: "wood primer", Material: "primer", Dry: finish.Drying{Recoat: 3 * hour},
			Packages: []finish.Package{{Size: finish.AmountOf(measure.Gallon), Price: 3299}}},
		{Label: "semigloss", Material: "paint", Dry: finish.Drying{Recoat: 16 * hour, Cure: 14 * 24 * hour},
			Packages: []finish.Package{{Size: finish.AmountOf(measure.Gallon), Price: 4599}}},
	}}
	system := finish.System{Label: "prime and paint", Steps: []finish.Step{{Task: finish.TaskPrime}, {Task: finish.TaskPaint, Coats: 2}}}
	list, err := finish.NewList([]finish.Work{
		{System: system, Job: finish.Job{Label: "classroom", Length: 200 * ft, Height: 8 * measure.Inch}},
		{System: system, Job: finish.Job{Label: "corridor", Length: 100 * ft, Height: 8 * measure.Inch}},
	}, shelf)
	if err != nil {
		fmt.Println(err)
		return
	}
	activities, _, err := estimate.Labor(list.Steps, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	table, err := schedule.Build(activities, schedule.Calendar{
		Start: time.Date(2026, time.July, 2, 8, 0, 0, 0, time.UTC), // a Thursday
		Off:   []schedule.Date{{Year: 2026, Month: time.July, Day: 3}},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range table.Slots {
		fmt.Printf("%s - %s, %s %d of the %s\n", s.Start.Format(stamp), s.End.Format("15:04"), s.Step, s.Coat, s.Job)
	}
	fmt.Println("in use from", table.Cured.Format(stamp))
	// Output:
	// Thu Jul 2 08:00 - 10:00, prime 1 of the classroom
	// Thu Jul 2 10:00 - 11:00, prime 1 of the corridor
	// Thu Jul 2 13:00 - 15:30, paint 1 of the classroom
	// Thu Jul 2 15:30 - 08:45, paint 1 of the corridor
	// Mon Jul 6 08:45 - 11:15, paint 2 of the classroom
	// Tue Jul 7 08:00 - 09:15, paint 2 of the corridor
	// in use from Tue Jul 21 09:15
}

const (
	ft     = measure.Foot
	minute = measure.Duration(time.Minute)
	hour   = measure.Duration(time.Hour)
)

func must[T any](t testing.TB) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// of is an activity that is what a task of package finish is, named after it.
func of(task finish.Task) schedule.Activity {
	a, _, err := estimate.Labor([]finish.StepResult{{Step: task.String(), Task: task}}, []estimate.Rate{})
	if err != nil {
		panic(err)
	}
	return a[0]
}

// did returns the task that a slot of such an activity is.
func did(s schedule.Slot) finish.Task {
	var task finish.Task
	if err := task.UnmarshalText([]byte(s.Step)); err != nil {
		panic(err)
	}
	return task
}

// coat is a step of so many coats that takes labor and dries.
func coat(job string, n int64, labor measure.Duration, dry finish.Drying) schedule.Activity {
	a := of(finish.TaskPaint)
	a.Job, a.Coats, a.Labor, a.Recoat, a.Cure = job, n, labor, dry.Recoat, dry.Cure
	return a
}

// Clocks go forward on 8 March 2026 at 2:00 in New York and back on 1 November
// at 2:00 (from memory: the rules of the US Energy Policy Act of 2005).
func TestScheduleWhereClocksChange(t *testing.T) {
	ny := location(t, "America/New_York")
	every := schedule.WeekdaysOf(0, 1, 2, 3, 4, 5, 6)
	at := func(month time.Month, day, hour, minute int) time.Time {
		return time.Date(2026, month, day, hour, minute, 0, 0, ny)
	}
	for _, c := range []struct {
		name        string
		site        schedule.Calendar
		first, last string // start of the first slot, of the last
		steps       []schedule.Activity
	}{
		// Sixteen hours of drying are sixteen hours: from 16:00 to 9:00 by the clock.
		{"a night that loses an hour", schedule.Calendar{Start: at(time.March, 7, 15, 0), Days: every}, "Sat Mar 7 15:00", "Sun Mar 8 09:00",
			[]schedule.Activity{coat("a", 2, 2*hour, finish.Drying{Recoat: 16 * hour})}},
		{"a night that gains one", schedule.Calendar{Start: at(time.October, 31, 15, 0), Days: every}, "Sat Oct 31 15:00", "Sun Nov 1 08:00",
			[]schedule.Activity{coat("a", 2, 2*hour, finish.Drying{Recoat: 17 * hour})}},
		{"opens in the hour that is skipped", schedule.Calendar{Start: at(time.March, 8, 0, 0), Open: 2*hour + 30*minute, Close: 5 * hour, Days: every},
			"Sun Mar 8 03:00", "Mon Mar 9 02:30", // two hours on Sunday
			[]schedule.Activity{coat("a", 1, 2*hour, finish.Drying{}), coat("a", 1, minute, finish.Drying{})}},
		{"a day of 25 hours", schedule.Calendar{Start: at(time.November, 1, 0, 0), Close: 24 * hour, Days: every}, "Sun Nov 1 00:00", "Mon Nov 2 00:00",
			[]schedule.Activity{coat("a", 1, 25*hour, finish.Drying{}), coat("a", 1, minute, finish.Drying{})}},
		{"closes at the first of two", schedule.Calendar{Start: at(time.November, 1, 0, 0), Close: 90 * minute, Days: every}, "Sun Nov 1 00:00", "Mon Nov 2 00:00",
			[]schedule.Activity{coat("a", 1, 90*minute, finish.Drying{}), coat("a", 1, minute, finish.Drying{})}},
	} {
		table, err := schedule.Build(c.steps, c.site)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		first, last := table.Slots[0], table.Slots[len(table.Slots)-1]
		if got, end := first.Start.Format(stamp), last.Start.Format(stamp); got != c.first || end != c.last {
			t.Errorf("%s: starts %s and %s, want %s and %s", c.name, got, end, c.first, c.last)
		}
	}

	// Samoa had no 30 December 2011 (from memory): no work on that day either.
	apia := location(t, "Pacific/Apia")
	table, err := schedule.Build([]schedule.Activity{coat("a", 1, 10*hour, finish.Drying{})},
		schedule.Calendar{Start: time.Date(2011, time.December, 29, 8, 0, 0, 0, apia), Days: every})
	if err != nil || table.Done.Format(stamp) != "Sat Dec 31 10:00" {
		t.Errorf("across the date line: done %v, %v; want Saturday at 10:00", table.Done, err)
	}
}

func TestScheduleByHand(t *testing.T) {
	monday := time.Date(2026, time.August, 3, 8, 0, 0, 0, time.UTC)
	dry := finish.Drying{Recoat: 4 * hour, Cure: 24 * hour}
	// Ten hours of labor by one hand of one crew: a day and two hours.
	two := []schedule.Activity{coat("a", 1, 10*hour, dry), coat("b", 1, 10*hour, dry)}
	for _, c := range []struct {
		crews, hands int64
		done         string
	}{{1, 1, "Wed Aug 5 12:00"}, {2, 1, "Tue Aug 4 10:00"}, {1, 2, "Tue Aug 4 10:00"}, {2, 2, "Mon Aug 3 13:00"}, {9, 5, "Mon Aug 3 10:00"}} {
		table := must[*schedule.Schedule](t)(schedule.Build(two, schedule.Calendar{Start: monday, Crews: c.crews, CrewSize: c.hands}))
		if got := table.Done.Format(stamp); got != c.done {
			t.Errorf("%d crews of %d: done %s, want %s", c.crews, c.hands, got, c.done)
		}
	}
	// Sealing waits for the cure, everything else for the recoat time.
	for task, want := range map[finish.Task]string{finish.TaskPaint: "Mon Aug 3 13:00", finish.TaskClean: "Mon Aug 3 13:00", finish.TaskSeal: "Tue Aug 4 09:00"} {
		next := of(task)
		next.Job, next.Labor = "a", hour
		steps := []schedule.Activity{coat("a", 1, hour, dry), next}
		table := must[*schedule.Schedule](t)(schedule.Build(steps, schedule.Calendar{Start: monday}))
		if got := table.Slots[1].Start.Format(stamp); got != want {
			t.Errorf("%v starts %s, want %s", task, got, want)
		}
	}
	// A start at night or on a day off waits for the next working hours.
	table := must[*schedule.Schedule](t)(schedule.Build(two[:1], schedule.Calendar{Start: monday.Add(-40 * time.Hour)}))
	if got := table.Slots[0].Start; !got.Equal(monday) {
		t.Errorf("a start on Saturday afternoon is %v, want Monday at 8", got)
	}
	// Nothing to do.
	table = must[*schedule.Schedule](t)(schedule.Build(nil, schedule.Calendar{Start: monday}))
	if len(table.Slots) != 0 || !table.Done.Equal(monday) {
		t.Errorf("no steps: %+v", table)
	}
}

// Casing, base and crown by two crews: the base waits for the casing that it dies
// into, and the crown's filler is not sanded over wet base enamel.
func TestScheduleOfTrim(t *testing.T) {
	var activities []schedule.Activity
	for _, label := range []string{"casing", "base", "crown"} {
		for i, step := range finish.PaintedTrim().Steps {
			a := of(step.Task)
			a.Job, a.Coats, a.Labor = label, step.Coats, measure.Duration(1+i%3)*hour
			for _, d := range finish.DefaultDrying() {
				if d.Task == step.Task {
					a.Recoat, a.Cure = d.Dry.Recoat, d.Dry.Cure
				}
			}
			activities = append(activities, a)
		}
	}
	table := must[*schedule.Schedule](t)(schedule.Build(activities, schedule.Calendar{Start: time.Date(2026, time.August, 3, 8, 0, 0, 0, time.UTC), Crews: 2, CrewSize: 2}))
	var hung []string
	end := time.Time{}
	for _, s := range table.Slots {
		if did(s) == finish.TaskInstall {
			if s.Start.Before(end) {
				t.Errorf("%s goes up at %v, before %v", s.Job, s.Start, end)
			}
			hung, end = append(hung, s.Job), s.End
		}
		for _, o := range table.Slots {
			if did(s) == finish.TaskSand && (did(o) == finish.TaskPaint || did(o) == finish.TaskPrime) && s.Start.Before(o.Dry) && o.Start.Before(s.End) {
				t.Errorf("%s of the %s from %v to %v, while %s of the %s is wet from %v to %v", s.Step, s.Job, s.Start, s.End, o.Step, o.Job, o.Start, o.Dry)
			}
		}
	}
	if !slices.Equal(hung, []string{"casing", "base", "crown"}) {
		t.Errorf("fastened in the order %v", hung)
	}
}

func TestScheduleErrors(t *testing.T) {
	day := time.Date(2026, time.August, 3, 8, 0, 0, 0, time.UTC)
	steps := []schedule.Activity{coat("a", 1, hour, finish.Drying{})}
	for field, s := range map[string]schedule.Calendar{
		"calendar.start":     {},
		"calendar.open":      {Start: day, Open: -hour, Close: hour},
		"calendar.close":     {Start: day, Open: 9 * hour, Close: 9 * hour},
		"calendar.days":      {Start: day, Days: 128},
		"calendar.crews":     {Start: day, Crews: -1},
		"calendar.crew_size": {Start: day, CrewSize: 1001},
		"calendar.off[1]":    {Start: day, Off: []schedule.Date{{Year: 2026, Month: time.February, Day: 28}, {Year: 2026, Month: time.February, Day: 31}}},
	} {
		_, err := schedule.Build(steps, s)
		if f := (*measure.FieldError)(nil); !errors.As(err, &f) || f.Field != field {
			t.Errorf("%s: %v", field, err)
		}
	}
	for field, s := range map[string]schedule.Activity{
		"activities[1].labor":  coat("a", 1, -1, finish.Drying{}),
		"activities[1].coats":  coat("a", -1, 1, finish.Drying{}),
		"activities[1].recoat": coat("a", 1, 1, finish.Drying{Recoat: -1}),
		"activities[1].dusty":  {Labor: 1, Wet: true, Dusty: true},
		"activities[1].cure":   coat("a", 1, 1, finish.Drying{Recoat: 2, Cure: 1}),
	} {
		_, err := schedule.Build(append(steps[:1:1], s), schedule.Calendar{Start: day})
		if f := (*measure.FieldError)(nil); !errors.As(err, &f) || f.Field != field {
			t.Errorf("%s: %v", field, err)
		}
	}
	for name, s := range map[string]schedule.Activity{
		"ever so much labor": coat("a", 1, 1<<62, finish.Drying{}),
		"a coat never dry":   coat("a", 2, 1, finish.Drying{Recoat: 1 << 62}),
		"coats without end":  coat("a", 1<<62, 1, finish.Drying{}),
	} {
		_, err := schedule.Build([]schedule.Activity{s}, schedule.Calendar{Start: day})
		if o := (*measure.RangeError)(nil); !errors.As(err, &o) {
			t.Errorf("%s: %v, want a RangeError", name, err)
		}
	}
}

// Only days that the calendar has can be off: those that read back from their text.
func TestOffIsADay(t *testing.T) {
	steps := []schedule.Activity{coat("a", 1, hour, finish.Drying{})}
	start := time.Date(2026, time.March, 2, 8, 0, 0, 0, time.UTC)
	rapid.Check(t, func(t *rapid.T) {
		d := schedule.Date{
			Year:  rapid.IntRange(-2, 10_001).Draw(t, "year"),
			Month: time.Month(rapid.IntRange(-1, 14).Draw(t, "month")),
			Day:   rapid.IntRange(-1, 33).Draw(t, "day"),
		}
		back, err := time.Parse(time.DateOnly, d.String())
		want := err == nil && schedule.DateOf(back) == d
		if _, err := schedule.Build(steps, schedule.Calendar{Start: start, Off: []schedule.Date{d}}); (err == nil) != want {
			t.Fatalf("%v: %v, want a day: %v", d, err, want)
		}
	})
}

// No coat starts before the last is dry, no crew is in two places, work starts
// and ends in working hours, and every coat of every step has its slot, in order. Jobs
// begin in the order given, trim is fastened in that order, and nobody sands while a
// coat of any job is wet.
func TestScheduleProperties(t *testing.T) {
	zones := []*time.Location{time.UTC, location(t, "America/New_York"), location(t, "Australia/Lord_Howe")}
	rapid.Check(t, func(t *rapid.T) {
		span := func(name string, most measure.Duration) measure.Duration {
			return minute * measure.Duration(rapid.Int64Range(0, int64(most/minute)).Draw(t, name))
		}
		loc := rapid.SampledFrom(zones).Draw(t, "zone")
		s := schedule.Calendar{
			Start:    time.Date(2026, time.Month(rapid.IntRange(1, 12).Draw(t, "month")), rapid.IntRange(1, 31).Draw(t, "day"), 0, 0, 0, 0, loc).Add(time.Duration(span("hour", 24*hour))),
			Open:     span("open", 12*hour),
			Crews:    rapid.Int64Range(0, 3).Draw(t, "crews"),
			CrewSize: rapid.Int64Range(0, 3).Draw(t, "hands"),
			Days:     schedule.Weekdays(rapid.IntRange(0, 127).Draw(t, "days")),
		}
		s.Close = s.Open + minute + span("hours", 11*hour)
		if rapid.Bool().Draw(t, "holiday") {
			s.Off = []schedule.Date{schedule.DateOf(s.Start.AddDate(0, 0, rapid.IntRange(0, 3).Draw(t, "off")))}
		}
		var steps []schedule.Activity
		coats := map[string]int64{}
		for i := range rapid.IntRange(0, 8).Draw(t, "steps") {
			r := of(rapid.SampledFrom([]finish.Task{finish.TaskInstall, finish.TaskSand, finish.TaskPrime, finish.TaskPaint, finish.TaskSeal, finish.TaskFill}).Draw(t, "task"))
			r.Job = string(rune('a' + rapid.IntRange(0, 2).Draw(t, "job")))
			r.Labor = minute + span("labor", 20*hour)
			r.Coats = rapid.Int64Range(0, 3).Draw(t, "coats")
			r.Recoat = span("recoat", 30*hour)
			r.Cure = r.Recoat + span("cure", 30*hour)
			key := fmt.Sprint(r.Job, i)
			steps = append(steps, r)
			coats[key] = max(1, r.Coats)
		}
		table, err := schedule.Build(steps, s)
		var over *measure.RangeError
		if errors.As(err, &over) {
			t.Skip("a few minutes of work a week")
		}
		if err != nil {
			t.Fatal(err)
		}
		dry, cured, busy, last := map[string]time.Time{}, map[string]time.Time{}, map[int64]time.Time{}, map[string]int{}
		before := s.Start
		for _, slot := range table.Slots {
			switch {
			case slot.Start.Before(before) || slot.End.Before(slot.Start):
				t.Fatalf("out of order: %+v after %v", slot, before)
			case slot.Start.Before(dry[slot.Job]):
				t.Fatalf("starts before %v, when the last coat is dry: %+v", dry[slot.Job], slot)
			case did(slot) == finish.TaskSeal && slot.Coat == 1 && slot.Start.Before(cured[slot.Job]):
				t.Fatalf("seals before %v, when what is below has cured: %+v", cured[slot.Job], slot)
			case slot.Start.Before(busy[slot.Crew]):
				t.Fatalf("crew %d is busy until %v: %+v", slot.Crew, busy[slot.Crew], slot)
			case slot.Crew < 1 || slot.Crew > max(1, s.Crews):
				t.Fatalf("no such crew: %+v", slot)
			case slot.Activity < last[slot.Job] || slot.Job != steps[slot.Activity].Job || slot.Step != steps[slot.Activity].Step:
				t.Fatalf("activity %d of %s after %d", slot.Activity, slot.Job, last[slot.Job])
			}
			for _, at := range []time.Time{slot.Start, slot.End} {
				days := s.Days
				if days == 0 {
					days = schedule.WeekdaysOf(1, 2, 3, 4, 5)
				}
				y, m, d := at.Date()
				// by the clock, with an hour's leave where clocks change
				clock := measure.Duration(at.Sub(time.Date(y, m, d, 0, 0, 0, 0, loc)))
				off := len(s.Off) > 0 && schedule.DateOf(at) == s.Off[0]
				if !days.Has(at.Weekday()) || off || clock < s.Open-hour || clock > s.Close+hour {
					t.Fatalf("%v is no working time: %+v of %+v", at, slot, s)
				}
			}
			before, busy[slot.Crew], last[slot.Job] = slot.Start, slot.End, slot.Activity
			if slot.Dry.After(dry[slot.Job]) {
				dry[slot.Job] = slot.Dry
			}
			if slot.Cured.After(cured[slot.Job]) {
				cured[slot.Job] = slot.Cured
			}
			coats[fmt.Sprint(slot.Job, slot.Activity)]--
		}
		for k, n := range coats {
			if n != 0 {
				t.Fatalf("%s lacks %d coats", k, n)
			}
		}

		var jobs []string
		for _, r := range steps {
			if !slices.Contains(jobs, r.Job) {
				jobs = append(jobs, r.Job)
			}
		}
		place := func(s schedule.Slot) int { return slices.Index(jobs, s.Job) }
		wet := func(s schedule.Slot) bool {
			return did(s) == finish.TaskPrime || did(s) == finish.TaskPaint || did(s) == finish.TaskSeal
		}
		begun := make([]bool, len(jobs))
		for i, a := range table.Slots {
			if k := place(a); k > 0 && !begun[k-1] {
				t.Fatalf("%s begins before %s", a.Job, jobs[k-1])
			}
			begun[place(a)] = true
			for _, b := range table.Slots[:i] {
				if did(a) == finish.TaskInstall && did(b) == finish.TaskInstall && (place(a) < place(b) || place(a) > place(b) && a.Start.Before(b.End)) {
					t.Fatalf("fastened out of order: %+v, then %+v", b, a)
				}
				for _, x := range [][2]schedule.Slot{{a, b}, {b, a}} {
					sand, coat := x[0], x[1]
					if did(sand) == finish.TaskSand && wet(coat) && sand.Start.Before(coat.Dry) && coat.Start.Before(sand.End) {
						t.Fatalf("sanded while a coat is wet: %+v, %+v", sand, coat)
					}
				}
			}
		}
	})
}

// What is dusty comes first: while jobs are sanded for their first coat nothing is
// primed, while any is sanded for its paint nothing is painted, and what is glued is
// nailed up next. Systems in their usual order, of any length.
func TestDustyWorkComesFirst(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		few := func(name string, most int) int { return rapid.IntRange(0, most).Draw(t, name) }
		var steps []schedule.Activity
		add := func(job string, task finish.Task, n int) {
			for range n {
				r := of(task)
				r.Job, r.Labor = job, minute+measure.Duration(few("labor", 900))*minute
				if task != finish.TaskSand && task != finish.TaskInstall && task != finish.TaskGlueJoints {
					r.Recoat = measure.Duration(few("recoat", 20)) * hour
				}
				steps = append(steps, r)
			}
		}
		toCoat, toPaint := map[string]int{}, map[string]int{}
		for i := range 1 + few("jobs", 4) {
			job := string(rune('a' + i))
			add(job, finish.TaskGlueJoints, few("glued", 1))
			add(job, finish.TaskInstall, 1)
			add(job, finish.TaskFill, few("filled", 1))
			bare, primed, primer := few("sanded", 2), few("sanded again", 2), few("primed", 1)
			add(job, finish.TaskSand, bare)
			add(job, finish.TaskPrime, primer)
			add(job, finish.TaskSand, primed)
			add(job, finish.TaskPaint, 1)
			add(job, finish.TaskSand, few("sanded between coats", 1))
			add(job, finish.TaskPaint, few("painted again", 1))
			toCoat[job], toPaint[job] = bare, bare+primed
			if primer == 0 {
				toCoat[job] = bare + primed
			}
		}
		site := schedule.Calendar{Start: time.Date(2026, time.August, 3, 8, 0, 0, 0, time.UTC), Crews: 1 + int64(few("crews", 2))}
		table, err := schedule.Build(steps, site)
		if err != nil {
			t.Fatal(err)
		}
		if len(table.Slots) != len(steps) {
			t.Fatalf("%d slots for %d steps", len(table.Slots), len(steps))
		}
		var bare, primed time.Time // when the last sanding for a first coat, and for paint, ends
		sanded := map[string]int{}
		up := time.Time{} // when all trim so far is on the wall
		for _, s := range table.Slots {
			switch did(s) {
			case finish.TaskGlueJoints, finish.TaskInstall:
				if s.Start.Before(up) {
					t.Fatalf("%s of %s at %v, while the trim before it goes up until %v", s.Step, s.Job, s.Start, up)
				}
				if did(s) == finish.TaskInstall {
					up = s.End
				}
			case finish.TaskSand:
				if sanded[s.Job]++; sanded[s.Job] <= toCoat[s.Job] && s.End.After(bare) {
					bare = s.End
				}
				if sanded[s.Job] <= toPaint[s.Job] && s.End.After(primed) {
					primed = s.End
				}
			}
		}
		for _, s := range table.Slots {
			if did(s) == finish.TaskPrime && s.Start.Before(bare) || did(s) == finish.TaskPaint && s.Start.Before(primed) {
				t.Fatalf("%s of %s at %v; sanding goes on until %v for the first coat, %v for paint", s.Step, s.Job, s.Start, bare, primed)
			}
		}
	})
}

// Where coats cannot wait they do not: trim that is painted before it is hung, and a
// job that is only painted and must begin before the next.
func TestCoatsThatCannotWait(t *testing.T) {
	in := func(job string, task finish.Task) schedule.Activity {
		a := of(task)
		a.Job = job
		return a
	}
	for name, order := range map[string][]schedule.Activity{
		"painted first": {in("a", finish.TaskPaint), in("a", finish.TaskInstall), in("b", finish.TaskInstall), in("b", finish.TaskSand), in("b", finish.TaskPaint)},
		"only painted":  {in("a", finish.TaskPaint), in("b", finish.TaskSand), in("b", finish.TaskPrime), in("b", finish.TaskSand), in("b", finish.TaskSeal)},
	} {
		for i := range order {
			order[i].Labor, order[i].Coats, order[i].Recoat = hour, 1, hour
		}
		table := must[*schedule.Schedule](t)(schedule.Build(order, schedule.Calendar{Start: time.Date(2026, time.August, 3, 8, 0, 0, 0, time.UTC)}))
		if len(table.Slots) != len(order) {
			t.Errorf("%s: %d slots for %d steps", name, len(table.Slots), len(order))
		}
	}
}

// Whatever activities are, every one has all its slots: none waits for ever.
func TestNothingWaitsForEver(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		yes := func(name string) bool { return rapid.Bool().Draw(t, name) }
		var all []schedule.Activity
		n := 0
		for range rapid.IntRange(0, 10).Draw(t, "activities") {
			a := schedule.Activity{
				Job: string(rune('a' + rapid.IntRange(0, 3).Draw(t, "job"))), Labor: hour,
				Coats: rapid.Int64Range(0, 2).Draw(t, "coats"), Recoat: hour, Cure: 2 * hour,
				Hangs: yes("hangs"), WithTrim: yes("with trim"), Wet: yes("wet"), Finish: yes("finish"), AfterCure: yes("after cure"),
			}
			a.Dusty = !a.Wet && yes("dusty")
			all = append(all, a)
			n += int(max(a.Coats, 1))
		}
		table, err := schedule.Build(all, schedule.Calendar{Start: time.Date(2026, time.August, 3, 8, 0, 0, 0, time.UTC), Crews: rapid.Int64Range(1, 3).Draw(t, "crews")})
		if err != nil || len(table.Slots) != n {
			t.Fatalf("%d slots of %d, %v: %+v", len(table.Slots), n, err, all)
		}
	})
}
