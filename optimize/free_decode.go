package optimize

import (
	"cmp"
	"math"
	"slices"

	bp "example.com/longpoint/internal/solver/branchprice"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// decode turns what the engine found into a plan without its proof.
func (f *free) decode(r *bp.Result) (*Plan, error) {
	d := decoder{f: f, plan: &Plan{ByLength: f.byLength, Work: r.Work}}
	if err := d.runs(r.Assemblies); err != nil {
		return nil, err
	}
	d.deal()
	if err := d.cut(r.Patterns); err != nil {
		return nil, err
	}
	for i := range d.things {
		if len(d.things[i].ids) > 0 {
			return nil, errColumns
		}
	}
	d.order()
	if err := d.buy(); err != nil {
		return nil, err
	}
	d.plan.Cost = r.Cost * f.costUnit
	return d.plan, nil
}

type decoder struct {
	f      *free
	plan   *Plan
	parts  [][]int
	lots   [][]int // per item: pieces that a lot's way makes it yield
	things []dealer
	sticks []dealer
	bought []int64 // per class: sticks in use, spares too
	used   []int   // per stick
	cutOf  []int   // per stick: those that are cut
}

// runs names the parts of the runs.
func (d *decoder) runs(ways [][]int) error {
	f, p := d.f, d.f.problem
	d.parts = make([][]int, len(f.items))
	d.lots = make([][]int, len(f.items))
	if len(ways) != len(f.model.Runs) {
		return errColumns
	}
	for r := range p.Runs {
		run := &p.Runs[r]
		at := f.parts[r]
		s := SplicedRun{Run: r, At: []measure.Length{}}
		for k, a := range ways[r] {
			if k > 0 {
				s.At = append(s.At, at[f.model.Runs[r].Arcs[a].From])
			}
		}
		pieces, err := run.Pieces(s.At)
		if err != nil {
			return err
		}
		if len(pieces) != len(ways[r]) {
			return errColumns
		}
		for k, a := range ways[r] {
			id := len(p.Pieces) + len(d.plan.Parts)
			d.plan.Parts = append(d.plan.Parts, pieces[k])
			s.Pieces = append(s.Pieces, id)
			i := f.model.Runs[r].Arcs[a].Item
			d.parts[i] = append(d.parts[i], id)
		}
		d.plan.Spliced = append(d.plan.Spliced, s)
	}
	for k := range f.lots {
		run := &f.model.Runs[f.runs+k]
		g := p.Rules.Groups[f.lots[k].group].Pieces
		for n, a := range ways[f.runs+k] {
			if n >= len(g) {
				return errColumns
			}
			d.lots[run.Arcs[a].Item] = append(d.lots[run.Arcs[a].Item], g[n])
		}
	}
	return nil
}

// deal makes dealers of pieces and sticks. A group is dealt as its first piece.
func (d *decoder) deal() {
	f, p := d.f, d.f.problem
	for i := range f.items {
		var t dealer
		add := func(id int, n int64) { t.ids, t.left = append(t.ids, id), append(t.left, n) }
		it := &f.items[i]
		switch {
		case i == f.spare:
		case len(it.group) > 0:
			add(it.group[0], quantity(&p.Pieces[it.group[0]]))
		case it.lot >= 0:
			for _, id := range append(d.lots[i], it.begun...) {
				add(id, quantity(&p.Pieces[id]))
			}
		default:
			for _, id := range it.pieces {
				add(id, quantity(&p.Pieces[id]))
			}
			for _, id := range d.parts[i] {
				add(id, 1)
			}
		}
		d.things = append(d.things, t)
	}
	for c := range f.classes {
		var s dealer
		for _, i := range f.classes[c].sticks {
			n := int64(p.Sticks[i].Limit)
			if n == 0 {
				n = math.MaxInt64
			}
			s.ids, s.left = append(s.ids, i), append(s.left, n)
		}
		d.sticks = append(d.sticks, s)
	}
	d.bought = make([]int64, len(f.classes))
	d.used = make([]int, len(p.Sticks))
	d.cutOf = make([]int, len(p.Sticks))
}

// cut turns fillings into patterns.
func (d *decoder) cut(cols []rules.PatternCount) error {
	f := d.f
	cols = slices.Clone(cols)
	slices.SortStableFunc(cols, func(a, b rules.PatternCount) int {
		return cmp.Or(cmp.Compare(a.Bin, b.Bin), slices.CompareFunc(a.Uses, b.Uses, func(x, y rules.Use) int {
			return cmp.Or(cmp.Compare(x.Item, y.Item), cmp.Compare(x.Orient, y.Orient), cmp.Compare(y.N, x.N))
		}))
	})
	for c := range f.classes {
		bins := f.model.Classes[c].Bins
		if len(bins) == 1 {
			for _, col := range cols {
				if col.Bin != bins[0] {
					continue
				}
				if col.Uses[0].Item == f.spare {
					d.bought[c] += col.Count
					for n := col.Count; n > 0; {
						k := min(n, d.sticks[c].run(1), math.MaxInt)
						if k == 0 {
							return errColumns
						}
						d.used[d.sticks[c].deal(1, k, nil)[0]] += int(k)
						n -= k
					}
					continue
				}
				if err := d.stick(c, []*rules.Pattern{&col.Pattern}, col.Count); err != nil {
					return err
				}
			}
			continue
		}
		// Stretch by stretch: the next filling of each goes on the same stick.
		lists := make([][]*rules.Pattern, len(bins))
		most := 0
		for s, b := range bins {
			for k := range cols {
				if cols[k].Bin == b {
					for range cols[k].Count {
						lists[s] = append(lists[s], &cols[k].Pattern)
					}
				}
			}
			most = max(most, len(lists[s]))
		}
		for n := range most {
			fills := make([]*rules.Pattern, len(bins))
			for s := range lists {
				if n < len(lists[s]) {
					fills[s] = lists[s][n]
				}
			}
			if err := d.stick(c, fills, 1); err != nil {
				return err
			}
		}
	}
	return nil
}

// stick cuts count sticks of a class, each stretch as its filling says.
func (d *decoder) stick(c int, fills []*rules.Pattern, count int64) error {
	f := d.f
	need := map[int]int64{}
	var order []int
	for _, fl := range fills {
		if fl == nil {
			continue
		}
		for _, u := range fl.Uses {
			if need[u.Item] == 0 {
				order = append(order, u.Item)
			}
			need[u.Item] += u.N
		}
	}
	d.bought[c] += count
	for count > 0 {
		k := min(count, d.sticks[c].run(1), math.MaxInt)
		for _, i := range order {
			k = min(k, d.things[i].run(need[i]))
		}
		if k == 0 {
			return errColumns
		}
		hand := map[int][]int{}
		for _, i := range order {
			hand[i] = d.things[i].deal(need[i], k, nil)
		}
		pat := Pattern{Stick: d.sticks[c].deal(1, k, nil)[0], Count: int(k)}
		d.used[pat.Stick] += int(k)
		d.cutOf[pat.Stick] += int(k)
		turned := false
		for s, fl := range fills {
			if fl == nil {
				pat.Offcut = max(pat.Offcut, d.idle(c, s))
				continue
			}
			x, ok := f.model.Fill(fl)
			if !ok {
				return errColumns
			}
			seq, first := d.sequence(fl)
			pat.YardAfter = 0
			for n, u := range seq {
				if n == first && first > 0 {
					pat.YardAfter = len(pat.Pieces)
				}
				id := hand[u.Item][0]
				hand[u.Item] = hand[u.Item][1:]
				ids := []int{id}
				if g := f.items[u.Item].group; len(g) > 0 {
					ids = g
				}
				t := f.items[u.Item].turns[u.Orient]
				turned = turned || t != Turn{}
				for _, id := range ids {
					pat.Pieces = append(pat.Pieces, id)
					pat.Turned = append(pat.Turned, t)
					if len(f.classes[c].clear) > 1 || len(f.problem.Sticks[pat.Stick].Defects) > 0 {
						pat.Stretch = append(pat.Stretch, s)
					}
				}
			}
			if f.classes[c].yard {
				if first == len(seq) {
					pat.YardAfter = len(pat.Pieces)
				}
				pat.Offcut = f.yardOffcut(&f.problem.Sticks[pat.Stick], &pat, d.plan.Parts)
			} else {
				pat.Offcut = max(pat.Offcut, measure.Length(x.Offcut*f.unit/f.double))
			}
		}
		if !turned {
			pat.Turned = nil
		}
		d.plan.Patterns = append(d.plan.Patterns, pat)
		count -= k
	}
	return nil
}

// idle returns what a stretch that yields nothing leaves.
func (d *decoder) idle(c, s int) measure.Length {
	w := d.f.classes[c].clear[s]
	return w.To - w.From
}

// sequence lays a filling out and returns how many of its uses come before the yard
// cut.
func (d *decoder) sequence(fl *rules.Pattern) ([]rules.Use, int) {
	f := d.f
	seq := f.model.Order(fl.Uses)
	if f.problem.Rules.Nest {
		return seq, 0
	}
	halves := f.model.Halves(fl)
	if halves == nil {
		return seq, 0
	}
	var one, two []rules.Use
	for _, u := range seq {
		k := slices.IndexFunc(fl.Uses, func(v rules.Use) bool { return v.Item == u.Item && v.Orient == u.Orient })
		if halves[k] > 0 {
			halves[k]--
			one = append(one, u)
		} else {
			two = append(two, u)
		}
	}
	return append(one, two...), len(one)
}

// yardOffcut returns the longest that is left of a stick that is cut in the yard.
func (f *free) yardOffcut(s *stock.Stick, pat *Pattern, parts []stock.Piece) measure.Length {
	p := f.problem
	var one, two measure.Length
	for k, i := range pat.Pieces {
		l := p.Kerf
		if i < len(p.Pieces) {
			l += p.Pieces[i].Length
		} else {
			l += parts[i-len(p.Pieces)].Length
		}
		if k < pat.YardAfter {
			one += l
		} else {
			two += l
		}
	}
	cut, from := p.yardCut(s, one)
	return max(0, cut-s.TrimStart-one, s.Length-s.TrimEnd-from-two)
}

// yardCut returns where the yard's cut of a stick begins, when the pieces before it take so
// much with the kerf after each, and from where on the second part can be used.
func (p *Problem) yardCut(s *stock.Stick, one measure.Length) (cut, from measure.Length) {
	cut = s.Length - p.Kerf - p.Rules.MaxTransport
	if one > 0 {
		cut = max(cut, s.TrimStart+one-p.Kerf)
	}
	return cut, max(cut+p.Kerf, s.TrimStart)
}

// order puts the patterns in order, and the pieces of each.
func (d *decoder) order() {
	f := d.f
	patterns := d.arrange(d.plan.Patterns)
	d.plan.Patterns = d.arrange(newOrderer(f, d.plan.Parts).plan(patterns))
	if slices.Contains(f.problem.Rules.Goals, GoalPatterns) {
		// To lay a piece as given where another like it has to be turned may make two ways
		// of one.
		ways := (&ruleCheck{p: f.problem, plan: d.plan}).ways()
		if ways > (&ruleCheck{p: f.problem, plan: &Plan{Patterns: patterns, Parts: d.plan.Parts}}).ways() {
			o := newOrderer(f, d.plan.Parts)
			o.fixed = true
			d.plan.Patterns = d.arrange(o.plan(patterns))
		}
	}
}

// arrange puts patterns in the order of their sticks, those with longer pieces first, and
// joins equal ones.
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
	if n := len(d.f.problem.Pieces); i >= n {
		return d.plan.Parts[i-n].Length
	}
	return d.f.problem.Pieces[i].Length
}

