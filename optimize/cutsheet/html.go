package cutsheet

import (
	_ "embed"
	"fmt"
	"io"
	"strings"

	"example.com/longpoint/internal/typeset"
	"example.com/longpoint/stock/joint"
)

//go:embed style.css
var styleSheet string

// WriteHTML writes one self-contained page: no script, font or picture from elsewhere, and a
// policy in its head that forbids them. It prints on US letter and A4. Its boxes can be ticked
// on paper or on a screen, which counts them. It is also well-formed XML. The error is that of
// w.
//
// First comes the shopping list, to be torn off: along a line if the whole job fits one page,
// else as a separate page. Then come the usual cautions and the saw settings, the sticks with a
// line for each cut, those that wait, an index of the pieces of each room, the offcuts, and
// last, in one line, how good the plan is known to be; Options.ProofDetails adds details on
// paper, which a screen shows on request. Title, job, date, revision, fingerprint and page
// number are on every page. [Sheet.WriteTags] writes the tags.
func (s *Sheet) WriteHTML(w io.Writer) error {
	s = s.orEmpty()
	h := page{Sheet: s, Markup: typeset.Markup{Spans: true}}
	now, later := s.inOrder()
	h.now, h.sticks = s.blocks(now, 0)
	h.later, h.sticks = s.blocks(later, h.sticks)
	h.write()
	_, err := io.WriteString(w, h.String())
	return err
}

type page struct {
	*Sheet
	typeset.Markup
	now, later []block // those that can be cut, and those that wait
	sticks     int64   // in both

	columns []string // of the current table, with their classes
	column  int      // index of the next cell
}

func (h *page) write() {
	h.Head(h.title(), h.style())
	h.Open("main")
	h.Line()
	h.top()
	h.buying()
	h.care()
	h.runs()
	h.saws()
	h.cuts()
	h.index()
	h.leftovers()
	h.evidence()
	h.Close()
	h.Close()
	h.Close()
	h.Line()
}

// style returns the style of the page with the parts that depend on the sheet: colors, column
// widths and the edges of paper.
func (h *page) style() string {
	var b strings.Builder
	fmt.Fprintf(&b, ":root { %s --boxes: %d; --length: %s; }\n", light, h.mostBoxes(), h.lengthWidth())
	b.WriteString(styleSheet)
	fmt.Fprintf(&b, "@media screen and (prefers-color-scheme: dark) { :root { %s } }\n", dark)
	o := &h.options
	revision := o.Revision
	if revision != "" {
		revision = "revision " + revision
	}
	fmt.Fprintf(&b, "@page {\n  @top-left { content: %s; }\n  @top-right { content: %s; }\n  @bottom-left { content: %s; }\n}\n",
		edgeText(" \u00b7 ", 44, h.title(), o.Job), edgeText(" \u00b7 ", 20, o.Date, revision), edgeText("", 40, "fingerprint "+h.fingerprint))
	fmt.Fprintf(&b, "@page :first { @top-left { content: %s; } }\n", edgeText("", 56, o.Job))
	return b.String()
}

// edgeText joins texts, each of at most the given number of cells, to a CSS string for the edge
// of a page.
func edgeText(between string, cells int, texts ...string) string {
	var all []string
	for _, t := range texts {
		if t = strings.TrimSpace(t); t != "" {
			all = append(all, typeset.Clip(typeset.Visible(t), cells, "\u2026"))
		}
	}
	return typeset.QuotedCSS(strings.Join(all, between))
}

// top writes the head of the sheet.
func (h *page) top() {
	h.Open("header")
	h.Open("h1")
	h.Leaf("bdi", h.title())
	h.Close()
	h.Open("p", "class", "job")
	if about := h.about(); about != "" {
		h.Leaf("bdi", about+"; ")
	}
	h.Leaf("span", "fingerprint "+h.fingerprint, "class", "one")
	h.Close()
	h.Leaf("p", h.summary(), "class", "sum")
	h.Close()
	h.Line()
}

