package cutsheet

import (
	"io"
	"strconv"
	"strings"

	"example.com/longpoint/internal/typeset"
)

// textBoxes is the greatest number of boxes in a row of text; beyond it there is a place for a
// number.
const textBoxes = 6

// WriteText writes the sheet for a terminal or a line printer, in lines of at most
// Options.Width cells. A length is never broken, unless it is in words. The cautions come
// before the first pattern, the proof in the last line. The text is ASCII, with other characters
// escaped, unless Options.Unicode is set: set it if labels have letters of another script. The
// error is that of w.
func (s *Sheet) WriteText(w io.Writer) error {
	s = s.orEmpty()
	own := *s
	t := textSheet{Sheet: &own, wide: s.options.width()}
	if !s.options.Unicode {
		own.style.Typographic = false
	}
	t.write()
	_, err := io.WriteString(w, t.b.String())
	return err
}

// textSheet writes one text. Lines go through put, which makes foreign text fit for the device;
// its own text is ASCII.
type textSheet struct {
	*Sheet
	wide int // cells of a line
	b    strings.Builder
}

func (t *textSheet) write() {
	for _, l := range typeset.Wrap(t.show(t.title()), t.wide) {
		t.strong(l)
	}
	t.para("", t.head())
	t.para("", t.summary()+".")
	t.para("", t.yield())
	t.para("", t.basis())
	t.needs("To buy", false)
	t.needs("Off the rack", true)
	t.bills()
	t.runs()
	t.saws()
	t.heading("Before you cut")
	t.para("", caution)
	t.para("", orderNote)
	t.para("", t.barNote())
	t.para("", t.turnNote())
	for _, g := range t.together() {
		t.para("", g)
	}
	now, later := t.inOrder()
	for _, p := range now {
		t.pattern(p)
	}
	if len(later) > 0 {
		t.heading(waitHeading)
		t.para("", waitNote)
		for _, w := range t.waitLines() {
			t.para("  ", w)
		}
	}
	for _, p := range later {
		t.pattern(p)
	}
	t.index()
	t.leftovers()
	t.evidence()
}

// index lists the pieces of each room.
func (t *textSheet) index() {
	if !t.placed() {
		return
	}
	t.heading(indexHeading)
	t.para("", indexNote)
	for _, room := range t.indexOf() {
		name := room.room
		if name == "" {
			name = noRoom
		}
		t.para("", name)
		var w [2]int
		for _, row := range room.rows {
			w[0], w[1] = max(w[0], typeset.Cells(t.show(row.wall))), max(w[1], typeset.Cells(t.from(&row)))
		}
		for i, row := range room.rows {
			start := "  "
			if w[0] > 0 {
				wall := ""
				if i == 0 || row.wall != room.rows[i-1].wall {
					wall = t.show(row.wall)
				}
				start += right(wall, w[0]) + "  "
			}
			t.beside(start+right(t.from(&row), w[1])+"  ", t.nameIn(row.piece)+", "+t.length(t.piece(row.piece).Length))
		}
	}
}

// evidence writes, last, how good the plan is known to be.
func (t *textSheet) evidence() {
	t.heading("How good the plan is")
	t.para("", t.proofLine())
	if !t.options.ProofDetails {
		return
	}
	t.para("", t.proof())
	if goals := t.goals(); len(goals) > 0 {
		t.para("", goalsNote)
		for _, g := range goals {
			t.para("  ", g)
		}
		t.para("", t.unshown())
	}
}

// show makes foreign text fit for the device.
func (t *textSheet) show(s string) string {
	if t.options.Unicode {
		return typeset.KeepLengths(typeset.Isolate(typeset.Visible(s)))
	}
	return typeset.KeepLengths(typeset.ASCII(s))
}

// put writes a line that has gone through show.
func (t *textSheet) put(line string) {
	t.b.WriteString(strings.TrimRight(typeset.Unmarked(line), " "))
	t.b.WriteByte('\n')
}

func (t *textSheet) strong(line string) {
	if t.options.Color {
		line = "\x1b[1m" + line + "\x1b[0m"
	}
	t.put(line)
}

// para writes text as lines that start with the indent.
func (t *textSheet) para(indent, text string) {
	if text == "" {
		return
	}
	for _, l := range typeset.Wrap(t.show(text), t.wide-len(indent)) {
		t.put(indent + l)
	}
}

