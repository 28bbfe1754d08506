package replan

import "example.com/longpoint/optimize"

// Revision is the plan for what is left of a job. It numbers patterns as the old plan does,
// and pieces and sticks as the old problem does unless it says otherwise.
type Revision struct {
	// Problem is what is left to cut and from what: first the sticks that are owned,
	// priced at what their supplier would refund, then those that can be bought. Its Runs
	// are those of which nothing has been cut; the parts of the others are pieces.
	Problem optimize.Problem `json:"problem"`

	// Pieces, Runs and Sticks lead back to the old problem, by index in Problem: the piece,
	// numbered as in Pattern.Pieces; the run; the stick, and where it is. Of a stick at the
	// supplier's only Stick and Place are set.
	Pieces []int   `json:"pieces,omitempty"`
	Runs   []int   `json:"runs,omitempty"`
	Sticks []Owned `json:"sticks,omitempty"`

	// Plan is the plan for Problem; nil if nothing is left to cut.
	Plan *optimize.Plan `json:"plan,omitempty"`

	// ByLength is that of the old plan: whether the amounts here count length or money.
	ByLength bool `json:"by_length,omitempty"`

	// Cost is what is still to be paid, in the unit of the old plan: less than zero if
	// refunds are more. No plan for what is left costs less than Bound. If everything
	// is owned, and nothing of it can be returned, both are zero, whatever Plan.Cost counts
	// then.
	Cost   int64 `json:"cost"`
	Bound  int64 `json:"bound"`
	Proven bool  `json:"proven"` // Cost == Bound

	// Planned is the remaining cost of the old plan: of its sticks that are neither cut,
	// nor started, nor on hand. Of a stick with Bundle, Minimum or Breaks all counts as
	// bought once one is there, and a charge as paid once anything of the supplier's is.
	Planned int64 `json:"planned"`

	// Changes says what becomes of each pattern of the old plan of which sticks were left,
	// also of those that stay as planned.
	Changes []PatternChange `json:"changes,omitempty"`

	// Buy is what to buy, or to take from where it was, beyond what is owned, its Cost in
	// the unit of the old plan.
	Buy []optimize.Purchase `json:"buy,omitempty"`

	// Surplus lists the stock on hand that the new plan does not use.
	Surplus []Owned `json:"surplus,omitempty"`

	// Respliced are the runs, numbered as in the old problem, that are spliced elsewhere
	// than planned.
	Respliced []int `json:"respliced,omitempty"`

	// Recut are the pieces that were spoiled and are cut again.
	Recut []Spoiled `json:"recut,omitempty"`
}

// Extra returns what the job costs beyond what was planned: Cost less Planned. It is less
// than zero if the new plan is cheaper.
func (r *Revision) Extra() int64 { return r.Cost - r.Planned }
