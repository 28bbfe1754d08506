package measure_test

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"math"
	"slices"

	"example.com/longpoint/measure"
)

// The long wall of the classroom, measured in two parts past the stove.
func Example() {
	left, err := measure.Parse(`7' 4-3/4"`)
	if err != nil {
		fmt.Println(err)
		return
	}
	right := 5*measure.Foot + 6*measure.Inch + 3*measure.Inch/16
	wall, err := left.Add(right)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(wall)
	fmt.Println(wall.Round(measure.Inch/8, measure.RoundHalfEven))
	fmt.Printf("%.1f mm\n", wall.Millimeters())
	// Output:
	// 12' 10-15/16"
	// 12' 11"
	// 3935.4 mm
}

func ExampleParse() {
	for _, s := range []string{`7'-4 3/4"`, `7 ft 4 3/4 in`, `7’ 4¾”`, `88.75"`, `7.5 feet`, `2253 mm`} {
		l, err := measure.Parse(s)
		fmt.Println(l, err)
	}
	// Output:
	// 7' 4-3/4" <nil>
	// 7' 4-3/4" <nil>
	// 7' 4-3/4" <nil>
	// 7' 4-3/4" <nil>
	// 7' 6" <nil>
	// 2253mm <nil>
}

// Text with several possible readings is rejected, with the readings.
func ExampleParse_ambiguous() {
	_, err := measure.Parse(`113/16"`)
	fmt.Println(err)
	fmt.Println(errors.Is(err, measure.ErrAmbiguous))
	// Output:
	// measure: length "113/16\"": ambiguous at "113/16", byte 0: could be 1-13/16" or 11-3/16" or 7-1/16"; put a space or a hyphen between whole number and fraction
	// true
}

func ExampleParseError() {
	_, err := measure.Parse(`7 ft 4 cubits`)
	var pe *measure.ParseError
	if errors.As(err, &pe) {
		fmt.Println(pe.Kind, pe.Offset, pe.Part, pe.Err)
	}
	// Output: length 7 cubits missing or unknown unit
}

// A column of a spreadsheet that is headed "feet".
func ExampleParser() {
	p := measure.Parser{Unit: measure.Foot, Graduation: measure.Inch / 16}
	for _, s := range []string{"7.3958", "16.885", `10' 6"`} {
		l, err := p.Parse(s)
		fmt.Println(l, err)
	}
	// Output:
	// 7' 4-3/4" <nil>
	// 16' 10-5/8" <nil>
	// 10' 6" <nil>
}

// A drawing from a country with a decimal comma. Its lengths are stored and sent with a point,
// as everywhere.
func ExampleParser_decimalComma() {
	p := measure.Parser{Unit: measure.Millimeter, DecimalComma: true}
	l, err := p.Parse("2254,25")
	text, _ := l.MarshalText()
	fmt.Println(l.Format(measure.Style{Unit: measure.Meter, DecimalComma: true}), string(text), err)
	_, err = p.Parse("1.250")
	fmt.Println(err)
	// Output:
	// 2,25425 m 7ft 4-3/4in <nil>
	// measure: length "1.250": ambiguous: could be 1,25mm or 1250mm; a point could be a decimal mark, group digits or separate; write a decimal comma and no point
}

func ExampleLength_Round() {
	l := measure.MustParse(`4-5/32"`) // midway between two sixteenths
	for _, mode := range []measure.Rounding{measure.RoundHalfEven, measure.RoundDown, measure.RoundUp, measure.RoundHalfUp} {
		fmt.Println(mode, l.Round(measure.Inch/16, mode))
	}
	// Output:
	// half-even 4-1/8"
	// down 4-1/8"
	// up 4-3/16"
	// half-up 4-3/16"
}

// Seven equal panels across a blackboard rail: no sixteenth is lost.
func ExampleLength_Split() {
	parts, err := measure.MustParse(`10'`).Split(7, measure.Inch/16)
	fmt.Println(parts, err)
	// Output: [1' 5-3/16" 1' 5-1/8" 1' 5-1/8" 1' 5-3/16" 1' 5-1/8" 1' 5-1/8" 1' 5-1/8"] <nil>
}

