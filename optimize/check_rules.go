package optimize

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"sort"
	"strconv"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// checkRules verifies a plan for a problem with rules, without its proof: every pattern can be
// cut and keeps the rules and the supply, the pieces and parts are yielded, the purchases are on
// sale, and cost and goals are as claimed.
func checkRules(p *Problem, plan *Plan, steps *effort) error {
	c := &ruleCheck{p: p, plan: plan, steps: steps}
	for _, step := range []func() error{c.runs, c.patterns, c.yield, c.lots, c.purchases, c.cost, c.levels} {
		if err := step(); err != nil {
			return err
		}
	}
	return nil
}

type ruleCheck struct {
	p     *Problem
	plan  *Plan
	steps *effort
	made  []int // per piece, parts after the pieces
	cut   []int // per stick
	bill  int128
	cuts  int64
	joins int64 // splices
	worth int128
	fill  bool     // Offcut is filled in instead
	group []member // per piece: its group that is cut from one stick; nil if there are no groups
}

// member is the place of a piece in a group of Rules.Groups, counted from one; zero for none.
type member struct{ group, at int }

// piece returns a piece, or a part of a run, by its number.
func (c *ruleCheck) piece(i int) *stock.Piece {
	if n := len(c.p.Pieces); i >= n {
		return &c.plan.Parts[i-n]
	}
	return &c.p.Pieces[i]
}

// runs verifies that every run is spliced at allowed positions, and that its parts match.
func (c *ruleCheck) runs() error {
	p, plan := c.p, c.plan
	if len(plan.Spliced) != len(p.Runs) {
		return wrong("spliced", fmt.Sprintf("%d runs", len(plan.Spliced)), fmt.Sprintf("each of the %d runs, in order", len(p.Runs)))
	}
	next := len(p.Pieces)
	for k := range plan.Spliced {
		if !c.steps.awaited(int64(8 + 8*len(plan.Spliced[k].At))) {
			return c.steps.cause
		}
		if err := c.run(k, &next); err != nil {
			return err
		}
	}
	if n := next - len(p.Pieces); n != len(plan.Parts) {
		return wrong("parts", fmt.Sprintf("%d parts", len(plan.Parts)), fmt.Sprintf("the %d of the runs", n))
	}
	return nil
}

// run verifies that a run is spliced at allowed positions, and that its parts match; next is the
// number of the first.
func (c *ruleCheck) run(k int, next *int) error {
	p, plan := c.p, c.plan
	s := &plan.Spliced[k]
	claim := func(name string) string { return fmt.Sprintf("spliced[%d].%s", k, name) }
	if s.Run != k {
		return wrong(claim("run"), s.Run, k)
	}
	run := &p.Runs[k]
	if most := run.Splice.MaxSplices; most > 0 && len(s.At) > most {
		return wrong(claim("at"), fmt.Sprintf("%d splices", len(s.At)), fmt.Sprintf("at most %d", most))
	}
	for j, x := range s.At {
		if _, may := slices.BinarySearch(run.Splice.At, x); !may { // validate ensures that they ascend
			return wrong(claim(fmt.Sprintf("at[%d]", j)), x.About(), "one of the positions in splice.at")
		}
	}
	pieces, err := run.Pieces(s.At)
	if bad := (*measure.FieldError)(nil); errors.As(err, &bad) {
		return wrong(claim(bad.Field), bad.Value, bad.Want)
	}
	if len(s.Pieces) != len(pieces) {
		return wrong(claim("pieces"), fmt.Sprintf("%d pieces", len(s.Pieces)), len(pieces))
	}
	for j, i := range s.Pieces {
		if !c.steps.awaited(partSteps) {
			return c.steps.cause
		}
		if i != *next || i-len(p.Pieces) >= len(plan.Parts) {
			return wrong(claim(fmt.Sprintf("pieces[%d]", j)), i, fmt.Sprintf("%d, the next of parts", *next))
		}
		*next++
		got, want := c.piece(i), &pieces[j]
		if field, g, w := differs(got, want); field != "" {
			return wrong(fmt.Sprintf("parts[%d].%s", i-len(p.Pieces), field), g, w+", as the run's splices make it")
		}
		if p.Rules.Nest && !edgesLeft(want) {
			return wrong(claim("at"), fmt.Sprintf("a part of %v", want.Length.About()), "parts that the cuts at their ends leave something of at every edge")
		}
	}
	c.bill = c.bill.add(mul(run.Splice.Price, int64(len(s.At))))
	c.joins += int64(len(s.At))
	return nil
}

