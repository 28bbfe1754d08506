package takeoff_test

import (
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
	"github.com/google/go-cmp/cmp"
)

// cut is the part of a piece that a saw operator sees.
type cut struct {
	Label, Length string
	Left, Right   stock.EndKind
}

func cuts(ps []stock.Piece) (cs []cut) {
	for _, p := range ps {
		cs = append(cs, cut{p.Label, p.Length.String(), p.Left.Kind, p.Right.Kind})
	}
	return cs
}

func base() *stock.Profile {
	return &stock.Profile{
		Name: "base", Thickness: 9 * measure.Inch / 16, Width: 5 * measure.Inch,
		Lengths: []measure.Length{12 * measure.Foot, 16 * measure.Foot},
	}
}

// A rectangular room, taken off by hand: first piece opposite the door square at
// both ends, then both ways round one cope each, the base stopping at
// opening + 2·(3/16 + 3 1/2) of casing.
// A caller that overlooks an error has a nil list in hand: it is an empty one.
func TestNilList(t *testing.T) {
	var l *takeoff.List
	if ps := l.PiecesOf("base"); ps != nil {
		t.Error(ps)
	}
	if total := l.TotalsOf("base"); total != (takeoff.ProfileTotals{}) {
		t.Error(total)
	}
	shelf := []stock.Stick{{Length: 8 * measure.Foot}}
	if b, err := l.PickFrom("base", shelf, 0); err != nil || len(b.Pieces) != 0 {
		t.Error(b, err)
	}
	if c, err := l.Compare("base", takeoff.RoughRule{}, nil, shelf, 0); err != nil || c.Exact != 0 {
		t.Error(c, err)
	}
}

func TestRectangle(t *testing.T) {
	room := takeoff.Room{Name: "cloakroom", Walls: []takeoff.Wall{
		{Name: "N", Length: 10 * measure.Foot},
		{Name: "E", Length: 8 * measure.Foot},
		{Name: "S", Length: 10 * measure.Foot, Openings: []takeoff.Opening{
			{At: 4 * measure.Foot, Width: 30 * measure.Inch},
		}},
		{Name: "W", Length: 8 * measure.Foot},
	}}
	casing := &stock.Profile{Name: "casing", Thickness: 3 * measure.Inch / 4, Width: 7 * measure.Inch / 2}
	list, err := takeoff.Take([]takeoff.Room{room}, takeoff.Scheme{Base: base(), Casing: casing}, nil)
	if err != nil {
		t.Fatal(err)
	}
	want := []cut{
		{"cloakroom N base", `10'`, stock.EndSquare, stock.EndSquare},
		{"cloakroom E base", `8'`, stock.EndCope, stock.EndSquare},
		{"cloakroom S base A", `3' 8-5/16"`, stock.EndCope, stock.EndSquare},
		{"cloakroom S base B", `3' 2-5/16"`, stock.EndSquare, stock.EndCope},
		{"cloakroom W base", `8'`, stock.EndSquare, stock.EndCope},
	}
	if d := cmp.Diff(want, cuts(list.PiecesOf("base"))); d != "" {
		t.Errorf("pieces (-want +got):\n%s", d)
	}
	if want := (takeoff.Joints{Copes: 4, Stops: 2, FlatMiters: 2}); list.Joints != want {
		t.Errorf("joints %+v, want %+v", list.Joints, want)
	}
	// Perimeter 36 ft less the outer width of the casing, 37 3/8 in.
	if net := list.TotalsOf("base").Net; net != 36*measure.Foot-(30*measure.Inch+59*measure.Inch/8) {
		t.Errorf("net %v, %v", net, err)
	}
}
