package replan

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/internal/price"
	"example.com/longpoint/stock"
)

// untouched reports whether the progress is empty.
func (d *Progress) untouched() bool {
	return !slices.ContainsFunc(d.Cut, func(n int) bool { return n != 0 }) &&
		!d.Bought && len(d.Started) == 0 && len(d.Owned) == 0 && len(d.Spoiled) == 0 && len(d.Supply) == 0
}

// remain sets up the problem of the rest.
func (r *replan) remain() error {
	p, q := r.p, &r.rev.Problem
	q.Kerf, q.Rules = p.Kerf, p.Rules
	r.remainRuns()
	if err := r.remainPieces(); err != nil {
		return err
	}
	r.remainSticks()
	paid := map[string]bool{}
	for i, n := range r.used {
		if n > 0 {
			paid[p.Sticks[i].Supplier] = true
		}
	}
	q.Rules.Charges = nil
	for _, c := range p.Rules.Charges {
		if !paid[c.Supplier] {
			q.Rules.Charges = append(q.Rules.Charges, c)
		}
	}
	return nil
}

// remainRuns finds the runs that are completely uncut: they may be spliced differently.
func (r *replan) remainRuns() {
	r.runOf = make([]int, len(r.left))
	for i := range r.runOf {
		r.runOf[i] = -1
	}
	for k := range r.old.Spliced {
		parts := r.old.Spliced[k].Pieces
		if slices.ContainsFunc(parts, func(i int) bool { return r.left[i] == 0 }) {
			continue
		}
		for _, i := range parts {
			r.runOf[i] = len(r.rev.Runs)
		}
		r.rev.Runs = append(r.rev.Runs, k)
		r.rev.Problem.Runs = append(r.rev.Problem.Runs, r.p.Runs[k])
	}
}

func (r *replan) remainPieces() error {
	p, rev := r.p, &r.rev
	q := &rev.Problem
	to := make([]int, len(r.left))
	for i, n := range r.left {
		to[i] = -1
		if n == 0 || r.runOf[i] >= 0 {
			continue
		}
		to[i] = len(q.Pieces)
		pc := *r.piece(i)
		pc.Quantity = n
		q.Pieces = append(q.Pieces, pc)
		rev.Pieces = append(rev.Pieces, i)
	}
	// The parts of the uncut runs come last.
	r.ids, r.all = slices.Clone(rev.Pieces), slices.Clone(q.Pieces)
	for _, k := range rev.Runs {
		for _, i := range r.old.Spliced[k].Pieces {
			to[i] = len(r.all)
			r.ids, r.all = append(r.ids, i), append(r.all, *r.piece(i))
			r.all[len(r.all)-1].Quantity = 0
		}
	}
	r.at = to
	q.Rules.Groups = nil
	gone := r.goneFrom()
	for g := range p.Rules.Groups {
		gr := &p.Rules.Groups[g]
		if gr.Kind == optimize.GroupOneLot {
			now, err := r.remainLot(g, gone[g])
			if err != nil {
				return err
			}
			if len(now.Pieces) > 0 {
				q.Rules.Groups = append(q.Rules.Groups, now)
			}
			continue
		}
		first := r.left[gr.Pieces[0]]
		now := optimize.Group{Kind: gr.Kind}
		for _, i := range gr.Pieces {
			if r.left[i] != first {
				return partOf(fmt.Sprintf("part of rules.groups[%d]", g),
					"whole sets of pieces that belong together: if one is spoiled, the others of its set must be cut again")
			}
			now.Pieces = append(now.Pieces, to[i])
		}
		if first > 0 {
			q.Rules.Groups = append(q.Rules.Groups, now)
		}
	}
	return nil
}

// partOf reports that a partly cut group cannot be continued.
func partOf(value, want string) error {
	return &measure.FieldError{Field: "progress.cut", Value: value, Want: want}
}

// goneFrom is a number of cut pieces of a group of one lot: their index in the group, their
// number and their lot.
type goneFrom struct {
	at, n int
	lot   string
}