// olderLabel reports whether the label is that of a part as version 0.9.0 wrote it, so that stored
// plans stay valid.
func olderLabel(label string, part *stock.Piece) bool {
	return part.Parts > 1 && label == fmt.Sprintf("%s %d/%d", part.Run, part.Part, part.Parts)
}

// partSteps estimates the steps of comparing a part with its run.
const partSteps = 1 << 8

// differs returns the first field in which a part differs from the requirement of its run, with both values;
// none if it does not differ.
func differs(got, want *stock.Piece) (field, is, right string) {
	switch {
	case got.Length != want.Length:
		is, right = apart(got.Length, want.Length)
		return "length", is, right
	case got.Left != want.Left:
		return "left", endText(got.Left), endText(want.Left)
	case got.Right != want.Right:
		return "right", endText(got.Right), endText(want.Right)
	case got.Quantity > 1 || got.Quantity < 0:
		return "quantity", strconv.Itoa(got.Quantity), "1"
	case !slices.Equal(got.Allowances, want.Allowances):
		return "allowances", "others", fmt.Sprintf("%d that add up to the length", len(want.Allowances))
	}
	for _, f := range []struct {
		name      string
		got, want any
	}{
		{"run", strconv.Quote(got.Run), strconv.Quote(want.Run)}, {"part", got.Part, want.Part}, {"parts", got.Parts, want.Parts},
		{"label", strconv.Quote(got.Label), strconv.Quote(want.Label)}, {"profile", strconv.Quote(got.Profile), strconv.Quote(want.Profile)}, {"grade", got.Grade, want.Grade}, {"symmetry", got.Symmetry, want.Symmetry},
	} {
		if f.got != f.want && !(f.name == "label" && olderLabel(got.Label, want)) {
			return f.name, fmt.Sprint(f.got), fmt.Sprint(f.want)
		}
	}
	return "", "", ""
}

func endText(e stock.End) string {
	return fmt.Sprintf("%v of %v with a setback of %s", e.Kind, e.Corner(), e.Setback.About())
}

// apart formats two lengths such that they differ.
func apart(got, want measure.Length) (is, right string) {
	is, right = got.About(want), want.About(got)
	if is == right {
		is += ", off by " + max(got-want, want-got).About()
	}
	return is, right
}

// stretches returns the clear stretches of a stick, from its start.
func stretches(s *stock.Stick) []stock.Defect {
	bad := append(slices.Clone(s.Defects), stock.Defect{From: 0, To: s.TrimStart}, stock.Defect{From: s.Length - s.TrimEnd, To: s.Length})
	slices.SortFunc(bad, func(a, b stock.Defect) int { return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To)) })
	var out []stock.Defect
	at := measure.Length(0)
	for _, d := range bad {
		if d.From > at {
			out = append(out, stock.Defect{From: at, To: d.From})
		}
		at = max(at, d.To)
	}
	return out
}

// inYard reports whether the stick has to be cut in the yard.
func (c *ruleCheck) inYard(s *stock.Stick) bool {
	t := c.p.Rules.MaxTransport
	return t > 0 && !s.Rack && s.Length > t
}

// patterns verifies each pattern.
func (c *ruleCheck) patterns() error {
	c.made, c.cut = nil, nil
	for k := range c.plan.Patterns {
		if !c.steps.awaited(int64(16 + 8*len(c.plan.Patterns[k].Pieces))) {
			return c.steps.cause
		}
		if err := c.pattern(k); err != nil {
			return err
		}
	}
	c.begin()
	return nil
}

// begin allocates the counts of sticks and pieces.
func (c *ruleCheck) begin() {
	if c.made == nil {
		c.made = make([]int, len(c.p.Pieces)+len(c.plan.Parts))
		c.cut = make([]int, len(c.p.Sticks))
	}
}

