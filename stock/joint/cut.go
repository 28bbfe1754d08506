package joint

import (
	"math"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// A Cut is one end of a piece, computed by [NewCut], with the data of the profile that
// Round and Hand need.
type Cut struct {
	End stock.End // the end with its angle and setback filled in

	// Allowance is the amount that the end adds to the measured length - at the wall for
	// base and crown, along the inner edge for casing and frames - to give the length to
	// the long point; it is negative for a deduction. The end consumes that much of the
	// stick beyond the measured point, not including the kerf.
	Allowance measure.Length

	// Measured is the point of the section to which the length is measured: the back, the face,
	// the inner or the lower edge, or all points of a square cut. End.LongPoint is the point to
	// which the piece is cut.
	Measured stock.SectionPoint

	// Standing is the setting for a piece that stands against the fence as on the wall
	// (crown and bed molding are nested upside down at the spring angle, and a soffit has
	// its wall edge against the fence). Flat is the setting for a piece that lies with its
	// back on the table (for a soffit, its wall edge).
	Standing, Flat Setting

	depth, width measure.Length // depth of the cut, and the profile's width
	sprung       bool           // by the profile's role
}

// nested reports whether the piece stands upside down on the saw.
func (c Cut) nested() bool { return c.sprung && c.End.Kind != stock.EndFlatMiter }

// NewCut computes the allowance and the saw settings for one end of a piece of the profile.
// The depth of the cut is the projection of the profile: the width of a soffit, the
// distance that crown and bed molding reach into the room, the thickness of other profiles.
// A scarf goes through the thickness, even of a soffit.
//
//	square           adds nothing; short by SquareDeduction in a corner under 90° (give the angle)
//	cope             adds nothing: the wall is the long point
//	inside miter     adds nothing: the wall is the long point
//	outside miter    adds depth/tan(A/2): the wall is the short point
//	return           adds nothing: the long point is where the piece ends
//	flat miter       adds width/tan(A/2): the inner edge is the short point
//	butt             takes thickness/sin A, less the extra length of the face if A is obtuse
//	scarf            adds nothing here; the two parts share ScarfOverlap
//	scribe           adds nothing here; the job says how much is left long
//	plumb, level cut adds width·tan of the angle from square if the upper edge is the longer:
//	rake miter       the lower edge is measured
//
// In the plane of its wall, crown turns through its drop: a rake miter adds drop·tan of the
// angle. It is cut nested with the blade beveled, or with its wall side on the table and
// the arm mitered by the angle ("Running Crown on Cathedral Ceilings", JLC), or flat with
// both: tan M = cos spring · tan a and sin B = sin spring · sin a (derived).
//
// The error is a [*measure.FieldError] for an unknown kind (end.kind), an angle at which
// there is no such joint (end.angle), a negative thickness or width (profile.thickness,
// profile.width) or a spring angle out of range (profile.spring).
func NewCut(profile stock.Profile, end stock.End) (Cut, error) {
	if err := checkEnd(profile, end); err != nil {
		return Cut{}, err
	}
	c, err := newCut(profile, end)
	if err != nil {
		return Cut{}, atEnd(err)
	}
	return c, nil
}

// checkEnd returns the faults of the arguments of NewCut.
func checkEnd(p stock.Profile, e stock.End) error {
	var bad fault.List
	bad.Under("profile", notNegative("thickness", p.Thickness))
	bad.Under("profile", notNegative("width", p.Width))
	if p.Role.Sprung() && (p.Spring < 0 || p.Spring >= rightAngle) {
		bad.Add("profile.spring", p.Spring, "more than 0° and less than 90°, or zero for 38°")
	}
	switch _, err := e.Kind.MarshalText(); {
	case err != nil:
		bad.Under("end.kind", err)
	case e.Kind.Spliced():
		bad.Under("end", acute("angle", e.Corner()))
	case e.Kind.Raked():
		if e.Angle <= -rightAngle || e.Angle >= rightAngle {
			bad.Add("end.angle", e.Angle, "more than -90° and less than 90°")
		}
	case e.Kind != stock.EndScribe && e.Angle != 0:
		bad.Under("", atEnd(checkCorner(e.Angle)))
	}
	return bad.Err()
}

// atEnd returns the faults of an angle as faults of its end.
func atEnd(err error) error {
	var bad fault.List
	for e := range measure.FieldErrors(err) {
		bad.Add("end.angle", e.Value, e.Want)
	}
	return bad.Err()
}

// newCut computes an end that is valid, except that its angle may be so flat or so steep
// that no joint exists.
func newCut(p stock.Profile, e stock.End) (Cut, error) {
	c := Cut{End: e, Measured: measured(e.Kind), depth: p.Projection(), width: p.Width, sprung: p.Role.Sprung()}
	a := e.Corner()
	var err error
	switch e.Kind {
	case stock.EndSquare:
		c.End.Setback = 0
		if e.Angle != 0 {
			var jam measure.Length
			if jam, err = SquareDeduction(c.depth, a); err != nil {
				return Cut{}, err
			}
			c.Allowance = -jam
		}
		return c, nil
	case stock.EndScribe:
		c.End.Setback = 0
		return c, nil
	case stock.EndScarfOver, stock.EndScarfUnder:
		return scarfCut(c, p, a)
	case stock.EndButt:
		if c, err = buttCut(c, c.depth, a); err == nil && c.sprung && c.Standing.Miter != 0 {
			c.Flat, err = CrownSetting(p.SpringAngle(), straight-2*c.Standing.Miter)
		}
		return c, err
	case stock.EndPlumb, stock.EndLevel, stock.EndRake:
		return rakedCut(c, p)
	case stock.EndFlatMiter:
		c.depth = p.Width
	}

	return miteredCut(c, p, a)
}

// scarfCut completes the cut of a scarf, which slants along the stick by the angle a.
func scarfCut(c Cut, p stock.Profile, a measure.Angle) (Cut, error) {
	if p.Role == stock.RoleSoffit {
		c.depth = p.Thickness
	}
	var err error
	if c.End.Setback, err = ScarfOverlap(c.depth, a); err != nil {
		return Cut{}, err
	}
	c.End.Angle = a
	c.Standing, c.Flat = Setting{Miter: a}, Setting{Bevel: a}
	if p.Role == stock.RoleSoffit {
		c.Standing, c.Flat = c.Flat, c.Standing
	}
	if c.sprung { // the cut of a corner whose miter angle is the bevel
		c.Flat, err = CrownSetting(p.SpringAngle(), straight-2*a)
	}
	return c, err
}

// miteredCut completes the cut of a miter or a cope in a corner of the angle a.
func miteredCut(c Cut, p stock.Profile, a measure.Angle) (Cut, error) {
	var err error
	if c.End.Setback, err = MiterOffset(c.depth, a); err != nil {
		return Cut{}, err
	}
	c.End.Angle = a
	m, err := MiterAngle(a)
	if err != nil {
		return Cut{}, err
	}
	switch {
	case c.End.Kind == stock.EndFlatMiter:
		c.Allowance = c.End.Setback
		c.Standing, c.Flat = Setting{Bevel: m}, Setting{Miter: m}
		return c, nil
	case p.Role.Sprung():
		c.Standing = Setting{Miter: m}
		if c.Flat, err = CrownSetting(p.SpringAngle(), a); err != nil {
			return Cut{}, err
		}
	default:
		c.Standing, c.Flat = Setting{Miter: m}, Setting{Bevel: m}
	}
	if c.End.Kind == stock.EndOutsideMiter {
		c.Allowance = c.End.Setback
	}
	return c, nil
}

// rakedCut computes an end that is cut across the face at an angle from square.
func rakedCut(c Cut, p stock.Profile) (Cut, error) {
	turn := max(c.End.Angle, -c.End.Angle)
	c.depth = p.Drop()
	var err error
	if c.End.Setback, err = tangent(c.depth, turn); err != nil {
		return Cut{}, err
	}
	if c.End.Angle > 0 {
		c.Allowance = c.End.Setback
	}
	if c.Standing, c.Flat = (Setting{Bevel: turn}), (Setting{Miter: turn}); c.sprung {
		sin, cos := math.Sincos(p.SpringAngle().Radians())
		c.Flat = Setting{
			Miter: microarcseconds(math.Atan(cos * math.Tan(turn.Radians()))),
			Bevel: microarcseconds(math.Asin(sin * math.Sin(turn.Radians()))),
		}
	}
	return c, nil
}

// tangent returns depth·tan(turn), exact at 0° and at 45°.
func tangent(depth measure.Length, turn measure.Angle) (measure.Length, error) {
	switch turn {
	case 0:
		return 0, nil
	case 45 * measure.Degree:
		return depth, nil
	}
	return tick(float64(depth)*math.Tan(turn.Radians()), "bevel", turn)
}

// buttCut computes an end that lies against the neighbor's face. The back is short by t/sin A;
// the cut slants by 90° − A, so the face is longer by t/tan(180° − A) if the corner is obtuse,
// and shorter if it is acute.
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
func measured(k stock.EndKind) stock.SectionPoint {
	switch k {
	case stock.EndCope, stock.EndInsideMiter, stock.EndOutsideMiter, stock.EndButt:
		return stock.SectionBack // the wall
	case stock.EndReturn:
		return stock.SectionFace // the end of the piece
	case stock.EndFlatMiter:
		return stock.SectionInnerEdge // along the jamb
	case stock.EndPlumb, stock.EndLevel, stock.EndRake:
		return stock.SectionLowerEdge
	}
	return stock.SectionAll
}
