// Package knapsack finds the most valuable ways to fill a bin with bounded numbers of items,
// for all capacities at once.
//
// The table keeps the Pareto front of undominated (size, value) labels for each prefix of the
// items. Time and memory are not proportional to the capacity, so a job that mixes millimeters
// and 64ths costs no more than one in whole inches. This is dynamic programming by lists, after
// G. L. Nemhauser and Z. Ullmann, Discrete dynamic programming and capital allocation,
// Management Science 15 (1969) 494-505. Column generation is fast because many patterns, not
// one, are read back from one table.
package knapsack

import (
	"cmp"
	"math"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/model"
)

type label struct{ size, value int64 }

// Table can be reused: Build discards the previous contents and keeps the memory.
type Table struct {
	item               []int // stage -> item
	size               []int64
	value              []int64
	bound              []int64
	stages             [][]label // Pareto fronts, from none of the items to all
	labels             arena
	scratchA, scratchB []label  // scratch
	targets            []Target // by capacity; Need minus the greatest value that the capacity can hold
	rate               int64

	// state of an enumeration
	uses  []model.Use
	visit func(uses []model.Use, value int64) bool
}

// Target asks for the patterns within Cap that are worth at least Need.
type Target struct{ Cap, Need int64 }

// none is the value of a nonexistent pattern.
const none = math.MinInt64 / 2

// Build fills the table for bins of capacity up to cap, with at most bound[i] of each item,
// worth value[i] >= 0 each. It omits items without value. It reports false if the table would
// hold more than maxLabels labels or the meter ran out; the table is then unusable.
func (t *Table) Build(items []model.Item, bound, value []int64, cap int64, maxLabels int, m *meter.Meter) bool {
	t.targets = append(t.targets[:0], Target{cap, none})
	t.rate = 0
	return t.build(items, bound, value, maxLabels, m)
}

// BuildFor is Build for the given targets only: the table has every pattern that reaches one,
// and may lack others. Best is then correct if it reaches the target's Need.
func (t *Table) BuildFor(targets []Target, items []model.Item, bound, value []int64, maxLabels int, m *meter.Meter) bool {
	t.targets = append(t.targets[:0], targets...)
	slices.SortFunc(t.targets, func(a, b Target) int { return cmp.Compare(a.Cap, b.Cap) })
	if len(t.targets) == 0 {
		t.targets = append(t.targets, Target{0, none})
	}
	cap := t.targets[len(t.targets)-1].Cap
	// The greatest value of a unit of size, rounded up.
	t.rate = 0
	for i, it := range items {
		if bound[i] > 0 && it.Size <= cap {
			t.rate = max(t.rate, (value[i]+it.Size-1)/it.Size)
		}
	}
	if t.rate > 0 && cap > (1<<61)/t.rate {
		t.rate = 0
	}
	least := int64(math.MaxInt64)
	for k := len(t.targets) - 1; k >= 0; k-- {
		need := int64(none)
		if t.rate > 0 {
			need = t.targets[k].Need - t.rate*t.targets[k].Cap
		}
		least = min(least, need)
		t.targets[k].Need = least
	}
	return t.build(items, bound, value, maxLabels, m)
}

func (t *Table) build(items []model.Item, bound, value []int64, maxLabels int, m *meter.Meter) bool {
	cap := t.targets[len(t.targets)-1].Cap
	t.item, t.size, t.value, t.bound = t.item[:0], t.size[:0], t.value[:0], t.bound[:0]
	t.labels.reset()
	cur := t.labels.space(1)
	if t.targets[0].Need <= 0 {
		cur = append(cur, label{})
	}
	t.labels.keep(len(cur))
	t.stages = append(t.stages[:0], cur)
	total := len(cur)
	for i, it := range items {
		if value[i] <= 0 || bound[i] <= 0 || it.Size > cap {
			continue
		}
		n := min(bound[i], cap/it.Size)
		// Copies in chunks 1, 2, 4, ..., rest: every number up to n is a sum of chunks.
		for left, chunk := n, int64(1); left > 0; chunk *= 2 {
			k := min(chunk, left)
			left -= k
			out := t.scratchA[:0]
			if left == 0 {
				out = t.labels.space(2 * len(cur))
			}
			next := t.merge(out, cur, k*it.Size, k*value[i])
			if cur = next; left > 0 {
				t.scratchA, t.scratchB = t.scratchB, next
			}
			if total+len(cur) > maxLabels || !m.Spend(int64(2*len(cur)+4)) {
				return false
			}
		}
		t.labels.keep(len(cur))
		t.stages = append(t.stages, cur)
		total += len(cur)
		t.item = append(t.item, i)
		t.size = append(t.size, it.Size)
		t.value = append(t.value, value[i])
		t.bound = append(t.bound, n)
	}
	return true
}

// merge appends to out the undominated labels of in and of in shifted by one chunk, without
// those that no pattern extends to a target: the capacity that they leave is worth at most rate
// per unit.
func (t *Table) merge(out, in []label, size, value int64) []label {
	i, j, last := 0, 0, int64(-1)
	k, rate := 0, t.rate
	capK, need := t.targets[0].Cap, t.targets[0].Need
	for j < len(in) {
		s := label{in[j].size + size, in[j].value + value}
		if i < len(in) && (in[i].size < s.size || (in[i].size == s.size && in[i].value >= s.value)) {
			s = in[i]
			i++
		} else {
			j++
		}
		if s.value <= last {
			continue
		}
		for s.size > capK {
			if k++; k == len(t.targets) {
				return out
			}
			capK, need = t.targets[k].Cap, t.targets[k].Need
		}
		if s.value-rate*s.size < need {
			continue
		}
		out = append(out, s)
		last = s.value
	}
	return out
}

