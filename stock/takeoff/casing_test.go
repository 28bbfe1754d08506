package takeoff_test

import (
	"errors"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
	"github.com/google/go-cmp/cmp"
)

func casing(width measure.Length) *stock.Profile {
	return &stock.Profile{Name: "casing", Thickness: 3 * measure.Inch / 4, Width: width}
}

func doorWall(o ...takeoff.Opening) []takeoff.Room {
	return []takeoff.Room{{Name: "corridor", Walls: []takeoff.Wall{{
		Name: "S", Length: 12 * measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerStop}, Openings: o,
	}}}}
}

// Derived: head = opening + 2·(reveal + width), leg = height + reveal + width, for a
// door of 80 in and a reveal of 3/16 in (NAVEDTRA 14044, Builder). The totals agree
// with the trade's rule of thumb of 17 ft a side, and with the 34 1/2 ft for both
// sides of a 2'-8" door that the ICS Building Trades Pocketbook takes off.
func TestDoorCasing(t *testing.T) {
	for _, c := range []struct {
		width, door, head, leg string
		feet                   float64
	}{
		{"2-1/4in", "32in", "36.875in", "82.4375in", 16.81},
		{"2-1/4in", "36in", "40.875in", "82.4375in", 17.15},
		{"3-1/2in", "32in", "39.375in", "83.6875in", 17.23},
		{"3-1/2in", "36in", "43.375in", "83.6875in", 17.56},
		{"5in", "36in", "46.375in", "85.1875in", 18.06},
	} {
		rooms := doorWall(takeoff.Opening{At: 3 * measure.Foot, Width: measure.MustParse(c.door), Height: 80 * measure.Inch})
		list, err := takeoff.Take(rooms, takeoff.Scheme{Casing: casing(measure.MustParse(c.width))}, nil)
		if err != nil {
			t.Fatal(err)
		}
		leg, head := measure.MustParse(c.leg).String(), measure.MustParse(c.head).String()
		want := []cut{
			{"corridor S door casing leg left", leg, stock.EndSquare, stock.EndFlatMiter},
			{"corridor S door casing leg right", leg, stock.EndFlatMiter, stock.EndSquare},
			{"corridor S door casing head", head, stock.EndFlatMiter, stock.EndFlatMiter},
		}
		if d := cmp.Diff(want, cuts(list.Pieces)); d != "" {
			t.Errorf("%s at %s (-want +got):\n%s", c.width, c.door, d)
		}
		net := list.TotalsOf("casing").Net
		if d := net.Feet() - c.feet; d > .005 || d < -.005 {
			t.Errorf("%s at %s: %.3f ft, want %.2f", c.width, c.door, net.Feet(), c.feet)
		}
	}
}

