// Package measure holds lengths, angles, areas and volumes exactly, and reads
// and writes them the way people who build things do.
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
// Nothing rounds by itself. [Length.Round] rounds to a graduation, with the
// mode named; [Parse] refuses text whose value lies between two ticks unless a
// [Parser] says how to round it; division gives a remainder or, with
// [Length.Split], parts that sum to the whole. Conversions to float64 are there
// for display and trigonometry, and [FromInches] and [FromDegrees] lead back.
//
// [Length.String] is exact and canonical; a [Style] writes lengths as tapes,
// drawings and suppliers do. [OnCenter], [Spaced] and [RoundChain] lay lengths
// out without losing a sixteenth, and a [Scale] goes between drawing and wall.
//
// [Angle], [Area] and [Volume] are built the same way: an integer count of a
// unit in which the usual values are whole, text that parses back to the same
// value over the whole range, and errors for what does not fit.
//
// Text errors are a *[ParseError], all others a *[RangeError]; both work with
// errors.Is and the sentinels of this package. No function panics except
// [MustParse], and none depends on the locale, the clock or the processor.
package measure
