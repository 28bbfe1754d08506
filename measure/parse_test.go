package measure_test

import (
	"errors"
	"flag"
	"math"
	"math/big"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"example.com/longpoint/measure"
	"pgregory.net/rapid"
)

const (
	in = measure.Inch
	ft = measure.Foot
	mm = measure.Millimeter
)

// spellings are texts that Parse accepts, grouped by the idea they show. The
// forms with a hyphen or spaces between feet and inches (2'-4", 10' - 0",
// 8' 10", 5' 1") are those of US Army correspondence courses EN0069A and
// EN01136; feet and inches both shown, with the zero inches kept, is a published
// drafting rule; the rest is common practice, no source.
var spellings = []struct {
	idea string
	want measure.Length
	text []string
}{
	{"feet, inches and a fraction", 7*ft + 4*in + 3*in/4, []string{
		`7'-4 3/4"`, `7' 4-3/4"`, `7'4 3/4`, `7'4-3/4`, `7-4-3/4`, `7-4-3/4"`, `7'-4-3/4"`, `7' - 4 3/4"`, `7'- 4 3/4"`,
		`7ft 4-3/4in`, `7 ft 4 3/4 in`, `7 ft. 4 3/4 in.`, `7ft4-3/4in`, `7 feet 4 3/4 inches`, `7 feet, 4 3/4 inches`,
		`7 Foot 4 3/4`, `7 FT 4 3/4 IN`, ` 7' 4-3/4" `, `+7' 4-3/4"`, `0007'04 03/04"`, "7'\t4 3/4\"", `7' 4.75"`, `7'4.75`,
	}},
	{"typographic marks", 7*ft + 4*in + 3*in/4, []string{
		`7′-4¾″`, `7’ 4¾”`, `7‘4 ¾“`, `7´ 4-¾''`, `7' 4 3⁄4''`, `7' 4 3∕4′′`, `7'–4 ³⁄₄"`, `7'−4-³/4"`, `7'‑4¾"`,
		"7'\u00a04\u20093/4\"", "7'\u202f4\u200a¾\"", "\u30007'4¾\u2003", `７＇４－３／４＂`, `７ｆｔ ４．７５ｉｎ`,
	}},
	{"raised and full-width digits", 4*in + 57*in/64, []string{`4 ⁵⁷⁄₆₄"`, `4⁵⁷/₆₄"`, `４ ５７／６４ ＩＮ．`, `4.890625 in`}},
	{"inches", 88*in + 3*in/4, []string{
		`88 3/4"`, `88-3/4"`, `88.75"`, `88¾"`, `88 3/4 in`, `88-3/4in.`, `88 3/4 inch`, `88 3/4 inches`, `88.750 in`, `355/4 in`, `0'-88.75"`,
	}},
	{"less than an inch", 3 * in / 4, []string{`3/4"`, `.75"`, `0.75"`, `¾"`, `0-3/4"`, `0' 0 3/4"`, `3/4in`, `750/1000 in`, `12/16"`, `48/64"`}},
	{"inches after zero feet", 9 * in, []string{`0'-9"`, `0' 9"`, `9"`}},
	{"a fraction as one character", 3 * in / 2, []string{`1 1/2in.`, `1½"`, `1 ½ in`, `1-½"`, `1 1⁄2"`}},
	{"feet", 6 * ft, []string{`6'`, `6'0"`, `6'-0"`, `6' - 0"`, `6ft`, `6 ft.`, `6 foot`, `6 feet`, `6.0'`, `2 yd`, `2yds`, `2 yards`, `1 yard 3 ft`, `72"`, `5'12"`}},
	{"fractions of a foot", 7*ft + 6*in, []string{`7.5'`, `7 1/2'`, `7½ ft`, `7.5 feet`, `7.50000 ft`, `15/2 ft`}},
	{"a third of a foot", 4 * in, []string{`1/3'`, `⅓ ft`, `4/12 ft`}},
	{"signs", -3 * in / 8, []string{`-3/8"`, `−3/8"`, `- 3/8"`, `–⅜ in`, `-.375"`, `-0' 0-3/8"`}},
	{"a sign is for the whole", -(1*ft + 6*in), []string{`-1' 6"`, `-1'-6"`, `-1ft 6in`, `-18"`}},
	{"metric", 2253 * mm, []string{`2253mm`, `2253 mm`, `2253 MM`, `225.3 cm`, `2.253 m`, `2253 millimeters`, `225.3 centimetres`, `2.253 meters`, `2 m 253 mm`, `2m 25.3cm`, `2253000 µm`, `2253000um`, `2253000 microns`, `2 253/1000 m`}},
	{"zero", 0, []string{`0"`, `0'`, `0' 0"`, `0 mm`, `-0"`, `+0 m`, `0/16"`, `.0"`}},
	{"the smallest step", 1, []string{`0.0000125mm`, `0.0125 µm`, `1/2032000"`}},
	{"the range", math.MaxInt64, []string{`115292150460684.6975875mm`, `115292150460684697.5875 µm`}},
	{"the other end", math.MinInt64, []string{`-115292150460684.6976mm`}},
}

