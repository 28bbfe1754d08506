package optimize

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// Progress says how far the work on a plan has come. The zero value is a plan on which
// nothing has been done.
type Progress struct {
	// Cut is, per index in Plan.Patterns, how many sticks have been cut completely.
	// It may be shorter than Patterns.
	Cut []int `json:"cut,omitempty"`

	// Opened are sticks that have been started, or that were cut in another way than
	// planned.
	Opened []Opened `json:"opened,omitempty"`

	// Spoiled are pieces among those that were cut that have to be cut again.
	Spoiled []Spoiled `json:"spoiled,omitempty"`

	// InHand are whole sticks that are bought and not cut.
	InHand []InHand `json:"in_hand,omitempty"`

	// Supply corrects how many sticks can still be had, besides those in hand.
	// Sticks it does not name can be had as often as their Limit leaves.
	Supply []Supply `json:"supply,omitempty"`
}

// Opened is a stick that has been started.
type Opened struct {
	Stick  int            `json:"stick"`            // index in Problem.Sticks: what it is a piece of
	Pieces []int          `json:"pieces,omitempty"` // good pieces cut from it, numbered as in Pattern.Pieces
	Left   measure.Length `json:"left"`             // what can still be used of it, in one piece; zero: nothing
}

// Spoiled is a number of one piece.
type Spoiled struct {
	Piece int `json:"piece"` // numbered as in Pattern.Pieces
	Count int `json:"count"` // at least 1
}

// InHand is a number of whole sticks of one kind.
type InHand struct {
	Stick int `json:"stick"` // index in Problem.Sticks
	Count int `json:"count"` // at least 1

	// Length is what they really measure, end to end, where that is not what the
	// problem says; else zero.
	Length measure.Length `json:"length,omitzero"`
}

// Supply is how many sticks of one kind can still be had.
type Supply struct {
	Stick int `json:"stick"` // index in Problem.Sticks
	Left  int `json:"left"`  // zero or more
}

// Revision is the plan for what is left.
type Revision struct {
	// Problem is what is left to cut and from what: sticks that are opened or in
	// hand first, at no price, then those that can be bought. Its runs are nil:
	// what a run was spliced into are pieces.
	Problem Problem `json:"problem"`

	// Pieces and Sticks lead back: per index in Problem.Pieces the number in the old
	// problem, as Pattern.Pieces has it, and per index in Problem.Sticks where the
	// stick is.
	Pieces []int    `json:"pieces,omitempty"`
	Sticks []Source `json:"sticks,omitempty"`

	// Plan is the plan for Problem; nil when nothing is left to do.
	Plan *Plan `json:"plan,omitempty"`

	// Cost is what is still to be paid: Plan.Cost, or zero.
	Cost int64 `json:"cost"`

	// Old says, for each pattern of the old plan of which sticks were left, how many
	// are cut as planned.
	Old []OldPattern `json:"old,omitempty"`

	// Buy is what to buy beyond what is in hand, Idle what is in hand or opened and
	// not used, both by index in the old problem's sticks.
	Buy  []Purchase `json:"buy,omitempty"`
	Idle []InHand   `json:"idle,omitempty"`
}

// Source is where a stick of a revision is.
type Source struct {
	Stick int   `json:"stick"` // index in the old problem's Sticks
	Place Place `json:"place"`
}

// Place is where a stick is.
type Place uint8

const (
	ToBuy   Place = iota // at the supplier's, or on the rack as before
	Whole                // in hand, not cut
	Started              // in hand, opened
)

var placeNames = names{"to buy", "whole", "started"}

// String returns the place in words.
func (p Place) String() string { return placeNames.text(uint8(p)) }

// AppendText implements encoding.TextAppender.
func (p Place) AppendText(b []byte) ([]byte, error) { return placeNames.append(b, uint8(p)) }

// MarshalText implements encoding.TextMarshaler.
func (p Place) MarshalText() ([]byte, error) { return p.AppendText(nil) }

// UnmarshalText implements encoding.TextUnmarshaler.
func (p *Place) UnmarshalText(b []byte) error {
	v, err := placeNames.parse(b)
	if err == nil {
		*p = Place(v)
	}
	return err
}

