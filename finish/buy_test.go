package finish

import (
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
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

// Thousands of small problems, all counts of sizes and ties between them.
func TestCoverManySmall(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	for range 5000 {
		need := 1 + r.Int64N(30)
		var sizes []size
		for range 1 + r.IntN(4) {
			sizes = append(sizes, size{n: 1 + r.Int64N(12), price: r.Int64N(8)})
		}
		counts, proven, ok := cover(need, sizes)
		want, _ := bruteCover(need, sizes)
		if got := valueOf(need, sizes, counts); !ok || !proven || got != want {
			t.Fatalf("cover %v of %v: %v costs %+v, proven %v; brute force finds %+v", need, sizes, counts, got, proven, want)
		}
	}
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

// TestResidueEqualsBruteForce checks the second method alone, and that it declines only if the need is
// small against the best size.
func TestResidueEqualsBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	answered := 0
	for range 4000 {
		need := 1 + r.Int64N(60)
		var sizes []size
		for range 1 + r.IntN(4) {
			sizes = append(sizes, size{n: 1 + r.Int64N(15), price: r.Int64N(15)})
		}
		slices.SortStableFunc(sizes, byValue)
		counts, value, ok := residue(need, sizes)
		if !ok {
			continue
		}
		answered++
		want, _ := bruteCover(need, sizes)
		if got := valueOf(need, sizes, counts); got != want || got != value {
			t.Fatalf("residue %v of %v: %v is worth %+v (said %+v), brute force finds %+v", need, sizes, counts, got, value, want)
		}
	}
	if answered < 3000 {
		t.Errorf("only %d of 4000 were answered", answered)
	}
}

// Many packages, sizes within a percent of equal value: the two methods
// together prove every one.
func TestCoverNearlyEqualValue(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	agreed := 0
	for _, k := range []int{3, 5, 6} {
		for _, packs := range []int64{100, 10_000, 1_000_000_000} {
			for range 5 {
				var sizes []size
				for range k {
					n := 100 + r.Int64N(3900)
					sizes = append(sizes, size{n: n * 1_000_003, price: n + r.Int64N(1+n/100)})
				}
				need := packs*2000*1_000_003 - r.Int64N(1000)
				counts, proven, ok := cover(need, sizes)
				if !proven || !ok {
					t.Errorf("%d of %v: proven %v, ok %v", need, sizes, proven, ok)
				}
				got := valueOf(need, sizes, counts)
				if packs == 100 { // the search finished alone; the second method agrees
					sorted := slices.Clone(sizes)
					for i := range sorted {
						sorted[i].n /= 1_000_003
					}
					slices.SortStableFunc(sorted, byValue)
					if _, v, ok := residue(ceilDiv(need, 1_000_003), sorted); ok && (v.cost != got.cost || v.packages != got.packages) {
						t.Errorf("%d of %v: search finds %+v, residue %+v", need, sizes, got, v)
					} else if ok {
						agreed++
					}
				}
				for _, z := range sizes {
					if single := ceilDiv(need, z.n) * z.price; got.cost > single || got.left < 0 {
						t.Errorf("%d of %v: %+v, one size alone %d", need, sizes, got, single)
					}
				}
			}
		}
	}
	if agreed == 0 {
		t.Error("residue solved none of the small needs")
	}
}

// A problem that cannot be proven in reasonable time still ends, says so, and covers the need.
func TestCoverGivesUp(t *testing.T) {
	sizes := []size{{n: 9_999_999_967, price: 9_999_999_967}, {n: 9_999_999_943, price: 9_999_999_943}, {n: 9_999_999_929, price: 9_999_999_929}}
	const need = 9_000_000_000_000_000_000
	counts, proven, ok := cover(need, sizes)
	if got := valueOf(need, sizes, counts); proven || !ok || got.left < 0 || got.left >= sizes[0].n {
		t.Errorf("%v, proven %v, ok %v: %+v", counts, proven, ok, got)
	}
}

// Two sizes by Euclid against every mix, small numbers and ties.
func TestTwoSizesEqualBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 11))
	for range 60_000 {
		need := 1 + r.Int64N(120)
		sizes := []size{{n: 1 + r.Int64N(40), price: r.Int64N(40)}, {n: 1 + r.Int64N(40), price: r.Int64N(40)}}
		if r.IntN(3) == 0 { // of the same value, or nearly
			sizes[0].price, sizes[1].price = sizes[0].n, sizes[1].n+r.Int64N(2)
		}
		slices.SortStableFunc(sizes, byValue)
		x, y, value, ok := twoSizes(need, sizes[0], sizes[1])
		want, _ := bruteCover(need, sizes)
		if got := valueOf(need, sizes, []int64{x, y}); !ok || got != want || value != want {
			t.Fatalf("two sizes %v of %v: %d and %d are worth %+v (said %+v), brute force finds %+v", need, sizes, x, y, got, value, want)
		}
	}
}

