// Package suited writes a quantity for people, in the unit that suits its size.
package suited

import "math/bits"

// Unit is a unit in which a quantity is written.
type Unit struct {
	Name  string
	Size  int64 // in the quantity's smallest unit
	Least int64 // least value written in it; zero for Size

	// Exact is set for units that most readers of the locale do not use: a
	// quantity is written in one only if it is exact, never rounded. For
	// liquids, quarts are such a unit, too.
	Exact bool
}

func (u Unit) least() int64 {
	if u.Least != 0 {
		return u.Least
	}
	return u.Size
}

// ends reports whether n is a whole number of thousandths of the unit.
func (u Unit) ends(n int64) bool {
	hi, lo := bits.Mul64(uint64(n), 1000)
	return bits.Rem64(hi, lo, uint64(u.Size)) == 0
}

func (u Unit) append(b []byte) []byte { return append(append(b, ' '), u.Name...) }

// Append appends v in the first of the units in which it has at most three
// significant digits; else rounded to hundredths, half to even, in the first
// suitable unit that is not Exact; else, if it is too small, to millionths of
// units[small].
func Append(b []byte, v int64, units []Unit, small int) []byte {
	if v == 0 {
		return units[0].append(append(b, '0'))
	}
	n := v
	if v < 0 {
		n = max(-v, ^v) // the least int64 has no magnitude; one unit is lost
		b = append(b, '-')
	}
	start := len(b)
	for i, u := range units {
		if n >= u.least() && (i == 0 || n/u.Size < 1000) && u.ends(n) {
			if b = AppendFixed(b, n, u.Size, 3); significant(b[start:]) <= 3 {
				return u.append(b)
			}
			b = b[:start]
		}
	}
	for _, u := range units {
		if n >= u.least() && !u.Exact {
			return u.append(AppendFixed(b, n, u.Size, 2))
		}
	}
	u := units[small]
	return u.append(AppendFixed(b, n, u.Size, 6))
}

// AppendFixed appends n/d, n >= 0 and d > 0, with at most places decimals, rounded
// half to even, without trailing zeros. Beyond nine quintillion units of the last
// place, it writes whole numbers.
func AppendFixed(b []byte, n, d int64, places int) []byte {
	scale := uint64(1)
	for range places {
		scale *= 10
	}
	hi, lo := bits.Mul64(uint64(n), scale)
	if hi >= uint64(d) {
		hi, lo, places = 0, uint64(n), 0
	}
	q, r := bits.Div64(hi, lo, uint64(d))
	if rest := uint64(d) - r; r > rest || r == rest && q&1 == 1 {
		q++
	}
	return appendDecimal(b, q, places)
}

// appendDecimal appends q / 10^places without trailing zeros.
func appendDecimal(dst []byte, q uint64, places int) []byte {
	var b [24]byte
	i := len(b)
	zero := true // no digit kept yet after the point
	for k := 0; k < places || q > 0 || k == places; k++ {
		if k == places && !zero {
			i--
			b[i] = '.'
		}
		digit := byte(q % 10)
		q /= 10
		if k < places && zero && digit == 0 {
			continue
		}
		zero = false
		i--
		b[i] = '0' + digit
	}
	return append(dst, b[i:]...)
}

// significant counts the digits of a decimal without the zeros at its ends.
func significant(s []byte) int {
	first, last, digits := -1, 0, 0
	for _, c := range s {
		if c == '.' {
			continue
		}
		if c != '0' {
			if first < 0 {
				first = digits
			}
			last = digits
		}
		digits++
	}
	if first < 0 {
		return 0
	}
	return last - first + 1
}
