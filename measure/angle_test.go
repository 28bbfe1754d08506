package measure_test

import (
	"errors"
	"math"
	"testing"

	"example.com/longpoint/measure"
)

const (
	deg = measure.Degree
	arc = measure.Arcsecond
)

func TestParseAngle(t *testing.T) {
	for _, c := range []struct {
		want measure.Angle
		text []string
	}{
		{45 * deg / 2, []string{`22.5`, `22.5°`, `22.5deg`, `22.5 deg.`, `22.5 degrees`, `22 1/2°`, `22½°`, `22-1/2 deg`, `22°30'`, `22° 30′`, `22º30` + "'", `22.5˚`, `22 deg 30 min`, `22°30'0"`, `22°-30'`, `+22.5`, `1350'`, `81000"`}},
		{81015 * arc, []string{`22°30'15"`, `22° 30′ 15″`, `22°30'15''`, `22deg 30min 15sec`, `22 degrees 30 minutes 15 seconds`, `22 deg. 30 min. 15 sec.`}},
		{-81015*arc - arc/2, []string{`-22°30'15.5"`, `−22°30′15½″`}},
		{deg / 3, []string{`1/3°`, `20'`, `⅓ deg`, `0°20'`}},
		{1, []string{`0.000001"`, `0.000001 arcsec`}},
		{0, []string{`0`, `0°`, `-0`, `0°0'0"`}},
		{90 * deg, []string{`90`, `90°`, `89°60'`}},
	} {
		for _, s := range c.text {
			if got, err := measure.ParseAngle(s); err != nil || got != c.want {
				t.Errorf("ParseAngle(%q) = %v, %v; want %v", s, got, err, c.want)
			}
			var u measure.Angle
			if err := u.UnmarshalText([]byte(s)); err != nil || u != c.want {
				t.Errorf("UnmarshalText(%q) = %v, %v; want %v", s, u, err, c.want)
			}
		}
	}
	for _, c := range []struct {
		text string
		err  error
	}{
		{``, measure.ErrSyntax}, {`NaN`, measure.ErrSyntax}, {`1e2`, measure.ErrSyntax}, {`30' 22°`, measure.ErrSyntax}, {`22.5° 30'`, measure.ErrSyntax},
		{`22°30`, measure.ErrUnit}, {`22 rad`, measure.ErrUnit}, {`22 ft`, measure.ErrUnit},
		{`22 30`, measure.ErrAmbiguous}, {`22-30`, measure.ErrAmbiguous}, {`22,5`, measure.ErrAmbiguous}, {`49/16`, measure.ErrAmbiguous},
		{`1/7°`, measure.ErrInexact}, {`0.0000001"`, measure.ErrInexact},
		{`3000000000`, measure.ErrRange},
	} {
		got, err := measure.ParseAngle(c.text)
		var pe *measure.ParseError
		if got != 0 || !errors.Is(err, c.err) || !errors.As(err, &pe) || pe.Kind != "angle" {
			t.Errorf("ParseAngle(%q) = %v, %v; want %v", c.text, got, err, c.err)
		}
	}
}

func TestAngleString(t *testing.T) {
	for _, c := range []struct {
		a          measure.Angle
		text, mark string
	}{
		{0, `0°`, `0deg`},
		{45 * deg / 2, `22.5°`, `22.5deg`},
		{-deg / 8, `-0.125°`, `-0.125deg`},
		{9 * arc, `0.0025°`, `0.0025deg`},
		{9, `0.0000000025°`, `0.0000000025deg`},
		{81015 * arc, `22°30'15"`, `22deg 30min 15sec`},
		{-deg / 3, `-0°20'0"`, `-0deg 20min 0sec`},
		{1, `0°0'0.000001"`, `0deg 0min 0.000001sec`},
		{math.MinInt64, `-2562047788°0'54.775808"`, `-2562047788deg 0min 54.775808sec`},
	} {
		if got := c.a.String(); got != c.text {
			t.Errorf("String of %d = %s, want %s", int64(c.a), got, c.text)
		}
		if got, err := c.a.MarshalText(); err != nil || string(got) != c.mark {
			t.Errorf("MarshalText of %d = %s, %v, want %s", int64(c.a), got, err, c.mark)
		}
	}
}

func TestAngleRound(t *testing.T) {
	// The miter for crown of 38 degrees spring on a square corner is 31.62 degrees
	// and the bevel 33.86 (saw manuals); a saw with half-degree marks shows these.
	for _, c := range []struct {
		degrees          float64
		graduation, want measure.Angle
	}{
		{31.62, deg / 2, 31*deg + deg/2},
		{33.86, deg / 2, 34 * deg},
		{31.6175, deg / 10, 31*deg + 6*deg/10},
		{22.25, deg / 2, 22 * deg},   // midway, to the even multiple of a half
		{22.75, deg / 2, 23 * deg},   // midway, to the even multiple of a half
		{-22.75, deg / 2, -23 * deg}, // the same below zero
		{22.6, 0, 22*deg + 6*deg/10}, // no graduation
	} {
		a, err := measure.FromDegrees(c.degrees)
		if err != nil {
			t.Fatal(err)
		}
		if got := a.Round(c.graduation, measure.RoundHalfEven); got != c.want {
			t.Errorf("%v° to %v = %v, want %v", c.degrees, c.graduation, got, c.want)
		}
	}
}

func TestAngleFloats(t *testing.T) {
	if got := (45 * deg / 2).Degrees(); got != 22.5 {
		t.Errorf("Degrees = %v", got)
	}
	if got := (180 * deg).Radians(); got != math.Pi {
		t.Errorf("Radians = %v", got)
	}
	// The miter of a regular polygon is 180° by the number of sides: 36, 30 and
	// 22.5 for five, six and eight ("Figure out uncommon angles" page, a saw
	// manual).
	for n, want := range map[measure.Angle]measure.Angle{5: 36 * deg, 6: 30 * deg, 8: 45 * deg / 2} {
		got, err := measure.FromDegrees(180 / float64(n))
		if err != nil || got != want || got != 180*deg/n {
			t.Errorf("180°/%d = %v, %v; want %v", int64(n), got, err, want)
		}
	}
}
