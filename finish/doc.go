// Package finish works out everything that comes after the saw: how much
// caulk, adhesive, nails, filler, paper, primer, paint, tape, mortar and
// grout a trim job takes, which whole packages cover that most cheaply, how
// many hours it takes, and what a material costs installed.
//
// # Flow
//
// A quantity is a plain struct ([Bead], [GapBead], [Adhesive], [Nails], [Holes],
// [Sanding], [Coating], [Masking], [Cleaner], [BackerRod], [Mortar], [Grout],
// [GroutCourse]) whose Need method returns a [Need]: the exact [Amount], the [Waste] applied and
// the reasoning in words. [Buy] turns an amount into whole packages of a
// [Product] at the exact cheapest mix. A [System] is an ordered list of steps;
// [Plan] applies systems to jobs and pools what they need into one shopping
// [List] with labor and cautions, and [Schedule] says at what o'clock each coat
// goes on. [Price] and [Compare] turn the amounts of one or several candidates
// into an installed cost and a [Finding] where a term looks wrong; [BreakEven] and [BreakEvenPrice] find where their order
// changes. [measure.UnmarshalStrict] reads any of these from JSON.
//
// # Numbers
//
// Nothing here takes or returns a floating-point number. Amounts are whole
// numbers of a very small unit and shares are whole parts per million. A need
// is computed as an exact rational and rounded once, up, to that unit (less than
// a billionth of a cubic inch), so that doubling a length doubles the need to
// within one unit. Text that lies between two units is refused, not rounded.
// Money is an int64 in cents, the currency's minor unit, rounded once per line, half
// to even. Every product and sum is checked: what leaves the range is an
// [*OverflowError], never a wrapped number.
//
// # Bad input
//
// A value that cannot be right is a [*measure.FieldError] that names the field by its
// JSON name and quotes the value; amounts of two kinds that do not go together
// are a [*DimensionError]; a step whose material no product supplies is a
// [*MissingProductError]. Nothing panics but [MustParseAmount] and [MustParseYield].
//
// # Sources
//
// Figures that come from a publication name it in a Source field or beside the
// value. Figures marked "common practice, no source" are what people in the
// trade do; replace them with your own.
package finish
