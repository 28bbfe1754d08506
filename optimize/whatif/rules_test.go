package whatif_test

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/whatif"
	"example.com/longpoint/stock"
)

// With each rule, the saving by a stick and the price from which it saves nothing, against brute force.
func TestCandidatesWithRules(t *testing.T) {
	told, settled, saves := 0, 0, 0
	for a := range features {
		for seed := range uint64(10) {
			r := rand.New(rand.NewPCG(uint64(a)+77, seed))
			p := tinyBase(r)
			features[a].Add(r, &p)
			plan, err := optimize.Solve(context.Background(), p, nil)
			if err != nil || !plan.Proven {
				continue
			}
			before, ok := bruteSolve(&p)
			if !ok {
				t.Fatalf("brute force has no plan\n%s", written(&p))
			}
			s := stock.Stick{Length: measure.Length(12+r.IntN(34)) * u, Grade: r.IntN(2), Supplier: oneOf(r, "", "M", "N")}
			if !plan.ByLength {
				s.Price = int64(r.IntN(12))
				s.Rack = s.Price == 0
			}
			for i := range p.Sticks {
				if p.Sticks[i].Supplier == "" && len(p.Rules.Charges) == 0 {
					s.Supplier = ""
				}
			}
			got, err := whatif.Candidates(context.Background(), p, plan, []stock.Stick{s}, nil)
			if err != nil {
				continue // the stick does not go with the rule
			}
			x := got[0]
			q := with(p, newStick(s).does)
			after, _ := bruteSolve(&q)
			want := before[0] - after[0]
			if x.Saving.Low > want || x.Saving.High < want {
				t.Errorf("%s: %+v, want %d\n%s", features[a].Name, x, want, written(&q))
			}
			if want > 0 {
				saves++
			}
			if x.Plan == nil {
				settled++
			}
			if x.BreakEven < 0 || plan.Proof.Kind() == optimize.ProofSearch {
				continue
			}
			told++
			for _, price := range []int64{x.BreakEven, x.BreakEven + 1} {
				q.Sticks[len(q.Sticks)-1].Price = price
				if after, _ := bruteSolve(&q); before[0]-after[0] >= unit(t, &p, plan, &x.Stick) {
					t.Errorf("%s: at %d, break-even %d, the stick saves %d\n%s", features[a].Name, price, x.BreakEven, before[0]-after[0], written(&q))
				}
			}
		}
	}
	if told < 40 || settled < 30 || saves < 10 {
		t.Errorf("%d break-evens known, %d decided by the proof, %d save: this tests little", told, settled, saves)
	}
}

// A stick that the proof must say nothing of.
func TestCandidatesUntold(t *testing.T) {
	const in = measure.Inch
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 96 * in, Price: 1000, Bundle: 2}, {Length: 120 * in, Price: 1300}},
		Pieces: []stock.Piece{{Length: 50 * in, Quantity: 3}},
		Runs: []stock.Run{{Label: "north wall", Length: 150 * in,
			Splice: stock.SpliceRule{At: []measure.Length{48 * in, 64 * in, 80 * in}, Overlap: in, Bevel: 45 * measure.Degree}}},
	}
	plan := mustSolve(t, p)
	for _, tt := range []struct {
		name  string
		stick stock.Stick
		told  bool
	}{
		{"as long as the longest", stock.Stick{Length: 120 * in, Price: 900}, true},
		{"shorter", stock.Stick{Length: 72 * in, Price: 900}, true},
		{"allows a run in one piece", stock.Stick{Length: 192 * in, Price: 900}, false},
		{"alike one on the list", stock.Stick{Length: 120 * in, Price: 1300}, false},
		{"has breaks", stock.Stick{Length: 72 * in, Price: 900, Breaks: []stock.PriceBreak{{From: 2, Price: 10}}}, false},
		{"is sold in bundles", stock.Stick{Length: 72 * in, Price: 900, Bundle: 3}, true},
	} {
		got, err := whatif.Candidates(context.Background(), p, plan, []stock.Stick{tt.stick}, nil)
		if err != nil {
			t.Fatal(tt.name, err)
		}
		if (got[0].BreakEven >= 0) != tt.told {
			t.Errorf("%s: break-even %d", tt.name, got[0].BreakEven)
		}
	}
}

// With each rule, a stick is bought up to the threshold and not above it.
func TestPriceToBuyWithRules(t *testing.T) {
	bought, never := 0, 0
	for a := range features {
		for seed := range uint64(4) {
			r := rand.New(rand.NewPCG(uint64(a)+177, seed))
			p := tinyBase(r)
			features[a].Add(r, &p)
			k := r.IntN(len(p.Sticks))
			if len(p.Sticks[k].Breaks) > 0 {
				continue
			}
			got, err := whatif.PriceToBuy(context.Background(), p, k, 40, nil)
			if err != nil || got.Needed {
				continue
			}
			without := p
			without.Sticks = slices.Clone(p.Sticks)
			if without = with(without, stickLimit(k, 0).does); len(without.Sticks) == 0 {
				continue
			}
			if !slices.ContainsFunc(without.Sticks, func(s stock.Stick) bool { return s.Price > 0 }) {
				continue // at zero, nothing has a price, and length counts
			}
			high, ok := bruteSolve(&without)
			if !ok {
				t.Errorf("%s: not needed, but there is no plan without it\n%s", features[a].Name, written(&p))
				continue
			}
			for _, x := range []struct {
				price int64
				buys  bool
			}{{got.Price, true}, {got.Above, false}} {
				if x.price < 0 || x.price > 40 {
					continue
				}
				q := with(p, stickPrice(k, x.price).does)
				if after, _ := bruteSolve(&q); (after[0] < high[0]) != x.buys {
					t.Errorf("%s: stick %d at %d costs %d, without %d; %d to %d\n%s", features[a].Name, k, x.price, after[0], high[0], got.Price, got.Above, written(&p))
				}
				if x.buys {
					bought++
				} else {
					never++
				}
			}
		}
	}
	if bought < 15 || never < 15 {
		t.Errorf("%d bought, %d not: this tests little", bought, never)
	}
}
