// Package rcpsp schedules tasks that wait for each other and share resources: the
// resource-constrained project scheduling problem with several modes a task, minimal time
// lags of all four kinds, a calendar, and air in which dust and wet coats exclude each
// other. What is least is the end of the last task.
//
// Times are whole numbers of one unit from 0 on. Of a calendar only its windows count: a
// task works in them alone and is not broken off otherwise, so it goes on over nights with
// what it holds. Lags run by the clock or in working time.
//
// Three things are worked out: a plan, by priority rules (list.go) and by a beam of partial
// plans (beam.go); a lower bound, the latest end that is refuted by windows for the starts and the
// work that has to fit between (bound.go); and a proof, where the beam has left nothing out.
//
// Why the order of starts is enough: every task starts and ends the later, the later what it
// waits for ends, also across nights. So take any plan and place its tasks again in the order of
// their starts, each as early as it can be but not before the one placed last: by
// induction none starts later than before. Plans made in this way, in which no start is before
// the one placed last, therefore hold one that ends earliest, provided that no link lets a task
// start before what it waits for. Where one does, what is proven is by branching on what goes
// before what (branch.go). Sprecher, Kolisch and Drexl, "Semi-active,
// active, and non-delay schedules for the resource-constrained project scheduling problem"
// (1995, from memory) have the classes of plans without calendars; the step to
// calendars is derived.
package rcpsp
