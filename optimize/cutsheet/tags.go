package cutsheet

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"example.com/longpoint/internal/typeset"
	"example.com/longpoint/measure"
)

// mostTagPieces is the greatest number of pieces that get a tag each; beyond it, pieces that
// are cut alike share one.
const mostTagPieces = 5000

// tag is the label that is stuck to a piece.
type tag struct {
	p     *pattern
	cut   int   // index of the cut
	count int64 // number of its pieces
	stick int   // index of its stick in the pattern, from 1; zero for all
}

// tagsOf returns the tags in their order, each piece on exactly one.
func (s *Sheet) tagsOf() []tag {
	var tags []tag
	each := s.sum.pieces <= mostTagPieces
	add := func(p *pattern, i, stick int) {
		c := &p.cuts[i]
		if !each {
			tags = append(tags, tag{p, i, p.total(c), 0})
			return
		}
		for range c.n {
			tags = append(tags, tag{p, i, 1, stick})
		}
	}
	if s.options.Tags.ByRoom {
		byKey := make(map[string]*pattern, len(s.patterns))
		for k := range s.patterns {
			byKey[s.patterns[k].key] = &s.patterns[k]
		}
		for _, room := range s.indexOf() {
			for _, row := range room.rows {
				p := byKey[row.key]
				for stick := range s.copies(p, each) {
					add(p, row.cut-1, stick+1)
				}
			}
		}
		return tags
	}
	now, later := s.inOrder()
	for _, p := range append(now, later...) {
		for stick := range s.copies(p, each) {
			for i := range p.cuts {
				add(p, i, stick+1)
			}
		}
	}
	return tags
}

// copies returns the number of sticks of a pattern for which tags are written.
func (s *Sheet) copies(p *pattern, each bool) int {
	if each {
		return p.Count
	}
	return 1
}

// WriteTags writes a page of HTML with a tag for each piece, on the grid of Options.Tags.
// Printed without margins and at full size, each tag falls on its place on the label paper. A
// tag gives the piece, its length and wall, its ends, its stick and cut, and the job and plan;
// its arrow points up on the wall, so that its left end is at the left. A text that is too long
// for a tag is shortened in its middle; the length of the piece never is. If there are more
// than 5,000 pieces, those that are cut alike share a tag.
//
// Like that of [Sheet.WriteHTML] the page is self-contained and well-formed XML. The error is
// that of w.
func (s *Sheet) WriteTags(w io.Writer) error {
	s = s.orEmpty()
	grid := s.options.Tags
	t := tagPage{Sheet: s, plain: grid.Columns == 0, grid: grid.filled(metric(s.style))}
	t.write()
	_, err := io.WriteString(w, t.Markup.String())
	return err
}

type tagPage struct {
	*Sheet
	typeset.Markup
	grid  TagGrid
	plain bool // paper that is cut apart
}

func (t *tagPage) write() {
	title := "Tags: " + t.title()
	t.Head(title, t.style())
	t.Open("main")
	t.Line()
	t.Open("h1")
	t.Leaf("bdi", title)
	t.Close()
	t.Line()
	t.Leaf("p", t.Sheet.head()+". Print at full size, without margins.", "class", "hint")
	t.Line()
	place := t.grid.Skip
	perPage := t.grid.Columns * t.grid.Rows
	open := false
	for _, g := range t.tagsOf() {
		if !open {
			t.Open("section", "class", "page")
			t.Line()
			open = true
		}
		t.tag(&g, place)
		if place++; place == perPage {
			t.Close()
			t.Line()
			place, open = 0, false
		}
	}
	if open {
		t.Close()
		t.Line()
	}
	t.Close()
	t.Close()
	t.Close()
	t.Line()
}

// css writes a nonnegative length for a style sheet, in inches to the nearest millionth.
func css(l measure.Length) string {
	const million = 1_000_000
	n, _, err := l.MulDiv(million, int64(measure.Inch), measure.RoundHalfEven)
	if err != nil { // far beyond any page
		return "0"
	}
	text := fmt.Sprintf("%d.%06d", int64(n)/million, int64(n)%million)
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".") + "in"
}

// letters is the typography of a tag: sizes that follow from the height of the tag.
type letters struct {
	pad, small measure.Length
	lines      int // of small text below the first line, which is twice as high
	cells      int // of a line
}

const point = measure.Inch / 72

