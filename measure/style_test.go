package measure_test

import (
	"cmp"
	"errors"
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
		{l, S{Marks: measure.WordMarks}, `7 ft 4-3/4 in`},
		{l, S{Marks: measure.Primes}, `7′ 4¾″`},
		{l, S{Separator: measure.HyphenBetween, Zeros: true}, `7'-4 3/4"`},
		{l, S{Separator: measure.HyphenBetween, Zeros: true, Marks: measure.WordMarks}, `7 ft 4 3/4 in`},
		{l, S{Separator: measure.HyphenBetween, Zeros: true, Marks: measure.Primes}, `7′-4¾″`},
		{l, S{Form: measure.Inches}, `88-3/4"`},
		{l, S{Form: measure.Inches, Separator: measure.HyphenBetween, Zeros: true}, `88 3/4"`},
		{l, S{Form: measure.DecimalInches}, `88.75"`},
		{l, S{Form: measure.DecimalInches, Graduation: in / 1000}, `88.750"`},
		{l, S{Form: measure.DecimalInches, Graduation: in / 16}, `88.7500"`},
		{l, S{Form: measure.DecimalFeet, Graduation: ft / 1000}, `7.396'`},
		{l, S{Form: measure.DecimalFeet, Graduation: ft / 100, Marks: measure.WordMarks}, `7.40 ft`},
		{l, S{Form: measure.DecimalFeet, Graduation: ft}, `7'`},
		{l, S{Form: measure.Millimeters}, `2254.25 mm`},
		{l, S{Form: measure.Millimeters, Graduation: mm}, `2254 mm`},
		{l, S{Form: measure.Millimeters, Graduation: mm, Rounding: measure.RoundUp}, `2255 mm`},
		{l, S{Form: measure.Centimeters, Graduation: mm}, `225.4 cm`},
		{l, S{Form: measure.Meters, Graduation: mm}, `2.254 m`},
		{l, S{Form: measure.Meters}, `2.25425 m`},
		{1, S{Form: measure.Meters}, `0.0000000125 m`},
		// Rounding to a tape, and what is over or under.
		{l + in/40, S{Graduation: in / 16}, `7' 4-3/4"`},
		{l + in/40, S{Graduation: in / 16, MarkInexact: true}, `7' 4-3/4"+`},
		{l - in/40, S{Graduation: in / 16, MarkInexact: true}, `7' 4-3/4"-`},
		{l, S{Graduation: in / 16, MarkInexact: true}, `7' 4-3/4"`},
		{8*ft - in/64, S{Graduation: in / 16}, `8'`},
		// Drawing rules: zero inches are kept, and below one foot there are only inches.
		{10 * ft, S{Separator: measure.HyphenBetween, Zeros: true}, `10'-0"`},
		{10 * ft, S{Separator: measure.HyphenBetween, Zeros: true, Marks: measure.WordMarks}, `10 ft 0 in`},
		{9 * in, S{Separator: measure.HyphenBetween, Zeros: true}, `9"`},
		{3 * in / 4, S{Separator: measure.HyphenBetween, Zeros: true}, `3/4"`},
		{10*ft + 3*in/4, S{Separator: measure.HyphenBetween, Zeros: true}, `10'-0 3/4"`},
		{10*ft + 3*in/4, S{}, `10' 3/4"`},
		{10*ft + 3*in/4, S{Separator: measure.HyphenBetween, Zeros: true, Marks: measure.Primes}, `10′-0¾″`},
		{10*ft + 3*in/16, S{Separator: measure.HyphenBetween, Zeros: true, Marks: measure.Primes}, `10′-0 3/16″`},
		// The separator and the zeros by themselves.
		{l, S{Separator: measure.HyphenBetween}, `7'-4 3/4"`},
		{l, S{Separator: measure.NothingBetween}, `7'4-3/4"`},
		{l, S{Separator: measure.NothingBetween, Marks: measure.WordMarks}, `7 ft 4-3/4 in`},
		{l, S{Separator: measure.NothingBetween, Marks: measure.Primes}, `7′4¾″`},
		{10 * ft, S{Zeros: true}, `10' 0"`},
		{10 * ft, S{Separator: measure.HyphenBetween}, `10'`},
		{10*ft + 3*in/4, S{Zeros: true}, `10' 0-3/4"`},
		{10*ft + 3*in/4, S{Separator: measure.HyphenBetween}, `10'-3/4"`},
		{l, S{Form: 99, Marks: 99, Separator: 99, Rounding: 99}, `7' 4-3/4"`},
		{0, S{Separator: measure.HyphenBetween, Zeros: true}, `0"`},
		{-l, S{Separator: measure.HyphenBetween, Zeros: true}, `-7'-4 3/4"`},
		// Sixteenths have no code point of their own.
		{4*in + 3*in/16, S{Marks: measure.Primes}, `4 3/16″`},
		{3 * in / 16, S{Marks: measure.Primes}, `3/16″`},
		{5 * in / 8, S{Marks: measure.Primes}, `⅝″`},
		{4 * in, S{Marks: measure.Primes}, `4″`},
		// What a form cannot show.
		{100 * mm, S{}, `100mm`},
		{100 * mm, S{Form: measure.DecimalFeet}, `100mm`},
		{100 * mm, S{Form: measure.DecimalFeet, Graduation: mm}, `100mm`},
		{l, S{Form: measure.DecimalFeet}, `7' 4-3/4"`},
	} {
		if got := c.l.Format(c.s); got != c.want {
			t.Errorf("%v in %+v = %s, want %s", c.l, c.s, got, c.want)
		}
	}
}

