package optimize

import (
	"cmp"
	"slices"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// billed is the purchase for some patterns, and its cost.
type billed struct {
	buy  []Purchase
	cost int64
}

// bill computes the cheapest purchase for the patterns of a problem, without splices: it fills
// bundles, meets minimums, uses price breaks and adds spare sticks. It returns false if that is
// impossible or overflows int64.
func bill(q *Problem, patterns []Pattern) (billed, bool) {
	var b billed
	byLength, price := costing(q)
	cut := make([]int, len(q.Sticks))
	for k := range patterns {
		cut[patterns[k].Stick] += patterns[k].Count
	}
	if !q.sells() {
		return billCut(cut, price)
	}
	c := &ruleCheck{p: q}
	count := make([]int, len(q.Sticks))
	cost := make([]int64, len(q.Sticks))
	for i := range q.Sticks {
		if cut[i] == 0 {
			continue
		}
		var ok bool
		if count[i], cost[i], ok = cheapest(q, i, cut[i], price[i], byLength); !ok {
			return b, false
		}
		if c.inYard(&q.Sticks[i]) {
			v, ok := mul(q.Rules.YardCut, int64(cut[i])).add(mul(cost[i], 1)).int64()
			if !ok {
				return b, false
			}
			cost[i] = v
		}
	}
	if !spared(q, cut, count, price, cost, byLength) {
		return b, false
	}
	b.buy = []Purchase{}
	var sum int128
	for i, n := range count {
		if n > 0 {
			b.buy = append(b.buy, Purchase{i, n, cost[i]})
			sum = sum.add(mul(cost[i], 1))
		}
	}
	for _, ch := range q.Rules.Charges {
		for i, n := range count {
			if n > 0 && q.Sticks[i].Supplier == ch.Supplier {
				sum = sum.add(mul(ch.Amount, 1))
				break
			}
		}
	}
	var ok bool
	b.cost, ok = sum.int64()
	return b, ok
}

// billCut buys each stick at its price, and as many as are cut.
func billCut(cut []int, price []int64) (b billed, ok bool) {
	var sum int128
	for i, n := range cut {
		cost, ok := mul(price[i], int64(n)).int64()
		if !ok {
			return b, false
		}
		if n > 0 {
			b.buy = append(b.buy, Purchase{i, n, cost})
		}
		sum = sum.add(mul(cost, 1))
	}
	b.cost, ok = sum.int64()
	return b, ok
}

// cheapest returns how many of a stick to buy if n are needed, and their cost: the smallest
// salable number, or more if a price break pays.
func cheapest(q *Problem, i, n int, price int64, byLength bool) (count int, cost int64, found bool) {
	s := &q.Sticks[i]
	froms := []int{n}
	if !byLength {
		for _, b := range s.Breaks {
			froms = append(froms, b.From)
		}
	}
	for _, from := range froms {
		c := max(n, from, s.Minimum)
		if s.Bundle > 1 && c%s.Bundle > 0 {
			c += s.Bundle - c%s.Bundle
		}
		if c < n || s.Limit > 0 && c > s.Limit {
			continue
		}
		each := price
		if !byLength {
			for _, b := range s.Breaks {
				if c >= b.From {
					each = b.Price
				}
			}
		}
		if v, ok := mul(each, int64(c)).int64(); ok && (!found || v < cost) {
			count, cost, found = c, v, true
		}
	}
	return count, cost, found
}

// spared adds the cheapest sticks until there are enough spares. If there are too many options,
// it takes those of the lowest price, whatever charges and bundles add.
func spared(q *Problem, cut, count []int, price, cost []int64, byLength bool) bool {
	missing := q.Rules.Spare
	if missing == 0 {
		return true
	}
	var longest measure.Length
	for i := range q.Pieces {
		longest = max(longest, q.Pieces[i].Length)
	}
	c := &ruleCheck{p: q}
	fits := func(i int) bool {
		s := &q.Sticks[i]
		return len(s.Defects) == 0 && !c.inYard(s) && usable(s) >= longest
	}
	var all []int
	for i := range q.Sticks {
		if fits(i) && q.Sticks[i].Limit != stock.SoldOut {
			all = append(all, i)
		}
	}
	if missing <= spareSteps/missing/max(1, len(all)) {
		return spareCheapest(q, all, cut, count, price, cost, byLength)
	}
	for i := range q.Sticks {
		if fits(i) {
			missing -= min(missing, count[i]-cut[i])
		}
	}
	slices.SortStableFunc(all, func(a, b int) int { return cmp.Compare(price[a], price[b]) })
	for _, i := range all {
		// The spares of one stick do not affect those of another. So the missing number of each
		// stick, or its supply, suffices if any purchase does.
		n := count[i] + missing
		if s := &q.Sticks[i]; s.Limit > 0 {
			n = min(n, s.Limit-s.Limit%max(1, s.Bundle))
		}
		if n <= count[i] {
			continue
		}
		if c, v, ok := cheapest(q, i, n, price[i], byLength); ok {
			missing -= min(missing, c-count[i])
			count[i], cost[i] = c, v
		}
	}
	return missing == 0
}
