package optimize

import (
	"cmp"
	"math"
	"slices"
	"sort"

	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// orderer chooses the order in which the pieces of a pattern are cut, and which of them are
// turned. It changes neither the cost nor any goal, and no other order leaves more of a stick.
//
// Among all orders that the rules permit and that use the least of the stick for their number
// of turned pieces, it chooses by these criteria, in order of importance: the fewest cuts
// without a part as long as Rules.MinHold, the fewest pieces cut from too short a remnant (see
// Problem.MinRemnant), the fewest turned pieces, and then the lexicographically least order by
// length: the shortest piece first, then the shortest that can follow, and so on.
type orderer struct {
	in    *instance // only the problem and the classes of ends are used
	parts []stock.Piece
	group []int // per piece: 1 and the index of its group in sequence, or 0
	fixed bool  // keep turned pieces turned
	steps int   // budget left for searches
}

// Searches are rare, and nearly all take a few hundred steps. If one exceeds its budget, the
// order that keeps pieces with shared cuts together is used.
const (
	orderSteps = 1 << 20 // per search
	orderTotal = 1 << 23 // all searches of a plan
)

func newOrderer(in *instance, parts []stock.Piece) *orderer {
	p := in.problem
	o := &orderer{in: in, parts: parts, group: make([]int, len(p.Pieces)+len(parts)), steps: orderTotal}
	for g := range p.Rules.Groups {
		if p.Rules.Groups[g].Kind == GroupInSequence {
			for _, i := range p.Rules.Groups[g].Pieces {
				o.group[i] = g + 1
			}
		}
	}
	return o
}

// cell is a piece as it lies: its sizes in the unit of instance.double, and its ends.
type cell struct {
	length, kerf int64 // kerf is the width of the cut at its right end
	left, right  edge
}

// edge identifies ends: 0 for a square one, 1 plus the class of an end that may share its cut
// with one of the same class, negative for one that cannot share.
type edge int

// lay is one way in which pieces that stay together may lie.
type lay struct {
	cells []cell
	turn  Turn
}

// kind is a set of interchangeable pieces: equal single ones, or sets of a group in sequence.
type kind struct {
	ways []lay
	ids  [][]int // in the order of assignment
}

// placed is a set of pieces with its position in a pattern.
type placed struct {
	kind int
	lay  int
}

// bay is a part of a stick that can be cut without a break.
type bay struct {
	width      int64 // in the unit of instance.double
	first, end int   // its pieces in Pattern.Pieces
}

func (o *orderer) piece(i int) *stock.Piece {
	if n := len(o.in.problem.Pieces); i >= n {
		return &o.parts[i-n]
	}
	return &o.in.problem.Pieces[i]
}

// lays returns the ways in which a piece may lie, as given first.
func (o *orderer) lays(i int) []lay {
	pc := o.piece(i)
	var out []lay
	ways, turns := o.in.ways(pc)
	for k, w := range ways {
		l, r := pc.Left, pc.Right
		if turns[k].EndForEnd {
			l, r = r, l
		}
		size := int64(pc.Length) * o.in.double
		out = append(out, lay{[]cell{{size, w.Size - size, edgeOf(w.Left, l), edgeOf(w.Right, r)}}, turns[k]})
	}
	return out
}

func edgeOf(class int, e stock.End) edge {
	switch {
	case class != rules.Square:
		return edge(class + 1)
	case e.LongPoint() == stock.SectionAll:
		return 0
	}
	return -1
}

// shares returns the length that two neighbors save by sharing a cut.
func (o *orderer) shares(right, left edge) int64 {
	if right <= 0 || right != left {
		return 0
	}
	return int64(o.in.ends[left-1].setback) * o.in.double
}

// tail is the last pieces of a bay, in order.
type tail struct {
	left    edge
	turned  int
	used    int64 // length used of the bay, including the kerf after the last piece
	faults  int64 // see fault
	pending int64 // faults of the last piece, unless the cut before it makes its left end
	any     bool
}

// holdFault is the penalty of a cut without a part that can be held. It exceeds the penalty of
// cutting all pieces of a stick from too short a remnant.
const holdFault = 1 << 32

// fault returns the penalty for cutting length from a remnant so that rest is left.
func (o *orderer) fault(length, remnant, rest int64) int64 {
	n := int64(0)
	least := o.in.problem.minRemnant()
	if remnant < int64(min(least, math.MaxInt64/2))*o.in.double {
		n++
	}
	if hold := int64(o.in.problem.Rules.MinHold) * o.in.double; max(length, rest) < hold {
		n += holdFault
	}
	return n
}

// before puts pieces before a tail. spare is the width of the bay less the length that all its
// pieces use; it is negative if the last cut runs past the end of the bay.
func (o *orderer) before(t tail, l *lay, spare int64) tail {
	for k := len(l.cells) - 1; k >= 0; k-- {
		c := &l.cells[k]
		if !t.any {
			t = tail{left: c.left, used: c.length + c.kerf, any: true}
			switch f := o.fault(c.length, spare+t.used, max(spare, 0)); {
			case c.right == 0 && spare+c.kerf == 0:
				t.pending = f // no cut at its right
			default:
				t.faults = f
			}
			continue
		}
		save := o.shares(c.right, t.left)
		if save == 0 && (c.right != 0 || t.left != 0) {
			t.faults += t.pending
		}
		t.pending = 0
		rest := spare + t.used
		t.used += c.length + c.kerf - save
		t.faults += o.fault(c.length, spare+t.used, rest)
		t.left = c.left
	}
	if l.turn != (Turn{}) {
		t.turned++
	}
	return t
}

// whole completes a tail that fills its bay.
func whole(t tail) tail {
	if t.left != 0 {
		t.faults += t.pending
	}
	t.pending = 0
	return t
}

// reckon evaluates an order in a bay.
func (o *orderer) reckon(kinds []kind, order []placed, width int64) tail {
	add := func(spare int64) (t tail) {
		for k := len(order) - 1; k >= 0; k-- {
			t = o.before(t, &kinds[order[k].kind].ways[order[k].lay], spare)
		}
		return whole(t)
	}
	return add(width - add(0).used)
}

// pieceSteps is the cost in meter steps of putting one piece in order.
const pieceSteps = 32

// plan puts the pieces of all patterns in order and updates the offcuts.
func (o *orderer) plan(patterns []Pattern) []Pattern {
	patterns = slices.Clone(patterns)
	longest, keeper := measure.Length(-1), 0
	for k := range patterns {
		if patterns[k].Offcut > longest {
			longest, keeper = patterns[k].Offcut, k
		}
	}
	for k := range patterns {
		if !o.awaited(pieceSteps * (1 + len(patterns[k].Pieces))) {
			break // keep any order
		}
		o.pattern(&patterns[k], k == keeper)
	}
	return patterns
}

// pattern puts the pieces of one pattern in order. If keep is set, the offcut stays the same.
func (o *orderer) pattern(pat *Pattern, keep bool) {
	pieces, turned := make([]int, 0, len(pat.Pieces)), make([]Turn, 0, len(pat.Pieces))
	offcut := measure.Length(0)
	for _, b := range o.bays(pat) {
		if b.first == b.end {
			offcut = max(offcut, measure.Length(b.width/o.in.double))
			continue
		}
		kinds, order := o.gather(pat, b)
		order, left := o.bay(kinds, order, b.width, pat.Offcut, keep)
		offcut = max(offcut, left)
		next := make([]int, len(kinds))
		for _, u := range order {
			kd := &kinds[u.kind]
			for range kd.ids[next[u.kind]] {
				turned = append(turned, kd.ways[u.lay].turn)
			}
			pieces = append(pieces, kd.ids[next[u.kind]]...)
			next[u.kind]++
		}
	}
	pat.Pieces, pat.Turned, pat.Offcut = pieces, nil, offcut
	if slices.ContainsFunc(turned, func(t Turn) bool { return t != Turn{} }) {
		pat.Turned = turned
	}
}

// bays returns the parts of a stick that can be cut without a break, as Pattern describes.
func (o *orderer) bays(pat *Pattern) []bay {
	p := o.in.problem
	s := &p.Sticks[pat.Stick]
	n := len(pat.Pieces)
	if t := p.Rules.MaxTransport; t > 0 && !s.Rack && s.Length > t {
		var one measure.Length
		for _, i := range pat.Pieces[:pat.YardAfter] {
			one += o.piece(i).Length + p.Kerf
		}
		cut, from := p.yardCut(s, one)
		double := func(l measure.Length) int64 { return int64(max(l, 0)) * o.in.double }
		return []bay{{double(cut - s.TrimStart), 0, pat.YardAfter}, {double(s.Length - s.TrimEnd - from), pat.YardAfter, n}}
	}
	if pat.Stretch == nil {
		return []bay{{int64(usable(s)) * o.in.double, 0, n}}
	}
	var out []bay
	at := 0
	for k, w := range clearStretches(s) {
		b := bay{int64(w.To-w.From) * o.in.double, at, at}
		for b.end < n && pat.Stretch[b.end] == k {
			b.end++
		}
		out = append(out, b)
		at = b.end
	}
	return out
}

// likeness is the key of a kind.
type likeness struct {
	group       int // in sequence, from 1
	length      measure.Length
	left, right stock.End
	symmetry    stock.Symmetry
	turn        Turn // if it is fixed
}

func (o *orderer) likeness(i int, t Turn) likeness {
	if g := o.group[i]; g > 0 {
		return likeness{group: g}
	}
	pc := o.piece(i)
	l := likeness{length: pc.Length, left: pc.Left, right: pc.Right, symmetry: pc.Symmetry}
	if o.fixed {
		l.turn = t
	}
	if !o.in.problem.Rules.Nest {
		// It only matters whether a cut is square.
		even := func(e stock.End) stock.End {
			if e.LongPoint() == stock.SectionAll {
				return stock.End{}
			}
			return stock.End{Kind: stock.EndInsideMiter}
		}
		l.left, l.right, l.symmetry = even(l.left), even(l.right), stock.SymmetryNone
	}
	return l
}

// gather returns the pieces of a bay by kind, shortest first, and their current order.
func (o *orderer) gather(pat *Pattern, b bay) ([]kind, []placed) {
	type found struct {
		kind
		number int
		length int64
	}
	var all []found
	var order []placed
	known := map[likeness]int{}
	for j := b.first; j < b.end; {
		i := pat.Pieces[j]
		turn := Turn{}
		if pat.Turned != nil {
			turn = pat.Turned[j]
		}
		ids := []int{i}
		if g := o.group[i]; g > 0 {
			ids = o.in.problem.Rules.Groups[g-1].Pieces
		}
		j += len(ids)
		like := o.likeness(i, turn)
		k, ok := known[like]
		if !ok {
			k = len(all)
			known[like] = k
			ways := o.lays(i)
			if len(ids) > 1 {
				ways = []lay{{nil, Turn{}}}
				for _, id := range ids {
					ways[0].cells = append(ways[0].cells, o.lays(id)[0].cells...)
				}
			}
			if o.fixed {
				ways = slices.DeleteFunc(ways, func(l lay) bool { return l.turn != turn })
			}
			f := found{kind: kind{ways: ways}, number: k}
			for _, c := range ways[0].cells {
				f.length += c.length
			}
			all = append(all, f)
		}
		all[k].ids = append(all[k].ids, ids)
		order = append(order, placed{k, slices.IndexFunc(all[k].ways, func(l lay) bool { return l.turn == turn })})
	}
	for k := range all {
		slices.SortFunc(all[k].ids, slices.Compare)
	}
	slices.SortFunc(all, func(x, y found) int {
		return cmp.Or(cmp.Compare(x.length, y.length), slices.Compare(x.ids[0], y.ids[0]))
	})
	kinds, to := make([]kind, len(all)), make([]int, len(all))
	for k := range all {
		kinds[k], to[all[k].number] = all[k].kind, k
	}
	for k := range order {
		order[k].kind = to[order[k].kind]
	}
	return kinds, order
}

// bay puts the pieces of a bay in order and returns the new offcut.
func (o *orderer) bay(kinds []kind, order []placed, width int64, offcut measure.Length, keep bool) ([]placed, measure.Length) {
	p := o.in.problem
	now := o.reckon(kinds, order, width)
	left := func(t tail) measure.Length { return measure.Length(max(0, width-t.used) / o.in.double) }
	// The offcut must be at least need, so that no goal gets worse and no rule is broken.
	need := int64(0)
	if l := left(now); keep && l == offcut {
		need = int64(l) * o.in.double
	} else {
		worth := p.Rules.OffcutValues // ascending
		if n := sort.Search(len(worth), func(k int) bool { return worth[k].Length > l }); n > 0 && slices.Contains(p.Rules.Goals, GoalOffcutValue) {
			need = int64(worth[n-1].Length) * o.in.double
		}
		if l >= p.Rules.MinHold && !o.long(kinds) {
			need = max(need, int64(p.Rules.MinHold)*o.in.double)
		}
	}
	room := width - need
	if need == 0 {
		room = width + int64(p.Kerf)*o.in.double
	}
	quick := o.join(kinds, order, width)
	best := o.reckon(kinds, quick, width)
	if best.turned == 0 && best.faults == 0 {
		return quick, left(best)
	}
	cuts := slices.Contains(p.Rules.Goals, GoalCuts)
	if found, ok := o.search(kinds, width, room, now.turned); ok {
		order = found
		// Safety comes first: allow more turned pieces if that keeps hands away from the blade.
		if t := o.reckon(kinds, order, width); t.faults > 0 && now.turned < len(order) {
			if found, ok := o.search(kinds, width, room, len(order)); ok {
				if u := o.reckon(kinds, found, width); u.faults < t.faults && !(cuts && left(now) == 0 && left(u) > 0) {
					order = found
				}
			}
		}
	} else {
		order = o.join(kinds, o.unturn(kinds, quick, width, room), width)
	}
	t := o.reckon(kinds, order, width)
	// One piece that fills the bay needs no MinHold. If nothing is left, no cut that would free
	// more is needed.
	if left(t) > 0 && left(now) == 0 && cuts || t.turned < now.turned && t.faults >= holdFault {
		return quick, left(best)
	}
	return order, left(t)
}

// long reports whether some piece is long enough for the saw to hold.
func (o *orderer) long(kinds []kind) bool {
	for k := range kinds {
		if slices.ContainsFunc(kinds[k].ways[0].cells, func(c cell) bool { return c.length >= int64(o.in.problem.Rules.MinHold)*o.in.double }) {
			return true
		}
	}
	return false
}

// join orders the groups of pieces with shared cuts, shortest first.
func (o *orderer) join(kinds []kind, order []placed, width int64) []placed {
	type segment struct {
		from, to int
		length   int64
	}
	var all []segment
	right := edge(0)
	for k, u := range order {
		l := &kinds[u.kind].ways[u.lay]
		if k == 0 || o.shares(right, l.cells[0].left) == 0 {
			all = append(all, segment{from: k})
		}
		s := &all[len(all)-1]
		s.to = k + 1
		for _, c := range l.cells {
			s.length += c.length
		}
		right = l.cells[len(l.cells)-1].right
	}
	slices.SortStableFunc(all, func(a, b segment) int {
		return cmp.Or(cmp.Compare(a.length, b.length), cmp.Compare(order[a.from].kind, order[b.from].kind))
	})
	var out []placed
	for _, s := range all {
		out = append(out, order[s.from:s.to]...)
	}
	return out
}

// unturn turns pieces back to how they were given: all of them or, one by one, as many as the
// room permits.
func (o *orderer) unturn(kinds []kind, order []placed, width, room int64) []placed {
	if o.fixed {
		return order
	}
	try := func(now []placed) bool { return o.reckon(kinds, now, width).used <= room }
	all := slices.Clone(order)
	for k := range all {
		all[k].lay = 0
	}
	if try(all) {
		return all
	}
	if len(order) > 200 {
		return order
	}
	all = slices.Clone(order)
	for again := true; again; {
		again = false
		for k := range all {
			if u := all[k]; u.lay > 0 && o.awaited(len(all)) {
				all[k].lay = 0
				if try(all) {
					again = true
				} else {
					all[k] = u
				}
			}
		}
	}
	return all
}