func TestParse(t *testing.T) {
	for _, c := range spellings {
		t.Run(c.idea, func(t *testing.T) {
			for _, s := range c.text {
				got, err := measure.Parse(s)
				if err != nil || got != c.want {
					t.Errorf("Parse(%q) = %v, %v; want %v", s, got, err, c.want)
				}
				var u measure.Length
				if err := u.UnmarshalText([]byte(s)); err != nil || u != got {
					t.Errorf("UnmarshalText(%q) = %v, %v; want %v", s, u, err, got)
				}
			}
		})
	}
}

func TestParseErrors(t *testing.T) {
	for _, c := range []struct {
		text   string
		err    error
		part   string // the offending part
		offset int
		says   string // must be in the message
	}{
		// No unit.
		{`12`, measure.ErrUnit, `12`, 0, "no unit"},
		{`88 3/4`, measure.ErrUnit, `88 3/4`, 0, "no unit"},
		{`88-3/4`, measure.ErrUnit, `88-3/4`, 0, "no unit"},
		{`5.6`, measure.ErrUnit, `5.6`, 0, "no unit"},
		{`1½`, measure.ErrUnit, `1½`, 0, "no unit"},
		{`2 yd 1`, measure.ErrUnit, `1`, 5, "no unit"},
		{`2 m 35`, measure.ErrUnit, `35`, 4, "no unit"},
		{`4" 3`, measure.ErrUnit, `3`, 3, "no unit"},
		{`88^12`, measure.ErrSyntax, `^12`, 2, "unexpected"},
		// An unknown unit.
		{`5 miles`, measure.ErrUnit, `miles`, 2, "not a unit"},
		{`3 sq ft`, measure.ErrUnit, `sq`, 2, "not a unit"},
		{`7ft 4foo`, measure.ErrUnit, `foo`, 5, "not a unit"},
		{`½ cup`, measure.ErrUnit, `cup`, 3, "not a unit"},
		// More than one reading.
		{`7-4`, measure.ErrAmbiguous, `7-4`, 0, `could be 7' 4" or 7-1/4"`},
		{`7-4"`, measure.ErrAmbiguous, `7-4"`, 0, "from one to the other"},
		{`7-14-3/4`, measure.ErrAmbiguous, `7-14-3/4`, 0, "mark the feet"},
		{`7-12-3/4`, measure.ErrAmbiguous, `7-12-3/4`, 0, `could be 8' 3/4"`},
		{`7-4 3/4"`, measure.ErrAmbiguous, `7-4 3/4"`, 0, "mark the feet"},
		{`88 6`, measure.ErrAmbiguous, `88 6`, 0, "two numbers"},
		{`6 1/2 3/4`, measure.ErrAmbiguous, `6 1/2 3/4`, 0, "two numbers"},
		{`6 1/2 3/4"`, measure.ErrAmbiguous, `6 1/2 3/4"`, 0, "two numbers"},
		{`7' 4 3 1/2"`, measure.ErrAmbiguous, `4 3 1/2"`, 3, "two numbers"},
		{`5/0`, measure.ErrAmbiguous, `5/0`, 0, `could be 5';`},
		{`5/0"`, measure.ErrAmbiguous, `5/0`, 0, `could be 5';`},
		{`5 9/8"`, measure.ErrAmbiguous, `5 9/8`, 0, "less than 1"},
		{`5 8/8"`, measure.ErrAmbiguous, `5 8/8`, 0, `could be 6"`},
		{`7' 4-2/2"`, measure.ErrAmbiguous, `4-2/2`, 3, "less than 1"},
		{`113/16"`, measure.ErrAmbiguous, `113/16`, 0, `could be 1-13/16" or 11-3/16" or 7-1/16"`},
		{`7' 43/4"`, measure.ErrAmbiguous, `43/4`, 3, `7' 4-3/4" or`},
		{`7' -4"`, measure.ErrAmbiguous, `-4"`, 3, "subtract"},
		{`4 - 3/4"`, measure.ErrAmbiguous, `4 - 3/4"`, 0, "subtract"},
		{`7'.5`, measure.ErrAmbiguous, `7'.5`, 0, `7' 6" or 7' 1/2"`},
		{`7ft.5`, measure.ErrAmbiguous, `7ft.5`, 0, `7' 6" or 7' 1/2"`},
		{`1,5 m`, measure.ErrAmbiguous, `1,5 m`, 0, "comma"},
		{`1,234 mm`, measure.ErrAmbiguous, `1,234 mm`, 0, "comma"},
		{`,5 m`, measure.ErrAmbiguous, `,5 m`, 0, "comma"},
		{`7' 30mm`, measure.ErrAmbiguous, `30mm`, 3, "mixes"},
		{`2 m 4"`, measure.ErrAmbiguous, `4"`, 4, "mixes"},
		{`88 3/4" +`, measure.ErrAmbiguous, `+`, 8, "strong"},
		{`88-`, measure.ErrAmbiguous, `88-`, 0, "strong"},
		{`88 3/4+`, measure.ErrAmbiguous, `88 3/4+`, 0, "strong"},
		{`7'-`, measure.ErrAmbiguous, `-`, 2, "strong"},
		// Between two ticks.
		{`1/7"`, measure.ErrInexact, `1/7"`, 0, `between 1/8" and 3/16"`},
		{`1/256"`, measure.ErrInexact, `1/256"`, 0, "between"},
		{`-1/7"`, measure.ErrInexact, `-1/7"`, 0, `between -3/16" and -1/8"`},
		{`1/3"`, measure.ErrInexact, `1/3"`, 0, `between 5/16" and 3/8"`},
		{`7.3958'`, measure.ErrInexact, `7.3958'`, 0, `between 7' 4-11/16" and 7' 4-3/4"`},
		{`0.01 µm`, measure.ErrInexact, `0.01 µm`, 0, `between 0" and 0.001mm`},
		// Out of range.
		{`400000000000'`, measure.ErrRange, `400000000000'`, 0, "too big"},
		{`99999999999999999999"`, measure.ErrRange, `99999999999999999999`, 0, "too big"},
		{`1/99999999999999999999"`, measure.ErrRange, `1/99999999999999999999`, 0, "too big"},
		{`115292150460684.6976mm`, measure.ErrRange, `115292150460684.6976mm`, 0, "too big"},
		{`115292150460684.697599mm`, measure.ErrRange, `115292150460684.697599mm`, 0, "too big"},
		{`378000000000' 99999999999999"`, measure.ErrRange, `378000000000' 99999999999999"`, 0, "too big"},
		{`999999999999999999 m`, measure.ErrRange, `999999999999999999 m`, 0, "too big"},
		// Not a length.
		{``, measure.ErrSyntax, ``, 0, "nothing there"},
		{`   `, measure.ErrSyntax, ``, 0, "nothing there"},
		{`-`, measure.ErrSyntax, ``, 1, "nothing there"},
		{`NaN`, measure.ErrSyntax, `NaN`, 0, "want a number"},
		{`Inf`, measure.ErrSyntax, `Inf`, 0, "want a number"},
		{`'`, measure.ErrSyntax, `'`, 0, "want a number"},
		{`"`, measure.ErrSyntax, `"`, 0, "want a number"},
		{`.`, measure.ErrSyntax, `.`, 0, "want a number"},
		{`--3"`, measure.ErrSyntax, `-3"`, 1, "want a number"},
		{`/4"`, measure.ErrSyntax, `/4"`, 0, "want a number"},
		{`3/"`, measure.ErrSyntax, `3`, 0, "denominator"},
		{`3 / 4"`, measure.ErrSyntax, `/ 4"`, 2, "unexpected"},
		{`³/"`, measure.ErrSyntax, `³`, 0, "denominator"},
		{`1e3 mm`, measure.ErrSyntax, `e`, 1, "exponents"},
		{`0x10"`, measure.ErrSyntax, `x`, 1, "hexadecimal"},
		{`1_000 mm`, measure.ErrSyntax, `1_000 mm`, 0, "separators"},
		{`7'+4"`, measure.ErrSyntax, `+4"`, 2, "unexpected"},
		{`7' x 4'`, measure.ErrSyntax, `x 4'`, 3, "unexpected"},
		{`7',4"`, measure.ErrAmbiguous, `,4"`, 2, "comma"},
		{`7' 4",`, measure.ErrAmbiguous, `,`, 5, "comma"},
		{`7'_4"`, measure.ErrSyntax, `_4"`, 2, "separators"},
		{`7'-4/3-3/4"`, measure.ErrAmbiguous, `4/3-3/4"`, 3, "subtract"},
		{`1/2-4"`, measure.ErrAmbiguous, `1/2-4"`, 0, "subtract"},
		{`7-4-`, measure.ErrAmbiguous, `7-4-`, 0, "mark the feet"},
		{`7-4-3/0"`, measure.ErrAmbiguous, `3/0`, 4, "denominator 0"},
		{`400000000000-4-3/4`, measure.ErrRange, `400000000000-4-3/4`, 0, "too big"},
		{`7' 4" oak`, measure.ErrSyntax, `oak`, 6, "unexpected"},
		{`4" 7'`, measure.ErrSyntax, `7'`, 3, "large to small"},
		{`7' 4'`, measure.ErrSyntax, `4'`, 3, "large to small"},
		{`7.5' 3"`, measure.ErrSyntax, `7.5'`, 0, "only the last"},
		{`7 1/2' 3"`, measure.ErrSyntax, `7 1/2'`, 0, "only the last"},
		{`1.2.3"`, measure.ErrSyntax, `.3"`, 3, "unexpected"},
		{`1.5/2"`, measure.ErrSyntax, `/2"`, 3, "unexpected"},
		{`1.0000000000000000001"`, measure.ErrSyntax, `.0000000000000000001`, 1, "decimal places"},
		{"7\n4\"", measure.ErrSyntax, "\n4\"", 1, "unexpected"},
		{"\x00", measure.ErrSyntax, "\x00", 0, "want a number"},
		{"7' \xff", measure.ErrSyntax, "\xff", 3, "unexpected"},
		{`٧"`, measure.ErrSyntax, `٧"`, 0, "want a number"},
		{strings.Repeat("1", 65), measure.ErrSyntax, ``, 0, "longer than 64 bytes"},
	} {
		got, err := measure.Parse(c.text)
		var pe *measure.ParseError
		if !errors.As(err, &pe) {
			t.Errorf("Parse(%q) = %v, %v; want a *ParseError", c.text, got, err)
			continue
		}
		if got != 0 || !errors.Is(err, c.err) || pe.Kind != "length" || pe.Input != c.text || pe.Part != c.part || pe.Offset != c.offset {
			t.Errorf("Parse(%q) = %v, %#v;\n want part %q at %d, %v", c.text, got, pe, c.part, c.offset, c.err)
		}
		if !strings.Contains(err.Error(), c.says) {
			t.Errorf("Parse(%q) says %q, which lacks %q", c.text, err, c.says)
		}
		u := measure.Inch
		if uerr := u.UnmarshalText([]byte(c.text)); uerr == nil || uerr.Error() != err.Error() || u != measure.Inch {
			t.Errorf("UnmarshalText(%q) = %v, %v; want the same error and an unchanged value", c.text, u, uerr)
		}
	}
}

