package wide_test

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/solver/wide"
	"pgregory.net/rapid"
)

// edges are the values at which a 64-bit multiplication or division would fail first.
var edges = []int64{
	math.MinInt64, math.MinInt64 + 1, -1 << 62, -1<<32 - 1, -1 << 32, -1<<31 - 1, -3, -2, -1,
	0, 1, 2, 3, 1<<31 - 1, 1 << 31, 1<<32 - 1, 1 << 32, 1 << 62, math.MaxInt64 - 1, math.MaxInt64,
}

// number draws edges and values of every magnitude.
func number(t *rapid.T, label string) int64 {
	v := rapid.Int64().Draw(t, label)
	if rapid.Bool().Draw(t, label+" shrunk") {
		v >>= rapid.IntRange(0, 63).Draw(t, label+" shift")
	}
	if rapid.IntRange(0, 3).Draw(t, label+" edge") == 0 {
		v = rapid.SampledFrom(edges).Draw(t, label+" at")
	}
	return v
}

var (
	two127 = new(big.Int).Lsh(big.NewInt(1), 127)
	two128 = new(big.Int).Lsh(big.NewInt(1), 128)
)

// wrap reduces to 128 bits in two's complement, the result of sums beyond the range.
func wrap(x *big.Int) *big.Int {
	x.Add(x, two127)
	x.Mod(x, two128)
	return x.Sub(x, two127)
}

func addMul(x *big.Int, a, b int64) {
	x.Add(x, new(big.Int).Mul(big.NewInt(a), big.NewInt(b)))
	wrap(x)
}

type failer interface {
	Helper()
	Fatalf(string, ...any)
}

// compare checks Cmp.
func compare(t failer, x, y wide.Int, wx, wy *big.Int) {
	t.Helper()
	if got, want := x.Cmp(y), wx.Cmp(wy); got != want {
		t.Fatalf("(%v).Cmp(%v) = %d, want %d", wx, wy, got, want)
	}
}

// check compares everything that can be asked of one number.
func check(t failer, got wide.Int, want *big.Int, divisors ...int64) {
	t.Helper()
	if got.Sign() != want.Sign() {
		t.Fatalf("Sign() = %d for %v", got.Sign(), want)
	}
	v, ok := got.Int64()
	if ok != want.IsInt64() || ok && v != want.Int64() {
		t.Fatalf("Int64() = %d, %t for %v", v, ok, want)
	}
	for _, d := range divisors {
		if d <= 0 {
			continue
		}
		w := int64(0)
		if want.Sign() > 0 {
			q := new(big.Int).Add(want, big.NewInt(d-1))
			q.Quo(q, big.NewInt(d))
			if w = 1 << 62; q.Cmp(big.NewInt(w)) < 0 {
				w = q.Int64()
			}
		}
		if c := got.CeilDiv(d); c != w {
			t.Fatalf("(%v).CeilDiv(%d) = %d, want %d", want, d, c, w)
		}
	}
}

func TestEdges(t *testing.T) {
	for _, a := range edges {
		for _, b := range edges {
			var x wide.Int
			x.AddMul(a, b)
			want := new(big.Int)
			addMul(want, a, b)
			check(t, x, want, edges...)
			for _, c := range edges {
				y, wy := x, new(big.Int).Set(want)
				y.AddMul(c, c)
				addMul(wy, c, c)
				check(t, y, wy, 1, 2, 1<<56, math.MaxInt64)
				compare(t, x, y, want, wy)
			}
		}
	}
}

func TestZeroValue(t *testing.T) {
	var x wide.Int
	check(t, x, new(big.Int), 1, math.MaxInt64)
	if x.Cmp(wide.Int{}) != 0 || x.Sub(x) != (wide.Int{}) {
		t.Error("the zero value is not zero")
	}
}

func TestSumsAgreeWithBig(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sum := func(label string) (wide.Int, *big.Int) {
			var x wide.Int
			want := new(big.Int)
			for range rapid.IntRange(0, 6).Draw(t, label) {
				a, b := number(t, "a"), number(t, "b")
				x.AddMul(a, b)
				addMul(want, a, b)
			}
			return x, want
		}
		x, wx := sum("x")
		y, wy := sum("y")
		d := max(1, number(t, "d")&math.MaxInt64)
		check(t, x, wx, 1, d, math.MaxInt64)
		diff := wrap(new(big.Int).Sub(wx, wy))
		check(t, x.Sub(y), diff, d)
		compare(t, x, y, wx, wy)
	})
}

// The clamp sits at 1<<62, exactly.
func TestCeilDivClamp(t *testing.T) {
	for _, c := range []struct {
		a, b, more, d, want int64
	}{
		{1 << 61, 2, -1, 1, 1<<62 - 1},
		{1 << 61, 2, 0, 1, 1 << 62},
		{1 << 61, 2, 1, 1, 1 << 62},
		{1 << 62, 7, -6, 7, 1 << 62}, // rounds up into the clamp
		{1 << 62, 7, -7, 7, 1<<62 - 1},
		{1 << 62, 7, 1, 7, 1 << 62},
		{math.MaxInt64, math.MaxInt64, 0, 1, 1 << 62}, // quotient beyond 64 bits
		{math.MaxInt64, math.MaxInt64, 0, math.MaxInt64, 1 << 62},
		{math.MinInt64, math.MaxInt64, 0, 1, 0},
	} {
		var x wide.Int
		x.AddMul(c.a, c.b)
		x.AddMul(c.more, 1)
		if got := x.CeilDiv(c.d); got != c.want {
			t.Errorf("(%d*%d%+d).CeilDiv(%d) = %d, want %d", c.a, c.b, c.more, c.d, got, c.want)
		}
	}
}

func FuzzInt(f *testing.F) {
	f.Add(int64(math.MinInt64), int64(math.MinInt64), int64(-1), int64(1), int64(1))
	f.Add(int64(1<<62), int64(7), int64(-6), int64(1), int64(7))
	f.Add(int64(-1), int64(math.MinInt64), int64(1<<32), int64(1<<31), int64(math.MaxInt64))
	f.Fuzz(func(t *testing.T, a, b, c, d, e int64) {
		var x, y wide.Int
		wx, wy := new(big.Int), new(big.Int)
		x.AddMul(a, b)
		addMul(wx, a, b)
		y.AddMul(c, d)
		addMul(wy, c, d)
		check(t, x, wx, e)
		diff := wrap(new(big.Int).Sub(wx, wy))
		check(t, x.Sub(y), diff, e, a, c)
		compare(t, x, y, wx, wy)
		x.AddMul(c, d)
		addMul(wx, c, d)
		check(t, x, wx, e)
	})
}

func BenchmarkAddMul(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 2))
	var v [64]int64
	for i := range v {
		v[i] = int64(r.Uint64())
	}
	b.ReportAllocs()
	var x wide.Int
	for i := 0; b.Loop(); i++ {
		x.AddMul(v[i&63], v[(i+7)&63])
	}
	if x.Sign() > 1 {
		b.Fatal(x)
	}
}
