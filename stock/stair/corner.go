package stair

import (
	"math"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
)

// A Corner is where level trim on one wall meets raked trim on the next, in a miter that
// stands plumb.
type Corner struct {
	// Slope is that of the raked trim as it leaves the corner: positive if it rises. It is
	// that of the wall it runs along, at most 20 in 1 either way.
	Slope measure.Slope `json:"slope"`

	// Angle is between the two walls; zero means 90°, and in JSON is an error. Outside is set for
	// an outside corner.
	Angle   measure.Angle `json:"angle,omitzero" zero:"more than 0deg, or nothing for 90deg"`
	Outside bool          `json:"outside,omitempty"`
}

// UnmarshalJSON reads an object by the names of the fields. A zero angle is a
// [*measure.FieldError].
func (c *Corner) UnmarshalJSON(data []byte) error {
	type plain Corner
	return fault.Unmarshal(data, (*plain)(c))
}

// faults notes what is wrong with the corner.
func (c Corner) faults(bad *fault.List) {
	if m := c.Slope.Float64(); m > maxSteep || m < -maxSteep {
		bad.Add("slope", c.Slope.String(), "at most 20 in 1, rising or falling")
	}
	if c.Angle < 0 || c.Angle >= straight {
		bad.Add("angle", c.Angle, "more than 0° and less than 180°, or zero for 90°")
	}
}

// lift is how much higher, per unit that a point stands out from the wall, the raked trim is
// at the miter than at the corner of the walls: tan of the slope over tan of half the corner.
func (c Corner) lift() float64 {
	k := 1.0
	if c.Angle != 0 && c.Angle != rightAngle {
		k = 1 / math.Tan(c.Angle.Radians()/2)
	}
	if c.Outside {
		k = -k
	}
	return float64(c.Slope.Float64() * k)
}

// Rake returns the profile that runs along the rake and meets a level profile in the miter:
// what stands out by u and up by v stands out by u on the rake, too, and square to it up by
//
//	v·cos − u·sin/tan(corner/2)   inside, rising from the corner, or outside, falling
//	v·cos + u·sin/tan(corner/2)   inside, falling, or outside, rising
//
// with sin and cos of the slope. A flat board becomes cos times as wide at its back. Points
// are counted from any point of the wall, Along out from it. It is the old rule of the raking
// molding: lines at the pitch through the points of the level profile, whose projections are
// set off from a line square to the pitch (Hatfield, "The American House Carpenter";
// Griffith, "Carpentry", 1916).
//
// The error is a [*measure.FieldError] for a slope or an angle out of range (slope, angle), and
// for a point beyond 1,000 ft (points).
func (c Corner) Rake(points []stock.Point) ([]stock.Point, error) {
	s := slope(c.Slope)
	return c.each(points, func(u, v float64) float64 { return float64((v - float64(u*c.lift())) * s.cos) })
}

// Level returns the profile that runs level and meets a raked profile: the reverse of Rake.
func (c Corner) Level(points []stock.Point) ([]stock.Point, error) {
	s := slope(c.Slope)
	return c.each(points, func(u, q float64) float64 { return q/s.cos + float64(u*c.lift()) })
}

// each moves every point up.
func (c Corner) each(points []stock.Point, up func(out, up float64) float64) ([]stock.Point, error) {
	var bad fault.List
	c.faults(&bad)
	for i, p := range points {
		for _, x := range []measure.Length{p.Along, p.Up} {
			if x > maxSection || x < -maxSection {
				bad.Add(indexed("points", i), x.About(), "within 1000 ft of the wall")
			}
		}
	}
	if err := bad.Err(); err != nil {
		return nil, err
	}
	out := make([]stock.Point, len(points))
	for i, p := range points {
		x := up(float64(p.Along), float64(p.Up))
		if math.Abs(x) > math.MaxInt64/4 {
			return nil, fault.Field("angle", c.Angle, "an angle at which the profile is of finite height")
		}
		out[i] = stock.Point{Along: p.Along, Up: round(x)}
	}
	return out, nil
}

// Cut returns how a saw is set for the end of the raked piece at the corner, cut in the plumb
// plane of the miter: Standing with its bottom on the table and its back against the fence,
// or crown nested upside down; Flat with the back on the table. Both are compound. The
// profile is that of the rake; its spring angle is that of its own back and the wall.
//
// The error is a [*measure.FieldError] for a corner out of range (slope, angle) or a spring
// angle (profile.spring).
func (c Corner) Cut(p stock.Profile) (standing, flat joint.Setting, err error) {
	var bad fault.List
	c.faults(&bad)
	checkSpring(&bad, p)
	if err := bad.Err(); err != nil {
		return joint.Setting{}, joint.Setting{}, err
	}
	s := slope(c.Slope)
	h := math.Pi / 4
	if c.Angle != 0 {
		h = c.Angle.Radians() / 2
	}
	// The normal of the plane along the length of the piece, out from the wall, and square to
	// both. Sides do not matter here.
	along, out, up := float64(math.Sin(h)*s.cos), math.Cos(h), float64(math.Sin(h)*math.Abs(s.sin))
	standing = setting(along, out, up)
	if !p.Role.Sprung() {
		return standing, setting(along, up, out), nil
	}
	sin, cos := math.Sincos(p.SpringAngle().Radians())
	if c.lift() < 0 { // the plane leans the other way from level
		up = -up
	}
	width := float64(out*sin) + float64(up*cos)
	thick := float64(out*cos) - float64(up*sin)
	return standing, setting(along, math.Abs(width), math.Abs(thick)), nil
}

// setting returns how a saw is set for a plane whose normal has these components along the
// piece, along the miter's way across the table, and up from the table.
func setting(along, across, up float64) joint.Setting {
	return joint.Setting{
		Miter: angleOf(math.Atan2(across, along)),
		Bevel: angleOf(math.Atan2(up, math.Sqrt(float64(along*along)+float64(across*across)))),
	}
}

func checkSpring(bad *fault.List, p stock.Profile) {
	if p.Role.Sprung() && (p.Spring < 0 || p.Spring >= rightAngle) {
		bad.Add("profile.spring", p.Spring, "more than 0° and less than 90°, or zero for 38°")
	}
}
