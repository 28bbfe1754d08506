package scribe_test

import (
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
	"example.com/longpoint/stock/scribe"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// Whatever is asked, the answer is a value or field errors, never a panic, and a value is
// one whose parts are in range.
func TestAbsurdInput(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := func(label string) measure.Length {
			return measure.Length(rapid.OneOf(rapid.Int64(), rapid.Int64Range(-1, 1), rapid.SampledFrom([]int64{math.MinInt64, math.MaxInt64, int64(5280 * ft), int64(1000 * ft)}), rapid.Int64Range(0, int64(100*ft))).Draw(t, label))
		}
		fields := func(what string, err error) {
			var fe *measure.FieldError
			if err != nil && !errors.As(err, &fe) {
				t.Fatalf("%s: %v", what, err)
			}
		}
		var s scribe.Surface
		for range rapid.IntRange(0, 4).Draw(t, "readings") {
			s = append(s, scribe.Reading{At: l("at"), FromLine: l("line")})
		}
		fields("surface", s.Validate())
		s.Line(l("x"))
		s.Extremes(l("from"), l("to"))
		s.Fall(l("from"), l("to"), l("over"))
		s.Cut(l("from"), l("to"), l("low"), l("tolerance"))
		floor := scribe.Floor{Walls: []scribe.Surface{s, nil}, Height: l("height"), MinBase: l("least"), Shoe: l("shoe"), Lap: l("lap")}
		_, err := floor.Shape()
		fields("floor", err)
		_, err = scribe.Ceiling{Walls: []scribe.Surface{s}, Crown: stock.Profile{Name: "c", Width: l("width"), Thickness: l("thickness"), Spring: measure.Angle(l("spring"))}}.Shape()
		fields("ceiling", err)
		_, err = scribe.NewRoll(stock.Profile{Width: l("width"), Spring: measure.Angle(l("spring"))}, l("drop"))
		fields("roll", err)
		lean := scribe.Lean{Out: l("out"), Over: l("over")}
		_, err = lean.Offset(l("height"))
		fields("lean", err)
		lean.Angle()
		_, err = lean.Corner(scribe.Lean{Out: l("out"), Over: l("over")}, measure.Angle(l("corner")), rapid.Bool().Draw(t, "outside"), l("height"))
		fields("corner", err)
		s.Slope(l("from"), l("to"))
		d := scribe.Depths{TopLeft: l("tl"), TopRight: l("tr"), BottomLeft: l("bl"), BottomRight: l("br"), Left: l("l"), Right: l("r"), Head: l("h"), Sill: l("s")}
		d.Twist()
		d.Range()
		e := scribe.Extension{
			Depths: d, Width: l("width"), Height: l("height"), TopWidth: l("top"), RightHeight: l("right"), Thickness: l("t"),
			FourSided: rapid.Bool().Draw(t, "four"), Setback: l("setback"), Flush: rapid.Bool().Draw(t, "flush"), Proud: l("proud"),
		}
		for range rapid.IntRange(0, 12).Draw(t, "layers") {
			e.Layers = append(e.Layers, scribe.Layer{Width: l("layer"), Setback: l("its setback")})
		}
		e.Inset()
		parts, err := e.Parts()
		fields("extension", err)
		for _, p := range parts {
			if p.Left <= 0 || p.Right <= 0 || p.Blank < p.Left || p.Length <= 0 {
				t.Fatalf("%+v", p)
			}
		}
		_, err = scribe.Stool{Width: l("w"), Horn: l("horn"), Sash: scribe.SashDepths{LeftJamb: l("lj"), LeftHorn: l("lh"), RightJamb: l("rj"), RightHorn: l("rh")}, Nose: l("nose"), Clear: l("clear")}.Notch()
		fields("stool", err)
		_, err = scribe.TaperedRip{Rip: stock.Rip{Width: l("board"), Strip: l("strip"), Kerf: l("kerf"), Trim: l("trim"), MinStrip: l("safe"), FinishedEdges: rapid.IntRange(-1, 3).Draw(t, "edges")},
			Narrow: l("narrow"), Length: l("length")}.Blank()
		fields("rip", err)
		_, err = joint.CopeRelief(l("thickness"), measure.Angle(l("corner")))
		fields("relief", err)
	})
}

