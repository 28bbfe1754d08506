package optimize

import (
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// A Plan says what to buy and how to cut it, and proves how good that is. Plans
// come from [Solve]; [Check] verifies one from elsewhere, say from a file, and
// [Evaluate] fills in one that a person made.
type Plan struct {
	// Patterns is how to cut, in the order of the sticks. Together they yield
	// every piece exactly as often as it is wanted.
	Patterns []Pattern `json:"patterns"`

	// Parts are the pieces that the problem's runs are cut into. In Pattern.Pieces
	// they are numbered on from Problem.Pieces. Nil without runs.
	Parts []stock.Piece `json:"parts,omitempty"`

	// Spliced says, for each of Problem.Runs in order, where it is spliced. Nil
	// without runs.
	Spliced []SplicedRun `json:"spliced,omitempty"`

	// Buy is what to buy and what to take from the rack, in the order of the sticks. It is
	// more than Patterns cut if the problem has bundles, minimums, price breaks or spare
	// sticks that make it so.
	Buy []Purchase `json:"buy"`

	// Cost is the total price in the currency's minor unit, of sticks and, if there
	// are any, splices, yard cuts and suppliers' charges; or, ByLength, the total
	// length of the sticks bought, as delivered, in ticks of measure.Length.
	Cost int64 `json:"cost"`

	// Bound is a proven lower bound: no plan for the problem costs less. It
	// is never more than Cost.
	Bound int64 `json:"bound"`

	Proven   bool  `json:"proven"`              // Cost == Bound, by the kind of proof that Proof names; false where that is left out
	ByLength bool  `json:"by_length,omitempty"` // Cost counts length, since every price is zero
	Stop     Stop  `json:"stop"`                // why the search ended
	Work     int64 `json:"work"`                // deterministic steps used, in the unit of Options.Work
	Proof    Proof `json:"proof"`               // why Bound holds

	// Goals is what the plan reaches of each of Rules.Goals, in that order. It is
	// nil where the problem sets no goals.
	Goals []GoalResult `json:"goals,omitempty"`
}

// Pattern is one way of cutting one stick, Count times over.
//
// Pieces lie side by side from the stick's start, the first at TrimStart, with one
// kerf between neighbors: pieces of total length s fit a usable length u when s +
// (n-1)*kerf <= u. A stick with defects is so many sticks, its clear stretches, one
// after the other; no kerf is lost at a defect.
//
// With Rules.Nest the cut at the right end of each piece, as it lies, takes its
// kerf along the stick, K (see stock.End.KerfAlong), and where that end is parallel
// to the left end of its neighbor it saves the Setback: the sum over the pieces of
// length + K, less the setbacks saved, must not exceed u + kerf. Two ends are
// parallel where both are cut at the same angle with the same Setback in the same
// plane (back to face, or edge to edge) and lean the same way.
//
// A stick that is cut in the yard (see Rules.MaxTransport) is two sticks: the first
// YardAfter pieces lie in the one, the others in the other. The cut is at the
// earliest place that lets both parts be carried and leaves the first pieces room; with no
// pieces before it, that place may lie within TrimStart, of which the other part then has
// the rest.
type Pattern struct {
	Stick int `json:"stick"` // index into Problem.Sticks
	Count int `json:"count"` // how many sticks are cut this way; at least 1

	// Pieces holds indices into Problem.Pieces in cutting order, repeats
	// allowed; at least one. Solve puts shorter pieces first, as far as the rules let
	// them change places, so that each is cut from what is still long: see
	// Problem.MinRemnant.
	Pieces []int `json:"pieces"`

	// Offcut is what is left of each stick after the last cut, unusable ends not
	// counted. It is zero where the remainder is no wider than the kerf. Of a stick
	// with defects, or one that is cut in the yard, it is the longest that is left in
	// one piece; a clear stretch that yields no piece is left whole.
	Offcut measure.Length `json:"offcut"`

	// Turned says how each of Pieces lies; nil where all lie as given, as they do without
	// Rules.Nest. Solve turns a piece only where the plan would be worse, or none, if it lay
	// as given, or where that spares cuts from too short a remnant: see Problem.MinRemnant.
	Turned []Turn `json:"turned,omitempty"`

	// Stretch says in which clear stretch of the stick each of Pieces lies, counted
	// from 0 at its start, never decreasing; nil for a stick without defects.
	Stretch []int `json:"stretch,omitempty"`

	// YardAfter is how many of Pieces come before the yard cut; 0 also where there
	// is none.
	YardAfter int `json:"yard_after,omitempty"`
}

// Sticks returns how many sticks the plan uses.
func (p *Plan) Sticks() int64 {
	var n int64
	for i := range p.Patterns {
		n += int64(p.Patterns[i].Count)
	}
	return n
}

// Stop is why a search ended.
type Stop uint8

const (
	StopUnknown   Stop = iota // not said
	StopProven                // nothing better exists
	StopWork                  // Options.Work was used up
	StopDeadline              // the context's deadline passed
	StopCanceled              // the context was canceled
	StopExhausted             // every method the engine has was tried
	StopCaller                // Options.Progress returned false
)

var stopNames = names{"Stop", "a reason to stop", []string{"not said", "proven", "work limit", "deadline", "canceled", "methods exhausted", "stopped by the caller"}}

// String returns the reason in words.
func (s Stop) String() string { return stopNames.text(uint8(s)) }

// MarshalText implements encoding.TextMarshaler.
func (s Stop) MarshalText() ([]byte, error) { return stopNames.marshal(uint8(s)) }

// UnmarshalText implements encoding.TextUnmarshaler.
func (s *Stop) UnmarshalText(b []byte) error {
	v, err := stopNames.parse(b)
	if err == nil {
		*s = Stop(v)
	}
	return err
}
