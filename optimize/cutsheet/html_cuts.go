package cutsheet

import (
	"strconv"

	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
)

// mostTicks is the greatest number of boxes of a cut; beyond it there is a place for a number.
const mostTicks = 10

// longBlock is the number of cuts on a stick from which a block may continue on the next page,
// since no page may hold it.
const longBlock = 30

// cuts writes the sticks, those that can be cut before those that wait. They form one table, so
// that columns align and every page repeats its head.
func (h *page) cuts() {
	h.Open("section", "class", "cutting")
	h.Leaf("h2", "To cut")
	h.Leaf("p", orderNote+" "+h.basis()+" "+h.shapeNotes(), "class", "quiet lead")
	for _, g := range h.together() {
		h.Leaf("p", g, "class", "lead")
	}
	h.Line()
	h.table(h.now)
	h.Close()
	h.Line()
	if len(h.later) > 0 {
		h.Open("section", "class", "cutting waits")
		h.Leaf("h2", waitHeading)
		h.Leaf("p", waitNote, "class", "lead")
		h.Open("p", "class", "lines lead")
		for _, w := range h.waitLines() {
			h.Leaf("span", w)
		}
		h.Close()
		h.table(h.later)
		h.Close()
		h.Line()
	}
	if h.sum.pieces <= mostCounted {
		h.Open("p", "class", "progress")
		h.Chars(" of " + h.count(h.sum.pieces) + " cut")
		h.Close()
		h.Line()
	}
}

// shapeNotes explains the shapes that occur in the bars.
func (h *page) shapeNotes() string {
	var trims, slants, bad, yard bool
	for k := range h.patterns {
		p := &h.patterns[k]
		st := &h.problem.Sticks[p.Stick]
		trims = trims || st.TrimStart > 0 || st.TrimEnd > 0
		bad = bad || len(p.unusable) > 0
		yard = yard || p.yard.To > 0
		for i := range p.layout.pieces {
			l := &p.layout.pieces[i]
			slants = slants || l.left.Kind != stock.EndSquare || l.right.Kind != stock.EndSquare
		}
	}
	text := "Each bar is a stick from its start to its end. Slanted lines: left over."
	for _, note := range [...]struct {
		seen bool
		text string
	}{
		{trims, "Crosses: trimmed off."},
		{bad, "Crosshatched: cannot be used."},
		{yard, "Broken line: the yard's cut."},
		{slants, "Ends are drawn from above, the back of the piece up, or its outer edge if it lies flat; small ones are not to scale."},
	} {
		if note.seen {
			text += " " + note.text
		}
	}
	if note := h.turnNote(); note != "" {
		text += " " + note + " The left and the right end listed here are those at the left and the right as the piece lies."
	}
	return text
}

// table writes blocks as a table.
func (h *page) table(blocks []block) {
	if len(blocks) == 0 {
		return
	}
	ends := h.anyEnds()
	columns := []string{"No.", "no", "Done", "tick", "Length", "n len", "Piece", "piece"}
	if ends {
		columns = append(columns, "Left end", "end", "Right end", "end")
	}
	h.Open("table", "class", "cuts")
	h.heads(columns...)
	h.Line()
	for i := range blocks {
		h.block(&blocks[i], ends)
	}
	h.Close()
	h.Line()
}

// anyEnds reports whether any piece has an end that is not square.
func (h *page) anyEnds() bool {
	for k := range h.patterns {
		for i := range h.patterns[k].cuts {
			if h.ends(h.piece(h.patterns[k].cuts[i].piece)) != "" {
				return true
			}
		}
	}
	return false
}

// block writes sticks that are cut alike: their description, the bar, a line for each cut.
func (h *page) block(b *block, ends bool) {
	p := b.patterns[0]
	span := "4"
	if ends {
		span = "6"
	}
	class := "stick"
	if len(p.cuts)+len(p.bays) > longBlock {
		class += " long"
	}
	h.Open("tbody", "class", class)
	h.columns = nil
	h.tr("what")
	h.Open("th", "scope", "rowgroup", "colspan", span)
	h.what(b)
	h.Close()
	h.Close()
	h.Line()
	h.tr("picture")
	h.Open("td", "colspan", span)
	h.strip(p)
	h.Close()
	h.Close()
	h.Line()
	if y := h.yardCut(p); y != "" {
		h.tr("say")
		h.Leaf("td", y, "colspan", span)
		h.Close()
	}
	at := 0
	for n := range p.bays {
		if len(p.bays) > 1 {
			h.tr("say bay")
			text := upper(h.bayName(p, n))
			if rest, word := h.left(&p.bays[n]); rest > 0 {
				text += "; " + h.length(rest) + " " + word
			}
			h.Leaf("td", text, "colspan", span)
			h.Close()
			h.Line()
		}
		for ; at < len(p.cuts) && p.cuts[at].bay == n; at++ {
			h.cut(b, at, ends)
		}
	}
	h.Close()
	h.Line()
}

