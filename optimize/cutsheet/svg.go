package cutsheet

import (
	"io"
	"slices"
	"strings"

	"example.com/longpoint/internal/svg"
	"example.com/longpoint/internal/typeset"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

const fontStack = "ui-monospace, Menlo, Consolas, 'DejaVu Sans Mono', 'Liberation Mono', monospace"

// WriteSVG writes a drawing of every pattern, to one scale, with the pieces, the shapes of
// their ends, the saw cuts and the offcut. A label that does not fit its piece is below it. In
// the drawn ends the back of the piece (or the outer edge of a flat one) is up; a slant too
// small to be seen at the scale is drawn larger.
//
// The drawing has a text description. It has no ids, scripts, links or styles and may occur
// several times on one page. The error is that of w.
func (s *Sheet) WriteSVG(w io.Writer) error {
	s = s.orEmpty()
	var m typeset.Markup
	d := s.drawing()
	m.Open("svg", "xmlns", "http://www.w3.org/2000/svg", "role", "group", "aria-label", s.title()+": "+s.summary(),
		"viewBox", "0 0 "+num(drawWidth)+" "+num(d.height), "width", num(drawWidth), "height", num(d.height), "font-family", fontStack)
	m.Line()
	m.Leaf("title", s.title())
	m.Leaf("desc", s.head()+". "+s.summary()+". "+drawnOrder+" "+s.proofLine())
	m.Line()
	m.Void("rect", "width", num(drawWidth), "height", num(d.height), "fill", paper)
	m.Line()
	drawLabels(&m, d.labels)
	for k := range d.lanes {
		p := d.patterns[k]
		m.Open("g", "role", "img", "aria-label", s.heading(p))
		m.Line()
		m.Leaf("title", s.heading(p))
		m.Leaf("desc", strings.Join(append([]string{s.inWords(p)}, s.careLines(p)...), " "))
		m.Line()
		s.drawLane(&m, &d.lanes[k])
		m.Close()
		m.Line()
	}
	m.Close()
	m.Line()
	_, err := io.WriteString(w, m.String())
	return err
}

// drawing is the layout of all patterns one below the other.
type drawing struct {
	labels   []label
	patterns []*pattern // those that wait last
	lanes    []lane     // of each
	height   unit
}

func (s *Sheet) drawing() drawing {
	var d drawing
	y := unit(800)
	put := func(text string, size unit, bold bool) {
		cell, high := size*61/100, size*14/11
		for _, l := range typeset.Wrap(typeset.Visible(text), int((drawWidth-2*barLeft)/cell)) {
			d.labels = append(d.labels, label{box: box{barLeft, y, unit(typeset.Cells(l)) * cell, high}, text: l, size: size, bold: bold})
			y += high
		}
	}
	put(typeset.Clip(typeset.Visible(s.title()), 120, "…"), 1800, true)
	put(s.head(), typeSize, false)
	put(s.summary()+".", typeSize, false)
	put(s.basis(), typeSize, false)
	put(drawnOrder, typeSize, false)
	now, later := s.inOrder()
	d.patterns = append(now, later...)
	for k, p := range d.patterns {
		y += 1400
		if k == len(now) {
			put(waitNote, typeSize, false)
			y += 1400
		}
		put(typeset.Clip(s.heading(p), 150, "…"), 1200, true)
		y += 400
		ln := s.lane(p, y)
		d.lanes = append(d.lanes, ln)
		y += ln.height
		for _, care := range s.careLines(p) {
			put(care, typeSize, false)
		}
	}
	y += 1600
	put(s.legend(), typeSize, false)
	put(s.proofLine(), typeSize, false)
	if s.options.ProofDetails {
		put(s.proof(), typeSize, false)
	}
	d.height = y + 800
	return d
}

// drawnOrder explains how to read a drawing of sticks.
const drawnOrder = "Cut each stick from its start at the left, piece by piece, and measure each piece from the last cut."

const legend = "Ends are drawn from above, the back of the piece up, or its outer edge if it lies flat; " +
	"a slant too small for the scale is drawn larger. Slanted lines: left over. Crosses: trimmed off. Dark lines: saw cuts."

// legend explains the parts that occur in the drawing.
func (s *Sheet) legend() string {
	text := legend
	if slices.ContainsFunc(s.patterns, func(p pattern) bool { return len(p.unusable) > 0 }) {
		text += " Crosshatched: cannot be used."
	}
	if slices.ContainsFunc(s.patterns, func(p pattern) bool { return p.yard.To > 0 }) {
		text += " Broken line: the yard's cut."
	}
	return text
}

// careLines returns the cautions for the cuts of a pattern, a line for each of the first few.
func (s *Sheet) careLines(p *pattern) []string {
	const most = 12
	var lines []string
	more := int64(0)
	for i := range p.cuts {
		if care := s.careWords(&p.cuts[i]); care != "" {
			if len(lines) == most {
				more++
				continue
			}
			lines = append(lines, s.pieceName(p.cuts[i].piece)+": "+care+".")
		}
	}
	if more > 0 {
		lines = append(lines, "More cuts that need care, see the sheet: "+s.count(more)+".")
	}
	return lines
}

// heading names a pattern, and says whether it waits.
func (s *Sheet) heading(p *pattern) string {
	text := p.key + ": " + s.plural(int64(p.Count), "stick") + " of " + s.stickName(p.Stick)
	if p.wait {
		text += ", " + held
	}
	return text
}

// inWords describes the drawing of a pattern in words.
func (s *Sheet) inWords(p *pattern) string {
	const most = 200
	var parts []string
	for i, c := range p.cuts {
		if i == most {
			parts = append(parts, "and "+s.count(int64(len(p.cuts)-most))+" more")
			break
		}
		text := s.pieceWords(c.piece, c.turn)
		if c.n > 1 {
			text = s.count(int64(c.n)) + " times " + text
		}
		parts = append(parts, text)
	}
	text := "From the start: " + strings.Join(parts, "; ")
	for n := range p.bays {
		if o := p.bays[n].offcut; width(o) > 0 && len(p.bays) == 1 {
			text += "; " + s.rest(width(o)) + " " + s.length(width(o))
		} else if width(o) > 0 {
			text += "; " + s.rest(width(o)) + " " + s.length(width(o)) + ", " + s.span(o)
		}
	}
	for _, u := range p.unusable {
		text += "; unusable " + s.span(u)
	}
	text += "."
	if y := s.yardCut(p); y != "" {
		text += " " + y
	}
	return text
}

func (s *Sheet) pieceWords(i int, turn optimize.Turn) string {
	pc := s.piece(i)
	text := s.pieceName(i) + ", " + s.length(pc.Length)
	if e := s.ends(pc); e != "" {
		text += ", " + e
	}
	if l := lies(turn); l != "" {
		text += ", " + l
	}
	return text
}

// pen draws shapes: in a file with all their attributes, on a page with the name of a class,
// since a page has a style, and a dark one for screens.
type pen struct {
	*typeset.Markup
	classes bool
}

// The shapes of a drawing, and their looks in a file.
var (
	shapeStick   = shape{"st", []string{"fill", waste, "stroke", hatch, "stroke-width", "0.8"}}
	shapePiece   = shape{"pc", []string{"fill", wood, "stroke", ink, "stroke-width", "0.8"}}
	shapeOffcut  = shape{"of", []string{"fill", paper, "stroke", hatch, "stroke-width", "0.8"}}
	shapeBad     = shape{"bd", []string{"fill", waste, "stroke", ink, "stroke-width", "0.8"}}
	shapeHatch   = shape{"ha", []string{"fill", "none", "stroke", hatch, "stroke-width", "0.8"}}
	shapeUpright = shape{"up", []string{"fill", "none", "stroke", hatch, "stroke-width", "0.5"}}
	shapeEnd     = shape{"en", []string{"fill", "none", "stroke", ink, "stroke-width", "0.8"}}
	shapeSlot    = shape{"kf", []string{"fill", blade}}
	shapeNested  = shape{"kn", []string{"fill", blade, "stroke", blade, "stroke-width", "0.4"}}
	shapeCut     = shape{"kl", []string{"fill", "none", "stroke", blade, "stroke-width", "0.8"}}
	shapeYard    = shape{"yd", []string{"fill", "none", "stroke", blade, "stroke-width", "2"}}
	shapeLine    = shape{"ln", []string{"fill", "none", "stroke", quiet, "stroke-width", "0.6"}}
)

type shape struct {
	class string
	looks []string
}

func (p pen) look(s shape) []string {
	if p.classes {
		return []string{"class", s.class}
	}
	return s.looks
}

func (p pen) rect(b box, s shape) {
	p.Void("rect", append([]string{"x", num(b.x), "y", num(b.y), "width", num(b.w), "height", num(b.h)}, p.look(s)...)...)
}

func (p pen) path(d string, s shape) {
	if d != "" {
		p.Void("path", append([]string{"d", d}, p.look(s)...)...)
	}
}

func (s *Sheet) drawLane(m *typeset.Markup, ln *lane) {
	p := pen{Markup: m}
	s.drawShapes(p, ln)
	var rules strings.Builder
	for _, r := range ln.rules {
		rules.WriteString("M" + num(r.from) + " " + num(r.y-200) + "v4M" + num(r.from) + " " + num(r.y) + "H" + num(r.to) + "M" + num(r.to) + " " + num(r.y-200) + "v4")
	}
	p.path(rules.String(), shapeLine)
	var lines strings.Builder
	for _, l := range ln.leaders {
		lines.WriteString("M" + num(l.x) + " " + num(l.from) + "V" + num(l.to))
	}
	p.path(lines.String(), shapeLine)
	m.Line()
	drawLabels(m, ln.labels)
}

// drawShapes draws the bar of a pattern.
func (s *Sheet) drawShapes(p pen, ln *lane) {
	p.rect(ln.stick, shapeStick) // the ground under the pieces shows where an end is cut away
	for i := range ln.parts {
		s.drawPart(p, &ln.parts[i])
	}
	for _, o := range ln.offcuts {
		p.rect(o, shapeOffcut)
		p.path(hatching(o), shapeHatch)
	}
	for _, b := range ln.bad {
		p.rect(b, shapeBad)
		p.path(hatching(b)+falling(b), shapeHatch)
	}
	for _, t := range ln.trims {
		p.path(crosses(t), shapeHatch)
	}
	p.Line()
	var cuts strings.Builder
	for _, k := range ln.kerfs {
		switch {
		case k.top > 0 || k.bottom > 0:
			p.path("M"+num(k.x-k.top)+" "+num(k.y)+"h"+num(k.w)+"L"+num(k.x+k.w-k.bottom)+" "+num(k.y+k.h)+"h"+num(-k.w)+"Z", shapeNested)
			continue
		case k.w > 80:
			p.rect(k.box, shapeSlot)
			continue
		}
		cuts.WriteString("M" + num(k.x+k.w/2) + " " + num(k.y-200) + "v" + num(k.h+400))
	}
	p.path(cuts.String(), shapeCut)
	if b := ln.yard; b.h > 0 {
		p.path(dashes(b), shapeYard)
	}
}

func (s *Sheet) drawPart(pn pen, p *part) {
	left, right := p.lie.left, p.lie.right
	x0, x1, y0, y1 := p.x, p.x+p.w, p.y, p.y+p.h
	if p.n > 1 {
		pn.rect(p.box, shapePiece)
		b := p.box
		b.y, b.h = b.y+b.h/3, b.h/3
		pn.path(uprights(b), shapeUpright)
		return
	}
	lt, lb := x0, x0
	rt, rb := x1, x1
	if upward(left) {
		lb += p.left
	} else {
		lt += p.left
	}
	if upward(right) {
		rb -= p.right
	} else {
		rt -= p.right
	}
	var d strings.Builder
	d.WriteString("M" + num(lt) + " " + num(y0) + "H" + num(rt))
	d.WriteString(endEdge(right.Kind, rt, y0, rb, y1))
	d.WriteString("H" + num(lb))
	d.WriteString(endEdge(left.Kind, lb, y1, lt, y0))
	d.WriteString("Z")
	if pn.classes { // the list beside the drawing names the piece
		pn.path(d.String(), shapePiece)
	} else {
		pn.Open("path", append([]string{"d", d.String()}, shapePiece.looks...)...)
		pn.Leaf("title", s.pieceWords(p.piece, p.lie.turn))
		pn.Close()
	}

	// A scarf has a second line beside its cut, a return a tick at the short point.
	var marks strings.Builder
	for _, e := range [...]struct {
		kind        stock.EndKind
		top, bottom unit
		in, slant   unit
	}{{left.Kind, lt, lb, 300, p.left}, {right.Kind, rt, rb, -300, p.right}} {
		switch {
		case e.slant < 400:
		case e.kind.Spliced():
			marks.WriteString("M" + num(e.top+e.in) + " " + num(y0) + "L" + num(e.bottom+e.in) + " " + num(y1))
		case e.kind == stock.EndReturn:
			marks.WriteString("M" + num(e.top) + " " + num(y0) + "v7")
		}
	}
	pn.path(marks.String(), shapeEnd)
	pn.Line()
}

// endEdge draws the edge of an end from one point to the other: straight, in the curve of a
// cope, or in the teeth of a scribe.
func endEdge(k stock.EndKind, xa, ya, xb, yb unit) string {
	h := yb - ya
	switch k {
	case stock.EndCope:
		return "C" + num(xb) + " " + num(ya+h/3) + " " + num(xa) + " " + num(yb-h/3) + " " + num(xb) + " " + num(yb)
	case stock.EndScribe:
		var b strings.Builder
		for i := range unit(6) {
			off := unit(0)
			if i%2 == 1 {
				off = 150
			}
			b.WriteString("L" + num(xa+off) + " " + num(ya+h*(i+1)/6))
		}
		return b.String() + "L" + num(xb) + " " + num(yb)
	}
	return "L" + num(xb) + " " + num(yb)
}

// hatching fills a box with lines that rise to the right.
func hatching(b box) string {
	var d strings.Builder
	for c := unit(600); c < b.w+b.h; c += 700 {
		// From where the line through (x+c, y) enters at the left or the bottom.
		x1, y1 := b.x+c-b.h, b.y+b.h
		if x1 < b.x {
			x1, y1 = b.x, b.y+c
		}
		x2, y2 := b.x+c, b.y
		if x2 > b.x+b.w {
			x2, y2 = b.x+b.w, b.y+c-b.w
		}
		d.WriteString("M" + num(x1) + " " + num(y1) + "L" + num(x2) + " " + num(y2))
	}
	return d.String()
}

// falling fills a box with lines that fall to the right.
func falling(b box) string {
	var d strings.Builder
	for c := unit(600); c < b.w+b.h; c += 700 {
		x1, y1 := b.x+c-b.h, b.y
		if x1 < b.x {
			x1, y1 = b.x, b.y+b.h-c
		}
		x2, y2 := b.x+c, b.y+b.h
		if x2 > b.x+b.w {
			x2, y2 = b.x+b.w, b.y+b.h-c+b.w
		}
		d.WriteString("M" + num(x1) + " " + num(y1) + "L" + num(x2) + " " + num(y2))
	}
	return d.String()
}

// dashes draws a broken line down the middle of a box.
func dashes(b box) string {
	var d strings.Builder
	for y := b.y; y < b.y+b.h; y += 800 {
		d.WriteString("M" + num(b.x+b.w/2) + " " + num(y) + "V" + num(min(y+500, b.y+b.h)))
	}
	return d.String()
}

// crosses fills a narrow box with crosses, one above the other.
func crosses(b box) string {
	n := max(1, min(12, b.h/max(b.w, 300)))
	var d strings.Builder
	for i := range n {
		ya, yb := b.y+b.h*i/n, b.y+b.h*(i+1)/n
		d.WriteString("M" + num(b.x) + " " + num(ya) + "L" + num(b.x+b.w) + " " + num(yb))
		d.WriteString("M" + num(b.x) + " " + num(yb) + "L" + num(b.x+b.w) + " " + num(ya))
	}
	return d.String()
}

// uprights fills a box with upright lines: pieces that are not drawn one by one.
func uprights(b box) string {
	var d strings.Builder
	for x := b.x + 300; x < b.x+b.w; x += 300 {
		d.WriteString("M" + num(x) + " " + num(b.y) + "v" + num(b.h))
	}
	return d.String()
}

func drawLabels(m *typeset.Markup, labels []label) {
	for i := range labels {
		l := &labels[i]
		if l.plate {
			m.Void("rect", "x", num(l.x-150), "y", num(l.y), "width", num(l.w+300), "height", num(l.h), "fill", paper)
		}
		// The number is separate, so that a label in another script cannot change its
		// direction.
		at := l.x
		if l.lead != "" {
			drawText(m, l, at, l.lead)
			at += unit(typeset.Cells(l.lead)) * (l.size * 61 / 100)
		}
		if l.text != "" {
			drawText(m, l, at, l.text)
		}
		m.Line()
	}
}

func drawText(m *typeset.Markup, l *label, x unit, text string) {
	text = typeset.Unmarked(text)
	attrs := []string{"x", num(x), "y", num(l.y + l.size), "font-size", num(l.size), "fill", ink}
	if l.bold {
		attrs = append(attrs, "font-weight", "bold")
	}
	if foreign(text) {
		attrs = append(attrs, "textLength", num(unit(typeset.Cells(text))*(l.size*61/100)), "lengthAdjust", "spacingAndGlyphs")
	}
	m.Leaf("text", text, append(attrs, "xml:space", "preserve")...)
}

// foreign reports whether a text has characters that the monospaced font may lack.
func foreign(s string) bool {
	for _, r := range s {
		if r > 0x24f && r != '…' {
			return true
		}
	}
	return false
}

// num writes a coordinate.
func num(u unit) string { return svg.Unit(u).String() }
