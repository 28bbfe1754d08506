package measure_test

import (
	"cmp"
	"math"
	"math/big"
	"slices"
	"testing"

	"example.com/longpoint/measure"
	"pgregory.net/rapid"
)

// Every operation that property_test.go does not cover, against math/big.

// quantity is the interface that the four kinds of quantities share.
type quantity[T any] interface {
	~int64
	Add(T) (T, error)
	Sub(T) (T, error)
	Mul(int64) (T, error)
	MulDiv(num, den int64, mode measure.Rounding) (T, bool, error)
	Round(graduation T, mode measure.Rounding) T
}

func againstRationals[T quantity[T]](t *testing.T, unit T) {
	any64 := rapid.OneOf(rapid.Int64(), rapid.Int64Range(-1e12, 1e12), rapid.SampledFrom([]int64{0, 1, -1, math.MaxInt64, math.MinInt64, math.MinInt64 + 1}))
	rapid.Check(t, func(t *rapid.T) {
		x, y := any64.Draw(t, "x"), any64.Draw(t, "y")
		n := rapid.OneOf(any64, rapid.Int64Range(-100, 100)).Draw(t, "n")
		den := rapid.OneOf(any64, rapid.Int64Range(-100, 100)).Draw(t, "den")
		mode := rapid.SampledFrom(modes).Draw(t, "mode")
		X, Y, N := big.NewInt(x), big.NewInt(y), big.NewInt(n)

		got, err := T(x).Add(T(y))
		check(t, "Add", got, err, new(big.Int).Add(X, Y))
		got, err = T(x).Sub(T(y))
		check(t, "Sub", got, err, new(big.Int).Sub(X, Y))
		got, err = T(x).Mul(n)
		check(t, "Mul", got, err, new(big.Int).Mul(X, N))
		got, exact, err := T(x).MulDiv(n, den, mode)
		if den == 0 {
			if err == nil || got != 0 || exact {
				t.Fatalf("MulDiv by zero = %v, %v, %v", got, exact, err)
			}
		} else {
			want := new(big.Rat).Quo(new(big.Rat).Mul(rat(x), rat(n)), rat(den))
			check(t, "MulDiv", got, err, roundRat(want, mode))
			if err == nil && exact != want.IsInt() {
				t.Fatalf("MulDiv reports exact = %v for %v", exact, want)
			}
		}
		graduation := rapid.SampledFrom([]T{unit, unit / 2, 1, 7}).Draw(t, "graduation")
		want := roundRat(big.NewRat(x, int64(graduation)), mode)
		if want.Mul(want, big.NewInt(int64(graduation))); want.IsInt64() {
			check(t, "Round", T(x).Round(graduation, mode), nil, want)
		}
	})
}

func TestQuantitiesAgainstRationals(t *testing.T) {
	t.Run("Length", func(t *testing.T) { againstRationals(t, measure.Inch) })
	t.Run("Angle", func(t *testing.T) { againstRationals(t, measure.Degree) })
	t.Run("Area", func(t *testing.T) { againstRationals(t, measure.SquareFoot) })
	t.Run("Volume", func(t *testing.T) { againstRationals(t, measure.Gallon) })
}

// Lengths are ordered like the integers they are: the built-in functions and
// operators and package cmp do.
func TestCompareAgainstRationals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, m := anyLength().Draw(t, "l"), anyLength().Draw(t, "m")
		want := rat(int64(l)).Cmp(rat(int64(m)))
		if got := cmp.Compare(l, m); got != want || (l < m) != (want < 0) || (l == m) != (want == 0) {
			t.Fatalf("Compare = %d, want %d", got, want)
		}
		lo, hi := l, m
		if want > 0 {
			lo, hi = m, l
		}
		ls := []measure.Length{l, m}
		if slices.Sort(ls); min(l, m) != lo || max(l, m) != hi || ls[0] != lo || slices.Max(ls) != hi {
			t.Fatalf("min = %v, max = %v, sorted %v", min(l, m), max(l, m), ls)
		}
	})
}

func TestRatioAgainstRationals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, m := anyLength().Draw(t, "l"), anyLength().Draw(t, "m")
		num, den, err := l.Fraction(m)
		if m == 0 {
			wantRangeRapid(t, err)
			return
		}
		want := big.NewRat(int64(l), int64(m)) // in lowest terms
		if !want.Num().IsInt64() || !want.Denom().IsInt64() {
			wantRangeRapid(t, err)
			return
		}
		if err != nil || num != want.Num().Int64() || den != want.Denom().Int64() {
			t.Fatalf("Ratio = %d, %d, %v; want %v", num, den, err, want)
		}
		if back, exact, err := m.MulDiv(num, den, measure.RoundDown); back != l || !exact || err != nil {
			t.Fatalf("%v times the ratio is %v, %v, %v; want %v", m, back, exact, err, l)
		}
	})
}