// what writes the head of a block: its keys, the number and kind of its sticks, the offcut, and
// their numbers among all sticks.
func (h *page) what(b *block) {
	p := b.patterns[0]
	h.Open("div", "class", "head")
	for _, p := range b.patterns {
		h.Leaf("span", p.key, "class", "key")
		h.Chars(" ")
	}
	h.Leaf("bdi", h.plural(b.sticks, "stick")+" of "+h.stickName(p.Stick), "class", "of")
	if p.wait {
		h.Chars(" ")
		h.Leaf("b", held, "class", "flag")
	}
	if r := h.remarks(p.Stick); r != "" {
		h.Chars(" ")
		h.Leaf("span", r, "class", "quiet")
	}
	if r := h.rests(b); r != "" {
		h.Chars(" ")
		h.Leaf("span", r, "class", "rest")
	}
	h.Chars(" ")
	h.Leaf("span", h.which(b), "class", "which")
	h.Close()
}

// which returns the numbers of the block's sticks among all sticks.
func (h *page) which(b *block) string {
	if b.sticks == 1 {
		return "stick " + h.count(b.first) + " of " + h.count(h.sticks)
	}
	between := " to "
	if b.sticks == 2 {
		between = " and "
	}
	return "sticks " + h.count(b.first) + between + h.count(b.first+b.sticks-1) + " of " + h.count(h.sticks)
}

// rests describes the offcut of each stick of a block, if it is one stretch.
func (h *page) rests(b *block) string {
	p := b.patterns[0]
	if len(p.bays) > 1 {
		return ""
	}
	rest, word := h.left(&p.bays[0])
	switch {
	case rest <= 0:
		return "nothing left"
	case p.bays[0].offcut == (stock.Defect{}):
		return h.length(rest) + " " + word
	case b.sticks > 1:
		return "each leaves " + h.length(rest) + " " + word
	}
	return "leaves " + h.length(rest) + " " + word
}

// cut writes the line of a cut, with its notes below.
func (h *page) cut(b *block, i int, ends bool) {
	p := b.patterns[0]
	c := &p.cuts[i]
	pc := h.piece(c.piece)
	h.columns = cutColumns
	h.tr("cut")
	h.cell(strconv.Itoa(i+1), "no")
	h.ticks(b, i)
	if length := h.lengthOf(c); captionWidth(length) <= mostLength*stripType/100 {
		h.lengthCell(length, "len")
	} else {
		h.cell(length, "num len")
	}
	h.td("piece")
	h.called(b, i)
	h.Close()
	if ends {
		left, right := sides(pc, c.turn)
		h.end(left, joint.SideLeft, c.turn)
		h.end(right, joint.SideRight, c.turn)
	}
	h.Close()
	h.Line()
	h.callers(b, i, ends)
	h.cares(b, i, ends)
}

// note begins a row below a cut, from the piece column to the right; the caller ends the cell
// and the row.
func (h *page) note(class string, ends bool) {
	span := "1"
	if ends {
		span = "3"
	}
	h.tr("note " + class)
	h.Leaf("td", "", "colspan", "3")
	h.Open("td", "colspan", span)
}

// cutColumns are the columns of a cut; only the last two are named again on narrow screens.
var cutColumns = []string{"No.", "tick", "Done", "tick", "Length", "tick", "Piece", "tick", "Left end", "end", "Right end", "end"}

// called writes the names of the pieces of a cut or, if the sticks of a block differ in them,
// the number of names.
func (h *page) called(b *block, i int) {
	if names, alike := h.names(b, i); alike {
		h.Leaf("bdi", names[0])
		return
	}
	h.Chars(h.plural(b.total(i), "piece"))
}

// callers writes the names of the pieces in one line, after the key of each stick.
func (h *page) callers(b *block, i int, ends bool) {
	names, alike := h.names(b, i)
	if alike {
		return
	}
	h.note("names", ends)
	for k, name := range names {
		if k > 0 {
			h.Chars("; ")
		}
		h.Leaf("span", b.patterns[k].key, "class", "of")
		h.Chars(" ")
		h.Leaf("bdi", name)
	}
	h.Close()
	h.Close()
	h.Line()
}

