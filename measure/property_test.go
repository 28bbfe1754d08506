package measure_test

import (
	"math"
	"math/big"
	"testing"

	"example.com/longpoint/measure"
	"pgregory.net/rapid"
)

// anyLength draws from the whole range, with the sizes of real work and the
// ends of the range well represented.
func anyLength() *rapid.Generator[measure.Length] {
	return rapid.Custom(func(t *rapid.T) measure.Length {
		switch rapid.IntRange(0, 4).Draw(t, "kind") {
		case 0:
			return measure.Length(rapid.Int64().Draw(t, "ticks"))
		case 1:
			return measure.Length(rapid.Int64Range(-1<<20, 1<<20).Draw(t, "128ths")) * in / 128
		case 2:
			return measure.Length(rapid.Int64Range(-1e7, 1e7).Draw(t, "mils")) * in / 1000
		case 3:
			return measure.Length(rapid.Int64Range(-1e7, 1e7).Draw(t, "micrometers")) * measure.Micrometer
		}
		return rapid.SampledFrom([]measure.Length{0, 1, -1, math.MinInt64, math.MinInt64 + 1, math.MaxInt64, math.MaxInt64 - 1,
			in, -in, ft, math.MaxInt64 / 2, math.MinInt64 / 2}).Draw(t, "special")
	})
}

var modes = []measure.Rounding{measure.RoundHalfEven, measure.RoundDown, measure.RoundUp, measure.RoundHalfUp}

// roundRat is the rule of each mode written with rationals: the integer that
// mode chooses for x.
func roundRat(x *big.Rat, mode measure.Rounding) *big.Int {
	floor := new(big.Int).Div(x.Num(), x.Denom()) // Euclidean; the denominator is positive
	frac := new(big.Rat).Sub(x, new(big.Rat).SetInt(floor))
	up := false
	switch mode {
	case measure.RoundUp:
		up = frac.Sign() > 0
	case measure.RoundHalfUp:
		up = frac.Cmp(big.NewRat(1, 2)) >= 0
	case measure.RoundHalfEven:
		c := frac.Cmp(big.NewRat(1, 2))
		up = c > 0 || c == 0 && floor.Bit(0) == 1
	}
	if up {
		floor.Add(floor, big.NewInt(1))
	}
	return floor
}

// check compares a result with the exact one: the same, or an error exactly
// when that is not an int64.
func check[T ~int64](t *rapid.T, op string, got T, err error, want *big.Int) {
	if want.IsInt64() != (err == nil) || err == nil && int64(got) != want.Int64() {
		t.Fatalf("%s = %d, %v; want %v", op, int64(got), err, want)
	}
}

func rat(n int64) *big.Rat { return new(big.Rat).SetInt64(n) }

func TestArithmeticAgainstRationals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, m := anyLength().Draw(t, "l"), anyLength().Draw(t, "m")
		num := rapid.Int64().Draw(t, "num")
		den := rapid.OneOf(rapid.Int64(), rapid.Int64Range(-64, 64)).Draw(t, "den")
		mode := rapid.SampledFrom(modes).Draw(t, "mode")
		L, M := big.NewInt(int64(l)), big.NewInt(int64(m))

		sum, err := l.Add(m)
		check(t, "Add", sum, err, new(big.Int).Add(L, M))
		sum, err = measure.Sum(l, m, l, m, l)
		check(t, "Sum", sum, err, new(big.Int).Add(new(big.Int).Mul(L, big.NewInt(3)), new(big.Int).Mul(M, big.NewInt(2))))
		diff, err := l.Sub(m)
		check(t, "Sub", diff, err, new(big.Int).Sub(L, M))
		prod, err := l.Mul(num)
		check(t, "Mul", prod, err, new(big.Int).Mul(L, big.NewInt(num)))
		abs, err := l.Abs()
		check(t, "Abs", abs, err, new(big.Int).Abs(L))

		if den != 0 {
			q, exact, err := l.MulDiv(num, den, mode)
			want := new(big.Rat).Quo(new(big.Rat).Mul(rat(int64(l)), rat(num)), rat(den))
			check(t, "MulDiv", q, err, roundRat(want, mode))
			if err == nil && exact != want.IsInt() {
				t.Fatalf("MulDiv reports exact = %v for %v", exact, want)
			}
		}
		if n, rem, err := l.Div(m); err == nil {
			q, r := new(big.Int).QuoRem(L, M, new(big.Int))
			if n != q.Int64() || int64(rem) != r.Int64() {
				t.Fatalf("Div = %d, %d; want %v, %v", n, int64(rem), q, r)
			}
		} else if m != 0 && !(l == math.MinInt64 && m == -1) {
			t.Fatal(err)
		}
	})
}

