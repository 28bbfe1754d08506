package takeoff_test

import (
	"slices"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
	"pgregory.net/rapid"
)

// placed requires that every piece names its room and one of its walls.
func placed(t *rapid.T, list *takeoff.List, rooms []takeoff.Room) {
	for _, p := range list.Pieces {
		if !slices.ContainsFunc(rooms, func(r takeoff.Room) bool {
			return r.Name == p.Room && slices.ContainsFunc(r.Walls, func(w takeoff.Wall) bool { return w.Name == p.Wall })
		}) {
			t.Fatalf("%s is in room %q on wall %q", p.Label, p.Room, p.Wall)
		}
	}
}

// A splice over studs that were not given is over assumed ones; if their spacing is given, or no stud
// is needed, it is not.
func TestAssumedStuds(t *testing.T) {
	given := takeoff.Studs{Spacing: 16 * measure.Inch}
	for _, c := range []struct {
		name       string
		room, wall takeoff.Studs
		width      measure.Length
		want       bool
	}{
		{"none given", takeoff.Studs{}, takeoff.Studs{}, 5 * measure.Inch, true},
		{"of the room", given, takeoff.Studs{}, 5 * measure.Inch, false},
		{"of the wall", takeoff.Studs{}, given, 5 * measure.Inch, false},
		{"low base", takeoff.Studs{}, takeoff.Studs{}, 2 * measure.Inch, false},
	} {
		p := board("base", measure.Inch/2, c.width)
		p.Lengths = []measure.Length{12 * measure.Foot}
		list, err := takeoff.Take([]takeoff.Room{{Name: "corridor", Studs: c.room, Walls: []takeoff.Wall{
			{Name: "N", Length: 20 * measure.Foot, Studs: c.wall, Corner: takeoff.Corner{Kind: takeoff.CornerStop}},
		}}}, takeoff.Scheme{Base: p}, nil)
		if err != nil {
			t.Fatal(err)
		}
		if len(list.Pieces) != 2 || list.Runs[0].Splice.Assumed != c.want || slices.ContainsFunc(list.Pieces, func(p stock.Piece) bool { return p.Assumed != c.want }) {
			t.Errorf("%s: %+v", c.name, list.Pieces)
		}
	}
}
