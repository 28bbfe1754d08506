package takeoff

import (
	"fmt"
	"slices"
	"strings"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/scribe"
)

// Floors and ceilings that are out of level. Package scribe evaluates the readings; this file
// applies them to walls, corners and trim.

// usualStraight is the greatest gap between one straight cut along the foot of base and the
// floor; common practice, no source.
const usualStraight = measure.Inch / 16

// sameCorner is the greatest difference of the readings of two walls in their corner without a
// finding: the accuracy of reading a rule.
const sameCorner = measure.Inch / 16

// levelOrFollow is the total rise of a floor above which the finding asks for a decision
// whether base follows it, even if it may; common practice, no source.
const levelOrFollow = 3 * measure.Inch / 8

// sameHeight is the greatest difference between the sum of two readings and a height without a
// finding: the accuracy of a rule twice, and of the tape.
const sameHeight = measure.Inch / 8

// validateReadings rejects invalid readings.
func (w Wall) validateReadings(bad *faults) {
	for _, f := range []struct {
		field  string
		s      scribe.Surface
		length measure.Length
	}{{"floor", w.Floor, w.Length}, {"ceiling", w.Ceiling, max(w.Length, w.TopLength)}} {
		bad.Under(f.field, f.s.Validate())
		if n := len(f.s); n > 0 && f.length > 0 && f.s[n-1].At > f.length && f.s[n-1].At <= maxWall {
			bad.Add(indexed(f.field, n-1)+".at", f.s[n-1].At.About(), fmt.Sprintf("at most the wall's %v", f.length.About()))
		}
	}
	bad.Under("lean", w.Lean.Validate())
}

// wasRead reports whether any wall has readings of the kind.
func (r *Room) wasRead(of func(Wall) scribe.Surface) bool {
	return slices.ContainsFunc(r.Walls, func(w Wall) bool { return len(of(w)) > 0 })
}

func floorOf(w Wall) scribe.Surface   { return w.Floor }
func ceilingOf(w Wall) scribe.Surface { return w.Ceiling }

// surface returns the readings of wall i. For a wall without readings, those of its neighbors
// give the corners, between which it is taken to be straight; nil if they give none.
func (r *Room) surface(i int, of func(Wall) scribe.Surface) scribe.Surface {
	n := len(r.Walls)
	w, before, next := r.Walls[i], r.Walls[(i+n-1)%n], r.Walls[(i+1)%n]
	if s := of(w); len(s) > 0 {
		return s
	}
	var s scribe.Surface
	if b := of(before); len(b) > 0 && before.Corner.joined() {
		s = append(s, scribe.Reading{At: 0, FromLine: b[len(b)-1].FromLine})
	}
	if b := of(next); len(b) > 0 && w.Corner.joined() {
		s = append(s, scribe.Reading{At: w.Length, FromLine: b[0].FromLine})
	}
	return s
}

func (r *Room) surfaces(of func(Wall) scribe.Surface) []scribe.Surface {
	var all []scribe.Surface
	for i := range r.Walls {
		all = append(all, r.surface(i, of))
	}
	return all
}

// floorShape returns the shape of the floor for the base, or for a base of an inch without one;
// ok is false if it was not read.
func (r *Room) floorShape(s Scheme, opt Options) (shape scribe.FloorShape, ok bool) {
	if !r.wasRead(floorOf) {
		return shape, false
	}
	f := scribe.Floor{Walls: r.surfaces(floorOf), Height: measure.Inch, MinBase: opt.MinBase}
	base, shoe := s.onFloor(r)
	if base != nil {
		f.Height = base.Width
	}
	if shoe != nil {
		f.Shoe = shoe.Width
	}
	shape, err := f.Shape()
	return shape, err == nil
}

// onFloor returns the base that stands on the floor of a room and the shoe before it, nil if
// there is none.
func (s Scheme) onFloor(r *Room) (base, shoe *stock.Profile) {
	for _, a := range s.assemblies() {
		if a.FromCeiling || a.At != 0 || !(course{rooms: a.Rooms}).runsIn(r) {
			continue
		}
		for i := range a.Members {
			switch m := &a.Members[i]; {
			case m.At != 0:
			case m.Profile.Role == stock.RoleBase && base == nil:
				base = &m.Profile
			case m.Profile.Role == stock.RoleShoe && shoe == nil:
				shoe = &m.Profile
			}
		}
	}
	return base, shoe
}

