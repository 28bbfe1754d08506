package branchprice

import (
	"slices"

	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/certificate"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/rules"
)

// shownBy returns the proof of a complete search over a list in a box, which shows that no plan costs less
// than the cutoff. It is nil if the proof cannot be stated.
func (r *solver) shownBy(b bound.Box, by []master.Duals, cutoff int64, l *listing) *certificate.Search {
	found := &certificate.Search{Root: l.recorded()}
	for k := range by {
		g, alone, ok := r.m.FilterOf(&by[k], b, cutoff)
		if alone { // these duals rule out every plan by themselves, and there is no list
			nothing := &certificate.Vector{Items: make([]int64, len(r.p.Items)), Classes: make([]int64, len(r.p.Classes))}
			return &certificate.Search{Filters: []certificate.Vector{{Scale: by[k].Scale, Items: slices.Clone(by[k].Item)}}, Root: &certificate.Node{Vector: nothing}}
		}
		if ok {
			found.Filters = append(found.Filters, certificate.Vector{Scale: g.Scale, Items: slices.Clone(g.Item)})
		}
	}
	if found.Root == nil || len(found.Filters) == 0 {
		return nil
	}
	return found
}

// recordable reports whether the tree of a search over a list can be recorded: the price is the only
// criterion, and there is no threshold.
func (r *solver) recordable() bool {
	return r.objective == rules.Objective{Main: rules.Price} && r.threshold == 0
}

// recorded returns the tree of the search in the terms of optimize.Proof; nil if there is none. In place of
// the dual value of a class's row it has the value of a stick: its price less that dual value. If a stick has
// several bins, each bin is one more item, in the order of classes and bins. Nodes are numbered within their
// run.
func (l *listing) recorded() *certificate.Node {
	if l.q.Recorded == nil {
		return nil
	}
	t := recordedTree{listing: l, classOf: l.p.ClassOf(), itemOf: make([]int, len(l.p.Bins))}
	n := len(l.p.Items)
	for c := range l.p.Classes {
		if l.q.Places[c].Column >= 0 {
			t.several = append(t.several, c)
			for _, b := range l.p.Classes[c].Bins {
				t.itemOf[b], t.bins = n+len(t.bins), append(t.bins, b)
			}
		}
	}
	return t.node(l.q.Recorded)
}

type recordedTree struct {
	*listing
	classOf []int // per bin
	several []int // classes of several bins, each with a column of its own
	bins    []int // of those
	itemOf  []int // per bin of those
}

// node returns a node and all below it, nil if a part of it cannot be stated.
func (t *recordedTree) node(n *certificate.Node) *certificate.Node {
	if n == nil {
		return nil
	}
	if n.Vector != nil {
		v := *n.Vector
		v.Classes = make([]int64, len(t.p.Classes))
		for b, c := range t.classOf {
			if t.itemOf[b] == 0 {
				v.Classes[c] = v.Scale*t.each[c][rules.Price] - n.Vector.Classes[b]
			}
		}
		v.Items = slices.Clone(v.Items)
		for _, b := range t.bins {
			v.Items = append(v.Items, -n.Vector.Classes[b])
		}
		out := &certificate.Node{Vector: &v}
		if n.Then != nil {
			if out.Then = t.node(n.Then); out.Then == nil {
				return nil
			}
		}
		return out
	}
	out := &certificate.Node{At: n.At, Less: t.node(n.Less), More: t.node(n.More)}
	switch {
	case out.Less == nil || out.More == nil:
		return nil
	case n.Way != nil:
		out.Way = &certificate.Way{Run: n.Way.Run, At: n.Way.At - int(t.listing.node[n.Way.Run])}
		return out
	}
	out.Row = n.Row
	switch b := n.Row.Class; {
	case b >= len(t.q.Rows):
		out.Row.Class = t.several[b-len(t.q.Rows)]
	case b >= len(t.classOf):
		return nil // a single assembly of a run was branched on
	case b >= 0:
		out.Row.Class = t.classOf[b]
		if t.itemOf[b] > 0 {
			out.Row.Holds = append(slices.Clone(n.Row.Holds), certificate.Hold{Item: t.itemOf[b], N: 1})
		}
	}
	return out
}