// The meanings of an ambiguous text, and the neighbors of a value that is not exact, are
// offered in a form that reads back.
func TestChoices(t *testing.T) {
	for text, want := range map[string][]string{
		`7-4`:          {`7' 4"`, `7-1/4"`}, // feet and inches, or inches and sixteenths
		`88 6`:         {`88' 6"`, `88-3/8"`},
		`7-14-3/4`:     {`8' 2-3/4"`},
		`7-4 3/4"`:     {`7' 4-3/4"`},
		`6 1/2 3/4"`:   {`7-1/4"`},
		`5¾ 3"`:        {`8-3/4"`},
		`5/0`:          {`5'`},
		`5 9/8"`:       {`6-1/8"`, `5' 1-1/8"`, `7-3/8"`}, // the sum, feet and inches, 59/8
		`113/16"`:      {`1-13/16"`, `11-3/16"`, `7-1/16"`},
		`7' 43/4"`:     {`7' 4-3/4"`, `7' 10-3/4"`},
		`7' -4"`:       {`7' 4"`, `6' 8"`},
		`4 - ¾"`:       {`4-3/4"`, `4' 3/4"`, `3-1/4"`},
		`7'.5`:         {`7' 6"`, `7' 1/2"`},
		`1,5 m`:        {`1500mm`, `15000mm`},
		`1,234 mm`:     {`1.234mm`, `1234mm`},
		`1,234,567 mm`: {`1234567mm`},
		`1,234.5 mm`:   {`1234.5mm`},
		`,5 m`:         {`500mm`, `5000mm`},
		`7' 30mm`:      {`2163.6mm`},
		`3 3/4" +`:     {`3-3/4"`, `3-25/32"`},
		`3 3/4-`:       {`3-3/4"`, `3-23/32"`},
		`1/7"`:         {`1/8"`, `3/16"`},
		`-0.01 µm`:     {`-0.001mm`, `0"`},
		`7' 4 3 1/2"`:  nil, // three lengths have no sum that anyone means
		`7' 4 cubits"`: nil,
		`12`:           nil,
	} {
		_, err := measure.Parse(text)
		var pe *measure.ParseError
		if !errors.As(err, &pe) {
			t.Errorf("Parse(%q): %v", text, err)
			continue
		}
		for _, c := range pe.Choices {
			l, err := measure.Parse(c)
			if err != nil {
				t.Errorf("Parse(%q) offers %q, which is rejected: %v", text, c, err)
			}
			if l.String() != c {
				t.Errorf("Parse(%q) offers %q, which is written %v", text, c, l)
			}
			if !strings.Contains(pe.Error(), c) {
				t.Errorf("%v does not mention %q", pe, c)
			}
		}
		wantCanonical := make([]string, 0, len(want))
		for _, w := range want {
			wantCanonical = append(wantCanonical, measure.MustParse(w).String())
		}
		if !slices.Equal(pe.Choices, wantCanonical) {
			t.Errorf("Parse(%q) offers %q, want %q", text, pe.Choices, want)
		}
	}
}

