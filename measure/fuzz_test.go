package measure_test

import (
	"cmp"
	"errors"
	"math"
	"testing"

	"example.com/longpoint/measure"
)

// Whatever the text, parsing it does not panic; a parsed value is written and parsed to the same value;
// an error is a *ParseError that points into the text.

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
			checkChoices(t, s, err, measure.Parse)
			if r, err := (measure.Parser{Unit: in, Graduation: in / 16, Rounding: measure.RoundUp}).Parse(s); err == nil && r%(in/16) != 0 {
				t.Errorf("%q rounds to %v, which is not a multiple of a sixteenth", s, r)
			}
			return
		}
		roundTrip(t, l)
		if p, err := (measure.Parser{Unit: mm, Graduation: 1}).Parse(s); err != nil || p != l {
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
		t.Fatalf("%q: %v is not a *ParseError", s, err)
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

// checkChoices parses the choices of an error: a choice is written as String writes it, and the
// neighbors of an inexact one are graduations, or ticks at the end of the range.
func checkChoices(t *testing.T, s string, err error, parse func(string) (measure.Length, error)) {
	t.Helper()
	var e *measure.ParseError
	if !errors.As(err, &e) {
		return
	}
	var read []measure.Length
	for _, c := range e.Choices {
		l, err := parse(c)
		if err != nil || l.String() != c {
			t.Errorf("%q offers %q, which reads as %v, %v", s, c, l, err)
		}
		read = append(read, l)
	}
	switch {
	case e.Err == measure.ErrInexact:
		if len(read) != 2 {
			t.Errorf("%q is between %v", s, e.Choices)
			return
		}
		switch graduation := read[1] - read[0]; {
		case graduation == 1 && (read[0] > math.MaxInt64-measure.Inch/16 || read[0] < math.MinInt64+measure.Inch/16):
		case graduation != measure.Inch/16 && graduation != measure.Inch/128 && graduation != measure.Millimeter/10 && graduation != measure.Micrometer, read[0]%graduation != 0:
			t.Errorf("%q is between %v", s, e.Choices)
		}
	case e.Err != measure.ErrAmbiguous && len(read) > 0:
		t.Errorf("%q is %v and offers %v", s, e.Err, e.Choices)
	}
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

// Words are parsed without a panic, and a parsed value is spoken and parsed to the same value.
func FuzzParseSpoken(f *testing.F) {
	for _, c := range spoken {
		for _, s := range c.text {
			f.Add(s)
		}
	}
	for _, s := range []string{`seven four`, `six foot and a half`, `two hundred five eighths`, `one two three`, `a hundred a thousand`, `one over zero`, `nine billion billion feet`, `point one`, `seven point oh oh five`} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		l, side, err := measure.ParseSpoken(s)
		if err != nil {
			if checkParseError(t, s, err); l != 0 || side != 0 {
				t.Errorf("%q: %v, %d with an error", s, l, side)
			}
			checkChoices(t, s, err, func(s string) (measure.Length, error) {
				l, _, err := measure.ParseSpoken(s)
				return l, err
			})
			return
		}
		if side < -1 || side > 1 {
			t.Errorf("%q: side %d", s, side)
		}
		if written, err := measure.Parse(s); err == nil && (written != l || side != 0) {
			t.Errorf("%q is written %v, but spoken %v, %d", s, written, l, side)
		}
		words := l.Format(measure.Style{Spoken: true})
		if again, side, err := measure.ParseSpoken(words); err != nil || again != l || side != 0 {
			t.Errorf("%q is %q, which reads as %v, %d, %v", s, words, again, side, err)
		}
		short := measure.Style{Spoken: true, Graduation: in / 16, MarkInexact: true}
		mark := l.Round(in/16, measure.RoundHalfEven)
		if again, side, err := measure.ParseSpoken(l.Format(short)); err != nil || again != mark || side != cmp.Compare(l, mark) {
			t.Errorf("%q is %q, which reads as %v, %d, %v", s, l.Format(short), again, side, err)
		}
	})
}

// Any style of any length shows exactly the rounded length.
func FuzzStyle(f *testing.F) {
	f.Add(int64(7*ft+4*in+3*in/4), int64(0), int64(in/16), uint8(0), uint8(0))
	f.Add(int64(10*ft), int64(0), int64(0), uint8(0), uint8(0x14))
	f.Add(int64(2257*mm), int64(ft), int64(ft/100), uint8(2), uint8(0x20))
	f.Add(int64(-1), int64(measure.Meter), int64(mm), uint8(1), uint8(0x28))
	f.Add(int64(math.MinInt64), int64(in), int64(in/128), uint8(3), uint8(1))
	f.Add(int64(math.MaxInt64), int64(-in), int64(math.MaxInt64), uint8(255), uint8(255))
	f.Fuzz(func(t *testing.T, n, unit, graduation int64, mode, flags uint8) {
		l := measure.Length(n)
		set := func(bit int) bool { return flags>>bit&1 != 0 }
		s := measure.Style{Unit: measure.Length(unit), Graduation: measure.Length(graduation), Rounding: measure.Rounding(mode),
			Spoken: set(0), Decimal: set(1), Hyphen: set(2), Tight: set(3), Zeros: set(4), DecimalComma: set(5), Words: set(6), Typographic: set(7)}
		text := string(l.AppendFormat([]byte("wall "), s))
		if text = text[len("wall "):]; text != l.Format(s) {
			t.Errorf("appended %q, formatted %q", text, l.Format(s))
		}
		if err := shows(l, s); err != nil {
			t.Error(err)
		}
	})
}
