package whatif

import (
	"context"
	"math/big"

	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/internal/bridge"
	"example.com/longpoint/optimize/internal/price"
	"example.com/longpoint/stock"
)

// entrant is a stick that is not on the list, as the leaves of a proof see it.
type entrant struct {
	money  bool
	length int64 // what the stick counts where nothing has a price
	leaves []bridge.Leaf
	unit   int64
}

// entering returns what a proof says about a stick, nil where it says nothing.
func entering(ctx context.Context, p *optimize.Problem, plan *optimize.Plan, s *stock.Stick) *entrant {
	leaves, unit, ok := bridge.Enter(ctx, p, plan, s)
	if !ok {
		return nil
	}
	return &entrant{money: !price.ByLength(p), length: int64(s.Length), leaves: leaves, unit: unit}
}

// breakEven returns the least price that leaves every leaf's sum as it is.
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

// least returns what every plan costs at least with the stick at a price.
func (e *entrant) least(price int64) int64 {
	if !e.money {
		price = e.length
	}
	var least *big.Rat
	for _, l := range e.leaves {
		v := l.Shows
		switch c := new(big.Rat).SetInt64(price); {
		case c.Cmp(l.Holds) >= 0:
			// A plan without the stick is rounded up, one with it pays at least so much.
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
	// Costs are multiples of what divides every price.
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
