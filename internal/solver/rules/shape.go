package rules

import "slices"

// PatternSize has the totals of a pattern.
type PatternSize struct {
	Size   int64 // capacity taken
	Offcut int64 // with a yard cut: the longer one of two
	Pieces int64
}

// size adds up the uses and subtracts the savings of parallel ends if the items lie in the best
// order.
//
// Items are arcs from the class of their left end to that of their right end. In each class as
// many pairs meet as the rarer kind of end, left or right, allows, unless the arcs close into
// rings: a connected set of classes, none of them Square, in which every end would meet another
// must be opened once, where that is cheapest (Euler's condition for trails).
func (p *Problem) size(uses []Use) int64 {
	total, nests := int64(0), false
	for _, u := range uses {
		w := &p.Items[u.Item].Orientations[u.Orient]
		total += w.Size * u.N
		nests = nests || w.Left >= 0 || w.Right >= 0
	}
	if !nests || len(p.Setbacks) == 0 {
		return total
	}
	return total - p.nested(uses)
}

// nested returns the length that nesting ends save in a pattern.
func (p *Problem) nested(uses []Use) (saved int64) {
	n := len(p.Setbacks)
	// A few classes, the usual case, need no allocation: this is an innermost loop.
	var few struct {
		left, right, least [12]int64
		parent             [12]int
		open               [12]bool
	}
	left, right, least, parent, open := few.left[:], few.right[:], few.least[:], few.parent[:], few.open[:]
	if n+1 > len(left) {
		left, right, least, parent, open = make([]int64, n+1), make([]int64, n+1), make([]int64, n+1), make([]int, n+1), make([]bool, n+1)
	}
	for i := range n + 1 { // node n is Square
		parent[i] = i
	}
	find := func(i int) int {
		for parent[i] != i {
			i = parent[i]
		}
		return i
	}
	node := func(class int) int {
		if class < 0 {
			return n
		}
		return class
	}
	for _, u := range uses {
		w := &p.Items[u.Item].Orientations[u.Orient]
		if w.Left >= 0 {
			left[w.Left] += u.N
		}
		if w.Right >= 0 {
			right[w.Right] += u.N
		}
		parent[find(node(w.Left))] = find(node(w.Right))
	}
	for c := range n {
		saved += p.Setbacks[c] * min(left[c], right[c])
		r := find(c)
		if left[c] != right[c] {
			open[r] = true
		}
		if left[c] > 0 && (least[r] == 0 || p.Setbacks[c] < least[r]) {
			least[r] = p.Setbacks[c]
		}
	}
	open[find(n)] = true
	for r := range n + 1 {
		if parent[r] == r && !open[r] {
			saved -= least[r]
		}
	}
	return saved
}

// Fill evaluates a pattern. It reports false if the bin does not hold it or its kind forbids
// it.
func (p *Problem) Fill(f *Pattern) (PatternSize, bool) {
	b := &p.Bins[f.Bin]
	k := &p.Kinds[b.Kind]
	if last := len(f.Uses) - 1; p.Items[f.Uses[last].Item].Offcut > 0 {
		return p.fillAround(f, last)
	}
	out := PatternSize{Size: p.size(f.Uses)}
	long := false
	for _, u := range f.Uses {
		it := &p.Items[u.Item]
		if it.Alone {
			return out, k.Spare && len(f.Uses) == 1 && u.N == 1
		}
		if k.Barred != nil && k.Barred[u.Item] {
			return out, false
		}
		out.Pieces += it.Pieces * u.N
		long = long || it.Long
	}
	if out.Size > b.Cap || k.Most > 0 && out.Pieces > k.Most {
		return out, false
	}
	out.Offcut = max(0, b.Cap-out.Size-k.Kerf)
	if k.Part[0] > 0 {
		var ok bool
		if k.Hold > 0 {
			_, out.Offcut, ok = p.halves(f)
		} else {
			out.Offcut, ok = p.parts(f, out.Size)
		}
		return out, ok
	}
	if k.Hold == 0 || long || out.Offcut >= k.Hold {
		return out, true
	}
	return out, len(f.Uses) == 1 && f.Uses[0].N == 1 && p.Items[f.Uses[0].Item].Uncut && out.Size == b.Cap && k.Trim == [2]bool{}
}

// fillAround evaluates a pattern whose last use is an item with Offcut.
func (p *Problem) fillAround(f *Pattern, last int) (PatternSize, bool) {
	it := &p.Items[f.Uses[last].Item]
	if last == 0 || f.Uses[last].N > 1 {
		return PatternSize{}, false
	}
	bare := Pattern{Bin: f.Bin, Uses: f.Uses[:last]}
	out, ok := p.Fill(&bare)
	if p.Items[f.Uses[0].Item].Alone || !ok || out.Offcut < it.Offcut {
		return out, false
	}
	out.Size += it.Orientations[0].Size
	return out, true
}

// salvage returns the value of an offcut.
func (k *PatternRules) salvage(offcut int64) int64 {
	v := int64(0)
	for _, s := range k.Salvage {
		if offcut >= s.Length {
			v = s.Value
		}
	}
	return v
}

// Costs returns each criterion of an allowed pattern.
func (p *Problem) Costs(f *Pattern, x *PatternSize) [Criteria]int64 {
	if p.Items[f.Uses[0].Item].Alone {
		return [Criteria]int64{}
	}
	b := &p.Bins[f.Bin]
	c := b.Own
	c[Salvage] -= p.Kinds[b.Kind].salvage(x.Offcut)
	c[Cuts] += x.Pieces - 1
	if x.Offcut > 0 {
		c[Cuts]++
	}
	return c
}

