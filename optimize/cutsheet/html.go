package cutsheet

import (
	_ "embed"
	"io"
	"strconv"
	"strings"

	"example.com/longpoint/internal/typeset"
)

//go:embed style.css
var styleSheet string

// tagsMax is how many tags are printed one for each piece; beyond that there is
// one for all that are cut alike.
const tagsMax = 240

// rowBoxes is how many boxes to tick a row of a page has at most.
const rowBoxes = 12

// HTML writes one page that needs nothing else: no script, no font, no picture
// from elsewhere, and a policy in its head that forbids them. It prints on US
// letter and on A4, and the boxes can be ticked on paper or on a screen. It is
// well-formed XML too. The error is that of w.
//
// First come the list to buy and the proof, then the saw settings where pieces
// have ends that need them, the usual cautions, a block for each pattern, what is
// left over, and a tag for each piece to be cut out and stuck on.
func (s *Sheet) HTML(w io.Writer) error {
	h := page{Sheet: s, Markup: typeset.Markup{Spans: true}}
	h.write()
	_, err := io.WriteString(w, h.String())
	return err
}

type page struct {
	*Sheet
	typeset.Markup
	columns []string // of the table that is being written, with their classes
	column  int      // that the next cell is in
}

func (h *page) write() {
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
	h.Leaf("title", h.title())
	h.Line()
	h.Open("style")
	h.Raw("\n:root { --paper: " + paper + "; --ink: " + ink + "; --quiet: " + quiet + "; --hatch: " + hatch + "; --blade: " + blade + "; }\n" + styleSheet)
	h.Close()
	h.Close()
	h.Line()
	h.Open("body")
	h.Open("main")
	h.Line()

	h.Open("header")
	h.Open("h1")
	h.Leaf("bdi", h.title())
	h.Close()
	h.Leaf("p", h.Sheet.head())
	h.Leaf("p", h.summary(), "class", "sum")
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
	if y := h.yield(); y != "" {
		h.Leaf("p", y)
	}
	h.Leaf("p", h.basis(), "class", "quiet")
	h.Close()
	h.Line()
	h.needs("To buy", false)
	h.needs("Off the rack", true)
	h.bills()
	h.runs()
	h.saws()
	h.care()
	h.cuts()
	h.leftovers()
	h.tags()

	h.Close()
	h.Close()
	h.Close()
	h.Line()
}

// head writes the head of a table: names of columns, each with its class.
func (h *page) head(columns ...string) {
	h.columns = columns
	h.Open("thead")
	h.Open("tr")
	for i := 0; i < len(columns); i += 2 {
		attrs := []string{"scope", "col"}
		if columns[i+1] != "" {
			attrs = append(attrs, "class", columns[i+1])
		}
		h.Leaf("th", columns[i], attrs...)
	}
	h.Close()
	h.Close()
	h.Line()
}

// tr begins a row of a table, of a class or none.
func (h *page) tr(class string) {
	h.column = 0
	if class == "" {
		h.Open("tr")
		return
	}
	h.Open("tr", "class", class)
}

// td begins a cell. It carries the name of its column, for screens too narrow for
// columns; a box to tick needs none.
func (h *page) td(class string) {
	var attrs []string
	if class != "" {
		attrs = append(attrs, "class", class)
	}
	if i := 2 * h.column; i < len(h.columns) && !strings.HasPrefix(h.columns[i+1], "tick") {
		attrs = append(attrs, "data-column", h.columns[i])
	}
	h.column++
	h.Open("td", attrs...)
}

func (h *page) cell(text, class string) {
	h.td(class)
	h.Chars(text)
	h.Close()
}

// lengthCell writes a length, which is kept on one line unless it is in words.
func (h *page) lengthCell(length, class string) {
	if typeset.Cells(length) > typeset.KeptMost {
		h.cell(length, strings.TrimSuffix("num "+class, " "))
		return
	}
	h.td(strings.TrimSuffix("n "+class, " "))
	h.Raw(typeset.Escape(typeset.Unmarked(length))) // the cell keeps it
	h.Close()
}

// label writes anybody's text so that its direction stays its own.
func (h *page) label(text string) {
	h.td("")
	h.Leaf("bdi", text)
	h.Close()
}

// box writes a box to tick, with what it is for.
func (h *page) box(purpose string) {
	h.Void("input", "type", "checkbox", "aria-label", purpose, "autocomplete", "off")
}

