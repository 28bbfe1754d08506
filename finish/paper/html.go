package paper

import (
	_ "embed"
	"io"
	"strconv"

	"example.com/longpoint/internal/typeset"
)

//go:embed style.css
var styleSheet string

// pagePen writes a page of HTML. Headings go down by one level at a time.
type pagePen struct {
	typeset.Markup
	level int // of the headings of sections
}

// newPagePen begins a page. The foot of each printed page identifies the paper.
func newPagePen(title, foot string) *pagePen {
	h := &pagePen{Markup: typeset.Markup{Spans: true}, level: 2}
	h.Head(title, styleSheet+"@page { @bottom-left { content: "+typeset.QuotedCSS(typeset.Clip(typeset.Visible(foot), footWidth, "..."))+" } }\n")
	h.Open("main")
	h.Line()
	return h
}

func (h *pagePen) to(w io.Writer) error {
	h.Close()
	h.Close()
	h.Close()
	h.Line()
	_, err := io.WriteString(w, h.String())
	return err
}

// footWidth is the number of cells of text that fit beside the page number.
const footWidth = 60

// said writes the caller's text so that its direction does not affect other text.
func (h *pagePen) said(text string) { h.Leaf("bdi", text) }

func (h *pagePen) title(text string, lines []string) {
	h.Open("header")
	h.Open("h1")
	h.said(text)
	h.Close()
	for _, l := range lines {
		h.Open("p", "class", "under")
		h.said(l)
		h.Close()
	}
	h.Close()
	h.Line()
}

func (h *pagePen) day(heading, who string, first bool) {
	class := "day"
	if !first {
		class += " new"
	}
	h.Open("section", "class", class)
	h.Leaf("h2", heading)
	if who != "" {
		h.Open("p", "class", "under")
		h.said(who)
		h.Close()
	}
	h.Line()
	h.level = 3
}

func (h *pagePen) section(heading string, whole bool) {
	if whole {
		h.Open("section", "class", "whole")
	} else {
		h.Open("section")
	}
	h.Leaf("h"+strconv.Itoa(h.level), heading)
	h.Line()
}

func (h *pagePen) end() {
	h.Close()
	h.Line()
}

func (h *pagePen) para(text string, small bool) {
	if small {
		h.Open("p", "class", "small")
	} else {
		h.Open("p")
	}
	h.said(text)
	h.Close()
	h.Line()
}

func (h *pagePen) facts(all []fact) {
	h.Open("dl")
	h.Line()
	for _, f := range all {
		h.Open("div")
		h.Leaf("dt", f.name)
		for _, l := range f.lines {
			h.Open("dd")
			h.said(l)
			h.Close()
		}
		h.Close()
		h.Line()
	}
	h.Close()
	h.Line()
}

func (h *pagePen) lists(all []list, boxes bool) {
	h.Open("div", "class", "lists")
	h.Line()
	for _, l := range all {
		h.Open("div")
		if l.heading != "" {
			h.Leaf("h"+strconv.Itoa(h.level+1), l.heading)
		}
		h.items(l.items, boxes)
		h.Close()
		h.Line()
	}
	h.Close()
	h.Line()
}

// items writes texts below each other, with boxes or without.
func (h *pagePen) items(items []string, boxes bool) {
	if boxes {
		h.Open("ul", "class", "boxes")
	} else {
		h.Open("ul")
	}
	for _, it := range items {
		h.Open("li")
		if boxes {
			h.Open("label")
			h.Void("input", "type", "checkbox", "autocomplete", "off")
			h.said(it)
			h.Close()
		} else {
			h.said(it)
		}
		h.Close()
		h.Line()
	}
	h.Close()
}

func (h *pagePen) care(all []Caution) {
	h.Open("div", "class", "care", "role", "note", "aria-label", "Cautions")
	h.Line()
	for _, c := range all {
		h.Open("p")
		if c.About != "" {
			h.Open("b")
			h.said(c.About)
			h.Chars(":")
			h.Close()
			h.Chars(" ")
		}
		h.said(c.Text)
		if c.Source != "" {
			h.Chars(" ")
			h.Open("span", "class", "source")
			h.Chars("(")
			h.said(c.Source)
			h.Chars(")")
			h.Close()
		}
		h.Close()
		h.Line()
	}
	h.Close()
	h.Line()
}