// The number of coat-rail blocks from a stick, without kerf.
func ExampleLength_Div() {
	n, rest, err := measure.MustParse(`10'`).Div(measure.MustParse(`2'-4"`))
	fmt.Println(n, rest, err)
	// Output: 4 8" <nil>
}

// A tenth is added to a length, exactly or not.
func ExampleLength_MulDiv() {
	l, exact, err := measure.MustParse(`100'`).MulDiv(11, 10, measure.RoundUp)
	fmt.Println(l, exact, err)
	l, exact, err = measure.MustParse(`1"`).MulDiv(1, 3, measure.RoundDown)
	fmt.Println(l, exact, err)
	// Output:
	// 110' true <nil>
	// 8.4666625mm false <nil>
}

func ExampleSum() {
	total, err := measure.Sum(measure.MustParse(`13'`), measure.MustParse(`12' 3-1/2"`), measure.MustParse(`600mm`).Round(measure.Inch/16, measure.RoundHalfEven))
	fmt.Println(total, err)
	// Output: 27' 3-1/8" <nil>
}

// Lengths are strings in JSON, since a number would have no unit.
func ExampleLength_MarshalText() {
	b, err := json.Marshal(map[string]measure.Length{"north wall": measure.MustParse(`23' 7-1/2"`)})
	fmt.Println(string(b), err)
	var room struct{ Wall measure.Length }
	fmt.Println(json.Unmarshal([]byte(`{"Wall": 88.75}`), &room))
	// Output:
	// {"north wall":"23ft 7-1/2in"} <nil>
	// json: cannot unmarshal number into Go struct field .Wall of type measure.Length
}

// From trigonometry back to the tape: the addition of a 9/16 in base at an outside corner of 92
// degrees.
func ExampleFromInches() {
	thickness := measure.MustParse(`9/16"`)
	corner := 92 * measure.Degree
	gain, err := measure.FromInches(thickness.Inches() / math.Tan(corner.Radians()/2))
	fmt.Println(gain.Round(measure.Inch/64, measure.RoundHalfEven), err)
	// Output: 35/64" <nil>
}

func ExampleParseAngle() {
	a, err := measure.ParseAngle(`22°30'`)
	fmt.Println(a, err)
	fmt.Println(a / 4)
	// Output:
	// 22.5° <nil>
	// 5.625°
}

// A digital angle finder reads tenths; the saw has marks at half degrees.
func ExampleAngle_Round() {
	corner, err := measure.ParseAngle("91.3")
	if err != nil {
		fmt.Println(err)
		return
	}
	miter := (180*measure.Degree - corner) / 2
	fmt.Println(miter, miter.Round(measure.Degree/2, measure.RoundHalfEven))
	// Output: 44.35° 44.5°
}

// The wall of the cloakroom, and paint a thousandth of an inch thick on it.
func ExampleLength_Area() {
	wall, err := measure.MustParse(`14' 6"`).Area(measure.MustParse(`9'`), measure.RoundHalfEven)
	if err != nil {
		fmt.Println(err)
		return
	}
	film, err := wall.Volume(measure.Inch/1000, measure.RoundHalfEven)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(wall, film)
	fmt.Printf("%.1f fl oz\n", film.FluidOunces())
	// Output:
	// 130.5 sq ft 18.792 cu in
	// 10.4 fl oz
}

func ExampleParseVolume() {
	tube, err := measure.ParseVolume("10.1 fl oz")
	if err != nil {
		fmt.Println(err)
		return
	}
	dozen, err := tube.Mul(12)
	fmt.Println(dozen, err)
	fmt.Println(dozen.Round(measure.Gallon, measure.RoundUp))
	// Output:
	// 121.2 fl oz <nil>
	// 1 gal
}

