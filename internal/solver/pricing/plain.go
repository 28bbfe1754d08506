package pricing

import (
	"cmp"
	"math/bits"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/knapsack"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/rules"
)

// MaxLabels limits the table of a knapsack without states.
const MaxLabels = 24 << 20

// Plain prices the patterns of bins without rules and costs of their own: one knapsack without
// states for all of them. Items are in decreasing size.
type Plain struct {
	bins   []model.Bin
	places []int
	items  []model.Item

	table     knapsack.Table
	d         *Prices
	best      []int64
	targets   []knapsack.Target
	maxCap    int64
	found     []plainCandidate
	uses      []model.Use // scratch, for patterns being traced back
	sorted    rules.Pattern
	diversity diversity
}

// plainCandidate is a pattern that may become a column.
type plainCandidate struct {
	bin   int
	stage int // of the item for which the pattern is best, or bestOfAll
	gain  int64
}

// bestOfAll is the stage of the best pattern of all.
const bestOfAll = -1

// NewPlain returns the oracle of all bins of a problem.
func NewPlain(p *model.Problem) *Plain {
	x := &Plain{bins: p.Bins, items: p.Items}
	for b, bin := range p.Bins {
		x.places = append(x.places, b)
		x.maxCap = max(x.maxCap, bin.Cap)
	}
	return x
}

// Places implements Oracle: place b is bin b.
func (x *Plain) Places() []int { return x.places }

// Build implements Oracle.
func (x *Plain) Build(d *Prices, best []int64, add func(rules.Column) bool, mt *meter.Meter) bool {
	x.d, x.best = d, best
	x.targets = x.targets[:0]
	for b, bin := range x.bins {
		if d.Need[b] != Closed {
			x.targets = append(x.targets, knapsack.Target{Cap: bin.Cap, Need: d.Need[b]})
		}
	}
	if !x.table.BuildFor(x.targets, x.items, d.Limit, d.Item, MaxLabels, mt) {
		return false
	}
	for b, bin := range x.bins {
		if best[b] = 0; d.Need[b] == Closed {
			continue
		}
		// Values below the need are unknown and irrelevant.
		best[b] = max(x.table.Best(bin.Cap), d.Need[b])
	}
	return true
}

// Columns implements Oracle: for each item it offers the best pattern that holds it, unless the
// patterns already taken hold the same items.
func (x *Plain) Columns(tol int64, add func(rules.Column) bool, mt *meter.Meter) {
	x.found = x.found[:0]
	x.findCandidates(tol, mt)
	levels := x.table.Levels()
	slices.SortStableFunc(x.found, func(a, b plainCandidate) int { return cmp.Compare(b.gain, a.gain) })
	x.diversity.reset(len(x.items), 8+levels/3)
	for _, c := range x.found {
		uses, ok := x.uses[:0], true
		if c.stage == bestOfAll {
			uses = x.table.Backtrack(x.bins[c.bin].Cap, uses)
		} else {
			uses, ok = x.table.BacktrackWith(c.stage, x.bins[c.bin].Cap, uses)
		}
		x.uses = uses
		if !mt.Spend(int64(20 * bits.Len(uint(levels)) * (1 + len(uses)))) {
			return
		}
		if !ok || x.diversity.same(uses) {
			continue
		}
		x.sorted.Bin = c.bin
		x.complete(uses)
		fresh := add(rules.Column{Fill: &x.sorted})
		if !fresh {
			x.order(uses)
			fresh = add(rules.Column{Fill: &x.sorted})
		}
		if fresh && x.diversity.take(uses) {
			return
		}
	}
}

// findCandidates finds for each bin the best pattern, and the best one with each item.
func (x *Plain) findCandidates(tol int64, mt *meter.Meter) {
	levels := x.table.Levels()
	for b, bin := range x.bins {
		if x.d.Need[b] == Closed {
			continue
		}
		need := x.d.Need[b] + tol
		if x.best[b] < need {
			continue
		}
		x.found = append(x.found, plainCandidate{bin: b, stage: bestOfAll, gain: x.best[b] - need})
		for l := range levels {
			if v := x.table.BestWith(l, bin.Cap); v >= need {
				x.found = append(x.found, plainCandidate{bin: b, stage: l, gain: v - need})
			}
		}
		if !mt.Spend(int64(12 * levels)) {
			break
		}
	}
}

// order reverses uses, which the table gives last item first.
func (x *Plain) order(uses []model.Use) {
	x.sorted.Uses = append(x.sorted.Uses[:0], uses...)
	slices.Reverse(x.sorted.Uses)
}

// complete fills the rest of the bin with items whose duals are zero.
func (x *Plain) complete(uses []model.Use) {
	x.order(uses)
	residual := x.bins[x.sorted.Bin].Cap
	for _, u := range uses {
		residual -= u.N * x.items[u.Item].Size
	}
	x.sorted.Uses = Fill(x.items, x.d.Limit, residual, x.sorted.Uses)
}

// Fill adds to uses, longest first, every item that still fits into the residual capacity within limit.
func Fill(items []model.Item, limit []int64, residual int64, uses []model.Use) []model.Use {
	if residual < items[len(items)-1].Size {
		return uses
	}
	k := 0
	for i := range items {
		size := items[i].Size
		have := k < len(uses) && uses[k].Item == i
		if size <= residual {
			n := int64(0)
			if have {
				n = uses[k].N
			}
			if add := min(limit[i]-n, residual/size); add > 0 {
				residual -= add * size
				if have {
					uses[k].N += add
				} else {
					uses = slices.Insert(uses, k, model.Use{Item: i, N: add})
					have = true
				}
			}
		}
		if have {
			k++
		}
	}
	return uses
}

// Enumerate implements Oracle.
func (x *Plain) Enumerate(b int, need int64, mt *meter.Meter, visit func(c rules.Column, gain int64) bool) bool {
	return x.table.Enumerate(x.bins[b].Cap, need, mt, func(uses []model.Use, value int64) bool {
		x.sorted.Bin = b
		x.order(uses)
		return visit(rules.Column{Fill: &x.sorted}, value)
	})
}

// Maximal implements Oracle.
func (x *Plain) Maximal(c *rules.Column) bool {
	uses, residual := c.Fill.Uses, x.bins[c.Fill.Bin].Cap
	for _, u := range uses {
		residual -= u.N * x.items[u.Item].Size
	}
	k := len(uses) - 1
	for i := len(x.items) - 1; i >= 0 && x.items[i].Size <= residual; i-- {
		n := int64(0)
		for k >= 0 && uses[k].Item > i {
			k--
		}
		if k >= 0 && uses[k].Item == i {
			n = uses[k].N
		}
		if n < x.items[i].Demand {
			return false
		}
	}
	return true
}

// Worth implements Oracle.
func (x *Plain) Worth(dual []float64, limit []int64, _ *[rules.Criteria]float64) float64 {
	sum, rate := 0.0, 0.0
	for i, it := range x.items {
		if v := dual[i]; v > 0 {
			sum += float64(v * float64(min(limit[i], x.maxCap/it.Size)))
			rate = max(rate, v/float64(it.Size))
		}
	}
	return min(sum, rate*float64(x.maxCap))
}
