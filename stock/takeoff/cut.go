package takeoff

import (
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/curve"
)

// cut turns the lines of the course into runs and pieces and counts their joints.
func (t *taker) cut() {
	for wall, s := range t.spans {
		var live []int
		for k := s.first; k < s.last; k++ {
			if !t.lines[k].gone {
				live = append(live, k)
			}
		}
		for i, k := range live {
			label := t.label(wall)
			if len(live) > 1 {
				label += " " + letters(i)
			}
			l := &t.lines[k]
			if l.uncut {
				continue
			}
			if err := t.cutLine(label, l); err != nil {
				t.fault(l, err)
			}
		}
		t.cutReturns(wall, live)
	}
}

// cutLine adds a line to the list, or reports why it cannot be cut.
func (t *taker) cutLine(label string, l *line) error {
	defer t.onCurve(l.wall)()
	p := t.course.profile
	run := stock.Run{
		Label: label, Profile: p.Name, Role: p.Role, Assembly: t.course.assembly, Order: t.course.order, Wall: t.room.Walls[l.wall].Name, Room: t.room.Name,
		Start: t.section(l.wall).off(l.from, t.spans[l.wall].length), Net: l.to - l.from, Reach: l.reach, Bottom: t.bottom(l.wall), Standoff: t.course.standoff,
		Length: l.length, Left: l.left.end, Right: l.right.end, Allowances: l.as,
	}
	if err := t.fitSurface(l, &run); err != nil {
		return err
	}
	t.ends = Joints{}
	t.incline(l, &run)
	corners := 0
	for _, m := range []meeting{l.left, l.right} {
		if m.own && m.count != nil {
			*m.count++
		}
		if m.own && m.corner {
			corners++
		}
		t.sharp(l, m.end)
	}
	if err := t.splice(l, &run); err != nil {
		return err
	}
	pieces, err := run.Pieces(run.Splices)
	if err != nil {
		return err
	}
	for i := range pieces {
		if n := len(run.Splices); n > 0 { // as Pieces says it, for the country
			from, to := measure.Length(0), run.Length
			if i > 0 {
				from = run.Splices[i-1]
			}
			if i < n {
				to = run.Splices[i]
			}
			w := t.opt.words()
			pieces[i].Allowances[0].Name = fmt.Sprintf("%s from %v to %v", label, w.About(from, run.Length), w.About(to, run.Length))
		}
	}
	first, curves := len(t.list.Pieces), len(t.list.Curves)
	t.list.add(p, t.course.stone, run, pieces, t.ends, corners)
	cut := t.recordNotches(l, &run)
	if err := t.recordEnds(l, run.Label); err != nil {
		return err
	}
	if err := t.recordCurve(l, run.Label); err != nil {
		return err
	}
	var kerfs *curve.Kerfs
	if cs := t.list.Curves; len(cs) > curves && cs[len(cs)-1].Method == CurveKerfed {
		kerfs = &cs[len(cs)-1].Kerfs
	}
	t.opt.words().noted(&run, t.list.Pieces[first:first+len(pieces)], cut, kerfs)
	t.list.Runs[len(t.list.Runs)-1].Notes = run.Notes
	return nil
}

// bottom returns the lower edge of the course on a wall, above the floor; zero at a ceiling
// whose height was not measured.
func (t *taker) bottom(wall int) measure.Length {
	bottom, _, known := t.course.edges(t.room, wall)
	if !known {
		return 0
	}
	return max(0, bottom)
}

// sharp doubts an outside corner whose miter reaches farther beyond the wall than the wall is
// long, but only below 60°: around a shallow jog that is normal.
func (t *taker) sharp(l *line, e stock.End) {
	w := t.opt.words()
	if wall := l.to - l.from; e.Kind == stock.EndOutsideMiter && e.Corner() < 60*measure.Degree && e.Setback > wall {
		t.note(Finding{
			Code: FindingSliver, Severity: SeverityDoubt, Room: t.room.Name, Wall: t.room.Walls[l.wall].Name, Length: wall, Angle: e.Corner(),
			Reason: fmt.Sprintf("the miter of %s around the outside corner of %v reaches %s beyond %v of wall; look at the angle again",
				t.course.profile.Role, w.FormatAngle(e.Corner()), w.about(e.Setback), w.About(wall)),
		})
	}
}

// cutReturns adds the small pieces that close the returned ends of a wall. Each is as long at
// its face as the trim is thick, and has no length at its back; one that goes on to the wall is
// longer by the standoff of the trim.
func (t *taker) cutReturns(wall int, live []int) {
	p := t.course.profile
	var returns []stock.Piece
	label := t.label(wall) + " return"
	for _, k := range live {
		for side, end := range []stock.End{t.lines[k].left.end, t.lines[k].right.end} {
			if end.Kind != stock.EndReturn {
				continue
			}
			piece := stock.Piece{
				Length: end.Setback, Profile: p.Name, Left: end, Right: stock.End{},
				Allowances: []stock.Allowance{{Name: "projection of " + p.Name, Length: end.Setback}},
			}
			if near := []measure.Length{t.lines[k].left.near, t.lines[k].right.near}[side]; t.course.toWall && near < t.course.standoff {
				piece.Length += t.course.standoff - near
				piece.Allowances = append(piece.Allowances, stock.Allowance{Name: t.course.before + " behind it", Length: t.course.standoff - near})
			}
			if side == 0 { // it stands to the left of the run, its miter at its right
				piece.Left, piece.Right = piece.Right, piece.Left
			}
			returns = append(returns, piece)
		}
	}
	if len(returns) == 0 {
		return
	}
	for i := range returns {
		returns[i].Label = numbered(label, i+1, len(returns))
	}
	t.list.cut(t.list.totals(t.room.Name, p, t.course.stone), t.room.Name, t.room.Walls[wall].Name, returns...)
	t.note(shortReturn(label, t.room.Name, t.room.Walls[wall].Name, returns[0].Length))
}

// shortReturn returns the caution for a return piece.
func shortReturn(label, room, wall string, length measure.Length) Finding {
	return Finding{
		Code: FindingShortReturn, Severity: SeverityCaution, Room: room, Wall: wall, Length: length,
		Reason: fmt.Sprintf("%s is too short to hold at the saw: cut it off the end of a longer piece, let the blade stop, then take it away", label),
	}
}
