package setcover_test

import (
	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/certificate"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/setcover"
)

// solve returns the cheapest plan below cutoff that uses only the given patterns, with bins used as often as the box
// allows; nil means that there is none. The plan omits sticks that yield nothing needed, so it may use fewer bins than
// the box requires.
func solve(p *model.Problem, box bound.Box, pats []model.Pattern, cutoff int64, cuts bool, mt *meter.Meter) (plan []model.PatternCount, complete bool) {
	plan, _, complete = record(p, box, pats, cutoff, cuts, false, mt)
	return plan, complete
}

// record is like solve, and also returns the search tree if it is complete and not too large.
func record(p *model.Problem, box bound.Box, pats []model.Pattern, cutoff int64, cuts, recorded bool, mt *meter.Meter) (plan []model.PatternCount, tree *certificate.Node, complete bool) {
	n := len(p.Items)
	q := &setcover.Problem{Items: p.Items, Branching: setcover.Branching{Cuts: cuts}, Record: recorded}
	for b, bin := range p.Bins {
		q.Rows = append(q.Rows, setcover.Row{Lo: box.Lo[b], Hi: box.Hi[b]})
		q.Places = append(q.Places, setcover.Place{Row: int32(n + b), Column: -1, Cost: bin.Cost, Bins: 1})
	}
	for _, pat := range pats {
		q.Cap = max(q.Cap, p.Bins[pat.Bin].Cap)
		c := setcover.Column{Cost: p.Bins[pat.Bin].Cost}
		enough := int64(0) // covering the demand never takes more copies than this
		for _, u := range pat.Uses {
			c.Rows, c.Coef = append(c.Rows, int32(u.Item)), append(c.Coef, u.N)
			enough = max(enough, (p.Items[u.Item].Demand+u.N-1)/u.N)
		}
		c.Rows, c.Coef = append(c.Rows, int32(n+pat.Bin)), append(c.Coef, 1)
		c.Hi = min(box.Hi[pat.Bin], enough)
		q.Columns = append(q.Columns, c)
	}
	q.Accept = func(chosen []setcover.Chosen) (int64, bool) {
		cols := make([]model.PatternCount, len(chosen))
		for k, c := range chosen {
			cols[k] = model.PatternCount{Pattern: pats[c.Column], Count: c.N}
		}
		cols, ok := model.Exact(p, cols)
		if !ok {
			return 0, false
		}
		cost := model.Cost(p, cols)
		if cost < cutoff {
			plan, cutoff = cols, cost
		}
		return cost, true
	}
	complete = q.Search(cutoff, mt)
	return plan, q.Recorded, complete
}
