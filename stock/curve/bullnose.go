package curve

import (
	"fmt"
	"math"
	"strconv"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// A Bullnose is a rounded outside corner, such as one with a rounded corner bead. Trim goes
// around it with one or more short pieces between the runs of the two walls.
type Bullnose struct {
	Radius measure.Length `json:"radius"` // of the bead, at most a mile

	// Corner is the angle between the walls, less than 180°; zero means 90°, and in JSON is an
	// error.
	Corner measure.Angle `json:"corner,omitzero" zero:"more than 0deg, or nothing for 90deg"`

	// Pieces is the number of pieces between the runs, at most 100; zero means one, and in
	// JSON is an error.
	Pieces int `json:"pieces,omitempty" zero:"1 or more, or nothing for 1"`

	Thickness measure.Length `json:"thickness"` // of the trim
}

// UnmarshalJSON reads an object with the names of the fields. A zero that would mean
// another number is a [*measure.FieldError].
func (n *Bullnose) UnmarshalJSON(data []byte) error {
	type plain Bullnose
	return fault.Unmarshal(data, (*plain)(n))
}

// Segments returns the pieces around the corner. All joints turn by the same angle, so the
// miter is that of the corner divided by the number of joints: 22.5° for one piece at 90°.
// The backs are tangents of the bead, as are the runs: a piece is 2r·tan φ long at its back
// and 2t·tan φ more at its face, and the runs end r·tan(δ/2) - r·tan φ before the sharp
// corner, with δ the turn and φ the miter.
//
// The error joins a [*measure.FieldError] for each field out of range.
func (n Bullnose) Segments() (Segments, error) {
	var bad fault.List
	length := func(field string, l measure.Length) {
		if l <= 0 || l > maxLength {
			bad.Add(field, l.About(), "more than zero, at most "+maxLength.About())
		}
	}
	length("radius", n.Radius)
	if n.Corner == 0 {
		n.Corner = rightAngle
	}
	// Below a hundredth of a degree the sharp corner is a mile away.
	if n.Corner < measure.Degree/100 || n.Corner >= halfTurn {
		bad.Add("corner", n.Corner, "at least 0.01° and less than 180°")
	}
	if n.Pieces == 0 {
		n.Pieces = 1
	}
	if n.Pieces < 0 || n.Pieces > maxPieces {
		bad.Add("pieces", strconv.Itoa(n.Pieces), fmt.Sprintf("from 1 to %d", maxPieces))
	}
	length("thickness", n.Thickness)
	if err := bad.Err(); err != nil {
		return Segments{}, err
	}
	t := ofAngle(halfTurn - n.Corner)
	joints := n.Pieces + 1
	phi := t.radians / float64(2*joints)
	r, tan := float64(n.Radius), math.Tan(phi)
	return Segments{
		Count: n.Pieces, Back: tick(2 * float64(r*tan)), Face: tick(2 * float64((r+float64(n.Thickness))*tan)),
		Miter: t.part(int64(2 * joints)), Gap: tick(float64(r*2*math.Pow(math.Sin(phi/2), 2)) / math.Cos(phi)),
		Short: tick(float64(r * (math.Tan(t.radians/2) - tan))),
	}, nil
}

const maxPieces = 100
