package curve

import (
	"math"
	"math/big"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// An Arc is a part of a circle. Set two of its dimensions: Chord and Rise, as measured with
// a straightedge and a tape, Radius and Angle, as given on a drawing, or Chord and Radius
// for an arc of at most half a circle. The others are zero.
type Arc struct {
	Chord  measure.Length `json:"chord,omitzero"`  // straight from end to end, at most a mile
	Rise   measure.Length `json:"rise,omitzero"`   // from the middle of the chord to the arc: from a 10,000th of the chord to ten chords
	Radius measure.Length `json:"radius,omitzero"` // of the wall, at most a mile
	Angle  measure.Angle  `json:"angle,omitzero"`  // from end to end seen from the center, at most 350°
}

// Dimensions holds all dimensions of an arc, each to the nearest tick or
// microarcsecond.
type Dimensions struct {
	Chord  measure.Length `json:"chord"`
	Rise   measure.Length `json:"rise"`
	Radius measure.Length `json:"radius"`
	Angle  measure.Angle  `json:"angle"`
	Length measure.Length `json:"length"` // along the arc
}

const (
	maxLength  = 5280 * measure.Foot
	rightAngle = 90 * measure.Degree
	halfTurn   = 180 * measure.Degree
	maxAngle   = 350 * measure.Degree

	maxFlat  = 10_000 // largest ratio of chord to rise
	maxRise  = 10     // largest ratio of rise to chord
	maxRadii = maxFlat / 8
)

// Dimensions returns all dimensions of the arc: R = c²/8v + v/2 and the angle 4·atan(2v/c)
// from the chord c and the rise v, which also holds beyond half a circle.
//
// The error joins a [*measure.FieldError] for each field out of range. If the given
// dimensions are not one of these pairs, it names the first one that is superfluous or
// missing.
func (a Arc) Dimensions() (Dimensions, error) {
	c, err := a.solve()
	if err != nil {
		return Dimensions{}, err
	}
	d := Dimensions{Chord: a.Chord, Rise: a.Rise, Radius: a.Radius, Angle: a.Angle, Length: tick(float64(c.radius * c.turn.radians))}
	if d.Chord == 0 {
		d.Chord = tick(2 * float64(c.radius*math.Sin(c.turn.radians/2)))
		if a.Angle == halfTurn {
			d.Chord = 2 * a.Radius
		}
	}
	if d.Rise == 0 {
		half := math.Sin(c.turn.radians / 4)
		d.Rise = tick(2 * float64(c.radius*half*half))
		if c.turn.angle == halfTurn {
			d.Rise = a.Radius
		}
	}
	if d.Radius == 0 {
		d.Radius = tick(c.radius)
	}
	if d.Angle == 0 {
		d.Angle = c.turn.measured()
	}
	return d, nil
}

// circle is a solved arc: its radius in ticks, and its angle.
type circle struct {
	radius float64
	exact  *big.Rat // the radius
	turn   turn
}

// check returns the faults of the given dimensions.
func (a Arc) check() error {
	var bad fault.List
	length := func(field string, l measure.Length) {
		if l < 0 || l > maxLength {
			bad.Add(field, l.About(), "from 0in to "+maxLength.About())
		}
	}
	length("chord", a.Chord)
	length("rise", a.Rise)
	length("radius", a.Radius)
	if a.Angle < 0 || a.Angle > maxAngle {
		bad.Add("angle", a.Angle, "more than 0° and at most 350°")
	}
	if err := bad.Err(); err != nil {
		return err
	}
	const pairs = ", because an arc has chord and rise, radius and angle, or chord and radius"
	switch {
	case a.Angle != 0 && a.Radius == 0:
		bad.Add("radius", a.Radius.About(), "more than zero"+pairs)
	case a.Angle != 0 && (a.Chord != 0 || a.Rise != 0):
		field, l := "chord", a.Chord
		if l == 0 {
			field, l = "rise", a.Rise
		}
		bad.Add(field, l.About(), "nothing"+pairs)
	case a.Angle != 0:
	case a.Chord == 0 && a.Radius != 0 && a.Rise == 0:
		bad.Add("angle", a.Angle, "more than 0°"+pairs)
	case a.Chord == 0:
		bad.Add("chord", a.Chord.About(), "more than zero"+pairs)
	case a.Rise != 0 && a.Radius != 0:
		bad.Add("radius", a.Radius.About(), "nothing"+pairs)
	case a.Rise == 0 && a.Radius == 0:
		bad.Add("rise", a.Rise.About(), "more than zero"+pairs)
	case a.Rise != 0 && (a.Rise*maxFlat < a.Chord || a.Rise > maxRise*a.Chord):
		bad.Add("rise", a.Rise.About(), "from a 10,000th of the chord to ten chords")
	case a.Radius != 0 && (2*a.Radius < a.Chord || a.Radius > maxRadii*a.Chord):
		bad.Add("radius", a.Radius.About(), "from half the chord to 1,250 chords")
	}
	return bad.Err()
}

func (a Arc) solve() (circle, error) {
	if err := a.check(); err != nil {
		return circle{}, err
	}
	c, v, r := big.NewInt(int64(a.Chord)), big.NewInt(int64(a.Rise)), big.NewInt(int64(a.Radius))
	square := func(x *big.Int) *big.Int { return new(big.Int).Mul(x, x) }
	times := func(n int64, x *big.Int) *big.Int { return new(big.Int).Mul(big.NewInt(n), x) }
	switch {
	case a.Angle != 0:
		return circle{radius: float64(a.Radius), exact: new(big.Rat).SetInt(r), turn: ofAngle(a.Angle)}, nil
	case a.Rise != 0:
		// With d = c² + 4v²: R = d/8v, cos(θ/2) = (c² - 4v²)/d, cos θ by doubling.
		c2, v2 := square(c), times(4, square(v))
		d := new(big.Int).Add(c2, v2)
		radius := new(big.Rat).SetFrac(d, times(8, v))
		f, _ := radius.Float64()
		if 2*a.Rise == a.Chord {
			return circle{radius: f, exact: radius, turn: ofAngle(halfTurn)}, nil
		}
		half := new(big.Rat).SetFrac(new(big.Int).Sub(c2, v2), d)
		t := turn{radians: 4 * math.Atan2(2*float64(a.Rise), float64(a.Chord)), cos: doubled(half), side: half.Sign()}
		return circle{radius: f, exact: radius, turn: t}, nil
	}
	if 2*a.Radius == a.Chord {
		return circle{radius: float64(a.Radius), exact: new(big.Rat).SetInt(r), turn: ofAngle(halfTurn)}, nil
	}
	// sin(θ/2) = c/2R, cos θ = 1 - 2 sin²(θ/2).
	r2 := times(2, square(r))
	cos := new(big.Rat).SetFrac(new(big.Int).Sub(r2, square(c)), r2)
	adjacent := math.Sqrt(float64(2*a.Radius-a.Chord) * float64(2*a.Radius+a.Chord))
	t := turn{radians: 2 * math.Atan2(float64(a.Chord), adjacent), cos: cos, side: 1}
	return circle{radius: float64(a.Radius), exact: new(big.Rat).SetInt(r), turn: t}, nil
}

// tick rounds a number of ticks, far from overflow, to the nearest.
func tick(x float64) measure.Length { return measure.Length(math.RoundToEven(x)) }

func microarcseconds(radians float64) measure.Angle {
	return measure.Angle(math.RoundToEven(radians * (180 * float64(measure.Degree) / math.Pi)))
}