// atCeiling returns the crown of a room, nil if there is none.
func (s Scheme) atCeiling(r *Room) *stock.Profile {
	for _, a := range s.assemblies() {
		for i := range a.Members {
			if m := &a.Members[i]; m.Profile.Role == stock.RoleCrown && (course{rooms: a.Rooms}).runsIn(r) {
				return &m.Profile
			}
		}
	}
	return nil
}

// surface returns the readings for a line and its extent along them: a segment of a curve is on
// a part of its wall.
func (t *taker) surface(l *line, of func(Wall) scribe.Surface) (s scribe.Surface, from, to measure.Length) {
	part, length := t.section(l.wall), t.spans[l.wall].length
	return t.read.surface(part.wall, of), part.off(l.from, length), part.off(l.to, length)
}

// fitSurface fits a run to the floor or the ceiling, if they were read on its wall.
func (t *taker) fitSurface(l *line, run *stock.Run) *measure.FieldError {
	run.LeanLeft, run.LeanRight = l.leanLeft, l.leanRight
	run.DropLeft, run.DropRight = l.left.roll.Drop, l.right.roll.Drop
	role := t.course.profile.Role
	if t.course.ceiling {
		if t.opt.Ceiling == scribe.CeilingFollow {
			if above, from, to := t.surface(l, ceilingOf); len(above) > 0 {
				run.Slope = -above.Slope(from, to) // which is read upward
			}
		}
		return nil
	}
	floor, from, to := t.surface(l, floorOf)
	if t.course.lo != 0 && !t.course.foot || len(floor) == 0 {
		return nil
	}
	if role == stock.RoleShoe && t.course.lo == 0 {
		run.Slope = floor.Slope(from, to)
	}
	onBase := t.course.lo != 0 && role != stock.RoleShoe // like a cap, and level
	if role != stock.RoleBase && !onBase || t.course.stone {
		return nil
	}
	if t.floor == nil { // the same for all runs
		shape, _ := t.read.floorShape(t.scheme, t.opt)
		t.floor = &shape
	}
	shape := t.floor
	switch t.opt.Floor {
	case scribe.FloorFollow:
		run.Slope = floor.Slope(from, to)
	case scribe.FloorShoe:
		run.Bottom += floor.Line(from) - shape.High.FromLine
	default:
		if onBase {
			run.Bottom -= shape.Low.FromLine - floor.Line(from)
			return nil
		}
		cut := floor.Cut(from, to, shape.Low.FromLine, t.opt.StraightCut)
		for i := range cut.Marks { // along a segment of a curve, which is a little shorter than its arc
			cut.Marks[i].At, _, _ = cut.Marks[i].At.MulDiv(int64(run.Net), int64(to-from), measure.RoundHalfEven)
		}
		if run.Scribe = cut.Marks; cut.Deepest >= t.course.profile.Width {
			return &measure.FieldError{
				Field: "floor", Value: cut.Deepest.About() + " to scribe",
				Want: fmt.Sprintf("less than the base is high, %v: follow the floor, or take higher base", t.course.profile.Width.About()),
			}
		}
	}
	return nil
}

// roll notes at both ends of a line of crown how it is rolled there.
func (t *taker) roll(l *line) error {
	p := t.course.profile
	if p.Role != stock.RoleCrown || t.opt.Ceiling != scribe.CeilingRoll || !t.read.wasRead(ceilingOf) {
		return nil
	}
	if t.ceiling == nil { // the same for all lines
		shape, err := scribe.Ceiling{Walls: t.read.surfaces(ceilingOf), Crown: p}.Shape()
		if err != nil {
			return err
		}
		t.ceiling = &shape
	}
	above, from, to := t.surface(l, ceilingOf)
	for _, e := range []struct {
		m  *meeting
		at measure.Length
	}{{&l.left, from}, {&l.right, to}} {
		e.m.roll = scribe.Roll{}
		rise := above.Line(e.at) - t.ceiling.Low.FromLine
		if rise == 0 || len(above) == 0 { // an unknown end is taken to be low
			continue
		}
		r, err := scribe.NewRoll(p, p.Drop()+rise)
		if err != nil {
			return &measure.FieldError{
				Field: "ceiling", Value: fmt.Sprintf("%v above its lowest point", rise.About()),
				Want: fmt.Sprintf("less than %v, or crown wider than %v, to be rolled so far", (p.Width - p.Drop()).About(p.Width), p.Width.About()),
			}
		}
		e.m.roll = r
	}
	return nil
}

