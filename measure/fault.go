package measure

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// fault is what a scanner found wrong: which rule, and where in the folded
// text. The words are made only when an error is returned, so that reading
// good text costs nothing for them.
type fault struct {
	code    faultCode
	at, end int
	low     uint64 // faultInexact: the neighbor nearer to zero, as a magnitude
	neg     bool   // faultInexact: the sign of the value
}

type faultCode uint8

const (
	faultNone faultCode = iota
	faultEmpty
	faultLong
	faultNumber
	faultFraction
	faultZero
	faultImproper
	faultRunTogether
	faultDecimals
	faultRange
	faultInexact
	faultNoUnit
	faultUnknownUnit
	faultTwoNumbers
	faultHyphenated
	faultMinus
	faultPoint
	faultComma
	faultMixed
	faultOrder
	faultNotLast
	faultExponent
	faultStrong
	faultTrailing
)

// fail records a fault in the folded text from at to end and returns -1.
func (t *text) fail(code faultCode, at, end int) int {
	t.f = fault{code: code, at: at, end: end}
	return -1
}

// err makes the error for the fault recorded while reading input as q.
func (t *text) err(q quantity, input string) *ParseError {
	e := &ParseError{Kind: q.String(), Input: input}
	f := t.f
	if f.code != faultLong {
		e.Offset = unfold(input, f.at)
		e.Part = strings.TrimRight(input[e.Offset:unfold(input, max(f.at, min(f.end, t.n)))], " ")
	}
	part := e.Part
	switch f.code {
	case faultEmpty:
		e.Err, e.Reason = ErrSyntax, "nothing there; "+q.expected()
	case faultLong:
		e.Err, e.Reason = ErrSyntax, "longer than "+strconv.Itoa(maxText)+" bytes"
	case faultNumber:
		e.Err, e.Reason = ErrSyntax, "want a number here, such as 4, 4.75, 3/4 or 4-3/4"
	case faultFraction:
		e.Err, e.Reason = ErrSyntax, "a fraction is written numerator, slash, denominator, such as 3/4"
	case faultZero:
		num, _, _ := strings.Cut(part, "/")
		e.Err, e.Reason = ErrAmbiguous, "a fraction cannot have the denominator 0; for a width in feet and inches write "+num+`'-0"`
	case faultImproper:
		e.Err, e.Reason = ErrAmbiguous, "a fraction after a whole number must be less than 1; it could be the sum, or a slip of the pen"
	case faultRunTogether:
		e.Err, e.Reason = ErrAmbiguous, "could be "+strings.Join(readings(part), " or ")+"; put a space or a hyphen between whole number and fraction"
	case faultDecimals:
		e.Err, e.Reason = ErrSyntax, "more than "+strconv.Itoa(maxDecimals)+" decimal places"
	case faultRange:
		e.Err, e.Reason = ErrRange, "too big for the type"
	case faultInexact:
		lo, _ := signed(f.low, f.neg) // settle has made sure that both are in range
		hi, _ := signed(f.low+1, f.neg)
		e.Err, e.Reason = ErrInexact, "between "+q.format(min(lo, hi))+" and "+q.format(max(lo, hi))+"; write one of them, or say how to round"
	case faultNoUnit:
		e.Err, e.Reason = ErrUnit, "the number has no unit; "+q.expected()
	case faultUnknownUnit:
		e.Err, e.Reason = ErrUnit, "not a unit of this quantity; "+q.expected()
	case faultTwoNumbers:
		e.Err, e.Reason = ErrAmbiguous, "two numbers in a row could be feet and inches, a whole number and a fraction, or two values; mark the units"
	case faultHyphenated:
		e.Err, e.Reason = ErrAmbiguous, hyphenated(part)
	case faultMinus:
		e.Err, e.Reason = ErrAmbiguous, "the hyphen could join two parts or subtract; write it without the space before it, as in 7'-4\""
	case faultPoint:
		e.Err, e.Reason = ErrAmbiguous, "could be a decimal of the first number or a second number; write 7.5' or 7' 0.5\""
	case faultComma:
		e.Err, e.Reason = ErrAmbiguous, "a comma could be a decimal point or group digits; write a decimal point and no comma"
	case faultMixed:
		e.Err, e.Reason = ErrAmbiguous, "mixes inches and millimeters; one of the two is a slip, so write one system"
	case faultOrder:
		e.Err, e.Reason = ErrSyntax, "units go from large to small, each once"
	case faultNotLast:
		e.Err, e.Reason = ErrSyntax, "only the last number may have a fraction or decimals"
	case faultExponent:
		e.Err, e.Reason = ErrSyntax, "exponents, hexadecimal and digit separators are not read; write plain digits"
	case faultStrong:
		e.Err, e.Reason = ErrAmbiguous, "a trailing + or - (strong or light) does not say how much; write the value meant"
	default:
		e.Err, e.Reason = ErrSyntax, "unexpected text; "+q.expected()
	}
	return e
}

// unfold returns the byte offset in s of the rune that folded to byte i.
func unfold(s string, i int) int {
	off := 0
	for ; i > 0 && off < len(s); i-- {
		_, size := utf8.DecodeRuneInString(s[off:])
		off += size
	}
	return off
}

// readings lists what a run-together fraction such as 113/16 can mean.
func readings(frac string) []string {
	num, den, ok := strings.Cut(frac, "/")
	if !ok {
		return []string{frac}
	}
	d, _ := strconv.ParseUint(den, 10, 64)
	var out []string
	for k := 1; k < len(num); k++ {
		if n, err := strconv.ParseUint(num[k:], 10, 64); err == nil && n < d && num[k] != '0' {
			out = append(out, num[:k]+" "+num[k:]+"/"+den)
		}
	}
	return append(out, "the improper fraction "+frac)
}

// hyphenated says what two hyphenated whole numbers can mean.
func hyphenated(part string) string {
	a, b, _ := strings.Cut(strings.TrimRight(part, `"`), "-")
	return "could be " + a + "'-" + b + `", ` + a + " to " + b + ", or " + a + " and " + b + " graduations; mark the feet and the inches"
}
