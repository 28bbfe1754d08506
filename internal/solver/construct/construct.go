// Package construct builds plans quickly, without looking back: first fit
// decreasing in the form that repeats each pattern as often as the demand
// allows, so that large demands cost no more than small ones.
package construct

import (
	"cmp"
	"math/bits"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/model"
)

// Cost returns the total cost of the columns.
func Cost(p *model.Problem, cols []model.PatternCount) int64 {
	var c int64
	for _, col := range cols {
		c += p.Bins[col.Bin].Cost * col.Count
	}
	return c
}

// preferences is how many bins, the cheapest by size first, are tried as the
// length to prefer.
const preferences = 10

// Plans calls yield with one plan after another, each feasible and exact in
// demand, as the rules of thumb here give them. First fit decreasing is cheap
// and always among them, however little work is allowed; when the context or
// the caller has ended the work, one plan has to do.
func Plans(p *model.Problem, mt *meter.Meter, yield func(cols []model.PatternCount)) {
	found := false
	try := func(cols []model.PatternCount) bool {
		if cols != nil {
			found = true
			yield(cols)
		}
		return !found || !mt.Gone()
	}
	var bought []int
	for b, bin := range p.Bins {
		if bin.Limit > 0 && bin.Cost > 0 && bin.Cap >= p.Items[len(p.Items)-1].Size {
			bought = append(bought, b)
		}
	}
	slices.SortStableFunc(bought, func(a, b int) int {
		return cmpRatio(p.Bins[a].Cost, p.Bins[a].Cap, p.Bins[b].Cost, p.Bins[b].Cap)
	})
	bought = bought[:min(len(bought), preferences)]
	for _, b := range append(bought, -1) {
		if !try(firstFit(p, b, mt)) {
			return
		}
	}
	if found && !mt.Left() {
		return
	}
	for _, r := range []rule{cheapest, tightest} {
		if !try(greedy(p, r, mt)) {
			return
		}
	}
	// Prefer one length above all others, wherever it will do.
	for _, b := range bought {
		if !try(greedy(p, func(p *model.Problem, cand []candidate) int {
			for k := range cand {
				if cand[k].bin == b {
					return k
				}
			}
			return cheapest(p, cand)
		}, mt)) {
			return
		}
	}
}

// filler fills sticks longest first from what is left, without looking at what
// is used up.
type filler struct {
	p    *model.Problem
	left []int64
	next []int32 // union-find: the first item from here on that is not used up
}

func newFiller(p *model.Problem) *filler {
	f := &filler{p: p, left: make([]int64, len(p.Items)), next: make([]int32, len(p.Items)+1)}
	for i, it := range p.Items {
		f.left[i] = it.Demand
	}
	for i := range f.next {
		f.next[i] = int32(i)
	}
	return f
}

func (f *filler) alive(i int) int {
	for int(f.next[i]) != i {
		f.next[i] = f.next[f.next[i]]
		i = int(f.next[i])
	}
	return i
}

// fill returns what goes into the residual capacity.
func (f *filler) fill(residual int64) []model.Use {
	var uses []model.Use
	items := f.p.Items
	for i := 0; ; i++ {
		// Sizes fall: skip to the first that fits.
		lo, hi := i, len(items)
		for lo < hi {
			mid := int(uint(lo+hi) >> 1)
			if items[mid].Size > residual {
				lo = mid + 1
			} else {
				hi = mid
			}
		}
		if i = f.alive(lo); i == len(items) {
			return uses
		}
		n := min(f.left[i], residual/items[i].Size)
		if n == 0 {
			continue
		}
		uses = append(uses, model.Use{Item: i, N: n})
		residual -= n * items[i].Size
	}
}

// take cuts the pattern as often as the demand and supply allow and returns how
// often.
func (f *filler) take(uses []model.Use, supply int64) int64 {
	n := supply
	for _, u := range uses {
		n = min(n, f.left[u.Item]/u.N)
	}
	for _, u := range uses {
		if f.left[u.Item] -= n * u.N; f.left[u.Item] == 0 {
			f.next[u.Item] = int32(u.Item + 1)
		}
	}
	return n
}

func column(b int, uses []model.Use, n int64) model.PatternCount {
	return model.PatternCount{Pattern: model.Pattern{Bin: b, Uses: uses}, Count: n}
}

