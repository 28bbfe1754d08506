package whatif

import (
	"context"
	"math/big"

	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/internal/bridge"
	"example.com/longpoint/optimize/internal/price"
	"example.com/longpoint/stock"
)

// entrant is a stick that is not on the list, evaluated with the leaves of a proof.
type entrant struct {
	money  bool
	length int64 // cost of the stick if nothing has a price
	leaves []bridge.Leaf
	unit   int64
}

// entering evaluates a stick with a proof; it returns nil if the proof gives nothing.
func entering(ctx context.Context, p *optimize.Problem, plan *optimize.Plan, s *stock.Stick) *entrant {
	leaves, unit, ok := bridge.Enter(ctx, p, plan, s)
	if !ok {
		return nil
	}
	return &entrant{money: !price.ByLength(p), length: int64(s.Length), leaves: leaves, unit: unit}
}

// breakEven returns the least price that leaves every leaf's sum unchanged.
func (e *entrant) breakEven() int64 {
	if !e.money {
		return -1
	}
	price := new(big.Int)
	for _, l := range e.leaves {
		if c := ceil(new(big.Rat).Add(l.Holds, l.Rounds)); c.Cmp(price) > 0 {
			price = c
		}
	}
	if !price.IsInt64() {
		return -1
	}
	return price.Int64()
}

// least returns a lower bound on the cost of every plan with the stick at a price.
func (e *entrant) least(price int64) int64 {
	if !e.money {
		price = e.length
	}
	var least *big.Rat
	for _, l := range e.leaves {
		v := l.Shows
		switch c := new(big.Rat).SetInt64(price); {
		case c.Cmp(l.Holds) >= 0:
			// The cost of a plan without the stick is rounded up, and a plan with it
			// pays at least this much.
			if c.Sub(c, l.Holds); c.Cmp(l.Rounds) > 0 {
				c = l.Rounds
			}
			v = new(big.Rat).Add(l.Shows, c)
		case v.Sign() > 0:
			v = new(big.Rat).Mul(l.Shows, c.Quo(c, l.Holds))
		}
		if least == nil || v.Cmp(least) < 0 {
			least = v
		}
	}
	if least == nil || least.Sign() <= 0 {
		return 0
	}
	// Costs are multiples of the greatest common divisor of all prices.
	unit := new(big.Int).GCD(nil, nil, big.NewInt(e.unit), big.NewInt(price))
	n := ceil(new(big.Rat).Quo(least, new(big.Rat).SetInt(unit)))
	if n.Mul(n, unit); !n.IsInt64() {
		return 0
	}
	return n.Int64()
}

func ceil(x *big.Rat) *big.Int {
	n := new(big.Int).Add(x.Num(), x.Denom())
	return n.Div(n.Sub(n, big.NewInt(1)), x.Denom())
}
