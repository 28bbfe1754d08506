package stair

import (
	"math"
	"strconv"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// A Flight is a straight flight of steps from one floor to the next.
type Flight struct {
	Risers int            `json:"risers"` // from 2 to 1,000; there is one tread fewer
	Rise   measure.Length `json:"rise"`   // of one step, from tread to tread
	Run    measure.Length `json:"run"`    // of one step, from riser to riser; at most 20 times more or less than the rise

	// Nosing is the overhang of a tread beyond the riser below it, less than the run; zero
	// if it is flush.
	Nosing measure.Length `json:"nosing,omitzero"`
}

// A Rake holds the dimensions of a Flight.
type Rake struct {
	Angle  measure.Angle  `json:"angle"`  // of the slope from level
	Step   measure.Length `json:"step"`   // along the slope, from nosing to nosing
	Length measure.Length `json:"length"` // along the slope, from the first nosing to the last
	Depth  measure.Length `json:"depth"`  // of the steps square to the slope: from the inner corners to the line of the nosings

	Rise measure.Length `json:"rise"` // of all risers, from floor to floor
	Run  measure.Length `json:"run"`  // of all treads, from the first riser to the last

	// Before is the distance in front of the first riser at which the line of the nosings
	// meets the lower floor: one run plus the nosing.
	Before measure.Length `json:"before"`
}

const (
	maxRisers  = 1000
	maxSection = 1000 * measure.Foot // bounds every given length
	maxSteep   = 20                  // bounds the ratio of rise and run either way
	rightAngle = 90 * measure.Degree
	straight   = 180 * measure.Degree
)

// Validate returns nil if the flight is possible, or a [*measure.FieldError] for every
// fault, joined.
func (f Flight) Validate() error {
	var bad fault.List
	if f.Risers < 2 || f.Risers > maxRisers {
		bad.Add("risers", strconv.Itoa(f.Risers), "from 2 to 1000")
	}
	length(&bad, "rise", f.Rise, 1)
	length(&bad, "run", f.Run, 1)
	if in := maxSection; f.Rise > 0 && f.Rise <= in && f.Run > 0 && f.Run <= in && (f.Rise > maxSteep*f.Run || f.Run > maxSteep*f.Rise) {
		bad.Add("run", f.Run.About(), "at most 20 times more or less than the rise, "+f.Rise.About())
	}
	if f.Nosing < 0 || f.Nosing > 0 && f.Nosing >= f.Run {
		bad.Add("nosing", f.Nosing.About(), "zero or more, and less than the run")
	}
	return bad.Err()
}

// length records a length that is less than least or unreasonably large.
func length(bad *fault.List, field string, l, least measure.Length) {
	if l < least || l > maxSection {
		want := "zero or more"
		if least > 0 {
			want = "more than zero"
		}
		bad.Add(field, l.About(), want+", at most 1000 ft")
	}
}

// Rake measures the flight. The error is that of Validate.
func (f Flight) Rake() (Rake, error) {
	if err := f.Validate(); err != nil {
		return Rake{}, err
	}
	s := f.slant()
	n := measure.Length(f.Risers)
	return Rake{
		Angle: s.angle, Step: round(s.along(float64(f.Run))), Length: round(s.along(float64((n - 1) * f.Run))),
		Depth: round(f.depth(s)), Rise: n * f.Rise, Run: (n - 1) * f.Run, Before: f.Run + f.Nosing,
	}, nil
}

// depth returns the distance from the inner corners to the line of the nosings, square
// to the slope.
func (f Flight) depth(s slant) float64 {
	return float64(float64(f.Rise)*s.cos) + float64(float64(f.Nosing)*s.sin)
}

func (f Flight) slant() slant { return slantOf(float64(f.Rise), float64(f.Run)) }

// slant is a slope with its trigonometric functions; tan may be negative.
type slant struct {
	angle         measure.Angle
	sin, cos, tan float64
}

// slantOf returns the slope of a rise in a run, which is more than zero. No two operations
// are fused, and a square root is the same on every processor.
func slantOf(rise, run float64) slant {
	far := math.Sqrt(float64(rise*rise) + float64(run*run))
	return slant{angle: angleOf(math.Atan2(rise, run)), sin: rise / far, cos: run / far, tan: rise / run}
}

func slope(s measure.Slope) slant { return slantOf(s.Float64(), 1) }

// along returns the length on the slope of a level length.
func (s slant) along(level float64) float64 { return level / s.cos }

// half returns the tangent of half the angle: (1 − cos)/sin, without the cancellation.
func (s slant) half() float64 { return s.sin / (1 + s.cos) }

// angleOf returns an angle to a thousandth of a second of arc, so that it is the same on
// every processor.
func angleOf(radians float64) measure.Angle {
	a, err := measure.FromDegrees(radians * (180 / math.Pi))
	if err != nil { // impossible: arcs are within a turn
		return 0
	}
	return a.Round(measure.Arcsecond/1000, measure.RoundHalfEven)
}

// round rounds ticks to the nearest. Arguments are bounded so that no result is near the
// end of the range.
func round(ticks float64) measure.Length {
	if !(math.Abs(ticks) < 1<<62) {
		return 0
	}
	return measure.Length(math.RoundToEven(ticks))
}

func indexed(field string, i int) string { return field + "[" + strconv.Itoa(i) + "]" }
