package schedule_test

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"
	_ "time/tzdata" // the same rules on every machine

	"pgregory.net/rapid"

	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/measure"
)

const stamp = "Mon Jan 2 15:04"

const minute = measure.Duration(time.Minute)

func location(t testing.TB, name string) *time.Location {
	t.Helper()
	l, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func must[T any](t testing.TB) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// coats is n coats, one over the other.
func coats(n int, labor, dry measure.Duration) []schedule.Activity {
	var all []schedule.Activity
	for i := range n {
		a := schedule.Activity{ID: fmt.Sprint("coat ", i), Labor: labor, Dry: dry, Wet: true}
		if i > 0 {
			a.After = []schedule.Link{{ID: all[i-1].ID, Lag: dry}}
		}
		all = append(all, a)
	}
	return all
}

// crews is n crews of a size.
func crews(n int, size int64) []schedule.Crew {
	return slices.Repeat([]schedule.Crew{{People: size}}, n)
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
			coats(2, hour, 16*hour)},
		{"a night that gains one", schedule.Calendar{Start: at(time.October, 31, 15, 0), Days: every}, "Sat Oct 31 15:00", "Sun Nov 1 08:00",
			coats(2, hour, 17*hour)},
		{"opens in the hour that is skipped", schedule.Calendar{Start: at(time.March, 8, 0, 0), Open: 2*hour + 30*minute, Close: 5 * hour, Days: every},
			"Sun Mar 8 03:00", "Mon Mar 9 02:30", // two hours on Sunday
			then(2*hour, minute)},
		{"a day of 25 hours", schedule.Calendar{Start: at(time.November, 1, 0, 0), Close: 24 * hour, Days: every}, "Sun Nov 1 00:00", "Mon Nov 2 00:00",
			then(25*hour, minute)},
		{"closes at the first of two", schedule.Calendar{Start: at(time.November, 1, 0, 0), Close: 90 * minute, Days: every}, "Sun Nov 1 00:00", "Mon Nov 2 00:00",
			then(90*minute, minute)},
	} {
		table, err := schedule.Build(context.Background(), c.steps, c.site, nil)
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
	table, err := schedule.Build(context.Background(), coats(1, 10*hour, 0),
		schedule.Calendar{Start: time.Date(2011, time.December, 29, 8, 0, 0, 0, apia), Days: every}, nil)
	if err != nil || table.Done.Format(stamp) != "Sat Dec 31 10:00" {
		t.Errorf("across the date line: done %v, %v; want Saturday at 10:00", table.Done, err)
	}
}

// then is work that follows other work.
func then(first, second measure.Duration) []schedule.Activity {
	return []schedule.Activity{{ID: "first", Labor: first}, {ID: "second", Labor: second, After: []schedule.Link{{ID: "first"}}}}
}

func TestScheduleByHand(t *testing.T) {
	monday := time.Date(2026, time.August, 3, 8, 0, 0, 0, time.UTC)
	// Ten hours of labor by one person of one crew: a day and two hours.
	two := []schedule.Activity{{ID: "a", Labor: 10 * hour, Dry: 4 * hour}, {ID: "b", Labor: 10 * hour, Dry: 4 * hour}}
	for _, c := range []struct {
		crews int
		size  int64
		done  string
	}{{1, 1, "Wed Aug 5 12:00"}, {2, 1, "Tue Aug 4 10:00"}, {1, 2, "Tue Aug 4 10:00"}, {2, 2, "Mon Aug 3 13:00"}, {9, 5, "Mon Aug 3 10:00"}} {
		table := must[*schedule.Schedule](t)(schedule.Build(context.Background(), two, schedule.Calendar{Start: monday, Crews: crews(c.crews, c.size)}, nil))
		if got := table.Done.Format(stamp); got != c.done || table.Bound.After(table.Done) {
			t.Errorf("%d crews of %d: done %s, bound %v, want %s", c.crews, c.size, got, table.Bound, c.done)
		}
	}
	// An activity that waits for the coat to dry or to cure has a link that says so.
	for lag, want := range map[measure.Duration]string{0: "Mon Aug 3 09:00", 4 * hour: "Mon Aug 3 13:00", 24 * hour: "Tue Aug 4 09:00"} {
		steps := then(hour, hour)
		steps[0].Dry, steps[0].Cure, steps[1].After[0].Lag = 4*hour, 24*hour, lag
		table := must[*schedule.Schedule](t)(schedule.Build(context.Background(), steps, schedule.Calendar{Start: monday}, nil))
		if got := table.Slots[1].Start.Format(stamp); got != want {
			t.Errorf("after %v it starts %s, want %s", lag, got, want)
		}
		if got := table.Slots[0]; got.Dry.Format(stamp) != "Mon Aug 3 13:00" || got.Cured.Format(stamp) != "Tue Aug 4 09:00" {
			t.Errorf("dry and cured: %+v", got)
		}
	}
	// A start at night or on a day off waits for the next working hours.
	table := must[*schedule.Schedule](t)(schedule.Build(context.Background(), two[:1], schedule.Calendar{Start: monday.Add(-40 * time.Hour)}, nil))
	if got := table.Slots[0].Start; !got.Equal(monday) {
		t.Errorf("a start on Saturday afternoon is %v, want Monday at 8", got)
	}
	// Nothing to do.
	table = must[*schedule.Schedule](t)(schedule.Build(context.Background(), nil, schedule.Calendar{Start: monday}, nil))
	if len(table.Slots) != 0 || !table.Done.Equal(monday) || !table.Proven {
		t.Errorf("no steps: %+v", table)
	}
	// Material that arrives on Tuesday at noon, and work without labor on a Sunday.
	table = must[*schedule.Schedule](t)(schedule.Build(context.Background(), []schedule.Activity{
		{ID: "base", Labor: hour, NotBefore: monday.Add(28 * time.Hour)},
		{ID: "sign-off", NotBefore: monday.Add(6 * 24 * time.Hour)},
	}, schedule.Calendar{Start: monday}, nil))
	if got := table.Slots; got[0].Start.Format(stamp) != "Tue Aug 4 12:00" || got[1].Start.Format(stamp) != "Sun Aug 9 08:00" || got[1].Crew != 0 {
		t.Errorf("not before: %+v", got)
	}
}

