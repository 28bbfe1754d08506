package branchprice

import (
	"example.com/longpoint/internal/solver/heuristic"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
)

// picks converts a start to columns, without patterns that break a rule.
func picks(p *rules.Problem, s *search.Start) []rules.ColumnCount {
	if s == nil {
		return nil
	}
	var out []rules.ColumnCount
	for r, w := range s.Assemblies {
		if w != nil {
			c := p.Assembly(r, w)
			out = append(out, rules.ColumnCount{Column: &c, N: 1})
		}
	}
	for i := range s.Patterns {
		f := &s.Patterns[i]
		if x, ok := p.Fill(&f.Pattern); ok && f.Count > 0 {
			out = append(out, rules.ColumnCount{Column: p.Cut(f.Pattern, &x), N: f.Count})
		}
	}
	return out
}

// completeStart completes the start from the caller to one plan or several.
func (r *solver) completeStart() {
	if len(r.startPlan) > 0 {
		r.startPlan = heuristic.Complete(r.p, r.startPlan, r.mt, r.tryIncumbent)
	}
}
