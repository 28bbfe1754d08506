package rules

import (
	"math"
	"slices"

	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/wide"
)

// NoCost exceeds every cost.
const NoCost = math.MaxInt64 / 4

// Extra returns the cheapest number of sticks of the class to buy so that n can be cut besides
// the fixed ones, and their additional cost, which is NoCost if they are not available.
func (c *StockClass) Extra(n int64) (count, cost int64) {
	if c.Settled == 0 {
		return c.all(n)
	}
	_, before := c.all(c.Settled)
	if count, cost = c.all(c.Settled + n); cost < NoCost {
		cost -= before
	}
	return count, cost
}

// Buy returns the cheapest number of sticks of the class to buy so that n can be used, and
// their cost.
func (c *StockClass) Buy(n int64) (count, cost int64) { return c.all(n) }

// all is Extra without fixed sticks.
func (c *StockClass) all(n int64) (count, cost int64) {
	if n <= 0 {
		return 0, 0
	}
	cost = NoCost
	for t, tier := range c.Tiers {
		y := max(n, tier.From, c.Minimum)
		y += (c.Bundle - y%c.Bundle) % c.Bundle
		if y > c.Limit || t+1 < len(c.Tiers) && y >= c.Tiers[t+1].From {
			continue
		}
		if tier.Price > 0 && y > NoCost/tier.Price {
			continue
		}
		if v := y * tier.Price; v < cost {
			count, cost = y, v
		}
	}
	return count, cost
}

// Available returns the most sticks of the class that can be cut besides the fixed ones, up to hi:
// what is cut of more has no cost.
func (c *StockClass) Available(hi int64) int64 {
	most := int64(0)
	for t, tier := range c.Tiers {
		y := c.Limit
		if t+1 < len(c.Tiers) {
			y = min(y, c.Tiers[t+1].From-1)
		}
		if tier.Price > 0 {
			y = min(y, (NoCost-1)/tier.Price)
		}
		if y -= y % c.Bundle; y >= max(tier.From, c.Minimum) {
			most = max(most, y)
		}
	}
	return max(0, min(hi, most-c.Settled))
}

// Breakpoints returns, in increasing order, counts from lo to hi between which the cost is
// linear, or a staircase with steps of one width and height.
func (c *StockClass) Breakpoints(lo, hi int64) []int64 {
	var at []int64
	add := func(n int64) {
		if n -= c.Settled; n >= lo && n <= hi {
			at = append(at, n)
		}
	}
	// The slope of the cost changes where a tier becomes worthwhile and where it becomes
	// available.
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
		// From this count on, buying tier.From costs no more than fewer at an earlier price.
		up := max(tier.From, c.Minimum)
		up += (c.Bundle - up%c.Bundle) % c.Bundle
		for _, before := range c.Tiers[:t] {
			if before.Price > 0 && up <= NoCost/max(tier.Price, 1) {
				around(up * tier.Price / before.Price)
				around(up*tier.Price/before.Price + 1)
			}
		}
	}
	slices.Sort(at)
	return slices.Compact(at)
}

// Least returns the minimum over lo <= n <= hi of weight*cost(n) + n*each, and the first n that
// attains it. each is at most zero.
func (c *StockClass) Least(lo, hi, weight, each int64) (wide.Int, int64) {
	var best wide.Int
	where := int64(-1)
	for _, n := range c.Breakpoints(lo, hi) {
		_, cost := c.Extra(n)
		if cost == NoCost {
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

// Affine reports whether the cost is a constant plus a price per stick from lo to hi, and
// returns both.
func (c *StockClass) Affine(lo, hi int64) (base, each int64, ok bool) {
	_, a := c.Extra(lo)
	if lo == hi {
		return a, 0, a < NoCost
	}
	_, b := c.Extra(lo + 1)
	if a == NoCost || b == NoCost {
		return 0, 0, false
	}
	each = b - a
	for _, n := range c.Breakpoints(lo, hi) {
		_, v := c.Extra(n)
		if v == NoCost || v-a != each*(n-lo) {
			return 0, 0, false
		}
	}
	return a - each*lo, each, true
}

// AffinePart returns the bounds of an interval within lo..hi that contains n and in which the
// cost is a constant plus a price per stick. The upper bound is maximized first.
func (c *StockClass) AffinePart(lo, n, hi int64) (from, to int64) {
	to = n + Furthest(hi-n, func(d int64) bool { _, _, ok := c.Affine(n, n+d); return ok })
	from = n - Furthest(n-lo, func(d int64) bool { _, _, ok := c.Affine(n-d, to); return ok })
	return from, to
}

// Furthest returns the greatest d up to most for which right holds, if it holds for all smaller
// ones; it holds for zero.
func Furthest(most int64, right func(d int64) bool) int64 {
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

// Stretches returns the attainable costs of more sticks than lo, on top of the cost of lo, from
// none up to hi sticks or to the cost most, as stretches of even steps. It returns none if they
// cost nothing.
func (c *StockClass) Stretches(lo, hi, most int64) (out []bound.Stretch) {
	_, first := c.Extra(lo)
	costs := []int64{0}
	for n := lo + 1; n <= hi; n++ {
		_, v := c.Extra(n)
		if v -= first; v < NoCost/2 && v != costs[len(costs)-1] {
			if v < 0 || v > most {
				break
			}
			costs = append(costs, v)
		}
	}
	for i := 0; i+1 < len(costs); {
		s := bound.Stretch{From: costs[i], Step: costs[i+1] - costs[i], Count: 1}
		for i++; i+1 < len(costs) && costs[i+1]-costs[i] == s.Step; i++ {
			s.Count++
		}
		out = append(out, s)
	}
	return out
}
