// Package stock holds the nouns of cutting lengths to size: the [Stick] that can be
// bought, the [Piece] that has to be cut from it, the [End] of a piece, the [Run] that is
// covered by one piece or by several, the [Profile] and the [Material] that all of them
// are of, and the [Rack] of offcuts that are kept. Trim uses all of them; pipe, bar, tube
// and framing lumber need sticks, pieces and the rack.
//
// Everything here is plain data. The zero value of every type is usable, and every type
// reads and writes JSON with lengths and angles as people write them ("12ft 4-3/8in",
// "22.5°"). Nothing here knows how to optimize. [ParsePieces] reads a cut list as people
// write it.
//
// # Words
//
// A length is always given long point to long point: between the two farthest points of
// the piece along the stick, which is what the piece consumes. A piece lies with its face
// toward the viewer, and its two ends are the left and the right one. For trim the viewer
// stands in the room and faces the wall. Casing and backband are named as they lie on
// their back with the outer edge away: the upper end of the left leg is its right one,
// that of the right leg is its left one.
//
// The corner angle is the angle between the two walls (or, across the face, the two
// pieces) that meet: 90° for a normal corner, inside and outside alike. Saw settings are
// counted from the square cut. The spring angle of crown is the angle between its back and
// the wall.
//
// # Errors
//
// What cannot be used is a [*measure.FieldError]: the path of the field from the argument
// (or from the receiver of Validate) by its names in JSON, its value as text, and what
// would be right. Validate methods report every fault, joined, in the order of the data,
// at most 100. [Rack.Apply] changes the rack as a whole or not at all and never twice; its
// own error is a [*RackError]. A line of a cut list that cannot be read is a [*LineError].
package stock
