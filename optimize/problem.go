package optimize

import (
	"context"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// A Problem lists the sticks to buy or use, the pieces to cut from them, and the width of a saw
// cut. It is plain data: no function of this package changes it.
//
// Labels are free text for people; they may be empty and may repeat. Sticks, pieces and runs
// are identified by their indices, an offcut on the rack by its ID. Sticks and pieces that name
// a profile must all name the same one. A piece of one profile cannot be cut from a stick of
// another, so each profile is a separate problem.
//
// Notes of a piece are for people and do not affect the plan. A part of a run has those of the
// run's Notes that lie on it.
//
// Solve ignores the fields ID, Label, Material, Nominal and Rack of a stick, and all fields of
// a piece except Length, Quantity and Grade, unless [Rules] use them: Rules.Nest uses the two
// ends and Symmetry, Rules.MinHold whether the ends are square, and Rules.MaxTransport and the
// goal [GoalOffcutValue] use Rack.
//
// The objective is the least total price. If every price, price break, charge, splice price and
// Rules.YardCut is zero, it is the least total stock length. A nonzero charge makes price the
// objective even if no stick of its supplier is listed.
type Problem struct {
	Sticks []stock.Stick  `json:"sticks"`        // the available lengths; at least one
	Pieces []stock.Piece  `json:"pieces"`        // the wanted pieces; at least one, unless there are runs
	Kerf   measure.Length `json:"kerf,omitzero"` // width of one saw cut; zero or more

	// Runs are cut in one piece or spliced, whichever is cheapest overall; the splice positions
	// are optimized together with the cuts. Solve uses the fields Length, Left, Right, Label,
	// Profile and Splice of a run and ignores its Splices. Splice.At lists the positions; a run
	// that may be spliced Anywhere needs a list there too: see stock.SpliceRule.Every. The ends
	// of a part are those of the run or of a scarf, see stock.Run.Pieces, and its Grade is
	// zero. If Splice.Price is zero, a run may be spliced merely to lengthen an offcut.
	//
	// Solve accepts runs whose positions give at most 60,000 parts in total that fit some
	// stick. For one run that fits every stick, that is 344 positions. If a fine step of Every
	// gives more, use a coarser step or the studs.
	Runs []stock.Run `json:"runs,omitempty"`

	// MinRemnant is the desired minimum length of the remnant from which a piece is cut, to
	// keep the hands that hold it clear of the blade; zero means [DefaultMinRemnant]. It is a
	// preference, not a rule: it affects the order of the cuts and the marks on a cut sheet,
	// never the choice of sticks. To turn it off, set it to the length of the shortest piece.
	//
	// The remnant extends from the start of the piece to the end of the usable length of the
	// stick, of a clear stretch if the stick has defects, or of the part that the yard's cut
	// leaves. A last piece that exactly fills the remnant does not count, since the stick's end
	// and the previous cut are its two ends. In JSON a zero is an error.
	MinRemnant measure.Length `json:"min_remnant,omitzero" zero:"a length such as \"1/16in\", or nothing for 8in"`

	// Rules are the shop's further requirements. The zero value has none.
	Rules Rules `json:"rules,omitzero"`
}

// UnmarshalJSON reads an object by the names of the fields. A zero MinRemnant is a
// [*measure.FieldError].
func (p *Problem) UnmarshalJSON(data []byte) error {
	type plain Problem
	return fault.Unmarshal(data, (*plain)(p))
}

// DefaultMinRemnant is the value used if Problem.MinRemnant is zero: the width of a hand, 4 in,
// plus the 4 in that newer manuals of miter saws require between the hand and either side of
// the blade. Derived: no manual known to us gives a minimum length directly.
const DefaultMinRemnant = 8 * measure.Inch

func (p *Problem) minRemnant() measure.Length {
	if p.MinRemnant == 0 {
		return DefaultMinRemnant
	}
	return p.MinRemnant
}

// DefaultWork is the limit used if Options.Work is zero and the context has no deadline. On one
// core, a problem whose plan is not proven takes about ten seconds; a room takes milliseconds.
const DefaultWork int64 = 2_500_000_000

// Options limit the search. A nil *Options means the zero value.
type Options struct {
	// Work limits the search in deterministic steps: the same problem with the same Work gives
	// the same plan on every machine. Zero means DefaultWork, or no limit if the context has a
	// deadline; a negative value means no limit in either case.
	Work int64

	// Start, if not nil, is a plan to begin from, for example one made by hand or last week's
	// plan for another list of pieces. If it yields all wanted pieces, Solve returns no plan
	// that costs more. Missing pieces are added, first from the offcuts of its sticks; surplus
	// pieces are dropped. Equal pieces are interchangeable.
	//
	// Solve reads Patterns (all fields but Offcut), Spliced and, for Rules.Spare, Buy; the rest
	// may be empty. Indices are those of this problem, and Spliced may omit runs.
	//
	// An invalid value, pieces that do not fit their stick, more sticks than available and a
	// broken rule are each a [*measure.FieldError] below start, such as
	// start.patterns[3].pieces; up to 100 of them are joined.
	//
	// The start is part of the input: the same problem, start and Work give the same plan. A
	// different start may give a different one of several equally good plans.
	Start *Plan

	// Progress, if not nil, is called with each better plan, with each better bound, and once
	// after every 1<<26 steps, a few tenths of a second; a long step of the search may span
	// several of these intervals. If it returns false, the search ends with the best plan so
	// far and StopCaller (StopProven if that plan is proven), or with a [*LimitError] if there
	// is no plan yet.
	//
	// Progress does not affect the plan that Solve returns. Solve calls it on the caller's
	// goroutine, never after it returned false, and at points that depend only on steps: two
	// runs with the same limit of steps make the same reports. The function may be slow (a
	// deadline still applies), may keep its argument and may call Solve; it must not change the
	// problem.
	//
	// The choice among plans of the proven least cost is not reported: the plan that Solve
	// returns may be better than the last one reported.
	Progress func(Progress) bool `json:"-"`
}

// work returns the engine's limit; zero means none.
func (o *Options) work(ctx context.Context) int64 {
	if o != nil && o.Work != 0 {
		return max(o.Work, 0)
	}
	if ctx != nil {
		if _, ok := ctx.Deadline(); ok {
			return 0
		}
	}
	return DefaultWork
}
