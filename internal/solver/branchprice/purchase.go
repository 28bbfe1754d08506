package branchprice

import (
	"math"
	"slices"

	"example.com/longpoint/internal/solver/wide"
)

// noCost is above the cost of anything.
const noCost = math.MaxInt64 / 4

// buy returns the cheapest number of sticks to buy of the class for n to be cut
// besides those that are settled, and what they cost on top; noCost where they
// cannot be had.
func (c *StockClass) buy(n int64) (count, cost int64) {
	if c.Settled == 0 {
		return c.all(n)
	}
	_, before := c.all(c.Settled)
	if count, cost = c.all(c.Settled + n); cost < noCost {
		cost -= before
	}
	return count, cost
}

// Buy returns the cheapest number of sticks to buy of the class for n to be used, and
// what they cost.
func (c *StockClass) Buy(n int64) (count, cost int64) { return c.all(n) }

// all is buy with nothing settled.
func (c *StockClass) all(n int64) (count, cost int64) {
	if n <= 0 {
		return 0, 0
	}
	cost = noCost
	for t, tier := range c.Tiers {
		y := max(n, tier.From, c.Minimum)
		y += (c.Bundle - y%c.Bundle) % c.Bundle
		if y > c.Limit || t+1 < len(c.Tiers) && y >= c.Tiers[t+1].From {
			continue
		}
		if tier.Price > 0 && y > noCost/tier.Price {
			continue
		}
		if v := y * tier.Price; v < cost {
			count, cost = y, v
		}
	}
	return count, cost
}

// breakpoints returns, in increasing order, counts from lo to hi between which the cost is
// linear, or a staircase whose steps all have one width and height.
func (c *StockClass) breakpoints(lo, hi int64) []int64 {
	var at []int64
	add := func(n int64) {
		if n -= c.Settled; n >= lo && n <= hi {
			at = append(at, n)
		}
	}
	// A cost changes its law where a tier begins to be worth its while or where it
	// may begin.
	around := func(n int64) {
		down := n - n%c.Bundle
		for _, x := range [...]int64{down - c.Bundle, down - 1, down, down + 1, down + c.Bundle, n - 1, n, n + 1} {
			add(x)
		}
	}
	add(c.Settled + lo)
	add(c.Settled + hi)
	around(c.Settled + lo)
	around(c.Settled + hi)
	if lo == 0 {
		add(c.Settled + 1)
	}
	around(c.Minimum)
	around(c.Limit)
	for t, tier := range c.Tiers {
		around(tier.From)
		if t == 0 {
			continue
		}
		// From where on buying tier.From is no dearer than fewer at a price before.
		up := max(tier.From, c.Minimum)
		up += (c.Bundle - up%c.Bundle) % c.Bundle
		for _, before := range c.Tiers[:t] {
			if before.Price > 0 && up <= noCost/max(tier.Price, 1) {
				around(up * tier.Price / before.Price)
				around(up*tier.Price/before.Price + 1)
			}
		}
	}
	slices.Sort(at)
	return slices.Compact(at)
}

// least returns the minimum over lo <= n <= hi of weight*cost(n) + n*each, and where
// it is taken first. each is at most zero.
func (c *StockClass) least(lo, hi, weight, each int64) (wide.Int, int64) {
	var best wide.Int
	where := int64(-1)
	for _, n := range c.breakpoints(lo, hi) {
		_, cost := c.buy(n)
		if cost == noCost {
			continue
		}
		var v wide.Int
		v.AddMul(weight, cost)
		v.AddMul(each, n)
		if where < 0 || v.Cmp(best) < 0 {
			best, where = v, n
		}
	}
	return best, where
}

// affine reports whether the cost is a constant and a price per stick from lo to
// hi, and which.
func (c *StockClass) affine(lo, hi int64) (base, each int64, ok bool) {
	_, a := c.buy(lo)
	if lo == hi {
		return a, 0, a < noCost
	}
	_, b := c.buy(lo + 1)
	if a == noCost || b == noCost {
		return 0, 0, false
	}
	each = b - a
	for _, n := range c.breakpoints(lo, hi) {
		_, v := c.buy(n)
		if v == noCost || v-a != each*(n-lo) {
			return 0, 0, false
		}
	}
	return a - each*lo, each, true
}

// affinePart returns the least and the greatest count between which the cost is a constant
// and a price per stick, at lo <= n <= hi; of the two, first the greatest.
func (c *StockClass) affinePart(lo, n, hi int64) (from, to int64) {
	to = n + furthest(hi-n, func(d int64) bool { _, _, ok := c.affine(n, n+d); return ok })
	from = n - furthest(n-lo, func(d int64) bool { _, _, ok := c.affine(n-d, to); return ok })
	return from, to
}

// furthest returns the greatest d up to most that is right, where all before it are; zero is.
func furthest(most int64, right func(d int64) bool) int64 {
	good, step := int64(0), int64(1)
	for good < most {
		d := good + min(step, most-good)
		if right(d) {
			good = d
			step *= 2
			continue
		}
		if d == good+1 {
			break
		}
		step = max(1, (d-good)/2)
		most = d - 1
	}
	return good
}
