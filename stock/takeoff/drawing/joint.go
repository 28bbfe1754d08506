package drawing

import (
	"io"
	"math"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/svg"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
)

// Joint draws one end of a piece of a profile, to scale, with the piece or surface that it
// meets, its allowance on the measured length, and the setting of the saw. A corner of trim
// that stands at a wall and a splice are drawn from above, a cut across the face, such as the
// miter of a casing, from the front.
//
// The error is that of joint.NewCut or joins a *measure.FieldError for each invalid field of o;
// or it is that of w.
func Joint(w io.Writer, p stock.Profile, e stock.End, o *Options) error {
	var bad fault.List
	opt, err := o.filled()
	bad.Under("", err)
	cut, err := joint.NewCut(p, e)
	bad.Under("", err)
	if len(bad) > 0 {
		return bad.Err()
	}
	d := detail{o: &opt, profile: p, cut: cut, corner: cut.End.Corner()}
	d.deep = p.Projection()
	if d.corner == 0 || e.Kind == stock.EndReturn && e.Angle == 0 {
		d.corner = 90 * measure.Degree
	}
	if err := d.work(); err != nil {
		return err
	}
	d.draw()
	_, err = d.p.WriteTo(w)
	return err
}

// detail is the state of a picture of a joint. Its corner, or the point of measurement, is at
// zero; the piece that is cut comes from the left.
type detail struct {
	o       *Options
	profile stock.Profile
	cut     joint.Cut
	corner  measure.Angle
	deep    measure.Length // the depth of the cut

	title, seen string
	walls       [][2]at
	pieces      []detailPiece
	lines       [][2]at // where a first cut goes
	dims        []detailDim
	notes       []string

	p *svg.Picture
}

type detailPiece struct {
	name  string
	shape []at
	cut   bool // the one that the picture is about
}

// detailDim is a length between two points, and the side on which it is written.
type detailDim struct {
	a, b at
	off  svg.Unit
	l    measure.Length
}

// at counts to the right and, in these pictures, down: into the room.

// work computes the drawing.
func (d *detail) work() error {
	d.title = d.profile.Name + ": " + d.cut.End.Kind.String()
	kind, corner := d.cut.End.Kind, ""
	if d.corner != 90*measure.Degree && (kind.Mitered() || kind == stock.EndButt || kind == stock.EndSquare && d.cut.Allowance != 0) {
		corner = " The corner is " + d.o.angle(d.corner) + "."
	}
	d.seen = "From above: the wall is at the top, the room below." + corner
	switch kind {
	case stock.EndScarfOver, stock.EndScarfUnder:
		d.scarf()
	case stock.EndReturn:
		d.returned()
	case stock.EndPlumb, stock.EndLevel, stock.EndRake:
		d.raked()
	case stock.EndFlatMiter:
		d.deep = -d.profile.Width // beyond the inner edges
		d.seen = "From the front: the opening is at the lower left." + corner
		d.miter()
	case stock.EndInsideMiter, stock.EndOutsideMiter:
		if kind == stock.EndOutsideMiter {
			d.outside()
			break
		}
		d.miter()
	case stock.EndCope:
		return d.coped()
	case stock.EndButt:
		return d.butted()
	default:
		d.square()
	}
	return nil
}

// way returns the direction of the second wall, and the way into the room from it.
func (d *detail) way() (dir, in [2]float64) {
	turn := 180*measure.Degree - d.corner
	if d.cut.End.Kind == stock.EndOutsideMiter {
		turn = -turn
	}
	c, s := math.Cos(turn.Radians()), math.Sin(turn.Radians())
	if d.corner == 90*measure.Degree {
		c, s = 0, math.Copysign(1, turn.Radians())
	}
	return [2]float64{c, s}, [2]float64{-s, c}
}

// on returns the point at a distance along the second wall and from it.
func (d *detail) on(along, out measure.Length) at {
	dir, in := d.way()
	return at{product(along, dir[0]) + product(out, in[0]), product(along, dir[1]) + product(out, in[1])}
}

// reach is how much of the pieces is drawn.
func (d *detail) reach() measure.Length {
	deep := max(d.deep, -d.deep)
	return max(3*deep, 2*d.cut.End.Setback+deep, measure.Inch)
}

// bothWalls draws the two walls of a corner, and returns how far they go.
func (d *detail) bothWalls() measure.Length {
	far := d.reach() * 5 / 4
	d.walls = [][2]at{{{-far, 0}, {0, 0}}, {{0, 0}, d.on(far, 0)}}
	return d.reach()
}

