package stair_test

import (
	"math"
	"slices"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
	"example.com/longpoint/stock/stair"
	"pgregory.net/rapid"
)

type vec [3]float64

func (a vec) plus(b vec, f float64) vec {
	return vec{a[0] + float64(f*b[0]), a[1] + float64(f*b[1]), a[2] + float64(f*b[2])}
}
func (a vec) dot(b vec) float64 {
	return float64(a[0]*b[0]) + float64(a[1]*b[1]) + float64(a[2]*b[2])
}
func (a vec) cross(b vec) vec {
	return vec{float64(a[1]*b[2]) - float64(a[2]*b[1]), float64(a[2]*b[0]) - float64(a[0]*b[2]), float64(a[0]*b[1]) - float64(a[1]*b[0])}
}
func (a vec) unit() vec { return vec{}.plus(a, 1/math.Sqrt(a.dot(a))) }

// trim is something with a profile that runs along a wall away from a corner at the origin.
type trim struct{ along, out, up vec }

// at returns the point where the line of a point of the profile pierces the plane through the origin.
func (m trim) at(out, up float64, plane vec) vec {
	p := vec{}.plus(m.out, out).plus(m.up, up)
	return p.plus(m.along, -p.dot(plane)/m.along.dot(plane))
}

// corner lays out two walls in plan, with level trim along one and raked trim along the other. The room
// is between them, or on the other side. Wall 1 runs along the x axis; the plane is plumb and bisects
// the corner. None of this uses half a tangent.
func corner(c stair.Corner) (level, rake trim, plane vec) {
	a := rightAngle(c.Angle).Radians()
	up := vec{0, 0, 1}
	one, two := vec{1, 0, 0}, vec{math.Cos(a), math.Sin(a), 0}
	out1, out2 := vec{0, 1, 0}, vec{math.Sin(a), -math.Cos(a), 0} // toward the other wall
	if c.Outside {
		out1, out2 = vec{0, -1, 0}, vec{-math.Sin(a), math.Cos(a), 0}
	}
	m := c.Slope.Float64()
	climb := two.plus(up, m).unit()
	square := climb.cross(out2)
	if square[2] < 0 {
		square = vec{}.plus(square, -1)
	}
	between := one.plus(two, 1)
	return trim{one, out1, up}, trim{climb, out2, square}, between.cross(up).unit()
}

func rightAngle(a measure.Angle) measure.Angle {
	if a == 0 {
		return 90 * deg
	}
	return a
}

func drawCorner(t *rapid.T) stair.Corner {
	rise := measure.Length(rapid.Int64Range(-14*16, 14*16).Draw(t, "rise")) * in / 16
	return stair.Corner{
		Slope:   pitchOf(rise),
		Angle:   measure.Angle(rapid.Int64Range(0, 150).Filter(func(a int64) bool { return a == 0 || a > 60 }).Draw(t, "angle")) * deg,
		Outside: rapid.Bool().Draw(t, "outside"),
	}
}

func pitchOf(rise measure.Length) measure.Slope {
	s, err := measure.NewSlope(rise, 12*in)
	if err != nil {
		panic(err)
	}
	return s
}

// Every point of a level profile and its like on the rake pierce the plumb plane that halves
// the corner in one place. The two pieces are lines in space here.
func TestProfilesMeetInTheMiter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCorner(t)
		points := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) stock.Point {
			size := func(name string) measure.Length {
				return measure.Length(rapid.Int64Range(0, 8*64).Draw(t, name)) * in / 64
			}
			return stock.Point{Along: size("out"), Up: size("up") - 4*in}
		}), 1, 12).Draw(t, "profile")
		raked, err := c.Rake(points)
		if err != nil {
			t.Fatal(err)
		}
		level, rake, plane := corner(c)
		for i, p := range points {
			a := level.at(p.Along.Inches(), p.Up.Inches(), plane)
			b := rake.at(raked[i].Along.Inches(), raked[i].Up.Inches(), plane)
			if d := a.plus(b, -1); math.Sqrt(d.dot(d)) > 1e-5 {
				t.Fatalf("%v becomes %v: %v and %v", p, raked[i], a, b)
			}
		}
		back, err := c.Level(raked)
		if err != nil {
			t.Fatal(err)
		}
		for i, p := range points {
			if d := back[i].Up - p.Up; d > 2 || d < -2 || back[i].Along != p.Along {
				t.Fatalf("%v comes back as %v", p, back[i])
			}
		}
	})
}

