package whatif

import (
	"slices"

	"example.com/longpoint/optimize"
)

// clone returns a copy of a problem that shares nothing with it.
func clone(p optimize.Problem) optimize.Problem {
	p.Sticks, p.Pieces, p.Runs = slices.Clone(p.Sticks), slices.Clone(p.Pieces), slices.Clone(p.Runs)
	for i := range p.Sticks {
		s := &p.Sticks[i]
		s.Defects, s.Breaks = slices.Clone(s.Defects), slices.Clone(s.Breaks)
	}
	for i := range p.Pieces {
		p.Pieces[i].Allowances, p.Pieces[i].Notes = slices.Clone(p.Pieces[i].Allowances), slices.Clone(p.Pieces[i].Notes)
	}
	for i := range p.Runs {
		r := &p.Runs[i]
		r.Allowances, r.Splices, r.Outline = slices.Clone(r.Allowances), slices.Clone(r.Splices), slices.Clone(r.Outline)
		r.Scribe, r.Notes = slices.Clone(r.Scribe), slices.Clone(r.Notes)
		r.Splice.At, r.Splice.Avoid = slices.Clone(r.Splice.At), slices.Clone(r.Splice.Avoid)
	}
	r := &p.Rules
	r.Groups, r.Charges = slices.Clone(r.Groups), slices.Clone(r.Charges)
	r.OffcutValues, r.Goals = slices.Clone(r.OffcutValues), slices.Clone(r.Goals)
	for i := range r.Groups {
		r.Groups[i].Pieces = slices.Clone(r.Groups[i].Pieces)
	}
	return p
}
