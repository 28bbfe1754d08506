package takeoff_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// square returns a good room of ten feet by ten, for tests to spoil.
func square() takeoff.Room {
	r := takeoff.Room{Name: "classroom"}
	for _, n := range []string{"N", "E", "S", "W"} {
		r.Walls = append(r.Walls, takeoff.Wall{Name: n, Length: 10 * measure.Foot})
	}
	return r
}

// spoil makes one field of a room impossible, the first of the rooms.
type spoil struct {
	field, value string
	spoil        func(*takeoff.Room)
}

func spoils() []spoil {
	const in, ft = measure.Inch, measure.Foot
	opening := func(at, width measure.Length) takeoff.Opening { return takeoff.Opening{At: at, Width: width} }
	return []spoil{
		{"rooms[0].name", "", func(r *takeoff.Room) { r.Name = "" }},
		{"rooms[0].walls", "[]", func(r *takeoff.Room) { r.Walls = nil }},
		{"rooms[0].entry", "X", func(r *takeoff.Room) { r.Entry = "X" }},
		{"rooms[0].height", `-1'`, func(r *takeoff.Room) { r.Height = -ft }},
		{"rooms[0].studs.spacing", `1/2"`, func(r *takeoff.Room) { r.Studs.Spacing = in / 2 }},
		{"rooms[0].studs.first", `-1"`, func(r *takeoff.Room) { r.Studs.First = -in }},
		{"rooms[0].off_square", `-1"`, func(r *takeoff.Room) { r.OffSquare = -in }},
		{"rooms[0].diagonals[0].from", "X", func(r *takeoff.Room) { r.Diagonals = []takeoff.Diagonal{{From: "X", To: "N", Length: ft}} }},
		{"rooms[0].diagonals[0].to", "", func(r *takeoff.Room) { r.Diagonals = []takeoff.Diagonal{{From: "N", Length: ft}} }},
		{"rooms[0].diagonals[0].to", "E", func(r *takeoff.Room) { r.Diagonals = []takeoff.Diagonal{{From: "N", To: "E", Length: ft}} }},
		{"rooms[0].diagonals[0].to", "N", func(r *takeoff.Room) { r.Diagonals = []takeoff.Diagonal{{From: "W", To: "N", Length: ft}} }},
		{"rooms[0].diagonals[0].length", `0"`, func(r *takeoff.Room) { r.Diagonals = []takeoff.Diagonal{{From: "N", To: "S"}} }},
		{"rooms[0].diagonals[1]", "S to N", func(r *takeoff.Room) {
			r.Diagonals = []takeoff.Diagonal{{From: "N", To: "S", Length: ft}, {From: "S", To: "N", Length: ft}}
		}},
		{"rooms[0].diagonals", "33", func(r *takeoff.Room) { r.Diagonals = make([]takeoff.Diagonal, 33) }},
		{"rooms[0].diagonals", "1", func(r *takeoff.Room) {
			r.Walls[3].Corner.Kind = takeoff.CornerOpen
			r.Diagonals = []takeoff.Diagonal{{From: "N", To: "S", Length: ft}}
		}},
		{"rooms[0].walls[1].name", "", func(r *takeoff.Room) { r.Walls[1].Name = "" }},
		{"rooms[0].walls[2].name", "N", func(r *takeoff.Room) { r.Walls[2].Name = "N" }},
		{"rooms[0].walls[0].length", `0"`, func(r *takeoff.Room) { r.Walls[0].Length = 0 }},
		{"rooms[0].walls[0].length", `-2'`, func(r *takeoff.Room) { r.Walls[0].Length = -2 * ft }},
		{"rooms[0].walls[3].top_length", `-2'`, func(r *takeoff.Room) { r.Walls[3].TopLength = -2 * ft }},
		{"rooms[0].walls[0].corner", "inside 181°", func(r *takeoff.Room) { r.Walls[0].Corner.Angle = 181 * measure.Degree }},
		{"rooms[0].walls[0].corner", "outside -90°", func(r *takeoff.Room) {
			r.Walls[0].Corner = takeoff.Corner{Kind: takeoff.CornerOutside, Angle: -90 * measure.Degree}
		}},
		{"rooms[0].walls[0].corner", "CornerKind(99)", func(r *takeoff.Room) { r.Walls[0].Corner.Kind = 99 }},
		{"rooms[0].walls[1].start", "open", func(r *takeoff.Room) { r.Walls[1].Start.Kind = takeoff.CornerOpen }},
		{"rooms[0].walls[1].studs.at[1]", `1'`, func(r *takeoff.Room) { r.Walls[1].Studs.At = []measure.Length{ft, ft} }},
		{"rooms[0].walls[0].openings[0].width", `0"`, func(r *takeoff.Room) { r.Walls[0].Openings = []takeoff.Opening{opening(ft, 0)} }},
		{"rooms[0].walls[0].openings[0].at", `-1"`, func(r *takeoff.Room) { r.Walls[0].Openings = []takeoff.Opening{opening(-in, ft)} }},
		{"rooms[0].walls[0].openings[0]", `9' + 2'`, func(r *takeoff.Room) { r.Walls[0].Openings = []takeoff.Opening{opening(9*ft, 2*ft)} }},
		{"rooms[0].walls[0].openings[0].at", `3'`, func(r *takeoff.Room) {
			r.Walls[0].Openings = []takeoff.Opening{opening(3*ft, 2*ft), opening(2*ft, 2*ft)}
		}},
		{"rooms[0].walls[0].openings[1].name", "door", func(r *takeoff.Room) {
			r.Walls[0].Openings = []takeoff.Opening{{Name: "door", At: ft, Width: ft}, {Name: "door", At: 4 * ft, Width: ft}}
		}},
		{"rooms[0].walls[0].openings[0].kind", "OpeningKind(9)", func(r *takeoff.Room) {
			r.Walls[0].Openings = []takeoff.Opening{{Kind: 9, At: ft, Width: ft}}
		}},
		{"rooms[0].walls[0].openings[0].reveal", `-1"`, func(r *takeoff.Room) {
			r.Walls[0].Openings = []takeoff.Opening{{Reveal: -in, At: ft, Width: ft}}
		}},
		{"rooms[0].walls[0].openings[0].reveal", `1"`, func(r *takeoff.Room) {
			r.Walls[0].Openings = []takeoff.Opening{{Reveal: in, Flush: true, At: ft, Width: ft}}
		}},
		{"rooms[0].walls[0].fixtures[0].name", "", func(r *takeoff.Room) {
			r.Walls[0].Fixtures = []takeoff.Fixture{{At: ft, Width: ft}}
		}},
		{"rooms[0].walls[0].fixtures[0]", `9' + 2'`, func(r *takeoff.Room) {
			r.Walls[0].Fixtures = []takeoff.Fixture{{Name: "hearth", At: 9 * ft, Width: 2 * ft}}
		}},
		{"rooms[0].walls[0].fixtures[0].ends", "EndKind(77)", func(r *takeoff.Room) {
			r.Walls[0].Fixtures = []takeoff.Fixture{{Name: "hearth", At: ft, Width: 2 * ft, Ends: 77}}
		}},
	}
}