// OldPattern says what became of a pattern.
type OldPattern struct {
	Pattern int `json:"pattern"` // index in the old plan's Patterns
	Left    int `json:"left"`    // how many sticks were still to be cut that way
	Kept    int `json:"kept"`    // how many of them are
}

// ProgressError reports progress that cannot be, given the problem and the plan. It
// unwraps to [ErrProblem].
type ProgressError struct {
	Field string // path of the field, such as Cut[2]
	Value string // what it holds
	Want  string // what would be right
}

func (e *ProgressError) Error() string {
	return fmt.Sprintf("optimize: progress: %s is %s, want %s", e.Field, e.Value, e.Want)
}

// Unwrap returns [ErrProblem].
func (e *ProgressError) Unwrap() error { return ErrProblem }

// Replan plans what is left of a job after some of it was done, and some of it went
// wrong.
//
// The new plan costs the least that can still be paid, proven where Plan.Proven
// says so: sticks in hand or opened are free. Among the plans of that cost it keeps
// what it can of the old one: pattern by pattern, the one that yields most pieces
// first, it is tried whether the rest can be cut at no more than that cost when the
// old pattern stays as it is. That is a heuristic: another order might keep more.
// It is left out where prices are not in proportion to numbers (bundles, minimums,
// price breaks, charges, spares, yard cuts), and Revision.Old then tells what
// happens to be kept.
//
// What a run was spliced into are pieces from here on. A charge is not paid again
// where something of the supplier's is in hand, opened or cut. A group that has been
// cut in part is a [ProgressError], since what it matches is gone.
//
// The plan must be one that [Check] accepts for the problem. Errors are those of
// Solve for what is left, a [CheckError] for the plan, and a [ProgressError].
func Replan(ctx context.Context, p Problem, plan *Plan, done Progress, o *Options) (*Revision, error) {
	if _, err := audit(&p, plan, 0); err != nil {
		return nil, err
	}
	r := &replan{p: &p, old: plan, done: &done}
	if err := r.count(); err != nil {
		return nil, err
	}
	if err := r.remain(); err != nil {
		return nil, err
	}
	rev := &r.rev
	if len(rev.Problem.Pieces) > 0 && len(rev.Problem.Sticks) == 0 {
		return nil, &InfeasibleError{Reason: SupplyDoesNotFit, Piece: -1, Stick: -1}
	}
	if len(rev.Problem.Pieces) > 0 {
		var err error
		if rev.Plan, err = Solve(ctx, rev.Problem, o); err != nil {
			return nil, err
		}
		if !rev.Problem.sells() {
			r.keep(ctx, o)
		}
		rev.Cost = rev.Plan.Cost
	}
	r.compare()
	return rev, nil
}

type replan struct {
	p     *Problem
	old   *Plan
	done  *Progress
	left  []int // per piece, parts after them: still to cut
	stays []int // per old pattern: sticks not yet cut
	used  []int // per stick: cut, opened or in hand
	rev   Revision
}

func (r *replan) piece(i int) *stock.Piece {
	if n := len(r.p.Pieces); i >= n {
		return &r.old.Parts[i-n]
	}
	return &r.p.Pieces[i]
}

func progress(field string, value any, want string) error {
	return &ProgressError{field, fmt.Sprint(value), want}
}

