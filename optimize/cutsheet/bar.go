package cutsheet

import (
	"strconv"
	"strings"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// barWidth is how many characters the longest stick takes.
const barWidth = 76

// bar draws a stick in characters, to scale as far as whole characters go: the
// number of each piece between the marks of its ends, dots for an offcut and x
// for what is squared off. The second line, if any, says so where pieces are
// too short to be drawn.
func (t *textSheet) bar(p *pattern) []string {
	longest := t.longest()
	at := func(l measure.Length) int { // to the nearest character
		q, _, err := l.MulDiv(barWidth, int64(longest), measure.HalfUp)
		if err != nil {
			return 0
		}
		return int(q)
	}
	st := &t.problem.Sticks[p.Stick]
	line := []byte(strings.Repeat(" ", max(at(st.Length), 1)))
	fill := func(from, to measure.Length, c byte) {
		for i := at(from); i < at(to); i++ {
			line[i] = c
		}
	}
	fill(0, st.TrimStart, 'x')
	fill(st.Length-st.TrimEnd, st.Length, 'x')
	hidden := 0
	from := st.TrimStart
	for i, c := range p.cuts {
		pc := &t.problem.Pieces[c.piece]
		for range c.n {
			to := from + pc.Length
			if !drawPiece(line[at(from):at(to)], strconv.Itoa(i+1), pc) {
				hidden++
			}
			from = to + t.problem.Kerf // at worst a kerf beyond the stick, where nothing is drawn
		}
	}
	if p.Offcut > 0 {
		fill(from, from+p.Offcut, '.')
	}
	text := string(line)
	if t.options.Unicode {
		text = strings.NewReplacer("-", "─", "|", "│", ".", "·").Replace(text)
	}
	if t.options.Color {
		text = faintDots(text)
	}
	lines := []string{text}
	if hidden > 0 {
		lines = append(lines, "("+plural(int64(hidden), "piece")+" too short to be numbered here)")
	}
	return lines
}

// drawPiece draws one piece into its characters and reports whether its number
// found room.
func drawPiece(line []byte, number string, p *stock.Piece) bool {
	for i := range line {
		line[i] = '-'
	}
	if n := len(line); n > 0 {
		line[n-1] = endMark(p.Right, false)
		line[0] = endMark(p.Left, true)
	}
	if len(line) < len(number)+2 {
		return false
	}
	copy(line[(len(line)-len(number))/2:], number)
	return true
}

// endMark is the shape of an end as seen from above, the back of the piece up.
func endMark(e stock.End, left bool) byte {
	switch e.Kind {
	case stock.Cope:
		if left {
			return '{'
		}
		return '}'
	case stock.Scribe:
		return '~'
	}
	switch e.LongPoint() {
	case stock.BackPoint, stock.OuterPoint:
		if left {
			return '\\'
		}
		return '/'
	case stock.FacePoint:
		if left {
			return '/'
		}
		return '\\'
	}
	return '|'
}

func faintDots(s string) string {
	start := strings.IndexAny(s, ".·")
	if start < 0 {
		return s
	}
	end := strings.LastIndexAny(s, ".·")
	for end++; end < len(s) && s[end]&0xc0 == 0x80; end++ {
	}
	return s[:start] + "\x1b[2m" + s[start:end] + "\x1b[0m" + s[end:]
}

// longest is the length of the longest stick that the plan uses: the scale of
// every drawing.
func (s *Sheet) longest() measure.Length {
	longest := measure.Tick
	for _, l := range s.lines {
		longest = max(longest, s.problem.Sticks[l.stick].Length)
	}
	return longest
}
