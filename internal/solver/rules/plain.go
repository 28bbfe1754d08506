package rules

import (
	"slices"

	"example.com/longpoint/internal/solver/model"
)

// Plain returns the problem without its rules where they ask for nothing: each pattern is one that
// is no longer than its bin, and each stick has its price. Its items and bins are those of p, in
// the same order, sizes divided by their common divisor. It returns nil where there is more to
// keep to, or items or bins are not as a plain problem wants them.
func (p *Problem) Plain() *model.Problem {
	if len(p.Runs) > 0 || len(p.Suppliers) > 0 || p.Exact || len(p.Bins) != len(p.Classes) ||
		slices.ContainsFunc(p.Kinds, func(k PatternRules) bool { return !k.plain() }) {
		return nil
	}
	q := &model.Problem{Items: make([]model.Item, len(p.Items)), Bins: make([]model.Bin, len(p.Bins))}
	total := int64(0)
	for i := range p.Items {
		it := &p.Items[i]
		w := &it.Orientations[0]
		if len(it.Orientations) > 1 || w.Left != Square || w.Right != Square || it.Demand < 1 || it.Alone || it.Offcut > 0 ||
			i > 0 && w.Size >= q.Items[i-1].Size {
			return nil
		}
		q.Items[i] = model.Item{Size: w.Size, Demand: it.Demand}
		total += it.Demand
	}
	known := make(map[model.Bin]bool, len(p.Bins))
	for b := range p.Bins {
		c := &p.Classes[b]
		if !slices.Equal(c.Bins, []int{b}) || len(c.Tiers) > 1 || c.Bundle > 1 || c.Minimum > 1 || c.Settled > 0 || p.Bins[b].Own[Price] != 0 {
			return nil
		}
		bin := model.Bin{Cap: p.Bins[b].Cap, Cost: c.Tiers[0].Price}
		if known[bin] {
			return nil
		}
		known[bin] = true
		bin.Limit = min(c.Limit, total)
		q.Bins[b] = bin
	}
	q.Divide()
	return q
}

// plain reports whether the kind asks for nothing but that pieces fit.
func (k *PatternRules) plain() bool {
	return k.Most == 0 && len(k.Salvage) == 0 && k.Hold == 0 && k.Part == [2]int64{} && !slices.Contains(k.Barred, true)
}
