package optimize

import (
	"context"
	"fmt"
	"math"
	"slices"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// auditSteps limits the time that Check and Audit spend on the proof: about a second.
const auditSteps = 1 << 27

// Check verifies a plan for a problem. It shares no code with the solver and computes in exact
// integers only.
//
// A nil error means that the plan can be cut from the available sticks, yields every piece in the
// wanted quantity, and has the claimed offcuts and cost. It also means that the bound was verified
// from the proof as far as the kind of proof allows: completely, unless the kind is [ProofSearch]
// (the excess over the verified part must be trusted) or [ProofOmitted] (nothing is verified).
// [Audit] reports how much was verified. A wrong claim is a [CheckError] that names it, and so is a
// bound that the leaves of its proof do not show, including that of a goal after the cost; an
// invalid problem is a [*measure.FieldError].
//
// If the context ends first, Check returns its cause, whatever it has found by then. It notices
// within a few tens of milliseconds, and notices a deadline even if no timer fires (see [Solve]). A
// nil context never ends. In any case Check spends at most about a second on the proof, and on the
// plan and the problem a time proportional to their size.
func Check(ctx context.Context, p Problem, plan *Plan) error {
	_, err := Audit(ctx, p, plan)
	return err
}

// Audit is like [Check] and reports how much of the bound it could verify from the proof alone.
// The part added by an exhausted search cannot be verified, which is not an error. The report
// is nil if and only if the error is not; the context is used as by Check.
func Audit(ctx context.Context, p Problem, plan *Plan) (*Report, error) {
	steps := prompt(auditSteps, ending(ctx))
	return audit(&p, plan, &steps)
}

func audit(p *Problem, plan *Plan, steps *effort) (*Report, error) {
	r, err := examine(p, plan, steps)
	if !steps.awaited(0) {
		return nil, steps.cause // an error may result from the early end
	}
	return r, err
}

func examine(p *Problem, plan *Plan, steps *effort) (*Report, error) {
	x, err := verified(p, plan, steps)
	if err != nil {
		return nil, err
	}
	if p.plain() {
		return checkProof(p, plan, x, steps)
	}
	r, err := checkRulesProof(p, plan, x, steps)
	if err != nil {
		return nil, err
	}
	open, err := checkGoals(p, plan, steps)
	if err != nil {
		return nil, err
	}
	r.open = append(r.open, open...)
	return r, nil
}

// verify is Check without the leaves of the proof. Steps are unlimited; it returns their cause
// once the context has ended.
func verify(p *Problem, plan *Plan, steps *effort) error {
	_, err := verified(p, plan, steps)
	return err
}

// verified is verify; it returns the plan's proof as well.
func verified(p *Problem, plan *Plan, steps *effort) (*exhibit, error) {
	x, err := verifyAll(p, plan, steps)
	if !steps.awaited(0) {
		return nil, steps.cause
	}
	return x, err
}

func verifyAll(p *Problem, plan *Plan, steps *effort) (*exhibit, error) {
	if !steps.awaited(0) {
		return nil, steps.cause
	}
	if err := validate(p); err != nil {
		return nil, err
	}
	if plan == nil {
		return nil, wrong("", "nil", "a plan")
	}
	checks := []func(*Problem, *Plan, *effort) error{checkPatterns, checkClaims}
	if !p.plain() {
		checks = []func(*Problem, *Plan, *effort) error{checkRules}
	}
	for _, check := range checks {
		if err := check(p, plan, steps); err != nil {
			return nil, err
		}
	}
	x, err := plan.Proof.open(steps)
	if err != nil {
		return nil, err
	}
	return x, checkKind(p, plan, x)
}

func wrong(claim string, got, want any) error {
	return &CheckError{claim, fmt.Sprint(got), fmt.Sprint(want)}
}

func wrongLength(claim string, got, want measure.Length) error {
	is, right := apart(got, want)
	return wrong(claim, is, right)
}

// checkPatterns verifies that the patterns can be cut, keep the supply and yield the demand.
func checkPatterns(p *Problem, plan *Plan, steps *effort) error {
	c := &plainCheck{p: p, plan: plan}
	for k := range plan.Patterns {
		if !steps.awaited(int64(8 + 2*len(plan.Patterns[k].Pieces))) {
			return steps.cause
		}
		if err := c.pattern(k); err != nil {
			return err
		}
	}
	for i := range p.Pieces {
		made := 0
		if c.made != nil {
			made = c.made[i]
		}
		if made != wanted(p, i) {
			return wrong("patterns", fmt.Sprintf("%d of pieces[%d]", made, i), wanted(p, i))
		}
	}
	return nil
}

// plainCheck verifies the patterns of a plan for a problem without rules.
type plainCheck struct {
	p    *Problem
	plan *Plan
	fill bool  // Offcut is filled in instead
	used []int // per stick that has a limit
	made []int // per piece
}

// pattern verifies one pattern with those before it.
func (c *plainCheck) pattern(k int) error {
	p, pat := c.p, &c.plan.Patterns[k]
	if c.used == nil {
		c.used, c.made = make([]int, len(p.Sticks)), make([]int, len(p.Pieces))
	}
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
	for _, x := range [...]struct {
		name string
		set  bool
	}{{"turned", pat.Turned != nil}, {"stretch", pat.Stretch != nil}, {"yard_after", pat.YardAfter != 0}} {
		if x.set {
			return wrong(claim(x.name), "set", "nothing in a problem without rules")
		}
	}
	s := &p.Sticks[pat.Stick]
	if s.Limit == stock.SoldOut {
		return wrong(claim("stick"), pat.Stick, "a stick that is not sold out")
	}
	if s.Limit > 0 {
		if pat.Count > s.Limit-c.used[pat.Stick] {
			return wrong(claim("count"), pat.Count, inAll(s.Limit, "sticks", pat.Stick))
		}
		c.used[pat.Stick] += pat.Count
	}
	offcut, err := c.lay(k, pat)
	if err != nil {
		return err
	}
	if c.fill {
		pat.Offcut = offcut
	}
	if pat.Offcut != offcut {
		return wrongLength(claim("offcut"), pat.Offcut, offcut)
	}
	return nil
}

// lay lays the pieces of a pattern on the stick, counts them and returns the offcut.
func (c *plainCheck) lay(k int, pat *Pattern) (offcut measure.Length, err error) {
	p, s := c.p, &c.p.Sticks[pat.Stick]
	claim := func(name string) string { return fmt.Sprintf("patterns[%d].%s", k, name) }
	room := s.Length - s.TrimStart - s.TrimEnd // without the pieces so far
	for j, i := range pat.Pieces {
		if i < 0 || i >= len(p.Pieces) {
			return 0, wrong(claim(fmt.Sprintf("pieces[%d]", j)), i, fmt.Sprintf("an index below %d", len(p.Pieces)))
		}
		if j > 0 {
			room -= p.Kerf // at worst below zero by a kerf
		}
		if room < p.Pieces[i].Length {
			return 0, wrong(claim("pieces"), fmt.Sprintf("too long at index %d by %v", j, (p.Pieces[i].Length-max(room, 0)).About(s.Length)),
				"pieces and kerfs that fit the usable length")
		}
		room -= p.Pieces[i].Length
		if pat.Count > wanted(p, i)-c.made[i] {
			return 0, wrong(claim(fmt.Sprintf("pieces[%d]", j)), i, inAll(wanted(p, i), "pieces", i))
		}
		c.made[i] += pat.Count
	}
	return max(0, room-p.Kerf), nil // the last cut frees it
}

// inAll describes the limit of the patterns of a plan in total.
func inAll(most int, list string, i int) string {
	return fmt.Sprintf("at most %d of %s[%d] in all patterns", most, list, i)
}

func wanted(p *Problem, i int) int {
	if q := p.Pieces[i].Quantity; q != 0 {
		return q
	}
	return 1
}

// costing returns whether a problem counts length, and the cost of each stick, without price
// breaks.
func costing(p *Problem) (byLength bool, cost []int64) {
	money := p.Rules.YardCut != 0
	for i := range p.Rules.Charges {
		money = money || p.Rules.Charges[i].Amount != 0
	}
	for r := range p.Runs {
		money = money || p.Runs[r].Splice.Price != 0
	}
	cost = make([]int64, len(p.Sticks))
	for i := range cost {
		cost[i] = p.Sticks[i].Price
		money = money || cost[i] != 0
		for _, b := range p.Sticks[i].Breaks {
			money = money || b.Price != 0
		}
	}
	if money {
		return false, cost
	}
	for i := range cost {
		cost[i] = int64(p.Sticks[i].Length)
	}
	return true, cost
}

// checkClaims verifies the other claims of the plan, except the proof.
func checkClaims(p *Problem, plan *Plan, _ *effort) error {
	for _, x := range [...]struct {
		name string
		set  bool
	}{{"parts", plan.Parts != nil}, {"spliced", plan.Spliced != nil}, {"goals", plan.Goals != nil}} {
		if x.set {
			return wrong(x.name, "set", "nil for a problem without runs and rules")
		}
	}
	cut := make([]int, len(p.Sticks))
	for k := range plan.Patterns {
		pat := &plan.Patterns[k]
		if pat.Count > math.MaxInt-cut[pat.Stick] {
			return wrong(fmt.Sprintf("patterns[%d].count", k), pat.Count, "counts whose sum is in range")
		}
		cut[pat.Stick] += pat.Count
	}
	sum, err := checkBought(p, plan, cut)
	if err != nil {
		return err
	}
	return checkTotal(p, plan, sum)
}

// checkBought verifies that a plan buys the sticks that it cuts, if nothing requires more, and
// returns their cost.
func checkBought(p *Problem, plan *Plan, cut []int) (sum int128, err error) {
	_, price := costing(p)
	k := 0
	for i, n := range cut {
		if n == 0 {
			continue
		}
		if k == len(plan.Buy) {
			return sum, wrong("buy", fmt.Sprintf("%d purchases", k), fmt.Sprintf("one for each stick that is cut, also for sticks[%d]", i))
		}
		claim := func(name string) string { return fmt.Sprintf("buy[%d].%s", k, name) }
		b := &plan.Buy[k]
		cost := mul(price[i], int64(n))
		if b.Stick != i {
			return sum, wrong(claim("stick"), b.Stick, fmt.Sprintf("%d, the next that is cut", i))
		}
		if b.Count != n {
			return sum, wrong(claim("count"), b.Count, fmt.Sprintf("%d, the number of sticks cut", n))
		}
		if v, ok := cost.int64(); !ok {
			return sum, wrong(claim("cost"), b.Cost, "more than an int64 holds")
		} else if b.Cost != v {
			return sum, wrong(claim("cost"), b.Cost, v)
		}
		sum = sum.add(cost)
		k++
	}
	if k < len(plan.Buy) {
		return sum, wrong("buy", fmt.Sprintf("%d purchases", len(plan.Buy)), fmt.Sprintf("the %d of sticks that are cut", k))
	}
	return sum, nil
}

// checkTotal verifies a plan's cost against the computed sum, and its claims about the end of
// the search.
func checkTotal(p *Problem, plan *Plan, sum int128) error {
	if byLength, _ := costing(p); plan.ByLength != byLength {
		return wrong("by_length", plan.ByLength, byLength)
	}
	if total, ok := sum.int64(); !ok {
		return wrong("cost", plan.Cost, "more than an int64 holds")
	} else if plan.Cost != total {
		return wrong("cost", plan.Cost, total)
	}
	if plan.Bound < 0 {
		return wrong("bound", plan.Bound, "zero or more")
	}
	if plan.Bound > plan.Cost {
		return wrong("bound", plan.Bound, fmt.Sprintf("at most cost, %d", plan.Cost))
	}
	omitted := plan.Proof.kind == ProofOmitted
	if proven := plan.Cost == plan.Bound && !omitted; plan.Proven != proven {
		return wrong("proven", plan.Proven, proven)
	}
	if plan.Stop > StopCaller {
		return wrong("stop", plan.Stop, "one of the reasons that have a name")
	}
	settled := plan.Proven && !slices.ContainsFunc(plan.Goals, func(l GoalResult) bool { return !l.Proven })
	if plan.Stop == StopProven && !plan.Proven && !(omitted && plan.Cost == plan.Bound) {
		return wrong("stop", plan.Stop, "a reason that goes with a gap")
	}
	if settled && plan.Stop != StopProven && plan.Stop != StopUnknown {
		return wrong("stop", plan.Stop, fmt.Sprintf("%v, or %v: nothing is left to search for", StopProven, StopUnknown))
	}
	if plan.Work < 0 {
		return wrong("work", plan.Work, "zero or more")
	}
	return nil
}
