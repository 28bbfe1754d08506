package rules

import "example.com/longpoint/internal/solver/model"

// Of states a problem without rules as one with them: each bin is a class of its own, at one price.
func Of(p *model.Problem) *Problem {
	n, k := len(p.Items), len(p.Bins)
	q := &Problem{Items: make([]Item, n), Kinds: make([]PatternRules, 1), Bins: make([]Bin, k), Classes: make([]StockClass, k)}
	ways, at, tiers := make([]Orientation, n), make([]int, k), make([]Tier, k)
	for i, it := range p.Items {
		ways[i] = Orientation{it.Size, Square, Square}
		q.Items[i] = Item{Demand: it.Demand, Most: it.Demand, Orientations: ways[i : i+1 : i+1], Pieces: 1}
	}
	pieces := p.Pieces()
	for b, bin := range p.Bins {
		at[b], tiers[b] = b, Tier{1, bin.Cost}
		q.Bins[b].Cap, q.Bins[b].Own[Sticks] = bin.Cap, 1
		q.Classes[b] = StockClass{Bins: at[b : b+1 : b+1], Limit: bin.Limit, Most: pieces, Tiers: tiers[b : b+1 : b+1], Bundle: 1, Minimum: 1}
	}
	return q
}
