package optimize

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
	"example.com/longpoint/stock"
)

// start converts a start plan, nil for none. Surplus pieces are removed, and so are sticks that
// would break a rule without them.
func (in *instance) start(plan *Plan) (*search.Start, error) {
	if plan == nil {
		return nil, nil
	}
	s := starter{in: in, out: &search.Start{Assemblies: make([][]int, len(in.model.Runs))}}
	s.plan = Plan{Patterns: slices.Clone(plan.Patterns)}
	if len(in.problem.Runs) > 0 {
		s.runs(plan.Spliced)
	} else if len(plan.Spliced) > 0 {
		s.fault("spliced", fmt.Sprintf("%d runs", len(plan.Spliced)), "none for a problem without runs")
	}
	s.patterns()
	if len(s.list) == 0 {
		s.place()
	}
	s.lots()
	s.spare(plan.Buy)
	return s.out, s.join()
}

type starter struct {
	in   *instance
	plan Plan // the start with its parts
	out  *search.Start
	startFaults

	partOf  []int    // per part: its item
	itemOf  [][]int  // per piece: its items, one unless it comes from one lot
	left    []int64  // per item: number still wanted
	classOf []int    // per stick, -1 for useless ones
	lotOf   []string // per group: the lot from which it is cut
	cut     []bool   // per group: whether it is cut
	needs   []need   // in the order of the patterns
}

// need is the pieces from a stretch of some sticks.
type need struct {
	uses  []model.Use
	bin   int
	count int64
}

// patterns verifies each pattern separately, with all its pieces, and that groups come from one
// lot.
func (s *starter) patterns() {
	p := s.in.problem
	c := &ruleCheck{p: p, plan: &s.plan, fill: true}
	used := make([]int, len(p.Sticks))
	pieces, known := len(p.Pieces)+len(s.plan.Parts), len(p.Runs) == 0 || len(s.list) == 0
	if !known {
		pieces = math.MaxInt // the parts depend on the invalid splices
	}
	for k := range s.plan.Patterns {
		if s.full() {
			return
		}
		pat := &s.plan.Patterns[k]
		sound := s.sound(p, pat, k, pieces, used)
		if !s.in.ruled && s.ruled(pat, k) || !sound || !known || !s.in.ruled && s.overfull(p, pat, k) {
			continue
		}
		grade := slices.IndexFunc(pat.Pieces, func(i int) bool { return c.piece(i).Grade > p.Sticks[pat.Stick].Grade })
		if grade >= 0 {
			s.fault(fmt.Sprintf("patterns[%d].pieces[%d]", k, grade), fmt.Sprintf("of grade %d on a stick of grade %d", c.piece(pat.Pieces[grade]).Grade, p.Sticks[pat.Stick].Grade), "a stick as good as the piece")
			continue
		}
		err := c.turns(k, pat)
		if err == nil {
			err = c.lay(k, pat)
		}
		s.claim(err)
	}
	if len(s.list) == 0 {
		s.claim(c.lots())
	}
}

// place converts the valid patterns to the solver's items and bins.
func (s *starter) place() {
	in, p := s.in, s.in.problem
	s.classOf = make([]int, len(p.Sticks))
	for i := range s.classOf {
		s.classOf[i] = -1
	}
	for c := range in.classes {
		for _, i := range in.classes[c].sticks {
			s.classOf[i] = c
		}
	}
	s.itemOf = make([][]int, len(p.Pieces))
	for k := range in.items {
		for _, i := range in.items[k].pieces {
			s.itemOf[i] = append(s.itemOf[i], k)
		}
		if g := in.items[k].group; len(g) > 0 {
			s.itemOf[g[0]] = append(s.itemOf[g[0]], k) // represents all
		}
	}
	s.lotOf, s.cut = make([]string, len(p.Rules.Groups)), make([]bool, len(p.Rules.Groups))
	lotted := make([]int, len(p.Pieces)) // the group of one lot, +1
	for g := range p.Rules.Groups {
		if p.Rules.Groups[g].Kind == GroupOneLot {
			for _, i := range p.Rules.Groups[g].Pieces {
				lotted[i] = g + 1
			}
		}
	}
	for k := range s.plan.Patterns {
		pat := &s.plan.Patterns[k]
		c := s.classOf[pat.Stick]
		if c < 0 {
			continue
		}
		bins := in.model.Classes[c].Bins
		uses := make([][]model.Use, len(bins))
		for j, i := range pat.Pieces {
			n := 0
			if pat.Stretch != nil {
				n = pat.Stretch[j]
			}
			if i < len(p.Pieces) && lotted[i] > 0 {
				g := lotted[i] - 1
				s.lotOf[g], s.cut[g] = p.Sticks[pat.Stick].Lot, true
			}
			if u, ok := s.use(pat, j); ok && n < len(uses) {
				uses[n] = append(uses[n], u)
			}
		}
		for n, list := range uses {
			s.needs = append(s.needs, need{addedUp(list), bins[n], int64(pat.Count)})
		}
	}
}

