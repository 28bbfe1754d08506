package rules

import "example.com/longpoint/internal/solver/model"

// FromPatterns converts a plan of a problem without rules to one with them.
func (p *Problem) FromPatterns(plan []model.PatternCount) []ColumnCount {
	out := make([]ColumnCount, len(plan))
	for k := range plan {
		f, size := plan[k].Pattern, PatternSize{}
		for _, u := range f.Uses {
			size.Size += p.Items[u.Item].Orientations[0].Size * u.N
			size.Pieces += u.N
		}
		size.Offcut = p.Bins[f.Bin].Cap - size.Size
		out[k] = ColumnCount{Column: p.Cut(f, &size), N: plan[k].Count}
	}
	return out
}

// ToPatterns converts the patterns of a plan to those of a problem without rules.
func ToPatterns(plan []ColumnCount) []model.PatternCount {
	out := make([]model.PatternCount, len(plan))
	for k, q := range plan {
		out[k] = model.PatternCount{Pattern: *q.Column.Fill, Count: q.N}
	}
	return out
}
