package packing

import (
	"cmp"
	"math/bits"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/sumset"
)

// Three pieces a, b, c that fill a bin exactly are in some packing, if there is any,
// when no others of the pieces can fill up the bin of a: that bin then holds b or c,
// say b, and what else it holds is no larger than c and can change places with it.
// Whether others can is read off the number of sub-multisets by sum, from which any
// few pieces are taken out by an alternating sum. So triples are peeled off one after
// another, and what is left is often small enough to be looked at whole.
//
// Where a piece of such a problem has been cut in two, each of the parts fills up bins
// that nothing else could. Then the other packings of a bin hold exactly one of two
// pieces, for many triples the same two: they are put together again, and what is left
// is peeled.

const (
	peelCap   = 1 << 22 // of a bin, for the numbers by sum
	peelSums  = 1 << 28 // of all pieces, for one pass over them
	peelFills = 1 << 20 // exact fillings
	peelRest  = 24      // so many pieces are looked at whole
	peelTerms = 1 << 18 // of an alternating sum, above which a triple is left alone
)

// A Peeler looks for a plan of so few bins that hardly any capacity may be wasted, by
// peeling off triples that are in some plan if there is any.
type Peeler struct {
	p     *model.Problem
	state peeled
	done  Verdict
	pairs []pair // to be put together, from next on
	next  int
}

// NewPeeler sets up the search for a plan of at most bins bins of a problem with one
// bin. It returns nil where there is nothing that it could do, or too much.
func NewPeeler(p *model.Problem, bins int64) *Peeler {
	if len(p.Bins) != 1 || len(p.Items) == 0 || bins > p.Bins[0].Limit || p.Pieces() > maxPieces {
		return nil
	}
	cap := p.Bins[0].Cap
	if cap > peelCap || cap*p.Pieces() > peelSums || p.Items[0].Size > cap {
		return nil
	}
	s := peeled{cap: cap, bins: bins, slack: bins * cap, few: peelRest}
	for _, it := range p.Items {
		s.size = append(s.size, it.Size)
		s.left = append(s.left, it.Demand)
		s.pieces += it.Demand
		s.slack -= it.Size * it.Demand
	}
	if s.slack < 0 || s.slack >= cap {
		return nil // clear without a search; nothing is ruled out
	}
	return &Peeler{p: p, state: s}
}

// Peel peels off what it can and looks at what is left, if that is little. With None
// there is no plan.
func (s *Peeler) Peel(mt *meter.Meter) Verdict {
	t := &s.state
	t.mt = mt
	t.sums = newCounts(t.cap, t.slack)
	for i, n := range t.left {
		for range n {
			if !t.spend(t.cap) {
				return Open
			}
			t.sums.add(t.size[i])
		}
	}
	if t.fills = t.listed(); t.fills == nil {
		return Open
	}
	t.peel()
	if s.done = t.finish(); s.done == None && !t.verified(s.p) {
		s.done = Open
	}
	return s.done
}

// Columns returns the plan after Found.
func (s *Peeler) Columns() []model.PatternCount { return s.state.columns(s.p) }

// peeled is a packing problem from which bins are peeled.
type peeled struct {
	cap, slack int64
	bins       int64
	size       []int64 // distinct, falling; those of pieces that were put together come last
	left       []int64 // how many are to be packed
	fills      []fill  // exact fillings by pieces of the problem
	extra      []fill  // and with a piece that was put together
	pieces     int64   // sum of left
	sums       *counts
	done       [][]int64 // bins peeled off, as sizes
	few        int64     // so many pieces are looked at whole
	mt         *meter.Meter
}

func (s *peeled) spend(n int64) bool { return s.mt.Spend(n/2 + 1) }

// take peels a bin off.
func (s *peeled) take(f fill) {
	var sizes []int64
	for _, i := range [...]int{f.a, f.b, f.c} {
		if i < 0 {
			continue
		}
		sizes = append(sizes, s.size[i])
		s.left[i]--
		s.pieces--
		s.sums.remove(s.size[i])
		s.spend(s.cap)
	}
	s.done = append(s.done, sizes)
	s.bins--
}

// peel takes off what is in some packing, until nothing more is known to be.
func (s *peeled) peel() {
	for again := true; again && s.mt.Left(); {
		again = false
		for _, list := range [...][]fill{s.extra, s.fills} {
			for _, f := range list {
				for s.has(f) && (f.c < 0 || s.others(f) == 0) && s.mt.Left() {
					s.take(f)
					again = true
				}
			}
			s.spend(int64(len(list)))
		}
	}
}

// fill is a bin that is filled exactly: a piece, and one or two others that go with it.
type fill struct {
	a, b, c int // indexes of sizes; c is -1 where two pieces fill the bin
}

// listed returns all exact fillings with a piece of each size in turn as the first, b
// being no smaller than c, or nil where they are too many.
func (s *peeled) listed() []fill {
	out := []fill{}
	for a := range s.size {
		s.exact(s.cap-s.size[a], func(b, c int) { out = append(out, fill{a, b, c}) })
		if len(out) > peelFills || !s.mt.Left() {
			return nil
		}
	}
	return out
}

// exact calls yield for each two sizes that fill a residual capacity exactly, and for the one that
// does, with -1 for the other.
func (s *peeled) exact(residual int64, yield func(b, c int)) {
	b, _ := slices.BinarySearchFunc(s.size, residual, func(x, residual int64) int { return cmp.Compare(residual, x) })
	steps := int64(0)
	for c := len(s.size) - 1; b <= c; {
		steps++
		x, y := s.size[b], s.size[c]
		switch {
		case x == residual:
			yield(b, -1)
			b++
		case x+y < residual:
			c--
		case x+y > residual:
			b++
		default:
			yield(b, c)
			b++
			c--
		}
	}
	s.spend(steps)
}

