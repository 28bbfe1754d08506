package drawing_test

import (
	"bytes"
	"errors"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"example.com/longpoint/internal/svg/svgcheck"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/curve"
	"example.com/longpoint/stock/scribe"
	"example.com/longpoint/stock/stair"
	"example.com/longpoint/stock/takeoff"
	"example.com/longpoint/stock/takeoff/drawing"
)

func base(long measure.Length) *stock.Profile {
	return &stock.Profile{Name: "base", Thickness: measure.Inch / 2, Width: 5 * measure.Inch, Lengths: []measure.Length{long}}
}

// Absurd sizes are drawn, and quickly.
func TestAbsurdRooms(t *testing.T) {
	mile := takeoff.Room{Name: "corridor", Walls: []takeoff.Wall{
		{Name: "N", Length: 5280 * measure.Foot}, {Name: "E", Length: measure.Inch}, {Name: "S", Length: 5280 * measure.Foot}, {Name: "W", Length: measure.Inch},
	}}
	many := takeoff.Room{Name: "tower"}
	for i := range 500 {
		many.Walls = append(many.Walls, takeoff.Wall{Name: "wall " + strconv.Itoa(i), Length: 3 * measure.Foot, Corner: takeoff.Corner{Angle: 179 * measure.Degree}})
	}
	jogs := takeoff.Room{Name: "saw"}
	for i := range 200 {
		jogs.Walls = append(jogs.Walls, takeoff.Wall{Name: "wall " + strconv.Itoa(i), Length: measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerKind(i % 2)}})
	}
	holes := takeoff.Room{Name: "arcade", Walls: []takeoff.Wall{{Name: "N", Length: 400 * measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerOpen}}}}
	for i := range 100 {
		holes.Walls[0].Openings = append(holes.Walls[0].Openings, takeoff.Opening{At: measure.Length(4*i) * measure.Foot, Width: 2 * measure.Foot})
	}
	dot := takeoff.Room{Name: "dot", Height: 1, Walls: []takeoff.Wall{{Name: "N", Length: 1, Corner: takeoff.Corner{Kind: takeoff.CornerOpen}}}}
	tall := takeoff.Room{Name: "shaft", Height: 5280 * measure.Foot, Walls: []takeoff.Wall{{Name: "N", Length: measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerStop}}}}
	cut := takeoff.Room{Name: strings.Repeat("\x00\u202e<script>", 50), Walls: []takeoff.Wall{{Name: "\n\t]]>&", Length: 9 * measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerOpen}}}}
	for _, r := range []takeoff.Room{mile, many, jogs, holes, dot, tall, cut} {
		for _, s := range []takeoff.Scheme{{}, {Base: base(40 * measure.Foot)}} {
			l, err := takeoff.Take([]takeoff.Room{r}, s, nil)
			if err != nil {
				l = nil
			}
			for _, width := range []int{0, 320, 2000} {
				o := &drawing.Options{Width: width}
				_, p := picture(t, func(w *bytes.Buffer) error { return drawing.Elevation(w, r, s, l, o) })
				if l != nil && r.Name != cut.Name { // whose labels are spelled out
					everyPiece(t, p, r, l)
				}
				picture(t, func(w *bytes.Buffer) error { return drawing.Plan(w, r, l, o) })
			}
		}
	}
}