// pattern verifies one pattern, together with those before it.
func (c *ruleCheck) pattern(k int) error {
	c.begin()
	p, pat := c.p, &c.plan.Patterns[k]
	claim := func(name string) string { return fmt.Sprintf("patterns[%d].%s", k, name) }
	if pat.Stick < 0 || pat.Stick >= len(p.Sticks) {
		return wrong(claim("stick"), pat.Stick, fmt.Sprintf("an index below %d", len(p.Sticks)))
	}
	if pat.Count < 1 {
		return wrong(claim("count"), pat.Count, "1 or more")
	}
	if len(pat.Pieces) == 0 {
		return wrong(claim("pieces"), "empty", "at least one piece")
	}
	s := &p.Sticks[pat.Stick]
	if s.Limit == stock.SoldOut {
		return wrong(claim("stick"), pat.Stick, "a stick that is not sold out")
	}
	if s.Limit > 0 && pat.Count > s.Limit-c.cut[pat.Stick] {
		return wrong(claim("count"), pat.Count, inAll(s.Limit, "sticks", pat.Stick))
	}
	if pat.Count > int(^uint(0)>>1)-c.cut[pat.Stick] {
		return wrong(claim("count"), pat.Count, "counts whose sum is in range")
	}
	c.cut[pat.Stick] += pat.Count
	for j, i := range pat.Pieces {
		if i < 0 || i >= len(c.made) {
			return wrong(claim(fmt.Sprintf("pieces[%d]", j)), i, fmt.Sprintf("an index below %d", len(c.made)))
		}
		if g := c.piece(i).Grade; g > s.Grade {
			return wrong(claim(fmt.Sprintf("pieces[%d]", j)), fmt.Sprintf("of grade %d on a stick of grade %d", g, s.Grade), "a stick as good as the piece")
		}
		if pat.Count > c.want(i)-c.made[i] {
			return wrong(claim(fmt.Sprintf("pieces[%d]", j)), i, fmt.Sprintf("at most %d of %s in all patterns", c.want(i), c.name(i)))
		}
		c.made[i] += pat.Count
	}
	if err := c.turns(k, pat); err != nil {
		return err
	}
	if err := c.lay(k, pat); err != nil {
		return err
	}
	return nil
}

func (c *ruleCheck) want(i int) int {
	if i >= len(c.p.Pieces) {
		return 1
	}
	return wanted(c.p, i)
}

func (c *ruleCheck) name(i int) string {
	if n := len(c.p.Pieces); i >= n {
		return fmt.Sprintf("parts[%d]", i-n)
	}
	return fmt.Sprintf("pieces[%d]", i)
}

func (c *ruleCheck) yield() error {
	for i, n := range c.made {
		if n != c.want(i) {
			return wrong("patterns", fmt.Sprintf("%d of %s", n, c.name(i)), c.want(i))
		}
	}
	return nil
}

// turns verifies how the pieces of a pattern lie.
func (c *ruleCheck) turns(k int, pat *Pattern) error {
	if pat.Turned == nil {
		return nil
	}
	if len(pat.Turned) != len(pat.Pieces) {
		return wrong(fmt.Sprintf("patterns[%d].turned", k), fmt.Sprintf("%d turns", len(pat.Turned)), fmt.Sprintf("none, or one for each of %d pieces", len(pat.Pieces)))
	}
	for j, t := range pat.Turned {
		sym := c.piece(pat.Pieces[j]).Symmetry
		ok := t == Turn{} || !t.Rolled && sym.MayTurn() || t.Rolled && sym.MayRoll()
		if !ok || t != (Turn{}) && !c.p.Rules.Nest {
			return wrong(fmt.Sprintf("patterns[%d].turned[%d]", k, j), t, fmt.Sprintf("a turn that a piece that goes %v allows, with rules.nest", sym))
		}
	}
	return nil
}

// lay lays the pieces of a pattern on the stick, stretch by stretch.
func (c *ruleCheck) lay(k int, pat *Pattern) error {
	p := c.p
	s := &p.Sticks[pat.Stick]
	claim := func(name string) string { return fmt.Sprintf("patterns[%d].%s", k, name) }
	clear := stretches(s)
	if len(s.Defects) == 0 {
		if pat.Stretch != nil {
			return wrong(claim("stretch"), "set", "nil for a stick without defects")
		}
	} else if len(pat.Stretch) != len(pat.Pieces) {
		return wrong(claim("stretch"), fmt.Sprintf("%d numbers", len(pat.Stretch)), "one for each piece on a stick with defects")
	}
	for j, n := range pat.Stretch {
		if n < 0 || n >= len(clear) || j > 0 && n < pat.Stretch[j-1] {
			return wrong(claim(fmt.Sprintf("stretch[%d]", j)), n, fmt.Sprintf("a stretch below %d, never decreasing", len(clear)))
		}
	}
	yard := c.inYard(s)
	if pat.YardAfter < 0 || pat.YardAfter > len(pat.Pieces) || pat.YardAfter > 0 && !yard {
		return wrong(claim("yard_after"), pat.YardAfter, "how many pieces come before the yard cut, 0 where there is none")
	}
	if yard {
		return c.layInYard(k, pat)
	}
	left, err := c.layStretches(k, pat, clear)
	if err != nil {
		return err
	}
	longest := slices.Max(append(left, 0))
	if c.fill {
		pat.Offcut = longest
	}
	if pat.Offcut != longest {
		return wrongLength(claim("offcut"), pat.Offcut, longest)
	}
	c.addWorth(pat, clear, left)
	return nil
}