func TestFieldErrors(t *testing.T) {
	for _, c := range spoils() {
		r := square()
		c.spoil(&r)
		rooms := []takeoff.Room{r}
		for what, err := range map[string]error{
			"Take":  second(takeoff.Take(rooms, takeoff.Scheme{Base: base()}, nil)),
			"Check": second(takeoff.Check(rooms, takeoff.Scheme{}, nil)),
		} {
			var fe *measure.FieldError
			if !errors.As(err, &fe) {
				t.Errorf("%s %s: %v, want a FieldError", what, c.field, err)
			} else if fe.Field != c.field || fe.Value != c.value {
				t.Errorf("%s: %q is %q, want %q is %q", what, fe.Field, fe.Value, c.field, c.value)
			}
		}
	}
}

func second[T any](_ T, err error) error { return err }

func TestTooFarForLength(t *testing.T) {
	r := square()
	r.Walls[0].Length = 1<<63 - 1
	r.Walls[1].Openings = []takeoff.Opening{{At: 1<<63 - 1, Width: 1<<63 - 1}}
	_, err := takeoff.Take([]takeoff.Room{r}, takeoff.Scheme{Base: base()}, nil)
	var fe *measure.FieldError
	if !errors.As(err, &fe) || fe.Field != "rooms[0].walls[0].length" {
		t.Errorf("%v", err)
	}
}

