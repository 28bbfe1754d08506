// Package stock holds the nouns of running trim: the [Stick] that can be had,
// the [Profile] it is milled to, the [Run] along a wall, the [Piece] that has
// to be cut, the [End] of a piece and the [Rack] of offcuts that are kept.
//
// Everything here is plain data. The zero value of every type is usable, every
// type reads and writes JSON with lengths and angles as people write them
// ("12ft 4-3/8in", "22.5°"), and nothing here knows how to optimize.
//
// # Words
//
// A length is always given long point to long point: between the two farthest
// points of the piece along the stick, which is what the piece consumes. Left
// and right are as seen by someone who stands in the room and faces the wall. Casing
// and backband are named as they lie on their back with the outer edge away: the upper
// end of the left leg is its right one, that of the right leg is its left one.
//
// The corner angle is the angle between the two walls (or, across the face, the
// two pieces) that meet: 90° for a normal corner, inside and outside alike.
// Saw settings are counted from the square cut. The spring angle of crown is
// the angle between its back and the wall.
//
// # Errors
//
// The rack changes by [Rack.Apply], as a whole or not at all and never twice, which has
// errors of its own. Otherwise validation reports a [*measure.FieldError]: the path of the field, its value as text,
// and what would be right. Several faults are joined with [errors.Join].
package stock
