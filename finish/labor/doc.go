// Package labor computes the hours of a trim job from the work itself: by task, by the role
// of the trim, by joint, by opening and by the height of the work, with factors for
// difficulties, and with the set-up and clean-up of each room.
//
// # Flow
//
// [Lines] counts the results of a takeoff and the steps of a finishing list, looks up a
// [Rate] for each [Event], and returns a [Line] for each room, profile and step. A line
// holds its parts - a quantity of an event at a rate - and its factors, so that every hour
// can be traced to its basis. [WriteText] writes that for people. [Crew] turns hours into
// days.
//
//	labor of a line = the sum over its parts of: quantity / Per x Time x factor, rounded up
//
// Installed trim is counted by events, not only by the foot: the same length takes two to
// three times as long in closets as in one large room.
//
// # Numbers
//
// Times are exact: each part is rounded up once, to [Rates].Round, and sums are not
// rounded. The product of factors is rounded to parts per million after each factor, and
// bounded by [Rates].Cap. No factor applies to set-up and clean-up. No function takes or
// returns a floating-point number.
//
// # Bad input
//
// An invalid value is a [*measure.FieldError] that names the field by its JSON name; all of
// them are joined. A result that does not fit is a [*measure.RangeError].
//
// # Sources
//
// There is no public handbook of hours for finish trim: every default states "common
// practice, no source", its date and its conditions. Formulas for days follow NAVEDTRA
// 14045.
package labor
