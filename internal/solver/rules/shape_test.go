package rules

import (
	"math/rand/v2"
	"testing"
)

// laid returns the size of items laid in the given order.
func laid(p *Problem, seq []Use) int64 {
	total := int64(0)
	for i, u := range seq {
		w := p.Items[u.Item].Orientations[u.Orient]
		total += w.Size
		if i > 0 {
			q := p.Items[seq[i-1].Item].Orientations[seq[i-1].Orient]
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
			p.Items = append(p.Items, Item{Demand: 9, Most: 9, Pieces: 1, Orientations: []Orientation{{20 + r.Int64N(9), r.IntN(n+1) - 1, r.IntN(n+1) - 1}}})
			u := Use{Item: i, N: 1 + r.Int64N(3)}
			count += int(u.N)
			uses = append(uses, u)
		}
		var flat []Use
		for _, u := range uses {
			for range u.N {
				flat = append(flat, Use{Item: u.Item, Orient: u.Orient, N: 1})
			}
		}
		if len(flat) > 7 {
			continue
		}
		best := int64(NoCost)
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
		c := &StockClass{Limit: 1 + r.Int64N(40), Bundle: 1 + r.Int64N(5), Minimum: 1 + r.Int64N(6)}
		from, price := int64(1), 20+r.Int64N(60)
		for range 1 + r.IntN(3) {
			c.Tiers = append(c.Tiers, Tier{from, price})
			from += 1 + r.Int64N(12)
			price = r.Int64N(price + 8)
		}
		raw := func(n int64) int64 {
			best := int64(NoCost)
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
			c.Settled = r.Int64N(c.Limit + 1)
			if raw(c.Settled) == NoCost {
				c.Settled = 0
			}
		}
		naive := func(n int64) int64 {
			if n == 0 {
				return 0
			}
			if v := raw(c.Settled + n); v < NoCost {
				return v - raw(c.Settled)
			}
			return NoCost
		}
		for n := range c.Limit - c.Settled + 1 {
			if _, got := c.Extra(n); got != naive(n) {
				t.Fatalf("buy(%d) = %d, want %d: %+v", n, got, naive(n), c)
			}
		}
		lo := r.Int64N(c.Limit - c.Settled + 1)
		hi := lo + r.Int64N(c.Limit-c.Settled-lo+1)
		weight, each := r.Int64N(5), -r.Int64N(300)
		best := int64(NoCost)
		for n := lo; n <= hi; n++ {
			if v := naive(n); v < NoCost {
				best = min(best, weight*v+each*n)
			}
		}
		got, where := c.Least(lo, hi, weight, each)
		if where < 0 != (best == NoCost) {
			t.Fatalf("least found %d, best %d: %+v [%d,%d]", where, best, c, lo, hi)
		}
		if v, _ := got.Int64(); where >= 0 && v != best {
			t.Fatalf("least %d, want %d: %+v [%d,%d] weight %d each %d", v, best, c, lo, hi, weight, each)
		}
		if base, e, ok := c.Affine(lo, hi); ok {
			for n := lo; n <= hi; n++ {
				if naive(n) != base+e*n {
					t.Fatalf("affine returns %d+%d*%d, cost %d: %+v [%d,%d]", base, e, n, naive(n), c, lo, hi)
				}
			}
		}
	}
}

// The largest available number of sticks against every count, including prices that sum to more than
// any cost.
func TestAvailableAgainstEveryCount(t *testing.T) {
	r := rand.New(rand.NewPCG(29, 4))
	none, short := 0, 0
	for range 4000 {
		c := &StockClass{Limit: 1 + r.Int64N(40), Bundle: 1 + r.Int64N(5), Minimum: 1 + r.Int64N(6)}
		from := int64(1)
		for range 1 + r.IntN(3) {
			price := r.Int64N(60)
			if r.IntN(3) == 0 {
				price = NoCost/(1+r.Int64N(40)) + r.Int64N(3) - 1
			}
			c.Tiers = append(c.Tiers, Tier{from, price})
			from += 1 + r.Int64N(12)
		}
		if r.IntN(3) == 0 {
			c.Settled = r.Int64N(c.Limit + 1)
		}
		hi := r.Int64N(c.Limit + 5)
		want := int64(0)
		for n := range hi + 1 {
			if _, v := c.Buy(c.Settled + n); v < NoCost {
				want = n
			}
		}
		if got := c.Available(hi); got != want {
			t.Fatalf("%d of %d available, want %d: %+v", got, hi, want, c)
		}
		if want == 0 {
			none++
		} else if want < hi {
			short++
		}
	}
	if none < 300 || short < 300 {
		t.Errorf("%d with none, %d with fewer than requested: too few", none, short)
	}
	// A supply that no plan can use must not be counted down one by one.
	c := &StockClass{Limit: 1 << 50, Bundle: 1, Minimum: 1, Tiers: []Tier{{1, 1 << 26}}}
	if got, want := c.Available(c.Limit), int64((NoCost-1)>>26); got != want {
		t.Errorf("%d available, want %d", got, want)
	}
}

