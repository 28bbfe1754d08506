package measure_test

import (
	"errors"
	"strings"
	"testing"

	"example.com/longpoint/measure"
)

// spoken are texts that ParseSpoken accepts. How lengths are called out is
// common practice, no source.
var spoken = []struct {
	idea string
	want measure.Length
	side int
	text []string
}{
	{"feet, inches and a fraction", 7*ft + 4*in + 3*in/4, 0, []string{
		`seven four and three quarters`, `seven foot four and three quarters`, `Seven feet, four and three-quarter inches.`,
		`seven feet and four and three quarter inches`, `seven four three quarters`, `7 foot 4 and 3/4`, `7 feet 4 ¾ inches`,
		`seven four and three fourths inches`, `eighty-eight and three quarters`, `eighty eight and three quarter inches`, `88 and 3/4`, `88 3/4`, `7' 4-3/4"`,
		`eighty-eight point seven five`, `eighty-eight point seven five inches`, `7' 4 and 3/4`,
	}},
	{"feet and inches", 6*ft + 2*in + 5*in/8, 0, []string{`six foot two and five eighths`, `six feet two and five-eighths`, `six two and five eighths`, `six foot two and five eighth inch`}},
	{"fractions of a foot", 5*ft + 6*in, 0, []string{`five and a half feet`, `five and one half feet`, `five foot six`, `five feet six inches`, `sixty-six inches`, `sixty-six`, `five point five feet`, `5 and a half feet`}},
	{"less than an inch", in / 4, 0, []string{`a quarter inch`, `quarter inch`, `one quarter inch`, `a quarter of an inch`, `one fourth of an inch`, `a quarter`, `four sixteenths`, `1/4`, `two hundred fifty thousandths`, `zero point two five inches`}},
	{"half an inch", in / 2, 0, []string{`half an inch`, `a half`, `half inch`, `one half inch`, `half`, `two quarters`}},
	{"the fractions of a tape", 5 * in / 32, 0, []string{`five thirty-seconds`, `five thirty seconds of an inch`, `ten sixty-fourths`, `twenty over one hundred twenty-eight`, `5 thirty-seconds`}},
	{"an inch and a half", 3 * in / 2, 0, []string{`an inch and a half`, `one inch and a half`, `one and a half inches`, `one and a half`, `three halves of an inch`, `a inch and a half`}},
	{"fractions of a foot in other parts", 2 * in, 0, []string{`a sixth of a foot`, `two twelfths of a foot`, `one sixth foot`, `two inches`}},
	{"a foot and a half", 18 * in, 0, []string{`a foot and a half`, `one and a half feet`, `one foot six`, `half a yard`, `eighteen inches`}},
	{"other fractions", 4 * in, 0, []string{`a third of a foot`, `one third of a foot`, `two sixths of a foot`, `four inches`}},
	{"tenths and hundredths", 12 * in / 10, 0, []string{`one tenth of a foot`, `ten hundredths of a foot`, `one and one fifth inches`, `one and two tenths inches`, `one point two inches`, `one hundred thousandths of a foot`}},
	{"improper, as thicknesses of lumber are called", 5 * in / 4, 0, []string{`five quarters`, `five quarters of an inch`}},
	{"hundreds and more", 105*in + in/2, 0, []string{`one hundred five and a half`, `one hundred and five and a half inches`, `a hundred and five and a half`, `8 foot 9 and a half`}},
	{"a hundred and a fraction", 100*in + 5*in/8, 0, []string{`one hundred and five eighths`, `a hundred and five eighths inches`}},
	{"thousands", 2340 * ft, 0, []string{`two thousand three hundred forty feet`, `2340 feet`, `seven hundred eighty yards`}},
	{"millions", 3_002_000_001 * ft, 0, []string{`three billion two million one feet`}},
	{"metric", 2253 * mm, 0, []string{`two thousand two hundred fifty-three millimeters`, `two meters two hundred fifty three millimeters`, `two point two five three meters`, `2253mm`}},
	{"signs", -3 * in / 8, 0, []string{`minus three eighths`, `negative three eighths of an inch`, `-3/8"`, `-three eighths`}},
	{"nothing", 0, 0, []string{`zero`, `zero inches`, `zero feet`, `0"`}},
	{"over the mark", 88*in + 3*in/4, 1, []string{
		`eighty-eight and three quarters strong`, `eighty-eight and three quarters, strong`, `Seven four and three quarters heavy.`, `eighty-eight and three quarters fat`,
		`88 3/4 +`, `88 3/4+`, `88 3/4" strong`, `7' 4-3/4"+`, `88 and 3/4 strong`,
	}},
	{"under the mark", 88*in + 3*in/4, -1, []string{`eighty-eight and three quarters light`, `eighty-eight and three quarters shy`, `eighty eight and three quarter inches scant`, `88-3/4 -`, `88-3/4-`, `7'-4 3/4"-`, `88 3/4 −`}},
	{"a strong quarter", in / 4, 1, []string{`a strong quarter inch`, `strong quarter`, `a heavy quarter of an inch`}},
	{"a light inch", in, -1, []string{`a light inch`, `a scant one inch`, `one inch light`}},
}

