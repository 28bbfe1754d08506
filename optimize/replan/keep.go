package replan

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/internal/bridge"
	"example.com/longpoint/optimize/internal/price"
	"example.com/longpoint/optimize/internal/share"
)

// refusal is the reason why a part of an old pattern is not kept.
type refusal struct {
	reason Reason // empty: it is kept
	piece  int
	extra  int64
}

// keepable is a part of an old pattern that may be kept: whole sticks, or the rest of a started
// one.
type keepable struct {
	old     int // index in the old plan's Patterns
	pieces  []int
	most    int // number of sticks
	started int // index in Progress.Started, -1 for whole sticks
}

// begin finds for each started stick the old pattern by which it was begun: the first pattern
// of the stick that yields its pieces so far and whose other pieces fit the rest of the stick
// or, failing that, the first that yields its pieces.
func (r *replan) begin() {
	r.begun = make([]int, len(r.done.Started))
	r.whole = slices.Clone(r.stays)
	of := make([][]int, len(r.p.Sticks)) // the patterns of each stick
	for j := range r.old.Patterns {
		i := r.old.Patterns[j].Stick
		of[i] = append(of[i], j)
	}
	for k, o := range r.done.Started {
		r.begun[k] = -1
		for _, j := range of[o.Stick] {
			pat := &r.old.Patterns[j]
			if !r.mt.Watch(int64(16 + 4*len(pat.Pieces))) {
				return
			}
			rest, ok := without(pat.Pieces, o.Pieces)
			if !ok || r.whole[j] == 0 {
				continue
			}
			fits := len(rest) == 0
			if !fits && r.started[k] >= 0 {
				_, fits = r.lay(pat, r.started[k], rest)
			}
			if fits || r.begun[k] < 0 {
				r.begun[k] = j
			}
			if fits {
				break
			}
		}
		if j := r.begun[k]; j >= 0 {
			r.whole[j]--
		}
	}
}

// without returns a list of numbers less those of another, if it holds them all.
func without(list, less []int) ([]int, bool) {
	if len(less) > len(list) {
		return nil, false
	}
	away := make(map[int]int, len(less))
	for _, i := range less {
		away[i]++
	}
	rest := make([]int, 0, len(list)-len(less))
	for _, i := range list {
		if away[i] > 0 { // the first ones are removed
			away[i]--
		} else {
			rest = append(rest, i)
		}
	}
	return rest, len(rest) == len(list)-len(less)
}

// keepables lists the parts of the old plan that may be kept: started sticks first, then the
// patterns that yield most pieces.
func (r *replan) keepables() []keepable {
	var out []keepable
	for k, j := range r.begun {
		if j < 0 {
			continue
		}
		if rest, _ := without(r.old.Patterns[j].Pieces, r.done.Started[k].Pieces); len(rest) > 0 {
			out = append(out, keepable{old: j, pieces: rest, most: 1, started: k})
		}
	}
	first := len(out)
	for j, n := range r.whole {
		if n > 0 {
			out = append(out, keepable{old: j, pieces: r.old.Patterns[j].Pieces, most: n, started: -1})
		}
	}
	slices.SortStableFunc(out[first:], func(a, b keepable) int {
		// No plan has so many pieces that the products overflow.
		return cmp.Compare(int64(len(b.pieces))*int64(b.most), int64(len(a.pieces))*int64(a.most))
	})
	return out
}