func (h *page) needs(heading string, rack bool) {
	var lines []line
	notes := false
	for _, l := range h.lines {
		if st := &h.problem.Sticks[l.stick]; st.Rack == rack {
			lines = append(lines, l)
			notes = notes || len(h.notes(&l)) > 0
		}
	}
	if len(lines) == 0 {
		return
	}
	priced := h.priced()
	if rack {
		priced = false
		for _, l := range lines {
			priced = priced || h.problem.Sticks[l.stick].Price != 0
		}
	}
	h.Open("section")
	h.Leaf("h2", heading)
	if notes {
		h.Open("table")
	} else {
		h.Open("table", "class", "narrow")
	}
	columns := []string{"Got", "tick", "Sticks", "n", "Length", "n"}
	if priced {
		columns = append(columns, "Each", "n", "Together", "n")
	}
	if notes {
		columns = append(columns, "Which", "")
	}
	h.head(columns...)
	h.Open("tbody")
	for _, l := range lines {
		st := &h.problem.Sticks[l.stick]
		h.tr("")
		h.td("")
		h.box("got " + h.plural(l.count, "stick") + " of " + h.stickName(l.stick))
		h.Close()
		h.cell(h.count(l.count), "n")
		h.lengthCell(h.length(soldAs(st)), "len")
		if priced {
			h.cell(h.money(l.each), "n")
			h.cell(h.money(l.price()), "n")
		}
		if notes {
			h.td("")
			for i, note := range h.notes(&l) {
				if i > 0 {
					h.Chars("; ")
				}
				if i == 0 && st.Label != "" {
					h.Leaf("bdi", note)
				} else {
					h.Chars(note)
				}
			}
			h.Close()
		}
		h.Close()
		h.Line()
	}
	h.Close()
	if priced && !rack && len(h.bill) == 0 {
		h.Open("tfoot")
		h.tr("")
		h.columns = nil
		h.Leaf("td", "Cost", "colspan", "4")
		h.cell(h.cost(h.plan.Cost), "n")
		if notes {
			h.cell("", "")
		}
		h.Close()
		h.Close()
	}
	h.Close()
	h.Close()
	h.Line()
}

// bills adds up what the plan costs where that is more than the sticks to buy.
func (h *page) bills() {
	spare := h.spare()
	if len(h.bill) == 0 && spare == "" {
		return
	}
	h.Open("section")
	if len(h.bill) > 0 {
		h.Leaf("h2", "What it costs")
		h.Open("table", "class", "narrow")
		h.columns = nil
		h.Open("tbody")
		row := func(what string, amount int64) {
			h.tr("")
			h.label(what)
			h.cell(h.money(amount), "n")
			h.Close()
			h.Line()
		}
		row("sticks to buy", h.toBuy())
		for i := range h.bill {
			row(h.chargeWords(&h.bill[i]), h.bill[i].amount)
		}
		h.Close()
		h.Open("tfoot")
		row(upper(h.costName()), h.plan.Cost)
		h.Close()
		h.Close()
	}
	if spare != "" {
		h.Leaf("p", spare)
	}
	h.Close()
	h.Line()
}

