package branchprice

import (
	"slices"

	"example.com/longpoint/internal/solver/sumset"
)

// reachable is the costs below a limit that plans in a box can have: sums of what so many
// sticks of each class cost, of charges, and of what patterns and assemblies cost. There may
// be more in it than any plan has. A nil one holds every cost.
type reachable struct {
	base, unit int64
	set        sumset.Set // k: base + k*unit
}

const (
	reachableBits  = 1 << 21
	reachableSteps = 20_000
)

// reachableCosts works out what plans in the box below the best plan's cost can cost; nil
// where that is too much work or the criterion is another.
func (r *solver) reachableCosts(b box) *reachable {
	if r.objective.main != Price || r.cost >= noCost {
		return nil
	}
	p := r.p
	x := &reachable{}
	var ladders [][]int64 // each plan's cost has one of each on top of the base
	var loose []int64     // and any number of these
	total := int64(0)
	for c := range p.Classes {
		hi := b.hi[c]
		if g := r.m.supplierOf[c]; g >= 0 && b.on[g] == no {
			hi = 0
		}
		lo := min(b.lo[c], hi)
		_, first := p.Classes[c].buy(lo)
		if total += hi - lo; total > reachableSteps || first == noCost {
			return nil
		}
		x.base += first
		ladder := []int64{0}
		for n := lo + 1; n <= hi; n++ {
			_, v := p.Classes[c].buy(n)
			if v -= first; v < noCost/2 && v != ladder[len(ladder)-1] {
				if v < 0 || v > r.cost {
					break
				}
				ladder = append(ladder, v)
			}
		}
		if len(ladder) > 1 {
			ladders = append(ladders, ladder)
		}
		if hi > 0 {
			for _, bin := range p.Classes[c].Bins {
				if v := p.Bins[bin].Own[Price]; v != 0 && !slices.Contains(loose, v) {
					loose = append(loose, v)
				}
			}
		}
	}
	for g := range p.Suppliers {
		switch v := p.Suppliers[g].Charge; {
		case b.on[g] == yes:
			x.base += v
		case b.on[g] == open && v > 0:
			ladders = append(ladders, []int64{0, v})
		}
	}
	for k := range p.Runs {
		for _, a := range p.Runs[k].Arcs {
			if a.Cost != 0 && !slices.Contains(loose, a.Cost) {
				loose = append(loose, a.Cost)
			}
		}
	}
	for _, v := range loose {
		if v < 0 {
			return nil
		}
		x.unit = sumset.Divisor(x.unit, v)
	}
	for _, l := range ladders {
		for _, v := range l {
			x.unit = sumset.Divisor(x.unit, v)
		}
	}
	x.unit = max(x.unit, 1)
	residual := (r.cost-1-x.base)/x.unit + 1
	if residual > reachableBits {
		return nil
	}
	if r.cost <= x.base {
		return x
	}
	x.set = sumset.New(residual)
	work := int64(0)
	// multiples adds up to most times v to each.
	multiples := func(set sumset.Set, v, most int64) {
		for k := int64(1); most > 0; k *= 2 {
			if k = min(k, most); v >= residual || k*v >= residual {
				break
			}
			most -= k
			set.Shift(set, k*v)
			work += int64(len(set))
		}
	}
	for _, v := range loose {
		multiples(x.set, v/x.unit, residual)
	}
	var sum, part sumset.Set
	for _, l := range ladders {
		// Stretches of even steps.
		sum = append(sum[:0], x.set...)
		for i := 0; i+1 < len(l); {
			step := l[i+1] - l[i]
			j := i + 1
			for j+1 < len(l) && l[j+1]-l[j] == step {
				j++
			}
			part = append(part[:0], x.set...)
			clear(part)
			part.Shift(x.set, l[i]/x.unit)
			multiples(part, step/x.unit, int64(j-i))
			for k := range sum {
				sum[k] |= part[k]
			}
			work += int64(3 * len(sum))
			i = j
		}
		copy(x.set, sum)
	}
	r.mt.Spend(work/4 + total)
	return x
}

// roundUp returns the least cost of the reachable costs from v on, limit where there is none below.
func (x *reachable) roundUp(v, limit int64) int64 {
	if x == nil {
		return min(v, limit)
	}
	k := max(0, -((x.base - v) / x.unit)) // rounds toward zero
	for k > 0 && x.base+(k-1)*x.unit >= v {
		k--
	}
	for x.base+k*x.unit < v {
		k++
	}
	if k = x.set.Next(k); k < 0 {
		return limit
	}
	return min(x.base+k*x.unit, limit)
}

// cutoff returns the cutoff that a plan must stay below to be better than v: one more
// than the greatest cost of the reachable costs below v.
func (x *reachable) cutoff(v int64) int64 {
	if x == nil {
		return v
	}
	k := (v - x.base - 1) / x.unit
	if v <= x.base {
		return -offset
	}
	if k = x.set.Last(k); k < 0 {
		return -offset
	}
	return x.base + k*x.unit + 1
}
