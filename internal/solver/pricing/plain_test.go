package pricing

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/solvertest"
)

// The oracle without states against all patterns: its best is the best gain, it enumerates those
// that gain enough and no others, and each pattern that it offers gains enough, including the best
// of each bin.
func TestPlainOracleAgainstEveryPattern(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 7))
	patterns, offered := 0, 0
	for i := range 1500 {
		p := &model.Problem{}
		size := 12 + r.Int64N(20)
		for range 1 + r.IntN(5) {
			p.Items = append(p.Items, model.Item{Size: size, Demand: 1 + r.Int64N(3)})
			if size -= 1 + r.Int64N(6); size < 1 {
				break
			}
		}
		for range 1 + r.IntN(3) {
			p.Bins = append(p.Bins, model.Bin{Cap: r.Int64N(70), Cost: 1, Limit: p.Pieces()})
		}
		o := NewPlain(p)
		d := Prices{Limit: p.Demands()}
		for i := range p.Items {
			d.Item = append(d.Item, r.Int64N(30))
			d.Limit[i] -= r.Int64N(d.Limit[i] + 1)
		}
		for range p.Bins {
			d.Need = append(d.Need, r.Int64N(60)-5)
			if r.IntN(6) == 0 {
				d.Need[len(d.Need)-1] = Closed
			}
		}
		best := make([]int64, len(p.Bins))
		if !o.Build(&d, best, func(rules.Column) bool { return false }, new(meter.Meter)) {
			t.Fatalf("case %d: gave up", i)
		}
		gain := func(uses []model.Use) (v int64) {
			for _, u := range uses {
				v += u.N * d.Item[u.Item]
			}
			return v
		}
		tol, first := 1+r.Int64N(3), map[int]bool{}
		o.Columns(tol, func(c rules.Column) bool {
			uses := c.Fill.Uses
			g := gain(uses)
			if !within(p, c.Fill, d.Limit) || g < d.Need[c.Fill.Bin]+tol {
				t.Fatalf("case %d: offers %v, which gains %d, need %d\n%+v", i, *c.Fill, g, d.Need[c.Fill.Bin], p)
			}
			first[c.Fill.Bin] = first[c.Fill.Bin] || g == best[c.Fill.Bin]
			offered++
			return false // else patterns that hold the same over and over are left out
		}, new(meter.Meter))
		for _, b := range o.Places() {
			if d.Need[b] == Closed {
				continue
			}
			want, most := map[string]bool{}, d.Need[b]
			for _, pat := range solvertest.Patterns(p, b, d.Limit) {
				patterns++
				most = max(most, gain(pat.Uses))
				if worth(pat.Uses, d.Item) && gain(pat.Uses) >= d.Need[b] {
					want[fmt.Sprint(pat.Uses)] = true
				}
			}
			if best[b] != most || first[b] != (most >= d.Need[b]+tol) {
				t.Fatalf("case %d: best %d of bin %d, offered %v; there is one of %d, need %d\n%+v", i, best[b], b, first[b], most, d.Need[b], p)
			}
			if !o.Enumerate(b, d.Need[b], new(meter.Meter), func(c rules.Column, g int64) bool {
				key := fmt.Sprint(c.Fill.Uses)
				if !want[key] || g != gain(c.Fill.Uses) {
					t.Fatalf("case %d: %s of bin %d, gain %d, need %d\n%+v", i, key, b, g, d.Need[b], p)
				}
				delete(want, key)
				return true
			}) || len(want) > 0 {
				t.Fatalf("case %d: bin %d also has %v, need %d\n%+v", i, b, want, d.Need[b], p)
			}
		}
	}
	if patterns < 10_000 || offered < 2000 {
		t.Errorf("%d patterns, %d offered", patterns, offered)
	}
}

// within reports whether a pattern is one, in the order of the items, that keeps the limits.
func within(p *model.Problem, f *rules.Pattern, limit []int64) bool {
	last := -1
	for _, u := range f.Uses {
		if u.Item <= last || u.N <= 0 || u.N > limit[u.Item] {
			return false
		}
		last = u.Item
	}
	return p.Size(f.Uses) <= p.Bins[f.Bin].Cap
}

// worth reports whether every item of a pattern has a positive value: the others are omitted.
func worth(uses []model.Use, value []int64) bool {
	return !slices.ContainsFunc(uses, func(u model.Use) bool { return value[u.Item] == 0 })
}

func TestFill(t *testing.T) {
	items := []model.Item{{Size: 30}, {Size: 20}, {Size: 7}, {Size: 3}}
	for _, c := range []struct {
		limit    []int64
		residual int64
		uses     []model.Use
		want     []model.Use
	}{
		{[]int64{2, 5, 3, 1}, 100, nil, []model.Use{{Item: 0, N: 2}, {Item: 1, N: 2}}},
		{[]int64{0, 1, 3, 1}, 100, nil, []model.Use{{Item: 1, N: 1}, {Item: 2, N: 3}, {Item: 3, N: 1}}},
		{[]int64{2, 5, 3, 1}, 30, []model.Use{{Item: 1, N: 1}, {Item: 2, N: 1}}, []model.Use{{Item: 0, N: 1}, {Item: 1, N: 1}, {Item: 2, N: 1}}},
		{[]int64{1, 2, 3, 1}, 50, []model.Use{{Item: 0, N: 1}, {Item: 1, N: 1}, {Item: 3, N: 1}}, []model.Use{{Item: 0, N: 1}, {Item: 1, N: 2}, {Item: 2, N: 3}, {Item: 3, N: 1}}},
		{[]int64{2, 5, 3, 1}, 2, []model.Use{{Item: 1, N: 1}}, []model.Use{{Item: 1, N: 1}}},
		{[]int64{2, 5, 3, 1}, 0, nil, nil},
	} {
		if got := Fill(items, c.limit, c.residual, slices.Clone(c.uses)); !slices.Equal(got, c.want) {
			t.Errorf("Fill(%v, %d, %v) = %v, want %v", c.limit, c.residual, c.uses, got, c.want)
		}
	}
}
