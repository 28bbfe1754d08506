package optimize

import (
	"cmp"
	"slices"

	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/measure"
)

// fits reports what no plan can yield, whatever else it yields: a piece that is too long or
// too good for every stick, a group that is too long or too many for one, a group that no
// lot can yield, a run that no splices make short enough.
func (f *free) fits() error {
	p := f.problem
	// By grade, so that sticks are looked through once for each.
	type place struct {
		stick int
		have  measure.Length
	}
	room := map[int]place{}
	for i := range p.Pieces {
		need := f.pieceNeed(i)
		at, known := room[p.Pieces[i].Grade]
		if !known {
			if err := f.took(len(p.Sticks)); err != nil {
				return err
			}
			at.stick, at.have = f.roomiest(p.Pieces[i].Grade, nil)
			room[p.Pieces[i].Grade] = at
		}
		if best, have := at.stick, at.have; need > have {
			return tooLong(p, i, best, need, max(have, 0))
		}
	}
	groupOf := map[int]int{} // by first piece
	for g := range p.Rules.Groups {
		groupOf[p.Rules.Groups[g].Pieces[0]] = g
	}
	for i := range f.items {
		if len(f.items[i].group) > 0 {
			if err := cmp.Or(f.took(len(p.Sticks)), f.fitGroup(i, groupOf[f.items[i].group[0]])); err != nil {
				return err
			}
		}
	}
	for k := range f.lots {
		g := f.lots[k].group
		if !slices.ContainsFunc(f.lotNames, func(lot string) bool { return f.fitLot(g, lot) }) {
			return noLot(g)
		}
	}
	for g := range p.Rules.Groups {
		if gr := &p.Rules.Groups[g]; gr.Started && !f.fitLot(g, gr.Lot) {
			return noLot(g)
		}
	}
	for r := range p.Runs {
		if !f.fitRun(r) {
			best, have := f.roomiest(0, nil)
			e := infeasible(ReasonRunTooLong)
			e.Run, e.Stick, e.Need, e.Have = r, best, p.Runs[r].Length, max(have, 0)
			return e
		}
	}
	return nil
}

// tooLong reports a piece that is longer than what the stick with the most room can give.
func tooLong(p *Problem, piece, stick int, need, have measure.Length) error {
	e := infeasible(ReasonPieceTooLong)
	e.Piece, e.Label, e.Stick, e.Need, e.Have = piece, p.Pieces[piece].Label, stick, need, have
	return e
}

func noLot(group int) error {
	e := infeasible(ReasonGroupInNoLot)
	e.Group = group
	return e
}

// roomiest returns the stick with the longest clear stretch that can be cut in one among
// those of a grade or better, and of a lot where one is given; -1 where there is none.
func (f *free) roomiest(grade int, lot *string) (best int, have measure.Length) {
	p := f.problem
	best, have = -1, -1
	for c := range f.classes {
		for _, s := range f.classes[c].sticks {
			if p.Sticks[s].Grade < grade || lot != nil && p.Sticks[s].Lot != *lot {
				continue
			}
			for _, w := range f.classes[c].clear {
				l := w.To - w.From
				if f.classes[c].yard {
					l = min(l, p.Rules.MaxTransport-min(p.Sticks[s].TrimStart, p.Sticks[s].TrimEnd))
				}
				if l > have {
					best, have = s, l
				}
			}
		}
	}
	return best, have
}

// taken returns the usable length that it takes to cut no more than what has the size in
// half ticks where ends nest, in ticks where not.
func (f *free) taken(size int64) measure.Length {
	return measure.Length((size+f.double-1)/f.double) - f.problem.Kerf
}

// pieceNeed returns the usable length that a piece takes by itself: more than its own where a
// bevel at its right takes more than the kerf.
func (f *free) pieceNeed(i int) measure.Length {
	pc := &f.problem.Pieces[i]
	ways, _ := f.ways(pc)
	least := ways[0].Size
	for _, w := range ways {
		least = min(least, w.Size)
	}
	return max(pc.Length, f.taken(least))
}

// fitGroup looks at a group that comes from one stick, which is the item's.
func (f *free) fitGroup(item, g int) error {
	r := &f.problem.Rules
	pieces := f.items[item].group
	e := infeasible("")
	e.Group = g
	if most := r.MaxPieces; most > 0 && len(pieces) > most {
		e.Reason, e.NeedCount, e.HaveCount = ReasonGroupTooMany, int64(len(pieces)), int64(most)
		return e
	}
	need := f.taken(f.model.Items[item].Orientations[0].Size * f.unit)
	if best, have := f.roomiest(f.grades[item], nil); need > have {
		e.Reason, e.Stick, e.Need, e.Have = ReasonGroupTooLong, best, need, max(have, 0)
		return e
	}
	return nil
}

// fitLot reports whether each piece of a group fits a stick of the lot.
func (f *free) fitLot(g int, lot string) bool {
	for _, i := range f.problem.Rules.Groups[g].Pieces {
		if f.took(len(f.problem.Sticks)) != nil {
			return true // nobody waits to know
		}
		if _, have := f.roomiest(f.problem.Pieces[i].Grade, &lot); f.pieceNeed(i) > have {
			return false
		}
	}
	return true
}

// fitRun reports whether a run has a way of parts that each fit some stick.
func (f *free) fitRun(r int) bool {
	run := &f.model.Runs[r]
	least := slices.Repeat([]int{-1}, run.Nodes) // arcs to the node
	least[0] = 0
	for k, a := range run.Arcs { // ascending in From
		if k%64 == 0 && f.took(64*len(f.model.Bins)) != nil {
			return true // nobody waits to know
		}
		if n := least[a.From]; n >= 0 && (least[a.To] < 0 || n+1 < least[a.To]) && f.fitsAny(a.Item) {
			least[a.To] = n + 1
		}
	}
	n := least[run.Nodes-1]
	return n > 0 && (run.Most == 0 || n <= run.Most)
}

// fitsAny reports whether some stick yields one of the item, what the saw can hold left aside.
func (f *free) fitsAny(item int) bool {
	for b := range f.model.Bins {
		k := &f.model.Kinds[f.model.Bins[b].Kind]
		if k.Barred != nil && k.Barred[item] {
			continue
		}
		if slices.ContainsFunc(f.model.Items[item].Orientations, func(w rules.Orientation) bool { return w.Size <= f.model.Bins[b].Cap }) {
			return true
		}
	}
	return false
}
