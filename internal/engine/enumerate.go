package engine

import (
	"slices"

	"example.com/longpoint/internal/colgen"
	"example.com/longpoint/internal/cover"
	"example.com/longpoint/internal/dual"
	"example.com/longpoint/internal/knapsack"
	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/model"
)

// state is what a bound of a box rests on.
type state struct {
	box   dual.Box
	value []int64
	best  []int64 // per bin: no pattern is worth more
	scale int64
}

func rootState(m *colgen.Master) state {
	return state{m.Box.Clone(), slices.Clone(m.Value), slices.Clone(m.Best), m.Scale}
}

// list lists the patterns that a better plan in the box could use and searches
// them. It reports whether the box is closed: whatever is better than the best
// plan before is now the best plan. It gives up beyond limit patterns or work
// steps.
func (r *run) list(s state, limit int, work int64) bool {
	plan, ok := enumerated(r.p, nil, s, r.cost, limit, r.mt.Sub(work))
	if plan != nil {
		r.offer(plan)
	}
	return ok
}

// enumerated searches the box for a plan below cutoff by listing every maximal
// pattern that it could use, and reports whether the search was complete.
//
// A pattern of value V in bin b can be part of a plan below cutoff only if the
// Lagrangian bound plus its own reduced cost stays below: compare R. Baldacci,
// S. Coniglio, J.-F. Cordeau, F. Furini, A numerically exact algorithm for the
// bin-packing problem, INFORMS Journal on Computing 36 (2024) 141-162.
func enumerated(p *model.Problem, apart *knapsack.Pairs, s state, cutoff int64, limit int, mt *meter.Meter) ([]model.Column, bool) {
	if s.scale == 0 || cutoff >= noPlan {
		return nil, false
	}
	// Items without worth must be part of patterns too.
	value := slices.Clone(s.value)
	for i := range value {
		value[i] = max(value[i], 1)
	}
	// The bound by the state's own prices, loosened by what was added.
	best := make([]int64, len(p.Bins))
	for b, bin := range p.Bins {
		if s.box.Hi[b] == 0 {
			continue
		}
		best[b] = s.best[b]
		for i, it := range p.Items {
			if s.value[i] == 0 {
				best[b] += min(it.Demand, bin.Cap/it.Size)
			}
		}
	}
	num := dual.Numerator(p, s.box, value, best, s.scale)
	if num.CeilDiv(s.scale) >= cutoff {
		return nil, true
	}
	n, ok := num.Int64()
	if !ok {
		return nil, false
	}
	room := (cutoff-1)*s.scale - n
	need := make([]int64, len(p.Bins))
	var targets []knapsack.Target
	for b, bin := range p.Bins {
		if s.box.Hi[b] == 0 {
			continue
		}
		need[b] = best[b]
		if s.box.Lo[b] == 0 {
			need[b] = max(need[b], bin.Cost*s.scale) // the bound does not count this bin yet
		}
		need[b] = max(need[b]-room, 0)
		targets = append(targets, knapsack.Target{Cap: bin.Cap, Need: need[b]})
	}
	var t knapsack.Table
	if !t.BuildFor(targets, p.Items, p.Demands(), value, colgen.MaxSteps, mt) {
		return nil, false
	}

	type rated struct {
		model.Pattern
		rc int64
	}
	var found []rated
	for b, bin := range p.Bins {
		if s.box.Hi[b] == 0 {
			continue
		}
		cost := bin.Cost * s.scale
		complete := t.Walk(bin.Cap, need[b], apart, mt, func(uses []model.Use, v int64) bool {
			pat := slices.Clone(uses)
			slices.Reverse(pat)
			if maximal(p, apart, pat, bin.Cap) {
				found = append(found, rated{model.Pattern{Bin: b, Uses: pat}, cost - v})
			}
			return len(found) <= limit
		})
		if !complete {
			return nil, false
		}
	}
	slices.SortStableFunc(found, func(a, b rated) int {
		switch {
		case a.rc < b.rc:
			return -1
		case a.rc > b.rc:
			return 1
		}
		return 0
	})
	pats := make([]model.Pattern, len(found))
	for i := range found {
		pats[i] = found[i].Pattern
	}
	return cover.Solve(p, s.box, pats, cutoff, mt)
}

// maximal reports whether no further item fits.
func maximal(p *model.Problem, apart *knapsack.Pairs, uses []model.Use, cap int64) bool {
	room := cap - p.Size(uses)
	k := len(uses) - 1
	for i := len(p.Items) - 1; i >= 0 && p.Items[i].Size <= room; i-- {
		n := int64(0)
		for k >= 0 && uses[k].Item > i {
			k--
		}
		if k >= 0 && uses[k].Item == i {
			n = uses[k].N
		}
		if n >= p.Items[i].Demand {
			continue
		}
		if apart.Room(uses, i, 1) > 0 {
			return false
		}
	}
	return true
}
