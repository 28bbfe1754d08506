package cutsheet

import (
	_ "embed"
	"io"
	"strconv"
	"strings"
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
	h := page{Sheet: s}
	h.write()
	_, err := io.WriteString(w, h.b.String())
	return err
}

type page struct {
	*Sheet
	markup
}

func (h *page) write() {
	h.b.WriteString("<!DOCTYPE html>\n")
	h.open("html", "lang", "en")
	h.line()
	h.open("head")
	h.line()
	h.void("meta", "charset", "utf-8")
	h.line()
	h.void("meta", "http-equiv", "Content-Security-Policy", "content", "default-src 'none'; style-src 'unsafe-inline'")
	h.line()
	h.void("meta", "name", "viewport", "content", "width=device-width, initial-scale=1")
	h.line()
	h.leaf("title", h.title())
	h.line()
	h.open("style")
	h.b.WriteString("\n:root { --paper: " + paper + "; --ink: " + ink + "; --quiet: " + quiet + "; --hatch: " + hatch + "; --blade: " + blade + "; }\n" + styleSheet)
	h.close()
	h.close()
	h.line()
	h.open("body")
	h.open("main")
	h.line()

	h.open("header")
	h.open("h1")
	h.leaf("bdi", h.title())
	h.close()
	h.leaf("p", h.summary(), "class", "sum")
	h.leaf("p", h.proof())
	if y := h.yield(); y != "" {
		h.leaf("p", y)
	}
	h.leaf("p", h.basis(), "class", "quiet")
	h.close()
	h.line()
	h.needs("To buy", false)
	h.needs("Off the rack", true)
	h.saws()
	h.care()
	h.cuts()
	h.leftovers()
	h.tags()

	h.close()
	h.close()
	h.close()
	h.line()
}

// head writes the head of a table: names of columns, each with its class.
func (h *page) head(columns ...string) {
	h.open("thead")
	h.open("tr")
	for i := 0; i < len(columns); i += 2 {
		attrs := []string{"scope", "col"}
		if columns[i+1] != "" {
			attrs = append(attrs, "class", columns[i+1])
		}
		h.leaf("th", columns[i], attrs...)
	}
	h.close()
	h.close()
	h.line()
}

func (h *page) cell(text, class string) {
	if class == "" {
		h.leaf("td", text)
		return
	}
	h.leaf("td", text, "class", class)
}

// lengthCell writes a length, which is kept on one line unless it is in words.
func (h *page) lengthCell(length, class string) {
	fit := "n"
	if cells(length) > 24 {
		fit = "num"
	}
	h.cell(length, strings.TrimSuffix(fit+" "+class, " "))
}

// label writes anybody's text so that its direction stays its own.
func (h *page) label(text string) {
	h.open("td")
	h.leaf("bdi", text)
	h.close()
}

// box writes a box to tick, with what it is for.
func (h *page) box(purpose string) {
	h.void("input", "type", "checkbox", "aria-label", purpose, "autocomplete", "off")
}

