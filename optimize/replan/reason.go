package replan

// PatternChange says what becomes of a pattern of the old plan.
type PatternChange struct {
	Pattern int    `json:"pattern"`          // index in the old plan's Patterns
	Left    int    `json:"left"`             // how many sticks were still to be cut that way, or to be cut to the end
	Kept    int    `json:"kept"`             // how many of them are
	Reason  Reason `json:"reason,omitempty"` // why not one more is; empty if all are

	Piece int   `json:"piece,omitempty"` // with ReasonNotNeeded: of which piece not as many are wanted any more
	Extra int64 `json:"extra,omitempty"` // with ReasonCostsMore: what one more costs at least, in the unit of the plan's cost
}

// A Reason is why a pattern of the old plan is not kept, or not as often as it was planned.
// Later versions may have more: treat one that you do not know as [ReasonNotFound].
type Reason string

const (
	ReasonNotNeeded      Reason = "not needed"        // it yields more of a piece than are wanted any more
	ReasonNoStick        Reason = "no stick"          // not as many sticks can be had any more
	ReasonTooShort       Reason = "too short"         // the sticks that are there, or what is left of them, are too short
	ReasonCostsMore      Reason = "costs more"        // the rest then costs more, with what is kept before it
	ReasonRestDoesNotFit Reason = "rest does not fit" // the rest can then not be cut, with what is kept before it
	ReasonMissesGoal     Reason = "misses a goal"     // the cost would be the same, but the plan that was found misses a later one of Rules.Goals
	ReasonNotFound       Reason = "not found"         // no plan that keeps it at the same cost was found with the share of the work that is left for it
)

// says is a reason in the words of Revision.String.
func (r Reason) says() string {
	switch r {
	case ReasonNotNeeded:
		return "a piece of it is cut already"
	case ReasonNoStick:
		return "no such stick is left"
	case ReasonTooShort:
		return "the stick is too short for it"
	case ReasonCostsMore:
		return "the rest would cost more"
	case ReasonRestDoesNotFit:
		return "the rest could not be cut"
	case ReasonMissesGoal:
		return "another goal would be missed"
	}
	return "no plan that keeps it was found"
}
