package takeoff

import (
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// A Notch is cut into a run around a fixture, such as a register or an outlet box.
type Notch struct {
	Room    string `json:"room"`
	Wall    string `json:"wall"`
	Run     string `json:"run"`     // label of the notched run
	Fixture string `json:"fixture"` // its name

	// At is the left edge of the notch from the left end of the wall and Width its width;
	// Bottom and Top are above the floor, and equal those of the run if the notch is open
	// there.
	At     measure.Length `json:"at"`
	Width  measure.Length `json:"width"`
	Bottom measure.Length `json:"bottom,omitzero"`
	Top    measure.Length `json:"top"`
}

// leastLeft is the least height of trim that holds together beside a notch (common practice, no
// source).
const leastLeft = measure.Inch

// notch returns the position of a notch in the course around a fixture; ok is false if too
// little of its height would be left above or below.
func (t *taker) notch(wall int, f Fixture) (bottom, top measure.Length, ok bool) {
	c := t.course
	if f.Notch == 0 || f.Height == 0 || t.atCeiling() || !t.stops(wall, f.Bottom, f.Height) {
		return 0, 0, false
	}
	bottom, top = max(c.lo, f.Bottom-f.Notch), min(c.hi, f.Height+f.Notch)
	return bottom, top, c.hi-top >= leastLeft || bottom-c.lo >= leastLeft
}

// stopAt returns the part of a wall that a fixture blocks, and how the trim ends there.
func (t *taker) stopAt(f Fixture) block {
	b := block{from: f.At - f.Notch, to: f.At + f.Width + f.Notch, depth: f.Depth, name: f.Name, ends: dying(f.Ends)}
	if f.Notch != 0 && f.Ends == stock.EndSquare {
		b.ends = stock.EndReturn
	}
	return b
}

// recordNotches adds the notches of a run to the list, and returns their positions on it.
func (t *taker) recordNotches(l *line, run *stock.Run) (cut []cutout) {
	w, s := t.room.Walls[l.wall], t.section(l.wall)
	full := t.spans[l.wall].length
	for _, f := range w.Fixtures {
		bottom, top, ok := t.notch(l.wall, f)
		if !ok {
			continue
		}
		from, to := max(f.At-f.Notch, s.off(l.from, full)), min(f.At+f.Width+f.Notch, s.off(l.to, full))
		if from < to {
			t.list.Notches = append(t.list.Notches, Notch{
				Room: t.room.Name, Wall: w.Name, Run: run.Label, Fixture: f.Name, At: from, Width: to - from, Bottom: bottom, Top: top,
			})
			cut = append(cut, cutout{
				at: from - run.Start + run.Reach, width: to - from, height: top - bottom,
				above: bottom - t.course.lo, low: bottom == t.course.lo, high: top == t.course.hi,
			})
		}
	}
	return cut
}
