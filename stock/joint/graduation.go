package joint

import (
	"math"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// Rounded is a cut as a saw with a coarse scale makes it. The gaps are how far the joint
// stands open at its wide side because of the rounding alone, when both ends are cut alike;
// they are zero where the setting falls on the scale.
type Rounded struct {
	Standing, Flat       Setting
	StandingGap, FlatGap measure.Length
}

// Round returns the settings of one end rounded to the graduation of the saw's scale,
// half to even, with the gap that remains. The two halves of a scarf are cut at the same
// setting and close at any; a butt is a single cut, which opens half as far as a miter.
//
// For crown on the flat the gap is that of a cut which is off by the angle between the
// two planes, over the width of the crown at the miter: no point of the joint opens
// farther, to first order.
//
// Errors are *measure.FieldError: those of Of, and a graduation that is not more than 0° and
// at most 45°.
func Round(p stock.Profile, e stock.End, graduation measure.Angle) (Rounded, error) {
	if graduation <= 0 || graduation > 45*measure.Degree {
		return Rounded{}, &measure.FieldError{Field: "graduation", Value: graduation.String(), Want: "more than 0° and at most 45°"}
	}
	c, err := NewCut(p, e)
	if err != nil {
		return Rounded{}, err
	}
	round := func(s Setting) Setting {
		return Setting{Miter: s.Miter.Round(graduation, measure.RoundHalfEven), Bevel: s.Bevel.Round(graduation, measure.RoundHalfEven)}
	}
	r := Rounded{Standing: round(c.Standing), Flat: round(c.Flat)}
	depth := p.Projection()
	switch {
	case e.Kind.Spliced() || e.Kind == stock.EndSquare || e.Kind == stock.EndScribe:
		return r, nil
	case e.Kind == stock.EndButt:
		// One cut, off by the difference.
		d := (r.Standing.Miter - c.Standing.Miter).Radians()
		r.StandingGap, err = tick(float64(depth)/math.Cos(r.Standing.Miter.Radians())*math.Abs(math.Sin(d)), graduation)
		r.FlatGap = r.StandingGap
		return r, err
	case e.Kind == stock.EndFlatMiter:
		depth = p.Width
	}
	one := r.Standing.Miter + r.Standing.Bevel // one of them is zero
	if r.StandingGap, err = MiterGap(depth, one, c.End.Corner()); err != nil {
		return Rounded{}, err
	}
	if p.Role == stock.RoleCrown && e.Kind != stock.EndFlatMiter {
		r.FlatGap, err = planeGap(p.Width, c.Flat, r.Flat)
		return r, err
	}
	r.FlatGap = r.StandingGap
	return r, nil
}

// planeGap returns how far a joint of flat trim of the width opens when both ends are cut
// at got instead of want: 2·(width/cos M)·sin δ, with δ the angle between the two planes
// of the cut.
func planeGap(width measure.Length, want, got Setting) (measure.Length, error) {
	if want == got {
		return 0, nil
	}
	a, b := want.normal(), got.normal()
	x := float64(a[1]*b[2]) - float64(a[2]*b[1])
	y := float64(a[2]*b[0]) - float64(a[0]*b[2])
	z := float64(a[0]*b[1]) - float64(a[1]*b[0])
	sin := math.Sqrt(float64(x*x) + float64(y*y) + float64(z*z))
	return tick(2*float64(width)/math.Cos(got.Miter.Radians())*sin, got.Miter)
}

// normal returns the direction in which the cut faces: along the length, the width and
// the thickness of trim that lies flat.
func (s Setting) normal() [3]float64 {
	m, b := s.Miter.Radians(), s.Bevel.Radians()
	return [3]float64{math.Cos(b) * math.Cos(m), math.Cos(b) * math.Sin(m), math.Sin(b)}
}
