package estimate_test

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/measure"
)

// Whatever the steps, all coats have their slot: trim goes up in the order of the jobs, no
// job begins before the one before it, what is dusty comes before the coats of all jobs that
// are on the wall, sealers wait for the cure.
func TestActivities(t *testing.T) {
	tasks := []finish.Task{finish.TaskGlueJoints, finish.TaskInstall, finish.TaskFill, finish.TaskSand, finish.TaskPrime, finish.TaskPaint, finish.TaskSeal}
	r := rand.New(rand.NewPCG(5, 6))
	for range 500 {
		var steps []finish.StepResult
		n := 0
		for range r.IntN(12) {
			s := finish.StepResult{Job: string(rune('a' + r.IntN(3))), Task: tasks[r.IntN(len(tasks))], Coats: r.Int64N(3), Length: 80 * measure.Foot, Count: 100}
			s.Dry = finish.Drying{Recoat: measure.Duration(r.IntN(5)) * hour, Cure: 6 * hour}
			s.Step = s.Task.String()
			steps = append(steps, s)
			n += int(max(s.Coats, 1))
		}
		todo, err := estimate.Activities(steps, nil)
		if err != nil {
			t.Fatal(err)
		}
		table, err := schedule.Build(todo, schedule.Calendar{Start: time.Date(2026, time.August, 3, 8, 0, 0, 0, time.UTC), Crews: make([]schedule.Crew, 1+r.IntN(3))}, &schedule.Options{Work: 1})
		if err != nil || len(table.Slots) != n {
			t.Fatalf("%d slots of %d, %v: %+v", len(table.Slots), n, err, steps)
		}
		task := func(s schedule.Slot) finish.Task {
			var step int
			fmt.Sscanf(s.ID, "%d.", &step)
			return steps[step-1].Task
		}
		var up time.Time
		job := ""
		cured := map[string]time.Time{}
		for _, s := range table.Slots {
			if task(s) == finish.TaskInstall {
				if s.Job != job && s.Start.Before(up) {
					t.Fatalf("%s goes up at %v, before %v: %+v", s.Job, s.Start, up, steps)
				}
				job, up = s.Job, s.End
			}
			if task(s) == finish.TaskSeal && todo[s.Activity].Name == "seal" && s.Start.Before(cured[s.Job]) && len(todo[s.Activity].After) > 1 {
				t.Fatalf("%s is sealed at %v, cured %v", s.Job, s.Start, cured[s.Job])
			}
			if task(s) != finish.TaskSeal {
				cured[s.Job] = s.Cured
			}
			for _, o := range table.Slots {
				if task(s) == finish.TaskSand && todo[o.Activity].Wet && s.Start.Before(o.Dry) && o.Start.Before(s.End) {
					t.Fatalf("%s of %s is sanded while %s of %s is wet", s.Name, s.Job, o.Name, o.Job)
				}
			}
		}
	}
}
