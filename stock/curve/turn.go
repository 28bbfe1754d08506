package curve

import (
	"math"
	"math/big"

	"example.com/longpoint/measure"
)

// turn is an angle of more than 0° and at most 350° that is known exactly: its cosine is a
// rational number, or the angle itself is a rational number of degrees.
type turn struct {
	radians float64
	angle   measure.Angle // exactly, or zero
	cos     *big.Rat      // exactly, or nil
	side    int           // the sign of its sine
}

// ofAngle returns the turn of an angle. The cosine of a rational number of degrees is
// rational only at multiples of 60° and 90° (Niven, "Irrational Numbers", 1956).
func ofAngle(a measure.Angle) turn {
	t := turn{radians: a.Radians(), angle: a, side: 1}
	switch {
	case a == halfTurn:
		t.side = 0
	case a > halfTurn:
		t.side = -1
	}
	switch a {
	case 60 * measure.Degree, 300 * measure.Degree:
		t.cos = big.NewRat(1, 2)
	case rightAngle, 3 * rightAngle:
		t.cos = new(big.Rat)
	case 120 * measure.Degree, 240 * measure.Degree:
		t.cos = big.NewRat(-1, 2)
	case halfTurn:
		t.cos = big.NewRat(-1, 1)
	}
	return t
}

// measured returns the angle to the nearest microarcsecond.
func (t turn) measured() measure.Angle {
	if t.angle != 0 {
		return t.angle
	}
	return microarcseconds(t.radians)
}

// part returns the nth part of the turn to the nearest microarcsecond.
func (t turn) part(n int64) measure.Angle {
	if t.angle == 0 {
		return microarcseconds(t.radians / float64(n))
	}
	a, _, _ := t.angle.MulDiv(1, n, measure.RoundHalfEven) // n > 0
	return a
}

// step is an angle of more than 0° and less than 180° with a rational cosine.
type step struct {
	radians float64
	cos     *big.Rat
}

// certain is the relative difference of two floating-point angles beyond which it is
// certain which is the larger: a million times the rounding error.
const certain = 1e-9

// count returns the least number of steps, at least one, that make up the turn or more.
func (t turn) count(s step) int {
	n := max(1, int(t.radians/s.radians)-1)
	for !t.reached(n, s) {
		n++
	}
	return n
}

// reached reports whether n steps make up the turn or more. If floating point leaves that
// open, exact arithmetic decides.
func (t turn) reached(n int, s step) bool {
	if d := float64(float64(n)*s.radians) - t.radians; math.Abs(d) > certain*t.radians {
		return d > 0
	}
	// n steps are very close to the turn, so they are on the same side of 180° or next
	// to it.
	cos, side := s.times(n)
	switch {
	case side != t.side:
		return side < t.side // the sine changes sign from plus to minus at 180°
	case side == 0:
		return true
	}
	var beyond int
	if t.cos != nil {
		beyond = t.cos.Cmp(cos)
	} else {
		beyond = compareCosine(t.angle, cos)
	}
	return beyond == 0 || beyond == side
}

// times returns the cosine and the sign of the sine of n steps. With cos = N/D and σ² = N² - D²
// they are in (N + σ)^n/D^n = (A + B·σ)/D^n (de Moivre): A/D^n, and the sign of B.
func (s step) times(n int) (cos *big.Rat, side int) {
	num, den := s.cos.Num(), s.cos.Denom()
	var sigma2 big.Int
	sigma2.Sub(new(big.Int).Mul(num, num), new(big.Int).Mul(den, den))
	type pair struct{ a, b *big.Int }
	mul := func(x, y pair) pair {
		var p, q, r big.Int
		p.Mul(x.a, y.a)
		q.Mul(x.b, y.b)
		p.Add(&p, q.Mul(&q, &sigma2))
		q2 := new(big.Int).Mul(x.a, y.b)
		r.Mul(x.b, y.a)
		return pair{&p, q2.Add(q2, &r)}
	}
	power, square := pair{big.NewInt(1), new(big.Int)}, pair{num, big.NewInt(1)}
	for k := n; k > 0; k /= 2 {
		if k%2 != 0 {
			power = mul(power, square)
		}
		if k > 1 {
			square = mul(square, square)
		}
	}
	scale := new(big.Int).Exp(den, big.NewInt(int64(n)), nil)
	return new(big.Rat).SetFrac(power.a, scale), power.b.Sign()
}

// doubled returns the cosine of twice the angle whose cosine is c.
func doubled(c *big.Rat) *big.Rat {
	d := new(big.Rat).Mul(c, c)
	d.Add(d, d)
	return d.Sub(d, big.NewRat(1, 1))
}

// compareCosine compares the cosine of an angle, which is irrational, with a rational
// number. Since they differ, enough places decide.
func compareCosine(a measure.Angle, with *big.Rat) int {
	for bits := uint(128); ; bits *= 2 {
		v := cosine(a, bits)
		x := new(big.Int).Lsh(with.Num(), bits)
		x.Quo(x, with.Denom())
		if d := v.Sub(v, x); d.CmpAbs(big.NewInt(4)) > 0 {
			return d.Sign()
		}
	}
}

// cosine returns the cosine of an angle below 360° times 2^bits, off by two at most.
func cosine(a measure.Angle, bits uint) *big.Int {
	const guard = 64 // the series adds fewer than 2^32 errors of a bit, magnified by less than e^2π
	work := bits + guard
	x := new(big.Int).Mul(pi(work), big.NewInt(int64(a)))
	x.Quo(x, big.NewInt(int64(halfTurn)))
	x.Mul(x, x)
	x.Rsh(x, work)
	term := new(big.Int).Lsh(big.NewInt(1), work)
	sum := new(big.Int).Set(term)
	for k := int64(1); term.Sign() != 0; k++ {
		term.Mul(term, x)
		term.Rsh(term, work)
		term.Quo(term, big.NewInt((2*k-1)*2*k))
		if k%2 != 0 {
			sum.Sub(sum, term)
		} else {
			sum.Add(sum, term)
		}
	}
	return sum.Rsh(sum, guard)
}

// pi returns π times 2^bits, nearly: 16·atan(1/5) - 4·atan(1/239) (Machin, 1706).
func pi(bits uint) *big.Int {
	atan := func(of int64) *big.Int { // of 1/of
		term := new(big.Int).Lsh(big.NewInt(1), bits)
		term.Quo(term, big.NewInt(of))
		sum := new(big.Int)
		for k := int64(1); term.Sign() != 0; k += 2 {
			part := new(big.Int).Quo(term, big.NewInt(k))
			if k%4 == 1 {
				sum.Add(sum, part)
			} else {
				sum.Sub(sum, part)
			}
			term.Quo(term, big.NewInt(of*of))
		}
		return sum
	}
	p := atan(5)
	p.Lsh(p, 2)
	p.Sub(p, atan(239))
	return p.Lsh(p, 2)
}
