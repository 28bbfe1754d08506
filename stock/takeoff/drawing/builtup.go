package drawing

import (
	"io"
	"math"
	"slices"
	"strconv"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/svg"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
	"example.com/longpoint/stock/takeoff"
)

// BuiltUp draws trim that is built up of several members: in section, and from above around an
// outside corner of 90°, where each member is longer than the wall by its standoff. The
// standoff of each member is that of the runs in the list.
//
// The error joins a *measure.FieldError for an assembly that the scheme lacks or that has no
// run in the list (assembly), and for each invalid field of o; or it is that of w.
func BuiltUp(w io.Writer, s takeoff.Scheme, l *takeoff.List, assembly string, o *Options) error {
	var bad fault.List
	opt, err := o.filled()
	bad.Under("", err)
	if l == nil {
		l = new(takeoff.List)
	}
	b := builtUp{o: &opt}
	if i := slices.IndexFunc(s.Assemblies, func(a takeoff.Assembly) bool { return a.Name == assembly }); i < 0 || !b.collect(&s.Assemblies[i], l) {
		bad.Add("assembly", assembly, "the name of an assembly of the scheme that runs somewhere in the list")
	}
	if len(bad) > 0 {
		return bad.Err()
	}
	b.draw()
	_, err = b.p.WriteTo(w)
	return err
}

type builtUp struct {
	o       *Options
	a       *takeoff.Assembly
	members []layer
	p       *svg.Picture
}

// layer is one member in section.
type layer struct {
	name      string
	profile   stock.Profile
	off, out  measure.Length // from the wall to its back and to its face
	low, high measure.Length // above the floor or, if negative, from the ceiling
	corner    measure.Length // added length at an outside corner of 90°
}

// collect finds the members with their standoffs, and reports whether the list has all.
func (b *builtUp) collect(a *takeoff.Assembly, l *takeoff.List) bool {
	b.a = a
	order := 0
	for i := range a.Members {
		m := &a.Members[i]
		if len(a.Members) > 1 || m.Backing != nil {
			if order++; m.Backing != nil {
				order++ // the order of installation
			}
		}
		k := slices.IndexFunc(l.Runs, func(r stock.Run) bool {
			return r.Assembly == a.Name && r.Order == order && r.Profile == m.Profile.Name && r.Role != stock.RoleBacking
		})
		if k < 0 {
			return false
		}
		p := m.Profile
		q := layer{name: p.Role.String(), profile: p, off: l.Runs[k].Standoff}
		if p.Name != q.name {
			q.name += ", " + p.Name
		}
		q.out = q.off + p.Projection()
		if q.low = a.At + m.At; a.FromCeiling {
			q.low = -q.low - p.Drop()
		}
		q.high = q.low + p.Drop()
		q.corner = q.out
		if c, err := joint.MiterOffset(q.out, 90*measure.Degree); err == nil {
			q.corner = c
		}
		b.members = append(b.members, q)
	}
	return len(b.members) > 0
}

// section returns the outline of a member, out from the wall and up.
func (q *layer) section() []at {
	if !q.profile.Role.Sprung() {
		return []at{{q.off, q.low}, {q.out, q.low}, {q.out, q.high}, {q.off, q.high}}
	}
	// A sprung member lies in the angle: its edges on wall and ceiling have the width that
	// follows from its thickness.
	sin, cos := math.Sincos(q.profile.SpringAngle().Radians())
	up := min(product(q.profile.Thickness, 1/sin), q.high-q.low)
	in := min(product(q.profile.Thickness, 1/cos), q.out-q.off)
	return []at{{q.off, q.low}, {q.out, q.high}, {q.out - in, q.high}, {q.off, q.low + up}}
}

