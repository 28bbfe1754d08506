package optimize

import (
	"cmp"
	"fmt"

	"example.com/longpoint/measure"
)

// An InfeasibleReason is the reason why no plan exists. Later releases may add reasons.
type InfeasibleReason string

const (
	// ReasonPieceTooLong means that a piece is longer than the usable length of every stick of
	// a sufficient grade.
	ReasonPieceTooLong InfeasibleReason = "piece too long"
	// ReasonSupplyTooShort means that the total length of the available sticks is too short.
	ReasonSupplyTooShort InfeasibleReason = "supply too short"
	// ReasonSupplyTooFew means that too few of the pieces fit the available sticks, counted
	// stick by stick.
	ReasonSupplyTooFew InfeasibleReason = "supply too few"
	// ReasonSupplyDoesNotFit means that total length and count suffice, but no set of patterns
	// yields every piece. The solver has proved it.
	ReasonSupplyDoesNotFit InfeasibleReason = "supply does not fit"
	// ReasonGroupTooLong means that the pieces of a group that come from one stick are longer
	// in total than the usable length of every stick of a sufficient grade.
	ReasonGroupTooLong InfeasibleReason = "group too long"
	// ReasonGroupTooMany means that a group that comes from one stick has more than
	// Rules.MaxPieces pieces.
	ReasonGroupTooMany InfeasibleReason = "group too many"
	// ReasonGroupInNoLot means that no lot has a stick of sufficient length and grade for each
	// piece of a GroupOneLot group or, if the group is started, that its lot has none.
	ReasonGroupInNoLot InfeasibleReason = "group in no lot"
	// ReasonRunTooLong means that every way to splice a run has a part longer than the usable
	// length of every stick.
	ReasonRunTooLong InfeasibleReason = "run too long"
)

// An InfeasibleError reports that a valid problem has no plan. Other sticks would help.
type InfeasibleError struct {
	Reason InfeasibleReason // why there is no plan

	// Piece, Group and Run identify what does not fit: Piece is an index in Problem.Pieces for
	// ReasonPieceTooLong, Group an index in Rules.Groups for ReasonGroupTooLong,
	// ReasonGroupTooMany and ReasonGroupInNoLot, and Run an index in Problem.Runs for
	// ReasonRunTooLong. The others are -1.
	Piece, Group, Run int

	// ShortFrom is, for ReasonSupplyTooShort and ReasonSupplyTooFew, the index in
	// Problem.Pieces of a piece such that the sticks cannot yield all pieces of its length or
	// longer; otherwise -1.
	ShortFrom int

	Label string // of Piece or ShortFrom; may be empty

	// Stick is, for ReasonPieceTooLong, ReasonGroupTooLong and ReasonRunTooLong, the index in
	// Problem.Sticks of the stick with the longest usable length among those of a sufficient
	// grade, -1 if there is none; otherwise -1.
	Stick int

	// Need and Have are, for ReasonPieceTooLong, ReasonGroupTooLong and ReasonRunTooLong, the
	// length of the piece, of the group with its kerfs or of the run, and the longest usable
	// length. If ends nest, Need includes the width of a bevel beyond the kerf. For
	// ReasonSupplyTooShort they are totals over the pieces and over the sticks that hold any of
	// them, with a kerf added to each piece and to each stick. Otherwise both are zero.
	// Need-Have is the missing length.
	Need, Have measure.Length

	// NeedCount and HaveCount are, for ReasonSupplyTooFew, the wanted number of pieces of that
	// length or longer and the greatest number that can be cut; for ReasonGroupTooMany, the
	// group's pieces and Rules.MaxPieces. Otherwise both are zero.
	NeedCount, HaveCount int64
}

// infeasible returns an error with no index set.
func infeasible(r InfeasibleReason) *InfeasibleError {
	return &InfeasibleError{Reason: r, Piece: -1, Group: -1, Run: -1, ShortFrom: -1, Stick: -1}
}

