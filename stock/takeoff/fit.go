package takeoff

import (
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// fitted returns the allowances of the fit for a line.
func (t *taker) fitted(l *line) ([]stock.Allowance, error) {
	if t.opt.Fit == nil {
		return nil, nil
	}
	m, _ := t.opt.Catalog.Material(t.course.profile.Material)
	if t.course.profile.StripJoint > 0 { // strips with open joints have nothing to bow against
		m.Rigid = true
	}
	if l.left.free() || l.right.free() || t.section(l.wall).segment { // segments are fitted to each other
		return nil, nil
	}
	as, err := t.opt.Fit.Allowances(m, l.to-l.from, l.left.face && l.right.face)
	for i := range as {
		as[i].Name = t.opt.words().fitName(as[i].Name, t.opt.Fit.InstallTemp, t.opt.Fit.MaxTemp)
	}
	return as, err
}

// free reports whether nothing is beyond the end.
func (m *meeting) free() bool {
	return m.end.Kind == stock.EndOutsideMiter || m.end.Kind == stock.EndReturn || m.end.Kind == stock.EndScribe
}

// openJoint returns the open joint at the end of a strip of stone or tile. In a corner only the
// fitted strip has one; the other runs on behind it.
func (t *taker) openJoint(m *meeting, side string, c Corner) measure.Length {
	j := t.course.profile.StripJoint
	move := max(j, t.opt.MovementJoint)
	switch {
	case j == 0 || m.end.Kind == stock.EndReturn:
		return 0
	case m.next < 0:
		return move
	case m.cope && m.end.Kind == stock.EndButt:
		return move
	case m.cope:
		return 0
	case c.Kind == CornerInside && !c.straight():
		j = move
	}
	if side == "left" {
		return j - j/2
	}
	return j / 2
}
