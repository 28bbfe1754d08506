package optimize

import (
	"cmp"
	"slices"

	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/measure"
)

// fits returns an error if no plan exists for an obvious reason: a piece is longer or of a
// better grade than every stick, a group is too long or too large for one, no lot yields a
// group, or no splices make the parts of a run short enough.
func (in *instance) fits() error {
	p := in.problem
	// By grade, so that sticks are searched once for each.
	type place struct {
		stick int
		have  measure.Length
	}
	room := map[int]place{}
	for i := range p.Pieces {
		need := in.pieceNeed(i)
		at, known := room[p.Pieces[i].Grade]
		if !known {
			if err := in.took(len(p.Sticks)); err != nil {
				return err
			}
			at.stick, at.have = in.roomiest(p.Pieces[i].Grade, nil)
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
	for i := range in.items {
		if len(in.items[i].group) > 0 {
			if err := cmp.Or(in.took(len(p.Sticks)), in.fitGroup(i, groupOf[in.items[i].group[0]])); err != nil {
				return err
			}
		}
	}
	for k := range in.lots {
		g := in.lots[k].group
		if !slices.ContainsFunc(in.lotNames, func(lot string) bool { return in.fitLot(g, lot) }) {
			return noLot(g)
		}
	}
	for g := range p.Rules.Groups {
		if gr := &p.Rules.Groups[g]; gr.Started && !in.fitLot(g, gr.Lot) {
			return noLot(g)
		}
	}
	for r := range p.Runs {
		if !in.fitRun(r) {
			best, have := in.roomiest(0, nil)
			e := infeasible(ReasonRunTooLong)
			e.Run, e.Stick, e.Need, e.Have = r, best, p.Runs[r].Length, max(have, 0)
			return e
		}
	}
	return nil
}

// tooLong reports a piece that is longer than the stick with the most room.
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

// roomiest returns the stick with the longest clear stretch that can be cut in one piece among
// those of a sufficient grade and, if given, of a lot; it is -1 if there is none.
func (in *instance) roomiest(grade int, lot *string) (best int, have measure.Length) {
	p := in.problem
	best, have = -1, -1
	for c := range in.classes {
		for _, s := range in.classes[c].sticks {
			if p.Sticks[s].Grade < grade || lot != nil && p.Sticks[s].Lot != *lot {
				continue
			}
			for _, w := range in.classes[c].clear {
				l := w.To - w.From
				if in.classes[c].yard {
					l = min(l, p.Rules.MaxTransport-min(p.Sticks[s].TrimStart, p.Sticks[s].TrimEnd))
				}
				if l > have || l == have && s < best {
					best, have = s, l
				}
			}
		}
	}
	return best, have
}

// taken returns the usable length needed to cut just the given size, in half ticks if ends
// nest, else in ticks.
func (in *instance) taken(size int64) measure.Length {
	return measure.Length((size+in.double-1)/in.double) - in.problem.Kerf
}

// pieceNeed returns the usable length that a single piece needs: more than its own if a bevel
// at its right takes more than the kerf.
func (in *instance) pieceNeed(i int) measure.Length {
	pc := &in.problem.Pieces[i]
	ways, _ := in.ways(pc)
	least := ways[0].Size
	for _, w := range ways {
		least = min(least, w.Size)
	}
	return max(pc.Length, in.taken(least))
}

// fitGroup checks that some stick is long enough for a group that stays together, the given
// item.
func (in *instance) fitGroup(item, g int) error {
	r := &in.problem.Rules
	pieces := in.items[item].group
	e := infeasible("")
	e.Group = g
	if most := r.MaxPieces; most > 0 && len(pieces) > most {
		e.Reason, e.NeedCount, e.HaveCount = ReasonGroupTooMany, int64(len(pieces)), int64(most)
		return e
	}
	need := in.taken(in.model.Items[item].Orientations[0].Size * in.unit)
	if best, have := in.roomiest(in.grades[item], nil); need > have {
		e.Reason, e.Stick, e.Need, e.Have = ReasonGroupTooLong, best, need, max(have, 0)
		return e
	}
	return nil
}

// fitLot reports whether each piece of a group fits a stick of the lot.
func (in *instance) fitLot(g int, lot string) bool {
	for _, i := range in.problem.Rules.Groups[g].Pieces {
		if in.took(len(in.problem.Sticks)) != nil {
			return true // the context has ended
		}
		if _, have := in.roomiest(in.problem.Pieces[i].Grade, &lot); in.pieceNeed(i) > have {
			return false
		}
	}
	return true
}

// fitRun reports whether a run has a way whose parts each fit some stick.
func (in *instance) fitRun(r int) bool {
	run := &in.model.Runs[r]
	least := slices.Repeat([]int{-1}, run.Nodes) // arcs to the node
	least[0] = 0
	for k, a := range run.Arcs { // ascending in From
		if k%64 == 0 && in.took(64*len(in.model.Bins)) != nil {
			return true // the context has ended
		}
		if n := least[a.From]; n >= 0 && (least[a.To] < 0 || n+1 < least[a.To]) && in.fitsAny(a.Item) {
			least[a.To] = n + 1
		}
	}
	n := least[run.Nodes-1]
	return n > 0 && (run.Most == 0 || n <= run.Most)
}

// fitsAny reports whether some stick yields one of the item, ignoring MinHold.
func (in *instance) fitsAny(item int) bool {
	for b := range in.model.Bins {
		k := &in.model.Kinds[in.model.Bins[b].Kind]
		if k.Barred != nil && k.Barred[item] {
			continue
		}
		if slices.ContainsFunc(in.model.Items[item].Orientations, func(w rules.Orientation) bool { return w.Size <= in.model.Bins[b].Cap }) {
			return true
		}
	}
	return false
}
