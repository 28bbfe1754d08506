package optimize

import (
	"cmp"
	"math"
	"slices"

	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// cut converts the solver's patterns to those of the plan, class by class.
func (d *decoder) cut(cols []model.PatternCount) error {
	in := d.in
	cols = slices.Clone(cols)
	slices.SortStableFunc(cols, func(a, b model.PatternCount) int {
		return cmp.Or(cmp.Compare(a.Bin, b.Bin), slices.CompareFunc(a.Uses, b.Uses, func(x, y model.Use) int {
			return cmp.Or(cmp.Compare(x.Item, y.Item), cmp.Compare(x.Orient, y.Orient), cmp.Compare(y.N, x.N))
		}))
	})
	of := make([][]model.PatternCount, len(in.model.Bins))
	for from := 0; from < len(cols); {
		to := from + 1
		for to < len(cols) && cols[to].Bin == cols[from].Bin {
			to++
		}
		of[cols[from].Bin] = cols[from:to]
		from = to
	}
	for c := range in.classes {
		bins := in.model.Classes[c].Bins
		if len(bins) > 1 {
			if err := d.stretches(c, of); err != nil {
				return err
			}
			continue
		}
		for _, col := range of[bins[0]] {
			cut := func() error { return d.stick(c, []*model.Pattern{&col.Pattern}, col.Count) }
			if col.Uses[0].Item == in.spare {
				cut = func() error { return d.spares(c, col.Count) }
			}
			if err := cut(); err != nil {
				return err
			}
		}
	}
	return nil
}

// spares buys sticks of a class that stay whole.
func (d *decoder) spares(c int, count int64) error {
	d.bought[c] += count
	for count > 0 {
		k := min(count, d.sticks[c].run(1))
		if k == 0 {
			return errColumns
		}
		d.used[d.sticks[c].deal(1, k, nil)[0]] += k
		count -= k
	}
	return nil
}

// stretches cuts sticks of several stretches: the next pattern of each goes on the same stick.
func (d *decoder) stretches(c int, of [][]model.PatternCount) error {
	bins := d.in.model.Classes[c].Bins
	lists := make([][]*model.Pattern, len(bins))
	most := 0
	for s, b := range bins {
		for k := range of[b] {
			for range of[b][k].Count {
				lists[s] = append(lists[s], &of[b][k].Pattern)
			}
		}
		most = max(most, len(lists[s]))
	}
	for n := range most {
		fills := make([]*model.Pattern, len(bins))
		for s := range lists {
			if n < len(lists[s]) {
				fills[s] = lists[s][n]
			}
		}
		if err := d.stick(c, fills, 1); err != nil {
			return err
		}
	}
	return nil
}

// stick cuts count sticks of a class, each stretch by its pattern.
func (d *decoder) stick(c int, fills []*model.Pattern, count int64) error {
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
		d.used[pat.Stick] += k
		d.cutOf[pat.Stick] += k
		for s, fl := range fills {
			if fl == nil {
				pat.Offcut = max(pat.Offcut, d.idle(c, s))
			} else if !d.lay(&pat, c, s, fl, hand) {
				return errColumns
			}
		}
		if !slices.ContainsFunc(pat.Turned, func(t Turn) bool { return t != Turn{} }) {
			pat.Turned = nil
		}
		d.plan.Patterns = append(d.plan.Patterns, pat)
		count -= k
	}
	return nil
}

// lay lays the pieces in hand on one stretch of a stick; it returns false if they cannot lie
// that way.
func (d *decoder) lay(pat *Pattern, c, s int, fl *model.Pattern, hand map[int][]int) bool {
	in, cl := d.in, &d.in.classes[c]
	x, ok := in.model.Fill(fl)
	if !ok {
		return false
	}
	seq, first := d.sequence(fl)
	pat.YardAfter = 0
	for n, u := range seq {
		if n == first && first > 0 {
			pat.YardAfter = len(pat.Pieces)
		}
		ids := hand[u.Item][:1]
		hand[u.Item] = hand[u.Item][1:]
		if g := in.items[u.Item].group; len(g) > 0 {
			ids = g
		}
		for _, id := range ids {
			pat.Pieces = append(pat.Pieces, id)
			pat.Turned = append(pat.Turned, in.items[u.Item].turns[u.Orient])
			if len(cl.clear) > 1 || len(in.problem.Sticks[pat.Stick].Defects) > 0 {
				pat.Stretch = append(pat.Stretch, s)
			}
		}
	}
	if !cl.yard {
		pat.Offcut = max(pat.Offcut, measure.Length(x.Offcut*in.unit/in.double))
		return true
	}
	if first == len(seq) {
		pat.YardAfter = len(pat.Pieces)
	}
	pat.Offcut = in.yardOffcut(&in.problem.Sticks[pat.Stick], pat, d.plan.Parts)
	return true
}

// idle returns the offcut of an uncut stretch.
func (d *decoder) idle(c, s int) measure.Length {
	w := d.in.classes[c].clear[s]
	return w.To - w.From
}

// sequence orders a filling and returns the number of its uses before the yard cut.
func (d *decoder) sequence(fl *model.Pattern) ([]model.Use, int) {
	in := d.in
	seq := in.model.Order(fl.Uses)
	if in.problem.Rules.Nest {
		return seq, 0
	}
	halves := in.model.Halves(fl)
	if halves == nil {
		return seq, 0
	}
	var one, two []model.Use
	for _, u := range seq {
		k := slices.IndexFunc(fl.Uses, func(v model.Use) bool { return v.Item == u.Item && v.Orient == u.Orient })
		if halves[k] > 0 {
			halves[k]--
			one = append(one, u)
		} else {
			two = append(two, u)
		}
	}
	return append(one, two...), len(one)
}

// yardOffcut returns the longest offcut of a stick that is cut in the yard.
func (in *instance) yardOffcut(s *stock.Stick, pat *Pattern, parts []stock.Piece) measure.Length {
	p := in.problem
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

// yardCut returns the start of the yard's cut of a stick, given the length of the pieces before
// it with a kerf after each, and the start of the usable part of the second part.
func (p *Problem) yardCut(s *stock.Stick, one measure.Length) (cut, from measure.Length) {
	cut = s.Length - p.Kerf - p.Rules.MaxTransport
	if one > 0 {
		cut = max(cut, s.TrimStart+one-p.Kerf)
	}
	return cut, max(cut+p.Kerf, s.TrimStart)
}
