package optimize

import "math"

// deal makes dealers of pieces and sticks. A group is dealt as its first piece.
func (d *decoder) deal() {
	in, p := d.in, d.in.problem
	for i := range in.items {
		var t dealer
		add := func(id int, n int64) { t.ids, t.left = append(t.ids, id), append(t.left, n) }
		it := &in.items[i]
		switch {
		case i == in.spare:
		case len(it.group) > 0:
			add(it.group[0], quantity(&p.Pieces[it.group[0]]))
		case it.lot >= 0:
			for _, id := range append(d.lots[i], it.begun...) {
				add(id, quantity(&p.Pieces[id]))
			}
		default:
			for _, id := range it.pieces {
				add(id, quantity(&p.Pieces[id]))
			}
			for _, id := range d.parts[i] {
				add(id, 1)
			}
		}
		d.things = append(d.things, t)
	}
	for c := range in.classes {
		var s dealer
		for _, i := range in.classes[c].sticks {
			n := int64(p.Sticks[i].Limit)
			if n == 0 {
				n = math.MaxInt64
			}
			s.ids, s.left = append(s.ids, i), append(s.left, n)
		}
		d.sticks = append(d.sticks, s)
	}
	d.bought = make([]int64, len(in.classes))
	d.used = make([]int64, len(p.Sticks))
	d.cutOf = make([]int64, len(p.Sticks))
}

// dealer hands out equal things in the order of their ids.
type dealer struct {
	ids  []int
	left []int64 // per id; more than zero
}

// run returns how many equal hands of n things can be dealt, 0 if there are too few things for
// one.
func (d *dealer) run(n int64) int64 {
	if len(d.left) > 0 && d.left[0] >= n {
		return d.left[0] / n
	}
	for _, l := range d.left {
		if n -= min(n, l); n == 0 {
			return 1
		}
	}
	return 0
}

// deal removes hands of n things each, at most as many as run allows, and appends the ids of
// one hand.
func (d *dealer) deal(n, hands int64, to []int) []int {
	if d.left[0] >= n {
		for range n {
			to = append(to, d.ids[0])
		}
		d.take(n * hands)
		return to
	}
	for n > 0 {
		k := min(n, d.left[0])
		for range k {
			to = append(to, d.ids[0])
		}
		d.take(k)
		n -= k
	}
	return to
}

// take removes n of the first thing, which has as many.
func (d *dealer) take(n int64) {
	if d.left[0] -= n; d.left[0] == 0 {
		d.ids, d.left = d.ids[1:], d.left[1:]
	}
}
