package takeoff

import (
	"fmt"
	"math"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/kind"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/curve"
)

// A CurveMethod is the way in which trim goes around a curved wall.
type CurveMethod uint8

const (
	CurveSegments CurveMethod = iota // straight pieces, mitered to each other
	CurveFlexible                    // flexible molding, in one piece unless it is longer than a stick
	CurveKerfed                      // a board with saw cuts across its back, on convex walls only
)

var curveMethodNames = [...]string{CurveSegments: "segments", CurveFlexible: "flexible", CurveKerfed: "kerfed"}

// String returns "segments", "flexible" or "kerfed".
func (m CurveMethod) String() string { return kind.Text("CurveMethod", curveMethodNames[:], m) }

// MarshalText writes the name; an unknown method is a *measure.FieldError.
func (m CurveMethod) MarshalText() ([]byte, error) {
	return kind.Marshal("CurveMethod", "a way around a curve", curveMethodNames[:], m)
}

// UnmarshalText reads the name; any other text is a *measure.FieldError.
func (m *CurveMethod) UnmarshalText(text []byte) error {
	return kind.Unmarshal("a way around a curve", curveMethodNames[:], text, m)
}

// A Curve is the arc of a curved wall and the way trim goes around it.
//
// The corners at its ends are those between the next wall and the tangent of the curve: a
// quarter circle between two walls that are square to each other begins and ends in corners of
// 180°.
type Curve struct {
	Arc  curve.Arc  `json:"arc"`           // of the wall at the floor; at most a mile along it
	Bend curve.Bend `json:"bend,omitzero"` // its direction, as seen from the room

	// Trim is the method for base, shoe and rails, Crown that for crown and other trim at the
	// ceiling. Crown is not kerfed.
	Trim  CurveMethod `json:"trim,omitzero"`
	Crown CurveMethod `json:"crown,omitzero"`

	// Tolerance is the widest gap between the wall and a segment; zero means 1/16 in (common
	// practice, no source: caulk fills it), and in JSON is an error. Kerf is required for
	// kerfed trim.
	Tolerance measure.Length `json:"tolerance,omitzero" zero:"more than 0in, or nothing for 1/16in"`
	Kerf      curve.Kerf     `json:"kerf,omitzero"`
}

// UnmarshalJSON reads an object by the names of the fields. A zero tolerance is a
// *measure.FieldError.
func (c *Curve) UnmarshalJSON(data []byte) error {
	type plain Curve
	return fault.Unmarshal(data, (*plain)(c))
}

// CurvedTrim is the trim of one profile around a curved wall or a bullnose corner: all its
// segments, or one run that bends.
type CurvedTrim struct {
	Room   string      `json:"room"`
	Wall   string      `json:"wall"` // for a bullnose, the wall with the bullnose at its right-hand end
	Role   stock.Role  `json:"role"`
	Method CurveMethod `json:"method,omitzero"`

	Bend   curve.Bend     `json:"bend,omitzero"`
	Radius measure.Length `json:"radius"` // of the wall
	Runs   []string       `json:"runs"`   // their labels, from left to right

	// Segments is the layout of each uninterrupted segment: Back along the wall, behind the
	// base if that is before it, Face along the face of the trim. Kerfs is the layout of the
	// kerfs of a kerfed run. The other is zero.
	Segments curve.Segments `json:"segments,omitzero"`
	Kerfs    curve.Kerfs    `json:"kerfs,omitzero"`
}

const usualTolerance = measure.Inch / 16

// tolerance returns the tolerance with its default filled in.
func (c *Curve) tolerance() measure.Length {
	if c.Tolerance == 0 {
		return usualTolerance
	}
	return c.Tolerance
}

// method returns the way trim goes around: one for all that hangs from the ceiling, one for all
// else.
func (c *Curve) method(ceiling bool) CurveMethod {
	if ceiling {
		return c.Crown
	}
	return c.Trim
}

