// Package panel divides a stretch of wall into panels: boxes of molding, stiles and rails,
// battens, or boards set edge to edge, as wainscot is built of.
//
// A [Spacing] is the arithmetic alone: equal fields with something between them, so that all
// of it sums to the stretch exactly. A [Design] says what is built, and [Design.Lay] lays it
// out on a [Stretch]: where each member stands, how long it is cut, what the panels measure,
// and how outlets are kept clear. A [Corner] says what the stiles at the ends of two walls
// are wider or narrower than the others.
//
// The package knows no rooms: package takeoff finds the stretches between openings, and
// makes runs and pieces of the members.
package panel