// layStretches lays the pieces on the clear stretches of a stick. It returns the offcut of each.
func (c *ruleCheck) layStretches(k int, pat *Pattern, clear []stock.Defect) (left []measure.Length, err error) {
	from := 0
	for n, w := range clear {
		to := from
		for to < len(pat.Pieces) && (pat.Stretch == nil || pat.Stretch[to] == n) {
			to++
		}
		if from == to {
			left = append(left, w.To-w.From)
			continue
		}
		used, err := c.used(k, pat, from, to)
		if err != nil {
			return nil, err
		}
		room := w.To - w.From + c.p.Kerf
		if used > room {
			return nil, wrong(fmt.Sprintf("patterns[%d].pieces", k), fmt.Sprintf("too long by %v", (used-room).About()), "pieces and kerfs that fit the usable length")
		}
		offcut := max(0, room-c.p.Kerf-used)
		left = append(left, offcut)
		if err := c.keeps(k, pat, from, to, offcut, used == room && w == stock.Defect{To: c.p.Sticks[pat.Stick].Length}); err != nil {
			return nil, err
		}
		from = to
	}
	return left, nil
}

// addWorth adds the worth of a pattern's offcuts, less the worth of the stick itself if it is from the rack.
func (c *ruleCheck) addWorth(pat *Pattern, clear []stock.Defect, left []measure.Length) {
	p, s := c.p, &c.p.Sticks[pat.Stick]
	if len(p.Rules.OffcutValues) == 0 {
		return
	}
	if s.Rack && len(s.Defects) == 0 {
		c.worth = c.worth.add(mul(-offcutWorth(p, s.Length), int64(pat.Count)))
	}
	for _, l := range left {
		c.worth = c.worth.add(mul(offcutWorth(p, l), int64(pat.Count)))
	}
	for _, w := range clear {
		if s.Rack && len(s.Defects) > 0 {
			c.worth = c.worth.add(mul(-offcutWorth(p, w.To-w.From), int64(pat.Count)))
		}
	}
}

// used returns the length that pieces from..to-1 of a pattern take, including a kerf after the
// last one.
func (c *ruleCheck) used(k int, pat *Pattern, from, to int) (measure.Length, error) {
	p := c.p
	var used measure.Length
	for j := from; j < to; j++ {
		pc := c.piece(pat.Pieces[j])
		l, r := c.ends(pat, j)
		kerf := p.Kerf
		if p.Rules.Nest {
			kerf = r.KerfAlong(kerf)
		}
		if j > from && p.Rules.Nest {
			if _, before := c.ends(pat, j-1); parallel(before, l) {
				used -= l.Setback
			}
		}
		// Lengths and setbacks are at most lengthLimit, so no step overflows.
		if kerf > farTooLong || used+pc.Length+kerf > farTooLong {
			return 0, wrong(fmt.Sprintf("patterns[%d].pieces", k), "far too long", "pieces and kerfs that fit the usable length")
		}
		if used += pc.Length + kerf; used < -farTooLong {
			return 0, wrong(fmt.Sprintf("patterns[%d].pieces", k), "shorter than the setbacks of their ends", "pieces that can be cut")
		}
	}
	return used, nil
}

// farTooLong exceeds the length of any stick in a problem with rules.
const farTooLong = 1 << 60

// side is an end as it lies on the stick.
type side struct {
	stock.End
	long stock.SectionPoint
	left bool
}

// ends returns the two ends of a pattern's piece as it lies.
func (c *ruleCheck) ends(pat *Pattern, j int) (l, r side) {
	pc := c.piece(pat.Pieces[j])
	t := Turn{}
	if pat.Turned != nil {
		t = pat.Turned[j]
	}
	return lie(pc, t)
}

// lie returns the two ends of a piece that lies by a turn.
func lie(pc *stock.Piece, t Turn) (l, r side) {
	by := func(e stock.End, left bool) side {
		s := side{e, longPoint(e), left}
		swap := func(a, b stock.SectionPoint) {
			switch s.long {
			case a:
				s.long = b
			case b:
				s.long = a
			}
		}
		switch t {
		case Turn{EndForEnd: true}: // around the axis perpendicular to the face
			s.left = !s.left
			swap(stock.SectionOuterEdge, stock.SectionInnerEdge)
		case Turn{Rolled: true}: // around the piece's length
			swap(stock.SectionBack, stock.SectionFace)
			swap(stock.SectionOuterEdge, stock.SectionInnerEdge)
		case Turn{EndForEnd: true, Rolled: true}: // around the axis through both edges
			s.left = !s.left
			swap(stock.SectionBack, stock.SectionFace)
		}
		return s
	}
	a, b := by(pc.Left, true), by(pc.Right, false)
	if a.left {
		return a, b
	}
	return b, a
}

