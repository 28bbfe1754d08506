package stock

import (
	"math"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/kind"
	"example.com/longpoint/measure"
)

const rightAngle = 90 * measure.Degree

// EndKind is the kind of cut at one end of a piece. Most pieces have square ends; the
// sides of a frame, of wood or tube, have flat miters. The other kinds are for trim.
type EndKind uint8

const (
	// EndSquare is a cut at a right angle. In trim it butts a wall, a casing or a
	// cabinet, or receives the cope of a coped corner.
	EndSquare EndKind = iota
	// EndCope is cut as an inside miter and then sawn along the profile, so that it fits over the
	// face of the neighbor's square end. Long point at the back.
	EndCope
	// EndInsideMiter is the usual cut for an inside corner that is far from square.
	// Long point at the back.
	EndInsideMiter
	// EndOutsideMiter wraps an outside corner. Long point at the face.
	EndOutsideMiter
	// EndScarfOver is the part of a splice that laps over the other; long point at the face.
	EndScarfOver
	// EndScarfUnder is the part of a splice that lies below the other; long point at the back.
	EndScarfUnder
	// EndReturn is an outside miter at an open end, closed with a return piece. Long point at the
	// face.
	EndReturn
	// EndFlatMiter is cut across the face of a piece that lies flat, such as the side of
	// a frame or the head of a casing. Long point at the outer edge.
	EndFlatMiter
	// EndButt is cut to lie against the face of the neighbor, as square-edged base or
	// stone does in an inside corner. It is square if the corner is.
	EndButt
	// EndScribe is a square end left long, to be scribed to a rough surface.
	EndScribe
	// EndPlumb is cut across the face of a piece that runs up a slope, such as the skirt
	// of a stair or base along a rake, so that the end is plumb against a wall or a
	// square end.
	EndPlumb
	// EndLevel is the same cut, but level, as on a floor.
	EndLevel
	// EndRake is one half of the miter between two pieces in the plane of one wall that run
	// at different slopes, such as level and up a stair. It is cut across the face.
	EndRake
)

var endNames = [...]string{
	EndSquare: "square", EndCope: "cope", EndInsideMiter: "inside miter", EndOutsideMiter: "outside miter",
	EndScarfOver: "scarf over", EndScarfUnder: "scarf under", EndReturn: "return", EndFlatMiter: "flat miter",
	EndButt: "butt", EndScribe: "scribe", EndPlumb: "plumb cut", EndLevel: "level cut", EndRake: "rake miter",
}

// String returns the trade's name of the kind, such as "outside miter".
func (k EndKind) String() string { return kind.Text("EndKind", endNames[:], k) }

// MarshalText writes the kind's name; an unknown kind is a [*measure.FieldError].
func (k EndKind) MarshalText() ([]byte, error) {
	return kind.Marshal("EndKind", "a kind of end", endNames[:], k)
}

// UnmarshalText reads the kind's name; any other text is a [*measure.FieldError].
func (k *EndKind) UnmarshalText(text []byte) error {
	return kind.Unmarshal("a kind of end", endNames[:], text, k)
}

// Spliced reports whether the end is one half of a scarf.
func (k EndKind) Spliced() bool { return k == EndScarfOver || k == EndScarfUnder }

// Mitered reports whether the end is cut at (180° − corner)/2 from square: a miter, a cope
// or a return.
func (k EndKind) Mitered() bool {
	return k == EndCope || k == EndInsideMiter || k == EndOutsideMiter || k == EndReturn || k == EndFlatMiter
}

// Raked reports whether the end is a plumb cut, a level cut or a rake miter: a cut
// across the face for which End.Angle is the angle from square.
func (k EndKind) Raked() bool { return k == EndPlumb || k == EndLevel || k == EndRake }

// End is one end of a piece. The zero value is a square cut.
type End struct {
	Kind EndKind `json:"kind,omitzero"`

	// Angle is the corner angle of a miter, a cope, a return or a butt, more than 0° and
	// less than 180°; zero means 90°. For the two halves of a scarf it is the bevel from
	// square, less than 90°; zero means 45°. For a square end it is the angle of the
	// corner that the end runs into, which matters only below 90°. For a plumb cut, a
	// level cut and a rake miter it is the angle of the cut from square, within ±90°:
	// positive if the long point is at the upper edge, negative if it is at the lower one;
	// zero is then square. In JSON a zero is an error.
	Angle measure.Angle `json:"angle,omitzero" zero:"more than 0deg, or nothing for 90deg (for the bevel of a scarf 45deg)"`

	// Setback is the distance along the piece from the long point to the short point;
	// zero for a square cut. The stick is cut at the long point, and a neighbor with a
	// parallel end can use the Setback. Package joint computes it.
	Setback measure.Length `json:"setback,omitzero"`
}

