package estimate_test

import (
	"testing"

	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/stair"
	"example.com/longpoint/stock/takeoff"
)

// Skirt and base of a stair are mitered in the plane of the wall: the joint is glued, and takes
// nothing from the painted length, unlike that of a casing. Derived: 13 runs at 10 in along a
// slope of 3, 4 and 5 are 162-1/2 in; the upper edge is longer by the offset of the plumb cut at
// the head, 9-1/4·3/4, and shorter by that of the miter at the foot, 9-1/4/3.
func TestRakeMitersAreGlued(t *testing.T) {
	const in = measure.Inch
	skirt := &stock.Profile{Name: "skirt", Thickness: 3 * in / 4, Width: 37 * in / 4}
	base := &stock.Profile{Name: "base", Thickness: 3 * in / 4, Width: 37 * in / 4}
	room := takeoff.Room{Name: "classroom", Walls: []takeoff.Wall{{
		Name: "W", Length: 20 * measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerStop},
		Stair: &takeoff.Stair{Flight: stair.Flight{Risers: 14, Rise: 15 * in / 2, Run: 10 * in}, At: 4 * measure.Foot},
	}}}
	list, err := takeoff.Take([]takeoff.Room{room}, takeoff.Scheme{Base: base, Skirt: skirt}, nil)
	if err != nil {
		t.Fatal(err)
	}
	job := estimate.FinishJob(list.TotalsOf("skirt"), *skirt)
	long := 325*in/2 + 111*in/16 - 37*in/12
	if off := job.Length - long; job.Glued != 1 || job.Corners != 1 || job.Runs != 1 || off > 2 || off < -2 {
		t.Errorf("%+v, want %v glued at one joint", job, long)
	}
	if job := estimate.FinishJob(list.TotalsOf("base"), *base); job.Glued != 0 || job.Runs != 2 {
		t.Errorf("%+v", job)
	}
}
