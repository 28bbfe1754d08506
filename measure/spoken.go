package measure

import (
	"strconv"
	"strings"
)

// ParseSpoken reads a length as it is called out from the tape, dictated to a
// phone, or noted on a cut list:
//
//	seven four and three quarters           six foot two and five eighths
//	eighty-eight and three quarters         five and a half feet
//	a quarter inch   three quarters of an inch   an inch and a half
//	eighty-eight and three quarters strong  7 foot 4 and 3/4   88 3/4 +
//
// A number without a unit is inches, as tapes are called out, and two such
// numbers are feet and inches if the second has a fraction and is below twelve.
// Every text that [Parse] reads means the same here.
//
// Strong, heavy and fat, or a + at the end, mean a little over the mark; light,
// shy and scant, or a -, mean a little under. The amount is not specified: a
// thirty-second of an inch is common practice, but no source settles it. So l
// is the named mark, and side is +1, -1 or, without such a word or sign, 0. A
// caller that knows the crew's amount uses l + Length(side)*Inch/32 or the
// like; any other caller should ask. [Style] writes both the words and the
// signs.
//
// Text with more than one meaning to a listener is an error that lists them:
// seven four, six foot and a half, two hundred five eighths. The error is a
// *[ParseError]; text longer than 256 bytes is not read.
func ParseSpoken(s string) (l Length, side int, err error) {
	if len(s) > maxSpoken {
		return 0, 0, &ParseError{Kind: "length", Input: s, Err: ErrSyntax, Reason: "longer than " + strconv.Itoa(maxSpoken) + " bytes"}
	}
	l, firstErr := Parse(s)
	if firstErr == nil {
		return l, 0, nil
	}
	rest, side := leaning(s)
	if side != 0 {
		if l, err := Parse(rest); err == nil {
			return l, side, nil
		}
	}
	h := hearing{s: s}
	ws, bad := words(rest)
	if bad >= 0 {
		// Neither written nor spoken. Parse explains written text.
		if e := firstErr.(*ParseError); len(s) <= maxText && !strings.ContainsAny(s, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ") {
			return 0, 0, e
		}
		h.fail(bad, len(rest), ErrSyntax, "want words such as seven foot four and three quarters")
		return 0, 0, h.err
	}
	h.ws = ws
	if l, side = h.length(side); h.err != nil {
		return 0, 0, h.err
	}
	return l, side, nil
}

// hearing is a spoken length being read. The first error ends it.
type hearing struct {
	s   string
	ws  []word
	err error
}

func (h *hearing) fail(at, end int, sentinel error, reason string, choices ...Length) {
	if h.err != nil {
		return
	}
	e := &ParseError{Kind: "length", Input: h.s, Offset: at, Part: strings.TrimRight(h.s[at:end], " "), Err: sentinel, Reason: reason}
	for _, c := range choices {
		e.Choices = append(e.Choices, c.String())
	}
	if sentinel == ErrAmbiguous && len(choices) > 0 {
		e.Reason = "could be " + strings.Join(e.Choices, " or ") + "; " + reason
	}
	h.err = e
}

// failAt records an error at the words from i to j.
func (h *hearing) failAt(i, j int, sentinel error, reason string, choices ...Length) {
	at, end := len(h.s), len(h.s)
	if i < len(h.ws) {
		at, end = h.ws[i].at, h.ws[max(i, j-1)].end
	}
	h.fail(at, end, sentinel, reason, choices...)
}

// is reports whether word i is one of the texts.
func (h *hearing) is(i int, texts ...string) bool {
	if i < len(h.ws) && !h.ws[i].digits {
		for _, t := range texts {
			if h.ws[i].text == t {
				return true
			}
		}
	}
	return false
}

// amount is a number with its unit, if it has one.
type amount struct {
	number
	unit       unit
	i, j       int  // its words
	and        bool // and stood before it
	article    bool // a foot, rather than one foot
	numberOnly bool // a whole number without a unit
}

