package takeoff_test

import (
	"fmt"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// The totals of rooms add up to those of profiles and to the joints of the list, are in the order of
// the rooms and of first runs, and equal a takeoff of that room alone.
func TestRoomTotalsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const in = measure.Inch
		s, o := fullScheme(), &takeoff.Options{ReturnApron: true}
		if rapid.Bool().Draw(t, "windows") {
			s.Stool, s.Plinth, s.Backband, s.Apron = board("stool", in, 5*in), board("plinth", in, 4*in), board("band", in, in), board("apron", in, 3*in)
		}
		if rapid.Bool().Draw(t, "stack") {
			s.Base, s.Shoe, s.Assemblies = nil, nil, []takeoff.Assembly{threePieceBase()}
		}
		var rooms []takeoff.Room
		for i := range rapid.IntRange(0, 4).Draw(t, "rooms") {
			r := walls(t, everyCorner...)
			r.Name = fmt.Sprint("room ", i)
			rooms = append(rooms, r)
		}
		list, err := takeoff.Take(rooms, s, o)
		if err != nil {
			t.Skip(err)
		}
		var alone []takeoff.ProfileTotals
		for _, r := range rooms {
			one, err := takeoff.Take([]takeoff.Room{r}, s, o)
			if err != nil {
				t.Fatal(err)
			}
			for _, total := range one.Totals {
				total.Room = r.Name
				alone = append(alone, total)
			}
		}
		if !reflect.DeepEqual(alone, list.RoomTotals) {
			t.Fatalf("of each room separately %+v, of all together %+v", alone, list.RoomTotals)
		}
		var all takeoff.Joints
		for _, want := range list.Totals {
			if want.Room != "" {
				t.Fatalf("the totals of all rooms name the room %q", want.Room)
			}
			got, first := takeoff.ProfileTotals{}, true
			for _, r := range list.RoomTotals {
				if r.Profile != want.Profile {
					continue
				}
				if first {
					got.Profile, got.Role, got.Course, first = r.Profile, r.Role, r.Course, false
				}
				got.Net += r.Net
				got.Runs += r.Runs
				got.Pieces += r.Pieces
				got.Joints = sumOf(got.Joints, r.Joints)
				got.Corners += r.Corners
				got.Splices += r.Splices
				got.CourseJoints += r.CourseJoints
				got.Scribed += r.Scribed
				got.Edges = max(got.Edges, r.Edges)
			}
			if got != want {
				t.Fatalf("rooms come to %+v, the totals say %+v", got, want)
			}
			all = sumOf(all, got.Joints)
		}
		if all != list.Joints {
			t.Fatalf("joints of rooms %+v, of all %+v", all, list.Joints)
		}
	})
}

// sumOf adds all fields, whatever they are called.
func sumOf(a, b takeoff.Joints) takeoff.Joints {
	x, y := reflect.ValueOf(&a).Elem(), reflect.ValueOf(b)
	for i := range x.NumField() {
		x.Field(i).SetInt(x.Field(i).Int() + y.Field(i).Int())
	}
	return a
}

func ExampleList_roomTotals() {
	room := func(name string, long measure.Length) takeoff.Room {
		return takeoff.Room{Name: name, Walls: []takeoff.Wall{
			{Name: "N", Length: long}, {Name: "E", Length: 6 * measure.Foot}, {Name: "S", Length: long}, {Name: "W", Length: 6 * measure.Foot},
		}}
	}
	base := &stock.Profile{Name: "base", Thickness: measure.Inch / 2, Width: 4 * measure.Inch, Lengths: []measure.Length{16 * measure.Foot}}
	list, err := takeoff.Take([]takeoff.Room{room("cloakroom", 8*measure.Foot), room("corridor", 20*measure.Foot)}, takeoff.Scheme{Base: base}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, t := range append(list.RoomTotals, list.Totals...) {
		fmt.Println(t.Profile, t.Room, t.Net.About(), "in", t.Pieces, "pieces,", t.Joints.Copes, "copes,", t.Joints.Scarfs, "scarfs")
	}
	// Output:
	// base cloakroom 28' in 4 pieces, 4 copes, 0 scarfs
	// base corridor 52' in 6 pieces, 4 copes, 2 scarfs
	// base  80' in 10 pieces, 8 copes, 2 scarfs
}