// goneFrom returns the cut pieces of each group of one lot.
func (r *replan) goneFrom() map[int][]goneFrom {
	type member struct{ group, at int }
	in := map[int]member{}
	for g := range r.p.Rules.Groups {
		if gr := &r.p.Rules.Groups[g]; gr.Kind == optimize.GroupOneLot {
			for at, i := range gr.Pieces {
				in[i] = member{g, at}
			}
		}
	}
	gone := map[int][]goneFrom{}
	cut := func(stick, n int, pieces []int) {
		for _, i := range pieces {
			if m, ok := in[i]; ok && n > 0 {
				gone[m.group] = append(gone[m.group], goneFrom{m.at, n, r.p.Sticks[stick].Lot})
			}
		}
	}
	for k, n := range r.done.Cut {
		cut(r.old.Patterns[k].Stick, n, r.old.Patterns[k].Pieces)
	}
	for _, o := range r.done.Started {
		cut(o.Stick, 1, o.Pieces)
	}
	return gone
}

// remainLot returns the rest of a group of one lot. If pieces were cut from several lots, all
// but those of one lot must be spoiled, and it must be clear which lot that is.
func (r *replan) remainLot(g int, gone []goneFrom) (optimize.Group, error) {
	gr := &r.p.Rules.Groups[g]
	now := optimize.Group{Kind: optimize.GroupOneLot, Started: gr.Started, Lot: gr.Lot}
	var lots []string
	made := map[string]map[int]int{} // per lot: how many of each of the group's pieces
	for _, c := range gone {
		if made[c.lot] == nil {
			lots, made[c.lot] = append(lots, c.lot), map[int]int{}
		}
		made[c.lot][c.at] += c.n
	}
	good := 0 // number of pieces that are cut and not spoiled
	for _, i := range gr.Pieces {
		good += r.want(i) - r.left[i]
		if r.left[i] > 0 {
			now.Pieces = append(now.Pieces, r.at[i])
		}
	}
	if good == 0 {
		return now, nil
	}
	var from []string // lots that may have all good pieces
	for _, l := range lots {
		all := true
		for k, i := range gr.Pieces {
			all = all && made[l][k] >= r.want(i)-r.left[i]
		}
		if all && (!gr.Started || l == gr.Lot) {
			from = append(from, l)
		}
	}
	if len(from) != 1 {
		return now, partOf(fmt.Sprintf("part of rules.groups[%d] from lots %q", g, lots),
			"pieces from one lot: those of the others are spoiled, and to be cut again with those that match them")
	}
	now.Started, now.Lot = true, from[0]
	return now, nil
}

// remainSticks lists the stock on hand, the most cut up first, and then the sticks to buy.
func (r *replan) remainSticks() {
	done := r.done
	own := func(from int, place Place, s stock.Stick, refund int64) {
		s.Price, s.Bundle, s.Minimum, s.Breaks, s.Supplier, s.Rack = refund, 0, 0, nil, "", true
		if place != PlaceWhole {
			s.ID = "" // no longer the entry of the rack
		}
		if s.Label != "" {
			s.Label += ", " + placeLabels[place]
		}
		r.add(Owned{Stick: from, Place: place, Length: s.Length, Count: s.Limit, Refund: refund}, s)
	}
	remnant := func(from int, place Place, l measure.Length, count int) {
		s := r.p.Sticks[from]
		s.Length, s.TrimStart, s.TrimEnd, s.Nominal, s.Defects, s.Limit = l, 0, 0, 0, nil, count
		own(from, place, s, 0)
	}
	r.started = make([]int, len(done.Started))
	for k, o := range done.Started {
		r.started[k] = -1
		if o.Left > 0 {
			r.started[k] = len(r.rev.Problem.Sticks)
			remnant(o.Stick, PlaceStarted, o.Left, 1)
		}
	}
	for _, o := range done.Owned {
		if o.Place == PlaceLeftover {
			remnant(o.Stick, PlaceLeftover, o.Length, max(1, o.Count))
		}
	}
	for _, o := range done.Owned {
		if o.Place != PlaceWhole {
			continue
		}
		s := r.p.Sticks[o.Stick]
		s.Limit = max(1, o.Count)
		if o.Length != 0 {
			s.Length, s.Nominal = o.Length, 0
		}
		own(o.Stick, PlaceWhole, s, o.Refund)
	}
	r.remainSupply()
}

