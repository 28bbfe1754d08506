package cutsheet

import (
	"strconv"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// A drawing is laid out in whole hundredths of its unit, so that it is the same
// on every machine. Labels are boxes whose size is known before anything is
// drawn: the type is monospaced, no cell of it is wider than cellWidth, and
// what a font might make wider is fitted into its box by textLength.
type unit int64

const (
	drawWidth  unit = 78000 // of every drawing
	barLeft    unit = 800
	barLength  unit = 60000 // of the longest stick; labels may reach beyond it
	barHeight  unit = 3600
	edge       unit = 600 // between the bar and the labels below it
	lineHeight unit = 1400
	typeSize   unit = 1100
	cellWidth  unit = typeSize * 61 / 100 // the widest usual fonts take 0.602 of their size
	pad        unit = 300
	leastPiece unit = 300 // narrower pieces are not drawn one by one
)

type box struct{ x, y, w, h unit }

// label is a line of text in a box.
type label struct {
	box
	lead  string // a number of the sheet's own, in front
	text  string // may be anybody's
	size  unit
	bold  bool
	plate bool // a plain ground, where it stands on hatching
}

// part is what is drawn as one shape: a piece, or several that are too narrow
// to be drawn each for itself.
type part struct {
	box
	number      int // of the cut, from 1; 0 where several are drawn as one
	piece       int // index into Problem.Pieces of the first
	n           int // how many pieces
	left, right unit
}

// leader is the line from a part down to its label.
type leader struct{ x, from, to unit }

// lane is the drawing of one pattern.
type lane struct {
	stick   box
	parts   []part
	kerfs   []box
	trims   []box
	offcut  box // of no width where there is none
	dust    box
	labels  []label
	leaders []leader
	height  unit
}

// lane lays out a pattern with its bar at height y.
func (s *Sheet) lane(p *pattern, y unit) lane {
	longest := s.longest()
	at := func(l measure.Length) unit {
		q, _, err := l.MulDiv(int64(barLength), int64(longest), measure.HalfUp)
		if err != nil {
			return barLeft
		}
		return barLeft + unit(q)
	}
	span := func(from, to measure.Length) box { return box{at(from), y, at(to) - at(from), barHeight} }

	st := &s.problem.Sticks[p.Stick]
	ln := lane{stick: span(0, st.Length)}
	if st.TrimStart > 0 {
		ln.trims = append(ln.trims, span(0, st.TrimStart))
	}
	if st.TrimEnd > 0 {
		ln.trims = append(ln.trims, span(st.Length-st.TrimEnd, st.Length))
	}
	from := st.TrimStart
	for i, c := range p.cuts {
		for range c.n {
			to := from + s.problem.Pieces[c.piece].Length
			ln.add(s, span(from, to), i+1, c.piece)
			if from = to; s.problem.Kerf <= st.Length-from { // else the cut is in the air
				from += s.problem.Kerf
				if from <= st.Length-st.TrimEnd {
					ln.kerf(span(to, from))
				}
			}
		}
	}
	switch {
	case p.Offcut > 0:
		ln.offcut = span(from, from+p.Offcut)
	case p.dust > 0:
		ln.dust = span(st.Length-st.TrimEnd-p.dust, st.Length-st.TrimEnd)
	}
	ln.write(s, p)
	return ln
}

// add adds a piece, to the part before it where both are narrow.
func (ln *lane) add(s *Sheet, b box, number, piece int) {
	if last := len(ln.parts) - 1; last >= 0 && b.w < leastPiece {
		if p := &ln.parts[last]; p.w < leastPiece || p.n > 1 {
			if p.w = b.x + b.w - p.x; p.number != number {
				p.number = 0
			}
			p.n++
			p.left, p.right = 0, 0
			return
		}
	}
	pc := &s.problem.Pieces[piece]
	longest := s.longest()
	ln.parts = append(ln.parts, part{
		box: b, number: number, piece: piece, n: 1,
		left: slant(pc.Left, b.w, longest), right: slant(pc.Right, b.w, longest),
	})
}

// kerf adds a saw cut, unless it lies inside a part that stands for several
// pieces and would fall on the cut before it.
func (ln *lane) kerf(b box) {
	if last := len(ln.kerfs) - 1; last >= 0 && b.x-ln.kerfs[last].x < leastPiece {
		return
	}
	ln.kerfs = append(ln.kerfs, b)
}

// slant is how far the short point of an end is drawn behind its long point: to
// scale where that can be seen, else far enough to show the shape.
func slant(e stock.End, width unit, longest measure.Length) unit {
	if e.LongPoint() == stock.EvenPoint {
		return 0
	}
	q, _, err := e.Setback.MulDiv(int64(barLength), int64(longest), measure.HalfUp)
	if err != nil {
		q = 0
	}
	return min(max(unit(q), 600), 1600, width/3)
}

// write places the labels: in the part where there is room, else below the bar
// at the end of a line. Lines are placed from right to left, each label in the
// highest row where it covers neither a label nor a line, so that a line that
// goes down at its left passes by.
func (ln *lane) write(s *Sheet, p *pattern) {
	var below []label
	var points []unit
	// room is how many cells a label has whose line is at x: 25 where there is least.
	room := func(x unit) int { return int((drawWidth - 2*pad - x) / cellWidth) }
	callout := func(x unit, lead, text string) {
		text = clip(text, min(room(x)-cells(lead), 32), "…")
		below = append(below, label{box: box{x: x + pad, w: unit(cells(lead)+cells(text)) * cellWidth}, lead: lead, text: text, size: typeSize})
		points = append(points, x)
	}
	called := 0 // the number of the last part that has its label below
	for i := range ln.parts {
		pt := &ln.parts[i]
		if pt.number == 0 {
			callout(pt.x+pt.w/2, count(int64(pt.n))+" pieces", "")
			continue
		}
		length := s.length(s.problem.Pieces[pt.piece].Length)
		lead := strconv.Itoa(pt.number) + "  "
		name := s.pieceName(pt.piece)
		inside := int((pt.w - pt.left - pt.right - 2*pad) / cellWidth)
		if pt.n == 1 && inside >= max(cells(length), cells(lead)+min(cells(visible(name)), 10)) {
			name = clip(visible(name), inside-cells(lead), "…")
			x := pt.x + pt.left + pad
			ln.labels = append(ln.labels,
				label{box: box{x, pt.y + 400, unit(cells(lead)+cells(name)) * cellWidth, lineHeight}, lead: lead, text: name, size: typeSize},
				label{box: box{x, pt.y + 400 + lineHeight, unit(cells(length)) * cellWidth, lineHeight}, text: length, size: typeSize, bold: true})
			continue
		}
		if called == pt.number {
			continue // the one before it says it for all
		}
		called = pt.number
		n := 0
		for _, other := range ln.parts[i:] {
			if other.number != pt.number {
				break
			}
			n += other.n
		}
		if n > 1 {
			lead += count(int64(n)) + " × "
		}
		if cells(lead)+cells(length)+2 < room(pt.x+pt.w/2) {
			lead += length + "  " // else it is not cut short but left to the list
		}
		callout(pt.x+pt.w/2, lead, visible(name))
	}
	if o := ln.offcut; o.w > 0 {
		text := s.length(p.Offcut)
		const word = "offcut"
		if w := unit(max(cells(text), len(word))) * cellWidth; w+2*pad <= o.w {
			x := o.x + (o.w-w)/2
			ln.labels = append(ln.labels,
				label{box: box{x, o.y + 400, unit(len(word)) * cellWidth, lineHeight}, text: word, size: typeSize, plate: true},
				label{box: box{x, o.y + 400 + lineHeight, unit(cells(text)) * cellWidth, lineHeight}, text: text, size: typeSize, bold: true, plate: true})
		} else {
			if text += " "; cells(text)+len(word) > room(o.x+o.w/2) {
				text = ""
			}
			callout(o.x+o.w/2, text, word)
		}
	}

	top := ln.stick.y + ln.stick.h + edge
	ln.height = ln.stick.h
	rows := make([]int, len(below))
	for i := len(below) - 1; i >= 0; i-- {
		b := &below[i]
		row := 0
		for j := i + 1; j < len(below); j++ {
			if points[j] <= b.x+b.w+pad { // its line, or its text that begins there, is in the way
				row = max(row, rows[j]+1)
			}
		}
		rows[i] = row
		b.y, b.h = top+unit(row)*lineHeight, lineHeight
		ln.leaders = append(ln.leaders, leader{points[i], ln.stick.y + ln.stick.h, b.y + b.h/2})
		ln.height = max(ln.height, b.y+b.h-ln.stick.y)
	}
	ln.labels = append(ln.labels, below...)
}
