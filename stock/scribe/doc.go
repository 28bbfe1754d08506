// Package scribe fits trim to surfaces that are out of level, out of plumb or not flat:
// base to a floor that falls, crown to a ceiling that dips, the ends of base to walls
// that lean, and the extensions of a jamb to a wall that is deeper than the jamb.
//
// It has no notion of rooms. All results are computed from readings as taken on a job: at
// stations along a wall, from a level line down to the floor or up to the ceiling
// ([Reading], [Surface]); out of plumb over the length of a level ([Lean]); from the edge
// of a jamb to the face of the wall, at its four corners and halfway ([Depths]).
//
// # Exactness
//
// Sums and differences of readings are exact. A floor is assumed to be straight between
// two readings, and results there are rounded once, to the nearest tick of
// [measure.Length]. Angles, and the projection of rolled crown, are rounded to the
// nearest microarcsecond or tick.
//
// # Errors
//
// A value outside its range is a [*measure.FieldError] with the name of the field;
// several are joined.
//
// # Care
//
// Ripping and scribing can injure: follow the manual of the saw, keep guard and riving
// knife on, push narrow strips past the blade with a stick, let them fall off on the far
// side of it, and plane or sand to a line held in a vise, not in a hand. Base and casing
// of old houses may carry lead paint: sanding it is a matter for local rules and licensed
// practice.
package scribe