// rolled returns the crown as it lies at the end.
func (m *meeting) rolled(p stock.Profile) stock.Profile {
	if m.roll.Drop != 0 {
		p.Spring = m.roll.Spring
	}
	return p
}

// leaning returns the added length of an end of base in a corner that leans away from it, and
// records in the line the projection of its top.
func (t *taker) leaning(l *line, m *meeting, side string, c Corner) ([]stock.Allowance, error) {
	if t.course.profile.Role != stock.RoleBase || t.course.lo != 0 || !c.joined() || c.straight() || side == "left" && l.before != nil || side == "right" && l.after != nil {
		return nil, nil
	}
	n := len(t.room.Walls)
	next, lean := (l.wall+1)%n, &l.leanRight
	if side == "left" {
		next, lean = (l.wall+n-1)%n, &l.leanLeft
	}
	for _, wall := range []int{l.wall, next} { // the lean of a curve is not measured
		if t.section(wall).segment || t.bending(wall) != nil {
			return nil, nil
		}
	}
	x, err := t.room.Walls[l.wall].Lean.Corner(t.room.Walls[next].Lean, c.Angle, c.Kind == CornerOutside, t.course.hi)
	if *lean = x; err != nil || x <= 0 {
		return nil, err
	}
	return []stock.Allowance{{Name: "corner out of plumb at " + side, Length: x}}, nil
}

// levels reports how the floor and the ceiling of a room lie and what that means for the trim.
func levels(r *Room, s Scheme, opt Options) []Finding {
	v := leveler{r: r, s: s, opt: opt, w: opt.words()}
	v.corners("floor", floorOf)
	v.corners("ceiling", ceilingOf)
	v.heights()
	v.floor()
	v.ceiling()
	v.legs()
	return v.fs
}

type leveler struct {
	r   *Room
	s   Scheme
	opt Options
	w   words
	fs  []Finding
}

func (v *leveler) add(f Finding) {
	f.Room = v.r.Name
	v.fs = append(v.fs, f)
}

// corners doubts readings of two walls that differ where they meet.
func (v *leveler) corners(what string, of func(Wall) scribe.Surface) {
	walls := v.r.Walls
	for i, w := range walls {
		next := walls[(i+1)%len(walls)]
		a, b := of(w), of(next)
		if !w.Corner.joined() || len(a) == 0 || len(b) == 0 || a[len(a)-1].At != w.Length || b[0].At != 0 {
			continue
		}
		x, y := a[len(a)-1].FromLine, b[0].FromLine
		if d := max(x-y, y-x); d > sameCorner {
			v.add(Finding{
				Code: FindingCornerReading, Severity: SeverityDoubt, Wall: w.Name, Length: d, Suspects: []string{w.Name, next.Name},
				Reason: fmt.Sprintf("in the corner of %s and %s the %s is %v from the level line on one wall and %v on the other", w.Name, next.Name, what, v.w.About(x), v.w.About(y)),
			})
		}
	}
}

// heights doubts readings of floor and ceiling whose sum differs from the measured height at
// the end of a wall.
func (v *leveler) heights() {
	for _, w := range v.r.Walls {
		n, m := len(w.Floor), len(w.Ceiling)
		if n == 0 || m == 0 {
			continue
		}
		for _, e := range []struct {
			side           string
			at, height     measure.Length
			floor, ceiling scribe.Reading
		}{{"left", 0, w.HeightLeft, w.Floor[0], w.Ceiling[0]}, {"right", w.Length, w.HeightRight, w.Floor[n-1], w.Ceiling[m-1]}} {
			if e.height == 0 || e.floor.At != e.at || e.ceiling.At != e.at {
				continue
			}
			sum := e.floor.FromLine + e.ceiling.FromLine
			if d := max(sum-e.height, e.height-sum); d > sameHeight {
				v.add(Finding{
					Code: FindingHeightReading, Severity: SeverityDoubt, Wall: w.Name, Length: d,
					Reason: fmt.Sprintf("from the level line down to the floor and up to the ceiling are %v at the %s end of %s, and its height there is %v",
						v.w.About(sum), e.side, w.Name, v.w.About(e.height)),
				})
			}
		}
	}
}

// place describes the position of a point.
func (v *leveler) place(p scribe.Point) string {
	return fmt.Sprintf("%v of %s", v.w.About(p.At), v.r.Walls[p.Wall].Name)
}

