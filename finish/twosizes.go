package finish

import (
	"example.com/longpoint/internal/natural"
)

// twoSizes returns the best mix of two sizes, whatever their counts, in about
// as many steps as Euclid's algorithm. The sizes come in the order of byValue.
//
// With y packages of the second size b, the first size a covers the rest, and (b y
// - need) mod a is left over. More packages of b never cost less for the same
// amount left over, so only those y matter that leave less over than every smaller
// y. These record lows of an arithmetic progression modulo a form a few runs of
// equal steps (the three-distance theorem), each starting at the end of the
// previous one. Along a run, cost, packages and the amount left over change
// linearly, so an end of the run is its best.
//
// ok is false if no mix can be represented.
func twoSizes(need int64, a, b size) (x, y int64, value mix, ok bool) {
	offer := func(nx, ny int64) {
		// the amount left lies in [0, max(a, b)), though the total may overflow int64
		left := int64(uint64(nx)*uint64(a.n) + uint64(ny)*uint64(b.n) - uint64(need))
		cost, ok1 := mulAdd(0, nx, a.price)
		cost, ok2 := mulAdd(cost, ny, b.price)
		packs, ok3 := natural.Add(nx, ny)
		if m := (mix{cost, packs, left}); ok1 && ok2 && ok3 && (!ok || m.less(value)) {
			x, y, value, ok = nx, ny, m, true
		}
	}
	offer(0, ceilDiv(need, b.n))
	most := need / b.n // further packages of b leave nothing for a to cover
	at := func(ny int64) { offer(ceilDiv(need-ny*b.n, a.n), ny) }
	at(0)

	now, over := int64(0), (a.n-need%a.n)%a.n // y, and its excess
	// downS more of b reduce the amount left over by down, upS more increase it
	// by up: the best steps so far in either direction.
	downS, down := int64(0), a.n
	upS, up := int64(1), b.n%a.n
	for over > 0 && up > 0 {
		if down > over { // find the next step that goes down by no more than over
			k := min(ceilDiv(down-over, up), (down-1)/up)
			downS, down = downS+k*upS, down-k*up
		}
		if down > over {
			// up is the greater now
			k := up / down
			upS, up = upS+k*downS, up-k*down
			continue
		}
		if downS > most-now {
			return
		}
		k := min(over/down, (most-now)/downS)
		now, over = now+k*downS, over-k*down
		at(now)
	}
	return
}