// lay puts pieces of an old pattern, numbered as in the old problem, on a stick of the
// remaining problem, if they are all still wanted and fit.
func (r *replan) lay(old *optimize.Pattern, stick int, pieces []int) (optimize.Pattern, bool) {
	q := &r.rev.Problem
	pat := optimize.Pattern{Stick: stick, Count: 1, Offcut: old.Offcut, Turned: slices.Clone(old.Turned), Stretch: slices.Clone(old.Stretch), YardAfter: old.YardAfter}
	for _, i := range pieces {
		k := r.at[i]
		if k < 0 {
			return pat, false
		}
		pat.Pieces = append(pat.Pieces, k)
	}
	s, was := &q.Sticks[stick], &r.p.Sticks[old.Stick]
	same := r.rev.Sticks[stick].Place == PlaceSupplier || r.rev.Sticks[stick].Place == PlaceWhole && s.Length == was.Length && old.YardAfter == 0
	if same && len(pieces) == len(old.Pieces) {
		return pat, true
	}
	if len(s.Defects) > 0 {
		return pat, false
	}
	pat.Stretch, pat.YardAfter = nil, 0
	if len(pieces) != len(old.Pieces) {
		pat.Turned = nil
		if old.Turned != nil {
			// Each lies as before; of equal pieces the first ones stay.
			lay := make(map[int][]optimize.Turn, len(old.Pieces))
			for j, i := range old.Pieces {
				lay[i] = append(lay[i], old.Turned[j])
			}
			for _, i := range pieces {
				pat.Turned = append(pat.Turned, lay[i][0])
				lay[i] = lay[i][1:]
			}
		}
	}
	used, err := bridge.Used(&optimize.Problem{Pieces: r.all, Kerf: q.Kerf, Rules: q.Rules}, &pat)
	if err != nil || used-q.Kerf > usable(s) {
		return pat, false
	}
	pat.Offcut = max(0, usable(s)-used)
	return pat, true
}

// draft is part of a plan for the remaining problem: the fixed patterns, and the problem of the
// rest. Pieces are numbered as in replan.all. In its problem a quantity of zero means none, and
// a negative limit that no stick is left.
type draft struct {
	q     optimize.Problem
	fixed []optimize.Pattern
	runs  []bool // per run of the remaining problem: it is spliced as planned

	splices []int // per run: the planned number of splices
}

// nothing returns a draft that fixes nothing.
func (r *replan) nothing() draft {
	d := draft{q: r.rev.Problem, runs: make([]bool, len(r.rev.Runs))}
	d.q.Pieces = r.all
	for _, run := range r.rev.Runs {
		d.splices = append(d.splices, len(r.old.Spliced[run].At))
	}
	return d
}

// take fixes n of a keepable in a draft, on sticks on hand first.
func (r *replan) take(d draft, u *keepable, n int) (draft, refusal) {
	if !r.tries.Spend(int64(len(d.q.Pieces) + len(d.q.Sticks) + 8*len(u.pieces))) {
		return d, refusal{reason: ReasonNotFound}
	}
	old := &r.old.Patterns[u.old]
	out := draft{q: d.q, fixed: slices.Clip(d.fixed), runs: slices.Clone(d.runs), splices: d.splices}
	out.q.Pieces, out.q.Sticks = slices.Clone(d.q.Pieces), slices.Clone(d.q.Sticks)
	for _, i := range u.pieces {
		k := r.at[i]
		if run := r.runOf[i]; run >= 0 && !out.runs[run] {
			out.runs[run] = true
			for _, part := range r.old.Spliced[r.rev.Runs[run]].Pieces {
				out.q.Pieces[r.at[part]].Quantity = 1
			}
		}
		if k < 0 || out.q.Pieces[k].Quantity < n {
			return d, refusal{reason: ReasonNotNeeded, piece: i}
		}
		out.q.Pieces[k].Quantity -= n
	}
	short := false
	for s := range out.q.Sticks {
		src, limit := r.rev.Sticks[s], out.q.Sticks[s].Limit
		if u.started >= 0 && s != r.started[u.started] || u.started < 0 && (src.Stick != old.Stick || src.Place != PlaceSupplier && src.Place != PlaceWhole) || limit < 0 || n == 0 {
			continue
		}
		pat, ok := r.lay(old, s, u.pieces)
		if !ok {
			short = true
			continue
		}
		pat.Count = n
		if limit > 0 {
			pat.Count = min(n, limit)
			if out.q.Sticks[s].Limit -= pat.Count; out.q.Sticks[s].Limit == 0 {
				out.q.Sticks[s].Limit = -1
			}
		}
		out.fixed = append(out.fixed, pat)
		n -= pat.Count
	}
	switch {
	case n == 0:
		return out, refusal{}
	case short || u.started >= 0:
		return d, refusal{reason: ReasonTooShort}
	}
	return d, refusal{reason: ReasonNoStick}
}

