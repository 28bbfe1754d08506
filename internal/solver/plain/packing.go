package plain

import (
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/packing"
	"example.com/longpoint/internal/solver/residual"
	"example.com/longpoint/internal/solver/search"
)

// searchPacking decides whether a plan attains the bound, if that leaves almost no slack.
func (r *solver) searchPacking() {
	if r.p.Bins[0].Cost == 0 || r.insidePacking {
		return
	}
	cap, cost := r.p.Bins[0].Cap, r.p.Bins[0].Cost
	bins := (r.bound + cost - 1) / cost
	search := packing.New(r.p, bins)
	if search == nil {
		return
	}
	few := bins*cap-total(r.p) <= cap/50 // the more slack, the less it forces
	if few && r.peel(bins) {
		return
	}
	near := func(cols []model.PatternCount) {
		if rest := residual.Of(r.p, cols); rest != nil {
			quickPlans(&rest.Problem, r.mt, func(sub []model.PatternCount) { r.tryIncumbent(rest.Joined(sub)) })
		}
	}
	pass := min(search.Pass(), mostPass) // with huge sticks, less than one pass
	work, long := shortWork+shortPasses*pass, min(longPasses*pass, longWork)
	if !few {
		work, long = min(work, wastefulWork), min(long, wastefulWork)
	}
	cols, verdict := search.Run(r.mt.Sub(work), near, nil)
	if verdict == packing.Open && !r.done() {
		if r.solveUnpacked(cols, bins, leftPasses*pass, true); r.done() {
			return
		}
		// Start again with a new search, since later runs of a search shuffle its first choices.
		r.packing = packing.New(r.p, bins)
		cols, verdict = r.packing.Run(r.mt.Sub(long), near, r.solvePart)
	}
	r.packed(cols, verdict, bins)
}

// peel removes bins that belong to some plan with the given number of bins if there is one, and
// reports whether the run is over.
func (r *solver) peel(bins int64) bool {
	r.peeler = packing.NewPeeler(r.p, bins)
	if r.peeler == nil {
		return false
	}
	verdict := r.peeler.Peel(r.mt)
	if verdict == packing.Open {
		verdict = r.peeler.Probe(r.mt.Sub(max(probeWork, probePiece*min(r.p.Pieces(), mostProbed))))
	}
	r.peeled(verdict, bins)
	return r.done()
}

// peeled takes the result of peeling.
func (r *solver) peeled(verdict packing.Verdict, bins int64) {
	var cols []model.PatternCount
	if verdict == packing.Found {
		cols = r.peeler.Columns()
	}
	r.packed(cols, verdict, bins)
}

// packed takes the result of a search for a plan with the given number of bins.
func (r *solver) packed(cols []model.PatternCount, verdict packing.Verdict, bins int64) {
	switch verdict {
	case packing.Found:
		r.tryIncumbent(cols)
	case packing.None:
		r.bound = max(r.bound, (bins+1)*r.p.Bins[0].Cost)
	}
}

// solvePart plans the pieces that a partial packing leaves, and reports whether the search is over.
func (r *solver) solvePart(cols []model.PatternCount) bool {
	bins := r.packing.Bins()
	r.solveUnpacked(cols, bins, min(longPasses*r.packing.Pass(), partWork), false)
	return r.cost <= bins*r.p.Bins[0].Cost || !r.mt.Left()
}

// goOnPacking continues the search for a plan with almost no slack.
func (r *solver) goOnPacking(work int64) {
	if r.packing == nil || !r.whole() {
		return
	}
	cost := r.p.Bins[0].Cost
	bins := r.packing.Bins()
	if r.bound > bins*cost || r.cost <= bins*cost {
		return
	}
	if r.peeler != nil {
		if r.peeled(r.peeler.Probe(r.mt.Sub(work)), bins); r.done() {
			return
		}
	}
	cols, verdict := r.packing.Run(r.mt.Sub(work), nil, r.solvePart)
	r.packed(cols, verdict, bins)
}

// solveUnpacked plans the rest of the pieces after a packing search has packed some sticks and could not
// continue. If sure is set and there is a plan with the given number of bins, these sticks belong to one; if
// the rest then has no such plan, neither has the whole.
func (r *solver) solveUnpacked(packed []model.PatternCount, bins, work int64, sure bool) {
	used := count(packed)
	if 5*used < bins {
		return
	}
	rest := residual.Of(r.p, packed)
	if rest == nil {
		return
	}
	cost := r.p.Bins[0].Cost
	sub := &solver{mt: r.mt.Sub(work), cost: search.NoPlan, insidePacking: true}
	r.runRest(rest, sub)
	if sure && sub.bound > (bins-used)*cost {
		r.bound = max(r.bound, (bins+1)*cost)
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