// UnmarshalJSON reads an object with the names of the fields. An angle of zero, which
// would mean a default, is a [*measure.FieldError].
func (e *End) UnmarshalJSON(data []byte) error {
	type plain End
	return fault.Unmarshal(data, (*plain)(e))
}

// Corner returns the corner angle with its default of 90° filled in. For a scarf it
// returns the bevel with its default of 45°, and for a Raked end the Angle.
func (e End) Corner() measure.Angle {
	switch {
	case e.Angle != 0 || e.Kind.Raked():
		return e.Angle
	case e.Kind.Spliced():
		return 45 * measure.Degree
	}
	return rightAngle
}

// LongPoint returns the place in the section at which the end is longest: SectionOuterEdge for
// a flat miter, SectionUpperEdge or SectionLowerEdge for a plumb cut, a level cut or a rake miter,
// SectionBack or SectionFace for the other miters, copes and scarfs, and SectionAll for a square
// cut. A butt is longest at the back in a corner below 90°, at the face in one above.
func (e End) LongPoint() SectionPoint {
	switch e.Kind {
	case EndCope, EndInsideMiter, EndScarfUnder:
		return SectionBack
	case EndOutsideMiter, EndScarfOver, EndReturn:
		return SectionFace
	case EndFlatMiter:
		return SectionOuterEdge
	case EndPlumb, EndLevel, EndRake:
		switch {
		case e.Angle > 0:
			return SectionUpperEdge
		case e.Angle < 0:
			return SectionLowerEdge
		}
	case EndButt:
		switch a := e.Corner(); {
		case a < rightAngle:
			return SectionBack
		case a > rightAngle:
			return SectionFace
		}
	}
	return SectionAll
}

// A SectionPoint is a place in the section of a piece, named as the piece lies on its back with its
// outer or upper edge away from the viewer. As text it is the trade's name of the place.
type SectionPoint string

const (
	SectionAll       SectionPoint = ""           // all points alike, as at a square cut
	SectionBack      SectionPoint = "back"       // toward the wall
	SectionFace      SectionPoint = "face"       // toward the viewer
	SectionOuterEdge SectionPoint = "outer edge" // of casing or of the side of a frame, away from the opening
	SectionInnerEdge SectionPoint = "inner edge" // toward the opening
	SectionUpperEdge SectionPoint = "upper edge" // of a piece along a slope, as it is installed
	SectionLowerEdge SectionPoint = "lower edge" // the other one
)

// cutAngle returns the angle of the cut from square, for KerfAlong.
func (e End) cutAngle() measure.Angle {
	switch {
	case e.Kind.Spliced():
		return e.Corner()
	case e.Kind.Mitered():
		return (180*measure.Degree - e.Corner()) / 2
	case e.Kind.Raked():
		return max(e.Angle, -e.Angle)
	case e.Kind == EndButt:
		return max(e.Corner()-rightAngle, rightAngle-e.Corner())
	}
	return 0
}

// KerfAlong returns the length of stick that the cut at the end consumes if the blade is
// kerf wide: kerf over the cosine of the angle from square, rounded up to the next 1/64 in;
// an excess of less than a millionth of that is ignored. The angle from square of a mitered
// end is half the difference between 180° and its corner angle; that of a butt is the
// difference between its corner angle and 90°. A square cut consumes the kerf itself, and
// so does a cut at an invalid angle (at or beyond a right angle). The result saturates at
// the greatest Length.
func (e End) KerfAlong(kerf measure.Length) measure.Length {
	a := e.cutAngle()
	if kerf <= 0 || a <= 0 || a >= rightAngle {
		return kerf
	}
	const grain = float64(measure.Inch / 64)
	// The cosine of a whole number of degrees may come out a hair below the exact
	// value; a millionth of the grain keeps such a hair from costing a 64th.
	n := math.Ceil(float64(kerf)/math.Cos(a.Radians())/grain - 1e-6)
	if n >= float64(math.MaxInt64)/grain {
		return math.MaxInt64
	}
	return max(kerf, measure.Length(n)*(measure.Inch/64))
}
