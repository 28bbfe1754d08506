// Package stair is the geometry of trim that runs up a slope: the skirt of a stair, base and
// rails along it, crown under a sloped ceiling. It knows no rooms.
//
// [Flight.Rake] measures a flight of steps, [Flight.Skirt] works out the board beside it with
// its cuts and its outline, [Flight.Rail] where a rail turns. [Meet] is the joint between
// level and raked trim in the plane of one wall.
//
// Around a corner it is another matter. One profile does not turn from level to rake: what
// stands out from the wall meets its like at another height. [Corner.Rake] gives the profile
// that fits, [Corner.Level] the reverse, and [Corner.Crown] says with numbers what there is
// to do: a profile milled for the rake, crown rolled to another spring angle, or a wedge
// between the two, and which of them cannot be.
//
// # Conventions
//
// In a wall's plane x runs to the right and y up. A flight rises to the right; one that rises
// to the left is its mirror image, with left and right ends exchanged. The first riser stands
// at x = 0 on the lower floor, y = 0; the line through the inner corners of the steps passes
// through that point. Angles of cuts count from square, more than zero if the long point is
// at the upper edge, as stock.End has them. The corner angle is that between two walls. A
// slope is the rise in a run as measured on the wall itself: the pitch of a roof often
// differs.
//
// # Exactness
//
// Results are rounded once, to the nearest tick of [measure.Length] and thousandth of a second
// of arc, or are sums of such.
//
// # Errors
//
// What is outside its range is a [*measure.FieldError], named as the field; several are
// joined.
//
// # Care
//
// The numbers cut boards; they build no stair. Rise, run, headroom, guards and handrails are
// the business of local codes and of licensed people. Long raked cuts bind: support both
// sides, follow the manual of the saw, and work on a stair only where a fall is guarded
// against. Old paint may hold lead.
package stair
