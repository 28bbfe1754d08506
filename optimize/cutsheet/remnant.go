package cutsheet

import (
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// least is how long a remnant should be from which a piece is cut.
func (s *Sheet) least() measure.Length {
	if s.problem.MinRemnant == 0 {
		return optimize.DefaultMinRemnant
	}
	return s.problem.MinRemnant
}

// remnant returns how long what is left of the stick is when the j-th piece of a pattern
// is cut from it, by what [optimize.Problem] says of MinRemnant, and false where it is not
// cut but what is left.
func (p *pattern) remnant(b *bay, j int) (measure.Length, bool) {
	l := &p.layout.pieces[j]
	square := func(e side) bool { return e.long == stock.EvenPoint }
	made := l.shared || square(l.left) && (j == b.first || square(p.layout.pieces[j-1].right))
	return b.To - l.from, j < b.end-1 || l.to < b.To || !square(l.right) || !made
}

// short returns the shortest remnant that one of a cut's pieces comes from where that is
// shorter than it should be, else zero.
func (s *Sheet) short(p *pattern, c *cut) (short measure.Length) {
	for j := c.at; j < c.at+c.n; j++ {
		if r, ok := p.remnant(&p.bays[c.bay], j); ok && r < s.least() {
			short = r // the later, the shorter
		}
	}
	return short
}

// remnantNote says, of a cut from a remnant that is too short, that it is; else nothing.
func (s *Sheet) remnantNote(c *cut) string {
	if c.short == 0 {
		return ""
	}
	text := "cut from a remnant of only " + s.length(c.short) + ": clamp it, no hand can hold it clear of the blade"
	if c.n > 1 {
		text = "the last " + text
	}
	return text
}
