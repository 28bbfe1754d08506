package joint

import (
	"fmt"
	"math"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// Rounded is a cut as made on a saw with a coarse scale. The gaps are the openings of the
// joint at its wide side due to the rounding alone, if both ends are cut alike; they are
// zero for a setting that the scale shows.
type Rounded struct {
	Standing    Setting        `json:"standing"`
	Flat        Setting        `json:"flat"`
	StandingGap measure.Length `json:"standing_gap,omitzero"`
	FlatGap     measure.Length `json:"flat_gap,omitzero"`
}

// Round returns the settings of the cut rounded to the graduation of the saw's scale, half
// to even, with the resulting gap. The two halves of a scarf are cut at one setting and
// close at any setting; a butt, a plumb cut and a level cut are single cuts, which open
// half as far as a miter.
//
// For crown that lies flat, the gap is that of a cut that is off by the angle between the
// two planes, over the width of the crown at the miter: to first order, no point of the
// joint opens farther.
//
// The error is a [*measure.FieldError] for a graduation that is not above 0° or is above
// 45° (graduation), and for an angle so steep that no joint of finite length exists
// (end.angle).
func (c Cut) Round(graduation measure.Angle) (Rounded, error) {
	if graduation <= 0 || graduation > 45*measure.Degree {
		return Rounded{}, fault.Field("graduation", graduation, "more than 0° and at most 45°")
	}
	round := func(s Setting) Setting {
		return Setting{Miter: s.Miter.Round(graduation, measure.RoundHalfEven), Bevel: s.Bevel.Round(graduation, measure.RoundHalfEven)}
	}
	r := Rounded{Standing: round(c.Standing), Flat: round(c.Flat)}
	exact := max(c.Standing.Miter, c.Standing.Bevel, c.Flat.Miter, c.Flat.Bevel)
	if steepest := round(Setting{Miter: exact}).Miter; steepest >= rightAngle {
		if exact >= rightAngle { // to the last microarcsecond: no scale helps
			return Rounded{}, fault.Field("end.angle", c.End.Angle, "an angle at which the joint is of finite length")
		}
		return Rounded{}, fault.Field("graduation", graduation, fmt.Sprintf("finer: %v rounds to %v", exact, steepest))
	}
	var err error
	switch kind := c.End.Kind; {
	case kind.Spliced() || kind == stock.EndSquare || kind == stock.EndScribe:
		return r, nil
	case kind.Raked() && c.End.Angle == 0:
		return r, nil
	case kind == stock.EndRake:
		r.StandingGap, err = MiterGap(c.depth, r.Standing.Bevel, straight-2*max(c.End.Angle, -c.End.Angle))
		if r.FlatGap = r.StandingGap; err == nil && c.sprung {
			r.FlatGap, err = planeGap(c.width, c.Flat, r.Flat)
		}
	case kind.Raked():
		d := (r.Standing.Bevel - c.Standing.Bevel).Radians()
		r.StandingGap, err = tick(float64(c.depth)/math.Cos(r.Standing.Bevel.Radians())*math.Abs(math.Sin(d)), "corner", c.End.Angle)
		if r.FlatGap = r.StandingGap; err == nil && c.sprung {
			r.FlatGap, err = planeGap(c.width, c.Flat, r.Flat)
			r.FlatGap -= r.FlatGap / 2
		}
	case kind == stock.EndButt:
		// A single cut that is off by the difference.
		d := (r.Standing.Miter - c.Standing.Miter).Radians()
		r.StandingGap, err = tick(float64(c.depth)/math.Cos(r.Standing.Miter.Radians())*math.Abs(math.Sin(d)), "corner", c.End.Angle)
		r.FlatGap = r.StandingGap
	default:
		r.StandingGap, err = MiterGap(c.depth, r.Standing.Miter+r.Standing.Bevel, c.End.Corner())
		if r.FlatGap = r.StandingGap; err == nil && c.nested() {
			r.FlatGap, err = planeGap(c.width, c.Flat, r.Flat)
		}
	}
	if err != nil {
		return Rounded{}, atEnd(err)
	}
	return r, nil
}

// planeGap returns the gap in a joint of flat trim of the width if both ends are cut at
// got instead of want: 2·(width/cos M)·sin δ, with δ the angle between the two planes of
// the cut.
func planeGap(width measure.Length, want, got Setting) (measure.Length, error) {
	if want == got {
		return 0, nil
	}
	a, b := want.normal(), got.normal()
	x := float64(a[1]*b[2]) - float64(a[2]*b[1])
	y := float64(a[2]*b[0]) - float64(a[0]*b[2])
	z := float64(a[0]*b[1]) - float64(a[1]*b[0])
	sin := math.Sqrt(float64(x*x) + float64(y*y) + float64(z*z))
	return tick(2*float64(width)/math.Cos(got.Miter.Radians())*sin, "miter", got.Miter)
}

// normal returns the normal of the cut, along the length, the width and the thickness
// of trim that lies flat.
func (s Setting) normal() [3]float64 {
	m, b := s.Miter.Radians(), s.Bevel.Radians()
	return [3]float64{math.Cos(b) * math.Cos(m), math.Cos(b) * math.Sin(m), math.Sin(b)}
}
