package estimate

import (
	"cmp"
	"context"
	"math"
	"slices"
	"strconv"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/labor"
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/finish/sequence"
	"example.com/longpoint/finish/tearout"
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// An Estimate is the result of New for a job: the trim, the purchases, the cuts, the work and
// the costs, each number with its origin.
type Estimate struct {
	Job Job `json:"job"` // the job of the estimate; that of a variant has its trim and no variants

	Cautions []finish.Caution  `json:"cautions"`           // each once; the last applies to all work
	Findings []takeoff.Finding `json:"findings,omitempty"` // about the measurements and the choice of trim
	Takeoff  *takeoff.List     `json:"takeoff"`
	Plans    []ProfilePlan     `json:"plans"`            // in the order of Takeoff.Totals
	Orders   []Order           `json:"orders"`           // by supplier
	Spares   []SpareCost       `json:"spares,omitempty"` // of profiles with spares
	Finish   *finish.List      `json:"finish"`           // with a job for each profile and room, labeled "PROFILE, ROOM"

	TearOut  *tearout.Plan      `json:"tear_out,omitempty"` // nil if nothing comes off
	Sheeting []finish.Purchase  `json:"sheeting,omitempty"` // packages for the dust containment of the tear-out
	Labor    []labor.Line       `json:"labor"`              // hours by room, profile and step, except those of the tear-out and of Job.Sequence, which are in Costs
	Sequence *sequence.Order    `json:"sequence"`           // the order of work, with the reason for each link
	Schedule *schedule.Schedule `json:"schedule,omitempty"` // of Sequence.Activities; nil without a calendar

	Costs []Cost `json:"costs"` // direct costs, each with its origin
	Quote *Quote `json:"quote"` // the costs priced under the terms

	Payments *PaymentSchedule `json:"payments"` // of Quote.Total

	Variants []VariantResult `json:"variants,omitempty"` // in the order of Job.Variants
}

// A VariantResult is the estimate of a variant.
type VariantResult struct {
	Label      string    `json:"label"`      // the variant's
	Estimate   *Estimate `json:"estimate"`   // of the whole job with the variant
	Difference int64     `json:"difference"` // its Quote.Total less that of the job, in cents: an addition or, if negative, a saving
}

// New estimates a job: the trim of its rooms, the cheapest sticks for each profile, the
// finishing materials, the hours and the costs, and the same for each of its variants.
//
// The error joins all faults of the job, as [Job.Validate] does, before anything is computed;
// or, if no plan was found, a *[PlanError] for each profile; or it is a *[measure.RangeError].
// If a limit or the context ends a search, its plan is the best one so far, and says so; if
// there is none yet, the PlanError wraps the context's cause. A nil context never ends.
func New(ctx context.Context, j Job, o *Options) (*Estimate, error) {
	if ctx == nil {
		ctx = context.Background()
	}
	if err := j.Validate(); err != nil {
		return nil, err
	}
	if o == nil {
		o = new(Options)
	}
	w := &work{job: j, options: *o, known: j.checkMaterials(new(fault.List))}
	w.rooms, w.rates = j.rooms(w.known), j.rates()
	all := []*scenario{{trim: w.scheme(nil)}}
	for _, v := range j.Variants {
		all = append(all, &scenario{trim: w.scheme(v.Swap), label: v.Label})
	}
	var bad fault.List
	bad.Under("", w.tearOff())
	for _, s := range all {
		if err := w.takeOff(s); err != nil {
			bad.Under("", err)
			continue
		}
		if err := w.finishing(s); err != nil {
			bad.Under("", err)
			continue
		}
		if err := w.hours(s); err != nil {
			bad.Under("", err)
			continue
		}
		if slices.ContainsFunc(s.cuts, func(c *cutting) bool { return c.sameIn(o.Start) == nil }) {
			bad.Under("", w.checkOrder(s)) // before any search
		}
	}
	if err := once(bad); err != nil { // variants share faults
		return nil, err
	}
	if err := solveAll(ctx, w.distinct(all), o, j.Rack.Keep); err != nil {
		return nil, err
	}
	var out *Estimate
	for _, s := range all {
		if err := w.chooseSuppliers(ctx, s, o, j.Rack.Keep); err != nil {
			return nil, err
		}
		e, err := w.estimate(ctx, s)
		switch {
		case err != nil:
			return nil, err
		case out == nil:
			out = e
		default:
			out.Variants = append(out.Variants, VariantResult{Label: s.label, Estimate: e, Difference: e.Quote.Total - out.Quote.Total})
		}
	}
	return out, nil
}

// work is the state of an estimate.
type work struct {
	options  Options
	job      Job
	rates    labor.Rates
	known    map[string]stock.Profile // by name, with the lengths of their sticks
	rooms    []takeoff.Room
	tearOut  *tearout.Plan
	sheeting []finish.Purchase // for dust containment
}

// scenario is the job, or a variant of it.
type scenario struct {
	runs   map[[2]string][]int // see runsOf
	label  string
	trim   takeoff.Scheme
	list   *takeoff.List
	cuts   []*cutting        // one for each of list.Totals
	boards map[string]string // for strips: the board from which they are ripped
	finish *finish.List
	lines  []labor.Line
	alone  []labor.Line // work for more people than any crew has
	works  int          // number of works in the order, before those that it adds
}

// scheme returns the trim, with some profiles replaced.
func (w *work) scheme(swaps []Swap) takeoff.Scheme {
	s := copied(w.job.Trim)
	for p := range places(&s) {
		q := *p.profile()
		name := q.Name
		if k := slices.IndexFunc(swaps, func(s Swap) bool { return s.From == name }); k >= 0 {
			q = stock.Profile{Name: swaps[k].To}
		}
		if m, ok := w.known[q.Name]; ok && named(&q) {
			p.set(m)
		}
	}
	return s
}

// takeOff takes off a scenario, and sets up its cutting problems.
func (w *work) takeOff(s *scenario) error {
	habits := w.job.habits()
	var err error
	if s.list, err = takeoff.Take(w.rooms, s.trim, &habits); err != nil {
		return fieldsOfTake(err)
	}
	s.boards = make(map[string]string)
	var bad fault.List
	for _, t := range s.list.Totals {
		c, err := w.cutting(s, t.Profile)
		if err != nil {
			bad.Under("", err)
			continue
		}
		s.cuts = append(s.cuts, c)
	}
	return bad.Err()
}

// cutting sets up the problem of one profile.
func (w *work) cutting(s *scenario, profile string) (*cutting, error) {
	c := &cutting{profile: profile, parts: 1, problem: optimize.Problem{Kerf: w.job.Kerf, Rules: w.job.Rules, Pieces: s.list.PiecesOf(profile)}}
	sold := profile
	if k := slices.IndexFunc(s.list.Strips, func(x takeoff.StripStock) bool { return x.Profile.Name == profile }); k >= 0 {
		sold = s.list.Strips[k].Board
		c.parts = int64(s.list.Strips[k].PerBoard)
		s.boards[profile] = sold
	}
	m := w.materialOf(s, profile)
	if m < 0 {
		return nil, fault.Field("materials", "without "+strconv.Quote(sold), "one for each profile that the rooms need")
	}
	c.spare = w.job.Materials[m].Spare
	for _, stick := range w.job.Materials[m].sticks(w.job.Locale) {
		if c.parts > 1 {
			stick = strips(cutInYard(stick, w.job.Rules), int(c.parts))
		}
		stick.Profile = profile
		c.problem.Sticks = append(c.problem.Sticks, stick)
	}
	if c.parts > 1 {
		c.problem.Rules.YardCut = 0 // it is in the price of the boards
	}
	c.problem.Sticks = append(w.job.Rack.Sticks(profile), c.problem.Sticks...)
	return c, nil
}

// cutInYard returns a board with the price of the yard's cut included, if it is too long to be
// transported: the yard cuts the board, not each of the strips that are ripped from it.
func cutInYard(board stock.Stick, r optimize.Rules) stock.Stick {
	if r.MaxTransport == 0 || board.Length <= r.MaxTransport {
		return board
	}
	board.Price += min(r.YardCut, math.MaxInt64-board.Price)
	board.Breaks = slices.Clone(board.Breaks)
	for i := range board.Breaks {
		board.Breaks[i].Price += min(r.YardCut, math.MaxInt64-board.Breaks[i].Price)
	}
	return board
}

// strips returns a board as the strips ripped from it: each at the price of the board, in
// bundles of a board.
func strips(board stock.Stick, per int) stock.Stick {
	if board.Limit > 0 {
		board.Limit *= per
	}
	board.Bundle = max(board.Bundle, 1) * per
	board.Minimum *= per
	board.Breaks = slices.Clone(board.Breaks)
	for i := range board.Breaks {
		board.Breaks[i].From *= per
	}
	return board
}

// distinct lists the problems to solve, each once.
func (w *work) distinct(all []*scenario) []*cutting {
	var out []*cutting
	for _, s := range all {
		for i, c := range s.cuts {
			if k := slices.IndexFunc(out, c.alike); k >= 0 {
				s.cuts[i] = out[k]
				continue
			}
			out = append(out, c)
		}
	}
	return out
}

// estimate completes a scenario whose sticks are planned.
func (w *work) estimate(ctx context.Context, s *scenario) (*Estimate, error) {
	e := &Estimate{Job: w.job, Takeoff: s.list, Finish: s.finish, TearOut: w.tearOut, Sheeting: w.sheeting, Labor: s.lines}
	if s.label != "" {
		e.Job.Trim, e.Job.Variants = s.trim, nil
	}
	for _, c := range s.cuts {
		e.Plans = append(e.Plans, c.plan)
	}
	var err error
	if e.Orders, err = ordersOf(e.Plans, s.boards, w.job.Suppliers); err != nil {
		return nil, err
	}
	if err := w.lay(ctx, s, e); err != nil {
		return nil, err
	}
	e.dateOrders()
	if e.Spares, err = w.spares(e); err != nil {
		return nil, err
	}
	e.Cautions = w.cautions(s)
	if e.Findings, err = w.look(s); err != nil {
		return nil, err
	}
	e.Costs = w.costsOf(s, e)
	if e.Quote, err = NewQuote(Alternative{Label: cmp.Or(s.label, w.job.Name, "job"), Costs: e.Costs}, w.job.terms()); err != nil {
		return nil, err
	}
	pay := w.job.Payments
	pay.Locale = w.job.Locale
	if e.Payments, err = NewPaymentSchedule(e.Quote.Total, pay); err != nil {
		return nil, err
	}
	return e, nil
}

// AllPlans returns the plans of the job and of its variants, for Options.Start.
func (e *Estimate) AllPlans() []ProfilePlan {
	e = e.complete()
	all := slices.Clone(e.Plans)
	for _, o := range e.Variants {
		for _, p := range o.Estimate.Plans {
			if !slices.ContainsFunc(all, func(q ProfilePlan) bool { return q.Plan == p.Plan }) {
				all = append(all, p)
			}
		}
	}
	return all
}

// once returns joined faults, each once.
func once(all fault.List) error {
	var out fault.List
	known := make(map[string]bool, len(all))
	for _, err := range all {
		if text := err.Error(); !known[text] {
			known[text] = true
			out.Under("", err)
		}
	}
	return out.Err()
}