// firstSteps is how long first fit may go on once the context has ended: some
// milliseconds, enough for a first plan of all but the largest problems.
const firstSteps = 1 << 22

// firstFit is first fit decreasing: sticks that cost nothing, the shortest
// first, then sticks of the preferred length, or where the longest item left
// does not fit that, or none is preferred (-1), of the shortest length that it
// fits. It returns nil when the supply runs out, or some time after the context ended.
func firstFit(p *model.Problem, preferred int, mt *meter.Meter) []model.PatternCount {
	f := newFiller(p)
	order := make([]int, len(p.Bins))
	supply := make([]int64, len(p.Bins))
	for b, bin := range p.Bins {
		order[b], supply[b] = b, bin.Limit
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(p.Bins[a].Cap, p.Bins[b].Cap) })
	first := mt.First(firstSteps)
	var cols []model.PatternCount
	for _, b := range order {
		for p.Bins[b].Cost == 0 && supply[b] > 0 {
			uses := f.fill(p.Bins[b].Cap)
			if len(uses) == 0 {
				break
			}
			n := f.take(uses, supply[b])
			supply[b] -= n
			cols = append(cols, column(b, uses, n))
		}
	}
	for i := f.alive(0); i < len(p.Items); i = f.alive(i) {
		pick := -1
		if preferred >= 0 && supply[preferred] > 0 && p.Bins[preferred].Cap >= p.Items[i].Size {
			pick = preferred
		} else {
			if !first.Watch(int64(len(order))) {
				return nil
			}
			for _, b := range order {
				if supply[b] > 0 && p.Bins[b].Cap >= p.Items[i].Size {
					pick = b
					break
				}
			}
		}
		if pick < 0 {
			return nil
		}
		uses := f.fill(p.Bins[pick].Cap)
		if !first.Watch(int64(20 + 10*len(uses))) {
			return nil
		}
		n := f.take(uses, supply[pick])
		supply[pick] -= n
		cols = append(cols, column(pick, uses, n))
		mt.Spend(int64(20 + 20*len(uses)))
	}
	return Downsize(p, cols, mt)
}

type candidate struct {
	bin  int
	uses []model.Use
	used int64
}

type rule func(*model.Problem, []candidate) int

// cheapest picks the candidate of the least cost per size cut; rack sticks,
// which cost nothing, by the least slack.
func cheapest(p *model.Problem, cand []candidate) int {
	best := 0
	for k := 1; k < len(cand); k++ {
		a, b := &cand[k], &cand[best]
		ca, cb := p.Bins[a.bin].Cost, p.Bins[b.bin].Cost
		if s := cmpRatio(ca, a.used, cb, b.used); s < 0 ||
			s == 0 && cmpRatio(p.Bins[a.bin].Cap, a.used, p.Bins[b.bin].Cap, b.used) < 0 {
			best = k
		}
	}
	return best
}

// tightest picks the candidate that wastes the least of its stick.
func tightest(p *model.Problem, cand []candidate) int {
	best := 0
	for k := 1; k < len(cand); k++ {
		a, b := &cand[k], &cand[best]
		if cmpRatio(p.Bins[a.bin].Cap, a.used, p.Bins[b.bin].Cap, b.used) < 0 {
			best = k
		}
	}
	return best
}

// cmpRatio compares a/b with c/d for non-negative a, c and positive b, d.
func cmpRatio(a, b, c, d int64) int {
	h1, l1 := bits.Mul64(uint64(a), uint64(d))
	h2, l2 := bits.Mul64(uint64(c), uint64(b))
	switch {
	case h1 != h2:
		if h1 < h2 {
			return -1
		}
		return 1
	case l1 < l2:
		return -1
	case l1 > l2:
		return 1
	}
	return 0
}

// greedy opens one stick after another for the longest item left, filled
// longest first, of the length that the rule picks among those that the item
// fits. It returns nil when the supply or the meter runs out.
func greedy(p *model.Problem, pick rule, mt *meter.Meter) []model.PatternCount {
	f := newFiller(p)
	supply := make([]int64, len(p.Bins))
	for b, bin := range p.Bins {
		supply[b] = bin.Limit
	}
	var cols []model.PatternCount
	var cand []candidate
	for i := f.alive(0); i < len(p.Items); i = f.alive(i) {
		cand = cand[:0]
		for b, bin := range p.Bins {
			if supply[b] == 0 || bin.Cap < p.Items[i].Size {
				continue
			}
			uses := f.fill(bin.Cap)
			cand = append(cand, candidate{b, uses, p.Size(uses)})
			if !mt.Watch(int64(20 + 10*len(uses))) {
				return nil
			}
		}
		if len(cand) == 0 || !mt.Spend(int64(20+100*len(cand))) {
			return nil
		}
		c := cand[pick(p, cand)]
		n := f.take(c.uses, supply[c.bin])
		supply[c.bin] -= n
		cols = append(cols, column(c.bin, c.uses, n))
	}
	return Downsize(p, cols, mt)
}

