package stair

import (
	"math"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
)

// A Corner is the plumb miter between level trim on one wall and raked trim on the next.
type Corner struct {
	// Slope is the slope of the raked trim away from the corner, positive if it rises. It
	// is measured along its wall, at most 20 in 1 either way.
	Slope measure.Slope `json:"slope"`

	// Angle is the angle between the two walls; zero means 90°, and in JSON is an error.
	// Outside is set for an outside corner.
	Angle   measure.Angle `json:"angle,omitzero" zero:"more than 0deg, or nothing for 90deg"`
	Outside bool          `json:"outside,omitempty"`
}

// UnmarshalJSON reads an object with the names of the fields. A zero angle is a
// [*measure.FieldError].
func (c *Corner) UnmarshalJSON(data []byte) error {
	type plain Corner
	return fault.Unmarshal(data, (*plain)(c))
}

// faults records the faults of the corner.
func (c Corner) faults(bad *fault.List) {
	if m := c.Slope.Float64(); m > maxSteep || m < -maxSteep {
		bad.Add("slope", c.Slope.String(), "at most 20 in 1, rising or falling")
	}
	if c.Angle < 0 || c.Angle >= straight {
		bad.Add("angle", c.Angle, "more than 0° and less than 180°, or zero for 90°")
	}
}

// lift returns the rise of the raked trim from the corner of the walls to the miter, per
// unit of a point's distance from the wall: tan of the slope over tan of half the corner.
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

// Rake returns the profile that runs along the rake and meets a level profile in the miter.
// A point of the level profile at u out and v up is also at u out on the rake, and its
// height square to the rake is
//
//	v·cos − u·sin/tan(corner/2)   inside, rising from the corner, or outside, falling
//	v·cos + u·sin/tan(corner/2)   inside, falling, or outside, rising
//
// with sin and cos of the slope. At its back, a flat board becomes cos times as wide.
// Points are relative to any point of the wall, with Along out from it. This is the old
// rule of the raking molding: draw lines at the pitch through the points of the level
// profile, and set off their projections from a line square to the pitch (Hatfield, "The
// American House Carpenter"; Griffith, "Carpentry", 1916).
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

// Cut returns the saw settings for the end of the raked piece at the corner, cut in the
// plumb plane of the miter: standing, with its bottom on the table and its back against the
// fence, or crown nested upside down; and flat, with the back on the table. Both are
// compound cuts. The profile is that of the rake; its spring angle is the angle between its
// own back and the wall.
//
// The error is a [*measure.FieldError] for a corner (slope, angle) or a spring angle
// (profile.spring) out of range.
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
	// The normal of the plane, along the length of the piece, out from the wall, and square
	// to both. Left and right do not matter here.
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

// setting returns the saw setting for a plane whose normal has these components: along the
// piece, across the table, and up from the table.
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