// Half days turn at noon, and work that ends at noon ends in the morning.
func TestHalfDays(t *testing.T) {
	at := func(day, hour int) time.Time { return time.Date(2026, time.June, day, hour, 0, 0, 0, time.UTC) }
	for want, s := range map[string]schedule.Slot{
		"Mon 1 Jun am":                {Start: at(1, 8), End: at(1, 12)},
		"Mon 1 Jun pm":                {Start: at(1, 12), End: at(1, 16)},
		"Mon 1 Jun am - Mon 1 Jun pm": {Start: at(1, 11), End: at(1, 13)},
		"Fri 5 Jun pm - Mon 8 Jun am": {Start: at(5, 15), End: at(8, 9)},
		"Tue 2 Jun pm":                {Start: at(2, 12), End: at(2, 12)},
	} {
		if got := s.HalfDays(); got != want {
			t.Errorf("%v to %v: %q, want %q", s.Start, s.End, got, want)
		}
	}
}

func TestScheduleErrors(t *testing.T) {
	day := time.Date(2026, time.August, 3, 8, 0, 0, 0, time.UTC)
	field := func(want string, err error) {
		t.Helper()
		if f := (*measure.FieldError)(nil); !errors.As(err, &f) || f.Field != want {
			t.Errorf("%s: %v", want, err)
		}
	}
	for name, s := range map[string]schedule.Calendar{
		"calendar.start":           {},
		"calendar.open":            {Start: day, Open: -hour, Close: hour},
		"calendar.close":           {Start: day, Open: 9 * hour, Close: 9 * hour},
		"calendar.days":            {Start: day, Days: 128},
		"calendar.crews":           {Start: day, Crews: crews(1001, 1)},
		"calendar.crews[1].people": {Start: day, Crews: []schedule.Crew{{}, {People: 1001}}},
		"calendar.off[1]":          {Start: day, Off: []schedule.Date{{Year: 2026, Month: time.February, Day: 28}, {Year: 2026, Month: time.February, Day: 31}}},
	} {
		_, err := schedule.Build(context.Background(), coats(1, hour, 0), s, nil)
		field(name, err)
	}
	two := schedule.Calendar{Start: day, Crews: []schedule.Crew{{People: 2, Skills: []string{"carpentry"}}, {People: 1}}}
	link := func(id string) []schedule.Link { return []schedule.Link{{ID: id}} }
	for name, a := range map[string]schedule.Activity{
		"activities[1].id":            {ID: ""},
		"activities[1].labor":         {ID: "x", Labor: -1},
		"activities[1].people":        {ID: "x", Labor: 1, People: 3},
		"activities[1].dry":           {ID: "x", Dry: -1},
		"activities[1].dusty":         {ID: "x", Wet: true, Dusty: true},
		"activities[1].cure":          {ID: "x", Dry: 2, Cure: 1},
		"activities[1].after[0].id":   {ID: "x", After: link("y")},
		"activities[1].after[1].id":   {ID: "x", After: []schedule.Link{{ID: "coat 0"}, {ID: "x"}}},
		"activities[1].after[0].type": {ID: "x", After: []schedule.Link{{ID: "coat 0", Type: 4}}},
	} {
		_, err := schedule.Build(context.Background(), append(coats(1, hour, 0), a), two, nil)
		field(name, err)
	}
	_, err := schedule.Build(context.Background(), append(coats(1, hour, 0), schedule.Activity{ID: "coat 0"}), two, nil)
	field("activities[1].id", err)
	_, err = schedule.Build(context.Background(), []schedule.Activity{{ID: "x", Labor: 1, People: 2, Skill: "painting"}}, two, nil)
	field("activities[0].people", err)
	_, err = schedule.Build(context.Background(), []schedule.Activity{{ID: "x", Labor: 1, Skill: "tiling"}}, schedule.Calendar{Start: day, Crews: []schedule.Crew{{Skills: []string{"painting"}}}}, nil)
	field("activities[0].skill", err)
	_, err = schedule.Build(context.Background(), nil, two, &schedule.Options{Work: -1})
	field("work", err)
	_, err = schedule.CriticalPath([]schedule.Activity{{ID: "x", Labor: -1}})
	field("activities[0].labor", err)

	// A cycle is named.
	round := []schedule.Activity{{ID: "z"}, {ID: "a", After: link("c")}, {ID: "b", After: link("a")}, {ID: "c", After: []schedule.Link{{ID: "z"}, {ID: "b"}}}}
	_, err = schedule.CriticalPath(round)
	field("activities[2].after[0].id", err)
	if !strings.Contains(err.Error(), "a waits for c waits for b waits for a") {
		t.Error(err)
	}
	for name, a := range map[string][]schedule.Activity{
		"ever so much labor": {{ID: "x", Labor: 1 << 62}},
		"a coat never dry":   coats(2, 1, 1<<62),
		"a cure for ever":    {{ID: "x", Cure: 1 << 62}},
		"too many":           make([]schedule.Activity, 100_001),
	} {
		_, err := schedule.Build(context.Background(), a, two, nil)
		if o := (*measure.RangeError)(nil); !errors.As(err, &o) {
			t.Errorf("%s: %v, want a RangeError", name, err)
		}
	}
	if _, err := schedule.CriticalPath(coats(3, 1<<61, 1<<61)); !errors.As(err, new(*measure.RangeError)) {
		t.Errorf("a path of unbounded length: %v", err)
	}
}

