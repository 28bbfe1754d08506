package meter

// Tally counts the events of a search by kind. It limits nothing and decides
// nothing.
type Tally struct {
	Boxes   int64 // boxes of stick counts that a tree bounded
	Lists   int64 // nodes of searches over lists of patterns
	Packs   int64 // nodes of searches for plans with almost no waste
	Columns int64 // columns that pricing added to a relaxation
	Pivots  int64 // steps of the simplex method
}

// Nodes returns the number of nodes of all kinds.
func (t *Tally) Nodes() int64 { return t.Boxes + t.Lists + t.Packs }

// Tally returns the counts of the whole search, to update and to read; all meters
// of a search share one tally.
func (m *Meter) Tally() *Tally {
	for m.parent != nil {
		m = m.parent
	}
	return &m.tally
}
