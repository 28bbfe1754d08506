package listing

import (
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/certificate"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/setcover"
)

// Effort limits the search of a box.
type Effort struct {
	master.Effort
	Branching setcover.Branching
	Steps     int64 // of the search over the list; 0: the meter's limit
}

// Proof shows that no plan in a box costs less than a cutoff.
type Proof struct {
	Search *certificate.Search // the duals that shortened the list, and the tree of the search; nil if there is none
	Alone  *master.Duals       // duals that need no list; nil if there are none
}

// Box is a search for a plan in a box by a list of all columns that it can use.
type Box struct {
	Families *master.Families
	Bounds   bound.Box
	Duals    []master.Duals        // of the box or an enclosing one
	Costs    *bound.ReachableCosts // that plans in the box can have; nil: any
	Most     Effort
	Record   bool // the search is recorded in Proof

	Proof Proof // of the last Run, if that was complete; Search only if it was recorded
}

// Run returns the best plan below a cost, nil if there is none, and reports whether that is certain.
func (b *Box) Run(below int64, mt *meter.Meter) (plan []rules.ColumnCount, complete bool) {
	f := b.Families
	b.Proof = Proof{}
	list, ok := f.Enumerate(b.Bounds, b.Duals, b.Costs.Cutoff(below), &b.Most.Effort, mt)
	switch {
	case !ok:
		return nil, false
	case list.Alone != nil:
		b.Proof.Alone = list.Alone
		return nil, true
	}
	s := &Search{P: f.P, Objective: f.Objective, Box: b.Bounds, Columns: list.Columns, Costs: b.Costs, Branching: b.Most.Branching, Record: b.Record}
	if b.Most.Steps > 0 {
		mt = mt.Sub(b.Most.Steps)
	}
	plan, complete = s.Run(below, mt)
	if !complete || !b.Record {
		return plan, complete
	}
	root := s.Recorded()
	if f.Plain == nil {
		root = s.Tree()
	}
	if root != nil {
		b.Proof.Search = &certificate.Search{Root: root}
		for _, g := range list.Filters {
			b.Proof.Search.Filters = append(b.Proof.Search.Filters, certificate.Vector{Scale: g.Scale, Items: slices.Clone(g.Item)})
		}
	}
	return plan, complete
}

// firstGapShare is the part of the gap between bound and cutoff that the first list of Cheapest covers.
const firstGapShare = 64

// Cheapest is Run by the first of the duals, for problems so small that any plan is wanted: it looks for plans that cost
// hardly more than the bound, then for more expensive ones, until it finds one. The list for the cheapest plan is often
// short, even if the list up to the cutoff is far too long.
func (b *Box) Cheapest(below int64, mt *meter.Meter) (plan []rules.ColumnCount, certain bool) {
	base := max(0, b.Families.BoundOf(&b.Duals[0], b.Bounds))
	for gap := max(1, min(below-base, base)/firstGapShare); mt.Left(); gap *= 2 {
		upTo := min(base+gap, below)
		plan, certain = b.Run(upTo, mt)
		if plan != nil || !certain || upTo == below {
			return plan, certain
		}
	}
	return nil, false
}
