// Package measure holds lengths, angles, areas, volumes, weights, ratios,
// temperatures and durations exactly, and reads and writes them the way people who
// build things do.
//
// A [Length] is a whole number of ticks of 1/2,032,000 inch. That is the
// coarsest step in which every 1/128 inch, every 0.001 inch, every 0.001 foot
// and every micrometer is whole, so a tape measurement, a drawing dimension and
// a metric size add up without any rounding. It is to length what
// time.Duration is to time, and reads like it:
//
//	wall := 7*measure.Foot + 4*measure.Inch + 3*measure.Inch/4
//	wall, err := measure.Parse(`7' 4-3/4"`) // the same
//	fmt.Println(wall)                        // 7' 4-3/4"
//
// Nothing rounds implicitly. [Length.Round] rounds to a graduation, with a
// named mode; [Parse] rejects text whose value lies between two ticks unless a
// [Parser] says how to round it; division gives a remainder or, with
// [Length.Split], parts that sum to the whole. Conversions to float64 are for
// display and trigonometry; [FromInches] and [FromDegrees] convert back.
//
// Lengths are integers: compare them with < and ==, take min, max and
// cmp.Compare, sort them. [Length.Add], [Length.Sub], [Length.Mul] and [Sum]
// check for overflow, which the operators do not.
//
// [Length.String] is exact and canonical; a [Style] writes lengths as tapes,
// drawings and suppliers do, or in words as they are called out, which [ParseSpoken]
// reads. [OnCenter], [EvenSpacing] and [RoundChain] lay lengths out without losing a
// sixteenth, a [Scale] converts between drawing and wall, and a [Slope] is a rise in
// a run.
//
// [Angle], [Area], [Volume], [Weight], [Ratio] and [Temperature] are built the same
// way: an integer count of a unit in which the usual values are whole, text that
// parses back to the same value over the whole range, and errors for values that do
// not fit. A [Duration] is a time.Duration that is text in JSON.
//
// All of them are text in JSON, in flags and in databases, with their units:
// they marshal themselves, flag.TextVar takes them, and their pointers are sql.Scanners.
// In package fmt, %v and %s write that text and %d the count of ticks.
//
// Text errors are a *[ParseError], all others a *[RangeError]; both work with errors.Is
// and the sentinels of this package. If text has several readings, the error lists
// them. A [FieldError] reports a struct field with an unusable value, in this package
// and in those that build on it; [UnmarshalStrict] reads JSON and reports every such
// field. No function panics except [MustParse], and none depends on the locale, the
// clock or the processor.
//
// # Accepted spellings
//
// [Parse] reads, among others, these; \u and \t stand for spaces that do not show:
//
//	7' 4-3/4": feet, inches and a fraction
//	    7'-4 3/4"   7' 4-3/4"   7'4 3/4   7'4-3/4   7-4-3/4   7-4-3/4"
//	    7'-4-3/4"   7' - 4 3/4"   7'- 4 3/4"   7ft 4-3/4in   7 ft 4 3/4 in
//	    7 ft. 4 3/4 in.   7ft4-3/4in   7 feet 4 3/4 inches   7 feet, 4 3/4 inches
//	    7 Foot 4 3/4   7 FT 4 3/4 IN   \u00207' 4-3/4"\u0020   +7' 4-3/4"
//	    0007'04 03/04"   7'\t4 3/4"   7' 4.75"   7'4.75
//	7' 4-3/4": typographic marks
//	    7′-4¾″   7’ 4¾”   7‘4 ¾“   7´ 4-¾''   7' 4 3⁄4''   7' 4 3∕4′′   7'–4 ³⁄₄"
//	    7'−4-³/4"   7'‑4¾"   7'\u00a04\u20093/4"   7'\u202f4\u200a¾"
//	    \u30007'4¾\u2003   ７＇４－３／４＂   ７ｆｔ ４．７５ｉｎ
//	4-57/64": raised and full-width digits
//	    4 ⁵⁷⁄₆₄"   4⁵⁷/₆₄"   ４ ５７／６４ ＩＮ．   4.890625 in
//	7' 4-3/4": inches
//	    88 3/4"   88-3/4"   88.75"   88¾"   88 3/4 in   88-3/4in.   88 3/4 inch
//	    88 3/4 inches   88.750 in   355/4 in   0'-88.75"
//	3/4": less than an inch
//	    3/4"   .75"   0.75"   ¾"   0-3/4"   0' 0 3/4"   3/4in   750/1000 in
//	    12/16"   48/64"
//	9": inches after zero feet
//	    0'-9"   0' 9"   9"
//	1-1/2": a fraction as one character
//	    1 1/2in.   1½"   1 ½ in   1-½"   1 1⁄2"
//	6': feet
//	    6'   6'0"   6'-0"   6' - 0"   6ft   6 ft.   6 foot   6 feet   6.0'   2 yd
//	    2yds   2 yards   1 yard 3 ft   72"   5'12"
//	7' 6": fractions of a foot
//	    7.5'   7 1/2'   7½ ft   7.5 feet   7.50000 ft   15/2 ft
//	4": a third of a foot
//	    1/3'   ⅓ ft   4/12 ft
//	-3/8": signs
//	    -3/8"   −3/8"   - 3/8"   –⅜ in   -.375"   -0' 0-3/8"
//	-1' 6": a sign is for the whole
//	    -1' 6"   -1'-6"   -1ft 6in   -18"
//	2253mm: metric
//	    2253mm   2253 mm   2253 MM   225.3 cm   2.253 m   2253 millimeters
//	    225.3 centimetres   2.253 meters   2 m 253 mm   2m 25.3cm   2253000 µm
//	    2253000um   2253000 microns   2 253/1000 m
//	0": zero
//	    0"   0'   0' 0"   0 mm   -0"   +0 m   0/16"   .0"
//	0.0000125mm: the smallest step
//	    0.0000125mm   0.0125 µm   1/2032000"
//	115292150460684.6975875mm: the range
//	    115292150460684.6975875mm   115292150460684697.5875 µm
//	-115292150460684.6976mm: the other end
//	    -115292150460684.6976mm
//
// [ParseSpoken] reads these as well, and in them strong (+) and light (-):
//
//	7' 4-3/4": feet, inches and a fraction
//	    seven four and three quarters   seven foot four and three quarters
//	    Seven feet, four and three-quarter inches.
//	    seven feet and four and three quarter inches   seven four three quarters
//	    7 foot 4 and 3/4   7 feet 4 ¾ inches
//	    seven four and three fourths inches   eighty-eight and three quarters
//	    eighty eight and three quarter inches   88 and 3/4   88 3/4   7' 4-3/4"
//	    eighty-eight point seven five   eighty-eight point seven five inches
//	    7' 4 and 3/4
//	6' 2-5/8": feet and inches
//	    six foot two and five eighths   six feet two and five-eighths
//	    six two and five eighths   six foot two and five eighth inch
//	5' 6": fractions of a foot
//	    five and a half feet   five and one half feet   five foot six
//	    five feet six inches   sixty-six inches   sixty-six
//	    five point five feet   5 and a half feet
//	1/4": less than an inch
//	    a quarter inch   quarter inch   one quarter inch   a quarter of an inch
//	    one fourth of an inch   a quarter   four sixteenths   1/4
//	    two hundred fifty thousandths   zero point two five inches
//	1/2": half an inch
//	    half an inch   a half   half inch   one half inch   half   two quarters
//	5/32": the fractions of a tape
//	    five thirty-seconds   five thirty seconds of an inch   ten sixty-fourths
//	    twenty over one hundred twenty-eight   5 thirty-seconds
//	1-1/2": an inch and a half
//	    an inch and a half   one inch and a half   one and a half inches
//	    one and a half   three halves of an inch   a inch and a half
//	2": fractions of a foot in other parts
//	    a sixth of a foot   two twelfths of a foot   one sixth foot   two inches
//	1' 6": a foot and a half
//	    a foot and a half   one and a half feet   one foot six   half a yard
//	    eighteen inches
//	4": other fractions
//	    a third of a foot   one third of a foot   two sixths of a foot   four inches
//	1.2": tenths and hundredths
//	    one tenth of a foot   ten hundredths of a foot   one and one fifth inches
//	    one and two tenths inches   one point two inches
//	    one hundred thousandths of a foot
//	1-1/4": improper, as thicknesses of lumber are called
//	    five quarters   five quarters of an inch
//	8' 9-1/2": hundreds and more
//	    one hundred five and a half   one hundred and five and a half inches
//	    a hundred and five and a half   8 foot 9 and a half
//	8' 4-5/8": a hundred and a fraction
//	    one hundred and five eighths   a hundred and five eighths inches
//	2340': thousands
//	    two thousand three hundred forty feet   2340 feet
//	    seven hundred eighty yards
//	3002000001': millions
//	    three billion two million one feet
//	2253mm: metric
//	    two thousand two hundred fifty-three millimeters
//	    two meters two hundred fifty three millimeters
//	    two point two five three meters   2253mm
//	-3/8": signs
//	    minus three eighths   negative three eighths of an inch   -3/8"
//	    -three eighths
//	0": nothing
//	    zero   zero inches   zero feet   0"
//	7' 4-3/4" +: over the mark
//	    eighty-eight and three quarters strong
//	    eighty-eight and three quarters, strong
//	    Seven four and three quarters heavy.
//	    eighty-eight and three quarters fat   88 3/4 +   88 3/4+   88 3/4" strong
//	    7' 4-3/4"+   88 and 3/4 strong
//	7' 4-3/4" -: under the mark
//	    eighty-eight and three quarters light
//	    eighty-eight and three quarters shy
//	    eighty eight and three quarter inches scant   88-3/4 -   88-3/4-
//	    7'-4 3/4"-   88 3/4 −
//	1/4" +: a strong quarter
//	    a strong quarter inch   strong quarter   a heavy quarter of an inch
//	1" -: a light inch
//	    a light inch   a scant one inch   one inch light
package measure