// The old way with pencil and square ("The American House Carpenter", Hatfield): the level
// profile drawn where one sees it on the gable, as the end of the level cornice beyond the
// corner; lines at the pitch through its points; a line square to the pitch, from which
// their projections are set off along each line. Constructed here with intersections.
func TestDrawnConstruction(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := stair.Corner{Slope: pitchOf(measure.Length(rapid.Int64Range(1, 14*16).Draw(t, "rise")) * in / 16), Outside: rapid.Bool().Draw(t, "outside")}
		type place struct{ x, y float64 }
		meet := func(p, d, q, e place) place { // of two lines, each by a point and a direction
			det := float64(d.x*e.y) - float64(d.y*e.x)
			f := (float64((q.x-p.x)*e.y) - float64((q.y-p.y)*e.x)) / det
			return place{p.x + float64(f*d.x), p.y + float64(f*d.y)}
		}
		at := place{12, 12 * c.Slope.Float64()}
		square := place{-at.y, at.x}
		for range 8 {
			u, v := rapid.Float64Range(0, 6).Draw(t, "out"), rapid.Float64Range(-6, 6).Draw(t, "up")
			seen := place{u, v} // in the room, inside; outside it stands out to the other side
			if c.Outside {
				seen.x = -u
			}
			hit := meet(seen, at, place{}, square)
			far := math.Sqrt(float64(square.x*square.x) + float64(square.y*square.y))
			q := (float64(hit.x*square.x) + float64(hit.y*square.y)) / far
			out, err := measure.FromInches(u)
			if err != nil {
				t.Fatal(err)
			}
			up, err := measure.FromInches(v)
			if err != nil {
				t.Fatal(err)
			}
			got, err := c.Rake([]stock.Point{{Along: out, Up: up}})
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(got[0].Up.Inches()-q) > 1e-5 || got[0].Along != out {
				t.Fatalf("drawn at %f, %f, computed %v", u, q, got[0])
			}
		}
	})
}

// The saw cuts the plane of the miter: its normal, taken along the piece, its width and its
// thickness, is that of a cut with arm and blade so set.
func TestCutIsThePlaneOfTheMiter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCorner(t)
		p := crownOf(measure.Angle(rapid.Int64Range(20, 60).Draw(t, "spring"))*deg, 4*in)
		if rapid.Bool().Draw(t, "base") {
			p = stock.Profile{Name: "base", Thickness: in / 2, Width: 4 * in}
		}
		standing, flat, err := c.Cut(p)
		if err != nil {
			t.Fatal(err)
		}
		_, rake, plane := corner(c)
		agree := func(what string, s joint.Setting, width, thick vec) {
			m, b := s.Miter.Radians(), s.Bevel.Radians()
			for i, pair := range [][2]float64{
				{rake.along.dot(plane), math.Cos(b) * math.Cos(m)}, {width.dot(plane), math.Cos(b) * math.Sin(m)}, {thick.dot(plane), math.Sin(b)},
			} {
				if math.Abs(math.Abs(pair[0])-pair[1]) > 1e-8 {
					t.Fatalf("%s, component %d: plane %g, saw %g", what, i, pair[0], pair[1])
				}
			}
		}
		agree("standing", standing, rake.out, rake.up)
		width, thick := rake.up, rake.out
		if p.Role.Sprung() {
			s := p.SpringAngle().Radians()
			width = vec{}.plus(rake.out, math.Sin(s)).plus(rake.up, math.Cos(s))
			thick = vec{}.plus(rake.out, math.Cos(s)).plus(rake.up, -math.Sin(s))
		}
		agree("flat", flat, width, thick)
	})
}

