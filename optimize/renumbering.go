package optimize

import (
	"slices"
	"strconv"

	"example.com/longpoint/internal/solver/certificate"
)

// renumbering copies searches, with the numbers of a proof instead of the solver's.
type renumbering struct {
	items, classes  int   // of the proof
	itemOf, classOf []int // per item and class of the solver
	runs            []ruleRun
	cuts            map[string]int // by items, as text
}

// ruleRun is a run of the solver.
type ruleRun struct {
	at      int   // its number here
	lots    []int // of a group that comes from one lot; nil for any other run
	between int   // nodes of such a group between its ends, for each lot
}

// reversing returns the translation for a problem without rules: a proof lists its items in ascending order
// of size, the solver in descending order.
func reversing(items int, classOf []int) *renumbering {
	t := &renumbering{items: items, classes: len(classOf), classOf: classOf, cuts: map[string]int{}}
	for i := range items {
		t.itemOf = append(t.itemOf, items-1-i)
	}
	return t
}

// search returns a search of a leaf; its root is nil if it cannot be stated.
func (t *renumbering) search(leaf int, s *certificate.Search) *certificate.Search {
	out := &certificate.Search{Leaf: leaf, Root: t.node(s.Root)}
	for k := range s.Filters {
		out.Filters = append(out.Filters, certificate.Vector{Scale: s.Filters[k].Scale, Items: t.values(s.Filters[k].Items)})
	}
	return out
}

// values returns values of items in the order of the proof. A value below zero becomes zero: it
// belongs to an item that must not be cut too often, and here every item may.
func (t *renumbering) values(in []int64) []int64 {
	out := make([]int64, t.items)
	for i, v := range in {
		out[t.itemOf[i]] = max(0, v)
	}
	return out
}

func (t *renumbering) vector(v *certificate.Vector) *certificate.Vector {
	out := &certificate.Vector{Scale: v.Scale, Items: t.values(v.Items), Classes: make([]int64, t.classes), Rows: v.Rows}
	for c, at := range t.classOf {
		out.Classes[at] = v.Classes[c]
	}
	for _, w := range v.Cuts {
		cut := certificate.Weight{By: w.By}
		var text []byte
		for _, i := range w.Items {
			cut.Items = append(cut.Items, t.itemOf[i])
		}
		slices.Sort(cut.Items)
		for _, i := range cut.Items {
			text = strconv.AppendInt(append(text, ' '), int64(i), 10)
		}
		k, known := t.cuts[string(text)]
		if !known {
			k = len(t.cuts)
			t.cuts[string(text)] = k
		}
		cut.Cut = k
		out.Cuts = append(out.Cuts, cut)
	}
	return out
}

// node returns a node and its descendants, nil if they cannot be stated.
func (t *renumbering) node(n *certificate.Node) *certificate.Node {
	if n == nil {
		return nil
	}
	if n.Vector != nil {
		out := &certificate.Node{Vector: t.vector(n.Vector), Then: t.node(n.Then)}
		if n.Then != nil && out.Then == nil {
			return nil
		}
		return out
	}
	out := &certificate.Node{At: n.At, Less: t.node(n.Less), More: t.node(n.More)}
	if out.Less == nil || out.More == nil {
		return nil
	}
	if n.Way != nil {
		run := &t.runs[n.Way.Run]
		out.Way = &certificate.Way{Run: run.at, At: n.Way.At}
		if run.lots != nil {
			if run.between < 1 || n.Way.At < 1 {
				return nil
			}
			out.Way.At = run.lots[(n.Way.At-1)/run.between]
		}
		return out
	}
	if out.Row.Class = n.Row.Class; n.Row.Class >= 0 {
		out.Row.Class = t.classOf[n.Row.Class]
	}
	for _, h := range n.Row.Holds {
		out.Row.Holds = append(out.Row.Holds, certificate.Hold{Item: t.itemOf[h.Item], N: h.N})
	}
	slices.SortFunc(out.Row.Holds, func(a, b certificate.Hold) int { return a.Item - b.Item })
	return out
}
