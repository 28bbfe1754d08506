package optimize_test

import (
	"math/rand/v2"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// best is how good a plan is, in the order in which the package compares.
type best struct {
	cost   int64
	sticks int
	offcut measure.Length
}

func (b best) better(than best) bool {
	switch {
	case b.cost != than.cost:
		return b.cost < than.cost
	case b.sticks != than.sticks:
		return b.sticks < than.sticks
	}
	return b.offcut > than.offcut
}

// slowSolve tries every division of the pieces among sticks, in the obvious way: the first remaining
// piece goes on a stick of each kind, with each subset of the others. It is for problems of a few
// pieces.
func slowSolve(p optimize.Problem) (found best, ok bool) {
	var pieces []measure.Length
	for _, pc := range p.Pieces {
		for range max(1, pc.Quantity) {
			pieces = append(pieces, pc.Length)
		}
	}
	priced := false
	for _, s := range p.Sticks {
		priced = priced || s.Price > 0
	}
	left := make([]int, len(p.Sticks))
	for i, s := range p.Sticks {
		left[i] = s.Limit
		if s.Limit == 0 {
			left[i] = len(pieces)
		}
	}
	var divide func(todo uint, so best)
	divide = func(todo uint, so best) {
		if ok && so.cost > found.cost {
			return
		}
		if todo == 0 {
			if !ok || so.better(found) {
				found, ok = so, true
			}
			return
		}
		first := todo & -todo
		rest := todo &^ first
		for s, st := range p.Sticks {
			if left[s] == 0 {
				continue
			}
			left[s]--
			for sub := rest; ; sub = (sub - 1) & rest {
				on := sub | first
				var sum measure.Length
				n := measure.Length(0)
				for i, l := range pieces {
					if on>>i&1 == 1 {
						sum += l
						n++
					}
				}
				room := st.Length - st.TrimStart - st.TrimEnd
				if sum+(n-1)*p.Kerf <= room {
					next := so
					next.sticks++
					next.offcut = max(so.offcut, room-sum-n*p.Kerf)
					if priced {
						next.cost += st.Price
					} else {
						next.cost += int64(st.Length)
					}
					divide(todo&^on, next)
				}
				if sub == 0 {
					break
				}
			}
			left[s]++
		}
	}
	divide(1<<len(pieces)-1, best{})
	return found, ok
}

// tiny returns a random problem of at most seven pieces, in a mix of kerf or
// none, limits, prices, trims and equal lengths.
func tiny(r *rand.Rand) optimize.Problem {
	var p optimize.Problem
	unit := []measure.Length{1, 7, measure.Inch / 16, measure.Inch}[r.IntN(4)]
	if r.IntN(2) == 0 {
		p.Kerf = measure.Length(r.IntN(4)) * unit
	}
	size := 4 + r.IntN(30)
	priced := r.IntN(3) > 0
	for range 1 + r.IntN(3) {
		s := stock.Stick{Length: measure.Length(size/2+r.IntN(size)+1) * unit}
		if r.IntN(4) == 0 {
			s.TrimStart = measure.Length(r.IntN(2)) * unit
		}
		if r.IntN(4) == 0 && s.Length > s.TrimStart+2*unit {
			s.TrimEnd = unit
		}
		if r.IntN(2) == 0 {
			s.Limit = 1 + r.IntN(3)
		}
		if priced && r.IntN(6) > 0 {
			s.Price = int64(1+r.IntN(12)) * int64(1+r.IntN(2))
		}
		if s.Length > s.TrimStart+s.TrimEnd {
			p.Sticks = append(p.Sticks, s)
		}
	}
	if len(p.Sticks) == 0 {
		p.Sticks = append(p.Sticks, stock.Stick{Length: measure.Length(size) * unit})
	}
	owned(&p)
	n := 1 + r.IntN(7)
	for n > 0 {
		pc := stock.Piece{Length: measure.Length(1+r.IntN(size*3/4)) * unit}
		if r.IntN(3) == 0 && len(p.Pieces) > 0 {
			pc.Length = p.Pieces[r.IntN(len(p.Pieces))].Length
		}
		q := 1 + r.IntN(min(n, 3))
		if q > 1 || r.IntN(2) == 0 {
			pc.Quantity = q
		}
		n -= q
		p.Pieces = append(p.Pieces, pc)
	}
	return p
}
