package solver_test

import (
	"context"
	"math"
	"math/big"
	"os"
	"strings"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
	"example.com/longpoint/internal/solver/solvertest"
)

// The numbers of README.md.
func TestReadme(t *testing.T) {
	text, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	says := func(s string) {
		t.Helper()
		if !strings.Contains(string(text), s) {
			t.Errorf("README.md does not say %q", s)
		}
	}
	p := &model.Problem{
		Items: []model.Item{{Size: 57, Demand: 4}, {Size: 45, Demand: 3}, {Size: 41, Demand: 3}},
		Bins:  []model.Bin{{Cap: 96, Cost: 9, Limit: 10}, {Cap: 144, Cost: 13, Limit: 10}, {Cap: 192, Cost: 17, Limit: 10}},
	}
	if least, _ := solvertest.LeastOfAll(p); least != 47 {
		t.Errorf("the cheapest plan costs %d", least)
	}
	if r := solver.Solve(context.Background(), rules.Of(p), search.Options{}); r.Cost != 47 || r.Stop != search.Proven {
		t.Errorf("solved at %d, stop %d", r.Cost, r.Stop)
	}
	says("The cheapest plan costs 47.")
	m := master.New(p)
	for _, box := range []struct {
		lo, hi     []int64 // of counts
		dual       []int64
		scale, num int64
		up         int64 // the next attainable cost, below 49
		says       []string
	}{
		{[]int64{0, 0, 0}, []int64{10, 10, 10}, []int64{51, 34, 32}, 9, 402, 45, []string{"44.67, rounded up 45", "= 44 2/3", "= 402 / 9"}},
		{[]int64{0, 0, 0}, []int64{10, 10, 0}, []int64{39, 26, 13}, 6, 273, 48, []string{"45.50, rounded up 46", "48 is the next"}},
		{[]int64{0, 0, 1}, []int64{10, 10, 10}, []int64{39, 26, 26}, 7, 314, 47, []string{"44.86, rounded up 45", "47 is the next", "= 314 / 7"}},
	} {
		for _, s := range box.says {
			says(s)
		}
		b := bound.Box{Lo: box.lo, Hi: box.hi}
		best := make([]int64, len(p.Bins))
		for k, bin := range p.Bins {
			best[k] = solvertest.Most(p, box.dual, bin.Cap)
		}
		if n, _ := solvertest.Numerator(p, b, box.dual, best, box.scale).Int64(); n != box.num {
			t.Errorf("%v: %v over %d show %d", box.hi, box.dual, box.scale, n)
		}
		for i := range p.Items { // a basis to start from
			m.Add(2, []model.Use{{Item: i, N: 1}})
			m.Add(1, []model.Use{{Item: i, N: 1}})
		}
		m.SetBox(b)
		if st := m.Solve(math.MaxInt64/4, new(meter.Meter)); st != master.Converged {
			t.Fatalf("%v: status %d", box.hi, st)
		}
		want, _ := big.NewRat(box.num, box.scale).Float64()
		if z := m.Value(); math.Abs(z-want) > 1e-5 {
			t.Errorf("%v: relaxation %f, want %f", box.hi, z, want)
		}
		if got := bound.Reachable(p, b, 49, new(meter.Meter)).RoundUp(m.Bound); got != box.up {
			t.Errorf("%v: bound %d, rounded up %d", box.hi, m.Bound, got)
		}
	}
}
