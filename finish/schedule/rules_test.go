package schedule_test

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/measure"
)

// works reports whether a minute is worked, by the clock time at its start.
func works(cal schedule.Calendar, at time.Time) bool {
	open, end, days := cal.Open, cal.Close, cal.Days
	if open == 0 && end == 0 {
		open, end = 8*hour, 16*hour
	}
	if days == 0 {
		days = schedule.WeekdaysOf(1, 2, 3, 4, 5)
	}
	clock := measure.Duration(at.Hour())*hour + measure.Duration(at.Minute())*minute
	return days.Has(at.Weekday()) && !slices.Contains(cal.Off, schedule.DateOf(at)) && clock >= open && clock < end
}

// worked counts the minutes worked from one moment to another.
func worked(cal schedule.Calendar, from, to time.Time) (n int64) {
	for at := from; at.Before(to); at = at.Add(time.Minute) {
		if works(cal, at) {
			n++
		}
	}
	return n
}

// breaks names the rule that a schedule breaks, minute by minute, for calendars without clock changes.
func breaks(all []schedule.Activity, cal schedule.Calendar, s *schedule.Schedule) error {
	crews := cal.Crews
	if len(crews) == 0 {
		crews = []schedule.Crew{{}}
	}
	at := map[string]schedule.Slot{}
	for k, slot := range s.Slots {
		if k > 0 && slot.Start.Before(s.Slots[k-1].Start) {
			return fmt.Errorf("slot %d is out of order", k)
		}
		at[slot.ID] = slot
	}
	if len(at) != len(all) {
		return fmt.Errorf("%d slots for %d activities", len(at), len(all))
	}
	for i, a := range all {
		x := at[a.ID]
		switch {
		case x.Activity != i || x.Job != a.Job || x.Room != a.Room || x.Name != cmp.Or(a.Name, a.ID):
			return fmt.Errorf("%+v is not of %+v", x, a)
		case x.Start.Before(a.NotBefore) || x.Start.Before(cal.Start):
			return fmt.Errorf("%s starts too early: %v", a.ID, x.Start)
		case x.Dry != x.End.Add(time.Duration(a.Dry)) || x.Cured != x.End.Add(time.Duration(max(a.Dry, a.Cure))):
			return fmt.Errorf("%s dries at the wrong time: %+v", a.ID, x)
		case x.End.After(s.Done) || x.Cured.After(s.Cured):
			return fmt.Errorf("Done or Cured is before %+v", x)
		case x.TotalFloat < 0 || x.FreeFloat < 0 || x.FreeFloat > x.TotalFloat || x.Critical != (x.TotalFloat == 0):
			return fmt.Errorf("floats of %+v", x)
		case a.Labor == 0:
			if x.Crew != 0 || x.Start != x.End {
				return fmt.Errorf("%s takes nobody: %+v", a.ID, x)
			}
		default:
			c := crews[x.Crew-1]
			size := max(c.People, 1)
			if size < a.People || a.Skill != "" && len(c.Skills) > 0 && !slices.Contains(c.Skills, a.Skill) {
				return fmt.Errorf("%s by %+v", a.ID, c)
			}
			each := (int64(a.Labor) + size - 1) / size
			if want := (each + int64(minute) - 1) / int64(minute); worked(cal, x.Start, x.End) != want || !works(cal, x.Start) || !works(cal, x.End.Add(-time.Minute)) {
				return fmt.Errorf("%s is worked on for %d minutes, want %d: %+v", a.ID, worked(cal, x.Start, x.End), want, x)
			}
		}
		for _, l := range a.After {
			from, to := at[l.ID].End, x.Start
			if l.Type == schedule.LinkStartStart || l.Type == schedule.LinkStartFinish {
				from = at[l.ID].Start
			}
			if l.Type == schedule.LinkFinishFinish || l.Type == schedule.LinkStartFinish {
				to = x.End
			}
			passed := measure.Duration(to.Sub(from))
			if l.Working && l.Lag != 0 {
				passed = measure.Duration(worked(cal, from, to)-worked(cal, to, from)) * minute
			}
			if passed < l.Lag {
				return fmt.Errorf("%s waits %v, want %+v", a.ID, passed, l)
			}
		}
		for _, o := range all {
			y := at[o.ID]
			if x.Crew > 0 && a.ID != o.ID && x.Crew == y.Crew && x.Start.Before(y.End) && y.Start.Before(x.End) {
				return fmt.Errorf("crew %d is on %s and %s", x.Crew, a.ID, o.ID)
			}
			if a.Dusty && o.Wet && a.Zone == o.Zone && x.Start.Before(x.End) && x.Start.Before(y.Dry) && y.Start.Before(x.End) {
				return fmt.Errorf("%s raises dust while %s is wet", a.ID, o.ID)
			}
		}
	}
	if s.Bound.After(s.Done) || s.Proven != s.Bound.Equal(s.Done) {
		return fmt.Errorf("done %v, bound %v, proven %v", s.Done, s.Bound, s.Proven)
	}
	return nil
}

