package optimize

import (
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// A Plan says what to buy and how to cut it, with a proven bound on its cost. [Solve] returns
// plans, [Check] verifies a plan from another source, such as a file, and [Evaluate] completes
// a plan made by hand.
type Plan struct {
	// Patterns are the cutting patterns, in the order of the sticks. Together they yield every
	// piece in exactly the wanted quantity.
	Patterns []Pattern `json:"patterns"`

	// Parts are the pieces that the problem's runs are cut into. Pattern.Pieces numbers them
	// after Problem.Pieces. It is nil without runs.
	Parts []stock.Piece `json:"parts,omitempty"`

	// Spliced lists the splices of each of Problem.Runs, in order. It is nil without runs.
	Spliced []SplicedRun `json:"spliced,omitempty"`

	// Buy lists the sticks to buy and to take from the rack, in the order of the sticks. It
	// exceeds the sticks in Patterns if bundles, minimums, price breaks or spare sticks require
	// it.
	Buy []Purchase `json:"buy"`

	// Cost is the total price of sticks, splices, yard cuts and suppliers' charges in the
	// currency's minor unit or, if ByLength is set, the total length of the sticks bought, as
	// delivered, in ticks of measure.Length.
	Cost int64 `json:"cost"`

	// Bound is a proven lower bound: no plan for the problem costs less. It is never more than
	// Cost.
	Bound int64 `json:"bound"`

	Proven   bool  `json:"proven"`              // Cost == Bound, by the kind of proof in Proof; false if the proof is omitted
	ByLength bool  `json:"by_length,omitempty"` // Cost is a length, since every price is zero
	Stop     Stop  `json:"stop"`                // why the search ended
	Work     int64 `json:"work"`                // deterministic steps used, in the unit of Options.Work
	Proof    Proof `json:"proof"`               // why Bound holds

	// Goals are the results for each of Rules.Goals, in that order. It is nil if the problem
	// sets no goals.
	Goals []GoalResult `json:"goals,omitempty"`
}

// Pattern is one way to cut one stick, used Count times.
//
// Pieces lie side by side from the stick's start, the first at TrimStart, with one kerf between
// neighbors: pieces of total length s fit a usable length u if s + (n-1)*kerf <= u. A stick
// with defects counts as several sticks, its clear stretches, one after the other; no kerf is
// lost at a defect.
//
// With Rules.Nest the cut at the right end of each piece, as it lies, takes its kerf along the
// stick, K (see stock.End.KerfAlong). If that end is parallel to the left end of its neighbor,
// the cut saves the Setback: the sum over the pieces of length + K, less the setbacks saved,
// must not exceed u + kerf. Two ends are parallel if both are cut at the same angle with the
// same Setback in the same plane (back to face, or edge to edge) and lean the same way.
//
// A stick that is cut in the yard (see Rules.MaxTransport) counts as two sticks: the first
// YardAfter pieces lie in one, the others in the other. The cut is at the first position that
// lets both parts be transported and leaves the first pieces room. With no pieces before it,
// that position may lie within TrimStart; the rest of TrimStart is then in the other part.
type Pattern struct {
	Stick int `json:"stick"` // index into Problem.Sticks
	Count int `json:"count"` // number of sticks cut this way; at least 1

	// Pieces are indices into Problem.Pieces in cutting order, repeats allowed; at least one.
	// Solve puts shorter pieces first, as far as the rules permit, so that each is cut from a
	// long remnant: see Problem.MinRemnant.
	Pieces []int `json:"pieces"`

	// Offcut is the length left of each stick after the last cut, without unusable ends. It is
	// zero if the remainder is no wider than the kerf. For a stick with defects or one that is
	// cut in the yard, it is the longest single offcut; a clear stretch that yields no piece is
	// left whole.
	Offcut measure.Length `json:"offcut"`

	// Turned says how each of Pieces lies; it is nil if all lie as given, as is always so without
	// Rules.Nest. Solve turns a piece only if the plan would otherwise be worse or impossible, or
	// to avoid cuts from too short a remnant: see Problem.MinRemnant.
	Turned []Turn `json:"turned,omitempty"`

	// Stretch is the index of the clear stretch of the stick in which each of Pieces lies,
	// counted from 0 at its start, in nondecreasing order; it is nil for a stick without
	// defects.
	Stretch []int `json:"stretch,omitempty"`

	// YardAfter is the number of Pieces before the yard cut; it is also 0 if there is no yard cut.
	YardAfter int `json:"yard_after,omitempty"`
}

// Sticks returns the number of sticks that the plan cuts, the sum of Count over Patterns. Buy may
// have more. For a nil plan it returns zero.
func (pl *Plan) Sticks() int64 {
	var n int64
	if pl == nil {
		return n
	}
	for i := range pl.Patterns {
		n += int64(pl.Patterns[i].Count)
	}
	return n
}

// Stop is the reason why a search ended. With StopProven, cost and bound are equal; if the plan and
// all its Goals are Proven, it is StopProven or StopUnknown.
type Stop uint8

const (
	StopUnknown   Stop = iota // unknown
	StopProven                // the plan is proven optimal
	StopWork                  // Options.Work was used up
	StopDeadline              // the context's deadline passed
	StopCanceled              // the context was canceled
	StopExhausted             // every method of the engine was tried
	StopCaller                // Options.Progress returned false
)

var stopNames = names{"Stop", "a reason to stop", []string{"not said", "proven", "work limit", "deadline", "canceled", "methods exhausted", "stopped by the caller"}}

// String returns the reason in words.
func (s Stop) String() string { return stopNames.text(uint8(s)) }

// MarshalText returns the words of String; an unknown value is a [*measure.FieldError].
func (s Stop) MarshalText() ([]byte, error) { return stopNames.marshal(uint8(s)) }

// UnmarshalText reads the words of String; any other text is a [*measure.FieldError].
func (s *Stop) UnmarshalText(b []byte) error {
	v, err := stopNames.parse(b)
	if err == nil {
		*s = Stop(v)
	}
	return err
}
