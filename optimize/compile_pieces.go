package optimize

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// item is the meaning of one of the solver's items.
type item struct {
	length measure.Length // of a part
	pieces []int          // of Problem.Pieces, as single pieces
	group  []int          // pieces that stay together, in order; then each group is an item
	begun  []int          // those of pieces that come from the lot on every way of its runs
	part   bool           // it includes parts of runs
	lot    int            // the required lot, -1 for any
	turns  []Turn
}

// itemKey is common to equal items, and distinguishes most others.
type itemKey struct {
	way   rules.Orientation // the first
	grade int
	grip  grip
	lot   int
}

// grip has the properties of a piece that Rules.MinHold needs.
type grip struct {
	long  bool // it can be held
	uncut bool // it is square at both ends: a whole stick may be it
}

// addItems makes items of the pieces: equal ones merged, groups that stay on one stick as one.
// Pieces of a lot are left to addLots.
func (in *instance) addItems() error {
	p := in.problem
	grouped := make([]bool, len(p.Pieces))
	for g := range p.Rules.Groups {
		for _, i := range p.Rules.Groups[g].Pieces {
			grouped[i] = true
		}
	}
	limit := in.mostPieces()
	for _, i := range in.pieceOrder() {
		pc := &p.Pieces[i]
		q := quantity(pc)
		if q >= limit-in.total {
			return fieldError(fmt.Sprintf("pieces[%d].quantity", i), q, fmt.Sprintf("a total quantity below %d", limit))
		}
		in.total += q
		if grouped[i] {
			continue
		}
		if len(in.ends) > maxShapes || len(in.items) > maxItems {
			return in.small()
		}
		if err := in.took(64); err != nil {
			return err
		}
		k := in.itemOf(pc, -1)
		in.items[k].pieces = append(in.items[k].pieces, i)
		in.model.Items[k].Demand += q
	}
	for g := range p.Rules.Groups {
		if p.Rules.Groups[g].Kind == GroupOneLot {
			continue
		}
		if len(in.items) > maxItems {
			return in.small()
		}
		if err := in.addGroup(g); err != nil {
			return err
		}
	}
	return nil
}

// pieceOrder returns the pieces in the order of their items: as listed or, without rules, the
// longest first, so that the solver sees the same problem in any order.
func (in *instance) pieceOrder() []int {
	p := in.problem
	order := make([]int, len(p.Pieces))
	for i := range order {
		order[i] = i
	}
	if !in.ruled {
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(p.Pieces[b].Length, p.Pieces[a].Length) })
	}
	return order
}

// addGroup makes an item of pieces that stay together.
func (in *instance) addGroup(g int) error {
	p, pieces := in.problem, in.problem.Rules.Groups[g].Pieces
	way := rules.Orientation{Right: rules.Square}
	grade, long := math.MinInt, false
	for k, i := range pieces {
		pc := &p.Pieces[i]
		w := in.lying(pc.Left, pc.Right, Turn{})
		if way.Size += w.Size + int64(pc.Length)*in.double; way.Size > 1<<61 {
			return fieldError("pieces", "too long in total", fmt.Sprintf("pieces of rules.groups[%d] of a total length, kerfs included, of at most %v",
				g, measure.Length(1<<61/in.double).About()))
		}
		if k == 0 {
			way.Left = w.Left
		} else if way.Right >= 0 && way.Right == w.Left {
			way.Size -= int64(in.ends[w.Left].setback) * in.double
		}
		way.Right = w.Right
		grade = max(grade, pc.Grade)
		long = long || in.long(pc.Length)
		in.longest = max(in.longest, pc.Length)
	}
	in.items = append(in.items, item{group: pieces, lot: -1, turns: []Turn{{}}})
	in.grades = append(in.grades, grade)
	in.model.Items = append(in.model.Items, rules.Item{Demand: quantity(&p.Pieces[pieces[0]]), Orientations: []rules.Orientation{way},
		Pieces: int64(len(pieces)), Long: long})
	return nil
}

// itemOf finds or makes the item of equal pieces that come from a lot, -1 for any.
func (in *instance) itemOf(pc *stock.Piece, lot int) int {
	ways, turns := in.ways(pc)
	g := in.grip(pc)
	key := itemKey{ways[0], pc.Grade, g, lot}
	for _, i := range in.itemAt[key] {
		if slices.Equal(in.model.Items[i].Orientations, ways) && slices.Equal(in.items[i].turns, turns) {
			return i
		}
	}
	in.itemAt[key] = append(in.itemAt[key], len(in.items))
	in.items = append(in.items, item{lot: lot, turns: turns})
	in.model.Items = append(in.model.Items, rules.Item{Orientations: ways, Pieces: 1, Long: g.long, Uncut: g.uncut})
	in.grades = append(in.grades, pc.Grade)
	return len(in.items) - 1
}

func (in *instance) grip(pc *stock.Piece) grip {
	if in.problem.Rules.MinHold == 0 {
		return grip{long: true}
	}
	return grip{in.long(pc.Length), pc.Left.LongPoint() == stock.SectionAll && pc.Right.LongPoint() == stock.SectionAll}
}

func (in *instance) long(l measure.Length) bool { return l >= in.problem.Rules.MinHold }

func quantity(p *stock.Piece) int64 { return max(1, int64(p.Quantity)) }
