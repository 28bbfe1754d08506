package optimize

import "math/bits"

// int128 is a sum of products in two's complement. It remembers an overflow instead of wrapping silently.
type int128 struct {
	hi   int64
	lo   uint64
	over bool
}

// add returns x+y.
func (x int128) add(y int128) int128 {
	lo, c := bits.Add64(x.lo, y.lo, 0)
	u, _ := bits.Add64(uint64(x.hi), uint64(y.hi), c)
	hi := int64(u)
	// Two of one sign whose sum has the other.
	over := (x.hi < 0) == (y.hi < 0) && (hi < 0) != (x.hi < 0)
	return int128{hi, lo, x.over || y.over || over}
}

// sub returns x-y.
func (x int128) sub(y int128) int128 {
	lo, b := bits.Sub64(x.lo, y.lo, 0)
	u, _ := bits.Sub64(uint64(x.hi), uint64(y.hi), b)
	hi := int64(u)
	// Two of different signs whose difference has that of the second.
	over := (x.hi < 0) != (y.hi < 0) && (hi < 0) != (x.hi < 0)
	return int128{hi, lo, x.over || y.over || over}
}

// mul returns a*b, which always fits.
func mul(a, b int64) int128 {
	hi, lo := bits.Mul64(abs(a), abs(b))
	if (a < 0) != (b < 0) { // 0 - x
		var c uint64
		lo, c = bits.Sub64(0, lo, 0)
		hi, _ = bits.Sub64(0, hi, c)
	}
	return int128{hi: int64(hi), lo: lo}
}

func abs(a int64) uint64 {
	if a < 0 {
		return -uint64(a)
	}
	return uint64(a)
}

// sign returns -1, 0 or 1.
func (x int128) sign() int {
	switch {
	case x.hi < 0:
		return -1
	case x.hi == 0 && x.lo == 0:
		return 0
	}
	return 1
}

// negative returns -x.
func (x int128) negative() int128 {
	lo, c := bits.Sub64(0, x.lo, 0)
	hi, _ := bits.Sub64(0, uint64(x.hi), c)
	return int128{int64(hi), lo, x.over || x.hi == -1<<63 && x.lo == 0}
}

// less compares two sums of which neither left its range.
func (x int128) less(y int128) bool { return x.hi < y.hi || x.hi == y.hi && x.lo < y.lo }

// lesser returns the lesser of two sums, which is out of range if one of them is.
func (x int128) lesser(y int128) int128 {
	over := x.over || y.over
	if y.less(x) {
		x = y
	}
	x.over = over
	return x
}

// int64 returns x and whether it fits.
func (x int128) int64() (int64, bool) {
	return int64(x.lo), !x.over && x.hi == int64(x.lo)>>63
}

// ceilDiv returns x/d rounded up for x >= 0 and d > 0, at most the greatest int64.
func (x int128) ceilDiv(d int64) int64 {
	const top = 1<<63 - 1
	if uint64(x.hi) >= uint64(d) {
		return top
	}
	q, r := bits.Div64(uint64(x.hi), x.lo, uint64(d))
	if r > 0 && q < top {
		q++
	}
	return int64(min(q, top))
}

// cmpProducts compares a*b with c*d.
func cmpProducts(a, b, c, d int64) int {
	x, y := mul(a, b), mul(c, d)
	switch {
	case x.hi != y.hi:
		if x.hi < y.hi {
			return -1
		}
		return 1
	case x.lo < y.lo:
		return -1
	case x.lo > y.lo:
		return 1
	}
	return 0
}
