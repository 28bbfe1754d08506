package finish

import (
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

// done is the work of a step, in each unit that a labor rate may count.
type done struct {
	length measure.Length
	area   measure.Area
	count  int64
	joints int64 // with work of their own, in every coat
}

// take returns the need of one step for its material in a job, and the work
// done. Joints that other steps of the system fill are not filled again.
func (s Step) take(w words, j Job, by filledBy) (Need, done, error) {
	material := or(s.Material, usualMaterial[s.Task])
	face := j.Face
	if face == 0 {
		face = j.Height
	}
	back := j.Back
	if back == 0 {
		back = j.Height
	}
	if s.Coats < 0 {
		return Need{}, done{}, fault.Field("coats", s.Coats, "zero or more")
	}
	times := int64(1)
	if s.Task.repeats() && s.Coats > 0 {
		times = s.Coats
	}
	length, ok := natural.Mul(int64(j.Length), times)
	if !ok {
		return Need{}, done{}, tooLarge("the length of all coats")
	}
	wide := face
	if s.Task == TaskSet {
		wide = back
	}
	area, err := surface(measure.Length(length), wide, 0)
	if err != nil {
		return Need{}, done{}, err
	}
	joints, err := s.joints(j, by)
	if err != nil {
		return Need{}, done{}, err
	}
	d := done{length: measure.Length(length), area: area}
	if d.joints, ok = natural.Mul(joints, times); !ok {
		return Need{}, done{}, tooLarge("the joints of all coats")
	}
	var n Need
	switch s.Task {
	case TaskInstall:
		n, err = Nails{Material: material, Length: j.Length, Runs: j.Runs, Spacing: j.Studs, PerStud: s.PerStud,
			Joints: j.Splices, PerJoint: s.PerJoint, Waste: s.Waste}.need(w)
		d.count, _ = n.Net.Pieces()
	case TaskBrad:
		each := s.PerStud
		if each == 0 {
			each = 1
		}
		n, err = Nails{Material: material, Length: j.Length, Runs: j.Runs, Spacing: j.Studs, PerStud: each, Waste: s.Waste}.need(w)
		d.count, _ = n.Net.Pieces()
	case TaskGlueJoints:
		n, err = s.glue(w, j, material)
		d.count = j.Glued
	case TaskGlue:
		n, err = Adhesive{Material: material, Section: s.Section.or(BeadRound, measure.Inch/4), Length: j.Length,
			Path: s.Path, Waste: s.Waste}.need(w)
	case TaskFill:
		n, err = Holes{Material: material, Count: j.Holes, Waste: s.Waste}.need(w)
		d.count = j.Holes
	case TaskSand:
		n, err = Sanding{Material: material, Length: j.Length, Times: times, Reach: s.Yield, Waste: s.Waste}.need(w)
	case TaskCaulk:
		n, d.length, err = s.caulk(w, j, by, material, joints)
	case TaskMask:
		n, err = Masking{Material: material, Length: j.Length, Lines: s.Lines, Waste: s.Waste}.need(w)
		d.length, _ = n.Net.Length()
	case TaskPrime, TaskPaint, TaskSeal:
		n, err = s.coat(w, j, material, face, times, &d)
	case TaskSet:
		if s.Yield.IsZero() {
			n, err = w.need(material, AmountOf(area), s.Waste, w.along(j.Length)+" of base with a bed "+w.across(back)+" high: "+w.amount(AmountOf(area)))
			break
		}
		n, err = Mortar{Material: material, Length: j.Length, Height: back, Coverage: s.Yield, Waste: s.Waste}.need(w)
	case TaskGrout:
		if j.Length == 0 {
			n, err = w.need(material, Amount{dim: byWeight}, s.Waste)
			break
		}
		d.count = joints
		n, err = Grout{Material: material, Length: j.Length, Tile: j.course(), Between: j.CourseJoints, Ends: j.Outside,
			Bottom: s.Bottom, Top: s.Top, Density: s.Yield, Waste: s.Waste}.need(w)
	case TaskClean:
		n, err = s.wipe(w, j, material, face, times, area)
	case TaskBackerRod:
		n, d.length, err = s.backerRod(w, j, material)
	}
	return n, d, err
}

// coat returns the need for primer, paint or sealer; of a preprimed job only the spots are primed, which d is told.
func (s Step) coat(w words, j Job, material string, face measure.Length, times int64, d *done) (n Need, err error) {
	if s.Task == TaskPrime && j.Preprimed {
		if d.length, d.area, err = j.spots(times); err != nil {
			return n, err
		}
		return s.spread(w, material, d.area, itoa(j.Holes)+" holes and the cut ends, "+itoa(times)+" coat(s): "+w.amount(AmountOf(d.area)))
	}
	if s.Yield.IsZero() {
		return w.need(material, AmountOf(d.area), s.Waste, w.along(j.Length)+" with a developed face of "+w.across(face)+
			", "+itoa(times)+" coat(s): "+w.amount(AmountOf(d.area)))
	}
	return Coating{Material: material, Length: j.Length, Face: face, Coats: times, Spread: s.Yield, Waste: s.Waste}.need(w)
}

// wipe returns the need for what the trim is cleaned with; without a material it takes labor only.
func (s Step) wipe(w words, j Job, material string, face measure.Length, times int64, area measure.Area) (Need, error) {
	switch {
	case material == "":
		return Need{}, nil
	case s.Yield.IsZero():
		return w.need(material, AmountOf(area), s.Waste, w.along(j.Length)+" with a developed face of "+w.across(face)+
			", wiped "+itoa(times)+" time(s): "+w.amount(AmountOf(area)))
	}
	return Coating{Material: material, Length: j.Length, Face: face, Coats: times, Spread: s.Yield, Waste: s.Waste}.need(w)
}

// backerRod returns the need for backer rod and the length of the joints that it is pressed into.
func (s Step) backerRod(w words, j Job, material string) (Need, measure.Length, error) {
	lines := s.Lines
	if lines == 0 {
		lines = 1
	}
	if lines < 0 {
		return Need{}, 0, fault.Field("lines", lines, "zero or more")
	}
	l, ok := natural.Mul(int64(j.Length), lines)
	if !ok {
		return Need{}, 0, tooLarge("the length of backer rod")
	}
	n, err := BackerRod{Material: material, Length: measure.Length(l), Joint: s.Section.Width, Waste: s.Waste}.need(w)
	return n, measure.Length(l), err
}

// course returns the tile of a one-course base.
func (j Job) course() Tile {
	if j.Tile.Width == 0 {
		j.Tile.Width = j.Height
	}
	return j.Tile
}

// isCourse reports whether the job is stone or tile, laid in strips.
func (j Job) isCourse() bool { return j.CourseJoints > 0 || j.Tile != Tile{} }

// between returns the number of upright joints between the strips of a course.
func (j Job) between() (int64, error) {
	if j.CourseJoints > 0 || j.Tile == (Tile{}) || j.Length == 0 {
		return j.CourseJoints, nil
	}
	n, err := Grout{Length: j.Length, Tile: j.course()}.Joints()
	return n, err
}

// filledBy records the joints that other steps of the same system fill.
type filledBy struct {
	grout *Step // the step that grouts, or nil
	caulk bool  // an earlier step has caulked the corners
}

// joints returns the number of joints and corners at which the step has work of
// its own. Every upright joint of a course is filled once: the grout step fills
// those between strips and the outside corners, and sealant the inside corners, or
// all of them if nothing is grouted. The first caulk step of a system does corners
// and splices, later ones only edges. The strips themselves are set by the foot.
func (s Step) joints(j Job, by filledBy) (int64, error) {
	n, ok := natural.Add(j.Splices, j.Corners)
	switch s.Task {
	case TaskGlueJoints:
		return j.Glued, nil
	case TaskCaulk:
		if by.caulk {
			return 0, nil
		}
		if by.grout != nil {
			return j.Corners - j.Outside, nil
		}
		between, err := j.between()
		if err != nil {
			return 0, err
		}
		if ok {
			n, ok = natural.Add(n, between)
		}
	case TaskGrout:
		between, err := j.between()
		if err != nil {
			return 0, err
		}
		n, ok = natural.Add(between, j.Outside)
	}
	if !ok {
		return 0, tooLarge("the number of joints")
	}
	return n, nil
}

// edges returns the number of edges that the step caulks, without those that are
// grouted.
func (s Step) edges(j Job, by filledBy) int64 {
	switch {
	case s.Lines != 0:
		return s.Lines
	case !j.isCourse():
		return max(j.Edges, 1)
	}
	n := j.Edges
	if n == 0 {
		n = 2 // floor and top
	}
	if by.grout != nil && by.grout.Bottom {
		n--
	}
	if by.grout != nil && by.grout.Top {
		n--
	}
	return max(n, 0)
}

// caulk returns the need for the bead along the edges and up the joints and
// corners, and its length along the edges.
func (s Step) caulk(w words, j Job, by filledBy, material string, joints int64) (Need, measure.Length, error) {
	edges := s.edges(j, by)
	if edges < 0 {
		return Need{}, 0, fault.Field("lines", s.Lines, "zero or more")
	}
	along, ok1 := natural.Mul(int64(j.Length), edges)
	upright, ok2 := natural.Mul(joints, int64(j.Height))
	all, ok3 := natural.Add(along, upright)
	if !ok1 || !ok2 || !ok3 {
		return Need{}, 0, tooLarge("the length of the bead")
	}
	n, err := Bead{Material: material, Section: s.Section.or(BeadRectangle, measure.Inch/8),
		Length: measure.Length(all), Waste: s.Waste}.need(w)
	if err == nil {
		n.Reasoning = append([]string{w.along(j.Length) + " along " + itoa(edges) + " edge(s) and up " + itoa(joints) + " joint(s) " +
			w.across(j.Height) + " high: " + w.along(measure.Length(all))}, n.Reasoning...)
	}
	return n, measure.Length(along), err
}

// patch is the width primed around a filled hole or along a cut end, and the most
// that trim measures through a miter: 3/4 in at 45 degrees is 1-1/16 (common
// practice, no source).
const patch = measure.Inch

// spots returns the length and the area that spot priming covers: an inch each
// way for a hole, the height for each cut end, and never more than the whole
// face.
func (j Job) spots(times int64) (measure.Length, measure.Area, error) {
	face := j.Face
	if face == 0 {
		face = j.Height
	}
	pieces, ok1 := natural.Add(max(j.Runs, 1), j.Splices)
	ends, ok2 := natural.Mul(pieces, 2)
	at, ok3 := natural.Mul(j.Holes, int64(patch))
	up, ok4 := natural.Mul(ends, int64(j.Height))
	all, ok5 := natural.Add(at, up)
	if j.Length == 0 {
		all, ok1, ok2, ok3, ok4, ok5 = 0, true, true, true, true, true
	}
	l, ok6 := natural.Mul(min(all, int64(j.Length)), times)
	if !(ok1 && ok2 && ok3 && ok4 && ok5 && ok6) {
		return 0, 0, tooLarge("the length of the spots")
	}
	a, err := surface(measure.Length(l), min(patch, face), 0)
	return measure.Length(l), a, err
}

// glue returns the glue on both faces of every glued joint.
func (s Step) glue(w words, j Job, material string) (Need, error) {
	faces, ok := natural.Mul(j.Glued, 2)
	high, ok2 := natural.Mul(faces, int64(j.Height))
	if !ok || !ok2 {
		return Need{}, tooLarge("the surface of the glued joints")
	}
	a, err := surface(measure.Length(high), patch, 0)
	if err != nil {
		return Need{}, err
	}
	return s.spread(w, material, a, itoa(j.Glued)+" joints, both faces "+w.across(j.Height)+" by "+w.across(patch)+": "+w.amount(AmountOf(a)))
}

// spread returns the need for an area, as an area if the step states no yield.
func (s Step) spread(w words, material string, a measure.Area, why string) (Need, error) {
	if s.Yield.IsZero() {
		return w.need(material, AmountOf(a), s.Waste, why)
	}
	n, err := Coating{Material: material, Area: a, Spread: s.Yield, Waste: s.Waste}.need(w)
	if err == nil {
		n.Reasoning = append([]string{why}, n.Reasoning...)
	}
	return n, err
}

// or returns s, or the usual bead if s is zero.
func (s Section) or(shape BeadShape, width measure.Length) Section {
	if s == (Section{}) {
		return Section{Shape: shape, Width: width}
	}
	return s
}
