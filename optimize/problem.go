package optimize

import (
	"context"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// A Problem lists the sticks to buy or to use up, the pieces to cut from them,
// and what a cut takes. It is plain data: no function of this package changes it.
//
// Labels are free text for people: they may be empty and may repeat. A stick, a piece and
// a run are known by their indices, an offcut on the rack by its ID. Every stick and piece
// that names a profile names the same one: a piece of one profile cannot be cut from a stick
// of another, so each profile is a problem of its own.
//
// Notes of a piece are for people and change no plan. The parts that a plan makes of a run have
// those of its Notes that lie on them.
//
// Of a stick ID, Label, Material, Nominal and Rack are for people, of a piece everything but
// Length, Quantity and Grade, unless [Rules] say otherwise: the two ends and Symmetry count
// with Rules.Nest, whether the ends are square with Rules.MinHold, Rack with Rules.MaxTransport and for the goal [GoalOffcutValue].
//
// Where every price, price break, charge, splice price and Rules.YardCut is zero the objective
// is the least total stock length, otherwise it is the least total price. A charge counts for
// that also where nothing of its supplier's is on the list.
type Problem struct {
	Sticks []stock.Stick  `json:"sticks"`        // the lengths that can be had; at least one
	Pieces []stock.Piece  `json:"pieces"`        // the pieces that are wanted; at least one, unless there are runs
	Kerf   measure.Length `json:"kerf,omitzero"` // width of one saw cut; zero or more

	// Runs are to be cut in one piece or spliced, as is cheapest with everything
	// else: where to splice is decided with the cuts. Of a run Length, Left, Right,
	// Label, Profile and Splice count; its Splices are not looked at. Of Splice, At says
	// where; a run that may be spliced Anywhere needs a list there too: see
	// stock.SpliceRule.Every. A part's ends are the run's or those of a scarf, see
	// stock.Run.Pieces, and its Grade is zero. Where Splice.Price is zero a run may be
	// spliced for no more than a longer offcut.
	//
	// Solve takes runs whose positions leave at most 60,000 parts that some stick is long
	// enough for, in all runs together: of one run that any stick holds whole, 344 positions.
	// A list of Every with a fine step may be longer; a coarser one, or the studs, will do.
	Runs []stock.Run `json:"runs,omitempty"`

	// MinRemnant is how long what is left of a stick should at least be whenever a piece is
	// cut from it, so that the hands that hold it stay clear of the blade; zero means
	// [DefaultMinRemnant]. It is no rule: it decides in which order Solve has pieces cut and
	// which of them are marked on a cut sheet, never which stick they come from. Whoever
	// wants no such care gives the length of the shortest piece.
	//
	// What is left counts from where the piece begins to the end of what can be used of the
	// stick, of a clear stretch where it has defects, or of the part that the yard's cut
	// leaves. The last piece is not cut from it where it fills it exactly, so that the stick
	// and the cut before have made both its ends. In JSON a zero is an error.
	MinRemnant measure.Length `json:"min_remnant,omitzero" zero:"a length such as \"1/16in\", or nothing for 8in"`

	// Rules is what else the shop asks for. The zero value asks for nothing.
	Rules Rules `json:"rules,omitzero"`
}

// UnmarshalJSON reads an object by the names of the fields. A zero MinRemnant is a
// [*measure.FieldError].
func (p *Problem) UnmarshalJSON(data []byte) error {
	type plain Problem
	return fault.Unmarshal(data, (*plain)(p))
}

// DefaultMinRemnant is what Problem.MinRemnant stands for when it is zero: the width of a
// hand, 4 in, and the 4 in that newer manuals of miter saws keep hands from each side of
// the blade. Derived: no manual that we know gives a least length by itself.
const DefaultMinRemnant = 8 * measure.Inch

func (p *Problem) minRemnant() measure.Length {
	if p.MinRemnant == 0 {
		return DefaultMinRemnant
	}
	return p.MinRemnant
}

// DefaultWork is the limit that Options.Work stands for when it is zero and the context has
// no deadline: about ten seconds of one core for a problem that stays open, where a room
// takes milliseconds.
const DefaultWork int64 = 2_500_000_000

// Options limit the search. A nil *Options means the zero value.
type Options struct {
	// Work limits the search in deterministic steps: the same problem with the
	// same Work gives the same plan on every machine. Zero means DefaultWork, or
	// no limit but the deadline where the context has one; a negative value means no
	// limit but the context's.
	Work int64

	// Start, if not nil, is a plan to begin from: one made by hand, or last week's for
	// another list of pieces. If it yields what the problem wants, Solve returns no plan
	// that costs more. Pieces that it lacks are added, first from what its sticks have
	// left; surplus ones are left out. Of equal pieces any may stand for another.
	//
	// Solve reads Patterns (all fields but Offcut), Spliced and, for Rules.Spare, Buy; the
	// rest may be empty. Indices are those of this problem, and Spliced may leave runs out.
	//
	// What makes no sense in it, does not fit its stick, uses more sticks than there are or
	// breaks a rule is a [measure.FieldError] below start, such as
	// start.patterns[3].pieces; all of them are reported, up to 100, joined.
	//
	// The start is part of the input: the same problem, start and Work give the same plan.
	// Another start may give another of several equal plans.
	Start *Plan

	// Progress, if not nil, is called with each better plan, each better bound, and once
	// after every 1<<26 steps, some tenths of a second; a long step of the search may pass
	// several of these. If it returns false the search ends, with the best plan so far and
	// StopCaller (StopProven if that one is proven), or with a [LimitError] if there is none yet.
	//
	// It changes nothing else: Solve returns the same plan with and without it. Solve calls
	// it on the caller's goroutine, never after it returned false, and at points that depend
	// on steps alone: two runs with the same limit of steps make the same reports. The
	// function may take its time (a deadline goes on counting), keep what it is given and
	// call Solve itself; it must not change the problem.
	//
	// Choosing among plans of the proven least cost is not reported: the plan that Solve
	// returns may be better than the last one that was reported.
	Progress func(Progress) bool `json:"-"`
}

// work returns the engine's limit, where zero is none.
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
