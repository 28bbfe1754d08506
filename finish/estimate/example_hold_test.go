package estimate_test

import (
	"bytes"
	"context"
	"fmt"
	"strings"

	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize/cutsheet"
)

// A wall of the book room was read a foot too long. The sheet of each profile holds back the
// pieces for the room.
func ExampleEstimate_Hold() {
	j := bookRoom()
	j.Rooms[0].Walls[2].Length += measure.Foot
	e, err := estimate.New(context.Background(), j, &estimate.Options{ScheduleWork: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	plan := e.Plans[0]
	sheet, err := cutsheet.New(context.Background(), plan.Problem, plan.Plan, &cutsheet.Options{Title: plan.Profile, Job: j.Name, Hold: e.Hold(), Locale: j.Locale})
	if err != nil {
		fmt.Println(err)
		return
	}
	var text bytes.Buffer
	if err := sheet.WriteText(&text); err != nil {
		fmt.Println(err)
		return
	}
	_, held, _ := strings.Cut(text.String(), "On hold ")
	_, held, _ = strings.Cut(held, "\n")
	held, _, _ = strings.Cut(held, "\n\n")
	fmt.Println(held)
	// Output:
	// Do not cut these sticks yet. Each has a piece for a room on hold; if its length
	// changes, these sticks are planned again.
	//   book room, 5 pieces: the walls fail to close by 1', more than careful readings
	//   may add up to, about 7/32"; measure again S and N, which explain it equally
	//   well; if they read the same, the room is out of square, which its diagonals
	//   show; opposite walls S (12' 6-1/4") and N (11' 6-1/4") differ by 1'; a foot
	//   mark misread: S would be 11' 6-1/4" instead of 12' 6-1/4", or N would be
	//   12' 6-1/4" instead of 11' 6-1/4"
}
