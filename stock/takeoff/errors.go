package takeoff

import (
	"fmt"

	"example.com/longpoint/measure"
)

// RunError reports a run that cannot be cut as measured: a joint of it has no size, it takes
// more strips than anybody lays, it is not to be spliced and longer than every stick, or
// what Options.Fit asks of its material is not known.
type RunError struct {
	Run    string         // label of the run
	Length measure.Length // of the wall that it covers
	Err    error          // why; often a *measure.FieldError
}

// Error names the run, its length and the reason.
func (e *RunError) Error() string { return fmt.Sprintf("%s, %v: %v", e.Run, e.Length.About(), e.Err) }

// Unwrap returns the reason.
func (e *RunError) Unwrap() error { return e.Err }

// SpliceError reports a run that is longer than the longest usable stick and has no
// set of studs on which it could be spliced.
type SpliceError struct {
	Run     string         // label of the run
	Length  measure.Length // long point to long point
	Longest measure.Length // longest usable stick
	Clear   measure.Length // kept free of splices at either end
	MinPart measure.Length // shortest part allowed
	Overlap measure.Length // that each splice takes
	Studs   int            // how many studs were far enough from the ends; zero too where none is needed
}

// Error says what is too long for what, and what to change.
func (e *SpliceError) Error() string {
	on := ""
	if e.Studs > 0 {
		on = fmt.Sprintf(" on its %d studs", e.Studs)
	}
	return fmt.Sprintf("%s is %v and the longest usable stick %v: no splice%s keeps %v from the ends and parts of %v or more; "+
		"get longer sticks, or allow shorter parts or splices nearer to the ends",
		e.Run, e.Length.About(), e.Longest.About(e.Length), on, e.Clear.About(), e.MinPart.About())
}