// miter is a miter in an inside corner, or between head and leg of a casing, whose deep lies beyond.
func (d *detail) miter() {
	far, m := d.bothWalls(), d.cut.End.Setback
	face := at{-m, d.deep}
	if d.deep < 0 {
		face.x = m
	}
	d.pieces = []detailPiece{
		{name: "cut", shape: []at{{-far, 0}, {0, 0}, face, {-far, d.deep}}, cut: true},
		{name: "its neighbor", shape: []at{{0, 0}, d.on(far, 0), d.on(far, d.deep), face}},
	}
	off := -14 * svg.One
	if d.deep < 0 {
		d.dims = append(d.dims, detailDim{at{0, d.deep}, at{m, d.deep}, off, m})
		off = 14 * svg.One
	} else {
		d.dims = append(d.dims, detailDim{at{-m, 0}, at{0, 0}, off, m})
	}
	d.thick(far)
	d.notes = append(d.notes, "The long point lies "+d.length(m)+" beyond the short point.")
}

// outside is a miter around an outside corner.
func (d *detail) outside() {
	far, m := d.bothWalls(), d.cut.End.Setback
	face := at{m, d.deep}
	d.pieces = []detailPiece{
		{name: "cut", shape: []at{{-far, 0}, {0, 0}, face, {-far, d.deep}}, cut: true},
		{name: "its neighbor", shape: []at{{0, 0}, d.on(far, 0), d.on(far, d.deep), face}},
	}
	d.dims = append(d.dims, detailDim{at{0, d.deep}, at{m, d.deep}, 14 * svg.One, m})
	d.thick(far)
	d.notes = append(d.notes, "The long point lies "+d.length(m)+" beyond the corner of the walls.")
}

// thick draws how far the piece that is cut stands off the wall.
func (d *detail) thick(far measure.Length) {
	a, b := at{-far, 0}, at{-far, d.deep}
	if d.deep < 0 {
		a, b = b, a
	}
	d.dims = append(d.dims, detailDim{a, b, 14 * svg.One, max(d.deep, -d.deep)})
}

// mate is the neighbor that runs to the wall, square.
func (d *detail) mate(far measure.Length) (detailPiece, error) {
	start, err := joint.SquareDeduction(d.deep, d.corner)
	if err != nil {
		return detailPiece{}, err
	}
	return detailPiece{name: "its neighbor, square", shape: []at{d.on(start, 0), d.on(far, 0), d.on(far, d.deep), d.on(start, d.deep)}}, nil
}

// coped is a cope over a neighbor of the same profile.
func (d *detail) coped() error {
	far, m := d.bothWalls(), d.cut.End.Setback
	relief, err := joint.CopeRelief(d.deep, d.corner)
	if err != nil {
		return err
	}
	mate, err := d.mate(far)
	if err != nil {
		return err
	}
	d.pieces = []detailPiece{
		mate,
		{name: "coped", shape: []at{{-far, 0}, {-relief.Back, 0}, {-relief.Face, d.deep}, {-far, d.deep}}, cut: true},
	}
	d.lines = [][2]at{{{0, 0}, {-m, d.deep}}, {{-relief.Back, 0}, {0, 0}}}
	d.dims = append(d.dims, detailDim{at{-relief.Face, 0}, at{0, 0}, -14 * svg.One, relief.Face})
	if relief.Back != relief.Face {
		d.dims = append(d.dims, detailDim{at{-relief.Back, 0}, at{0, 0}, -30 * svg.One, relief.Back})
	}
	d.thick(far)
	d.notes = append(d.notes, "Cut as an inside miter first (broken line), long point at the wall, then coped along the profile: at the face "+d.length(relief.Face)+" from the corner.")
	if relief.Bevel > 0 {
		d.notes = append(d.notes, "The back stops "+d.length(relief.Back)+" from the corner: undercut by "+d.o.angle(relief.Bevel)+" at least.")
	} else {
		d.notes = append(d.notes, "Undercut the back a little, so that only the face touches.")
	}
	return nil
}

// butted is an end that lies against the face of a square neighbor.
func (d *detail) butted() error {
	far := d.bothWalls()
	back, err := joint.ButtDeduction(d.deep, d.corner)
	if err != nil {
		return err
	}
	mate, err := d.mate(far)
	if err != nil {
		return err
	}
	// From the wall it is short at its back; at its face by the same less the slant of the cut.
	face, slant := back, d.cut.End.Setback
	if d.corner > 90*measure.Degree {
		face -= slant
	} else {
		face += slant
	}
	d.pieces = []detailPiece{mate, {name: "cut", shape: []at{{-far, 0}, {-back, 0}, {-face, d.deep}, {-far, d.deep}}, cut: true}}
	d.dims = append(d.dims, detailDim{at{-back, 0}, at{0, 0}, -14 * svg.One, back})
	d.thick(far)
	d.notes = append(d.notes, "Its back ends "+d.length(back)+" from the corner, at the face of its neighbor.")
	return nil
}

