package measure

import (
	"math/bits"
	"strconv"
)

// String returns l in the form that [Parse] reads back to the same value,
// whatever l is:
//
//	7' 4-3/4"           every multiple of 1/128 inch, fraction in lowest terms
//	88.001"             other multiples of 0.001 inch
//	2219.3250125mm      everything else, in decimal millimeters
//
// Zero parts are omitted: 6', 4-3/4", 3/4", 0". A minus sign in front applies
// to the whole length.
func (l Length) String() string {
	var buf [40]byte
	return string(appendLength(buf[:0], l, "' ", "'", `"`))
}

// GoString returns l as Go source, for %#v.
func (l Length) GoString() string {
	return "measure.MustParse(" + strconv.Quote(l.String()) + ")"
}

// AppendText appends l to b in the form of [Length.MarshalText]. It never
// fails.
func (l Length) AppendText(b []byte) ([]byte, error) {
	return appendLength(b, l, "ft ", "ft", "in"), nil
}

// MarshalText returns the value that String returns, written without quotation
// marks so that it stays legible inside JSON, CSV and shell commands: 7ft
// 4-3/4in, 6ft, 88.001in, 2219.3250125mm. It never fails.
func (l Length) MarshalText() ([]byte, error) {
	return l.AppendText(make([]byte, 0, 24))
}

// UnmarshalText reads what [Parse] reads. It makes Length work in JSON (as a
// string; a JSON number has no unit and is rejected), as a map key and with
// flag.TextVar.
func (l *Length) UnmarshalText(b []byte) error {
	if v, ok := quick(b); ok {
		*l = v
		return nil
	}
	var t text
	v, ok := read(&t, b, lengths, Parser{})
	if !ok {
		return t.err(lengths, string(b), Parser{})
	}
	*l = Length(v)
	return nil
}

// appendLength appends the canonical form of l. feet is the mark between feet
// and inches, feetEnd the one after feet alone, inch the one after inches.
func appendLength(b []byte, l Length, feet, feetEnd, inch string) []byte {
	mag, neg := magnitude(int64(l))
	if neg {
		b = append(b, '-')
	}
	const (
		grid = uint64(Inch) / 128
		thou = uint64(Inch) / 1000
	)
	if n := mag / grid; n*grid == mag {
		if ft := n / (12 * 128); ft > 0 {
			b = appendUint(b, ft)
			if n -= ft * (12 * 128); n == 0 {
				return appendMark(b, feetEnd)
			}
			b = appendMark(b, feet)
		}
		return appendMark(appendMixed(b, n/128, n%128, 128), inch)
	}
	if n := mag / thou; n*thou == mag {
		return append(appendDecimal(b, n/1000, n%1000, 3), inch...)
	}
	const mm = uint64(Millimeter)
	b = appendDecimal(b, mag/mm, mag%mm*(10_000_000/mm), 7)
	return append(b, "mm"...)
}

// appendUint appends n in decimal, a single digit without a call.
func appendUint(b []byte, n uint64) []byte {
	if n < 10 {
		return append(b, '0'+byte(n))
	}
	return strconv.AppendUint(b, n, 10)
}

// appendMark appends a mark of one to four bytes; a call to copy memory would
// take longer than the rest.
func appendMark(b []byte, mark string) []byte {
	for i := range len(mark) {
		b = append(b, mark[i])
	}
	return b
}

// appendMixed appends whole and frac/den, den a power of two, in lowest terms:
// 4-3/4, 3/4, 4 or 0.
func appendMixed(b []byte, whole uint64, frac, den uint64) []byte {
	if frac == 0 {
		return appendUint(b, whole)
	}
	if whole != 0 {
		b = append(appendUint(b, whole), '-')
	}
	shift := bits.TrailingZeros64(frac)
	b = append(appendUint(b, frac>>shift), '/')
	return appendUint(b, den>>shift)
}

// appendDecimal appends whole and a fraction of frac/10^places without
// trailing zeros.
func appendDecimal(b []byte, whole, frac uint64, places int) []byte {
	for places > 0 && frac%10 == 0 {
		frac /= 10
		places--
	}
	return appendFixed(b, whole, frac, places)
}

// appendFixed appends whole and a fraction of frac/10^places with that many
// places.
func appendFixed(b []byte, whole, frac uint64, places int) []byte {
	b = appendUint(b, whole)
	if places == 0 {
		return b
	}
	b = append(b, ".000000000000000000"[:places+1]...)
	for i := len(b) - 1; frac != 0; i-- {
		b[i] = '0' + byte(frac%10)
		frac /= 10
	}
	return b
}

// form is a way of writing a quantity in one unit.
type form struct {
	suffix string
	size   uint64
	places int  // decimal places allowed
	small  bool // also used for values below one unit
}

// appendScaled appends v in the first of the forms that is exact and suits its
// size. The last one must be exact for all v.
func appendScaled(b []byte, v int64, forms []form) []byte {
	mag, neg := magnitude(v)
	if neg {
		b = append(b, '-')
	}
	for _, f := range forms {
		if 0 < mag && mag < f.size && !f.small {
			continue
		}
		rest := number{num: mag % f.size, den: f.size}
		if frac, rem, _, _ := rest.times(pow10[f.places]); rem == 0 {
			return append(appendDecimal(b, mag/f.size, frac, f.places), f.suffix...)
		}
	}
	return b
}
