package schedule_test

import (
	"context"
	"fmt"
	"testing"
	"time"

	"example.com/longpoint/finish/schedule"
)

// rooms copies the trim of three rooms n times, each with its own zones.
func manyRooms(n int) ([]schedule.Activity, schedule.Calendar) {
	var all []schedule.Activity
	var cal schedule.Calendar
	for k := range n {
		some, c := trimNetwork(uint64(k), 3)
		cal.Start = c.Start
		for _, a := range some {
			a.ID, a.Zone = fmt.Sprint(k, a.ID), fmt.Sprint(k, a.Zone)
			for i := range a.After {
				a.After[i].ID = fmt.Sprint(k, a.After[i].ID)
			}
			all = append(all, a)
		}
	}
	for range 12 {
		cal.Crews = append(cal.Crews, schedule.Crew{People: 2})
	}
	cal.Start = time.Date(2027, time.June, 7, 8, 0, 0, 0, time.UTC)
	return all, cal
}

func BenchmarkTenThousand(b *testing.B) {
	for _, n := range []int{34, 334} {
		all, cal := manyRooms(n)
		b.Run(fmt.Sprint(len(all)), func(b *testing.B) {
			for b.Loop() {
				s, err := schedule.Build(context.Background(), all, cal, nil)
				if err != nil {
					b.Fatal(err)
				}
				b.Logf("done %v, bound %v, steps %d", s.Done, s.Bound, s.Work)
			}
		})
	}
}

// A thousand crews that all differ, for thousands of activities of many kinds.
func TestManyDifferentCrews(t *testing.T) {
	cal := schedule.Calendar{Start: time.Date(2027, time.June, 7, 8, 0, 0, 0, time.UTC)}
	for i := range 1000 {
		c := schedule.Crew{People: int64(i + 1)}
		for k := range 100 {
			c.Skills = append(c.Skills, fmt.Sprint("skill ", (i+k)%1000))
		}
		cal.Crews = append(cal.Crews, c)
	}
	var all []schedule.Activity
	for i := range 600 {
		a := schedule.Activity{ID: fmt.Sprint(i), Labor: 10 * hour, Zone: fmt.Sprint(i % 50), Dusty: i%3 == 0, Wet: i%3 == 1}
		if i%2 == 0 {
			a.Skill = fmt.Sprint("skill ", i%1000)
		}
		if i > 50 {
			a.After = []schedule.Link{{ID: fmt.Sprint(i - 50)}}
		}
		all = append(all, a)
	}
	s, err := schedule.Build(context.Background(), all, cal, &schedule.Options{Work: 100_000})
	if err != nil || len(s.Slots) != len(all) {
		t.Error(err)
	}
}
