package setcover

import (
	"cmp"
	"math"
	"math/bits"
	"slices"
)

// violated is a violated cut.
type violated struct {
	items []int32
	by    float64 // as a distance: of two cuts with the same violation, the one with fewer items is deeper
}

// separate adds the most violated cuts and returns their number; ok is false if the meter ran out.
//
// The violation of the cut of a set of items is (1-w)/2, where w is the sum of the values of the
// patterns that hold an odd number of the items, plus the surplus of each item. Sets with a small w are
// found by elimination modulo 2, beginning with the patterns of the greatest values, after
// A. M. C. A. Koster, A. Zymolka, M. Kutschka, Algorithms to separate {0, 1/2}-Chvatal-Gomory cuts,
// Algorithmica 55 (2009) 375-391.
func (s *search) separate(depth int) (added int, ok bool) {
	t := s.parities()
	var found []violated
	gone := make([]bool, len(t.rows))
	for c := range t.share {
		pivot, ops := -1, len(t.rows)
		for i := range t.rows {
			if !gone[i] && t.has(i, c) {
				pivot = i
				break
			}
		}
		if pivot < 0 {
			continue
		}
		gone[pivot] = true
		for i := range t.rows {
			if gone[i] || !t.has(i, c) {
				continue
			}
			t.add(i, pivot)
			ops += len(t.rows[i]) + 8
			if v, ok := t.cut(i); ok {
				found = append(found, v)
			}
		}
		if !s.mt.Spend(int64(ops)) {
			return 0, false
		}
	}
	slices.SortFunc(found, func(a, b violated) int {
		return cmp.Or(cmp.Compare(b.by, a.by), cmp.Compare(len(a.items), len(b.items)), slices.Compare(a.items, b.items))
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

// parities is a table of sets of items, one per row: which columns of the relaxation hold an odd number
// of the set, and which items are in it.
type parities struct {
	share []float64  // values of the columns, and surpluses of items, in decreasing order
	rows  [][]uint64 // bits: a row's odd shares, then its items
	odd   []bool     // whether the total demand of a row's items is odd
}

// parities returns the table with a set for each single item.
func (s *search) parities() *parities {
	n := len(s.p.Items)
	type part struct {
		x   float64
		odd []int32
	}
	var parts []part
	over := make([]float64, n)
	for i, it := range s.p.Items {
		over[i] = -float64(it.Demand)
	}
	for c, j := range s.of {
		x := s.lp.Value(c)
		if x <= noise {
			continue
		}
		var odd []int32
		for k := s.begin[j]; k < s.items[j]; k++ {
			over[s.rows[k]] += float64(float64(s.coef[k]) * x)
			if s.coef[k]&1 != 0 {
				odd = append(odd, s.rows[k])
			}
		}
		parts = append(parts, part{x, odd})
	}
	for i, v := range over {
		if v > 1e-6 {
			parts = append(parts, part{v, []int32{int32(i)}})
		}
	}
	slices.SortStableFunc(parts, func(a, b part) int { return cmp.Compare(b.x, a.x) })
	t := &parities{rows: make([][]uint64, n), odd: make([]bool, n)}
	words := (len(parts) + n + 63) / 64
	buf := make([]uint64, n*words)
	for i := range t.rows {
		t.rows[i] = buf[i*words : (i+1)*words]
		k := len(parts) + i
		t.rows[i][k/64] |= 1 << (k % 64)
		t.odd[i] = s.p.Items[i].Demand&1 != 0
	}
	for c, p := range parts {
		t.share = append(t.share, p.x)
		for _, i := range p.odd {
			t.rows[i][c/64] |= 1 << (c % 64)
		}
	}
	return t
}

// has reports whether share k is odd in row i or, for k beyond the shares, whether that item is in the
// row.
func (t *parities) has(i, k int) bool { return t.rows[i][k/64]>>(k%64)&1 != 0 }

// add replaces row i by the symmetric difference of the two sets.
func (t *parities) add(i, other int) {
	for w := range t.rows[i] {
		t.rows[i][w] ^= t.rows[other][w]
	}
	t.odd[i] = t.odd[i] != t.odd[other]
}

// cut returns the cut of row i if it is violated enough and has few items.
func (t *parities) cut(i int) (v violated, ok bool) {
	if !t.odd[i] {
		return v, false
	}
	w := t.weigh(i)
	if w > 1-2*leastViolated {
		return v, false
	}
	for q := range t.rows {
		if t.has(i, len(t.share)+q) {
			v.items = append(v.items, int32(q))
		}
	}
	v.by = (1 - w) / math.Sqrt(float64(len(v.items)))
	return v, len(v.items) <= cutItems
}

// weigh returns the sum of the odd shares of row i, or a part of it that is at least 1.
func (t *parities) weigh(i int) float64 {
	sum := 0.0
	for k, word := range t.rows[i] {
		for ; word != 0; word &= word - 1 {
			c := 64*k + bits.TrailingZeros64(word)
			if c >= len(t.share) || sum >= 1 {
				return sum
			}
			sum += t.share[c]
		}
	}
	return sum
}
