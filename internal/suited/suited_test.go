package suited_test

import (
	"math"
	"math/big"
	"testing"

	"example.com/longpoint/internal/suited"
	"pgregory.net/rapid"
)

func TestAppend(t *testing.T) {
	units := []suited.Unit{{Name: "yd", Size: 36}, {Name: "ft", Size: 12, Least: 6}, {Name: "hand", Size: 4, Exact: true}, {Name: "in", Size: 1}}
	for _, c := range []struct {
		v    int64
		want string
	}{
		{0, "0 yd"}, {36, "1 yd"}, {54, "1.5 yd"}, {60, "5 ft"}, {44, "11 hand"}, {43, "43 in"}, {-36, "-1 yd"}, {6, "0.5 ft"}, {5, "1.25 hand"},
		{36*1234 + 1, "1234.03 yd"}, {math.MinInt64, "-256204778801521550 yd"},
	} {
		if got := string(suited.Append([]byte("about "), c.v, units, 3)); got != "about "+c.want {
			t.Errorf("%d is %s, want %s", c.v, got, c.want)
		}
	}
}

// A decimal is the number to the places that it has, half to even, without a zero at its end.
func TestAppendFixed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, d := rapid.Int64Range(0, math.MaxInt64).Draw(t, "n"), rapid.OneOf(rapid.Int64Range(1, math.MaxInt64), rapid.Int64Range(1, 100)).Draw(t, "d")
		places := rapid.IntRange(0, 6).Draw(t, "places")
		text := string(suited.AppendFixed(nil, n, d, places))
		scale := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(places)), nil)
		q, r := new(big.Int).QuoRem(new(big.Int).Mul(big.NewInt(n), scale), big.NewInt(d), new(big.Int))
		if !q.IsUint64() {
			scale.SetInt64(1)
			q, r = new(big.Int).QuoRem(big.NewInt(n), big.NewInt(d), r)
		}
		switch c := r.Lsh(r, 1).Cmp(big.NewInt(d)); {
		case c > 0, c == 0 && q.Bit(0) == 1:
			q.Add(q, big.NewInt(1))
		}
		got, ok := new(big.Rat).SetString(text)
		if want := new(big.Rat).SetFrac(q, scale); !ok || got.Cmp(want) != 0 {
			t.Fatalf("%d/%d to %d places is %q, want %v", n, d, places, text, want)
		}
		if last := text[len(text)-1]; last == '.' || !got.IsInt() && last == '0' {
			t.Fatalf("%d/%d is %q", n, d, text)
		}
	})
}
