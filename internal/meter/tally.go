package meter

// Tally counts what the steps of a search went into. It limits nothing and
// decides nothing.
type Tally struct {
	Boxes   int64 // boxes of stick counts that a tree bounded
	Pairs   int64 // nodes of searches over pairs of items
	Lists   int64 // nodes of searches over lists of patterns
	Packs   int64 // nodes of searches for plans that waste next to nothing
	Columns int64 // columns that pricing added to a relaxation
	Pivots  int64 // steps of the simplex method
}

// Nodes is the nodes of all kinds.
func (t *Tally) Nodes() int64 { return t.Boxes + t.Pairs + t.Lists + t.Packs }

// Tally returns the counts of the whole search, to add to and to read: one tally,
// whichever of its meters is asked.
func (m *Meter) Tally() *Tally {
	for m.parent != nil {
		m = m.parent
	}
	return &m.tally
}
