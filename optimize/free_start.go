package optimize

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	bp "example.com/longpoint/internal/solver/branchprice"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// start restates a plan to begin from, nil for none. What it makes beyond what is wanted is
// left out, and so are sticks that would break a rule without it.
func (f *free) start(plan *Plan) (*bp.Start, error) {
	if plan == nil {
		return nil, nil
	}
	s := starter{f: f, out: &bp.Start{Assemblies: make([][]int, len(f.model.Runs))}}
	s.plan = Plan{Patterns: slices.Clone(plan.Patterns)}
	s.runs(plan.Spliced)
	s.patterns()
	if len(s.list) == 0 {
		s.place()
	}
	s.lots()
	s.spare(plan.Buy)
	return s.out, s.join()
}

type starter struct {
	f    *free
	plan Plan // the start with its parts
	out  *bp.Start
	startFaults

	partOf  []int    // per part: its item
	itemOf  [][]int  // per piece: its items, one unless it comes from one lot
	left    []int64  // per item: what is still wanted
	classOf []int    // per stick, -1 for those of no use
	lotOf   []string // per group: the lot that it is cut from
	cut     []bool   // per group: it is
	needs   []need   // in the order of the patterns
}

// need is what a stretch of some sticks yields.
type need struct {
	uses  []rules.Use
	bin   int
	count int64
}

// runs takes over how runs are spliced.
func (s *starter) runs(spliced []SplicedRun) {
	f, p := s.f, s.f.problem
	last := -1
	for k := range spliced {
		sp := &spliced[k]
		field := func(name string) string { return fmt.Sprintf("spliced[%d].%s", k, name) }
		if sp.Run <= last || sp.Run >= len(p.Runs) {
			s.fault(field("run"), sp.Run, fmt.Sprintf("ascending indices below %d", len(p.Runs)))
			continue
		}
		last = sp.Run
		pieces, way, ok := s.way(sp, field)
		if !ok {
			continue
		}
		first := len(p.Pieces) + len(s.plan.Parts)
		for j, i := range sp.Pieces {
			if len(sp.Pieces) != len(pieces) || i != first+j {
				s.fault(field("pieces"), fmt.Sprint(sp.Pieces), fmt.Sprintf("%d numbers from %d on, those of its parts, or none", len(pieces), first))
				break
			}
		}
		s.out.Assemblies[sp.Run] = way
		s.plan.Parts = append(s.plan.Parts, pieces...)
		s.plan.Spliced = append(s.plan.Spliced, *sp)
		for _, a := range way {
			s.partOf = append(s.partOf, f.model.Runs[sp.Run].Arcs[a].Item)
		}
	}
}

// way finds the way along a run that splices it at the given positions.
func (s *starter) way(sp *SplicedRun, field func(string) string) ([]stock.Piece, []int, bool) {
	f, run := s.f, &s.f.problem.Runs[sp.Run]
	if most := run.Splice.MaxSplices; most > 0 && len(sp.At) > most {
		s.fault(field("at"), fmt.Sprintf("%d splices", len(sp.At)), fmt.Sprintf("at most %d", most))
		return nil, nil, false
	}
	for j, x := range sp.At {
		if _, may := slices.BinarySearch(run.Splice.At, x); !may {
			s.fault(field(fmt.Sprintf("at[%d]", j)), x.About(), "one of the positions in splice.at")
			return nil, nil, false
		}
	}
	pieces, err := run.Pieces(sp.At)
	if err != nil {
		for bad := range measure.FieldErrors(err) {
			s.fault(field(bad.Field), bad.Value, bad.Want)
		}
		return nil, nil, false
	}
	at := append(append([]measure.Length{0}, sp.At...), run.Length)
	node := func(k int) int { n, _ := slices.BinarySearch(f.parts[sp.Run], at[k]); return n }
	var way []int
	for k := range len(at) - 1 {
		a := slices.IndexFunc(f.model.Runs[sp.Run].Arcs, func(a rules.Arc) bool { return a.From == node(k) && a.To == node(k+1) })
		if a < 0 {
			s.fault(field("at"), fmt.Sprintf("a part of %v", pieces[k].Length.About()), "parts that some stick holds")
			return nil, nil, false
		}
		way = append(way, a)
	}
	return pieces, way, true
}

