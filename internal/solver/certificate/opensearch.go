package certificate

import "math"

// OpenSearching is the decoded part of a proof beyond its leaves.
type OpenSearching struct {
	Items    int
	Forced   [][3]int
	Searches []OpenSearch
}

// OpenSearch is a decoded search: its cuts and filters in full, its nodes as bytes.
type OpenSearch struct {
	Leaf    int
	Cuts    [][]int
	Filters []Vector

	items, classes int
	body           string
}

// mostNested limits the depth of a tree.
const mostNested = 1 << 13

// searching reads the part beyond the leaves.
func (s *Sealed) searching(r *reader) *OpenSearching {
	// With rules there are more items than pieces, and a search has a value for each of them.
	o := &OpenSearching{Items: r.upTo(max(s.Pieces, len(r.text)), "items")}
	if o.Items < 1 {
		r.fail("items: none")
	}
	forced := r.count("forced sticks", 3)
	for k := 0; k < forced && r.ok(); k++ {
		a, b, c := r.upTo(o.Items-1, "item"), r.upTo(o.Items-1, "item"), r.upTo(o.Items, "item")
		o.Forced = append(o.Forced, [3]int{a, b, c - 1})
	}
	n, before := r.count("searches", 6), 0
	for k := 0; k < n && r.ok(); k++ {
		at := before + r.upTo(s.Leaves-1-before, "leaf of a search")
		before = at + 1
		size := r.count("bytes of a search", 1)
		if !r.ok() {
			break
		}
		own := *r
		own.text = r.text[:size]
		own.size -= len(r.text) - size
		o.Searches = append(o.Searches, own.search(at, o.Items, s.Classes))
		r.err, r.taken = own.err, own.taken
		if r.ok() && own.text != "" {
			r.fail("something after the last node of a search")
		}
		r.text = r.text[size:]
	}
	return o
}

// search reads a search and validates all of its nodes.
func (r *reader) search(leaf, items, classes int) OpenSearch {
	x := OpenSearch{Leaf: leaf, items: items, classes: classes}
	cuts := r.count("cuts", 1)
	for k := 0; k < cuts && r.ok(); k++ {
		var cut []int
		before := 0
		n := r.count("items of a cut", 1)
		for j := 0; j < n && r.ok(); j++ {
			cut = append(cut, before+r.upTo(items-1-before, "item of a cut"))
			before = cut[j] + 1
		}
		x.Cuts = append(x.Cuts, cut)
	}
	filters := r.count("filters", 1+items)
	for k := 0; k < filters && r.ok(); k++ {
		v := Vector{Scale: r.number("scale")}
		v.Items = r.run(items, nil, 0)
		x.Filters = append(x.Filters, v)
	}
	x.body = r.text
	c := Cursor{x: &x, r: *r}
	c.through(0, 0)
	*r = c.r
	return x
}

// Cursor visits the nodes of a search, each before its descendants, Less before More.
type Cursor struct {
	x *OpenSearch
	r reader
	v Vector
}

// Nodes returns a cursor before the root.
func (x *OpenSearch) Nodes() *Cursor {
	return &Cursor{x: x, r: reader{text: x.body, size: len(x.body)}}
}

// through visits a node and its descendants.
func (c *Cursor) through(rows, depth int) {
	if depth > mostNested {
		c.r.fail("a tree that is too deep")
	}
	if !c.r.ok() {
		return
	}
	n, kind := c.Next(rows)
	switch kind {
	case FixNode:
		c.through(rows, depth+1)
	case BranchNode, WayNode:
		if n.Counts() {
			rows++
		}
		c.through(rows, depth+1)
		c.through(rows, depth+1)
	}
}

// Next returns the next node; rows is the number of rows on the path to it, not counting ranges. The
// node's children are nil; its vector is valid until the next call. The kind is -1 after the last node.
func (c *Cursor) Next(rows int) (n Node, kind int) {
	r := &c.r
	switch kind = r.upTo(kinds-1, "kind of node"); kind {
	case BranchNode:
		n.Row.Class = r.upTo(c.x.classes, "class") - 1
		holds := r.count("items of a row", 2)
		for k := 0; k < holds && r.ok(); k++ {
			n.Row.Holds = append(n.Row.Holds, Hold{r.upTo(c.x.items-1, "item"), r.number("count")})
		}
		n.At = r.number("count")
	case WayNode:
		n.Way = &Way{r.upTo(math.MaxInt32, "run"), r.upTo(math.MaxInt32, "node")}
	default:
		c.vector(rows)
		n.Vector = &c.v
	}
	if !r.ok() {
		return Node{}, -1
	}
	return n, kind
}

func (c *Cursor) vector(rows int) {
	r, v := &c.r, &c.v
	v.Scale = r.number("scale")
	if c.x.items+c.x.classes+rows > len(r.text) {
		r.fail("values: more than there is room for")
		return
	}
	v.Items, v.Classes, v.Rows, v.Cuts = v.Items[:0], v.Classes[:0], v.Rows[:0], v.Cuts[:0]
	at := int64(0)
	for range c.x.items {
		d := r.number("value")
		if (at+d < at) != (d < 0) {
			r.fail("value: more than 64 bits")
		}
		at += d
		v.Items = append(v.Items, at)
	}
	for range c.x.classes {
		v.Classes = append(v.Classes, r.number("value of a class"))
	}
	for range rows {
		v.Rows = append(v.Rows, r.number("value of a row"))
	}
	cuts := r.count("cuts", 2)
	for k := 0; k < cuts && r.ok(); k++ {
		if i := r.upTo(len(c.x.Cuts)-1, "cut"); r.ok() {
			v.Cuts = append(v.Cuts, Weight{c.x.Cuts[i], i, r.number("value of a cut")})
		}
	}
}
