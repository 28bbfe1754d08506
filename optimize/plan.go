package optimize

import "example.com/longpoint/measure"

// Plan says what to buy and how to cut it, and proves how good that is. Plans
// come from [Solve]; one from elsewhere, say from a file, can be trusted as far
// as [Check] goes.
type Plan struct {
	// Patterns is how to cut, in the order of the sticks. Together they yield
	// every piece exactly as often as it is wanted.
	Patterns []Pattern `json:"patterns"`

	// Cost is the total price in the currency's minor unit, or the total
	// length of the sticks used in ticks of measure.Length: see Objective.
	Cost int64 `json:"cost"`

	// Bound is a proven lower bound: no plan for the problem costs less. It
	// is never more than Cost.
	Bound int64 `json:"bound"`

	Proven    bool      `json:"proven"`    // Cost == Bound, by the kind of proof that Proof names
	Objective Objective `json:"objective"` // what Cost counts
	Stop      Stop      `json:"stop"`      // why the search ended
	Work      int64     `json:"work"`      // deterministic steps used, in the unit of Options.Work
	Proof     Proof     `json:"proof"`     // why Bound holds
}

// Pattern is one way of cutting one stick, Count times over.
type Pattern struct {
	Stick int `json:"stick"` // index into Problem.Sticks
	Count int `json:"count"` // how many sticks are cut this way; at least 1

	// Pieces holds indices into Problem.Pieces in cutting order, repeats
	// allowed; at least one. Solve puts longer pieces first.
	Pieces []int `json:"pieces"`

	// Offcut is what is left of each stick after the last cut, unusable ends
	// not counted. It is zero where the remainder is no wider than the kerf.
	Offcut measure.Length `json:"offcut"`
}

// Sticks returns how many sticks the plan uses.
func (p *Plan) Sticks() int64 {
	var n int64
	for i := range p.Patterns {
		n += int64(p.Patterns[i].Count)
	}
	return n
}

// Objective is what a plan's Cost counts.
type Objective uint8

const (
	// LeastPrice counts minor units of the currency.
	LeastPrice Objective = iota
	// LeastLength counts ticks of measure.Length of the sticks used, as
	// delivered: every price was zero.
	LeastLength
)

var objectiveNames = names{"least price", "least length"}

// String returns the objective in words.
func (o Objective) String() string { return objectiveNames.text(uint8(o)) }

// AppendText implements encoding.TextAppender.
func (o Objective) AppendText(b []byte) ([]byte, error) { return objectiveNames.append(b, uint8(o)) }

// MarshalText implements encoding.TextMarshaler.
func (o Objective) MarshalText() ([]byte, error) { return o.AppendText(nil) }

// UnmarshalText implements encoding.TextUnmarshaler.
func (o *Objective) UnmarshalText(b []byte) error {
	v, err := objectiveNames.parse(b)
	if err == nil {
		*o = Objective(v)
	}
	return err
}

// Stop is why a search ended.
type Stop uint8

const (
	StopUnknown  Stop = iota // not said
	StopProven               // nothing better exists
	StopWork                 // Options.Work was used up
	StopDeadline             // the context's deadline passed
	StopCanceled             // the context was canceled
	StopStuck                // every method the engine has was tried
)

var stopNames = names{"not said", "proven", "work limit", "deadline", "canceled", "methods exhausted"}

// String returns the reason in words.
func (s Stop) String() string { return stopNames.text(uint8(s)) }

// AppendText implements encoding.TextAppender.
func (s Stop) AppendText(b []byte) ([]byte, error) { return stopNames.append(b, uint8(s)) }

// MarshalText implements encoding.TextMarshaler.
func (s Stop) MarshalText() ([]byte, error) { return s.AppendText(nil) }

// UnmarshalText implements encoding.TextUnmarshaler.
func (s *Stop) UnmarshalText(b []byte) error {
	v, err := stopNames.parse(b)
	if err == nil {
		*s = Stop(v)
	}
	return err
}
