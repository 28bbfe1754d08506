package cutsheet

import (
	"io"
	"slices"
	"strconv"
	"strings"

	"example.com/longpoint/internal/typeset"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// csvColumns are the column names of the table of [Sheet.WriteCSV].
var csvColumns = []string{
	"Row", "Pattern", "Sticks", "Cut", "Label", "Per stick", "Total", "Length", "", "Price each", "Price total", "Room", "Wall",
	"Left end", "Left corner", "Left saw miter", "Left saw bevel", "Right end", "Right corner", "Right saw miter", "Right saw bevel",
	"Run", "Turned", "From start", "On hold", "Note", "Work",
}

// Indices of columns: the note, the position on the stick, and the unit of numeric lengths.
var (
	noteColumn   = slices.Index(csvColumns, "Note")
	startColumn  = slices.Index(csvColumns, "From start")
	lengthColumn = slices.Index(csvColumns, "")
)

// byteOrderMark marks a table as UTF-8 for spreadsheets.
const byteOrderMark = "\ufeff"

// WriteCSV writes one table for a spreadsheet, by RFC 4180: lines end with CR LF, and every text
// except the column names is quoted; numbers are not. The table is UTF-8 and begins with a byte
// order mark, without which spreadsheets garble accents. RFC 4180 does not define that mark; a
// reader that does not know it, such as package encoding/csv, finds U+FEFF before the first
// column name: remove it by bytes.TrimPrefix(table, []byte("\ufeff")). The media type is
// "text/csv; charset=utf-8; header=present".
//
// The first column is the type of the row: sheet, the first row, for the title, with job, date,
// revision, fingerprint and the order of the cuts in its Note; buy or rack for a length of
// stick; splice, yard cut and charge for other costs; run for a run with its splices; piece for
// a cut; yard for the yard's cut; unusable for a stretch of a stick; offcut for the offcut of a
// pattern, or waste if that is shorter than Options.Keep; and whole for sticks that are not
// cut. The total price of the rows from buy to charge is the cost. Lengths are given twice, as
// text and as a number of inches to the nearest 1/1000, or of millimeters to the nearest 1/100
// if the style is metric.
//
// The ends of a piece are given as three numbers in degrees, which differ in meaning. Left
// corner is the corner of the walls for which the end is made, so 90 is not a square cut; it is
// empty for ends that belong to no corner. Left saw miter and Left saw bevel are the readings
// of the saw's scales, from the square cut, for a piece that stands upright (a flat miter: lies
// flat): a miter of 45 for the corner of 90. The same applies to the right end. They are to the
// nearest 1/1000 degree, whatever Options.Graduation is.
//
// From start is the position on the stick, in the unit of the numbers. On hold is the reason why
// a piece waits whose room is in Options.Hold; sticks with such pieces come last, and the Note of
// their other pieces says not to cut the stick yet. Work, the last column, is the work on a
// piece besides its cuts.
//
// A text that a spreadsheet would evaluate as a formula is prefixed with an apostrophe. The
// error is that of w.
func (s *Sheet) WriteCSV(w io.Writer) error {
	s = s.orEmpty()
	c := csvSheet{Sheet: s, unit: measure.Style{Unit: measure.Inch, Decimal: true, Graduation: measure.Inch / 1000}}
	columns := append([]string(nil), csvColumns...)
	columns[lengthColumn] = "Inches"
	if metric(s.style) {
		c.unit = measure.Style{Unit: measure.Millimeter, Graduation: measure.Millimeter / 100}
		columns[lengthColumn] = "Millimeters"
	}
	c.write(columns)
	_, err := io.WriteString(w, c.b.String())
	return err
}

type csvSheet struct {
	*Sheet
	unit    measure.Style
	columns int
	b       strings.Builder
	row     []string
}

// begin begins a table with the names of its columns.
func (c *csvSheet) begin(columns []string) {
	c.columns = len(columns)
	c.b.WriteString(byteOrderMark) // a quote after the mark would not start a quoted text for readers that take it for a letter
	c.row = append(c.row, columns...)
	c.end()
}

func (c *csvSheet) write(columns []string) {
	c.begin(columns)
	c.text("sheet")
	c.none(3)
	c.text(c.title())
	c.note(c.head(), orderNote)
	c.bought()
	c.charges()
	c.runs()
	now, later := c.inOrder()
	for _, p := range append(now, later...) {
		c.cuts(p)
	}
	c.whole()
}

// bought writes a row for each kind of stick that is bought or taken off the rack.
func (c *csvSheet) bought() {
	for _, l := range c.lines {
		st := &c.problem.Sticks[l.stick]
		if st.Rack {
			c.text("rack")
		} else {
			c.text("buy")
		}
		c.none(3)
		c.text(st.Label)
		c.none(1)
		c.number(strconv.FormatInt(l.count, 10))
		c.length(soldAs(st))
		if c.priced() {
			c.number(c.plain(l.each))
			c.number(c.plain(l.price()))
		}
		var more []string
		for _, w := range append([]string{onRack(st), c.remarks(l.stick)}, c.sale(&l)...) {
			if w != "" {
				more = append(more, w)
			}
		}
		c.note("", more...)
	}
}

// charges writes a row for each charge besides the sticks.
func (c *csvSheet) charges() {
	for i := range c.bill {
		ch := &c.bill[i]
		if ch.kind == "rack" {
			continue // the rows of the sticks include it
		}
		c.text(ch.kind)
		c.none(3)
		c.text(ch.who)
		c.none(1)
		n, each := ch.count, ch.each
		if n == 0 {
			n, each = 1, ch.amount
		}
		c.number(strconv.FormatInt(n, 10))
		c.none(2)
		c.number(c.plain(each))
		c.number(c.plain(ch.amount))
		c.note("")
	}
}

// runs writes a row for each run that the plan splices.
func (c *csvSheet) runs() {
	for k := range c.plan.Spliced {
		c.text("run")
		c.none(3)
		c.text(c.runName(k))
		c.none(1)
		c.number("1")
		c.length(c.problem.Runs[k].Length)
		c.note(c.spliced(k))
	}
}

// cuts writes a row for each cut of a pattern, and one for each length that it leaves.
func (c *csvSheet) cuts(p *pattern) {
	for i := range p.cuts {
		c.cut(p, i)
	}
	if p.yard.To > 0 {
		c.pattern("yard", p)
		c.from(p.yard.From)
	}
	for _, u := range p.unusable {
		c.span("unusable", p, u)
	}
	for n := range p.bays {
		if o := p.bays[n].offcut; width(o) > 0 {
			c.span(c.rest(width(o)), p, o)
		}
	}
}

// cut writes the row of one cut of a pattern.
func (c *csvSheet) cut(p *pattern, i int) {
	cut := &p.cuts[i]
	pc := c.piece(cut.piece)
	c.pattern("piece", p)
	c.number(strconv.Itoa(i + 1))
	c.text(c.pieceName(cut.piece))
	c.number(strconv.Itoa(cut.n))
	c.number(strconv.FormatInt(p.total(cut), 10))
	c.length(pc.Length)
	c.none(2)
	room, wall := c.Sheet.place(cut.piece)
	c.text(room)
	c.text(wall)
	c.pieceEnd(pc.Left)
	c.pieceEnd(pc.Right)
	c.text(pc.Run)
	c.text(cut.turn.String())
	c.place(p.layout.pieces[cut.at].from)
	c.text(c.why(cut))
	notes := []string{c.remnantNote(cut), c.assumedWords(cut.piece)}
	if p.wait && !cut.wait {
		notes = append(notes, "another piece of this stick is on hold: do not cut it yet")
	}
	c.text(strings.Join(slices.DeleteFunc(notes, func(w string) bool { return w == "" }), "; "))
	c.text(c.only(cut.piece, p.total(cut)))
	c.end()
}

// whole writes a row for each kind of stick that stays whole.
func (c *csvSheet) whole() {
	for _, l := range c.lines {
		if whole := l.count - l.cut; whole > 0 {
			c.text("whole")
			c.none(3)
			c.text(c.problem.Sticks[l.stick].Label)
			c.none(1)
			c.number(strconv.FormatInt(whole, 10))
			c.length(soldAs(&c.problem.Sticks[l.stick]))
			c.note("whole, not cut")
		}
	}
}

// span writes a row for a stretch of the sticks of a pattern.
func (c *csvSheet) span(kind string, p *pattern, x stock.Defect) {
	c.pattern(kind, p)
	c.none(2)
	c.number("1")
	c.number(strconv.Itoa(p.Count))
	c.length(width(x))
	c.from(x.From)
}

// from ends a row with a position on the stick.
func (c *csvSheet) from(l measure.Length) {
	c.none(startColumn - len(c.row))
	c.place(l)
	c.end()
}

// note ends a row with a note.
func (c *csvSheet) note(first string, more ...string) {
	c.none(noteColumn - len(c.row))
	c.text(strings.TrimPrefix(strings.Join(append([]string{first}, more...), "; "), "; "))
	c.end()
}

func (c *csvSheet) pattern(kind string, p *pattern) {
	c.text(kind)
	c.text(p.key)
	c.number(strconv.Itoa(p.Count))
}

func (c *csvSheet) length(l measure.Length) {
	c.text(c.Sheet.length(l))
	c.place(l)
}

// place writes a length as a number.
func (c *csvSheet) place(l measure.Length) {
	number, _, _ := strings.Cut(strings.TrimSuffix(l.Format(c.unit), `"`), " ")
	c.number(number)
}

// pieceEnd writes the corner of an end, if any, and the miter and bevel of the saw.
func (c *csvSheet) pieceEnd(e stock.End) {
	c.text(e.Kind.String())
	if e.Kind.Mitered() || e.Kind == stock.EndButt {
		c.angle(e.Corner())
	} else {
		c.none(1)
	}
	set := c.atSaw(e)
	c.angle(set.Miter)
	c.angle(set.Bevel)
}

// angle writes an angle as a number of degrees, or nothing for zero.
func (c *csvSheet) angle(a measure.Angle) {
	if a == 0 {
		c.none(1)
		return
	}
	c.number(strings.TrimSuffix(a.Round(measure.Degree/1000, measure.RoundHalfEven).String(), "°"))
}

func (c *csvSheet) none(n int) {
	for range n {
		c.row = append(c.row, "")
	}
}

// number writes an unquoted value; only the package's own numbers come here.
func (c *csvSheet) number(s string) { c.row = append(c.row, s) }

// text writes quoted text. It is quoted even if RFC 4180 does not require it, so that no other
// choice of separator can split a text and let a formula begin inside it.
func (c *csvSheet) text(s string) {
	if s == "" {
		c.none(1)
		return
	}
	c.row = append(c.row, `"`+strings.ReplaceAll(harmless(typeset.Visible(typeset.Unmarked(s))), `"`, `""`)+`"`)
}

// end ends a row, filling all its columns.
func (c *csvSheet) end() {
	c.none(c.columns - len(c.row))
	c.b.WriteString(strings.Join(c.row, ",") + "\r\n")
	c.row = c.row[:0]
}

// harmless prefixes an apostrophe to a text that would be a formula: one that starts, after
// characters that spreadsheets skip, with one of the signs that start a formula, in ASCII or
// full width. ("CSV Injection", OWASP; leading spaces and full-width signs are from there or
// from memory.)
func harmless(s string) string {
	rest := strings.TrimLeftFunc(s, func(r rune) bool { return typeset.RuneCells(r) == 0 || strings.ContainsRune(" \u00a0\u3000'\"", r) })
	if rest != "" && strings.ContainsRune("=+-@|%＝＋－＠−", []rune(rest)[0]) {
		return "'" + s
	}
	return s
}
