package takeoff

import (
	"sort"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// lowBase is the height up to which base may be spliced anywhere, because it can be
// nailed into the plate ("Splicing Baseboards", Fine Homebuilding).
const lowBase = 5 * measure.Inch / 2

// spliceRule returns the freedom to splice a line. Positions are middles of splices,
// counted from the left long point.
func (t *taker) spliceRule(l *line, overlap measure.Length) stock.SpliceRule {
	p := t.course.profile
	r := stock.SpliceRule{Overlap: overlap, Clear: t.opt.Clear, MinPart: t.opt.MinPart}
	if p.Plain || p.Use == stock.Shoe || (p.Use == stock.Baseboard && p.Width <= lowBase) {
		r.Anywhere = true
		return r
	}
	w := t.room.Walls[l.wall]
	studs := w.Studs
	if studs.isZero() {
		studs = t.room.Studs
	}
	shift := l.reach - l.from
	for _, x := range studs.middles(t.spans[l.wall].length) {
		if x-l.from >= r.Clear && l.to-x >= r.Clear {
			r.At = append(r.At, x+shift)
		}
	}
	return r
}

// splice returns where a line of the given length is spliced: as few splices as
// possible, then the longest first part, then the longest second, and so on. It
// works from both ends and takes the better; ok is false where no choice of
// positions fits.
func splice(r stock.SpliceRule, length, longest measure.Length) (at []measure.Length, ok bool) {
	if r.Anywhere {
		return spliceAnywhere(r, length, longest)
	}
	fromLeft := spliceOnStuds(r, length, longest)
	if fromLeft == nil {
		return nil, false
	}
	mirrored := r
	mirrored.At = make([]measure.Length, len(r.At))
	for i, x := range r.At {
		mirrored.At[len(r.At)-1-i] = length - x
	}
	fromRight := spliceOnStuds(mirrored, length, longest)
	for i := range fromLeft {
		a, b := fromLeft[i], fromRight[i]
		if i > 0 {
			a, b = a-fromLeft[i-1], b-fromRight[i-1]
		}
		if a > b {
			return fromLeft, true
		}
		if b > a {
			at = make([]measure.Length, len(fromRight))
			for k, x := range fromRight {
				at[len(at)-1-k] = length - x
			}
			return at, true
		}
	}
	return fromLeft, true
}

// spliceOnStuds solves the problem from the left. need[i] is the least number of
// further splices after one at position i; a part between two splices spans their
// distance plus one overlap, one at an end only half of it.
func spliceOnStuds(r stock.SpliceRule, length, longest measure.Length) []measure.Length {
	const never = 1 << 30
	n := len(r.At)
	need := make([]int, n)
	early, late := r.Overlap/2, r.Overlap-r.Overlap/2
	// The positions that can follow position i are a window that moves left with i;
	// deque holds its candidates, the best in front.
	var deque []int
	hi := n - 1
	for i := n - 1; i >= 0; i-- {
		need[i] = never
		if rest := length - r.At[i] + late; rest <= longest && rest >= r.MinPart {
			need[i] = 0
		}
		for ; hi > i && r.At[hi]-r.At[i]+r.Overlap >= r.MinPart; hi-- {
			for len(deque) > 0 && need[deque[len(deque)-1]] > need[hi] {
				deque = deque[:len(deque)-1]
			}
			deque = append(deque, hi)
		}
		for len(deque) > 0 && r.At[deque[0]]-r.At[i]+r.Overlap > longest {
			deque = deque[1:]
		}
		if len(deque) > 0 {
			need[i] = min(need[i], need[deque[0]]+1)
		}
	}
	var at []measure.Length
	left, want := measure.Length(0), never
	for i := range need {
		if part := r.At[i] + early; part >= r.MinPart && part <= longest {
			want = min(want, need[i])
		}
	}
	if want >= never {
		return nil
	}
	for k := 0; want >= 0; k++ {
		over := r.Overlap
		if k == 0 {
			over = early
		}
		i := sort.Search(n, func(i int) bool { return r.At[i]-left+over > longest }) - 1
		for ; i >= 0 && need[i] != want; i-- {
		}
		if i < 0 {
			return nil // cannot be: need says that there is one
		}
		at = append(at, r.At[i])
		left = r.At[i]
		want--
	}
	return at
}

// spliceAnywhere cuts full sticks from the left and shortens the last but one where
// the rest would be too short.
func spliceAnywhere(r stock.SpliceRule, length, longest measure.Length) (at []measure.Length, ok bool) {
	early, late := r.Overlap/2, r.Overlap-r.Overlap/2
	end := max(r.MinPart, r.Clear)
	if longest <= r.Overlap || longest < end+late || longest < r.MinPart {
		return nil, false
	}
	for left := measure.Length(0); ; {
		over := r.Overlap
		if len(at) == 0 {
			over = early
		}
		x := left + longest - over
		if last := length - end; x > last {
			x = last
		}
		part := x - left + over
		if part < r.MinPart || (len(at) == 0 && x < r.Clear) {
			return nil, false
		}
		at = append(at, x)
		if len(at) > maxParts {
			return nil, false
		}
		left = x
		if length-left+late <= longest {
			return at, true
		}
	}
}

// maxParts bounds the parts of one run. Nobody fits so many.
const maxParts = 10_000
