package cutsheet

import (
	"fmt"
	"strings"

	"example.com/longpoint/stock"
)

// block is a set of patterns that are cut alike: they differ at most in the labels and rooms of
// their pieces. They are cut as one.
type block struct {
	patterns []*pattern
	first    int64 // number of its first stick, from 1, over all blocks
	sticks   int64
}

// blocks groups patterns that are cut alike, in the order of the first of each. Stick numbers
// continue after before; it returns the last number.
func (s *Sheet) blocks(patterns []*pattern, before int64) ([]block, int64) {
	var all []block
	at := make(map[string]int)
	for _, p := range patterns {
		alike := s.cutAlike(p)
		i, known := at[alike]
		if !known {
			i = len(all)
			at[alike] = i
			all = append(all, block{})
		}
		all[i].patterns = append(all[i].patterns, p)
		all[i].sticks += int64(p.Count)
	}
	for i := range all {
		all[i].first = before + 1
		before += all[i].sticks
	}
	return all, before
}

// cutAlike returns a key that is equal for two patterns if and only if they are cut alike from
// the same kind of stick: lengths, ends, turns, positions, other work on each piece, and
// whether the piece waits.
func (s *Sheet) cutAlike(p *pattern) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%d %d", p.Stick, p.YardAfter)
	for i := range p.cuts {
		c := &p.cuts[i]
		pc := s.piece(c.piece)
		fmt.Fprintf(&b, "|%d %d %d %v %v %v %q %q %q", int64(pc.Length), c.n, c.bay, c.turn, end(pc.Left), end(pc.Right),
			pc.Notes, s.waitWords(c), s.assumedWords(c.piece))
	}
	return b.String()
}

// end returns all of an end as text.
func end(e stock.End) string {
	return fmt.Sprintf("%d %d %d", e.Kind, int64(e.Angle), int64(e.Setback))
}

// names returns the names of the pieces of the i-th cut: one name if all are the same, else one
// for each pattern, after its key.
func (s *Sheet) names(b *block, i int) (names []string, alike bool) {
	alike = true
	for _, p := range b.patterns {
		names = append(names, s.pieceName(p.cuts[i].piece))
		alike = alike && names[0] == names[len(names)-1]
	}
	if alike {
		names = names[:1]
	}
	return names, alike
}

// total returns the number of pieces of the i-th cut on all the sticks.
func (b *block) total(i int) int64 { return int64(b.patterns[0].cuts[i].n) * b.sticks }