// beside writes text in the column after start, or below it if start leaves too little room.
func (t *textSheet) beside(start, text string) {
	const least = 24
	n := typeset.Cells(start)
	if n > t.wide-least {
		for _, l := range typeset.Wrap(start, t.wide-2) {
			t.put("  " + l)
		}
		n, start = 8, strings.Repeat(" ", 8)
	}
	for i, l := range typeset.Wrap(t.show(text), t.wide-n) {
		if i > 0 {
			start = strings.Repeat(" ", n)
		}
		t.put(start + l)
	}
}

func (t *textSheet) heading(text string) {
	t.put("")
	rule := "-"
	if t.options.Unicode {
		rule = "─"
	}
	lines := typeset.Wrap(t.show(text), t.wide-4)
	for i, l := range lines {
		if i == len(lines)-1 {
			l += " " + strings.Repeat(rule, t.wide-1-typeset.Cells(l))
		}
		t.strong(l)
	}
}

// needs lists the sticks, with a box to tick for each length.
func (t *textSheet) needs(heading string, rack bool) {
	var rows [][4]string // count, length, price each, total price
	var notes []string
	for _, l := range t.lines {
		st := &t.problem.Sticks[l.stick]
		if st.Rack != rack {
			continue
		}
		row := [4]string{t.count(l.count), t.show(t.length(soldAs(st)))}
		if t.priced() && (!rack || st.Price != 0) {
			row[2] = t.show(t.money(l.each))
			row[3] = t.show(t.money(l.price()))
		}
		rows = append(rows, row)
		notes = append(notes, strings.Join(t.notes(&l), "; "))
	}
	if len(rows) == 0 {
		return
	}
	var w [4]int
	for _, r := range rows {
		for i := range r {
			w[i] = max(w[i], typeset.Cells(r[i]))
		}
	}
	t.heading(heading)
	for k, r := range rows {
		line := "  [ ] " + left(r[0], w[0]) + " @ " + left(r[1], w[1])
		if w[2] > 0 {
			line += "  at " + left(r[2], w[2]) + " = " + left(r[3], w[3])
		}
		if notes[k] == "" && typeset.Cells(line) <= t.wide {
			t.put(line)
		} else {
			t.beside(line+"  ", notes[k])
		}
	}
	if !rack && len(t.bill) == 0 {
		t.para("  ", upper(t.costName())+" "+t.cost(t.plan.Cost))
	}
}

// bills adds up the cost of the plan if it is more than the price of the sticks.
func (t *textSheet) bills() {
	if len(t.bill) > 0 {
		t.heading("What it costs")
		rows := [][2]string{{t.show(t.money(t.toBuy())), "sticks to buy"}}
		for i := range t.bill {
			c := &t.bill[i]
			rows = append(rows, [2]string{t.show(t.money(c.amount)), t.chargeWords(c)})
		}
		rows = append(rows, [2]string{t.show(t.cost(t.plan.Cost)), t.costName()})
		wide := 0
		for _, r := range rows {
			wide = max(wide, typeset.Cells(r[0]))
		}
		for _, r := range rows {
			t.beside("  "+left(r[0], wide)+"  ", r[1])
		}
	}
	t.para("", t.spare())
}

// runs lists the splices of the runs.
func (t *textSheet) runs() {
	if len(t.plan.Spliced) == 0 {
		return
	}
	t.heading("Runs, from left to right")
	for k := range t.plan.Spliced {
		t.para("  ", t.runName(k)+", "+t.length(t.problem.Runs[k].Length)+": "+t.spliced(k)+".")
	}
}

