// Package stock defines the nouns of cutting lengths to size: the [Stick] to buy, the
// [Piece] to cut from it, the [End] of a piece, the [Run] that one piece or several
// cover, their [Profile] and [Material], and the [Rack] of offcuts. Trim uses all of
// them; pipe, bar, tube and framing lumber need sticks, pieces and the rack.
//
// Everything here is plain data. The zero value of every type is usable, and every type
// reads and writes JSON with lengths and angles as people write them ("12ft 4-3/8in",
// "22.5°"). This package does not optimize. [ParsePieces] reads a cut list as people
// write it.
//
// # Words
//
// A length is always measured long point to long point: between the two farthest points
// of the piece along the stick. That is the length that the piece consumes. A piece lies
// with its face toward the viewer, and its two ends are the left and the right one. For
// trim the viewer stands in the room and faces the wall. The ends of casing and backband
// are named with the piece on its back and the outer edge away from the viewer: the upper
// end of the left leg is its right end, and that of the right leg its left end.
//
// The corner angle is the angle between the two walls (or, across the face, the two
// pieces) that meet: 90° for a normal corner, inside and outside alike. Saw settings are
// counted from the square cut. The spring angle of crown is the angle between its back and
// the wall.
//
// # Errors
//
// An invalid value is reported by a [*measure.FieldError]: the path of the field from the
// argument (or from the receiver of Validate) in JSON names, its value as text, and the
// valid values. Validate methods report every fault, joined, in the order of the data, at
// most 100. [Rack.Apply] applies a change completely or not at all, and never twice; its
// own error is a [*RackError]. A line of a cut list that cannot be read is a [*LineError].
package stock
