package master

import (
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/pricing"
	"example.com/longpoint/internal/solver/rules"
)

// Families describes all columns of a problem without listing them: patterns and assemblies by their oracles,
// and the costs of sticks. Bounds depend on it alone, not on the relaxation that the duals come from.
type Families struct {
	P         *rules.Problem
	Plain     *model.Problem // the same problem as P if there are no rules, else nil
	Objective rules.Objective
	Root      bound.Box // of all plans

	oracles    []pricing.Oracle
	classOf    []int
	supplierOf []int                   // class -> supplier, -1
	folded     []bool                  // class -> no purchases: the cost of a pattern is the price of a stick
	each       [][rules.Criteria]int64 // class -> cost of a stick; the price only if folded
	demand     []int64
	limit      []int64 // greatest count of each item in a pattern
}

// NewFamilies returns the columns of a problem without rules.
func NewFamilies(p *model.Problem) *Families {
	f := &Families{P: rules.Of(p), Plain: p, oracles: []pricing.Oracle{pricing.NewPlain(p)}}
	f.setUp()
	return f
}

// NewFamiliesOf returns the columns of a problem with rules, with an objective.
func NewFamiliesOf(p *rules.Problem, objective rules.Objective) *Families {
	f := &Families{P: p, Objective: objective}
	for k := range p.Kinds {
		f.oracles = append(f.oracles, pricing.NewKnapsack(p, k))
	}
	for r := range p.Runs {
		f.oracles = append(f.oracles, pricing.NewPaths(p, r))
	}
	f.setUp()
	return f
}

func (f *Families) setUp() {
	p := f.P
	f.classOf = p.ClassOf()
	f.supplierOf = slices.Repeat([]int{-1}, len(p.Classes))
	for g := range p.Suppliers {
		for _, c := range p.Suppliers[g].Classes {
			f.supplierOf[c] = g
		}
	}
	f.demand, f.limit = make([]int64, len(p.Items)), make([]int64, len(p.Items))
	for i := range p.Items {
		f.demand[i], f.limit[i] = p.Items[i].Demand, p.Items[i].Most
	}
	k := len(p.Classes)
	f.folded, f.each = make([]bool, k), make([][rules.Criteria]int64, k)
	f.Root = bound.Box{Lo: make([]int64, k), Hi: make([]int64, k), On: make([]bound.Supply, len(p.Suppliers))}
	for c := range p.Classes {
		cl := &p.Classes[c]
		f.each[c] = [rules.Criteria]int64{rules.Sticks: cl.Count, rules.Salvage: cl.Idle}
		if f.Plain != nil {
			f.folded[c], f.each[c][rules.Price] = true, f.Plain.Bins[c].Cost
		}
		hi := cl.Limit - cl.Settled
		if cl.Most > 0 {
			hi = min(hi, cl.Most)
		}
		f.Root.Hi[c] = cl.Available(hi)
	}
}

// ClassOf returns the class of a bin.
func (f *Families) ClassOf(bin int) int { return f.classOf[bin] }

// Range returns the least and the greatest number of sticks of a class in a box.
func (f *Families) Range(b bound.Box, c int) (lo, hi int64) {
	hi = b.Hi[c]
	if g := f.supplierOf[c]; g >= 0 && b.On[g] == bound.No {
		hi = 0
	}
	return min(b.Lo[c], hi), hi
}

// DualsOf completes dual values of the items, in a problem without rules, by the greatest dual
// value of a pattern of each bin, or its cost if that is greater. It reports false if that takes
// too much work.
func (f *Families) DualsOf(value []int64, scale int64, mt *meter.Meter) (Duals, bool) {
	d := Duals{Scale: scale, Item: value, Weight: [rules.Criteria]int64{rules.Price: scale}, Best: make([]int64, len(f.P.Bins))}
	need := make([]int64, len(f.P.Bins))
	for b := range need {
		if need[b] = pricing.Closed; f.Root.Hi[b] > 0 {
			need[b] = f.each[b][rules.Price] * scale
		}
	}
	ok := f.oracles[0].Build(&pricing.Prices{Item: d.Item, Weight: d.Weight, Need: need, Limit: f.limit}, d.Best, nil, mt)
	return d, ok
}
