// Package brute solves tiny problems by brute force, and makes random ones with any rules, for
// tests.
package brute

import (
	"encoding/json"
	"math/bits"
	"slices"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// brute solves a tiny problem with rules by brute force: it tries every way to splice the runs,
// every lot for a group of one lot, every partition of the pieces among sticks, every order and
// turn with nesting ends, every part of a stick, every purchase. It is written from the
// comments on Problem, Rules and Pattern and shares no code with the solver or the checker.
type brute struct {
	p      *optimize.Problem
	goals  []optimize.Goal // without GoalCost
	longOf measure.Length  // the longest of Problem.Pieces
	price  []int64         // per stick, without price breaks
	money  bool

	joins int64            // splices of the current way
	bill  map[uint64]int64 // purchases by the cuts of each stick
	found bool
	best  []int64 // value of each goal, GoalCost first, negated if greater is better
}

// Solve returns the best value of each goal in turn; greater is better for GoalOffcutValue and
// GoalLongestOffcut, as in a GoalResult. Goals from GoalPatterns on are omitted. It returns
// false if there is no plan. The goals of a problem without any are the four defaults of
// Rules.Goals.
func Solve(p *optimize.Problem) ([]int64, bool) {
	b := &brute{p: p, bill: map[uint64]int64{}}
	goals := p.Rules.Goals
	if len(goals) == 0 {
		goals = []optimize.Goal{optimize.GoalCost, optimize.GoalSticks, optimize.GoalSplices, optimize.GoalLongestOffcut}
	}
	if k := slices.Index(goals, optimize.GoalPatterns); k >= 0 {
		goals = goals[:k]
	}
	b.goals = goals[1:]
	for i := range p.Pieces {
		b.longOf = max(b.longOf, p.Pieces[i].Length)
	}
	for i := range p.Sticks {
		b.price = append(b.price, p.Sticks[i].Price)
		b.money = b.money || p.Sticks[i].Price > 0
		for _, x := range p.Sticks[i].Breaks {
			b.money = b.money || x.Price > 0
		}
	}
	for _, c := range p.Rules.Charges {
		b.money = b.money || c.Amount > 0
	}
	for i := range p.Runs {
		b.money = b.money || p.Runs[i].Splice.Price > 0
	}
	b.money = b.money || p.Rules.YardCut > 0
	if !b.money {
		for i := range p.Sticks {
			b.price[i] = int64(p.Sticks[i].Length)
		}
	}
	b.splice(0, nil, 0)
	if !b.found {
		return nil, false
	}
	for k, g := range b.goals {
		if g == optimize.GoalOffcutValue || g == optimize.GoalLongestOffcut {
			b.best[k+1] = -b.best[k+1]
		}
	}
	return b.best, true
}

// splice tries every way to splice the runs from r on.
func (b *brute) splice(r int, parts []stock.Piece, cost int64) {
	if r == len(b.p.Runs) {
		b.pack(parts, cost)
		return
	}
	run := &b.p.Runs[r]
	for set := range 1 << len(run.Splice.At) {
		var at []measure.Length
		for k, x := range run.Splice.At {
			if set>>k&1 == 1 {
				at = append(at, x)
			}
		}
		if m := run.Splice.MaxSplices; m > 0 && len(at) > m {
			continue
		}
		ps, err := run.Pieces(at)
		if b.p.Rules.Nest && slices.ContainsFunc(ps, crossed) {
			continue
		}
		if err == nil {
			b.joins += int64(len(at))
			b.splice(r+1, append(slices.Clone(parts), ps...), cost+run.Splice.Price*int64(len(at)))
			b.joins -= int64(len(at))
		}
	}
}

// packer divides single pieces among sticks. Sets of pieces are bits.
type packer struct {
	b     *brute
	of    []int // per single piece: its index in Pattern.Pieces
	piece []stock.Piece
	seq   []place // its place in a group in sequence
	may   []uint  // per stick: the permitted pieces
	fills [][]*[]filled
	used  map[uint][]measure.Length
}

// place is a piece's place in a group of GroupInSequence.
type place struct {
	at, of int
	before int // the preceding piece, -1 for none
	after  int
}

// filled is the contribution of one way to cut a stick to the goals.
type filled struct {
	cuts    int64
	worth   int64 // value of the offcuts, if needed
	longest measure.Length
}

// reached is the contribution of one partition of some of the pieces.
type reached struct {
	cut     uint64 // count of each stick, four bits each
	cuts    int64
	worth   int64
	longest measure.Length
}

func (b *brute) pack(parts []stock.Piece, cost int64) {
	p := b.p
	k := &packer{b: b, used: map[uint][]measure.Length{}}
	for i := range p.Pieces {
		for range max(1, p.Pieces[i].Quantity) {
			k.of, k.piece = append(k.of, i), append(k.piece, p.Pieces[i])
		}
	}
	for j := range parts {
		k.of, k.piece = append(k.of, len(p.Pieces)+j), append(k.piece, parts[j])
	}
	for _, i := range k.of {
		q := place{of: 1, before: -1, after: -1}
		for _, g := range p.Rules.Groups {
			if at := slices.Index(g.Pieces, i); at >= 0 && g.Kind == optimize.GroupInSequence {
				q.at, q.of = at, len(g.Pieces)
				if at > 0 {
					q.before = g.Pieces[at-1]
				}
				if at < q.of-1 {
					q.after = g.Pieces[at+1]
				}
			}
		}
		k.seq = append(k.seq, q)
	}
	for range p.Sticks {
		k.fills = append(k.fills, make([]*[]filled, 1<<len(k.of)))
	}
	k.chooseLots(0, make([]string, len(p.Rules.Groups)), cost)
}

// chooseLots tries every lot for each group of one lot.
func (k *packer) chooseLots(g int, lots []string, cost int64) {
	p := k.b.p
	for ; g < len(p.Rules.Groups) && p.Rules.Groups[g].Kind != optimize.GroupOneLot; g++ {
	}
	if g < len(p.Rules.Groups) {
		if p.Rules.Groups[g].Started {
			lots[g] = p.Rules.Groups[g].Lot
			k.chooseLots(g+1, lots, cost)
			return
		}
		var seen []string
		for i := range p.Sticks {
			if l := p.Sticks[i].Lot; !slices.Contains(seen, l) {
				seen = append(seen, l)
				lots[g] = l
				k.chooseLots(g+1, lots, cost)
			}
		}
		return
	}
	k.may = nil
	for s := range p.Sticks {
		var may uint
		for u, i := range k.of {
			ok := k.piece[u].Grade <= p.Sticks[s].Grade
			for g := range p.Rules.Groups {
				if p.Rules.Groups[g].Kind == optimize.GroupOneLot && slices.Contains(p.Rules.Groups[g].Pieces, i) {
					ok = ok && p.Sticks[s].Lot == lots[g]
				}
			}
			if ok {
				may |= 1 << u
			}
		}
		k.may = append(k.may, may)
	}
	k.part(cost)
}

// part finds every partition of the pieces, as far as the goals distinguish them.
func (k *packer) part(cost int64) {
	b := k.b
	for _, r := range k.partitions() {
		bill, ok := b.buy(r.cut)
		if !ok {
			continue
		}
		v := k.values(r, bill+cost)
		if !b.found || slices.Compare(v, b.best) < 0 {
			b.found, b.best = true, v
		}
	}
}

// partitions returns the cost of every way to divide the pieces among sticks.
func (k *packer) partitions() []reached {
	b := k.b
	full := uint(1)<<len(k.of) - 1
	all := make([][]reached, full+1)
	all[0] = []reached{{}}
	for set := uint(1); set <= full; set++ {
		seen := map[reached]bool{}
		low := set & -set
		for rest := set ^ low; ; rest = (rest - 1) & (set ^ low) {
			take := set ^ rest // it contains low
			for s := range b.p.Sticks {
				if take&^k.may[s] != 0 || len(all[rest]) == 0 {
					continue
				}
				for _, f := range k.fill(s, take) {
					for _, r := range all[rest] {
						n := r.cut >> (4 * s) & 15
						if l := b.p.Sticks[s].Limit; l > 0 && n >= uint64(l) {
							continue
						}
						r.cut += 1 << (4 * s)
						k.count(&r, s, f)
						seen[r] = true
					}
				}
			}
			if rest == 0 {
				break
			}
		}
		for r := range seen {
			all[set] = append(all[set], r)
		}
	}
	return all[full]
}

// values returns the value of each goal, less if it is better.
func (k *packer) values(r reached, cost int64) []int64 {
	v := []int64{cost}
	for _, g := range k.b.goals {
		switch g {
		case optimize.GoalSticks:
			n := int64(0)
			for c := r.cut; c > 0; c >>= 4 {
				n += int64(c & 15)
			}
			v = append(v, n)
		case optimize.GoalOffcutValue:
			v = append(v, -r.worth)
		case optimize.GoalLongestOffcut:
			v = append(v, -int64(r.longest))
		case optimize.GoalCuts:
			v = append(v, r.cuts)
		case optimize.GoalSplices:
			v = append(v, k.b.joins)
		}
	}
	return v
}

// count adds the contribution of a stick to the requested goals.
func (k *packer) count(r *reached, s int, f filled) {
	for _, g := range k.b.goals {
		switch g {
		case optimize.GoalOffcutValue:
			r.worth += f.worth
			switch st := &k.b.p.Sticks[s]; {
			case st.Rack && len(st.Defects) > 0:
				for _, w := range ClearOf(st) {
					r.worth -= k.b.worth(w)
				}
			case st.Rack:
				r.worth -= k.b.worth(st.Length)
			}
		case optimize.GoalLongestOffcut:
			r.longest = max(r.longest, f.longest)
		case optimize.GoalCuts:
			r.cuts += f.cuts
		}
	}
}

// worth returns the value of an offcut, if needed.
func (k *packer) worth(l measure.Length) int64 {
	if !slices.Contains(k.b.goals, optimize.GoalOffcutValue) {
		return 0
	}
	return k.b.worth(l)
}

func (b *brute) worth(l measure.Length) int64 {
	for _, w := range slices.Backward(b.p.Rules.OffcutValues) {
		if w.Length <= l {
			return w.Value
		}
	}
	return 0
}

// carried reports whether the stick can be transported uncut.
func (b *brute) carried(s *stock.Stick) bool {
	return b.p.Rules.MaxTransport == 0 || s.Rack || s.Length <= b.p.Rules.MaxTransport
}

// fill returns every way to cut the pieces from one stick.
func (k *packer) fill(s int, set uint) []filled {
	if m := k.fills[s][set]; m != nil {
		return *m
	}
	st := &k.b.p.Sticks[s]
	var out []filled
	if k.b.carried(st) {
		widths := ClearOf(st)
		out = k.along(widths, set, widths[0] == st.Length)
	} else {
		out = k.inYard(st, set)
	}
	k.fills[s][set] = &out
	return out
}

// ClearOf returns the widths of the clear stretches between ends and defects.
func ClearOf(s *stock.Stick) (widths []measure.Length) {
	// Between adjacent marks a stick is entirely clear or entirely not.
	marks := []measure.Length{s.TrimStart, s.Length - s.TrimEnd}
	for _, d := range s.Defects {
		marks = append(marks, d.From, d.To)
	}
	slices.Sort(marks)
	var run measure.Length
	for i := 1; i < len(marks); i++ {
		from, to := marks[i-1], marks[i]
		if from == to {
			continue
		}
		clear := from >= s.TrimStart && to <= s.Length-s.TrimEnd
		for _, d := range s.Defects {
			clear = clear && (to <= d.From || from >= d.To)
		}
		if clear {
			run += to - from
		} else if run > 0 {
			widths, run = append(widths, run), 0
		}
	}
	if run > 0 {
		widths = append(widths, run)
	}
	return widths
}

// along returns every way to cut the pieces from clear stretches in a row; entire means that
// the first of them is the stick as delivered.
func (k *packer) along(widths []measure.Length, set uint, entire bool) []filled {
	if len(widths) == 0 {
		if set != 0 {
			return nil
		}
		return []filled{{}}
	}
	var out []filled
	for here := set; ; here = (here - 1) & set {
		first := []filled{{longest: widths[0], worth: k.worth(widths[0])}}
		if here != 0 {
			first = k.stretch(widths[0], here, entire)
		}
		if len(first) > 0 {
			for _, rest := range k.along(widths[1:], set^here, false) {
				for _, f := range first {
					if f = (filled{f.cuts + rest.cuts, f.worth + rest.worth, max(f.longest, rest.longest)}); !slices.Contains(out, f) {
						out = append(out, f)
					}
				}
			}
		}
		if here == 0 {
			return out
		}
	}
}

// stretch returns every way to cut the pieces from one clear stretch.
func (k *packer) stretch(width measure.Length, set uint, entire bool) []filled {
	r := &k.b.p.Rules
	n := bits.OnesCount(set)
	if r.MaxPieces > 0 && n > r.MaxPieces || !k.wholeSets(set) {
		return nil
	}
	var out []filled
	for _, used := range k.lengths(set) {
		if used > width+k.b.p.Kerf {
			continue
		}
		f := filled{cuts: int64(n - 1), longest: max(0, width-used)}
		f.worth = k.worth(f.longest)
		if f.longest > 0 {
			f.cuts++
		}
		if k.held(set, f.longest, entire && used == width+k.b.p.Kerf) && !slices.Contains(out, f) {
			out = append(out, f)
		}
	}
	return out
}

// wholeSets reports whether pieces that belong on one stick are complete, in equal numbers.
func (k *packer) wholeSets(set uint) bool {
	for _, g := range k.b.p.Rules.Groups {
		if g.Kind == optimize.GroupOneLot {
			continue
		}
		count := make([]int, len(g.Pieces))
		for u, i := range k.of {
			if at := slices.Index(g.Pieces, i); at >= 0 && set>>u&1 == 1 {
				count[at]++
			}
		}
		if slices.Min(count) != slices.Max(count) {
			return false
		}
	}
	return true
}

// lengths returns every length that the pieces can take side by side, including the cut at the
// right end of each.
func (k *packer) lengths(set uint) []measure.Length {
	if !k.b.p.Rules.Nest {
		var sum measure.Length
		for u := range k.of {
			if set>>u&1 == 1 {
				sum += k.piece[u].Length + k.b.p.Kerf
			}
		}
		return []measure.Length{sum}
	}
	if l, ok := k.used[set]; ok {
		return l
	}
	var out []measure.Length
	// For GoalCuts the turns of the pieces matter, since only the order that leaves the longest
	// offcut counts.
	s := search{out: map[laid]bool{}, seen: map[state]bool{}, apart: slices.Contains(k.b.goals, optimize.GoalCuts)}
	k.orders(&s, set, -1, Shape{}, laid{})
	closest := map[uint64]measure.Length{}
	for l := range s.out {
		if least, ok := closest[l.turns]; !ok || l.used < least {
			closest[l.turns] = l.used
		}
	}
	for l := range s.out {
		if !slices.Contains(out, l.used) && (!s.apart || l.used == closest[l.turns]) {
			out = append(out, l.used)
		}
	}
	slices.Sort(out)
	k.used[set] = out
	return out
}

// state is a place in the search over orders.
type state struct {
	left uint
	last int
	end  Shape
	laid
}

// laid is the length of pieces side by side, and their turns, two bits each.
type laid struct {
	used  measure.Length
	turns uint64
}

type search struct {
	out   map[laid]bool
	seen  map[state]bool
	apart bool // turns matter
}

// orders lays the remaining pieces in every order and turn to the right of the last.
func (k *packer) orders(s *search, left uint, last int, end Shape, so laid) {
	at := state{left, -1, end, so}
	if last >= 0 {
		at.last = k.of[last]
	}
	if s.seen[at] {
		return
	}
	s.seen[at] = true
	if left == 0 {
		if k.seq[last].after < 0 {
			s.out[so] = true
		}
		return
	}
	for u := range k.of {
		if left>>u&1 == 0 {
			continue
		}
		before, after := -1, -1
		if last >= 0 {
			before, after = k.of[last], k.seq[last].after
		}
		if after >= 0 && k.of[u] != after || k.seq[u].before >= 0 && k.seq[u].before != before {
			continue
		}
		pc := &k.piece[u]
		for n, t := range []optimize.Turn{{}, {EndForEnd: true}, {Rolled: true}, {EndForEnd: true, Rolled: true}} {
			if t != (optimize.Turn{}) && (k.seq[u].of > 1 || pc.Symmetry == stock.SymmetryNone) ||
				t.Rolled && pc.Symmetry != stock.SymmetryAll {
				continue
			}
			l, r := ShapeOf(pc.Left), ShapeOf(pc.Right)
			kerf := pc.Right
			if t.EndForEnd {
				l, r, kerf = r, l, pc.Left
			}
			l, r = l.Turned(t), r.Turned(t)
			more := pc.Length + kerf.KerfAlong(k.b.p.Kerf)
			if last >= 0 {
				more -= end.Shared(l)
			}
			next := laid{so.used + more, so.turns}
			if s.apart {
				next.turns |= uint64(n) << (2 * u)
			}
			k.orders(s, left&^(1<<u), u, r, next)
		}
	}
}

// Shape has the four corners of an end - outer at the face, inner at the face, outer at the
// back, inner at the back - as distances behind the long point, and twice the angle of the cut
// from square.
type Shape struct {
	behind [4]measure.Length
	angle  measure.Angle
}

func ShapeOf(e stock.End) (s Shape) {
	b := e.Setback
	switch e.LongPoint() {
	case stock.SectionBack:
		s.behind = [4]measure.Length{b, b, 0, 0}
	case stock.SectionFace:
		s.behind = [4]measure.Length{0, 0, b, b}
	case stock.SectionOuterEdge, stock.SectionUpperEdge:
		s.behind = [4]measure.Length{0, b, 0, b}
	case stock.SectionLowerEdge:
		s.behind = [4]measure.Length{b, 0, b, 0}
	}
	switch a := e.Corner(); {
	case e.Kind.Spliced():
		s.angle = 2 * a
	case e.Kind.Mitered():
		s.angle = 180*measure.Degree - a
	case e.Kind == stock.EndButt:
		s.angle = 2 * max(a-90*measure.Degree, 90*measure.Degree-a)
	case e.Kind.Raked():
		s.angle = 2 * max(a, -a)
	}
	return s
}

// crossed reports whether the cuts at both ends leave a negative length at a corner, or zero at
// all of them.
func crossed(pc stock.Piece) bool {
	l, r := ShapeOf(pc.Left), ShapeOf(pc.Right)
	var left []measure.Length
	for c := range l.behind {
		left = append(left, pc.Length-l.behind[c]-r.behind[c])
	}
	return slices.Min(left) < 0 || slices.Max(left) == 0
}

// Turned returns the corners after a turn.
func (s Shape) Turned(t optimize.Turn) Shape {
	c := s.behind
	switch t {
	case optimize.Turn{EndForEnd: true}: // outer for inner
		s.behind = [4]measure.Length{c[1], c[0], c[3], c[2]}
	case optimize.Turn{Rolled: true}: // face for back and outer for inner
		s.behind = [4]measure.Length{c[3], c[2], c[1], c[0]}
	case optimize.Turn{EndForEnd: true, Rolled: true}: // face for back
		s.behind = [4]measure.Length{c[2], c[3], c[0], c[1]}
	}
	return s
}

// Shared returns the length that the right end s and a left end beside it save: the setback, if
// the two match at every corner.
func (s Shape) Shared(l Shape) measure.Length {
	sum := s.behind[0] + l.behind[0]
	for c := range s.behind {
		if s.behind[c]+l.behind[c] != sum {
			return 0
		}
	}
	if s.angle != l.angle {
		return 0
	}
	return sum
}

// held reports whether the saw can hold the parts of a stick. If the pieces take all of it and
// nothing is trimmed either, a single one that is square at both ends needs no cut.
func (k *packer) held(set uint, offcut measure.Length, full bool) bool {
	hold := k.b.p.Rules.MinHold
	ok := set == 0 || offcut >= hold
	for u := range k.of {
		if set>>u&1 == 1 {
			ok = ok || k.piece[u].Length >= hold || full && set == 1<<u && SquareEnds(&k.piece[u])
		}
	}
	return ok
}

// SquareEnds reports whether both ends are square.
func SquareEnds(pc *stock.Piece) bool {
	for _, e := range []stock.End{pc.Left, pc.Right} {
		switch e.Kind {
		case stock.EndSquare, stock.EndScribe:
		case stock.EndButt:
			if e.Angle != 0 && e.Angle != 90*measure.Degree {
				return false
			}
		case stock.EndPlumb, stock.EndLevel, stock.EndRake:
			if e.Angle != 0 {
				return false
			}
		default:
			return false
		}
	}
	return true
}

// inYard returns every way to cut the pieces from a stick that is cut in the yard.
func (k *packer) inYard(s *stock.Stick, set uint) []filled {
	p := k.b.p
	if m := p.Rules.MaxPieces; m > 0 && bits.OnesCount(set) > m {
		return nil
	}
	length := func(set uint) (l measure.Length) { // side by side, no kerf at the end
		for u := range k.of {
			if set>>u&1 == 1 {
				l += k.piece[u].Length + p.Kerf
			}
		}
		return l - p.Kerf
	}
	var out []filled
	end := s.Length - s.TrimEnd
	for one := set; ; one = (one - 1) & set {
		two := set ^ one
		// The earliest cut that leaves a second part short enough and the first pieces room; if
		// it lies within the start's trim, or only skims the stick, nothing is lost.
		cut := s.Length - p.Kerf - p.Rules.MaxTransport
		if one != 0 {
			cut = max(cut, s.TrimStart+length(one))
		}
		from := max(cut+p.Kerf, s.TrimStart) // start of the usable part of the second part
		ok := cut <= p.Rules.MaxTransport && k.wholeSets(one) && k.wholeSets(two)
		ok = ok && (one == 0 || s.TrimStart+length(one) <= end) && (two == 0 || from+length(two) <= end)
		if ok {
			first, second := max(0, min(cut, end)-s.TrimStart), max(0, end-from)
			full := [2]bool{s.TrimStart == 0 && cut <= end && cut == length(one), s.TrimEnd == 0 && cut+p.Kerf >= s.TrimStart && from+length(two) == s.Length}
			if one != 0 {
				first = max(0, first-length(one)-p.Kerf)
			}
			if two != 0 {
				second = max(0, second-length(two)-p.Kerf)
			}
			f := filled{longest: max(first, second)}
			if k.held(one, first, full[0]) && k.held(two, second, full[1]) && !slices.Contains(out, f) {
				out = append(out, f)
			}
		}
		if one == 0 {
			return out
		}
	}
}

// buy returns the cheapest purchase for the given cuts.
func (b *brute) buy(cut uint64) (int64, bool) {
	if v, ok := b.bill[cut]; ok {
		return v, v >= 0
	}
	best := int64(-1)
	var from func(s, spare int, suppliers []string, cost int64)
	from = func(s, spare int, suppliers []string, cost int64) {
		if best >= 0 && cost >= best {
			return
		}
		if s == len(b.p.Sticks) {
			if spare <= 0 {
				best = cost
			}
			return
		}
		st := &b.p.Sticks[s]
		need := int(cut >> (4 * s) & 15)
		top := max(need+b.p.Rules.Spare, st.Minimum)
		for _, x := range st.Breaks {
			top = max(top, x.From)
		}
		top += st.Bundle
		for n := need; n <= top; n++ {
			more, ok := b.purchase(s, n, need)
			if !ok {
				continue
			}
			left := spare
			if b.carried(st) && len(st.Defects) == 0 && st.Length-st.TrimStart-st.TrimEnd >= b.longOf {
				left -= n - need
			}
			paid := suppliers
			if n > 0 && !slices.Contains(suppliers, st.Supplier) {
				paid = append(slices.Clone(suppliers), st.Supplier)
				for _, c := range b.p.Rules.Charges {
					if c.Supplier == st.Supplier {
						more += c.Amount
					}
				}
			}
			from(s+1, left, paid, cost+more)
		}
	}
	from(0, b.p.Rules.Spare, nil, 0)
	b.bill[cut] = best
	return best, best >= 0
}

// purchase returns the cost of n sticks of kind s of which some are cut, without charges. It
// reports false if they are not sold or cannot be transported so.
func (b *brute) purchase(s, n, cut int) (cost int64, ok bool) {
	st := &b.p.Sticks[s]
	if n > 0 && (n < st.Minimum || st.Limit > 0 && n > st.Limit || st.Bundle > 1 && n%st.Bundle != 0) {
		return 0, false
	}
	yard := !b.carried(st)
	if yard && n > 0 && beyondOneCut(b.p, st) {
		return 0, false
	}
	each := b.price[s]
	if b.money {
		for _, x := range st.Breaks {
			if n >= x.From {
				each = x.Price
			}
		}
	}
	cost = each * int64(n)
	if yard {
		cost += b.p.Rules.YardCut * int64(cut)
	}
	return cost, true
}

// beyondOneCut reports whether one cut cannot make the stick short enough for transport.
func beyondOneCut(p *optimize.Problem, s *stock.Stick) bool {
	return s.Length-p.Kerf > 2*p.Rules.MaxTransport
}

// Written returns a problem as JSON, to report a failing case.
func Written(p *optimize.Problem) string {
	text, err := json.Marshal(p)
	if err != nil {
		return err.Error()
	}
	return string(text)
}
