package branchprice

import (
	"example.com/longpoint/internal/solver/heuristic"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/packing"
	"example.com/longpoint/internal/solver/residual"
	"example.com/longpoint/internal/solver/rules"
)

// searchPacking decides whether a plan attains the bound, if that leaves almost no slack.
func (k *oneKind) searchPacking() {
	if k.plain.Bins[0].Cost == 0 || k.ofPacking {
		return
	}
	cap, cost := k.plain.Bins[0].Cap, k.plain.Bins[0].Cost
	bins := (k.bound + cost - 1) / cost
	search := packing.New(k.plain, bins)
	if search == nil {
		return
	}
	few := bins*cap-total(k.plain) <= cap/50 // the more slack, the less it forces
	if few && k.peel(bins) {
		return
	}
	near := func(cols []model.PatternCount) {
		if rest := residual.Of(k.plain, cols); rest != nil {
			heuristic.Quick(rules.Of(&rest.Problem), k.mt, func(plan []rules.ColumnCount) {
				if all := rules.ToPatterns(plan); rest.Spent+model.Cost(k.plain, all) < k.cost {
					k.tryIncumbent(k.p.FromPatterns(rest.Joined(all)))
				}
			})
		}
	}
	pass := min(search.Pass(), mostPass) // with huge sticks, less than one pass
	work, long := shortWork+shortPasses*pass, min(longPasses*pass, longWork)
	if !few {
		work, long = min(work, wastefulWork), min(long, wastefulWork)
	}
	cols, verdict := search.Run(k.mt.Sub(work), near, nil)
	if verdict == packing.Open && !k.done() {
		if k.solveUnpacked(cols, bins, leftPasses*pass, true); k.done() {
			return
		}
		// Start again with a new search, since later runs of a search shuffle its first choices.
		k.packing = packing.New(k.plain, bins)
		cols, verdict = k.packing.Run(k.mt.Sub(long), near, k.solvePart)
	}
	k.packed(cols, verdict, bins)
}

// peel removes bins that belong to some plan with the given number of bins if there is one, and
// reports whether the run is over.
func (k *oneKind) peel(bins int64) bool {
	k.peeler = packing.NewPeeler(k.plain, bins)
	if k.peeler == nil {
		return false
	}
	verdict := k.peeler.Peel(k.mt)
	if verdict == packing.Open {
		verdict = k.peeler.Probe(k.mt.Sub(max(probeWork, probePiece*min(k.plain.Pieces(), mostProbed))))
	}
	k.peeled(verdict, bins)
	return k.done()
}

// peeled takes the result of peeling.
func (k *oneKind) peeled(verdict packing.Verdict, bins int64) {
	var cols []model.PatternCount
	if verdict == packing.Found {
		cols = k.peeler.Columns()
	}
	k.packed(cols, verdict, bins)
}

// packed takes the result of a search for a plan with the given number of bins.
func (k *oneKind) packed(cols []model.PatternCount, verdict packing.Verdict, bins int64) {
	switch verdict {
	case packing.Found:
		k.tryIncumbent(k.p.FromPatterns(cols))
	case packing.None:
		k.bound = max(k.bound, (bins+1)*k.plain.Bins[0].Cost)
	}
}

// solvePart plans the pieces that a partial packing leaves, and reports whether the search is over.
func (k *oneKind) solvePart(cols []model.PatternCount) bool {
	bins := k.packing.Bins()
	k.solveUnpacked(cols, bins, min(longPasses*k.packing.Pass(), partWork), false)
	return k.cost <= bins*k.plain.Bins[0].Cost || !k.mt.Left()
}

// goOnPacking continues the search for a plan with almost no slack.
func (k *oneKind) goOnPacking(work int64) {
	if k.packing == nil || !k.whole() {
		return
	}
	cost := k.plain.Bins[0].Cost
	bins := k.packing.Bins()
	if k.bound > bins*cost || k.cost <= bins*cost {
		return
	}
	if k.peeler != nil {
		if k.peeled(k.peeler.Probe(k.mt.Sub(work)), bins); k.done() {
			return
		}
	}
	cols, verdict := k.packing.Run(k.mt.Sub(work), nil, k.solvePart)
	k.packed(cols, verdict, bins)
}

// solveUnpacked plans the rest of the pieces after a packing search has packed some sticks and could not
// continue. If sure is set and there is a plan with the given number of bins, these sticks belong to one; if
// the rest then has no such plan, neither has the whole.
func (k *oneKind) solveUnpacked(packed []model.PatternCount, bins, work int64, sure bool) {
	used := int64(0)
	for _, c := range packed {
		used += c.Count
	}
	if 5*used < bins {
		return
	}
	rest := residual.Of(k.plain, packed)
	if rest == nil {
		return
	}
	cost := k.plain.Bins[0].Cost
	least := k.runRest(rest, work)
	if sure && least > (bins-used)*cost {
		k.bound = max(k.bound, (bins+1)*cost)
	}
}

// total returns the size of all pieces together.
func total(p *model.Problem) int64 {
	sum := int64(0)
	for _, it := range p.Items {
		sum += it.Size * it.Demand
	}
	return sum
}