// One length as on a tape, on a drawing, by a surveyor and by a supplier.
func ExampleStyle() {
	l := measure.MustParse(`2257 mm`)
	for _, s := range []measure.Style{
		{Graduation: measure.Inch / 16},
		{Graduation: measure.Inch / 16, MarkInexact: true},
		{Graduation: measure.Inch / 16, Hyphen: true, Zeros: true},
		{Graduation: measure.Inch / 16, Unit: measure.Inch, Typographic: true},
		{Graduation: measure.Foot / 100, Unit: measure.Foot, Words: true},
		{Unit: measure.Meter},
	} {
		fmt.Println(l.Format(s))
	}
	// Output:
	// 7' 4-7/8"
	// 7' 4-7/8"-
	// 7'-4 7/8"
	// 88⅞″
	// 7.40 ft
	// 2.257 m
}

// Hooks 1 in wide on a coat rail, evenly spaced to a sixteenth.
func ExampleEvenSpacing() {
	hooks, err := measure.EvenSpacing(measure.MustParse(`6'`), 5, measure.Inch, measure.Inch/16)
	if err != nil {
		fmt.Println(err)
		return
	}
	for start := range hooks {
		fmt.Println(start)
	}
	// Output:
	// 11-3/16"
	// 1' 11-3/8"
	// 2' 11-1/2"
	// 3' 11-11/16"
	// 4' 11-7/8"
}

// Studs 16 in on center, the first center 15-1/4 in from the corner.
func ExampleOnCenter() {
	for stud := range measure.OnCenter(measure.MustParse(`6'`), measure.MustParse(`15-1/4"`), 16*measure.Inch) {
		fmt.Println(stud)
	}
	// Output:
	// 1' 3-1/4"
	// 2' 7-1/4"
	// 3' 11-1/4"
	// 5' 3-1/4"
}

// Three measured segments of a wall, noted in thirty-seconds, on a cut list in eighths: the
// pieces still fill the wall. Rounded individually they would be an eighth short.
func ExampleRoundChain() {
	parts := []measure.Length{measure.MustParse(`30-5/32"`), measure.MustParse(`41-5/32"`), measure.MustParse(`22-5/32"`)}
	rounded, err := measure.RoundChain(parts, measure.Inch/8, measure.RoundHalfEven)
	fmt.Println(rounded, err)
	// Output: [2' 6-1/8" 3' 5-1/8" 1' 10-1/4"] <nil>
}

func ExampleParseScale() {
	s, err := measure.ParseScale(`1/4" = 1'-0"`)
	if err != nil {
		fmt.Println(err)
		return
	}
	wall, exact, err := s.Actual(measure.MustParse(`5-29/32"`), measure.RoundHalfEven)
	fmt.Println(wall, exact, err)
	// Output: 23' 7-1/2" true <nil>
}

// Spoken from the tape, with the uncertainty of strong and light.
func ExampleParseSpoken() {
	for _, s := range []string{"seven four and three quarters", "six foot two and five eighths", "five and a half feet", "a quarter inch", "eighty-eight and three quarters strong"} {
		l, side, err := measure.ParseSpoken(s)
		fmt.Println(l, side, err)
	}
	// This crew's strong is a thirty-second.
	l, side, err := measure.ParseSpoken("eighty-eight and three quarters light")
	fmt.Println(l+measure.Length(side)*measure.Inch/32, err)
	// Output:
	// 7' 4-3/4" 0 <nil>
	// 6' 2-5/8" 0 <nil>
	// 5' 6" 0 <nil>
	// 1/4" 0 <nil>
	// 7' 4-3/4" 1 <nil>
	// 7' 4-23/32" <nil>
}

// A program that asks its user which reading was meant.
func ExampleParseError_choices() {
	_, err := measure.Parse("7-4")
	var pe *measure.ParseError
	if errors.As(err, &pe) {
		for i, c := range pe.Choices {
			fmt.Printf("%d: %s\n", i+1, c)
		}
	}
	// Output:
	// 1: 7' 4"
	// 2: 7-1/4"
}