func (h *page) needs(heading string, rack bool) {
	var lines []line
	notes := false
	for _, l := range h.lines {
		if st := &h.problem.Sticks[l.stick]; st.Rack == rack {
			lines = append(lines, l)
			notes = notes || st.Label != "" || h.remarks(l.stick) != ""
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
	h.open("section")
	h.leaf("h2", heading)
	if notes {
		h.open("table")
	} else {
		h.open("table", "class", "narrow")
	}
	columns := []string{"Got", "tick", "Sticks", "n", "Length", "n"}
	if priced {
		columns = append(columns, "Each", "n", "Together", "n")
	}
	if notes {
		columns = append(columns, "Which", "")
	}
	h.head(columns...)
	h.open("tbody")
	for _, l := range lines {
		st := &h.problem.Sticks[l.stick]
		h.open("tr")
		h.open("td")
		h.box("got " + plural(l.count, "stick") + " of " + h.stickName(l.stick))
		h.close()
		h.cell(count(l.count), "n")
		h.lengthCell(h.length(soldAs(st)), "len")
		if priced {
			h.cell(h.options.Money.amount(st.Price), "n")
			h.cell(h.options.Money.amount(st.Price*l.count), "n")
		}
		if notes {
			h.open("td")
			if st.Label != "" {
				h.leaf("bdi", st.Label)
			}
			if r := h.remarks(l.stick); r != "" {
				if st.Label != "" {
					h.text("; ")
				}
				h.text(r)
			}
			h.close()
		}
		h.close()
		h.line()
	}
	h.close()
	if priced && !rack {
		h.open("tfoot")
		h.open("tr")
		h.leaf("td", "Cost", "colspan", "4")
		h.cell(h.cost(h.plan.Cost), "n")
		if notes {
			h.cell("", "")
		}
		h.close()
		h.close()
	}
	h.close()
	h.close()
	h.line()
}

func (h *page) saws() {
	if len(h.settings) == 0 {
		return
	}
	h.open("section")
	h.leaf("h2", "Saw settings")
	h.open("table")
	h.head("Cut", "", "End", "", "Long point", "", "Standing", "", "Flat", "", "By hand", "")
	h.open("tbody")
	for i := range h.settings {
		set := &h.settings[i]
		h.open("tr")
		h.cell(h.kindName(set), "len")
		h.cell(set.side.String(), "")
		h.cell(set.long.String(), "")
		h.cell(h.saw(set.standing), "")
		h.cell(h.saw(set.flat), "")
		hand := set.handed()
		if hand != "" && set.handIsFlat() {
			hand += " (flat)"
		}
		h.cell(hand, "")
		h.close()
		h.line()
	}
	h.close()
	h.close()
	h.leaf("p", h.settingsNote(), "class", "quiet")
	h.close()
	h.line()
}

func (h *page) cuts() {
	h.open("section")
	h.leaf("h2", "To cut")
	h.leaf("p", orderNote+" "+legend, "class", "quiet lead")
	h.line()
	for k := range h.patterns {
		h.pattern(&h.patterns[k])
	}
	h.close()
	h.line()
}

func (h *page) pattern(p *pattern) {
	class := "pattern"
	if len(p.cuts) > 24 {
		class += " long" // does not fit one page whatever is done
	}
	h.open("section", "class", class)
	h.open("h3")
	h.leaf("span", p.key, "class", "key")
	h.leaf("bdi", plural(int64(p.Count), "stick")+" of "+h.stickName(p.Stick))
	if r := h.remarks(p.Stick); r != "" {
		h.leaf("span", r, "class", "quiet")
	}
	h.close()
	h.line()
	h.picture(p)

	ends := false
	for _, c := range p.cuts {
		ends = ends || h.ends(&h.problem.Pieces[c.piece]) != ""
	}
	h.open("table")
	columns := []string{"Cut", "n", "Done", "tick done", "Length", "n", "Piece", ""}
	if ends {
		columns = append(columns, "Left end", "end", "Right end", "end")
	}
	h.head(columns...)
	h.open("tbody")
	for i, c := range p.cuts {
		pc := &h.problem.Pieces[c.piece]
		h.open("tr")
		h.cell(strconv.Itoa(i+1), "n")
		h.boxes(c.n, p.Count, h.pieceName(c.piece))
		length := h.length(pc.Length)
		if c.n > 1 {
			length = count(int64(c.n)) + " × " + length
		}
		h.lengthCell(length, "len")
		h.label(h.pieceName(c.piece))
		if ends {
			h.cell(h.endName(pc.Left), "")
			h.cell(h.endName(pc.Right), "")
		}
		h.close()
		h.line()
	}
	rest, word := p.Offcut, "offcut"
	if rest == 0 {
		rest, word = p.dust, "lost in the last cut"
	}
	if rest > 0 {
		h.open("tr", "class", "quiet")
		h.cell("", "")
		h.cell("", "")
		h.lengthCell(h.length(rest), "")
		h.cell(word, "")
		if ends {
			h.cell("", "")
			h.cell("", "")
		}
		h.close()
	}
	h.close()
	h.close()
	h.close()
	h.line()
}

// picture draws the pattern to the scale of the whole sheet.
func (h *page) picture(p *pattern) {
	ln := h.lane(p, 400)
	height := num(ln.height + 800)
	name := h.heading(p)
	h.open("svg", "xmlns", "http://www.w3.org/2000/svg", "role", "img", "aria-label", name,
		"viewBox", "0 0 "+num(drawWidth)+" "+height, "font-family", fontStack)
	h.leaf("title", name)
	h.leaf("desc", h.inWords(p))
	h.drawLane(&h.markup, &ln)
	h.close()
	h.line()
}

// boxes writes a box for each piece, those of one stick together.
func (h *page) boxes(n, sticks int, name string) {
	h.open("td")
	if total := int64(n) * int64(sticks); total > rowBoxes {
		h.open("span", "class", "stick")
		h.leaf("span", " ", "class", "write")
		h.text(" of " + count(total))
		h.close()
	} else {
		for stick := range sticks {
			h.open("span", "class", "stick")
			for range n {
				h.box("cut " + name + ", stick " + strconv.Itoa(stick+1) + " of " + strconv.Itoa(sticks))
			}
			h.close()
		}
	}
	h.close()
}

func (h *page) leftovers() {
	if len(h.offcuts) == 0 {
		return
	}
	h.open("section")
	h.leaf("h2", "Left over")
	h.open("table")
	h.head("Kept", "tick", "Offcuts", "n", "Length", "n", "From pattern", "")
	h.open("tbody")
	for _, o := range h.offcuts {
		h.open("tr")
		h.open("td")
		h.box("kept " + plural(o.count, "offcut") + " of " + h.length(o.length))
		h.close()
		h.cell(count(o.count), "n")
		h.lengthCell(h.length(o.length), "len")
		h.cell(keys(o.from), "")
		h.close()
		h.line()
	}
	h.close()
	h.close()
	h.close()
	h.line()
}

func (h *page) care() {
	h.open("section", "class", "care")
	h.leaf("h2", "Before you cut")
	h.leaf("p", caution)
	h.close()
	h.line()
}

// tags writes a tag for each piece, in the order of cutting.
func (h *page) tags() {
	h.open("section", "class", "new")
	h.leaf("h2", "Tags for the pieces")
	one := h.sum.pieces <= tagsMax
	text := "Cut them apart and stick each to its piece. At the right: pattern and number of the cut."
	if !one {
		text = "One for all the pieces that are cut alike, since there are more than " + count(tagsMax) + ". At the right: pattern and number of the cut."
	}
	h.leaf("p", text, "class", "quiet")
	h.open("div", "class", "tags")
	h.line()
	for k := range h.patterns {
		p := &h.patterns[k]
		if !one {
			for i, c := range p.cuts {
				h.pieceTag(p, i, plural(int64(c.n)*int64(p.Count), "piece"))
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
					h.pieceTag(p, i, note)
				}
			}
		}
	}
	h.close()
	h.close()
	h.line()
}

func (h *page) pieceTag(p *pattern, i int, note string) {
	pc := &h.problem.Pieces[p.cuts[i].piece]
	h.open("div", "class", "tag")
	from := p.key + " " + strconv.Itoa(i+1)
	if note != "" {
		from += ", " + note
	}
	h.leaf("span", from, "class", "from")
	h.open("b")
	h.leaf("bdi", h.pieceName(p.cuts[i].piece))
	h.close()
	h.text(h.length(pc.Length))
	if e := h.ends(pc); e != "" {
		h.text("; " + e)
	}
	h.close()
	h.line()
}