// use returns the item of a pattern's piece, and how it lies; it returns false for the members
// of a group that its first represents.
func (s *starter) use(pat *Pattern, j int) (model.Use, bool) {
	in, i := s.in, pat.Pieces[j]
	pc, items := (*stock.Piece)(nil), []int(nil)
	if n := len(in.problem.Pieces); i >= n {
		pc, items = &s.plan.Parts[i-n], s.partOf[i-n:i-n+1]
	} else {
		pc, items = &in.problem.Pieces[i], s.itemOf[i]
	}
	lot := in.problem.Sticks[pat.Stick].Lot
	at := slices.IndexFunc(items, func(k int) bool { return in.items[k].lot < 0 || in.lotNames[in.items[k].lot] == lot })
	if at < 0 {
		return model.Use{}, false
	}
	u := model.Use{Item: items[at], N: 1}
	if len(in.items[u.Item].group) > 0 || pat.Turned == nil {
		return u, true
	}
	way := in.lying(pc.Left, pc.Right, pat.Turned[j])
	way.Size = (way.Size + int64(pc.Length)*in.double) / in.unit
	u.Orient = max(0, slices.Index(in.model.Items[u.Item].Orientations, way))
	return u, true
}

// addedUp merges uses and sorts them.
func addedUp(uses []model.Use) []model.Use {
	slices.SortFunc(uses, func(a, b model.Use) int { return cmp.Or(cmp.Compare(a.Item, b.Item), cmp.Compare(a.Orient, b.Orient)) })
	out := uses[:0]
	for _, u := range uses {
		if k := len(out) - 1; k >= 0 && out[k].Item == u.Item && out[k].Orient == u.Orient {
			out[k].N += u.N
		} else {
			out = append(out, u)
		}
	}
	return out
}

// lots records the lot of each group and then, with all ways known, the fillings.
func (s *starter) lots() {
	in := s.in
	if len(s.list) > 0 {
		return
	}
	for k := range in.lots {
		g := in.lots[k].group
		if !s.cut[g] {
			continue
		}
		run := &in.model.Runs[in.runs+k]
		var way []int
		for at := 0; at < run.Nodes-1; {
			a := slices.IndexFunc(run.Arcs, func(a rules.Arc) bool {
				return a.From == at && in.lotNames[in.items[a.Item].lot] == s.lotOf[g]
			})
			if a < 0 {
				way = nil
				break
			}
			way, at = append(way, a), run.Arcs[a].To
		}
		s.out.Assemblies[in.runs+k] = way
	}
	s.left = make([]int64, len(in.items))
	for i := range in.model.Items {
		s.left[i] = in.model.Items[i].Demand
	}
	for r, way := range s.out.Assemblies {
		for _, a := range way {
			arc := &in.model.Runs[r].Arcs[a]
			s.left[arc.Item] += arc.N
		}
	}
	for _, n := range s.needs {
		s.fill(n)
	}
}

// fill adds fillings as far as they yield pieces still to cut.
func (s *starter) fill(n need) {
	for n.count > 0 {
		fl := model.Pattern{Bin: n.bin}
		count, spent := n.count, map[int]int64{} // by item, which may lie in several ways
		for _, u := range n.uses {
			if u.N = min(u.N, s.left[u.Item]-spent[u.Item]); u.N > 0 {
				spent[u.Item] += u.N
				fl.Uses = append(fl.Uses, u)
				count = min(count, s.left[u.Item]/spent[u.Item])
			}
		}
		if len(fl.Uses) == 0 {
			return
		}
		if _, ok := s.in.model.Fill(&fl); !ok {
			return // without its surplus pieces it breaks a rule
		}
		for i, m := range spent {
			s.left[i] -= count * m
		}
		n.count -= count
		s.out.Patterns = append(s.out.Patterns, model.PatternCount{Pattern: fl, Count: count})
	}
}

// spare records the sticks that are bought and not cut.
func (s *starter) spare(buy []Purchase) {
	in := s.in
	if in.spare < 0 || len(s.list) > 0 {
		return
	}
	cut := make([]int, len(in.problem.Sticks))
	for k := range s.plan.Patterns {
		pat := &s.plan.Patterns[k]
		cut[pat.Stick] = min(cut[pat.Stick], math.MaxInt-pat.Count) + pat.Count
	}
	for k := range buy {
		b := &buy[k]
		if b.Stick < 0 || b.Stick >= len(cut) {
			s.fault(fmt.Sprintf("buy[%d].stick", k), b.Stick, fmt.Sprintf("an index below %d", len(cut)))
			continue
		}
		if limit := in.problem.Sticks[b.Stick].Limit; limit != 0 && b.Count > max(limit, 0) {
			s.fault(fmt.Sprintf("buy[%d].count", k), b.Count, fmt.Sprintf("at most %d", max(limit, 0)))
			continue
		}
		c, n := s.classOf[b.Stick], min(int64(b.Count-cut[b.Stick]), s.left[in.spare])
		if c < 0 || n <= 0 || len(in.model.Classes[c].Bins) != 1 {
			continue
		}
		s.fill(need{[]model.Use{{Item: in.spare, N: 1}}, in.model.Classes[c].Bins[0], n})
	}
}
