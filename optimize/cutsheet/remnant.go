package cutsheet

import (
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// shortCuts is the number of pieces of a cut, the last ones, that come from too short remnants,
// and the lengths of the first and the last of these remnants.
type shortCuts struct {
	n        int
	from, to measure.Length
}

// least returns the desired minimum length of a remnant.
func (s *Sheet) least() measure.Length {
	if s.problem.MinRemnant == 0 {
		return optimize.DefaultMinRemnant
	}
	return s.problem.MinRemnant
}

// remnant returns the length of the remnant from which the j-th piece of a pattern is cut, as
// defined at MinRemnant of [optimize.Problem]; it returns false if the piece is the rest itself
// and not cut.
func (p *pattern) remnant(b *bay, j int) (measure.Length, bool) {
	l := &p.layout.pieces[j]
	square := func(e side) bool { return e.long == stock.SectionAll }
	made := l.shared || square(l.left) && (j == b.first || square(p.layout.pieces[j-1].right))
	return b.To - l.from, j < b.end-1 || l.to < b.To || !square(l.right) || !made
}

// short returns the pieces of a cut that come from too short remnants.
func (s *Sheet) short(p *pattern, c *cut) (short shortCuts) {
	for j := c.at; j < c.at+c.n; j++ {
		if r, ok := p.remnant(&p.bays[c.bay], j); ok && r < s.least() {
			if short.n++; short.n == 1 {
				short.from = r
			}
			short.to = r // the later, the shorter
		}
	}
	return short
}

// remnantNote returns the note for a cut from a too short remnant, or nothing.
func (s *Sheet) remnantNote(c *cut) string {
	const one, more = ": clamp it; it is too short to hold by hand", ": clamp them; they are too short to hold by hand"
	short := &c.short
	switch {
	case short.n == 0:
		return ""
	case c.n == 1:
		return "cut from a remnant of only " + s.length(short.to) + one
	case short.n == 1:
		return "the last cut from a remnant of only " + s.length(short.to) + one
	}
	which := "the last " + s.count(int64(short.n))
	if short.n == c.n {
		which = "all " + s.count(int64(short.n))
	}
	return which + " cut from remnants of only " + s.length(short.from) + " down to " + s.length(short.to) + more
}
