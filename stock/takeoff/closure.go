package takeoff

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/longpoint/measure"
)

// oldHouse is the assumed corner deviation of a room if only a diagonal was measured and none
// was given: then the room is taken to be out of square rather than misread (common practice,
// no source).
const oldHouse = measure.Inch / 4

// closure checks whether the walls and the diagonals of a closed room agree and, if not, finds
// the cause: a slip in one reading, or a room out of square.
func (c *checker) closure() {
	w := c.r.walk()
	if !w.Closed || !c.angles(w) {
		return
	}
	walls := w.survey(nil).adjust(c.r.OffSquare)
	w.Tolerance = walls.tolerance(w.Traverse)
	s := w.survey(c.r.Diagonals)
	house := s.adjust(c.r.OffSquare)
	may := "careful readings"
	if c.r.OffSquare > 0 {
		may += " and corners off by up to " + c.w.about(c.r.OffSquare)
	}
	around := Finding{
		Code: FindingClosure, Severity: SeverityNote, Length: w.Misclosure, East: w.East, South: w.South,
		Reason: fmt.Sprintf("the walls close %s %s around; %s may add up to %s",
			c.w.closing(w.Misclosure), c.w.about(w.Perimeter), may, c.w.about(w.Tolerance)),
	}
	if house.agrees() {
		c.add(around)
		if c.r.OffSquare > 0 && !s.adjust(0).agrees() {
			c.outOfSquare(w, s, fmt.Sprintf("a house whose corners stand off by up to %v", c.w.About(c.r.OffSquare)))
		}
		c.weak(w, house)
		return
	}
	suspects := c.suspects(house)
	if why := c.whySkewed(w, s, suspects); why != "" {
		c.add(around)
		c.outOfSquare(w, s, why)
		return
	}
	c.square = false
	f := around
	if w.Misclosure > w.Tolerance {
		f.Severity = SeverityDoubt
		f.Reason = fmt.Sprintf("the walls fail to close by %s, more than %s may add up to, %s", c.w.about(w.Misclosure), may, c.w.about(w.Tolerance))
	} else {
		c.add(around)
		off := farthest(s.miss[2:])
		f = Finding{
			Code: FindingDiagonalFit, Severity: SeverityDoubt, Length: off,
			Reason: fmt.Sprintf("the walls close, but a diagonal differs by %s from what they make it", c.w.about(off)),
		}
	}
	c.blame(f, suspects)
}

// whySkewed returns the evidence that the room is out of square rather than misread, or "".
func (c *checker) whySkewed(w walk, s survey, suspects []suspect) string {
	slip := slices.ContainsFunc(suspects, func(s suspect) bool { return s.slip() })
	off := max(c.r.OffSquare, oldHouse)
	old := len(c.r.Diagonals) > 0 && s.adjust(off).agrees()
	apart, allowed, ok := c.r.quadrilateral()
	switch {
	case ok && apart <= allowed && (old || !slip):
		return fmt.Sprintf("its four walls and two diagonals agree within %s", c.w.about(apart))
	case !ok && old && !slip:
		return fmt.Sprintf("walls and diagonals agree if corners stand off by up to %v", c.w.About(off))
	case c.racked(w, slip):
		return "both pairs of opposite walls are alike and the diagonal is not what square corners make it; the other one would show it for certain"
	}
	return ""
}

// blame reports a misfit with the readings that explain it, likeliest first, and what to
// measure again.
func (c *checker) blame(f Finding, suspects []suspect) {
	best := 0 // number of equally good explanations
	for best < len(suspects) && suspects[best].equals(suspects[0]) {
		best++
	}
	for _, s := range suspects {
		f.Suspects = append(f.Suspects, s.name)
	}
	c.doubtful = f.Suspects
	switch {
	case best == 0:
		f.Reason += "; no single reading explains it"
	case best == 1:
		f.Wall = suspects[0].wall
		f.Reason += "; measure " + suspects[0].name + " again"
		if ms := suspects[0].why; len(ms) > 0 {
			f.Reason += fmt.Sprintf(": %v instead of %v would do (%s)", c.w.About(ms[0].instead), c.w.About(suspects[0].read), ms[0].why)
		}
	default:
		f.Reason += fmt.Sprintf("; measure again %s, which explain it equally well", listed(f.Suspects[:best]))
	}
	if rest := f.Suspects[best:]; len(rest) > 0 {
		f.Reason += "; less likely " + listed(rest)
	}
	switch {
	case len(c.r.Diagonals) == 0:
		f.Reason += "; if they read the same, the room is out of square, which its diagonals show"
	case len(c.r.Walls) == 4 && len(c.r.Diagonals) == 1:
		f.Reason += "; if they read the same, the room is out of square, which the other diagonal shows"
	}
	c.add(f)
	for _, k := range []FindingCode{FindingMissedInch, FindingMissedFoot, FindingMissedDecimeter, FindingMissedMeter, FindingSwappedDigits, FindingWrongSide, FindingWrongFraction} {
		c.slip(f, suspects, k)
	}
}

