// Package joint is the geometry of the end of a piece - of trim, or of the side of a frame,
// such as mitered tube: how far the long point lies beyond the short point, what the joint
// adds to the measured length, and how the saw is set.
//
// # Conventions
//
// The corner angle A is the angle between the two walls, 90° for a normal corner,
// inside and outside alike. A saw's miter and bevel are counted from the square
// cut, so a miter joint is cut at M = (180° − A)/2; on a saw whose scale shows the
// included half angle, set A/2 instead. Halving the corner angle is right at 90°
// only. The spring angle of crown is the angle between its back and the wall. [CheckMiter]
// and [CheckSpring] know the two usual mistakes.
//
// [NewCut] works out an end, [Cut.Round] what the saw's scale makes of it and how far the
// joint then opens, [Cut.Hand] to which side the saw is set.
//
// # Exactness
//
// At 90° (and for a 45° scarf) the offset is the thickness itself, exactly. Every
// other result of trigonometry is rounded to the nearest tick of [measure.Length]
// or microarcsecond of [measure.Angle]. Processors may differ in the last bit of a
// tangent, far below the tick: two machines could only disagree where the true
// value lies halfway between ticks to 9 digits.
//
// # Errors
//
// What is outside its range is a [*measure.FieldError], named as the argument of the
// function; several are joined.
//
// # Care
//
// Saws injure. Follow the manual of the saw, keep guards on and hands out of the
// blade's path, never hold a piece that is too short for the fence, and wear eye and
// hearing protection; stone and old painted trim make dust that needs its own
// precautions and, where the law says so, certified people.
package joint
