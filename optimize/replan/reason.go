package replan

// PatternChange describes the change of a pattern of the old plan.
type PatternChange struct {
	Pattern int    `json:"pattern"`          // index in the old plan's Patterns
	Left    int    `json:"left"`             // number of sticks still to be cut this way, or to be finished
	Kept    int    `json:"kept"`             // number of them that stay as planned
	Reason  Reason `json:"reason,omitempty"` // why no more are kept; empty if all are

	Piece int   `json:"piece,omitempty"` // with ReasonNotNeeded: the piece of which fewer are wanted
	Extra int64 `json:"extra,omitempty"` // with ReasonCostsMore: least extra cost of one more, in the unit of the plan's cost
}

// A Reason says why a pattern of the old plan is not kept, or is kept on fewer sticks than
// planned. Later versions may add reasons: treat an unknown one as [ReasonNotFound].
type Reason string

const (
	ReasonNotNeeded      Reason = "not needed"        // it yields more of a piece than is still wanted
	ReasonNoStick        Reason = "no stick"          // too few sticks are available
	ReasonTooShort       Reason = "too short"         // the available sticks, or the rests of sticks, are too short
	ReasonCostsMore      Reason = "costs more"        // the rest then costs more, given what is already kept
	ReasonRestDoesNotFit Reason = "rest does not fit" // the rest then cannot be cut, given what is already kept
	ReasonMissesGoal     Reason = "misses a goal"     // the cost would be the same, but the plan that was found is worse in a later one of Rules.Goals
	ReasonNotFound       Reason = "not found"         // no plan that keeps it at the same cost was found within the remaining share of the work
)

// says returns the reason in the words of Revision.String.
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
