package paper

import (
	"io"
	"strings"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/typeset"
)

const (
	textWidth    = 80 // default width
	leastWidth   = 32
	mostWidth    = 1000
	leastFlowing = 14 // least cells of a column of running text; else rows are stacked
	gap          = 2  // cells between columns
)

// textPen writes for a terminal or a line printer. Its own text is ASCII; the caller's
// text is made visible, and its direction does not affect other text.
type textPen struct {
	b     strings.Builder
	width int
	blank bool // a blank line precedes the next text
}

func newTextPen(width int) (*textPen, error) {
	if width == 0 {
		width = textWidth
	}
	if width < leastWidth || width > mostWidth {
		return nil, fault.Field("width", width, "0 for 80, or 32 to 1000 cells")
	}
	return &textPen{width: width}, nil
}

func (t *textPen) to(w io.Writer) error {
	_, err := io.WriteString(w, t.b.String())
	return err
}

// broken breaks the caller's text into lines of at most n cells.
func broken(s string, n int) []string {
	lines := typeset.Wrap(typeset.KeepLengths(typeset.Visible(s)), n)
	for i, l := range lines {
		lines[i] = typeset.Isolate(typeset.Unmarked(l))
	}
	return lines
}

// hung breaks text after a mark, with a hanging indent.
func hung(mark, s string, n int) []string {
	lines := broken(s, n-len(mark))
	for i, l := range lines {
		if i == 0 {
			lines[i] = mark + l
		} else {
			lines[i] = strings.Repeat(" ", len(mark)) + l
		}
	}
	return lines
}

// put writes a line that is already broken.
func (t *textPen) put(indent int, line string) {
	if t.blank {
		t.b.WriteByte('\n')
		t.blank = false
	}
	t.b.WriteString(strings.TrimRight(strings.Repeat(" ", indent)+line, " "))
	t.b.WriteByte('\n')
}

func (t *textPen) puts(indent int, lines []string) {
	for _, l := range lines {
		t.put(indent, l)
	}
}

func (t *textPen) title(text string, lines []string) {
	all := broken(text, t.width)
	t.puts(0, all)
	wide := 0
	for _, l := range all {
		wide = max(wide, typeset.Cells(l))
	}
	t.put(0, strings.Repeat("=", wide))
	for _, l := range lines {
		t.puts(0, broken(l, t.width))
	}
	t.blank = true
}

func (t *textPen) day(heading, who string, first bool) {
	if !first {
		t.blank = false
		t.b.WriteString("\f\n")
	}
	t.ruled(joined(heading, who), "=")
	t.blank = true
}

// ruled writes a heading followed by a rule to the end of the line.
func (t *textPen) ruled(text, rule string) {
	lines := broken(text, t.width-4)
	last := len(lines) - 1
	lines[last] += " " + strings.Repeat(rule, t.width-1-typeset.Cells(lines[last]))
	t.puts(0, lines)
}

func (t *textPen) section(heading string, _ bool) {
	t.blank = true
	t.ruled(heading, "-")
}

func (t *textPen) end() { t.blank = true }

func (t *textPen) para(text string, small bool) {
	indent := 0
	if small {
		indent = 2
	}
	t.puts(indent, broken(text, t.width-indent))
}

func (t *textPen) facts(all []fact) {
	wide := 0
	for _, f := range all {
		wide = max(wide, typeset.Cells(f.name))
	}
	for _, f := range all {
		name := f.name
		for _, l := range f.lines {
			for _, l := range broken(l, t.width-wide-gap) {
				t.put(0, padded(name, wide, false)+strings.Repeat(" ", gap)+l)
				name = ""
			}
		}
	}
}

func (t *textPen) lists(all []list, boxes bool) {
	mark := "- "
	if boxes {
		mark = "[ ] "
	}
	for _, l := range all {
		indent := 2
		if l.heading != "" {
			t.puts(indent, broken(l.heading, t.width-indent))
			indent += 2
		}
		for _, it := range l.items {
			t.puts(indent, hung(mark, it, t.width-indent))
		}
	}
}

func (t *textPen) care(all []Caution) {
	for _, c := range all {
		t.puts(0, hung("! ", c.words(), t.width))
	}
	t.blank = true
}

// words returns a caution as one text.
func (c Caution) words() string {
	s := c.Text
	if c.About != "" {
		s = c.About + ": " + s
	}
	if c.Source != "" {
		s += " (" + c.Source + ")"
	}
	return s
}

func (t *textPen) sign(who string) {
	const date = 14
	long := t.width - 2 - date - gap
	t.blank = true
	t.put(2, strings.Repeat("_", long)+strings.Repeat(" ", gap)+strings.Repeat("_", date))
	for i, l := range broken(who, long) {
		l = padded(l, long, false)
		if i == 0 {
			l += strings.Repeat(" ", gap) + "Date"
		}
		t.put(2, l)
	}
}

// padded fills a line up to n cells, at its left or right.
func padded(s string, n int, left bool) string {
	pad := strings.Repeat(" ", max(0, n-typeset.Cells(s)))
	if left {
		return pad + s
	}
	return s + pad
}

