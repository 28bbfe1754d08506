package natural_test

import (
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/internal/natural"
)

// Every quotient is that of big rationals, rounded as asked, or said not to fit.
func TestQuotientAgainstBig(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := rapid.SliceOfN(number, 0, 5).Draw(t, "num")
		den := rapid.SliceOfN(number, 0, 5).Draw(t, "den")
		n, d := big.NewInt(1), big.NewInt(1)
		for _, x := range num {
			n.Mul(n, big.NewInt(x))
		}
		for i := range den {
			den[i] = max(1, den[i])
			d.Mul(d, big.NewInt(den[i]))
		}
		down, rest := new(big.Int).QuoRem(n, d, new(big.Int))
		up := new(big.Int).Set(down)
		if rest.Sign() > 0 {
			up.Add(up, big.NewInt(1))
		}
		want := map[natural.Rounding]*big.Int{natural.Down: down, natural.Up: up, natural.HalfUp: down, natural.HalfEven: down}
		switch twice := new(big.Int).Lsh(rest, 1); twice.Cmp(d) {
		case 1:
			want[natural.HalfUp], want[natural.HalfEven] = up, up
		case 0:
			want[natural.HalfUp] = up
			if down.Bit(0) == 1 {
				want[natural.HalfEven] = up
			}
		}
		for mode, x := range want {
			if got, ok := natural.Quotient(mode, num, den); ok != x.IsInt64() || ok && got != x.Int64() {
				t.Fatalf("%d: %v over %v: %d, %v, want %v", mode, num, den, got, ok, x)
			}
			if got, ok := natural.Round(mode, n, d); ok != x.IsInt64() || ok && got != x.Int64() {
				t.Fatalf("%d: %v/%v: %d, %v, want %v", mode, n, d, got, ok, x)
			}
		}
	})
}

func TestQuotientOfNonsense(t *testing.T) {
	for _, x := range [][2][]int64{{{-1}, {1}}, {{1}, {0}}, {{1}, {-2}}, {{0, -1}, nil}} {
		if got, ok := natural.Quotient(natural.Up, x[0], x[1]); ok {
			t.Errorf("%v over %v is %d", x[0], x[1], got)
		}
	}
}

// A half is rounded up, or to even.
func TestQuotientHalf(t *testing.T) {
	for _, x := range [][4]int64{{1, 2, 1, 0}, {3, 2, 2, 2}, {499, 1000, 0, 0}, {500, 1000, 1, 0}, {0, 7, 0, 0}, {7, 7, 1, 1}} {
		for k, mode := range []natural.Rounding{natural.HalfUp, natural.HalfEven} {
			if got, ok := natural.Quotient(mode, x[:1], x[1:2]); !ok || got != x[2+k] {
				t.Errorf("%d/%d: %d, %v", x[0], x[1], got, ok)
			}
		}
	}
}