// Two legs with casing of 3 1/2 in come out of a 14-ft stick with 3/8 in to spare
// after two cuts of 1/8 in, and not if the stick is 1/2 in short (derived).
func TestTwoLegsFromFourteenFeet(t *testing.T) {
	list, err := takeoff.Take(doorWall(takeoff.Opening{Width: 36 * measure.Inch, At: measure.Foot}), takeoff.Scheme{Casing: casing(7 * measure.Inch / 2)}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if left := 14*measure.Foot - 2*list.Pieces[0].Length - 2*measure.Inch/8; left != 3*measure.Inch/8 {
		t.Errorf("left over %v, want 3/8 in", left)
	}
}

// A picture frame takes 2·(short width + 2w) + 2·(short height + 2w) (derived).
func TestWindowCasing(t *testing.T) {
	window := takeoff.Opening{Kind: takeoff.OpeningWindow, At: 4 * measure.Foot, Width: 30 * measure.Inch, Height: 60 * measure.Inch, Sill: 28 * measure.Inch}
	list, err := takeoff.Take(doorWall(window), takeoff.Scheme{Casing: casing(3 * measure.Inch)}, nil)
	if err != nil {
		t.Fatal(err)
	}
	net := list.TotalsOf("casing").Net
	if want := 2*(30*measure.Inch+3*measure.Inch/8+6*measure.Inch) + 2*(60*measure.Inch+3*measure.Inch/8+6*measure.Inch); net != want {
		t.Errorf("net %v, want %v", net, want)
	}
	for _, p := range list.Pieces {
		if p.Left.Kind != stock.EndFlatMiter || p.Right.Kind != stock.EndFlatMiter || p.Left.Setback != 3*measure.Inch {
			t.Errorf("%s: %+v, %+v", p.Label, p.Left, p.Right)
		}
	}
	if list.Joints.FlatMiters != 4 {
		t.Errorf("joints %+v", list.Joints)
	}

	window.Height = 0
	_, err = takeoff.Take(doorWall(window), takeoff.Scheme{Casing: casing(3 * measure.Inch)}, nil)
	var fe *measure.FieldError
	if !errors.As(err, &fe) || fe.Field != "rooms[0].walls[0].openings[0].height" {
		t.Errorf("window without a height: %v", err)
	}
}

// An opening cased already, or never, gets no casing; the base still stops at it.
func TestCasingThatStays(t *testing.T) {
	rooms := doorWall(
		takeoff.Opening{At: 2 * measure.Foot, Width: 3 * measure.Foot, ExistingWidth: 4 * measure.Inch},
		takeoff.Opening{At: 8 * measure.Foot, Width: 2 * measure.Foot, Kind: takeoff.OpeningPlain},
	)
	list, err := takeoff.Take(rooms, takeoff.Scheme{Base: base(), Casing: casing(3 * measure.Inch)}, nil)
	if err != nil {
		t.Fatal(err)
	}
	want := []cut{
		{"corridor S base A", `1' 7-13/16"`, stock.EndSquare, stock.EndSquare},
		{"corridor S base B", `2' 7-13/16"`, stock.EndSquare, stock.EndReturn},
		{"corridor S base C", `2'`, stock.EndReturn, stock.EndSquare},
		{"corridor S base return 1 of 2", `9/16"`, stock.EndReturn, stock.EndSquare},
		{"corridor S base return 2 of 2", `9/16"`, stock.EndSquare, stock.EndReturn},
	}
	if d := cmp.Diff(want, cuts(list.Pieces)); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
}

func TestFloorGap(t *testing.T) {
	rooms := doorWall(takeoff.Opening{At: 2 * measure.Foot, Width: 3 * measure.Foot})
	list, err := takeoff.Take(rooms, takeoff.Scheme{Casing: casing(3 * measure.Inch)}, &takeoff.Options{FloorGap: measure.Inch / 4})
	if err != nil {
		t.Fatal(err)
	}
	if got, want := list.Pieces[0].Length, measure.MustParse("82-15/16in"); got != want {
		t.Errorf("leg %v, want %v", got, want)
	}
	_, err = takeoff.Take(rooms, takeoff.Scheme{Casing: casing(3 * measure.Inch)}, &takeoff.Options{FloorGap: 80 * measure.Inch})
	var fe *measure.FieldError
	if !errors.As(err, &fe) || fe.Field != "floor_gap" {
		t.Errorf("gap as high as the door: %v", err)
	}
}

// Casing is not spliced: a head longer than the stick is an error that says so.
func TestCasingTooShort(t *testing.T) {
	p := casing(3 * measure.Inch)
	p.Lengths = []measure.Length{7 * measure.Foot}
	_, err := takeoff.Take(doorWall(takeoff.Opening{Kind: takeoff.OpeningCased, At: 2 * measure.Foot, Width: 8 * measure.Foot}), takeoff.Scheme{Casing: p}, nil)
	want := `rooms[0].walls[0].openings[0] is "corridor S cased opening casing head, 8' 6-3/8\"", want a run that can be cut as it was measured: corridor S cased opening casing head is 8' 6-3/8", the longest usable stick 7', and it is not spliced; get longer sticks`
	if err == nil || err.Error() != want {
		t.Errorf("%v, want\n%s", err, want)
	}
}
