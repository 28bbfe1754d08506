package measure_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"pgregory.net/rapid"
)

func slope(t *testing.T, rise, run measure.Length) measure.Slope {
	t.Helper()
	s, err := measure.NewSlope(rise, run)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestParseSlope(t *testing.T) {
	for _, c := range []struct {
		rise, run measure.Length
		str, mark string
		text      []string
	}{
		{7, 12, `7 in 12`, `7:12`, []string{`7 in 12`, `7:12`, `7 IN 12`, `7 : 12`, `7" in 12"`, `7 in in 12 in`, `7 in. in 1 ft`, `7" per foot`, `7 in per ft.`, `14:24`, `3.5:6`}},
		{15, 24, `7-1/2 in 12`, `5:8`, []string{`7 1/2 in 12`, `7-1/2 in 12`, `7.5 in 12`, `7½:12`, `62.5%`}},
		{1, 48, `1/4 in 12`, `1:48`, []string{`1/4" per foot`, `1/4 in per ft`, `1/4" in 1'`, `¼ in 12`, `1 in 48`, `1 ft per 48 ft`}},
		{1, 12, `1 in 12`, `1:12`, []string{`1:12`, `1 in 12`, `1" per foot`, `3" per yard`}},
		{1, 50, `1:50`, `1:50`, []string{`2%`, `2 %`, `1:50`, `20 mm per m`, `20mm : 1 m`}},
		{1, 36, `1:36`, `1:36`, []string{`1/3 in 12`, `⅓ in 12`, `1" per yard`}},
		{833, 10000, `833:10000`, `833:10000`, []string{`8.33%`}},
		{-1, 4, `-3 in 12`, `-1:4`, []string{`-3 in 12`, `-1:4`, `-25%`}},
		{0, 1, `0 in 12`, `0:1`, []string{`0%`, `0:12`, `0 in 1`, `0" per foot`}},
		{1, 1, `12 in 12`, `1:1`, []string{`12 in 12`, `100%`, `1:1`}},
		{1e12, 1e12 - 1, `1000000000000:999999999999`, `1000000000000:999999999999`, nil},
	} {
		want := slope(t, c.rise, c.run)
		if want.String() != c.str {
			t.Errorf("%d:%d is written %s, want %s", c.rise, c.run, want, c.str)
		}
		if mark, err := want.MarshalText(); string(mark) != c.mark {
			t.Errorf("%v is marshaled as %s, %v; want %s", want, mark, err, c.mark)
		}
		for _, s := range append(c.text, c.str, c.mark) {
			if got, err := measure.ParseSlope(s); err != nil || got != want {
				t.Errorf("ParseSlope(%q) = %v, %v; want %v", s, got, err, want)
			}
			var u measure.Slope
			if err := u.UnmarshalText([]byte(s)); err != nil || u != want {
				t.Errorf("UnmarshalText(%q) = %v, %v; want %v", s, u, err, want)
			}
		}
	}
	for _, c := range []struct {
		text   string
		err    error
		offset int
		part   string
	}{
		{``, measure.ErrSyntax, 0, ``}, {`7`, measure.ErrSyntax, 0, `7`}, {`in`, measure.ErrSyntax, 0, `in`}, {`7 in `, measure.ErrSyntax, 5, ``},
		{`7:`, measure.ErrSyntax, 2, ``}, {`: 12`, measure.ErrSyntax, 0, ``}, {`7 in x`, measure.ErrSyntax, 5, `x`}, {`7" in 12`, measure.ErrUnit, 6, `12`}, {`7 in 12"`, measure.ErrUnit, 0, `7`},
		{`7-4 in 12`, measure.ErrAmbiguous, 0, `7-4`}, {`7/12`, measure.ErrAmbiguous, 0, `7/12`}, {`1/4"`, measure.ErrSyntax, 0, `1/4"`}, {`7 1/2`, measure.ErrSyntax, 0, `7 1/2`}, {`113/16`, measure.ErrSyntax, 0, `113/16`},
		{`7:0`, measure.ErrRange, 0, `7:0`}, {`7:-12`, measure.ErrRange, 0, `7:-12`}, {`0.0000000000001:1`, measure.ErrInexact, 0, `0.0000000000001`}, {`1:1500000000000`, measure.ErrRange, 0, `1:1500000000000`}, {`1:4000000000000`, measure.ErrRange, 2, `4000000000000`},
		{strings.Repeat("7", 129), measure.ErrSyntax, 0, strings.Repeat("7", 129)}, {`per foot`, measure.ErrSyntax, 0, `per foot`}, {` per foot`, measure.ErrSyntax, 0, ``},
	} {
		got, err := measure.ParseSlope(c.text)
		var pe *measure.ParseError
		if got != (measure.Slope{}) || !errors.Is(err, c.err) || !errors.As(err, &pe) || pe.Kind != "slope" || pe.Input != c.text || pe.Offset != c.offset || pe.Part != c.part {
			t.Errorf("ParseSlope(%q) = %v, %v (%+v); want %v", c.text, got, err, pe, c.err)
		}
	}
	// Rise over run, or rise over the span of two runs.
	_, err := measure.ParseSlope(`7/12`)
	var pe *measure.ParseError
	if !errors.As(err, &pe) || len(pe.Choices) != 2 || pe.Choices[0] != `7 in 12` || pe.Choices[1] != `14 in 12` {
		t.Errorf("7/12 offers %+v", pe)
	}
}

func TestSlope(t *testing.T) {
	seven := slope(t, 7*in, ft)
	if rise, exact, err := seven.Rise(10*ft, measure.RoundHalfEven); rise != 70*in || !exact || err != nil {
		t.Errorf("7 in 12 rises %v in 10', %v, %v", rise, exact, err)
	}
	if run, exact, err := seven.Run(70*in, measure.RoundHalfEven); run != 10*ft || !exact || err != nil {
		t.Errorf("7 in 12 rises 70 in in %v, %v, %v", run, exact, err)
	}
	if run, exact, err := seven.Run(in, measure.RoundUp); run != 3483429 || exact || err != nil {
		t.Errorf("7 in 12 rises 1 in in %d ticks, %v, %v", int64(run), exact, err)
	}
	level := measure.Slope{}
	if rise, exact, err := level.Rise(10*ft, measure.RoundHalfEven); rise != 0 || !exact || err != nil || level.Angle() != 0 || level.Float64() != 0 {
		t.Errorf("level rises %v, %v, %v", rise, exact, err)
	}
	run, _, err := level.Run(in, measure.RoundUp)
	wantRange(t, "Slope.Run", run, err)
	for _, c := range [][2]measure.Length{{1, 0}, {1, -1}, {math.MinInt64, 1}, {1, math.MaxInt64}, {math.MaxInt64, 1}} {
		_, err := measure.NewSlope(c[0], c[1])
		wantRange(t, "NewSlope", int64(0), err)
	}
	// Derived: 12 in 12 is 45 degrees, atan(7/12) is 30.256437 degrees, and a
	// ramp of 1:12, 4.763642 degrees.
	for _, c := range []struct {
		rise, run measure.Length
		want      float64
	}{{12, 12, 45}, {-1, 1, -45}, {7, 12, 30.256437}, {1, 12, 4.763642}} {
		if got := slope(t, c.rise, c.run).Angle().Degrees(); math.Abs(got-c.want) > 5e-7 {
			t.Errorf("%d in %d is %v degrees, want %v", c.rise, c.run, got, c.want)
		}
	}
	if got := slope(t, 12, 12).Angle(); got != 45*deg {
		t.Errorf("12 in 12 is %v", got)
	}
}

func anySlope(t *rapid.T) measure.Slope {
	term := rapid.OneOf(rapid.Int64Range(1, 1e12), rapid.Int64Range(1, 2000))
	rise := term.Draw(t, "rise") * rapid.Int64Range(-1, 1).Draw(t, "sign")
	s, err := measure.NewSlope(measure.Length(rise), measure.Length(term.Draw(t, "run")))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestSlopeTextRoundTrips(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySlope(t)
		mark, err := s.MarshalText()
		if err != nil {
			t.Fatal(err)
		}
		for _, text := range []string{s.String(), string(mark)} {
			if got, err := measure.ParseSlope(text); err != nil || got != s {
				t.Fatalf("%s reads as %v, %v", text, got, err)
			}
		}
	})
}

func FuzzParseSlope(f *testing.F) {
	for _, s := range []string{`7 in 12`, `1/4" per foot`, `2%`, `-1:12`, `7/12`, ` in `, `%`, `1 in in in 1 in`, `: per `} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, err := measure.ParseSlope(text)
		if err != nil {
			checkParseError(t, text, err)
			return
		}
		if got, err := measure.ParseSlope(s.String()); err != nil || got != s {
			t.Errorf("%q is %v, which reads as %v, %v", text, s, got, err)
		}
	})
}