// length reads the whole text.
func (h *hearing) length(side int) (Length, int) {
	i, neg := 0, false
	if h.is(0, "minus", "negative") {
		i, neg = 1, true
	}
	// A strong quarter inch.
	if k := i; k < len(h.ws) && side == 0 {
		if h.is(k, "a") {
			k++
		}
		if k < len(h.ws) && lean(h.ws[k].text) != 0 {
			side = lean(h.ws[k].text)
			i = k + 1
			if k > 0 && h.is(k-1, "a") && h.is(i, "inch", "foot") { // a strong inch
				h.ws[k].text = "one"
				i = k
			}
		}
	}
	if i >= len(h.ws) {
		h.failAt(i, i, ErrSyntax, "nothing there; say a length such as seven foot four and three quarters")
		return 0, 0
	}
	var as []amount
	for i < len(h.ws) && h.err == nil {
		and := len(as) > 0 && h.is(i, "and")
		if and {
			i++
		}
		a, next := h.amount(i)
		if next < 0 {
			h.failAt(i, i+1, ErrSyntax, "want a number here, such as four and three quarters")
			return 0, 0
		}
		a.and = and
		as, i = append(as, a), next
	}
	if h.err != nil {
		return 0, 0
	}
	l := h.sum(h.units(as), neg)
	return l, side
}

// units supplies the units that amounts lack.
func (h *hearing) units(as []amount) []amount {
	first := &as[0]
	switch {
	case len(as) == 1 && first.unit.size == 0:
		first.unit = inches

	case len(as) == 2 && first.numberOnly && (as[1].unit.size == 0 || as[1].unit == inches):
		// Seven four and three quarters.
		second := &as[1]
		if second.den == 0 || second.whole >= 12 || second.and {
			h.failAt(0, len(h.ws), ErrAmbiguous, "two numbers without units; say foot after the feet",
				h.choice(as, feet, inches)...)
			return nil
		}
		first.unit, second.unit = feet, inches

	case len(as) >= 2 && as[len(as)-1].unit.size == 0:
		before, last := as[len(as)-2], &as[len(as)-1]
		fraction := last.whole == 0 && last.den != 0 && before.den == 0
		switch {
		case fraction && (before.unit == inches || before.article && last.and):
			last.unit = before.unit // an inch and a half, a foot and a half
			last.unit.rank = 0
		case before.unit == feet && fraction && last.and:
			h.failAt(before.i, last.j, ErrAmbiguous, "say inch after the fraction, or six and a half feet",
				append(h.choice(as, unit{}, feet), h.choice(as, unit{}, inches)...)...)
		case before.unit == feet:
			last.unit = inches
		case before.unit.size == 0:
			h.failAt(before.i, last.j, ErrAmbiguous, "numbers in a row; say their units")
		default:
			h.failAt(last.i, last.j, ErrUnit, "the number has no unit")
		}
	}
	return as
}

// choice returns the sum with the given units for the amounts without one, as a
// list of one, or an empty list if that is not a length.
func (h *hearing) choice(as []amount, first, last unit) []Length {
	as = append([]amount(nil), as...)
	if as[0].unit.size == 0 {
		as[0].unit = first
	}
	if a := &as[len(as)-1]; a.unit.size == 0 {
		a.unit = last
		a.unit.rank = 0
	}
	try := hearing{s: h.s, ws: h.ws}
	if l := try.sum(as, false); try.err == nil {
		return []Length{l}
	}
	return nil
}

