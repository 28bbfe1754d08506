package cutsheet

import (
	"fmt"
	"strings"

	"example.com/longpoint/stock"
)

// block is a number of patterns that are cut alike: what differs is at most how the pieces are
// called and where they go. Whoever stands at the saw cuts them as one.
type block struct {
	patterns []*pattern
	first    int64 // number of its first stick, from 1, over all blocks
	sticks   int64
}

// blocks gathers those of some patterns that are cut alike, in the order of the first of each.
// Their sticks count from one after those that came before; the number of the last is returned.
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

// cutAlike is a text that two patterns share exactly if they are cut alike from the same kind of
// stick: lengths, ends, turns, places, what else is done to each piece, and whether it waits.
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

// end is all of an end, as a text.
func end(e stock.End) string {
	return fmt.Sprintf("%d %d %d", e.Kind, int64(e.Angle), int64(e.Setback))
}

// names are what the pieces of the i-th cut are called: one name where all are called alike,
// else one for each pattern, behind its key.
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

// total is how many pieces of the i-th cut there are on all the sticks.
func (b *block) total(i int) int64 { return int64(b.patterns[0].cuts[i].n) * b.sticks }
