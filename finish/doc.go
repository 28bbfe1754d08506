// Package finish works out everything that comes after the saw: how much
// caulk, adhesive, nails, filler, paper, primer, paint, tape, mortar and
// grout a trim job takes, which whole packages cover that most cheaply, and what to
// take care of. Package labor has its hours, package estimate its price, package schedule its times.
//
// # Flow
//
// A quantity is a plain struct ([Bead], [Adhesive], [Nails], [Holes], [Sanding],
// [Coating], [Masking], [BackerRod], [Mortar], [Grout]) whose Need method returns a [Need]: the exact [Amount], the [Waste] applied and
// the reasoning in words. [Buy] turns an amount into whole packages of a
// [Product] at the exact cheapest mix. A [System] is an ordered list of steps;
// [NewList] applies systems to jobs and pools what they need into one shopping
// [List] with cautions. [measure.UnmarshalStrict] reads any of these from JSON.
//
// # Numbers
//
// Nothing here takes or returns a floating-point number. Amounts are whole
// numbers of a very small unit and shares are whole parts per million. A need
// is computed as an exact rational and rounded once, up, to that unit (less than
// a billionth of a cubic inch), so that doubling a length doubles the need to
// within one unit. Text that lies between two units is refused, not rounded.
// Money is an int64 in cents, the currency's minor unit. Every product and sum is
// checked: what leaves the range is a [*measure.RangeError], never a wrapped number.
//
// # Bad input
//
// A value that cannot be right is a [*measure.FieldError] that names the field by its
// JSON name and quotes the value; so are an amount of a kind that does not go with
// another, and each material that no product supplies. Nothing panics.
//
// # Sources
//
// Figures that come from a publication name it in a Source field or beside the
// value. Figures marked "common practice, no source" are what people in the
// trade do; replace them with your own.
package finish
