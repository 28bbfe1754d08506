package takeoff_test

import (
	"errors"
	"slices"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// Trim run one above the other on a wall must not share a height: rails that overlap trim below them
// are an error, and trim in the crown or above the ceiling is a doubt.
func TestTrimIsStacked(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := func(name string, lo, hi int) measure.Length {
			return measure.Length(rapid.IntRange(lo, hi).Draw(t, name)) * measure.Inch
		}
		some := func(name string, lo, hi int) *stock.Profile {
			if !rapid.Bool().Draw(t, "with "+name) {
				return nil
			}
			return board(name, measure.Inch/2, in(name, lo, hi))
		}
		s := takeoff.Scheme{
			Base: some("base", 1, 40), ChairRail: some("chair rail", 1, 6), PictureRail: some("picture rail", 1, 6),
			ChairRailAt: in("chair rail at", 0, 60), PictureRailAt: in("picture rail at", 0, 110),
		}
		if s.Crown = some("crown", 2, 30); s.Crown != nil {
			s.Crown.Spring = 60 * measure.Degree // it reaches down by half its width
		}
		r := square()
		r.Height = in("height", 0, 120)
		low := r.Height
		lower := ""
		if i := rapid.IntRange(-1, 3).Draw(t, "lower wall"); i >= 0 && r.Height > measure.Inch {
			low -= measure.Inch
			r.Walls[i].HeightRight, lower = low, r.Walls[i].Name
		}

		var spoiled bool // a rail overlaps the trim below
		var top measure.Length
		over := map[string]measure.Length{}
		ceiling, crown := low, measure.Length(0)
		if s.Crown != nil {
			if crown = s.Crown.Width / 2; crown > low {
				over["crown"] = crown - low
			} else {
				ceiling -= crown
			}
		}
		if s.Base != nil {
			top = s.Base.Width
			if top > ceiling {
				over["base"] = top - ceiling
			}
		}
		for _, rail := range []struct {
			p         *stock.Profile
			at, usual measure.Length
		}{{s.ChairRail, s.ChairRailAt, 32 * measure.Inch}, {s.PictureRail, s.PictureRailAt, 84 * measure.Inch}} {
			if rail.p == nil {
				continue
			}
			if rail.at == 0 {
				rail.at = rail.usual
			}
			spoiled = spoiled || rail.at < top
			if top = rail.at + rail.p.Width; top > ceiling {
				over[rail.p.Name] = top - ceiling
			}
		}
		for name := range over { // above the ceiling, more is lacking than the crown's
			if top := over[name] + ceiling; name != "crown" && top > low {
				over[name] = top - low
			}
		}
		if low == 0 {
			over = map[string]measure.Length{}
		}

		fs, err := takeoff.Check([]takeoff.Room{r}, s, nil)
		list, takeErr := takeoff.Take([]takeoff.Room{r}, s, nil)
		var fe *measure.FieldError
		if spoiled {
			if !errors.As(err, &fe) || !errors.As(takeErr, &fe) || fe.Field != "chair_rail_at" && fe.Field != "picture_rail_at" {
				t.Fatalf("%v, %v", err, takeErr)
			}
			return
		}
		if err != nil || takeErr != nil {
			t.Fatal(err, takeErr)
		}
		for _, found := range [][]takeoff.Finding{fs, list.Findings} {
			var lacks []measure.Length
			for _, f := range found {
				if f.Code != takeoff.FindingTrimFit {
					continue
				}
				if f.Severity != takeoff.SeverityDoubt || lower != "" && f.Wall != lower {
					t.Fatalf("%+v", f)
				}
				lacks = append(lacks, f.Length)
			}
			var want []measure.Length
			for _, name := range []string{"base", "chair rail", "picture rail", "crown"} {
				if l, ok := over[name]; ok {
					want = append(want, l)
				}
			}
			if d := cmp.Diff(want, lacks); d != "" {
				t.Fatalf("(-want +got):\n%s", d)
			}
		}
	})
}