// scarf is a splice.
func (d *detail) scarf() {
	lap := d.cut.End.Setback
	far := d.reach()
	half := lap / 2
	d.walls = [][2]at{{{-far * 5 / 4, 0}, {far * 5 / 4, 0}}}
	// Over its neighbor it is long at its face.
	back, face := -half, lap-half
	left, right := "over", "under"
	if d.cut.End.Kind == stock.EndScarfUnder {
		back, face, left, right = face, back, right, left
	}
	d.pieces = []detailPiece{
		{name: "cut: " + left, shape: []at{{-far, 0}, {back, 0}, {face, d.deep}, {-far, d.deep}}, cut: true},
		{name: right, shape: []at{{back, 0}, {far, 0}, {far, d.deep}, {face, d.deep}}},
	}
	d.dims = append(d.dims, detailDim{at{-half, d.deep}, at{lap - half, d.deep}, 14 * svg.One, lap})
	d.thick(far)
	d.notes = append(d.notes, "The two parts lap over each other by "+d.length(lap)+", which the run takes of the stock besides its length; a stud should be behind.")
}

// returned is an open end that a return piece closes.
func (d *detail) returned() {
	m, far := d.cut.End.Setback, d.reach()
	d.walls = [][2]at{{{-far * 5 / 4, 0}, {far / 2, 0}}}
	d.pieces = []detailPiece{
		{name: "cut", shape: []at{{-far, 0}, {-m, 0}, {0, d.deep}, {-far, d.deep}}, cut: true},
		{name: "return", shape: []at{{-m, 0}, {0, 0}, {0, d.deep}}},
	}
	d.dims = append(d.dims, detailDim{at{-m, 0}, at{0, 0}, -14 * svg.One, m}, detailDim{at{0, d.deep}, at{0, 0}, 14 * svg.One, d.deep})
	d.thick(far)
	d.notes = append(d.notes, "The piece ends with its long point at the face. The return is "+d.length(m)+" long at its face and tapers to nothing at its back: cut it off the end of a longer piece.")
}

// raked is an end that is cut across the face.
func (d *detail) raked() {
	d.seen = "From the front, the piece as it lies, its upper edge at the top."
	wide, m, far := d.profile.Drop(), d.cut.End.Setback, d.reach()
	d.deep = wide
	high := m
	if d.cut.End.Angle < 0 {
		high = -m
	}
	d.pieces = []detailPiece{{name: "cut", shape: []at{{-far, 0}, {high, 0}, {0, wide}, {-far, wide}}, cut: true}}
	d.dims = append(d.dims, detailDim{at{min(0, high), 0}, at{max(0, high), 0}, -14 * svg.One, m})
	d.thick(far)
	d.notes = append(d.notes, "The long point lies "+d.length(m)+" beyond the short point.")
}

// square is an end that is cut square, in a corner of less than 90° short of it.
func (d *detail) square() {
	far := d.bothWalls()
	gap := -d.cut.Allowance
	d.pieces = []detailPiece{{name: "cut", shape: []at{{-far, 0}, {-gap, 0}, {-gap, d.deep}, {-far, d.deep}}, cut: true}}
	if gap > 0 {
		d.dims = append(d.dims, detailDim{at{-gap, 0}, at{0, 0}, -14 * svg.One, gap})
	}
	d.thick(far)
	if d.cut.End.Kind == stock.EndScribe {
		d.notes = append(d.notes, "It is left long, held to the wall, and cut along the line that the wall draws on it.")
	}
}

func (d *detail) length(l measure.Length) string { return d.o.fine(l) }

// allowance describes the allowance of the end on the measured length.
func (d *detail) allowance() string {
	where := ""
	if d.cut.Measured != stock.SectionAll {
		where = ", which is measured at the " + string(d.cut.Measured)
	}
	switch a := d.cut.Allowance; {
	case a > 0:
		return "Adds " + d.length(a) + " to the length" + where + "."
	case a < 0:
		return "Takes " + d.length(-a) + " off the length" + where + "."
	}
	return "Adds nothing to the length" + where + "."
}

// setting describes the setting of the saw.
func (d *detail) setting() string {
	if d.cut.Standing == d.cut.Flat && d.cut.Flat == (joint.Setting{}) {
		return "Saw: a square cut, miter and bevel 0."
	}
	say := func(s joint.Setting) string {
		switch {
		case s == joint.Setting{}:
			return "square"
		case s.Bevel == 0:
			return "miter " + d.o.angle(s.Miter)
		case s.Miter == 0:
			return "bevel " + d.o.angle(s.Bevel)
		}
		return "miter " + d.o.angle(s.Miter) + ", bevel " + d.o.angle(s.Bevel)
	}
	standing := "upright against the fence"
	if d.profile.Role.Sprung() {
		standing = "nested upside down against the fence"
	}
	return "Saw settings, 0 for a square cut: " + standing + " " + say(d.cut.Standing) + "; flat on the table " + say(d.cut.Flat) + "."
}
