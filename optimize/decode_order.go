package optimize

import (
	"cmp"
	"math"
	"slices"

	"example.com/longpoint/measure"
)

// order sorts the patterns, and orders the pieces of each.
func (d *decoder) order() {
	in := d.in
	patterns := d.arrange(d.plan.Patterns)
	d.plan.Patterns = d.arrange(newOrderer(in, d.plan.Parts).plan(patterns))
	if slices.Contains(in.problem.Rules.Goals, GoalPatterns) {
		// If one piece must be turned and an equal one lies as given, one pattern may become two.
		ways := (&ruleCheck{p: in.problem, plan: d.plan}).ways()
		if ways > (&ruleCheck{p: in.problem, plan: &Plan{Patterns: patterns, Parts: d.plan.Parts}}).ways() {
			o := newOrderer(in, d.plan.Parts)
			o.fixed = true
			d.plan.Patterns = d.arrange(o.plan(patterns))
		}
	}
}

// arrange sorts patterns by stick, those with longer pieces first, and merges equal ones.
func (d *decoder) arrange(patterns []Pattern) []Pattern {
	long := func(x, y int) int { return cmp.Or(cmp.Compare(d.length(y), d.length(x)), cmp.Compare(x, y)) }
	type ranked struct {
		Pattern
		falling []int // Pieces, the longest first
	}
	all := make([]ranked, len(patterns))
	for k, p := range patterns {
		all[k] = ranked{p, slices.SortedFunc(slices.Values(p.Pieces), long)}
	}
	slices.SortStableFunc(all, func(a, b ranked) int {
		return cmp.Or(cmp.Compare(a.Stick, b.Stick), slices.CompareFunc(a.falling, b.falling, long),
			slices.Compare(a.Pieces, b.Pieces), slices.CompareFunc(a.Turned, b.Turned, func(a, b Turn) int { return cmp.Compare(a.number(), b.number()) }), slices.Compare(a.Stretch, b.Stretch), cmp.Compare(a.YardAfter, b.YardAfter))
	})
	var out []Pattern
	for k := range all {
		p := all[k].Pattern
		if k := len(out) - 1; k >= 0 && out[k].Stick == p.Stick && slices.Equal(out[k].Pieces, p.Pieces) &&
			slices.Equal(out[k].Turned, p.Turned) && slices.Equal(out[k].Stretch, p.Stretch) && out[k].YardAfter == p.YardAfter &&
			p.Count <= math.MaxInt-out[k].Count {
			out[k].Count += p.Count
			continue
		}
		out = append(out, p)
	}
	return out
}

func (d *decoder) length(i int) measure.Length {
	if n := len(d.in.problem.Pieces); i >= n {
		return d.plan.Parts[i-n].Length
	}
	return d.in.problem.Pieces[i].Length
}