// Lengths are compared, sorted and limited like any integers.
func ExampleLength() {
	sticks := []measure.Length{12 * measure.Foot, measure.MustParse(`8'`), measure.MustParse(`3 m`)}
	slices.Sort(sticks)
	fmt.Println(sticks, max(sticks[0], sticks[1]), sticks[2] > 10*measure.Foot)
	// Output: [8' 3000mm 12'] 3000mm true
}

// The shorter wainscot rail takes panels in the ratio of the longer one.
func ExampleLength_Fraction() {
	long, short, panel := measure.MustParse(`12' 6"`), measure.MustParse(`10'`), measure.MustParse(`2' 1"`)
	num, den, err := short.Fraction(long)
	if err != nil {
		fmt.Println(err)
		return
	}
	narrow, exact, err := panel.MulDiv(num, den, measure.RoundHalfEven)
	fmt.Printf("%d:%d %v %v %v\n", num, den, narrow, exact, err)
	// Output: 4:5 1' 8" true <nil>
}

// A column of a cut list, built in one buffer.
func ExampleLength_AppendFormat() {
	tape := measure.Style{Graduation: measure.Inch / 16, MarkInexact: true}
	var line []byte
	for _, s := range []string{`7' 4-25/32"`, `41-1/2"`, `600 mm`} {
		line = measure.MustParse(s).AppendFormat(line, tape)
		line = append(line, ';')
	}
	fmt.Println(string(line))
	// Output: 7' 4-3/4"+;3' 5-1/2";1' 11-5/8"-;
}

// The kerf of a saw whose blade is sold by the millimeter, and the length of a wall that
// needs its unit.
func ExampleParser_Flag() {
	kerf, wall := 3*measure.Millimeter, measure.Length(0)
	fs := flag.NewFlagSet("cut", flag.ContinueOnError)
	fs.Var(measure.Parser{Unit: measure.Millimeter}.Flag(&kerf), "kerf", "width of the saw cut, in millimeters")
	fs.TextVar(&wall, "wall", 12*measure.Foot, "length of the wall, with its unit")
	err := fs.Parse([]string{"-kerf", "3.2", "-wall", "23ft 7-1/2in"})
	fmt.Println(kerf, wall, err)
	// Output: 3.2mm 23' 7-1/2" <nil>
}

// A carpenter from a metric country measures the classroom: one setting determines the units,
// the decimal mark and the currency of all packages.
func ExampleLocale() {
	wall, height, year := 7253*measure.Millimeter, 2650*measure.Millimeter, measure.Celsius(21)
	for _, c := range []measure.Locale{
		{Currency: measure.Currency{Symbol: "$"}},
		{Metric: true, DecimalComma: true, Currency: measure.Currency{Symbol: "EUR", After: true}},
		{Metric: true, Currency: measure.Currency{Symbol: "JPY ", Minor: 1}},
	} {
		face, _ := wall.Area(height, measure.RoundHalfEven)
		fmt.Println(c.FormatLength(wall), "|", c.FormatArea(face), "|", c.FormatTemperature(year), "|", c.FormatMoney(123456))
	}
	// Output:
	// 23' 9-9/16" | 206.89 sq ft | 69.8°F | $1,234.56
	// 7253 mm | 19,22 m² | 21 °C | 1.234,56 EUR
	// 7253 mm | 19.22 m² | 21 °C | JPY 123,456
}

// Text is parsed exactly, and findings round lengths that no tape shows.
func ExampleLocale_About() {
	c := measure.Locale{Metric: true, DecimalComma: true, Length: measure.Style{Unit: measure.Meter, Graduation: measure.Millimeter}}
	wall, err := c.Parser().Parse("7,253 m")
	fmt.Println(c.FormatLength(wall), err)
	diagonal, err := measure.FromInches(wall.Inches() * math.Sqrt2)
	fmt.Println(c.About(diagonal), err)
	// Output:
	// 7,253 m <nil>
	// about 10,257 m <nil>
}

