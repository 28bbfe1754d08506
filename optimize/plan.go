package optimize

import (
	"context"

	"example.com/longpoint/measure"
)

// Plan says what to buy and how to cut it, and proves how good that is.
type Plan struct {
	Patterns  []Pattern // how to cut
	Cost      int64     // total price, or total stock length in Length ticks: see Objective
	Bound     int64     // proven lower bound on any plan's Cost
	Proven    bool      // Cost == Bound, and the proof was checked
	Objective Objective // what Cost counts
	Stop      Stop      // why the search ended
	Work      int64     // deterministic steps used, in the unit of Options.Work
	Proof     Proof     // why Bound holds
}

// Pattern is one way of cutting one stick, Count times over.
type Pattern struct {
	Stick  int            // index into Problem.Sticks
	Count  int            // how many sticks are cut this way
	Pieces []int          // indices into Problem.Pieces, in cutting order, repeats allowed
	Offcut measure.Length // what is left of each stick after its last cut, unusable ends not counted
}

// Objective is what a plan's Cost counts.
type Objective uint8

const (
	LeastPrice  Objective = iota // minor units of the currency
	LeastLength                  // ticks of measure.Length: every price was zero
)

// Stop is why a search ended.
type Stop uint8

const (
	StopUnknown  Stop = iota
	StopProven        // nothing better exists
	StopWork          // Options.Work was used up
	StopDeadline      // the context's deadline passed
	StopCanceled      // the context was canceled
	StopStuck         // every method the engine has was tried
)

// Proof is the evidence for a plan's Bound.
type Proof struct {
	Kind ProofKind
}

// ProofKind names a kind of evidence.
type ProofKind uint8

const (
	ProofNone ProofKind = iota
)

// Solve finds the cheapest way to cut the pieces from the sticks.
func Solve(ctx context.Context, p Problem, o *Options) (*Plan, error) { return nil, nil }

// Check verifies a plan against a problem without trusting the solver.
func Check(p Problem, plan *Plan) error { return nil }