// A long or broken text does not make a long or broken message.
func TestParseErrorMessage(t *testing.T) {
	_, err := measure.Parse(strings.Repeat("\xff7", 1<<20))
	if msg := err.Error(); len(msg) > 400 || !utf8.ValidString(msg) {
		t.Errorf("message of %d bytes: %.80q", len(msg), msg)
	}
}

func TestMustParse(t *testing.T) {
	defer func() {
		if err, ok := recover().(error); !ok || !errors.Is(err, measure.ErrUnit) {
			t.Errorf("recovered %v, want an error that is ErrUnit", err)
		}
	}()
	if got := measure.MustParse(`6'`); got != 6*ft {
		t.Errorf("MustParse(6') = %v", got)
	}
	measure.MustParse(`6`)
}

func TestParser(t *testing.T) {
	for _, c := range []struct {
		p    measure.Parser
		text string
		want measure.Length
	}{
		{measure.Parser{Unit: in}, `88 3/4`, 88*in + 3*in/4},
		{measure.Parser{Unit: mm}, `2253`, 2253 * mm},
		{measure.Parser{Unit: ft}, `7.5`, 7*ft + 6*in},
		{measure.Parser{Unit: ft}, `7.5"`, 7*in + in/2},
		{measure.Parser{Unit: mm}, `7'4`, 7*ft + 4*in},
		{measure.Parser{Unit: in}, `-¾`, -3 * in / 4},
		{measure.Parser{Unit: in}, `+1/16`, in / 16},
		{measure.Parser{Unit: in}, `1⅛`, 9 * in / 8},
		{measure.Parser{Unit: in}, `3⁄16`, 3 * in / 16},
		{measure.Parser{Unit: in}, `5.6`, 56 * in / 10},
		{measure.Parser{Unit: ft, Graduation: in / 16}, `7.3958`, 7*ft + 4*in + 3*in/4},
		{measure.Parser{Graduation: 1}, `1/3"`, 677333},
		{measure.Parser{Graduation: 1, Rounding: measure.RoundUp}, `1/3"`, 677334},
		{measure.Parser{Graduation: 1, Rounding: measure.RoundDown}, `-1/3"`, -677334},
		{measure.Parser{Graduation: 1, Rounding: measure.RoundUp}, `-1/3"`, -677333},
		// Half a tick: to the even one, or up.
		{measure.Parser{Graduation: 1}, `1/4064000"`, 0},
		{measure.Parser{Graduation: 1}, `3/4064000"`, 2},
		{measure.Parser{Graduation: 1, Rounding: measure.RoundHalfUp}, `1/4064000"`, 1},
		{measure.Parser{Graduation: 1, Rounding: measure.RoundHalfUp}, `-1/4064000"`, 0},
		{measure.Parser{Graduation: in / 16}, `7.3958'`, 7*ft + 4*in + 3*in/4},
		{measure.Parser{Graduation: in / 16}, `1/3"`, 5 * in / 16},
		// 81 ticks and a little is nearer to 82; rounded to a tick first, it
		// would be a tie between 80 and 82 and go to 80, the even multiple.
		{measure.Parser{Graduation: 2}, `1.012501 µm`, 82},
		{measure.Parser{Graduation: 2}, `1.012499 µm`, 80},
		{measure.Parser{Graduation: in / 16}, `4.382"`, 4*in + 3*in/8}, // "Metric tables" page: 4.382 in is about 4 3/8 in
	} {
		got, err := c.p.Parse(c.text)
		if err != nil || got != c.want {
			t.Errorf("%+v.Parse(%q) = %v, %v; want %v", c.p, c.text, got, err, c.want)
		}
	}
	for _, c := range []struct {
		p    measure.Parser
		text string
		err  error
	}{
		{measure.Parser{Unit: -in}, `88`, measure.ErrUnit},
		{measure.Parser{Unit: in}, `4" 3`, measure.ErrUnit},
		{measure.Parser{Unit: in}, `7-4`, measure.ErrAmbiguous},
		{measure.Parser{Unit: in}, `88 6`, measure.ErrAmbiguous},
		{measure.Parser{Unit: math.MaxInt64}, `2`, measure.ErrRange},
		{measure.Parser{Graduation: ft, Rounding: measure.RoundUp}, `115292150460684.6975875mm`, measure.ErrRange},
	} {
		if got, err := c.p.Parse(c.text); !errors.Is(err, c.err) {
			t.Errorf("%+v.Parse(%q) = %v, %v; want %v", c.p, c.text, got, err, c.err)
		}
	}
}

