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
	joints int64 // that take extra work, in every coat
}

// take returns the need of one step for its material in a job, and the work done. Joints that
// other steps of the system fill are not filled again.
func (s Step) take(w words, j Job, by filledBy) (Need, done, error) {
	s.Material = or(s.Material, usualMaterial[s.Task])
	if s.Coats < 0 {
		return Need{}, done{}, fault.Field("coats", s.Coats, "zero or more")
	}
	a := application{Step: s, w: w, j: j, by: by, face: j.Face, back: j.Back, times: 1}
	if a.face == 0 {
		a.face = j.Height
	}
	if a.back == 0 {
		a.back = j.Height
	}
	if s.Task.repeats() && s.Coats > 0 {
		a.times = s.Coats
	}
	d, err := a.measure()
	if err != nil {
		return Need{}, done{}, err
	}
	n, err := a.need(&d)
	return n, d, err
}

// application is a step on a job, with the defaults of both filled in.
type application struct {
	Step
	w          words
	j          Job
	by         filledBy
	face, back measure.Length
	times      int64 // coats; 1 for tasks without coats
	joints     int64 // in one coat
}

// measure computes the work from the sizes of the job, and the joints of one coat.
func (a *application) measure() (d done, err error) {
	length, ok := natural.Mul(int64(a.j.Length), a.times)
	if !ok {
		return done{}, tooLarge("the length of all coats")
	}
	d.length = measure.Length(length)
	wide := a.face
	if a.Task == TaskSet {
		wide = a.back
	}
	if d.area, err = surface(d.length, wide, 0); err != nil {
		return done{}, err
	}
	if a.joints, err = a.Step.joints(a.j, a.by); err != nil {
		return done{}, err
	}
	if d.joints, ok = natural.Mul(a.joints, a.times); !ok {
		return done{}, tooLarge("the joints of all coats")
	}
	return d, nil
}

// need returns the need for the material, and corrects the work where the task counts another.
func (a *application) need(d *done) (n Need, err error) {
	s, w, j := a.Step, a.w, a.j
	switch s.Task {
	case TaskInstall:
		n, err = Nails{Material: s.Material, Length: j.Length, Runs: j.Runs, Spacing: j.Studs, PerStud: s.PerStud,
			Joints: j.Splices, PerJoint: s.PerJoint, Waste: s.Waste}.need(w)
		d.count, _ = n.Net.Pieces()
	case TaskBrad:
		each := s.PerStud
		if each == 0 {
			each = 1
		}
		n, err = Nails{Material: s.Material, Length: j.Length, Runs: j.Runs, Spacing: j.Studs, PerStud: each, Waste: s.Waste}.need(w)
		d.count, _ = n.Net.Pieces()
	case TaskGlueJoints:
		n, err = s.glue(w, j)
		d.count = j.Glued
	case TaskGlue:
		n, err = Adhesive{Material: s.Material, Section: s.Section.or(BeadRound, measure.Inch/4), Length: j.Length,
			Path: s.Path, Waste: s.Waste}.need(w)
	case TaskFill:
		n, err = Holes{Material: s.Material, Count: j.Holes, Waste: s.Waste}.need(w)
		d.count = j.Holes
	case TaskSand:
		n, err = Sanding{Material: s.Material, Length: j.Length, Times: a.times, Reach: s.Yield, Waste: s.Waste}.need(w)
	case TaskCaulk:
		n, d.length, err = s.caulk(w, j, a.by, a.joints)
	case TaskMask:
		n, err = Masking{Material: s.Material, Length: j.Length, Lines: s.Lines, Waste: s.Waste}.need(w)
		d.length, _ = n.Net.Length()
	case TaskPrime, TaskPaint, TaskSeal:
		n, err = a.coat(d)
	case TaskSet:
		if s.Yield.IsZero() {
			n, err = w.need(s.Material, AmountOf(d.area), s.Waste, w.along(j.Length)+" of base with a bed "+w.across(a.back)+" high: "+w.amount(AmountOf(d.area)))
			break
		}
		n, err = Mortar{Material: s.Material, Length: j.Length, Height: a.back, Coverage: s.Yield, Waste: s.Waste}.need(w)
	case TaskGrout:
		if j.Length == 0 {
			n, err = w.need(s.Material, Amount{dim: byWeight}, s.Waste)
			break
		}
		d.count = a.joints
		n, err = Grout{Material: s.Material, Length: j.Length, Tile: j.course(), Between: j.CourseJoints, Ends: j.Outside,
			Bottom: s.Bottom, Top: s.Top, Density: s.Yield, Waste: s.Waste}.need(w)
	case TaskClean:
		n, err = a.wipe(d.area)
	case TaskBackerRod:
		n, d.length, err = s.backerRod(w, j)
	}
	return n, err
}

