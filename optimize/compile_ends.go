package optimize

import (
	"slices"

	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// endClass is one shape of cut: ends of a class are parallel.
type endClass struct {
	setback measure.Length
	twice   measure.Angle // twice the angle from square, since half a corner may be a fraction
	plane   int           // 0: back to face, 1: edge to edge
	lean    int           // direction of the slant
}

// ways returns the ways in which a piece may lie, with the turn of each; sizes in ticks.
func (in *instance) ways(pc *stock.Piece) ([]rules.Orientation, []Turn) {
	turns := []Turn{{}}
	if in.problem.Rules.Nest && pc.Symmetry.MayTurn() {
		turns = append(turns, Turn{EndForEnd: true})
	}
	if in.problem.Rules.Nest && pc.Symmetry.MayRoll() {
		turns = append(turns, Turn{Rolled: true}, Turn{EndForEnd: true, Rolled: true})
	}
	var ways []rules.Orientation
	var kept []Turn
	for _, t := range turns {
		w := in.lying(pc.Left, pc.Right, t)
		w.Size += int64(pc.Length) * in.double
		if !slices.Contains(ways, w) {
			ways, kept = append(ways, w), append(kept, t)
		}
	}
	return ways, kept
}

// lying returns the ends of a piece in a turn, and the kerf at its right.
func (in *instance) lying(l, r stock.End, t Turn) rules.Orientation {
	swap, face, edge := t.EndForEnd, t.Rolled, t.EndForEnd != t.Rolled
	if swap {
		l, r = r, l
	}
	kerf := in.problem.Kerf
	if in.problem.Rules.Nest {
		kerf = r.KerfAlong(kerf)
	}
	return rules.Orientation{Size: int64(kerf) * in.double, Left: in.end(l, true, face, edge), Right: in.end(r, false, face, edge)}
}

// end returns the class of an end as it lies: at the left or right, rolled or not, with its
// edges exchanged or not.
func (in *instance) end(e stock.End, left, flipFace, flipEdge bool) int {
	if !in.problem.Rules.Nest || e.Setback <= 0 {
		return rules.Square
	}
	c := endClass{setback: e.Setback, twice: 2*rightAngle - e.Corner()}
	lean := false
	// The kerf along the stick does not distinguish angles: it is zero at any angle if the kerf
	// is zero.
	switch {
	case e.Kind.Spliced():
		c.twice = 2 * e.Corner()
	case e.Kind == stock.EndButt:
		c.twice = 2 * max(e.Corner()-rightAngle, rightAngle-e.Corner())
	case e.Kind.Raked():
		c.twice = 2 * max(e.Angle, -e.Angle)
	}
	switch longPoint(e) {
	case stock.SectionBack:
		c.plane, lean = 0, flipFace
	case stock.SectionFace:
		c.plane, lean = 0, !flipFace
	case stock.SectionOuterEdge:
		c.plane, lean = 1, flipEdge
	case stock.SectionInnerEdge:
		c.plane, lean = 1, !flipEdge
	default:
		return rules.Square
	}
	// A right end that is long at the back is parallel to a left end that is long at the face.
	if lean != left {
		c.lean = 1
	}
	k, known := in.endAt[c]
	if !known {
		k = len(in.ends)
		in.endAt[c] = k
		in.ends = append(in.ends, c)
	}
	return k
}