// The wedge of an inside corner closes the gap: the edges of level crown, wedge and raked crown
// are lines in space that meet in pairs, in the miter of the corner and in the plane square
// to the wall; the wedge's ceiling edge is a point, and all ceiling edges lie in the ceiling.
func TestWedgeMeetsBoth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := stair.Corner{Slope: pitchOf(measure.Length(rapid.Int64Range(8, 14*16).Draw(t, "rise")) * in / 16)}
		if rapid.Bool().Draw(t, "high") {
			c.Slope = pitchOf(-measure.Length(c.Slope.Float64()*float64(12*in)) / 16 * 16)
		}
		p := crownOf(measure.Angle(rapid.Int64Range(25, 60).Draw(t, "spring"))*deg, 4*in)
		w, err := c.Crown(p)
		if err != nil {
			t.Fatal(err)
		}
		if w.WedgeEdge == 0 {
			t.Skip("no wedge")
		}
		level, rake, plane := corner(c)
		out, drop, line := p.Projection().Inches(), p.Drop().Inches(), w.WedgeLine.Inches()
		m := c.Slope.Float64()
		ceiling := func(q vec) float64 { return q[2] - float64(m*q[1]) } // wall 2 runs along y; the ceiling is level along x
		close := func(what string, a, b float64) {
			if math.Abs(a-b) > 1e-4 {
				t.Fatalf("%s: %f and %f", what, a, b)
			}
		}
		// The level crown, as it comes to the corner, and the wedge, level on the raked wall.
		wedge := trim{vec{0, 1, 0}, rake.out, vec{0, 0, 1}}
		top := level.at(out, drop-line, plane)
		close("ceiling edge of the level crown", ceiling(top), 0)
		if d := top.plus(wedge.at(out, drop-line, plane), -1); d.dot(d) > 1e-8 {
			t.Fatalf("ceiling edges meet the miter %v apart", d)
		}
		// Crown on the rake touches the ceiling out from the wall; its lower edge is a drop
		// square to the rake below. The joint stands square to the wall through the point
		// where the wedge's lower edge ends.
		edge := vec{0, w.WedgeEdge.Inches(), -line}
		below := edge.dot(rake.up) // of the rake's lower edge
		close("lower edges", below, -drop)
		// That joint halves the turn, so that it goes through both ceiling edges in one point.
		half := math.Atan(m) / 2
		cut := vec{0, math.Cos(half), math.Sin(half)}
		from := func(q vec) float64 { return q.dot(cut) - edge.dot(cut) }
		close("the wedge comes to a point in the joint", from(top), 0)
		onRake := vec{}.plus(rake.out, out).plus(rake.along, top.dot(rake.along))
		close("the raked crown meets it", onRake.plus(top, -1).dot(rake.up), 0)
	})
}