// care writes the usual cautions.
func (h *page) care() {
	h.Open("section", "class", "care")
	h.Leaf("h2", "Before you cut")
	h.Leaf("p", caution)
	h.Close()
	h.Line()
}

// runs lists the splices of the runs.
func (h *page) runs() {
	if len(h.plan.Spliced) == 0 {
		return
	}
	h.Open("section")
	h.Leaf("h2", "Runs, from left to right")
	h.Open("table", "class", "list")
	h.heads("Run", "third", "Length", "n", "Splices", "")
	h.Open("tbody")
	for k := range h.plan.Spliced {
		h.tr("")
		h.label(h.runName(k))
		h.lengthCell(h.length(h.problem.Runs[k].Length), "len")
		h.label(h.spliced(k))
		h.Close()
		h.Line()
	}
	h.Close()
	h.Close()
	h.Close()
	h.Line()
}

// saws writes all settings of the saw.
func (h *page) saws() {
	if len(h.settings) == 0 {
		return
	}
	const onePage = 30
	if len(h.settings) <= onePage {
		h.Open("section", "class", "whole")
	} else {
		h.Open("section")
	}
	h.Leaf("h2", "Saw settings")
	upright := "Upright"
	if h.upright() == "nested" {
		upright = "Nested"
	}
	h.Open("table", "class", "list saws")
	h.heads("Cut", "", "Long point", "", upright, "", "Flat", "", "Left end", "", "Right end", "")
	h.Open("tbody")
	for i := 0; i < len(h.settings); i++ {
		set := &h.settings[i]
		hands := map[joint.Side]string{set.side: h.hand(set)}
		if i+1 < len(h.settings) && set.pairs(&h.settings[i+1]) {
			i++
			hands[h.settings[i].side] = h.hand(&h.settings[i])
		}
		h.tr("")
		h.cell(h.kindName(set), "len word")
		h.cell(string(set.long), "")
		h.cell(h.saw(set.standing), "")
		h.cell(h.saw(set.flat), "")
		h.cell(hands[joint.SideLeft], "")
		h.cell(hands[joint.SideRight], "")
		h.Close()
		h.Line()
	}
	h.Close()
	h.Close()
	h.Leaf("p", h.settingsNote(), "class", "quiet")
	h.Close()
	h.Line()
}

// pairs reports whether two settings are the left and right end of the same cut.
func (t *setting) pairs(other *setting) bool {
	return t.kind == other.kind && t.corner == other.corner && t.side != other.side && t.long == other.long &&
		t.standing == other.standing && t.flat == other.flat
}

// hand describes the direction of the miter and the side to keep, and whether the piece lies
// flat.
func (h *page) hand(t *setting) string {
	hand := t.handed()
	if hand != "" && t.handIsFlat() {
		hand += " (flat)"
	}
	if hand == "" { // the blade is tilted and the saw is not turned
		hand = "keep " + t.hand.Keep.String()
	}
	return hand
}

// fewRows is the greatest number of rows of a room that is kept on one page.
const fewRows = 8

// index lists the pieces of each room.
func (h *page) index() {
	if !h.placed() {
		return
	}
	h.Open("section")
	h.Leaf("h2", indexHeading)
	h.Leaf("p", indexNote, "class", "quiet lead")
	h.Open("div", "class", "rooms")
	for _, room := range h.indexOf() {
		class := "list room"
		if len(room.rows) <= fewRows {
			class += " whole"
		}
		h.Open("table", "class", class)
		h.Open("caption")
		name := room.room
		if name == "" {
			name = noRoom
		}
		h.Leaf("bdi", name)
		h.Close()
		h.Open("colgroup")
		for _, class := range [...]string{"wall", "piece", "length", "cut"} {
			h.Void("col", "class", class)
		}
		h.Close()
		h.roomHeads(name)
		h.Open("tbody")
		for i := range room.rows {
			r := &room.rows[i]
			h.tr("")
			if i == 0 || r.wall != room.rows[i-1].wall {
				h.label(r.wall)
			} else {
				h.cell("", "")
			}
			h.label(h.pieceName(r.piece))
			h.lengthCell(h.length(h.piece(r.piece).Length), "len")
			h.cell(h.from(r), "from")
			h.Close()
			h.Line()
		}
		h.Close()
		h.Close()
		h.Line()
	}
	h.Close()
	h.Close()
	h.Line()
}

