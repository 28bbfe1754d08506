package plain

import (
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/certificate"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/search"
	"example.com/longpoint/internal/solver/setcover"
)

// recorded is the proof of a search over a list: the duals of the list and the tree of the search, or duals
// that alone rule out all plans.
type recorded struct {
	search *certificate.Search
	alone  *master.Duals
}

// searchRecorded searches the box for a plan below cutoff by listing every maximal pattern that it could use by
// all of the duals. It returns the proof, and reports whether the search was complete.
func searchRecorded(f *master.Families, box bound.Box, by []master.Duals, cutoff int64, limit int, cuts bool, mt *meter.Meter) (plan []model.PatternCount, rec recorded, ok bool) {
	cols, ok := f.Enumerate(box, by, cutoff, &master.Effort{Columns: limit, Visits: mostVisits * limit}, mt)
	if !ok {
		return nil, rec, false
	}
	var filters []certificate.Vector
	for k := range by {
		g, closed, ok := f.FilterOf(&by[k], box, cutoff)
		if closed {
			return nil, recorded{alone: &by[k]}, true
		}
		if ok {
			filters = append(filters, certificate.Vector{Scale: g.Scale, Items: g.Item})
		}
	}
	plan, tree, ok := setcover.Record(f.Plain, box, patternsOf(cols), cutoff, cuts, mt)
	if tree != nil {
		rec.search = &certificate.Search{Filters: filters, Root: tree}
	}
	return plan, rec, ok
}

// mark puts the proof into a leaf.
func (rec *recorded) mark(l *search.Leaf) {
	if rec.search != nil {
		l.Search = rec.search
	}
	if rec.alone != nil {
		l.Dual, l.Scale, l.RoundedUp = slices.Clone(rec.alone.Item), rec.alone.Scale, true
	}
}
