package packing

import (
	"cmp"
	"math/bits"
	"slices"

	"example.com/longpoint/internal/meter"
)

const (
	probeFills = 4000    // exact fillings examined for pairs
	probePairs = 1 << 18 // pairs tried
)

// pair is two pieces that may have been one.
type pair struct {
	x, y int // indexes of sizes
}

// Probe continues after Peel: for one pair after another it joins the two pieces, peels, separates the
// two again and searches the rest, until the meter runs out or no pair is left. It returns Found or
// Open.
func (s *Peeler) Probe(mt *meter.Meter) Verdict {
	if s.done != Open || s.state.fills == nil {
		return s.done
	}
	s.state.mt = mt
	if s.pairs == nil {
		s.pairs = s.state.likely()
	}
	for ; s.next < len(s.pairs) && mt.Left(); s.next++ {
		mt.Pause()
		p := s.pairs[s.next]
		t := s.state.together(p.x, p.y)
		t.peel()
		t.apart(p.x, p.y)
		if s.done = t.finish(); s.done == Found {
			s.state = *t
			return Found
		}
		if s.done = Open; !mt.Left() {
			break // to be continued
		}
	}
	return Open
}

// likely returns pairs of pieces in the order in which to try them. First come pairs such that, for
// some exact fillings, every other way to fill up the bin of the largest piece holds exactly one of the
// two; the pair with the most evidence is the first. A filling with many other ways is strong evidence:
// few pairs match it by chance. Then come pairs with a piece that all other ways for some filling hold,
// the smallest pair first.
func (s *peeled) likely() []pair {
	v := ballot{
		peeled: s, at: map[[2]int]bool{}, votes: map[[2]int]int{}, byHeld: map[uint64][]int{},
		alone: make([]bool, len(s.size)), held: make([]uint64, len(s.size)),
	}
	asked := 0
	for _, f := range s.fills {
		if f.c < 0 || f.b < f.a || !s.has(f) || asked == probeFills || !s.mt.Left() {
			continue
		}
		asked++
		v.ask(f)
	}
	all := v.all
	slices.SortStableFunc(all, func(p, q pair) int {
		return cmp.Compare(v.votes[[2]int{q.x, q.y}], v.votes[[2]int{p.x, p.y}])
	})
	tier := len(all)
	for x := len(s.size) - 1; x >= 0; x-- {
		for y := len(s.size) - 1; y >= x && len(all) < probePairs; y-- {
			if (v.alone[x] || v.alone[y]) && !v.at[[2]int{x, y}] && s.pair(x, y) {
				all = append(all, pair{x, y})
			}
		}
	}
	slices.SortStableFunc(all[tier:], func(p, q pair) int {
		return cmp.Compare(s.size[p.x]+s.size[p.y], s.size[q.x]+s.size[q.y])
	})
	s.spend(int64(len(all)) * 40)
	return all
}

// ballot counts how many fillings speak for a pair, and how strongly.
type ballot struct {
	*peeled
	all    []pair // with a vote
	at     map[[2]int]bool
	votes  map[[2]int]int
	alone  []bool   // all other ways for some filling hold the piece
	held   []uint64 // of one filling: in how many other ways the piece is, 0 if that does not count
	byHeld map[uint64][]int
	ways   []uint64
}

// ask asks a filling for the pairs of which each other way to fill the residual capacity holds exactly one piece.
func (v *ballot) ask(f fill) {
	s := v.peeled
	residual := s.cap - s.size[f.a]
	v.ways = append(v.ways[:0], s.sums.n[:residual+1]...)
	part := counts{n: v.ways}
	part.remove(s.size[f.b])
	part.remove(s.size[f.c])
	if s.size[f.a] <= residual {
		part.remove(s.size[f.a])
	}
	steps := 4 * residual
	total := v.ways[residual]
	e := bits.Len64(total)
	clear(v.byHeld)
	for w, x := range s.size {
		v.held[w] = 0
		if x > residual || !s.has(f, w) {
			continue
		}
		steps += residual / x
		switch h := part.without(residual-x, x); {
		case h == total:
			v.alone[w] = true
		case h != 0:
			v.held[w] = h
			v.byHeld[h] = append(v.byHeld[h], w)
		}
	}
	for x, h := range v.held {
		if h == 0 {
			continue
		}
		for _, y := range v.byHeld[total-h] {
			if y < x || !s.has(f, x, y) {
				continue
			}
			if r := residual - s.size[x] - s.size[y]; r >= 0 {
				steps += s.terms(r, []int64{s.size[x], s.size[y]})
				if part.without(r, s.size[x], s.size[y]) != 0 {
					continue
				}
			}
			k := [2]int{x, y}
			if !v.at[k] {
				v.at[k] = true
				v.all = append(v.all, pair{x, y})
			}
			v.votes[k] += e * e
		}
	}
	s.spend(steps)
}

// pair reports whether x and y are left and fit into a bin together.
func (s *peeled) pair(x, y int) bool {
	return s.left[x] > 0 && s.left[y] > 0 && (x != y || s.left[x] > 1) && s.size[x]+s.size[y] <= s.cap
}

// together returns a copy of s in which x and y are one piece.
func (s *peeled) together(x, y int) *peeled {
	t := *s
	t.size, t.left, t.done = slices.Clone(s.size), slices.Clone(s.left), slices.Clone(s.done)
	t.sums = &counts{n: slices.Clone(s.sums.n)}
	for _, i := range [...]int{x, y} {
		t.left[i]--
		t.sums.remove(t.size[i])
	}
	one := t.size[x] + t.size[y]
	t.sums.add(one)
	t.pieces--
	t.spend(4 * s.cap)
	if at, ok := s.index(one); ok {
		t.left[at]++
		return &t
	}
	at := len(t.size)
	t.size, t.left = append(t.size, one), append(t.left, 1)
	s.exact(s.cap-one, func(b, c int) {
		t.extra = append(t.extra, fill{at, b, c}, fill{b, at, c})
		if c >= 0 {
			t.extra = append(t.extra, fill{c, at, b})
		}
	})
	return &t
}

// index returns the index of a size of the problem's pieces.
func (s *peeled) index(size int64) (int, bool) {
	return slices.BinarySearchFunc(s.size, size, func(a, b int64) int { return cmp.Compare(b, a) })
}

// apart replaces the joined piece by x and y. Bins forced with the joined piece are a good guess for
// the two; the rest may now be packed where it could not be before.
func (t *peeled) apart(x, y int) {
	one := t.size[x] + t.size[y]
	for k := len(t.size) - 1; k >= 0; k-- {
		if t.size[k] == one && t.left[k] > 0 {
			t.left[k]--
			t.left[x]++
			t.left[y]++
			t.pieces++
			return
		}
	}
	for k, bin := range t.done {
		if i := slices.Index(bin, one); i >= 0 {
			t.done[k] = append(slices.Delete(slices.Clone(bin), i, i+1), t.size[x], t.size[y])
			return
		}
	}
}