func wantRangeRapid(t *rapid.T, err error) {
	t.Helper()
	if e, ok := err.(*measure.RangeError); !ok || e.Reason == "" {
		t.Fatalf("%v, want a *RangeError", err)
	}
}

func TestScaleAgainstRationals(t *testing.T) {
	term := rapid.OneOf(rapid.Int64Range(1, 1e12), rapid.Int64Range(1, 2000))
	rapid.Check(t, func(t *rapid.T) {
		d, a := term.Draw(t, "drawn"), term.Draw(t, "actual")
		s, err := measure.NewScale(measure.Length(d), measure.Length(a))
		if err != nil {
			t.Fatal(err)
		}
		l, mode := anyLength().Draw(t, "l"), rapid.SampledFrom(modes).Draw(t, "mode")
		drawn, exact, err := s.Drawn(l, mode)
		checkRat(t, "Drawn", drawn, exact, err, new(big.Rat).Mul(rat(int64(l)), big.NewRat(d, a)), mode)
		actual, exact, err := s.Actual(l, mode)
		checkRat(t, "Actual", actual, exact, err, new(big.Rat).Mul(rat(int64(l)), big.NewRat(a, d)), mode)
		if want, _ := big.NewRat(d, a).Float64(); s.Float64() != want {
			t.Fatalf("Float64 = %v, want %v", s.Float64(), want)
		}
	})
}

func TestSlopeAgainstRationals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		term := rapid.OneOf(rapid.Int64Range(1, 1e12), rapid.Int64Range(1, 2000))
		num, den := term.Draw(t, "rise")*rapid.Int64Range(-1, 1).Draw(t, "sign"), term.Draw(t, "run")
		s, err := measure.NewSlope(measure.Length(num), measure.Length(den))
		if err != nil {
			t.Fatal(err)
		}
		l, mode := anyLength().Draw(t, "l"), rapid.SampledFrom(modes).Draw(t, "mode")
		rise, exact, err := s.Rise(l, mode)
		checkRat(t, "Rise", rise, exact, err, new(big.Rat).Mul(rat(int64(l)), big.NewRat(num, den)), mode)
		run, exact, err := s.Run(l, mode)
		if num == 0 {
			wantRangeRapid(t, err)
		} else {
			checkRat(t, "Run", run, exact, err, new(big.Rat).Mul(rat(int64(l)), big.NewRat(den, num)), mode)
		}
		if want, _ := big.NewRat(num, den).Float64(); s.Float64() != want {
			t.Fatalf("Float64 = %v, want %v", s.Float64(), want)
		}
		if got, want := s.Angle().Radians(), math.Atan(s.Float64()); math.Abs(got-want) > 5e-9 {
			t.Fatalf("Angle is %v rad, want %v", got, want)
		}
	})
}

func checkRat(t *rapid.T, op string, got measure.Length, exact bool, err error, want *big.Rat, mode measure.Rounding) {
	t.Helper()
	check(t, op, got, err, roundRat(want, mode))
	if err == nil && exact != want.IsInt() {
		t.Fatalf("%s reports exact = %v for %v", op, exact, want)
	}
}

// The marks are at the exact divisions, to the next graduation.
func TestLayoutsAgainstRationals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		graduation := rapid.SampledFrom([]measure.Length{1, 3, in / 16, mm}).Draw(t, "graduation")
		n := rapid.IntRange(1, 30).Draw(t, "n")
		width := measure.Length(rapid.Int64Range(0, int64(ft)).Draw(t, "width"))
		steps := rapid.Int64Range(0, 1e6).Draw(t, "free grains")
		free := graduation * measure.Length(steps)
		span := measure.Length(n)*width + free

		// The k-th gap ends at ceil(k*steps/(n+1)) grains.
		seq, err := measure.EvenSpacing(span, n, width, graduation)
		if err != nil {
			t.Fatal(err)
		}
		k := int64(0)
		for start := range seq {
			k++
			end := roundRat(big.NewRat(k*(steps%int64(n+1)), int64(n+1)), measure.RoundUp)
			end.Add(end, big.NewInt(k*(steps/int64(n+1))))
			end.Mul(end, big.NewInt(int64(graduation)))
			end.Add(end, big.NewInt((k-1)*int64(width)))
			if !end.IsInt64() || int64(start) != end.Int64() {
				t.Fatalf("member %d starts at %d, want %v", k, int64(start), end)
			}
		}
		if k != int64(n) {
			t.Fatalf("%d members, want %d", k, n)
		}

		first := measure.Length(rapid.Int64Range(-100, 1e6).Draw(t, "first"))
		spacing := measure.Length(rapid.Int64Range(1, 1e6).Draw(t, "spacing"))
		end := first + spacing*measure.Length(rapid.Int64Range(-1, 50).Draw(t, "marks")) + measure.Length(rapid.Int64Range(0, int64(spacing)-1).Draw(t, "rest"))
		marks := slices.Collect(measure.OnCenter(end, first, spacing))
		count := roundRat(big.NewRat(int64(end-first), int64(spacing)), measure.RoundDown).Int64() + 1
		if int64(len(marks)) != count {
			t.Fatalf("%d marks, want %d", len(marks), count)
		}
		for i, m := range marks {
			if m != first+measure.Length(i)*spacing {
				t.Fatalf("mark %d at %d", i, int64(m))
			}
		}
	})
}

