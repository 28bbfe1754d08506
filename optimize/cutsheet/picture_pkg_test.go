package cutsheet

import (
	"context"
	"math/big"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/internal/brute"
)

// Used, kept and waste add up to the purchase, in length and money, and equal the plan's summary,
// which counts in another way.
func TestMaterialsAddUp(t *testing.T) {
	rnd := rand.New(rand.NewPCG(11, 2))
	n := 0
	for range 400 {
		p := brute.Job(rnd)
		plan, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: 100_000})
		if err != nil {
			continue
		}
		n++
		keep := measure.Length(1+rnd.Int64N(1<<20)) * 8
		s, err := New(context.Background(), p, plan, &Options{Keep: keep})
		if err != nil {
			t.Fatal(err)
		}
		sum, err := plan.Summary(p, keep)
		if err != nil {
			t.Fatal(err)
		}
		rows, total := s.materials()
		same := func(what string, got *big.Int, want measure.Length) {
			if got.Cmp(big.NewInt(int64(want))) != 0 {
				t.Fatalf("%s: %v, the summary says %d\n%s", what, got, want, brute.Written(&p))
			}
		}
		same("used", &total.length.used, sum.Used)
		same("kept", &total.length.kept, sum.KeptLength)
		same("waste", &total.length.waste, sum.Kerf+sum.Waste)
		same("all", total.length.all(), sum.Bought)
		for i := range rows {
			for k, part := range rows[i].length.parts() {
				if part.Sign() < 0 || rows[i].cost.parts()[k].Sign() < 0 {
					t.Fatalf("negative %s: %v\n%s", rows[i].name, &rows[i].length, brute.Written(&p))
				}
			}
			if l := &s.lines[i]; s.priced() && rows[i].cost.all().Int64() != l.price() {
				t.Fatalf("%s costs %v, not %d", rows[i].name, rows[i].cost.all(), l.price())
			}
		}
		cost := total.cost.all().Int64()
		for i := range s.bill {
			if s.bill[i].kind != "rack" {
				cost += s.bill[i].amount
			}
		}
		if s.priced() && cost != plan.Cost {
			t.Fatalf("all costs %d, the plan %d", cost, plan.Cost)
		}
	}
	if n < 200 {
		t.Errorf("only %d plans", n)
	}
}
