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

	// Height is floor to ceiling; zero if it was not measured.
	Height measure.Length `json:"height,omitzero"`

	// Entry names the wall from which the room is first seen. Empty means the
	// first wall with a door or a cased opening.
	Entry string `json:"entry,omitempty"`

	// Studs is the layout of every wall that has none of its own.
	Studs Studs `json:"studs,omitzero"`

	// OffSquare is how far any corner may stand, to either side, from the place that the
	// angles give it, such as 1/4 in in an old house. Zero means that the corners are as
	// given. Diagonals are distances from corner to corner, as far as they were measured.
	// Both matter to Traverse and Check only.
	OffSquare measure.Length `json:"off_square,omitzero"`
	Diagonals []Diagonal     `json:"diagonals,omitempty"`

	// Wet is set if the floor is mopped or splashed. PaintLine is how high the paint along
	// the old base reaches on the wall; zero if there is none. Both matter to CheckTrim only.
	Wet       bool           `json:"wet,omitempty"`
	PaintLine measure.Length `json:"paint_line,omitzero"`
}

// A Wall is one wall, measured from corner to corner: straight, or a part of a circle.
type Wall struct {
	Name   string         `json:"name"`
	Length measure.Length `json:"length"` // at the floor, where base goes; at most a mile

	// Curve is set if the wall is curved. Positions are then counted along the curve, and Length
	// may be zero: it follows from the arc, and is compared with it by Check.
	Curve *Curve `json:"curve,omitempty"`

	// Top is the length measured again at the ceiling, where crown goes; zero
	// means the same as Length. If the height is known too, the length for a rail is
	// interpolated between the two.
	Top measure.Length `json:"top,omitzero"`

	// HeightLeft and HeightRight are floor to ceiling at the two ends; zero means the
	// room's Height.
	HeightLeft  measure.Length `json:"height_left,omitzero"`
	HeightRight measure.Length `json:"height_right,omitzero"`

	// Pitch is the slope of the ceiling along the wall, positive if it rises to the right:
	// measure it at the ceiling, since a roof often has another. The height of one end, or of
	// the room at the lower one, then gives that of the other. Raked says that the ceiling runs
	// straight from HeightLeft to HeightRight on purpose, which are measured, and count before
	// a pitch.
	Pitch measure.Slope `json:"pitch,omitzero"`
	Raked bool          `json:"raked,omitempty"`

	// Corner is the right-hand end, between this wall and the next. The zero
	// value is an inside corner of 90°.
	Corner Corner `json:"corner,omitzero"`

	// Start is the left-hand end of a wall that the wall before does not join
	// (its Corner is open, stop or scribe). The zero value means the same as that.
	Start Corner `json:"start,omitzero"`

	// Bullnose is the radius of a rounded bead on the outside corner at the right-hand end; zero
	// for a sharp one. Lengths go to the sharp corner all the same.
	Bullnose measure.Length `json:"bullnose,omitzero"`

	Openings []Opening `json:"openings,omitempty"` // doors, windows and passages
	Fixtures []Fixture `json:"fixtures,omitempty"` // against the wall

	// Stretches are the parts with other trim than the scheme has, such as old base that stays.
	Stretches []Stretch `json:"stretches,omitempty"`

	Studs Studs `json:"studs,omitzero"` // zero means those of the Room

	// Stair is a flight of steps against the wall.
	Stair *Stair `json:"stair,omitempty"`

	// Floor and Ceiling are readings from one level line that goes around the room: down to
	// the floor, up to the ceiling, at stations from the left end of the wall. A wall without
	// any is straight between its corners, as far as its neighbors' readings tell them. Lean is
	// how far the wall is out of plumb, which base shows where it dies into it. See Options.Floor and Options.Ceiling.
	Floor   scribe.Surface `json:"floor,omitempty"`
	Ceiling scribe.Surface `json:"ceiling,omitempty"`
	Lean    scribe.Lean    `json:"lean,omitzero"`

	// Devices are outlets, switches and the like, whose plates lie flat: paneling and splices
	// keep off them. Unpaneled is set if the wall has none of the Scheme's wainscot.
	Devices   []panel.Device `json:"devices,omitempty"`
	Unpaneled bool           `json:"unpaneled,omitempty"`

	// KeepClear lists stretches that should have no splice, such as one at an outlet.
	KeepClear []KeepClear `json:"avoid,omitempty"`
}

// KeepClear is a stretch of wall without a splice, if that can be done.
type KeepClear struct {
	Name  string         `json:"name,omitempty"` // such as "outlet"
	At    measure.Length `json:"at"`             // left edge, from the left end of the wall
	Width measure.Length `json:"width"`
}

// heights returns floor to ceiling at the two ends of wall i, zero where unknown.
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

// low returns the lower of the two heights of wall i, zero where either is unknown.
func (r *Room) low(i int) measure.Length {
	left, right := r.heights(i)
	return min(left, right)
}

// lengthAt returns how long wall i is where the course runs.
func (r *Room) lengthAt(i int, c course) measure.Length {
	w := r.Walls[i]
	h, at := r.low(i), c.lo
	if c.ceiling {
		at = max(0, h+c.hi)
	}
	switch {
	case w.Top == 0 || !c.ceiling && at == 0:
		return w.Length
	case c.ceiling && h == 0 || h > 0 && at >= h:
		return w.Top
	case h == 0:
		return w.Length
	}
	d, _, err := (w.Top - w.Length).MulDiv(int64(at), int64(h), measure.RoundHalfEven)
	if err != nil { // cannot be: |d| < |Top − Length|
		return w.Length
	}
	return w.Length + d
}
