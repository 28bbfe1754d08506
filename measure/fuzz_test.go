package measure_test

import (
	"errors"
	"testing"

	"example.com/longpoint/measure"
)

// Whatever the text, reading it does not panic; what is read is written and
// read again to the same value; what is not read is a *ParseError that points
// into the text.

func FuzzParse(f *testing.F) {
	for _, c := range spellings {
		for _, s := range c.text {
			f.Add(s)
		}
	}
	for _, s := range []string{`7-4`, `6 1/2 3/4`, `5/0`, `5 9/8"`, `1/7"`, `113/16"`, `7' 30mm`, `1e9 m`, `9223372036854775807 m`} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		l, err := measure.Parse(s)
		if err != nil {
			checkParseError(t, s, err)
			if r, err := (measure.Parser{Unit: in, Grain: in / 16, Rounding: measure.Up}).Parse(s); err == nil && r%(in/16) != 0 {
				t.Errorf("%q rounds to %v, no multiple of a sixteenth", s, r)
			}
			return
		}
		roundTrip(t, l)
		if p, err := (measure.Parser{Unit: mm, Grain: 1}).Parse(s); err != nil || p != l {
			t.Errorf("a lenient Parser reads %q as %v, %v; want %v", s, p, err, l)
		}
	})
}

func FuzzUnmarshal(f *testing.F) {
	for _, s := range []string{`7ft 4-3/4in`, `22.5deg`, `22°30'15"`, `12.5 sq ft`, `600 mm²`, `3 gal`, `10.1 fl oz`, `7 cu in`, `12 bd ft`, `1 gal 1 qt`} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		var (
			l measure.Length
			a measure.Angle
			r measure.Area
			v measure.Volume
		)
		if err := l.UnmarshalText(b); err != nil {
			checkParseError(t, string(b), err)
		} else {
			roundTrip(t, l)
		}
		for _, c := range []struct {
			err error
			n   func() int64
		}{
			{a.UnmarshalText(b), func() int64 { return int64(a) }},
			{r.UnmarshalText(b), func() int64 { return int64(r) }},
			{v.UnmarshalText(b), func() int64 { return int64(v) }},
		} {
			if c.err != nil {
				checkParseError(t, string(b), c.err)
			} else {
				roundTripQuantities(t, c.n())
			}
		}
	})
}

func checkParseError(t *testing.T, s string, err error) {
	t.Helper()
	var e *measure.ParseError
	if !errors.As(err, &e) {
		t.Fatalf("%q: %v is no *ParseError", s, err)
	}
	if e.Input != s || e.Offset < 0 || e.Offset+len(e.Part) > len(s) || s[e.Offset:e.Offset+len(e.Part)] != e.Part || e.Reason == "" {
		t.Errorf("%q: %#v does not point into the text", s, e)
	}
	for _, sentinel := range []error{measure.ErrSyntax, measure.ErrUnit, measure.ErrAmbiguous, measure.ErrInexact, measure.ErrRange} {
		if errors.Is(err, sentinel) {
			return
		}
	}
	t.Errorf("%q: %v matches no sentinel", s, err)
}

// The text of every value reads back, whatever the bits.
func FuzzText(f *testing.F) {
	for _, n := range []int64{0, 1, -1, 2032000, -15875, 2032, 1<<63 - 1, -1 << 63} {
		f.Add(n)
	}
	f.Fuzz(func(t *testing.T, n int64) {
		roundTrip(t, measure.Length(n))
		roundTripQuantities(t, n)
	})
}