// racked reports whether a four-walled room agrees except for one diagonal, which no slip
// explains, within the allowed deviation of its corners.
func (c *checker) racked(w walk, slip bool) bool {
	if slip || len(c.r.Diagonals) != 1 || !c.r.nearlySquare() || !w.survey(nil).adjust(0).agrees() {
		return false
	}
	_, a, ok := c.r.mostOff()
	return ok && max(a-rightAngle, rightAngle-a) <= nearlySquare
}

// angles adds findings about the corners, and reports whether the walls can be traversed.
func (c *checker) angles(t walk) bool {
	if t.Turn == 0 {
		return true
	}
	f := Finding{
		Code: FindingAngleSum, Severity: SeverityAdvice, Angle: t.Turn,
		Reason: fmt.Sprintf("the corners turn %v more than once around; the difference is shared out among them", c.w.FormatAngle(t.Turn)),
	}
	if t.Turn < 0 {
		f.Reason = fmt.Sprintf("the corners turn %v less than once around; the difference is shared out among them", c.w.FormatAngle(-t.Turn))
	}
	if t.Turn > maxTurn || t.Turn < -maxTurn {
		f.Severity = SeverityDoubt
		f.Reason = fmt.Sprintf("the corners turn %v instead of 360°: a wall is missing, a corner is of the wrong kind or angle, "+
			"or the walls do not close and the last should end open", c.w.FormatAngle(t.Turn+2*halfTurn))
		c.add(f)
		return false
	}
	c.add(f)
	return true
}

// suspect is a reading that, if it alone is wrong, explains the miss.
type suspect struct {
	name string
	wall string // empty for a diagonal
	read measure.Length
	rest int64 // square of the remaining miss, in 64ths of a limit's
	why  []misreading
}

// alike is the least difference in rest by which one suspect is more likely than another: it is
// then ten times as likely if errors are normally distributed (derived).
const alike = 3 * 64 / 2

// equals reports whether s explains as much as the first suspect.
func (s suspect) equals(first suspect) bool {
	return s.rank() == first.rank() && s.rest <= first.rest+alike
}

// rank puts suspects that a usual slip explains first.
func (s suspect) rank() int {
	if len(s.why) > 0 {
		return 0
	}
	return 1
}

// slip reports whether a slip explains it that is not chance: any fraction of an inch may look
// like a slip of fractions.
func (s suspect) slip() bool {
	return slices.ContainsFunc(s.why, func(m misreading) bool { return m.kind != FindingWrongSide && m.kind != FindingWrongFraction })
}

// suspects returns the readings of which one wrong length alone would explain the miss, most
// likely first. Equally likely ones are in the order of their lengths, the longest first,
// because a long tape is misread more easily.
func (c *checker) suspects(a adjusted) []suspect {
	var ss []suspect
	metric := c.r.metric()
	for i, t := range a.tests {
		if !a.explains(t) {
			continue
		}
		var s suspect
		if i < a.walls {
			s.name, s.read = c.r.Walls[i].Name, c.r.Walls[i].Length
			s.wall = s.name
		} else {
			d := c.r.Diagonals[i-a.walls]
			s.name, s.read = "diagonal "+d.From+" to "+d.To, d.Length
		}
		// Rounded before anything is compared, so that no processor's last bit decides.
		s.rest = int64(math.RoundToEven(t.rest * 64))
		by := toLength(max(t.by, -t.by))
		if t.by < 0 {
			by = -by
		}
		s.why = misreadings(c.w, s.read, by, toLength(t.least), metric)
		ss = append(ss, s)
	}
	slices.SortFunc(ss, func(a, b suspect) int {
		return cmp.Or(cmp.Compare(a.rank(), b.rank()), cmp.Compare(a.rest, b.rest), cmp.Compare(b.read, a.read), cmp.Compare(a.name, b.name))
	})
	return ss
}

