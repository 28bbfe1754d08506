package replan

import (
	"fmt"
	"math"
	"slices"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize/internal/price"
	"example.com/longpoint/stock"
)

// The limits of package optimize on equal sticks, on those with defects, and on a length in a
// problem with rules.
const (
	maxSold     = 1 << 30
	maxFlawed   = 10_000
	lengthLimit = measure.Length(1) << 58
)

// inventory is the sum of the progress.
type inventory struct {
	left  []int // per piece, parts after the pieces: number still to cut
	stays []int // per old pattern: number of sticks not in Cut
	used  []int // per stick: number cut, started or whole on hand
	cut   []int // per stick: number cut or started
	clear map[int]measure.Length

	made   []int // per piece: number cut and not spoiled
	faults fault.List
}

// bad records an invalid field of the progress.
func (v *inventory) bad(field string, value any, want string) {
	v.faults.Add("progress."+field, value, want)
}

// piece returns a piece or a part of a run by its number.
func (r *replan) piece(i int) *stock.Piece {
	if n := len(r.p.Pieces); i >= n {
		return &r.old.Parts[i-n]
	}
	return &r.p.Pieces[i]
}

// want returns the wanted number of a piece or a part.
func (r *replan) want(i int) int {
	if i >= len(r.p.Pieces) {
		return 1
	}
	return max(1, r.p.Pieces[i].Quantity)
}

// count computes the pieces left to cut and the sticks that are no longer at the supplier's,
// and reports impossible progress.
func (r *replan) count() error {
	r.made = make([]int, len(r.p.Pieces)+len(r.old.Parts))
	r.used, r.cut = make([]int, len(r.p.Sticks)), make([]int, len(r.p.Sticks))
	r.countCut()
	r.countStarted()
	r.countOwned()
	r.countBought()
	r.countSpoiled()
	r.countSupply()
	if r.faults != nil {
		return fault.Join(r.faults...)
	}
	for i, n := range r.made {
		want := r.want(i)
		if n > want {
			r.bad("started", fmt.Sprintf("%d of piece %d cut", n, i), fmt.Sprintf("at most the %d that are wanted", want))
		}
		r.left = append(r.left, want-n)
	}
	return fault.Join(r.faults...)
}

func (r *replan) countCut() {
	if n, most := len(r.done.Cut), len(r.old.Patterns); n > most {
		r.bad("cut", fmt.Sprintf("%d numbers", n), fmt.Sprintf("at most one to each of %d patterns", most))
	}
	for k := range r.old.Patterns {
		pat := &r.old.Patterns[k]
		cut := 0
		if k < len(r.done.Cut) {
			cut = r.done.Cut[k]
		}
		if cut < 0 || cut > pat.Count {
			r.bad(fmt.Sprintf("cut[%d]", k), cut, fmt.Sprintf("0 to %d, as planned", pat.Count))
			continue
		}
		for _, i := range pat.Pieces {
			r.made[i] += cut
		}
		r.use(pat.Stick, cut, true)
		r.stays = append(r.stays, pat.Count-cut)
	}
}

// use counts sticks that are no longer at the supplier's.
func (r *replan) use(stick, n int, cut bool) {
	r.used[stick] += min(n, math.MaxInt-r.used[stick])
	if cut {
		r.cut[stick] += min(n, math.MaxInt-r.cut[stick])
	}
}

// stick reports whether the index of a stick is valid.
func (r *replan) stick(field string, s int) bool {
	n := len(r.p.Sticks)
	if s < 0 || s >= n {
		r.bad(field, s, fmt.Sprintf("an index below %d", n))
		return false
	}
	return true
}

// clearest returns the longest clear stretch of a stick, cached.
func (r *replan) clearest(stick int) measure.Length {
	l, known := r.clear[stick]
	if !known {
		l = clearest(&r.p.Sticks[stick])
		if r.clear == nil {
			r.clear = map[int]measure.Length{}
		}
		r.clear[stick] = l
	}
	return l
}

func (r *replan) countStarted() {
	for k, o := range r.done.Started {
		field := func(name string) string { return fmt.Sprintf("started[%d].%s", k, name) }
		room, most, fits := measure.Length(0), measure.Length(math.MaxInt64), false // for an unknown stick
		if r.stick(field("stick"), o.Stick) {
			r.use(o.Stick, 1, true)
			room, most, fits = usable(&r.p.Sticks[o.Stick]), r.clearest(o.Stick), true // without the pieces so far
		}
		for j, i := range o.Pieces {
			f := field(fmt.Sprintf("pieces[%d]", j))
			if i < 0 || i >= len(r.made) {
				r.bad(f, i, fmt.Sprintf("a number below %d", len(r.made)))
				continue
			}
			if !fits {
				continue // one report is enough for a misfit
			}
			pc := r.piece(i)
			l := pc.Length
			if r.p.Rules.Nest {
				l = max(0, l-max(pc.Left.Setback, pc.Right.Setback)) // shared with neighbors at best
			}
			if fits = l <= room; !fits {
				r.bad(f, i, fmt.Sprintf("pieces that fit the stick: %v is left for this one", max(0, room).About()))
				continue
			}
			room -= l + r.p.Kerf
			r.made[i]++
		}
		switch {
		case o.Left < 0 && most == math.MaxInt64:
			r.bad(field("left"), o.Left.About(), "zero or more")
		case o.Left < 0 || o.Left > most:
			r.bad(field("left"), o.Left.About(), fmt.Sprintf("zero to the usable length of a whole stick, %v", most.About()))
		case fits && o.Left > max(0, room):
			r.bad(field("left"), o.Left.About(), fmt.Sprintf("at most the length that its pieces leave of the stick, %v", max(0, room).About()))
		}
	}
}