// sum returns the sum of the amounts.
func (h *hearing) sum(as []amount, neg bool) Length {
	if h.err != nil {
		return 0
	}
	var total, rem uint64
	den := uint64(1)
	for k, a := range as {
		switch {
		case a.unit.size == 0:
			h.failAt(a.i, a.j, ErrUnit, "the number has no unit")
			return 0
		case k == 0:
		case a.unit.system != as[k-1].unit.system:
			h.failAt(a.i, a.j, ErrAmbiguous, "two systems of units; say it in one")
			return 0
		case a.unit.rank >= as[k-1].unit.rank:
			h.failAt(a.i, a.j, ErrSyntax, "units go from large to small, each once")
			return 0
		case rem != 0 || as[k-1].den != 0:
			h.failAt(as[k-1].i, as[k-1].j, ErrSyntax, "only the last number may have a fraction")
			return 0
		}
		part, r, d, ok := a.times(a.unit.size)
		if !ok || part > 1<<63-total { // total has passed this test
			h.failAt(0, len(h.ws), ErrRange, "too big for the type")
			return 0
		}
		total, rem, den = total+part, r, d
	}
	var t text
	v, ok := t.settle(total, rem, den, neg, 0, RoundHalfEven)
	switch {
	case ok:
		return Length(v)
	case t.f.code == faultInexact:
		lo, _ := signed(t.f.low, neg)
		hi, _ := signed(t.f.low+1, neg)
		lo, hi = marks(min(lo, hi), max(lo, hi), as[len(as)-1].unit.isMetric())
		low, high := Length(lo), Length(hi)
		h.failAt(0, len(h.ws), ErrInexact, "between "+low.String()+" and "+high.String(), low, high)
	default:
		h.failAt(0, len(h.ws), ErrRange, "too big for the type")
	}
	return 0
}

// amount reads an amount at word i and returns the index after it, or -1.
func (h *hearing) amount(i int) (amount, int) {
	a := amount{i: i}
	j := h.fraction(i, &a.number, false)
	if j < 0 {
		if v, k, _ := h.cardinal(i); k >= 0 {
			a.whole, j = v, k
			j = h.afterWhole(i, j, &a)
		} else if i < len(h.ws) && h.ws[i].digits {
			a.number, j = h.ws[i].n, i+1 // 4-3/4 or 4.75
		} else if h.is(i, "a", "an") {
			a.whole, a.article, j = 1, true, i+1
		} else {
			return a, -1
		}
	}
	if j < 0 {
		return a, -1
	}
	j = h.unit(j, &a)
	a.j = j
	a.numberOnly = a.unit.size == 0 && a.den == 0 && !a.article
	if a.article && a.unit.size == 0 {
		return a, -1
	}
	return a, j
}

// afterWhole reads a continuation of a whole number: and five, after a hundred;
// point seven five; and three quarters.
func (h *hearing) afterWhole(i, j int, a *amount) int {
	if h.is(j, "and") && a.whole%100 == 0 && a.whole != 0 {
		if h.fraction(j+1, &number{}, true) < 0 {
			if v, k, spelled := h.cardinal(j + 1); k >= 0 && spelled && v < 100 {
				a.whole += v
				j = k
			}
		}
	}
	if h.is(j, "point") {
		v, places := uint64(0), 0
		for j++; j < len(h.ws) && places < maxDecimals; j++ {
			d, tensDigit, ok := small(h.ws[j].text)
			if h.is(j, "oh") {
				d, ok = 0, true
			}
			if tensDigit || !ok || d > 9 || h.ws[j].digits {
				break
			}
			v = v*10 + d
			places++
		}
		if places == 0 {
			h.failAt(j, j+1, ErrSyntax, "want digits after the point, such as seven point two five")
			return -1
		}
		a.num, a.den, a.decimal = v, pow10[places], true
		return j
	}
	start := j
	if h.is(j, "and") {
		start++
	}
	var f number
	k := h.fraction(start, &f, true)
	if k < 0 {
		return j
	}
	if f.num >= f.den {
		h.failAt(i, k, ErrAmbiguous, "a fraction after a whole number must be less than 1")
		return -1
	}
	a.num, a.den = f.num, f.den
	return k
}

// unit reads the unit at word j, which may follow "of an" and the like.
func (h *hearing) unit(j int, a *amount) int {
	k := j
	if a.den != 0 {
		if h.is(k, "of") {
			k++
		}
		if h.is(k, "a", "an") {
			k++
		}
	}
	if k < len(h.ws) && !h.ws[k].digits {
		if u := lengthWord([]byte(h.ws[k].text)); u.size != 0 {
			a.unit = u
			return k + 1
		}
	}
	if k > j && h.is(j, "of") {
		h.failAt(k, k+1, ErrUnit, "want a unit, such as inch")
	}
	return j
}