// All faults are reported at once, each by its field.
func TestFaults(t *testing.T) {
	fields := func(err error) string {
		var out []string
		for fe := range measure.FieldErrors(err) {
			out = append(out, fe.Field)
		}
		return strings.Join(out, " ")
	}
	bad := scribe.Surface{{At: 2 * in, FromLine: -1}, {At: in}}
	_, err := scribe.Floor{Walls: []scribe.Surface{nil, bad}, Height: 0, Shoe: -1}.Shape()
	if got := fields(err); got != "walls[1][0].from_line walls[1][1].at height shoe" {
		t.Error(got)
	}
	_, err = scribe.Floor{Height: in}.Shape()
	if got := fields(err); got != "walls" {
		t.Error(got)
	}
	_, err = scribe.Extension{Depths: scribe.Depths{TopLeft: in, BottomRight: -in, Head: -in}, Width: in, Height: in, Thickness: in}.Parts()
	if got := fields(err); got != "depths.top_right depths.bottom_left depths.bottom_right depths.head" {
		t.Error(got)
	}
	_, err = scribe.Extension{Width: in, Height: in, Thickness: in, Flush: true, Setback: in, Layers: []scribe.Layer{{}}}.Parts()
	if got := fields(err); got != "setback layers[0].width" {
		t.Error(got)
	}
	_, err = scribe.TaperedRip{Rip: stock.Rip{Width: 4 * in, Strip: in / 2}, Narrow: in}.Blank()
	if got := fields(err); got != "rip.strip narrow length" {
		t.Error(got)
	}
	_, err = scribe.Stool{Width: 30 * in, Sash: scribe.SashDepths{LeftJamb: in, RightJamb: in / 16}}.Notch()
	if got := fields(err); got != "sash.right_jamb sash.right_horn" {
		t.Error(got)
	}
	if err := (scribe.Lean{Out: in}).Validate(); fields(err) != "over" {
		t.Error(err)
	}
	if err := (scribe.Lean{Out: -in, Over: in}).Validate(); fields(err) != "out" {
		t.Error(err)
	}
}

// JSON reads back as written, and zeros that would stand for something else are rejected.
func TestJSON(t *testing.T) {
	e := scribe.Extension{
		Depths: scribe.Depths{TopLeft: in, TopRight: in, BottomLeft: in, BottomRight: in, Head: 2 * in}, Width: 30 * in, Height: 60 * in, Thickness: 3 * in / 4,
		Layers: []scribe.Layer{{Width: in / 2, Flush: true}}, FourSided: true,
	}
	floor := scribe.Floor{Walls: []scribe.Surface{{{At: 0, FromLine: in}}}, Height: 5 * in}
	same := func(v, into any) {
		t.Helper()
		text, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(text, into); err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(v, into); d != "" {
			t.Errorf("%s\n%s", text, d)
		}
	}
	same(&e, &scribe.Extension{})
	same(&floor, &scribe.Floor{})
	parts, err := e.Parts()
	if err != nil {
		t.Fatal(err)
	}
	same(&parts, &[]scribe.ExtensionPart{})
	shape, err := floor.Shape()
	if err != nil {
		t.Fatal(err)
	}
	same(&shape, &scribe.FloorShape{})
	cut := floor.Walls[0].Cut(0, ft, 2*in, 0)
	same(&cut, &scribe.Cut{})
	for text, v := range map[string]any{
		`{"lap":"0in"}`: &scribe.Floor{}, `{"min_base":"0in"}`: &scribe.Floor{}, `{"head":"0in"}`: &scribe.Depths{}, `{"setback":"0in"}`: &scribe.Extension{},
		`{"setback": "0in"}`: &scribe.Layer{}, `{"clear":"0in"}`: &scribe.Stool{}, `{"left_horn":"0in"}`: &scribe.SashDepths{},
	} {
		var fe *measure.FieldError
		if err := json.Unmarshal([]byte(text), v); !errors.As(err, &fe) {
			t.Errorf("%s: %v", text, err)
		}
	}
	for _, v := range []interface{ MarshalText() ([]byte, error) }{scribe.CutKind(9), scribe.FloorFit(9), scribe.CeilingFit(9), scribe.Side(9)} {
		if _, err := v.MarshalText(); err == nil {
			t.Errorf("%v is written", v)
		}
	}
	var k scribe.CutKind
	var f scribe.FloorFit
	var c scribe.CeilingFit
	var s scribe.Side
	for name, v := range map[string]interface{ UnmarshalText([]byte) error }{"scribe": &k, "shoe": &f, "roll": &c, "sill": &s} {
		if err := v.UnmarshalText([]byte(name)); err != nil || v.UnmarshalText([]byte("nail")) == nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	if k != scribe.CutScribe || f != scribe.FloorShoe || c != scribe.CeilingRoll || s != scribe.SideSill {
		t.Error(k, f, c, s)
	}
}
