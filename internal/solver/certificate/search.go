package certificate

import (
	"encoding/binary"
	"errors"
)

// Searching is what a proof says beyond its leaves: which sticks are cut in a way that some plan has if
// there is any, and how a search over all patterns of use ruled the rest out. Items are numbers that
// stand for lengths, see optimize.Proof.
type Searching struct {
	Items    int      // how many there are
	Forced   [][3]int // items that fill a stick; the third is -1 where two do
	Searches []Search // in the order of their leaves
}

// Search is a search over a list of patterns in the box of a leaf.
type Search struct {
	Leaf    int
	Filters []Vector // which patterns are of use; of them only Scale and Items count
	Root    *Node
}

// Vector is the numbers that a bound rests on.
type Vector struct {
	Scale   int64
	Items   []int64
	Classes []int64
	Rows    []int64  // of the rows on the way to the node
	Cuts    []Weight // none of zero
}

// Weight is what a cut weighs in a bound.
type Weight struct {
	Items []int // of the cut, in increasing order
	Cut   int   // its number in a search that was read
	By    int64
}

// Row counts patterns: those of a class, or of any with -1, that hold so many of each of some items at
// least. With no items it is how often the class is used.
type Row struct {
	Class int
	Holds []Hold
}

// Hold is N or more of an item.
type Hold struct {
	Item int
	N    int64
}

// Node is a node of the tree of a search. A leaf has a vector and no child; a node that takes
// patterns out a vector and a child, Then; any other has a row and two: in Less the row is at most At,
// in More at least one more.
type Node struct {
	Vector *Vector
	Then   *Node

	Row        Row
	At         int64
	Less, More *Node
}

// Kinds of nodes in the bytes.
const (
	LeafNode = iota
	FixNode
	BranchNode
	kinds
)

var errSearch = errors.New("proof: a search of another form")

// append writes what goes beyond the leaves.
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

// searchWriter writes one search; each of its cuts once.
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

// node writes a node and all below it.
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
	default:
		w.text = binary.AppendUvarint(w.text, BranchNode)
		w.text = binary.AppendUvarint(w.text, uint64(n.Row.Class+1))
		w.text = binary.AppendUvarint(w.text, uint64(len(n.Row.Holds)))
		for _, h := range n.Row.Holds {
			w.text = binary.AppendUvarint(w.text, uint64(h.Item))
			w.text = binary.AppendVarint(w.text, h.N)
		}
		w.text = binary.AppendVarint(w.text, n.At)
		if !n.Row.Range() {
			rows++
		}
		w.node(n.Less, rows)
		w.node(n.More, rows)
	}
}

// Range reports whether the row is how often a class is used, which is a range and has no number of
// its own in a vector.
func (r *Row) Range() bool { return r.Class >= 0 && len(r.Holds) == 0 }