// unread names the walls without readings, if others have some.
func (v *leveler) unread(of func(Wall) scribe.Surface) string {
	var text string
	for _, known := range []bool{true, false} {
		var names []string
		for i, w := range v.r.Walls {
			if len(of(w)) == 0 && (len(v.r.surface(i, of)) > 0) == known {
				names = append(names, w.Name)
			}
		}
		called := strings.Join(names, ", ")
		if n := len(names); n > 3 {
			called = fmt.Sprintf("%d walls", n)
		}
		switch {
		case len(names) == 0:
		case known:
			text += "; known by the corners only: " + called
		default:
			text += "; not read: " + called
		}
	}
	return text
}

// rule is the greatest slope to follow, in local units.
func (v *leveler) rule() string { return v.w.or("1/4 in per 6 ft", "3.5 mm per meter") }

func (v *leveler) floor() {
	shape, ok := v.r.floorShape(v.s, v.opt)
	if !ok || shape.Rise == 0 {
		return
	}
	advice := map[scribe.FloorFit]string{
		scribe.FloorFollow: "base may follow it, as up to " + v.rule(),
		scribe.FloorShoe:   "more than the " + v.rule() + " that base may follow: set it level, and shoe covers the gap",
		scribe.FloorScribe: "more than the " + v.rule() + " that base may follow: set it level and scribe it",
	}[shape.Advice]
	f := Finding{Code: FindingFloorLevel, Severity: SeverityAdvice, Wall: v.r.Walls[shape.High.Wall].Name, Length: shape.Rise}
	switch {
	case shape.MayFollow && shape.Rise > levelOrFollow:
		advice += fmt.Sprintf(", but is then %v out of level in all, more than %s: decide between the two", v.w.About(shape.Rise), v.w.or("3/8 in", "10 mm"))
	case shape.MayFollow:
		f.Severity = SeverityNote
	}
	f.Reason = fmt.Sprintf("the floor is %v higher at %s than at %s, at most %s within %s: %s%s",
		v.w.About(shape.Rise), v.place(shape.High), v.place(shape.Low), v.w.about(shape.Fall), v.w.or("6 ft", "1.83 m"), advice, v.unread(floorOf))
	v.add(f)
	v.fs = append(v.fs, baseOnFloor(v.r, v.s, v.opt, shape)...)
}

// baseOnFloor reports whether the base, or the shoe, is high enough for the chosen fit.
func baseOnFloor(r *Room, s Scheme, opt Options, shape scribe.FloorShape) []Finding {
	w := opt.words()
	base, shoe := s.onFloor(r)
	switch {
	case base == nil:
	case opt.Floor == scribe.FloorScribe && !shape.HighEnough:
		f := Finding{Code: FindingBaseHeight, Severity: SeverityAdvice, Room: r.Name, Wall: r.Walls[shape.High.Wall].Name, Length: shape.Needed - base.Width}
		if shape.Remaining <= 0 {
			f.Severity = SeverityDoubt
		}
		f.Reason = fmt.Sprintf("scribed by up to %v, base %s of %v keeps %v where the floor is highest; to keep %v it would have to be sold %v high",
			w.About(shape.Rise), base.Name, w.About(base.Width), w.About(max(0, shape.Remaining)), w.About(shape.Needed-shape.Rise), w.About(shape.Needed))
		return []Finding{f}
	case opt.Floor == scribe.FloorShoe && !shape.ShoeCovers:
		f := Finding{Code: FindingShoeGap, Severity: SeverityAdvice, Room: r.Name, Wall: r.Walls[shape.Low.Wall].Name, Length: shape.Rise}
		f.Reason = fmt.Sprintf("base that stands level on the highest point is %v off the floor where it is lowest; ", w.About(shape.Rise))
		if shoe == nil {
			f.Reason += "without shoe it shows"
		} else {
			f.Reason += fmt.Sprintf("shoe %s of %v has to lap over the base by %s and does not", shoe.Name, w.About(shoe.Width), w.or("1/4 in", "6 mm"))
		}
		return []Finding{f}
	}
	return nil
}

