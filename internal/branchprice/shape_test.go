package branchprice

import (
	"math/rand/v2"
	"testing"
)

// laid returns the size of items laid in the given order.
func laid(p *Problem, seq []Use) int64 {
	total := int64(0)
	for i, u := range seq {
		w := p.Items[u.Item].Ways[u.Way]
		total += w.Size
		if i > 0 {
			q := p.Items[seq[i-1].Item].Ways[seq[i-1].Way]
			if q.Right >= 0 && q.Right == w.Left {
				total -= p.Setbacks[w.Left]
			}
		}
	}
	return total
}

// The formula of size against every order of up to seven items, and Order against
// the formula.
func TestSizeIsThatOfTheBestOrder(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 7))
	for range 3000 {
		n := 1 + r.IntN(4)
		p := &Problem{}
		for range n {
			p.Setbacks = append(p.Setbacks, 1+r.Int64N(9))
		}
		var uses []Use
		count := 0
		for i := 0; count < 6 && i < 4; i++ {
			p.Items = append(p.Items, Item{Demand: 9, Most: 9, Pieces: 1, Ways: []Way{{20 + r.Int64N(9), r.IntN(n+1) - 1, r.IntN(n+1) - 1}}})
			u := Use{i, 0, 1 + r.Int64N(3)}
			count += int(u.N)
			uses = append(uses, u)
		}
		var flat []Use
		for _, u := range uses {
			for range u.N {
				flat = append(flat, Use{u.Item, u.Way, 1})
			}
		}
		if len(flat) > 7 {
			continue
		}
		best := int64(noCost)
		var permute func(k int)
		permute = func(k int) {
			if k == len(flat) {
				best = min(best, laid(p, flat))
				return
			}
			for i := k; i < len(flat); i++ {
				flat[k], flat[i] = flat[i], flat[k]
				permute(k + 1)
				flat[k], flat[i] = flat[i], flat[k]
			}
		}
		permute(0)
		if got := p.size(uses); got != best {
			t.Fatalf("size %d, the best order takes %d: %+v %+v", got, best, p, uses)
		}
		if got := laid(p, p.Order(uses)); got != best || len(p.Order(uses)) != len(flat) {
			t.Fatalf("Order takes %d, the best %d: %+v %+v", got, best, p, uses)
		}
	}
}

// The least cost over a range, and the straight pieces, against every count.
func TestPurchaseAgainstEveryCount(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 3))
	for range 4000 {
		c := &Class{Limit: 1 + r.Int64N(40), Bundle: 1 + r.Int64N(5), Minimum: 1 + r.Int64N(6)}
		from, price := int64(1), 20+r.Int64N(60)
		for range 1 + r.IntN(3) {
			c.Tiers = append(c.Tiers, Tier{from, price})
			from += 1 + r.Int64N(12)
			price = r.Int64N(price + 8)
		}
		raw := func(n int64) int64 {
			best := int64(noCost)
			for y := n; y <= c.Limit; y++ {
				if y > 0 && (y < c.Minimum || y%c.Bundle != 0) {
					continue
				}
				v := int64(0)
				for _, t := range c.Tiers {
					if y >= t.From {
						v = y * t.Price
					}
				}
				best = min(best, v)
			}
			return best
		}
		if r.IntN(3) == 0 {
			c.Used = r.Int64N(c.Limit + 1)
			if raw(c.Used) == noCost {
				c.Used = 0
			}
		}
		naive := func(n int64) int64 {
			if n == 0 {
				return 0
			}
			if v := raw(c.Used + n); v < noCost {
				return v - raw(c.Used)
			}
			return noCost
		}
		for n := range c.Limit - c.Used + 1 {
			if _, got := c.buy(n); got != naive(n) {
				t.Fatalf("buy(%d) = %d, want %d: %+v", n, got, naive(n), c)
			}
		}
		lo := r.Int64N(c.Limit - c.Used + 1)
		hi := lo + r.Int64N(c.Limit-c.Used-lo+1)
		weight, each := r.Int64N(5), -r.Int64N(300)
		best := int64(noCost)
		for n := lo; n <= hi; n++ {
			if v := naive(n); v < noCost {
				best = min(best, weight*v+each*n)
			}
		}
		got, where := c.least(lo, hi, weight, each)
		if where < 0 != (best == noCost) {
			t.Fatalf("least found %d, best %d: %+v [%d,%d]", where, best, c, lo, hi)
		}
		if v, _ := got.Int64(); where >= 0 && v != best {
			t.Fatalf("least %d, want %d: %+v [%d,%d] weight %d each %d", v, best, c, lo, hi, weight, each)
		}
		if base, e, ok := c.affine(lo, hi); ok {
			for n := lo; n <= hi; n++ {
				if naive(n) != base+e*n {
					t.Fatalf("affine says %d+%d*%d, cost %d: %+v [%d,%d]", base, e, n, naive(n), c, lo, hi)
				}
			}
		}
	}
}

// The greatest part that a yard cut can leave against every subset.
func TestPartsAgainstEverySubset(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 17))
	found := 0
	for range 4000 {
		p := &Problem{}
		var uses []Use
		var flat []int64
		total := -r.Int64N(3) // what neighbors save
		for i := range 1 + r.IntN(4) {
			p.Items = append(p.Items, Item{Ways: []Way{{Size: 1 + r.Int64N(20)}}})
			u := Use{i, 0, 1 + r.Int64N(3)}
			uses = append(uses, u)
			for range u.N {
				flat = append(flat, p.Items[i].Ways[0].Size)
				total += p.Items[i].Ways[0].Size
			}
		}
		part := [2]int64{r.Int64N(total + 9), r.Int64N(total + 9)}
		best := int64(-1)
		for set := range 1 << len(flat) {
			x := int64(0)
			for i, s := range flat {
				if set>>i&1 == 1 {
					x += s
				}
			}
			if x <= part[0] && total-x <= part[1] {
				best = max(best, x)
			}
		}
		if best >= 0 {
			found++
		}
		if got, ok := p.parts(uses, total, part); got != best || ok != (best >= 0) {
			t.Fatalf("parts %d %v, want %d: %+v total %d part %v", got, ok, best, uses, total, part)
		}
	}
	if found < 1000 {
		t.Errorf("%d of 4000 could be parted", found)
	}
}
