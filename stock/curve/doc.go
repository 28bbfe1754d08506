// Package curve is the geometry of trim around curves: arcs of walls and arches from what a
// tape can reach, the lengths of flexible molding, segments whose gap stays within a
// tolerance, kerfs that let a board bend, the pieces around a bullnose corner, and casing around an
// arch.
//
// # Conventions
//
// An [Arc] is the curve of the wall in plan. A wall is convex if it bulges into the room, as
// around a round chimney, and concave if it is hollow, as a bay or an apse seen from inside:
// the face of trim of thickness t is then at R + t or R - t from the center. The chord goes
// straight from end to end; the rise (sagitta) is the greatest distance from chord to arc.
//
// On a concave wall segments are chords and touch it at their joints; on a convex one they
// are tangents and touch it in their middles. The gap is the greatest distance between wall
// and back.
//
// # Exactness
//
// Lengths are rounded once, to the nearest tick. How many segments keep to a tolerance, and how
// many kerfs close far enough, is decided without rounding: an arc of which the gap is the
// tolerance exactly takes no segment more, and one tick less takes one.
//
// # Care
//
// Saws injure. A kerfed board is weak while it is cut: support it on both sides of the blade,
// keep hands out of the blade's path, set the depth on an offcut first, and follow the manual
// of the saw.
package curve