// strip returns trim of a thickness on the wall.
func (c *Curve) strip(thickness, standoff measure.Length) curve.Strip {
	return curve.Strip{Arc: c.Arc, Bend: c.Bend, Thickness: thickness, Standoff: standoff}
}

// segments returns the segments of a curve that was validated, for trim without thickness.
func (c *Curve) segments() curve.Segments {
	s, err := c.strip(1, 0).Segments(c.tolerance())
	if err != nil {
		return curve.Segments{}
	}
	return s
}

// validateCurve returns the faults of the curve of a wall, and of its length.
func (w Wall) validateCurve() error {
	var bad faults
	if w.Curve == nil {
		bad.positive("length", w.Length, maxWall)
		return bad.Err()
	}
	bad.length("length", w.Length, 0, maxWall)
	if w.TopLength != 0 {
		bad.Add("top_length", w.TopLength.About(), "nothing, because the wall is curved")
	}
	c := w.Curve
	d, err := c.Arc.Dimensions()
	bad.Under("curve.arc", err)
	if err == nil && (d.Length <= 0 || d.Length > maxWall) {
		bad.Add("curve.arc", d.Length.About()+" along it", "more than zero, at most a mile")
	}
	if _, e := c.Bend.MarshalText(); e != nil {
		bad.Under("curve.bend", e)
		err = e
	}
	for _, m := range []struct {
		field  string
		method CurveMethod
	}{{"trim", c.Trim}, {"crown", c.Crown}} {
		_, e := m.method.MarshalText()
		bad.Under("curve."+m.field, e)
	}
	switch {
	case c.Crown == CurveKerfed:
		bad.Add("curve.crown", c.Crown.String(), "segments or flexible, because crown is not kerfed")
	case c.Trim == CurveKerfed && c.Bend == curve.BendConcave:
		bad.Add("curve.trim", c.Trim.String(), "segments or flexible, because kerfs open on a concave wall")
	}
	if c.Tolerance < 0 || c.Tolerance > maxHeight {
		bad.Add("curve.tolerance", c.Tolerance.About(), "more than zero, or nothing for "+usualTolerance.About())
	} else if err == nil && (c.Trim == CurveSegments || c.Crown == CurveSegments) {
		_, err := c.strip(1, 0).Segments(c.tolerance())
		bad.Under("curve", err)
	}
	return bad.Err()
}

// validateBullnose returns the faults of the bullnose at the right-hand end of a wall before
// the next.
func (w Wall) validateBullnose(next Wall) error {
	var bad faults
	bad.length("bullnose", w.Bullnose, 0, maxHeight)
	if w.Bullnose <= 0 || len(bad.List) > 0 {
		return bad.Err()
	}
	switch {
	case w.Corner.Kind != CornerOutside || w.Corner.straight():
		bad.Add("bullnose", w.Bullnose.About(), "nothing, because the corner is no outside corner")
	case w.Curve != nil || next.Curve != nil:
		bad.Add("bullnose", w.Bullnose.About(), "nothing, because a wall beside it is curved")
	default:
		_, err := curve.Bullnose{Radius: w.Bullnose, Corner: w.Corner.Angle, Thickness: 1}.Segments()
		bad.Under("bullnose", err)
	}
	return bad.Err()
}

// bends reports whether a wall of the room is curved, or a corner rounded.
func (r *Room) bends() bool {
	for i := range r.Walls {
		if r.Walls[i].Curve != nil || r.Walls[i].Bullnose != 0 {
			return true
		}
	}
	return false
}

// along returns valid rooms with the length of each curved wall along its arc.
func along(rooms []Room) []Room {
	var out []Room
	for i := range rooms {
		r := &rooms[i]
		if !r.bends() {
			continue
		}
		if out == nil {
			out = append(out, rooms...)
		}
		walls := append([]Wall(nil), r.Walls...)
		for k := range walls {
			walls[k] = walls[k].along()
		}
		out[i].Walls = walls
	}
	if out == nil {
		return rooms
	}
	return out
}

