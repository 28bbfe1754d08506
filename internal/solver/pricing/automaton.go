package pricing

import (
	"slices"

	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/wide"
)

// maxStates limits the states of an automaton.
const maxStates = 400

// maxClasses limits the classes of ends that a state tracks.
const maxClasses = 6

// state is the information about the items so far that a pattern's rules need, regardless of their
// order.
type ruleState struct {
	pieces    int64 // if their number is limited
	long      bool
	linked    bool // an item joins a nesting end to a square one
	nests     bool
	hasOffcut bool              // the offcut is among the items
	imbalance [maxClasses]int16 // right ends minus left ends, per class
}

// automaton expresses a kind's rules as a commutative automaton over items: the state
// determines what remains to be checked of a pattern.
type automaton struct {
	states        []ruleState
	transition    [][][]int16 // item, orientation, state: the state after one more, -1 if forbidden
	concatenation [][]int16   // state, state
	small         [][]int64   // item, orientation: size if every nesting end meets another
	closingLoss   []int64     // per state: how much a pattern lacks compared with that

	// relaxed means that a pattern may be accepted here and still violate a rule: Problem.Fill decides.
	relaxed bool
}

// newAutomaton compiles the rules of a kind for bins of at most cap.
func newAutomaton(p *rules.Problem, kind int, cap int64) *automaton {
	k := &p.Kinds[kind]
	m := &automaton{relaxed: k.Part[0] > 0}
	whole := m.wholeSticks(p, kind)
	least, nests := m.leastSizes(p, k)
	count := k.Most > 0 && m.crowds(p, k, cap)
	hold := k.Hold > 0 && k.Part[0] == 0
	if nests && len(p.Setbacks) > maxClasses {
		nests, m.relaxed = false, true
	}
	for {
		if m.grow(p, k, whole, cap, least, count, hold, nests) {
			break
		}
		m.relaxed = true
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
		m.relaxed = true // rings that do not touch are not distinguished
	}
	m.setClosingLoss(p)
	return m
}

// wholeSticks returns which items take a whole stick of the kind without a cut: a square piece
// as long as the stick does not have to be held, and does not fit in a pattern with others.
func (m *automaton) wholeSticks(p *rules.Problem, kind int) []bool {
	k := &p.Kinds[kind]
	whole := make([]bool, len(p.Items))
	for i := range p.Items {
		it := &p.Items[i]
		m.relaxed = m.relaxed || it.Offcut > 0 // which alone is not a pattern
		if k.Hold == 0 || it.Long || !it.Uncut || k.Trim != [2]bool{} {
			continue
		}
		for b := range p.Bins {
			if p.Bins[b].Kind == kind && it.Orientations[0].Size == p.Bins[b].Cap {
				whole[i], m.relaxed = true, true
			}
		}
	}
	return whole
}

// leastSizes computes the sizes of items if every end meets another, and returns the smallest
// for the kind and whether ends nest.
func (m *automaton) leastSizes(p *rules.Problem, k *rules.PatternRules) (least int64, nests bool) {
	m.small = make([][]int64, len(p.Items))
	for i := range p.Items {
		barred := p.Items[i].Alone || k.Barred != nil && k.Barred[i]
		for _, w := range p.Items[i].Orientations {
			s := w.Size
			for _, c := range [2]int{w.Left, w.Right} {
				if c >= 0 {
					s -= p.Setbacks[c] / 2
				}
			}
			m.small[i] = append(m.small[i], s)
			if barred {
				continue
			}
			nests = nests || w.Left >= 0 || w.Right >= 0
			if least == 0 || s < least {
				least = s
			}
		}
	}
	return least, nests
}

// setClosingLoss computes how much each state lacks compared with every end meeting another.
func (m *automaton) setClosingLoss(p *rules.Problem) {
	m.closingLoss = make([]int64, len(m.states))
	for t, g := range m.states {
		unbalanced := false
		ring := int64(0)
		for c, s := range p.Setbacks {
			if c >= maxClasses {
				break
			}
			if d := int64(g.imbalance[c]); d != 0 {
				unbalanced = true
				m.closingLoss[t] += s / 2 * max(d, -d)
			}
			if ring == 0 || s < ring {
				ring = s
			}
		}
		if !unbalanced && g.nests && !g.linked {
			m.closingLoss[t] += ring
		}
	}
}