// A board over its steps: stair, floors, bases and skirt as areas of the wall, sampled point by point.
// No point is in two of them, and none between them is bare.
func TestSkirtOverSteps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := func(name string, lo, hi int64) measure.Length {
			return measure.Length(rapid.Int64Range(lo*16, hi*16).Draw(t, name)) * in / 16
		}
		f := stair.Flight{Risers: rapid.IntRange(2, 6).Draw(t, "risers"), Rise: size("rise", 4, 10), Run: size("run", 7, 14)}
		s := stair.Skirt{Width: size("width", 5, 14), Foot: size("foot", 3, 9), Head: size("head", 3, 9), Joint: stair.Joint(rapid.IntRange(0, 1).Draw(t, "joint"))}
		for _, base := range []*measure.Length{&s.Foot, &s.Head} {
			if rapid.IntRange(0, 3).Draw(t, "no base") == 0 {
				*base = 0
			}
		}
		b, err := f.Skirt(s)
		slope := math.Atan(f.Rise.Inches() / f.Run.Inches())
		plumb := s.Width.Inches() / math.Cos(slope)
		// The heights where its upper edge begins and ends: at plumb cuts, or at the bases.
		begins, ends := plumb, float64(f.Risers-1)*f.Rise.Inches()+plumb
		if s.Foot > 0 {
			begins = min(begins, s.Foot.Inches())
			if s.Joint == stair.JointBisect {
				begins = s.Foot.Inches()
			}
		}
		if s.Head > 0 && s.Joint == stair.JointBisect {
			ends = float64(f.Risers)*f.Rise.Inches() + s.Head.Inches()
		}
		if none := f.Rise.Inches()*math.Cos(slope) >= s.Width.Inches() || ends <= begins; none != (err != nil) {
			t.Fatal(err)
		} else if none {
			t.Skip("no board beside the steps")
		}
		rise, run, n := f.Rise.Inches(), f.Run.Inches(), float64(f.Risers)
		far := math.Sqrt(float64(rise*rise) + float64(run*run))
		cos, sin := run/far, rise/far

		// The outline on the wall, and the widest and longest of it.
		var left, right, top float64 = math.Inf(1), math.Inf(-1), 0
		var shape [][2]float64
		for _, p := range b.Outline {
			u, v := (p.Along - b.Reach).Inches(), p.Up.Inches()
			left, right, top = min(left, p.Along.Inches()), max(right, p.Along.Inches()), max(top, v)
			shape = append(shape, [2]float64{float64(u*cos) - float64(v*sin), float64(u*sin) + float64(v*cos)})
		}
		if math.Abs(left) > 1e-6 || math.Abs(right-b.Length.Inches()) > 1e-6 || top > s.Width.Inches()+1e-6 {
			t.Fatalf("a board of %v by %v: %v", b.Length, s.Width, b.Outline)
		}

		inside := func(shape [][2]float64, x, y float64) bool {
			odd := false
			for i, p := range shape {
				q := shape[(i+len(shape)-1)%len(shape)]
				if p[1] > y != (q[1] > y) && x < p[0]+float64((q[0]-p[0])*(y-p[1]))/(q[1]-p[1]) {
					odd = !odd
				}
			}
			return odd
		}
		// Base pieces from the data of their ends: the long point, and which edge is short by the
		// setback.
		base := func(at float64, e stock.End, height float64, dir float64) [2]float64 { // lower, upper x
			lo, hi := at, at
			switch e.LongPoint() {
			case "upper edge":
				lo -= dir * e.Setback.Inches()
			case "lower edge":
				hi -= dir * e.Setback.Inches()
			}
			return [2]float64{lo, hi}
		}
		floor := n * rise
		foot, head := base(b.BaseEnd.Inches(), b.FootBase, s.Foot.Inches(), 1), base((n-1)*run+b.BaseStart.Inches(), b.HeadBase, s.Head.Inches(), -1)
		const wide = 60
		lower := [][2]float64{{-wide, 0}, {foot[0], 0}, {foot[1], s.Foot.Inches()}, {-wide, s.Foot.Inches()}}
		upper := [][2]float64{{head[0], floor}, {n*run + wide, floor}, {n*run + wide, floor + s.Head.Inches()}, {head[1], floor + s.Head.Inches()}}
		solid := func(x, y float64) bool { // floors and steps
			step := math.Floor(x/run) + 1 // treads under x
			return y < 0 || x > 0 && y < min(step, n-1)*rise || x > (n-1)*run && y < floor
		}
		for range 400 {
			x := rapid.Float64Range(-2*run, (n+2)*run).Draw(t, "x")
			y := float64(x*sin/cos) + rapid.Float64Range(-6, 26).Draw(t, "y")
			close := func(v float64) bool { return math.Abs(v) < 1e-3 }
			if close(y) || close(y-floor) || close(math.Mod(y, rise)) || close(math.Mod(x, run)) || close(y-s.Foot.Inches()) || close(y-floor-s.Head.Inches()) {
				continue // on an edge
			}
			inSkirt := inside(shape, x, y)
			inLower, inUpper := s.Foot > 0 && inside(lower, x, y), s.Head > 0 && inside(upper, x, y)
			// The skirt lies before the steps, whose inner corners it reaches; it must not
			// lie in a floor.
			if inSkirt && (y < 0 || x > (n-1)*run && y < floor) {
				t.Fatalf("%f, %f: the skirt lies in a floor; %+v", x, y, b)
			}
			if inSkirt && inLower || inSkirt && inUpper {
				t.Fatalf("%f, %f: skirt and base overlap; %+v", x, y, b)
			}
			// Everything above steps and floors, and below the upper edges of all pieces, is covered.
			up := float64(y*cos) - float64(x*sin)
			band := up > 1e-3 && up < s.Width.Inches()-1e-3
			along := float64(x*cos) + float64(y*sin)
			last := float64((n-1)*run*cos) + float64((n-1)*rise*sin)
			if band && !solid(x, y) && along > s.Width.Inches()*sin/cos && along < last && !inSkirt && !inLower && !inUpper && x < (n-1)*run &&
				(s.Joint == stair.JointPlumb || s.Head == 0 || y < floor+s.Head.Inches()) { // a miter ends the upper edge at the base's
				t.Fatalf("%f, %f is bare; %+v", x, y, b)
			}
			// In a miter nothing is bare on either side of it.
			if s.Joint == stair.JointBisect && s.Foot > 0 && y > 0 && y < s.Foot.Inches() && x < 0 && x > -wide && !inLower && !inSkirt && up < s.Width.Inches() && y < min(s.Foot.Inches(), float64(x*sin/cos)+s.Width.Inches()/cos) {
				t.Fatalf("%f, %f is bare at the foot; %+v", x, y, b)
			}
		}
	})
}

