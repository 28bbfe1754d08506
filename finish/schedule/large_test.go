package schedule_test

import (
	"fmt"
	"testing"
	"time"

	"example.com/longpoint/finish/schedule"
)

// rooms copies the trim of three rooms so many times over, each with zones of its own.
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
		cal.Crews = append(cal.Crews, schedule.Crew{Size: 2})
	}
	cal.Start = time.Date(2027, time.June, 7, 8, 0, 0, 0, time.UTC)
	return all, cal
}

func BenchmarkTenThousand(b *testing.B) {
	for _, n := range []int{34, 334} {
		all, cal := manyRooms(n)
		b.Run(fmt.Sprint(len(all)), func(b *testing.B) {
			for b.Loop() {
				s, err := schedule.Build(all, cal, nil)
				if err != nil {
					b.Fatal(err)
				}
				b.Logf("done %v, bound %v, steps %d", s.Done, s.Bound, s.Work)
			}
		})
	}
}
