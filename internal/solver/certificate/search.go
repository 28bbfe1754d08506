package certificate

import (
	"encoding/binary"
	"errors"
)

// Searching is the part of a proof beyond its leaves: sticks that are cut in a way that belongs to some
// plan if there is one, and the search trees that rule out the rest, over all patterns that a better
// plan could use. Items are numbers that stand for lengths, see optimize.Proof.
type Searching struct {
	Items    int      // the number of items
	Forced   [][3]int // items that fill a stick; the third is -1 if two do
	Searches []Search // in the order of their leaves
}

// Search is a search over a list of patterns in the box of a leaf.
type Search struct {
	Leaf    int
	Filters []Vector // select the patterns of the list; only Scale and Items count
	Root    *Node
}

// Vector has the dual values for a bound.
type Vector struct {
	Scale   int64
	Items   []int64
	Classes []int64
	Rows    []int64  // of the rows on the path to the node
	Cuts    []Weight // without zeros
}

// Weight is the dual value of a cut.
type Weight struct {
	Items []int // of the cut, in increasing order
	Cut   int   // its number in a decoded search
	By    int64
}

// Row counts the patterns of a class, or of all classes if Class is -1, that hold at least the given
// number of each of some items. Without items it is the number of sticks of the class.
type Row struct {
	Class int
	Holds []Hold
}

// Hold is N or more of an item.
type Hold struct {
	Item int
	N    int64
}

// Way is a node of a run, which an assembly of the run passes or does not pass.
type Way struct{ Run, At int }

// Node is a node of a search tree. A leaf has a vector and no child. A node that fixes columns at zero
// has a vector and one child, Then. Any other node has two children. If it has a way, the assemblies of
// the run pass its node in More and do not in Less. Otherwise it has a row, which is at most At in Less
// and at least At+1 in More.
type Node struct {
	Vector *Vector
	Then   *Node

	Way        *Way
	Row        Row
	At         int64
	Less, More *Node
}

// The kinds of encoded nodes.
const (
	LeafNode = iota
	FixNode
	BranchNode
	WayNode
	kinds
)

var errSearch = errors.New("proof: a search of another form")

// append writes the part beyond the leaves.
func (s *Searching) append(out []byte, classes int) ([]byte, error) {
	out = binary.AppendUvarint(out, uint64(s.Items))
	out = binary.AppendUvarint(out, uint64(len(s.Forced)))
	for _, f := range s.Forced {
		for k, i := range f {
			if k == 2 {
				i++ // 0: none
			}
			out = binary.AppendUvarint(out, uint64(i))
		}
	}
	out = binary.AppendUvarint(out, uint64(len(s.Searches)))
	before := 0
	for k := range s.Searches {
		x := &s.Searches[k]
		w := searchWriter{items: s.Items, classes: classes, cuts: map[string]int{}}
		w.filters(x.Filters)
		w.node(x.Root, 0)
		if w.wrong || x.Leaf < before {
			return nil, errSearch
		}
		out = binary.AppendUvarint(out, uint64(x.Leaf-before))
		before = x.Leaf + 1
		head := binary.AppendUvarint(nil, uint64(len(w.cuts)))
		head = append(head, w.cutText...)
		out = binary.AppendUvarint(out, uint64(len(head)+len(w.text)))
		out = append(append(out, head...), w.text...)
	}
	return out, nil
}

// searchWriter writes one search, and each of its cuts once.
type searchWriter struct {
	items, classes int
	cuts           map[string]int
	cutText, text  []byte
	wrong          bool
}

func (w *searchWriter) filters(all []Vector) {
	w.text = binary.AppendUvarint(w.text, uint64(len(all)))
	for k := range all {
		w.values(&all[k])
	}
}

// values writes a scale and a number for each item.
func (w *searchWriter) values(v *Vector) {
	w.wrong = w.wrong || len(v.Items) != w.items
	w.text = binary.AppendVarint(w.text, v.Scale)
	at := int64(0)
	for _, x := range v.Items {
		d := x - at
		w.wrong = w.wrong || (d < x) != (at > 0)
		w.text = binary.AppendVarint(w.text, d)
		at = x
	}
}

func (w *searchWriter) vector(v *Vector, rows int) {
	w.wrong = w.wrong || len(v.Classes) != w.classes || len(v.Rows) != rows
	w.values(v)
	for _, x := range v.Classes {
		w.text = binary.AppendVarint(w.text, x)
	}
	for _, x := range v.Rows {
		w.text = binary.AppendVarint(w.text, x)
	}
	w.text = binary.AppendUvarint(w.text, uint64(len(v.Cuts)))
	for _, c := range v.Cuts {
		w.text = binary.AppendUvarint(w.text, uint64(w.cut(c.Items)))
		w.text = binary.AppendVarint(w.text, c.By)
	}
}

// cut returns the number of a cut.
func (w *searchWriter) cut(items []int) int {
	text := binary.AppendUvarint(nil, uint64(len(items)))
	before := 0
	for _, i := range items {
		w.wrong = w.wrong || i < before
		text = binary.AppendUvarint(text, uint64(i-before))
		before = i + 1
	}
	k, known := w.cuts[string(text)]
	if !known {
		k = len(w.cuts)
		w.cuts[string(text)] = k
		w.cutText = append(w.cutText, text...)
	}
	return k
}

// node writes a node and its descendants.
func (w *searchWriter) node(n *Node, rows int) {
	switch {
	case n == nil:
		w.wrong = true
	case n.Vector != nil && n.Then == nil:
		w.text = binary.AppendUvarint(w.text, LeafNode)
		w.vector(n.Vector, rows)
	case n.Vector != nil:
		w.text = binary.AppendUvarint(w.text, FixNode)
		w.vector(n.Vector, rows)
		w.node(n.Then, rows)
	case n.Way != nil:
		w.text = binary.AppendUvarint(w.text, WayNode)
		w.wrong = w.wrong || n.Way.Run < 0 || n.Way.At < 0
		w.text = binary.AppendUvarint(w.text, uint64(n.Way.Run))
		w.text = binary.AppendUvarint(w.text, uint64(n.Way.At))
		w.node(n.Less, rows)
		w.node(n.More, rows)
	default:
		w.text = binary.AppendUvarint(w.text, BranchNode)
		w.text = binary.AppendUvarint(w.text, uint64(n.Row.Class+1))
		w.text = binary.AppendUvarint(w.text, uint64(len(n.Row.Holds)))
		for _, h := range n.Row.Holds {
			w.text = binary.AppendUvarint(w.text, uint64(h.Item))
			w.text = binary.AppendVarint(w.text, h.N)
		}
		w.text = binary.AppendVarint(w.text, n.At)
		if n.Counts() {
			rows++
		}
		w.node(n.Less, rows)
		w.node(n.More, rows)
	}
}

// Counts reports whether the node branches on a row that has a number in vectors below.
func (n *Node) Counts() bool { return n.Vector == nil && n.Way == nil && !n.Row.Range() }

// Range reports whether the row is the number of sticks of a class: that is a range, with no number in
// a vector.
func (r *Row) Range() bool { return r.Class >= 0 && len(r.Holds) == 0 }
