package replan

import "example.com/longpoint/optimize"

// Revision is the plan for the rest of a job. It numbers patterns as the old plan does, and
// pieces and sticks as the old problem does unless it says otherwise.
type Revision struct {
	// Problem is the rest to cut and its sticks: first the sticks on hand, priced at their
	// refund, then those that can be bought. Its Runs are those that are completely uncut; the
	// parts of the others are pieces.
	Problem optimize.Problem `json:"problem"`

	// Pieces, Runs and Sticks map indices in Problem to the old problem: to the piece, numbered
	// as in Pattern.Pieces; to the run; and to the stick and its place. For a stick at the
	// supplier's only Stick and Place are set.
	Pieces []int   `json:"pieces,omitempty"`
	Runs   []int   `json:"runs,omitempty"`
	Sticks []Owned `json:"sticks,omitempty"`

	// Plan is the plan for Problem; nil if nothing is left to cut.
	Plan *optimize.Plan `json:"plan,omitempty"`

	// ByLength is that of the old plan: it reports whether amounts here are lengths.
	ByLength bool `json:"by_length,omitempty"`

	// Cost is the remaining cost, in the unit of the old plan; it is negative if refunds exceed
	// purchases. No plan for the rest costs less than Bound. If everything is on hand and
	// cannot be returned, both are zero, whatever Plan.Cost is.
	Cost   int64 `json:"cost"`
	Bound  int64 `json:"bound"`
	Proven bool  `json:"proven"` // Cost == Bound

	// Planned is the remaining cost of the old plan: of its sticks that are neither cut, nor
	// started, nor on hand. For a stick with Bundle, Minimum or Breaks, all count as bought
	// once one is there, and a charge counts as paid once anything from the supplier is there.
	Planned int64 `json:"planned"`

	// Changes lists each pattern of the old plan with sticks left, including those that stay as
	// planned.
	Changes []PatternChange `json:"changes,omitempty"`

	// Buy lists what to buy, or take from its place, beyond the stock on hand; its Cost is in
	// the unit of the old plan.
	Buy []optimize.Purchase `json:"buy,omitempty"`

	// Surplus lists the stock on hand that the new plan does not use.
	Surplus []Owned `json:"surplus,omitempty"`

	// Respliced are the runs, numbered as in the old problem, whose splices differ from the
	// plan.
	Respliced []int `json:"respliced,omitempty"`

	// Recut are the pieces that were spoiled and are cut again.
	Recut []Spoiled `json:"recut,omitempty"`
}

// Extra returns the cost beyond the planned cost: Cost less Planned. It is negative if the new
// plan is cheaper.
func (r *Revision) Extra() int64 {
	if r == nil {
		return 0
	}
	return r.Cost - r.Planned
}
