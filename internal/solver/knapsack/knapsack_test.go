package knapsack_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/knapsack"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/trimjob"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

const plenty = 1 << 20 // states

// pattern is a pattern of a bin.
type pattern struct {
	uses        []model.Use
	size, value int64
}

// patterns lists every pattern within cap of items with a positive value, including the empty one.
func patterns(items []model.Item, bound, value []int64, cap int64) []pattern {
	var out []pattern
	var rec func(i int, f pattern)
	rec = func(i int, f pattern) {
		if i == len(items) {
			f.uses = slices.Clone(f.uses)
			out = append(out, f)
			return
		}
		rec(i+1, f)
		if value[i] <= 0 {
			return
		}
		for n := int64(1); n <= bound[i] && f.size+n*items[i].Size <= cap; n++ {
			rec(i+1, pattern{
				uses: append(slices.Clip(f.uses), model.Use{Item: i, N: n}),
				size: f.size + n*items[i].Size, value: f.value + n*value[i],
			})
		}
	}
	rec(0, pattern{})
	return out
}

// data draws a small knapsack, items in strictly decreasing size.
func data(t *rapid.T) (items []model.Item, bound, value []int64, cap int64) {
	sizes := rapid.SliceOfNDistinct(rapid.Int64Range(1, 14), 1, 5, rapid.ID[int64]).Draw(t, "sizes")
	slices.Sort(sizes)
	slices.Reverse(sizes)
	for i, s := range sizes {
		items = append(items, model.Item{Size: s, Demand: 1})
		bound = append(bound, rapid.Int64Range(0, 5).Draw(t, fmt.Sprint("bound ", i)))
		value = append(value, rapid.Int64Range(0, 9).Draw(t, fmt.Sprint("value ", i)))
	}
	return items, bound, value, rapid.Int64Range(0, 25).Draw(t, "cap")
}

func TestBestForEveryCapacity(t *testing.T) {
	var tab knapsack.Table // one for all: nothing may be left from a build before
	rapid.Check(t, func(t *rapid.T) {
		items, bound, value, cap := data(t)
		if !tab.Build(items, bound, value, cap, plenty, new(meter.Meter)) {
			t.Fatal("Build gave up")
		}
		all := patterns(items, bound, value, cap)
		for c := range cap + 1 {
			want := int64(0)
			for _, f := range all {
				if f.size <= c {
					want = max(want, f.value)
				}
			}
			if got := tab.Best(c); got != want {
				t.Fatalf("Best(%d) = %d, want %d", c, got, want)
			}
		}
	})
}

func TestLeastSize(t *testing.T) {
	var tab knapsack.Table
	rapid.Check(t, func(t *rapid.T) {
		items, bound, value, cap := data(t)
		if !tab.Build(items, bound, value, cap, plenty, new(meter.Meter)) {
			t.Fatal("Build gave up")
		}
		all := patterns(items, bound, value, cap)
		for need := int64(-1); need <= tab.Best(cap)+2; need++ {
			want, found := int64(0), false
			for _, f := range all {
				if f.value >= need && (!found || f.size < want) {
					want, found = f.size, true
				}
			}
			if got, ok := tab.LeastSize(need); ok != found || got != want {
				t.Fatalf("LeastSize(%d) = %d, %t, want %d, %t", need, got, ok, want, found)
			}
		}
	})
}

func TestWalkYieldsEachOnce(t *testing.T) {
	var tab knapsack.Table
	rapid.Check(t, func(t *rapid.T) {
		items, bound, value, cap := data(t)
		if !tab.Build(items, bound, value, cap, plenty, new(meter.Meter)) {
			t.Fatal("Build gave up")
		}
		within := rapid.Int64Range(0, cap).Draw(t, "within")
		need := rapid.Int64Range(-1, tab.Best(within)+1).Draw(t, "need")
		want := map[string]int64{}
		for _, f := range patterns(items, bound, value, within) {
			if f.value >= need {
				want[fmt.Sprint(f.uses)] = f.value
			}
		}
		got := map[string]int64{}
		complete := tab.Enumerate(within, need, new(meter.Meter), func(uses []model.Use, v int64) bool {
			u := slices.Clone(uses)
			slices.SortFunc(u, func(a, b model.Use) int { return a.Item - b.Item })
			key := fmt.Sprint(u)
			if _, twice := got[key]; twice {
				t.Fatalf("%s comes twice", key)
			}
			got[key] = v
			return true
		})
		if !complete {
			t.Fatal("the walk was not complete")
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Fatalf("patterns worth %d within %d (-want +got):\n%s", need, within, d)
		}
	})
}