// fraction reads a fraction at word i: a half, three quarters, five
// thirty-seconds, three over one hundred twenty-eight, ¾, 3/4. It returns the
// index after it, or -1. quiet means that another reading may follow, so
// ambiguous text is not yet an error.
func (h *hearing) fraction(i int, f *number, quiet bool) int {
	if i >= len(h.ws) {
		return -1
	}
	if w := h.ws[i]; w.digits && w.n.den != 0 {
		if w.n.whole != 0 || w.n.decimal {
			return -1
		}
		*f = number{num: w.n.num, den: w.n.den}
		return i + 1
	}
	num, j, spelled := uint64(1), i, true
	if h.is(i, "a", "an") {
		j++
	} else if v, k, sp := h.cardinal(i); k >= 0 {
		num, j, spelled = v, k, sp
		if h.is(j, "over") {
			den, end, _ := h.cardinal(j + 1)
			if end < 0 || den == 0 {
				return -1
			}
			*f = number{num: num, den: den}
			return end
		}
	}
	den, many, end := h.denominators(j)
	if end < 0 {
		return -1
	}
	implied := j == i // quarter inch
	*f = number{num: num, den: den}
	switch {
	case implied && many:
		return -1
	case num >= den && spelled && (j-i > 1 || num >= 20), num >= den && !many:
		// Two hundred five eighths, seven quarter: the whole number may end
		// anywhere.
		if !quiet {
			h.failAt(i, end, ErrAmbiguous, "say and between the whole number and the fraction")
		}
		return -1
	}
	return end
}

// denominators reads quarters, thirty-seconds and so on at word j.
func (h *hearing) denominators(j int) (den uint64, many bool, end int) {
	switch {
	case j >= len(h.ws) || h.ws[j].digits:
		return 0, false, -1
	case h.is(j, "thirty") && h.is(j+1, "second", "seconds"):
		return 32, h.is(j+1, "seconds"), j + 2
	case h.is(j, "sixty") && h.is(j+1, "fourth", "fourths"):
		return 64, h.is(j+1, "fourths"), j + 2
	}
	den, many, ok := denominator(h.ws[j].text)
	if !ok {
		return 0, false, -1
	}
	return den, many, j + 1
}

// cardinal reads a whole number at word i, in words or in digits, and returns
// the index after it, or -1. Words go together as far as they can: eighty eight
// is 88, two hundred five is 205, but seven four is two numbers.
func (h *hearing) cardinal(i int) (v uint64, end int, spelled bool) {
	if i < len(h.ws) && h.ws[i].digits {
		if h.ws[i].n.den != 0 {
			return 0, -1, false
		}
		return h.ws[i].n.whole, i + 1, false
	}
	last := uint64(1e12)
	end = -1
	for {
		n, j := h.hundreds(i)
		if j < 0 {
			return v, end, true
		}
		scale := uint64(1)
		for _, t := range thousands {
			if h.is(j, t.word) {
				scale = t.size
				j++
				break
			}
		}
		if scale >= last || n == 0 && end >= 0 {
			return v, end, true // the next number begins
		}
		v, end, i, last = v+n*scale, j, j, scale
		if scale == 1 {
			return v, end, true
		}
	}
}

// hundreds reads a number below one thousand in words, or a thousand's article.
func (h *hearing) hundreds(i int) (v uint64, end int) {
	if h.is(i, "a") && h.is(i+1, "hundred", "thousand", "million", "billion") {
		v, end = 1, i+1
	} else if v, end = h.below100(i); end < 0 {
		return 0, -1
	}
	if h.is(end, "hundred") && 0 < v && v < 100 {
		v *= 100
		if rest, j := h.below100(end + 1); j >= 0 && rest != 0 {
			return v + rest, j
		}
		end++
	}
	return v, end
}

func (h *hearing) below100(i int) (v uint64, end int) {
	if i >= len(h.ws) || h.ws[i].digits {
		return 0, -1
	}
	v, tensDigit, ok := small(h.ws[i].text)
	if !ok {
		return 0, -1
	}
	if tensDigit && i+1 < len(h.ws) && !h.ws[i+1].digits {
		if d, more, ok := small(h.ws[i+1].text); ok && !more && 1 <= d && d <= 9 {
			return v + d, i + 2
		}
	}
	return v, i + 1
}
