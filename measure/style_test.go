package measure_test

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"pgregory.net/rapid"
)

func TestStyle(t *testing.T) {
	type S = measure.Style
	l := measure.MustParse(`7' 4-3/4"`)
	for _, c := range []struct {
		l    measure.Length
		s    S
		want string
	}{
		{l, S{}, `7' 4-3/4"`},
		{l, S{Words: true}, `7 ft 4-3/4 in`},
		{l, S{Typographic: true}, `7′ 4¾″`},
		{l, S{Hyphen: true, Zeros: true}, `7'-4 3/4"`},
		{l, S{Hyphen: true, Zeros: true, Words: true}, `7 ft 4 3/4 in`},
		{l, S{Hyphen: true, Zeros: true, Typographic: true}, `7′-4¾″`},
		{l, S{Unit: measure.Inch}, `88-3/4"`},
		{l, S{Unit: measure.Inch, Hyphen: true, Zeros: true}, `88 3/4"`},
		{l, S{Unit: measure.Inch, Decimal: true}, `88.75"`},
		{l, S{Unit: measure.Inch, Decimal: true, Graduation: in / 1000}, `88.750"`},
		{l, S{Unit: measure.Inch, Decimal: true, Graduation: in / 16}, `88.7500"`},
		{l, S{Unit: measure.Foot, Graduation: ft / 1000}, `7.396'`},
		{l, S{Unit: measure.Foot, Graduation: ft / 100, Words: true}, `7.40 ft`},
		{l, S{Unit: measure.Foot, Graduation: ft}, `7'`},
		{l, S{Unit: measure.Millimeter}, `2254.25 mm`},
		{l, S{Unit: measure.Millimeter, Graduation: mm}, `2254 mm`},
		{l, S{Unit: measure.Millimeter, Graduation: mm, Rounding: measure.RoundUp}, `2255 mm`},
		{l, S{Unit: measure.Centimeter, Graduation: mm}, `225.4 cm`},
		{l, S{Unit: measure.Meter, Graduation: mm}, `2.254 m`},
		{l, S{Unit: measure.Meter}, `2.25425 m`},
		{1, S{Unit: measure.Meter}, `0.0000000125 m`},
		// Rounding to a tape, and the remainder over or under.
		{l + in/40, S{Graduation: in / 16}, `7' 4-3/4"`},
		{l + in/40, S{Graduation: in / 16, MarkInexact: true}, `7' 4-3/4"+`},
		{l - in/40, S{Graduation: in / 16, MarkInexact: true}, `7' 4-3/4"-`},
		{l, S{Graduation: in / 16, MarkInexact: true}, `7' 4-3/4"`},
		{8*ft - in/64, S{Graduation: in / 16}, `8'`},
		// Drawing rules: zero inches are kept, and below one foot there are only inches.
		{10 * ft, S{Hyphen: true, Zeros: true}, `10'-0"`},
		{10 * ft, S{Hyphen: true, Zeros: true, Words: true}, `10 ft 0 in`},
		{9 * in, S{Hyphen: true, Zeros: true}, `9"`},
		{3 * in / 4, S{Hyphen: true, Zeros: true}, `3/4"`},
		{10*ft + 3*in/4, S{Hyphen: true, Zeros: true}, `10'-0 3/4"`},
		{10*ft + 3*in/4, S{}, `10' 3/4"`},
		{10*ft + 3*in/4, S{Hyphen: true, Zeros: true, Typographic: true}, `10′-0¾″`},
		{10*ft + 3*in/16, S{Hyphen: true, Zeros: true, Typographic: true}, `10′-0 3/16″`},
		// The separator and the zeros by themselves.
		{l, S{Hyphen: true}, `7'-4 3/4"`},
		{l, S{Tight: true}, `7'4-3/4"`},
		{l, S{Tight: true, Words: true}, `7 ft 4-3/4 in`},
		{l, S{Tight: true, Typographic: true}, `7′4¾″`},
		{10 * ft, S{Zeros: true}, `10' 0"`},
		{10 * ft, S{Hyphen: true}, `10'`},
		{10*ft + 3*in/4, S{Zeros: true}, `10' 0-3/4"`},
		{10*ft + 3*in/4, S{Hyphen: true}, `10'-3/4"`},
		{l, S{Unit: 99, Rounding: 99}, `7' 4-3/4"`},
		{l, S{Unit: -in}, `7' 4-3/4"`},
		{l, S{Unit: math.MinInt64, Spoken: true}, `seven feet four and three quarters inches`},
		{l, S{Hyphen: true, Tight: true}, `7'-4 3/4"`},
		// Words and typographic fractions go together.
		{l, S{Words: true, Typographic: true}, `7 ft 4¾ in`},
		{l, S{Words: true, Typographic: true, Unit: in}, `88¾ in`},
		// Decimal inches after feet, as digital levels show them.
		{l, S{Decimal: true}, `7' 4.75"`},
		{l, S{Decimal: true, Graduation: in / 100}, `7' 4.75"`},
		{l, S{Decimal: true, Graduation: in / 10, Words: true}, `7 ft 4.8 in`},
		{l, S{Decimal: true, Hyphen: true, Typographic: true}, `7′-4.75″`},
		{8*ft - in/1000, S{Decimal: true, Graduation: in / 100}, `8'`},
		{8*ft - in/1000, S{Decimal: true, Graduation: in / 100, Zeros: true}, `8' 0.00"`},
		{-ft - in/4, S{Decimal: true, Tight: true}, `-1'0.25"`},
		{in / 4, S{Decimal: true, Zeros: true}, `0.25"`},
		{100 * mm, S{Decimal: true}, `100mm`},
		// In words.
		{l, S{Spoken: true}, `seven feet four and three quarters inches`},
		{l, S{Spoken: true, Unit: in}, `eighty-eight and three quarters inches`},
		{ft, S{Spoken: true, Unit: in, Decimal: true}, `twelve inches`},
		{l + 1, S{Spoken: true, Unit: in, Graduation: in / 16, MarkInexact: true}, `eighty-eight and three quarters inches strong`},
		{l + 1, S{Spoken: true, Unit: mm, Graduation: mm, MarkInexact: true}, `2254 mm+`},
		{1_100_000_000_000 * in, S{Spoken: true, Unit: in}, `91666666666' 8"`},
		// Decimal commas.
		{l, S{Unit: mm, DecimalComma: true}, `2254,25 mm`},
		{l, S{Unit: mm, Graduation: mm, DecimalComma: true}, `2254 mm`},
		{l, S{Unit: measure.Meter, Graduation: mm, DecimalComma: true, MarkInexact: true}, `2,254 m+`},
		{l, S{Unit: in, Decimal: true, DecimalComma: true}, `88,75"`},
		{88*in + in/1000, S{DecimalComma: true}, `88,001"`},
		{2219*mm + 26001, S{DecimalComma: true}, `2219,3250125mm`},
		{l, S{DecimalComma: true, Words: true}, `7 ft 4-3/4 in`},
		{l, S{DecimalComma: true, Spoken: true}, `seven feet four and three quarters inches`},
		{0, S{Hyphen: true, Zeros: true}, `0"`},
		{-l, S{Hyphen: true, Zeros: true}, `-7'-4 3/4"`},
		// Sixteenths have no code point.
		{4*in + 3*in/16, S{Typographic: true}, `4 3/16″`},
		{3 * in / 16, S{Typographic: true}, `3/16″`},
		{5 * in / 8, S{Typographic: true}, `⅝″`},
		{4 * in, S{Typographic: true}, `4″`},
		// Values that a form cannot show.
		{100 * mm, S{}, `100mm`},
		{100 * mm, S{Unit: measure.Foot}, `100mm`},
		{100 * mm, S{Unit: measure.Foot, Graduation: mm}, `100mm`},
		{l, S{Unit: measure.Foot}, `7' 4-3/4"`},
	} {
		if got := c.l.Format(c.s); got != c.want {
			t.Errorf("%v in %+v = %s, want %s", c.l, c.s, got, c.want)
		}
	}
}

