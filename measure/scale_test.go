package measure_test

import (
	"encoding/json"
	"errors"
	"math"
	"testing"

	"example.com/longpoint/measure"
	"pgregory.net/rapid"
)

// The table of "Architectural scales, notes" slides and of an encyclopedia's
// article on the architect's scale; 1/16 and 5/8 from a scale table page.
func TestArchitecturalScales(t *testing.T) {
	for _, c := range []struct{ inches, ratio string }{
		{`3"`, "1:4"}, {`1 1/2"`, "1:8"}, {`1"`, "1:12"}, {`3/4"`, "1:16"}, {`1/2"`, "1:24"}, {`3/8"`, "1:32"},
		{`1/4"`, "1:48"}, {`3/16"`, "1:64"}, {`1/8"`, "1:96"}, {`3/32"`, "1:128"}, {`1/16"`, "1:192"}, {`5/8"`, "1:19.2"},
	} {
		a, err := measure.ParseScale(c.inches + ` = 1'-0"`)
		if err != nil {
			t.Fatal(err)
		}
		b, err := measure.ParseScale(c.ratio)
		if err != nil || a != b {
			t.Errorf("%s to the foot is %v, %s is %v, %v", c.inches, a, c.ratio, b, err)
		}
		if want := measure.MustParse(c.inches).String() + ` = 1'-0"`; b.String() != want {
			t.Errorf("%s is written %s, want %s", c.ratio, b, want)
		}
		paper, exact, err := a.Drawn(12*ft, measure.RoundHalfEven)
		if want := 12 * measure.MustParse(c.inches); paper != want || !exact || err != nil {
			t.Errorf("12 ft at %v is %v on paper, %v, %v; want %v", a, paper, exact, err, want)
		}
		if back, exact, err := a.Actual(paper, measure.RoundHalfEven); back != 12*ft || !exact || err != nil {
			t.Errorf("%v at %v stands for %v, %v, %v; want 12'", paper, a, back, exact, err)
		}
	}
}

func TestScale(t *testing.T) {
	full, err := measure.ParseScale("1:1")
	if err != nil || full != (measure.Scale{}) || full.String() != "1:1" || full.Float64() != 1 {
		t.Errorf("full size is %v, %v", full, err)
	}
	if l, exact, err := full.Drawn(ft, measure.RoundDown); l != ft || !exact || err != nil {
		t.Errorf("a foot at full size is %v, %v, %v", l, exact, err)
	}
	site, err := measure.ParseScale(`1" = 20'`)
	if err != nil || site.String() != "1:240" {
		t.Errorf(`1" = 20' is %v, %v`, site, err)
	}
	if l, exact, err := site.Drawn(in/1000, measure.RoundUp); exact || err != nil || l != 9 {
		t.Errorf("0.001 in at 1:240 is %d ticks, %v, %v; want 9, rounded up", int64(l), exact, err)
	}
	if got := site.Float64(); got != 1.0/240 {
		t.Errorf("Float64 = %v", got)
	}
	for _, c := range []struct {
		text   string
		err    error
		offset int
	}{
		{``, measure.ErrSyntax, 0}, {`1/4"`, measure.ErrSyntax, 0}, {`1/4" =`, measure.ErrSyntax, 6}, {`= 1'`, measure.ErrSyntax, 0},
		{`1/4" = 1`, measure.ErrUnit, 7}, {`1/4 = 1'`, measure.ErrUnit, 0}, {`1:7-4`, measure.ErrAmbiguous, 2}, {`1:48:2`, measure.ErrSyntax, 4},
		{`0:48`, measure.ErrRange, 0}, {`1:-48`, measure.ErrRange, 0}, {`1:3000000000000`, measure.ErrRange, 0}, {`1:1/7`, measure.ErrInexact, 2},
	} {
		got, err := measure.ParseScale(c.text)
		var pe *measure.ParseError
		if got != (measure.Scale{}) || !errors.Is(err, c.err) || !errors.As(err, &pe) || pe.Kind != "scale" || pe.Input != c.text || pe.Offset != c.offset {
			t.Errorf("ParseScale(%q) = %v, %v (%+v); want %v at %d", c.text, got, err, pe, c.err, c.offset)
		}
	}
	for _, c := range [][2]measure.Length{{0, ft}, {in, 0}, {-in, ft}, {math.MinInt64, math.MinInt64}, {1, math.MaxInt64}} {
		_, err := measure.NewScale(c[0], c[1])
		wantRange(t, "NewScale", int64(0), err)
	}

	var sheet struct{ Scale measure.Scale }
	if err := json.Unmarshal([]byte(`{"Scale": "1/4\" = 1'-0\""}`), &sheet); err != nil {
		t.Fatal(err)
	}
	if b, err := json.Marshal(sheet); string(b) != `{"Scale":"1:48"}` {
		t.Errorf("JSON is %s, %v", b, err)
	}
	if err := json.Unmarshal([]byte(`{"Scale": "1/4"}`), &sheet); !errors.Is(err, measure.ErrSyntax) || sheet.Scale.String() != `1/4" = 1'-0"` {
		t.Errorf("a bad scale: %v, %v", sheet.Scale, err)
	}
}

func TestScaleTextRoundTrips(t *testing.T) {
	terms := rapid.OneOf(rapid.Int64Range(1, 1e12), rapid.Int64Range(1, 2000))
	rapid.Check(t, func(t *rapid.T) {
		s, err := measure.NewScale(measure.Length(terms.Draw(t, "drawn")), measure.Length(terms.Draw(t, "actual")))
		if err != nil {
			t.Fatal(err)
		}
		text, err := s.MarshalText()
		if err != nil {
			t.Fatal(err)
		}
		for _, form := range []string{s.String(), string(text)} {
			if got, err := measure.ParseScale(form); err != nil || got != s {
				t.Fatalf("%s reads as %v, %v", form, got, err)
			}
		}
	})
}

func FuzzParseScale(f *testing.F) {
	for _, s := range []string{`1/4" = 1'-0"`, `1:48`, `1:19.2`, `1" = 20'`, `=`, `:`, `1:1000000000000`, `1mm = 1 m`} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, err := measure.ParseScale(text)
		if err != nil {
			checkParseError(t, text, err)
			return
		}
		if got, err := measure.ParseScale(s.String()); err != nil || got != s {
			t.Errorf("%q is %v, which reads as %v, %v", text, s, got, err)
		}
	})
}
