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

func newPagePen(title string) *pagePen {
	h := &pagePen{Markup: typeset.Markup{Spans: true}, level: 2}
	h.Raw("<!DOCTYPE html>\n")
	h.Open("html", "lang", "en")
	h.Line()
	h.Open("head")
	h.Line()
	h.Void("meta", "charset", "utf-8")
	h.Line()
	h.Void("meta", "http-equiv", "Content-Security-Policy", "content", "default-src 'none'; style-src 'unsafe-inline'")
	h.Line()
	h.Void("meta", "name", "viewport", "content", "width=device-width, initial-scale=1")
	h.Line()
	h.Spans = false // a title has no elements
	h.Leaf("title", title)
	h.Spans = true
	h.Line()
	h.Open("style")
	h.Raw("\n" + styleSheet)
	h.Close()
	h.Close()
	h.Line()
	h.Open("body")
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

// said writes anybody's text so that its direction stays its own.
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

func (h *pagePen) day(heading string, lines []string, first bool) {
	class := "day"
	if !first {
		class += " new"
	}
	h.Open("section", "class", class)
	h.Leaf("h2", heading)
	for _, l := range lines {
		h.Open("p", "class", "under")
		h.said(l)
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

func (h *pagePen) list(heading string, items []string, box string) {
	if len(items) == 0 {
		return
	}
	h.Open("div", "class", "list")
	if heading != "" {
		h.Leaf("h"+strconv.Itoa(h.level+1), heading)
	}
	h.items(items, box != "")
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

func (h *pagePen) table(t *table) {
	span := strconv.Itoa(len(t.columns))
	h.Open("table")
	h.Line()
	if !t.plain {
		h.Open("thead")
		if t.caption != "" {
			h.Open("tr", "class", "caption")
			h.Open("th", "scope", "colgroup", "colspan", span)
			h.said(t.caption)
			h.Close()
			h.Close()
		}
		h.Open("tr")
		for _, c := range t.columns {
			h.Leaf("th", c.name, classed(c.kind, "scope", "col")...)
		}
		h.Close()
		h.Close()
		h.Line()
	}
	for i := range t.groups {
		g := &t.groups[i]
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
	if len(t.foot) > 0 {
		h.Open("tfoot")
		for k := range t.foot {
			h.row(t, &t.foot[k])
		}
		h.Close()
	}
	h.Close()
	h.Line()
}

// row writes a row. The first cell of a table without a head says what the others are.
func (h *pagePen) row(t *table, r *row) {
	h.Open("tr")
	for k := range r.cells {
		c, column := &r.cells[k], &t.columns[k]
		if t.plain && k == 0 {
			h.Open("th", "scope", "row")
		} else {
			attrs := classed(column.kind)
			if column.name != "" && column.kind != columnTick && c.text != "" {
				attrs = append(attrs, "data-column", column.name)
			}
			h.Open("td", attrs...)
		}
		if c.box != "" {
			h.Void("input", "type", "checkbox", "autocomplete", "off", "aria-label", c.box)
		}
		if c.text != "" {
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