// The first pattern of a walk is one of the most valuable.
func TestWalkStartsWithTheBest(t *testing.T) {
	var tab knapsack.Table
	rapid.Check(t, func(t *rapid.T) {
		items, bound, value, cap := data(t)
		if !tab.Build(items, bound, value, cap, plenty, new(meter.Meter)) {
			t.Fatal("Build gave up")
		}
		n := 0
		complete := tab.Enumerate(cap, 0, new(meter.Meter), func(_ []model.Use, v int64) bool {
			if n++; v != tab.Best(cap) {
				t.Fatalf("first pattern is worth %d, the best %d", v, tab.Best(cap))
			}
			return false
		})
		if n != 1 || complete {
			t.Fatalf("%d visits, complete = %t after a stop at the first", n, complete)
		}
	})
}

func TestLimits(t *testing.T) {
	items := []model.Item{{Size: 31}, {Size: 29}, {Size: 23}, {Size: 19}, {Size: 17}, {Size: 13}}
	bound := []int64{9, 9, 9, 9, 9, 9}
	value := []int64{33, 28, 25, 18, 17, 12}
	var tab knapsack.Table
	build := func(states int, m *meter.Meter) bool {
		return tab.Build(items, bound, value, 200, states, m)
	}
	if !build(plenty, new(meter.Meter)) {
		t.Fatal("gave up although unnecessary")
	}
	if build(20, new(meter.Meter)) {
		t.Error("Build goes beyond 20 states")
	}
	var all meter.Meter
	build(plenty, &all)
	if build(plenty, new(meter.Meter).Sub(all.Used()/2)) {
		t.Error("Build goes on without budget")
	}
	if !build(plenty, new(meter.Meter)) || tab.Best(200) == 0 {
		t.Fatal("a table that gave up cannot be built again")
	}

	count := func(m *meter.Meter) (n int, complete bool) {
		complete = tab.Enumerate(200, 100, m, func([]model.Use, int64) bool { n++; return true })
		return n, complete
	}
	var walk meter.Meter
	whole, ok := count(&walk)
	if !ok || whole < 100 {
		t.Fatalf("%d patterns, complete = %t", whole, ok)
	}
	if n, ok := count(new(meter.Meter).Sub(walk.Used() / 2)); ok || n >= whole {
		t.Errorf("with half the budget: %d of %d patterns, complete = %t", n, whole, ok)
	}
	if n, ok := count(new(meter.Meter).Sub(1)); ok || n > 0 {
		t.Errorf("without budget: %d patterns, complete = %t", n, ok)
	}
}

func TestNothingToPack(t *testing.T) {
	var tab knapsack.Table
	for name, c := range map[string]struct {
		items        []model.Item
		bound, value []int64
	}{
		"no items": {nil, nil, nil},
		"no worth": {[]model.Item{{Size: 2}}, []int64{3}, []int64{0}},
		"none":     {[]model.Item{{Size: 2}}, []int64{0}, []int64{3}},
		"too long": {[]model.Item{{Size: 8}}, []int64{3}, []int64{3}},
	} {
		if !tab.Build(c.items, c.bound, c.value, 7, 2, new(meter.Meter)) {
			t.Fatalf("%s: Build gave up", name)
		}
		if v := tab.Best(7); v != 0 {
			t.Errorf("%s: Best = %d", name, v)
		}
		n := 0
		if !tab.Enumerate(7, 0, new(meter.Meter), func(uses []model.Use, v int64) bool {
			if n++; len(uses) != 0 || v != 0 {
				t.Errorf("%s: pattern %v worth %d", name, uses, v)
			}
			return true
		}) || n != 1 {
			t.Errorf("%s: %d patterns, want the empty one", name, n)
		}
	}
}