// has reports whether all pieces of a filling are there, with others beside them.
func (s *peeled) has(f fill, others ...int) bool {
	if s.left[f.a] == 0 || s.left[f.b] == 0 || f.c >= 0 && s.left[f.c] == 0 {
		return false
	}
	var buf [8]int
	all := append(buf[:0], f.a, f.b)
	if f.c >= 0 {
		all = append(all, f.c)
	}
	all = append(all, others...)
	for k, i := range all {
		n := s.left[i]
		for _, j := range all[:k+1] {
			if j == i {
				n--
			}
		}
		if n < 0 {
			return false
		}
	}
	return true
}

// others returns how many sub-multisets of the pieces other than a, b and c fill up the
// bin of a, 1 where that would take too long to count.
func (s *peeled) others(f fill) uint64 {
	var buf [4]int64
	residual := s.cap - s.size[f.a]
	out := append(buf[:0], s.size[f.b], s.size[f.c])
	if s.size[f.a] <= residual {
		out = append(out, s.size[f.a])
	}
	terms := s.terms(residual, out)
	if terms > peelTerms {
		return 1
	}
	s.spend(terms)
	return s.sums.without(residual, out...)
}

// terms bounds the number of terms of an alternating sum.
func (s *peeled) terms(v int64, sizes []int64) int64 {
	n := int64(1)
	for _, x := range sizes {
		if n *= v/x + 1; n > peelTerms {
			break
		}
	}
	return n
}

// finish looks at all that is left, if that is little.
func (s *peeled) finish() Verdict {
	if s.pieces > s.few {
		return Open
	}
	var r rest
	for i, n := range s.left {
		for range n {
			r.size = append(r.size, s.size[i])
		}
	}
	slices.SortFunc(r.size, func(a, b int64) int { return cmp.Compare(b, a) })
	r.cap, r.mt, r.failed = s.cap, s.mt, map[uint64]struct{}{}
	v := r.pack(1<<len(r.size)-1, s.bins, s.slack)
	if v == Found {
		s.done = append(s.done, r.done...)
	}
	return v
}

// rest is a search over the sets of few pieces.
type rest struct {
	cap    int64
	size   []int64 // falling
	failed map[uint64]struct{}
	done   [][]int64
	mt     *meter.Meter
}

// pack packs the pieces of a set into so many bins that may waste so much.
func (r *rest) pack(set uint64, bins, slack int64) Verdict {
	if set == 0 {
		return Found
	}
	if bins == 0 {
		return None
	}
	key := set | uint64(bins)<<32
	if _, ok := r.failed[key]; ok {
		return None
	}
	first := bits.TrailingZeros64(set)
	v := r.fill(set&^(1<<first), first+1, r.cap-r.size[first], []int64{r.size[first]}, bins, slack)
	if v == None {
		r.failed[key] = struct{}{}
	}
	return v
}

// fill fills the residual capacity of a bin with pieces from the index from on, in every way.
func (r *rest) fill(set uint64, from int, residual int64, bin []int64, bins, slack int64) Verdict {
	if !r.mt.Spend(4) {
		return Open
	}
	if residual <= slack {
		if v := r.pack(set, bins-1, slack-residual); v != None {
			if v == Found {
				r.done = append(r.done, slices.Clone(bin))
			}
			return v
		}
	}
	last := int64(-1)
	for k := from; k < len(r.size); k++ {
		if set>>k&1 == 0 || r.size[k] > residual || r.size[k] == last {
			continue
		}
		last = r.size[k]
		if v := r.fill(set&^(1<<k), k+1, residual-last, append(bin, last), bins, slack); v != None {
			return v
		}
	}
	return None
}

// verified reports whether the bins that were peeled off are in some packing, by sets
// of sums instead of numbers modulo 2^64.
func (s *peeled) verified(p *model.Problem) bool {
	left := p.Demands()
	index := func(size int64) int {
		i, _ := slices.BinarySearchFunc(p.Items, size, func(it model.Item, size int64) int { return int(size - it.Size) })
		return i
	}
	for _, bin := range s.done {
		if len(bin) == 3 {
			residual := s.cap - bin[0]
			set := sumset.New(residual + 1)
			for i, it := range p.Items {
				n := left[i]
				switch {
				case it.Size == bin[1] || it.Size == bin[2]:
					continue
				case it.Size == bin[0]:
					n--
				}
				for range min(n, residual/it.Size) {
					set.Shift(set, it.Size)
				}
				if !s.mt.Spend(int64(len(set)) * n) {
					return false
				}
			}
			if at := set.Last(residual); at >= residual-s.slack {
				return false
			}
		}
		for _, size := range bin {
			left[index(size)]--
		}
	}
	return true
}

// columns returns the bins as columns of the problem.
func (s *peeled) columns(p *model.Problem) []model.PatternCount {
	var trail [][]model.Use
	for _, bin := range s.done {
		slices.SortFunc(bin, func(a, b int64) int { return cmp.Compare(b, a) })
		var uses []model.Use
		for _, size := range bin {
			i, _ := slices.BinarySearchFunc(p.Items, size, func(it model.Item, size int64) int { return int(size - it.Size) })
			if k := len(uses) - 1; k >= 0 && uses[k].Item == i {
				uses[k].N++
			} else {
				uses = append(uses, model.Use{Item: i, N: 1})
			}
		}
		trail = append(trail, uses)
	}
	return columns(trail)
}

// Forced returns the bins that were peeled off so far, each as the sizes that fill it: they are in some
// plan of so many bins, if there is any.
func (s *Peeler) Forced() [][]int64 { return s.state.done }