// patterns verifies each pattern by itself, with all that it makes, and that groups come from
// one lot.
func (s *starter) patterns() {
	p := s.f.problem
	c := &ruleCheck{p: p, plan: &s.plan, fill: true}
	used := make([]int, len(p.Sticks))
	pieces, known := len(p.Pieces)+len(s.plan.Parts), len(s.list) == 0
	if !known {
		pieces = math.MaxInt // which parts there are depends on the splices at fault
	}
	for k := range s.plan.Patterns {
		if s.full() {
			return
		}
		pat := &s.plan.Patterns[k]
		if !s.sound(p, pat, k, pieces, used) || !known {
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

// place restates the patterns, which are sound, in the engine's items and bins.
func (s *starter) place() {
	f, p := s.f, s.f.problem
	s.classOf = make([]int, len(p.Sticks))
	for i := range s.classOf {
		s.classOf[i] = -1
	}
	for c := range f.classes {
		for _, i := range f.classes[c].sticks {
			s.classOf[i] = c
		}
	}
	s.itemOf = make([][]int, len(p.Pieces))
	for k := range f.items {
		for _, i := range f.items[k].pieces {
			s.itemOf[i] = append(s.itemOf[i], k)
		}
		if g := f.items[k].group; len(g) > 0 {
			s.itemOf[g[0]] = append(s.itemOf[g[0]], k) // stands for all
		}
	}
	s.lotOf, s.cut = make([]string, len(p.Rules.Groups)), make([]bool, len(p.Rules.Groups))
	in := make([]int, len(p.Pieces)) // the group of one lot, +1
	for g := range p.Rules.Groups {
		if p.Rules.Groups[g].Kind == GroupOneLot {
			for _, i := range p.Rules.Groups[g].Pieces {
				in[i] = g + 1
			}
		}
	}
	for k := range s.plan.Patterns {
		pat := &s.plan.Patterns[k]
		c := s.classOf[pat.Stick]
		if c < 0 {
			continue
		}
		bins := f.model.Classes[c].Bins
		uses := make([][]rules.Use, len(bins))
		for j, i := range pat.Pieces {
			n := 0
			if pat.Stretch != nil {
				n = pat.Stretch[j]
			}
			if i < len(p.Pieces) && in[i] > 0 {
				g := in[i] - 1
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

// use returns the item that a pattern's piece is, and how it lies; false for the members of a
// group that its first stands for.
func (s *starter) use(pat *Pattern, j int) (rules.Use, bool) {
	f, i := s.f, pat.Pieces[j]
	pc, items := (*stock.Piece)(nil), []int(nil)
	if n := len(f.problem.Pieces); i >= n {
		pc, items = &s.plan.Parts[i-n], s.partOf[i-n:i-n+1]
	} else {
		pc, items = &f.problem.Pieces[i], s.itemOf[i]
	}
	lot := f.problem.Sticks[pat.Stick].Lot
	at := slices.IndexFunc(items, func(k int) bool { return f.items[k].lot < 0 || f.lotNames[f.items[k].lot] == lot })
	if at < 0 {
		return rules.Use{}, false
	}
	u := rules.Use{Item: items[at], N: 1}
	if len(f.items[u.Item].group) > 0 || pat.Turned == nil {
		return u, true
	}
	way := f.lying(pc.Left, pc.Right, pat.Turned[j])
	way.Size = (way.Size + int64(pc.Length)*f.double) / f.unit
	u.Orient = max(0, slices.Index(f.model.Items[u.Item].Orientations, way))
	return u, true
}

// addedUp adds up uses and puts them in order.
func addedUp(uses []rules.Use) []rules.Use {
	slices.SortFunc(uses, func(a, b rules.Use) int { return cmp.Or(cmp.Compare(a.Item, b.Item), cmp.Compare(a.Orient, b.Orient)) })
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

// lots takes over from which lot each group comes, and then, with all ways known, the
// fillings.
func (s *starter) lots() {
	f := s.f
	if len(s.list) > 0 {
		return
	}
	for k := range f.lots {
		g := f.lots[k].group
		if !s.cut[g] {
			continue
		}
		run := &f.model.Runs[f.runs+k]
		var way []int
		for at := 0; at < run.Nodes-1; {
			a := slices.IndexFunc(run.Arcs, func(a rules.Arc) bool {
				return a.From == at && f.lotNames[f.items[a.Item].lot] == s.lotOf[g]
			})
			if a < 0 {
				way = nil
				break
			}
			way, at = append(way, a), run.Arcs[a].To
		}
		s.out.Assemblies[f.runs+k] = way
	}
	s.left = make([]int64, len(f.items))
	for i := range f.model.Items {
		s.left[i] = f.model.Items[i].Demand
	}
	for r, way := range s.out.Assemblies {
		for _, a := range way {
			arc := &f.model.Runs[r].Arcs[a]
			s.left[arc.Item] += arc.N
		}
	}
	for _, n := range s.needs {
		s.fill(n)
	}
}

// fill adds fillings as far as they make what is left to cut.
func (s *starter) fill(n need) {
	for n.count > 0 {
		fl := rules.Pattern{Bin: n.bin}
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
		if _, ok := s.f.model.Fill(&fl); !ok {
			return // without what is not wanted any more it breaks a rule
		}
		for i, m := range spent {
			s.left[i] -= count * m
		}
		n.count -= count
		s.out.Patterns = append(s.out.Patterns, rules.PatternCount{Pattern: fl, Count: count})
	}
}

// spare takes over which sticks are bought and not cut.
func (s *starter) spare(buy []Purchase) {
	f := s.f
	if f.spare < 0 || len(s.list) > 0 {
		return
	}
	cut := make([]int, len(f.problem.Sticks))
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
		if limit := f.problem.Sticks[b.Stick].Limit; limit != 0 && b.Count > max(limit, 0) {
			s.fault(fmt.Sprintf("buy[%d].count", k), b.Count, fmt.Sprintf("at most %d", max(limit, 0)))
			continue
		}
		c, n := s.classOf[b.Stick], min(int64(b.Count-cut[b.Stick]), s.left[f.spare])
		if c < 0 || n <= 0 || len(f.model.Classes[c].Bins) != 1 {
			continue
		}
		s.fill(need{[]rules.Use{{Item: f.spare, N: 1}}, f.model.Classes[c].Bins[0], n})
	}
}
