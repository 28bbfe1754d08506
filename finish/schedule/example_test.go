package schedule_test

import (
	"encoding/json"
	"fmt"
	"time"

	"example.com/longpoint/finish/schedule"
)

// A crew of volunteers comes on Saturdays, and not on the county fair.
func ExampleWeekdays() {
	fair := schedule.DateOf(time.Date(2026, 7, 11, 12, 0, 0, 0, time.UTC))
	days := schedule.WeekdaysOf(time.Saturday)
	s, err := schedule.Build([]schedule.Activity{
		{Job: "cloakroom base", Step: "install", Labor: 12 * hour, Hangs: true},
	}, schedule.Calendar{Start: time.Date(2026, 7, 1, 8, 0, 0, 0, time.UTC), Days: days, Off: []schedule.Date{fair}})
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
