package measure

import "unicode/utf8"

// maxText is the longest text that is read, in bytes. No text that people write
// for one quantity comes near it.
const maxText = 64

// text is the input after folding: every rune has become one byte, in which letters
// are lower case, the typographic forms of a mark are the plain ASCII one, and
// single-rune fractions and raised digits have their own code points. A zero byte
// follows the last one, so that the scanners need no bounds tests.
type text struct {
	b [maxText + 4]byte
	n int
	f fault
}

// Codes of folded runes that have no ASCII form.
const (
	foldVulgar = 0x80 // to 0x80+len(vulgar)-1: ½ and the like
	foldRaised = 0xa0 // to 0xa9: superscript digits
	foldDegree = 0xb0
	foldOther  = 0xff // a rune that no quantity is written with
)

// vulgar are the fractions that have a code point, in the order of their codes.
var vulgar = [...]struct {
	r        rune
	num, den uint8
}{
	{'¼', 1, 4}, {'½', 1, 2}, {'¾', 3, 4},
	{'⅐', 1, 7}, {'⅑', 1, 9}, {'⅒', 1, 10},
	{'⅓', 1, 3}, {'⅔', 2, 3},
	{'⅕', 1, 5}, {'⅖', 2, 5}, {'⅗', 3, 5}, {'⅘', 4, 5},
	{'⅙', 1, 6}, {'⅚', 5, 6},
	{'⅛', 1, 8}, {'⅜', 3, 8}, {'⅝', 5, 8}, {'⅞', 7, 8},
}

// foldASCII maps an ASCII byte to its folded form.
var foldASCII = func() (t [128]byte) {
	for c := range t {
		switch b := byte(c); {
		case b == '\t':
			t[c] = ' '
		case b < ' ' || b == 0x7f:
			t[c] = foldOther
		case 'A' <= b && b <= 'Z':
			t[c] = b + 'a' - 'A'
		default:
			t[c] = b
		}
	}
	return t
}()

// fold maps a rune beyond ASCII to its folded form.
func fold(r rune) byte {
	switch r {
	case '\u00a0', '\u202f', '\u205f', '\u3000': // no-break, narrow no-break, mathematical, ideographic space
		return ' '
	case '′', '’', '‘', '´', 'ʹ', 'ʼ', '＇':
		return '\''
	case '″', '”', '“', 'ʺ', '˝', '＂':
		return '"'
	case '‐', '‑', '‒', '–', '−', '－': // hyphens, figure and en dash, minus, full-width
		return '-'
	case '⁄', '∕', '／':
		return '/'
	case '＋':
		return '+'
	case '．':
		return '.'
	case '，':
		return ','
	case '°', 'º', '˚':
		return foldDegree
	case 'µ', 'μ':
		return 'u'
	case '×':
		return 'x'
	case '¹':
		return foldRaised + 1
	case '²':
		return foldRaised + 2
	case '³':
		return foldRaised + 3
	case '⁰':
		return foldRaised
	}
	switch {
	case '\u2000' <= r && r <= '\u200a': // en space to hair space
		return ' '
	case '⁴' <= r && r <= '⁹':
		return foldRaised + 4 + byte(r-'⁴')
	case '₀' <= r && r <= '₉':
		return '0' + byte(r-'₀')
	case '０' <= r && r <= '９':
		return '0' + byte(r-'０')
	case 'Ａ' <= r && r <= 'Ｚ':
		return 'a' + byte(r-'Ａ')
	case 'ａ' <= r && r <= 'ｚ':
		return 'a' + byte(r-'ａ')
	}
	for i, v := range vulgar {
		if v.r == r {
			return foldVulgar + byte(i)
		}
	}
	return foldOther
}

// load folds s into t without its leading and trailing spaces. It returns the
// index of the first byte that is not a space, and false when s is too long.
func load[S string | []byte](t *text, s S) (int, bool) {
	if len(s) > maxText {
		t.fail(faultLong, 0, 0)
		return 0, false
	}
	n := 0
	for n < len(s) && s[n] < utf8.RuneSelf { // the usual case: ASCII to the end
		t.b[n] = foldASCII[s[n]]
		n++
	}
	for i := n; i < len(s); n++ {
		c, size := foldRune(string(s[i:min(i+utf8.UTFMax, len(s))]))
		t.b[n] = c
		i += size
	}
	for n > 0 && t.b[n-1] == ' ' {
		n--
	}
	t.b[n] = 0
	t.n = n
	return t.spaces(0), true
}

func foldRune(s string) (c byte, size int) {
	r, size := utf8.DecodeRuneInString(s)
	if r < utf8.RuneSelf {
		return foldASCII[r], size
	}
	return fold(r), size
}

// swapMarks exchanges commas and points before digits, so that text with a decimal
// comma is read, rejected and offered as text with a decimal point is.
func (t *text) swapMarks() {
	for i, c := range t.b[:t.n] {
		switch {
		case !isDigit(t.b[i+1]):
		case c == ',':
			t.b[i] = '.'
		case c == '.':
			t.b[i] = ','
		}
	}
}

// spaces returns the index of the first byte from i on that is not a space.
func (t *text) spaces(i int) int {
	for t.b[i] == ' ' {
		i++
	}
	return i
}

