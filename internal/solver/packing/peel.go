package packing

import (
	"cmp"
	"math/bits"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/sumset"
)

// If no other pieces can fill up the bin of a, three pieces a, b, c that fill a bin exactly are in some
// packing if there is one: the bin of a then holds b or c, say b, and the rest of that bin is no larger
// than c and can be exchanged with it. Whether other pieces can is read from the numbers of
// sub-multisets by sum; an alternating sum removes any few pieces from these. So triples are peeled off
// one after another, and the rest is often small enough for an exhaustive search.
//
// If a piece of such a problem has been cut in two, each of the parts fills up bins that nothing else
// could. Then the other ways to fill a bin hold exactly one of two pieces, for many triples the same
// two: these are joined again, and the rest is peeled.

const (
	peelCap   = 1 << 22 // capacity of a bin, for the numbers by sum
	peelSums  = 1 << 28 // capacity times pieces, for one pass over the numbers
	peelFills = 1 << 20 // exact fillings
	peelRest  = 24      // pieces left for an exhaustive search
	peelTerms = 1 << 18 // terms of an alternating sum; beyond them a triple is skipped
)

// A Peeler searches for a plan with so few bins that almost no capacity may be wasted, by peeling off
// triples that are in some plan if there is one.
type Peeler struct {
	p     *model.Problem
	state peeled
	done  Verdict
	pairs []pair // to be joined, from next on
	next  int
}

// NewPeeler sets up the search for a plan of at most bins bins, for a problem with one bin. It returns
// nil if the method does not apply or would take too long.
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
		return nil // decided without a search; nothing is ruled out
	}
	return &Peeler{p: p, state: s}
}

// Peel peels off as many triples as it can and searches the rest exhaustively if it is small. With
// None there is no plan.
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
	size       []int64 // distinct, decreasing; sizes of joined pieces come last
	left       []int64 // number left to pack, by size
	fills      []fill  // exact fillings with pieces of the problem
	extra      []fill  // exact fillings with a joined piece
	pieces     int64   // sum of left
	sums       *counts
	done       [][]int64 // bins peeled off, as sizes
	few        int64     // an exhaustive search takes at most this many pieces
	mt         *meter.Meter
}

func (s *peeled) spend(n int64) bool { return s.mt.Spend(n/2 + 1) }

// take peels off a bin.
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

// peel removes fillings that are in some packing, until it finds no more.
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

// fill is an exactly filled bin: a piece, and the one or two others with it.
type fill struct {
	a, b, c int // indexes of sizes; c is -1 if two pieces fill the bin
}

// listed returns all exact fillings, with each size in turn as the first piece and b no smaller than c.
// It returns nil if there are too many.
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

// exact calls yield for each pair of sizes that fills a residual capacity exactly, and with c = -1 for
// a single size that does.
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

// has reports whether all pieces of a filling, and the others besides, are left.
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

// others returns how many sub-multisets of the pieces other than a, b and c fill up the bin of a. It
// returns 1 if counting would take too long.
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

// finish searches the rest exhaustively if it is small.
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

// rest is an exhaustive search over sets of few pieces.
type rest struct {
	cap    int64
	size   []int64 // decreasing
	failed map[uint64]struct{}
	done   [][]int64
	mt     *meter.Meter
}

// pack packs the pieces of a set into the given number of bins, with the given total waste.
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

// fill fills the residual capacity of a bin with pieces of index from and later, in every way.
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

// verified reports whether the peeled bins are in some packing, by sets of sums instead of numbers
// modulo 2^64.
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

// Forced returns the bins peeled off so far, each as the sizes that fill it: they are in some plan of
// that many bins, if there is one.
func (s *Peeler) Forced() [][]int64 { return s.state.done }
