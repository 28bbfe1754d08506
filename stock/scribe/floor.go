package scribe

import (
	"fmt"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/kind"
	"example.com/longpoint/measure"
)

// A FloorFit is the way to fit base to a floor that is out of level.
type FloorFit uint8

const (
	FloorScribe FloorFit = iota // the top is level; the lower edge is cut to the floor
	FloorFollow                 // base lies on the floor, and its top is as far out of level as the floor
	FloorShoe                   // the top is level, the base stands on the highest point, and shoe covers the gap
)

var floorNames = [...]string{FloorScribe: "scribe", FloorFollow: "follow", FloorShoe: "shoe"}

// String returns "scribe", "follow" or "shoe".
func (f FloorFit) String() string { return kind.Text("FloorFit", floorNames[:], f) }

// MarshalText writes the name; an unknown fit is a [*measure.FieldError].
func (f FloorFit) MarshalText() ([]byte, error) {
	return kind.Marshal("FloorFit", "a fit at the floor", floorNames[:], f)
}

// UnmarshalText reads the name; any other text is a [*measure.FieldError].
func (f *FloorFit) UnmarshalText(text []byte) error {
	return kind.Unmarshal("a fit at the floor", floorNames[:], text, f)
}

// The greatest amount by which a line may be out of level and still be followed: 1/4 in in 6 ft
// ("Level Lines", HomeTips).
const (
	MaxFollowFall = measure.Inch / 4
	FollowOver    = 6 * measure.Foot
)

// usualLap is the lap of shoe over base that stands off the floor; common practice, no
// source.
const usualLap = measure.Inch / 4

// A Floor is the floor of one room below its base.
type Floor struct {
	Walls  []Surface      `json:"walls"`  // each wall's readings; a wall without readings is ignored
	Height measure.Length `json:"height"` // of the base as sold

	// MinBase is the least height of base that must remain at the highest point of the
	// floor; zero means three quarters of Height (common practice, no source), and in
	// JSON is an error.
	MinBase measure.Length `json:"min_base,omitzero" zero:"a height such as \"4in\", or nothing for three quarters of the base"`

	// Shoe is the height of the shoe; zero means no shoe. Lap is its least lap over the
	// base; zero means 1/4 in (common practice, no source), and in JSON is an error.
	Shoe measure.Length `json:"shoe,omitzero"`
	Lap  measure.Length `json:"lap,omitzero" zero:"a lap such as \"1/8in\", or nothing for 1/4in"`
}

// UnmarshalJSON reads an object with the names of the fields. A zero MinBase or Lap,
// which would mean another number, is a [*measure.FieldError].
func (f *Floor) UnmarshalJSON(data []byte) error {
	type plain Floor
	return fault.Unmarshal(data, (*plain)(f))
}

// A Point is a place of a room's floor or ceiling: a [Reading] and the index of its
// wall.
type Point struct {
	Wall     int            `json:"wall"`
	At       measure.Length `json:"at"`
	FromLine measure.Length `json:"from_line"`
}

// A FloorShape describes the consequences of a floor that is out of level for base with
// a level top.
type FloorShape struct {
	High Point `json:"high"` // nearest to the level line
	Low  Point `json:"low"`  // farthest from it

	// Rise is the height of High above Low: the deepest scribe, and the widest gap below
	// base that stands level on the highest point. Remaining is the height of base that a scribe
	// leaves there, Needed the height of base, as sold, that leaves MinBase.
	Rise      measure.Length `json:"rise"`
	Remaining measure.Length `json:"remaining"`
	Needed    measure.Length `json:"needed"`

	// Fall is the greatest rise or fall of the floor along one wall within FollowOver.
	// MayFollow is set if Fall is at most MaxFollowFall, ShoeCovers if shoe laps over the base at
	// the widest gap, HighEnough if base is at least as high as Needed.
	Fall       measure.Length `json:"fall,omitzero"`
	MayFollow  bool           `json:"may_follow,omitempty"`
	ShoeCovers bool           `json:"shoe_covers,omitempty"`
	HighEnough bool           `json:"high_enough,omitempty"`

	// Advice is the fit with the least work: follow, if the floor is straight enough for
	// the eye; else shoe, if it covers the gap; else scribe.
	Advice FloorFit `json:"advice"`
}

// Shape finds the highest and the lowest point of the room, the first of several, and
// their consequences for base with one level top all around. All readings are from one
// level line.
//
// The error joins a [*measure.FieldError] for each field out of range, and one for a floor
// without readings.
func (f Floor) Shape() (FloorShape, error) {
	var bad fault.List
	var l FloorShape
	l.High, l.Low, l.Fall = look(&bad, f.Walls)
	across(&bad, "height", f.Height, 1)
	across(&bad, "min_base", f.MinBase, 0)
	across(&bad, "shoe", f.Shoe, 0)
	across(&bad, "lap", f.Lap, 0)
	if err := bad.Err(); err != nil {
		return FloorShape{}, err
	}
	// On a floor, near the line is high and far from it is low.
	least, lap := f.MinBase, f.Lap
	if least == 0 {
		least = f.Height - f.Height/4
	}
	if lap == 0 {
		lap = usualLap
	}
	l.Rise = l.Low.FromLine - l.High.FromLine
	l.Remaining = f.Height - l.Rise
	l.Needed = least + l.Rise
	l.MayFollow = l.Fall <= MaxFollowFall
	l.ShoeCovers = f.Shoe > 0 && l.Rise <= f.Shoe-lap
	l.HighEnough = f.Height >= l.Needed
	switch {
	case l.MayFollow:
		l.Advice = FloorFollow
	case l.ShoeCovers:
		l.Advice = FloorShoe
	}
	return l, nil
}

// look returns the points of all walls that are nearest to the level line and farthest from
// it, and the greatest fall within FollowOver.
func look(bad *fault.List, walls []Surface) (near, far Point, fall measure.Length) {
	n := 0
	for _, s := range walls {
		n += len(s)
	}
	if len(walls) > maxReadings || n > 10*maxReadings {
		bad.Add("walls", fmt.Sprintf("%d walls, %d readings", len(walls), n), fmt.Sprintf("at most %d and %d", maxReadings, 10*maxReadings))
		return near, far, 0
	}
	if n == 0 {
		bad.Add("walls", "[]", "at least one reading")
	}
	any := false
	for i, s := range walls {
		if err := s.Validate(); err != nil {
			bad.Under(fmt.Sprintf("walls[%d]", i), err)
			continue
		}
		if len(s) == 0 {
			continue
		}
		a, b := s.Extremes(s[0].At, s[len(s)-1].At)
		if !any || a.FromLine < near.FromLine {
			near = Point{Wall: i, At: a.At, FromLine: a.FromLine}
		}
		if !any || b.FromLine > far.FromLine {
			far = Point{Wall: i, At: b.At, FromLine: b.FromLine}
		}
		any = true
		fall = max(fall, s.Fall(s[0].At, s[len(s)-1].At, FollowOver))
	}
	return near, far, fall
}