func TestRoundAgainstRationals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := anyLength().Draw(t, "l")
		graduation := rapid.OneOf(rapid.Just(in/16), rapid.Just(mm), rapid.Just(measure.Length(3)), anyLength()).Draw(t, "graduation")
		mode := rapid.SampledFrom(modes).Draw(t, "mode")
		got := l.Round(graduation, mode)
		if graduation <= 0 {
			if got != l {
				t.Fatalf("Round(%d) = %d", int64(graduation), int64(got))
			}
			return
		}
		want := roundRat(big.NewRat(int64(l), int64(graduation)), mode)
		want.Mul(want, big.NewInt(int64(graduation)))
		if !want.IsInt64() { // saturates at the last multiple
			if want.Sign() > 0 {
				want.SetInt64(int64(math.MaxInt64 / graduation * graduation))
			} else {
				want.SetInt64(int64(math.MinInt64 / graduation * graduation))
			}
		}
		if int64(got) != want.Int64() {
			t.Fatalf("Round = %d, want %v", int64(got), want)
		}
		if again := got.Round(graduation, mode); again != got {
			t.Fatalf("rounding twice moves %d to %d", int64(got), int64(again))
		}
	})
}

func TestProductsAgainstRationals(t *testing.T) {
	// One square tick in square inches, and the units of Area and Volume.
	perInch := rat(int64(measure.Inch))
	rapid.Check(t, func(t *rapid.T) {
		l, m, h := anyLength().Draw(t, "l"), anyLength().Draw(t, "m"), anyLength().Draw(t, "h")
		mode := rapid.SampledFrom(modes).Draw(t, "mode")
		inches := func(l measure.Length) *big.Rat { return new(big.Rat).Quo(rat(int64(l)), perInch) }

		a, err := l.Area(m, mode)
		want := new(big.Rat).Mul(inches(l), inches(m))
		want.Mul(want, rat(int64(measure.SquareInch)))
		check(t, "Area", a, err, roundRat(want, mode))
		if err != nil {
			a = measure.Area(rapid.Int64().Draw(t, "a"))
		}
		v, err := a.Volume(h, mode)
		want = new(big.Rat).Mul(big.NewRat(int64(a), int64(measure.SquareInch)), inches(h))
		want.Mul(want, rat(int64(measure.CubicInch)))
		check(t, "Volume", v, err, roundRat(want, mode))
	})
}

func TestFromInchesAgainstRationals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.OneOf(
			rapid.Float64Range(-5e12, 5e12),
			rapid.Float64Range(-300, 300),
			rapid.Float64(),
			rapid.Custom(func(t *rapid.T) float64 { // halves of a tick
				return float64(rapid.Int64Range(-1<<40, 1<<40).Draw(t, "halves")) / 4064000
			}),
			rapid.Custom(func(t *rapid.T) float64 { // binary fractions, on which ties are exact
				return math.Ldexp(float64(rapid.Int64Range(-1<<53, 1<<53).Draw(t, "m")), rapid.IntRange(-80, 0).Draw(t, "e"))
			}),
		).Draw(t, "x")
		got, err := measure.FromInches(x)
		if math.IsNaN(x) || math.IsInf(x, 0) {
			if err == nil {
				t.Fatalf("FromInches(%v) = %v", x, got)
			}
			return
		}
		exact := new(big.Rat).Mul(new(big.Rat).SetFloat64(x), rat(int64(measure.Inch)))
		check(t, "FromInches", got, err, roundRat(exact, measure.RoundHalfEven))
		if a, err := measure.FromDegrees(x); err == nil || math.Abs(x) < 2.5e9 {
			exact := new(big.Rat).Mul(new(big.Rat).SetFloat64(x), rat(int64(measure.Degree)))
			check(t, "FromDegrees", a, err, roundRat(exact, measure.RoundHalfEven))
		}
	})
}