// along returns the wall with its length along the curve, if it has one.
func (w Wall) along() Wall {
	if w.Curve != nil {
		if d, err := w.Curve.Arc.Dimensions(); err == nil && d.Length <= maxWall {
			w.Length = d.Length
		}
	}
	return w
}

// chords returns the room with each curved wall replaced by its chord, between corners that
// turn further by the turn of the arc from its end to its middle.
func (r *Room) chords() *Room {
	if !r.bends() {
		return r
	}
	out := *r
	out.Walls = append([]Wall(nil), r.Walls...)
	n := len(out.Walls)
	for i := range out.Walls {
		w := &out.Walls[i]
		if w.Curve == nil {
			continue
		}
		d, err := w.Curve.Arc.Dimensions()
		if err != nil {
			continue
		}
		half := d.Angle / 2
		before := &out.Walls[(i+n-1)%n].Corner
		if w.Curve.Bend == curve.BendConvex {
			*before, w.Corner = before.turned(-half), w.Corner.turned(half-d.Angle)
		} else {
			*before, w.Corner = before.turned(half), w.Corner.turned(d.Angle-half)
		}
		w.Length, w.Curve = d.Chord, nil
	}
	return &out
}

// turned returns the corner with its turn to the right increased by an angle.
func (c Corner) turned(by measure.Angle) Corner {
	if !c.joined() {
		return c
	}
	turn := c.turn() + by
	c.Kind, c.Angle = CornerInside, halfTurn-turn
	if turn < 0 {
		c.Kind, c.Angle = CornerOutside, halfTurn+turn
	}
	if c.Angle == 0 {
		c.Angle = 1 // a microarcsecond, since zero would mean 90°
	}
	return c
}

// curvedHeads advises about casing around openings in curved walls, whose heads are taken off
// straight.
func curvedHeads(r *Room, s Scheme, o Options) (fs []Finding) {
	w := o.words()
	for _, wall := range r.Walls {
		if wall.Curve == nil {
			continue
		}
		d, err := wall.Curve.Arc.Dimensions()
		if err != nil {
			continue
		}
		for k, op := range wall.Openings {
			at := s.at(op)
			if !op.cased(at) {
				continue
			}
			// The head is a chord; how far from its middle the wall is: R - √(R² - (D/2)²).
			half := min(float64(float64(op.Width)/2)+float64(op.margin(at)), float64(d.Radius))
			off := asLength(half * half / (float64(d.Radius) + math.Sqrt(float64((float64(d.Radius)-half)*(float64(d.Radius)+half)))))
			fs = append(fs, Finding{
				Code: FindingCurvedHead, Severity: SeverityAdvice, Room: r.Name, Wall: wall.Name, Length: off,
				Reason: fmt.Sprintf("the head of %s is counted as straight and stands %s off the curved wall; bend it, or saw it from stock that much thicker", wall.openingName(k), w.about(off)),
			})
		}
	}
	return fs
}

// curves checks double measurements of curved walls: the arc, and the length along it. The
// walls are as given.
func (c *checker) curves(walls []Wall) {
	for _, w := range walls {
		if w.Curve == nil || w.Length == 0 {
			continue
		}
		d, err := w.Curve.Arc.Dimensions()
		if err != nil {
			continue
		}
		off := max(w.Length-d.Length, d.Length-w.Length)
		// A rise is read to the tape's tolerance like a length; around a flat arc the length
		// changes by 8v/3c of it, at most by 2.
		if off <= 2*(tapeTolerance(w.Length)+readingTolerance) {
			continue
		}
		c.add(Finding{
			Code: FindingCurveFit, Severity: SeverityDoubt, Wall: w.Name, Length: off,
			Reason: fmt.Sprintf("%s is %v along its curve and its arc makes that %v; measure chord, rise and length again", w.Name, c.w.About(w.Length), c.w.About(d.Length, w.Length)),
		})
	}
}
