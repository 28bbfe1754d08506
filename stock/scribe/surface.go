package scribe

import (
	"fmt"
	"math"
	"strconv"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// A Reading is the distance of a floor or a ceiling from a level line at one station of a
// wall.
type Reading struct {
	At measure.Length `json:"at"` // from the left end of the wall, at most a mile

	// FromLine is measured from the level line down to the floor, or up to the ceiling: zero
	// or more, at most 1000 ft. All walls of a room are read from the same line.
	FromLine measure.Length `json:"from_line"`
}

// A Surface is a floor or a ceiling along one wall: readings from left to right. It is
// assumed to be straight between two readings, and level beyond the first and the last.
type Surface []Reading

const (
	maxAlong    = 5280 * measure.Foot // a wall, a station on it
	maxAcross   = 1000 * measure.Foot // a section, a height or a depth
	maxReadings = 1_000
)

// Validate returns nil if the readings are valid, or a [*measure.FieldError] for every
// one that is out of range or not to the right of the previous one, joined.
func (s Surface) Validate() error {
	var bad fault.List
	if len(s) > maxReadings {
		bad.Add("", strconv.Itoa(len(s))+" readings", fmt.Sprintf("at most %d", maxReadings))
		return bad.Err()
	}
	for i, r := range s {
		at := fmt.Sprintf("[%d]", i)
		switch {
		case r.At < 0 || r.At > maxAlong:
			bad.Add(at+".at", r.At.About(), "zero or more, at most a mile")
		case i > 0 && r.At <= s[i-1].At:
			bad.Add(at+".at", r.At.About(), "more than the one before")
		}
		across(&bad, at+".from_line", r.FromLine, 0)
	}
	return bad.Err()
}

// across records a section, height or depth that is out of range or less than least.
func across(bad *fault.List, field string, l, least measure.Length) {
	if l < least || l > maxAcross {
		want := "zero or more, at most 1000 ft"
		if least > 0 {
			want = "more than zero, at most 1000 ft"
		}
		bad.Add(field, l.About(), want)
	}
}

// Line returns the distance of the surface from the level line at a place of the wall,
// to the nearest tick; zero without readings.
func (s Surface) Line(at measure.Length) measure.Length {
	n := len(s)
	switch {
	case n == 0:
		return 0
	case at <= s[0].At:
		return s[0].FromLine
	case at >= s[n-1].At:
		return s[n-1].FromLine
	}
	lo, hi := 0, n-1 // s[lo].At <= at < s[hi].At
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; s[mid].At <= at {
			lo = mid
		} else {
			hi = mid
		}
	}
	return between(s[lo].At, s[lo].FromLine, s[hi].At, s[hi].FromLine, at)
}

// between returns y at x on the straight line through two points.
func between(x0, y0, x1, y1, x measure.Length) measure.Length {
	d, _, err := (y1 - y0).MulDiv(int64(x-x0), int64(x1-x0), measure.RoundHalfEven)
	if err != nil { // only for readings that Validate rejects
		return y0
	}
	return y0 + d
}

// Extremes returns the readings of a stretch of wall that are nearest to the level line and
// farthest from it, the first of several. The two ends of the stretch count as readings.
func (s Surface) Extremes(from, to measure.Length) (near, far Reading) {
	for i, r := range s.within(from, to) {
		if i == 0 {
			near, far = r, r
		}
		if r.FromLine < near.FromLine {
			near = r
		}
		if r.FromLine > far.FromLine {
			far = r
		}
	}
	return near, far
}

// within returns the readings of a stretch, with its two ends.
func (s Surface) within(from, to measure.Length) Surface {
	out := Surface{{from, s.Line(from)}}
	for _, r := range s {
		if from < r.At && r.At < to {
			out = append(out, r)
		}
	}
	if to > from {
		out = append(out, Reading{to, s.Line(to)})
	}
	return out
}

// Fall returns the greatest rise or fall of the surface between two places of a stretch
// that are no farther apart than over. With 6 ft, it decides whether trim may follow the
// surface.
func (s Surface) Fall(from, to, over measure.Length) measure.Length {
	most := measure.Length(0)
	if len(s) == 0 || over <= 0 {
		return 0
	}
	if from, to = max(from, s[0].At), min(to, s[len(s)-1].At); to <= from { // level beyond the readings
		return 0
	}
	// On straight parts, the greatest difference is between two readings or, if they are
	// too far apart, between one and the point at the distance over from it.
	readings := s.within(from, to)
	first := 0
	for i, r := range readings {
		differ := func(y measure.Length) { most = max(most, r.FromLine-y, y-r.FromLine) }
		for first < i && readings[first].At < r.At-over {
			first++
		}
		for _, q := range readings[first:i] {
			differ(q.FromLine)
		}
		if x := r.At - over; x > from {
			differ(s.Line(x))
		}
		if x := r.At + over; x < to {
			differ(s.Line(x))
		}
	}
	return most
}

// Slope returns the angle from level of trim that follows the surface from one end of a
// stretch to the other, with the heights of the ends from Line: positive if a floor rises,
// or a ceiling falls, to the right.
func (s Surface) Slope(from, to measure.Length) measure.Angle {
	rise := s.Line(from) - s.Line(to)
	if rise == 0 || to <= from {
		return 0
	}
	return degrees(math.Atan2(float64(rise), float64(to-from)))
}