// Two sizes with numbers of any length: proven, and no mix near by, nor any with
// few of either size, is better.
func TestTwoSizesHuge(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bits := rapid.IntRange(4, 50).Draw(t, "bits")
		n := rapid.Int64Range(1, 1<<bits)
		a, b := size{n: n.Draw(t, "a")}, size{n: n.Draw(t, "b")}
		a.price, b.price = a.n/7+rapid.Int64Range(0, 3).Draw(t, "a price"), b.n/7+rapid.Int64Range(0, 3).Draw(t, "b price")
		sizes := []size{a, b}
		slices.SortStableFunc(sizes, byValue)
		need := rapid.Int64Range(1, 1<<55).Draw(t, "need")
		x, y, value, ok := twoSizes(need, sizes[0], sizes[1])
		if !ok {
			t.Fatal("not ok")
		}
		if got := valueOf(need, sizes, []int64{x, y}); got != value || got.left < 0 || x < 0 || y < 0 {
			t.Fatalf("%d and %d are worth %+v, said %+v", x, y, got, value)
		}
		most := need / sizes[1].n
		try := func(ny int64) {
			if ny < 0 || ny > most {
				return
			}
			nx := ceilDiv(need-ny*sizes[1].n, sizes[0].n)
			if m := valueOf(need, sizes, []int64{nx, ny}); m.less(value) {
				t.Fatalf("%d and %d are worth %+v, but %d and %d %+v", x, y, value, nx, ny, m)
			}
		}
		for d := range int64(50) {
			try(d)
			try(y - d)
			try(y + d)
			try(most - d)
			try(rapid.Int64Range(0, most).Draw(t, "y"))
		}
	})
}

func TestEveryAmountEqualsBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 13))
	for range 3000 {
		need := 1 + r.Int64N(60)
		var sizes []size
		for range 1 + r.IntN(4) {
			sizes = append(sizes, size{n: 1 + r.Int64N(15), price: r.Int64N(15)})
		}
		counts, value, ok := everyAmount(need, sizes)
		want, _ := bruteCover(need, sizes)
		if got := valueOf(need, sizes, counts); !ok || got != want || got != value {
			t.Fatalf("every amount %v of %v: %v is worth %+v (said %+v), brute force finds %+v", need, sizes, counts, got, value, want)
		}
	}
	if _, _, ok := everyAmount(3, []size{{n: 1, price: math.MaxInt64 / 2}}); ok {
		t.Error("a cost beyond int64 is ok")
	}
	if _, _, ok := everyAmount(smallNeed+1, []size{{n: 1}}); ok {
		t.Error("a need that is not small is ok")
	}
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
			if !ok || !proven {
				t.Errorf("%v of %v: proven %v, ok %v", need, sizes, proven, ok)
			}
			covered := new(big.Int)
			for i, n := range counts {
				covered.Add(covered, new(big.Int).Mul(big.NewInt(n), big.NewInt(sizes[i].n)))
			}
			if covered.Cmp(big.NewInt(need)) < 0 {
				t.Errorf("%v of %v: %v covers only %v", need, sizes, counts, covered)
			}
		}
	}
	// No mix of these has a cost that fits an int64.
	if _, _, ok := cover(100, []size{{n: 3, price: math.MaxInt64}, {n: 2, price: math.MaxInt64 / 2}}); ok {
		t.Error("a cost beyond int64 is ok")
	}
}