// randomJob is activities with everything, and a calendar.
func randomJob(r *rand.Rand) ([]schedule.Activity, schedule.Calendar) {
	span := func(most int) measure.Duration { return measure.Duration(r.IntN(most)) * 10 * minute }
	cal := schedule.Calendar{
		Start: time.Date(2027, time.June, 1+r.IntN(28), r.IntN(24), r.IntN(60), 0, 0, time.UTC),
		Open:  7 * hour, Close: 7*hour + minute + span(60),
		Days: schedule.Weekdays(r.IntN(128)),
		Off:  []schedule.Date{{Year: 2027, Month: time.June, Day: 1 + r.IntN(30)}},
	}
	skills := []string{"carpentry", "painting", "tile"}
	for range 1 + r.IntN(3) {
		c := schedule.Crew{People: r.Int64N(3)}
		for _, s := range skills {
			if r.IntN(2) == 0 {
				c.Skills = append(c.Skills, s)
			}
		}
		cal.Crews = append(cal.Crews, c)
	}
	cal.Crews = append(cal.Crews, schedule.Crew{People: 2})
	names := r.Perm(14)
	var all []schedule.Activity
	for i := range r.IntN(14) {
		a := schedule.Activity{ID: fmt.Sprint(names[i]), Name: []string{"", "sand"}[r.IntN(2)], Room: "corridor", Labor: span(60), People: r.Int64N(3), Zone: []string{"", "hall"}[r.IntN(2)]}
		switch r.IntN(4) {
		case 0:
			a.Dusty = true
		case 1:
			a.Wet, a.Dry = true, span(100)
			a.Cure = a.Dry + span(100)
		}
		if r.IntN(2) == 0 {
			a.Skill = skills[r.IntN(3)]
		}
		if r.IntN(4) == 0 {
			a.NotBefore = cal.Start.Add(time.Duration(span(1000)) - 10*time.Hour)
		}
		for _, b := range all {
			if r.IntN(4) == 0 {
				l := schedule.Link{ID: b.ID, Lag: span(50), Working: r.IntN(2) == 0}
				if r.IntN(3) == 0 {
					l.Type = schedule.LinkType(r.IntN(4))
					l.Lag -= span(20)
				}
				a.After = append(a.After, l)
			}
		}
		all = append(all, a)
	}
	r.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	return all, cal
}

// Every schedule keeps all rules, with little work or much.
func TestScheduleKeepsToTheRules(t *testing.T) {
	n, proven := 300, 0
	for seed := range uint64(n) {
		r := rand.New(rand.NewPCG(seed, 11))
		all, cal := randomJob(r)
		s, err := schedule.Build(context.Background(), all, cal, &schedule.Options{Work: []int64{1, 100, 30_000}[r.IntN(3)]})
		if errors.As(err, new(*measure.RangeError)) && cal.Close < cal.Open+hour {
			continue // minutes a week
		}
		if err == nil {
			err = breaks(all, cal, s)
		}
		if err != nil {
			t.Fatalf("seed %d: %v\n%+v\n%+v\n%+v", seed, err, all, cal, s)
		}
		if s.Proven {
			proven++
		}
	}
	if proven < n/2 {
		t.Errorf("only %d of %d are proven", proven, n)
	}
}

// The same input has the same schedule, and more work no worse one.
func TestMoreWorkIsNoWorse(t *testing.T) {
	for seed := range uint64(3) {
		all, cal := trimNetwork(seed, 4)
		var last *schedule.Schedule
		for _, work := range []int64{1, 10_000, 100_000} {
			s := must[*schedule.Schedule](t)(schedule.Build(context.Background(), all, cal, &schedule.Options{Work: work}))
			again := must[*schedule.Schedule](t)(schedule.Build(context.Background(), all, cal, &schedule.Options{Work: work}))
			if err := breaks(all, cal, s); err != nil {
				t.Fatal(err)
			}
			if !slices.Equal(s.Slots, again.Slots) || s.Work != again.Work {
				t.Fatalf("seed %d, work %d: two schedules", seed, work)
			}
			if last != nil && (s.Done.After(last.Done) || s.Bound.Before(last.Bound)) {
				t.Errorf("seed %d, work %d: done %v, bound %v after %v, %v", seed, work, s.Done, s.Bound, last.Done, last.Bound)
			}
			last = s
		}
	}
}