// sells reports whether what to buy is not plain from the patterns.
func (p *Problem) sells() bool {
	if len(p.Rules.Charges) > 0 || p.Rules.Spare > 0 || p.Rules.MaxTransport > 0 {
		return true
	}
	for i := range p.Sticks {
		if s := &p.Sticks[i]; s.Bundle > 1 || s.Minimum > 1 || len(s.Breaks) > 0 {
			return true
		}
	}
	return false
}

// buy writes down the purchases.
func (d *decoder) buy() error {
	f, p := d.f, d.f.problem
	count := make([]int64, len(p.Sticks))
	cost := make([]int64, len(p.Sticks))
	for c := range f.classes {
		cl := &f.model.Classes[c]
		for _, i := range f.classes[c].sticks {
			count[i] = int64(d.used[i])
			cost[i] = count[i] * cl.Tiers[0].Price * f.costUnit
		}
		if f.classes[c].special && d.bought[c] > 0 {
			i := f.classes[c].sticks[0]
			n, v := cl.Buy(d.bought[c])
			count[i], cost[i] = n, v*f.costUnit
		}
		if f.classes[c].yard {
			for _, i := range f.classes[c].sticks {
				cost[i] += int64(d.cutOf[i]) * p.Rules.YardCut
			}
		}
	}
	d.plan.Buy = []Purchase{}
	for i := range count {
		if count[i] > math.MaxInt {
			return tooManySticks(i)
		}
		if count[i] > 0 {
			d.plan.Buy = append(d.plan.Buy, Purchase{Stick: i, Count: int(count[i]), Cost: cost[i]})
		}
	}
	return nil
}
