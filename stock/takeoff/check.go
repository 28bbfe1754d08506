package takeoff

import (
	"fmt"
	"slices"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// Check checks the measurements of each room against each other: whether the walls and the
// diagonals of a closed room agree, which reading would explain a closing error and whether it
// looks like a usual slip, whether the room is out of square instead, how opposite walls
// compare, and which openings and which trim do not fit. The scheme is needed for the trim; its
// zero value omits it.
//
// A wall and the one opposite explain a closing error equally well; Wall is then empty and the
// Reason says so. A diagonal can decide between them.
//
// Of the options, Locale is the format of the findings, and Fit, Catalog and the others are
// used as in Take; a nil o means the zero Options.
//
// The findings of a room come in the order of the constants of FindingCode. The error joins a
// *measure.FieldError for each invalid field, at most 100, as in Take.
func Check(rooms []Room, s Scheme, o *Options) ([]Finding, error) {
	var bad faults
	bad.Under("", validateRooms(rooms, Scheme{}))
	bad.Under("", s.validate())
	s.validateExtent(rooms, &bad)
	opt, err := o.filled()
	bad.Under("", err)
	s.validateChoice(rooms, &bad)
	if len(bad.List) > 0 {
		return nil, bad.Err()
	}
	measured, bare := rooms, along(rooms)
	rooms = extended(bare, s, opt)
	courses := s.courses(opt)
	var fs []Finding
	for i := range rooms {
		c := checker{r: rooms[i].chords(), s: s, courses: courses, opt: opt, w: opt.words(), square: true}
		c.closure()
		c.opposite()
		c.fs = append(c.fs, stairFits(&rooms[i], s, opt, false)...)
		c.fs = append(c.fs, upperFloors(&rooms[i], s, opt, courses)...)
		c.r = &rooms[i]
		c.curves(measured[i].Walls)
		c.heights()
		c.openings()
		c.fs = append(c.fs, stacked(&rooms[i], courses, opt)...)
		c.fs = append(c.fs, levels(&rooms[i], s, opt)...)
		c.fs = append(c.fs, depths(&bare[i], s, opt)...)
		c.fs = append(c.fs, stools(&bare[i], s, opt)...)
		c.fs = append(c.fs, s.wainscotTooHigh(opt.words(), &rooms[i], courses)...)
		slices.SortStableFunc(c.fs, byCode)
		fs = append(fs, c.fs...)
	}
	return fs, nil
}

type checker struct {
	r       *Room
	s       Scheme
	courses []course
	opt     Options
	w       words
	fs      []Finding
	square  bool // no reading of a length is in doubt

	doubtful []string // the readings of which one explains the disagreement
}

func (c *checker) add(f Finding) {
	f.Room = c.r.Name
	c.fs = append(c.fs, f)
}

// nearlySquare is the greatest deviation from 90° of the corners of a room whose opposite walls
// are expected to be equal.
const nearlySquare = 2 * measure.Degree

// nearlySquare reports whether the room has four walls, each expected to be as long as the one
// opposite.
func (r *Room) nearlySquare() bool {
	for _, w := range r.Walls {
		off := w.Corner.angle() - rightAngle
		if w.Corner.Kind != CornerInside || off > nearlySquare || off < -nearlySquare {
			return false
		}
	}
	return len(r.Walls) == 4
}

func (c *checker) opposite() {
	if !c.r.nearlySquare() {
		return
	}
	ws := c.r.Walls
	for i := range 2 {
		a, b := ws[i], ws[i+2]
		if a.Length < b.Length { // the longer first, wherever the list begins
			a, b = b, a
		}
		d := max(a.Length-b.Length, b.Length-a.Length)
		if d <= tapeTolerance(a.Length)+tapeTolerance(b.Length)+2*readingTolerance {
			continue
		}
		f := Finding{
			Code: FindingOpposite, Severity: SeverityDoubt, Length: d, Suspects: []string{a.Name, b.Name},
			Reason: fmt.Sprintf("opposite walls %s (%v) and %s (%v) differ by %v", a.Name, c.w.About(a.Length), b.Name, c.w.About(b.Length), c.w.About(d, a.Length, b.Length)),
		}
		if c.square || len(c.doubtful) > 0 && !slices.Contains(c.doubtful, a.Name) && !slices.Contains(c.doubtful, b.Name) {
			f.Severity = SeverityNote
		}
		c.add(f)
	}
}

// topBottom is the greatest difference of a wall at floor and ceiling without a finding; common
// practice, no source.
const topBottom = measure.Inch / 4

func (c *checker) heights() {
	differ := func(k FindingCode, wall, name string, a, b measure.Length, reason string) {
		if d := max(a-b, b-a); d > topBottom {
			c.add(Finding{Code: k, Severity: SeverityAdvice, Wall: wall, Length: d, Reason: fmt.Sprintf(reason, name, c.w.About(a), c.w.About(b))})
		}
	}
	for i, w := range c.r.Walls {
		if w.TopLength != 0 {
			differ(FindingTopBottom, w.Name, w.Name, w.Length, w.TopLength, "%s is %v at the floor and %v at the ceiling")
		}
		c.roofPitch(i)
		if l, r := c.r.heights(i); l != 0 && r != 0 && !w.sloped() {
			differ(FindingOutOfLevel, w.Name, w.Name, l, r, "%s is %v high at its left end and %v at its right")
		}
		for k, o := range w.Openings {
			name := w.openingName(k)
			differ(FindingOutOfSquare, w.Name, name, o.Width, o.topWidth(), "%s is %v wide below and %v at its head")
			differ(FindingOutOfSquare, w.Name, name, o.height(), o.rightHeight(), "%s is %v high at its left jamb and %v at its right")
		}
	}
}

func (c *checker) openings() {
	n := len(c.r.Walls)
	all := make([][]setting, n)
	for i, w := range c.r.Walls {
		all[i] = c.settings(w)
		for k, o := range all[i] {
			c.beside(w, o)
			c.overJamb(w, o)
			if k > 0 {
				c.between(w, all[i][k-1], o)
			}
			c.above(w, c.r.lowOver(i, o.At, o.At+o.Width), o)
			c.blocked(w, o.Opening, o.name)
		}
	}
	for i := range all {
		c.inCorner(i, all[i], all[(i+1)%n])
	}
}

// blocked reports a fixture in front of a door as a doubt.
func (c *checker) blocked(w Wall, o Opening, name string) {
	if o.Kind == OpeningWindow {
		return
	}
	for _, f := range w.Fixtures {
		if over := min(o.At+o.Width, f.At+f.Width) - max(o.At, f.At); over > 0 && f.Bottom < o.height() {
			c.add(Finding{
				Code: FindingOpeningFit, Severity: SeverityDoubt, Wall: w.Name, Length: over,
				Reason: fmt.Sprintf("%s stands %v in front of %s", f.Name, c.w.About(over), name),
			})
		}
	}
}

// crown reports a casing that reaches into the crown, or into other trim at the ceiling that is
// not cut for casing.
func (c *checker) crown(w Wall, height measure.Length, name string, top measure.Length) {
	if height == 0 || top > height {
		return
	}
	for _, cs := range c.courses {
		role := cs.profile.Role
		if into := top - (height + cs.lo); into > 0 && cs.ceiling && cs.runsIn(c.r) && (role.Sprung() || role == stock.RoleSoffit) {
			c.add(Finding{
				Code: FindingHighCrown, Severity: SeverityAdvice, Wall: w.Name, Length: into,
				Reason: fmt.Sprintf("the trim of %s reaches %s into the %s", name, c.w.about(into), role),
			})
		}
	}
}
