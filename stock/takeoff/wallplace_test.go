package takeoff_test

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

func ExampleRoom_Places() {
	room := takeoff.Room{Name: "corridor", Height: 9 * measure.Foot, Walls: []takeoff.Wall{
		{Name: "N", Length: 20 * measure.Foot, Openings: []takeoff.Opening{{At: 3 * measure.Foot, Width: 32 * measure.Inch}}},
		{Name: "E", Length: 5 * measure.Foot},
		{Name: "S", Length: 20 * measure.Foot},
		{Name: "W", Length: 5 * measure.Foot},
	}}
	places, err := room.Places()
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, p := range places {
		fmt.Println(room.Walls[i].Name, p.East, p.South, p.Heading, p.HeightLeft, len(p.Studs), p.StudsAssumed)
	}
	fmt.Println(places[0].Openings[0].Name, places[0].Openings[0].Height)
	// Output:
	// N 0" 0" 0° 9' 16 true
	// E 20' 0" 90° 9' 4 true
	// S 20' 5' 180° 9' 16 true
	// W 0" 5' 270° 9' 4 true
	// door 6' 8"
}

func ExampleScheme_Profiles() {
	s := takeoff.Scheme{
		Base:   &stock.Profile{Name: "oak base", Thickness: measure.Inch / 2, Width: 5 * measure.Inch},
		Casing: &stock.Profile{Name: "oak casing", Thickness: 3 * measure.Inch / 4, Width: 3 * measure.Inch},
	}
	for _, p := range s.Profiles() {
		fmt.Println(p.Role, p.Name, p.Drop())
	}
	// Output:
	// base oak base 5"
	// casing oak casing 3"
}

// The places of a closed room end where its traverse does.
func TestPlacesEndWithTraverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := walls(t, takeoff.Corner{}, takeoff.Corner{Kind: takeoff.CornerOutside}, takeoff.Corner{Angle: 135 * measure.Degree},
			takeoff.Corner{Angle: 93 * measure.Degree}, takeoff.Corner{Kind: takeoff.CornerOpen})
		ps, err := r.Places()
		if err != nil {
			t.Fatal(err)
		}
		again, err := r.Places()
		if err != nil || !slices.EqualFunc(ps, again, func(a, b takeoff.WallPlace) bool { return a.East == b.East && a.South == b.South }) {
			t.Fatal("two answers", err)
		}
		w, err := r.Traverse()
		if err != nil {
			t.Fatal(err)
		}
		if !w.Closed {
			for i := range ps {
				if apart := i > 0 && r.Walls[i-1].Corner.Kind == takeoff.CornerOpen; ps[i].Apart != apart || apart && (ps[i].East != 0 || ps[i].Heading != 0) {
					t.Fatalf("wall %d: %+v", i, ps[i])
				}
			}
			return
		}
		ref := slices.IndexFunc(r.Walls, func(x takeoff.Wall) bool { return x.Name == w.Reference })
		if ps[ref].Heading != 0 {
			t.Fatalf("reference %s heads %v", w.Reference, ps[ref].Heading)
		}
		last := ps[len(ps)-1]
		if last.Heading%(90*measure.Degree) == 0 {
			e, s := last.East, last.South
			switch last.Heading / (90 * measure.Degree) {
			case 0:
				e += last.Chord
			case 1:
				s += last.Chord
			case 2:
				e -= last.Chord
			default:
				s -= last.Chord
			}
			const hair = 10 // each oblique wall is rounded by itself
			if d := e - w.East; d > hair || d < -hair {
				t.Fatalf("ends %v east, traverse %v", e, w.East)
			}
			if d := s - w.South; d > hair || d < -hair {
				t.Fatalf("ends %v south, traverse %v", s, w.South)
			}
		}
	})
}

// Rooms that Take refuses have no places, and however long a wall is, its studs are few.
func TestPlacesHostile(t *testing.T) {
	if _, err := (takeoff.Room{}).Places(); err == nil {
		t.Error("places of a room without walls")
	}
	r := takeoff.Room{Name: "corridor", Walls: []takeoff.Wall{{Name: "N", Length: 5280 * measure.Foot, Studs: takeoff.Studs{Spacing: measure.Inch}}}}
	if ps, err := r.Places(); err != nil || len(ps[0].Studs) != 1000 {
		t.Error(len(ps), err)
	}
	if ps := (takeoff.Scheme{}).Profiles(); len(ps) != 0 {
		t.Error(ps)
	}
}