// Downsize moves each stick's pieces to the cheapest length that holds them
// and is still to be had, until nothing moves or the meter's context ends.
func Downsize(p *model.Problem, cols []model.PatternCount, mt *meter.Meter) []model.PatternCount {
	supply := make([]int64, len(p.Bins))
	for b, bin := range p.Bins {
		supply[b] = bin.Limit
	}
	for _, c := range cols {
		supply[c.Bin] -= c.Count
	}
	// Cheapest first, then the least roomy: the first that holds the pieces is
	// the one to take.
	order := make([]int, len(p.Bins))
	for b := range order {
		order[b] = b
	}
	better := func(a, b int) int {
		return cmp.Or(cmp.Compare(p.Bins[a].Cost, p.Bins[b].Cost), cmp.Compare(p.Bins[a].Cap, p.Bins[b].Cap))
	}
	slices.SortStableFunc(order, better)
	for moved := true; moved; {
		moved = false
		for k := 0; k < len(cols); k++ {
			used := p.Size(cols[k].Uses)
			if !mt.Watch(int64(10 + len(order) + len(cols[k].Uses))) {
				return cols
			}
			for _, b := range order {
				c := &cols[k]
				if better(b, c.Bin) >= 0 {
					break
				}
				if supply[b] == 0 || p.Bins[b].Cap < used {
					continue
				}
				moved = true
				n := min(c.Count, supply[b])
				supply[b] -= n
				supply[c.Bin] += n
				if n == c.Count {
					c.Bin = b
					break
				}
				c.Count -= n
				cols = append(cols, column(b, c.Uses, n))
			}
		}
	}
	return cols
}

// Exact takes from columns that cover the demand what is too much of it, the
// smallest sticks' worth first, so that each item is cut exactly as often as it
// is wanted. It reports false when the columns do not cover the demand or break
// a limit. Columns that end up empty are dropped.
func Exact(p *model.Problem, cols []model.PatternCount) ([]model.PatternCount, bool) {
	over := make([]int64, len(p.Items))
	for i, it := range p.Items {
		over[i] = -it.Demand
	}
	used := make([]int64, len(p.Bins))
	out := make([]model.PatternCount, 0, len(cols))
	for _, c := range cols {
		if c.Count == 0 {
			continue
		}
		used[c.Bin] += c.Count
		for _, u := range c.Uses {
			over[u.Item] += u.N * c.Count
		}
		c.Uses = append([]model.Use(nil), c.Uses...)
		out = append(out, c)
	}
	for b, n := range used {
		if n > p.Bins[b].Limit {
			return nil, false
		}
	}
	for i := range over {
		if over[i] < 0 {
			return nil, false
		}
	}
	for k := 0; k < len(out); k++ {
		for t := 0; t < len(out[k].Uses); t++ {
			c := &out[k]
			u := &c.Uses[t]
			if over[u.Item] == 0 {
				continue
			}
			if cut := min(u.N, over[u.Item]/c.Count); cut > 0 {
				u.N -= cut
				over[u.Item] -= cut * c.Count
			}
			if n := over[u.Item]; n > 0 && u.N > 0 && n < c.Count {
				// n of the sticks give one piece less.
				rest := model.PatternCount{Pattern: model.Pattern{Bin: c.Bin, Uses: append([]model.Use(nil), c.Uses...)}, Count: c.Count - n}
				u.N--
				c.Count = n
				over[u.Item] = 0
				out = append(out, rest)
			}
		}
	}
	kept := out[:0]
	for _, c := range out {
		uses := c.Uses[:0]
		for _, u := range c.Uses {
			if u.N > 0 {
				uses = append(uses, u)
			}
		}
		if c.Uses = uses; len(uses) > 0 {
			kept = append(kept, c)
		}
	}
	return kept, true
}
