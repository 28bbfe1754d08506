package branchprice

import (
	"slices"

	"example.com/longpoint/internal/wide"
)

// maxTags bounds the states of a machine.
const maxTags = 400

// maxClasses is how many classes of ends a tag can follow.
const maxClasses = 6

// tag is what a filling's rules need to know of the items so far, whatever their
// order.
type tag struct {
	pieces int64 // where their number is limited
	long   bool
	linked bool // an item joins a nesting end to a square one
	nests  bool
	keeps  bool              // the offcut is among the items
	lean   [maxClasses]int16 // right ends less left ends, per class
}

// machine is a kind's rules as a commutative automaton over items: what is left to
// check of a filling depends on its tag only.
type machine struct {
	tags  []tag
	move  [][][]int16 // item, way, tag: the tag after one more, -1 where forbidden
	join  [][]int16   // tag, tag
	small [][]int64   // item, way: size when every nesting end meets another
	spare []int64     // per tag: what is missing of that

	// loose says that a filling may pass here and yet break a rule: Problem.Fill
	// decides.
	loose bool
}

// newMachine works out the rules of a kind for bins of at most cap.
func newMachine(p *Problem, kind int, cap int64) *machine {
	k := &p.Kinds[kind]
	m := &machine{loose: k.Part[0] > 0}
	// A square piece as long as the stick needs no cut and so nothing to hold; in a
	// filling with others it does not fit.
	whole := make([]bool, len(p.Items))
	for i := range p.Items {
		it := &p.Items[i]
		m.loose = m.loose || it.Offcut > 0 // which by itself is no filling
		if k.Hold == 0 || it.Long || !it.Uncut || k.Trim != [2]bool{} {
			continue
		}
		for b := range p.Bins {
			if p.Bins[b].Kind == kind && it.Ways[0].Size == p.Bins[b].Cap {
				whole[i], m.loose = true, true
			}
		}
	}
	m.small = make([][]int64, len(p.Items))
	for i := range p.Items {
		for _, w := range p.Items[i].Ways {
			s := w.Size
			for _, c := range [2]int{w.Left, w.Right} {
				if c >= 0 {
					s -= p.Setbacks[c] / 2
				}
			}
			m.small[i] = append(m.small[i], s)
		}
	}
	least := int64(0) // smallest item, every end nested
	nests := false
	for i := range p.Items {
		if p.Items[i].Alone || k.Bars != nil && k.Bars[i] {
			continue
		}
		for w, way := range p.Items[i].Ways {
			nests = nests || way.Left >= 0 || way.Right >= 0
			if s := m.small[i][w]; least == 0 || s < least {
				least = s
			}
		}
	}
	count := k.Most > 0 && m.crowds(p, k, cap)
	hold := k.Hold > 0 && k.Part[0] == 0
	if nests && len(p.Setbacks) > maxClasses {
		nests, m.loose = false, true
	}
	for {
		if m.grow(p, k, whole, cap, least, count, hold, nests) {
			break
		}
		m.loose = true
		switch {
		case nests:
			nests = false
		case count:
			count = false
		default:
			hold = false
		}
	}
	if nests && len(p.Setbacks) > 1 {
		m.loose = true // rings that do not touch are not told apart
	}
	m.spare = make([]int64, len(m.tags))
	for t, g := range m.tags {
		lean := false
		ring := int64(0)
		for c, s := range p.Setbacks {
			if c >= maxClasses {
				break
			}
			if d := int64(g.lean[c]); d != 0 {
				lean = true
				m.spare[t] += s / 2 * max(d, -d)
			}
			if ring == 0 || s < ring {
				ring = s
			}
		}
		if !lean && g.nests && !g.linked {
			m.spare[t] += ring
		}
	}
	return m
}

// crowds reports whether items of more pieces than the kind allows may fit within cap.
func (m *machine) crowds(p *Problem, k *Kind, cap int64) bool {
	for i := range p.Items {
		if p.Items[i].Alone || k.Bars != nil && k.Bars[i] {
			continue
		}
		for _, s := range m.small[i] {
			var x wide.Int
			x.AddMul(cap, p.Items[i].Pieces)
			x.AddMul(-max(s, 1), k.Most)
			x.AddMul(-max(s, 1), 1)
			if x.Sign() >= 0 {
				return true
			}
		}
	}
	return false
}

