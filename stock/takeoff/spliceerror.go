package takeoff

import (
	"fmt"

	"example.com/longpoint/measure"
)

// A SpliceError reports a run that is longer than the longest usable stick and cannot be
// spliced: there are no suitable studs, or, as casing, it is never spliced. Other sticks may
// do. Take returns it as the Err of a *measure.FieldError that names the wall.
type SpliceError struct {
	Run     string         // label of the run
	Length  measure.Length // long point to long point
	Longest measure.Length // longest usable stick
	Clear   measure.Length // kept free of splices at either end
	MinPart measure.Length // shortest part allowed
	Overlap measure.Length // of each splice
	Studs   int            // number of studs far enough from the ends; also zero if none is needed
}

// Error reports the lengths, and what to change.
func (e *SpliceError) Error() string {
	if e.Clear == 0 && e.MinPart == 0 && e.Overlap == 0 {
		return fmt.Sprintf("%s is %v, the longest usable stick %v, and it is not spliced; get longer sticks",
			e.Run, e.Length.About(), e.Longest.About(e.Length))
	}
	on := ""
	if e.Studs > 0 {
		on = fmt.Sprintf(" on its %d studs", e.Studs)
	}
	return fmt.Sprintf("%s is %v and the longest usable stick %v: no splice%s keeps %v from the ends and parts of %v or more; "+
		"get longer sticks, or allow shorter parts or splices nearer to the ends",
		e.Run, e.Length.About(), e.Longest.About(e.Length), on, e.Clear.About(), e.MinPart.About())
}
