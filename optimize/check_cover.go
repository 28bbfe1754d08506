package optimize

import "slices"

// coverage says whether boxes contain every point.
type coverage uint8

const (
	coverFull coverage = iota
	coverHole
	coverUnknown // too many steps
)

// covered reports whether the leaves' boxes together contain every number of sticks of each class
// from zero to its limit.
//
// It cuts the space along the faces of the boxes, each time where the cut passes through the
// fewest boxes, until each part lies in one box or meets none. Boxes from repeated bisection, as
// in a search tree, need no more cuts than there are boxes.
func (e *evidence) covered(x *exhibit) coverage {
	limit := make([]int64, len(e.class))
	for c := range e.class {
		limit[c] = e.class[c].limit
	}
	return cover(limit, x, e.steps)
}

// box is the box of a leaf.
type box struct{ lo, hi []int64 }

// A proof can repeat a leaf in a few bytes. So the leaves are limited apart from the number of bytes.
const (
	// maxBounds limits the memory of cover: pairs of a least and a greatest count.
	maxBounds = 1 << 21
	// maxNumbers limits the time for leaves: counts and values, including shared ones.
	maxNumbers = 1 << 26
)

// manageable reports whether the number of leaves is within the limits.
func (x *exhibit) manageable() bool {
	bounds := max(1, x.classes+x.charges)
	return x.leaves <= maxBounds/bounds && x.leaves <= maxNumbers/(bounds+x.pieces)
}

// cover reports whether the leaves' boxes contain every count up to the limits. A charge counts
// as a class after all others that is used at most once.
func cover(limit []int64, x *exhibit, steps *effort) coverage {
	n := x.classes + x.charges
	boxes := make([]*box, 0, x.leaves)
	bounds := make([]int64, 0, 2*n*x.leaves)
	for _, l := range x.all {
		if !steps.awaited(int64(n)) {
			return coverUnknown
		}
		from := len(bounds)
		bounds = append(bounds, l.Lo...)
		for _, u := range l.Used {
			bounds = append(bounds, int64(max(u, 0)))
		}
		bounds = append(bounds, l.Hi...)
		for _, u := range l.Used {
			bounds = append(bounds, int64(min(u+1, 1)))
		}
		boxes = append(boxes, &box{bounds[from : from+n : from+n], bounds[from+n : len(bounds) : len(bounds)]})
	}
	c := coverer{steps}
	return c.part(make([]int64, n), slices.Clone(limit), boxes, maxMeeting)
}

// coverer cuts the space into parts.
type coverer struct{ steps *effort }

// maxMeeting limits the memory of part: the number of boxes that all parts in progress meet.
const maxMeeting = 1 << 22

func (e *coverer) part(lo, hi []int64, boxes []*box, memory int) coverage {
	if memory -= len(boxes) + 1; !e.steps.spend(int64(len(boxes)*len(lo)+1)) || memory < 0 {
		return coverUnknown
	}
	var meet []*box
	for _, b := range boxes {
		holds, meets := true, true
		for c := range lo {
			holds = holds && b.lo[c] <= lo[c] && hi[c] <= b.hi[c]
			meets = meets && b.lo[c] <= hi[c] && lo[c] <= b.hi[c]
		}
		if holds {
			return coverFull
		}
		if meets {
			meet = append(meet, b)
		}
	}
	if len(meet) == 0 {
		return coverHole
	}
	c, at, ok := e.bestCut(lo, hi, meet)
	if !ok {
		return coverUnknown
	}
	first, last := lo[c], hi[c]
	defer func() { lo[c], hi[c] = first, last }()
	hi[c] = at
	if r := e.part(lo, hi, meet, memory); r != coverFull {
		return r
	}
	lo[c], hi[c] = at+1, last
	return e.part(lo, hi, meet, memory)
}

// bestCut returns a class and the last count of the lower part, such that both parts contain
// points, the cut lies on a face of a box, and it passes through as few boxes as possible. No box
// contains the whole part, so there is such a cut. It is not ok if the context ended.
func (e *coverer) bestCut(lo, hi []int64, boxes []*box) (class int, at int64, ok bool) {
	fewest, balance := len(boxes)+1, 0
	starts := make([]int64, len(boxes))
	ends := make([]int64, len(boxes))
	for c := range lo {
		for i, b := range boxes {
			starts[i], ends[i] = b.lo[c], b.hi[c]
		}
		slices.Sort(starts)
		slices.Sort(ends)
		if e.steps.spend(int64(4 * len(boxes))); !e.steps.awaited(0) {
			return 0, 0, false
		}
		try := func(x int64) {
			if x < lo[c] || x >= hi[c] {
				return
			}
			below, _ := slices.BinarySearch(starts, x+1) // boxes that start at x or before
			done, _ := slices.BinarySearch(ends, x+1)    // boxes that end at x or before
			cross := below - done
			even := min(done, len(boxes)-below)
			if cross < fewest || cross == fewest && even > balance {
				fewest, balance, class, at = cross, even, c, x
			}
		}
		for i := range boxes {
			try(starts[i] - 1)
			try(ends[i])
		}
	}
	return class, at, true
}
