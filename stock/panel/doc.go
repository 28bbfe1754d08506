// Package panel divides a stretch of wall into panels: boxes of molding, stiles and rails,
// battens, or boards set edge to edge, as in wainscot.
//
// A [Spacing] is only the arithmetic: equal fields with spaces between them that sum
// exactly to the stretch. A [Design] describes the paneling, and [Design.Lay] lays it out
// on a [Stretch]: the position and cut length of each member, the sizes of the panels, and
// a layout that keeps clear of outlets. A [Corner] computes the difference in width of the
// stiles at the ends of two walls.
//
// The package has no notion of rooms: package takeoff finds the stretches between
// openings, and turns the members into runs and pieces.
package panel
