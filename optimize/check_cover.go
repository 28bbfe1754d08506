package optimize

import "slices"

// coverage is whether boxes hold every point.
type coverage uint8

const (
	coverFull coverage = iota
	coverHole
	coverUnknown // too many steps
)

// covered tells whether the leaves' boxes together hold every count of sticks
// of each class from zero to its limit.
//
// It cuts the space along the faces of the boxes, where a cut runs through the
// fewest boxes, until each part lies in one box or meets none. Boxes that come
// from repeated halving, as those of a search tree do, need no more cuts than
// there are boxes.
func (e *evidence) covered(leaves []Leaf) coverage {
	lo := make([]int64, len(e.class))
	hi := make([]int64, len(e.class))
	for c := range e.class {
		hi[c] = e.class[c].limit
	}
	boxes := make([]*Leaf, len(leaves))
	for i := range leaves {
		boxes[i] = &leaves[i]
	}
	return e.coveredPart(lo, hi, boxes, maxMeeting)
}

// maxMeeting bounds the memory of coveredPart: how many boxes all the parts that are
// being looked at meet.
const maxMeeting = 1 << 22

func (e *evidence) coveredPart(lo, hi []int64, boxes []*Leaf, memory int) coverage {
	if memory -= len(boxes) + 1; !e.steps.spend(int64(len(boxes)*len(lo)+1)) || memory < 0 {
		return coverUnknown
	}
	var meet []*Leaf
	for _, b := range boxes {
		holds, meets := true, true
		for c := range lo {
			holds = holds && b.Lo[c] <= lo[c] && hi[c] <= b.Hi[c]
			meets = meets && b.Lo[c] <= hi[c] && lo[c] <= b.Hi[c]
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
	if r := e.coveredPart(lo, hi, meet, memory); r != coverFull {
		return r
	}
	lo[c], hi[c] = at+1, last
	return e.coveredPart(lo, hi, meet, memory)
}

// bestCut returns a class and the last count of the lower part, so that both
// parts hold points, the cut lies on a face of a box, and as few boxes as
// possible are on both sides. None of the boxes holds the whole part, so there
// is such a cut. It is not ok where nobody waits for it any longer.
func (e *evidence) bestCut(lo, hi []int64, boxes []*Leaf) (class int, at int64, ok bool) {
	fewest, balance := len(boxes)+1, 0
	starts := make([]int64, len(boxes))
	ends := make([]int64, len(boxes))
	for c := range lo {
		for i, b := range boxes {
			starts[i], ends[i] = b.Lo[c], b.Hi[c]
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
