package sequence_test

import (
	"context"
	"testing"
	"time"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/finish/sequence"
	"example.com/longpoint/measure"
)

const (
	hour   = measure.Duration(time.Hour)
	minute = measure.Duration(time.Minute)
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

// always is a calendar without nights, so that working time and time are one.
func always(crews ...schedule.Crew) schedule.Calendar {
	return schedule.Calendar{Start: time.Date(2026, 6, 1, 0, 0, 0, 0, time.UTC), Open: 0, Close: 24 * hour, Days: 127, Crews: crews}
}

// Derived, by trying everything (half days; one carpenter, one painter): in each room trim goes up
// (2), its filler is sanded (1), a coat (1, dries 1), sanding (1), a coat (1, dries 1); dust and wet coats
// exclude each other in one air. The end of the last coat: one room 7; two rooms of their own air
// 10, in one air 12; three rooms 14 and 17.
func TestHalfDaysOfTwoCrafts(t *testing.T) {
	const unit = 4 * hour
	for _, c := range []struct {
		rooms  int
		oneAir bool
		want   int
	}{{1, false, 7}, {1, true, 7}, {2, false, 10}, {2, true, 12}, {3, false, 14}, {3, true, 17}} {
		var job sequence.Job
		for _, room := range []string{"classroom", "corridor", "cloakroom"}[:c.rooms] {
			trim := sequence.Trim{Room: room, Profile: "base", Preprimed: true}
			dry := finish.Drying{Recoat: unit}
			job.Work = append(job.Work,
				sequence.Work{Trim: trim, Task: finish.TaskInstall, Labor: 2 * unit},
				sequence.Work{Trim: trim, Task: finish.TaskSand, Labor: unit},
				sequence.Work{Trim: trim, Task: finish.TaskPaint, Labor: unit, Dry: dry},
				sequence.Work{Trim: trim, Task: finish.TaskSand, Labor: unit},
				sequence.Work{Trim: trim, Task: finish.TaskPaint, Labor: unit, Dry: dry})
		}
		o := &sequence.Options{Pace: sequence.PaceSideBySide, OneAir: c.oneAir}
		order := must[*sequence.Order](t)(sequence.Network(job, o))
		s := must[*schedule.Schedule](t)(schedule.Build(context.Background(), order.Activities, always(
			schedule.Crew{Name: "carpenter", Skills: []string{"carpenter"}}, schedule.Crew{Name: "painter", Skills: []string{"painter"}}), nil))
		var end time.Time
		for _, slot := range s.Slots {
			if order.Steps[slot.Activity].Stage == sequence.StageCoat && slot.End.After(end) {
				end = slot.End
			}
		}
		got, want := end.Sub(always().Start), time.Duration(c.want)*time.Duration(unit)
		if got != want || !s.Proven {
			t.Errorf("%d rooms, one air %v: %v, want %v", c.rooms, c.oneAir, got, want)
		}
		if v := must[[]sequence.Violation](t)(sequence.Check(order.Job, order.Events(s.Slots), o)); len(v) > 0 {
			t.Errorf("%+v", v)
		}
	}
}