// slip adds a finding for a usual slip, with the readings that it would explain.
func (c *checker) slip(f Finding, suspects []suspect, k FindingCode) {
	f.Code, f.Suspects, f.Wall, f.East, f.South = k, nil, "", 0, 0
	var texts []string
	alike := true // if all walls have the same slip, it is reported once
	var why string
	for _, s := range suspects {
		for _, m := range s.why {
			if m.kind != k {
				continue
			}
			if len(texts) == 0 {
				f.Wall, f.Instead, why = s.wall, m.instead, m.why
				f.Length = max(s.read-m.instead, m.instead-s.read)
			} else {
				f.Wall, f.Instead = "", 0
			}
			alike = alike && m.why == why
			f.Suspects = append(f.Suspects, s.name)
			texts = append(texts, fmt.Sprintf("%s would be %v instead of %v (%s)", s.name, c.w.About(m.instead), c.w.About(s.read), m.why))
		}
	}
	if len(texts) == 0 {
		return
	}
	f.Reason = strings.Join(texts, ", or ")
	if alike {
		f.Reason = why + ": " + strings.ReplaceAll(f.Reason, " ("+why+")", "")
	}
	c.add(f)
}

// outOfSquare advises about a room with correct readings whose corners are off.
func (c *checker) outOfSquare(w walk, s survey, why string) {
	f := Finding{
		Code: FindingOutOfSquare, Severity: SeverityAdvice, Length: max(w.Misclosure, farthest(s.miss[2:])),
		Reason: "the room is out of square, not misread: " + why,
	}
	if k, a, ok := c.r.mostOff(); ok {
		f.Angle = a
		f.Reason += fmt.Sprintf("; corner %s is %v", c.r.corner(k), c.w.FormatAngle(a))
	}
	c.add(f)
}

// weak reports if a missed inch, or 100 mm, would go unseen, and which measurement would show
// it.
func (c *checker) weak(w walk, a adjusted) {
	least := a.unseen()
	missed, what := missed(c.r.metric()), c.w.or("inch", "25.4 mm")
	if missed != measure.Inch {
		what = c.w.About(missed)
	}
	if least <= missed {
		return
	}
	f := Finding{Code: FindingWeakCheck, Severity: SeverityNote, Length: least}
	for i, t := range a.tests[:a.walls] {
		if toLength(t.least) > missed {
			f.Suspects = append(f.Suspects, c.r.Walls[i].Name)
		}
	}
	where := listed(f.Suspects)
	if n := len(f.Suspects); n > 2 && n == a.walls {
		where = "any of the walls"
	}
	f.Reason = fmt.Sprintf("a missed %s in %s would not be found: the possible errors of angles and corners add up to %s", what, where, c.w.about(least))
	if across, then := c.better(w, least); len(across) > 0 {
		f.Reason += fmt.Sprintf("; measure %s too, and %s will be", listed(across), c.w.about(then))
	}
	c.add(f)
}

// maxTried is the greatest number of walls for which each diagonal is tried, and mostBetter the
// greatest number requested.
const (
	maxTried   = 24
	mostBetter = 3
)

// better returns the diagonals that would show a missed inch, each chosen for its gain over
// those before, and the least error that they would show; none if they help little.
func (c *checker) better(w walk, least measure.Length) (across []string, then measure.Length) {
	n := len(w.dirs)
	if n > maxTried {
		return nil, 0
	}
	ds := slices.Clone(c.r.Diagonals)
	then = least
	missed := missed(c.r.metric())
	for len(across) < mostBetter && then > missed {
		var best Diagonal
		var name string
		var shows measure.Length
		for from := range n {
			for to := from + 2; to < n && to-from < n-1; to++ {
				p, q := w.at[(from+1)%n], w.at[(to+1)%n]
				d := Diagonal{From: c.r.Walls[from].Name, To: c.r.Walls[to].Name, Length: toLength(math.Hypot(q[0]-p[0], q[1]-p[1]))}
				// To the 32nd, so that equally good ones are ordered by name.
				l := w.survey(append(ds, d)).adjust(c.r.OffSquare).unseen().Round(readingTolerance, measure.RoundHalfEven)
				if at := c.r.across(from, to); slices.ContainsFunc(ds, d.same) {
					continue
				} else if name == "" || l < shows || l == shows && at < name {
					best, name, shows = d, at, l
				}
			}
		}
		if name == "" {
			break
		}
		ds, across, then = append(ds, best), append(across, name), shows
	}
	if then > missed && then > least/2 {
		return nil, 0
	}
	return across, then
}

// farthest returns the largest of some misses.
func farthest(misses []float64) measure.Length {
	var most float64
	for _, m := range misses {
		most = max(most, m, -m)
	}
	return toLength(most)
}

// listed joins names as a sentence does.
func listed(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}
