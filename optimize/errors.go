package optimize

import (
	"errors"
	"fmt"

	"example.com/longpoint/measure"
)

// One sentinel for each thing a caller may decide to do: put the input right,
// buy other sticks, or allow more time.
var (
	ErrProblem    = errors.New("optimize: bad problem")
	ErrInfeasible = errors.New("optimize: no plan exists")
	ErrLimit      = errors.New("optimize: stopped before any plan was found")
)

// ProblemError reports a field of a [Problem] that makes no sense. It unwraps
// to [ErrProblem].
type ProblemError struct {
	Field string // path of the field, such as Pieces[3].Length
	Value string // what it holds
	Want  string // what would be right
}

// Error names the field, its value and what would be right.
func (e *ProblemError) Error() string {
	return fmt.Sprintf("optimize: %s is %s, want %s", e.Field, e.Value, e.Want)
}

// Unwrap returns [ErrProblem].
func (e *ProblemError) Unwrap() error { return ErrProblem }

// InfeasibleReason is why no plan exists.
type InfeasibleReason uint8

const (
	// ReasonPieceTooLong: a piece is longer than the usable length of every stick.
	ReasonPieceTooLong InfeasibleReason = iota + 1
	// ReasonSupplyTooShort: the sticks that can be had are too short in total.
	ReasonSupplyTooShort
	// ReasonSupplyTooFew: too few of the pieces fit the sticks that can be had,
	// counted stick by stick.
	ReasonSupplyTooFew
	// ReasonSupplyDoesNotFit: total length and count would do, but no way of cutting
	// yields every piece. It was proven by the solver.
	ReasonSupplyDoesNotFit
	// ReasonGroupTooLong: the pieces of a group that come from one stick are together longer
	// than the usable length of every stick that is good enough for them.
	ReasonGroupTooLong
	// ReasonGroupTooMany: the pieces of a group that come from one stick are more than
	// Rules.MaxPieces.
	ReasonGroupTooMany
	// ReasonGroupInNoLot: no lot has a stick long and good enough for each piece of a GroupOneLot
	// group, or the one that it is begun from has not.
	ReasonGroupInNoLot
	// ReasonRunTooLong: however a run is spliced where it may be, some part is longer than the
	// usable length of every stick.
	ReasonRunTooLong
)

var infeasibilityNames = names{"", "piece too long", "supply too short", "supply too few", "supply does not fit",
	"group too long", "group too many", "group in no lot", "run too long"}

// String returns the reason in words.
func (r InfeasibleReason) String() string { return infeasibilityNames.text(uint8(r)) }

// InfeasibleError reports a problem that makes sense but has no plan. It
// unwraps to [ErrInfeasible].
type InfeasibleError struct {
	Reason InfeasibleReason // why there is no plan

	// Piece is the index in Problem.Pieces of the piece that is too long. For
	// ReasonSupplyTooShort and ReasonSupplyTooFew it is a piece such that those of its
	// length or longer cannot all be had; for all other reasons it is -1.
	Piece int
	Label string // that piece's label; may be empty

	// Group is the index in Rules.Groups of the group for ReasonGroupTooLong, ReasonGroupTooMany and
	// ReasonGroupInNoLot, Run that in Problem.Runs of the run for ReasonRunTooLong. Otherwise both are
	// zero.
	Group, Run int

	// Stick is, for ReasonPieceTooLong, ReasonGroupTooLong and ReasonRunTooLong, the index in
	// Problem.Sticks of the stick with the longest usable length among those that are
	// good enough, -1 where none is; otherwise -1.
	Stick int

	// Need and Have are, for ReasonPieceTooLong, ReasonGroupTooLong and ReasonRunTooLong, the length of
	// the piece, of the group with its kerfs or of the run, and the longest usable
	// length; where ends nest, what a bevel takes beyond the kerf is in it. For
	// ReasonSupplyTooShort they are totals over the pieces and
	// over the sticks that hold any of them, a kerf added to each piece and to
	// each stick. Otherwise both are zero. Need-Have is what is missing.
	Need, Have measure.Length

	// NeedCount and HaveCount are, for ReasonSupplyTooFew, how many pieces of that
	// length or longer are wanted and how many at most can be cut; for ReasonGroupTooMany,
	// the group's pieces and Rules.MaxPieces. Otherwise both are zero.
	NeedCount, HaveCount int64
}

