package takeoff_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock/takeoff"
)

// Walls close exactly or within some length, which is never zero.
func TestClosesWithinSomething(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		off := measure.Length(rapid.Int64Range(-int64(measure.Inch/8), int64(measure.Inch/8)).Draw(t, "off"))
		if rapid.Bool().Draw(t, "exact") {
			off = 0
		}
		r := takeoff.Room{Name: "entry", Walls: []takeoff.Wall{
			{Name: "N", Length: 9 * measure.Foot}, {Name: "E", Length: 7 * measure.Foot},
			{Name: "S", Length: 9*measure.Foot + off}, {Name: "W", Length: 7 * measure.Foot}}}
		fs, err := takeoff.Check([]takeoff.Room{r}, takeoff.Scheme{}, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range fs {
			if f.Code == takeoff.FindingClosure && strings.Contains(f.Reason, `within 0"`) {
				t.Fatalf("off by %d ticks: %s", off, f.Reason)
			}
			if f.Code == takeoff.FindingClosure && (off == 0) != strings.Contains(f.Reason, "close exactly,") {
				t.Fatalf("off by %d ticks: %s", off, f.Reason)
			}
		}
	})
}
