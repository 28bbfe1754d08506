// Package residual has the problem that fixed patterns leave of a problem without rules.
package residual

import (
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/certificate"
	"example.com/longpoint/internal/solver/listing"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
)

// Problem is the problem that fixed patterns leave, with numbers of its own for the items that are left:
// relaxations and lists then have no rows for the others.
type Problem struct {
	model.Problem
	Item  []int // of the residual problem -> of the whole
	Fixed []model.PatternCount
	Spent int64 // the cost of the fixed patterns
}

// Of returns the problem that fixed patterns leave, or nil if no pieces are left.
func Of(p *model.Problem, fixed []model.PatternCount) *Problem {
	q := Problem{Fixed: fixed, Spent: model.Cost(p, fixed)}
	left, pieces := p.Demands(), int64(0)
	q.Bins = slices.Clone(p.Bins)
	for _, c := range fixed {
		q.Bins[c.Bin].Limit -= c.Count
		for _, u := range c.Uses {
			left[u.Item] -= u.N * c.Count
		}
	}
	for i, n := range left {
		if n > 0 {
			q.Items = append(q.Items, model.Item{Size: p.Items[i].Size, Demand: n})
			q.Item = append(q.Item, i)
			pieces += n
		}
	}
	if pieces == 0 {
		return nil
	}
	for b := range q.Bins {
		q.Bins[b].Limit = min(q.Bins[b].Limit, pieces)
	}
	return &q
}

// Joined returns the plan of the whole problem that the fixed patterns and a plan of the residual problem make.
func (q *Problem) Joined(plan []model.PatternCount) []model.PatternCount {
	out := slices.Clone(q.Fixed)
	for _, c := range plan {
		uses := make([]model.Use, len(c.Uses))
		for t, u := range c.Uses {
			uses[t] = model.Use{Item: q.Item[u.Item], N: u.N}
		}
		out = append(out, model.PatternCount{Pattern: model.Pattern{Bin: c.Bin, Uses: uses}, Count: c.Count})
	}
	return Merged(out)
}

// Merged joins equal patterns.
func Merged(cols []model.PatternCount) []model.PatternCount {
	var out []model.PatternCount
next:
	for _, c := range cols {
		for k := range out {
			if out[k].Bin == c.Bin && slices.Equal(out[k].Uses, c.Uses) {
				out[k].Count += c.Count
				continue next
			}
		}
		out = append(out, c)
	}
	return out
}

// The limits of a list, in patterns, in patterns visited for each of them, and in steps of the search.
const (
	most       = 3_000
	mostVisits = 20
	work       = 4_000_000
)

// Cheapest finds the cheapest plan of the residual problem below a cutoff by lists. The plan is nil if none was found;
// certain reports that there is none, or that no plan is cheaper.
func (q *Problem) Cheapest(by *master.Duals, cutoff int64, mt *meter.Meter) (plan []model.PatternCount, certain bool) {
	if by.Scale == 0 {
		return nil, false
	}
	value := make([]int64, len(q.Item))
	for k, i := range q.Item {
		value[k] = max(by.Item[i], 1)
	}
	f := master.NewFamilies(&q.Problem)
	d, ok := f.DualsOf(value, by.Scale, mt)
	if !ok {
		return nil, false
	}
	x := listing.Box{Families: f, Bounds: f.Root, Duals: []master.Duals{d}, Most: listing.Effort{Effort: master.Effort{Columns: most, Visits: mostVisits * most}, Steps: work}}
	found, certain := x.Cheapest(cutoff, mt)
	if found == nil {
		return nil, certain
	}
	cols, _ := model.Exact(&q.Problem, rules.ToPatterns(found))
	return cols, certain
}

// Whole converts a leaf of the residual problem to one of the whole problem, in which the other
// items have dual value zero.
func (q *Problem) Whole(l search.Leaf, items int) search.Leaf {
	wide := func(values []int64) []int64 {
		out := make([]int64, items)
		for k, i := range q.Item {
			out[i] = values[k]
		}
		return out
	}
	var node func(n *certificate.Node) *certificate.Node
	node = func(n *certificate.Node) *certificate.Node {
		if n == nil {
			return nil
		}
		out := *n
		if n.Vector != nil {
			v := *n.Vector
			v.Items = wide(v.Items)
			v.Cuts = slices.Clone(v.Cuts)
			for k := range v.Cuts {
				v.Cuts[k].Items = slices.Clone(v.Cuts[k].Items)
				for j, i := range v.Cuts[k].Items {
					v.Cuts[k].Items[j] = q.Item[i]
				}
			}
			out.Vector = &v
		}
		out.Row.Holds = slices.Clone(n.Row.Holds)
		for k := range out.Row.Holds {
			out.Row.Holds[k].Item = q.Item[out.Row.Holds[k].Item]
		}
		out.Then, out.Less, out.More = node(n.Then), node(n.Less), node(n.More)
		return &out
	}
	l.Dual = wide(l.Dual)
	if l.Search != nil {
		s := &certificate.Search{Root: node(l.Search.Root)}
		for _, f := range l.Search.Filters {
			s.Filters = append(s.Filters, certificate.Vector{Scale: f.Scale, Items: wide(f.Items)})
		}
		l.Search = s
	}
	return l
}
