package cutsheet

import (
	"sort"
	"strconv"
	"strings"

	"example.com/longpoint/optimize"
)

// runName returns the name of the k-th run.
func (s *Sheet) runName(k int) string {
	if l := s.problem.Runs[k].Label; l != "" {
		return l
	}
	return "run " + strconv.Itoa(k+1)
}

// runOf returns the run of a part by its number in Pattern.Pieces.
func (s *Sheet) runOf(i int) int { return runOf(s.plan, i) }

// runOf does the same for a plan that has been checked: its runs have the parts in order.
func runOf(plan *optimize.Plan, i int) int {
	k := sort.Search(len(plan.Spliced), func(k int) bool {
		ps := plan.Spliced[k].Pieces
		return ps[len(ps)-1] >= i
	})
	return min(k, len(plan.Spliced)-1)
}

// spliced describes the splices and the parts of the k-th run.
func (s *Sheet) spliced(k int) string {
	sp := &s.plan.Spliced[k]
	if len(sp.At) == 0 {
		return "in one piece"
	}
	at := make([]string, len(sp.At))
	for i, x := range sp.At {
		at[i] = s.length(x)
	}
	parts := make([]string, len(sp.Pieces))
	for i, n := range sp.Pieces {
		parts[i] = s.pieceName(n) + " (" + s.length(s.piece(n).Length) + ")"
	}
	how := "spliced"
	if s.problem.Runs[k].Splice.Bevel == 0 {
		how = "joined square"
	}
	on := ""
	if s.assumed(k) {
		on = ", on assumed studs: find them first"
	}
	return how + " at " + list(at) + " from the left long point" + on + "; from left to right " + list(parts)
}

// list joins words as in a sentence.
func list(words []string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
	return strings.Join(words, "")
}

// assumed reports whether the studs of the k-th run are assumed.
func (s *Sheet) assumed(k int) bool { return s.problem.Runs[k].Splice.Assumed }