// letters computes them. A line is 1-1/4 of its letters high, and a cell 0.6 of them wide, more
// than the usual fonts take; wider text is clipped at the edge of the tag.
func (t *tagPage) letters() letters {
	w, h := t.grid.width(), t.grid.height()
	var l letters
	l.pad = min(h, w) / 16
	in := h - 2*l.pad
	for _, try := range [...]struct { // the first line counts as two
		lines measure.Length
		least measure.Length
	}{{8, 15 * point / 2}, {7, 6 * point}, {5, 0}} {
		if l.small = in * 4 / (5 * try.lines); l.small >= try.least {
			break
		}
	}
	l.small = min(l.small, 10*point, (w-2*l.pad)*10/(6*22))
	line := l.small * 5 / 4
	l.lines = int(in/line) - 2
	l.cells = int((w - 2*l.pad) * 10 / (6 * l.small))
	return l
}

func (t *tagPage) style() string {
	l := t.letters()
	w, h := t.grid.width(), t.grid.height()
	var b strings.Builder
	b.WriteString("@page { size: " + css(t.grid.PageWidth) + " " + css(t.grid.PageHeight) + "; margin: 0; }\n" +
		"* { box-sizing: border-box; margin: 0; padding: 0; }\n" +
		"body { background: " + paper + "; color: " + ink + "; font: " + css(l.small) + "/1.25 system-ui, \"Liberation Sans\", sans-serif; }\n" +
		"h1, .hint { padding: 4pt 8pt; font-size: 12pt; }\n" +
		".page { position: relative; width: " + css(t.grid.PageWidth) + "; height: " + css(t.grid.PageHeight) + "; overflow: hidden; break-after: page; break-inside: avoid; }\n" +
		".page:last-child { break-after: auto; }\n" +
		".tag { position: absolute; width: " + css(w) + "; height: " + css(h) + "; padding: " + css(l.pad) + "; overflow: hidden; }\n" +
		".tag div { overflow: hidden; white-space: pre; text-overflow: ellipsis; }\n" +
		".first { display: flex; justify-content: space-between; gap: .5em; line-height: 2.5em; }\n" +
		".len { flex: none; font-size: 2em; line-height: 1.25; font-weight: bold; font-variant-numeric: tabular-nums; }\n" +
		".words { flex: 1; font-size: 1em; white-space: normal; }\n" +
		".from { min-width: 0; overflow: hidden; text-overflow: ellipsis; }\n" +
		".up { flex: none; width: 1.1em; height: 2em; margin-top: .25em; }\n" +
		".name { font-weight: bold; }\n" +
		".foot { color: " + quiet + "; }\n")
	if t.plain {
		b.WriteString(".tag { border: .5pt dashed " + hatch + "; }\n")
	}
	b.WriteString("@media screen { .page { margin: 8pt; outline: 1px solid " + hatch + "; } .tag { outline: 1px dotted " + hatch + "; } }\n" +
		"@media print { h1, .hint { display: none; } }\n")
	for k := range t.grid.Columns {
		b.WriteString(".c" + strconv.Itoa(k+1) + " { left: " + css(t.grid.left(k)) + "; }\n")
	}
	for k := range t.grid.Rows {
		b.WriteString(".r" + strconv.Itoa(k+1) + " { top: " + css(t.grid.top(k)) + "; }\n")
	}
	return b.String()
}

// tag writes a tag in its place on the page, counted row by row.
func (t *tagPage) tag(g *tag, place int) {
	l := t.letters()
	c := &g.p.cuts[g.cut]
	pc := t.piece(c.piece)
	column, row := place%t.grid.Columns+1, place/t.grid.Columns+1
	t.Open("div", "class", "tag c"+strconv.Itoa(column)+" r"+strconv.Itoa(row))
	t.Open("div", "class", "first")
	length, class := typeset.Unmarked(t.length(pc.Length)), "len"
	if typeset.Cells(length) > longLength {
		class = "len words"
	}
	t.Leaf("span", length, "class", class)
	t.Raw(upArrow)
	t.Leaf("span", t.tagFrom(g), "class", "from")
	t.Close()
	for _, line := range t.tagLines(g, &l) {
		t.Open("div", "class", line.class)
		t.Leaf("bdi", line.text)
		t.Close()
	}
	t.Close()
	t.Line()
}

// longLength is the greatest number of cells of a length in double height; a length in words is
// longer.
const longLength = 14

