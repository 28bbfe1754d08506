package optimize

import "fmt"

// maxPeeled limits the length of a stick in units that divide it and all sizes of pieces, since
// sums of sizes are listed one by one.
const maxPeeled = 1 << 22

// peel verifies that the forced sticks of a proof are in some plan that costs less than LeafBound, if there
// is one, and subtracts their pieces from the quantities. It returns the exhibit for the rest and the cost of
// these sticks. The result is not known if that takes too many steps.
//
// A plan of that cost has a greatest number of sticks, which together leave the slack. Pieces a, b and c fill
// a stick. Let R be the rest of a stick beside a. If no set of the other pieces has a size from R less the
// slack up to R, then the stick of a holds b or c, say b. The rest of that stick is no longer than c and can
// change places with it. If two pieces fill a stick, the pieces beside one of them can change places with the
// other.
func (e *evidence) peel(pr *exhibit) (rest *exhibit, cost int64, known bool, err error) {
	in, ok := e.itemized()
	if !ok {
		return nil, 0, false, nil
	}
	if len(in.size) != pr.beyond.Items {
		return nil, 0, false, wrong("proof.items", pr.beyond.Items, fmt.Sprintf("%d, the number of lengths of pieces", len(in.size)))
	}
	forced := pr.beyond.Forced
	if len(forced) == 0 {
		return pr, 0, true, nil
	}
	if len(e.class) != 1 || e.class[0].cost == 0 {
		return nil, 0, false, wrong("proof.forced", fmt.Sprintf("%d sticks", len(forced)), "none, unless there is one class of sticks, at a price")
	}
	room := e.class[0].room
	unit := room
	for _, v := range in.size {
		unit = commonDivisor(unit, v)
	}
	if room/unit > maxPeeled {
		return nil, 0, false, nil
	}
	sticks := (pr.leafBound - 1) / e.class[0].cost // in a plan below the claim
	if pr.leafBound <= 0 || int64(len(forced)) > sticks {
		return nil, 0, false, wrong("proof.forced", fmt.Sprintf("%d sticks", len(forced)), fmt.Sprintf("at most %d, which cost less than the leaves show", max(sticks, 0)))
	}
	sum := mul(room, sticks)
	for i, n := range in.count {
		sum = sum.add(mul(in.size[i], n).negative())
	}
	slack, ok := sum.int64()
	if !ok || slack < 0 {
		return nil, 0, false, wrong("proof.forced", fmt.Sprintf("%d sticks", len(forced)), "none where the pieces are longer together than the sticks that cost less")
	}
	for k, f := range forced {
		if !in.takeOff(f) {
			return nil, 0, false, wrong(fmt.Sprintf("proof.forced[%d]", k), "more pieces than are left, or pieces that do not fill a stick", "two or three that fill it")
		}
		if f[2] >= 0 {
			alone, known := in.alone(f, unit, slack)
			if !known {
				return nil, 0, false, nil
			}
			if !alone {
				return nil, 0, false, wrong(fmt.Sprintf("proof.forced[%d]", k), "pieces that others can replace", "the only ones that fill the stick of the first")
			}
		}
	}
	e.leave(in)
	n, pieces := int64(len(forced)), int64(0)
	for _, c := range in.count {
		pieces += min(c, maxValue-pieces)
	}
	e.class[0].limit = max(0, min(e.class[0].limit-n, pieces))
	left := *pr
	cost = n * e.class[0].cost
	left.leafBound -= cost
	return &left, cost, true, nil
}

// takeOff subtracts the pieces of a forced stick from the quantities, if they fill a stick.
func (e *evidence) takeOff(f [3]int) bool {
	left := e.class[0].room
	for _, i := range f {
		if i < 0 {
			continue
		}
		if e.count[i] == 0 {
			return false
		}
		e.count[i]--
		left -= e.size[i]
	}
	return left == 0
}

// alone reports whether no set of the remaining pieces has a size from R less the slack up to R, the rest of
// a stick beside the first piece of f. The unit divides all sizes.
func (e *evidence) alone(f [3]int, unit, slack int64) (alone, known bool) {
	left := (e.class[0].room - e.size[f[0]]) / unit
	sums := make([]uint64, left/64+1) // bit v: some pieces have the total size v
	sums[0] = 1
	for i, n := range e.count {
		size := e.size[i] / unit
		n = min(n, left/size)
		for k := int64(1); n > 0; k *= 2 { // with up to k-1 of them known, up to 2k-1 are one shift away
			k = min(k, n)
			n -= k
			if !e.steps.spend(left/128 + 8) {
				return false, false
			}
			shiftInto(sums, k*size)
		}
	}
	for v := left; v >= max(0, left-slack/unit); v-- {
		if sums[v/64]>>(v%64)&1 != 0 {
			return false, true
		}
	}
	return left-slack/unit > 0, true
}

// shiftInto adds to a set of numbers the same numbers plus by. Numbers beyond the last word are
// dropped.
func shiftInto(set []uint64, by int64) {
	words, bits := int(by/64), uint(by%64)
	for k := len(set) - 1; k >= words; k-- {
		v := set[k-words] << bits
		if bits > 0 && k > words {
			v |= set[k-words-1] >> (64 - bits)
		}
		set[k] |= v
	}
}

// leave reduces the quantities of pieces to those of items, beginning with the first pieces.
func (e *evidence) leave(items *evidence) {
	order := bySize(e.size)
	for from, i := 0, 0; from < len(order); i++ {
		to, taken := from, -items.count[i]
		for ; to < len(order) && e.size[order[to]] == e.size[order[from]]; to++ {
			taken += e.count[order[to]]
		}
		for ; from < to; from++ {
			n := min(taken, e.count[order[from]])
			e.count[order[from]] -= n
			taken -= n
		}
	}
}
