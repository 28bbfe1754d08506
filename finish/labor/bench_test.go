package labor_test

import (
	"fmt"
	"testing"

	"example.com/longpoint/finish/labor"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// Four rooms of a schoolhouse with base, shoe, chair rail, casing, stool, apron and crown, each finished in ten steps or more.
func BenchmarkLines(b *testing.B) {
	s := takeoff.Scheme{
		Base: board("base", stock.RoleBase, 9*in/16, 5*in), Shoe: board("shoe", stock.RoleShoe, in/2, 3*in/4), Casing: board("casing", stock.RoleCasing, 3*in/4, 7*in/2),
		Crown: board("crown", stock.RoleCrown, 9*in/16, 17*in/4), ChairRail: board("rail", stock.RoleChairRail, 3*in/4, 5*in/2),
		Stool: board("stool", stock.RoleStool, in, 4*in), Apron: board("apron", stock.RoleApron, 11*in/16, 9*in/4),
	}
	var rooms []takeoff.Room
	for i := range 4 {
		r := classroom(12*ft, takeoff.Opening{Kind: takeoff.OpeningWindow, At: 4 * ft, Width: 36 * in, Height: 5 * ft, Sill: 30 * in})
		r.Name = fmt.Sprint("room ", i)
		rooms = append(rooms, r)
	}
	list := take(b, s, rooms...)
	o := &labor.Options{Profiles: profilesOf(s), Conditions: []labor.Condition{{Factor: "old plaster"}}}
	steps := stepsOf(b, list.RoomTotals, o.Profiles)
	b.ReportAllocs()
	var total measure.Duration
	lines := 0
	for b.Loop() {
		all, err := labor.Lines(list, rooms, steps, labor.Rates{}, o)
		if err != nil {
			b.Fatal(err)
		}
		lines = len(all)
		if total, err = labor.Total(all); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(lines), "lines")
	b.ReportMetric(total.Hours(), "hours")
}
