package optimize

import (
	"cmp"
	"fmt"
	"slices"

	"example.com/longpoint/internal/solver/rules"
)

// lotRun is a group that comes from one lot: a run of the solver whose ways are the lots.
type lotRun struct {
	group int
	lots  []int
}

// addLots makes a run for each group that comes from one lot: a way for each lot, on which its
// pieces are items that only that lot's sticks yield.
func (in *instance) addLots() error {
	p := in.problem
	var names []string
	for c := range in.kindOf {
		if _, known := in.lotAt[in.kindOf[c].lot]; !known {
			in.lotAt[in.kindOf[c].lot] = len(names)
			names = append(names, in.kindOf[c].lot)
		}
	}
	arcs := 0
	in.lotNames = slices.Clone(names)
	for g := range p.Rules.Groups {
		gr := &p.Rules.Groups[g]
		if gr.Kind != GroupOneLot {
			continue
		}
		if gr.Started {
			in.begunLot(gr)
			continue
		}
		if arcs += len(names) * len(gr.Pieces); arcs > maxArcs {
			return fieldError(fmt.Sprintf("rules.groups[%d].pieces", g), len(gr.Pieces),
				fmt.Sprintf("fewer pieces, since there are %d lots: at most %d pieces of lots in all groups", len(names), maxArcs))
		}
		run := rules.Run{Nodes: 2 + len(names)*(len(gr.Pieces)-1)}
		last := run.Nodes - 1
		lr := lotRun{group: g}
		for l := range names {
			at := 0
			for k, i := range gr.Pieces {
				pc := &p.Pieces[i]
				it := in.itemOf(pc, l)
				to := 1 + l*(len(gr.Pieces)-1) + k
				if k == len(gr.Pieces)-1 {
					to = last
				}
				in.items[it].pieces = append(in.items[it].pieces, i)
				run.Arcs = append(run.Arcs, rules.Arc{From: at, To: to, Item: it, N: quantity(pc)})
				at = to
			}
			lr.lots = append(lr.lots, l)
		}
		slices.SortStableFunc(run.Arcs, func(a, b rules.Arc) int { return cmp.Compare(a.From, b.From) })
		in.model.Runs = append(in.model.Runs, run)
		in.lots = append(in.lots, lr)
	}
	return nil
}

// begunLot adds the rest of a started group: items that only its lot's sticks yield.
func (in *instance) begunLot(gr *Group) {
	l, known := in.lotAt[gr.Lot]
	if !known {
		l = len(in.lotNames)
		in.lotAt[gr.Lot] = l
		in.lotNames = append(in.lotNames, gr.Lot) // a lot without sticks
	}
	for _, i := range gr.Pieces {
		pc := &in.problem.Pieces[i]
		k := in.itemOf(pc, l)
		in.items[k].pieces = append(in.items[k].pieces, i)
		in.items[k].begun = append(in.items[k].begun, i)
		in.model.Items[k].Demand += quantity(pc)
	}
}
