package schedule_test

import (
	"context"
	"encoding/json"
	"fmt"
	"time"

	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/measure"
)

const hour = measure.Duration(time.Hour)

// Two rooms, a carpenter and a painter: while the classroom dries, the corridor is painted.
// Both rooms share one air, so the corridor is sanded before the classroom is wet.
func ExampleBuild() {
	var todo []schedule.Activity
	for _, room := range []string{"classroom", "corridor"} {
		todo = append(todo,
			schedule.Activity{ID: room + " base", Name: "run base", Room: room, Labor: 4 * hour, Skill: "carpentry"},
			schedule.Activity{ID: room + " fill", Name: "fill, sand", Room: room, Labor: 2 * hour, Skill: "painting", Dusty: true,
				After: []schedule.Link{{ID: room + " base"}}},
			schedule.Activity{ID: room + " coat 1", Name: "paint", Room: room, Labor: 2 * hour, Skill: "painting", Wet: true, Dry: 16 * hour,
				After: []schedule.Link{{ID: room + " fill"}}},
			schedule.Activity{ID: room + " coat 2", Name: "paint again", Room: room, Labor: 2 * hour, Skill: "painting", Wet: true, Dry: 16 * hour, Cure: 14 * 24 * hour,
				After: []schedule.Link{{ID: room + " coat 1", Lag: 16 * hour}}},
		)
	}
	s, err := schedule.Build(context.Background(), todo, schedule.Calendar{
		Start: time.Date(2026, time.July, 6, 8, 0, 0, 0, time.UTC),
		Crews: []schedule.Crew{{Name: "carpenter", Skills: []string{"carpentry"}}, {Name: "painter", Skills: []string{"painting"}}},
	}, &schedule.Options{Work: 1_000_000})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, slot := range s.Slots {
		fmt.Printf("%s: %s the %s, %s\n", slot.CrewName, slot.Name, slot.Room, slot.HalfDays())
	}
	fmt.Println("done", s.Done.Format("Mon 15:04")+", proven:", s.Proven)
	// Output:
	// carpenter: run base the classroom, Mon 6 Jul am
	// painter: fill, sand the classroom, Mon 6 Jul pm
	// carpenter: run base the corridor, Mon 6 Jul pm
	// painter: paint the classroom, Mon 6 Jul pm
	// painter: fill, sand the corridor, Tue 7 Jul am
	// painter: paint the corridor, Tue 7 Jul am
	// painter: paint again the classroom, Tue 7 Jul pm
	// painter: paint again the corridor, Wed 8 Jul am
	// done Wed 10:00, proven: true
}

// A small network: which activities can wait, and for how long.
func ExampleCriticalPath() {
	p, err := schedule.CriticalPath([]schedule.Activity{
		{ID: "jambs", Labor: 6 * hour},
		{ID: "casing", Labor: 8 * hour, After: []schedule.Link{{ID: "jambs"}}},
		{ID: "prime crown", Labor: 2 * hour},
		{ID: "crown", Labor: 8 * hour, People: 2, After: []schedule.Link{{ID: "prime crown", Lag: 4 * hour}}},
		{ID: "base", Labor: 5 * hour, After: []schedule.Link{{ID: "casing", Type: schedule.LinkStartStart, Lag: 4 * hour}, {ID: "casing", Type: schedule.LinkFinishFinish, Lag: hour}}},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, a := range p.Activities {
		fmt.Printf("%-11s %3s to %3s, float %s\n", a.ID, a.EarlyStart, a.EarlyFinish, a.TotalFloat)
	}
	for _, i := range p.Critical {
		fmt.Print(p.Activities[i].ID, ", ")
	}
	fmt.Println(p.Length)
	// Output:
	// jambs        0s to  6h, float 0s
	// casing       6h to 14h, float 0s
	// prime crown  0s to  2h, float 5h
	// crown        6h to 10h, float 5h
	// base        10h to 15h, float 0s
	// jambs, casing, base, 15h
}

// A crew of volunteers comes on Saturdays, and not on the county fair.
func ExampleWeekdays() {
	fair := schedule.DateOf(time.Date(2026, 7, 11, 12, 0, 0, 0, time.UTC))
	days := schedule.WeekdaysOf(time.Saturday)
	s, err := schedule.Build(context.Background(), []schedule.Activity{
		{ID: "install", Room: "cloakroom", Labor: 12 * hour},
	}, schedule.Calendar{Start: time.Date(2026, 7, 1, 8, 0, 0, 0, time.UTC), Days: days, Off: []schedule.Date{fair}}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(days, "but", fair)
	for _, slot := range s.Slots {
		fmt.Println(slot.Start.Format(time.DateOnly), slot.End.Format(time.DateOnly))
	}
	var read schedule.Weekdays
	err = json.Unmarshal([]byte(`"Sat Sun"`), &read)
	fmt.Println(read.Has(time.Sunday), err)
	// Output:
	// Sat but 2026-07-11
	// 2026-07-04 2026-07-18
	// true <nil>
}

// The four types of links between activities.
func ExampleLinkType() {
	fmt.Println(schedule.LinkFinishStart, schedule.LinkStartStart, schedule.LinkFinishFinish, schedule.LinkStartFinish)
	// Output: finish-start start-start finish-finish start-finish
}
