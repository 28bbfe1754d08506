package optimize

import (
	"context"
	"math"
	"slices"
	"strconv"

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

// shortenBetween shortens the leaves without a search. A leaf with a search gets the values of
// the leaf before it, since its own do not matter.
func (e *ruleEvidence) shortenBetween(full *unsealed) {
	searched := make([]bool, len(full.Leaves))
	for k := range full.Beyond.Searches {
		searched[full.Beyond.Searches[k].Leaf] = true
	}
	var bare []leaf
	for k := range full.Leaves {
		if !searched[k] {
			bare = append(bare, full.Leaves[k])
		}
	}
	shorten(bare, func(values *leaf) func(*leaf) bool {
		h := e.holding(values)
		return func(l *leaf) bool {
			v, known, fits := e.shownBy(l, full.Unit, h, full.LeafBound, math.MaxInt64)
			return known && fits && v >= full.LeafBound && e.steps.left >= 0
		}
	})
	last := leaf{Values: make([]int64, e.numbers), Scale: 1}
	for k := range full.Leaves {
		if searched[k] {
			full.Leaves[k] = withValues(&full.Leaves[k], &last)
			continue
		}
		full.Leaves[k], bare = bare[0], bare[1:]
		last = full.Leaves[k]
	}
}

// ruleNumbers copies searches, with the numbers of a proof instead of the solver's.
type ruleNumbers struct {
	items   int
	itemOf  []int // per item of the solver
	classOf []int
	classes int
	runs    []ruleRun // per run of the solver
	same    bool      // so far the items of the solver are those here
	cuts    map[string]int
}

// ruleRun is a run of the solver.
type ruleRun struct {
	at      int   // its number here
	lots    []int // of a group that comes from one lot; nil for any other run
	between int   // nodes of such a group between its ends, for each lot
}

// renumbering returns the translation of the solver's numbers; not ok if the items differ.
func (f *instance) renumbering(e *ruleEvidence, lists *ruleLists) (*ruleNumbers, bool) {
	t := &ruleNumbers{items: len(lists.items), classes: len(e.class), cuts: map[string]int{}, itemOf: slices.Repeat([]int{noItem}, len(f.items)), same: true}
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
	return t, t.same
}

// match records that an item of the solver is one of the proof.
func (t *ruleNumbers) match(item, here int) {
	t.same = t.same && here >= 0 && (t.itemOf[item] == noItem || t.itemOf[item] == here)
	t.itemOf[item] = here
}

// matchItems matches the items of pieces, groups and spares.
func (f *instance) matchItems(t *ruleNumbers, e *ruleEvidence, lists *ruleLists) {
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
func (f *instance) matchLots(t *ruleNumbers, e *ruleEvidence, lr *lotRun) {
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

func (t *ruleNumbers) search(leaf int, s *certificate.Search) *certificate.Search {
	out := &certificate.Search{Leaf: leaf, Root: t.node(s.Root)}
	for k := range s.Filters {
		out.Filters = append(out.Filters, certificate.Vector{Scale: s.Filters[k].Scale, Items: t.values(s.Filters[k].Items)})
	}
	return out
}

// values returns values of items in the order of the proof. A value below zero becomes zero: it
// belongs to an item that must not be cut too often, and here every item may.
func (t *ruleNumbers) values(in []int64) []int64 {
	out := make([]int64, t.items)
	for i, v := range in {
		out[t.itemOf[i]] = max(0, v)
	}
	return out
}

func (t *ruleNumbers) vector(v *certificate.Vector) *certificate.Vector {
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
func (t *ruleNumbers) node(n *certificate.Node) *certificate.Node {
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