// room returns how many of a keepable a draft can hold, and the reason why not one more.
func (r *replan) room(d draft, u *keepable) (int, refusal) {
	no := refusal{}
	lo, hi := 0, u.most+1 // lo can be kept, hi cannot
	for n := u.most; hi-lo > 1; n = lo + (hi-lo)/2 {
		if _, why := r.take(d, u, n); why.reason == "" {
			lo = n
		} else {
			hi, no = n, why
		}
	}
	return lo, no
}

// fill finds the parts that may be kept, and drafts a plan with all those that can be kept
// together.
func (r *replan) fill() {
	r.units = r.keepables()
	r.full = r.nothing()
	r.most = make([]refusal, len(r.units))
	for k := range r.units {
		var n int
		if n, r.most[k] = r.room(r.full, &r.units[k]); n > 0 {
			r.full, _ = r.take(r.full, &r.units[k], n)
		}
	}
}

// start returns the rest of the old plan as a plan to begin from, or nil if there is none.
func (r *replan) start() *optimize.Plan {
	plan := &optimize.Plan{}
	at := make([]int, len(r.all)) // index in the start by number in replan.all
	wanted := len(r.rev.Problem.Pieces)
	for i := range wanted {
		at[i] = i
	}
	old, next := wanted, wanted
	for k, run := range r.rev.Runs {
		from := &r.old.Spliced[run]
		s := optimize.SplicedRun{Run: k, At: from.At}
		for range from.Pieces {
			if r.full.runs[k] {
				at[old] = next
				s.Pieces = append(s.Pieces, next)
				next++
			}
			old++
		}
		if r.full.runs[k] {
			plan.Spliced = append(plan.Spliced, s)
		}
	}
	for _, pat := range r.full.fixed {
		pat.Pieces = slices.Clone(pat.Pieces)
		for j, i := range pat.Pieces {
			pat.Pieces[j] = at[i]
		}
		plan.Patterns = append(plan.Patterns, pat)
	}
	if len(plan.Patterns) == 0 {
		return nil
	}
	return plan
}

// keep tries to keep the old patterns in the new plan: first all that can be kept together,
// then one after the other, as many sticks of each as possible.
func (r *replan) keep(ctx context.Context, o *optimize.Options) {
	limit := share.Work(ctx, o)
	if limit == 0 { // the search has left a share of its time
		limit = optimize.DefaultWork
	}
	budget := &allowance{limit / keepShare}
	r.no = make([]refusal, len(r.stays))
	for j := range r.no {
		r.no[j].reason = ReasonNotFound // until a better reason is known
	}
	if r.rev.Plan != nil && ctx != nil && meter.Ended(ctx) != nil {
		return
	}
	if r.adopt(ctx, r.full, budget).reason == "" {
		for k := range r.units {
			if r.most[k].reason != "" {
				r.no[r.units[k].old] = r.most[k]
			}
		}
		return
	}
	if r.rev.Plan == nil || r.rev.Plan.Stop == optimize.StopCaller {
		return
	}
	d := r.nothing()
	for k := range r.units {
		if budget.left == 0 || ctx != nil && meter.Ended(ctx) != nil {
			return
		}
		u := &r.units[k]
		n, no := r.room(d, u)
		lo, hi := 0, n+1
		for try := n; hi-lo > 1; try = lo + (hi-lo)/2 {
			next, _ := r.take(d, u, try)
			if why := r.adopt(ctx, next, budget); why.reason == "" {
				lo = try
			} else {
				hi, no = try, why
			}
		}
		if lo > 0 {
			d, _ = r.take(d, u, lo)
		}
		if no.reason != "" {
			r.no[u.old] = no
		}
	}
}

