package listing

import (
	"slices"

	"example.com/longpoint/internal/solver/certificate"
	"example.com/longpoint/internal/solver/rules"
)

// Recorded returns the tree of a search of a plain problem; nil if none was recorded. The classes of its vectors have the
// dual values of their rows.
func (l *Search) Recorded() *certificate.Node { return l.list.Recorded }

// Tree returns the tree of a search, in the terms of optimize.Proof, of a problem with rules; nil if none was recorded or a
// part of it cannot be stated. In place of the dual value of a class's row it has the value of a stick: its price less that
// dual value. If a stick has several bins, each bin is one more item, in the order of classes and bins. Nodes are numbered
// within their run.
func (l *Search) Tree() *certificate.Node {
	if l.list.Recorded == nil {
		return nil
	}
	t := recordedTree{Search: l, classOf: l.P.ClassOf(), itemOf: make([]int, len(l.P.Bins))}
	n := len(l.P.Items)
	for c := range l.P.Classes {
		if l.list.Places[c].Column >= 0 {
			t.several = append(t.several, c)
			for _, b := range l.P.Classes[c].Bins {
				t.itemOf[b], t.bins = n+len(t.bins), append(t.bins, b)
			}
		}
	}
	return t.node(l.list.Recorded)
}

type recordedTree struct {
	*Search
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
		v.Classes = make([]int64, len(t.P.Classes))
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
		out.Way = &certificate.Way{Run: n.Way.Run, At: n.Way.At - int(t.Search.node[n.Way.Run])}
		return out
	}
	out.Row = n.Row
	switch b := n.Row.Class; {
	case b >= len(t.list.Rows):
		out.Row.Class = t.several[b-len(t.list.Rows)]
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
