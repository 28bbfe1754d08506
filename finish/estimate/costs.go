package estimate

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/labor"
	"example.com/longpoint/internal/natural"
)

// costsOf lists the direct costs of a scenario: sticks with their spares and the suppliers'
// delivery charges, packages, and hours. Each names its origin.
func (w *work) costsOf(s *scenario, e *Estimate) []Cost {
	var out []Cost
	for i := range e.Plans {
		out = append(out, w.trimCosts(s, &e.Plans[i])...)
	}
	for _, o := range e.Orders {
		if o.Delivery > 0 {
			out = append(out, Cost{Label: "delivery, " + o.Supplier, Kind: CostDelivery, Amount: o.Delivery, Quantity: finish.Count(1), Source: "supplier"})
		}
	}
	for _, b := range e.Finish.Purchases {
		if b.Cost > 0 {
			out = append(out, Cost{Label: b.Product, Kind: CostConsumables, Amount: b.Cost, Quantity: b.Bought, Source: "whole packages, " + b.Need.String() + " needed"})
		}
	}
	out = append(out, w.tearOutCosts()...)
	for _, l := range s.lines {
		if l.Labor > 0 {
			out = append(out, Cost{Label: laborLabel(l), Kind: CostLabor, Room: l.Room, Profile: l.Profile, Step: l.Step, Labor: l.Labor, Quantity: quantityOf(l), Source: ratesOf(l, &w.rates)})
		}
	}
	for _, x := range e.Sequence.Job.Work[s.works:] { // dusting, punch list, final cleaning
		if x.Labor > 0 {
			out = append(out, Cost{Label: "labor", Kind: CostLabor, Room: x.Room, Step: x.Step, Labor: x.Labor, Source: "choices in the order of work"})
		}
	}
	return distinctCosts(append(out, w.job.Costs...))
}

// distinctCosts distinguishes costs of the same name: the job may use a name that is used here.
func distinctCosts(all []Cost) []Cost {
	seen := make(map[costKey]bool, len(all))
	for i := range all {
		c := &all[i]
		label := c.Label
		for n := 2; seen[c.key()]; n++ {
			c.Label = label + " (" + strconv.Itoa(n) + ")"
		}
		seen[c.key()] = true
	}
	return all
}

// laborLabel names a line of labor; setting up and cleaning up are named by their task.
func laborLabel(l labor.Line) string {
	if l.Kind == labor.KindWork {
		return "labor"
	}
	return l.Kind.String() + ", " + l.Task.String()
}

// quantityOf returns the first quantity of a line, such as the length of base.
func quantityOf(l labor.Line) finish.Amount {
	if len(l.Parts) == 0 {
		return finish.Amount{}
	}
	return l.Parts[0].Quantity
}

// ratesOf names the sources of a line's rates, each once.
func ratesOf(l labor.Line, r *labor.Rates) string {
	var all []string
	for _, p := range l.Parts {
		if p.Rate < 0 || p.Rate >= len(r.Table) {
			continue
		}
		source := r.Table[p.Rate].Source
		if date := r.Table[p.Rate].Date; date != "" {
			source += ", " + date
		}
		if !slices.Contains(all, source) {
			all = append(all, source)
		}
	}
	return strings.Join(all, "; ")
}

// tearOutCosts lists the costs of the tear-out: hours, dust containment, disposal.
func (w *work) tearOutCosts() []Cost {
	var out []Cost
	for _, t := range tearOutSteps(w.tearOut) {
		if t.Labor == 0 {
			continue
		}
		c := Cost{Label: "labor", Kind: CostLabor, Room: t.Room, Step: t.Task.String(), Labor: t.Labor, Quantity: t.Amount, Source: t.Source}
		if t.Rate >= 0 && t.Rate < len(w.tearOut.Rates) {
			c.Source = w.tearOut.Rates[t.Rate].Source
		}
		out = append(out, c)
	}
	for _, b := range w.sheeting {
		if b.Cost > 0 {
			out = append(out, Cost{Label: b.Product, Kind: CostConsumables, Step: tearOutStep, Amount: b.Cost, Quantity: b.Bought, Source: "whole packages, " + b.Need.String() + " needed"})
		}
	}
	if w.tearOut == nil {
		return out
	}
	bags, boxes := w.tearOut.Debris.Bags, w.tearOut.Boxes
	if n, price := bags, w.job.Disposal.Bag; n > 0 && price > 0 && (w.job.Disposal.Box == 0 || natural.CompareProducts(n, price, boxes, w.job.Disposal.Box) <= 0) {
		out = append(out, Cost{Label: "disposal, by the bag", Kind: CostDisposal, Step: tearOutStep, Amount: times(n, price), Quantity: finish.Count(n), Source: "terms of the job"})
	} else if n, price := boxes, w.job.Disposal.Box; n > 0 && price > 0 {
		out = append(out, Cost{Label: "disposal, by the box", Kind: CostDisposal, Step: tearOutStep, Amount: times(n, price), Quantity: finish.Count(n), Source: "terms of the job"})
	}
	return out
}

const tearOutStep = "tear-out"

// times multiplies, and saturates at the greatest amount, which no quote can hold.
func times(n, price int64) int64 {
	if v, ok := natural.Mul(n, price); ok {
		return v
	}
	return math.MaxInt64
}

// trimCosts lists the costs of a profile: the sticks that are cut, the spare ones, splices and
// yard cuts, and the other costs of its material.
func (w *work) trimCosts(s *scenario, p *ProfilePlan) []Cost {
	var out []Cost
	add := func(label string, kind CostKind, amount int64, n finish.Amount, source string) {
		if amount > 0 {
			out = append(out, Cost{Label: label, Kind: kind, Profile: p.Profile, Amount: amount, Quantity: n, Source: source})
		}
	}
	bought := int64(0)
	for _, b := range p.Plan.Buy {
		if !p.Problem.Sticks[b.Stick].Rack {
			bought += int64(b.Count)
		}
	}
	whole := bought // sticks that are bought and not cut: spares may be from the rack
	for _, c := range p.Plan.Patterns {
		if !p.Problem.Sticks[c.Stick].Rack {
			whole -= int64(c.Count)
		}
	}
	spare := min(int64(p.Spare), whole)
	if p.SpareCost == 0 {
		spare = 0
	}
	source := "cutting plan, proven: none costs less"
	if !p.Plan.Proven {
		source = "cutting plan; none costs less than " + w.job.Locale.FormatMoney(p.Plan.Bound/p.Parts)
	}
	sticks := p.Summary.StickCost / p.Parts
	add("sticks", CostTrim, sticks-min(p.SpareCost, sticks), finish.Count(max(bought-spare, 0)/p.Parts), source)
	add("spare sticks", CostTrim, min(p.SpareCost, sticks), finish.Count(spare), "rule of the material for spares")
	add("cuts in the yard", CostOther, p.Summary.YardCutCost/p.Parts, finish.Amount{}, "rules")
	add("splices", CostOther, p.Summary.SpliceCost/p.Parts, finish.Amount{}, "splice rules")
	if m := w.materialOf(s, p.Profile); m >= 0 {
		for _, c := range w.job.Materials[m].Costs {
			c.Profile = p.Profile
			out = append(out, c)
		}
	}
	return out
}
