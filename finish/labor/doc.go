// Package labor works out the hours of a trim job by what the work is: by the task, by what
// trim is for, by joint, by opening and by the height of the work, with factors for what makes it
// longer, and with the set-up and clean-up of each room.
//
// # Flow
//
// [Lines] counts what a takeoff found and what the steps of a finishing list are, looks up
// a [Rate] for each [Event], and returns a [Line] for each room, profile and step. A line holds its
// parts - so much of an event at this rate - and its factors, so that every hour can be traced to
// what it stands on. [WriteText] writes that for people. [Crew] turns hours into days.
//
//	labor of a line = the sum over its parts of: quantity / Per x Time x factor, rounded up
//
// Trim that is put up is counted by events, not by the foot alone: the same feet take two to three times as long in
// closets as in one large room.
//
// # Numbers
//
// Times are exact: each part is rounded up once, to [Rates].Round, and sums are sums. What factors come
// to together is rounded to parts per million after each, and bounded by [Rates].Cap. No factor
// applies to set-up and clean-up. Nothing here takes or returns a floating-point number.
//
// # Bad input
//
// A value that cannot be right is a [*measure.FieldError] that names the field by its JSON name;
// all of them are joined. A result that does not fit is a [*measure.RangeError].
//
// # Sources
//
// There is no public handbook of hours for finish trim: every default says "common practice, no
// source", when, and under which conditions. Formulas for days follow NAVEDTRA 14045.
package labor