// The running sums of a rounded chain are the rounded running sums.
func TestRoundChainAgainstRationals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		parts := rapid.SliceOfN(anyLength(), 0, 8).Draw(t, "parts")
		graduation := rapid.SampledFrom([]measure.Length{1, in / 16, mm, 7}).Draw(t, "graduation")
		mode := rapid.SampledFrom(modes).Draw(t, "mode")
		rounded, err := measure.RoundChain(parts, graduation, mode)
		sum, mark, fits := new(big.Int), new(big.Int), true
		for i, p := range parts {
			sum.Add(sum, big.NewInt(int64(p)))
			next := roundRat(new(big.Rat).SetFrac(sum, big.NewInt(int64(graduation))), mode)
			next.Mul(next, big.NewInt(int64(graduation)))
			part := new(big.Int).Sub(next, mark)
			if !sum.IsInt64() || !next.IsInt64() || !part.IsInt64() {
				fits = false
				break
			}
			if err == nil && int64(rounded[i]) != part.Int64() {
				t.Fatalf("part %d is %d, want %v", i, int64(rounded[i]), part)
			}
			mark = next
		}
		if fits && (err != nil || len(rounded) != len(parts)) {
			t.Fatalf("%v, %v", rounded, err)
		}
		if err != nil {
			wantRangeRapid(t, err)
		}
	})
}

func TestFloatsAgainstRationals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Int64Range(-1<<53, 1<<53).Draw(t, "n")
		for _, c := range []struct {
			name string
			got  float64
			unit int64
		}{
			{"Inches", measure.Length(n).Inches(), int64(measure.Inch)}, {"Feet", measure.Length(n).Feet(), int64(measure.Foot)}, {"Millimeters", measure.Length(n).Millimeters(), int64(measure.Millimeter)},
			{"Degrees", measure.Angle(n).Degrees(), int64(measure.Degree)},
			{"SquareFeet", measure.Area(n).SquareFeet(), int64(measure.SquareFoot)}, {"SquareInches", measure.Area(n).SquareInches(), int64(measure.SquareInch)}, {"SquareMeters", measure.Area(n).SquareMeters(), int64(measure.SquareMeter)},
			{"CubicInches", measure.Volume(n).CubicInches(), int64(measure.CubicInch)}, {"Gallons", measure.Volume(n).Gallons(), int64(measure.Gallon)}, {"FluidOunces", measure.Volume(n).FluidOunces(), int64(measure.FluidOunce)},
			{"Milliliters", measure.Volume(n).Milliliters(), int64(measure.Milliliter)}, {"BoardFeet", measure.Volume(n).BoardFeet(), int64(measure.BoardFoot)},
		} {
			if want, _ := big.NewRat(n, c.unit).Float64(); c.got != want {
				t.Fatalf("%s of %d = %v, want %v", c.name, n, c.got, want)
			}
		}
	})
}

// The text of a quantity of every kind states its value, checked with rationals.
func TestQuantityTextAgainstRationals(t *testing.T) {
	units := []struct {
		suffix string
		parse  func(string) (int64, error)
		size   int64
	}{
		{"°", func(s string) (int64, error) { v, err := measure.ParseAngle(s); return int64(v), err }, int64(measure.Degree)},
		{" sq ft", func(s string) (int64, error) { v, err := measure.ParseArea(s); return int64(v), err }, int64(measure.SquareFoot)},
		{" mm²", func(s string) (int64, error) { v, err := measure.ParseArea(s); return int64(v), err }, int64(measure.SquareMillimeter)},
		{" gal", func(s string) (int64, error) { v, err := measure.ParseVolume(s); return int64(v), err }, int64(measure.Gallon)},
		{" bd ft", func(s string) (int64, error) { v, err := measure.ParseVolume(s); return int64(v), err }, int64(measure.BoardFoot)},
		{" mL", func(s string) (int64, error) { v, err := measure.ParseVolume(s); return int64(v), err }, int64(measure.Milliliter)},
	}
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.SampledFrom(units).Draw(t, "unit")
		digits := rapid.StringMatching(`-?[0-9]{1,12}(\.[0-9]{1,8})?`).Draw(t, "digits")
		want, _ := new(big.Rat).SetString(digits)
		want.Mul(want, rat(u.size))
		got, err := u.parse(digits + u.suffix)
		if (err == nil) != (want.IsInt() && want.Num().IsInt64()) || err == nil && got != want.Num().Int64() {
			t.Fatalf("%s%s = %d, %v; want %v", digits, u.suffix, got, err, want)
		}
	})
}
