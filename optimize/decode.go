package optimize

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/measure"
)

var errColumns = errors.New("engine's columns do not match the problem")

// decode turns the engine's columns into patterns of sticks and pieces.
//
// Equal lengths are handed out piece by piece in index order, equal sticks
// stick by stick. A column is cut into several patterns only where one of
// these runs out, so that there are never more than columns, sticks and twice
// the pieces together, however large the counts.
func (in *instance) decode(columns []model.PatternCount) ([]Pattern, error) {
	columns = slices.Clone(columns)
	slices.SortStableFunc(columns, func(a, b model.PatternCount) int {
		return cmp.Or(cmp.Compare(a.Bin, b.Bin), slices.CompareFunc(a.Uses, b.Uses, func(x, y model.Use) int {
			return cmp.Or(cmp.Compare(x.Item, y.Item), cmp.Compare(y.N, x.N)) // the longest piece first
		}))
	})
	pieces := make([]dealer, len(in.piecesOf))
	for k, ids := range in.piecesOf {
		left := make([]int64, len(ids))
		for j, i := range ids {
			left[j] = quantity(&in.problem.Pieces[i])
		}
		pieces[k] = dealer{ids, left}
	}
	sticks := make([]dealer, len(in.classes))
	for c := range in.classes {
		ids := in.classes[c].sticks
		left := make([]int64, len(ids))
		for j, i := range ids {
			left[j] = int64(in.problem.Sticks[i].Limit)
			if left[j] == 0 {
				left[j] = math.MaxInt64
			}
		}
		sticks[c] = dealer{ids, left}
	}

	var patterns []Pattern
	for _, col := range columns {
		if col.Bin < 0 || col.Bin >= len(in.classOf) || col.Count <= 0 || len(col.Uses) == 0 {
			return nil, errColumns
		}
		for n := col.Count; n > 0; {
			stick := &sticks[in.classOf[col.Bin]]
			k := min(n, stick.run(1), math.MaxInt)
			for _, u := range col.Uses {
				if u.Item < 0 || u.Item >= len(pieces) || u.N <= 0 || u.N > maxPieces {
					return nil, errColumns
				}
				k = min(k, pieces[u.Item].run(u.N))
			}
			if k == 0 {
				return nil, errColumns
			}
			p := Pattern{Count: int(k)}
			p.Stick = stick.deal(1, k, nil)[0]
			for _, u := range col.Uses {
				p.Pieces = pieces[u.Item].deal(u.N, k, p.Pieces)
			}
			p.Offcut = in.offcut(&p)
			patterns = append(patterns, p)
			n -= k
		}
	}
	for k := range pieces {
		if len(pieces[k].ids) > 0 {
			return nil, errColumns
		}
	}
	patterns = in.arrange(patterns)
	return newOrderer(&free{problem: in.problem, double: 1, mt: in.mt}, nil).plan(patterns), nil
}

// arrange puts patterns in the order of their sticks, those with longer pieces
// first, and joins equal ones.
func (in *instance) arrange(patterns []Pattern) []Pattern {
	slices.SortStableFunc(patterns, func(a, b Pattern) int {
		return cmp.Or(cmp.Compare(a.Stick, b.Stick), slices.CompareFunc(a.Pieces, b.Pieces, func(x, y int) int {
			return cmp.Or(cmp.Compare(in.itemOf[x], in.itemOf[y]), cmp.Compare(x, y))
		}))
	})
	out := patterns[:0]
	for _, p := range patterns {
		if k := len(out) - 1; k >= 0 && out[k].Stick == p.Stick && slices.Equal(out[k].Pieces, p.Pieces) &&
			p.Count <= math.MaxInt-out[k].Count {
			out[k].Count += p.Count
			continue
		}
		out = append(out, p)
	}
	return out
}

// offcut returns what is left of a stick cut in pattern p. Pieces of a kerf
// more and a stick of a kerf more leave room for the cut after the last piece
// too, unless the remainder is no wider than the kerf.
func (in *instance) offcut(p *Pattern) measure.Length {
	left := usable(&in.problem.Sticks[p.Stick])
	for _, i := range p.Pieces {
		left -= in.problem.Pieces[i].Length + in.problem.Kerf
	}
	return max(left, 0)
}

// dealer hands out things that are alike in the order of their ids.
type dealer struct {
	ids  []int
	left []int64 // per id; more than zero
}

// run returns how many hands of n things can be dealt that all look the same,
// 0 when there are too few things for one.
func (d *dealer) run(n int64) int64 {
	if len(d.left) > 0 && d.left[0] >= n {
		return d.left[0] / n
	}
	for _, l := range d.left {
		if n -= min(n, l); n == 0 {
			return 1
		}
	}
	return 0
}

// deal removes hands of n things each, at most as many as run allows, and
// appends the ids of one hand.
func (d *dealer) deal(n, hands int64, to []int) []int {
	if d.left[0] >= n {
		for range n {
			to = append(to, d.ids[0])
		}
		d.take(n * hands)
		return to
	}
	for n > 0 {
		k := min(n, d.left[0])
		for range k {
			to = append(to, d.ids[0])
		}
		d.take(k)
		n -= k
	}
	return to
}

// take removes n of the first thing, which has as many.
func (d *dealer) take(n int64) {
	if d.left[0] -= n; d.left[0] == 0 {
		d.ids, d.left = d.ids[1:], d.left[1:]
	}
}
