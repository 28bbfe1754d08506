package schedule_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/measure"
)

// trimNetwork is the trim of some rooms, ten activities each, with hours as they may be, and
// crews: one, a carpenter's and a painter's, or two that do everything; one air or one a room.
func trimNetwork(seed uint64, rooms int) ([]schedule.Activity, schedule.Calendar) {
	r := rand.New(rand.NewPCG(seed, 30))
	hours := func(least, most int) measure.Duration {
		return measure.Duration(least*12+r.IntN((most-least)*12+1)) * 5 * minute
	}
	cal := schedule.Calendar{Start: time.Date(2027, time.June, 7, 8, 0, 0, 0, time.UTC)}
	switch r.IntN(3) {
	case 0:
		cal.Crews = []schedule.Crew{{People: 2}}
	case 1:
		cal.Crews = []schedule.Crew{{People: 2, Skills: []string{"carpentry"}}, {People: 1, Skills: []string{"painting"}}}
	default:
		cal.Crews = []schedule.Crew{{People: 2}, {People: 2}}
	}
	oneAir, crownFirst := r.IntN(2) == 0, r.IntN(2) == 0
	var all []schedule.Activity
	for room := range rooms {
		zone := ""
		if !oneAir {
			zone = fmt.Sprint(room)
		}
		id := func(step string) string { return fmt.Sprint(step, " ", room) }
		waits := func(step string, lag measure.Duration) []schedule.Link {
			return []schedule.Link{{ID: id(step), Lag: lag}}
		}
		add := func(a schedule.Activity) { all = append(all, a) }
		ready := time.Time{}
		if r.IntN(3) == 0 {
			ready = cal.Start.Add(time.Duration(hours(0, 48)))
		}
		spackle, primer, caulk, enamel := hours(1, 4), hours(1, 4), hours(1, 4), hours(4, 16)
		add(schedule.Activity{ID: id("casing"), Labor: hours(2, 12), Skill: "carpentry", Zone: zone, Dusty: true, NotBefore: ready})
		add(schedule.Activity{ID: id("base"), Labor: hours(2, 12), Skill: "carpentry", Zone: zone, Dusty: true, After: waits("casing", 0)})
		crown := schedule.Activity{ID: id("crown"), Labor: hours(3, 16), People: 2, Skill: "carpentry", Zone: zone, Dusty: true}
		if crownFirst {
			all[len(all)-1].After = append(all[len(all)-1].After, waits("crown", 0)...)
		}
		add(crown)
		add(schedule.Activity{ID: id("fill"), Labor: hours(1, 3), Skill: "painting", Zone: zone, Dry: spackle, After: append(waits("base", 0), waits("crown", 0)...)})
		add(schedule.Activity{ID: id("sand"), Labor: hours(1, 3), Skill: "painting", Zone: zone, Dusty: true, After: waits("fill", spackle)})
		add(schedule.Activity{ID: id("prime"), Labor: hours(1, 4), Skill: "painting", Zone: zone, Wet: true, Dry: primer, After: waits("sand", 0)})
		add(schedule.Activity{ID: id("caulk"), Labor: hours(1, 3), Skill: "painting", Zone: zone, Dry: caulk, After: waits("prime", primer)})
		add(schedule.Activity{ID: id("coat 1"), Labor: hours(2, 6), Skill: "painting", Zone: zone, Wet: true, Dry: enamel, After: waits("caulk", caulk)})
		add(schedule.Activity{ID: id("scuff"), Labor: hours(1, 2), Skill: "painting", Zone: zone, Dusty: true, After: waits("coat 1", enamel)})
		add(schedule.Activity{ID: id("coat 2"), Labor: hours(2, 6), Skill: "painting", Zone: zone, Wet: true, Dry: enamel, Cure: 14 * 24 * hour, After: waits("scuff", 0)})
	}
	return all, cal
}

// How many of made-up networks of 30 activities, and of more, are proven, in how many steps.
func BenchmarkTrim(b *testing.B) {
	for _, rooms := range []int{3, 5, 8, 15} {
		b.Run(fmt.Sprint(10*rooms), func(b *testing.B) { benchmarkTrim(b, rooms, 60/rooms) })
	}
}

func benchmarkTrim(b *testing.B, rooms, n int) {
	for b.Loop() {
		proven := 0
		var steps []float64
		var gap time.Duration
		for seed := range uint64(n) {
			all, cal := trimNetwork(seed, rooms)
			s, err := schedule.Build(context.Background(), all, cal, nil)
			if err != nil {
				b.Fatal(err)
			}
			if testing.Verbose() {
				fmt.Printf("%d: %d crews, done %v, bound %v, proven %v, %d steps\n", seed, len(cal.Crews), s.Done.Format(stamp), s.Bound.Format(stamp), s.Proven, s.Work)
			}
			if s.Proven {
				proven++
			}
			steps = append(steps, float64(s.Work))
			gap += s.Done.Sub(s.Bound)
		}
		slices.Sort(steps)
		b.ReportMetric(float64(100*proven)/float64(n), "%proven")
		b.ReportMetric(steps[n/2], "steps-median")
		b.ReportMetric(steps[n*9/10], "steps-p90")
		b.ReportMetric(steps[n-1], "steps-max")
		b.ReportMetric(gap.Hours()/float64(n), "h-gap")
	}
}

// A schedule without search, as fast as possible.
func BenchmarkQuick(b *testing.B) {
	all, cal := trimNetwork(1, 5)
	for b.Loop() {
		if _, err := schedule.Build(context.Background(), all, cal, &schedule.Options{Work: 1}); err != nil {
			b.Fatal(err)
		}
	}
}