func anyStyle() *rapid.Generator[measure.Style] {
	return rapid.Custom(func(t *rapid.T) measure.Style {
		return measure.Style{
			Unit:         rapid.SampledFrom([]measure.Length{0, in, ft, mm, 10 * mm, measure.Meter, -1, measure.Yard}).Draw(t, "unit"),
			Decimal:      rapid.Bool().Draw(t, "decimal"),
			Spoken:       rapid.IntRange(0, 3).Draw(t, "spoken") == 0,
			Graduation:   rapid.SampledFrom([]measure.Length{0, -1, 1, 2, 3, in, in / 2, in / 16, in / 128, in / 10, in / 1000, ft, ft / 10, ft / 100, ft / 1000, mm, mm / 10, measure.Meter, math.MaxInt64}).Draw(t, "graduation"),
			Rounding:     rapid.SampledFrom(modes).Draw(t, "mode"),
			Words:        rapid.Bool().Draw(t, "words"),
			Typographic:  rapid.Bool().Draw(t, "typographic"),
			Hyphen:       rapid.Bool().Draw(t, "hyphen"),
			Tight:        rapid.Bool().Draw(t, "tight"),
			DecimalComma: rapid.Bool().Draw(t, "comma"),
			Zeros:        rapid.Bool().Draw(t, "zeros"),
		}
	})
}

