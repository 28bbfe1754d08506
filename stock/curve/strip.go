package curve

import (
	"fmt"
	"math"
	"math/big"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// A Strip is trim of one thickness along a curved wall.
type Strip struct {
	Arc       Arc            `json:"arc"`               // of the wall
	Bend      Bend           `json:"bend,omitzero"`     // direction in which the wall curves
	Thickness measure.Length `json:"thickness"`         // from back to face; for crown its projection
	Standoff  measure.Length `json:"standoff,omitzero"` // distance from the wall to the back
}

// Flexible is trim that bends by itself, in one piece around the arc.
type Flexible struct {
	Back measure.Length `json:"back"` // along the back
	Face measure.Length `json:"face"` // along the face

	// Radius is the radius of the back, to compare with MinRadius.
	Radius measure.Length `json:"radius"`
}

// Segments are straight pieces around an arc, all alike, mitered to each other.
type Segments struct {
	Count int            `json:"count"`
	Back  measure.Length `json:"back"` // of each, along its back
	Face  measure.Length `json:"face"` // of each, along its face

	// Miter is the angle of each cut between two of them, from square: the angle of the
	// arc divided by twice the count.
	Miter measure.Angle `json:"miter"`

	// Gap is the greatest distance between a back and the wall: in the middle of each piece
	// on a concave wall, at the joints on a convex one.
	Gap measure.Length `json:"gap"`

	// Short is the distance from the sharp corner at which the runs on both sides of a
	// Bullnose end; zero around an Arc.
	Short measure.Length `json:"short,omitzero"`
}

// maxCount bounds the number of segments; kerfs may be ten times as many.
const maxCount = 1_000

// bent is a valid strip: the circle of the wall and the radius of the strip's back.
type bent struct {
	circle
	Strip
	back, face float64 // radii
	sign       float64 // sign of the change of radius from back to face
}

// solve returns the strip with its radii, or its faults.
func (s Strip) solve() (bent, error) {
	var bad fault.List
	c, err := s.Arc.solve()
	bad.Under("arc", err)
	if int(s.Bend) >= len(bendNames) {
		bad.Add("bend", s.Bend, "convex or concave")
	}
	if s.Thickness <= 0 || s.Thickness > maxLength {
		bad.Add("thickness", s.Thickness.About(), "more than zero, at most "+maxLength.About())
	}
	if s.Standoff < 0 || s.Standoff > maxLength {
		bad.Add("standoff", s.Standoff.About(), "from 0in to "+maxLength.About())
	}
	if err := bad.Err(); err != nil {
		return bent{}, err
	}
	b := bent{circle: c, Strip: s, sign: 1}
	if s.Bend == BendConcave {
		b.sign = -1
	}
	b.back = c.radius + float64(b.sign*float64(s.Standoff))
	b.face = c.radius + float64(b.sign*float64(s.Standoff+s.Thickness))
	if b.face < float64(measure.Inch)/1024 {
		bad.Add("thickness", s.Thickness.About(), fmt.Sprintf("less than the radius in front of which it stands, %v", tick(b.back).About()))
	}
	return b, bad.Err()
}

// Flexible returns the lengths of flexible molding around the arc: along the back, the
// angle times the radius plus Standoff on a convex wall or minus Standoff on a concave one;
// along the face, with the radius changed by Thickness as well.
//
// Cut such molding an inch or more long if it ends in a corner, and splice it away from the
// middle of the curve. The error joins a [*measure.FieldError] for each field out of range.
func (s Strip) Flexible() (Flexible, error) {
	b, err := s.solve()
	if err != nil {
		return Flexible{}, err
	}
	t := b.turn.radians
	return Flexible{Back: tick(float64(b.back * t)), Face: tick(float64(b.face * t)), Radius: tick(b.back)}, nil
}

// Segments returns the least number of equal segments whose backs are nowhere farther than
// the tolerance from the wall, or, with a Standoff, from the arc at that distance: chords
// on a concave wall, R(1 - cos φ), and tangents on a convex one, R(1/cos φ - 1), with φ the
// Miter.
//
// The error joins a [*measure.FieldError] for each field out of range; for a tolerance that
// is not positive, not less than the radius, or so small that more than 1,000 segments
// result (tolerance); and for a thickness at which the miters leave no face (thickness).
func (s Strip) Segments(tolerance measure.Length) (Segments, error) {
	b, err := s.solve()
	var bad fault.List
	bad.Under("", err)
	switch {
	case tolerance <= 0:
		bad.Add("tolerance", tolerance.About(), "more than zero")
	case err == nil && !(float64(tolerance) < b.back):
		bad.Add("tolerance", tolerance.About(), fmt.Sprintf("less than the radius, %v", tick(b.back).About()))
	case err == nil && b.turn.radians/b.within(tolerance).radians > maxCount:
		bad.Add("tolerance", tolerance.About(), "so much that 1,000 segments do")
	}
	if err := bad.Err(); err != nil {
		return Segments{}, err
	}
	n := b.turn.count(b.within(tolerance))
	out := b.segments(n)
	if out.Face <= 0 {
		bad.Add("thickness", s.Thickness.About(), fmt.Sprintf("less than leaves %d segments of %v a face", n, out.Back.About()))
		return Segments{}, bad.Err()
	}
	return out, nil
}

// within returns the angle of the longest segment within a tolerance, which is less than
// the radius.
func (b bent) within(tolerance measure.Length) step {
	r, one := new(big.Rat).Set(b.exact), big.NewRat(1, 1)
	d := new(big.Rat).SetInt64(int64(b.sign) * int64(b.Standoff))
	r.Add(r, d)
	x := new(big.Rat).SetInt64(int64(tolerance))
	x.Quo(x, r) // the tolerance as a share of the radius
	share, _ := x.Float64()
	if b.Bend == BendConcave { // 1 - cos φ = x
		return step{4 * math.Asin(math.Sqrt(share/2)), doubled(new(big.Rat).Sub(one, x))}
	}
	// 1/cos φ - 1 = x
	tan := math.Sqrt(float64(share * (2 + share)))
	return step{2 * math.Atan(tan), doubled(new(big.Rat).Inv(new(big.Rat).Add(one, x)))}
}

// segments returns n segments around the arc.
func (b bent) segments(n int) Segments {
	phi := b.turn.radians / float64(2*n)
	sin, cos, tan := math.Sin(phi), math.Cos(phi), math.Tan(phi)
	half := math.Sin(phi / 2)
	rounded := 2 * float64(half*half) // 1 - cos φ
	out := Segments{Count: n, Miter: b.turn.part(int64(2 * n))}
	back := 2 * float64(b.back*tan)
	gap := float64(b.back*rounded) / cos
	if b.Bend == BendConcave {
		back = 2 * float64(b.back*sin)
		gap = float64(b.back * rounded)
	}
	out.Back, out.Gap = tick(back), tick(gap)
	out.Face = tick(back + float64(2*float64(b.sign*float64(b.Thickness))*tan))
	return out
}