func anyStyle() *rapid.Generator[measure.Style] {
	return rapid.Custom(func(t *rapid.T) measure.Style {
		return measure.Style{
			Form:       measure.Form(rapid.IntRange(0, 8).Draw(t, "form")),
			Graduation: rapid.SampledFrom([]measure.Length{0, -1, 1, 2, 3, in, in / 2, in / 16, in / 128, in / 10, in / 1000, ft, ft / 10, ft / 100, ft / 1000, mm, mm / 10, measure.Meter, measure.MaxLength}).Draw(t, "grain"),
			Rounding:   rapid.SampledFrom(modes).Draw(t, "mode"),
			Marks:      measure.Marks(rapid.IntRange(0, 3).Draw(t, "marks")),
			Separator:  measure.Separator(rapid.IntRange(0, 3).Draw(t, "separator")),
			Zeros:      rapid.Bool().Draw(t, "zeros"),
		}
	})
}

// A style shows the rounded value and no other.
func TestStyleRoundTrips(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, s := anyLength().Draw(t, "l"), anyStyle().Draw(t, "style")
		text := l.Format(s)
		want := l.Round(s.Graduation, s.Rounding)
		got, err := measure.Parse(text)
		if s.Form == measure.Spoken {
			got, _, err = measure.ParseSpoken(text)
		}
		if err != nil || got != want {
			t.Fatalf("%v in %+v is %q, which reads as %v, %v; want %v", l, s, text, got, err, want)
		}
		if s == (measure.Style{}) && text != l.String() {
			t.Fatalf("the zero style writes %s, String %s", text, l)
		}
		s.MarkInexact = true
		text = l.Format(s)
		got, residue, err := measure.ParseSpoken(text)
		if err != nil || got != want || residue != cmp.Compare(l, want) {
			t.Fatalf("%v in %+v is %q, which reads as %v, %d, %v; want %v", l, s, text, got, residue, err, want)
		}
	})
}

// A marked residue has no exact value, so nothing reads it as one.
func TestResidueIsNotRead(t *testing.T) {
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
		for form := measure.FeetInches; form <= measure.Spoken; form++ {
			for marks := measure.PlainMarks; marks <= measure.Primes; marks++ {
				buf = l.AppendFormat(buf[:0], measure.Style{Form: form, Marks: marks, Graduation: in / 16, Separator: measure.HyphenBetween, Zeros: true})
			}
		}
	}); n != 0 {
		t.Errorf("AppendFormat allocates %v times", n)
	}
}
