package cutsheet

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"example.com/longpoint/internal/typeset"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// A drawing is laid out in whole hundredths of its unit, so that it is the same on every
// machine. The size of labels is known before anything is drawn: the type is monospaced, no
// cell of it is wider than cellWidth, and textLength fits wider fonts into the box.
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
	lead  string // one of the sheet's own numbers, in front
	text  string // may be foreign text
	size  unit
	bold  bool
	plate bool // a plain ground, on hatching
}

// part is one drawn shape: a piece, or several that are too narrow to be drawn separately.
type part struct {
	box
	number      int // of the cut, from 1; 0 for several pieces
	piece       int // as in Pattern.Pieces, of the first
	n           int // how many pieces
	left, right unit
	lie         *lying // of the first
}

// sawn is a saw cut: straight across, or along the slant of the end at its left.
type sawn struct {
	box
	top, bottom unit // how far the cut lies behind its box at either edge
}

// rule is a line above a bar that shows the extent of a part of the stick.
type rule struct{ from, to, y unit }

// leader is the line from a part down to its label.
type leader struct{ x, from, to unit }

// lane is the drawing of one pattern.
type lane struct {
	stick   box
	parts   []part
	kerfs   []sawn
	trims   []box
	bad     []box // unusable stretches
	offcuts []box
	dust    []box
	yard    box // of zero height if there is none
	rules   []rule
	labels  []label
	leaders []leader
	height  unit
}

// scale is the length that is drawn as barLength.
type scale measure.Length

// of returns the drawn size of a length.
func (longest scale) of(l measure.Length) unit {
	q, _, err := l.MulDiv(int64(barLength), int64(longest), measure.RoundHalfUp)
	if err != nil {
		return 0
	}
	return unit(q)
}

// at returns the drawn position of a place on a stick.
func (longest scale) at(l measure.Length) unit { return barLeft + longest.of(l) }

// lane lays out a pattern from height y down, to the scale of the whole sheet and with labels.
func (s *Sheet) lane(p *pattern, y unit) lane {
	top := y
	if len(p.bays) > 1 {
		y += lineHeight + 600
	}
	ln := s.shapes(p, y, scale(s.longest()))
	ln.write(s, p)
	if len(p.bays) > 1 {
		ln.measure(s, p, top)
	}
	ln.height += y - top
	return ln
}

// shapes lays out the drawing of a pattern without its labels, with the top of the bar at
// height y.
func (s *Sheet) shapes(p *pattern, y unit, to scale) lane {
	span := func(x stock.Defect) box { return box{to.at(x.From), y, max(0, to.at(x.To)-to.at(x.From)), barHeight} }
	st := &s.problem.Sticks[p.Stick]
	ln := lane{stick: span(stock.Defect{To: st.Length})}
	if st.TrimStart > 0 {
		ln.trims = append(ln.trims, span(stock.Defect{To: st.TrimStart}))
	}
	if st.TrimEnd > 0 {
		ln.trims = append(ln.trims, span(stock.Defect{From: st.Length - st.TrimEnd, To: st.Length}))
	}
	for _, u := range p.unusable {
		ln.bad = append(ln.bad, span(u))
	}
	if p.yard.To > 0 {
		ln.yard = span(p.yard)
		ln.yard.y, ln.yard.h = y-400, barHeight+800
	}
	for i, c := range p.cuts {
		b := &p.bays[c.bay]
		for j := c.at; j < c.at+c.n; j++ {
			l := &p.layout.pieces[j]
			shares := j+1 < b.end && p.layout.pieces[j+1].shared
			ln.add(to, span(stock.Defect{From: l.from, To: l.to}), i+1, c.piece, l, shares)
			if j+1 == b.end && p.yard.To > 0 && l.to == p.yard.From {
				continue // which the yard has made
			}
			// A cut beyond the stick is in the air.
			if after := l.to + l.cut; after <= b.To {
				ln.kerf(span(stock.Defect{From: l.to, To: after}), s.problem.Rules.Nest)
			}
		}
	}
	for n := range p.bays {
		b := &p.bays[n]
		switch {
		case width(b.offcut) > 0:
			ln.offcuts = append(ln.offcuts, span(b.offcut))
		case b.dust > 0:
			ln.dust = append(ln.dust, span(stock.Defect{From: b.To - b.dust, To: b.To}))
		}
	}
	return ln
}

