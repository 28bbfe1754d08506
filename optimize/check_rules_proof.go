package optimize

import (
	"fmt"
	"math"
	"slices"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// ruleClass is a class of sticks in a problem with rules.
type ruleClass struct {
	stick  *stock.Stick // the first of them
	price  int64
	limit  int64 // the greatest useful number
	clear  []stock.Defect
	yard   bool
	charge int // the index of the supplier's charge, -1 none
	lot    int // of ruleEvidence.lots
}

// ruleEvidence is the subject of a proof for a problem with rules, computed from the problem
// alone.
type ruleEvidence struct {
	p       *Problem
	money   bool // prices count, not lengths
	class   []ruleClass
	of      []int // per stick: its class
	longest measure.Length
	reach   measure.Length // the longest clear stretch
	steps   *effort
	short   bool // steps ran out before all articles were listed, so the values of patterns are unknown

	articles []article
	shapes   []shape // of ends that nest
	shapeAt  map[shape]int
	partAt   map[partLook]int

	lots    []string // names of lots, in the order of their first classes
	lotsOf  []int    // per piece: where a leaf's values for its lots begin, 0 if it has none
	numbers int      // values of a leaf, with those of lots

	goal *goal // the goal that the proof is for, nil for the cost
}

func gatherRules(p *Problem, steps *effort) *ruleEvidence {
	byLength, price := costing(p)
	e := &ruleEvidence{p: p, steps: steps, money: !byLength}
	useful := e.useful()
	known, lotAt := map[ruleKey]int{}, map[string]int{}
	chargeAt := make(map[string]int, len(p.Rules.Charges))
	for g := range p.Rules.Charges {
		chargeAt[p.Rules.Charges[g].Supplier] = g
	}
	for i := range p.Sticks {
		s := &p.Sticks[i]
		if s.Limit == stock.SoldOut {
			e.of = append(e.of, -1)
			continue
		}
		k := ruleKey{s.Length, s.TrimStart, s.TrimEnd, s.Price, s.Supplier, s.Lot, s.Grade, s.Rack}
		special := s.Bundle > 1 || s.Minimum > 1 || len(s.Breaks) > 0 || len(s.Defects) > 0
		c, ok := known[k]
		if special || !ok {
			c = len(e.class)
			if !special {
				known[k] = c
			}
			e.addClass(s, price[i], lotAt, chargeAt)
		}
		e.of = append(e.of, c)
		cl := &e.class[c]
		n := int64(s.Limit)
		if n == 0 {
			n = useful
		}
		cl.limit += min(n, useful-cl.limit)
	}
	for c := range e.class {
		cl := &e.class[c]
		if cl.yard && cl.stick.Length-p.Kerf-p.Rules.MaxTransport > p.Rules.MaxTransport {
			cl.limit = 0
		}
		cl.limit = min(cl.limit, mostSold(cl.stick)) // greater counts cannot be bought
	}
	e.numberLots()
	e.list()
	return e
}

// ruleKey is equal for sticks of the same class.
type ruleKey struct {
	length, start, end measure.Length
	price              int64
	supplier, lot      string
	grade              int
	rack               bool
}

// useful returns the greatest number of sticks that a plan needs, and finds the longest piece.
func (e *ruleEvidence) useful() int64 {
	p := e.p
	useful := int64(p.Rules.Spare)
	add := func(n int64) { useful += min(n, math.MaxInt64-useful) }
	for i := range p.Pieces {
		add(int64(wanted(p, i)))
		e.longest = max(e.longest, p.Pieces[i].Length)
	}
	for r := range p.Runs {
		n := len(p.Runs[r].Splice.At)
		if m := p.Runs[r].Splice.MaxSplices; m > 0 {
			n = min(n, m)
		}
		add(int64(n) + 1)
	}
	return useful
}

// addClass adds the class of a stick. Lots are numbered as they occur.
func (e *ruleEvidence) addClass(s *stock.Stick, price int64, lotAt, chargeAt map[string]int) {
	l, named := lotAt[s.Lot]
	if !named {
		l = len(e.lots)
		lotAt[s.Lot] = l
		e.lots = append(e.lots, s.Lot)
	}
	most := e.p.Rules.MaxTransport
	cl := ruleClass{stick: s, price: price, clear: stretches(s), yard: most > 0 && !s.Rack && s.Length > most, charge: -1, lot: l}
	if g, charged := chargeAt[s.Supplier]; charged {
		cl.charge = g
	}
	for _, w := range cl.clear {
		e.reach = max(e.reach, w.To-w.From)
	}
	e.class = append(e.class, cl)
}

// numberLots gives the pieces of each group that comes from one lot a value for each lot, after
// the values of all pieces. If such a group is started its lot is known.
func (e *ruleEvidence) numberLots() {
	e.numbers = len(e.p.Pieces)
	e.lotsOf = make([]int, e.numbers)
	for g := range e.p.Rules.Groups {
		gr := &e.p.Rules.Groups[g]
		if gr.Kind != GroupOneLot || gr.Started {
			continue
		}
		for _, i := range gr.Pieces {
			if len(e.lots) > math.MaxInt32-e.numbers {
				return // too many for any proof
			}
			e.lotsOf[i] = e.numbers
			e.numbers += len(e.lots)
		}
	}
}

// mostSold returns the greatest number of a stick that can be bought, in whole bundles and at least its
// Minimum.
func mostSold(s *stock.Stick) int64 {
	if s.Bundle <= 1 && s.Minimum <= 1 {
		return math.MaxInt64 // as many as there are
	}
	most := int64(math.MaxInt64)
	if s.Limit > 0 {
		most = int64(s.Limit)
	}
	if most -= most % int64(max(1, s.Bundle)); most < int64(s.Minimum) {
		return 0
	}
	return most
}

// buy returns the least cost of n sticks of a class, or -1 if they cannot be bought.
func (e *ruleEvidence) buy(c *ruleClass, n int64) int64 {
	if n == 0 {
		return 0
	}
	s := c.stick
	least := int64(-1)
	bundle := int64(max(1, s.Bundle))
	price := c.price
	from := int64(1)
	for k := -1; k < len(s.Breaks); k++ {
		if k >= 0 {
			from = int64(s.Breaks[k].From)
			if e.money {
				price = s.Breaks[k].Price
			}
		}
		y := max(n, from, int64(s.Minimum))
		up := (bundle - y%bundle) % bundle
		if up > math.MaxInt64-y {
			continue
		}
		y += up
		if special := bundle > 1 || s.Minimum > 1 || len(s.Breaks) > 0; special && s.Limit > 0 && y > int64(s.Limit) {
			continue
		}
		if k+1 < len(s.Breaks) && y >= int64(s.Breaks[k+1].From) {
			continue
		}
		v, ok := mul(price, y).int64()
		if !ok {
			v = math.MaxInt64
		}
		if least < 0 || v < least {
			least = v
		}
	}
	return least
}

// part returns the part of a run between two nodes, and whether it is allowed.
func (e *ruleEvidence) part(run *stock.Run, nodes []measure.Length, i, j int) (stock.Piece, bool) {
	rule := &run.Splice
	pc := stock.Piece{Length: nodes[j] - nodes[i], Left: run.Left, Right: run.Right}
	whole := i == 0 && j == len(nodes)-1
	before, after := stock.End{}, stock.End{} // of a splice
	if rule.Bevel != 0 {
		before = stock.End{Kind: stock.EndScarfOver, Setback: max(0, rule.Overlap)}
		after = stock.End{Kind: stock.EndScarfUnder, Setback: max(0, rule.Overlap)}
	}
	if rule.RightOver {
		before, after = after, before
	}
	if i > 0 {
		pc.Length += rule.Overlap - rule.Overlap/2
		pc.Left = after
	}
	if j < len(nodes)-1 {
		pc.Length += rule.Overlap / 2
		pc.Right = before
	}
	return pc, whole || pc.Length >= max(1, rule.MinPart) && (!e.p.Rules.Nest || edgesLeft(&pc))
}

// checkRulesProof verifies the proof of a plan for a problem with rules and reports the bound that it shows.
func checkRulesProof(p *Problem, plan *Plan, x *exhibit, steps *effort) (*Report, error) {
	if r := unproven(plan); r != nil {
		return r, nil
	}
	if x.leaves == 0 {
		return audited(plan.Bound, x.leafBound, 0, nil)
	}
	e := gatherRules(p, steps)
	covered := coverUnknown
	if x.manageable() {
		if err := e.form(x); err != nil {
			return nil, err
		}
		covered = e.covered(x)
	}
	switch covered {
	case coverHole:
		return nil, wrong("proof.leaves", "boxes with a hole between them", "boxes that hold every count of sticks")
	case coverUnknown:
		return audited(plan.Bound, x.leafBound, 0, []string{"whether the boxes of the leaves hold every count of sticks"})
	}
	shown, sure, err := e.shown(x, x.leafBound)
	if err != nil {
		return nil, err
	}
	var open []string
	if !sure {
		open = []string{"all that the leaves might show with more steps"}
	}
	return audited(plan.Bound, x.leafBound, shown, open)
}

// form verifies the form of the leaves.
func (e *ruleEvidence) form(x *exhibit) error {
	if x.unit < 1 || !e.divides(x.unit) {
		return wrong("proof.unit", x.unit, "a divisor of every price and charge")
	}
	numbers := e.numbers
	switch {
	case e.goal != nil:
		numbers += e.goal.at
	case x.pieces == len(e.p.Pieces):
		numbers = x.pieces // all values of lots are zero
	}
	if err := x.speaksOf(len(e.class), numbers, len(e.p.Rules.Charges)); err != nil {
		return err
	}
	for k, l := range x.all {
		if !e.steps.awaited(int64(len(l.Lo) + len(l.Hi) + len(l.Values) + len(l.Parts) + len(l.Used))) {
			return e.steps.cause
		}
		if err := e.checkLeaf(k, l); err != nil {
			return err
		}
	}
	return nil
}

// divides reports whether the unit divides the cost of each useful stick and every charge. Other
// costs are rounded down to a multiple of it, one by one.
func (e *ruleEvidence) divides(unit int64) bool {
	for c := range e.class {
		cl := &e.class[c]
		if cl.limit == 0 {
			continue
		}
		if cl.price%unit != 0 {
			return false
		}
		for _, b := range cl.stick.Breaks {
			if e.money && b.Price%unit != 0 {
				return false
			}
		}
	}
	return !slices.ContainsFunc(e.p.Rules.Charges, func(ch Charge) bool { return ch.Amount%unit != 0 })
}

func (e *ruleEvidence) checkLeaf(k int, l *leaf) error {
	claim := func(name string) string { return fmt.Sprintf("proof.leaves[%d].%s", k, name) }
	for c := range e.class {
		if l.Lo[c] < 0 || l.Lo[c] > l.Hi[c] {
			return wrong(claim(fmt.Sprintf("lo[%d]", c)), l.Lo[c], fmt.Sprintf("0 to %d", l.Hi[c]))
		}
		if l.Hi[c] > e.class[c].limit {
			return wrong(claim(fmt.Sprintf("hi[%d]", c)), l.Hi[c], fmt.Sprintf("at most %d", e.class[c].limit))
		}
	}
	if l.Scale < 0 || l.Spare < 0 {
		return wrong(claim("scale"), min(l.Scale, l.Spare), "zero or more, as spare")
	}
	for i, v := range l.Values {
		if v < 0 {
			return wrong(claim(fmt.Sprintf("values[%d]", i)), v, "zero or more")
		}
	}
	last := int64(0)
	for i, v := range l.Parts {
		if v.Length <= last || v.Value < 0 {
			return wrong(claim(fmt.Sprintf("parts[%d]", i)), v.Value, "zero or more, by ascending length")
		}
		last = v.Length
	}
	for i, u := range l.Used {
		if u < -1 || u > 1 {
			return wrong(claim(fmt.Sprintf("used[%d]", i)), u, "-1, 0 or 1")
		}
	}
	return nil
}

// covered reports whether the leaves contain every count of sticks, whichever charges are paid.
func (e *ruleEvidence) covered(x *exhibit) coverage {
	var limit []int64
	for c := range e.class {
		limit = append(limit, e.class[c].limit)
	}
	for range e.p.Rules.Charges {
		limit = append(limit, 1)
	}
	return cover(limit, x, e.steps)
}

// shown returns the least cost that the leaves show, and whether there were enough steps for all
// of it. It is an error if sums overflow.
//
// Sums of costs are listed up to the claim, since no more has to be shown.
func (e *ruleEvidence) shown(x *exhibit, claim int64) (int64, bool, error) {
	least, sure := int64(math.MaxInt64), true
	var known recent[ruleHolding]
	searches, err := e.searches(x)
	if err != nil {
		return 0, false, err
	}
	for k, l := range x.all {
		if !e.steps.awaited(int64(len(l.Lo) + len(l.Values) + len(l.Parts) + len(e.p.Runs))) {
			return 0, false, e.steps.cause
		}
		if s := searches.of(k); s != nil {
			holds, known, err := searches.show(l, s, x)
			if err != nil {
				return 0, false, err
			}
			if holds && known {
				least = min(least, x.leafBound)
				continue
			}
			sure = sure && known
		}
		h, seen := known.of(l)
		if !seen {
			*h = *e.holding(l)
		}
		v, exact, ok := e.shownBy(l, x.unit, h, claim, least)
		if !ok {
			return 0, false, tooGreat(k)
		}
		sure = sure && exact
		least = min(least, v)
	}
	return least, sure, nil
}

// ruleSearches are the searches of a proof, in the order of their leaves.
type ruleSearches struct {
	left  []foundSearch
	lists *ruleLists // nil if there are no lists of this problem
}

// searches returns the searches of a proof.
func (e *ruleEvidence) searches(x *exhibit) (s ruleSearches, err error) {
	if x.beyond == nil || len(x.beyond.Searches) == 0 {
		return s, nil
	}
	s.left = x.beyond.Searches
	if lists, ok := e.lists(x.unit); ok {
		if s.lists = lists; x.beyond.Items != len(lists.items) {
			return s, wrong("proof.items", x.beyond.Items, len(lists.items))
		}
	}
	return s, nil
}

// of returns the search of a leaf, nil if it has none. Leaves must be asked for in order.
func (s *ruleSearches) of(leaf int) *foundSearch {
	if len(s.left) == 0 || s.left[0].Leaf != leaf {
		return nil
	}
	at := &s.left[0]
	s.left = s.left[1:]
	return at
}

// show verifies the search of a leaf: see searched.
func (s *ruleSearches) show(l *leaf, at *foundSearch, x *exhibit) (holds, known bool, err error) {
	if s.lists == nil {
		return false, false, nil
	}
	return searched(s.lists, l, at, x)
}

// shownBy returns the cost that one leaf shows, and whether there were enough steps for all of
// it. Sums of costs are listed below the claim and the least cost of the other leaves. It is not
// ok if sums overflow.
func (e *ruleEvidence) shownBy(l *leaf, unit int64, h *ruleHolding, claim, least int64) (v int64, exact, ok bool) {
	sum, exact, o := e.sum(l, unit, h)
	switch {
	case o == beyond || sum.over:
		return 0, false, false
	case o == worked:
		v = atLeast(sum, l.Scale, unit)
	}
	if l.Sums && v < min(claim, least) {
		if o := e.outlay(l); o != nil {
			var known bool
			v, known = o.next(v, claim, e.steps)
			exact = exact && known
		}
	}
	return v, exact, true
}

// atLeast returns the cost that a leaf's sum shows.
func atLeast(sum int128, scale, unit int64) int64 {
	switch {
	case sum.sign() <= 0:
		return 0
	case scale == 0:
		return math.MaxInt64
	}
	units := sum.ceilDiv(scale)
	if units > math.MaxInt64/unit {
		return math.MaxInt64
	}
	return units * unit
}

// maxCounted is the greatest Rules.MaxPieces up to which the proof counts pieces.
const maxCounted = 64

// counts returns the range of the number of sticks of a class in the leaf's box: none of a
// supplier that it excludes.
func (e *ruleEvidence) counts(l *leaf, c int) (lo, hi int64) {
	if g := e.class[c].charge; g >= 0 && l.Used[g] < 0 {
		return 0, 0
	}
	return l.Lo[c], l.Hi[c]
}

// partValues returns the value of a part of each length in a leaf.
func partValues(l *leaf) map[measure.Length]int64 {
	value := make(map[measure.Length]int64, len(l.Parts))
	for _, v := range l.Parts {
		value[measure.Length(v.Length)] = v.Value
	}
	return value
}

// sum returns the least value of a leaf's sum over its box, or a lower bound if that takes too
// many steps, and whether it is exact. It may have overflowed.
func (e *ruleEvidence) sum(l *leaf, unit int64, h *ruleHolding) (sum int128, exact bool, o outcome) {
	p := e.p
	if !e.steps.spend(int64(len(l.Values) + len(l.Parts))) {
		return int128{}, false, unworked
	}
	w := e.weights(l)
	for i := range p.Pieces {
		sum = sum.add(mul(l.Values[i], int64(wanted(p, i))))
	}
	sum = sum.add(e.lotted(l)).add(mul(l.Spare, int64(p.Rules.Spare))).add(e.within(l, unit))
	value := partValues(l)
	for r := range p.Runs {
		v, ok := e.run(&p.Runs[r], value, &w, unit)
		if !ok {
			return int128{}, false, unworked
		}
		sum = sum.add(v)
	}
	exact = true
	terms := make([]int128, len(e.class))
	for c := range e.class {
		v, sure, o := e.uses(l, c, &w, unit, h)
		if o != worked {
			return int128{}, false, o
		}
		exact = exact && sure
		terms[c] = v
	}
	return sum.add(e.charged(l, l.Lo, w.cost, unit, terms)), exact, worked
}

// charged returns the contribution of the sticks of all classes, and of the charges, to a leaf's sum. The
// counts of the classes are at least lo.
func (e *ruleEvidence) charged(l *leaf, lo []int64, scale, unit int64, terms []int128) (sum int128) {
	charges := e.p.Rules.Charges
	charged := make([]int128, len(charges))
	must := make([]bool, len(charges)) // in the box something is bought there
	for c := range e.class {
		if g := e.class[c].charge; g >= 0 {
			charged[g] = charged[g].add(terms[c])
			must[g] = must[g] || lo[c] > 0
		} else {
			sum = sum.add(terms[c])
		}
	}
	for g := range charged {
		v := charged[g].add(mul(charges[g].Amount/unit, scale))
		switch {
		case l.Used[g] > 0, l.Used[g] == 0 && must[g]:
			sum = sum.add(v)
		case l.Used[g] == 0: // or nothing is bought there
			sum = sum.add(v.lesser(int128{}))
		}
	}
	return sum
}

// lotted returns the contribution of groups of one lot to the sum: for each group its least value in any lot.
func (e *ruleEvidence) lotted(l *leaf) (sum int128) {
	if len(l.Values) < e.numbers {
		return sum // all values of lots are zero
	}
	for g := range e.p.Rules.Groups {
		gr := &e.p.Rules.Groups[g]
		if gr.Kind != GroupOneLot || gr.Started || e.lotsOf[gr.Pieces[0]] == 0 {
			continue
		}
		var least int128
		for n := range e.lots {
			var v int128
			for _, i := range gr.Pieces {
				v = v.add(mul(l.Values[e.lotsOf[i]+n], int64(wanted(e.p, i))))
			}
			if n > 0 {
				v = v.lesser(least)
			}
			least = v
		}
		sum = sum.add(least)
	}
	return sum
}

// uses returns the least contribution of the sticks of a class to a leaf's sum.
func (e *ruleEvidence) uses(l *leaf, c int, w *weights, unit int64, h *ruleHolding) (v int128, exact bool, o outcome) {
	cl := &e.class[c]
	lo, hi := e.counts(l, c)
	if hi == 0 {
		return int128{}, true, worked
	}
	most, exact, o := e.yields(l, c, lo == 0, w, unit, h)
	if o != worked {
		return int128{}, false, o
	}
	v, ok := e.use(cl, lo, hi, w.cost, unit, most)
	if !ok {
		return int128{}, false, unworked
	}
	return v, exact, worked
}

// yields returns the greatest value of a pattern of a class, less the weight of the stick itself. If the
// class may stay unused only a value above its cost matters, and a lower one need not be exact.
func (e *ruleEvidence) yields(l *leaf, c int, idle bool, w *weights, unit int64, h *ruleHolding) (most int64, exact bool, o outcome) {
	cl := &e.class[c]
	own := mul(w.sticks, 1).add(mul(w.worth, e.baseline(cl)))
	if cl.yard {
		own = own.add(mul(e.p.Rules.YardCut/unit, w.cost))
	}
	less, ok := own.int64()
	if !ok || less >= maxValue || less <= -maxValue {
		return 0, false, beyond
	}
	from := int64(0)
	if e.goal != nil {
		from = -maxValue // the value of a pattern may be negative
	}
	if idle {
		if floor, fits := mul(e.cheapest(cl)/unit, w.cost).add(own).int64(); fits {
			from = max(from, floor)
		}
		from = min(from, maxValue-1)
	}
	most, exact, o = h.class(c, from)
	if o != worked {
		return 0, false, o
	}
	if most -= less; len(cl.stick.Defects) == 0 && !cl.yard && cl.clear[0].To-cl.clear[0].From >= e.longest {
		most = max(most, l.Spare)
	}
	return most, exact, worked
}

// cheapest returns the least price of a stick of a class, for any number of them.
func (e *ruleEvidence) cheapest(cl *ruleClass) int64 {
	price := cl.price
	if e.money {
		for _, b := range cl.stick.Breaks {
			price = min(price, b.Price)
		}
	}
	return price
}

// use returns the least of the scaled cost of n sticks less n times most, for lo <= n <= hi.
func (e *ruleEvidence) use(c *ruleClass, lo, hi, scale, unit, most int64) (int128, bool) {
	at := func(n int64) (int128, bool) {
		v := e.buy(c, n)
		if v < 0 {
			return int128{}, false
		}
		return mul(v/unit, scale).add(mul(-most, n)), true
	}
	s := c.stick
	if s.Bundle <= 1 && s.Minimum <= 1 && len(s.Breaks) == 0 {
		// The cost is linear, so the least is at an end.
		a, _ := at(lo)
		b, _ := at(hi)
		return a.lesser(b), true
	}
	if hi-lo > 1<<14 || !e.steps.spend(4*(hi-lo+1)) {
		return int128{}, false
	}
	var best int128
	found := false
	for n := lo; n <= hi; n++ {
		if v, ok := at(n); ok {
			if found {
				v = v.lesser(best)
			}
			best, found = v, true
		}
	}
	if !found {
		return mul(math.MaxInt64/4, 1), true
	}
	return best, true
}

// run returns the least scaled cost and value of a way of a run.
func (e *ruleEvidence) run(run *stock.Run, value map[measure.Length]int64, w *weights, unit int64) (int128, bool) {
	nodes := append(append([]measure.Length{0}, run.Splice.At...), run.Length)
	n := len(nodes)
	layers := 1
	if m := run.Splice.MaxSplices; m > 0 && m < len(run.Splice.At) {
		layers = m + 2 // by the number of parts
	}
	if max(n, layers) > 1<<20 || !e.steps.spend(int64(n)*int64(n)*int64(layers)) {
		return int128{}, false
	}
	splice := mul(run.Splice.Price/unit, w.cost).add(mul(w.splices, 1))
	type best struct {
		v  int128
		ok bool
	}
	// rest[k][i]: from node i on with k parts used.
	rest := make([][]best, layers)
	for k := layers - 1; k >= 0; k-- {
		rest[k] = make([]best, n)
		rest[k][n-1] = best{ok: true}
		for i := n - 2; i >= 0; i-- {
			if !e.steps.awaited(int64(n - i)) { // they are already counted
				return int128{}, false
			}
			next := k
			if layers > 1 {
				if next = k + 1; next == layers {
					continue
				}
			}
			for j := i + 1; j < n; j++ {
				pc, ok := e.part(run, nodes, i, j)
				if !ok || pc.Length > e.reach || layers == 1 && !rest[k][j].ok || layers > 1 && !rest[next][j].ok {
					continue
				}
				v := rest[next][j].v.add(mul(value[pc.Length], 1))
				if j < n-1 {
					v = v.add(splice)
				}
				if b := &rest[k][i]; b.ok {
					b.v = b.v.lesser(v)
				} else {
					*b = best{v, true}
				}
			}
		}
	}
	if !rest[0][0].ok {
		return mul(math.MaxInt64/4, 1), true // there is no way at all
	}
	return rest[0][0].v, true
}
