package scribe

import (
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// Depths are the distances from the edge of a jamb to the face of the finished wall around
// one opening, with left and right as seen by a viewer who faces it: positive if the wall
// extends beyond the jamb, negative if the jamb is proud of the wall.
type Depths struct {
	TopLeft     measure.Length `json:"top_left,omitzero"`
	TopRight    measure.Length `json:"top_right,omitzero"`
	BottomLeft  measure.Length `json:"bottom_left,omitzero"`
	BottomRight measure.Length `json:"bottom_right,omitzero"`

	// Left, Right, Head and Sill are measured halfway along each side; zero means not
	// measured, and in JSON is an error.
	Left  measure.Length `json:"left,omitzero" zero:"a depth halfway up, or nothing if it was not measured"`
	Right measure.Length `json:"right,omitzero" zero:"a depth halfway up, or nothing if it was not measured"`
	Head  measure.Length `json:"head,omitzero" zero:"a depth halfway across, or nothing if it was not measured"`
	Sill  measure.Length `json:"sill,omitzero" zero:"a depth halfway across, or nothing if it was not measured"`
}

// UnmarshalJSON reads an object with the names of the fields. A zero depth halfway along
// a side is a [*measure.FieldError].
func (d *Depths) UnmarshalJSON(data []byte) error {
	type plain Depths
	return fault.Unmarshal(data, (*plain)(d))
}

// Validate returns nil if the depths are valid, or a [*measure.FieldError] for each one
// beyond ±1000 ft, joined.
func (d Depths) Validate() error {
	var bad fault.List
	for _, f := range []struct {
		name  string
		depth measure.Length
	}{
		{"top_left", d.TopLeft}, {"top_right", d.TopRight}, {"bottom_left", d.BottomLeft}, {"bottom_right", d.BottomRight},
		{"left", d.Left}, {"right", d.Right}, {"head", d.Head}, {"sill", d.Sill},
	} {
		if f.depth < -maxAcross || f.depth > maxAcross {
			bad.Add(f.name, f.depth.About(), "at most 1000 ft to either side")
		}
	}
	return bad.Err()
}

// Twist returns the amount by which the four corners are out of one plane: top left − top
// right − bottom left + bottom right. If it is not zero, a casing cannot lie flat on them:
// the best plane misses each corner by a quarter of it, to the nearest tick in miss.
func (d Depths) Twist() (twist, miss measure.Length) {
	twist = d.TopLeft - d.TopRight - d.BottomLeft + d.BottomRight
	miss, _, _ = max(twist, -twist).MulDiv(1, 4, measure.RoundHalfEven)
	return twist, miss
}

// Range returns the least and the greatest of the measured depths, which always
// include the four corners.
func (d Depths) Range() (least, greatest measure.Length) {
	least = min(d.TopLeft, d.TopRight, d.BottomLeft, d.BottomRight)
	greatest = max(d.TopLeft, d.TopRight, d.BottomLeft, d.BottomRight)
	for _, m := range []measure.Length{d.Left, d.Right, d.Head, d.Sill} {
		if m != 0 {
			least, greatest = min(least, m), max(greatest, m)
		}
	}
	return least, greatest
}

// bow returns the depth halfway minus the mean of the two ends, or zero if it was not
// measured.
func bow(from, mid, to measure.Length) measure.Length {
	if mid == 0 {
		return 0
	}
	mean, _, _ := (from + to).MulDiv(1, 2, measure.RoundHalfEven)
	return mid - mean
}