// words describes the position of a member.
func (b *builtUp) words(i int) string {
	q := &b.members[i]
	text := q.name + ": on the wall"
	if q.off > 0 {
		text = q.name + ": stands " + b.o.fine(q.off) + " off the wall"
	}
	text += ", reaches " + b.o.fine(q.out) + " into the room, from "
	if b.a.FromCeiling {
		text += b.height(-q.high, "the ceiling") + " to " + b.o.fine(-q.low) + " below"
	} else {
		text += b.height(q.low, "the floor") + " to " + b.o.fine(q.high) + " above"
	}
	if q.low != 0 && q.high != 0 {
		text += " the " + b.other()
	} else {
		text += " it"
	}
	text += "; at each outside corner of 90° " + b.o.fine(q.corner) + " longer than the wall"
	if q.off > 0 {
		text += ", in each inside corner " + b.o.fine(q.off) + " shorter"
	}
	return text
}

// height writes a height, or the given text for zero.
func (b *builtUp) height(l measure.Length, zero string) string {
	if l == 0 {
		return zero
	}
	return b.o.fine(l)
}

func (b *builtUp) draw() {
	desc := "Trim built up of " + plural(len(b.members), "member") + ", in section and from above."
	for i := range b.members {
		desc += " " + strconv.Itoa(i+1) + ", " + b.words(i) + "."
	}
	p, y := b.o.begin(b.a.Name+": built up", desc)
	b.p = p
	y += 4 * svg.One
	width := p.Right() - p.Left()
	if b.o.wide() {
		width /= 2
	}
	left := b.drawSection(svg.Point{X: p.Left(), Y: y}, width)
	x, top := p.Left(), left
	if b.o.wide() {
		x, top = p.Left()+width, y
	}
	y = max(left, b.drawCorner(svg.Point{X: x, Y: top}, width))
	y = p.Legend(y, []svg.Entry{{Style: piece, Text: "member, in order of installation"}, {Style: svg.Style{Stroke: svg.Ink, Width: 240}, Text: "wall, " + b.other()}}) + 6*svg.One
	wide := svg.WidthOf("00", svg.Small)
	for i := range b.members {
		p.Put(svg.Text{At: svg.Point{X: p.Left() + wide, Y: y + svg.HeightOf(svg.Small)/2}, S: strconv.Itoa(i + 1), Anchor: svg.End, Bold: true})
		y = p.Block(svg.Point{X: p.Left() + wide + 6*svg.One, Y: y}, p.Right()-p.Left()-wide-6*svg.One, b.words(i), svg.Small, false) + 3*svg.One
	}
}

// other names the surface other than the wall.
func (b *builtUp) other() string {
	if b.a.FromCeiling {
		return "ceiling"
	}
	return "floor"
}

// drawSection draws the section, its corner at the left, and returns where it ends.
func (b *builtUp) drawSection(at0 svg.Point, width svg.Unit) svg.Unit {
	y := b.p.Block(at0, width, "In section: the wall is at the left.", svg.Small, false)
	var out, lo, hi measure.Length
	lo, hi = b.members[0].low, b.members[0].high
	for _, q := range b.members {
		out, lo, hi = max(out, q.out), min(lo, q.low), max(hi, q.high)
	}
	edge0 := hi // the floor or the ceiling, if it is near
	if b.a.FromCeiling {
		hi = max(hi, min(0, hi+out))
	} else {
		lo = min(lo, max(0, lo-out))
		edge0 = lo
	}
	k := svg.Fit(max(out, 1), min(width-110*svg.One, 200*svg.One)).Smaller(svg.Fit(max(hi-lo, 1), 240*svg.One))
	zero := svg.Point{X: at0.X + 60*svg.One, Y: y + 40*svg.One + k.Of(hi)}
	point := func(q at) svg.Point { return zero.Add(k.Of(q.x), -k.Of(q.y)) }
	for i := range b.members {
		q := &b.members[i]
		b.p.Group(q.name)
		b.p.Polygon(points(q.section(), point), piece)
		b.p.End()
		b.p.Keep(svg.Box{})
	}
	for i := range b.members {
		b.number(i, points(b.members[i].section(), point))
	}
	margin := 8 * svg.One
	b.p.Line(point(at{0, hi}).Add(0, -margin), point(at{0, lo}).Add(0, margin), wallStyle)
	if edge0 == 0 {
		b.p.Line(point(at{0, 0}).Add(-margin, 0), point(at{out, 0}).Add(3*margin, 0), wallStyle)
	}
	b.p.Dimension(point(at{0, lo}), point(at{0, hi}), -24*svg.One, b.o.fine(hi-lo))
	b.p.Dimension(point(at{0, lo}), point(at{out, lo}), 24*svg.One, b.o.fine(out))
	return max(point(at{0, lo}).Y+52*svg.One, b.p.Height()+6*svg.One)
}

