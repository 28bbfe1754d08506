package optimize

import (
	"context"
	"math"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/certificate"
	"example.com/longpoint/internal/solver/search"
)

// certifyRules adds searches to leaves that show too little, if Check can verify them: see
// instance.certify.
func (f *instance) certifyRules(ctx context.Context, plan *Plan, pr *unsealed, in []search.Leaf, limit int64) {
	if !slices.ContainsFunc(in, func(l search.Leaf) bool { return l.Search != nil }) {
		return
	}
	steps := hurried(limit, func() error { return meter.Ended(ctx) })
	e := gatherRules(f.problem, &steps)
	leaves, at, ok := f.leaves(in, e)
	if !ok {
		return
	}
	lists, ok := e.lists(f.costUnit)
	if !ok {
		return
	}
	t, ok := f.renumbering(e, lists)
	if !ok {
		return
	}
	full := &unsealed{kind: ProofEnumeration, Evidence: certificate.Evidence{Unit: f.costUnit, LeafBound: plan.Bound, Leaves: leaves}}
	full.Beyond = &certificate.Searching{Items: len(lists.items)}
	x := full.exhibit()
	for n, k := range at {
		s := in[k].Search
		if s == nil {
			leaves[n].Sums = leaves[n].Sums || in[k].RoundedUp
			continue
		}
		leaves[n].Sums = true
		own := t.search(n, s)
		if own.Root == nil {
			return
		}
		short, ok := pressed(lists, &leaves[n], own, x)
		if !ok {
			return
		}
		if short != nil {
			full.Beyond.Searches = append(full.Beyond.Searches, *short)
		}
	}
	if len(full.Beyond.Searches) == 0 {
		return
	}
	e.shortenBetween(full)
	again := hurried(limit, func() error { return meter.Ended(ctx) })
	e.steps = &again
	if x = full.exhibit(); x.beyond == nil || e.form(x) != nil || e.covered(x) != coverFull {
		return
	}
	if shown, _, err := e.shown(x, plan.Bound); err == nil && shown >= plan.Bound {
		*pr = *full
	}
}

// shortenBetween shortens the leaves without a search.
func (e *ruleEvidence) shortenBetween(full *unsealed) {
	full.shortenBetween(e.numbers, func(values *leaf) func(*leaf) bool {
		h := e.holding(values)
		return func(l *leaf) bool {
			v, known, fits := e.shownBy(l, full.Unit, h, full.LeafBound, math.MaxInt64)
			return known && fits && v >= full.LeafBound && e.steps.left >= 0
		}
	})
}

// matching makes a renumbering for a problem with rules.
type matching struct {
	renumbering
	same bool // so far the items of the solver are those of the proof
}

// renumbering returns the translation of the solver's numbers; not ok if the items differ.
func (f *instance) renumbering(e *ruleEvidence, lists *ruleLists) (*renumbering, bool) {
	t := &matching{renumbering{items: len(lists.items), classes: len(e.class), cuts: map[string]int{}, itemOf: slices.Repeat([]int{noItem}, len(f.items))}, true}
	for c := range f.classes {
		t.classOf = append(t.classOf, e.of[f.classes[c].sticks[0]])
	}
	f.matchItems(t, e, lists)
	for c := range f.classes {
		at := t.classOf[c]
		for n := range len(e.class[at].clear) {
			if lists.gap[at] != noItem {
				t.itemOf = append(t.itemOf, lists.gap[at]+n)
			}
		}
	}
	for r := range f.model.Runs {
		if r >= f.runs {
			f.matchLots(t, e, &f.lots[r-f.runs])
			continue
		}
		t.runs = append(t.runs, ruleRun{at: r})
		for _, a := range f.model.Runs[r].Arcs {
			for _, own := range lists.routes[r].arcs[a.From] {
				if own.to == a.To {
					t.match(a.Item, own.item)
				}
			}
		}
	}
	seen := make([]bool, t.items)
	for _, k := range t.itemOf {
		if k < 0 || seen[k] {
			return nil, false
		}
		seen[k] = true
	}
	return &t.renumbering, t.same
}

// match records that an item of the solver is one of the proof.
func (t *matching) match(item, here int) {
	t.same = t.same && here >= 0 && (t.itemOf[item] == noItem || t.itemOf[item] == here)
	t.itemOf[item] = here
}

// matchItems matches the items of pieces, groups and spares.
func (f *instance) matchItems(t *matching, e *ruleEvidence, lists *ruleLists) {
	articleOf := map[int]int{}
	for k := range e.articles {
		if a := &e.articles[k]; a.part == 0 {
			articleOf[a.pieces[0]] = k
		}
	}
	for i := range f.items {
		it := &f.items[i]
		switch {
		case i == f.spare:
			t.match(i, lists.spare)
		case len(it.group) > 0:
			t.match(i, lists.at[articleOf[it.group[0]]][0])
		}
		for _, id := range it.pieces {
			at, n := lists.at[articleOf[id]], 0
			if len(at) > 1 {
				n = slices.Index(e.lots, f.lotNames[it.lot])
			}
			if t.same = t.same && n >= 0; t.same {
				t.match(i, at[n])
			}
		}
	}
}

// matchLots matches the run of a group that comes from one lot.
func (f *instance) matchLots(t *matching, e *ruleEvidence, lr *lotRun) {
	run := ruleRun{at: f.runs, between: len(f.problem.Rules.Groups[lr.group].Pieces) - 1}
	for _, l := range lr.lots {
		run.lots = append(run.lots, slices.Index(e.lots, f.lotNames[l]))
	}
	for g := range lr.group {
		if gr := &f.problem.Rules.Groups[g]; gr.Kind == GroupOneLot && !gr.Started {
			run.at++
		}
	}
	t.runs = append(t.runs, run)
}
