package measure

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// fault is a fault found by a scanner: which rule, and where in the folded
// text. The message is built only when an error is returned, so it costs
// nothing for good text.
type fault struct {
	code    faultCode
	at, end int
	low     uint64 // faultInexact: the neighbor nearer to zero, as a magnitude
	neg     bool   // faultInexact: the sign of the value
	metric  bool   // faultInexact of a length: its unit is metric
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
	faultPercent
	faultTrailing
)

// fail records a fault in the folded text from at to end and returns -1.
func (t *text) fail(code faultCode, at, end int) int {
	t.f = fault{code: code, at: at, end: end}
	return -1
}

// faultReasons holds the errors for faults whose reason is the same for every text.
var faultReasons = [faultTrailing + 1]struct {
	err    error
	reason string
}{
	faultFraction:    {ErrSyntax, "a fraction is written numerator, slash, denominator, such as 3/4"},
	faultZero:        {ErrAmbiguous, "a fraction cannot have the denominator 0; a width in feet and inches needs its marks"},
	faultImproper:    {ErrAmbiguous, "a fraction after a whole number must be less than 1"},
	faultRunTogether: {ErrAmbiguous, "put a space or a hyphen between whole number and fraction"},
	faultRange:       {ErrRange, "too big for the type"},
	faultTwoNumbers:  {ErrAmbiguous, "two numbers in a row could also be two values; mark the units"},
	faultHyphenated:  {ErrAmbiguous, "a hyphen between two numbers could also mean from one to the other; mark the feet and the inches"},
	faultMinus:       {ErrAmbiguous, "the hyphen could join two parts or subtract; write it without the space before it, as in 7'-4\""},
	faultMixed:       {ErrAmbiguous, "mixes two systems of units; write the sum in one, unless a unit is a slip"},
	faultOrder:       {ErrSyntax, "units go from large to small, each once"},
	faultNotLast:     {ErrSyntax, "only the last number may have a fraction or decimals"},
	faultExponent:    {ErrSyntax, "exponents, hexadecimal and digit separators are not read; write plain digits"},
	faultStrong:      {ErrAmbiguous, "a trailing + or - (strong or light) does not say how much; write the value meant"},
	faultPercent:     {ErrAmbiguous, "a plain number above 1 is more often a percentage than a factor; write the percent sign"},
}

// err returns the error for the fault recorded while the parser read input as q.
func (t *text) err(q quantity, input string, in Parser) *ParseError {
	e := &ParseError{Kind: q.String(), Input: input}
	f := t.f
	if f.code != faultLong {
		e.Offset = unfold(input, f.at)
		e.Part = strings.TrimRight(input[e.Offset:unfold(input, max(f.at, min(f.end, t.n)))], " ")
	}
	e.Err, e.Reason = faultReasons[f.code].err, faultReasons[f.code].reason
	switch f.code {
	case faultEmpty:
		e.Err, e.Reason = ErrSyntax, "nothing there; "+in.mark(q.expected())
	case faultLong:
		e.Err, e.Reason = ErrSyntax, "longer than "+strconv.Itoa(maxText)+" bytes"
	case faultNumber:
		e.Err, e.Reason = ErrSyntax, "want a number here, such as 4, "+in.mark("4.75")+", 3/4 or 4-3/4"
	case faultDecimals:
		e.Err, e.Reason = ErrSyntax, "more than "+strconv.Itoa(maxDecimals)+" decimal places"
	case faultInexact:
		lo, _ := signed(f.low, f.neg) // settle has ensured that both are in range
		hi, _ := signed(f.low+1, f.neg)
		lo, hi = min(lo, hi), max(lo, hi)
		if q == lengths {
			lo, hi = marks(lo, hi, f.metric)
		}
		e.Choices = []string{in.mark(q.format(lo)), in.mark(q.format(hi))}
		e.Err, e.Reason = ErrInexact, "between "+e.Choices[0]+" and "+e.Choices[1]+"; write one of them, or say how to round"
	case faultNoUnit:
		e.Err, e.Reason = ErrUnit, "the number has no unit; "+in.mark(q.expected())
	case faultUnknownUnit:
		e.Err, e.Reason = ErrUnit, "not a unit of this quantity; "+in.mark(q.expected())
	case faultPoint:
		name := "point"
		if in.DecimalComma {
			name = "comma"
		}
		e.Err, e.Reason = ErrAmbiguous, "a "+name+" after a unit could belong to the number before it or after it"
	case faultComma:
		if in.DecimalComma {
			e.Err, e.Reason = ErrAmbiguous, "a point could be a decimal mark, group digits or separate; write a decimal comma and no point"
			break
		}
		e.Err, e.Reason = ErrAmbiguous, "a comma could be a decimal point, group digits or separate; write a decimal point and no comma"
	case faultNone, faultTrailing:
		e.Err, e.Reason = ErrSyntax, "unexpected text; "+in.mark(q.expected())
	}
	if e.Err == ErrAmbiguous {
		if e.Choices = t.choices(q, in); len(e.Choices) > 0 {
			e.Reason = "could be " + strings.Join(e.Choices, " or ") + "; " + e.Reason
		}
	}
	return e
}

// mark returns s with the decimal mark that the parser reads.
func (p Parser) mark(s string) string {
	if p.DecimalComma {
		s = strings.Replace(s, ".", ",", 1)
	}
	return s
}

// marks returns the two graduations around a length that lies between two ticks: 1/16 in
// or 0.1 mm apart, or 1/128 in or 1 µm apart below the first of those. Nobody reads a
// tick.
func marks(low, high int64, metric bool) (int64, int64) {
	step, fine := int64(Inch/16), int64(Inch/128)
	if metric {
		step, fine = int64(Millimeter/10), int64(Micrometer)
	}
	if -step < high && low < step {
		step = fine
	}
	below := low - (low%step+step)%step
	if below > low || below+step < below { // out of range
		return low, high
	}
	return below, below + step
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