// at returns the best value within cap from the items of the first stages.
func (t *Table) at(stage int, cap int64) int64 {
	s := t.stages[stage]
	if len(s) == 0 || s[0].size > cap {
		return none
	}
	lo, hi := 0, len(s) // s[lo].size <= cap
	for hi-lo > 1 {
		mid := int(uint(lo+hi) >> 1)
		if s[mid].size <= cap {
			lo = mid
		} else {
			hi = mid
		}
	}
	return s[lo].value
}

// Best returns the greatest value of a pattern within cap, which must not exceed the capacity that
// the table was built for.
func (t *Table) Best(cap int64) int64 { return t.at(len(t.item), cap) }

// Levels returns the number of items in the table.
func (t *Table) Levels() int { return len(t.item) }

// BestWith returns the value of the best pattern within cap that holds the item of a stage, or
// a number below zero. The pattern may hold one more of the item than its bound.
func (t *Table) BestWith(stage int, cap int64) int64 {
	if t.size[stage] > cap {
		return none
	}
	return t.value[stage] + t.at(len(t.item), cap-t.size[stage])
}

// Backtrack appends to uses the pattern whose value Best returns, last stage first. The pattern
// must exist.
func (t *Table) Backtrack(cap int64, uses []model.Use) []model.Use {
	uses, _ = t.backtrack(-1, cap, uses)
	return uses
}

// BacktrackWith appends to uses the pattern whose value BestWith returns, last stage first. It
// reports false if the pattern holds one of the item too many.
func (t *Table) BacktrackWith(stage int, cap int64, uses []model.Use) ([]model.Use, bool) {
	return t.backtrack(stage, cap-t.size[stage], uses)
}

// backtrack skips stages that add nothing: more items are never worth less, so binary search
// finds the first stage that reaches a value.
func (t *Table) backtrack(stage int, rest int64, uses []model.Use) ([]model.Use, bool) {
	l := len(t.item)
	want := t.at(l, rest)
	for l > 0 {
		lo := 0 // the first stage with this value lies in [lo, l]
		if t.at(l-1, rest) != want {
			lo = l
		}
		for lo < l {
			if mid := int(uint(lo+l) >> 1); t.at(mid, rest) == want {
				l = mid
			} else {
				lo = mid + 1
			}
		}
		if stage >= l { // only the requested copies of that item
			uses = append(uses, model.Use{Item: t.item[stage], N: 1})
			stage = -1
		}
		if l == 0 {
			break
		}
		l--
		k := int64(1)
		for k*t.value[l]+t.at(l, rest-k*t.size[l]) != want {
			k++
		}
		rest -= k * t.size[l]
		want -= k * t.value[l]
		if l == stage {
			if k++; k > t.bound[l] {
				return uses, false
			}
			stage = -1
		}
		uses = append(uses, model.Use{Item: t.item[l], N: k})
	}
	if stage >= 0 {
		uses = append(uses, model.Use{Item: t.item[stage], N: 1})
	}
	return uses, true
}

// LeastSize returns the size of the smallest pattern worth at least need, and whether there is
// one within the table's capacity.
func (t *Table) LeastSize(need int64) (int64, bool) {
	s := t.stages[len(t.item)]
	i, _ := slices.BinarySearchFunc(s, need, func(s label, need int64) int { return cmp.Compare(s.value, need) })
	if i == len(s) {
		return 0, false
	}
	return s[i].size, true
}

// Enumerate calls visit for every pattern within cap that is worth at least need, the most valuable
// choice of the last item first, until visit returns false or the meter runs out. The uses are in
// decreasing order of stage and valid during the call only. It reports whether the enumeration was
// complete.
func (t *Table) Enumerate(cap, need int64, m *meter.Meter, visit func(uses []model.Use, value int64) bool) bool {
	t.uses, t.visit = t.uses[:0], visit
	if t.Best(cap) < need {
		return true
	}
	ok := t.enumerate(len(t.item), cap, need, 0, m)
	t.visit = nil
	return ok
}

func (t *Table) enumerate(stage int, cap, need, have int64, m *meter.Meter) bool {
	// Few stages leave a choice; skip the others without recursion.
	mark := len(t.uses)
	for stage > 0 {
		stage--
		size, value := t.size[stage], t.value[stage]
		most := min(t.bound[stage], cap/size)
		if !m.Spend(8 * (most + 1)) {
			return false
		}
		best, bestK, open := int64(-1), int64(0), 0 // some choice is worth the need
		for k := int64(0); k <= most; k++ {
			v := k*value + t.at(stage, cap-k*size)
			if v >= need {
				open++
				if v > best {
					best, bestK = v, k
				}
			}
		}
		if open > 1 {
			inner := len(t.uses)
			for n := int64(-1); n <= most; n++ {
				k := n
				if n < 0 {
					k = bestK // the best first, then the others in order
				} else if n == bestK {
					continue
				} else if k*value+t.at(stage, cap-k*size) < need {
					continue
				}
				if k > 0 {
					t.uses = append(t.uses, model.Use{Item: t.item[stage], N: k})
				}
				if !t.enumerate(stage, cap-k*size, need-k*value, have+k*value, m) {
					return false
				}
				t.uses = t.uses[:inner]
			}
			t.uses = t.uses[:mark]
			return true
		}
		if bestK > 0 {
			t.uses = append(t.uses, model.Use{Item: t.item[stage], N: bestK})
			cap, need, have = cap-bestK*size, need-bestK*value, have+bestK*value
		}
	}
	ok := t.visit(t.uses, have)
	t.uses = t.uses[:mark]
	return ok
}