// A zero that stands for something else is rejected in JSON, and types of links have names.
func TestScheduleJSON(t *testing.T) {
	type file struct {
		Activities []schedule.Activity `json:"activities"`
		Crews      []schedule.Crew     `json:"crews"`
	}
	for text, field := range map[string]string{
		`{"activities":[{"id":"a","people":0}]}`:                          "activities[0].people",
		`{"crews":[{"people":1},{"people":0}]}`:                           "crews[1].people",
		`{"activities":[{"id":"a","after":[{"id":"b","type":"later"}]}]}`: "activities[0].after[0].type",
	} {
		var f *measure.FieldError
		if err := measure.UnmarshalStrict([]byte(text), new(file)); !errors.As(err, &f) || f.Field != field {
			t.Errorf("%s: %v, want %s", text, err, field)
		}
	}
	var f file
	if err := measure.UnmarshalStrict([]byte(`{"activities":[{"id":"a","people":2,"after":[{"id":"b","type":"start-start","lag":"90m","working":true}]}]}`), &f); err != nil ||
		f.Activities[0].After[0] != (schedule.Link{ID: "b", Type: schedule.LinkStartStart, Lag: 90 * minute, Working: true}) {
		t.Errorf("%+v, %v", f, err)
	}
}

// Only days that the calendar has can be off: those that read back from their text.
func TestOffIsADay(t *testing.T) {
	steps := coats(1, hour, 0)
	start := time.Date(2026, time.March, 2, 8, 0, 0, 0, time.UTC)
	rapid.Check(t, func(t *rapid.T) {
		d := schedule.Date{
			Year:  rapid.IntRange(-2, 10_001).Draw(t, "year"),
			Month: time.Month(rapid.IntRange(-1, 14).Draw(t, "month")),
			Day:   rapid.IntRange(-1, 33).Draw(t, "day"),
		}
		back, err := time.Parse(time.DateOnly, d.String())
		want := err == nil && schedule.DateOf(back) == d
		if _, err := schedule.Build(context.Background(), steps, schedule.Calendar{Start: start, Off: []schedule.Date{d}}, nil); (err == nil) != want {
			t.Fatalf("%v: %v, want a day: %v", d, err, want)
		}
	})
}
