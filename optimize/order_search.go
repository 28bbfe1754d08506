package optimize

import (
	"cmp"
	"math"
	"slices"
)

// search finds the best order of a bay's pieces that uses at most room and turns at most the
// given number of pieces: see orderer. It returns false if that takes too many steps, or if
// there is no such order.
//
// It is dynamic programming from the last piece to the first. The pieces before a tail depend
// only on three things: which pieces are left, the left end of the tail, and its number of
// turned pieces. Among tails with the same three, the one that uses least is part of the order
// that uses least; if two use the same length, the pieces before them are cut from the same
// remnants.
func (o *orderer) search(kinds []kind, width, room int64, turned int) ([]placed, bool) {
	s := orderSearch{o: o, kinds: kinds, steps: min(orderSteps, o.steps)}
	defer func() { o.steps -= min(orderSteps, o.steps) - max(s.steps, 0) }()
	if !s.size() || !s.run(0, turned) {
		return nil, false
	}
	// For each number of turned pieces, the tail that uses least.
	var ends []tail
	for _, t := range s.tails[len(s.tails)-1] {
		if t.used > room {
			continue
		}
		at, ok := slices.BinarySearchFunc(ends, t, func(a, b tail) int { return cmp.Compare(a.turned, b.turned) })
		switch {
		case !ok:
			ends = slices.Insert(ends, at, t)
		case t.used < ends[at].used:
			ends[at] = t
		}
	}
	var out []placed
	least := int64(math.MaxInt64)
	for _, t := range ends {
		if !s.run(width-t.used, t.turned) {
			break
		}
		if order, faults, ok := s.order(t); ok && faults < least {
			out, least = order, faults
		}
		if least == 0 {
			break
		}
	}
	return out, out != nil
}

type orderSearch struct {
	o      *orderer
	kinds  []kind
	stride []int    // per kind: the stride of one piece in the index of a set
	tails  [][]tail // per set of pieces
	spare  int64    // see orderer.before
	steps  int
}

// awaited reports whether the search should continue: it returns false once the meter has
// ended.
func (o *orderer) awaited(steps int) bool { return o.in.mt == nil || o.in.mt.Watch(int64(steps)) }

// searchStep is the cost in meter steps of one step of a search over orders.
const searchStep = 16

// maxOrderSets is the greatest number of sets of pieces in a search.
const maxOrderSets = 1 << 15

// size numbers the sets of pieces.
func (s *orderSearch) size() bool {
	n := 1
	for k := range s.kinds {
		s.stride = append(s.stride, n)
		if n *= len(s.kinds[k].ids) + 1; n > maxOrderSets {
			return false
		}
	}
	s.tails = make([][]tail, n)
	return true
}

// has returns how many of a kind are in a set.
func (s *orderSearch) has(set, k int) int { return set / s.stride[k] % (len(s.kinds[k].ids) + 1) }

// run finds the best tails of all sets.
func (s *orderSearch) run(spare int64, turned int) bool {
	s.spare = spare
	for set := range s.tails {
		s.tails[set] = s.tails[set][:0]
	}
	s.tails[0] = append(s.tails[0], tail{})
	for set := range s.tails {
		for k := range s.kinds {
			if s.has(set, k) == len(s.kinds[k].ids) {
				continue
			}
			next := set + s.stride[k]
			for _, t := range s.tails[set] {
				for w := range s.kinds[k].ways {
					if s.steps--; s.steps < 0 || !s.o.awaited(searchStep) {
						return false
					}
					u := s.o.before(t, &s.kinds[k].ways[w], spare)
					if next == len(s.tails)-1 {
						u = whole(u)
					}
					if u.turned <= turned {
						s.tails[next] = better(s.tails[next], u)
					}
				}
			}
		}
	}
	return true
}

// better adds a tail to the list, or replaces the tail with the same state if the new one is
// better.
func better(list []tail, t tail) []tail {
	at := slices.IndexFunc(list, func(u tail) bool { return u.left == t.left && u.turned == t.turned && u.pending == t.pending })
	if at < 0 {
		return append(list, t)
	}
	if u := list[at]; cmp.Or(cmp.Compare(t.used, u.used), cmp.Compare(t.faults, u.faults)) < 0 {
		list[at] = t
	}
	return list
}

// order reads the best order from the tails, shortest pieces first.
func (s *orderSearch) order(best tail) (out []placed, faults int64, ok bool) {
	set := len(s.tails) - 1
	var goals []tail // any of these completes the order
	for _, t := range s.tails[set] {
		if t.turned != best.turned || t.used != best.used {
			continue
		}
		if len(goals) > 0 && t.faults < goals[0].faults {
			goals = goals[:0]
		}
		if len(goals) == 0 || t.faults == goals[0].faults {
			goals = append(goals, t)
		}
	}
	if len(goals) > 0 {
		faults = goals[0].faults
	}
	for set > 0 {
		u, from := s.first(set, goals)
		if len(from) == 0 {
			return nil, 0, false
		}
		out = append(out, u)
		set, goals = set-s.stride[u.kind], from
	}
	return out, faults, true
}

// first returns the shortest pieces with which one of the goals for a set can begin, and the
// tails that may then follow.
func (s *orderSearch) first(set int, goals []tail) (placed, []tail) {
	for k := range s.kinds {
		if s.has(set, k) == 0 {
			continue
		}
		for w := range s.kinds[k].ways {
			var from []tail
			for _, t := range s.tails[set-s.stride[k]] {
				u := s.o.before(t, &s.kinds[k].ways[w], s.spare)
				if set == len(s.tails)-1 {
					u = whole(u)
				}
				if slices.Contains(goals, u) {
					from = append(from, t)
				}
			}
			if len(from) > 0 {
				return placed{k, w}, from
			}
		}
	}
	return placed{}, nil
}
