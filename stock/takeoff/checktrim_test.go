package takeoff_test

import (
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

func TestCheckTrim(t *testing.T) {
	const in, ft, f = measure.Inch, measure.Foot, measure.DegreeF
	type told struct {
		Kind     takeoff.FindingCode
		Severity takeoff.Severity
		Room     string
		Length   measure.Length
	}
	of := func(material string, p *stock.Profile) *stock.Profile { p.Material = material; return p }
	room := square()
	wet := square()
	wet.Wet = true
	old := square()
	old.PaintLine = 21 * in / 4
	soaked := stock.GenericCatalog().With(stock.Catalog{Materials: []stock.Material{{Name: "board", Class: stock.ClassComposite, Swell24h: 8 * measure.Percent}}})
	for _, c := range []struct {
		name string
		room takeoff.Room
		s    takeoff.Scheme
		site takeoff.Conditions
		want []told
	}{
		{"fine", room, takeoff.Scheme{Base: board("base", in/2, 5*in), Casing: casing(3 * in)}, takeoff.Conditions{}, nil},
		{"thick base", room, takeoff.Scheme{Base: board("base", 7*in/8, 5*in), Casing: casing(3 * in)}, takeoff.Conditions{},
			[]told{{takeoff.FindingThickBase, takeoff.SeverityAdvice, "", in / 8}}},
		{"a plinth takes it", room, takeoff.Scheme{Base: board("base", 7*in/8, 5*in), Casing: casing(3 * in), Plinth: board("plinth", in, 3*in)}, takeoff.Conditions{}, nil},
		{"thin plinth", room, takeoff.Scheme{Casing: casing(3 * in), Plinth: board("plinth", in/2, 3*in)}, takeoff.Conditions{},
			[]told{{takeoff.FindingThickBase, takeoff.SeverityAdvice, "", in / 4}}},
		{"paint line", old, takeoff.Scheme{Base: board("base", in/2, 13*in/4)}, takeoff.Conditions{},
			[]told{{takeoff.FindingPaintLine, takeoff.SeverityAdvice, "classroom", 2 * in}}},
		{"paint line covered", old, takeoff.Scheme{Base: board("base", in/2, 21*in/4)}, takeoff.Conditions{}, nil},
		{"fiberboard in the wet", wet, takeoff.Scheme{Base: of("fiberboard", board("base", in/2, 5*in))}, takeoff.Conditions{},
			[]told{{takeoff.FindingWetSwelling, takeoff.SeverityDoubt, "classroom", 0}}},
		// 8% in 24 hours of 1/2 in; 5.5% is allowed (ANSI/AWI 0622.0646-2024).
		{"swells by its data sheet", wet, takeoff.Scheme{Base: of("board", board("base", in/2, 5*in))}, takeoff.Conditions{Catalog: &soaked},
			[]told{{takeoff.FindingWetSwelling, takeoff.SeverityDoubt, "classroom", in / 25}}},
		{"fiberboard in the dry", room, takeoff.Scheme{Base: of("fiberboard", board("base", in/2, 5*in))}, takeoff.Conditions{}, nil},
		{"PVC in the wet", wet, takeoff.Scheme{Base: of("cellular PVC", board("base", in/2, 5*in))}, takeoff.Conditions{}, nil},
		{"proportion", room, takeoff.Scheme{Base: board("base", in/2, 3*in), Casing: casing(7 * in / 2)}, takeoff.Conditions{},
			[]told{{takeoff.FindingProportion, takeoff.SeverityNote, "", in / 2}}},
		{"stone like wood", room, takeoff.Scheme{Base: of("marble", board("slab", in/2, 5*in))}, takeoff.Conditions{},
			[]told{{takeoff.FindingWoodRules, takeoff.SeverityDoubt, "", 0}}},
		{"tight tile", room, takeoff.Scheme{Base: &stock.Profile{Name: "tile", Material: "ceramic tile", Thickness: in / 4, Width: 4 * in, ButtSpliced: true, Inside: stock.JointButt}}, takeoff.Conditions{},
			[]told{{takeoff.FindingWoodRules, takeoff.SeverityAdvice, "", in / 16}}},
		{"tile", room, takeoff.Scheme{Base: &stock.Profile{Name: "tile", Material: "ceramic tile", Thickness: in / 4, Width: 4 * in, ButtSpliced: true, Inside: stock.JointButt, StripJoint: in / 8}}, takeoff.Conditions{}, nil},
		{"vehicle", room, takeoff.Scheme{Base: base()}, takeoff.Conditions{MaxTransport: 12 * ft}, []told{{takeoff.FindingTransport, takeoff.SeverityAdvice, "", 4 * ft}}},
		{"small vehicle", room, takeoff.Scheme{Base: base()}, takeoff.Conditions{MaxTransport: 10 * ft}, []told{{takeoff.FindingTransport, takeoff.SeverityDoubt, "", 6 * ft}}},
		// The longest run, 10 ft of cellular PVC over 20 °F: .078 in; the sticks of 16 ft
		// are cut (derived).
		{"moves", room, takeoff.Scheme{Base: of("cellular PVC", base())}, takeoff.Conditions{MinTemp: 60 * f, MaxTemp: 80 * f},
			[]told{{takeoff.FindingOpenJoints, takeoff.SeverityAdvice, "classroom", 158_984}}},
		{"wood does not", room, takeoff.Scheme{Base: of("red oak", base())}, takeoff.Conditions{MinTemp: 60 * f, MaxTemp: 80 * f, MinMoisture: 6 * measure.Percent, MaxMoisture: 12 * measure.Percent}, nil},
		{"52", room, takeoff.Scheme{Crown: &stock.Profile{Name: "crown", Thickness: in / 2, Width: 4 * in, Spring: 52 * measure.Degree}}, takeoff.Conditions{},
			[]told{{takeoff.FindingCeilingAngle, takeoff.SeverityDoubt, "", 0}}},
	} {
		fs, err := takeoff.CheckTrim([]takeoff.Room{c.room}, c.s, c.site)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		var got []told
		for _, f := range fs {
			x := told{f.Code, f.Severity, f.Room, f.Length}
			if f.Code == takeoff.FindingCeilingAngle {
				if f.Angle != 38*measure.Degree || f.Length < measure.Inch {
					t.Errorf("%+v", f)
				}
				x.Length = 0
			}
			got = append(got, x)
			if f.Reason == "" {
				t.Errorf("%s: no reason", c.name)
			}
		}
		if d := cmp.Diff(c.want, got); d != "" {
			t.Errorf("%s (-want +got):\n%s", c.name, d)
		}
	}

	var fe *measure.FieldError
	if _, err := takeoff.CheckTrim(nil, takeoff.Scheme{}, takeoff.Conditions{MaxTransport: -1}); !errors.As(err, &fe) || fe.Field != "max_transport" {
		t.Errorf("%v", err)
	}
	if _, err := takeoff.CheckTrim(nil, takeoff.Scheme{}, takeoff.Conditions{Catalog: &stock.Catalog{Materials: []stock.Material{{}}}}); !errors.As(err, &fe) || fe.Field != "catalog.materials[0].name" {
		t.Errorf("%v", err)
	}
	if _, err := takeoff.CheckTrim([]takeoff.Room{{}}, takeoff.Scheme{}, takeoff.Conditions{}); !errors.As(err, &fe) {
		t.Errorf("%v", err)
	}
}

// The longest run moves, whatever lengths are sold: by the length of the wall, of the casing around a
// door, of the stool below a window (all derived).
func TestOpenJointsOfTheLongestRun(t *testing.T) {
	const in, ft, f = measure.Inch, measure.Foot, measure.DegreeF
	site := takeoff.Conditions{MinTemp: 20 * f, MaxTemp: 100 * f}
	plastic := func(thickness, width measure.Length) *stock.Profile {
		return &stock.Profile{Name: "trim", Material: "cellular PVC", Thickness: thickness, Width: width}
	}
	rapid.Check(t, func(t *rapid.T) {
		wall := length(16*ft, 40*ft).Draw(t, "wall")
		long := length(2*ft, 5*ft).Draw(t, "width")
		r := square()
		r.Walls[2].Length = wall
		r.Walls[2].Openings = []takeoff.Opening{
			{At: 13 * in, Width: 30 * in},
			{Kind: takeoff.OpeningWindow, At: 6 * ft, Width: long, Height: 3 * ft, Sill: 30 * in},
		}
		base := plastic(in/2, 5*in)
		if rapid.Bool().Draw(t, "sold in lengths") {
			base.Lengths = []measure.Length{8 * ft}
		}
		// The jamb, 2·(3/16 + 3 in), and 2·3/4 in for the horns.
		outer := long + 2*(3*in/16+3*in)
		for _, c := range []struct {
			s   takeoff.Scheme
			run measure.Length
		}{
			{takeoff.Scheme{Base: base}, wall - 43*in},
			{takeoff.Scheme{Base: base, Casing: casing(3 * in)}, wall - 43*in - 3*in/16 - 3*in},
			{takeoff.Scheme{ChairRail: base, ChairRailAt: 80 * in}, wall},
			{takeoff.Scheme{Casing: plastic(in/2, 3*in)}, max(outer, 83*in+3*in/16)},
			{takeoff.Scheme{Casing: casing(3 * in), Stool: plastic(in, 5*in)}, outer + 3*in/2},
			{takeoff.Scheme{Casing: casing(3 * in), Stool: board("stool", in, 5*in), Apron: plastic(in, 3*in)}, outer},
		} {
			fs, err := takeoff.CheckTrim([]takeoff.Room{r}, c.s, site)
			if err != nil {
				t.Fatal(err)
			}
			var got measure.Length
			for _, x := range fs {
				if x.Code == takeoff.FindingOpenJoints && x.Room == "classroom" && x.Wall == "S" {
					got = x.Length
				}
			}
			// 58.68e-6 for each K of 80 · 5/9: a whole number of parts per billion.
			want, _, err := c.run.MulDiv(58_680*80*5/9, 1_000_000_000, measure.RoundHalfEven)
			if err != nil || got != want {
				t.Fatalf("%v moves %v, want %v", c.run, got, want)
			}
		}
	})
	// 18 ft over 80 °F: .563 in.
	hall := []takeoff.Room{{Name: "hall", Walls: []takeoff.Wall{stretch("N", 18*ft)}}}
	fs, err := takeoff.CheckTrim(hall, takeoff.Scheme{Base: plastic(in/2, 5*in)}, site)
	if err != nil || len(fs) != 1 || fs[0].Length.Round(in/100, measure.RoundHalfEven) != 56*in/100 {
		t.Errorf("%+v, %v", fs, err)
	}
	// Without rooms the stick determines the movement, and strips with joints move one by one.
	sold := plastic(in/2, 5*in)
	sold.Lengths = []measure.Length{18 * ft}
	if fs, err = takeoff.CheckTrim(nil, takeoff.Scheme{Base: sold}, site); err != nil || len(fs) != 1 || fs[0].Room != "" {
		t.Errorf("%+v, %v", fs, err)
	}
	sold.Lengths, sold.ButtSpliced, sold.StripJoint = []measure.Length{4 * in}, true, in/8
	if fs, err = takeoff.CheckTrim(hall, takeoff.Scheme{Base: sold}, site); err != nil || len(fs) != 0 {
		t.Errorf("%+v, %v", fs, err)
	}
}

// Take warns of the ceiling angle too, because it determines the cuts.
func TestTakeFindsCeilingAngle(t *testing.T) {
	s := takeoff.Scheme{Crown: &stock.Profile{Name: "crown", Thickness: measure.Inch / 2, Width: 4 * measure.Inch, Spring: 52 * measure.Degree}}
	if fs := take(t, square(), s).Findings; len(fs) != 1 || fs[0].Code != takeoff.FindingCeilingAngle || fs[0].Angle != 38*measure.Degree {
		t.Errorf("%+v", fs)
	}
}