// parallel reports whether the right end of one piece is parallel to the left end of the next: cut alike, and
// long where the other is short.
func parallel(right, left side) bool {
	if right.Setback <= 0 || right.Setback != left.Setback || twiceFromSquare(right.End) != twiceFromSquare(left.End) {
		return false
	}
	return right.long != stock.SectionAll && left.long == across(right.long)
}

// twiceFromSquare returns twice the angle between an end's cut and a square one, so that half of a corner is
// exact.
func twiceFromSquare(e stock.End) measure.Angle {
	a := e.Corner()
	switch {
	case e.Kind.Spliced():
		return 2 * a
	case e.Kind == stock.EndButt && a < rightAngle:
		return 2 * (rightAngle - a)
	case e.Kind == stock.EndButt:
		return 2 * (a - rightAngle)
	case e.Kind.Mitered():
		return 2*rightAngle - a
	case e.Kind.Raked():
		return 2 * max(a, -a)
	}
	return 0
}

// square reports whether neither end of a piece is cut at an angle.
func square(pc *stock.Piece) bool {
	return twiceFromSquare(pc.Left) == 0 && twiceFromSquare(pc.Right) == 0
}

// edgesLeft reports whether the cuts at both ends leave a length that is nowhere below zero, and somewhere
// above it, at the edges of a piece: outer and inner edge, at the face and at the back.
func edgesLeft(pc *stock.Piece) bool {
	// shorter returns by how much an end makes an edge shorter than the long point.
	shorter := func(e stock.End, outer, face bool) measure.Length {
		switch p := longPoint(e); {
		case p == stock.SectionBack && face, p == stock.SectionFace && !face, p == stock.SectionOuterEdge && !outer, p == stock.SectionInnerEdge && outer:
			return max(e.Setback, 0)
		}
		return 0
	}
	some := false
	for _, outer := range [2]bool{false, true} {
		for _, face := range [2]bool{false, true} {
			l, r := pc.Length-shorter(pc.Left, outer, face), shorter(pc.Right, outer, face)
			if l < r {
				return false
			}
			some = some || l > r
		}
	}
	return some
}

// keeps verifies the rules for one stretch: the number of pieces, the length that the saw can hold, and the
// groups that stay together. Full says that the pieces take up a whole untrimmed stick, or a whole part of
// one that is cut in the yard.
func (c *ruleCheck) keeps(k int, pat *Pattern, from, to int, offcut measure.Length, full bool) error {
	r := &c.p.Rules
	n := to - from
	claim := fmt.Sprintf("patterns[%d].pieces", k)
	if r.MaxPieces > 0 && n > r.MaxPieces {
		return wrong(claim, fmt.Sprintf("%d pieces", n), fmt.Sprintf("at most %d", r.MaxPieces))
	}
	c.cuts += int64(pat.Count) * int64(n-1)
	if offcut > 0 {
		c.cuts += int64(pat.Count)
	}
	if r.MinHold > 0 && offcut < r.MinHold {
		// One square piece that takes up everything needs no cut.
		held := n == 1 && full && square(c.piece(pat.Pieces[from]))
		for _, i := range pat.Pieces[from:to] {
			held = held || c.piece(i).Length >= r.MinHold
		}
		if !held {
			return wrong(claim, "too short to hold", fmt.Sprintf("a piece or an offcut of at least %v", r.MinHold.About()))
		}
	}
	return c.together(k, pat, from, to)
}

// members returns, for each piece, the group of pieces from one stick that it belongs to;
// validate ensures that there is at most one.
func (c *ruleCheck) members() []member {
	if groups := c.p.Rules.Groups; c.group == nil && len(groups) > 0 {
		c.group = make([]member, len(c.p.Pieces)+len(c.plan.Parts))
		for g := range groups {
			for at, i := range groups[g].Pieces {
				if groups[g].Kind != GroupOneLot {
					c.group[i] = member{g + 1, at + 1}
				}
			}
		}
	}
	return c.group
}

