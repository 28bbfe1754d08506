// Package schedule lays work out in time: which crew does what and when, while coats
// dry, in working hours, over nights and days off.
//
// An [Activity] is a step of a job with the labor that it takes and the time that it
// dries. Package estimate makes them from a finishing list. A [Calendar] says when work
// goes on and by how many people; [Build] returns a [Schedule] with a [Slot] for each
// coat. No clock is read: the start is the caller's.
//
// A value that cannot be right is a [*measure.FieldError].
package schedule
