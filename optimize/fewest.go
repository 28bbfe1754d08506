package optimize

import (
	"cmp"
	"math"
	"math/big"
	"slices"
	"sort"
)

// copies is the number of wanted pieces of one length. The size is the least length of a stick
// that one of them takes, kerf included, whatever its neighbors save, in half ticks.
type copies struct{ size, n int64 }

// fewestPatterns returns a lower bound on the number of patterns of any plan for the problem,
// whatever its cost. Two patterns that differ only in the stick count once if the usable length
// is the same. The bound is the greatest of
//
//   - the room that one piece of each length takes, since each length is in some pattern;
//   - two, if no stick holds the quantities divided by a common divisor;
//   - a sum over the sticks: a stick with a piece of quantity d is one of at most d that are
//     cut alike, so it stands for at least 1/d pattern. At least N(d) sticks hold the pieces of
//     quantity d or less; the sum is least if exactly that many do, and is the sum of
//     (N(d)-N(d'))/d over all d and the next smaller d'.
//
// With runs only the first applies, since their parts are unknown.
func (p *Problem) fewestPatterns() int64 {
	room, most := p.roomiest()
	all := p.copies()
	if len(all) == 0 || room <= 0 {
		return 1
	}
	one := slices.Clone(all)
	for i := range one {
		one[i].n = 1
	}
	bound := max(1, fewestSticks(one, room, most))
	if len(p.Runs) > 0 {
		return bound
	}

	divisor := all[0].n
	for _, c := range all {
		for n := c.n; n != 0; {
			divisor, n = n, divisor%n
		}
	}
	alike := slices.Clone(all)
	for i := range alike {
		alike[i].n /= divisor
	}
	if fewestSticks(alike, room, most) > 1 {
		bound = max(bound, 2)
	}

	byNeed := slices.Clone(all)
	slices.SortFunc(byNeed, func(a, b copies) int { return cmp.Compare(a.n, b.n) })
	sum, last := new(big.Rat), int64(0)
	for k := range byNeed {
		d := byNeed[k].n
		if k+1 < len(byNeed) && byNeed[k+1].n == d {
			continue
		}
		rare := slices.Clone(byNeed[:k+1])
		slices.SortFunc(rare, func(a, b copies) int { return cmp.Compare(b.size, a.size) })
		if n := fewestSticks(rare, room, most); n > last {
			sum.Add(sum, big.NewRat(n-last, d))
			last = n
		}
	}
	up := new(big.Int).Add(sum.Num(), sum.Denom())
	up.Sub(up, big.NewInt(1)).Quo(up, sum.Denom())
	if up.IsInt64() {
		bound = max(bound, up.Int64())
	}
	return bound
}

// fewestSteps estimates the steps of fewestPatterns, which looks at every length for each
// quantity.
func (p *Problem) fewestSteps() int64 {
	lengths, wants := map[int64]bool{}, map[int64]bool{}
	for i := range p.Pieces {
		lengths[int64(p.Pieces[i].Length)] = true
		wants[quantity(&p.Pieces[i])] = true
	}
	return 64 + int64(len(lengths))*int64(len(wants)+2)*16
}

// copies returns the pieces by length, the greatest size first; it returns nil if there are too
// many.
func (p *Problem) copies() []copies {
	at := map[int64]int{}
	var out []copies
	for i := range p.Pieces {
		pc := &p.Pieces[i]
		size := 2 * (int64(pc.Length) + int64(p.Kerf))
		if p.Rules.Nest {
			// An end meets one neighbor, which has the other half of the saving.
			size -= max(0, int64(pc.Left.Setback)) + max(0, int64(pc.Right.Setback))
		}
		k, ok := at[int64(pc.Length)]
		if !ok {
			k = len(out)
			at[int64(pc.Length)] = k
			out = append(out, copies{size, 0})
		}
		out[k].size = min(out[k].size, size)
		if out[k].n += quantity(pc); out[k].n >= 1<<40 {
			return nil
		}
	}
	slices.SortFunc(out, func(a, b copies) int { return cmp.Compare(b.size, a.size) })
	return out
}

// roomiest returns the greatest capacity of a stick, by size in half ticks and by the number of
// pieces. The size is zero if it is out of range.
func (p *Problem) roomiest() (room, pieces int64) {
	pieces = math.MaxInt64
	parts := int64(0)
	for i := range p.Sticks {
		spans := stretches(&p.Sticks[i])
		parts = max(parts, int64(len(spans)))
		var sum int128
		for _, w := range spans {
			sum = sum.add(mul(int64(w.To-w.From), 2)).add(mul(int64(p.Kerf), 2))
		}
		v, ok := sum.int64()
		if !ok {
			return 0, pieces
		}
		room = max(room, v)
	}
	if m := int64(p.Rules.MaxPieces); m > 0 && parts > 0 && m <= math.MaxInt64/parts {
		pieces = m * parts
	}
	return room, pieces
}

// fewestSticks returns a lower bound on the number of sticks of the given room, each with at
// most the given number of pieces, that hold the copies, which are in nonincreasing size: S.
// Martello, P. Toth, Lower bounds and reduction procedures for the bin packing problem,
// Discrete Applied Mathematics 28 (1990) 59-70, bound L2. No two pieces longer than half a
// stick share one. For any k, some of these leave no room for a piece of size k, so the rest of
// their sticks is lost to all pieces of at least that size.
func fewestSticks(c []copies, room, most int64) int64 {
	count := make([]int64, len(c)+1)
	sum := make([]int128, len(c)+1)
	for i := range c {
		count[i+1] = count[i] + c[i].n
		sum[i+1] = sum[i].add(mul(c[i].size, c[i].n))
	}
	all := len(c)
	best := (count[all]-1)/most + 1
	half := sort.Search(all, func(i int) bool { return c[i].size <= room/2 })
	for i := half; i <= all; i++ {
		end, k := all, int64(0)
		if i < all {
			if end, k = i+1, c[i].size; i+1 < all && c[i+1].size == k {
				continue // the others of the same size count too
			}
		}
		alone := sort.Search(half, func(i int) bool { return c[i].size <= room-k })
		// The room left beside the pieces between alone and half.
		left := mul(room, count[half]-count[alone]).sub(sum[half].sub(sum[alone]))
		n := count[half]
		if more := sum[end].sub(sum[half]).sub(left); more.sign() > 0 && !more.over {
			n += min(more.ceilDiv(room), math.MaxInt64-n)
		}
		best = max(best, n)
	}
	return best
}