// remainSupply adds the number of each stick that can still be bought, or taken from the
// rack.
func (r *replan) remainSupply() {
	p, done := r.p, r.done
	// Stock on hand is free if anything has a price; otherwise its cost is its length.
	supply := make(map[int]int, len(done.Supply))
	for _, u := range done.Supply {
		supply[u.Stick] = u.Left
	}
	byLength := price.ByLength(p) && len(r.rev.Problem.Sticks) > 0
	for i := range p.Sticks {
		s := p.Sticks[i]
		if s.Limit > 0 {
			if s.Limit -= r.used[i]; s.Limit <= 0 {
				s.Limit = -1
			}
		}
		if left, told := supply[i]; told {
			if s.Limit = left; left == 0 {
				s.Limit = -1
			}
		}
		if s.Limit < 0 || s.Limit > 0 && (s.Bundle > s.Limit || s.Minimum > s.Limit) {
			continue // none is available, or fewer than a bundle
		}
		if byLength {
			s.Price, s.Breaks = int64(s.Length), nil
		}
		r.add(Owned{Stick: i}, s)
	}
}

func (r *replan) add(o Owned, s stock.Stick) {
	r.rev.Problem.Sticks = append(r.rev.Problem.Sticks, s)
	r.rev.Sticks = append(r.rev.Sticks, o)
}

// free reports whether the rest costs nothing, however it is cut. The cost is then a length.
func (r *replan) free() bool {
	toBuy := slices.ContainsFunc(r.rev.Sticks, func(o Owned) bool { return o.Place == PlaceSupplier })
	return price.ByLength(&r.rev.Problem) && (!price.ByLength(r.p) || !toBuy)
}

// told translates an error about the remaining problem to the numbers of the old one.
func (r *replan) told(err error) error {
	err = fault.Map(err, func(e *measure.FieldError) *measure.FieldError {
		f := *e
		f.Field = r.field(f.Field)
		return f.Under("problem")
	})
	var no *optimize.InfeasibleError
	if !errors.As(err, &no) {
		return err
	}
	e := *no
	if e.Piece >= 0 && e.Piece < len(r.rev.Pieces) {
		e.Piece = r.rev.Pieces[e.Piece]
	}
	if e.ShortFrom >= 0 && e.ShortFrom < len(r.rev.Pieces) {
		e.ShortFrom = r.rev.Pieces[e.ShortFrom]
	}
	if e.Stick >= 0 && e.Stick < len(r.rev.Sticks) {
		e.Stick = r.rev.Sticks[e.Stick].Stick
	}
	switch e.Reason {
	case optimize.ReasonGroupTooLong, optimize.ReasonGroupTooMany, optimize.ReasonGroupInNoLot:
		if g := r.rev.Problem.Rules.Groups; e.Group < len(g) {
			of := r.rev.Pieces[g[e.Group].Pieces[0]]
			e.Group = slices.IndexFunc(r.p.Rules.Groups, func(gr optimize.Group) bool { return slices.Contains(gr.Pieces, of) })
		}
	case optimize.ReasonRunTooLong:
		if e.Run < len(r.rev.Runs) {
			e.Run = r.rev.Runs[e.Run]
		}
	}
	return &e
}

// field names a field of the remaining problem by the number of its stick or piece in the old
// one.
func (r *replan) field(f string) string {
	_, rest, _ := strings.Cut(f, "]")
	var k int
	if n, _ := fmt.Sscanf(f, "sticks[%d]", &k); n == 1 && k >= 0 && k < len(r.rev.Sticks) {
		return fmt.Sprintf("sticks[%d]%s", r.rev.Sticks[k].Stick, rest)
	}
	if n, _ := fmt.Sscanf(f, "pieces[%d]", &k); n == 1 && k >= 0 && k < len(r.rev.Pieces) {
		return fmt.Sprintf("pieces[%d]%s", r.rev.Pieces[k], rest)
	}
	return f
}

// stickless is the error if no stick is on hand or available.
func (r *replan) stickless() error {
	if len(r.rev.Pieces) == 0 {
		return &optimize.InfeasibleError{Reason: optimize.ReasonSupplyDoesNotFit, Piece: -1, Group: -1, Run: -1, ShortFrom: -1, Stick: -1}
	}
	e := &optimize.InfeasibleError{Reason: optimize.ReasonSupplyTooFew, Piece: -1, Group: -1, Run: -1, ShortFrom: r.rev.Pieces[0], Stick: -1}
	e.Label = r.piece(e.ShortFrom).Label
	shortest := r.piece(e.ShortFrom).Length
	for _, i := range r.rev.Pieces {
		e.NeedCount += int64(r.left[i])
		if l := r.piece(i).Length; l < shortest {
			e.ShortFrom, e.Label, shortest = i, r.piece(i).Label, l
		}
	}
	return e
}