func TestTwoRoomsOfOneName(t *testing.T) {
	_, err := takeoff.Take([]takeoff.Room{square(), square()}, takeoff.Scheme{Base: base()}, nil)
	var fe *measure.FieldError
	if !errors.As(err, &fe) || fe.Field != "rooms[1].name" || fe.Value != "classroom" {
		t.Errorf("%v", err)
	}
}

func TestSchemeAndOptions(t *testing.T) {
	thin := base()
	thin.Thickness = 0
	for _, c := range []struct {
		field string
		s     takeoff.Scheme
		o     takeoff.Options
	}{
		{"base.thickness", takeoff.Scheme{Base: thin}, takeoff.Options{}},
		{"chair_rail_at", takeoff.Scheme{ChairRailAt: -1}, takeoff.Options{}},
		{"bevel", takeoff.Scheme{}, takeoff.Options{Bevel: 90 * measure.Degree}},
		{"min_part", takeoff.Scheme{}, takeoff.Options{MinPart: -1}},
	} {
		_, err := takeoff.Take([]takeoff.Room{square()}, c.s, &c.o)
		var fe *measure.FieldError
		if !errors.As(err, &fe) || fe.Field != c.field {
			t.Errorf("%v, want field %s", err, c.field)
		}
	}
}

// A wall of 40 ft with sticks of 8 ft and studs every 8 ft has nowhere for a scarf.
func TestSpliceError(t *testing.T) {
	r := square()
	r.Walls[0].Length = 40 * measure.Foot
	r.Studs = takeoff.Studs{First: 4 * measure.Foot, Spacing: 8 * measure.Foot}
	p := base()
	p.Lengths = []measure.Length{8 * measure.Foot}
	list, err := takeoff.Take([]takeoff.Room{r}, takeoff.Scheme{Base: p}, nil)
	var se *takeoff.SpliceError
	if !errors.As(err, &se) || list != nil {
		t.Fatalf("%v", err)
	}
	if se.Run != "classroom N base" || se.Length != 40*measure.Foot || se.Longest != 8*measure.Foot || se.Studs != 5 {
		t.Errorf("%+v", se)
	}
}

// Every fault of every room is reported by one call, in the order of the rooms, then those
// of the scheme and of the options, and at most 100.
func TestAllFaultsAtOnce(t *testing.T) {
	all := spoils()
	rapid.Check(t, func(t *rapid.T) {
		var rooms []takeoff.Room
		var want []string
		for i := range rapid.IntRange(1, 150).Draw(t, "rooms") {
			r := square()
			r.Name = fmt.Sprint("room ", i)
			if c := rapid.SampledFrom(all).Draw(t, "spoil"); rapid.Bool().Draw(t, "spoiled") {
				c.spoil(&r)
				want = append(want, strings.Replace(c.field, "rooms[0]", fmt.Sprintf("rooms[%d]", i), 1))
			}
			rooms = append(rooms, r)
		}
		thin := base()
		thin.Width = 0
		wrong := takeoff.Conditions{
			MaxTransport: -1, MinTemp: 1 << 40, MaxTemp: -1 << 40, MinMoisture: -1, MaxMoisture: 501 * measure.Percent,
			Catalog: &stock.Catalog{Materials: make([]stock.Material, 1)}, Locale: measure.Locale{Currency: measure.Currency{Minor: 3}},
		}
		_, err := takeoff.Take(rooms, takeoff.Scheme{Base: thin, ChairRailAt: -1}, &takeoff.Options{Clear: -1, MovementJoint: -1, Catalog: &stock.Catalog{Materials: make([]stock.Material, 1)}})
		for what, x := range map[string]struct {
			err  error
			more []string
		}{
			"Take":      {err, []string{"base.width", "chair_rail_at", "clear", "catalog.materials[0].name", "movement_joint"}},
			"Check":     {second(takeoff.Check(rooms, takeoff.Scheme{Base: thin}, nil)), []string{"base.width"}},
			"CheckTrim": {second(takeoff.CheckTrim(rooms, takeoff.Scheme{Base: thin}, wrong)), []string{"base.width", "max_transport", "min_temp", "max_temp", "min_moisture", "max_moisture", "catalog.materials[0].name", "locale.currency.minor"}},
		} {
			var got []string
			for fe := range measure.FieldErrors(x.err) {
				got = append(got, fe.Field)
			}
			all := append(slices.Clone(want), x.more...)
			if d := cmp.Diff(all[:min(len(all), 100)], got); d != "" {
				t.Fatalf("%s (-want +got):\n%s", what, d)
			}
		}
	})
}