// keepShare is the divisor of the work limit that gives the limit for keeping.
const keepShare = 4

// keepTries limits the copying of problems while keeping, in pieces and sticks: some seconds.
// Rooms and houses take a thousandth of it.
const keepTries = 1 << 26

// keepGrace is the limit on copying after the context has ended: some milliseconds.
const keepGrace = 1 << 20

// allowance is work that may still be spent.
type allowance struct{ left int64 }

// try returns the limit for one try: never everything, so that something is left for the next.
func (a *allowance) try() int64 { return max(a.left/8, min(a.left, 1<<18)) }

func (a *allowance) spend(n int64) { a.left -= min(n, a.left) }

// adopt completes a draft and makes it the new plan, if it is no worse than the current one.
func (r *replan) adopt(ctx context.Context, d draft, budget *allowance) refusal {
	q := &r.rev.Problem
	rest, pieces, sticks, ok := d.rest()
	if !ok {
		return refusal{reason: ReasonRestDoesNotFit}
	}
	more := &optimize.Plan{}
	bound := int64(0) // of the rest
	if len(rest.Pieces)+len(rest.Runs) > 0 {
		if len(rest.Sticks) == 0 {
			return refusal{reason: ReasonRestDoesNotFit}
		}
		var why Reason
		if more, why = r.solveRest(ctx, rest, budget); why != "" {
			return refusal{reason: why}
		}
		if bound = more.Bound; more.ByLength != price.ByLength(q) {
			bound = 0 // nothing in the rest has a price
		}
	}
	plan, err := optimize.Evaluate(context.Background(), *q, r.assemble(&d, more, pieces, sticks))
	if err != nil {
		return refusal{reason: ReasonNotFound}
	}
	best := r.rev.Plan
	if best == nil {
		if plan.Stop = r.stop; plan.Proven {
			plan.Stop = optimize.StopProven
		}
		r.rev.Plan = plan
		return refusal{}
	}
	if plan.Cost > best.Cost && !r.free() {
		if least := d.cost(); !sells(q) && least+bound > best.Cost {
			return refusal{reason: ReasonCostsMore, extra: least + bound - best.Cost}
		}
		return refusal{reason: ReasonNotFound}
	}
	if why := carryProof(plan, best); why != "" {
		return refusal{reason: why}
	}
	if err := optimize.Check(context.Background(), *q, plan.WithoutProof()); err != nil {
		return refusal{reason: ReasonNotFound}
	}
	r.rev.Plan = plan
	return refusal{}
}

// solveRest plans the rest within the budget, or returns why there is no plan.
func (r *replan) solveRest(ctx context.Context, rest optimize.Problem, budget *allowance) (*optimize.Plan, Reason) {
	try := budget.try()
	if try == 0 {
		return nil, ReasonNotFound
	}
	more, err := optimize.Solve(ctx, rest, &optimize.Options{Work: try})
	var no *optimize.InfeasibleError
	var stopped *optimize.LimitError
	switch {
	case errors.As(err, &no):
		if no.Reason == optimize.ReasonSupplyDoesNotFit {
			budget.spend(try) // the error does not tell how much it took
		}
		return nil, ReasonRestDoesNotFit
	case errors.As(err, &stopped):
		budget.spend(stopped.Work)
		r.work += stopped.Work
		return nil, ReasonNotFound
	case err != nil:
		return nil, ReasonNotFound
	}
	budget.spend(more.Work)
	r.work += more.Work
	return more, ""
}

// carryProof gives a plan the bound, the proof and the goals' results of the best one. It returns
// ReasonMissesGoal if the plan costs as much but reaches less of a goal.
func carryProof(plan, best *optimize.Plan) Reason {
	plan.Bound, plan.Proof, plan.Stop = best.Bound, best.Proof, best.Stop
	if plan.Proven = plan.Cost == plan.Bound; plan.Proven {
		plan.Stop = optimize.StopProven
	} else if plan.Stop == optimize.StopProven {
		plan.Stop = optimize.StopUnknown // the objective is less length, which costs nothing
	}
	if plan.Cost == best.Cost {
		if !slices.EqualFunc(plan.Goals, best.Goals, func(a, b optimize.GoalResult) bool { return a.Value == b.Value }) {
			return ReasonMissesGoal
		}
		plan.Goals = slices.Clone(best.Goals)
	} else {
		// The results of later goals were optimal at another cost.
		boundCost(plan)
	}
	return ""
}