// count works out what is left to cut, and which sticks are no longer at the
// supplier's.
func (r *replan) count() error {
	p, done := r.p, r.done
	n := len(p.Pieces) + len(r.old.Parts)
	made := make([]int, n)
	r.used = make([]int, len(p.Sticks))
	if len(done.Cut) > len(r.old.Patterns) {
		return progress("Cut", fmt.Sprintf("%d numbers", len(done.Cut)), fmt.Sprintf("at most one to each of %d patterns", len(r.old.Patterns)))
	}
	for k := range r.old.Patterns {
		pat := &r.old.Patterns[k]
		cut := 0
		if k < len(done.Cut) {
			cut = done.Cut[k]
		}
		if cut < 0 || cut > pat.Count {
			return progress(fmt.Sprintf("Cut[%d]", k), cut, fmt.Sprintf("0 to %d, as planned", pat.Count))
		}
		for _, i := range pat.Pieces {
			made[i] += cut
		}
		r.used[pat.Stick] += cut
		r.stays = append(r.stays, pat.Count-cut)
	}
	stick := func(field string, s int) error {
		if s < 0 || s >= len(p.Sticks) {
			return progress(field, s, fmt.Sprintf("an index below %d", len(p.Sticks)))
		}
		return nil
	}
	for k, o := range done.Opened {
		field := func(name string) string { return fmt.Sprintf("Opened[%d].%s", k, name) }
		if err := stick(field("Stick"), o.Stick); err != nil {
			return err
		}
		room := usable(&p.Sticks[o.Stick])
		if o.Left < 0 || o.Left > room {
			return progress(field("Left"), o.Left, fmt.Sprintf("zero to the stick's usable length, %v", room))
		}
		for j, i := range o.Pieces {
			if i < 0 || i >= n {
				return progress(field(fmt.Sprintf("Pieces[%d]", j)), i, fmt.Sprintf("a number below %d", n))
			}
			made[i]++
		}
		r.used[o.Stick]++
	}
	for k, s := range done.Spoiled {
		field := func(name string) string { return fmt.Sprintf("Spoiled[%d].%s", k, name) }
		if s.Piece < 0 || s.Piece >= n {
			return progress(field("Piece"), s.Piece, fmt.Sprintf("a number below %d", n))
		}
		if s.Count < 1 || s.Count > made[s.Piece] {
			return progress(field("Count"), s.Count, fmt.Sprintf("1 to %d, as many as have been cut", made[s.Piece]))
		}
		made[s.Piece] -= s.Count
	}
	for k, h := range done.InHand {
		field := func(name string) string { return fmt.Sprintf("InHand[%d].%s", k, name) }
		if err := stick(field("Stick"), h.Stick); err != nil {
			return err
		}
		if h.Count < 1 || h.Count > maxSold {
			return progress(field("Count"), h.Count, fmt.Sprintf("1 to %d", maxSold))
		}
		s := &p.Sticks[h.Stick]
		if h.Length != 0 && (h.Length <= s.TrimStart+s.TrimEnd || h.Length > lengthLimit) {
			return progress(field("Length"), h.Length, fmt.Sprintf("more than the ends that cannot be used, %v", s.TrimStart+s.TrimEnd))
		}
		if len(s.Defects) > 0 && h.Length != 0 {
			return progress(field("Length"), h.Length, "zero for a stick with defects, which say what can be used")
		}
		r.used[h.Stick] += h.Count
	}
	for k, s := range done.Supply {
		if err := stick(fmt.Sprintf("Supply[%d].Stick", k), s.Stick); err != nil {
			return err
		}
		if s.Left < 0 {
			return progress(fmt.Sprintf("Supply[%d].Left", k), s.Left, "zero or more")
		}
	}
	for i := range made {
		want := 1
		if i < len(p.Pieces) {
			want = wanted(p, i)
		}
		if made[i] > want {
			return progress("Opened", fmt.Sprintf("%d of piece %d cut", made[i], i), fmt.Sprintf("at most the %d that are wanted", want))
		}
		r.left = append(r.left, want-made[i])
	}
	return nil
}