// upArrow points up on the wall. It is drawn, since not every font has the character.
const upArrow = `<svg class="up" viewBox="0 0 11 20" role="img" aria-label="this way up"><title>this way up</title>` +
	`<path d="M5.5 0 L11 8 H7 V20 H4 V8 H0 Z"/></svg>`

// tagFrom names the cut and the stick of the piece.
func (t *tagPage) tagFrom(g *tag) string {
	text := g.p.key + " " + strconv.Itoa(g.cut+1)
	switch {
	case g.stick == 0:
		text += ", " + t.plural(g.count, "piece")
	case g.p.Count > 1:
		text += ", stick " + t.count(int64(g.stick)) + " of " + t.count(int64(g.p.Count))
	}
	if g.p.cuts[g.cut].wait {
		text += ", on hold"
	}
	return text
}

type tagLine struct{ text, class string }

// tagLines returns the lines of a tag below its length, as many as fit: the name first, then
// its place and its ends, then other work. The last line names the job and the plan.
func (t *tagPage) tagLines(g *tag, l *letters) []tagLine {
	c := &g.p.cuts[g.cut]
	clip := func(text string, cells int) string {
		return typeset.Clip(typeset.Visible(typeset.Unmarked(text)), cells, "…")
	}
	room, wall := t.place(c.piece)
	where := strings.Trim(room+", "+wall, ", ")
	name := t.pieceName(c.piece)
	left, right := t.endName(t.piece(c.piece).Left), t.endName(t.piece(c.piece).Right)
	more := strings.TrimPrefix(strings.TrimPrefix(t.only(c.piece, g.count), onlyThis), onlyThese)

	var lines []tagLine
	spare := l.lines - 5
	if spare < 0 {
		if where != "" {
			name += " (" + where + ")"
		}
		lines = append(lines, tagLine{clip(name, l.cells), "name"})
	} else {
		lines = append(lines, tagLine{clip(name, l.cells), "name"}, tagLine{clip(where, l.cells), "where"})
	}
	if spare < 0 || spare == 0 && more != "" { // both ends in one line
		half := (l.cells - len("left , right ")) / 2
		lines = append(lines, tagLine{"left " + clip(left, half) + ", right " + clip(right, half), "end"})
	} else {
		lines = append(lines, tagLine{clip("left: "+left, l.cells), "end"}, tagLine{clip("right: "+right, l.cells), "end"})
	}
	if room := l.lines - len(lines) - 1; more != "" && room > 0 {
		more = typeset.Visible(typeset.Unmarked(more))
		wrapped := typeset.Wrap(more, l.cells)
		if len(wrapped) > room {
			wrapped = typeset.Wrap(more, l.cells-2)[:room]
			if room > 1 {
				wrapped[room-2] += " …"
			}
			wrapped[room-1] = clip(seeSheet, l.cells)
		}
		for _, text := range wrapped {
			lines = append(lines, tagLine{text, "only"})
		}
	}
	o := &t.options
	if job := strings.Trim(o.Job+", "+o.Date, ", "); job != "" && l.lines-len(lines) > 1 {
		lines = append(lines, tagLine{clip(job, l.cells), "foot"})
		return append(lines, tagLine{t.tagFoot(l, "", ""), "foot"})
	}
	return append(lines, tagLine{t.tagFoot(l, o.Job, o.Date), "foot"})
}

// seeSheet is the last line of notes that are too long for a tag: half a sentence would be
// taken for a whole one.
const seeSheet = "more work: see sheet"

// tagFoot names the job and the plan of a tag: the whole fingerprint, then the revision,
// shortened only if it alone is longer than the line, then as much of the rest as fits.
func (t *tagPage) tagFoot(l *letters, job, date string) string {
	text := t.fingerprint
	room := func() int { return l.cells - typeset.Cells(text) - 2 }
	add := func(part string, most int) {
		if part = typeset.Visible(part); part != "" && most > 3 {
			text += "  " + typeset.Clip(part, most, "…")
		}
	}
	if r := t.options.Revision; r != "" {
		r, most := "rev. "+r, room()
		if job != "" && typeset.Cells(typeset.Visible(r)) > most {
			most /= 2
		}
		add(r, most)
	}
	add(job, room())
	if typeset.Cells(date) <= room() {
		add(date, room())
	}
	return text
}