// cost returns the cost of the fixed patterns and splices of a draft, if the purchases follow
// from the patterns.
func (d *draft) cost() int64 {
	total, each := int64(0), price.Of(&d.q)
	for k := range d.fixed {
		total += each[d.fixed[k].Stick] * int64(d.fixed[k].Count) // no overflow: it is part of a plan's cost
	}
	for k := range d.runs {
		if d.runs[k] {
			total += d.q.Runs[k].Splice.Price * int64(d.splices[k])
		}
	}
	return total
}

// boundCost sets the bound of the goal of the cost to the plan's bound.
func boundCost(plan *optimize.Plan) {
	proven := true
	for k := range plan.Goals {
		g := &plan.Goals[k]
		if g.Goal == optimize.GoalCost {
			g.Bound = plan.Bound
		}
		proven = proven && g.Bound == g.Value
		g.Proven = proven
	}
}

// assemble joins the fixed patterns of a draft with a plan for the rest. Parts come in the
// order of the runs; each run is spliced as in the draft or the rest.
func (r *replan) assemble(d *draft, more *optimize.Plan, pieces, sticks []int) *optimize.Plan {
	plan := &optimize.Plan{}
	wanted := len(r.rev.Problem.Pieces)
	planned := make([]int, len(r.all)-wanted) // per part of the old plan: its number in the new one
	other := make([]int, len(more.Parts))     // per part of the rest
	old, fresh, open := 0, 0, more.Spliced    // the next part of each
	for k, run := range r.rev.Runs {
		from := &r.old.Spliced[run]
		first := old
		old += len(from.Pieces)
		if !d.runs[k] {
			from, open = &open[0], open[1:]
		}
		s := optimize.SplicedRun{Run: k, At: slices.Clone(from.At)}
		for j := range from.Pieces {
			n := wanted + len(plan.Parts)
			s.Pieces = append(s.Pieces, n)
			if d.runs[k] {
				plan.Parts = append(plan.Parts, *r.piece(from.Pieces[j]))
				planned[first+j] = n
			} else {
				plan.Parts = append(plan.Parts, more.Parts[fresh])
				other[fresh] = n
				fresh++
			}
		}
		plan.Spliced = append(plan.Spliced, s)
	}
	here := func(i int) int { // maps a number in replan.all
		if i >= wanted {
			return planned[i-wanted]
		}
		return i
	}
	add := func(pat optimize.Pattern, number func(int) int) {
		pat.Pieces = slices.Clone(pat.Pieces)
		for k, i := range pat.Pieces {
			pat.Pieces[k] = number(i)
		}
		plan.Patterns = append(plan.Patterns, pat)
	}
	for _, pat := range d.fixed {
		add(pat, here)
	}
	for _, pat := range more.Patterns {
		pat.Stick = sticks[pat.Stick]
		add(pat, func(i int) int {
			if n := len(pieces); i >= n {
				return other[i-n]
			}
			return here(pieces[i])
		})
	}
	plan.Patterns = merged(plan.Patterns)
	return plan
}