// Scaling all sizes up changes nothing but the sizes: neither the work nor the
// memory depends on the capacity.
func TestHugeCapacity(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 8))
	for range 20 {
		var items, big []model.Item
		var bound, value []int64
		const scale = 1 << 44
		for s := int64(60); s > 3; s -= 1 + r.Int64N(9) {
			items = append(items, model.Item{Size: s})
			big = append(big, model.Item{Size: s*scale - r.Int64N(1<<20)}) // too little to add up to one
			bound = append(bound, 1+r.Int64N(6))
			value = append(value, s*5+r.Int64N(20))
		}
		var a, b knapsack.Table
		if !a.Build(items, bound, value, 64, plenty, new(meter.Meter)) ||
			!b.Build(big, bound, value, 64*scale, plenty, new(meter.Meter)) {
			t.Fatal("Build gave up")
		}
		for c := range int64(65) {
			if x, y := a.Best(c), b.Best(c*scale); x != y {
				t.Fatalf("Best(%d) = %d, scaled %d", c, x, y)
			}
		}
		var wa, wb int
		a.Enumerate(64, a.Best(64)*9/10, new(meter.Meter), func([]model.Use, int64) bool { wa++; return true })
		b.Enumerate(64*scale, a.Best(64)*9/10, new(meter.Meter), func([]model.Use, int64) bool { wb++; return true })
		if wa != wb {
			t.Fatalf("%d patterns, scaled %d", wa, wb)
		}
	}
}

// Copies count by their logarithm, not one by one.
func TestManyCopies(t *testing.T) {
	const n = 1 << 30
	items := []model.Item{{Size: 1 << 31}, {Size: 3}}
	var tab knapsack.Table
	var m meter.Meter
	if !tab.Build(items, []int64{1, 1}, []int64{n, 5}, 1<<50, plenty, &m) {
		t.Fatal("Build gave up")
	}
	if tab.Best(1<<50) != n+5 || tab.Best(3) != 5 || tab.Best(1<<31) != n {
		t.Error("wrong values")
	}
	m = meter.Meter{}
	if !tab.Build([]model.Item{{Size: 1 << 20}}, []int64{n}, []int64{7}, 1<<30, plenty, &m) {
		t.Fatal("Build gave up")
	}
	for _, k := range []int64{0, 1, 2, 3, 511, 512, 513, 1023, 1024} {
		if got := tab.Best(k << 20); got != 7*k {
			t.Errorf("Best for %d copies = %d, want %d", k, got, 7*k)
		}
		if got := tab.Best(min(k<<20+1<<20-1, 1<<30)); got != 7*k {
			t.Errorf("Best for room of almost %d copies = %d, want %d", k+1, got, 7*k)
		}
	}
}

// A table for targets knows every pattern that reaches one.
func TestTargets(t *testing.T) {
	var tab knapsack.Table
	rapid.Check(t, func(t *rapid.T) {
		items, bound, value, cap := data(t)
		all := patterns(items, bound, value, cap)
		var targets []knapsack.Target
		for range rapid.IntRange(0, 3).Draw(t, "targets") {
			targets = append(targets, knapsack.Target{
				Cap:  rapid.Int64Range(0, cap).Draw(t, "within"),
				Need: rapid.Int64Range(-3, 60).Draw(t, "need"),
			})
		}
		given := slices.Clone(targets)
		if !tab.BuildFor(targets, items, bound, value, plenty, new(meter.Meter)) {
			t.Fatal("BuildFor gave up")
		}
		if d := cmp.Diff(given, targets); d != "" {
			t.Fatalf("the argument was changed:\n%s", d)
		}
		for _, g := range targets {
			want := map[string]int64{}
			best := int64(0)
			for _, f := range all {
				if f.size > g.Cap {
					continue
				}
				best = max(best, f.value)
				if f.value >= g.Need {
					want[fmt.Sprint(f.uses)] = f.value
				}
			}
			if got := tab.Best(g.Cap); best >= g.Need && got != best || got > best {
				t.Fatalf("%+v: Best = %d, want %d", g, got, best)
			}
			got := map[string]int64{}
			if !tab.Enumerate(g.Cap, g.Need, new(meter.Meter), func(uses []model.Use, v int64) bool {
				u := slices.Clone(uses)
				slices.Reverse(u)
				got[fmt.Sprint(u)] = v
				return true
			}) {
				t.Fatal("the walk was not complete")
			}
			if d := cmp.Diff(want, got); d != "" {
				t.Fatalf("%+v (-want +got):\n%s", g, d)
			}
		}
	})
}

