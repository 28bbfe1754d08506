package measure_test

import (
	"errors"
	"fmt"

	"example.com/longpoint/measure"
)

// The units are multiples of one tick: a yard of picture wire is not a whole number of
// centimeters, but it is a whole number of ticks, like everything on a tape or a caliper.
func ExampleTick() {
	n, rest, _ := measure.Yard.Div(measure.Centimeter)
	fmt.Println(n, "cm and", rest.Format(measure.Style{Unit: measure.Millimeter}))
	for _, unit := range []measure.Length{measure.Yard, measure.Inch / 128, measure.Inch / 1000, measure.Micrometer} {
		fmt.Println(unit, "is", int64(unit/measure.Tick), "ticks")
	}
	// Output:
	// 91 cm and 4.4 mm
	// 3' is 73152000 ticks
	// 1/128" is 15875 ticks
	// 0.001" is 2032 ticks
	// 0.001mm is 80 ticks
}

// The slope of the belfry's louvers, read from a surveyor's instrument.
func ExampleAngle() {
	a := 22*measure.Degree + 30*measure.Arcminute + 18*measure.Arcsecond
	fmt.Println(a, 4*a)
	// Output: 22.505° 90.02°
}

// The floor of the classroom in the units of its coverings: linoleum by the square yard, cork
// by the square meter, and its underlay by the sheet of 600 by 1200 mm.
func ExampleArea() {
	floor, err := measure.MustParse(`28' 4"`).Area(measure.MustParse(`22' 6"`), measure.RoundUp)
	if err != nil {
		fmt.Println(err)
		return
	}
	count := func(unit measure.Area) int64 { return int64(floor.Round(unit, measure.RoundUp) / unit) }
	sheet := 600 * 1200 * measure.SquareMillimeter
	fmt.Println(floor, "or", int64(floor/measure.SquareInch), "sq in")
	fmt.Println(count(measure.SquareYard), "sq yd,", count(measure.SquareMeter), "sq m,", count(sheet), "sheets")
	// Output:
	// 637.5 sq ft or 91800 sq in
	// 71 sq yd, 60 sq m, 83 sheets
}

// Oak for the workbench is sold by the board foot, the sand under the stove by the cubic
// foot, the oil for both by the liter.
func ExampleVolume() {
	board := 2 * 8 * 72 * measure.CubicInch // 2 by 8 in, 6 ft long
	fmt.Println("each", board, "or", int64(board/measure.BoardFoot), "bd ft")
	sand := measure.Volume(3*measure.CubicFoot) / 2
	fmt.Println("sand", sand, "or", measure.Locale{Metric: true}.FormatVolume(sand))
	oil := 2*measure.Liter + 500*measure.Milliliter
	fmt.Println("oil", oil, "or", measure.Locale{}.FormatVolume(oil-measure.Gallon/2), "more than half a gallon")
	// Output:
	// each 1152 cu in or 8 bd ft
	// sand 2592 cu in or 42.48 L
	// oil 2.5 L or 20.54 fl oz more than half a gallon
}

// Two bags of mortar that look alike on the shelf.
func ExampleParseWeight() {
	bag, err := measure.ParseWeight("50 lb")
	fmt.Println(bag, err)
	fmt.Println("the metric one has", measure.Locale{}.FormatWeight(25*measure.Kilogram-bag), "more")
	pigment := 12 * measure.Ounce
	fmt.Println("pigment", pigment, "or", int64(pigment/measure.Gram), "g")
	// Output:
	// 50 lb <nil>
	// the metric one has 5.12 lb more
	// pigment 12 oz or 340 g
}

// Paint that needs 10 °C, in a room that the stove keeps above 48 °F. A difference is counted
// in degrees, a temperature has a zero.
func ExampleParseTemperature() {
	room, err := measure.ParseTemperature("48 °F")
	if err != nil {
		fmt.Println(err)
		return
	}
	if lacks := measure.Celsius(10) - room; lacks > 0 {
		fmt.Printf("%v is %v, too cold by %.1f degrees Celsius\n", room, measure.Locale{Metric: true}.FormatTemperature(room), float64(lacks)/float64(measure.DegreeC))
	}
	// Output: 48°F is 8.9 °C, too cold by 1.1 degrees Celsius
}

// Base of pine across its width, from the heated winter to the damp summer: a fraction of
// a percent for each percent of moisture.
func ExampleParseRatio() {
	summer, err := measure.ParseRatio("11.5%")
	winter := 6 * measure.Percent
	const perPercent = 2630 * measure.PartPerMillion // for each percent of moisture
	swells, exact, _ := measure.MustParse(`5-1/4"`).MulDiv(int64(summer-winter)*int64(perPercent), int64(measure.Percent)*1_000_000, measure.RoundHalfEven)
	fmt.Println(swells.About(measure.Inch/64), exact, err)
	_, err = measure.ParseRatio("11.5")
	fmt.Println(err)
	// Output:
	// about 5/64" false <nil>
	// measure: ratio "11.5": ambiguous: could be 11.5% or 1150%; a plain number above 1 is more often a percentage than a factor; write the percent sign
}

// The response of a form to invalid input. The error has more details, but these cases need
// different responses.
func ExampleErrUnit() {
	for _, typed := range []string{"88 3/4", "seven feet", `1/3"`, `7-4`, "400000000000'"} {
		_, err := measure.Parse(typed)
		answer := "taken"
		switch {
		case errors.Is(err, measure.ErrUnit):
			answer = "in inches?"
		case errors.Is(err, measure.ErrAmbiguous):
			answer = "which of these?"
		case errors.Is(err, measure.ErrInexact):
			answer = "between two marks; which?"
		case errors.Is(err, measure.ErrRange):
			answer = "too long for any building"
		case errors.Is(err, measure.ErrSyntax):
			answer = "not a length as written; was it spoken?"
		}
		fmt.Println(typed, "-", answer)
	}
	// Output:
	// 88 3/4 - in inches?
	// seven feet - not a length as written; was it spoken?
	// 1/3" - between two marks; which?
	// 7-4 - which of these?
	// 400000000000' - too long for any building
}

// Sums of measurements from outside are checked for overflow.
func ExampleRangeError() {
	road := measure.MustParse("378000000000'")
	_, err := road.Mul(2)
	var out *measure.RangeError
	if errors.As(err, &out) {
		fmt.Println(out.Op, "-", out.Reason)
	}
	// Output: Length.Mul - the product is beyond 70 million miles
}
