package measure

import "math/bits"

// quantity is the quantity that a text is read as.
type quantity uint8

const (
	lengths quantity = iota
	angles
	areas
	volumes
	weights
	ratios
	temperatures
)

func (q quantity) String() string {
	return [...]string{"length", "angle", "area", "volume", "weight", "ratio", "temperature"}[q]
}

// expected describes the quantity's text, for error messages.
func (q quantity) expected() string {
	return [...]string{
		`write a length such as 7' 4-3/4", 88.75in or 2253mm`,
		`write an angle such as 22.5° or 22°30'15"`,
		`write an area such as 12.5 sq ft, 48 sq in or 2.5 sq m`,
		`write a volume such as 3 gal, 1 qt, 10.1 fl oz or 300 mL`,
		`write a weight such as 50 lb, 2 1/2 lb, 12 oz or 25 kg`,
		`write a percentage such as 10% or 8.25%`,
		`write a temperature such as 70°F or 21.5°C`,
	}[q]
}

// format writes a value of the quantity.
func (q quantity) format(v int64) string {
	switch q {
	case angles:
		return Angle(v).String()
	case areas:
		return Area(v).String()
	case volumes:
		return Volume(v).String()
	case weights:
		return Weight(v).String()
	case ratios:
		return Ratio(v).String()
	case temperatures:
		return Temperature(v).String()
	}
	return Length(v).String()
}

// unit is a unit of a quantity: its size in the quantity's own unit, and its place among the
// units that combine with it. A size of zero means no unit.
type unit struct {
	size   uint64
	system uint8 // only units of one system combine
	rank   uint8 // larger units have higher ranks
}

// Results of the unit scanners in place of an index.
const (
	noUnit      = -1
	unknownUnit = -2
)

// unit reads the unit at i and returns the index after it, or noUnit or unknownUnit.
func (t *text) unit(q quantity, i int) (unit, int) {
	switch q {
	case angles:
		return t.angleUnit(i)
	case areas:
		return t.areaUnit(i)
	case volumes:
		return t.volumeUnit(i)
	case weights:
		return t.weightUnit(i)
	}
	return t.lengthUnit(i)
}

// read reads s as a quantity, one or more numbers with their units. If it reports false, t holds
// the fault.
func read[S string | []byte](t *text, s S, q quantity, p Parser) (int64, bool) {
	switch q {
	case ratios:
		return readRatio(t, s)
	case temperatures:
		return readTemperature(t, s)
	}
	i, ok := load(t, s)
	if !ok {
		return 0, false
	}
	if p.DecimalComma {
		t.swapMarks()
	}
	neg := false
	if c := t.b[i]; c == '-' || c == '+' {
		neg = c == '-'
		i = t.spaces(i + 1)
	}
	if i >= t.n {
		t.fail(faultEmpty, i, i)
		return 0, false
	}
	return t.sum(q, p, i, neg)
}

// sum reads numbers with their units from i on and adds them up.
func (t *text) sum(q quantity, p Parser, i int, neg bool) (v int64, ok bool) {
	var (
		total    uint64
		rem, den uint64 = 0, 1
		num      number
		last     unit // of the number before
	)
	for {
		start := i
		if i = t.number(i, &num); i < 0 {
			return 0, false
		}
		end := i
		i = t.spaces(i)
		u, next := t.unit(q, i)
		if next < 0 {
			switch bare := p.bare(q, last); {
			case next == unknownUnit:
				t.unknownUnit(i)
				return 0, false
			case i == t.n && bare.size != 0:
				u, next = bare, i
			case q == lengths && last.size == 0 && t.b[end] == '-':
				feet := num
				if next = t.feetInches(start, end, &num); next < 0 {
					return 0, false
				}
				if total, _, _, ok = feet.times(uint64(Foot)); !ok {
					t.fail(faultRange, 0, t.n)
					return 0, false
				}
				u = unit{size: uint64(Inch)}
			default:
				t.noUnit(start, end)
				return 0, false
			}
		}
		if !t.follows(u, last, start, next) {
			return 0, false
		}
		last = u

		var part, carry uint64
		if part, rem, den, ok = num.times(u.size); ok {
			total, carry = bits.Add64(total, part, 0)
		}
		if !ok || carry != 0 || total > 1<<63 {
			t.fail(faultRange, 0, t.n)
			return 0, false
		}
		if i = t.spaces(next); i >= t.n {
			v, ok = t.settle(total, rem, den, neg, uint64(max(p.Graduation, 0)), p.Rounding)
			t.f.metric = u.isMetric()
			return v, ok
		}
		if i = t.between(i, next, num.den != 0); i < 0 {
			return 0, false
		}
	}
}

// follows reports whether a number from start to next may follow one in the unit last: units are
// of one system and go from large to small.
func (t *text) follows(u, last unit, start, next int) bool {
	switch {
	case last.size == 0:
	case u.system != last.system:
		t.fail(faultMixed, start, next)
		return false
	case u.rank >= last.rank:
		t.fail(faultOrder, start, next)
		return false
	}
	return true
}

// isMetric reports whether the unit is a metric one, or a unit of the caller's own that
// is not a whole number of thousandths of an inch.
func (u unit) isMetric() bool {
	return u.system == metric || u.system == 0 && u.size%uint64(Inch/1000) != 0
}

