package takeoff_test

import (
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock/takeoff"
)

// The workshop measured by a metric tape with a worn end, so it is held at the 100 mm mark:
// once, the 100 mm were not subtracted.
func ExampleCheck_metric() {
	const mm = measure.Millimeter
	room := takeoff.Room{Name: "workshop", Walls: []takeoff.Wall{
		{Name: "N", Length: 6253 * mm}, {Name: "E", Length: 4121 * mm}, {Name: "S", Length: 6153 * mm}, {Name: "W", Length: 4121 * mm},
	}}
	findings, err := takeoff.Check([]takeoff.Room{room}, takeoff.Scheme{}, &takeoff.Options{Locale: measure.Locale{Metric: true}})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range findings {
		switch f.Code {
		case takeoff.FindingMissedDecimeter, takeoff.FindingMissedMeter:
			fmt.Println(f.Suspects, f.Reason)
		}
	}
	// Output: [N S] a tape held at the 100 mm mark and that not subtracted, or subtracted twice: N would be 6153 mm instead of 6253 mm, or S would be 6253 mm instead of 6153 mm
}