// word returns the index after the letters that start at i.
func (t *text) word(i int) int {
	for isLetter(t.b[i]) {
		i++
	}
	return i
}

// abbreviation skips the period of an abbreviation such as "in." at i. Before a
// digit the period is a decimal point.
func (t *text) abbreviation(i int) int {
	if t.b[i] == '.' && !isDigit(t.b[i+1]) {
		return i + 1
	}
	return i
}

func isDigit(c byte) bool  { return c-'0' <= 9 }
func isLetter(c byte) bool { return c-'a' <= 'z'-'a' }
func isVulgar(c byte) bool { return c-foldVulgar < byte(len(vulgar)) }
func isRaised(c byte) bool { return c-foldRaised <= 9 }

// startsNumber reports whether a number starts at i.
func (t *text) startsNumber(i int) bool {
	c := t.b[i]
	return isDigit(c) || isVulgar(c) || isRaised(c) || c == '.' && isDigit(t.b[i+1])
}

// number is an unsigned number as written: whole + num/den, where den is 0 for
// a whole number.
type number struct {
	whole    uint64
	num, den uint64
	decimal  bool // written with a decimal point
}

// tooBig is the number at which digits saturates. No quantity has a unit so
// small that a number this big is in its range.
const tooBig = 1_000_000_000_000_000_000

// digits reads the decimal digits at i.
func (t *text) digits(i int) (v uint64, end int) {
	for c := t.b[i] - '0'; c <= 9; c = t.b[i] - '0' {
		if v = v*10 + uint64(c); v > tooBig {
			v = tooBig
		}
		i++
	}
	return v, i
}

// number reads the number at i: 4, 4.75, 3/4, 4 3/4, 4-3/4, ¾, 4¾, ¹³⁄₁₆. It
// returns the index after it, or -1 after setting the fault.
func (t *text) number(i int, x *number) int {
	*x = number{}
	c := t.b[i]
	if !isDigit(c) {
		switch {
		case isVulgar(c) || isRaised(c):
			return t.fraction(i, i, x)
		case c == '.' && isDigit(t.b[i+1]):
			return t.decimals(i, x)
		case c == ',' && isDigit(t.b[i+1]):
			return t.fail(faultComma, i, t.n)
		}
		return t.fail(faultNumber, i, t.n)
	}
	v, j := t.digits(i)
	switch c = t.b[j]; {
	case c == '/':
		return t.denominator(v, i, j, i, x)
	case v >= tooBig:
		return t.fail(faultRange, i, j)
	case c == '.' && isDigit(t.b[j+1]):
		x.whole = v
		return t.decimals(j, x)
	case isVulgar(c) || isRaised(c):
		x.whole = v
		return t.fraction(j, i, x)
	}
	x.whole = v
	// A fraction may follow after spaces or a hyphen.
	k := j + 1
	if c == ' ' {
		k = t.spaces(k)
	} else if c != '-' {
		return j
	}
	if c = t.b[k]; isDigit(c) {
		if num, m := t.digits(k); t.b[m] == '/' {
			return t.denominator(num, k, m, i, x)
		}
	} else if isVulgar(c) || isRaised(c) {
		return t.fraction(k, i, x)
	}
	return j
}

// decimals reads a decimal point and the digits after it at i.
func (t *text) decimals(i int, x *number) int {
	v, j := t.digits(i + 1)
	if j-i-1 > maxDecimals {
		return t.fail(faultDecimals, i, j)
	}
	x.num, x.den, x.decimal = v, pow10[j-i-1], true
	return j
}

// fraction reads the fraction at i, single-rune or with a raised numerator,
// into x, whose whole number, if any, starts at start < i.
func (t *text) fraction(i, start int, x *number) int {
	if c := t.b[i]; isVulgar(c) {
		v := vulgar[c-foldVulgar]
		x.num, x.den = uint64(v.num), uint64(v.den)
		return i + 1
	}
	num, j := uint64(0), i
	for ; isRaised(t.b[j]); j++ {
		num = min(num*10+uint64(t.b[j]-foldRaised), tooBig)
	}
	return t.denominator(num, i, j, start, x)
}

// denominator reads the slash at slash and the denominator after it. The
// numerator num stands at i, and the number it belongs to starts at start.
func (t *text) denominator(num uint64, i, slash, start int, x *number) int {
	if t.b[slash] != '/' || !isDigit(t.b[slash+1]) {
		return t.fail(faultFraction, i, slash)
	}
	x.num = num
	var j int
	x.den, j = t.digits(slash + 1)
	switch {
	case x.num >= tooBig || x.den >= tooBig:
		return t.fail(faultRange, i, j)
	case x.den == 0:
		return t.fail(faultZero, i, j)
	case x.num < x.den:
		return j
	case i > start:
		return t.fail(faultImproper, start, j)
	}
	// 19/16 may be 1 9/16 with the space lost. Only an improper fraction that
	// cannot be split like that has one reading.
	for k := i + 1; k < slash && isDigit(t.b[i]); k++ {
		if tail, _ := t.digits(k); t.b[k] != '0' && tail < x.den {
			return t.fail(faultRunTogether, i, j)
		}
	}
	return j
}

const maxDecimals = 18

var pow10 = [maxDecimals + 1]uint64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9,
	1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18}