// runs says where the runs are spliced.
func (h *page) runs() {
	if len(h.plan.Spliced) == 0 {
		return
	}
	h.Open("section")
	h.Leaf("h2", "Runs, from left to right")
	h.Open("table")
	h.head("Run", "", "Length", "n", "Splices", "")
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

func (h *page) saws() {
	if len(h.settings) == 0 {
		return
	}
	const onePage = 24
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
	h.Open("table")
	h.head("Cut", "", "End", "", "Long point", "", upright, "", "Flat", "", "Hand", "")
	h.Open("tbody")
	for i := range h.settings {
		set := &h.settings[i]
		h.tr("")
		h.cell(h.kindName(set), "len word")
		h.cell(set.side.String(), "")
		h.cell(set.long, "")
		h.cell(h.saw(set.standing), "")
		h.cell(h.saw(set.flat), "")
		hand := set.handed()
		if hand != "" && set.handIsFlat() {
			hand += " (flat)"
		}
		h.cell(hand, "")
		h.Close()
		h.Line()
	}
	h.Close()
	h.Close()
	h.Leaf("p", h.settingsNote(), "class", "quiet")
	h.Close()
	h.Line()
}

func (h *page) cuts() {
	h.Open("section")
	h.Leaf("h2", "To cut")
	text := orderNote + " " + h.legend()
	if note := h.turnNote(); note != "" {
		text += " " + note
	}
	h.Leaf("p", text, "class", "quiet lead")
	for _, g := range h.together() {
		h.Leaf("p", g)
	}
	h.Line()
	for k := range h.patterns {
		h.pattern(&h.patterns[k])
	}
	h.Close()
	h.Line()
}

func (h *page) pattern(p *pattern) {
	class := "pattern"
	if len(p.cuts) > 24 {
		class += " long" // does not fit one page whatever is done
	}
	h.Open("section", "class", class)
	h.Open("h3")
	h.Leaf("span", p.key, "class", "key")
	h.Leaf("bdi", h.plural(int64(p.Count), "stick")+" of "+h.stickName(p.Stick))
	if r := h.remarks(p.Stick); r != "" {
		h.Leaf("span", r, "class", "quiet")
	}
	h.Close()
	h.Line()
	if y := h.yardCut(p); y != "" {
		h.Leaf("p", y)
	}
	h.picture(p)

	ends := false
	for _, c := range p.cuts {
		ends = ends || h.ends(h.piece(c.piece)) != ""
	}
	h.Open("table", "class", "cuts")
	columns := []string{"Cut", "n", "Done", "tick done", "Length", "n", "Piece", ""}
	if ends {
		columns = append(columns, "Left end", "end", "Right end", "end")
	}
	h.head(columns...)
	h.Open("tbody")
	at := 0
	for n := range p.bays {
		if len(p.bays) > 1 {
			h.tr("")
			h.Leaf("td", upper(h.bayName(p, n)), "class", "bay", "colspan", strconv.Itoa(len(columns)/2))
			h.Close()
			h.Line()
		}
		for ; at < len(p.cuts) && p.cuts[at].bay == n; at++ {
			h.cut(p, at, ends)
		}
		rest, word := h.left(&p.bays[n])
		if rest <= 0 {
			continue
		}
		h.tr("quiet")
		h.cell("", "")
		h.cell("", "")
		h.lengthCell(h.length(rest), "")
		h.cell(word, "")
		if ends {
			h.cell("", "")
			h.cell("", "")
		}
		h.Close()
	}
	h.Close()
	h.Close()
	h.Close()
	h.Line()
}

// cut writes the row of a cut.
func (h *page) cut(p *pattern, i int, ends bool) {
	c := &p.cuts[i]
	pc, name := h.piece(c.piece), h.pieceName(c.piece)
	h.tr("")
	h.cell(strconv.Itoa(i+1), "n")
	h.boxes(c.n, p.Count, name)
	length := h.length(pc.Length)
	if c.n > 1 {
		length = h.count(int64(c.n)) + " × " + length
	}
	h.lengthCell(length, "len")
	h.td("")
	h.Leaf("bdi", name)
	if l := lies(c.turn); l != "" {
		h.Chars("; ")
		h.Leaf("b", l)
	}
	for _, care := range [...]string{h.remnantNote(c), h.assumedWords(c.piece), h.waitWords(c)} {
		if care != "" {
			h.Chars("; ")
			h.Leaf("b", care)
		}
	}
	h.only(c.piece, p.total(c))
	h.Close()
	if ends {
		h.cell(h.endName(pc.Left), "")
		h.cell(h.endName(pc.Right), "")
	}
	h.Close()
	h.Line()
}

// only writes what else is done to a piece, in a line of its own.
func (h *page) only(piece int, n int64) {
	if notes := h.Sheet.only(piece, n); notes != "" {
		h.Open("div", "class", "only")
		h.Leaf("bdi", notes)
		h.Close()
	}
}

// picture draws the pattern to the scale of the whole sheet.
func (h *page) picture(p *pattern) {
	ln := h.lane(p, 400)
	height := num(ln.height + 800)
	name := h.heading(p)
	h.Open("div", "class", "picture")
	h.Spans = false // a drawing has no such element
	h.Open("svg", "xmlns", "http://www.w3.org/2000/svg", "role", "img", "aria-label", name,
		"viewBox", "0 0 "+num(drawWidth)+" "+height, "font-family", fontStack)
	h.Leaf("title", name)
	h.Leaf("desc", h.inWords(p))
	h.drawLane(&h.Markup, &ln)
	h.Close()
	h.Spans = true
	h.Close()
	h.Line()
}

// fewBoxes is how many boxes stand in one line whatever is beside them. More share
// lines of a width of their own, since a column as narrow as can be would stack them.
const fewBoxes = 4

// boxes writes a box for each piece, those of one stick together.
func (h *page) boxes(n, sticks int, name string) {
	total := int64(n) * int64(sticks)
	if total > rowBoxes {
		h.td("few")
		h.Open("span", "class", "stick")
		h.Leaf("span", " ", "class", "write")
		h.Chars(" of " + h.count(total))
		h.Close()
		h.Close()
		return
	}
	if total > fewBoxes {
		h.td("")
		h.Open("div", "class", "boxes")
	} else {
		h.td("few")
	}
	for stick := range sticks {
		if n > 1 {
			h.Open("span", "class", "stick")
		}
		for range n {
			h.box("cut " + name + ", stick " + strconv.Itoa(stick+1) + " of " + strconv.Itoa(sticks))
		}
		if n > 1 {
			h.Close()
		}
	}
	if total > fewBoxes {
		h.Close()
	}
	h.Close()
}

func (h *page) leftovers() {
	waste := h.wasted()
	if len(h.offcuts) == 0 && h.sum.whole == 0 && waste == "" {
		return
	}
	h.Open("section")
	h.Leaf("h2", "Left over")
	if len(h.offcuts) == 0 && h.sum.whole == 0 {
		h.Leaf("p", waste)
		h.Close()
		h.Line()
		return
	}
	h.Open("table")
	what := "Offcuts"
	if h.sum.whole > 0 {
		what = "How many"
	}
	h.head("Kept", "tick", what, "n", "Length", "n", "From pattern", "")
	h.Open("tbody")
	row := func(n int64, what, length, from string) {
		h.tr("")
		h.td("")
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
			row(whole, "whole stick", h.length(soldAs(st)), "whole, not cut"+strings.TrimSuffix("; "+st.Label, "; "))
		}
	}
	for _, o := range h.offcuts {
		row(o.count, "offcut", h.length(o.length), keys(o.from))
	}
	h.Close()
	h.Close()
	if waste != "" {
		h.Leaf("p", waste)
	}
	h.Close()
	h.Line()
}

