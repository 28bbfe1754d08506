package optimize

import (
	"cmp"
	"fmt"

	"example.com/longpoint/measure"
)

// An InfeasibleReason says why no plan exists. Later releases may know more reasons.
type InfeasibleReason string

const (
	// ReasonPieceTooLong: a piece is longer than the usable length of every stick that is
	// good enough for it.
	ReasonPieceTooLong InfeasibleReason = "piece too long"
	// ReasonSupplyTooShort: the sticks that can be had are too short in total.
	ReasonSupplyTooShort InfeasibleReason = "supply too short"
	// ReasonSupplyTooFew: too few of the pieces fit the sticks that can be had,
	// counted stick by stick.
	ReasonSupplyTooFew InfeasibleReason = "supply too few"
	// ReasonSupplyDoesNotFit: total length and count would do, but no way of cutting
	// yields every piece. It was proven by the solver.
	ReasonSupplyDoesNotFit InfeasibleReason = "supply does not fit"
	// ReasonGroupTooLong: the pieces of a group that come from one stick are together longer
	// than the usable length of every stick that is good enough for them.
	ReasonGroupTooLong InfeasibleReason = "group too long"
	// ReasonGroupTooMany: the pieces of a group that come from one stick are more than
	// Rules.MaxPieces.
	ReasonGroupTooMany InfeasibleReason = "group too many"
	// ReasonGroupInNoLot: no lot has a stick long and good enough for each piece of a GroupOneLot
	// group, or the one that it was started from has not.
	ReasonGroupInNoLot InfeasibleReason = "group in no lot"
	// ReasonRunTooLong: however a run is spliced where it may be, some part is longer than the
	// usable length of every stick.
	ReasonRunTooLong InfeasibleReason = "run too long"
)

// An InfeasibleError reports a problem that makes sense but has no plan. Buying other
// sticks helps.
type InfeasibleError struct {
	Reason InfeasibleReason // why there is no plan

	// Piece, Group and Run are what fits nowhere: the index in Problem.Pieces of the piece
	// for ReasonPieceTooLong, that in Rules.Groups of the group for ReasonGroupTooLong,
	// ReasonGroupTooMany and ReasonGroupInNoLot, that in Problem.Runs of the run for
	// ReasonRunTooLong. The others are -1.
	Piece, Group, Run int

	// ShortFrom is, for ReasonSupplyTooShort and ReasonSupplyTooFew, the index in
	// Problem.Pieces of a piece such that those of its length or longer cannot all be had;
	// otherwise -1.
	ShortFrom int

	Label string // of Piece or ShortFrom; may be empty

	// Stick is, for ReasonPieceTooLong, ReasonGroupTooLong and ReasonRunTooLong, the index in
	// Problem.Sticks of the stick with the longest usable length among those that are
	// good enough, -1 if none is; otherwise -1.
	Stick int

	// Need and Have are, for ReasonPieceTooLong, ReasonGroupTooLong and ReasonRunTooLong, the length of
	// the piece, of the group with its kerfs or of the run, and the longest usable
	// length; if ends nest, what a bevel takes beyond the kerf is in it. For
	// ReasonSupplyTooShort they are totals over the pieces and
	// over the sticks that hold any of them, a kerf added to each piece and to
	// each stick. Otherwise both are zero. Need-Have is what is missing.
	Need, Have measure.Length

	// NeedCount and HaveCount are, for ReasonSupplyTooFew, how many pieces of that
	// length or longer are wanted and how many at most can be cut; for ReasonGroupTooMany,
	// the group's pieces and Rules.MaxPieces. Otherwise both are zero.
	NeedCount, HaveCount int64
}

// infeasible returns an error that names nothing yet.
func infeasible(r InfeasibleReason) *InfeasibleError {
	return &InfeasibleError{Reason: r, Piece: -1, Group: -1, Run: -1, ShortFrom: -1, Stick: -1}
}

// Error says which piece or stick makes it impossible.
func (e *InfeasibleError) Error() string {
	piece := fmt.Sprintf("pieces[%d]", max(e.Piece, e.ShortFrom))
	if e.Label != "" {
		piece += fmt.Sprintf(" (%q)", e.Label)
	}
	longest := "no stick that can be had is good enough"
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
	return "optimize: no way of cutting the sticks that can be had yields every piece"
}

// A LimitError reports that Solve stopped before it found a plan. If a context ended the
// search, it unwraps to that context's cause.
type LimitError struct {
	Stop  Stop  // what ended the search
	Work  int64 // steps used, in the unit of Options.Work
	Cause error // the context's cause, or nil
}

// Error says how far the search came and what ended it.
func (e *LimitError) Error() string {
	s := fmt.Sprintf("optimize: stopped before any plan was found, after %d steps: %v", e.Work, e.Stop)
	if e.Cause != nil {
		s += ": " + e.Cause.Error()
	}
	return s
}

// Unwrap returns the context's cause, or nil.
func (e *LimitError) Unwrap() error { return e.Cause }

// A CheckError reports a claim of a plan that is wrong. The plan is not to be trusted.
type CheckError struct {
	// Claim is the path of the field that is wrong, by the names that it has in JSON, such
	// as cost or patterns[3].offcut. It is empty if there is no plan at all.
	Claim string

	Got  string // what the plan says
	Want string // what is right
}

// Error names the claim, what it says and what is right.
func (e *CheckError) Error() string {
	return fmt.Sprintf("optimize: plan is wrong: %s is %s, want %s", cmp.Or(e.Claim, "it"), e.Got, e.Want)
}

// An InternalError reports a plan that Solve made and then found wrong: a defect
// of this package. The plan is withheld. Please report the problem that
// provokes it.
type InternalError struct {
	Err error // what the plan got wrong
}

// Error says what went wrong inside.
func (e *InternalError) Error() string { return "optimize: internal error: " + e.Err.Error() }

// Unwrap returns what the plan got wrong.
func (e *InternalError) Unwrap() error { return e.Err }
