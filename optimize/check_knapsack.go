package optimize

import (
	"cmp"
	"math"
	"math/bits"
	"slices"
)

// lot is a number of pieces of one size and one value.
type lot struct{ size, value, count int64 }

// bag returns the pieces of positive value as lots, the most valuable for their size first.
func (e *evidence) bag(values []int64) []lot {
	bag := make([]lot, 0, len(values))
	for i, v := range values {
		if v > 0 {
			bag = append(bag, lot{e.size[i], v, e.count[i]})
		}
	}
	slices.SortFunc(bag, func(a, b lot) int {
		return cmp.Or(cmpProducts(b.value, a.size, a.value, b.size), cmp.Compare(a.size, b.size))
	})
	out := bag[:0]
	for _, l := range bag {
		if k := len(out) - 1; k >= 0 && out[k].size == l.size && out[k].value == l.value {
			out[k].count += min(l.count, math.MaxInt64-out[k].count)
		} else {
			out = append(out, l)
		}
	}
	return out
}

// maxValue keeps sums of values of pieces on one stick within 63 bits.
const maxValue = 1 << 62

// maxStates limits the memory of fill.
const maxStates = 1 << 20

// state is a set of pieces that no other set of at most its size equals in value.
type state struct{ size, value int64 }

// tooMuch is the result of fill if sums overflow. A lower limit would let a proof show anything.
const tooMuch = math.MaxInt64

// fill returns the greatest value of pieces that fit the room, or from, which is less than
// maxValue, if that is greater. It spends steps; when they run out it returns an upper bound and
// false. If that may be maxValue or more it returns tooMuch and false. With loose it only returns
// the value of the room at the best value for a size.
//
// It keeps the undominated sets of the lots so far, except those that cannot beat the best known
// set even if the rest of the room is filled at the next lot's rate: E. Horowitz and S. Sahni,
// Computing partitions with applications to the knapsack problem, Journal of the ACM 21 (1974)
// 277-292, with the bound added (from memory).
func fill(bag []lot, room, from int64, loose bool, steps *effort) (int64, bool) {
	if !steps.spend(int64(len(bag))) && len(bag) > 0 {
		most := rate(bag[0], room) // even if it does not fit
		if most >= maxValue {
			return tooMuch, false
		}
		return max(most, from), false
	}
	bag = slices.DeleteFunc(slices.Clone(bag), func(l lot) bool { return l.size > room })
	if len(bag) == 0 {
		return from, true
	}
	most := min(rate(bag[0], room), all(bag, room))
	if most >= maxValue {
		return tooMuch, false
	}
	if loose || most <= from {
		return max(most, from), true
	}
	best := max(from, greedy(bag, room))
	list, next := []state{{}}, []state(nil)
	for i, l := range bag {
		left := min(l.count, room/l.size)
		for k := int64(1); left > 0; k *= 2 {
			k = min(k, left)
			left -= k
			if !steps.spend(int64(2*len(list))) || len(list) > maxStates {
				return max(best, min(most, promise(list, l, room))), false
			}
			// All lots that follow are worth at most this for their size.
			coming := lot{size: 1}
			if left > 0 {
				coming = l
			} else if i+1 < len(bag) {
				coming = bag[i+1]
			}
			next, best = extend(list, next[:0], state{k * l.size, k * l.value}, coming, room, best)
			list, next = next, list
		}
	}
	return best, true
}

// extend merges the sets in list with the same sets with more added.
func extend(list, out []state, more state, coming lot, room, best int64) ([]state, int64) {
	top := int64(-1) // greatest value in out
	add := func(s state) {
		if s.value <= top {
			return
		}
		best = max(best, s.value)
		if !outdoes(s, coming, room, best) {
			return
		}
		top = s.value
		out = append(out, s)
	}
	j := 0 // next to be extended
	for _, s := range list {
		for j < len(list) {
			m := state{list[j].size + more.size, list[j].value + more.value}
			if m.size > s.size || m.size == s.size && m.value <= s.value || m.size > room {
				break
			}
			add(m)
			j++
		}
		add(s)
	}
	for ; j < len(list) && list[j].size <= room-more.size; j++ {
		add(state{list[j].size + more.size, list[j].value + more.value})
	}
	return out, best
}

// greedy returns the value of the set that takes lots in order.
func greedy(bag []lot, room int64) int64 {
	var v int64
	for _, l := range bag {
		k := min(l.count, room/l.size)
		v += k * l.value
		room -= k * l.size
	}
	return v
}

// rate returns the value of the room at a lot's value for its size.
func rate(l lot, room int64) int64 {
	hi, lo := bits.Mul64(uint64(l.value), uint64(room))
	if hi >= uint64(l.size) {
		return math.MaxInt64
	}
	q, _ := bits.Div64(hi, lo, uint64(l.size))
	return int64(min(q, math.MaxInt64))
}

// all returns the value of all lots, each as often as it fits the room alone, at most the
// greatest int64.
func all(bag []lot, room int64) int64 {
	var sum int128
	for _, l := range bag {
		sum = sum.add(mul(l.value, min(l.count, room/l.size)))
	}
	if v, ok := sum.int64(); ok {
		return v
	}
	return math.MaxInt64
}

// promise returns the greatest value that the sets in list can reach with lots that are worth no
// more for their size than l, at most the greatest int64.
func promise(list []state, l lot, room int64) int64 {
	var most int64
	for _, s := range list {
		r := rate(l, room-s.size)
		most = max(most, s.value+min(r, math.MaxInt64-s.value))
	}
	return most
}