func TestDecimalComma(t *testing.T) {
	p := measure.Parser{DecimalComma: true}
	for text, want := range map[string]measure.Length{
		`2,5 m`: 2500 * mm, `2254,25 mm`: 2254*mm + mm/4, `88,75"`: 88*in + 3*in/4, `7' 4,75`: 7*ft + 4*in + 3*in/4, `-,5 m`: -500 * mm,
		`7 feet, 4 inches`: 7*ft + 4*in, `7 ft. 4 in.`: 7*ft + 4*in, `７，５ ft`: 7*ft + 6*in, `7' 4-3/4"`: 7*ft + 4*in + 3*in/4, `12 mm`: 12 * mm,
	} {
		if got, err := p.Parse(text); err != nil || got != want {
			t.Errorf("Parse(%q) with a comma = %v, %v; want %v", text, got, err, want)
		}
	}
	if got, err := (measure.Parser{DecimalComma: true, Unit: mm, Graduation: mm}).Parse(`7,6`); err != nil || got != 8*mm {
		t.Errorf("7,6 is %v, %v", got, err)
	}
	for text, want := range map[string][]string{
		`1.250 mm`:     {`1,25mm`, `1250mm`},
		`1.250,5 mm`:   {`1250,5mm`},
		`1.250.000 mm`: {`1250000mm`},
		`2.5 m`:        {`2500mm`, `25000mm`},
		`.5 m`:         {`500mm`, `5000mm`},
		`7',5`:         {`7' 6"`, `7' 1/2"`},
		`0,01 µm`:      {`0"`, `0,001mm`},
		`7' 30,5mm`:    {`2164,1mm`},
	} {
		_, err := p.Parse(text)
		var pe *measure.ParseError
		if !errors.As(err, &pe) || !slices.Equal(pe.Choices, want) || pe.Input != text || !strings.Contains(err.Error(), strconv.Quote(text)) {
			t.Errorf("Parse(%q) with a comma: %v; want the choices %q", text, err, want)
			continue
		}
		for _, c := range pe.Choices {
			if _, err := p.Parse(c); err != nil {
				t.Errorf("Parse(%q) offers %q, which is rejected: %v", text, c, err)
			}
		}
	}
	// A number that lacks its unit is offered in the parser's.
	for _, c := range []struct {
		p    measure.Parser
		text string
		want []string
	}{
		{measure.Parser{Unit: mm}, `1,250`, []string{`1.25mm`, `1250mm`}},
		{measure.Parser{Unit: mm, DecimalComma: true}, `1.250`, []string{`1,25mm`, `1250mm`}},
		{measure.Parser{Unit: ft}, `7,5`, []string{`7' 6"`, `75'`}},
		{measure.Parser{}, `7,5`, []string{`7-1/2"`, `6' 3"`}},
	} {
		_, err := c.p.Parse(c.text)
		var pe *measure.ParseError
		if !errors.As(err, &pe) || !slices.Equal(pe.Choices, c.want) {
			t.Errorf("%q by %+v: %v; want %q", c.text, c.p, err, c.want)
		}
	}
	if _, err := p.Parse(`1.5 m`); err == nil || !strings.Contains(err.Error(), "write a decimal comma and no point") {
		t.Errorf("1.5 m: %v", err)
	}
	if _, err := p.Parse(`12`); err == nil || !strings.Contains(err.Error(), "88,75in") {
		t.Errorf("12: %v", err)
	}
}

