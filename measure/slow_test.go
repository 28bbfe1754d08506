package measure_test

import (
	"math/big"
	"regexp"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"pgregory.net/rapid"
)

// slowParse is a second parser of lengths, written from the documentation of Parse with regular
// expressions and rationals, without looking at the code of Parse. It reports only whether s is a
// length, and its value.
func slowParse(s string) (ticks *big.Int, ok bool) {
	if len(s) > 64 {
		return nil, false
	}
	s = strings.Trim(slowPlain.Replace(s), " ")
	sum, neg := new(big.Rat), false
	if m := slowSign.FindString(s); m != "" {
		neg, s = m[0] == '-', s[len(m):]
	}

	// Feet, inches and a fraction joined by hyphens have one reading.
	if m := slowHyphens.FindStringSubmatch(s); m != nil {
		inches, isNumber := slowNumber(&slowText{rest: m[2] + "-" + m[3]})
		feet, _ := new(big.Rat).SetString(m[1])
		if whole, _ := new(big.Rat).SetString(m[2]); !isNumber || whole.Cmp(big.NewRat(12, 1)) >= 0 {
			return nil, false
		}
		sum.Add(feet.Mul(feet, rat(int64(ft))), inches.Mul(inches, rat(int64(in))))
		return slowTicks(sum, neg)
	}

	t := &slowText{rest: s}
	for last := (slowUnit{}); ; {
		number := t.rest
		value, isNumber := slowNumber(t)
		number = number[:len(number)-len(t.rest)]
		if !isNumber {
			return nil, false
		}
		u, has := t.unit()
		if !has {
			if t.rest != "" || last.size != ft {
				return nil, false
			}
			u = slowUnit{"inches", in, last.system}
		}
		if last.size != 0 && (u.system != last.system || u.size >= last.size) {
			return nil, false
		}
		last = u
		sum.Add(sum, new(big.Rat).Mul(value, rat(int64(u.size))))
		if strings.Trim(t.rest, " ") == "" {
			return slowTicks(sum, neg)
		}
		if strings.Trim(number, "0123456789") != "" {
			return nil, false // only the last number may have a fraction or decimals
		}
		// The text between a unit and the next number.
		m := slowBetween.FindString(t.rest)
		if m == "" && strings.HasPrefix(t.rest, ".") {
			return nil, false
		}
		t.rest = t.rest[len(m):]
	}
}

func slowTicks(sum *big.Rat, neg bool) (*big.Int, bool) {
	if neg {
		sum.Neg(sum)
	}
	if !sum.IsInt() || !sum.Num().IsInt64() {
		return nil, false
	}
	return sum.Num(), true
}

type slowText struct{ rest string }

func (t *slowText) take(re *regexp.Regexp) []string {
	m := re.FindStringSubmatch(t.rest)
	if m != nil {
		t.rest = t.rest[len(m[0]):]
	}
	return m
}

const slowVulgarRunes = "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"