// The longest offcut that a yard cut can leave against every subset, laid out on a line: cut as early
// as possible, each part held or not.
func TestHalvesAgainstEverySubset(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 17))
	found, barred := 0, 0
	for range 6000 {
		kerf := r.Int64N(3)
		p := &Problem{}
		f := Pattern{}
		type piece struct {
			size int64 // without kerf
			long bool
			even bool // square at both ends
			use  int
		}
		var flat []piece
		total := int64(0)
		hold := r.Int64N(2) * (3 + r.Int64N(15))
		for i := range 1 + r.IntN(4) {
			size := 1 + r.Int64N(20)
			p.Items = append(p.Items, Item{Pieces: 1, Long: size >= hold, Uncut: r.IntN(3) > 0, Orientations: []Orientation{{Size: size + kerf, Left: Square, Right: Square}}})
			u := Use{Item: i, N: 1 + r.Int64N(2)}
			f.Uses = append(f.Uses, u)
			for range u.N {
				flat = append(flat, piece{size, size >= hold, p.Items[i].Uncut, i})
				total += size + kerf
			}
		}
		start, end := r.Int64N(3), r.Int64N(3) // that cannot be used
		length := start + end + total + r.Int64N(20) - 4
		carried := start + 1 + r.Int64N(total+4)
		if length < start+end+1 || carried <= end {
			continue
		}
		p.Kinds = []PatternRules{{Hold: hold, Kerf: kerf, Part: [2]int64{carried - start + kerf, carried - end + kerf}, Trim: [2]bool{start > 0, end > 0}}}
		p.Bins = []Bin{{Cap: length - start - end + kerf}}
		best := int64(-1)
		for set := range 1 << len(flat) {
			var used [2]int64 // with a kerf between
			var count [2]int
			var long [2]bool
			even := [2]bool{true, true}
			for i, x := range flat {
				at := 1 - set>>i&1
				if count[at]++; count[at] > 1 {
					used[at] += kerf
				}
				used[at] += x.size
				long[at] = long[at] || x.long
				even[at] = even[at] && x.even
			}
			cut := length - kerf - carried // where it lies within the start's trim, or only skims the stick, that is no loss
			if count[0] > 0 {
				cut = max(cut, start+used[0])
			}
			from := max(cut+kerf, start)
			if cut > carried || start+used[0] > length-end || count[1] > 0 && from+used[1] > length-end {
				continue
			}
			residual := [2]int64{cut - start, length - end - from}
			whole := [2]bool{start == 0, end == 0 && from == cut+kerf}
			ok, longest := true, int64(0)
			for at := range 2 {
				left := max(0, residual[at])
				if count[at] > 0 {
					left = max(0, residual[at]-used[at]-kerf)
					ok = ok && (hold == 0 || long[at] || left >= hold || count[at] == 1 && used[at] == residual[at] && whole[at] && even[at])
				}
				longest = max(longest, left)
			}
			if !ok {
				barred++
				continue
			}
			best = max(best, longest)
		}
		first, got, ok := p.halves(&f)
		if ok != (best >= 0) || ok && got != best {
			t.Fatalf("halves leave %d %v, want %d: %+v", got, ok, best, p)
		}
		if x, fits := p.Fill(&f); fits != ok || ok && x.Offcut != best {
			t.Fatalf("Fill leaves %+v %v, want %d: %+v", x, fits, best, p)
		}
		if ok {
			found++
			one, two := int64(0), int64(0)
			for i, u := range f.Uses {
				one += first[i] * p.Items[u.Item].Orientations[0].Size
				two += (u.N - first[i]) * p.Items[u.Item].Orientations[0].Size
			}
			if left, _, fits := p.Kinds[0].yard(p.Bins[0].Cap, one, two); !fits || max(left[0], left[1]) != best {
				t.Fatalf("halves %v leave %v %v, want %d: %+v", first, left, fits, best, p)
			}
		}
	}
	if found < 1000 || barred < 1000 {
		t.Errorf("%d could be divided, %d parts could not be held", found, barred)
	}
}