// otherMark puts commas before digits where points are and the other way round.
func otherMark(s string) string {
	b := []byte(s)
	for i := range len(b) - 1 {
		if '0' <= b[i+1] && b[i+1] <= '9' {
			switch b[i] {
			case '.':
				b[i] = ','
			case ',':
				b[i] = '.'
			}
		}
	}
	return string(b)
}

// With the other mark everything is read and refused as without, with the same readings.
func TestDecimalCommaMirrors(t *testing.T) {
	alphabet := []rune(`0123456789.,' "-/m½ft`)
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(
			rapid.StringOfN(rapid.SampledFrom(alphabet), 1, 12, -1),
			rapid.Map(rapid.IntRange(0, len(spellings)-1), func(i int) string { return spellings[i].text[0] }),
			rapid.Map(rapid.Custom(func(t *rapid.T) string { return anyLength().Draw(t, "l").Format(anyStyle().Draw(t, "style")) }), otherMark),
		).Draw(t, "text")
		want, wantErr := measure.Parse(text)
		got, err := measure.Parser{DecimalComma: true}.Parse(otherMark(text))
		if got != want || (err == nil) != (wantErr == nil) {
			t.Fatalf("%q is %v, %v; with the other mark %v, %v", text, want, wantErr, got, err)
		}
		var pe, we *measure.ParseError
		if !errors.As(err, &pe) || !errors.As(wantErr, &we) {
			return
		}
		if pe.Err != we.Err || pe.Input != otherMark(text) || pe.Offset != we.Offset || pe.Part != pe.Input[pe.Offset:pe.Offset+len(we.Part)] || len(pe.Choices) != len(we.Choices) {
			t.Fatalf("%v; with the other mark %v", wantErr, err)
		}
		for i, c := range pe.Choices {
			if c != otherMark(we.Choices[i]) {
				t.Fatalf("%v; with the other mark %v", wantErr, err)
			}
		}
	})
}