// remain states the problem of what is left.
func (r *replan) remain() error {
	p, rev := r.p, &r.rev
	q := &rev.Problem
	q.Kerf, q.Rules = p.Kerf, p.Rules
	to := make([]int, len(r.left))
	for i, n := range r.left {
		to[i] = -1
		if n == 0 {
			continue
		}
		to[i] = len(q.Pieces)
		pc := *r.piece(i)
		pc.Quantity = n
		q.Pieces = append(q.Pieces, pc)
		rev.Pieces = append(rev.Pieces, i)
	}
	q.Rules.Groups = nil
	for g := range p.Rules.Groups {
		gr := p.Rules.Groups[g]
		first := r.left[gr.Pieces[0]]
		now := Group{Kind: gr.Kind}
		for _, i := range gr.Pieces {
			if r.left[i] != first || gr.Kind == OneLot && r.left[i] != wanted(p, i) && first > 0 {
				return progress("Cut", fmt.Sprintf("part of Rules.Groups[%d]", g), "whole sets of what belongs together, or none")
			}
			now.Pieces = append(now.Pieces, to[i])
		}
		if first > 0 {
			q.Rules.Groups = append(q.Rules.Groups, now)
		}
	}
	// Labels are for all or for none.
	labeled := false
	for i := range q.Pieces {
		labeled = labeled || q.Pieces[i].Label != ""
	}
	for i := range q.Pieces {
		if labeled && q.Pieces[i].Label == "" {
			q.Pieces[i].Label = fmt.Sprintf("piece %d", rev.Pieces[i])
		}
	}
	length := true
	for i := range p.Sticks {
		length = length && p.Sticks[i].Price == 0
	}
	objective, _ := costing(p)
	length = length && objective == LeastLength
	add := func(s stock.Stick, from int, place Place, suffix string) {
		if s.Label != "" && suffix != "" {
			s.Label += ", " + suffix
			for n := 2; slices.ContainsFunc(q.Sticks, func(o stock.Stick) bool { return o.Label == s.Label }); n++ {
				s.Label = fmt.Sprintf("%s, %s (%d)", p.Sticks[from].Label, suffix, n)
			}
		}
		if place != ToBuy {
			s.Price, s.Bundle, s.Minimum, s.Breaks, s.Supplier, s.Rack = 0, 0, 0, nil, "", true
		} else if length {
			// What is in hand is free only beside what has a price: that of a stick is
			// its length then.
			s.Price = int64(s.Length)
		}
		q.Sticks = append(q.Sticks, s)
		rev.Sticks = append(rev.Sticks, Source{from, place})
	}
	paid := map[string]bool{}
	for i, n := range r.used {
		if n > 0 {
			paid[p.Sticks[i].Supplier] = true
		}
	}
	for _, o := range r.done.Opened {
		if o.Left > 0 {
			s := p.Sticks[o.Stick]
			s.Length, s.TrimStart, s.TrimEnd, s.Defects, s.Limit, s.Nominal = o.Left, 0, 0, nil, 1, 0
			add(s, o.Stick, Started, "opened")
		}
	}
	for _, h := range r.done.InHand {
		s := p.Sticks[h.Stick]
		s.Limit = h.Count
		if h.Length != 0 {
			s.Length, s.Nominal = h.Length, 0
		}
		add(s, h.Stick, Whole, "in hand")
	}
	for i := range p.Sticks {
		s := p.Sticks[i]
		if s.Limit > 0 {
			if s.Limit -= r.used[i]; s.Limit <= 0 {
				s.Limit = -1
			}
		}
		for _, u := range r.done.Supply {
			if u.Stick == i {
				if s.Limit = u.Left; s.Limit == 0 {
					s.Limit = -1
				}
			}
		}
		if s.Limit < 0 {
			continue // none can be had any more
		}
		if s.Limit > 0 && (s.Bundle > s.Limit || s.Minimum > s.Limit) {
			continue // not as many as are sold together
		}
		add(s, i, ToBuy, "")
	}
	q.Rules.Charges = slices.DeleteFunc(slices.Clone(p.Rules.Charges), func(c Charge) bool { return paid[c.Supplier] })
	if len(q.Rules.Charges) == 0 {
		q.Rules.Charges = nil
	}
	return nil
}

// shape is what makes two patterns the same for people: what stick they are cut
// from, by its index in the old problem, and which pieces they yield.
func (r *replan) shape(pat *Pattern, revised bool) string {
	s := pat.Stick
	ids := slices.Clone(pat.Pieces)
	if revised {
		s = r.rev.Sticks[s].Stick
		for k, i := range ids {
			ids[k] = r.rev.Pieces[i]
		}
	}
	slices.Sort(ids)
	return fmt.Sprint(s, ids)
}

// keep tries to have old patterns in the new plan.
func (r *replan) keep(ctx context.Context, o *Options) {
	rev := &r.rev
	order := make([]int, 0, len(r.stays))
	for k, n := range r.stays {
		if n > 0 {
			order = append(order, k)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return len(r.old.Patterns[b].Pieces)*r.stays[b] - len(r.old.Patterns[a].Pieces)*r.stays[a]
	})
	if len(order) == 0 {
		return
	}
	// A share of the work for each try.
	limit := o.work()
	if limit == 0 {
		limit = DefaultWork
	}
	share := &Options{Work: max(limit/int64(4*len(order)), 2_000_000)}
	q := rev.Problem
	q.Pieces = slices.Clone(q.Pieces)
	q.Sticks = slices.Clone(q.Sticks)
	var fixed []Pattern
	spent := int64(0)
	for _, k := range order {
		if len(order) > 60 && ctx != nil && ctx.Err() != nil {
			return
		}
		for n := r.stays[k]; n > 0; n = n / 2 {
			try, pats, cost, ok := r.take(&q, &r.old.Patterns[k], n)
			if !ok || spent+cost > rev.Plan.Cost {
				continue
			}
			plan, ok := r.rest(ctx, try, share, append(slices.Clone(fixed), pats...), spent+cost)
			if !ok {
				continue
			}
			rev.Plan = plan
			fixed = append(fixed, pats...)
			spent += cost
			q = try
			break
		}
	}
}