// together verifies that a stretch has whole sets of each group that is cut from one stick, in
// order if required.
func (c *ruleCheck) together(k int, pat *Pattern, from, to int) error {
	in := c.members()
	if in == nil {
		return nil
	}
	claim := fmt.Sprintf("patterns[%d].pieces", k)
	count := map[member]int{}
	var met []int // groups, in the order of their first pieces
	for j := from; j < to; j++ {
		m := in[pat.Pieces[j]]
		if m.group == 0 {
			continue
		}
		gr, at := &c.p.Rules.Groups[m.group-1], m.at-1
		if all := (member{group: m.group}); count[all] == 0 {
			count[all], met = 1, append(met, m.group)
		}
		count[m]++
		if gr.Kind != GroupInSequence {
			continue
		}
		turned := pat.Turned != nil && pat.Turned[j] != Turn{}
		// A piece that follows its predecessor follows all of them.
		if turned || at == 0 && (to-j < len(gr.Pieces) || pat.Pieces[j+len(gr.Pieces)-1] != gr.Pieces[len(gr.Pieces)-1]) ||
			at > 0 && (j == from || pat.Pieces[j-1] != gr.Pieces[at-1]) {
			return wrong(claim, fmt.Sprintf("pieces[%d] apart from its group", pat.Pieces[j]), fmt.Sprintf("the pieces of rules.groups[%d] side by side, in order and not turned", m.group-1))
		}
	}
	for _, g := range met {
		gr := &c.p.Rules.Groups[g-1]
		first := count[member{g, 1}]
		for at, i := range gr.Pieces {
			if n := count[member{g, at + 1}]; n != first {
				return wrong(claim, fmt.Sprintf("%d of pieces[%d] and %d of pieces[%d]", first, gr.Pieces[0], n, i),
					fmt.Sprintf("whole sets of rules.groups[%d]", g-1))
			}
		}
	}
	return nil
}

// layInYard lays the pieces on the two parts of a stick that is cut in the yard.
func (c *ruleCheck) layInYard(k int, pat *Pattern) error {
	p := c.p
	s := &p.Sticks[pat.Stick]
	t := p.Rules.MaxTransport
	claim := fmt.Sprintf("patterns[%d].pieces", k)
	first, err := c.used(k, pat, 0, pat.YardAfter)
	if err != nil {
		return err
	}
	second, err := c.used(k, pat, pat.YardAfter, len(pat.Pieces))
	if err != nil {
		return err
	}
	// The cut begins at the first position that leaves room for the pieces before it and a rest short enough
	// to transport.
	at := s.Length - p.Kerf - t
	if first > 0 {
		at = max(at, s.TrimStart+first-p.Kerf)
	}
	if at > t {
		return wrong(claim, fmt.Sprintf("a first part of %v", at.About(s.Length)), fmt.Sprintf("parts of at most %v", t.About()))
	}
	if over := s.TrimStart + first - p.Kerf - (s.Length - s.TrimEnd); pat.YardAfter > 0 && over > 0 {
		return wrong(claim, fmt.Sprintf("too long by %v before the yard's cut", over.About(s.Length)), "pieces and kerfs that fit the usable length")
	}
	from := max(at+p.Kerf, s.TrimStart) // where the second part can be used
	left := s.Length - s.TrimEnd - from
	if second > 0 && second > left+p.Kerf {
		return wrong(claim, fmt.Sprintf("too long by %v after the yard's cut", (second-left-p.Kerf).About(s.Length)), "pieces and kerfs that fit the usable length")
	}
	one, two := max(0, at-s.TrimStart-first), max(0, left-second)
	if c.fill {
		pat.Offcut = max(one, two)
	}
	if pat.Offcut != max(one, two) {
		return wrongLength(fmt.Sprintf("patterns[%d].offcut", k), pat.Offcut, max(one, two))
	}
	if p.Rules.MaxPieces > 0 && len(pat.Pieces) > p.Rules.MaxPieces {
		return wrong(claim, fmt.Sprintf("%d pieces", len(pat.Pieces)), fmt.Sprintf("at most %d", p.Rules.MaxPieces))
	}
	for _, part := range []struct {
		from, to int
		offcut   measure.Length
		full     bool
	}{
		{0, pat.YardAfter, one, s.TrimStart == 0 && first == at+p.Kerf},
		{pat.YardAfter, len(pat.Pieces), two, s.TrimEnd == 0 && from == at+p.Kerf && second == left+p.Kerf},
	} {
		if part.from < part.to {
			if err := c.keeps(k, pat, part.from, part.to, part.offcut, part.full); err != nil {
				return err
			}
		}
	}
	return nil
}

