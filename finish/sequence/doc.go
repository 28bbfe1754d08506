// Package sequence puts the work of a trim job, on all profiles in all rooms, into the
// trade's order, with the reason for each dependency between steps.
//
// # Flow
//
// A [Work] is one step on one profile in one room, such as caulking the classroom's base;
// [FromSteps] converts the steps of a finish.List to works. Work other than on trim -
// tear-out, repair of the walls, floors, punch list - is a work with its own [Stage].
// [Network] returns a schedule.Activity for each coat and each work, linked in the trade's
// order, which schedule.Build schedules; a step common to all trim of a room, such as
// caulking it, is one activity. [Order.Edges] gives the [Rule] behind each link. [Check] is
// the reverse: it finds violations of the rules in any sequence of events, made by Network
// or by hand. It has its own statement of the rules, for events and not for links.
//
// # Rules and choices
//
// A firm rule follows from the nature of the work: base dies into casing, so casing is
// installed first. A choice is a habit or a preference, such as crown before base, and a
// field of [Options]; Check ignores choices. [Rules] lists both with their sources. Most
// are common practice.
//
// # Kinds of waiting
//
// Drying and acclimation are lags of links in clock time, which also pass at night. Dust
// and wet coats exclude each other in one zone of air. Since either may come first, that is
// not a link but the Zone, Dusty and Wet of an activity, which schedule.Build respects.
// Trim settles in the air of the house for days after its delivery. That lag is only an
// estimate: a moisture meter decides, not the clock ([Delivery.Moisture]).
//
// Old paint, asbestos, dust and solvents hurt people. A [StageDecision] reserves a place in
// the order for the decision of local codes and licensed people; it decides nothing itself.
//
// # Bad input
//
// Work that cannot be done in any order, such as caulk on bare wood, is a
// [*measure.FieldError] with the path of the work; all faults are joined. Nothing panics.
package sequence