// take takes n sticks cut as an old pattern out of a problem: sticks in hand first.
// It returns what is left of the problem, the patterns in the revision's numbers
// and what the sticks cost.
func (r *replan) take(q *Problem, old *Pattern, n int) (Problem, []Pattern, int64, bool) {
	out := *q
	out.Pieces, out.Sticks = slices.Clone(q.Pieces), slices.Clone(q.Sticks)
	pat := Pattern{Turned: old.Turned, Stretch: old.Stretch, YardAfter: old.YardAfter, Offcut: old.Offcut}
	for _, i := range old.Pieces {
		k := slices.Index(r.rev.Pieces, i)
		if k < 0 {
			return out, nil, 0, false
		}
		pat.Pieces = append(pat.Pieces, k)
		// Zero means one in a problem, and none here: count below it.
		if out.Pieces[k].Quantity -= n; out.Pieces[k].Quantity < 0 {
			return out, nil, 0, false
		}
	}
	var pats []Pattern
	cost := int64(0)
	for s := range out.Sticks {
		src := r.rev.Sticks[s]
		if n == 0 || src.Stick != old.Stick || src.Place == Started || out.Sticks[s].Length != r.p.Sticks[old.Stick].Length || out.Sticks[s].Limit < 0 {
			continue
		}
		c := n
		if l := out.Sticks[s].Limit; l > 0 {
			c = min(n, l)
			if out.Sticks[s].Limit -= c; out.Sticks[s].Limit == 0 {
				out.Sticks[s].Limit = -1 // none left
			}
		}
		p := pat
		p.Stick, p.Count = s, c
		pats = append(pats, p)
		cost += int64(c) * out.Sticks[s].Price
		n -= c
	}
	return out, pats, cost, n == 0
}

// rest solves what the fixed patterns leave, and returns the whole plan if it costs no
// more than the best.
func (r *replan) rest(ctx context.Context, q Problem, o *Options, fixed []Pattern, spent int64) (*Plan, bool) {
	best := r.rev.Plan
	sub := q
	sub.Pieces, sub.Sticks = nil, nil
	var pieces, sticks []int
	for i := range q.Pieces {
		if q.Pieces[i].Quantity > 0 {
			sub.Pieces, pieces = append(sub.Pieces, q.Pieces[i]), append(pieces, i)
		}
	}
	for s := range q.Sticks {
		if q.Sticks[s].Limit >= 0 {
			sub.Sticks, sticks = append(sub.Sticks, q.Sticks[s]), append(sticks, s)
		}
	}
	sub.Rules.Groups = nil
	for _, g := range q.Rules.Groups {
		now := Group{Kind: g.Kind}
		whole := true
		for _, i := range g.Pieces {
			k := slices.Index(pieces, i)
			whole = whole && k >= 0 && q.Pieces[i].Quantity == q.Pieces[g.Pieces[0]].Quantity
			now.Pieces = append(now.Pieces, k)
		}
		if whole {
			sub.Rules.Groups = append(sub.Rules.Groups, now)
		} else if g.Kind == OneLot || slices.ContainsFunc(g.Pieces, func(i int) bool { return q.Pieces[i].Quantity > 0 }) {
			return nil, false
		}
	}
	plan := &Plan{Objective: best.Objective, Bound: best.Bound, Stop: best.Stop, Work: best.Work, Proof: best.Proof}
	plan.Patterns = slices.Clone(fixed)
	plan.Cost = spent
	if len(sub.Pieces) > 0 {
		if len(sub.Sticks) == 0 {
			return nil, false
		}
		rest, err := Solve(ctx, sub, o)
		if err != nil || spent+rest.Cost > best.Cost {
			return nil, false
		}
		plan.Cost += rest.Cost
		for _, pat := range rest.Patterns {
			pat.Stick = sticks[pat.Stick]
			pat.Pieces = slices.Clone(pat.Pieces)
			for k, i := range pat.Pieces {
				pat.Pieces[k] = pieces[i]
			}
			plan.Patterns = append(plan.Patterns, pat)
		}
	}
	slices.SortStableFunc(plan.Patterns, func(a, b Pattern) int { return a.Stick - b.Stick })
	if plan.Cost != best.Cost {
		return nil, false
	}
	plan.Proven = best.Proven
	if len(best.Levels) > 0 {
		f := &free{problem: &r.rev.Problem}
		f.levels(plan, nil)
		if len(plan.Levels) != len(best.Levels) {
			return nil, false
		}
		for k := range plan.Levels {
			// Goals go before keeping.
			if plan.Levels[k].Value != best.Levels[k].Value {
				return nil, false
			}
			plan.Levels[k] = best.Levels[k]
		}
	}
	if _, err := audit(&r.rev.Problem, plan, 0); err != nil {
		return nil, false
	}
	return plan, true
}