// maxRefund returns the limit on the total of refunds: with it, a cost less all refunds, and
// also less the planned cost, stays in range.
func (r *replan) maxRefund() int64 { return min(1<<60-1, math.MaxInt64-r.old.Cost) }

func (r *replan) countOwned() {
	certain := r.faults == nil // the cuts are known
	refunds := r.maxRefund()   // the rest of the limit
	for k, o := range r.done.Owned {
		field := func(name string) string { return fmt.Sprintf("owned[%d].%s", k, name) }
		known := r.stick(field("stick"), o.Stick)
		leftover, whole := o.Place == PlaceLeftover, o.Place == PlaceWhole
		if known && leftover && certain && r.cut[o.Stick] == 0 {
			r.bad(field("stick"), o.Stick, "a stick of which one has been cut")
		}
		if !leftover && !whole {
			r.bad(field("place"), o.Place, fmt.Sprintf("%v or %v", PlaceWhole, PlaceLeftover))
		}
		switch {
		case known && whole:
			r.wholeLength(field("length"), &r.p.Sticks[o.Stick], o.Length)
		case known && leftover:
			if room := r.clearest(o.Stick); o.Length <= 0 || o.Length > room {
				r.bad(field("length"), o.Length.About(), fmt.Sprintf("more than zero and at most the usable length of a whole stick, %v", room.About()))
			}
		case o.Length < 0:
			r.bad(field("length"), o.Length.About(), "zero or more")
		}
		most := maxSold
		if known && whole && len(r.p.Sticks[o.Stick].Defects) > 0 {
			most = maxFlawed
		}
		counted := o.Count >= 0 && o.Count <= most
		if !counted {
			r.bad(field("count"), o.Count, fmt.Sprintf("1 to %d", most))
		}
		switch {
		case leftover && o.Refund != 0:
			r.bad(field("refund"), o.Refund, "zero for a leftover or a started stick")
		case leftover:
		case r.refund(field("refund"), o, refunds):
			refunds -= o.Refund * int64(max(1, o.Count))
		}
		if known && whole && counted {
			r.use(o.Stick, max(1, o.Count), false)
		}
	}
}

// countBought counts the other sticks that the plan buys as whole sticks on hand, if
// everything is bought.
func (r *replan) countBought() {
	if !r.done.Bought || r.faults != nil {
		return
	}
	r.done.Owned = slices.Clone(r.done.Owned) // the caller's
	for _, b := range r.old.Buy {
		if n := b.Count - r.used[b.Stick]; n > 0 {
			r.done.Owned = append(r.done.Owned, Owned{Stick: b.Stick, Place: PlaceWhole, Count: n})
			r.use(b.Stick, n, false)
		}
	}
}

// wholeLength reports an invalid length of a whole stick.
func (r *replan) wholeLength(field string, s *stock.Stick, l measure.Length) {
	most := max(s.Length, lengthLimit)
	switch ends := s.TrimStart + s.TrimEnd; {
	case l == 0:
	case l <= ends:
		r.bad(field, l.About(), fmt.Sprintf("more than the ends that cannot be used, %v", ends.About()))
	case l > most:
		r.bad(field, l.About(), fmt.Sprintf("at most %v", most.About()))
	case len(s.Defects) > 0:
		r.bad(field, l.About(), "zero for a stick with defects, which determine the usable length")
	}
}

// refund reports a refund that is out of range; left is the remaining limit on all refunds.
func (r *replan) refund(field string, o Owned, left int64) bool {
	switch {
	case o.Refund < 0:
		r.bad(field, o.Refund, "zero or more")
	case o.Refund > 0 && !slices.ContainsFunc(r.p.Sticks, price.Has):
		r.bad(field, o.Refund, "zero if no stick has a price")
	case o.Refund > left/int64(max(1, o.Count)):
		r.bad(field, o.Refund, fmt.Sprintf("refunds of at most %d in total", r.maxRefund()))
	default:
		return true
	}
	return false
}

func (r *replan) countSpoiled() {
	certain := r.faults == nil // the cuts are known
	for k, s := range r.done.Spoiled {
		field := func(name string) string { return fmt.Sprintf("spoiled[%d].%s", k, name) }
		switch {
		case s.Piece < 0 || s.Piece >= len(r.made):
			r.bad(field("piece"), s.Piece, fmt.Sprintf("a number below %d", len(r.made)))
			if s.Count < 0 {
				r.bad(field("count"), s.Count, "1 or more")
			}
		case s.Count < 0:
			r.bad(field("count"), s.Count, "1 or more")
		case !certain:
		case r.made[s.Piece] == 0:
			r.bad(field("piece"), s.Piece, "a piece of which one has been cut and is not spoiled yet")
		case max(1, s.Count) > r.made[s.Piece]:
			r.bad(field("count"), s.Count, fmt.Sprintf("1 to %d, the number cut", r.made[s.Piece]))
		default:
			r.made[s.Piece] -= max(1, s.Count)
		}
	}
}

func (r *replan) countSupply() {
	seen := make([]bool, len(r.p.Sticks))
	for k, s := range r.done.Supply {
		field := func(name string) string { return fmt.Sprintf("supply[%d].%s", k, name) }
		known := r.stick(field("stick"), s.Stick)
		if known && seen[s.Stick] {
			r.bad(field("stick"), s.Stick, "each stick once")
		}
		switch {
		case s.Left < 0:
			r.bad(field("left"), s.Left, "zero or more")
		case known && len(r.p.Sticks[s.Stick].Defects) > 0 && s.Left > maxFlawed:
			r.bad(field("left"), s.Left, fmt.Sprintf("at most %d sticks with the same defects", maxFlawed))
		}
		if known {
			seen[s.Stick] = true
		}
	}
}
