package cutsheet

import (
	"strconv"
	"strings"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// bar draws a stick in characters, to scale to whole characters: the number of each piece
// between the marks of its ends, dots for an offcut, x for the material squared off, # for
// unusable stretches and ! for the yard's cut. Further lines, if any, explain # and ! and
// report pieces too short to be drawn; barNote explains the other marks.
func (t *textSheet) bar(p *pattern) []string {
	longest, barWidth := t.longest(), int64(t.wide-4) // characters of the longest stick
	st := &t.problem.Sticks[p.Stick]
	at := func(l measure.Length) int { // to the nearest character
		q, _, err := min(max(l, 0), st.Length).MulDiv(barWidth, int64(longest), measure.RoundHalfUp)
		if err != nil {
			return 0
		}
		return int(q)
	}
	line := []byte(strings.Repeat(" ", max(at(st.Length), 1)))
	fill := func(from, to measure.Length, c byte) {
		for i := at(from); i < at(to); i++ {
			line[i] = c
		}
	}
	fill(0, st.TrimStart, 'x')
	fill(st.Length-st.TrimEnd, st.Length, 'x')
	for _, u := range p.unusable {
		fill(u.From, u.To, '#')
	}
	hidden := 0
	for i, c := range p.cuts {
		for j := c.at; j < c.at+c.n; j++ {
			// A cut that two share is drawn in its middle.
			l := &p.layout.pieces[j]
			from, to := l.from, l.to
			if l.shared {
				from += l.left.Setback / 2
			}
			if j+1 < len(p.layout.pieces) && p.layout.pieces[j+1].shared {
				to -= l.right.Setback / 2
			}
			if !drawPiece(line[at(from):max(at(from), at(to))], strconv.Itoa(i+1), l) {
				hidden++
			}
		}
	}
	for n := range p.bays {
		fill(p.bays[n].offcut.From, p.bays[n].offcut.To, '.')
	}
	if p.yard.To > 0 {
		line[min(at(p.yard.From), len(line)-1)] = '!'
	}
	text := string(line)
	if t.options.Unicode {
		text = strings.NewReplacer("-", "─", "|", "│", ".", "·").Replace(text)
	}
	if t.options.Color {
		text = faintDots(text)
	}
	return append([]string{text}, t.barLegend(p, hidden)...)
}

// barLegend describes the marks of a bar, and how many of its pieces have no number.
func (t *textSheet) barLegend(p *pattern, hidden int) (lines []string) {
	var marks []string
	if len(p.unusable) > 0 {
		marks = append(marks, "#: cannot be used")
	}
	if p.yard.To > 0 {
		marks = append(marks, "!: the yard's cut")
	}
	if len(marks) > 0 {
		lines = append(lines, "("+strings.Join(marks, "; ")+")")
	}
	if hidden > 0 {
		lines = append(lines, "("+t.plural(int64(hidden), "piece")+" too short to number here)")
	}
	return lines
}

// barNote explains the marks in the drawings of all patterns; it is empty if there are only
// marks that explain themselves.
func (t *textSheet) barNote() string {
	var all strings.Builder
	for k := range t.patterns {
		all.WriteString(t.bar(&t.patterns[k])[0])
	}
	var notes []string
	for _, mark := range []struct{ any, text string }{
		{`/\`, `/ and \ are slanted ends, drawn with the back of the piece up, or its outer edge if it lies flat`},
		{"{}", "{ and } are copes"},
		{"~", "~ is an end to scribe"},
		{"x", "x is trimmed off"},
	} {
		if strings.ContainsAny(all.String(), mark.any) {
			notes = append(notes, mark.text)
		}
	}
	if len(notes) == 0 {
		return ""
	}
	return "In the drawings " + strings.Join(notes, "; ") + "."
}

// drawPiece draws one piece into its characters and reports whether its number fits.
func drawPiece(line []byte, number string, p *lying) bool {
	for i := range line {
		line[i] = '-'
	}
	if n := len(line); n > 0 {
		line[n-1] = endMark(p.right, false)
		line[0] = endMark(p.left, true)
	}
	if len(line) < len(number)+2 {
		return false
	}
	copy(line[(len(line)-len(number))/2:], number)
	return true
}

// endMark is the shape of an end as seen from above, with the back of the piece up.
func endMark(e side, left bool) byte {
	switch e.Kind {
	case stock.EndCope:
		if left {
			return '{'
		}
		return '}'
	case stock.EndScribe:
		return '~'
	}
	switch e.long {
	case stock.SectionBack, stock.SectionOuterEdge:
		if left {
			return '\\'
		}
		return '/'
	case stock.SectionFace, stock.SectionInnerEdge:
		if left {
			return '/'
		}
		return '\\'
	}
	return '|'
}

// faintDots makes each row of dots faint.
func faintDots(s string) string {
	var b strings.Builder
	for s != "" {
		start := strings.IndexAny(s, ".·")
		if start < 0 {
			break
		}
		rest := strings.TrimLeft(s[start:], ".·")
		b.WriteString(s[:start] + "\x1b[2m" + s[start:len(s)-len(rest)] + "\x1b[0m")
		s = rest
	}
	return b.String() + s
}

// longest is the length of the longest stick that is cut, which sets the scale of every
// drawing.
func (s *Sheet) longest() measure.Length { return max(measure.Tick, s.longestCut) }
