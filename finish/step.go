package finish

import "example.com/longpoint/measure"

// done is the work of a step, in each kind that a labor rate may count.
type done struct {
	length measure.Length
	area   measure.Area
	count  int64
}

func (d done) as(k Dimension) (Amount, error) {
	switch k {
	case ByLength:
		return OfLength(d.length), nil
	case ByArea:
		return OfArea(d.area), nil
	}
	n, ok := mul(d.count, millionthsPerPiece)
	if !ok {
		return Amount{}, &OverflowError{What: "the count of a step"}
	}
	return Amount{ByCount, n}, nil
}

// take returns what one step needs of its material for a job, and the work done.
func (s Step) take(j Job) (Need, done, error) {
	material := or(s.Material, usualMaterial[s.Task])
	face := j.Face
	if face == 0 {
		face = j.Height
	}
	times := s.Coats
	if times == 0 {
		times = 1
	}
	if times < 0 {
		return Need{}, done{}, bad("coats", times, "zero or more")
	}
	length, ok := mul(int64(j.Length), times)
	if !ok {
		return Need{}, done{}, &OverflowError{What: "the length of all coats"}
	}
	area, err := surface(measure.Length(length), face, 0)
	if err != nil {
		return Need{}, done{}, err
	}
	d := done{length: measure.Length(length), area: area}
	var n Need
	switch s.Task {
	case Install:
		n, err = Nails{Material: material, Length: j.Length, Runs: j.Runs, Spacing: j.Studs, PerStud: s.PerStud,
			Joints: j.Joints, PerJoint: s.PerJoint, Waste: s.Waste}.Need()
		d.count, _ = n.Net.Pieces()
	case Glue:
		n, err = Adhesive{Material: material, Section: s.Section.or(Round, measure.Inch/4), Length: j.Length,
			Path: s.Path, Waste: s.Waste}.Need()
	case Fill:
		n, err = Holes{Material: material, Count: j.Holes, Waste: s.Waste}.Need()
		d.count = j.Holes
	case Sand:
		n, err = Sanding{Material: material, Length: j.Length, Times: times, Reach: s.Yield, Waste: s.Waste}.Need()
	case Caulk:
		n, err = s.caulk(j, material)
	case Mask:
		n, err = Masking{Material: material, Length: j.Length, Lines: s.Lines, Waste: s.Waste}.Need()
	case Prime, Paint, Seal:
		if s.Yield.IsZero() {
			n, err = need(material, OfArea(area), s.Waste, feet(j.Length)+" with a developed face of "+inches(face)+
				", "+itoa(times)+" coat(s): "+OfArea(area).String())
			break
		}
		n, err = Coating{Material: material, Length: j.Length, Face: face, Coats: times, Spread: s.Yield, Waste: s.Waste}.Need()
	case Set:
		if s.Yield.IsZero() {
			n, err = need(material, OfArea(area), s.Waste, feet(j.Length)+" of base "+inches(face)+" high: "+OfArea(area).String())
			break
		}
		n, err = Mortar{Material: material, Length: j.Length, Height: face, Coverage: s.Yield, Waste: s.Waste}.Need()
	case GroutJoints:
		if j.Length == 0 {
			n, err = need(material, OfWeight(0), s.Waste)
			break
		}
		n, err = GroutCourse{Material: material, Length: j.Length, Tile: j.course(), Bottom: s.Bottom, Density: s.Yield, Waste: s.Waste}.Need()
	case Clean:
		switch {
		case material == "": // labor only
		case s.Yield.IsZero():
			n, err = need(material, OfArea(area), s.Waste, feet(j.Length)+" with a developed face of "+inches(face)+
				", wiped "+itoa(times)+" time(s): "+OfArea(area).String())
		default:
			n, err = Cleaner{Material: material, Length: j.Length, Face: face, Times: times, Reach: s.Yield, Waste: s.Waste}.Need()
		}
	case BackJoints:
		lines := s.Lines
		if lines == 0 {
			lines = 1
		}
		if lines < 0 {
			return Need{}, done{}, bad("lines", lines, "zero or more")
		}
		l, ok := mul(int64(j.Length), lines)
		if !ok {
			return Need{}, done{}, &OverflowError{What: "the length of backer rod"}
		}
		n, err = BackerRod{Material: material, Length: measure.Length(l), Joint: s.Section.Width, Waste: s.Waste}.Need()
	}
	return n, d, err
}

// course returns the tile of a one-course base.
func (j Job) course() Tile {
	if j.Tile.Width == 0 {
		j.Tile.Width = j.Height
	}
	return j.Tile
}

// caulk returns the bead along the edges and up every joint and corner.
func (s Step) caulk(j Job, material string) (Need, error) {
	lines := s.Lines
	if lines == 0 {
		lines = 1
	}
	if lines < 0 {
		return Need{}, bad("lines", lines, "zero or more")
	}
	along, ok1 := mul(int64(j.Length), lines)
	joints, ok2 := add(j.Joints, j.Corners)
	upright, ok3 := mul(joints, int64(j.Height))
	all, ok4 := add(along, upright)
	if !ok1 || !ok2 || !ok3 || !ok4 {
		return Need{}, &OverflowError{What: "the length of the bead"}
	}
	return Bead{Material: material, Section: s.Section.or(Fillet, measure.Inch/8),
		Length: measure.Length(all), Waste: s.Waste}.Need()
}

// or returns s, or the usual bead where s is zero.
func (s Section) or(shape BeadShape, width measure.Length) Section {
	if s == (Section{}) {
		return Section{Shape: shape, Width: width}
	}
	return s
}