// crowds reports whether items with more pieces than the kind allows may fit within cap.
func (m *automaton) crowds(p *rules.Problem, k *rules.PatternRules, cap int64) bool {
	for i := range p.Items {
		if p.Items[i].Alone || k.Barred != nil && k.Barred[i] {
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

// grow builds the reachable states; it returns false if there are too many.
func (m *automaton) grow(p *rules.Problem, k *rules.PatternRules, whole []bool, cap, least int64, count, hold, nests bool) bool {
	g := grower{automaton: m, kind: k, count: count, hold: hold, nests: nests}
	if nests {
		g.limitImbalance(p, cap, least)
	}
	m.states = []ruleState{{}}
	index := map[ruleState]int16{{}: 0}
	moves, of := movesOf(p, k, whole)
	after := make([][]int16, len(moves)) // for each move
	for t := 0; t < len(m.states); t++ {
		if len(m.states) > maxStates {
			return false
		}
		for n, v := range moves {
			to := int16(-1)
			if s, ok := g.step(m.states[t], v); ok {
				if to, ok = index[s]; !ok {
					to = int16(len(m.states))
					index[s] = to
					m.states = append(m.states, s)
				}
			}
			after[n] = append(after[n], to)
		}
	}
	never := slices.Repeat([]int16{-1}, len(m.states))
	m.transition = make([][][]int16, len(p.Items))
	for i := range p.Items {
		for _, n := range of[i] {
			if n < 0 {
				m.transition[i] = append(m.transition[i], never)
			} else {
				m.transition[i] = append(m.transition[i], after[n])
			}
		}
	}
	m.concatenate(index)
	return true
}

// concatenate computes the state of two parts of a pattern together.
func (m *automaton) concatenate(index map[ruleState]int16) {
	m.concatenation = make([][]int16, len(m.states))
	for a, x := range m.states {
		m.concatenation[a] = slices.Repeat([]int16{-1}, len(m.states))
		for b, y := range m.states {
			g := ruleState{pieces: x.pieces + y.pieces, long: x.long || y.long, linked: x.linked || y.linked, nests: x.nests || y.nests, hasOffcut: x.hasOffcut || y.hasOffcut}
			for c := range g.imbalance {
				g.imbalance[c] = x.imbalance[c] + y.imbalance[c]
			}
			if t, ok := index[g]; ok {
				m.concatenation[a][b] = t
			}
		}
	}
}

// move is the effect of an item on a state. It depends on little, so there are few.
type move struct {
	pieces      int64
	long        bool
	offcut      bool
	left, right int
}

// movesOf returns the distinct moves, and the move of each item and orientation, -1 if the kind
// forbids it.
func movesOf(p *rules.Problem, k *rules.PatternRules, whole []bool) (moves []move, of [][]int) {
	of = make([][]int, len(p.Items))
	for i := range p.Items {
		it := &p.Items[i]
		for _, way := range it.Orientations {
			at := -1
			if !it.Alone && (k.Barred == nil || !k.Barred[i]) {
				v := move{it.Pieces, it.Long || whole[i], it.Offcut > 0, way.Left, way.Right}
				if at = slices.Index(moves, v); at < 0 {
					at = len(moves)
					moves = append(moves, v)
				}
			}
			of[i] = append(of[i], at)
		}
	}
	return moves, of
}

// grower has the parts of a kind's rules that states track.
type grower struct {
	*automaton
	kind               *rules.PatternRules
	count, hold, nests bool
	most               [maxClasses]int64 // of the imbalance of each class
}

// limitImbalance sets how many more ends of a class there can be on one side than on the other;
// states beyond that are not tracked.
func (g *grower) limitImbalance(p *rules.Problem, cap, least int64) {
	for i := range p.Items {
		it := &p.Items[i]
		if it.Alone || g.kind.Barred != nil && g.kind.Barred[i] {
			continue
		}
		n := int64(0)
		for w := range it.Orientations {
			n = max(n, min(it.Most, cap/g.small[i][w]))
		}
		for _, w := range it.Orientations {
			for _, c := range [2]int{w.Left, w.Right} {
				if c >= 0 {
					g.most[c] += n
				}
			}
		}
	}
	for c := range g.most {
		g.most[c] = min(g.most[c], cap/max(1, least))
	}
}

// step returns the state after a move; false if the rules forbid it.
func (g *grower) step(s ruleState, v move) (ruleState, bool) {
	s.hasOffcut = s.hasOffcut || v.offcut
	if g.count {
		if s.pieces+v.pieces > g.kind.Most {
			return s, false
		}
		s.pieces += v.pieces
	}
	s.long = s.long || g.hold && v.long
	if !g.nests {
		return s, true
	}
	if v.left >= 0 {
		s.imbalance[v.left]--
	}
	if v.right >= 0 {
		s.imbalance[v.right]++
	}
	s.nests = s.nests || v.left >= 0 || v.right >= 0
	s.linked = s.linked || (v.left >= 0) != (v.right >= 0)
	for c := range s.imbalance {
		if d := int64(s.imbalance[c]); d > g.most[c] || d < -g.most[c] {
			return s, false
		}
	}
	return s, true
}