// grow builds the tags that fillings can have; false where they are too many.
func (m *machine) grow(p *Problem, k *Kind, whole []bool, cap, least int64, count, hold, nests bool) bool {
	m.tags = []tag{{}}
	index := map[tag]int16{{}: 0}
	add := func(g tag) int16 {
		t, ok := index[g]
		if !ok {
			t = int16(len(m.tags))
			index[g] = t
			m.tags = append(m.tags, g)
		}
		return t
	}
	// Leans beyond what ends of a class there can be are not followed.
	var most [maxClasses]int64
	if nests {
		for i := range p.Items {
			it := &p.Items[i]
			if it.Alone || k.Bars != nil && k.Bars[i] {
				continue
			}
			n := int64(0)
			for w := range it.Ways {
				n = max(n, min(it.Most, cap/m.small[i][w]))
			}
			for _, w := range it.Ways {
				for _, c := range [2]int{w.Left, w.Right} {
					if c >= 0 {
						most[c] += n
					}
				}
			}
		}
	}
	for c := range most {
		most[c] = min(most[c], cap/max(1, least))
	}
	step := func(g tag, pieces int64, long, offcut bool, left, right int) (tag, bool) {
		g.keeps = g.keeps || offcut
		if count {
			if g.pieces+pieces > k.Most {
				return g, false
			}
			g.pieces += pieces
		}
		g.long = g.long || hold && long
		if nests {
			if left >= 0 {
				g.lean[left]--
			}
			if right >= 0 {
				g.lean[right]++
			}
			g.nests = g.nests || left >= 0 || right >= 0
			g.linked = g.linked || (left >= 0) != (right >= 0)
			for c := range g.lean {
				if d := int64(g.lean[c]); d > most[c] || d < -most[c] {
					return g, false
				}
			}
		}
		return g, true
	}
	// What an item does to a tag depends on little; there are few such moves.
	type move struct {
		pieces      int64
		long        bool
		offcut      bool
		left, right int
	}
	var moves []move
	var after [][]int16 // per move
	of := make([][]int, len(p.Items))
	for i := range p.Items {
		it := &p.Items[i]
		for _, way := range it.Ways {
			at := -1
			if !it.Alone && (k.Bars == nil || !k.Bars[i]) {
				v := move{it.Pieces, it.Long || whole[i], it.Offcut > 0, way.Left, way.Right}
				if at = slices.Index(moves, v); at < 0 {
					at = len(moves)
					moves, after = append(moves, v), append(after, nil)
				}
			}
			of[i] = append(of[i], at)
		}
	}
	for t := 0; t < len(m.tags); t++ {
		if len(m.tags) > maxTags {
			return false
		}
		for n, v := range moves {
			to := int16(-1)
			if g, ok := step(m.tags[t], v.pieces, v.long, v.offcut, v.left, v.right); ok {
				to = add(g)
			}
			after[n] = append(after[n], to)
		}
	}
	never := slices.Repeat([]int16{-1}, len(m.tags))
	m.move = make([][][]int16, len(p.Items))
	for i := range p.Items {
		for _, n := range of[i] {
			if n < 0 {
				m.move[i] = append(m.move[i], never)
			} else {
				m.move[i] = append(m.move[i], after[n])
			}
		}
	}
	m.join = make([][]int16, len(m.tags))
	for a, x := range m.tags {
		m.join[a] = slices.Repeat([]int16{-1}, len(m.tags))
		for b, y := range m.tags {
			g := tag{pieces: x.pieces + y.pieces, long: x.long || y.long, linked: x.linked || y.linked, nests: x.nests || y.nests, keeps: x.keeps || y.keeps}
			for c := range g.lean {
				g.lean[c] = x.lean[c] + y.lean[c]
			}
			if t, ok := index[g]; ok {
				m.join[a][b] = t
			}
		}
	}
	return true
}
