package optimize

import (
	"math"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// article is a unit of cutting: a piece, a group that stays together, or a part of a run.
type article struct {
	pieces []int          // whose values add up
	part   measure.Length // of a run, zero for anything else
	count  int64          // the most in a plan
	grade  int
	ways   []lying
	n      int64 // pieces
	long   bool  // one of them can be held at the saw
	bare   bool  // one piece, square at both ends

	lots  int    // where a leaf's values for the lots of its piece begin, 0 if it has none
	begun bool   // it has to come from lot
	lot   string // the required lot if begun
}

// lying is a way in which an article may lie on a stick. Sizes are doubled, so that half a
// setback is a whole number.
type lying struct {
	size        int64 // with a kerf at the right, less half of the greatest saving of its two ends
	left, right int   // shapes of its ends that nest, noShape for others
}

const noShape = -1

// shape is the cut of an end that nests. A right end and a left end of the same shape are parallel.
type shape struct {
	setback measure.Length
	twice   measure.Angle      // from square
	long    stock.SectionPoint // the side where a right end of this shape is longest
}

// farTooGreat is a size beyond any stick; sums of a few of them do not overflow.
const farTooGreat = 1 << 60

// maxParts limits the number of shapes of parts of runs, and so the memory of articles.
const maxParts = 1 << 20

// list computes the articles.
func (e *ruleEvidence) list() {
	p := e.p
	e.shapeAt, e.partAt = map[shape]int{}, map[partLook]int{}
	in := make([]int, len(p.Pieces)) // group+1
	for g := range p.Rules.Groups {
		for _, i := range p.Rules.Groups[g].Pieces {
			in[i] = g + 1
		}
	}
	for i := range p.Pieces {
		pc := &p.Pieces[i]
		a := article{pieces: []int{i}, count: int64(wanted(p, i)), grade: pc.Grade, ways: e.ways(pc), n: 1, long: pc.Length >= p.Rules.MinHold, bare: square(pc)}
		if in[i] > 0 {
			gr := &p.Rules.Groups[in[i]-1]
			if gr.Kind != GroupOneLot {
				continue
			}
			a.begun, a.lot, a.lots = gr.Started, gr.Lot, e.lotsOf[i]
		}
		e.articles = append(e.articles, a)
	}
	for g := range p.Rules.Groups {
		if gr := &p.Rules.Groups[g]; gr.Kind != GroupOneLot {
			e.articles = append(e.articles, e.set(gr))
		}
	}
	for r := range p.Runs {
		if !e.partsOf(&p.Runs[r]) {
			e.short = true
			return
		}
	}
}

// set returns the article of pieces that stay together. If ends nest, the pieces lie in order.
func (e *ruleEvidence) set(gr *Group) article {
	p := e.p
	a := article{pieces: gr.Pieces, count: int64(wanted(p, gr.Pieces[0])), grade: math.MinInt, n: int64(len(gr.Pieces))}
	all := lying{left: noShape, right: noShape}
	for k, i := range gr.Pieces {
		pc := &p.Pieces[i]
		w := e.lying(pc, Turn{})
		if k > 0 && all.right != noShape && all.right != w.left {
			// Half of the saving of the two ends was subtracted from each.
			all.size += int64(e.shapes[all.right].setback)
		}
		if k > 0 && w.left != noShape && all.right != w.left {
			all.size += int64(e.shapes[w.left].setback)
		}
		if k == 0 {
			all.left = w.left
		}
		all.size, all.right = min(all.size+w.size, farTooGreat), w.right
		a.grade = max(a.grade, pc.Grade)
		a.long = a.long || pc.Length >= p.Rules.MinHold
	}
	a.ways = []lying{all}
	return a
}

// ways returns the ways in which a piece may lie.
func (e *ruleEvidence) ways(pc *stock.Piece) []lying {
	out := []lying{e.lying(pc, Turn{})}
	if !e.p.Rules.Nest {
		return out
	}
	for _, t := range [...]Turn{{EndForEnd: true}, {Rolled: true}, {EndForEnd: true, Rolled: true}} {
		if may := !t.Rolled && pc.Symmetry.MayTurn() || t.Rolled && pc.Symmetry.MayRoll(); !may {
			continue
		}
		w, new := e.lying(pc, t), true
		for _, v := range out {
			new = new && v != w
		}
		if new {
			out = append(out, w)
		}
	}
	return out
}

// lying returns the way in which a piece lies by a turn.
func (e *ruleEvidence) lying(pc *stock.Piece, t Turn) lying {
	w := lying{left: noShape, right: noShape}
	kerf := e.p.Kerf
	if e.p.Rules.Nest {
		l, r := lie(pc, t)
		kerf = r.KerfAlong(kerf)
		w.left, w.right = e.shape(l, across(l.long)), e.shape(r, r.long)
	}
	if pc.Length >= farTooGreat/4 || kerf >= farTooGreat/4 {
		w.size = farTooGreat
		return w
	}
	w.size = 2 * int64(pc.Length+kerf)
	for _, s := range [2]int{w.left, w.right} {
		if s != noShape {
			w.size -= int64(e.shapes[s].setback)
		}
	}
	w.size = max(1, w.size)
	return w
}

// shape returns the number of an end's shape.
func (e *ruleEvidence) shape(s side, long stock.SectionPoint) int {
	if s.Setback <= 0 || long == stock.SectionAll {
		return noShape
	}
	x := shape{s.Setback, twiceFromSquare(s.End), long}
	k, known := e.shapeAt[x]
	if !known {
		k = len(e.shapes)
		e.shapeAt[x] = k
		e.shapes = append(e.shapes, x)
	}
	return k
}

// partLook distinguishes parts of runs; their ends matter only if they nest.
type partLook struct {
	length      measure.Length
	left, right stock.End
}

func (e *ruleEvidence) lookOf(pc *stock.Piece) partLook {
	if e.p.Rules.Nest {
		return partLook{pc.Length, pc.Left, pc.Right}
	}
	return partLook{length: pc.Length}
}

// partsOf adds the parts of a run. Their number is that of disjoint parts of the same look, found
// by taking the one with the nearest end first. It returns false if that takes too many steps.
func (e *ruleEvidence) partsOf(run *stock.Run) bool {
	nodes := append(append([]measure.Length{0}, run.Splice.At...), run.Length)
	end := map[partLook]int{}
	for j := 1; j < len(nodes); j++ {
		if !e.steps.spend(int64(8 * j)) {
			return false
		}
		for i := j - 1; i >= 0; i-- {
			pc, ok := e.part(run, nodes, i, j)
			if !ok {
				continue
			}
			x := e.lookOf(&pc)
			k, known := e.partAt[x]
			if !known {
				if len(e.partAt) >= maxParts {
					return false
				}
				k = len(e.articles)
				e.partAt[x] = k
				e.articles = append(e.articles, article{part: pc.Length, ways: e.ways(&pc), n: 1, long: pc.Length >= e.p.Rules.MinHold, bare: square(&pc)})
			}
			e.articles[k].bare = e.articles[k].bare || square(&pc)
			if before, seen := end[x]; !seen || i >= before {
				end[x] = j
				e.articles[k].count++
			}
		}
	}
	return true
}
