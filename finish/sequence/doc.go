// Package sequence puts the work of a trim job, of all profiles in all rooms, into the trade's
// order: which step waits for which, and why.
//
// # Flow
//
// A [Work] is one step of one profile in one room, such as to caulk the classroom's base;
// [FromSteps] makes works of the steps of a finish.List. What is no trim - tear-out, repair of
// the walls, floors, punch list - is a work with a [Stage] of its own. [Network] makes a
// schedule.Activity of each coat and each work, linked by the order of the trade, which
// schedule.Build lays out in time; what the trim of a room has in common, such as to caulk it, is one
// activity. [Order.Edges] says of each link by which [Rule] it is there.
// [Check] goes the other way: it finds what in any sequence of events, made by Network or by
// hand, breaks a rule. It states the rules for itself, of events and not of links.
//
// # Rules and choices
//
// A firm rule follows from what the work is: base dies into casing, so casing is up first. A
// choice is a habit or a preference, such as crown before base, and a field of [Options]; Check
// does not know choices. [Rules] lists both with their sources. Most are common practice.
//
// # What waits how
//
// Drying and acclimation pass by the clock, at night too; they are lags of links. Dust and wet
// coats exclude each other in one zone of air: that is no link, since either may come first,
// but the Zone, Dusty and Wet of an activity, which schedule.Build obeys. Trim settles in the
// air of the house for days after it was delivered. The lag is only a plan: a moisture meter
// decides, not the clock ([Delivery.Moisture]).
//
// Old paint, asbestos, dust and solvents hurt people. A [StageDecision] keeps a place in the order
// for what local codes and licensed people decide; it decides nothing.
//
// # Bad input
//
// What cannot be done in any order, such as caulk on bare wood, is a [*measure.FieldError] with
// the path of the work, all faults joined. Nothing panics.
package sequence
