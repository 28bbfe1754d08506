// Package joint computes the geometry of the end of a piece of trim or of the side of a
// frame, such as mitered tube: the distance from the short point to the long point, the
// allowance of the joint, and the setting of the saw.
//
// # Conventions
//
// The corner angle A is the angle between the two walls, 90° for a normal corner, inside
// and outside alike. A saw's miter and bevel are counted from the square cut, so a miter
// joint is cut at M = (180° − A)/2; on a saw whose scale shows the included half angle,
// set A/2 instead. Halving the corner angle is right at 90° only. The spring angle of
// crown is the angle between its back and the wall. [CheckMiter] and [CheckSpring] detect
// the two usual mistakes.
//
// [NewCut] computes an end, [Cut.Round] rounds it to the saw's scale and gives the
// resulting gap, and [Cut.Hand] gives the side to which the saw is set.
//
// # Exactness
//
// At 90° (and for a 45° scarf) the offset is the thickness itself, exactly. Every
// other result of trigonometry is rounded to the nearest tick of [measure.Length]
// or microarcsecond of [measure.Angle]. Processors may differ in the last bit of a
// tangent, far below the tick: two machines can only disagree if the true value
// lies halfway between ticks to 9 digits.
//
// # Errors
//
// A value outside its range is a [*measure.FieldError] with the name of the
// function's argument; several are joined.
//
// # Care
//
// Saws can injure. Follow the manual of the saw, keep guards on and hands out of the
// blade's path, never hold by hand a piece that is too short for the fence, and wear
// eye and hearing protection; stone and old painted trim make dust that needs its
// own precautions and, where the law says so, certified people.
package joint