func (h *page) care() {
	h.Open("section", "class", "care")
	h.Leaf("h2", "Before you cut")
	h.Leaf("p", caution)
	h.Close()
	h.Line()
}

// tags writes a tag for each piece, in the order of cutting.
func (h *page) tags() {
	h.Open("section", "class", "new")
	h.Leaf("h2", "Tags for the pieces")
	one := h.sum.pieces <= tagsMax
	text := "Cut them apart and stick each to its piece. At the right: pattern and number of the cut."
	if !one {
		text = "One for all the pieces that are cut alike, since there are more than " + h.count(tagsMax) + ". At the right: pattern and number of the cut."
	}
	h.Leaf("p", text, "class", "quiet")
	h.Open("div", "class", "tags")
	h.Line()
	for k := range h.patterns {
		p := &h.patterns[k]
		if !one {
			for i, c := range p.cuts {
				h.pieceTag(p, i, p.total(&c), h.plural(p.total(&c), "piece"))
			}
			continue
		}
		for stick := range p.Count {
			for i, c := range p.cuts {
				for range c.n {
					note := ""
					if p.Count > 1 {
						note = "stick " + strconv.Itoa(stick+1) + " of " + strconv.Itoa(p.Count)
					}
					h.pieceTag(p, i, 1, note)
				}
			}
		}
	}
	h.Close()
	h.Close()
	h.Line()
}

// pieceTag writes a tag for n pieces of the i-th cut.
func (h *page) pieceTag(p *pattern, i int, n int64, note string) {
	pc := h.piece(p.cuts[i].piece)
	h.Open("div", "class", "tag")
	from := p.key + " " + strconv.Itoa(i+1)
	if note != "" {
		from += ", " + note
	}
	h.Leaf("span", from, "class", "from")
	h.Open("b")
	h.Leaf("bdi", h.pieceName(p.cuts[i].piece))
	h.Close()
	h.Chars(h.length(pc.Length))
	if e := h.ends(pc); e != "" {
		h.Chars("; " + e)
	}
	h.only(p.cuts[i].piece, n)
	h.Close()
	h.Line()
}
