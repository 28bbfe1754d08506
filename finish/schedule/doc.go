// Package schedule lays work out in time: which crew does what and when, while coats
// dry, in working hours, over nights and days off.
//
// An [Activity] is one thing done at a stretch, a coat for one, with the labor that it takes, the
// people and the skill that it needs, and a [Link] to each activity that it waits for.
// [CriticalPath] says how early and how late each can be if there are crews for all. A
// [Calendar] says when work goes on and by which crews; [Build] returns a [Schedule] with a
// [Slot] for each activity, a moment before which no schedule is done, and whether the two
// are the same. No clock is read: the start is the caller's.
//
// Build finds the earliest schedule of networks of thirty activities or so, and of larger
// ones a good schedule and how much earlier another could be. What it proves rests on a bound, or
// on an exhaustive search in which every activity starts as early as those before it allow:
// that is enough, since nothing ends later for starting earlier, across nights too.
//
// A value that cannot be right is a [*measure.FieldError].
package schedule
