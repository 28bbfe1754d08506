package joint

import (
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// Cut is one end of a piece, worked out.
type Cut struct {
	End stock.End // the end with its angle and setback filled in

	// Allowance is what the end adds to the length measured at the wall (base
	// and crown) or along the inner edge (casing) to give the length to the long
	// point; negative where it takes away.
	// It is what the end consumes of the stick beyond the point that was measured to;
	// the kerf is not in it.
	Allowance measure.Length

	// Measured is the point that the measured length goes to. The long point is
	// End.LongPoint.
	Measured stock.Point

	// Standing is the setting for a piece that stands against the fence as on
	// the wall (crown: nested upside down at its spring angle), Flat for one that
	// lies with its back on the table.
	Standing, Flat Setting
}

// NewCut works out one end of a piece of the profile.
//
//	square           adds nothing; short by Jam in a corner under 90° (give the angle)
//	cope             adds nothing: the wall is the long point
//	inside miter     adds nothing: the wall is the long point
//	outside miter    adds depth/tan(A/2): the wall is the short point
//	return           adds nothing: the long point is where the trim ends
//	flat miter       adds width/tan(A/2): the inner edge is the short point
//	butt             takes thickness/sin A, and where A is obtuse gives back what the face is longer
//	scarf            adds nothing here; the two parts share Overlap
//	scribe           adds nothing here; the job says how much is left long
//
// Errors are *measure.FieldError.
func NewCut(p stock.Profile, e stock.End) (Cut, error) {
	c := Cut{End: e, Measured: measured(e.Kind)}
	a, depth := e.Corner(), p.Projection()
	var err error
	switch e.Kind {
	case stock.EndSquare:
		c.End.Setback = 0
		if e.Angle != 0 {
			var jam measure.Length
			if jam, err = SquareDeduction(depth, a); err != nil {
				return Cut{}, err
			}
			c.Allowance = -jam
		}
		return c, nil
	case stock.EndScribe:
		c.End.Setback = 0
		return c, nil
	case stock.EndScarfOver, stock.EndScarfUnder:
		if c.End.Setback, err = ScarfOverlap(p.Thickness, a); err != nil {
			return Cut{}, err
		}
		c.End.Angle = a
		c.Standing, c.Flat = Setting{Miter: a}, Setting{Bevel: a}
		return c, nil
	case stock.EndButt:
		return buttCut(c, depth, a)
	case stock.EndFlatMiter:
		depth = p.Width
	case stock.EndCope, stock.EndInsideMiter, stock.EndOutsideMiter, stock.EndReturn:
	default:
		return Cut{}, &measure.FieldError{Field: "end kind", Value: e.Kind.String(), Want: "a known kind of end"}
	}

	if c.End.Setback, err = MiterOffset(depth, a); err != nil {
		return Cut{}, err
	}
	c.End.Angle = a
	m, err := MiterAngle(a)
	if err != nil {
		return Cut{}, err
	}
	switch {
	case e.Kind == stock.EndFlatMiter:
		c.Allowance = c.End.Setback
		c.Standing, c.Flat = Setting{Bevel: m}, Setting{Miter: m}
		return c, nil
	case p.Role == stock.RoleCrown:
		c.Standing = Setting{Miter: m}
		if c.Flat, err = CrownSetting(p.SpringAngle(), a); err != nil {
			return Cut{}, err
		}
	default:
		c.Standing, c.Flat = Setting{Miter: m}, Setting{Bevel: m}
	}
	if e.Kind == stock.EndOutsideMiter {
		c.Allowance = c.End.Setback
	}
	return c, nil
}

// buttCut works out an end that lies against the neighbor's face. The back is
// short by t/sin A; the cut slants by 90° − A, so the face is longer by
// t/tan(180° − A) where the corner is obtuse, and shorter where it is acute.
func buttCut(c Cut, thickness measure.Length, a measure.Angle) (Cut, error) {
	short, err := ButtDeduction(thickness, a)
	if err != nil {
		return Cut{}, err
	}
	slant, turn := a, a-rightAngle
	if turn > 0 {
		slant = straight - a
	} else {
		turn = -turn
	}
	back, err := SquareDeduction(thickness, slant)
	if err != nil {
		return Cut{}, err
	}
	c.End.Angle, c.End.Setback = a, back
	c.Standing, c.Flat = Setting{Miter: turn}, Setting{Bevel: turn}
	c.Allowance = -short
	if a > rightAngle {
		c.Allowance += back
	}
	return c, nil
}

// measured returns the point to which a length is measured.
func measured(k stock.EndKind) stock.Point {
	switch k {
	case stock.EndCope, stock.EndInsideMiter, stock.EndOutsideMiter, stock.EndButt:
		return stock.BackPoint // the wall
	case stock.EndReturn:
		return stock.FacePoint // where the trim ends
	case stock.EndFlatMiter:
		return stock.InnerPoint // the edge along the jamb
	}
	return stock.EvenPoint
}