func TestParserFlag(t *testing.T) {
	set := func(p measure.Parser, kerf measure.Length, args ...string) (measure.Length, string, error) {
		fs := flag.NewFlagSet("trim", flag.ContinueOnError)
		var usage strings.Builder
		fs.SetOutput(&usage)
		fs.Var(p.Flag(&kerf), "kerf", "width of the saw cut")
		err := fs.Parse(args)
		if err == nil {
			fs.PrintDefaults()
		}
		return kerf, usage.String(), err
	}
	for _, c := range []struct {
		p     measure.Parser
		args  []string
		want  measure.Length
		usage string
	}{
		{measure.Parser{Unit: mm}, []string{"-kerf", "3.2"}, 32 * mm / 10, "(default 3.175 mm)"},
		{measure.Parser{Unit: mm}, []string{"-kerf=1/4in"}, in / 4, "(default 3.175 mm)"},
		{measure.Parser{Unit: mm, DecimalComma: true}, []string{"-kerf", "3,2"}, 32 * mm / 10, "(default 3,175 mm)"},
		{measure.Parser{Unit: in}, []string{"-kerf", "3/32"}, 3 * in / 32, `(default 1/8")`},
		{measure.Parser{}, []string{"-kerf", "3/32in"}, 3 * in / 32, `(default 1/8")`},
		{measure.Parser{}, nil, in / 8, `(default 1/8")`},
	} {
		if got, usage, err := set(c.p, in/8, c.args...); err != nil || got != c.want || c.args == nil && !strings.Contains(usage, c.usage) {
			t.Errorf("%+v, %q: %v, %v, %q", c.p, c.args, got, err, usage)
		}
		if _, usage, err := set(c.p, in/8); err != nil || !strings.Contains(usage, c.usage) {
			t.Errorf("%+v: %v, %q", c.p, err, usage)
		}
	}
	if _, usage, err := set(measure.Parser{Unit: in}, 0); err != nil || strings.Contains(usage, "default") && !strings.Contains(usage, `default 0"`) {
		t.Errorf("no default: %v, %q", err, usage)
	}
	if got, usage, err := set(measure.Parser{}, in/8, "-kerf", "3"); err == nil || got != in/8 || !strings.Contains(usage, "no unit") {
		t.Errorf("a bare number: %v, %v, %q", got, err, usage)
	}
	if err := (measure.Parser{}).Flag(nil).Set(`1"`); err == nil {
		t.Error("a flag without a length can be set")
	}
}