var (
	slowVulgar = map[string]string{"¼": "1/4", "½": "1/2", "¾": "3/4", "⅐": "1/7", "⅑": "1/9", "⅒": "1/10", "⅓": "1/3", "⅔": "2/3", "⅕": "1/5",
		"⅖": "2/5", "⅗": "3/5", "⅘": "4/5", "⅙": "1/6", "⅚": "5/6", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
	slowRaised  = strings.NewReplacer("⁰", "0", "¹", "1", "²", "2", "³", "3", "⁴", "4", "⁵", "5", "⁶", "6", "⁷", "7", "⁸", "8", "⁹", "9")
	slowHyphens = regexp.MustCompile(`^(\d+)-(\d+)-(\d+/\d+|[` + slowVulgarRunes + `]|[⁰¹²³⁴-⁹]+/\d+) *(?:"|''|(?:in|inch|inches)\.?)?$`)

	slowSign     = regexp.MustCompile(`^[-+] *`)
	slowBetween  = regexp.MustCompile(`^(?:- *| +- +|, +| +|)`)
	slowUnitText = regexp.MustCompile(`^ *(''|'|"|[a-z]+)`)

	slowDecimal = regexp.MustCompile(`^(\d*)\.(\d+)`)
	slowMixed   = regexp.MustCompile(`^(\d+)(?:(?: +|-)(\d+)/(\d+)|(?: *|-)(?:([` + slowVulgarRunes + `])|([⁰¹²³⁴-⁹]+)/(\d+)))`)
	slowFrac    = regexp.MustCompile(`^(\d+)/(\d+)`)
	slowSingle  = regexp.MustCompile(`^(?:([` + slowVulgarRunes + `])|([⁰¹²³⁴-⁹]+)/(\d+))`)
	slowWhole   = regexp.MustCompile(`^\d+`)
)

// slowNumber reads an unsigned number.
func slowNumber(t *slowText) (*big.Rat, bool) {
	if m := t.take(slowDecimal); m != nil {
		v, _ := new(big.Rat).SetString("0" + m[1] + "." + m[2])
		return v, len(m[2]) <= 18
	}
	if m := t.take(slowMixed); m != nil {
		whole, _ := new(big.Rat).SetString(m[1])
		var f *big.Rat
		ok := true
		switch {
		case m[4] != "":
			f, ok = new(big.Rat).SetString(slowVulgar[m[4]])
		case m[5] != "":
			f, ok = slowFraction(slowRaised.Replace(m[5]), m[6])
		default:
			f, ok = slowFraction(m[2], m[3])
		}
		if !ok || f.Cmp(big.NewRat(1, 1)) >= 0 {
			return nil, false
		}
		return f.Add(f, whole), true
	}
	if m := t.take(slowFrac); m != nil {
		f, ok := slowFraction(m[1], m[2])
		if !ok {
			return nil, false
		}
		if f.Cmp(big.NewRat(1, 1)) >= 0 { // a space may have been lost in it
			for k := 1; k < len(m[1]); k++ {
				tail, ok := slowFraction(m[1][k:], m[2])
				if ok && m[1][k] != '0' && tail.Cmp(big.NewRat(1, 1)) < 0 {
					return nil, false
				}
			}
		}
		return f, true
	}
	if m := t.take(slowSingle); m != nil {
		if m[1] != "" {
			return new(big.Rat).SetString(slowVulgar[m[1]])
		}
		return slowFraction(slowRaised.Replace(m[2]), m[3])
	}
	if m := t.take(slowWhole); m != nil {
		v, ok := new(big.Rat).SetString(m[0])
		return v, ok && v.Cmp(rat(1e18)) < 0
	}
	return nil, false
}

func slowFraction(num, den string) (*big.Rat, bool) {
	n, _ := new(big.Int).SetString(num, 10)
	d, _ := new(big.Int).SetString(den, 10)
	most := big.NewInt(1e18)
	if d.Sign() == 0 || n.Cmp(most) >= 0 || d.Cmp(most) >= 0 {
		return nil, false
	}
	return new(big.Rat).SetFrac(n, d), true
}

type slowUnit struct {
	names  string
	size   measure.Length
	system string
}

var slowUnits = []slowUnit{
	{`"|''|in|inch|inches`, in, "us"}, {`'|ft|foot|feet`, ft, "us"}, {`yd|yds|yard|yards`, measure.Yard, "us"},
	{`um|micrometer|micrometers|micrometre|micrometres|micron|microns`, measure.Micrometer, "si"},
	{`mm|millimeter|millimeters|millimetre|millimetres`, mm, "si"},
	{`cm|centimeter|centimeters|centimetre|centimetres`, measure.Centimeter, "si"},
	{`m|meter|meters|metre|metres`, measure.Meter, "si"},
}

// unit reads a unit with the spaces before it.
func (t *slowText) unit() (slowUnit, bool) {
	m := t.take(slowUnitText)
	if m == nil {
		return slowUnit{}, false
	}
	for _, u := range slowUnits {
		for _, name := range strings.Split(u.names, "|") {
			if name == m[1] {
				if regexp.MustCompile(`^[a-z]`).MatchString(name) && regexp.MustCompile(`^\.(\D|$)`).MatchString(t.rest) {
					t.rest = t.rest[1:]
				}
				return u, true
			}
		}
	}
	t.rest = m[0] + t.rest
	return slowUnit{}, false
}

// slowPlain converts the characters that phones type to ASCII.
var slowPlain = func() *strings.Replacer {
	pairs := []string{"\t", " "}
	to := func(ascii, others string) {
		for _, r := range others {
			pairs = append(pairs, string(r), ascii)
		}
	}
	to(" ", "\u00a0\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f\u205f\u3000")
	to("'", "′’‘´ʹʼ＇")
	to(`"`, "″”“ʺ˝＂")
	to("-", "‐‑‒–−－")
	to("/", "⁄∕／")
	to("+", "＋")
	to(".", "．")
	to(",", "，")
	to("u", "µμ")
	for i := range 10 {
		to(string(rune('0'+i)), string([]rune{'₀' + rune(i), '０' + rune(i)}))
	}
	for i := range 26 {
		to(string(rune('a'+i)), string([]rune{'A' + rune(i), 'Ａ' + rune(i), 'ａ' + rune(i)}))
	}
	return strings.NewReplacer(pairs...)
}()

// agree fails when the readers differ over s.
func agree(t fataler, s string) {
	t.Helper()
	want, ok := slowParse(s)
	got, err := measure.Parse(s)
	if ok != (err == nil) || ok && int64(got) != want.Int64() {
		t.Fatalf("Parse(%q) = %d, %v; the slow reader has %v, %v", s, int64(got), err, want, ok)
	}
	full, err := measure.ReadInFull(s)
	if ok != (err == nil) || full != got {
		t.Fatalf("%q in full is %d, %v; want %v", s, int64(full), err, want)
	}
	if quick, done := measure.Quick(s); done && (!ok || quick != got) {
		t.Fatalf("%q read quickly is %d; want %v, %v", s, int64(quick), want, ok)
	}
}

// anyText draws texts near to lengths.
func anyText() *rapid.Generator[string] {
	alphabet := []rune("0123456789'\"-/. ,ftinmcyd+½¾³⁄₄′″’–\u00a0\u2009eo_x")
	var accepted []string
	for _, c := range spellings {
		accepted = append(accepted, c.text...)
	}
	return rapid.Custom(func(t *rapid.T) string {
		if rapid.IntRange(0, 3).Draw(t, "kind") == 0 {
			return rapid.StringOfN(rapid.SampledFrom(alphabet), 0, 12, -1).Draw(t, "text")
		}
		text := []rune(rapid.SampledFrom(accepted).Draw(t, "spelling"))
		for range rapid.IntRange(0, 3).Draw(t, "edits") {
			at := rapid.IntRange(0, len(text)).Draw(t, "at")
			var with []rune
			if rapid.Bool().Draw(t, "insert") {
				with = []rune{rapid.SampledFrom(alphabet).Draw(t, "rune")}
			}
			to := at
			if rapid.Bool().Draw(t, "delete") {
				to = min(at+1, len(text))
			}
			text = append(append(append([]rune(nil), text[:at]...), with...), text[to:]...)
		}
		return string(text)
	})
}

func TestParseAgainstSlowReader(t *testing.T) {
	for _, c := range spellings {
		for _, s := range c.text {
			agree(t, s)
			if want, ok := slowParse(s); !ok || want.Int64() != int64(c.want) {
				t.Errorf("the slow reader has %v, %v for %q", want, ok, s)
			}
		}
	}
	texts := 0
	rapid.Check(t, func(t *rapid.T) {
		for range 20 {
			s := anyText().Draw(t, "text")
			if _, ok := slowParse(s); ok {
				texts++
			}
			agree(t, s)
		}
	})
	if texts < 100 {
		t.Errorf("only %d of the texts are lengths", texts)
	}
}

// Every rune that looks like one of a length's, and all their neighbors.
func TestRunesAgainstSlowReader(t *testing.T) {
	accepted := 0
	for _, block := range [][2]rune{{0, 0x24f}, {0x2b0, 0x2ff}, {0x370, 0x3ff}, {0x660, 0x669}, {0x2000, 0x22ff}, {0x3000, 0x3003}, {0xfe00, 0xfeff}, {0xff00, 0xffef}, {0xfffd, 0xfffd}} {
		for r := block[0]; r <= block[1]; r++ {
			for _, s := range []string{"7%s", "7' 4%s3/4\"", "%s8\"", "7'4%s", "3%s4 in", "5 %sm", "4%sn", "%s 1 ft"} {
				s = strings.Replace(s, "%s", string(r), 1)
				agree(t, s)
				if _, ok := slowParse(s); ok {
					accepted++
				}
			}
		}
	}
	if accepted < 200 {
		t.Errorf("only %d of the texts are lengths", accepted)
	}
}

func FuzzParseAgainstSlowReader(f *testing.F) {
	for _, c := range spellings {
		for _, s := range c.text {
			f.Add(s)
		}
	}
	f.Fuzz(func(t *testing.T, s string) { agree(t, s) })
}
