package optimize_test

import (
	"context"
	"errors"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// cheapestPurchase tries every number of every stick: those that the patterns cut, spares, bundles,
// minimums, limits, price breaks and charges, as the fields state them.
func cheapestPurchase(p *optimize.Problem, cut []int, most int) (int64, bool) {
	longest := measure.Length(0)
	for _, pc := range p.Pieces {
		longest = max(longest, pc.Length)
	}
	best, found := int64(0), false
	count := make([]int, len(p.Sticks))
	var try func(i int)
	try = func(i int) {
		if i < len(count) {
			for n := cut[i]; n <= most; n++ {
				s := &p.Sticks[i]
				if n > 0 && (s.Limit > 0 && n > s.Limit || n < s.Minimum || s.Bundle > 1 && n%s.Bundle > 0) {
					continue
				}
				count[i] = n
				try(i + 1)
			}
			return
		}
		total, spare := int64(0), 0
		paid := map[string]bool{}
		for i, n := range count {
			s := &p.Sticks[i]
			each := s.Price
			for _, b := range s.Breaks {
				if n >= b.From {
					each = b.Price
				}
			}
			total += each * int64(n)
			paid[s.Supplier] = paid[s.Supplier] || n > 0
			if s.Length >= longest {
				spare += n - cut[i]
			}
		}
		for _, c := range p.Rules.Charges {
			if paid[c.Supplier] {
				total += c.Amount
			}
		}
		if spare >= p.Rules.Spare && (!found || total < best) {
			best, found = total, true
		}
	}
	try(0)
	return best, found
}

// Evaluate buys the sticks of given patterns at the least cost, against trying every purchase.
func TestEvaluateBuysCheapest(t *testing.T) {
	jobs := 4000
	if testing.Short() {
		jobs = 600
	}
	spared, charged := 0, 0
	for seed := range uint64(jobs) {
		r := rand.New(rand.NewPCG(seed, 77))
		var p optimize.Problem
		names := []string{"", "mill", "yard"}
		for range 1 + r.IntN(3) {
			s := stock.Stick{Length: measure.Length(10+r.IntN(6)) * inch, Price: int64(1 + r.IntN(9)), Supplier: names[r.IntN(3)]}
			if r.IntN(3) == 0 {
				s.Bundle = 2 + r.IntN(2)
			}
			if r.IntN(3) == 0 {
				s.Minimum = 1 + r.IntN(3)
			}
			if r.IntN(3) == 0 {
				s.Limit = max(s.Bundle, s.Minimum, 1+r.IntN(5))
			}
			if r.IntN(3) == 0 {
				s.Breaks = []stock.PriceBreak{{From: 2 + r.IntN(3), Price: int64(r.IntN(6))}}
			}
			p.Sticks = append(p.Sticks, s)
		}
		p.Pieces = []stock.Piece{{Length: measure.Length(8+r.IntN(3)) * inch, Quantity: 1 + r.IntN(3)}}
		p.Rules.Spare = r.IntN(4)
		for _, name := range names[1:] {
			if r.IntN(2) == 0 {
				p.Rules.Charges = append(p.Rules.Charges, optimize.Charge{Supplier: name, Amount: int64(1 + r.IntN(9))})
			}
		}
		hand := &optimize.Plan{}
		cut := make([]int, len(p.Sticks))
		for range p.Pieces[0].Quantity {
			i := r.IntN(len(p.Sticks))
			cut[i]++
			hand.Patterns = append(hand.Patterns, optimize.Pattern{Stick: i, Count: 1, Pieces: []int{0}})
		}
		got, err := optimize.Evaluate(context.Background(), p, hand)
		want, ok := cheapestPurchase(&p, cut, 9)
		if ok != (err == nil) {
			t.Fatalf("seed %d: %v, by exhaustive search %v, %d\n%s", seed, err, ok, want, written(&p))
		}
		if ok && got.Cost != want {
			t.Fatalf("seed %d: cost %d, by exhaustive search %d: %v\n%s", seed, got.Cost, want, got.Buy, written(&p))
		}
		if ok && p.Rules.Spare > 0 {
			spared++
			if len(p.Rules.Charges) > 0 {
				charged++
			}
		}
	}
	if spared < 50 || charged < 20 {
		t.Errorf("%d with spares, %d with charges too: this tests little", spared, charged)
	}
}

// More spare sticks than the table of purchases has room for are had whenever the suppliers
// have them, however they sell them.
func TestEvaluateManySpares(t *testing.T) {
	had, short := 0, 0
	for seed := range uint64(400) {
		r := rand.New(rand.NewPCG(seed, 78))
		var p optimize.Problem
		most := 0
		for range 1 + r.IntN(4) {
			s := stock.Stick{Length: 10 * inch, Price: int64(1 + r.IntN(9)), Bundle: r.IntN(4), Minimum: r.IntN(3), Limit: 2000 + r.IntN(6000)}
			if r.IntN(3) == 0 {
				s.Breaks = []stock.PriceBreak{{From: 2 + r.IntN(9000), Price: int64(r.IntN(6))}}
			}
			if len(p.Sticks) > 0 && r.IntN(4) == 0 {
				s.Limit = stock.SoldOut
			} else {
				most += s.Limit - s.Limit%max(1, s.Bundle)
			}
			p.Sticks = append(p.Sticks, s)
		}
		p.Pieces = []stock.Piece{{Length: 8 * inch}}
		p.Rules.Spare = 4100 + r.IntN(12000)
		hand := &optimize.Plan{Patterns: []optimize.Pattern{{Count: 1, Pieces: []int{0}}}}
		_, err := optimize.Evaluate(context.Background(), p, hand)
		want := most > p.Rules.Spare
		if want != (err == nil) {
			t.Fatalf("seed %d: %v, but there are %d sticks\n%s", seed, err, most, written(&p))
		}
		var bad *optimize.CheckError
		if !want && !errors.As(err, &bad) {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if want {
			had++
		} else {
			short++
		}
	}
	if had < 50 || short < 50 {
		t.Errorf("%d feasible, %d infeasible: this tests little", had, short)
	}
}
