package natural_test

import (
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/internal/natural"
)

var number = rapid.OneOf(
	rapid.Int64Range(0, 1<<63-1),
	rapid.SampledFrom([]int64{0, 1, 2, 3_037_000_499, 3_037_000_500, 1<<62 - 1, 1 << 62, 1<<63 - 1}),
	rapid.Int64Range(0, 1<<33),
)

// Every result is that of big integers, or said not to fit.
func TestAgainstBigIntegers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, c, d := number.Draw(t, "a"), number.Draw(t, "b"), number.Draw(t, "c"), number.Draw(t, "d")
		x, y := big.NewInt(a), big.NewInt(b)
		sum := new(big.Int).Add(x, y)
		if got, ok := natural.Add(a, b); ok != sum.IsInt64() || ok && got != sum.Int64() {
			t.Fatalf("%d + %d = %d, %v", a, b, got, ok)
		}
		product := new(big.Int).Mul(x, y)
		if got, ok := natural.Mul(a, b); ok != product.IsInt64() || ok && got != product.Int64() {
			t.Fatalf("%d × %d = %d, %v", a, b, got, ok)
		}
		other := new(big.Int).Mul(big.NewInt(c), big.NewInt(d))
		if got := natural.CompareProducts(a, b, c, d); got != product.Cmp(other) {
			t.Fatalf("%d × %d against %d × %d: %d", a, b, c, d, got)
		}
	})
}

func TestMulOfNegatives(t *testing.T) {
	for _, f := range [][2]int64{{-1, 1}, {1, -1}, {-1, -1}, {-1 << 63, 0}} {
		if got, ok := natural.Mul(f[0], f[1]); ok {
			t.Errorf("%d × %d = %d", f[0], f[1], got)
		}
	}
}
