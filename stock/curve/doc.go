// Package curve computes the geometry of trim around curves: arcs of walls and arches from
// dimensions that a tape can reach, the lengths of flexible molding, segments whose gap
// stays within a tolerance, kerfs that let a board bend, the pieces around a bullnose
// corner, and casing around an arch.
//
// # Conventions
//
// An [Arc] is the curve of the wall in plan. A wall is convex if it bulges into the room,
// like a round chimney, and concave if it is hollow, like a bay or an apse seen from
// inside: the face of trim of thickness t is then at R + t or R - t from the center. The
// chord goes straight from end to end; the rise (sagitta) is the greatest distance from
// chord to arc.
//
// On a concave wall segments are chords and touch it at their joints; on a convex one they
// are tangents and touch it in their middles. The gap is the greatest distance between wall
// and back.
//
// # Exactness
//
// Lengths are rounded once, to the nearest tick. The number of segments within a tolerance,
// and the number of kerfs that close far enough, is decided without rounding: an arc whose
// gap is exactly the tolerance needs no extra segment, and a tolerance one tick smaller
// needs one more.
//
// # Care
//
// Saws can injure. A kerfed board is weak while it is cut: support it on both sides of the
// blade, keep hands out of the blade's path, set the depth on an offcut first, and follow
// the manual of the saw.
package curve