// coat returns the need for primer, paint or sealer; of a preprimed job only the spots are primed,
// which d records.
func (a *application) coat(d *done) (n Need, err error) {
	s, w, j, face, times := a.Step, a.w, a.j, a.face, a.times
	if s.Task == TaskPrime && j.Preprimed {
		if d.length, d.area, err = j.spots(times); err != nil {
			return n, err
		}
		return s.spread(w, d.area, itoa(j.Holes)+" holes and the cut ends, "+counted(times, "coat")+": "+w.amount(AmountOf(d.area)))
	}
	if s.Yield.IsZero() {
		return w.need(s.Material, AmountOf(d.area), s.Waste, w.along(j.Length)+" with a developed face of "+w.across(face)+
			", "+counted(times, "coat")+": "+w.amount(AmountOf(d.area)))
	}
	return Coating{Material: s.Material, Length: j.Length, Face: face, Coats: times, Spread: s.Yield, Waste: s.Waste}.need(w)
}

// wipe returns the need for the cleaner of the trim; without a material it takes labor only.
func (a *application) wipe(area measure.Area) (Need, error) {
	s, w, j, face, times := a.Step, a.w, a.j, a.face, a.times
	switch {
	case s.Material == "":
		return Need{}, nil
	case s.Yield.IsZero():
		return w.need(s.Material, AmountOf(area), s.Waste, w.along(j.Length)+" with a developed face of "+w.across(face)+
			", wiped "+timesOver(times)+": "+w.amount(AmountOf(area)))
	}
	return Coating{Material: s.Material, Length: j.Length, Face: face, Coats: times, Spread: s.Yield, Waste: s.Waste}.need(w)
}

// backerRod returns the need for backer rod and the length of the joints that it is pressed into.
func (s Step) backerRod(w words, j Job) (Need, measure.Length, error) {
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
	n, err := BackerRod{Material: s.Material, Length: measure.Length(l), Joint: s.Section.Width, Waste: s.Waste}.need(w)
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

// joints returns the number of joints and corners that take extra work in the step. Every upright
// joint of a course is filled once: the grout step fills those between strips and the outside
// corners, and sealant the inside corners, or all of them if nothing is grouted. The first caulk
// step of a system does corners and splices, later ones only edges. The strips themselves are set
// by the foot.
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

// caulk returns the need for the bead along the edges and up the joints and corners, and its
// length along the edges.
func (s Step) caulk(w words, j Job, by filledBy, joints int64) (Need, measure.Length, error) {
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
	usual := Section{Shape: BeadFillet, Width: 3 * measure.Inch / 32}
	if j.isCourse() {
		usual = Section{Width: measure.Inch / 8}
	}
	n, err := Bead{Material: s.Material, Section: s.Section.or(usual.Shape, usual.Width),
		Length: measure.Length(all), Waste: s.Waste}.need(w)
	if err == nil {
		n.Reasoning = append([]string{w.along(j.Length) + " along " + counted(edges, "edge") + " and up " + counted(joints, "joint") + " " +
			w.across(j.Height) + " high: " + w.along(measure.Length(all))}, n.Reasoning...)
	}
	return n, measure.Length(along), err
}

// patch is the width primed around a filled hole or along a cut end, and the most that trim
// measures through a miter: 3/4 in at 45 degrees is 1-1/16 (common practice, no source).
const patch = measure.Inch

// spots returns the length and the area that spot priming covers: an inch each way for a hole, the
// height for each cut end, and never more than the whole face.
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
func (s Step) glue(w words, j Job) (Need, error) {
	faces, ok := natural.Mul(j.Glued, 2)
	high, ok2 := natural.Mul(faces, int64(j.Height))
	if !ok || !ok2 {
		return Need{}, tooLarge("the surface of the glued joints")
	}
	a, err := surface(measure.Length(high), patch, 0)
	if err != nil {
		return Need{}, err
	}
	return s.spread(w, a, itoa(j.Glued)+" joints, both faces "+w.across(j.Height)+" by "+w.across(patch)+": "+w.amount(AmountOf(a)))
}

// spread returns the need for an area, as an area if the step states no yield.
func (s Step) spread(w words, a measure.Area, why string) (Need, error) {
	if s.Yield.IsZero() {
		return w.need(s.Material, AmountOf(a), s.Waste, why)
	}
	n, err := Coating{Material: s.Material, Area: a, Spread: s.Yield, Waste: s.Waste}.need(w)
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
