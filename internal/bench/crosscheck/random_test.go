package crosscheck

import (
	"math/rand/v2"
	"slices"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// unit is the unit of the lengths of a job.
const unit = measure.Inch / 16

// job is a random problem in small integers, from which each reference builds a separate model.
type job struct {
	kerf   int
	sticks []stick
	pieces []piece
}

type stick struct {
	length, trim int // trim is lost at the start
	price        int
	limit        int // 0 is none
}

type piece struct{ length, quantity int }

// shape is the size of random jobs.
type shape struct {
	lengths, quantity int // at most so many lengths, and of each so many pieces
	pieces            int // at most so many in all
	longest           int // piece
	sticks            int // at most so many kinds
	span              int // a stick is at most so many times as long as the longest piece
}

// random makes a job. About one in four has no price, one in four limits some
// stick, and most have a kerf.
func random(r *rand.Rand, s shape) job {
	var j job
	if r.IntN(4) > 0 {
		j.kerf = 1 + r.IntN(3)
	}
	left := 1 + r.IntN(s.pieces)
	seen := map[int]bool{}
	for n := 1 + r.IntN(s.lengths); n > 0 && left > 0; n-- {
		l := 2 + r.IntN(s.longest-1)
		if seen[l] {
			continue
		}
		seen[l] = true
		q := 1 + r.IntN(min(left, s.quantity))
		left -= q
		j.pieces = append(j.pieces, piece{l, q})
	}
	free := r.IntN(4) == 0
	limited := r.IntN(4) == 0
	for range 1 + r.IntN(s.sticks) {
		k := stick{length: s.longest/2 + r.IntN(s.longest*s.span-s.longest/2+1)}
		if !free {
			k.price = r.IntN(30)
			if r.IntN(2) == 0 { // in proportion, so that several kinds are worth it
				k.price = k.length + r.IntN(4)
			}
		}
		if r.IntN(4) == 0 {
			k.trim = r.IntN(3)
		}
		if limited && r.IntN(2) == 0 {
			k.limit = 1 + r.IntN(3)
		}
		j.sticks = append(j.sticks, k)
	}
	return j
}

// problem states the job to the library.
func (j job) problem() optimize.Problem {
	p := optimize.Problem{Kerf: measure.Length(j.kerf) * unit}
	for _, k := range j.sticks {
		p.Sticks = append(p.Sticks, stock.Stick{
			Length: measure.Length(k.length) * unit, TrimStart: measure.Length(k.trim) * unit,
			Price: int64(k.price), Limit: k.limit, Rack: k.price == 0,
		})
	}
	for _, q := range j.pieces {
		p.Pieces = append(p.Pieces, stock.Piece{Length: measure.Length(q.length) * unit, Quantity: q.quantity})
	}
	return p
}

// count is the number of pieces.
func (j job) count() int {
	n := 0
	for _, q := range j.pieces {
		n += q.quantity
	}
	return n
}

// costs are the costs of each kind of stick: its price, or its length if no stick has a price.
func (j job) costs() []int {
	out := make([]int, len(j.sticks))
	priced := slices.ContainsFunc(j.sticks, func(k stick) bool { return k.price != 0 })
	for b, k := range j.sticks {
		out[b] = k.price
		if !priced {
			out[b] = k.length
		}
	}
	return out
}

// planCost is the plan's cost in the units of costs.
func planCost(p *optimize.Plan) int {
	if p.ByLength {
		return int(p.Cost / int64(unit))
	}
	return int(p.Cost)
}

// most is how many sticks of a kind can be of use.
func (j job) most(k stick) int {
	if k.limit > 0 {
		return min(k.limit, j.count())
	}
	return j.count()
}

// holds reports whether n pieces of a total length fit the stick: n pieces
// need n-1 cuts between them.
func (j job) holds(k stick, total, n int) bool {
	return n == 0 || total+j.kerf*(n-1) <= k.length-k.trim
}

// patterns calls f with each way of filling the stick that leaves no room for another piece; f may use
// the counts until it returns. It stops after limit ways and reports whether those were all.
func (j job) patterns(k stick, limit int, f func(counts []int)) bool {
	counts := make([]int, len(j.pieces))
	n := 0
	var rec func(i, total, pieces int) bool
	rec = func(i, total, pieces int) bool {
		if i == len(j.pieces) {
			for q, p := range j.pieces {
				if counts[q] < p.quantity && j.holds(k, total+p.length, pieces+1) {
					return true // not full
				}
			}
			if n++; n > limit {
				return false
			}
			if pieces > 0 {
				f(counts)
			}
			return true
		}
		defer func() { counts[i] = 0 }()
		for c := 0; c <= j.pieces[i].quantity && j.holds(k, total+c*j.pieces[i].length, pieces+c); c++ {
			counts[i] = c
			if !rec(i+1, total+c*j.pieces[i].length, pieces+c) {
				return false
			}
		}
		return true
	}
	return rec(0, 0, 0)
}

// sortPieces sorts by falling length.
func sortPieces(j job) {
	slices.SortFunc(j.pieces, func(a, b piece) int { return b.length - a.length })
}