// upper begins words of the sheet's own with a capital.
func upper(s string) string {
	if s == "" || typeset.IsMark(s[0]) {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// left pads s at the left to n cells.
func left(s string, n int) string { return strings.Repeat(" ", max(0, n-typeset.Cells(s))) + s }

func right(s string, n int) string { return s + strings.Repeat(" ", max(0, n-typeset.Cells(s))) }

func (t *textSheet) saws() {
	if len(t.settings) == 0 {
		return
	}
	t.heading("Saw settings")
	wide := 0
	for i := range t.settings {
		wide = max(wide, typeset.Cells(t.show(t.kindName(&t.settings[i]))))
	}
	for i := range t.settings {
		set := &t.settings[i]
		text := set.side.String() + " end, " + t.upright() + ": " + t.saw(set.standing) + ", or flat: " + t.saw(set.flat)
		if h := set.handed(); h != "" {
			text += "; " + h
			if set.handIsFlat() {
				text += " (flat)"
			}
		}
		t.beside("  "+right(t.show(t.kindName(set)), wide)+"  ", text)
	}
	t.para("  ", t.settingsNote())
}

// pattern writes the picture of a stick and the list of its pieces.
func (t *textSheet) pattern(p *pattern) {
	t.heading(t.Sheet.heading(p))
	if r := t.remarks(p.Stick); r != "" {
		t.para("  ", upper(r)+".")
	}
	bar := t.bar(p)
	t.put("  " + bar[0])
	for _, l := range bar[1:] {
		t.para("  ", l)
	}
	t.para("  ", t.yardCut(p))
	type row struct{ number, ticks, length, text, ends, notes string }
	rows := make([][]row, len(p.bays))
	rest := make([]row, len(p.bays)) // what is left
	var w [3]int
	for i, c := range p.cuts {
		r := row{number: strconv.Itoa(i + 1), ticks: t.ticks(c.n, p.Count), length: t.show(t.length(t.piece(c.piece).Length)), text: t.pieceName(c.piece), ends: t.cutWords(&c), notes: t.only(c.piece, p.total(&c))}
		if c.n > 1 {
			r.length = t.count(int64(c.n)) + " @ " + r.length
		}
		rows[c.bay] = append(rows[c.bay], r)
		w[0], w[1], w[2] = max(w[0], len(r.number)), max(w[1], len(r.ticks)), max(w[2], typeset.Cells(r.length))
	}
	for n := range p.bays {
		if l, word := t.left(&p.bays[n]); l > 0 {
			rest[n] = row{length: t.show(t.length(l)), text: word}
			w[2] = max(w[2], typeset.Cells(rest[n].length))
		}
	}
	for n := range p.bays {
		if len(p.bays) > 1 {
			t.para("  ", upper(t.bayName(p, n)))
		}
		for _, r := range rows[n] {
			start := "  " + left(r.number, w[0]) + "  " + right(r.ticks, w[1]) + "  " + left(r.length, w[2]) + "  "
			t.beside(start, r.text)
			for _, below := range [...]string{r.ends, r.notes} {
				t.para(strings.Repeat(" ", min(typeset.Cells(start)+2, t.wide/2)), below)
			}
		}
		if r := rest[n]; r.text != "" {
			t.beside(strings.Repeat(" ", 2+w[0]+2+w[1]+2)+left(r.length, w[2])+"  ", r.text)
		}
	}
}

// ticks draws a box for each piece to be cut, a group for each stick.
func (t *textSheet) ticks(n, sticks int) string {
	if total := int64(n) * int64(sticks); total > textBoxes {
		return "____ of " + t.count(total)
	}
	return strings.TrimSuffix(strings.Repeat(strings.Repeat("[]", n)+" ", sticks), " ")
}

func (t *textSheet) leftovers() {
	waste := t.wasted()
	if len(t.offcuts) == 0 && t.sum.whole == 0 && waste == "" {
		return
	}
	t.heading("Left over")
	var rows [][2]string
	var from []string
	for _, l := range t.lines {
		if whole := l.count - l.cut; whole > 0 {
			st := &t.problem.Sticks[l.stick]
			rows = append(rows, [2]string{t.count(whole), t.show(t.length(soldAs(st)))})
			from = append(from, "whole, not cut"+strings.TrimSuffix("; "+t.stickLabel(st), "; "))
		}
	}
	var w [2]int
	for _, o := range t.offcuts {
		r := [2]string{t.count(o.count), t.show(t.length(o.length))}
		rows = append(rows, r)
		from = append(from, "from "+keys(o.from))
	}
	for _, r := range rows {
		w[0], w[1] = max(w[0], len(r[0])), max(w[1], typeset.Cells(r[1]))
	}
	for i, r := range rows {
		t.beside("  [ ] "+left(r[0], w[0])+" @ "+left(r[1], w[1])+"  ", from[i])
	}
	t.para("  ", waste)
}

// keys lists the keys of patterns, the first few of them.
func keys(ks []string) string {
	const most = 12
	if len(ks) > most {
		return strings.Join(ks[:most], ", ") + " and " + strconv.Itoa(len(ks)-most) + " more"
	}
	return strings.Join(ks, ", ")
}