// natural returns the width of a cell without line breaks.
func (c *cell) natural() int {
	n := typeset.Cells(typeset.Visible(c.text))
	if c.box != "" {
		n = max(n, len("[ ]"))
	}
	for _, l := range c.lines {
		n = max(n, 2+typeset.Cells(typeset.Visible(l)))
	}
	for _, l := range c.ticks {
		n = max(n, 4+typeset.Cells(typeset.Visible(l)))
	}
	return n
}

// inLines breaks a cell into lines of at most n cells.
func (c *cell) inLines(n int) (lines []string) {
	switch {
	case c.box != "":
		lines = []string{"[ ]"}
	case c.text != "":
		lines = broken(c.text, n)
	}
	for _, l := range c.lines {
		lines = append(lines, hung("- ", l, n)...)
	}
	for _, l := range c.ticks {
		lines = append(lines, hung("[ ] ", l, n)...)
	}
	return lines
}

// widths returns the width of each column, or nil if the columns do not fit beside each
// other.
func (t *table) widths(room int) []int {
	wide := make([]int, len(t.columns))
	look := func(rows []row) {
		for _, r := range rows {
			for k := range r.cells {
				wide[k] = max(wide[k], r.cells[k].natural())
			}
		}
	}
	for _, g := range t.groups {
		look(g.rows)
	}
	look(t.foot)
	room -= gap * (len(t.columns) - 1)
	var flowing []int
	for k, c := range t.columns {
		if c.kind != columnTick && !t.plain {
			wide[k] = max(wide[k], typeset.Cells(c.name))
		}
		if c.kind == columnText {
			flowing = append(flowing, k)
		} else {
			room -= wide[k]
		}
	}
	// Columns that need less than their share leave the rest to the others.
	for len(flowing) > 0 {
		share, done := room/len(flowing), false
		for i, k := range flowing {
			if wide[k] <= share {
				room -= wide[k]
				flowing = append(flowing[:i], flowing[i+1:]...)
				done = true
				break
			}
		}
		if done {
			continue
		}
		if share < leastFlowing {
			return nil
		}
		for i, k := range flowing {
			wide[k] = share
			if i < room%len(flowing) {
				wide[k]++
			}
		}
		room = 0
		break
	}
	if room < 0 {
		return nil
	}
	return wide
}

func (t *textPen) table(tb *table) {
	indent := 2
	grouped := false
	for _, g := range tb.groups {
		grouped = grouped || g.heading != ""
	}
	inner := indent
	if grouped {
		inner += 2
	}
	wide := tb.widths(t.width - inner)
	if wide != nil && !tb.plain {
		var names []cell
		for _, c := range tb.columns {
			if c.kind == columnTick {
				c.name = ""
			}
			names = append(names, cell{text: c.name})
		}
		t.row(inner, tb, wide, names)
	}
	for i, g := range tb.groups {
		if g.heading != "" {
			t.blank = i > 0
			t.puts(indent, broken(g.heading, t.width-indent))
		}
		for i := range g.rows {
			r := &g.rows[i]
			for _, c := range r.before {
				t.puts(inner, hung("! ", c.words(), t.width-inner))
			}
			if wide == nil {
				t.stacked(inner, tb, r.cells)
			} else {
				t.row(inner, tb, wide, r.cells)
			}
		}
	}
	for i := range tb.foot {
		if wide == nil {
			t.stacked(inner, tb, tb.foot[i].cells)
		} else {
			n := gap * (len(wide) - 1)
			for _, w := range wide {
				n += w
			}
			if len(tb.groups) > 0 {
				t.put(inner, strings.Repeat("-", n))
			}
			t.row(inner, tb, wide, tb.foot[i].cells)
		}
	}
}

// row writes cells beside each other.
func (t *textPen) row(indent int, tb *table, wide []int, cells []cell) {
	parts, high := make([][]string, len(cells)), 0
	for k := range cells {
		parts[k] = cells[k].inLines(wide[k])
		high = max(high, len(parts[k]))
	}
	for i := range high {
		line := ""
		for k, p := range parts {
			if k > 0 {
				line += strings.Repeat(" ", gap)
			}
			s := ""
			if i < len(p) {
				s = p[i]
			}
			line += padded(s, wide[k], tb.columns[k].kind == columnMoney)
		}
		t.put(indent, line)
	}
}

// stacked writes cells below each other.
func (t *textPen) stacked(indent int, tb *table, cells []cell) {
	first, box := true, ""
	for k := range cells {
		c := cells[k]
		if c.box != "" && c.text == "" {
			box = "[ ] "
			continue
		}
		if c.text == "" && len(c.lines)+len(c.ticks) == 0 {
			continue
		}
		in := indent
		if !first {
			in += 2
			if tb.columns[k].label && c.text != "" {
				c.text = tb.columns[k].name + ": " + c.text
			}
		}
		if box != "" {
			t.puts(in, hung(box, c.text, t.width-in))
			in, c.text, box = in+len(box), "", ""
		}
		t.puts(in, c.inLines(t.width-in))
		first = false
	}
}
