package takeoff

import (
	"fmt"
	"slices"
	"strings"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
)

// lowBase is the height up to which base may be spliced anywhere, because it can be nailed into
// the plate ("Splicing Baseboards", Fine Homebuilding).
const lowBase = 5 * measure.Inch / 2

// clear returns the distance between a splice and the ends of its run, and part the shortest
// part.
func (t *taker) clear() (clear, part measure.Length) {
	clear, part = t.opt.Clear, t.opt.MinPart
	if p := t.course.profile; p.ButtSpliced {
		setDefault(&part, p.Longest()/2)
		return clear, part
	}
	setDefault(&clear, 24*measure.Inch)
	setDefault(&part, 16*measure.Inch)
	return clear, part
}

// splice sets where the run may be spliced and, if it is longer than the longest usable stick,
// where it is spliced.
func (t *taker) splice(l *line, run *stock.Run) error {
	p := t.course.profile
	longest := p.Longest()
	if p.ButtSpliced && p.StripJoint > 0 {
		// No slivers here means none either if splices are optimized with the cuts.
		run.Splice = stock.SpliceRule{Anywhere: true, Overlap: -p.StripJoint, MinPart: max(0, longest-p.StripJoint) / 2}
		if longest == 0 {
			return nil
		}
		tiles := Tiling{Strip: longest, Joint: p.StripJoint, FullLeft: seen(l.left), FullRight: seen(l.right)}
		layout, err := tiles.Lay(l.length)
		if err != nil {
			return err
		}
		run.Splices = layout.Joints
		return nil
	}
	var overlap measure.Length
	if !p.ButtSpliced {
		var err error
		if overlap, err = joint.ScarfOverlap(scarfDepth(p), t.opt.Bevel); err != nil {
			return err
		}
	}
	run.Splice = t.spliceRule(l, overlap)
	if longest == 0 || l.length <= longest {
		return nil
	}
	at, ok := run.Splice.Place(l.length, longest)
	if len(run.Splice.Avoid) > 0 { // but never at the cost of another splice
		all := run.Splice
		all.At = merge(all.At, all.Avoid)
		if fewer, can := all.Place(l.length, longest); can && (!ok || len(fewer) < len(at)) {
			at, ok = fewer, true
			t.noteSeen(l, run, at)
		}
	}
	if !ok {
		return &SpliceError{
			Run: run.Label, Length: l.length, Longest: longest,
			Clear: run.Splice.Clear, MinPart: run.Splice.MinPart, Overlap: overlap, Studs: len(run.Splice.At) + len(run.Splice.Avoid),
		}
	}
	run.Splices = at
	return nil
}

// scarfDepth returns the depth of a scarf: that of a miter, but the thickness of a soffit.
func scarfDepth(p stock.Profile) measure.Length {
	if p.Role == stock.RoleSoffit {
		return p.Thickness
	}
	return p.Projection()
}

// seen reports whether the end of a strip is visible: around a corner, or free.
func seen(m meeting) bool {
	return m.end.Kind == stock.EndOutsideMiter || m.end.Kind == stock.EndReturn
}