// Order arranges the uses of a pattern so that they save as much as size computes: trails
// through the classes of ends, one after the other.
func (p *Problem) Order(uses []Use) (order []Use) {
	nests := false
	for _, u := range uses {
		w := &p.Items[u.Item].Orientations[u.Orient]
		nests = nests || w.Left >= 0 || w.Right >= 0
	}
	if !nests || len(p.Setbacks) == 0 {
		for _, u := range uses {
			for range u.N {
				order = append(order, Use{Item: u.Item, Orient: u.Orient, N: 1})
			}
		}
		return order
	}
	e := p.endsOf(uses)
	for v := range e.balance { // Square is the last
		for e.balance[v] > 0 {
			if path := e.trail(v); len(path) > 0 {
				e.trails = append(e.trails, path)
			}
		}
	}
	// Rings are left. Open them at Square, or splice them into a trail that passes, or else
	// open them at the class that saves least.
	for v := e.ring(); v >= 0; v = e.ring() {
		if !e.splice() {
			e.trails = append(e.trails, e.trail(v))
		}
	}
	for _, path := range e.trails {
		for _, i := range path {
			order = append(order, Use{Item: uses[i].Item, Orient: uses[i].Orient, N: 1})
		}
	}
	return order
}

// ends is a pattern as a graph: its nodes are classes of ends, Square the last, and its arcs
// are items.
type ends struct {
	p       *Problem
	uses    []Use
	left    []int64 // of each use: how many are not yet in a trail
	out     [][]endArc
	balance []int64 // arcs that leave less arcs that enter
	trails  [][]int
}

type endArc struct{ use, to int }

func (p *Problem) endsOf(uses []Use) *ends {
	n := len(p.Setbacks)
	e := &ends{p: p, uses: uses, left: make([]int64, len(uses)), out: make([][]endArc, n+1), balance: make([]int64, n+1)}
	for i, u := range uses {
		e.left[i] = u.N
		w := &p.Items[u.Item].Orientations[u.Orient]
		l, r := e.node(w.Left), e.node(w.Right)
		e.out[l] = append(e.out[l], endArc{i, r})
		e.balance[l] += u.N
		e.balance[r] -= u.N
	}
	return e
}

func (e *ends) node(class int) int {
	if class < 0 {
		return len(e.p.Setbacks)
	}
	return class
}

// trail walks from a node until it is stuck, which can only be where a trail must end.
func (e *ends) trail(at int) (path []int) {
	for len(e.out[at]) > 0 {
		a := e.out[at][len(e.out[at])-1]
		if e.left[a.use] == 0 {
			e.out[at] = e.out[at][:len(e.out[at])-1]
			continue
		}
		e.left[a.use]--
		e.balance[at]--
		e.balance[a.to]++
		path = append(path, a.use)
		at = a.to
	}
	return path
}

// open reports whether an arc that is not yet in a trail leaves the node.
func (e *ends) open(node int) bool {
	return slices.ContainsFunc(e.out[node], func(a endArc) bool { return e.left[a.use] > 0 })
}

// ring returns a node of a remaining ring, or -1.
func (e *ends) ring() int {
	v := -1
	for c := range e.out {
		if e.open(c) && (c == len(e.p.Setbacks) || v < 0 || e.p.Setbacks[c] < e.p.Setbacks[v]) {
			v = c
		}
	}
	return v
}

// splice inserts a ring into a trail that passes it, and reports whether there was one.
func (e *ends) splice() bool {
	for t, path := range e.trails {
		for i := range len(path) + 1 {
			u, first := 0, i == 0
			if first {
				u = path[0]
			} else {
				u = path[i-1]
			}
			w := &e.p.Items[e.uses[u].Item].Orientations[e.uses[u].Orient]
			at := e.node(w.Right)
			if first {
				at = e.node(w.Left)
			}
			if e.open(at) {
				e.trails[t] = slices.Concat(path[:i], e.trail(at), path[i:])
				return true
			}
		}
	}
	return false
}

// Maximal reports whether no further item fits.
func (p *Problem) Maximal(f *Pattern, x *PatternSize) bool {
	if p.Items[f.Uses[0].Item].Alone {
		return true
	}
	k := &p.Kinds[p.Bins[f.Bin].Kind]
	residual := p.Bins[f.Bin].Cap - x.Size
	if len(p.Setbacks) == 0 && k.Part[0] == 0 {
		j := 0
		for i := range p.Items {
			n := int64(0)
			if j < len(f.Uses) && f.Uses[j].Item == i {
				n = f.Uses[j].N
				j++
			}
			it := &p.Items[i]
			if n < it.Most && it.Orientations[0].Size <= residual && !it.Alone && (k.Barred == nil || !k.Barred[i]) && (k.Most == 0 || x.Pieces+it.Pieces <= k.Most) {
				return false
			}
		}
		return true
	}
	top := p.Deepest()
	for i := range p.Items {
		it := &p.Items[i]
		if it.Alone || it.Offcut > 0 || k.Barred != nil && k.Barred[i] {
			continue
		}
		n := int64(0)
		for _, u := range f.Uses {
			if u.Item == i {
				n += u.N
			}
		}
		if n >= it.Most {
			continue
		}
		for w := range it.Orientations {
			if it.Orientations[w].Size-2*top > residual {
				continue
			}
			g := f.With(i, w, 1)
			if _, ok := p.Fill(&g); ok {
				return false
			}
		}
	}
	return true
}

// FillSteps estimates the steps of adding one item to a pattern.
func (p *Problem) FillSteps(f *Pattern) int64 { return int64(20 + 8*len(f.Uses) + 4*len(p.Setbacks)) }

// Deepest returns the greatest setback.
func (p *Problem) Deepest() int64 {
	top := int64(0)
	for _, s := range p.Setbacks {
		top = max(top, s)
	}
	return top
}