// cares writes the cautions of a cut in a separate row.
func (h *page) cares(b *block, i int, ends bool) {
	p := b.patterns[0]
	c := &p.cuts[i]
	short, notes := h.remnantNote(c), h.only(c.piece, b.total(i))
	var words []string
	for _, care := range [...]string{lies(c.turn), h.assumedWords(c.piece), h.waitWords(c)} {
		if care != "" {
			words = append(words, care)
		}
	}
	if short == "" && notes == "" && words == nil {
		return
	}
	h.note("mind", ends)
	if short != "" {
		h.Leaf("b", "short", "class", "flag")
		h.Chars(" " + short)
	}
	for k, w := range words {
		if k > 0 || short != "" {
			h.Chars("; ")
		}
		h.Chars(w)
	}
	if notes != "" {
		if short != "" || words != nil {
			h.Chars("; ")
		}
		h.Leaf("bdi", notes)
	}
	h.Close()
	h.Close()
	h.Line()
}

// end writes how an end at one side is cut, and below it the direction of the miter and the
// side to keep.
func (h *page) end(e side, at joint.Side, turn optimize.Turn) {
	name := h.endName(e.End)
	class := "end"
	if name == stock.EndSquare.String() {
		class += " quiet"
	}
	h.td(class)
	h.Chars(name)
	if hand := h.handOf(e, at, turn); hand != "" {
		h.Leaf("div", hand, "class", "hand")
	}
	h.Close()
}

// handOf returns, for an end at one side that is not square, the direction of the miter and the
// side to keep. An end moved to the other side is cut like an end there; one whose long point
// has changed sides is cut with the saw swung to the other side. How turned crown is held is
// not known.
func (s *Sheet) handOf(e side, at joint.Side, turn optimize.Turn) string {
	c, err := joint.NewCut(s.options.profile(), e.End)
	if err != nil || turn != (optimize.Turn{}) && s.upright() == "nested" { // New has seen every end of the plan
		return ""
	}
	t := setting{kind: e.Kind, hand: c.Hand(at)}
	if e.long != longPoint(e.End) {
		switch t.hand.Miter {
		case joint.SideLeft:
			t.hand.Miter = joint.SideRight
		case joint.SideRight:
			t.hand.Miter = joint.SideLeft
		}
	}
	return t.handed()
}

// ticks writes a box for each piece of a cut, those of one stick in one strip. If there are too
// many, paper has a place for a number and a screen one box for all of them.
func (h *page) ticks(b *block, i int) {
	n, total := b.patterns[0].cuts[i].n, b.total(i)
	h.td("tick")
	if total > mostTicks {
		h.Open("span", "class", "by-hand")
		h.Leaf("span", " ", "class", "write")
		h.Chars(" of " + h.count(total))
		h.Close()
		h.Open("label", "class", "all")
		h.Void("input", "type", "checkbox", "aria-label", "all "+h.count(total)+" are cut: "+h.nameOn(b, i, 0), "autocomplete", "off",
			"style", "--pieces: "+strconv.FormatInt(min(total, mostCounted), 10))
		h.Chars(" all " + h.count(total))
		h.Close()
		h.Close()
		return
	}
	for stick := range b.sticks {
		if stick > 0 && n > 1 {
			h.Leaf("span", " ", "class", "gap")
		}
		for range n {
			of := ", stick " + h.count(stick+1) + " of " + h.count(b.sticks)
			if b.sticks == 1 {
				of = ""
			}
			h.box("cut " + h.nameOn(b, i, stick) + of)
		}
	}
	h.Close()
}

// nameOn returns the name of the pieces of the i-th cut on a stick of a block, counted from
// zero.
func (h *page) nameOn(b *block, i int, stick int64) string {
	for _, p := range b.patterns {
		if stick -= int64(p.Count); stick < 0 {
			return h.pieceName(p.cuts[i].piece)
		}
	}
	return ""
}

// mostCounted is the greatest value that CSS counters hold in every browser: they have 32 bits.
const mostCounted = 1<<31 - 1

// mostBoxes is the number of boxes for which their column is wide enough.
func (h *page) mostBoxes() int {
	most := 1
	for _, blocks := range [][]block{h.now, h.later} {
		for k := range blocks {
			for i := range blocks[k].patterns[0].cuts {
				n := blocks[k].total(i)
				if n > mostTicks {
					n = 4 // a line to write on, and the total
				}
				most = max(most, int(n))
			}
		}
	}
	return most
}

// mostLength is the greatest width of the column of lengths, in hundredths of its font size.
// Only lengths in words are longer, and are broken.
const mostLength = 1500

// lengthOf returns the length of a cut, with its number on each stick.
func (s *Sheet) lengthOf(c *cut) string {
	length := s.length(s.piece(c.piece).Length)
	if c.n > 1 {
		length = s.count(int64(c.n)) + " @ " + length
	}
	return length
}

// lengthWidth returns the width of the column of lengths, in units of its font size.
func (h *page) lengthWidth() string {
	most := unit(300)
	for k := range h.patterns {
		for i := range h.patterns[k].cuts {
			most = max(most, captionWidth(h.lengthOf(&h.patterns[k].cuts[i]))*100/stripType)
		}
	}
	return num(min(most, mostLength))
}
