package rules

import (
	"slices"

	"example.com/longpoint/internal/meter"
)

// Parting limits the steps for finding the best place for the yard's cut in a pattern. Pieces of
// odd lengths can lie before and after it in twice as many ways for each further piece. A pattern
// that takes too many steps is refused; the search's claims may then be false, so its caller has to
// ask TooMany.
type Parting struct {
	Meter   *meter.Meter // counts the steps beyond a few for each pattern; nil: they are not counted
	TooMany bool         // some pattern was refused
}

const (
	partingSteps    = 1 << 24 // for one pattern
	fewPartingSteps = 1 << 14 // for one after some pattern was refused
)

// The meter sees no step of the first for one pattern, one of partingShare of the others, and each beyond
// what houses need, which are short and take their time elsewhere.
const (
	freePartingSteps  = 1 << 10
	cheapPartingSteps = 1 << 14
	partingShare      = 16
)

// parting counts the steps for a pattern.
type parting struct {
	of   *Parting
	used int64
	most int64
}

func (p *Problem) parting() parting {
	if p.Parting != nil && p.Parting.TooMany {
		return parting{p.Parting, 0, fewPartingSteps}
	}
	return parting{p.Parting, 0, partingSteps}
}

// spend takes steps, and reports whether to go on.
func (a *parting) spend(n int) bool {
	a.used += int64(n)
	if a.of == nil {
		return a.used <= a.most
	}
	a.of.TooMany = a.of.TooMany || a.used > a.most
	switch {
	case a.of.Meter == nil || a.used <= freePartingSteps:
	case a.used <= cheapPartingSteps:
		a.of.Meter.Spend(int64(n) / partingShare)
	default:
		a.of.Meter.Spend(int64(n))
	}
	return a.used <= a.most
}

// yard computes the offcuts of the two parts of a stick of the given capacity if pieces take one
// and two of them; an offcut is zero if nothing is cut from the part. It returns false if they do
// not fit. The cut is as early as possible: late enough that the second part can be transported and
// the first has capacity for its pieces. It may lie within the length trimmed from the start, which
// is below zero here. full says whether a part is used up without a cut other than the yard's.
func (k *PatternRules) yard(cap, one, two int64) (left [2]int64, full [2]bool, ok bool) {
	at := cap - k.Part[1] - k.Kerf
	if one > 0 {
		at = max(at, one-k.Kerf)
	}
	rest := cap - k.Kerf - max(0, at+k.Kerf)
	if at > k.Part[0]-k.Kerf || one > cap || two > 0 && two > rest+k.Kerf {
		return left, full, false
	}
	left = [2]int64{max(0, at-one), max(0, rest-two)}
	full = [2]bool{one == at+k.Kerf && !k.Trim[0], two == rest+k.Kerf && !k.Trim[1] && at+k.Kerf >= 0}
	return left, full, true
}

// parts returns the longest offcut over all ways to split a pattern, if the saw holds
// everything; it returns false if there is no way.
func (p *Problem) parts(f *Pattern, total int64) (longest int64, ok bool) {
	b := &p.Bins[f.Bin]
	k := &p.Kinds[b.Kind]
	rest := total // size of the uses that are not in sums yet
	// Sums of first parts in increasing order, large enough for the second part to be short
	// enough.
	var one, two [64]int64
	sums, next := one[:1], two[:0]
	steps := p.parting()
	for _, u := range f.Uses {
		s := p.Items[u.Item].Orientations[u.Orient].Size
		for range u.N {
			rest -= s
			next = next[:0]
			i, j := 0, 0
			for i < len(sums) || j < len(sums) && sums[j]+s <= k.Part[0] {
				var x int64
				switch {
				case j == len(sums) || sums[j]+s > k.Part[0] || i < len(sums) && sums[i] < sums[j]+s:
					x = sums[i]
					i++
				case i < len(sums) && sums[i] == sums[j]+s:
					i++
					fallthrough
				default:
					x = sums[j] + s
					j++
				}
				if total-x-rest <= k.Part[1] {
					next = append(next, x)
				}
			}
			sums, next = next, sums
			if !steps.spend(len(sums)) {
				return 0, false
			}
		}
	}
	for _, s := range sums {
		if left, _, fits := k.yard(b.Cap, s, total-s); fits {
			longest, ok = max(longest, left[0], left[1]), true
		}
	}
	return longest, ok
}

// half describes the pieces before a yard cut and those after it.
type half struct {
	size   [2]int64
	pieces [2]int8 // 2 stands for 2 or more
	long   [2]bool
	slant  [2]bool // whether one of them is not square
}

// with returns the halves with one more item in one of them.
func (h half) with(it *Item, size int64, at int) half {
	h.size[at] += size
	h.pieces[at] = int8(min(2, int64(h.pieces[at])+it.Pieces))
	h.long[at] = h.long[at] || it.Long
	h.slant[at] = h.slant[at] || !it.Uncut
	return h
}

// halves splits a pattern so that its longest offcut is as long as possible; among equal splits
// it fills the first part more. It returns how many of each use come first, and false if the
// saw cannot hold the parts or they are too long.
func (p *Problem) halves(f *Pattern) (first []int64, longest int64, ok bool) {
	b := &p.Bins[f.Bin]
	k := &p.Kinds[b.Kind]
	now := []half{{}}
	var ways [][]int32 // for each piece: the index in the layer before, and whether it is cut from the second part
	var use []int      // for each piece
	steps := p.parting()
	for i, u := range f.Uses {
		it := &p.Items[u.Item]
		size := it.Orientations[u.Orient].Size
		for range u.N {
			seen := map[half]bool{}
			var next []half
			var how []int32
			for n, h := range now {
				for at := range 2 {
					if g := h.with(it, size, at); g.size[at] <= k.Part[at] && !seen[g] {
						seen[g] = true
						next, how = append(next, g), append(how, int32(2*n+at))
					}
				}
			}
			now, ways, use = next, append(ways, how), append(use, i)
			if !steps.spend(8 * len(now)) {
				return nil, 0, false
			}
		}
	}
	best := -1
	for n, h := range now {
		left, full, fits := k.yard(b.Cap, h.size[0], h.size[1])
		for at := range 2 {
			fits = fits && (h.pieces[at] == 0 || k.Hold == 0 || h.long[at] || left[at] >= k.Hold || h.pieces[at] == 1 && full[at] && !h.slant[at])
		}
		if !fits {
			continue
		}
		if v := max(left[0], left[1]); best < 0 || v > longest || v == longest && h.size[0] > now[best].size[0] {
			best, longest = n, v
		}
	}
	if best < 0 {
		return nil, 0, false
	}
	first = make([]int64, len(f.Uses))
	for l := len(ways) - 1; l >= 0; l-- {
		w := ways[l][best]
		if w%2 == 0 {
			first[use[l]]++
		}
		best = int(w / 2)
	}
	return first, longest, true
}

// Halves returns how many of each use of a pattern come before the yard's cut; nil if there is
// none.
func (p *Problem) Halves(f *Pattern) []int64 {
	if p.Kinds[p.Bins[f.Bin].Kind].Part[0] == 0 {
		return nil
	}
	first, _, ok := p.halves(f)
	if !ok {
		return nil
	}
	return slices.Clip(first)
}