func TestSplitSums(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := anyLength().Draw(t, "l")
		n := rapid.IntRange(1, 40).Draw(t, "n")
		graduation := rapid.SampledFrom([]measure.Length{0, 1, in / 16, in / 32, mm, 7, ft, math.MaxInt64}).Draw(t, "graduation")
		parts, err := l.Split(n, graduation)
		if err != nil || len(parts) != n {
			t.Fatalf("%v, %v", parts, err)
		}
		sum, err := measure.Sum(parts...)
		if err != nil || sum != l {
			t.Fatalf("the parts %v sum to %v, %v; want %v", parts, sum, err, l)
		}
		lo, hi := parts[0], parts[0]
		for i, p := range parts {
			lo, hi = min(lo, p), max(hi, p)
			if i < n-1 && p%max(graduation, 1) != 0 {
				t.Fatalf("part %d, %v, is not a multiple of %v", i, p, graduation)
			}
		}
		if hi-lo > max(graduation, 1) {
			t.Fatalf("the parts %v differ by %v, more than %v", parts, hi-lo, graduation)
		}
	})
}

// Whatever is written reads back to the same value, over the whole range.
func TestTextRoundTrips(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		roundTrip(t, anyLength().Draw(t, "length"))
	})
}

func TestQuantityTextRoundTrips(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.OneOf(rapid.Int64(), rapid.Int64Range(-1e12, 1e12)).Draw(t, "n")
		roundTripQuantities(t, n)
		k := rapid.Int64Range(-1000, 1000).Draw(t, "k")
		for _, u := range []int64{int64(measure.SquareFoot) / 1000, int64(measure.SquareInch) / 1000, int64(measure.Gallon) / 1000, int64(measure.Quart) / 1000,
			int64(measure.FluidOunce) / 100, int64(measure.Milliliter) / 1000, int64(measure.SquareMillimeter) / 1000, int64(measure.Degree) / 1000, int64(measure.Arcsecond)} {
			roundTripQuantities(t, k*u)
		}
	})
}

type fataler interface {
	Helper()
	Fatalf(format string, args ...any)
}

func roundTrip(t fataler, l measure.Length) {
	t.Helper()
	text, err := l.MarshalText()
	if err != nil {
		t.Fatalf("MarshalText: %v", err)
	}
	for _, s := range []string{l.String(), string(text)} {
		if got, err := measure.Parse(s); err != nil || got != l {
			t.Fatalf("%d ticks are %q, which reads as %d, %v", int64(l), s, int64(got), err)
		}
	}
}

func roundTripQuantities(t fataler, n int64) {
	t.Helper()
	angle, area, volume := measure.Angle(n), measure.Area(n), measure.Volume(n)
	text, err := angle.MarshalText()
	if err != nil {
		t.Fatalf("MarshalText: %v", err)
	}
	for _, s := range []string{angle.String(), string(text)} {
		if got, err := measure.ParseAngle(s); err != nil || got != angle {
			t.Fatalf("angle %d is %q, which reads as %d, %v", n, s, int64(got), err)
		}
	}
	if got, err := measure.ParseArea(area.String()); err != nil || got != area {
		t.Fatalf("area %d is %q, which reads as %d, %v", n, area, int64(got), err)
	}
	if got, err := measure.ParseVolume(volume.String()); err != nil || got != volume {
		t.Fatalf("volume %d is %q, which reads as %d, %v", n, volume, int64(got), err)
	}
}

