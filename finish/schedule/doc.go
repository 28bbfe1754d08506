// Package schedule assigns work to crews and times, with drying coats, working
// hours, nights and days off.
//
// An [Activity] is work done without interruption, such as one coat, with its labor, the
// people and the skill that it needs, and a [Link] to each activity for which it waits.
// [CriticalPath] returns the earliest and latest times of each activity if there are crews
// for all. A [Calendar] holds the working hours and the crews; [Build] returns a [Schedule]
// with a [Slot] for each activity, a lower bound on the completion of any schedule, and
// whether the schedule attains it. The package reads no clock: the caller supplies the
// start.
//
// Build finds the earliest schedule for networks of about thirty activities, and for larger
// ones a good schedule with a bound on the possible improvement. A proof rests on the
// bound, or on an exhaustive search in which every activity starts as early as its
// predecessors allow: that suffices, since an earlier start never makes an end later, even
// across nights.
//
// An invalid value is a [*measure.FieldError].
package schedule