// The ends of a skirt and a rail are those that joint works out from their angles.
func TestEndsAgreeWithJoint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := func(name string, lo, hi int64) measure.Length {
			return measure.Length(rapid.Int64Range(lo*16, hi*16).Draw(t, name)) * in / 16
		}
		f := stair.Flight{Risers: rapid.IntRange(2, 20).Draw(t, "risers"), Rise: size("rise", 4, 10), Run: size("run", 7, 14), Nosing: size("nosing", 0, 2)}
		s := stair.Skirt{Width: size("width", 10, 14), Foot: size("foot", 3, 9), Head: size("head", 3, 9)}
		b, err := f.Skirt(s)
		if err != nil {
			t.Skip(err)
		}
		rail, err := f.Rail(s.Width)
		if err != nil {
			t.Fatal(err)
		}
		for i, e := range []stock.End{b.Foot, b.Head, b.FootBase, b.HeadBase, rail.Foot, rail.Head} {
			width := []measure.Length{s.Width, s.Width, s.Foot, s.Head, s.Width, s.Width}[i]
			cut, err := joint.NewCut(stock.Profile{Thickness: in, Width: width}, stock.End{Kind: e.Kind, Angle: e.Angle})
			if err != nil {
				t.Fatal(err)
			}
			if d := cut.End.Setback - e.Setback; d > 4 || d < -4 { // the angle is to a thousandth of a second
				t.Fatalf("end %d is %+v, joint says %+v", i, e, cut.End)
			}
		}
		// The two lower corners of the board are those of its lower edge.
		if i := slices.IndexFunc(b.Outline, func(p stock.Point) bool { return p.Up > s.Width+1 || p.Up < -1 }); i >= 0 {
			t.Fatalf("corner %v", b.Outline[i])
		}
	})
}

// A rail's edges, as lines on the wall, keep one plumb height above the nosings and above both
// floors, and turn where the lines cross.
func TestRailTurns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := func(name string, lo, hi int64) measure.Length {
			return measure.Length(rapid.Int64Range(lo*16, hi*16).Draw(t, name)) * in / 16
		}
		f := stair.Flight{Risers: rapid.IntRange(2, 20).Draw(t, "risers"), Rise: size("rise", 4, 10), Run: size("run", 7, 14), Nosing: size("nosing", 0, 2)}
		r, err := f.Rail(size("width", 1, 6))
		if err != nil {
			t.Fatal(err)
		}
		rise, run, n := f.Rise.Inches(), f.Run.Inches(), float64(f.Risers)
		nose := func(i float64) (x, y float64) { return float64((i-1)*run) - f.Nosing.Inches(), float64(i * rise) }
		x1, y1 := nose(1)
		xn, yn := nose(n)
		m := (yn - y1) / (xn - x1)
		for _, end := range []struct{ at, floor float64 }{{r.FootAt.Inches(), 0}, {r.HeadAt.Inches(), n * rise}} {
			if y := y1 + float64(m*(end.at-x1)); math.Abs(y-end.floor) > 1e-4 {
				t.Fatalf("at %f the line of the nosings is %f high, the floor %f", end.at, y, end.floor)
			}
		}
		level := (r.HeadAt - r.FootAt).Inches()
		if long := math.Sqrt(float64(level*level) + float64(n*rise*n*rise)); math.Abs(long-r.Edge.Inches()) > 1e-4 {
			t.Fatalf("edge of %v, want %f", r.Edge, long)
		}
	})
}
