package main

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"example.com/longpoint/measure"
)

// Widths of the report in columns: of paper and a terminal, and of a telephone.
const (
	pageWidth  = 80
	phoneWidth = 48
)

// page collects the text of the report: plain ASCII, at most as wide as the page if its words are
// short enough.
type page struct {
	b        strings.Builder
	width    int
	headings int
	country  measure.Locale // format of numbers
}

func (p *page) line(format string, args ...any) {
	p.b.WriteString(strings.TrimRight(ascii(fmt.Sprintf(format, args...)), " "))
	p.b.WriteByte('\n')
}

func (p *page) blank() { p.b.WriteByte('\n') }

// heading begins a section.
func (p *page) heading(title string) {
	p.headings++
	if p.headings > 1 {
		p.blank()
	}
	h := fmt.Sprintf("[%d] %s ", p.headings, title)
	p.line("%s", h+strings.Repeat("=", max(1, p.width-len(h))))
	p.blank()
}

// para writes text that wraps; first and rest go before the first line and the ones after.
func (p *page) para(first, rest, text string) {
	for i, l := range wrap(ascii(text), p.width-max(len(first), len(rest))) {
		if i > 0 {
			first = rest
		}
		p.line("%s%s", first, l)
	}
}

// table writes rows in columns. Each letter of align is a column: l for left, r for right. The
// last column wraps if it is left-aligned, on lines of its own if little is left for it; a row of
// one cell spans all columns, indented. It returns the width taken.
func (p *page) table(indent, align string, rows [][]string) int {
	width := make([]int, len(align))
	for _, row := range rows {
		if len(row) == 1 {
			continue
		}
		for i, cell := range row {
			width[i] = max(width[i], len(ascii(cell)))
		}
	}
	last := len(align) - 1
	if align[last] == 'r' && len(indent)+2*last+sum(width) > p.width {
		p.stacked(indent, rows)
		return p.width
	}
	used := len(indent)
	for _, w := range width[:last] {
		used += w + 2
	}
	below := false // the last column is on lines of its own
	if align[last] == 'l' {
		const least = 20
		if below = width[last] > p.width-used && p.width-used < least; below {
			used = len(indent) + 6
		}
		width[last] = min(width[last], p.width-used)
	}
	for _, row := range rows {
		if len(row) == 1 {
			p.para(indent+"    ", indent+"      ", row[0])
			continue
		}
		var b strings.Builder
		b.WriteString(indent)
		var more []string
		for i, cell := range row {
			cell = ascii(cell)
			switch {
			case align[i] == 'r':
				fmt.Fprintf(&b, "%*s", width[i], cell)
			case i == last:
				if more = wrap(cell, width[i]); !below || cell == "" {
					b.WriteString(more[0])
					more = more[1:]
				}
			default:
				fmt.Fprintf(&b, "%-*s", width[i], cell)
			}
			if i < last {
				b.WriteString("  ")
			}
		}
		p.line("%s", b.String())
		for _, l := range more {
			p.line("%*s%s", used, "", l)
		}
	}
	return used + width[last]
}

// stacked writes rows that are too wide for the page: the first cell, and below it the others, each
// after the head of its column.
func (p *page) stacked(indent string, rows [][]string) {
	var head []string
	if len(rows[0]) > 1 && rows[0][0] == "" && len(rows) > 1 {
		head, rows = rows[0], rows[1:]
	}
	for _, row := range rows {
		if len(row) == 1 {
			p.para(indent+"    ", indent+"      ", row[0])
			continue
		}
		if row[0] != "" { // a blank line would end the table
			p.para(indent, indent+"  ", row[0])
		}
		var cells []string
		for i, cell := range row[1:] {
			if cell == "" {
				continue
			}
			if head != nil && head[i+1] != "" {
				cell = head[i+1] + " " + cell
			}
			cells = append(cells, cell)
		}
		p.para(indent+"    ", indent+"    ", strings.Join(cells, ", "))
	}
}

func sum(widths []int) (all int) {
	for _, w := range widths {
		all += w
	}
	return all
}

// wrap breaks text at spaces, but not between the feet and the inches of a length - a line that
// ends with 11' would state another length - nor before a metric unit. A word that is too long
// is broken where necessary. There is always one line.
func wrap(text string, width int) []string {
	width = max(width, 8)
	var lines []string
	line := ""
	words := strings.Fields(text)
	digit := func(c byte) bool { return '0' <= c && c <= '9' }
	for i := 1; i < len(words); i++ {
		before, after := words[i-1], words[i]
		inches := strings.HasSuffix(before, "'") && digit(after[0]) && strings.Contains(after, `"`)
		unit := digit(before[len(before)-1]) && slices.Contains(metricUnits, strings.TrimRight(after, ".,;:)+-"))
		if inches || unit {
			words[i-1] = before + " " + after
			words = slices.Delete(words, i, i+1)
			i--
		}
	}
	for _, word := range words {
		if line != "" && len(line)+1+len(word) <= width {
			line += " " + word
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		for len(word) > width {
			lines = append(lines, word[:width])
			word = word[width:]
		}
		line = word
	}
	if line != "" || len(lines) == 0 {
		lines = append(lines, line)
	}
	return lines
}

var metricUnits = []string{"mm", "m", "cm2", "m2", "mL", "L", "g", "kg"}

var spellings = strings.NewReplacer("°", " deg", "·", " x ", "×", "x", "–", "-", "—", "-", "’", "'", "‘", "'", "“", `"`, "”", `"`, "′", "'", "″", `"`, "≥", ">=", "≤", "<=", "µ", "u", "½", " 1/2", "¼", " 1/4", "¾", " 3/4", "²", "2", "€", "EUR")

// ascii replaces characters that a plain terminal may lack.
func ascii(s string) string {
	s = spellings.Replace(s)
	return strings.Map(func(r rune) rune {
		if r >= utf8.RuneSelf || r < ' ' {
			return '?'
		}
		return r
	}, s)
}

// count writes a number and its noun.
func count[N int | int64](n N, one, many string) string {
	if n == 1 {
		return fmt.Sprint(n, " ", one)
	}
	return fmt.Sprint(n, " ", many)
}