// A length written by hand in any of the usual ways reads as the sum of its
// parts, computed with rationals, or is refused because that is no length.
func TestParseAgainstRationals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text, want := drawSpelling(t)
		ticks := new(big.Rat).Mul(want, rat(int64(measure.Inch)))
		got, err := measure.Parse(text)
		if ticks.IsInt() && ticks.Num().IsInt64() {
			if err != nil || int64(got) != ticks.Num().Int64() {
				t.Fatalf("Parse(%q) = %d, %v; want %v", text, int64(got), err, ticks)
			}
		} else if err == nil {
			t.Fatalf("Parse(%q) = %d; want an error for %v ticks", text, int64(got), ticks)
		}

		p := measure.Parser{
			Graduation: rapid.SampledFrom([]measure.Length{1, 2, 3, in / 16, in / 128, mm, ft}).Draw(t, "graduation"),
			Rounding:   rapid.SampledFrom(modes).Draw(t, "mode"),
		}
		got, err = p.Parse(text)
		rounded := roundRat(new(big.Rat).Quo(ticks, rat(int64(p.Graduation))), p.Rounding)
		rounded.Mul(rounded, big.NewInt(int64(p.Graduation)))
		check(t, "Parser.Parse("+text+")", got, err, rounded)
	})
}

// drawSpelling draws a text and its value in inches.
func drawSpelling(t *rapid.T) (text string, inches *big.Rat) {
	pick := func(label string, choices ...string) string { return rapid.SampledFrom(choices).Draw(t, label) }
	space := func(label string) string { return pick(label, "", " ", "  ", "\u00a0", "\u2009") }
	number := func(label string) (string, *big.Rat) {
		whole := rapid.OneOf(rapid.Uint64Range(0, 200), rapid.Uint64Range(0, 1e15)).Draw(t, label)
		s := new(big.Int).SetUint64(whole).String()
		v := new(big.Rat).SetInt(new(big.Int).SetUint64(whole))
		switch rapid.IntRange(0, 3).Draw(t, label+" form") {
		case 1:
			den := rapid.SampledFrom([]int64{2, 3, 4, 7, 8, 10, 16, 32, 64, 128, 1000, 2032000}).Draw(t, label+" den")
			num := rapid.Int64Range(0, den-1).Draw(t, label+" num")
			frac := big.NewInt(num).String() + pick(label+" slash", "/", "⁄") + big.NewInt(den).String()
			v.Add(v, big.NewRat(num, den))
			if whole == 0 && rapid.Bool().Draw(t, label+" bare") {
				return frac, v
			}
			return s + pick(label+" join", " ", "-", "\u2009", "‑") + frac, v
		case 2:
			digits := rapid.StringMatching(`[0-9]{1,9}`).Draw(t, label+" decimals")
			d, _ := new(big.Rat).SetString("0." + digits)
			return s + "." + digits, v.Add(v, d)
		case 3:
			return s + pick(label+" join", "", " ", "-") + "⅝", v.Add(v, big.NewRat(5, 8))
		}
		return s, v
	}
	sum := new(big.Rat)
	neg := rapid.Bool().Draw(t, "negative")
	if neg {
		text = pick("sign", "-", "−", "- ")
	}
	if rapid.Bool().Draw(t, "metric") {
		s, v := number("metric")
		unit := pick("unit", "mm", "cm", "m", "µm")
		size := map[string]*big.Rat{"mm": big.NewRat(10, 254), "cm": big.NewRat(100, 254), "m": big.NewRat(10000, 254), "µm": big.NewRat(1, 25400)}[unit]
		text += s + space("gap") + unit
		sum.Mul(v, size)
	} else {
		if rapid.Bool().Draw(t, "feet") {
			whole := rapid.Int64Range(0, 400).Draw(t, "whole feet")
			text += big.NewInt(whole).String() + pick("foot mark", "'", "′", "’", "ft", " ft", " feet", "ft.", " Foot") + pick("between", " ", "-", " - ", "\u202f")
			sum.SetInt64(12 * whole)
		}
		s, v := number("inches")
		text += s + pick("inch mark", `"`, `″`, `”`, `''`, ` in`, `in.`, ` inches`)
		sum.Add(sum, v)
	}
	if neg {
		sum.Neg(sum)
	}
	return text, sum
}
