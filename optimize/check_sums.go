package optimize

import (
	"math/big"
	"slices"
)

// outlay is the set of costs of plans in a box: base, plus zero to most times the step of each
// series, plus one of each list of choices. It may contain sums that no plan costs.
type outlay struct {
	base    int128
	series  []series
	choices [][]int64 // each ascending, from zero

	listed struct { // the last result of list, and its count
		set   *big.Int
		count uint
	}
}

type series struct{ step, most int64 } // neither below zero

// maxSums limits the sums that next lists. Beyond it every multiple of the greatest common
// divisor of all steps, added to the base, counts as a sum.
const maxSums = 1 << 21

// next returns the least sum that is at least v, or limit if there is none below it; if v is at
// least limit, it returns v. It returns false, with a lower bound, if that takes too many steps.
func (o *outlay) next(v, limit int64, steps *effort) (int64, bool) {
	if v >= limit {
		return v, true
	}
	base, ok := o.base.int64()
	switch {
	case o.base.over || o.base.sign() < 0:
		return v, false
	case !ok || base >= limit:
		return limit, true
	}
	unit := o.unit()
	if unit == 0 { // one sum
		if v <= base {
			return base, true
		}
		return limit, true
	}
	count := (limit-1-base)/unit + 1 // multiples below the limit
	first := int64(0)                // of those from v on
	if v > base {
		first = (v-base-1)/unit + 1
	}
	if first >= count {
		return limit, true
	}
	if count > maxSums {
		return base + first*unit, true
	}
	set, ok := o.listOf(unit, uint(count), steps)
	if !ok {
		return base + first*unit, false
	}
	rest := new(big.Int).Rsh(set, uint(first))
	if rest.Sign() == 0 {
		return limit, true
	}
	return base + (first+int64(rest.TrailingZeroBits()))*unit, true
}

// last returns the greatest sum below limit; some is false if there is none. If that takes too many steps,
// the sum is an upper bound and not known.
func (o *outlay) last(limit int64, steps *effort) (sum int64, some, known bool) {
	base, ok := o.base.int64()
	switch {
	case o.base.over || o.base.sign() < 0:
		return limit - 1, true, false
	case !ok || base >= limit:
		return 0, false, true
	}
	unit := o.unit()
	if unit == 0 {
		return base, true, true
	}
	count := (limit-1-base)/unit + 1
	if count > maxSums {
		return base + (count-1)*unit, true, true
	}
	set, ok := o.listOf(unit, uint(count), steps)
	if !ok {
		return base + (count-1)*unit, true, false
	}
	return base + int64(set.BitLen()-1)*unit, true, true
}

// unit returns the greatest common divisor of all steps, or 0 if the base is the only sum.
func (o *outlay) unit() (unit int64) {
	for _, s := range o.series {
		if s.most > 0 {
			unit = commonDivisor(unit, s.step)
		}
	}
	for _, c := range o.choices {
		for _, x := range c {
			unit = commonDivisor(unit, x)
		}
	}
	return unit
}

// listOf is list with a memory of the last result.
func (o *outlay) listOf(unit int64, count uint, steps *effort) (*big.Int, bool) {
	if o.listed.set == nil || o.listed.count != count {
		set, ok := o.list(unit, count, steps)
		if !ok {
			return nil, false
		}
		o.listed.set, o.listed.count = set, count
	}
	return o.listed.set, true
}

// list returns the set of multiples of unit, fewer than count, that are sums above the base, as
// the bits of a number.
func (o *outlay) list(unit int64, count uint, steps *effort) (*big.Int, bool) {
	full := new(big.Int).Lsh(big.NewInt(1), count)
	full.Sub(full, big.NewInt(1))
	raised := func(set *big.Int, by int64) *big.Int {
		up := new(big.Int).Lsh(set, uint(by))
		return up.And(up, full)
	}
	spend := func() bool { return steps.spend(int64(count/32) + 16) }
	set := big.NewInt(1)
	for _, s := range o.series {
		if s.step == 0 || s.most == 0 || s.step/unit >= int64(count) {
			continue
		}
		step := s.step / unit
		// One shift extends up to n of them to up to 2n.
		left := min(s.most, (int64(count)-1)/step)
		for n := int64(1); left > 0; n *= 2 {
			n = min(n, left)
			left -= n
			if !spend() {
				return nil, false
			}
			set.Or(set, raised(set, n*step))
		}
	}
	for _, c := range o.choices {
		sum := new(big.Int)
		for _, x := range c {
			if x/unit >= int64(count) {
				break
			}
			if !spend() {
				return nil, false
			}
			sum.Or(sum, raised(set, x/unit))
		}
		set = sum
	}
	return set, true
}

func commonDivisor(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// outlay returns the costs of the counts in a leaf's box, in units.
func (e *evidence) outlay(l *leaf, unit int64) *outlay {
	if m := e.lastBox; m.sums != nil && m.unit == unit && slices.Equal(m.lo, l.Lo) && slices.Equal(m.hi, l.Hi) {
		return m.sums // they depend on the box only, not on the values
	}
	o := &outlay{}
	for c := range e.class {
		cost := e.class[c].cost / unit
		o.base = o.base.add(mul(cost, l.Lo[c]))
		o.series = append(o.series, series{cost, l.Hi[c] - l.Lo[c]})
	}
	*e.lastBox = boxSums{slices.Clone(l.Lo), slices.Clone(l.Hi), unit, o}
	return o
}

// boxSums has the sums of a box.
type boxSums struct {
	lo, hi []int64
	unit   int64
	sums   *outlay
}

// maxCounts limits the range of counts of a class whose price is not proportional to the count.
const maxCounts = 1 << 10

// outlay returns the costs of the plans in a leaf's box that buy their sticks at the least cost, or
// nil if they cannot be listed.
func (e *ruleEvidence) outlay(l *leaf) *outlay {
	p := e.p
	o := &outlay{}
	some := func(step int64) { o.series = append(o.series, series{step, 1 << 62}) }
	for c := range e.class {
		cl := &e.class[c]
		lo, hi := e.counts(l, c)
		if hi > 0 && cl.yard {
			some(p.Rules.YardCut) // for some of them
		}
		s := cl.stick
		if s.Bundle <= 1 && s.Minimum <= 1 && len(s.Breaks) == 0 {
			o.base = o.base.add(mul(cl.price, lo))
			o.series = append(o.series, series{cl.price, hi - lo})
			continue
		}
		if hi-lo > maxCounts || !e.steps.spend(4*(hi-lo+1)) {
			return nil
		}
		var all []int64
		for n := lo; n <= hi; n++ {
			if v := e.buy(cl, n); v >= 0 {
				all = append(all, v)
			}
		}
		if len(all) == 0 {
			return nil
		}
		slices.Sort(all)
		all = slices.Compact(all)
		least := all[0]
		o.base = o.base.add(mul(least, 1))
		for k := range all {
			all[k] -= least
		}
		o.choices = append(o.choices, all)
	}
	for g, ch := range p.Rules.Charges {
		switch {
		case l.Used[g] > 0:
			o.base = o.base.add(mul(ch.Amount, 1))
		case l.Used[g] == 0:
			o.choices = append(o.choices, []int64{0, ch.Amount})
		}
	}
	for r := range p.Runs {
		some(p.Runs[r].Splice.Price)
	}
	return o
}