// roomHeads writes the head of a room's table. It includes the room's name for paper, which
// repeats it at the top of each column and page on which the table continues.
func (h *page) roomHeads(name string) {
	h.Open("thead")
	h.Open("tr", "class", "again")
	h.Open("th", "scope", "colgroup", "colspan", "4")
	h.Leaf("bdi", name)
	h.Close()
	h.Close()
	h.headRow("Wall", "", "Piece", "", "Length", "n", "From", "from")
	h.Close()
	h.Line()
}

// leftovers lists the offcuts.
func (h *page) leftovers() {
	waste := h.wasted()
	if len(h.offcuts) == 0 && h.sum.whole == 0 && waste == "" {
		return
	}
	h.Open("section", "class", "left")
	h.Leaf("h2", "Left over")
	if len(h.offcuts) > 0 || h.sum.whole > 0 {
		h.keeping()
	}
	if text := strings.TrimSpace(waste + " " + h.yield()); text != "" {
		h.Leaf("p", text)
	}
	h.Close()
	h.Line()
}

// keeping lists the offcuts that return to the rack.
func (h *page) keeping() {
	rows := len(h.offcuts)
	for i := range h.lines {
		if h.lines[i].count > h.lines[i].cut {
			rows++
		}
	}
	wide := 0
	for i := range h.offcuts {
		wide = max(wide, typeset.Cells(h.length(h.offcuts[i].length)))
	}
	const oneColumn, columnWide = 10, 13 // 10' 11-63/64"
	if rows > oneColumn && wide <= columnWide {
		h.Open("div", "class", "kept")
	} else {
		h.Open("div")
	}
	h.Open("table", "class", "list narrow")
	what := "Offcuts"
	if h.sum.whole > 0 {
		what = "How many"
	}
	h.heads("Kept", "tick", what, "n", "Length", "n", "From stick", "")
	h.Open("tbody")
	row := func(n int64, what, length, from string) {
		h.tr("")
		h.td("tick")
		h.box("kept " + h.plural(n, what) + " of " + length)
		h.Close()
		h.cell(h.count(n), "n")
		h.lengthCell(length, "len")
		h.label(from)
		h.Close()
		h.Line()
	}
	for _, l := range h.lines {
		if whole := l.count - l.cut; whole > 0 {
			st := &h.problem.Sticks[l.stick]
			row(whole, "whole stick", h.length(soldAs(st)), "whole, not cut"+strings.TrimSuffix("; "+h.stickLabel(st), "; "))
		}
	}
	for _, o := range h.offcuts {
		row(o.count, "offcut", h.length(o.length), keys(o.from))
	}
	h.Close()
	h.Close()
	h.Close()
	h.Line()
}

// evidence writes, last, how good the plan is known to be.
func (h *page) evidence() {
	h.Open("section", "class", "whole proof")
	h.Leaf("h2", "How good the plan is")
	h.Leaf("p", h.proofLine())
	attrs := []string{}
	if h.options.ProofDetails {
		attrs = []string{"open", "open"}
	}
	h.Open("details", attrs...)
	h.Leaf("summary", "How that is known")
	h.Leaf("p", h.proof())
	if goals := h.goals(); len(goals) > 0 {
		h.Leaf("p", goalsNote)
		h.Open("p", "class", "lines")
		for _, g := range goals {
			h.Leaf("span", g)
		}
		h.Close()
		if u := h.unshown(); u != "" {
			h.Leaf("p", u)
		}
	}
	h.Close()
	h.Close()
	h.Line()
}