// classes of the cells of a column.
var classes = [...]string{columnText: "", columnShort: "short", columnMoney: "n", columnTick: "tick"}

func classed(k columnKind, attrs ...string) []string {
	if c := classes[k]; c != "" {
		return append(attrs, "class", c)
	}
	return attrs
}

// table writes a table. With a caption, each group is a separate table, so that its
// heading and the caption are above its rows on every page.
func (h *pagePen) table(t *table) {
	if t.caption == "" {
		h.Open("table")
		h.Line()
		h.names(t, "")
		for i := range t.groups {
			h.group(t, &t.groups[i])
		}
		h.foot(t)
		h.Close()
		h.Line()
		return
	}
	for i := range t.groups {
		g := t.groups[i]
		h.Open("table")
		h.Line()
		h.names(t, g.heading)
		g.heading = ""
		h.group(t, &g)
		h.Close()
		h.Line()
	}
}

// names writes the head of a table, unless it is a plain one.
func (h *pagePen) names(t *table, heading string) {
	if t.plain {
		return
	}
	h.Open("thead")
	if t.caption != "" {
		h.Open("tr", "class", "caption")
		h.Open("th", "scope", "colgroup", "colspan", strconv.Itoa(len(t.columns)))
		h.said(heading)
		h.Open("span", "class", "of")
		h.said(t.caption)
		h.Close()
		h.Close()
		h.Close()
	}
	h.Open("tr", "class", "names")
	for _, c := range t.columns {
		h.Leaf("th", c.name, classed(c.kind, "scope", "col")...)
	}
	h.Close()
	h.Close()
	h.Line()
}

// group writes rows under their heading.
func (h *pagePen) group(t *table, g *group) {
	span := strconv.Itoa(len(t.columns))
	h.Open("tbody")
	h.Line()
	if g.heading != "" {
		h.Open("tr", "class", "group")
		h.Open("th", "scope", "rowgroup", "colspan", span)
		h.said(g.heading)
		h.Close()
		h.Close()
		h.Line()
	}
	for k := range g.rows {
		if before := g.rows[k].before; len(before) > 0 {
			h.Open("tr", "class", "before")
			h.Open("td", "colspan", span)
			h.care(before)
			h.Close()
			h.Close()
		}
		h.row(t, &g.rows[k])
	}
	h.Close()
	h.Line()
}

// foot writes the rows that end a table.
func (h *pagePen) foot(t *table) {
	if len(t.foot) == 0 {
		return
	}
	h.Open("tfoot")
	for k := range t.foot {
		h.row(t, &t.foot[k])
	}
	h.Close()
}

// row writes a row. In a table without a head, the first cell is the heading of the
// others.
func (h *pagePen) row(t *table, r *row) {
	h.Open("tr")
	for k := range r.cells {
		c, column := &r.cells[k], &t.columns[k]
		if t.plain && k == 0 {
			h.Open("th", "scope", "row")
		} else {
			attrs := classed(column.kind)
			if column.kind == columnMoney && typeset.Cells(c.text) > typeset.KeptMost {
				attrs = []string{"class", "num"} // which may be broken
			}
			if column.label && c.text != "" {
				attrs = append(attrs, "data-column", column.name)
			}
			h.Open("td", attrs...)
		}
		if c.box != "" {
			h.Void("input", "type", "checkbox", "autocomplete", "off", "aria-label", c.box)
		}
		switch {
		case c.text != "" && c.strong:
			h.Open("b")
			h.said(c.text)
			h.Close()
		case c.text != "":
			h.said(c.text)
		}
		if len(c.lines) > 0 {
			h.items(c.lines, false)
		}
		if len(c.ticks) > 0 {
			h.items(c.ticks, true)
		}
		h.Close()
	}
	h.Close()
	h.Line()
}

func (h *pagePen) sign(who string) {
	h.Open("div", "class", "sign")
	for _, what := range []string{who, "Date"} {
		h.Open("p")
		h.said(what)
		h.Close()
	}
	h.Close()
	h.Line()
}