// A fixture against a wall has its bottom below its top.
func TestFixtureUpsideDown(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := takeoff.Fixture{Name: "bench", At: measure.Foot, Width: measure.Foot,
			Bottom: length(0, 4*measure.Foot).Draw(t, "bottom"), Height: length(0, 4*measure.Foot).Draw(t, "height")}
		r := square()
		r.Walls[2].Fixtures = []takeoff.Fixture{f}
		_, err := takeoff.Take([]takeoff.Room{r}, takeoff.Scheme{Base: base()}, nil)
		var fe *measure.FieldError
		if want := f.Height != 0 && f.Bottom >= f.Height; errors.As(err, &fe) != want || want && fe.Field != "rooms[0].walls[2].fixtures[0].bottom" {
			t.Fatalf("%v to %v: %v", f.Bottom, f.Height, err)
		}
	})
}

// Around an outside corner of 1° the miter of base 9/16 in thick reaches 5 ft 4 in beyond the wall: a
// doubt if the wall is shorter. A shallow jog is none.
func TestOutsideCornerSharperThanItsWalls(t *testing.T) {
	for _, c := range []struct {
		wall  measure.Length
		angle measure.Angle
		doubt bool
	}{
		{5 * measure.Foot, measure.Degree, true},
		{6 * measure.Foot, measure.Degree, false},
		{measure.Inch / 4, 90 * measure.Degree, false},
	} {
		r := takeoff.Room{Name: "attic", Walls: []takeoff.Wall{stretch("A", c.wall), stretch("B", 20*measure.Foot)}}
		r.Walls[0].Corner = takeoff.Corner{Kind: takeoff.CornerOutside, Angle: c.angle}
		b := base()
		b.Lengths = nil
		list, err := takeoff.Take([]takeoff.Room{r}, takeoff.Scheme{Base: b}, nil)
		if err != nil {
			t.Fatal(err)
		}
		doubt := slices.ContainsFunc(list.Findings, func(f takeoff.Finding) bool {
			return f.Code == takeoff.FindingSliver && f.Severity == takeoff.SeverityDoubt && f.Wall == "A" && f.Length == c.wall
		})
		if doubt != c.doubt {
			t.Errorf("%v around %v: %+v", c.wall, c.angle, list.Findings)
		}
	}
}

// A corner so sharp that its miter is longer than the wall leaves no piece there, with a finding: no
// piece has ends that cross.
func TestCornerSharperThanItsWalls(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		angle := measure.Angle(rapid.Int64Range(1, int64(60*measure.Degree)).Draw(t, "angle"))
		if rapid.Bool().Draw(t, "very sharp") {
			angle = angle/60 + 1
		}
		r := takeoff.Room{Name: "attic", Walls: []takeoff.Wall{
			stretch("A", length(measure.Foot, 20*measure.Foot).Draw(t, "a")), stretch("B", length(measure.Foot, 20*measure.Foot).Draw(t, "b")),
		}}
		r.Walls[0].Corner = takeoff.Corner{Angle: angle}
		b := base()
		b.Lengths = nil
		b.Inside = rapid.SampledFrom([]stock.InsideJoint{stock.JointCope, stock.JointMiter, stock.JointButt}).Draw(t, "inside")
		list, err := takeoff.Take([]takeoff.Room{r}, takeoff.Scheme{Base: b}, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range list.Pieces {
			if p.Length <= 0 || p.Left.Setback+p.Right.Setback > p.Length {
				t.Fatalf("%s of %v is set back by %v and %v", p.Label, p.Length, p.Left.Setback, p.Right.Setback)
			}
		}
		slivers := 0
		for _, f := range list.Findings {
			if f.Code == takeoff.FindingSliver {
				slivers++
			}
		}
		if len(list.Runs) < 2 && slivers == 0 {
			t.Fatalf("%d runs and no finding", len(list.Runs))
		}
	})
	// 1°: 9/16 in / tan 1/2° is 5 ft 4 in, and the wall is 5 ft.
	r := takeoff.Room{Name: "attic", Walls: []takeoff.Wall{stretch("A", 5*measure.Foot), stretch("B", 20*measure.Foot)}}
	r.Walls[0].Corner = takeoff.Corner{Angle: measure.Degree}
	list, err := takeoff.Take([]takeoff.Room{r}, takeoff.Scheme{Base: base()}, nil)
	if err != nil || len(list.Findings) == 0 || list.Findings[0].Code != takeoff.FindingSliver || list.Findings[0].Wall != "A" {
		t.Errorf("%+v, %v", list, err)
	}
}
