package rules

import "slices"

// Offcut returns the longest offcut of a plan.
func (p *Problem) Offcut(plan []ColumnCount) int64 {
	most := int64(0)
	for _, q := range plan {
		if q.Column.Fill != nil && !p.Items[q.Column.Fill.Uses[0].Item].Alone {
			if x, ok := p.Fill(q.Column.Fill); ok {
				most = max(most, x.Offcut)
			}
		}
	}
	return most
}

// LongestLeft returns the longest offcut of a plan, or the longest bin of a stick in use
// that is left idle if that is longer.
func (p *Problem) LongestLeft(plan []ColumnCount) int64 {
	most := p.Offcut(plan)
	if !p.Stretched() {
		return most
	}
	used := make([]int64, len(p.Bins))
	for _, q := range plan {
		if q.Column.Fill != nil {
			used[q.Column.Fill.Bin] += q.N
		}
	}
	for c, n := range p.Counts(used) {
		for _, b := range p.Classes[c].Bins {
			if used[b] < n {
				most = max(most, p.Bins[b].Cap-p.Kinds[p.Bins[b].Kind].Kerf)
			}
		}
	}
	return most
}

// Stretched reports whether some stick has several bins, of which one that is left idle is an
// offcut, too.
func (p *Problem) Stretched() bool {
	return slices.ContainsFunc(p.Classes, func(c StockClass) bool { return len(c.Bins) > 1 })
}

// Roomiest returns an upper bound on the length of an offcut.
func (p *Problem) Roomiest() int64 {
	most := int64(0)
	for b := range p.Bins {
		most = max(most, p.RoomiestOf(b))
	}
	return most
}

// RoomiestOf returns an upper bound on the length of an offcut of a bin: what one piece of the
// smallest item leaves.
func (p *Problem) RoomiestOf(b int) int64 {
	k := &p.Kinds[p.Bins[b].Kind]
	least := int64(-1)
	for i := range p.Items {
		if p.Items[i].Alone || k.Barred != nil && k.Barred[i] {
			continue
		}
		for _, w := range p.Items[i].Orientations {
			size := w.Size
			for _, c := range [2]int{w.Left, w.Right} {
				if c >= 0 {
					size -= p.Setbacks[c] / 2 // with neighbors it may take this little
				}
			}
			if least < 0 || size < least {
				least = size
			}
		}
	}
	if least < 0 {
		return 0
	}
	return max(0, p.Bins[b].Cap-least-k.Kerf)
}

// Asking returns the problem with one more item: an offcut of the length.
func (p *Problem) Asking(length int64) *Problem {
	q := *p
	q.Items = slices.Clone(p.Items)
	q.Kinds = slices.Clone(p.Kinds)
	kerf := int64(0)
	for k := range q.Kinds {
		kerf = max(kerf, q.Kinds[k].Kerf)
		if q.Kinds[k].Barred != nil {
			q.Kinds[k].Barred = append(slices.Clone(q.Kinds[k].Barred), false)
		}
	}
	q.Items = append(q.Items, Item{Demand: 1, Most: 1, Orientations: []Orientation{{length + kerf, Square, Square}}, Offcut: length})
	// What is left out of a pattern must not leave the offcut alone.
	q.Exact = true
	return &q
}

// FillOffcut puts the piece that asking wants into the longest offcut of the plan; nil where
// that is too short.
func (p *Problem) FillOffcut(plan []ColumnCount, length int64) []ColumnCount {
	fills, ways := p.Trim(plan)
	plan = plan[:0:0]
	for r, w := range ways {
		c := p.Assembly(r, w)
		plan = append(plan, ColumnCount{&c, 1})
	}
	for i := range fills {
		x, ok := p.Fill(&fills[i].Pattern)
		if !ok {
			return nil
		}
		plan = append(plan, ColumnCount{&Column{Fill: &fills[i].Pattern, Cost: p.Costs(&fills[i].Pattern, &x)}, fills[i].Count})
	}
	for at, q := range plan {
		if q.Column.Fill == nil || p.Items[q.Column.Fill.Uses[0].Item].Alone {
			continue
		}
		if x, ok := p.Fill(q.Column.Fill); !ok || x.Offcut < length {
			continue
		}
		f := q.Column.Fill.With(len(p.Items), 0, 1)
		out := append(slices.Clone(plan), ColumnCount{&Column{Fill: &f, Cost: q.Column.Cost}, 1})
		if out[at].N--; out[at].N == 0 {
			out = slices.Delete(out, at, at+1)
		}
		return out
	}
	return nil
}

// CountPatterns counts the different patterns of a plan.
func (p *Problem) CountPatterns(plan []ColumnCount) int64 {
	n := int64(0)
	for _, q := range plan {
		if q.Column.Fill != nil && !p.Items[q.Column.Fill.Uses[0].Item].Alone {
			n++
		}
	}
	return n
}
