package knapsack

// Blocks grow with the total so far, between these numbers of labels.
const leastBlock, mostBlock = 1 << 10, 1 << 20

// arena stores Pareto fronts one after another in blocks that never move: growing copies
// nothing, and nothing is in memory twice. The zero value is empty.
type arena struct {
	blocks [][]label // of length zero
	at     int       // the block being filled
	used   int       // in it
	total  int       // in all blocks
}

// reset discards the contents and keeps the memory.
func (a *arena) reset() { a.at, a.used = 0, 0 }

// space returns an empty slice with space for n labels. It is valid until reset if keep
// follows, and until the next call of space otherwise.
func (a *arena) space(n int) []label {
	for a.at < len(a.blocks) && cap(a.blocks[a.at])-a.used < n {
		a.at, a.used = a.at+1, 0
	}
	if a.at == len(a.blocks) {
		size := max(n, min(max(a.total/2, leastBlock), mostBlock))
		a.blocks = append(a.blocks, make([]label, 0, size))
		a.total += size
	}
	return a.blocks[a.at][a.used : a.used : a.used+n]
}

// keep stores the first n labels of the slice that space returned last.
func (a *arena) keep(n int) { a.used += n }
