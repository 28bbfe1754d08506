package optimize

import (
	"fmt"
	"math"
	"slices"

	"example.com/longpoint/measure"
)

// sumLimit is the upper limit of the solver's totals without rules: see model.Problem.
const sumLimit = 1 << 60

// ruledCount is the upper limit of the number of pieces with rules: that many sticks fit an int
// on every machine.
const ruledCount = min(1<<40, math.MaxInt)

// maxPieces is the greatest number of pieces per stick, since a Pattern lists each of them.
const maxPieces = 1 << 16

// The limits of a problem, which bound time and memory. Jobs of a thousand houses stay below.
const (
	maxItems  = 10_000  // kinds of pieces and parts: by length, ends, grade and lot
	maxKinds  = 10_000  // kinds of sticks, counting each clear stretch
	maxCells  = 1 << 22 // kinds of pieces times kinds of sticks
	maxShapes = 1_000   // shapes of ends that nest
	maxLayers = 1 << 20 // positions of a run times the splices that it may have
)

// mostPieces returns the upper limit of the number of pieces.
func (in *instance) mostPieces() int64 {
	if in.ruled {
		return ruledCount
	}
	return sumLimit
}

// small reports kinds that exceed their limit.
func (in *instance) small() error {
	pieces, sticks, with := "kinds of pieces and parts", "kinds of sticks and clear stretches", " in a problem with rules"
	if !in.ruled {
		pieces, sticks, with = "different lengths", "kinds of sticks", ""
	}
	items, bins := len(in.items), len(in.model.Bins)
	switch {
	case items > maxItems:
		return fieldError("pieces", items, fmt.Sprintf("at most %d %s%s", maxItems, pieces, with))
	case bins > maxKinds:
		return fieldError("sticks", bins, fmt.Sprintf("at most %d %s%s", maxKinds, sticks, with))
	case items*bins > maxCells:
		return fieldError("pieces", items, fmt.Sprintf("at most %d %s%s from %d kinds of sticks", maxCells/bins, pieces, with, bins))
	case len(in.ends) > maxShapes:
		return fieldError("rules.nest", len(in.ends), fmt.Sprintf("at most %d shapes of ends%s", maxShapes, with))
	}
	return nil
}

// crowding reports pieces so small that a plan would have to list too many on one stick.
func (in *instance) crowding() error {
	if most := in.problem.Rules.MaxPieces; most > 0 && most <= maxPieces {
		return nil
	}
	room := int64(0)
	for b := range in.model.Bins {
		room = max(room, in.model.Bins[b].Cap)
	}
	parts := make([]int64, len(in.items)) // of runs, at most one per run
	for r := range in.model.Runs {
		for _, a := range in.model.Runs[r].Arcs {
			parts[a.Item] += a.N
		}
	}
	type small struct {
		item        int
		size, count int64
	}
	var all []small
	for i := range in.items {
		it := &in.model.Items[i]
		if it.Alone {
			continue
		}
		least := it.Orientations[0].Size
		for _, w := range it.Orientations {
			save := int64(0)
			for _, e := range [2]int{w.Left, w.Right} {
				if e >= 0 {
					save += int64(in.ends[e].setback) * in.double / 2
				}
			}
			least = min(least, w.Size-save)
		}
		all = append(all, small{i, max(1, least), max(0, it.Demand) + parts[i]})
	}
	slices.SortStableFunc(all, func(a, b small) int {
		return compareProducts(a.size, in.model.Items[b.item].Pieces, b.size, in.model.Items[a.item].Pieces)
	})
	n := int64(0)
	for _, s := range all {
		k := min(s.count, room/s.size)
		room -= k * s.size
		if n += k * in.model.Items[s.item].Pieces; n > maxPieces {
			field, l := "pieces", measure.Length(s.size/in.double)
			if ids := slices.Concat(in.items[s.item].pieces, in.items[s.item].group); len(ids) > 0 {
				field, l = fmt.Sprintf("pieces[%d].length", ids[0]), in.problem.Pieces[ids[0]].Length
			}
			return fieldError(field, l.About(), fmt.Sprintf("pieces of which no stick holds more than %d", maxPieces))
		}
	}
	return nil
}