// Everything that takeoff knows about a wall is drawn without overlaps.
func TestOddWalls(t *testing.T) {
	quarter := &takeoff.Curve{Arc: curve.Arc{Radius: 4 * measure.Foot, Angle: 90 * measure.Degree}, Bend: curve.BendConcave}
	straight := takeoff.Corner{Angle: 180 * measure.Degree}
	rooms := []takeoff.Room{
		{Name: "turret", Height: 9 * measure.Foot, Walls: []takeoff.Wall{
			{Name: "N", Length: 12 * measure.Foot, Corner: straight}, {Name: "round", Curve: quarter, Corner: straight},
			{Name: "E", Length: 8 * measure.Foot}, {Name: "S", Length: 16 * measure.Foot}, {Name: "W", Length: 12 * measure.Foot},
		}},
		{Name: "attic", Height: 5 * measure.Foot, Walls: []takeoff.Wall{
			{Name: "low", Length: 14 * measure.Foot}, {Name: "gable", Length: 10 * measure.Foot, HeightLeft: 5 * measure.Foot, HeightRight: 9 * measure.Foot, Raked: true},
			{Name: "high", Length: 14 * measure.Foot, HeightLeft: 9 * measure.Foot, HeightRight: 9 * measure.Foot}, {Name: "end", Length: 10 * measure.Foot, HeightLeft: 9 * measure.Foot, HeightRight: 5 * measure.Foot, Raked: true},
		}},
		{Name: "stairs", Height: 12 * measure.Foot, Walls: []takeoff.Wall{
			{Name: "up", Length: 20 * measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerOpen}, Floor: scribe.Surface{{At: 0, FromLine: 36 * measure.Inch}, {At: 9 * measure.Foot, FromLine: 37 * measure.Inch}},
				Stair: &takeoff.Stair{Flight: stair.Flight{Risers: 8, Rise: 7 * measure.Inch, Run: 10 * measure.Inch, Nosing: measure.Inch}, At: 15 * measure.Foot, RisesLeft: true, Width: 3 * measure.Foot}},
			{Name: "arched", Length: 9 * measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerStop}, Openings: []takeoff.Opening{
				{Kind: takeoff.OpeningCased, At: 2 * measure.Foot, Width: 4 * measure.Foot, Height: 6 * measure.Foot, ArchRise: 2 * measure.Foot},
			}},
		}},
	}
	rooms = append(rooms, takeoff.Room{Name: "porch", Height: 8 * measure.Foot, Walls: []takeoff.Wall{{Name: "N", Length: 8 * measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerOpen},
		Fixtures: []takeoff.Fixture{{Name: "register", At: 3 * measure.Foot, Width: measure.Foot, Height: 3 * measure.Inch, Notch: measure.Inch / 8}}}}})
	s := takeoff.Scheme{Base: base(12 * measure.Foot), ChairRail: &stock.Profile{Name: "rail", Thickness: measure.Inch, Width: 2 * measure.Inch}}
	s.Casing = &stock.Profile{Name: "casing", Thickness: 3 * measure.Inch / 4, Width: 4 * measure.Inch}
	s.Crown = &stock.Profile{Name: "crown", Thickness: 3 * measure.Inch / 4, Width: 4 * measure.Inch}
	s.Skirt = &stock.Profile{Name: "skirt", Thickness: 3 * measure.Inch / 4, Width: 12 * measure.Inch}
	for _, r := range rooms {
		l, err := takeoff.Take([]takeoff.Room{r}, s, nil)
		if err != nil {
			t.Fatal(r.Name, err)
		}
		for _, width := range widths {
			o := &drawing.Options{Width: width}
			_, p := picture(t, func(w *bytes.Buffer) error { return drawing.Elevation(w, r, s, l, o) })
			everyPiece(t, p, r, l)
			toScale(t, p, r, s, l)
			picture(t, func(w *bytes.Buffer) error { return drawing.Plan(w, r, l, o) })
		}
	}
}

