package rules

import (
	"cmp"
	"slices"
)

// Objective is the criterion that a search minimizes, with limits on others.
type Objective struct {
	Main   int
	Capped [Criteria]bool
	Limit  [Criteria]int64
}

// Rows returns the number of criteria that have a row. The last one, Splices, has a row only if
// it is capped.
func (a *Objective) Rows() int {
	if a.Capped[Splices] {
		return Criteria
	}
	return Criteria - 1
}

// Keeps reports whether the criteria of a plan are within the limits.
func (a *Objective) Keeps(comes *[Criteria]int64) bool {
	for k, v := range comes {
		if a.Capped[k] && v > a.Limit[k] {
			return false
		}
	}
	return true
}

// Column is a column of the master.
type Column struct {
	Fill *Pattern // nil for an assembly of a run
	Run  int
	Path Path
	Cost [Criteria]int64
}

// ColumnCount is a column with the number of times that it is used.
type ColumnCount struct {
	Column *Column
	N      int64
}

// Path is an assembly of a run: its arcs in order.
type Path []int

// Assembly returns the column of an assembly of a run.
func (p *Problem) Assembly(run int, along Path) Column {
	c := Column{Run: run, Path: along}
	for _, a := range along {
		c.Cost[Price] += p.Runs[run].Arcs[a].Cost
		c.Cost[Splices] += p.Runs[run].Arcs[a].Splices
	}
	return c
}

// Cut returns the column of pattern f, where x is the result of Fill.
func (p *Problem) Cut(f Pattern, x *PatternSize) *Column {
	c := &struct {
		Column
		f Pattern
	}{f: f}
	c.Fill = &c.f
	c.Cost = p.Costs(c.Fill, x)
	return &c.Column
}

// Proper reports whether a pattern holds no more of any item than a plan can use.
func (p *Problem) Proper(f *Pattern) bool {
	n := int64(0) // of an item, in all orientations
	for k, u := range f.Uses {
		if k > 0 && f.Uses[k-1].Item != u.Item {
			n = 0
		}
		if n += u.N; n > p.Items[u.Item].Most {
			return false
		}
	}
	return true
}

// Uses returns the items that the path takes.
func (r *Run) Uses(p Path) (uses []Use) {
	for _, a := range p {
		arc := &r.Arcs[a]
		k := 0
		for k < len(uses) && uses[k].Item < arc.Item {
			k++
		}
		if k < len(uses) && uses[k].Item == arc.Item {
			uses[k].N += arc.N
			continue
		}
		uses = append(uses, Use{})
		copy(uses[k+1:], uses[k:])
		uses[k] = Use{Item: arc.Item, N: arc.N}
	}
	return uses
}

// Upper returns, for each item that an assembly can take, the most that one assembly takes.
func (r *Run) Upper() []Use {
	if r.upTo != nil {
		return r.upTo
	}
	// Consecutive arcs, in increasing order of their ends.
	order := make([]int, len(r.Arcs))
	for a := range order {
		order[a] = a
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(r.Arcs[a].Item, r.Arcs[b].Item), cmp.Compare(r.Arcs[a].To, r.Arcs[b].To))
	})
	at := -1
	for _, a := range order {
		arc := &r.Arcs[a]
		k := len(r.upTo) - 1
		if k < 0 || r.upTo[k].Item != arc.Item {
			r.upTo = append(r.upTo, Use{Item: arc.Item})
			k++
			at = -1
		}
		if arc.From >= at {
			r.upTo[k].N += arc.N
			at = arc.To
		}
	}
	return r.upTo
}