func TestParseSpoken(t *testing.T) {
	for _, c := range spoken {
		t.Run(c.idea, func(t *testing.T) {
			for _, s := range c.text {
				got, side, err := measure.ParseSpoken(s)
				if err != nil || got != c.want || side != c.side {
					t.Errorf("ParseSpoken(%q) = %v, %d, %v; want %v, %d", s, got, side, err, c.want, c.side)
				}
			}
		})
	}
	// Whatever is written means the same here.
	for _, c := range spellings {
		for _, s := range c.text {
			if got, side, err := measure.ParseSpoken(s); err != nil || got != c.want || side != 0 {
				t.Errorf("ParseSpoken(%q) = %v, %d, %v; want %v", s, got, side, err, c.want)
			}
		}
	}
}

func TestParseSpokenErrors(t *testing.T) {
	for _, c := range []struct {
		text    string
		err     error
		part    string
		choices []string
	}{
		{`seven four`, measure.ErrAmbiguous, `seven four`, []string{`7' 4"`}},
		{`seven four inches`, measure.ErrAmbiguous, `seven four inches`, []string{`7' 4"`}},
		{`7 4`, measure.ErrAmbiguous, `7 4`, []string{`7' 4"`}},
		{`one twenty and a half`, measure.ErrAmbiguous, `one twenty and a half`, []string{`2' 8-1/2"`}},
		{`seven twelve and a half`, measure.ErrAmbiguous, `seven twelve and a half`, []string{`8' 1/2"`}},
		{`ten and five inches`, measure.ErrAmbiguous, `ten and five inches`, []string{`10' 5"`}},
		{`six foot and a half`, measure.ErrAmbiguous, `six foot and a half`, []string{`6' 6"`, `6' 1/2"`}},
		{`two hundred five eighths`, measure.ErrAmbiguous, `two hundred five eighths`, nil},
		{`twenty eighths`, measure.ErrAmbiguous, `twenty eighths`, nil},
		{`seven quarter`, measure.ErrAmbiguous, `seven quarter`, nil},
		{`seven and nine eighths`, measure.ErrAmbiguous, `seven and nine eighths`, nil},
		{`one two three`, measure.ErrAmbiguous, `two three`, nil},
		{`six feet thirty millimeters`, measure.ErrAmbiguous, `thirty millimeters`, nil},
		{`7-4`, measure.ErrAmbiguous, `7-4`, []string{`7' 4"`, `7-1/4"`}},
		{`six inches two feet`, measure.ErrSyntax, `two feet`, nil},
		{`six and a half feet two inches`, measure.ErrSyntax, `six and a half feet`, nil},
		{`two yards three`, measure.ErrUnit, `three`, nil},
		{`a third of a`, measure.ErrUnit, ``, nil},
		{`one third`, measure.ErrInexact, `one third`, []string{`5/16"`, `3/8"`}},
		{`nine hundred ninety-nine billion feet`, measure.ErrRange, `nine hundred ninety-nine billion feet`, nil},
		{``, measure.ErrSyntax, ``, nil},
		{`strong`, measure.ErrSyntax, ``, nil},
		{`a`, measure.ErrSyntax, `a`, nil},
		{`minus`, measure.ErrSyntax, ``, nil},
		{`minus minus four`, measure.ErrSyntax, `minus`, nil},
		{`seven cubits`, measure.ErrSyntax, `cubits`, nil},
		{`seven point`, measure.ErrSyntax, ``, nil},
		{`seven point twenty`, measure.ErrSyntax, `twenty`, nil},
		{`seven and`, measure.ErrSyntax, ``, nil},
		{`half strong light`, measure.ErrSyntax, `strong`, nil},
		{`seven - four`, measure.ErrSyntax, `- four`, nil},
		{`siebenundachtzig`, measure.ErrSyntax, `siebenundachtzig`, nil},
		{`sept pieds ½ à peu près`, measure.ErrSyntax, `à peu près`, nil},
		{`4.5 eighths`, measure.ErrSyntax, `eighths`, nil},
		{strings.Repeat("one ", 65), measure.ErrSyntax, ``, nil},
	} {
		got, side, err := measure.ParseSpoken(c.text)
		var pe *measure.ParseError
		if got != 0 || side != 0 || !errors.Is(err, c.err) || !errors.As(err, &pe) {
			t.Errorf("ParseSpoken(%q) = %v, %d, %v; want %v", c.text, got, side, err, c.err)
			continue
		}
		if pe.Part != c.part || pe.Kind != "length" || pe.Input != c.text || pe.Reason == "" || c.text[pe.Offset:pe.Offset+len(pe.Part)] != pe.Part {
			t.Errorf("ParseSpoken(%q): %#v; want part %q", c.text, pe, c.part)
		}
		if strings.Join(pe.Choices, ",") != strings.Join(c.choices, ",") {
			t.Errorf("ParseSpoken(%q) offers %q, want %q", c.text, pe.Choices, c.choices)
		}
		for _, choice := range pe.Choices {
			if _, _, err := measure.ParseSpoken(choice); err != nil {
				t.Errorf("ParseSpoken(%q) offers %q, which is rejected: %v", c.text, choice, err)
			}
		}
	}
}

