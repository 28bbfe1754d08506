package setcover

import (
	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/certificate"
	"example.com/longpoint/internal/solver/model"
)

// Solve returns the cheapest plan below cutoff that uses only the given patterns, with bins used as
// often as the box allows; nil means that there is none. The plan omits sticks that yield nothing
// needed, so it may use fewer bins than the box requires. Solve reports whether the result is certain;
// otherwise the meter ran out. The patterns at the front enter the first relaxation.
func Solve(p *model.Problem, box bound.Box, pats []model.Pattern, cutoff int64, cuts bool, mt *meter.Meter) (plan []model.PatternCount, complete bool) {
	plan, _, complete = solve(p, box, pats, cutoff, cuts, false, mt)
	return plan, complete
}

// Record is like Solve, and also returns the search tree if it is complete and not too large. No wanted
// item may fit beside what a pattern holds: a row of the tree that stands for one pattern counts all
// that hold as much, so with other patterns the tree may show less than the search found.
func Record(p *model.Problem, box bound.Box, pats []model.Pattern, cutoff int64, cuts bool, mt *meter.Meter) (plan []model.PatternCount, tree *certificate.Node, complete bool) {
	return solve(p, box, pats, cutoff, cuts, true, mt)
}

func solve(p *model.Problem, box bound.Box, pats []model.Pattern, cutoff int64, cuts, record bool, mt *meter.Meter) (plan []model.PatternCount, tree *certificate.Node, complete bool) {
	n := len(p.Items)
	q := &Problem{Items: p.Items, Cuts: cuts, Record: record}
	for b, bin := range p.Bins {
		q.Rows = append(q.Rows, Row{Lo: box.Lo[b], Hi: box.Hi[b]})
		q.Places = append(q.Places, Place{Row: int32(n + b), Column: -1, Cost: bin.Cost, Bins: 1})
	}
	for _, pat := range pats {
		q.Cap = max(q.Cap, p.Bins[pat.Bin].Cap)
		c := Column{Cost: p.Bins[pat.Bin].Cost}
		enough := int64(0) // covering the demand never takes more copies than this
		for _, u := range pat.Uses {
			c.Rows, c.Coef = append(c.Rows, int32(u.Item)), append(c.Coef, u.N)
			enough = max(enough, (p.Items[u.Item].Demand+u.N-1)/u.N)
		}
		c.Rows, c.Coef = append(c.Rows, int32(n+pat.Bin)), append(c.Coef, 1)
		c.Hi = min(box.Hi[pat.Bin], enough)
		q.Columns = append(q.Columns, c)
	}
	q.Accept = func(chosen []Chosen) (int64, bool) {
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
