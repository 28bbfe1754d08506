// Package finish computes the materials of a trim job after cutting: the quantities of
// caulk, adhesive, nails, filler, sandpaper, primer, paint, tape, mortar and grout, the
// whole packages that cover them most cheaply, and the cautions. Package labor computes the
// hours of the job, package estimate its price, and package schedule its times.
//
// # Flow
//
// A quantity is a plain struct ([Bead], [Adhesive], [Nails], [Holes], [Sanding], [Coating],
// [Masking], [BackerRod], [Mortar], [Grout]) whose Need method returns a [Need]: the exact
// [Amount], the [Waste] applied and the reasoning in words. [Buy] turns an amount into
// whole packages of a [Product], with the cheapest mix. A [System] is an ordered list of
// steps; [NewList] applies systems to jobs and pools their needs into one shopping [List]
// with cautions. [measure.UnmarshalStrict] reads any of these from JSON.
//
// # Numbers
//
// No function takes or returns a floating-point number. Amounts are whole numbers of
// a very small unit and shares are whole parts per million. A need is computed as an
// exact rational and rounded once, up, to that unit (less than a billionth of a
// cubic inch), so that doubling a length doubles the need to within one unit. Text
// with a value between two units is rejected, not rounded. Money is an int64 in
// cents, the currency's minor unit. Every product and sum is checked: a result out
// of range is a [*measure.RangeError], never a wrapped number.
//
// # Bad input
//
// An invalid value is a [*measure.FieldError] that names the field by its JSON name
// and quotes the value; so are an amount of the wrong kind and each material that no
// product supplies. Nothing panics.
//
// # Sources
//
// Figures from a publication name it in a Source field or beside the value.
// Figures marked "common practice, no source" are usual in the trade; replace
// them with your own.
package finish
