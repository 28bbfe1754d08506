package branchprice

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/rules"
)

// The reachable costs against the cost of every choice of counts and suppliers.
func TestReachAgainstEveryChoice(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 29))
	some := 0
	for range 3000 {
		p := &rules.Problem{Kinds: []rules.PatternRules{{}}}
		b := bound.Box{}
		for c := range 1 + r.IntN(3) {
			cl := rules.StockClass{Bins: []int{c}, Limit: 1 + r.Int64N(14), Bundle: 1 + r.Int64N(3), Minimum: 1 + r.Int64N(4)}
			cl.Limit += cl.Minimum
			cl.Limit += cl.Bundle - cl.Limit%cl.Bundle
			price := 4 * r.Int64N(12)
			for from := int64(1); price >= 0 && len(cl.Tiers) < 3; from += 1 + r.Int64N(6) {
				cl.Tiers = append(cl.Tiers, rules.Tier{From: from, Price: price})
				price -= 3 * r.Int64N(3)
			}
			if r.IntN(3) == 0 {
				cl.Settled = r.Int64N(cl.Limit)
			}
			p.Classes = append(p.Classes, cl)
			p.Bins = append(p.Bins, rules.Bin{Cap: 10})
			if r.IntN(5) == 0 {
				p.Bins[c].Own[rules.Price] = 1 + r.Int64N(30)
			}
			lo := r.Int64N(3)
			b.Lo, b.Hi = append(b.Lo, lo), append(b.Hi, min(cl.Limit-cl.Settled, lo+r.Int64N(5)))
		}
		if r.IntN(2) == 0 {
			p.Suppliers = []rules.Supplier{{Charge: r.Int64N(50), Classes: []int{0}}}
			b.On = []bound.Supply{bound.Supply(r.IntN(3))}
		}
		costs := map[int64]bool{}
		loose := false
		var choose func(c int, sum int64, used bool)
		choose = func(c int, sum int64, used bool) {
			if c == len(p.Classes) {
				if used {
					sum += p.Suppliers[0].Charge
				}
				costs[sum] = true
				return
			}
			hi := b.Hi[c]
			if len(b.On) > 0 && c == 0 && b.On[0] == bound.No {
				hi = 0
			}
			for n := min(b.Lo[c], hi); n <= hi; n++ {
				_, v := p.Classes[c].Extra(n)
				if v == rules.NoCost {
					continue
				}
				own := p.Bins[c].Own[rules.Price]
				loose = loose || own > 0 && n > 0
				choose(c+1, sum+v+own*n, used || len(b.On) > 0 && c == 0 && n > 0)
			}
		}
		choose(0, 0, len(b.On) > 0 && b.On[0] == bound.Yes)
		limit := 1 + r.Int64N(400)
		run := &solver{p: p, objective: rules.Objective{Main: rules.Price}, mt: meter.New(context.Background(), 0), m: master.NewOf(p, rules.Objective{Main: rules.Price}), cost: limit}
		x := run.Reachable(b)
		if x == nil {
			continue
		}
		some++
		exact := !loose && !(len(b.On) > 0 && b.On[0] == bound.Open)
		var all []int64
		for v := range costs {
			if v < limit {
				all = append(all, v)
			}
		}
		slices.Sort(all)
		for v := int64(-3); v <= limit; v++ {
			k, _ := slices.BinarySearch(all, v)
			up, below := limit, int64(bound.Below)
			if k < len(all) {
				up = all[k]
			}
			if k > 0 {
				below = all[k-1] + 1
			}
			if got := x.RoundUp(v); got > up || exact && got != up {
				t.Fatalf("up(%d) is %d, the next is %d: %+v %+v", v, got, up, p, b)
			}
			if got := x.Cutoff(v); got < below || exact && got != below {
				t.Fatalf("below(%d) is %d, the last before ends at %d: %+v %+v", v, got, below, p, b)
			}
		}
	}
	if some < 2000 {
		t.Errorf("%d of 3000 had any", some)
	}
}
