// Package rcpsp schedules tasks that wait for each other and share resources: the
// resource-constrained project scheduling problem with several modes per task, minimal
// time lags of all four kinds, a calendar, and zones of air in which dust and wet coats
// exclude each other. The objective is to minimize the end of the last task.
//
// Times are whole numbers of one unit, from 0. A task works only in the windows of the
// calendar and is not interrupted otherwise, so it extends over nights and keeps its
// resources. Lags are clock time or working time.
//
// The package computes three things: a plan, by priority rules (list.go) and by a beam
// search over partial plans (beam.go); a lower bound, from the ends refuted by time windows
// and by the work that must fit between two moments (bound.go); and a proof, if the beam
// dropped no partial plan.
//
// It suffices to search over orders of starts: the start and the end of a task never become
// earlier if its predecessors end later, even across nights. So take any plan and place its
// tasks again in the order of their starts, each as early as possible but not before the
// start of the previous one: by induction none starts later than before. The plans built in
// this way, with starts that never decrease, therefore include an optimal one, provided
// that no link lets a task start before its predecessor. If some link does, the proof is by
// branching on the order of tasks (branch.go). Sprecher, Kolisch and Drexl, "Semi-active,
// active, and non-delay schedules for the resource-constrained project scheduling problem"
// (1995, from memory) define the classes of plans without calendars; the extension to
// calendars is derived.
package rcpsp