// lots verifies that each group of one lot comes from one lot.
func (c *ruleCheck) lots() error {
	groups := c.p.Rules.Groups
	in := make(map[int]int, len(groups)) // piece to group
	for g := range groups {
		if groups[g].Kind == GroupOneLot {
			for _, i := range groups[g].Pieces {
				in[i] = g
			}
		}
	}
	if len(in) == 0 {
		return nil
	}
	from := make(map[int]int, len(groups)) // group to the first pattern with a piece of it
	for k := range c.plan.Patterns {
		pat := &c.plan.Patterns[k]
		if !c.steps.awaited(int64(16 + 16*len(pat.Pieces))) {
			return c.steps.cause
		}
		l := c.p.Sticks[pat.Stick].Lot
		for _, i := range pat.Pieces {
			g, grouped := in[i]
			if !grouped {
				continue
			}
			first, met := from[g]
			if !met {
				first, from[g] = k, k
			}
			if lot := c.p.Sticks[c.plan.Patterns[first].Stick].Lot; l != lot {
				return wrong(fmt.Sprintf("patterns[%d].stick", k), fmt.Sprintf("of lot %q", l), fmt.Sprintf("of lot %q, as patterns[%d] for rules.groups[%d]", lot, first, g))
			}
			if gr := &groups[g]; gr.Started && l != gr.Lot {
				return wrong(fmt.Sprintf("patterns[%d].stick", k), fmt.Sprintf("of lot %q", l), fmt.Sprintf("of lot %q, from which rules.groups[%d] is started", gr.Lot, g))
			}
		}
	}
	return nil
}

// offcutWorth returns the worth of an offcut by the problem's steps.
func offcutWorth(p *Problem, l measure.Length) int64 {
	worth := p.Rules.OffcutValues // ascending, as validate ensures
	if n := sort.Search(len(worth), func(k int) bool { return worth[k].Length > l }); n > 0 {
		return worth[n-1].Value
	}
	return 0
}

// sold verifies that a stick is on sale in this number.
func sold(s *stock.Stick, b *Purchase, claim func(name string) string) error {
	switch {
	case b.Count < 1:
		return wrong(claim("count"), b.Count, "1 or more")
	case s.Limit == stock.SoldOut:
		return wrong(claim("stick"), b.Stick, "a stick that is not sold out")
	case s.Limit > 0 && b.Count > s.Limit:
		return wrong(claim("count"), b.Count, fmt.Sprintf("at most %d", s.Limit))
	case s.Bundle > 1 && b.Count%s.Bundle != 0:
		return wrong(claim("count"), b.Count, fmt.Sprintf("whole bundles of %d", s.Bundle))
	case b.Count < s.Minimum:
		return wrong(claim("count"), b.Count, fmt.Sprintf("at least %d", s.Minimum))
	}
	return nil
}

// spares verifies that enough whole sticks are left over.
func (c *ruleCheck) spares(bought []int) error {
	p, want := c.p, c.p.Rules.Spare
	if want <= 0 {
		return nil
	}
	var longest measure.Length
	for i := range p.Pieces {
		longest = max(longest, p.Pieces[i].Length)
	}
	spare := 0
	for i := range p.Sticks {
		s := &p.Sticks[i]
		if len(s.Defects) == 0 && !c.inYard(s) && s.Length-s.TrimStart-s.TrimEnd >= longest {
			spare += min(bought[i]-c.cut[i], want)
		}
	}
	if spare < want {
		return wrong("buy", fmt.Sprintf("%d whole sticks to spare", spare), want)
	}
	return nil
}

// purchases verifies the purchases and adds up the bill.
func (c *ruleCheck) purchases() error {
	p, plan := c.p, c.plan
	byLength, price := costing(p)
	bought := make([]int, len(p.Sticks))
	if !p.sells() {
		sum, err := checkBought(p, plan, c.cut)
		c.bill = c.bill.add(sum)
		return err
	}
	last := -1
	for k := range plan.Buy {
		b := &plan.Buy[k]
		claim := func(name string) string { return fmt.Sprintf("buy[%d].%s", k, name) }
		if b.Stick <= last || b.Stick >= len(p.Sticks) {
			return wrong(claim("stick"), b.Stick, fmt.Sprintf("ascending indices below %d", len(p.Sticks)))
		}
		last = b.Stick
		s := &p.Sticks[b.Stick]
		if err := sold(s, b, claim); err != nil {
			return err
		}
		each := price[b.Stick]
		if !byLength {
			for _, br := range s.Breaks {
				if b.Count >= br.From {
					each = br.Price
				}
			}
		}
		cost := mul(each, int64(b.Count))
		if c.inYard(s) {
			if s.Length-p.Kerf-p.Rules.MaxTransport > p.Rules.MaxTransport {
				return wrong(claim("stick"), b.Stick, "a stick that one cut makes short enough to carry")
			}
			cost = cost.add(mul(p.Rules.YardCut, int64(c.cut[b.Stick])))
		}
		if v, ok := cost.int64(); !ok || v != b.Cost {
			return wrong(claim("cost"), b.Cost, v)
		}
		c.bill = c.bill.add(cost)
		bought[b.Stick] = b.Count
	}
	for i, n := range c.cut {
		if n > bought[i] {
			return wrong("buy", fmt.Sprintf("%d of sticks[%d]", bought[i], i), fmt.Sprintf("the %d that are cut", n))
		}
	}
	if err := c.spares(bought); err != nil {
		return err
	}
	c.addCharges(bought)
	return nil
}

