package finish

import (
	"cmp"
	"math"
	"slices"

	"example.com/longpoint/internal/natural"
)

// size is a package size in small units, with its price.
type size struct {
	n, price int64
	at       int // index in the caller's slice
}

// The search for a mix ends after coverSteps nodes (a millisecond or two), or after
// moreSteps (a few tens of milliseconds) if residue cannot help.
const (
	coverSteps = 1 << 15
	moreSteps  = 1 << 20
)

// cover returns the number of packages of each size that cover need at the least
// cost, then with the fewest packages, then with the least left over: the
// unbounded covering knapsack, in integers. Sizes that others replace more
// cheaply are dropped, and the rest are divided by their greatest common divisor;
// two sizes have a direct answer. For more sizes, a branch and bound takes them
// in order of price per unit, compared by cross products, each from its largest
// useful count down; the remaining need is bounded below by the next best value.
// The first descent is within one package of the bound, so the rest of the search
// explores only mixes that cost less than one package more than the bound. If the
// sizes are so nearly equal in value that this takes long, the need or the best
// size may be small enough for everyAmount or residue, in memory that does not
// depend on the need. proven is false if none of these completed; ok is false if
// no mix can be represented.
func cover(need int64, all []size) (counts []int64, proven, ok bool) {
	counts = make([]int64, len(all))
	if need <= 0 {
		return counts, true, true
	}
	sizes := worthwhile(all)
	unit := sizes[0].n
	for _, z := range sizes {
		unit = gcd(unit, z.n)
	}
	need = ceilDiv(need, unit)
	for i := range sizes {
		sizes[i].n /= unit
	}
	slices.SortStableFunc(sizes, byValue)
	if len(sizes) == 2 {
		x, y, _, ok := twoSizes(need, sizes[0], sizes[1])
		counts[sizes[0].at], counts[sizes[1].at] = x, y
		return counts, true, ok
	}
	best, proven, ok := mixOf(need, sizes)
	for i, z := range sizes {
		counts[z.at] = best[i]
	}
	return counts, proven, ok
}

// worthwhile returns the sizes in the order of all, without those that some
// number of packages of another size replaces at less cost.
func worthwhile(all []size) []size {
	sizes := make([]size, 0, len(all))
	for i, z := range all {
		z.at = i
		worse := false
		for _, o := range all {
			cost, ok := natural.Mul(ceilDiv(z.n, o.n), o.price)
			worse = worse || ok && cost < z.price
		}
		if !worse {
			sizes = append(sizes, z)
		}
	}
	return sizes
}

// mixOf returns the counts of the sizes, which are in the order of byValue.
func mixOf(need int64, sizes []size) (counts []int64, proven, ok bool) {
	n := len(sizes)
	room := make([]int64, 3*n+1)
	s := search{sizes: sizes, steps: coverSteps, now: room[:n], best: room[n : 2*n], biggest: room[2*n:]}
	for i := n - 1; i >= 0; i-- {
		s.biggest[i] = max(s.biggest[i+1], sizes[i].n)
	}
	s.descend(0, mix{}, need)
	if s.steps > 0 {
		return s.best, true, s.found
	}
	if counts, _, ok := everyAmount(need, sizes); ok {
		return counts, true, true
	}
	if counts, _, ok := residue(need, sizes); ok {
		return counts, true, true
	}
	s.steps = moreSteps
	s.descend(0, mix{}, need)
	return s.best, s.steps > 0, s.found
}

// byValue orders sizes by price per unit, and equal ones with the bigger first.
func byValue(a, b size) int {
	if c := natural.CompareProducts(a.price, b.n, b.price, a.n); c != 0 {
		return c
	}
	return cmp.Compare(b.n, a.n)
}

// mix is the value of a choice, with its fields in the order of importance.
type mix struct{ cost, packages, left int64 }

func (m mix) less(o mix) bool {
	switch {
	case m.cost != o.cost:
		return m.cost < o.cost
	case m.packages != o.packages:
		return m.packages < o.packages
	}
	return m.left < o.left
}

type search struct {
	sizes     []size
	biggest   []int64 // of sizes[i:]
	now, best []int64
	value     mix // of best
	found     bool
	steps     int
}

// descend chooses the count of sizes[i] with rest still to cover.
func (s *search) descend(i int, m mix, rest int64) {
	z := s.sizes[i]
	most := ceilDiv(rest, z.n)
	defer func() { s.now[i] = 0 }()
	for n := most; n >= 0; n-- {
		if s.steps--; s.steps <= 0 {
			return
		}
		spent, ok1 := mulAdd(m.cost, n, z.price)
		packs, ok2 := natural.Add(m.packages, n)
		if !ok1 || !ok2 {
			if n == most {
				continue // one package less may still fit
			}
			return // the replacement of this size is no cheaper, so nothing fits
		}
		if n == most {
			// covered; the overshoot is less than one package
			s.now[i] = n
			s.offer(mix{spent, packs, overshoot(n, z.n, rest)})
			continue
		}
		if i == len(s.sizes)-1 {
			return // fewer of the last size cover nothing
		}
		r := rest - n*z.n // n < most, so n*z.n < rest
		next := s.sizes[i+1]
		bound := mix{}
		var ok bool
		if bound.cost, ok = boundCost(spent, r, next); !ok {
			return // even more expensive with fewer of this size
		}
		if bound.packages, ok = natural.Add(packs, ceilDiv(r, s.biggest[i+1])); !ok {
			continue
		}
		if s.found && !bound.less(s.value) {
			// Fewer of this size raise the cost bound or keep it, since sizes
			// are in order of value. The same holds for the package bound only
			// if this is the biggest remaining size.
			if bound.cost > s.value.cost || z.n >= s.biggest[i+1] {
				return
			}
			continue
		}
		s.now[i] = n
		s.descend(i+1, mix{cost: spent, packages: packs}, r)
	}
}

// offer keeps the current choice if it is better than the best so far.
func (s *search) offer(m mix) {
	if s.found && !m.less(s.value) {
		return
	}
	s.found, s.value = true, m
	copy(s.best, s.now)
}

// boundCost returns spent + ceil(r * z.price / z.n), the least cost of covering
// r with sizes of the value of z or worse.
func boundCost(spent, r int64, z size) (int64, bool) {
	c, ok := natural.Quotient(natural.Up, []int64{r, z.price}, []int64{z.n})
	if !ok {
		return 0, false
	}
	return natural.Add(spent, c)
}

func mulAdd(a, b, c int64) (int64, bool) {
	p, ok := natural.Mul(b, c)
	if !ok {
		return 0, false
	}
	return natural.Add(a, p)
}

// overshoot returns n*z - rest, which is in [0, z) though n*z may leave int64.
func overshoot(n, z, rest int64) int64 {
	return int64(uint64(n)*uint64(z) - uint64(rest))
}

func ceilDiv(a, b int64) int64 {
	q := a / b
	if a%b > 0 && q < math.MaxInt64 {
		q++
	}
	return q
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