// number writes the number of a member on it or beside it.
func (b *builtUp) number(i int, outline []svg.Point) {
	box := extent(outline)
	mid := svg.Point{X: box.X + box.W/2, Y: box.Y + box.H/2}
	text := strconv.Itoa(i + 1)
	if box.W > svg.WidthOf(text, svg.Small)+4*svg.One && box.H > svg.HeightOf(svg.Small) && b.p.Label(svg.Text{At: mid, S: text, Plate: true}) {
		return
	}
	for _, off := range []svg.Unit{12, 24, 36, 48, 60} {
		for _, d := range [][2]svg.Unit{{1, 0}, {1, 1}, {1, -1}, {0, 1}, {0, -1}} {
			to := svg.Point{X: mid.X + d[0]*(box.W/2+off*svg.One), Y: mid.Y + d[1]*(box.H/2+off*svg.One)}
			if b.p.Label(svg.Text{At: to, S: text, Plate: true}) {
				b.p.Line(mid, to, leader)
				b.p.Circle(mid, 90, svg.Style{Fill: svg.Ink})
				return
			}
		}
	}
}

// points places an outline.
func points(shape []at, point func(at) svg.Point) []svg.Point {
	out := make([]svg.Point, len(shape))
	for i, q := range shape {
		out[i] = point(q)
	}
	return out
}

// drawCorner draws the members around an outside corner, and returns where it ends.
func (b *builtUp) drawCorner(at0 svg.Point, width svg.Unit) svg.Unit {
	y := b.p.Block(at0, width, "From above: an outside corner of 90°.", svg.Small, false)
	var out measure.Length
	for _, q := range b.members {
		out = max(out, q.out)
	}
	out = max(out, 1)
	far := out * 3 / 2
	k := svg.Fit(far+out, min(width-70*svg.One, 240*svg.One))
	zero := svg.Point{X: at0.X + 16*svg.One + k.Of(far), Y: y + 24*svg.One + k.Of(far)}
	point := func(q at) svg.Point { return zero.Add(k.Of(q.x), k.Of(q.y)) }
	b.p.Polyline([]svg.Point{point(at{-far, 0}), zero, point(at{0, -far})}, wallStyle)
	order := make([]int, len(b.members))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return int(min(1, max(-1, b.members[j].out-b.members[i].out))) }) // the member that reaches farthest is drawn first
	for _, i := range order {
		q := &b.members[i]
		b.p.Group(q.name + " at the corner")
		b.p.Polygon(points([]at{{-far, q.off}, {q.off, q.off}, {q.out, q.out}, {-far, q.out}}, point), piece)
		b.p.Polygon(points([]at{{q.off, q.off}, {q.off, -far}, {q.out, -far}, {q.out, q.out}}, point), piece)
		b.p.End()
	}
	row := 20 * svg.One
	bottom := point(at{0, out}).Y
	var last []measure.Length
	for _, i := range slices.Backward(order) {
		q := &b.members[i]
		if len(last) < 6 && !slices.Contains(last, q.corner) {
			from := point(at{0, 0})
			b.p.Dimension(svg.Point{X: from.X, Y: bottom}, svg.Point{X: from.X + k.Of(q.corner), Y: bottom}, row, strconv.Itoa(i+1)+": "+b.o.fine(q.corner))
			last = append(last, q.corner)
			row += 17 * svg.One
		}
	}
	y = b.o.barAt(b.p, at0.X+4*svg.One, bottom+row+10*svg.One, k)
	return max(y+10*svg.One, b.p.Height()+6*svg.One)
}
