package cover

import (
	"cmp"
	"math"
	"math/bits"
	"slices"

	"example.com/longpoint/internal/model"
)

// Cuts: patterns must hold each item as often as it is needed, so half the sum of
// the rows of any items that need an odd number D of copies together, with
// coefficients rounded up, is at least D/2 rounded up (V. Chvatal, R. E. Gomory;
// A. Caprara, M. Fischetti, {0, 1/2}-Chvatal-Gomory cuts, Mathematical Programming
// 74 (1996) 221-235; on three items, subset-row cuts: M. Jepsen, B. Petersen, S.
// Spoorendonk, D. Pisinger, Subset-row inequalities applied to the vehicle-routing
// problem with time windows, Operations Research 56 (2008) 497-511). Since the
// patterns are given one by one here, a cut costs nothing but its row.
const (
	cutRounds     = 15 // at the root
	cutsPerRound  = 25
	cutItems      = 60 // of one cut
	leastViolated = 0.02
)

// half returns half the number of the items in the uses, rounded up.
func half(items []int32, uses []model.Use) int64 {
	n := int64(0)
	for _, u := range uses {
		for _, i := range items {
			if u.Item == int(i) {
				n += u.N
			}
		}
	}
	return (n + 1) / 2
}

// cut adds violated cuts and solves again, as long as that pays.
func (s *search) cut(depth int) (closed, ok bool) {
	rounds := cutRounds
	if depth > 0 {
		rounds = 1
	}
	n, idle := len(s.p.Items), 0
	for range rounds {
		before, live := s.lp.Objective(), len(s.live[depth+1])
		if len(s.rows) > 2*n {
			return false, true
		}
		if added, ok := s.separate(depth); added == 0 || !ok {
			return false, ok
		}
		if closed, ok = s.relax(s.live[depth+1], depth); closed || !ok {
			return closed, ok
		}
		gap := float64(s.cutoff-1)/s.unit - before
		if s.lp.Objective()-before < float64(0.01*gap) && float64(len(s.live[depth+1])) > 0.98*float64(live) {
			if idle++; idle == 3 {
				break
			}
		} else {
			idle = 0
		}
	}
	return false, true
}

// violated is a cut that the relaxation does not keep.
type violated struct {
	items []int32
	by    float64
}

// separate adds the most violated cuts and returns how many; not ok when the
// meter ran out.
//
// A cut of a set of items is violated by half of what 1 is more than the sum of
// the values of patterns that hold an odd number of them, and of what the
// patterns hold too much of each. Sets with few odd patterns are found by
// elimination modulo 2, the patterns of the greatest values first, after A. M. C.
// A. Koster, A. Zymolka, M. Kutschka, Algorithms to separate {0, 1/2}-Chvatal-Gomory
// cuts, Algorithmica 55 (2009) 375-391.
func (s *search) separate(depth int) (added int, ok bool) {
	n := len(s.p.Items)
	type share struct {
		x    float64
		uses []model.Use
	}
	var shares []share
	over := make([]float64, n)
	for i, it := range s.p.Items {
		over[i] = -float64(it.Demand)
	}
	for c, j := range s.pat {
		x := s.lp.Value(c)
		if x <= noise {
			continue
		}
		uses := s.pats[j].Uses
		shares = append(shares, share{x, uses})
		for _, u := range uses {
			over[u.Item] += float64(float64(u.N) * x)
		}
	}
	for i, v := range over {
		if v > 1e-6 {
			shares = append(shares, share{v, []model.Use{{Item: i, N: 1}}})
		}
	}
	slices.SortStableFunc(shares, func(a, b share) int { return cmp.Compare(b.x, a.x) })
	words := (len(shares) + n + 63) / 64 // of a row: its odd shares, then its items
	rows := make([][]uint64, n)
	odd := make([]bool, n) // whether so many are needed together
	buf := make([]uint64, n*words)
	for i := range rows {
		rows[i] = buf[i*words : (i+1)*words]
		k := len(shares) + i
		rows[i][k/64] |= 1 << (k % 64)
		odd[i] = s.p.Items[i].Demand%2 == 1
	}
	for c, sh := range shares {
		for _, u := range sh.uses {
			if u.N%2 == 1 {
				rows[u.Item][c/64] |= 1 << (c % 64)
			}
		}
	}
	weigh := func(row []uint64) float64 {
		w := 0.0
		for t, bits64 := range row {
			for ; bits64 != 0; bits64 &= bits64 - 1 {
				c := 64*t + bits.TrailingZeros64(bits64)
				if c >= len(shares) || w >= 1 {
					return w
				}
				w += shares[c].x
			}
		}
		return w
	}
	var found []violated
	note := func(i int) {
		if !odd[i] {
			return
		}
		w := weigh(rows[i])
		if w > 1-2*leastViolated {
			return
		}
		var items []int32
		for q := range n {
			if k := len(shares) + q; rows[i][k/64]>>(k%64)&1 != 0 {
				items = append(items, int32(q))
			}
		}
		if len(items) <= cutItems {
			found = append(found, violated{items, (1 - w) / 2})
		}
	}
	gone := make([]bool, n)
	for c := range shares {
		pivot, ops := -1, n
		for i := range rows {
			if !gone[i] && rows[i][c/64]>>(c%64)&1 != 0 {
				pivot = i
				break
			}
		}
		if pivot < 0 {
			continue
		}
		gone[pivot] = true
		for i := range rows {
			if gone[i] || rows[i][c/64]>>(c%64)&1 == 0 {
				continue
			}
			for t := range rows[i] {
				rows[i][t] ^= rows[pivot][t]
			}
			odd[i] = odd[i] != odd[pivot]
			ops += words + 8
			note(i)
		}
		if !s.mt.Spend(int64(ops)) {
			return 0, false
		}
	}
	slices.SortFunc(found, func(a, b violated) int {
		if c := cmp.Compare(b.by, a.by); c != 0 {
			return c
		}
		if c := cmp.Compare(len(a.items), len(b.items)); c != 0 {
			return c
		}
		return slices.Compare(a.items, b.items)
	})
	for k, v := range found {
		if k > 0 && slices.Equal(v.items, found[k-1].items) {
			continue
		}
		s.add(v.items, depth)
		if added++; added == cutsPerRound {
			break
		}
	}
	return added, true
}

// add puts the cut of the items into the relaxation.
func (s *search) add(items []int32, depth int) {
	d := int64(0)
	for _, i := range items {
		d += s.p.Items[i].Demand
	}
	row := set{a: -1, lo: (d + 1) / 2, hi: math.MaxInt64, odd: items}
	for _, j := range s.live[depth+1] {
		if v := half(items, s.pats[j].Uses); v > 0 {
			row.members = append(row.members, j)
			row.coef = append(row.coef, v)
			row.most = max(row.most, v)
		}
	}
	var cols []int32
	var val []float64
	for c, j := range s.pat {
		if v := half(items, s.pats[j].Uses); v > 0 {
			cols, val = append(cols, int32(c)), append(val, float64(v))
		}
	}
	s.rows = append(s.rows, row)
	s.lp.AddRow(float64(row.lo), math.Inf(1), cols, val)
}