// A sheet that marks inexact lengths.
func ExampleLocale_LengthStyle() {
	s := measure.Locale{}.LengthStyle()
	s.MarkInexact = true
	fmt.Println((2257 * measure.Millimeter).Format(s))
	// Output: 7' 4-7/8"-
}

// A quantity is the same everywhere, but its name is not.
func ExampleLocale_FormatVolume() {
	us, metric := measure.Locale{}, measure.Locale{Metric: true}
	cartridge, gallon, bag := 300*measure.Milliliter, measure.Gallon, 50*measure.Pound
	fmt.Println(us.FormatVolume(cartridge), us.FormatVolume(gallon), us.FormatWeight(bag))
	fmt.Println(metric.FormatVolume(cartridge), metric.FormatVolume(gallon), metric.FormatWeight(bag))
	// Output:
	// 300 mL 1 gal 50 lb
	// 300 mL 3.79 L 22.68 kg
}

// A database stores text with its unit.
func ExampleLength_Value() {
	wall := measure.MustParse(`23' 7-1/2"`)
	column, err := wall.Value()
	fmt.Println(column, err)
	var back measure.Length
	err = back.Scan(column)
	fmt.Println(back, err)
	// Output:
	// 23ft 7-1/2in <nil>
	// 23' 7-1/2" <nil>
}

// The skirt of the corridor's stair.
func ExampleSlope() {
	stair, err := measure.NewSlope(measure.MustParse(`7"`), measure.MustParse(`10-1/2"`))
	if err != nil {
		fmt.Println(err)
		return
	}
	rise, exact, err := stair.Rise(measure.MustParse(`8' 9"`), measure.RoundHalfEven)
	fmt.Println(stair, rise, exact, err)
	fmt.Println(stair.Angle().Round(measure.Degree/10, measure.RoundHalfEven))
	roof, err := measure.ParseSlope("8:12")
	fmt.Println(stair.Equal(roof), err)
	// Output:
	// 8 in 12 5' 10" true <nil>
	// 33.7°
	// true <nil>
}

func ExampleParseSlope() {
	for _, s := range []string{`7 in 12`, `1/4" per foot`, `1:12`, `2%`} {
		slope, err := measure.ParseSlope(s)
		fmt.Println(slope, err)
	}
	// Output:
	// 7 in 12 <nil>
	// 1/4 in 12 <nil>
	// 1 in 12 <nil>
	// 1:50 <nil>
}

func ExampleParseArea() {
	floor, err := measure.ParseArea("400 sq ft")
	if err != nil {
		fmt.Println(err)
		return
	}
	rest, err := floor.Sub(12 * measure.SquareFoot) // the stove's hearth
	fmt.Println(rest, err)
	// Output: 388 sq ft <nil>
}

// A drawing of the corridor at a quarter inch to the foot.
func ExampleNewScale() {
	scale, err := measure.NewScale(measure.Inch/4, measure.Foot)
	if err != nil {
		fmt.Println(err)
		return
	}
	drawn, exact, err := scale.Drawn(31*measure.Foot+6*measure.Inch, measure.RoundHalfEven)
	fmt.Println(scale, drawn, exact, err)
	wall, exact, err := scale.Actual(5*measure.Inch+measure.Inch/8, measure.RoundHalfEven)
	fmt.Println(wall, exact, err)
	// Output:
	// 1/4" = 1'-0" 7-7/8" true <nil>
	// 20' 6" true <nil>
}

// A computed angle comes in through FromDegrees, which rounds to the microarcsecond.
func ExampleFromDegrees() {
	a, err := measure.FromDegrees(math.Atan(1.0/12) * 180 / math.Pi)
	fmt.Println(a.Round(measure.Arcminute, measure.RoundHalfEven), err)
	// Output:
	// 4°46'0" <nil>
}
