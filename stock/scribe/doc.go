// Package scribe fits trim to what is not level, not plumb and not flat: base to a floor
// that falls, crown to a ceiling that dips, the ends of base to walls that lean, and the
// extensions of a jamb to a wall that is deeper than the jamb.
//
// It knows no rooms. Everything is worked out from readings as they are taken on a job: at
// stations along a wall, from a level line down to the floor or up to the ceiling
// ([Reading], [Surface]); out of plumb in the length of a level ([Lean]); from the edge of
// a jamb to the face of the wall, at its four corners and halfway ([Depths]).
//
// # Exactness
//
// Sums and differences of readings are exact. Between two readings a floor is taken to be
// straight, and what is worked out there is rounded to the nearest tick of
// [measure.Length], once. Angles, and the projection of crown that is rolled, are rounded
// to the nearest microarcsecond or tick.
//
// # Errors
//
// What is outside its range is a [*measure.FieldError], named as the field; several are
// joined.
//
// # Care
//
// Ripping and scribing injure: follow the manual of the saw, keep guard and riving knife
// on, push narrow strips past the blade with a stick, let them fall off on the far side of
// it, and plane or sand to a line held in a vise, not in a hand. Base and casing of old
// houses may carry lead paint: what is sanded there is a matter for local rules and
// licensed practice.
package scribe
