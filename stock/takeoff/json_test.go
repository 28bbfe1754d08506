package takeoff_test

import (
	"encoding/json"
	"reflect"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// Every field that a person can write down, as text.
const written = `{
	"name": "classroom", "height": "11ft", "entry": "S", "studs": {"first": "8in", "spacing": "24in"}, "off_square": "1/4in",
	"walls": [
		{"name": "N", "length": "24ft 3-1/2in", "top_length": "24ft 3in", "studs": {"at": ["16in", "40in"]},
		 "openings": [{"name": "left window", "kind": "window", "at": "3ft", "width": "36in", "height": "6ft", "sill": "30in", "reveal": "1/4in", "existing_width": "4in"},
		              {"kind": "plain opening", "at": "8ft", "width": "24in", "flush": true}],
		 "fixtures": [{"name": "stove", "at": "12ft", "width": "4ft", "bottom": "2in", "height": "5ft", "depth": "30in", "ends": "return"}]},
		{"name": "E", "length": "18ft", "corner": "outside 92.5°"},
		{"name": "S", "length": "10ft", "corner": "rough"},
		{"name": "W", "length": "3ft", "corner": "135", "start": "stop"}
	]}`

func TestReadRoom(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	var got takeoff.Room
	if err := json.Unmarshal([]byte(written), &got); err != nil {
		t.Fatal(err)
	}
	want := takeoff.Room{
		Name: "classroom", Height: 11 * ft, Entry: "S", Studs: takeoff.Studs{First: 8 * in, Spacing: 24 * in}, OffSquare: in / 4,
		Walls: []takeoff.Wall{
			{
				Name: "N", Length: 24*ft + 7*in/2, TopLength: 24*ft + 3*in, Studs: takeoff.Studs{At: []measure.Length{16 * in, 40 * in}},
				Openings: []takeoff.Opening{{
					Name: "left window", Kind: takeoff.OpeningWindow, At: 3 * ft, Width: 36 * in, Height: 6 * ft, Sill: 30 * in,
					Reveal: in / 4, ExistingWidth: 4 * in,
				}, {Kind: takeoff.OpeningPlain, At: 8 * ft, Width: 24 * in, Flush: true}},
				Fixtures: []takeoff.Fixture{{
					Name: "stove", At: 12 * ft, Width: 4 * ft, Bottom: 2 * in, Height: 5 * ft, Depth: 30 * in, Ends: stock.EndReturn,
				}},
			},
			{Name: "E", Length: 18 * ft, Corner: takeoff.Corner{Kind: takeoff.CornerOutside, Angle: 92*measure.Degree + 30*measure.Arcminute}},
			{Name: "S", Length: 10 * ft, Corner: takeoff.Corner{Kind: takeoff.CornerRough}},
			{Name: "W", Length: 3 * ft, Corner: takeoff.Corner{Angle: 135 * measure.Degree}, Start: takeoff.Corner{Kind: takeoff.CornerStop}},
		},
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Fatalf("(-want +got):\n%s", d)
	}
	if _, err := takeoff.Check([]takeoff.Room{got}, takeoff.Scheme{}, nil); err != nil {
		t.Error(err)
	}
}

// A room file may say "butt" or "square" for trim that dies into a fixture, or nothing.
func TestFixtureEnds(t *testing.T) {
	var want *takeoff.List
	for _, ends := range []string{``, `, "ends": "butt"`, `, "ends": "square"`} {
		var r takeoff.Room
		text := `{"name": "kitchen", "walls": [{"name": "N", "length": "12ft", "corner": "stop",
			"fixtures": [{"name": "sink cabinet", "at": "4ft", "width": "5ft"` + ends + `}]}]}`
		if err := json.Unmarshal([]byte(text), &r); err != nil {
			t.Fatal(err)
		}
		got := take(t, r, takeoff.Scheme{Base: base()})
		if want == nil {
			want = got
		}
		if d := cmp.Diff(want, got); d != "" || got.Joints.Stops != 4 {
			t.Errorf("%s: %+v (-want +got):\n%s", ends, got.Joints, d)
		}
	}
}

// Rooms and lists survive being written and read.
func TestJSONRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := walls(t, everyCorner...)
		roundTrip(t, r, new(takeoff.Room))
		list, err := takeoff.Take([]takeoff.Room{r}, fullScheme(), nil)
		if err != nil {
			t.Fatal(err)
		}
		roundTrip(t, *list, new(takeoff.List))
	})
	r := square()
	r.Diagonals = []takeoff.Diagonal{{From: "N", To: "S", Length: 14 * measure.Foot}}
	roundTrip(t, r, new(takeoff.Room))
	s := fullScheme()
	s.ChairRailAt = 30 * measure.Inch
	s.Base.Inside, s.Base.Spring, s.Base.ButtSpliced = stock.JointMiter, 45*measure.Degree, true
	roundTrip(t, s, new(takeoff.Scheme))
	roundTrip(t, takeoff.Options{Bevel: 30 * measure.Degree, Clear: measure.Foot}, new(takeoff.Options))
}

func roundTrip[T any](t rapid.TB, v T, back *T) {
	t.Helper()
	text, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, back); err != nil {
		t.Fatalf("%v in %s", err, text)
	}
	// Under WebAssembly the methods that cmp calls by reflection trip the collector (Go 1.26), so it
	// only explains differences.
	if !reflect.DeepEqual(v, *back) {
		t.Fatalf("(-written +read):\n%s", cmp.Diff(v, *back))
	}
}
