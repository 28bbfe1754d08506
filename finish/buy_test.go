package finish

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// bruteCover tries every mix that could be of use.
func bruteCover(need int64, sizes []size) (best mix, found bool) {
	var walk func(i int, m mix, rest int64)
	walk = func(i int, m mix, rest int64) {
		if rest <= 0 {
			m.left = -rest
			if !found || m.less(best) {
				best, found = m, true
			}
			return
		}
		if i == len(sizes) {
			return
		}
		for n := int64(0); ; n++ {
			walk(i+1, mix{cost: m.cost + n*sizes[i].price, packages: m.packages + n}, rest-n*sizes[i].n)
			if n*sizes[i].n >= rest {
				return
			}
		}
	}
	walk(0, mix{}, need)
	return best, found
}

func valueOf(need int64, sizes []size, counts []int64) mix {
	var m mix
	m.left = -need
	for i, n := range counts {
		m.cost += n * sizes[i].price
		m.packages += n
		m.left += n * sizes[i].n
	}
	return m
}

func TestCoverEqualsBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		need := rapid.Int64Range(1, 40).Draw(t, "need")
		k := rapid.IntRange(1, 4).Draw(t, "k")
		var sizes []size
		for range k {
			sizes = append(sizes, size{n: rapid.Int64Range(1, 20).Draw(t, "size"), price: rapid.Int64Range(0, 12).Draw(t, "price")})
		}
		counts, proven, ok := cover(need, sizes)
		if !ok || !proven {
			t.Fatalf("proven %v, ok %v", proven, ok)
		}
		got := valueOf(need, sizes, counts)
		want, _ := bruteCover(need, sizes)
		if got != want {
			t.Fatalf("cover %v of %v: %v is worth %+v, brute force finds %+v", need, sizes, counts, got, want)
		}
		for _, z := range sizes {
			if single := ceilDiv(need, z.n) * z.price; got.cost > single {
				t.Fatalf("costs %d, one size alone %d", got.cost, single)
			}
		}
	})
}

func TestCoverHuge(t *testing.T) {
	for _, sizes := range [][]size{
		{{n: 1, price: 1}, {n: 4, price: 3}, {n: 20, price: 14}},
		{{n: 7, price: 7}, {n: 11, price: 11}, {n: 13, price: 13}, {n: 17, price: 17}},
		{{n: 1_000_003, price: 499}, {n: 1_000_033, price: 498}, {n: 2_800_001, price: 1399}},
		{{n: 1, price: 0}, {n: 3, price: 0}},
		{{n: math.MaxInt64, price: 5}, {n: math.MaxInt64 - 1, price: 4}},
	} {
		for _, need := range []int64{math.MaxInt64, math.MaxInt64 - 1, math.MaxInt64 / 3} {
			counts, proven, ok := cover(need, sizes)
			if ok && !proven {
				t.Errorf("%v of %v: not proven", need, sizes)
			}
			t.Log(need, sizes, counts, proven, ok)
		}
	}
}
