package optimize_test

import (
	"context"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/internal/brute"
	"example.com/longpoint/stock"
)

// Values make up the bound, and one piece fewer saves no more than its value and one unit.
func TestPieceValues(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 6))
	shown := 0
	for i := range 300 {
		p := brute.Job(r)
		if i%2 == 0 {
			for s := range p.Sticks {
				p.Sticks[s].Limit = 0
			}
		}
		plan, err := optimize.Solve(context.Background(), p, nil)
		if err != nil {
			continue
		}
		values, ok := plan.PieceValues()
		if !ok {
			continue
		}
		shown++
		sum := new(big.Rat)
		for k, v := range values {
			if v.Sign() < 0 {
				t.Errorf("%d: value %v", i, v)
			}
			sum.Add(sum, new(big.Rat).Mul(v, big.NewRat(int64(p.Pieces[k].Quantity), 1)))
			q := p
			if q.Pieces = slices.Clone(p.Pieces); q.Pieces[k].Quantity > 1 {
				q.Pieces[k].Quantity--
			} else if q.Pieces = slices.Delete(q.Pieces, k, k+1); len(q.Pieces) == 0 {
				continue
			}
			saved := big.NewRat(plan.Cost-mustSolve(t, q).Cost, 1)
			most := new(big.Rat).Add(v, big.NewRat(optimize.Unseal(plan.Proof).Unit, 1))
			if saved.Cmp(most) >= 0 {
				t.Errorf("%d: one fewer of piece %d saves %v, its value is %v\n%s", i, k, saved, v, written(&p))
			}
		}
		// The bound of the leaf is at most the sum, and less than one unit above it.
		if most := new(big.Rat).Add(sum, big.NewRat(optimize.Unseal(plan.Proof).Unit, 1)); most.Cmp(big.NewRat(plan.Bound, 1)) <= 0 {
			t.Errorf("%d: values of %v for a bound of %d", i, sum, plan.Bound)
		}
	}
	if shown < 50 {
		t.Errorf("%d plans with values: this tests little", shown)
	}
	for _, pl := range []*optimize.Plan{
		nil, {}, sealed(optimize.OpenProof{Kind: optimize.ProofDual}), sealed(optimize.OpenProof{Kind: optimize.ProofTree, Unit: 1, Leaves: make([]optimize.Leaf, 2)}),
		sealed(optimize.OpenProof{Kind: optimize.ProofDual, Unit: 1, Leaves: make([]optimize.Leaf, 1)}),
		sealed(optimize.OpenProof{Kind: optimize.ProofDual, Unit: 1, Leaves: []optimize.Leaf{{Scale: 1, Values: []int64{-1}}}}),
	} {
		if v, ok := pl.PieceValues(); ok || v != nil {
			t.Errorf("values %v of %+v", v, pl)
		}
	}
}

// TestPieceValuesArePrices: no stick with sufficient supply holds pieces of more value than its cost,
// to the last fraction; if values would violate that, there are none.
func TestPieceValuesArePrices(t *testing.T) {
	jobs := 3000
	if testing.Short() {
		jobs = 600
	}
	given := 0
	check := func(p *optimize.Problem) {
		plan := solveOrNil(*p)
		values, ok := plan.PieceValues()
		if !ok {
			return
		}
		given++
		total := 0
		for _, pc := range p.Pieces {
			total += max(1, pc.Quantity)
		}
		for i := range p.Sticks {
			s := &p.Sticks[i]
			if s.Limit > 0 && s.Limit < total {
				continue
			}
			cost := s.Price
			if plan.ByLength {
				cost = int64(s.Length)
			}
			most := new(big.Rat)
			var cut func(k int, room measure.Length, worth *big.Rat)
			cut = func(k int, room measure.Length, worth *big.Rat) {
				if worth.Cmp(most) > 0 {
					most = worth
				}
				if k == len(p.Pieces) {
					return
				}
				pc := &p.Pieces[k]
				for n := 0; n <= max(1, pc.Quantity) && room >= 0; n++ {
					more := big.NewRat(int64(n), 1)
					cut(k+1, room, more.Add(worth, more.Mul(more, values[k])))
					room -= pc.Length + p.Kerf
				}
			}
			cut(0, s.Length-s.TrimStart-s.TrimEnd+p.Kerf, new(big.Rat))
			if most.Cmp(big.NewRat(cost, 1)) > 0 {
				t.Errorf("Sticks[%d] costs %d and holds pieces worth %v: %+v\n%s", i, cost, most, values, written(p))
			}
		}
	}
	p := optimize.Problem{Sticks: []stock.Stick{{Length: 140 * measure.Millimeter, Price: 30}, {Length: 42 * measure.Millimeter, Price: 6}},
		Pieces: []stock.Piece{{Length: 140 * measure.Millimeter}, {Length: 42 * measure.Millimeter}}}
	check(&p)
	for seed := range uint64(jobs) {
		r := rand.New(rand.NewPCG(seed, 12))
		p := tiny(r)
		if seed%3 == 0 {
			p.Rules.MaxPieces = 12
		}
		if check(&p); t.Failed() {
			t.FailNow()
		}
	}
	if given < jobs/8 {
		t.Errorf("%d of %d plans have values: this tests little", given, jobs)
	}
}

// sealed is a plan that has nothing but a proof.
func sealed(pr optimize.OpenProof) *optimize.Plan {
	proof, err := pr.Sealed()
	if err != nil {
		panic(err)
	}
	return &optimize.Plan{Proof: proof}
}