// Best and With can be read back as patterns.
func TestTrace(t *testing.T) {
	var tab knapsack.Table
	rapid.Check(t, func(t *rapid.T) {
		items, bound, value, cap := data(t)
		target := knapsack.Target{Cap: cap, Need: rapid.Int64Range(-3, 50).Draw(t, "need")}
		ok := true
		if rapid.Bool().Draw(t, "for a target") {
			ok = tab.BuildFor([]knapsack.Target{target}, items, bound, value, plenty, new(meter.Meter))
		} else {
			target.Need = 0
			ok = tab.Build(items, bound, value, cap, plenty, new(meter.Meter))
		}
		if !ok {
			t.Fatal("gave up")
		}
		var stage []int // the items with worth
		for i := range items {
			if value[i] > 0 && bound[i] > 0 && items[i].Size <= cap {
				stage = append(stage, i)
			}
		}
		if tab.Levels() != len(stage) {
			t.Fatalf("Levels() = %d, want %d", tab.Levels(), len(stage))
		}
		// weigh checks the form of a pattern and returns its value.
		weigh := func(uses []model.Use, over int) int64 {
			size, v, last := int64(0), int64(0), len(items)
			for _, u := range uses {
				most := bound[u.Item]
				if u.Item == over {
					most++
				}
				if u.Item >= last || u.N <= 0 || u.N > most {
					t.Fatalf("uses %v", uses)
				}
				last = u.Item
				size += u.N * items[u.Item].Size
				v += u.N * value[u.Item]
			}
			if size > cap {
				t.Fatalf("uses %v take %d of %d", uses, size, cap)
			}
			return v
		}
		before := []model.Use{{Item: 77, N: 7}}
		if best := tab.Best(cap); best >= target.Need && best >= 0 {
			uses := tab.Backtrack(cap, slices.Clone(before))
			if d := cmp.Diff(before[0], uses[0]); d != "" {
				t.Fatalf("Trace does not append:\n%s", d)
			}
			if v := weigh(uses[1:], -1); v != best {
				t.Fatalf("Trace %v is worth %d, Best %d", uses[1:], v, best)
			}
		}
		for l, i := range stage {
			with := tab.BestWith(l, cap)
			// The best pattern with the item, which may exceed its bound by one.
			looser := slices.Clone(bound)
			looser[i]++
			want, best := int64(-1), int64(-1)
			for _, f := range patterns(items, looser, value, cap) {
				k := slices.IndexFunc(f.uses, func(u model.Use) bool { return u.Item == i })
				if k < 0 {
					continue
				}
				want = max(want, f.value)
				if f.uses[k].N <= bound[i] {
					best = max(best, f.value)
				}
			}
			if with > want && with >= 0 || want >= max(target.Need, 0) && with != want {
				t.Fatalf("With(%d) = %d, want %d", l, with, want)
			}
			if with < max(target.Need, 0) {
				continue
			}
			if uses, ok := tab.BacktrackWith(l, cap, nil); ok {
				if v := weigh(uses, -1); v != with || v > best {
					t.Fatalf("TraceWith(%d) %v is worth %d, With %d, the best %d", l, uses, v, with, best)
				}
				if !slices.ContainsFunc(uses, func(u model.Use) bool { return u.Item == i }) {
					t.Fatalf("TraceWith(%d) %v does not hold item %d", l, uses, i)
				}
			}
		}
	})
}

// house is a generated job with values in proportion to length, a little off,
// as prices are.
func house(b *testing.B) (items []model.Item, bound, value []int64, cap int64) {
	j, err := trimjob.Generate(trimjob.House, 7, "bench")
	if err != nil {
		b.Fatal(err)
	}
	r := rand.New(rand.NewPCG(9, 9))
	for _, w := range j.Pieces {
		items = append(items, model.Item{Size: w.Length + j.Kerf, Demand: w.Demand})
		bound = append(bound, w.Demand)
		value = append(value, (w.Length+j.Kerf)*1_000_000+r.Int64N(10_000_000))
	}
	return items, bound, value, j.Stock[len(j.Stock)-1].Length + j.Kerf
}

func BenchmarkBuild(b *testing.B) {
	items, bound, value, cap := house(b)
	var tab knapsack.Table
	b.ReportAllocs()
	for b.Loop() {
		if !tab.Build(items, bound, value, cap, 24<<20, new(meter.Meter)) {
			b.Fatal("gave up")
		}
	}
}

func BenchmarkWalk(b *testing.B) {
	items, bound, value, cap := house(b)
	var tab knapsack.Table
	if !tab.Build(items, bound, value, cap, 24<<20, new(meter.Meter)) {
		b.Fatal("gave up")
	}
	need := tab.Best(cap) - 2_000_000
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		n = 0
		tab.Enumerate(cap, need, new(meter.Meter), func([]model.Use, int64) bool { n++; return n < 1000 })
	}
	b.ReportMetric(float64(n), "patterns/op")
}