// Trim of three rooms, 30 activities, is proven within the usual work.
func TestThirtyAreProven(t *testing.T) {
	for seed := range uint64(4) {
		all, cal := trimNetwork(seed, 3)
		s := must[*schedule.Schedule](t)(schedule.Build(context.Background(), all, cal, nil))
		if err := breaks(all, cal, s); err != nil || !s.Proven {
			t.Errorf("seed %d: %v; done %v, bound %v", seed, err, s.Done, s.Bound)
		}
	}
}

// Steps, like everything else, are the same on every machine.
func TestSameEverywhere(t *testing.T) {
	all, cal := trimNetwork(9, 3)
	s := must[*schedule.Schedule](t)(schedule.Build(context.Background(), all, cal, nil))
	sum := int64(0)
	for i, slot := range s.Slots {
		sum = (sum*31 + slot.Start.Unix()/60*int64(i+1) + slot.Crew) % 1_000_000_007
	}
	if got, want := fmt.Sprint(s.Done.Format(stamp), " ", s.Work, " ", sum), "Fri Jun 11 12:11 837264 95580217"; got != want {
		t.Errorf("%s, recorded is %s", got, want)
	}
}

// Ten thousand activities, and one chain of a hundred thousand.
func TestLargeSchedules(t *testing.T) {
	all, cal := manyRooms(334)
	if s, err := schedule.Build(context.Background(), all, cal, nil); err != nil || len(s.Slots) != len(all) {
		t.Error(err)
	}
	chain := make([]schedule.Activity, 100_000)
	for i := range chain {
		chain[i] = schedule.Activity{ID: fmt.Sprint(i), Labor: minute}
		if i > 0 {
			chain[i].After = []schedule.Link{{ID: fmt.Sprint(i - 1)}}
		}
	}
	slices.Reverse(chain)
	if s, err := schedule.Build(context.Background(), chain, cal, nil); err != nil || !s.Proven {
		t.Error(err)
	}
	if p, err := schedule.CriticalPath(chain); err != nil || p.Length != 100_000*minute || len(p.Critical) != len(chain) {
		t.Error(err)
	}
}

// Whatever the input, Build returns a schedule that keeps the rules or an error.
func FuzzBuild(f *testing.F) {
	f.Add([]byte(`{"activities":[{"id":"a","labor":"3h","dusty":true},{"id":"b","labor":"1h","wet":true,"dry":"4h","after":[{"id":"a","type":"start-start","lag":"-2h"}]}],"calendar":{"start":"2027-06-07T08:00:00Z","crews":[{"people":2,"skills":["paint"]}]}}`))
	f.Add([]byte(`{"activities":[{"id":"a","not_before":"9999-01-01T00:00:00Z"}],"calendar":{"start":"0001-01-01T00:00:01Z","open":"1ns","close":"24h","days":"Sun"}}`))
	f.Add([]byte(`{"activities":[{"id":"a","cure":"2562047h"},{"id":"b","after":[{"id":"a","lag":"-2562047h","working":true}]}],"calendar":{"start":"2027-06-07T08:00:00.5Z"}}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		var in struct {
			Activities []schedule.Activity `json:"activities"`
			Calendar   schedule.Calendar   `json:"calendar"`
		}
		if measure.UnmarshalStrict(data, &in) != nil {
			return
		}
		_, bad := schedule.CriticalPath(in.Activities)
		s, err := schedule.Build(context.Background(), in.Activities, in.Calendar, &schedule.Options{Work: 10_000})
		if (s == nil) == (err == nil) {
			t.Fatalf("%v, %v", s, err)
		}
		if err == nil && errors.As(bad, new(*measure.FieldError)) {
			t.Fatalf("a schedule for activities without a path: %v", bad)
		}
		if err != nil || s.Done.Sub(in.Calendar.Start) > 100*24*time.Hour || len(in.Activities) > 20 || in.Calendar.Open%minute != 0 || in.Calendar.Close%minute != 0 {
			return
		}
		if _, offset := in.Calendar.Start.Zone(); offset%60 != 0 || !in.Calendar.Start.Equal(in.Calendar.Start.Truncate(time.Minute)) {
			return
		}
		if err := breaks(in.Activities, in.Calendar, s); err != nil {
			t.Fatal(err)
		}
	})
}