// measure writes above the bar the extents of the parts of the stick.
func (ln *lane) measure(s *Sheet, p *pattern, y unit) {
	at := scale(s.longest()).at
	for n := range p.bays {
		b := &p.bays[n]
		whole, words := b.Defect, []string{"clear " + strconv.Itoa(n+1) + ": " + s.length(width(b.Defect)), s.length(width(b.Defect)), strconv.Itoa(n + 1)}
		if p.yard.To > 0 {
			whole = stock.Defect{To: p.yard.From}
			if n > 0 {
				whole = stock.Defect{From: p.yard.To, To: s.problem.Sticks[p.Stick].Length}
			}
			words = []string{s.length(b.carried) + " to carry", s.length(b.carried)}
		}
		r := rule{at(whole.From), at(whole.To), y + lineHeight + 250}
		ln.rules = append(ln.rules, r)
		for _, text := range words {
			if w := unit(typeset.Cells(text)) * cellWidth; w+pad <= r.to-r.from {
				ln.labels = append(ln.labels, label{box: box{r.from + (r.to-r.from-w)/2, y, w, lineHeight}, text: text, size: typeSize})
				break
			}
		}
	}
}

// add adds a piece, or joins it to the part before it if both are narrow.
func (ln *lane) add(to scale, b box, number, piece int, l *lying, shares bool) {
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
	p := part{
		box: b, number: number, piece: piece, n: 1, lie: l,
		left: slant(l.left, l.shared, b.w, to), right: slant(l.right, shares, b.w, to),
	}
	if p.left+p.right > b.w && upward(l.left) == upward(l.right) { // no piece is shaped like that
		p.left, p.right = min(p.left, b.w/2), min(p.right, b.w/2)
	}
	ln.parts = append(ln.parts, p)
}

// kerf adds a saw cut after the last part, unless it lies inside a part that stands for several
// pieces and would coincide with the cut before it. It follows the slant of that part's end.
func (ln *lane) kerf(b box, slants bool) {
	if last := len(ln.kerfs) - 1; last >= 0 && b.x-ln.kerfs[last].x < leastPiece {
		return
	}
	k := sawn{box: b}
	if p := &ln.parts[len(ln.parts)-1]; slants && p.n == 1 {
		if upward(p.lie.right) {
			k.bottom = p.right
		} else {
			k.top = p.right
		}
	}
	ln.kerfs = append(ln.kerfs, k)
}

// slant returns the drawn distance of the short point of an end behind its long point: to scale
// if that is visible or if two pieces share the cut, else large enough to show the shape.
func slant(e side, shared bool, width unit, to scale) unit {
	if e.long == stock.SectionAll {
		return 0
	}
	q := to.of(e.Setback)
	if shared {
		return min(q, width)
	}
	return min(max(q, 600), 1600, width/3)
}

// upward reports whether the long point of an end is drawn up.
func upward(e side) bool { return e.long == stock.SectionBack || e.long == stock.SectionOuterEdge }

// write places the labels: in the part if there is room, else below the bar at the end of a
// line.
func (ln *lane) write(s *Sheet, p *pattern) {
	var below callouts
	ln.name(s, &below)
	ln.rest(s, p, &below)
	for k, b := range ln.bad {
		below.add(b.x+b.w/2, "", "unusable "+strings.TrimPrefix(s.span(p.unusable[k]), "from "))
	}
	if ln.yard.h > 0 {
		below.add(ln.yard.x+ln.yard.w/2, "", "yard's cut at "+s.length(p.yard.From))
	}
	ln.place(below)
}

// callouts are labels below the bar, each at the end of a line from its part.
type callouts []label

// roomAt returns the number of cells of a label whose line is at x: at least 25.
func roomAt(x unit) int { return int((drawWidth - 2*pad - x) / cellWidth) }

// add adds a label whose line is at x. Its text is truncated, its lead never.
func (c *callouts) add(x unit, lead, text string) {
	text = typeset.Clip(text, max(0, min(roomAt(x)-typeset.Cells(lead), 32)), "…")
	*c = append(*c, label{box: box{x: x + pad, w: unit(typeset.Cells(lead)+typeset.Cells(text)) * cellWidth}, lead: lead, text: text, size: typeSize})
}

// inscription is the text about a piece.
type inscription struct{ number, name, length, turn string }

