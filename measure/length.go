package measure

// Length is a signed distance. It is stored as a count of ticks of
// 1/2,032,000 inch (12.5 nanometers), so the range is about ±9.2e18 ticks:
// ±4.5e12 inches, over 70 million miles.
//
// Every 1/128 inch, every 0.001 inch, every 0.001 foot and every micrometer is
// a whole number of ticks, so those values, and sums, differences and whole
// multiples of them, are exact. A third of an inch is not; dividing therefore
// gives a remainder ([Length.Div]) or parts that differ by one step
// ([Length.Split]).
//
// The inch is 25.4 mm and the foot 0.3048 m exactly (Federal Register,
// 85 FR 62698, 5 October 2020). The deprecated US survey foot is not offered.
//
// The zero value is no distance. Lengths compare with ==, < and >, sort with
// cmp.Compare, and take min and max. The operators +, - and * do not check for
// overflow, as with any integer; [Length.Add], [Length.Sub], [Length.Mul] and
// [Sum] do.
type Length int64

// Lengths to multiply by, in the manner of time.Duration:
//
//	5*measure.Foot + 6*measure.Inch + 3*measure.Inch/4
//
// Multiply before dividing: 3*Inch/4 is exact, and so is Inch/128.
const (
	Tick       Length = 1 // 1/2,032,000 inch, the smallest step
	Micrometer Length = 80 * Tick
	Millimeter Length = 1000 * Micrometer
	Centimeter Length = 10 * Millimeter
	Meter      Length = 1000 * Millimeter
	Inch       Length = 25400 * Micrometer // 25.4 mm exactly
	Foot       Length = 12 * Inch          // 0.3048 m exactly
	Yard       Length = 3 * Foot           // 0.9144 m exactly
)

// Inches returns l in inches as the nearest float64, for display and
// trigonometry; beyond 2^53 ticks (70,000 miles) it may be the neighbor of the
// nearest. The result is exact only when it happens to be representable; never
// use it to decide whether two lengths are equal or which is longer.
func (l Length) Inches() float64 { return float64(l) / float64(Inch) }

// Feet returns l in feet as a float64, as near as [Length.Inches].
func (l Length) Feet() float64 { return float64(l) / float64(Foot) }

// Millimeters returns l in millimeters as a float64, as near as
// [Length.Inches].
func (l Length) Millimeters() float64 { return float64(l) / float64(Millimeter) }

// FromInches returns the length nearest to x inches; a value exactly midway
// between two ticks goes to the even one. Use it after trigonometry, and round
// the result to a tape or saw graduation with [Length.Round]. NaN, an infinity
// and a value outside the range of Length give a *[RangeError].
func FromInches(x float64) (Length, error) {
	mag, neg, ok := scaleFloat(x, uint64(Inch))
	if l, fits := signed(mag, neg); ok && fits {
		return Length(l), nil
	}
	return 0, &RangeError{Op: "FromInches", Value: formatFloat(x), Reason: notFinite(x, "a length")}
}

// Area returns the area of a rectangle l by m, rounded to the unit of [Area] by
// mode, which is within 3e-11 square inch. It is exact, and mode has no effect,
// if both sides are multiples of 1/128 inch, both of 0.1 inch, or both of 0.01
// mm. If one side is negative, so is the area. An area outside the range of
// Area gives a *[RangeError].
func (l Length) Area(m Length, mode Rounding) (Area, error) {
	// One square inch is 2,032,000² square ticks and 16384*127²*125 units of
	// Area; their ratio is 125.
	q, _, ok := mulDiv(int64(l), int64(m), 125, mode)
	if !ok {
		return 0, &RangeError{Op: "Length.Area", Value: l.String() + " by " + m.String(),
			Reason: "the area is more than 1.9 million square feet"}
	}
	return Area(q), nil
}