// rest returns the problem that a draft leaves and the indices back; it returns false if the
// problem would split a group.
func (d *draft) rest() (rest optimize.Problem, pieces, sticks []int, ok bool) {
	rest = d.q
	rest.Runs = nil
	for k, fixed := range d.runs {
		if !fixed {
			rest.Runs = append(rest.Runs, d.q.Runs[k])
		}
	}
	rest.Pieces, rest.Sticks, rest.Rules.Groups, rest.Rules.Spare = nil, nil, nil, 0
	for i := range d.q.Pieces {
		if d.q.Pieces[i].Quantity > 0 {
			rest.Pieces, pieces = append(rest.Pieces, d.q.Pieces[i]), append(pieces, i)
		}
	}
	bought := map[string]bool{}
	for k := range d.fixed {
		bought[d.q.Sticks[d.fixed[k].Stick].Supplier] = true
	}
	for s := range d.q.Sticks {
		if st := d.q.Sticks[s]; st.Limit >= 0 {
			if st.Limit > 0 && (st.Bundle > st.Limit || st.Minimum > st.Limit) {
				st.Bundle, st.Minimum = 0, 0 // part of a purchase that is kept
			}
			rest.Sticks, sticks = append(rest.Sticks, st), append(sticks, s)
		}
	}
	rest.Rules.Charges = nil
	for _, c := range d.q.Rules.Charges {
		if !bought[c.Supplier] {
			rest.Rules.Charges = append(rest.Rules.Charges, c)
		}
	}
	rest.Rules.Groups, ok = d.groups(pieces)
	return rest, pieces, sticks, ok
}

// groups returns the groups of the pieces of the rest. It reports false if the fixed parts break
// one: it takes a second lot, or not as many of each piece of a set.
func (d *draft) groups(pieces []int) (rest []optimize.Group, ok bool) {
	to := make(map[int]int, len(pieces))
	for k, i := range pieces {
		to[i] = k
	}
	lots := d.lots()
	for k, g := range d.q.Rules.Groups {
		now := optimize.Group{Kind: g.Kind, Started: g.Started, Lot: g.Lot}
		if g.Kind == optimize.GroupOneLot {
			for _, l := range lots[k] { // with several lots, no lot can continue the group
				if now.Started && l != now.Lot {
					return nil, false
				}
				now.Started, now.Lot = true, l
			}
			for _, i := range g.Pieces {
				if d.q.Pieces[i].Quantity > 0 {
					now.Pieces = append(now.Pieces, to[i])
				}
			}
			if len(now.Pieces) > 0 {
				rest = append(rest, now)
			}
			continue
		}
		first := d.q.Pieces[g.Pieces[0]].Quantity
		for _, i := range g.Pieces {
			if d.q.Pieces[i].Quantity != first {
				return nil, false
			}
			if first > 0 {
				now.Pieces = append(now.Pieces, to[i])
			}
		}
		if len(now.Pieces) > 0 {
			rest = append(rest, now)
		}
	}
	return rest, true
}

// lots returns for each group of one lot the lots from which the fixed patterns have cut it.
func (d *draft) lots() map[int][]string {
	of := map[int]int{}
	for g := range d.q.Rules.Groups {
		if gr := &d.q.Rules.Groups[g]; gr.Kind == optimize.GroupOneLot {
			for _, i := range gr.Pieces {
				of[i] = g
			}
		}
	}
	lots := map[int][]string{}
	if len(of) == 0 {
		return lots
	}
	for k := range d.fixed {
		l := d.q.Sticks[d.fixed[k].Stick].Lot
		for _, i := range d.fixed[k].Pieces {
			if g, ok := of[i]; ok {
				if n := len(lots[g]); n == 0 || lots[g][n-1] != l {
					lots[g] = append(lots[g], l)
				}
			}
		}
	}
	return lots
}

// merged sorts patterns by stick and merges equal ones.
func merged(patterns []optimize.Pattern) []optimize.Pattern {
	slices.SortStableFunc(patterns, func(a, b optimize.Pattern) int { return cmp.Compare(a.Stick, b.Stick) })
	var out []optimize.Pattern
	at := make(map[string]int, len(patterns))
	for _, p := range patterns {
		way := fmt.Sprint(p.Stick, p.Pieces, p.Turned, p.Stretch, p.YardAfter)
		if k, ok := at[way]; ok {
			out[k].Count += p.Count
			continue
		}
		at[way] = len(out)
		out = append(out, p)
	}
	return out
}