// Around a corner as sharp as this no miter ends: the fault names the wall and says why.
func TestUncutRun(t *testing.T) {
	r := square()
	r.Walls[0].Corner = takeoff.Corner{Kind: takeoff.CornerOutside, Angle: 1}
	p := base()
	p.Lengths, p.Thickness = nil, 100*measure.Foot
	r.Walls[1].Corner.Kind, r.Walls[3].Corner.Kind = takeoff.CornerStop, takeoff.CornerStop
	_, err := takeoff.Take([]takeoff.Room{r}, takeoff.Scheme{Base: p}, nil)
	var got []string
	for fe := range measure.FieldErrors(err) {
		got = append(got, fe.Field+" "+fe.Value)
		var why *measure.FieldError
		if !errors.As(fe.Err, &why) || why.Field != "end.angle" {
			t.Errorf("%v: %v", fe, fe.Err)
		}
	}
	want := []string{"rooms[0].walls[0] classroom N base, 10'", "rooms[0].walls[1] classroom E base, 10'"}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// Faults of runs come in the order of the walls, whatever is run there.
func TestFaultsOfRunsInOrder(t *testing.T) {
	r := square()
	r.Height = 9 * measure.Foot
	r.Studs = takeoff.Studs{First: 4 * measure.Foot, Spacing: 8 * measure.Foot}
	r.Walls[0].Length, r.Walls[2].Length = 40*measure.Foot, 40*measure.Foot
	r.Walls[1].Openings = []takeoff.Opening{{Kind: takeoff.OpeningCased, At: measure.Inch, Width: 8 * measure.Foot}}
	p := base()
	p.Lengths = []measure.Length{8 * measure.Foot}
	crown, c := *p, casing(3*measure.Inch)
	crown.Name, c.Lengths = "crown", p.Lengths[:1]
	s := takeoff.Scheme{Base: p, Crown: &crown, Casing: c}
	list, err := takeoff.Take([]takeoff.Room{r}, s, nil)
	var got []string
	for e := range measure.FieldErrors(err) {
		var se *takeoff.SpliceError
		if !errors.As(e, &se) {
			t.Fatalf("%v", e)
		}
		got = append(got, e.Field+" "+se.Run)
	}
	want := []string{
		"rooms[0].walls[0] classroom N base", "rooms[0].walls[0] classroom N crown",
		"rooms[0].walls[1].openings[0] classroom E cased opening casing head",
		"rooms[0].walls[2] classroom S base", "rooms[0].walls[2] classroom S crown",
	}
	if list != nil || !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestBadText(t *testing.T) {
	for _, text := range []string{
		`{"corner": "sideways"}`, `{"corner": ""}`, `{"corner": "outside 0"}`, `{"corner": "inside x"}`,
		`{"corner": 90}`, `{"length": "ten"}`, `{"length": 10}`, `{"openings": [{"kind": "hatch"}]}`,
		`{"fixtures": [{"ends": "glued"}]}`, `{"studs": {"spacing": "NaN in"}}`,
	} {
		var w takeoff.Wall
		if err := json.Unmarshal([]byte(text), &w); err == nil {
			t.Errorf("%s was read as %+v", text, w)
		}
	}
	var c takeoff.Corner
	err := c.UnmarshalText([]byte("sideways"))
	var fe *measure.FieldError
	if !errors.As(err, &fe) || fe.Value != "sideways" || !strings.Contains(err.Error(), "outside 135") {
		t.Errorf("%v", err)
	}
}