// Error names the piece, group, run or stick that makes the problem infeasible.
func (e *InfeasibleError) Error() string {
	piece := fmt.Sprintf("pieces[%d]", max(e.Piece, e.ShortFrom))
	if e.Label != "" {
		piece += fmt.Sprintf(" (%q)", e.Label)
	}
	longest := "no available stick is good enough"
	if e.Stick >= 0 {
		longest = fmt.Sprintf("the longest usable length is %v (sticks[%d]), short by %v", e.Have.About(e.Need), e.Stick, (e.Need-e.Have).About(e.Have, e.Need))
	}
	switch e.Reason {
	case ReasonPieceTooLong:
		return fmt.Sprintf("optimize: %s is %v long, %s", piece, e.Need.About(e.Have), longest)
	case ReasonGroupTooLong:
		return fmt.Sprintf("optimize: rules.groups[%d] from one stick is %v long with kerfs, %s", e.Group, e.Need.About(e.Have), longest)
	case ReasonGroupTooMany:
		return fmt.Sprintf("optimize: rules.groups[%d] from one stick is %d pieces, rules.max_pieces is %d", e.Group, e.NeedCount, e.HaveCount)
	case ReasonGroupInNoLot:
		return fmt.Sprintf("optimize: no lot that rules.groups[%d] may come from has a stick long and good enough for each of its pieces", e.Group)
	case ReasonRunTooLong:
		return fmt.Sprintf("optimize: runs[%d] is %v long and cannot be spliced into parts that fit, %s", e.Run, e.Need.About(e.Have), longest)
	case ReasonSupplyTooShort:
		return fmt.Sprintf("optimize: the pieces as long as %s or longer take %v with kerf, the sticks that hold them give %v, short by %v",
			piece, e.Need.About(e.Have), e.Have.About(e.Need), (e.Need-e.Have).About(e.Have, e.Need))
	case ReasonSupplyTooFew:
		return fmt.Sprintf("optimize: %d pieces are as long as %s or longer, the sticks hold %d of them, %d too few",
			e.NeedCount, piece, e.HaveCount, e.NeedCount-e.HaveCount)
	}
	return "optimize: no way of cutting the available sticks yields every piece"
}

// A LimitError reports that Solve stopped before it found a plan. If a context ended the
// search, it unwraps to that context's cause.
type LimitError struct {
	Stop  Stop  // what ended the search
	Work  int64 // steps used, in the unit of Options.Work
	Cause error // the context's cause, or nil
}

// Error reports the steps used and what ended the search.
func (e *LimitError) Error() string {
	s := fmt.Sprintf("optimize: stopped before any plan was found, after %d steps: %v", e.Work, e.Stop)
	if e.Cause != nil {
		s += ": " + e.Cause.Error()
	}
	return s
}

// Unwrap returns the context's cause, or nil.
func (e *LimitError) Unwrap() error { return e.Cause }

// A CheckError reports a wrong claim of a plan. Do not trust such a plan.
type CheckError struct {
	// Field is the path of the wrong field in the plan, in JSON names, such as cost or
	// patterns[3].offcut. It is empty if the plan is nil.
	Field string

	Value string // the field's value in the plan
	Want  string // the correct value
}

// Error names the field, its value and the correct value.
func (e *CheckError) Error() string {
	return fmt.Sprintf("optimize: plan is wrong: %s is %s, want %s", cmp.Or(e.Field, "it"), e.Value, e.Want)
}

// An InternalError reports that Solve made a wrong plan: a bug in this package. The plan is
// withheld. Please report the problem that causes it.
type InternalError struct {
	Err error // the error in the plan
}

// Error reports the internal error.
func (e *InternalError) Error() string { return fmt.Sprintf("optimize: internal error: %v", e.Err) }

// Unwrap returns the error in the plan.
func (e *InternalError) Unwrap() error { return e.Err }