// Error says which piece or stick makes it impossible.
func (e *InfeasibleError) Error() string {
	piece := fmt.Sprintf("Pieces[%d]", e.Piece)
	if e.Label != "" {
		piece += fmt.Sprintf(" (%q)", e.Label)
	}
	longest := "no stick that can be had is good enough"
	if e.Stick >= 0 {
		longest = fmt.Sprintf("the longest usable length is %v (Sticks[%d]), short by %v", e.Have.About(e.Need), e.Stick, (e.Need-e.Have).About(e.Have, e.Need))
	}
	switch e.Reason {
	case ReasonPieceTooLong:
		return fmt.Sprintf("optimize: %s is %v long, %s", piece, e.Need.About(e.Have), longest)
	case ReasonGroupTooLong:
		return fmt.Sprintf("optimize: Rules.Groups[%d] from one stick is %v long with kerfs, %s", e.Group, e.Need.About(e.Have), longest)
	case ReasonGroupTooMany:
		return fmt.Sprintf("optimize: Rules.Groups[%d] from one stick is %d pieces, Rules.MaxPieces is %d", e.Group, e.NeedCount, e.HaveCount)
	case ReasonGroupInNoLot:
		return fmt.Sprintf("optimize: no lot that Rules.Groups[%d] may come from has a stick long and good enough for each of its pieces", e.Group)
	case ReasonRunTooLong:
		return fmt.Sprintf("optimize: Runs[%d] is %v long and cannot be spliced into parts that fit, %s", e.Run, e.Need.About(e.Have), longest)
	case ReasonSupplyTooShort:
		return fmt.Sprintf("optimize: the pieces as long as %s or longer take %v with kerf, the sticks that hold them give %v, short by %v",
			piece, e.Need.About(e.Have), e.Have.About(e.Need), (e.Need-e.Have).About(e.Have, e.Need))
	case ReasonSupplyTooFew:
		return fmt.Sprintf("optimize: %d pieces are as long as %s or longer, the sticks hold %d of them, %d too few",
			e.NeedCount, piece, e.HaveCount, e.NeedCount-e.HaveCount)
	}
	return "optimize: no way of cutting the sticks that can be had yields every piece"
}

// Unwrap returns [ErrInfeasible].
func (e *InfeasibleError) Unwrap() error { return ErrInfeasible }

// LimitError reports a search that was stopped before it had any plan. It
// unwraps to [ErrLimit] and, where a context ended the search, to that
// context's cause.
type LimitError struct {
	Stop  Stop
	Work  int64 // steps used, in the unit of Options.Work
	Cause error // the context's cause, or nil
}

// Error says how far the search came and what ended it.
func (e *LimitError) Error() string {
	s := fmt.Sprintf("%v after %d steps: %v", ErrLimit, e.Work, e.Stop)
	if e.Cause != nil {
		s += ": " + e.Cause.Error()
	}
	return s
}

// Unwrap returns [ErrLimit] and the context's cause, if there is one.
func (e *LimitError) Unwrap() []error {
	if e.Cause == nil {
		return []error{ErrLimit}
	}
	return []error{ErrLimit, e.Cause}
}

// CheckError reports a claim of a plan that is wrong.
type CheckError struct {
	Claim string // what was claimed, such as Cost or Patterns[3].Offcut
	Got   string // what the plan says
	Want  string // what is right
}

// Error names the claim, what it says and what is right.
func (e *CheckError) Error() string {
	return fmt.Sprintf("optimize: plan is wrong: %s is %s, want %s", e.Claim, e.Got, e.Want)
}

// InternalError reports a plan that Solve made and then found wrong: a defect
// of this package. The plan is withheld. Please report the problem that
// provokes it.
type InternalError struct {
	Err error // what the plan got wrong
}

// Error says what went wrong inside.
func (e *InternalError) Error() string { return "optimize: internal error: " + e.Err.Error() }

// Unwrap returns what the plan got wrong.
func (e *InternalError) Unwrap() error { return e.Err }