// spliceRule returns the freedom to splice a line. Positions are middles of splices,
// counted from the left long point.
func (t *taker) spliceRule(l *line, overlap measure.Length) stock.SpliceRule {
	p := t.course.profile
	r := stock.SpliceRule{Overlap: overlap, RightOver: t.rightOver(l)}
	r.Clear, r.MinPart = t.clear()
	if !p.ButtSpliced {
		r.Bevel = t.opt.Bevel
	}
	avoid := t.avoid(l.wall)
	anywhere := p.ButtSpliced || p.Role == stock.RoleShoe || (p.Role == stock.RoleBase && p.Width <= lowBase)
	if anywhere && len(avoid) == 0 {
		r.Anywhere = true
		return r
	}
	w := t.room.Walls[l.wall]
	studs := w.Studs
	if studs.isZero() {
		studs = t.room.Studs
	}
	r.Assumed = studs.isZero() && !anywhere
	if anywhere { // except in places to avoid: every inch is as good as a stud
		studs = Studs{Spacing: measure.Inch}
	}
	shift := l.reach - l.from
	put := func(x measure.Length) { // x is counted from the left end of the wall
		if at := t.along(l, x); reached(avoid, x, overlap) != nil {
			r.Avoid = insert(r.Avoid, at)
		} else {
			r.At = insert(r.At, at)
		}
	}
	for _, x := range studs.middles(max(0, l.from+r.Clear), min(t.spans[l.wall].length, l.to-r.Clear)) {
		if at := t.along(l, x); at > 0 && at < l.length {
			put(x)
		}
	}
	if longest := p.Longest(); anywhere && longest > 0 && l.length > longest {
		// If whole inches do not serve, or only with more splices, others do.
		fewer := func(than stock.SpliceRule, free []interval) {
			at, ok := placeBetween(r, l.length, longest, free)
			if on, can := than.Place(l.length, longest); ok && (!can || len(at) < len(on)) {
				for _, x := range at {
					put(t.across(l, x))
				}
			}
		}
		fewer(r, between(avoid, overlap, shift, l.length))
		all := r
		all.At = merge(r.At, r.Avoid)
		fewer(all, []interval{{0, l.length}})
	}
	return r
}

// between returns the positions on a run at which the middle of a splice reaches into no
// stretch to avoid.
func between(avoid []KeepClear, overlap, shift, length measure.Length) []interval {
	free := []interval{{0, length}}
	for _, a := range avoid {
		free = overlapping(free, []interval{{-length, a.At - overlap/2 + shift}, {a.At + a.Width + overlap/2 + shift, 2 * length}})
	}
	return free
}

// avoid returns the stretches of a wall to keep clear of splices.
func (t *taker) avoid(wall int) []KeepClear {
	as := t.keepOffDevices(wall, t.room.Walls[wall].KeepClear)
	if t.opt.Sight == 0 {
		return as
	}
	if facing, at, ok := t.room.faced(); ok && facing == wall {
		as = append(as[:len(as):len(as)], KeepClear{Name: "the line of sight", At: at - t.opt.Sight/2, Width: t.opt.Sight})
	}
	return as
}

// reached returns the first stretch that a splice with its middle at x reaches into.
func reached(avoid []KeepClear, x, overlap measure.Length) *KeepClear {
	for i, a := range avoid {
		if x+overlap/2 > a.At && x-overlap/2 < a.At+a.Width {
			return &avoid[i]
		}
	}
	return nil
}

// noteSeen reports the splices in stretches to keep clear.
func (t *taker) noteSeen(l *line, run *stock.Run, at []measure.Length) {
	avoid := t.avoid(l.wall)
	var where []string
	for _, x := range at {
		if a := reached(avoid, t.across(l, x), run.Splice.Overlap); a != nil {
			where = append(where, fmt.Sprintf("%v (%s)", t.opt.words().About(x), a.Name))
		}
	}
	t.note(Finding{
		Code: FindingSpliceSeen, Severity: SeverityAdvice, Room: t.room.Name, Wall: t.room.Walls[l.wall].Name,
		Reason: fmt.Sprintf("%s cannot be spliced, or only more often, but where it should not be, at %s", run.Label, strings.Join(where, ", ")),
	})
}

// insert adds a position to an ascending list, once.
func insert(at []measure.Length, x measure.Length) []measure.Length {
	i, found := slices.BinarySearch(at, x)
	if found {
		return at
	}
	return slices.Insert(at, i, x)
}

// merge returns the positions of both, ascending.
func merge(a, b []measure.Length) []measure.Length {
	var all []measure.Length
	for len(a) > 0 && len(b) > 0 {
		if a[0] < b[0] {
			all, a = append(all, a[0]), a[1:]
		} else {
			all, b = append(all, b[0]), b[1:]
		}
	}
	return append(append(all, a...), b...)
}