// No room panics, however wild; errors name a field, and drawings can be read.
func TestWildRooms(t *testing.T) {
	n := uint64(4000)
	if testing.Short() {
		n = 800
	}
	for seed := range n {
		h := house{rand.New(rand.NewPCG(seed, 3))}
		wild := func() measure.Length {
			return pick(h, 0, 1, -1, measure.Inch, measure.Foot, 20*measure.Foot, 1<<62, math.MinInt64, measure.Length(h.Int64()), h.length(0, 30*measure.Foot))
		}
		r := h.room()
		for i := range r.Walls {
			w := &r.Walls[i]
			switch h.IntN(8) {
			case 0:
				w.Length = wild()
			case 1:
				w.HeightLeft, w.TopLength = wild(), wild()
			case 2:
				w.Studs = takeoff.Studs{First: wild(), Spacing: wild()}
			case 3:
				w.Corner = takeoff.Corner{Kind: takeoff.CornerKind(h.IntN(6)), Angle: measure.Angle(h.Int64())}
			case 4:
				w.Stair = &takeoff.Stair{Flight: stair.Flight{Risers: h.IntN(1000), Rise: wild(), Run: wild(), Nosing: wild()}, At: wild()}
			case 5:
				w.Openings = append(w.Openings, takeoff.Opening{Kind: takeoff.OpeningKind(h.IntN(5)), At: wild(), Width: wild(), Height: wild(), Sill: wild(), ArchRise: wild(), RightHeight: wild()})
			case 6:
				w.Curve = &takeoff.Curve{Arc: curve.Arc{Radius: wild(), Angle: measure.Angle(h.Int64N(int64(400 * measure.Degree)))}}
			}
		}
		s := h.scheme()
		l, err := takeoff.Take([]takeoff.Room{r}, s, nil)
		if err != nil && h.IntN(2) == 0 { // a list of anybody's
			l = &takeoff.List{
				Runs:   []stock.Run{{Label: "a", Room: r.Name, Wall: r.Walls[0].Name, Start: wild(), Net: wild(), Bottom: wild(), Length: wild(), Reach: wild(), Slope: measure.Angle(h.Int64()), Splices: []measure.Length{wild(), wild()}}},
				Pieces: []stock.Piece{{Label: "a 1", Run: "a", Length: wild()}, {Label: "a 2", Run: "a", Length: wild()}, {Label: "b"}},
			}
		}
		o := &drawing.Options{Width: pick(h, 0, 320, 2000, -1, 100_000)}
		for _, draw := range []func(w *bytes.Buffer) error{
			func(w *bytes.Buffer) error { return drawing.Elevation(w, r, s, l, o) },
			func(w *bytes.Buffer) error { return drawing.Plan(w, r, l, o) },
		} {
			var b bytes.Buffer
			err := draw(&b)
			if err == nil {
				if _, err = svgcheck.Check(b.Bytes()); err != nil {
					t.Fatalf("seed %d: %v", seed, err)
				}
				continue
			}
			var fe *measure.FieldError
			if !errors.As(err, &fe) || b.Len() > 0 {
				t.Fatalf("seed %d: %T %v, %d bytes", seed, err, err, b.Len())
			}
		}
	}
}

// All faults that prevent a drawing are reported.
func TestErrors(t *testing.T) {
	err := drawing.Elevation(new(bytes.Buffer), takeoff.Room{Name: "hall", Walls: []takeoff.Wall{{Length: -1}}}, takeoff.Scheme{}, nil, &drawing.Options{Width: 5})
	var fields []string
	for f := range measure.FieldErrors(err) {
		fields = append(fields, f.Field)
	}
	if got := strings.Join(fields, " "); got != "options.width walls[0].name walls[0].length" {
		t.Errorf("faults of %s: %v", got, err)
	}
	if err := drawing.Plan(new(bytes.Buffer), takeoff.Room{}, nil, nil); err == nil {
		t.Error("a room without walls has a plan")
	}
	broken := errors.New("disk full")
	room := takeoff.Room{Name: "hall", Walls: []takeoff.Wall{{Name: "N", Length: measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerOpen}}}}
	if err := drawing.Plan(failing{broken}, room, nil, nil); !errors.Is(err, broken) {
		t.Error(err)
	}
	if err := drawing.Elevation(failing{broken}, room, takeoff.Scheme{}, nil, nil); !errors.Is(err, broken) {
		t.Error(err)
	}
	var o drawing.Options
	if err := measure.UnmarshalStrict([]byte(`{"width": 0}`), &o); err == nil {
		t.Error("a width of zero was accepted")
	}
	if err := measure.UnmarshalStrict([]byte(`{"width": 360, "title": "N", "sticks": {"a": "stick 1"}}`), &o); err != nil || o.Width != 360 {
		t.Error(o, err)
	}
}

type failing struct{ err error }

func (f failing) Write([]byte) (int, error) { return 0, f.err }