func (s *Sheet) inscription(pt *part) inscription {
	c := inscription{
		number: strconv.Itoa(pt.number) + "  ",
		name:   typeset.Visible(s.pieceName(pt.piece)),
		length: s.length(s.piece(pt.piece).Length),
	}
	if pt.lie.turn != (optimize.Turn{}) {
		c.turn = pt.lie.turn.String()
	}
	return c
}

// name writes the inscriptions of the pieces: inside where there is room, else below, once for
// equal pieces side by side.
func (ln *lane) name(s *Sheet, below *callouts) {
	called := 0 // the number of the last part that has its label below
	for i := range ln.parts {
		pt := &ln.parts[i]
		middle := pt.x + pt.w/2
		if pt.number == 0 {
			below.add(middle, s.count(int64(pt.n))+" pieces", "")
			continue
		}
		c := s.inscription(pt)
		if ln.inscribe(pt, c, below) || called == pt.number {
			continue
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
			c.number += s.count(int64(n)) + " @ "
		}
		below.add(middle, c.lead(roomAt(middle)), c.name)
	}
}

// inscribe writes an inscription inside its piece, and how the piece is turned below if there is no
// room for that. It reports whether the number, the length and most of the name have room.
func (ln *lane) inscribe(pt *part, c inscription, below *callouts) bool {
	inside := int((pt.w - pt.left - pt.right - 2*pad) / cellWidth)
	second := c.length
	if c.turn != "" && typeset.Cells(c.length)+2+typeset.Cells(c.turn) <= inside {
		second += "  " + c.turn
	}
	if pt.n != 1 || inside < max(typeset.Cells(second), typeset.Cells(c.number)+min(typeset.Cells(c.name), 10)) {
		return false
	}
	name := typeset.Clip(c.name, inside-typeset.Cells(c.number), "…")
	x := pt.x + pt.left + pad
	ln.labels = append(ln.labels,
		label{box: box{x, pt.y + 400, unit(typeset.Cells(c.number)+typeset.Cells(name)) * cellWidth, lineHeight}, lead: c.number, text: name, size: typeSize},
		label{box: box{x, pt.y + 400 + lineHeight, unit(typeset.Cells(second)) * cellWidth, lineHeight}, text: second, size: typeSize, bold: true})
	if c.turn != "" && second == c.length {
		below.add(pt.x+pt.w/2, c.number, c.turn)
	}
	return true
}

// lead returns the text before the name on a line of the given width: text without room is left to
// the list, not truncated.
func (c inscription) lead(room int) string {
	lead, least := c.number, 0
	if c.turn != "" {
		least = min(typeset.Cells(c.name), 8)
		if typeset.Cells(lead)+typeset.Cells(c.turn)+2 < room {
			lead += c.turn + "  "
		}
	}
	if typeset.Cells(lead)+typeset.Cells(c.length)+2+least < room {
		lead += c.length + "  "
	}
	return lead
}

// place stacks the labels below the bar: from right to left, each in the highest row where it
// covers neither a label nor a line, so that a line further left can pass.
func (ln *lane) place(below callouts) {
	slices.SortStableFunc(below, func(a, b label) int { return cmp.Compare(a.x, b.x) })
	points := make([]unit, len(below)) // where the line of each begins
	for i := range below {
		points[i] = below[i].x - pad
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

// rest labels the offcuts: inside if there is room, else below.
func (ln *lane) rest(s *Sheet, p *pattern, below *callouts) {
	k := 0
	for n := range p.bays {
		length := width(p.bays[n].offcut)
		if length <= 0 {
			continue
		}
		o := ln.offcuts[k]
		k++
		text := s.length(length)
		word := s.rest(length)
		if w := unit(max(typeset.Cells(text), len(word))) * cellWidth; w+2*pad <= o.w {
			x := o.x + (o.w-w)/2
			ln.labels = append(ln.labels,
				label{box: box{x, o.y + 400, unit(len(word)) * cellWidth, lineHeight}, text: word, size: typeSize, plate: true},
				label{box: box{x, o.y + 400 + lineHeight, unit(typeset.Cells(text)) * cellWidth, lineHeight}, text: text, size: typeSize, bold: true, plate: true})
			continue
		}
		if text += " "; typeset.Cells(text)+len(word) > roomAt(o.x+o.w/2) {
			text = ""
		}
		below.add(o.x+o.w/2, text, word)
	}
}