// addCharges adds the charges of all suppliers in use to the bill.
func (c *ruleCheck) addCharges(bought []int) {
	visited := map[string]bool{}
	for i, n := range bought {
		if n > 0 {
			visited[c.p.Sticks[i].Supplier] = true
		}
	}
	for _, ch := range c.p.Rules.Charges {
		if visited[ch.Supplier] {
			c.bill = c.bill.add(mul(ch.Amount, 1))
		}
	}
}

// cost verifies the objective, the cost and the claims about the end of the search.
func (c *ruleCheck) cost() error {
	return checkTotal(c.p, c.plan, c.bill)
}

// ways returns the number of different ways of cutting in a plan. To the person at the saw, two patterns are
// one way if they agree in usable length, in the lengths of the pieces, and in how each piece lies.
func (c *ruleCheck) ways() int64 {
	type way struct {
		usable measure.Length
		text   string
	}
	seen := map[way]bool{}
	for k := range c.plan.Patterns {
		pat := &c.plan.Patterns[k]
		if !c.steps.awaited(wayTextSteps * int64(1+len(pat.Pieces))) {
			return 0
		}
		s := &c.p.Sticks[pat.Stick]
		var list []string
		for j, i := range pat.Pieces {
			t, n := Turn{}, 0
			if pat.Turned != nil {
				t = pat.Turned[j]
			}
			if pat.Stretch != nil {
				n = pat.Stretch[j]
			}
			list = append(list, fmt.Sprint(int64(c.piece(i).Length), t, n))
		}
		slices.Sort(list)
		seen[way{s.Length - s.TrimStart - s.TrimEnd, fmt.Sprint(list)}] = true
	}
	return int64(len(seen))
}

// wayTextSteps estimates the steps of formatting one piece of a way.
const wayTextSteps = 1 << 9

// level returns the plan's result for a goal, and whether more is better.
func (c *ruleCheck) level(g Goal) (v int64, more bool) {
	switch g {
	case GoalCost:
		return c.plan.Cost, false
	case GoalSticks:
		return c.plan.Sticks(), false
	case GoalOffcutValue:
		v, _ := c.worth.int64()
		return v, true
	case GoalLongestOffcut:
		var l measure.Length
		for k := range c.plan.Patterns {
			l = max(l, c.plan.Patterns[k].Offcut)
		}
		return int64(l), true
	case GoalPatterns:
		return c.ways(), false
	case GoalSplices:
		return c.joins, false
	}
	return c.cuts, false
}

func (c *ruleCheck) levels() error {
	goals := c.p.Rules.Goals
	if len(c.plan.Goals) != len(goals) {
		return wrong("goals", fmt.Sprintf("%d goals", len(c.plan.Goals)), fmt.Sprintf("the %d of rules.goals", len(goals)))
	}
	sound := true
	for k := range goals {
		l := &c.plan.Goals[k]
		claim := func(name string) string { return fmt.Sprintf("goals[%d].%s", k, name) }
		if l.Goal != goals[k] {
			return wrong(claim("goal"), l.Goal, goals[k])
		}
		v, more := c.level(l.Goal)
		if l.Value != v {
			return wrong(claim("value"), l.Value, v)
		}
		if more && l.Bound < v || !more && l.Bound > v {
			return wrong(claim("bound"), l.Bound, fmt.Sprintf("a bound that %d does not pass", v))
		}
		if l.Goal == GoalCost && l.Bound > c.plan.Bound {
			return wrong(claim("bound"), l.Bound, fmt.Sprintf("at most the plan's bound, %d", c.plan.Bound))
		}
		sound = sound && l.Value == l.Bound
		switch {
		case l.Proven && !sound:
			return wrong(claim("proven"), true, "false: this goal has a gap, or one before it is not proven")
		case !l.Proven && sound && c.plan.Proof.kind != ProofOmitted:
			return wrong(claim("proven"), false, "true: value is bound here and in every goal before")
		}
	}
	return nil
}
