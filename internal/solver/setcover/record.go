package setcover

import (
	"slices"

	"example.com/longpoint/internal/solver/certificate"
)

// The tree of a search can be recorded, so that its result can be verified without a search. The
// record has the duals that closed each node, the duals by which columns were fixed at a node, and
// the branching rows. It identifies columns by their items, never by number, so it is valid for the
// same list in any order.

// mostRecorded limits the numbers in a record.
const mostRecorded = 1 << 20

// recorder is the record of a search in progress.
type recorder struct {
	root    *certificate.Node
	at      **certificate.Node // where the next node goes
	last    *certificate.Vector
	next    *certificate.Node // the next branching row; nil: one that a record cannot express
	path    []passed
	numbers int
}

// passed is a row on the path to a node: a branching row or the limit of a column.
type passed struct {
	column int32 // -1: a branching row
	more   bool
}

func (s *search) startRecord() {
	if s.p.Record {
		s.record = &recorder{}
		s.record.at = &s.record.root
	}
}

func (s *search) endRecord() {
	if s.record != nil && s.complete {
		s.p.Recorded = s.record.root
	}
}

// put records a node.
func (r *recorder) put(n *certificate.Node) {
	*r.at = n
	if n.Vector != nil {
		r.at = &n.Then
	}
}

// recordVector keeps the current duals for the nodes that depend on them.
func (s *search) recordVector(active []int32) {
	if v := s.vector(active); s.record != nil { // a vector can end a record that is too long
		s.record.last = v
	}
}

func (s *search) recordFix() {
	if s.record != nil {
		s.record.put(&certificate.Node{Vector: s.record.last})
	}
}

func (s *search) recordLastLeaf() {
	if s.record != nil {
		s.recordLeaf(s.record.last)
	}
}

func (s *search) recordLeaf(v *certificate.Vector) {
	if s.record != nil && v != nil {
		s.record.put(&certificate.Node{Vector: v})
	}
}

// vector returns the duals of the last bound, nil if nothing is recorded.
func (s *search) vector(active []int32) *certificate.Vector {
	r := s.record
	if r == nil {
		return nil
	}
	n := len(s.p.Items)
	v := &certificate.Vector{Scale: s.numScale, Items: slices.Clone(s.dual[:n]), Classes: slices.Clone(s.dual[n:s.first()])}
	var rows []int64
	for k := range s.added {
		d := s.dual[s.first()+k]
		q := &s.added[k]
		switch {
		case q.cut == nil:
			rows = append(rows, d)
		case d != 0:
			w := certificate.Weight{By: d}
			for _, i := range q.cut {
				w.Items = append(w.Items, int(i))
			}
			v.Cuts = append(v.Cuts, w)
			r.numbers += len(q.cut)
		}
	}
	for k, p := range r.path {
		if p.column >= 0 {
			v.Rows = append(v.Rows, s.limitDual(r.path[k:], active))
			continue
		}
		d := rows[0]
		if rows = rows[1:]; p.more == (d < 0) {
			d = 0 // rounding error
		}
		v.Rows = append(v.Rows, d)
	}
	if r.numbers += n + len(s.p.Rows) + len(v.Rows) + len(v.Cuts); r.numbers > mostRecorded {
		s.record = nil
	}
	return v
}

// limitDual returns the dual value of the limit of a column, the first row of path: the column's
// reduced cost, or zero if a later row limits the same column more tightly.
func (s *search) limitDual(path []passed, active []int32) int64 {
	p := path[0]
	if slices.Contains(path[1:], p) || s.hi[p.column] > 0 && !slices.Contains(active, p.column) {
		return 0
	}
	j := p.column
	rc := s.p.Columns[j].Cost * s.numScale
	for k := s.begin[j]; k < s.begin[j+1]; k++ {
		rc -= s.dual[s.rows[k]] * s.coef[k]
	}
	for k := range s.added {
		rc -= s.dual[s.first()+k] * s.coefficient(&s.added[k], j)
	}
	if p.more == (rc > 0) {
		return rc
	}
	return 0
}

// splits sets the row to branch on next: at most at of its columns are used, or more.
func (s *search) splits(row certificate.Row, at int64, by passed) {
	if s.record != nil {
		s.record.next = &certificate.Node{Row: row, At: at}
		s.record.path = append(s.record.path, by)
	}
}

func (s *search) splitsPlace(place int, at int64) {
	if s.record == nil {
		return
	}
	q := &s.p.Places[place]
	class := int(q.Row) - len(s.p.Items)
	if q.Column >= 0 {
		class = len(s.p.Rows) + int(q.Column)
	}
	s.record.next = &certificate.Node{Row: certificate.Row{Class: class}, At: at}
}

// splitsNode says that the assembly of a run passes a node, or does not.
func (s *search) splitsNode(node int) {
	if s.record != nil {
		s.record.next = &certificate.Node{Way: &certificate.Way{Run: s.p.Runs[node], At: node}}
	}
}

func (s *search) splitsPair(row *row, at int64) {
	r := certificate.Row{Class: -1, Holds: []certificate.Hold{{Item: int(row.a), N: row.na}}}
	if row.b != row.a {
		r.Holds = append(r.Holds, certificate.Hold{Item: int(row.b), N: row.nb})
	}
	s.splits(r, at, passed{column: -1})
}

func (s *search) splitsColumn(j int32, at int64) {
	if s.record == nil || s.items[j] >= s.begin[j+1] {
		return
	}
	r := certificate.Row{Class: int(s.rows[s.items[j]]) - len(s.p.Items)}
	for k := s.begin[j]; k < s.items[j]; k++ {
		r.Holds = append(r.Holds, certificate.Hold{Item: int(s.rows[k]), N: s.coef[k]})
	}
	s.splits(r, at, passed{column: j})
}

// split is a recorded branching node.
type split struct {
	node *certificate.Node // nil: nothing is recorded
	path int               // the number of rows on the path to its children
}

// recordSplit records the branching that was set; if none was, the record ends.
func (s *search) recordSplit() split {
	r := s.record
	if r == nil {
		return split{}
	}
	n := r.next
	if r.next = nil; n == nil {
		s.record = nil
		return split{}
	}
	r.put(n)
	r.numbers += 4 + 2*len(n.Row.Holds)
	return split{n, len(r.path)}
}

// recordChild continues at a child of a node: More if more is set, else Less.
func (s *search) recordChild(at split, more bool) {
	r := s.record
	if r == nil {
		return
	}
	r.path = r.path[:at.path]
	r.at = &at.node.Less
	if more {
		r.at = &at.node.More
	}
	if at.node.Counts() {
		r.path[at.path-1].more = more
	}
}