func TestParseDoesNotAllocate(t *testing.T) {
	for _, s := range []string{`7' 4-3/4"`, `7′ 4¾″`, `2219.3250125mm`, `7 feet, 4 3/4 inches`, `88-3/4in`, `-115292150460684.6976mm`} {
		b := []byte(s)
		var l measure.Length
		if n := testing.AllocsPerRun(100, func() {
			if _, err := measure.Parse(s); err != nil {
				t.Fatal(err)
			}
			if err := l.UnmarshalText(b); err != nil {
				t.Fatal(err)
			}
		}); n != 0 {
			t.Errorf("reading %q allocates %v times", s, n)
		}
	}
}

// What no tick holds lies between the two lengths that the error offers, whatever the
// fraction, and both can be found on a tape or a rule.
func TestInexactLiesBetween(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num, den := rapid.Int64Range(-5000, 5000).Draw(t, "num"), rapid.Int64Range(1, 5000).Draw(t, "den")
		whole, text := num/den, ""
		part := max(num, -num) % den
		if whole != 0 || part == 0 {
			text = strconv.FormatInt(max(whole, -whole), 10)
			if part != 0 {
				text += " "
			}
		}
		if part != 0 {
			text += strconv.FormatInt(part, 10) + "/" + strconv.FormatInt(den, 10)
		}
		if num < 0 {
			text = "-" + text
		}
		unit := rapid.SampledFrom([]struct {
			name string
			size measure.Length
		}{{`"`, in}, {" mm", measure.Millimeter}}).Draw(t, "unit")
		_, err := measure.Parse(text + unit.name)
		if !errors.Is(err, measure.ErrInexact) {
			return
		}
		var pe *measure.ParseError
		errors.As(err, &pe)
		if len(pe.Choices) != 2 {
			t.Fatalf("%v offers %q", err, pe.Choices)
		}
		value := big.NewRat(num, den)
		value.Mul(value, big.NewRat(int64(unit.size), 1))
		low, high := measure.MustParse(pe.Choices[0]), measure.MustParse(pe.Choices[1])
		if value.Cmp(big.NewRat(int64(low), 1)) <= 0 || value.Cmp(big.NewRat(int64(high), 1)) >= 0 {
			t.Fatalf("%v", err)
		}
		if low.About() != pe.Choices[0] || high.About() != pe.Choices[1] {
			t.Fatalf("%v offers a choice that cannot be read", err)
		}
	})
}
