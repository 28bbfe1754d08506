package schedule_test

import (
	"context"
	"fmt"
	"testing"
	"time"

	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/measure"
)

func ExampleCalendar_Hours() {
	c := schedule.Calendar{
		Start: time.Date(2027, 6, 7, 10, 0, 0, 0, time.UTC),
		Off:   []schedule.Date{{Year: 2027, Month: 6, Day: 9}},
	}
	for d := 6; d <= 9; d++ {
		open, end, ok := c.Hours(schedule.Date{Year: 2027, Month: 6, Day: d})
		if !ok {
			fmt.Println("no work on the", d)
			continue
		}
		fmt.Println(open.Format("Mon 15:04"), "to", end.Format("15:04"))
	}
	// Output:
	// no work on the 6
	// Mon 10:00 to 16:00
	// Tue 08:00 to 16:00
	// no work on the 9
}

// Work with labor is done within the hours of its days.
func TestHoursHoldTheWork(t *testing.T) {
	c := schedule.Calendar{Start: time.Date(2027, 3, 12, 15, 0, 0, 0, time.UTC), Open: 7 * measure.Duration(time.Hour), Close: 15*measure.Duration(time.Hour) + 1800e9, Days: schedule.WeekdaysOf(time.Friday, time.Monday)}
	s, err := schedule.Build(context.Background(), []schedule.Activity{{ID: "a", Labor: 20 * measure.Duration(time.Hour)}}, c, nil)
	if err != nil {
		t.Fatal(err)
	}
	var sum time.Duration
	for d := s.Slots[0].Start; d.Before(s.Slots[0].End.AddDate(0, 0, 1)); d = d.AddDate(0, 0, 1) {
		if open, end, ok := c.Hours(schedule.DateOf(d)); ok {
			if end.After(s.Slots[0].End) {
				end = s.Slots[0].End
			}
			sum += end.Sub(open)
		}
	}
	if sum != 20*time.Hour {
		t.Errorf("%v of work in the hours of the days, want 20h", sum)
	}
}
