// Package stair computes the geometry of trim that runs up a slope: the skirt of a stair,
// base and rails along it, crown under a sloped ceiling. It has no notion of rooms.
//
// [Flight.Rake] measures a flight of steps, [Flight.Skirt] computes the board beside it
// with its cuts and its outline, and [Flight.Rail] the points at which a rail turns. [Meet]
// computes the joint between level and raked trim in the plane of one wall.
//
// Around a corner, one profile cannot turn from level to rake: points that stand out from
// the wall meet their counterparts at another height. [Corner.Rake] returns the profile
// that fits, [Corner.Level] the reverse, and [Corner.Crown] computes the options: a profile
// milled for the rake, crown rolled to another spring angle, or a wedge between the two. It
// also reports the options that are impossible.
//
// # Conventions
//
// In a wall's plane x runs to the right and y up. A flight rises to the right; one that
// rises to the left is its mirror image, with left and right ends exchanged. The first
// riser stands at x = 0 on the lower floor, y = 0; the line through the inner corners of
// the steps passes through that point. Angles of cuts are counted from square and are
// positive if the long point is at the upper edge, as in stock.End. The corner angle is the
// angle between two walls. A slope is the rise in a run as measured on the wall itself: the
// pitch of a roof often differs.
//
// # Exactness
//
// Results are rounded once, to the nearest tick of [measure.Length] or thousandth of a
// second of arc, or are sums of such results.
//
// # Errors
//
// A value outside its range is a [*measure.FieldError] with the name of the field;
// several are joined.
//
// # Care
//
// The numbers are for cutting trim, not for building a stair. Rise, run, headroom, guards
// and handrails are a matter for local codes and licensed people. Long raked cuts bind:
// support both sides, follow the manual of the saw, and work on a stair only with
// protection against falls. Old paint may hold lead.
package stair