// bare returns the unit to assume for a number without one that follows a number with the unit
// last, or no unit if none can be assumed.
func (p Parser) bare(q quantity, last unit) unit {
	switch {
	case q == lengths && last.size == uint64(Foot):
		return unit{uint64(Inch), last.system, 1}
	case q == lengths && last.size == 0 && p.Unit > 0:
		return unit{size: uint64(p.Unit)}
	case q == angles && last.size == 0:
		return unit{size: uint64(Degree)}
	}
	return unit{}
}

// times returns the number times size, as total + rem/den.
func (x *number) times(size uint64) (total, rem, den uint64, ok bool) {
	over, total := bits.Mul64(x.whole, size)
	if x.den == 0 {
		return total, 0, 1, over == 0
	}
	hi, lo := bits.Mul64(x.num, size)
	if over != 0 || hi >= x.den {
		return 0, 0, 1, false
	}
	var part, carry uint64
	if hi == 0 { // the usual case, with the cheaper division
		part, rem = lo/x.den, lo%x.den
	} else {
		part, rem = bits.Div64(hi, lo, x.den)
	}
	total, carry = bits.Add64(total, part, 0)
	return total, rem, x.den, carry == 0
}

// settle turns ±(total + rem/den) into a value: exactly when step is zero, else rounded to a
// multiple of step.
func (t *text) settle(total, rem, den uint64, neg bool, step uint64, mode Rounding) (int64, bool) {
	if total > limit(neg) || total == limit(neg) && rem != 0 {
		t.fail(faultRange, 0, t.n)
		return 0, false
	}
	if step != 0 {
		rounded, ok := roundMagnitude(total, rem, den, step, neg, mode)
		if !ok {
			t.fail(faultRange, 0, t.n)
			return 0, false
		}
		total, rem = rounded, 0
	}
	if rem != 0 {
		t.fail(faultInexact, 0, t.n)
		t.f.low, t.f.neg = total, neg
		return 0, false
	}
	return signed(total, neg)
}

// between skips the separator between a unit, which ended at end, and the next
// number: spaces, which end at i, a hyphen, or a comma and a space.
func (t *text) between(i, end int, fractional bool) int {
	switch c := t.b[i]; {
	case c == '-' || c == '+':
		j := t.spaces(i + 1)
		switch {
		case j >= t.n:
			return t.fail(faultStrong, i, t.n)
		case c == '+' || !t.startsNumber(j):
			return t.unexpected(i)
		case i > end && j == i+1:
			return t.fail(faultMinus, i, t.n)
		}
		i = j
	case c == ',' && i == end && t.b[i+1] == ' ':
		i = t.spaces(i + 1)
	case c == '.' && i == end && isDigit(t.b[i+1]):
		return t.fail(faultPoint, 0, t.n)
	}
	switch {
	case !t.startsNumber(i):
		return t.unexpected(i)
	case fractional:
		return t.fail(faultNotLast, 0, i)
	}
	return i
}

// feetInches reads the rest of a text such as 7-4-3/4, which has one reading, after the whole
// number x at start and with the hyphen at end. It leaves the inches in x. A shorter text, such
// as 7-4, has several readings and is rejected.
func (t *text) feetInches(start, end int, x *number) int {
	i := end + 1
	switch {
	case i >= t.n:
		return t.fail(faultStrong, start, t.n)
	case !isDigit(t.b[i]) || x.den != 0:
		return t.fail(faultMinus, start, t.n)
	}
	_, wholeEnd := t.digits(i)
	next := t.number(i, x)
	if next < 0 {
		return next
	}
	if u, j := t.lengthUnit(t.spaces(next)); j >= 0 && u.size == uint64(Inch) {
		next = j
	}
	if x.den == 0 || x.decimal || x.whole >= 12 || t.b[wholeEnd] != '-' || next != t.n {
		return t.fail(faultHyphenated, start, t.n)
	}
	return next
}

// unexpected records unexpected text at i.
func (t *text) unexpected(i int) int {
	switch t.b[i] {
	case ',':
		return t.fail(faultComma, i, t.n)
	case '_':
		return t.fail(faultExponent, i, t.n)
	}
	return t.fail(faultTrailing, i, t.n)
}

// unknownUnit records a word at i that is not a unit.
func (t *text) unknownUnit(i int) {
	j := t.word(i)
	code := faultUnknownUnit
	switch w := string(t.b[i:j]); {
	case w == "e", w == "p", w[0] == 'x' && i > 0 && t.b[i-1] == '0':
		code = faultExponent
	}
	t.fail(code, i, j)
}

// noUnit records a number from start to end that has no unit.
func (t *text) noUnit(start, end int) {
	i := t.spaces(end)
	code, stop := faultNoUnit, end
	switch c := t.b[i]; {
	case i >= t.n:
	case c == ',' && i == end:
		code, stop = faultComma, t.n
	case c == '_':
		code, stop = faultExponent, t.n
	case c == '-' || c == '+':
		if code, stop = faultMinus, t.n; t.spaces(i+1) >= t.n {
			code = faultStrong
		}
	case t.startsNumber(i) && (c != '.' || i > end):
		code, stop = faultTwoNumbers, t.n
	default:
		code, start, stop = faultTrailing, i, t.n
	}
	t.fail(code, start, stop)
}