// shows reports whether l in the style s parses as exactly the rounded value.
func shows(l measure.Length, s measure.Style) error {
	text, want := l.Format(s), l.Round(s.Graduation, s.Rounding)
	inWords := !strings.ContainsAny(text, "0123456789⅛¼⅜½⅝¾⅞")
	got, err := measure.Parser{DecimalComma: s.DecimalComma}.Parse(text)
	if inWords {
		got, _, err = measure.ParseSpoken(text)
	}
	switch known := s.Unit == ft || s.Unit == mm || s.Unit == 10*mm || s.Unit == measure.Meter; {
	case err != nil || got != want:
		return fmt.Errorf("%d in %+v is %q, which reads as %v, %v; want %v", l, s, text, got, err, want)
	case inWords && (!s.Spoken || known), !inWords && s.Spoken && !known && want%(in/128) == 0 && want.Inches() < 1e12 && want.Inches() > -1e12:
		return fmt.Errorf("%d in %+v is %q", l, s, text)
	case s.DecimalComma && strings.Contains(text, "."), !s.DecimalComma && strings.Contains(text, ","):
		return fmt.Errorf("%d in %+v is %q", l, s, text)
	}
	s.MarkInexact = true
	text = strings.Replace(l.Format(s), ",", ".", 1)
	if got, side, err := measure.ParseSpoken(text); err != nil || got != want || side != cmp.Compare(l, want) {
		return fmt.Errorf("%d in %+v is %q, which reads as %v, %d, %v; want %v", l, s, text, got, side, err, want)
	}
	return nil
}

// A style shows exactly the rounded value.
func TestStyleRoundTrips(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, s := anyLength().Draw(t, "l"), anyStyle().Draw(t, "style")
		if err := shows(l, s); err != nil {
			t.Fatal(err)
		}
		if text := l.Format(s); s == (measure.Style{}) && text != l.String() {
			t.Fatalf("the zero style writes %s, String %s", text, l)
		}
	})
}

// A value marked as inexact cannot be parsed as exact.
func TestInexactIsNotRead(t *testing.T) {
	s := measure.Style{Graduation: in / 16, MarkInexact: true}
	text := measure.MustParse(`4-3/32"`).Format(s)
	if got, err := measure.Parse(text); !errors.Is(err, measure.ErrAmbiguous) {
		t.Errorf("Parse(%q) = %v, %v; want ErrAmbiguous", text, got, err)
	}
}

func TestAppendFormatDoesNotAllocate(t *testing.T) {
	buf := make([]byte, 0, 64)
	l := measure.MustParse(`7' 4-3/4"`)
	if n := testing.AllocsPerRun(100, func() {
		for _, unit := range []measure.Length{0, in, ft, mm, 10 * mm, measure.Meter} {
			for i := range 16 {
				buf = l.AppendFormat(buf[:0], measure.Style{Unit: unit, Graduation: in / 16, Hyphen: true, Zeros: true,
					Decimal: i&1 != 0, Spoken: i&2 != 0, Typographic: i&4 != 0, Words: i&8 != 0, DecimalComma: i&8 != 0})
			}
		}
	}); n != 0 {
		t.Errorf("AppendFormat allocates %v times", n)
	}
}
