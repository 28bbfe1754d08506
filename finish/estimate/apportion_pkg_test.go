package estimate

import (
	"math/big"
	"math/rand/v2"
	"testing"
)

// Parts sum to the total, none is a cent or more from its exact share, and no part with a smaller
// remainder got a cent that one with a larger remainder did not.
func TestApportion(t *testing.T) {
	r := rand.New(rand.NewPCG(71, 73))
	for range 3000 {
		total := r.Int64N([]int64{1, 20, 1 << 30, 1 << 62}[r.IntN(4)])
		weights := make([]*big.Rat, 1+r.IntN(9))
		sum := new(big.Rat)
		for i := range weights {
			weights[i] = big.NewRat(r.Int64N([]int64{1, 3, 1000, 1 << 40}[r.IntN(4)]), 1+r.Int64N([]int64{1, 7, 1 << 30}[r.IntN(3)]))
			sum.Add(sum, weights[i])
		}
		parts := apportion(total, weights)
		got := int64(0)
		var least, most *big.Rat // remainders: of those rounded up, and down
		for i, p := range parts {
			got += p
			if sum.Sign() == 0 {
				continue
			}
			exact := new(big.Rat).Quo(weights[i], sum)
			exact.Mul(exact, new(big.Rat).SetInt64(total))
			off := exact.Sub(exact, new(big.Rat).SetInt64(p)) // -1 < off < 1
			if off.Cmp(big.NewRat(1, 1)) >= 0 || off.Cmp(big.NewRat(-1, 1)) <= 0 {
				t.Fatalf("%d of %v: %v, part %d is off by %v", total, weights, parts, i, off)
			}
			switch {
			case off.Sign() < 0:
				off.Add(off, big.NewRat(1, 1))
				if least == nil || off.Cmp(least) < 0 {
					least = off
				}
			case most == nil || off.Cmp(most) > 0:
				most = off
			}
		}
		if got != total || least != nil && most != nil && least.Cmp(most) < 0 {
			t.Fatalf("%d of %v: %v", total, weights, parts)
		}
	}
	if got := apportion(5, []*big.Rat{big.NewRat(1, 1), big.NewRat(1, 1), big.NewRat(1, 1)}); got[0] != 2 || got[1] != 2 || got[2] != 1 {
		t.Errorf("a tie goes to the earlier: %v", got)
	}
	if apportion(5, nil) != nil && len(apportion(5, nil)) != 0 {
		t.Error("parts of nothing")
	}
}

// Halves go to the even number, or up.
func TestRoundRat(t *testing.T) {
	for _, c := range []struct{ num, den, even, up int64 }{{1, 2, 0, 1}, {3, 2, 2, 2}, {5, 2, 2, 3}, {7, 3, 2, 2}, {8, 3, 3, 3}, {4, 1, 4, 4}, {49, 100, 0, 0}, {51, 100, 1, 1}} {
		for up, want := range map[bool]int64{false: c.even, true: c.up} {
			if got, ok := roundRat(big.NewRat(c.num, c.den), up); got != want || !ok {
				t.Errorf("%d/%d: %d, want %d", c.num, c.den, got, want)
			}
			if got, ok := (number{whole: c.num}).round(1, c.den, up); got != want || !ok {
				t.Errorf("%d by %d: %d, want %d", c.num, c.den, got, want)
			}
		}
	}
	big1 := new(big.Rat).SetFrac(new(big.Int).Lsh(big.NewInt(1), 70), big.NewInt(3))
	if _, ok := roundRat(big1, false); ok {
		t.Error("2^70/3 fits")
	}
}
