package takeoff

import (
	"example.com/longpoint/measure"
	"example.com/longpoint/stock/panel"
	"example.com/longpoint/stock/scribe"
)

// A Room is a chain of walls. It is closed, as most rooms are, if every wall ends in an
// inside or outside corner.
type Room struct {
	Name  string `json:"name"`  // required and unique
	Walls []Wall `json:"walls"` // in order, clockwise in plan

	// Height is the height from floor to ceiling; zero if not measured.
	Height measure.Length `json:"height,omitzero"`

	// Entry names the wall from which the room is first seen. Empty means the first wall with a
	// door or a cased opening.
	Entry string `json:"entry,omitempty"`

	// Studs is the stud layout of every wall without its own.
	Studs Studs `json:"studs,omitzero"`

	// OffSquare is the greatest deviation of any corner, to either side, from the position that
	// the angles give, such as 1/4 in in an old house. Zero means that the corners are as
	// given. Diagonals are the measured distances between corners. Both are used only by
	// Traverse and Check.
	OffSquare measure.Length `json:"off_square,omitzero"`
	Diagonals []Diagonal     `json:"diagonals,omitempty"`

	// Wet is set if the floor is mopped or splashed. PaintLine is the height of the paint on
	// the wall above the old base; zero if there is none. Both are used only by CheckTrim.
	Wet       bool           `json:"wet,omitempty"`
	PaintLine measure.Length `json:"paint_line,omitzero"`
}

// A Wall is one wall, measured from corner to corner: straight, or a part of a circle.
type Wall struct {
	Name   string         `json:"name"`
	Length measure.Length `json:"length"` // at the floor, where base goes; at most a mile

	// Curve is set if the wall is curved. Positions are then measured along the curve, and
	// Length may be zero: it follows from the arc, and Check compares it.
	Curve *Curve `json:"curve,omitempty"`

	// TopLength is the length measured again at the ceiling, where crown goes; zero
	// means the same as Length. If the height is known too, the length for a rail is
	// interpolated between the two.
	TopLength measure.Length `json:"top_length,omitzero"`

	// HeightLeft and HeightRight are the heights from floor to ceiling at the two ends; zero
	// means the room's Height.
	HeightLeft  measure.Length `json:"height_left,omitzero"`
	HeightRight measure.Length `json:"height_right,omitzero"`

	// Pitch is the slope of the ceiling along the wall, positive if it rises to the right:
	// measure it at the ceiling, since a roof often has another. With it, the height of one
	// end, or of the room at the lower one, gives that of the other. Raked means that the
	// ceiling runs straight from HeightLeft to HeightRight by design; both are measured and
	// take precedence over a pitch.
	Pitch measure.Slope `json:"pitch,omitzero"`
	Raked bool          `json:"raked,omitempty"`

	// Corner is the right-hand end, between this wall and the next. The zero value is an inside
	// corner of 90°.
	Corner Corner `json:"corner,omitzero"`

	// Start is the left-hand end of a wall that does not join the wall before (whose Corner is
	// open, stop or rough). The zero value means the same as that Corner.
	Start Corner `json:"start,omitzero"`

	// Bullnose is the radius of a rounded bead on the outside corner at the right-hand end;
	// zero for a sharp one. Lengths are still measured to the sharp corner.
	Bullnose measure.Length `json:"bullnose,omitzero"`

	Openings []Opening `json:"openings,omitempty"` // doors, windows and passages
	Fixtures []Fixture `json:"fixtures,omitempty"` // against the wall

	// Stretches are the parts with trim that differs from the scheme, such as old base that
	// stays.
	Stretches []Stretch `json:"stretches,omitempty"`

	Studs Studs `json:"studs,omitzero"` // zero means those of the Room

	// Stair is a flight of steps against the wall.
	Stair *Stair `json:"stair,omitempty"`

	// Floor and Ceiling are readings from one level line around the room: down to the floor, up
	// to the ceiling, at stations from the left end of the wall. A wall without any is straight
	// between its corners, as far as its neighbors' readings give them. Lean is the wall's
	// deviation from plumb, which shows at base that dies into it. See Options.Floor and
	// Options.Ceiling.
	Floor   scribe.Surface `json:"floor,omitempty"`
	Ceiling scribe.Surface `json:"ceiling,omitempty"`
	Lean    scribe.Lean    `json:"lean,omitzero"`

	// Devices are outlets, switches and the like, whose plates lie flat: paneling and splices
	// stay clear of them. Unpaneled is set if the wall has none of the Scheme's wainscot.
	Devices   []panel.Device `json:"devices,omitempty"`
	Unpaneled bool           `json:"unpaneled,omitempty"`

	// KeepClear lists stretches that should have no splice, such as one at an outlet.
	KeepClear []KeepClear `json:"keep_clear,omitempty"`
}

// KeepClear is a stretch of wall without a splice, if possible.
type KeepClear struct {
	Name  string         `json:"name,omitempty"` // such as "outlet"
	At    measure.Length `json:"at"`             // left edge, from the left end of the wall
	Width measure.Length `json:"width"`
}

// heights returns the heights from floor to ceiling at the two ends of wall i, zero if unknown.
func (r *Room) heights(i int) (left, right measure.Length) {
	w := r.Walls[i]
	if left = w.HeightLeft; left == 0 {
		left = r.Height
	}
	if right = w.HeightRight; right == 0 {
		right = r.Height
	}
	return r.sloped(i, left, right)
}

// low returns the lower of the two heights of wall i, zero if either is unknown.
func (r *Room) low(i int) measure.Length {
	left, right := r.heights(i)
	return min(left, right)
}

// lengthAt returns the length of wall i at the height of the course.
func (r *Room) lengthAt(i int, c course) measure.Length {
	w := r.Walls[i]
	h, at := r.low(i), c.lo
	if c.ceiling {
		at = max(0, h+c.hi)
	}
	switch {
	case w.TopLength == 0 || !c.ceiling && at == 0:
		return w.Length
	case c.ceiling && h == 0 || h > 0 && at >= h:
		return w.TopLength
	case h == 0:
		return w.Length
	}
	d, _, err := (w.TopLength - w.Length).MulDiv(int64(at), int64(h), measure.RoundHalfEven)
	if err != nil { // cannot happen: |d| < |TopLength − Length|
		return w.Length
	}
	return w.Length + d
}