func (v *leveler) ceiling() {
	if !v.r.wasRead(ceilingOf) {
		return
	}
	crown := stock.Profile{Name: "crown", Width: measure.Inch, Thickness: measure.Inch}
	mine := v.s.atCeiling(v.r)
	if mine != nil {
		crown = *mine
	}
	shape, err := scribe.Ceiling{Walls: v.r.surfaces(ceilingOf), Crown: crown}.Shape()
	if err != nil || shape.Rise == 0 {
		return
	}
	f := Finding{Code: FindingCeilingLevel, Severity: SeverityAdvice, Wall: v.r.Walls[shape.Low.Wall].Name, Length: shape.Rise}
	f.Reason = fmt.Sprintf("the ceiling is %v lower at %s than at %s, at most %s within %s",
		v.w.About(shape.Rise), v.place(shape.Low), v.place(shape.High), v.w.about(shape.Fall), v.w.or("6 ft", "1.83 m"))
	if mine != nil {
		f.Reason += ": " + v.crown(shape, mine.Name)
	}
	if mine == nil && shape.MayFollow || mine != nil && v.crownLooksWell(shape) {
		f.Severity = SeverityNote
	}
	f.Reason += v.unread(ceilingOf)
	v.add(f)
}

// crownLooksWell reports whether the chosen fit hides the deviation.
func (v *leveler) crownLooksWell(shape scribe.CeilingShape) bool {
	switch v.opt.Ceiling {
	case scribe.CeilingLevel:
		return shape.MayFill
	case scribe.CeilingRoll:
		return shape.MayRoll
	}
	return shape.MayFollow
}

// crown describes the result of the chosen fit, and of the others if it shows.
func (v *leveler) crown(shape scribe.CeilingShape, name string) string {
	fill := v.w.or("3/16 in", "5 mm")
	way := func(f scribe.CeilingFit) string {
		switch f {
		case scribe.CeilingLevel:
			if shape.MayFill {
				return fmt.Sprintf("on a level line crown leaves %v above it, which may be filled", v.w.About(shape.Rise))
			}
			return fmt.Sprintf("on a level line crown leaves %v above it, more than the %s that is filled", v.w.About(shape.Rise), fill)
		case scribe.CeilingRoll:
			if !shape.MayRoll {
				return fmt.Sprintf("crown %s is too narrow to be rolled so far", name)
			}
			return fmt.Sprintf("rolled to keep its lower edge level, crown drops %s there, stands out %s and springs at %s; keep that drop in the saw",
				v.w.about(shape.Rolled.Drop), v.w.about(shape.Rolled.Projection), v.w.FormatAngle(shape.Rolled.Spring.Round(measure.Degree/10, measure.RoundHalfEven)))
		}
		if shape.MayFollow {
			return "crown may follow it, as up to " + v.rule()
		}
		return "more than the " + v.rule() + " that crown may follow"
	}
	said := way(v.opt.Ceiling)
	if !v.crownLooksWell(shape) && shape.Advice != v.opt.Ceiling {
		said += "; " + way(shape.Advice)
	}
	return said
}

// legs reports doors at which the floor makes one leg of the casing longer, unless both sides
// were measured.
func (v *leveler) legs() {
	for wi, w := range v.r.Walls {
		floor := v.r.surface(wi, floorOf)
		for i, o := range w.Openings {
			if len(floor) == 0 || o.RightHeight != 0 || !o.cased(v.s.at(o)) || o.Kind == OpeningWindow {
				continue
			}
			left, right := floor.Line(o.At), floor.Line(o.At+o.Width)
			d, side := right-left, "right"
			if d < 0 {
				d, side = -d, "left"
			}
			if d < measure.Inch/32 {
				continue
			}
			v.add(Finding{
				Code: FindingUnevenLegs, Severity: SeverityAdvice, Wall: w.Name, Length: d,
				Reason: fmt.Sprintf("the floor is %s lower at the %s jamb of %s: if its head is level, that leg of the casing is so much longer; measure both", v.w.about(d), side, w.openingName(i)),
			})
		}
	}
}

// fillFloor checks the options for floor and ceiling and fills in the defaults.
func (o *Options) fillFloor(bad *faults) {
	if _, err := o.Floor.MarshalText(); err != nil {
		bad.Under("floor", err)
	}
	if _, err := o.Ceiling.MarshalText(); err != nil {
		bad.Under("ceiling", err)
	}
	if bad.length("straight_cut", o.StraightCut, 0, maxHeight); o.ExactCut && o.StraightCut != 0 {
		bad.Add("straight_cut", o.StraightCut.About(), "nothing, because the cut is to be exact (exact_cut)")
	}
	bad.length("min_base", o.MinBase, 0, 1000*measure.Foot)
	if !o.ExactCut {
		setDefault(&o.StraightCut, usualStraight)
	}
}
