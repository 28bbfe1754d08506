package cutsheet

import (
	"cmp"
	"slices"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// layout is the position of everything along one stick of a pattern, from its start, as
// [optimize.Pattern] describes.
type layout struct {
	pieces   []lying // one for each of Pattern.Pieces
	bays     []bay   // at least one
	unusable []stock.Defect
	yard     stock.Defect // the cut in the yard; empty where there is none
}

// lying is a piece on the stick.
type lying struct {
	from, to    measure.Length // between the long points
	cut         measure.Length // width of the cut at the right end, along the stick
	turn        optimize.Turn
	left, right side
	shared      bool // the cut of the piece before makes the left end
}

// side is the end of a piece as it lies.
type side struct {
	stock.End
	long stock.SectionPoint
}

// bay is a part of a stick that can be cut without a break: all of it, a clear stretch between
// defects, or one of the two parts that the yard makes.
type bay struct {
	stock.Defect                // usable stretch
	carried      measure.Length // length of a part that the yard makes
	first, end   int            // its pieces in Pattern.Pieces
	offcut       stock.Defect   // empty if it is no wider than a cut
	dust         measure.Length // sawdust in that case
}

// left returns the length and the description of a bay's offcut.
func (s *Sheet) left(b *bay) (measure.Length, string) {
	switch {
	case b.offcut.To > b.offcut.From && b.first == b.end:
		return width(b.offcut), "left whole"
	case b.offcut.To > b.offcut.From:
		return width(b.offcut), s.rest(width(b.offcut))
	case b.dust > 0:
		return b.dust, "lost in the last cut"
	}
	return 0, ""
}

func width(s stock.Defect) measure.Length { return s.To - s.From }

// layout lays a pattern out. The plan has been checked.
func (s *Sheet) layout(pat *optimize.Pattern) layout {
	st := &s.problem.Sticks[pat.Stick]
	l := layout{pieces: make([]lying, 0, len(pat.Pieces))}
	usable := stock.Defect{From: st.TrimStart, To: st.Length - st.TrimEnd}
	switch {
	case s.inYard(st):
		l.inYard(s, pat, usable)
	case len(st.Defects) > 0:
		clear := clearOf(st)
		at := 0
		for n, c := range clear {
			end := at
			for end < len(pat.Pieces) && pat.Stretch[end] == n {
				end++
			}
			l.fill(s, pat, bay{Defect: c, first: at, end: end})
			at = end
		}
		l.unusable = between(usable, clear)
	default:
		l.fill(s, pat, bay{Defect: usable, end: len(pat.Pieces)})
	}
	return l
}

// inYard reports whether the yard cuts the stick in two.
func (s *Sheet) inYard(st *stock.Stick) bool {
	t := s.problem.Rules.MaxTransport
	return t > 0 && !st.Rack && st.Length > t
}

// inYard finds the position of the yard's cut: late enough for the pieces before it and for the
// transport of the part after it.
func (l *layout) inYard(s *Sheet, pat *optimize.Pattern, usable stock.Defect) {
	kerf, t := s.problem.Kerf, s.problem.Rules.MaxTransport
	length := s.problem.Sticks[pat.Stick].Length
	at := max(usable.From, length-kerf-t)
	for from, j := usable.From, 0; j < pat.YardAfter; j++ {
		from += s.piece(pat.Pieces[j]).Length
		at = max(at, from)
		from += kerf
	}
	l.yard = stock.Defect{From: at, To: at + kerf}
	l.fill(s, pat, bay{Defect: stock.Defect{From: usable.From, To: at}, carried: at, end: pat.YardAfter})
	l.fill(s, pat, bay{
		Defect: stock.Defect{From: at + kerf, To: max(usable.To, at+kerf)}, carried: length - at - kerf,
		first: pat.YardAfter, end: len(pat.Pieces),
	})
}

// fill lays the pieces of a bay side by side from its start.
func (l *layout) fill(s *Sheet, pat *optimize.Pattern, b bay) {
	at := b.From
	for j := b.first; j < b.end; j++ {
		pc := s.piece(pat.Pieces[j])
		p := lying{turn: turned(pat, j), cut: s.problem.Kerf}
		p.left, p.right = sides(pc, p.turn)
		if s.problem.Rules.Nest {
			p.cut = p.right.KerfAlong(s.problem.Kerf)
			if j > b.first && parallel(l.pieces[j-1].right, p.left) {
				p.shared = true
				at -= p.left.Setback
			}
		}
		p.from, p.to = at, at+pc.Length
		at = p.to + p.cut
		l.pieces = append(l.pieces, p)
	}
	switch {
	case at < b.To:
		b.offcut = stock.Defect{From: at, To: b.To}
	case b.end > b.first:
		b.dust = max(0, b.To-l.pieces[b.end-1].to)
	}
	l.bays = append(l.bays, b)
}

// turned returns how the j-th piece of a pattern lies.
func turned(pat *optimize.Pattern, j int) optimize.Turn {
	if pat.Turned == nil {
		return optimize.Turn{}
	}
	return pat.Turned[j]
}

// sides returns the ends of a piece as it lies: which is at the left, and where it
// is long.
func sides(pc *stock.Piece, t optimize.Turn) (left, right side) {
	left, right = side{pc.Left, longPoint(pc.Left)}, side{pc.Right, longPoint(pc.Right)}
	if t.EndForEnd {
		left, right = right, left
	}
	for _, e := range []*side{&left, &right} {
		flat := e.long == stock.SectionOuterEdge || e.long == stock.SectionInnerEdge
		if t.Rolled && !t.EndForEnd || t.EndForEnd && t.Rolled != flat {
			e.long = across(e.long)
		}
	}
	return left, right
}

// across returns the place on the other side of the section.
func across(p stock.SectionPoint) stock.SectionPoint {
	switch p {
	case stock.SectionBack:
		return stock.SectionFace
	case stock.SectionFace:
		return stock.SectionBack
	case stock.SectionOuterEdge:
		return stock.SectionInnerEdge
	case stock.SectionInnerEdge:
		return stock.SectionOuterEdge
	}
	return p
}

// parallel reports whether one cut makes the right end of a piece and the left end of the next.
func parallel(right, left side) bool {
	return right.Setback > 0 && right.Setback == left.Setback && right.long != stock.SectionAll && left.long == across(right.long) &&
		right.KerfAlong(measure.Inch) == left.KerfAlong(measure.Inch)
}

// clearOf returns the usable stretches of a stick between its defects.
func clearOf(st *stock.Stick) []stock.Defect {
	bad := slices.Clone(st.Defects)
	slices.SortFunc(bad, func(a, b stock.Defect) int { return cmp.Compare(a.From, b.From) })
	var out []stock.Defect
	at, end := st.TrimStart, st.Length-st.TrimEnd
	for _, d := range bad {
		if to := min(d.From, end); to > at {
			out = append(out, stock.Defect{From: at, To: to})
		}
		at = max(at, d.To)
	}
	if at < end {
		out = append(out, stock.Defect{From: at, To: end})
	}
	return out
}

// between returns the parts of a span outside the clear stretches.
func between(all stock.Defect, clear []stock.Defect) []stock.Defect {
	var out []stock.Defect
	at := all.From
	for _, c := range append(clear[:len(clear):len(clear)], stock.Defect{From: all.To}) {
		if c.From > at {
			out = append(out, stock.Defect{From: at, To: c.From})
		}
		at = c.To
	}
	return out
}