func TestSpokenStyle(t *testing.T) {
	for text, want := range map[string]string{
		`7' 4-3/4"`:       `seven feet four and three quarters inches`,
		`6'`:              `six feet`,
		`1'`:              `one foot`,
		`1"`:              `one inch`,
		`1' 1"`:           `one foot one inch`,
		`1-1/2"`:          `one and one half inches`,
		`3/4"`:            `three quarters of an inch`,
		`1/16"`:           `one sixteenth inch`,
		`5/32"`:           `five thirty-seconds of an inch`,
		`6' 1/64"`:        `six feet one sixty-fourth inch`,
		`3/128"`:          `three over one hundred twenty-eight of an inch`,
		`0"`:              `zero inches`,
		`-3/8"`:           `minus three eighths of an inch`,
		`117' 10"`:        `one hundred seventeen feet ten inches`,
		`1001020'`:        `one million one thousand twenty feet`,
		`100mm`:           `100mm`,
		`378000000000 ft`: `three hundred seventy-eight billion feet`,
	} {
		if got := measure.MustParse(text).Format(measure.Style{Spoken: true}); got != want {
			t.Errorf("%s is spoken %q, want %q", text, got, want)
		}
	}
	s := measure.Style{Spoken: true, Graduation: in / 8, MarkInexact: true}
	if got, want := measure.MustParse(`7' 4-25/32"`).Format(s), `seven feet four and three quarters inches strong`; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got, want := measure.MustParse(`23/32"`).Format(s), `three quarters of an inch light`; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got, want := (6 * ft).Format(measure.Style{Spoken: true, Zeros: true}), `six feet zero inches`; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