// compare says what is kept, bought and idle.
func (r *replan) compare() {
	rev := &r.rev
	now := map[string]int{}
	used := make([]int, len(rev.Problem.Sticks))
	if rev.Plan != nil {
		for k := range rev.Plan.Patterns {
			pat := &rev.Plan.Patterns[k]
			used[pat.Stick] += pat.Count
			if rev.Sticks[pat.Stick].Place != Started {
				now[r.shape(pat, true)] += pat.Count
			}
		}
	}
	for k, n := range r.stays {
		if n == 0 {
			continue
		}
		s := r.shape(&r.old.Patterns[k], false)
		kept := min(n, now[s])
		now[s] -= kept
		rev.Old = append(rev.Old, OldPattern{k, n, kept})
	}
	bought := make([]Purchase, len(r.p.Sticks))
	if rev.Plan != nil && rev.Plan.Buy != nil {
		for _, b := range rev.Plan.Buy {
			src := rev.Sticks[b.Stick]
			used[b.Stick] = b.Count
			if src.Place == ToBuy {
				bought[src.Stick].Count += b.Count
				bought[src.Stick].Cost += b.Cost
			}
		}
	} else {
		for s, n := range used {
			if src := rev.Sticks[s]; src.Place == ToBuy {
				bought[src.Stick].Count += n
				bought[src.Stick].Cost += int64(n) * rev.Problem.Sticks[s].Price
			}
		}
	}
	for i := range bought {
		if bought[i].Count > 0 {
			bought[i].Stick = i
			rev.Buy = append(rev.Buy, bought[i])
		}
	}
	for s, n := range used {
		if src := rev.Sticks[s]; src.Place != ToBuy && n < rev.Problem.Sticks[s].Limit {
			rev.Idle = append(rev.Idle, InHand{Stick: src.Stick, Count: rev.Problem.Sticks[s].Limit - n, Length: rev.Problem.Sticks[s].Length})
		}
	}
}

// String says in a few lines what is new: what stays as planned, what to buy
// besides, what is left over.
func (r *Revision) String() string {
	var b strings.Builder
	if r.Plan == nil {
		b.WriteString("nothing is left to cut\n")
	}
	left, kept := 0, 0
	for _, o := range r.Old {
		left += o.Left
		kept += o.Kept
	}
	if left > 0 {
		fmt.Fprintf(&b, "%d of %d sticks still to be cut stay as planned\n", kept, left)
	}
	for _, o := range r.Old {
		if o.Kept < o.Left {
			fmt.Fprintf(&b, "pattern %d: %d of %d are cut otherwise\n", o.Pattern, o.Left-o.Kept, o.Left)
		}
	}
	for _, p := range r.Buy {
		fmt.Fprintf(&b, "buy %d more of stick %d\n", p.Count, p.Stick)
	}
	for _, i := range r.Idle {
		fmt.Fprintf(&b, "%d of stick %d, %v long, not needed\n", i.Count, i.Stick, i.Length)
	}
	if r.Plan != nil {
		fmt.Fprintf(&b, "still to be paid: %d", r.Cost)
		if r.Plan.Proven {
			b.WriteString(", proven to be the least")
		}
		b.WriteString("\n")
	}
	return b.String()
}
