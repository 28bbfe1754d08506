package curve_test

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock/curve"
)

// place is a point in plan, in inches, seen from the center of the arc.
type place struct{ x, y float64 }

// anyArc makes an arc of a wall, to sixteenths or whole degrees.
func anyArc(t *rapid.T) curve.Arc {
	sixteenths := func(name string, lo, hi int64) measure.Length {
		return measure.Length(rapid.Int64Range(lo, hi).Draw(t, name)) * measure.Inch / 16
	}
	if rapid.Bool().Draw(t, "by radius") {
		return curve.Arc{Radius: sixteenths("radius", 12*16, 300*16), Angle: measure.Angle(rapid.Int64Range(5, 330).Draw(t, "angle")) * measure.Degree}
	}
	chord := sixteenths("chord", 24*16, 240*16)
	return curve.Arc{Chord: chord, Rise: sixteenths("rise", 16, int64(2*chord/measure.Inch*16))}
}

// polygon sets up n equal segments, each turned from the previous one by twice the miter, and
// returns the largest distance of its sides from the wall. It uses only the results that a
// carpenter has from the package: length and miter.
func polygon(s curve.Segments, radius float64, bend curve.Bend) (gap float64) {
	// Walk two sides; the center is where their perpendicular bisectors meet.
	turn := 2 * s.Miter.Radians()
	long := s.Back.Inches()
	a, b := place{0, 0}, place{long, 0}
	c := place{b.x + long*math.Cos(turn), b.y + long*math.Sin(turn)}
	// The middle of ab is (long/2, 0), its bisector x = long/2; |center - b| = |center - c|.
	cx := (a.x + b.x) / 2
	dx, dy := c.x-b.x, c.y-b.y
	cy := ((c.x*c.x+c.y*c.y-b.x*b.x-b.y*b.y)/2 - dx*cx) / dy
	const steps = 2000
	for i := range steps + 1 {
		x := long * float64(i) / steps
		d := math.Hypot(x-cx, cy)
		off := radius - d // of a chord, inside the circle
		if bend == curve.BendConvex {
			off = d - radius
		}
		if off < -1e-4 {
			return math.Inf(1) // it runs through the wall
		}
		gap = max(gap, off)
	}
	return gap
}

// Segments as a carpenter sets them up stay within the tolerance, touch the wall and do not run
// into it; together they go around the whole arc; and one fewer would not stay within.
func TestSegmentsKeepToTolerance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		strip := curve.Strip{Arc: anyArc(t), Bend: curve.Bend(rapid.IntRange(0, 1).Draw(t, "bend")), Thickness: measure.Inch / 2}
		tolerance := measure.Length(rapid.Int64Range(1, 16).Draw(t, "tolerance")) * measure.Inch / 64
		s, err := strip.Segments(tolerance)
		if err != nil {
			t.Skip("no such segments")
		}
		d, err := strip.Arc.Dimensions()
		if err != nil {
			t.Fatal(err)
		}
		const tick = 1e-4 // lengths to the tick, magnified by flat joints
		if all := 2 * float64(s.Count) * s.Miter.Radians(); math.Abs(all-d.Angle.Radians()) > 1e-9*float64(s.Count) {
			t.Fatalf("%d segments turn by %v, the arc by %v", s.Count, all, d.Angle.Radians())
		}
		gap := s.Gap.Inches()
		if s.Count > 1 {
			gap = polygon(s, d.Radius.Inches(), strip.Bend)
		}
		if gap > tolerance.Inches()+tick || math.Abs(gap-s.Gap.Inches()) > tick {
			t.Fatalf("%+v: gap %v, tolerance %v", s, gap, tolerance.Inches())
		}
		if s.Count > 2 { // set up one fewer the same way
			n := s.Count - 1
			fewer := curve.Segments{Count: n, Miter: d.Angle / measure.Angle(2*n)}
			phi := d.Angle.Radians() / float64(2*n)
			long := 2 * d.Radius.Inches() * math.Tan(phi)
			if strip.Bend == curve.BendConcave {
				long = 2 * d.Radius.Inches() * math.Sin(phi)
			}
			fewer.Back, _ = measure.FromInches(long)
			if g := polygon(fewer, d.Radius.Inches(), strip.Bend); g < tolerance.Inches()-tick {
				t.Fatalf("%d segments are enough: gap %v", n, g)
			}
		}
	})
}

// At the very edge: if p = cos φ is rational, a rise and a chord with cos(θ/2) = Tn(p) exist, and n
// segments keep exactly to the tolerance R(1-p). They suffice, and with a tick less they do not.
func TestSegmentsAtTheEdge(t *testing.T) {
	cases := 0
	for _, u := range [][2]int64{{4, 5}, {12, 13}, {15, 17}, {24, 25}, {40, 41}, {84, 85}} { // cosines of right triangles in whole numbers
		for n := 1; n <= 6; n++ {
			p := big.NewRat(u[0], u[1])
			// Chebyshev's recurrence T(k+1) = 2p·T(k) - T(k-1).
			before, q := big.NewRat(1, 1), new(big.Rat).Set(p)
			for k := 1; k < n; k++ {
				next := new(big.Rat).Mul(p, q)
				next.Sub(next.Add(next, next), before)
				before, q = q, next
			}
			if math.Acos(float64(u[0])/float64(u[1]))*float64(n) > 2.9 {
				continue // beyond 330°
			}
			// With R = d·k, where q = m/d: v = R - R·q, c/2 = R·sin(θ/2), which is rational too.
			m, d := q.Num(), q.Denom()
			root := new(big.Int).Sub(new(big.Int).Mul(d, d), new(big.Int).Mul(m, m))
			half := new(big.Int).Sqrt(root)
			if new(big.Int).Mul(half, half).Cmp(root) != 0 || !d.IsInt64() {
				t.Fatalf("%v is not the cosine of a right triangle with integer sides", q)
			}
			scale := (100 * in / measure.Length(d.Int64())) * measure.Length(u[1]) // R a multiple of the denominator of p too
			if scale == 0 {
				continue
			}
			r := scale * measure.Length(d.Int64())
			arc := curve.Arc{Chord: 2 * scale * measure.Length(half.Int64()), Rise: r - scale*measure.Length(m.Int64())}
			tolerance := r / measure.Length(u[1]) * measure.Length(u[1]-u[0])
			for _, off := range []measure.Length{0, -1, 1} {
				s, err := curve.Strip{Arc: arc, Bend: curve.BendConcave, Thickness: in / 100}.Segments(tolerance + off)
				want := n
				if off < 0 {
					want++
				}
				if err != nil || s.Count != want {
					t.Errorf("%+v within %v%+d: %d segments, want %d, %v", arc, tolerance, off, s.Count, want, err)
				}
			}
			cases++
		}
	}
	if cases < 20 {
		t.Fatalf("only %d cases", cases)
	}
	// By degrees: n chords of 120° each are half the radius from the wall; two of them go around
	// 240°.
	for n := 1; n <= 2; n++ {
		for off, want := range map[measure.Length]int{0: n, 1: n, -1: n + 1} {
			arc := curve.Arc{Radius: 60 * in, Angle: measure.Angle(n) * 120 * deg}
			if s, err := (curve.Strip{Arc: arc, Bend: curve.BendConcave, Thickness: in / 100}).Segments(30*in + off); err != nil || s.Count != want {
				t.Errorf("%v within 30 in %+d: %d, want %d, %v", arc.Angle, off, s.Count, want, err)
			}
			// And tangents that stand off by the radius, 1/cos 60° - 1 = 1: not less than it.
			if _, err := (curve.Strip{Arc: arc, Thickness: in}).Segments(60 * in); err == nil {
				t.Error("accepted a gap as wide as the radius")
			}
		}
	}
	// A kerf twice as wide as it is deep closes by 90° exactly, and two of them by 180°.
	for angle, want := range map[measure.Angle]int{90 * deg: 1, 90*deg + 1: 2, 180 * deg: 2, 180*deg + 1: 3, 270 * deg: 3, 270*deg - 1: 3} {
		k, err := curve.Strip{Arc: curve.Arc{Radius: 60 * in, Angle: angle}, Thickness: in}.Kerfs(curve.Kerf{Width: in, Depth: in / 2})
		if err != nil || k.Count != want {
			t.Errorf("%v takes %d kerfs, want %d, %v", angle, k.Count, want, err)
		}
	}
	// Half a circle by chord and rise, and a tick to either side.
	for rise, want := range map[measure.Length]int{60 * in: 2, 60*in + 1: 3, 60*in - 1: 2} {
		k, err := curve.Strip{Arc: curve.Arc{Chord: 120 * in, Rise: rise}, Thickness: in}.Kerfs(curve.Kerf{Width: in, Depth: in / 2})
		if err != nil || k.Count != want {
			t.Errorf("rise %v takes %d kerfs, want %d, %v", rise, k.Count, want, err)
		}
	}
}

// Around the tolerance at which n segments just suffice, to the tick, where floating point cannot
// decide, the count changes from n to n + 1 and never falls as the tolerance falls.
func TestCountFalls(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 400).Draw(t, "n")
		radius := measure.Length(rapid.Int64Range(1, 300).Draw(t, "radius")) * in
		most := min(350*deg, measure.Angle(n)*80*deg) // so that a gap is less than the radius
		angle := measure.Angle(rapid.Int64Range(int64(measure.Angle(n)*deg/4), int64(most)).Draw(t, "angle"))
		bend := curve.Bend(rapid.IntRange(0, 1).Draw(t, "bend"))
		// The tolerance at which n are just enough, to the tick.
		phi := angle.Radians() / float64(2*n)
		gap := radius.Inches() * (1 - math.Cos(phi))
		if bend == curve.BendConvex {
			gap = radius.Inches() * (1/math.Cos(phi) - 1)
		}
		middle, err := measure.FromInches(gap)
		if err != nil {
			t.Fatal(err)
		}
		before := n
		strip := curve.Strip{Arc: curve.Arc{Radius: radius, Angle: angle}, Bend: bend, Thickness: 1}
		for off := measure.Length(3); off >= -3; off-- {
			s, err := strip.Segments(middle + off)
			if err != nil {
				t.Fatal(err)
			}
			if off == 3 && s.Count > n || off == -3 && s.Count <= n-1 || off < 3 && s.Count < before {
				t.Fatalf("%v of %v within %v: %d segments, about %d", angle, radius, middle+off, s.Count, n)
			}
			before = s.Count
		}
	})
}

// A string along the back and one along the face, laid around the arc point by point, are as long
// as said, and the arc itself as its chord and rise make it.
func TestFlexibleString(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := curve.Strip{
			Arc: anyArc(t), Bend: curve.Bend(rapid.IntRange(0, 1).Draw(t, "bend")), Thickness: measure.Length(rapid.Int64Range(4, 32).Draw(t, "thickness")) * in / 16,
			Standoff: measure.Length(rapid.Int64Range(0, 16).Draw(t, "standoff")) * in / 16,
		}
		f, err := s.Flexible()
		if err != nil {
			t.Fatal(err)
		}
		d, err := s.Arc.Dimensions()
		if err != nil {
			t.Fatal(err)
		}
		sign := 1.0
		if s.Bend == curve.BendConcave {
			sign = -1
		}
		for _, c := range []struct{ off, want measure.Length }{{0, d.Length}, {s.Standoff, f.Back}, {s.Standoff + s.Thickness, f.Face}} {
			// Points from end to end over the chord, which lies on x, the rise upward; each is moved
			// off the wall along the radius.
			const n = 4000
			half, rise := d.Chord.Inches()/2, d.Rise.Inches()
			radius := half*half/(2*rise) + rise/2
			at := func(k int) place {
				a := math.Atan2(half, radius-rise) * (1 - 2*float64(k)/n)
				r := radius + sign*c.off.Inches()
				return place{-r * math.Sin(a), r * math.Cos(a)}
			}
			long := 0.0
			for k := range n {
				p, q := at(k), at(k+1)
				long += math.Hypot(q.x-p.x, q.y-p.y)
			}
			if math.Abs(long-c.want.Inches()) > 1e-3 {
				t.Fatalf("%+v: a string at %v is %v long, want %v", s, c.off, long, c.want.Inches())
			}
		}
	})
}

// A board that is kerfed as said, hinged at the bottom of each kerf until it closes, turns by the
// whole angle; with one kerf less it does not. The two walls of a kerf are moved as solids.
func TestKerfsClose(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		arc := anyArc(t)
		thick := measure.Length(rapid.Int64Range(6, 24).Draw(t, "thickness")) * in / 16
		kerf := measure.Length(rapid.Int64Range(4, 16).Draw(t, "kerf")) * in / 64
		k, err := curve.Strip{Arc: arc, Thickness: thick}.Kerfs(curve.Kerf{Width: kerf})
		if err != nil {
			t.Fatal(err)
		}
		d, err := arc.Dimensions()
		if err != nil {
			t.Fatal(err)
		}
		// Find by bisection the angle at which the tops of the two walls of a kerf meet, each
		// turned by half of it about the hinge in the middle of the bottom.
		width := kerf.Inches()
		lo, hi := 0.0, math.Pi
		for range 60 {
			mid := (lo + hi) / 2
			x := // of the top of the left wall, which is at -width/2 before
				-width/2*math.Cos(mid/2) + k.Depth.Inches()*math.Sin(mid/2)
			if x < 0 {
				lo = mid
			} else {
				hi = mid
			}
		}
		if all := float64(k.Count) * lo; all < d.Angle.Radians()-1e-6 || all-lo > d.Angle.Radians()+1e-6 {
			t.Fatalf("%+v: %d kerfs turn by %v, the arc by %v", k, k.Count, all, d.Angle.Radians())
		}
		if k.EvenSpacing > k.MaxSpacing || k.Web < in/16 || k.Depth+k.Web != thick {
			t.Fatalf("%+v", k)
		}
		if off := k.EvenSpacing.Inches()*float64(k.Count) - k.Length.Inches(); math.Abs(off) > 1e-5*float64(k.Count) {
			t.Fatalf("%+v: spacings miss the length by %v", k, off)
		}
	})
}

// The pieces around a bullnose, set up one after the other from the end of one run, arrive at the
// other run's end in its direction, and touch the bead without running into it.
func TestBullnoseMeets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := curve.Bullnose{
			Radius: measure.Length(rapid.Int64Range(1, 64).Draw(t, "radius")) * in / 16,
			Corner: measure.Angle(rapid.Int64Range(30, 170).Draw(t, "corner")) * deg,
			Pieces: rapid.IntRange(1, 5).Draw(t, "pieces"), Thickness: in / 2,
		}
		s, err := n.Segments()
		if err != nil {
			t.Fatal(err)
		}
		delta := math.Pi - n.Corner.Radians()
		r := n.Radius.Inches()
		// The first wall runs along x to the sharp corner at (0, 0); the bead's center is r below
		// it and r·tan(δ/2) before the corner. The trim is above.
		center := place{-r * math.Tan(delta/2), -r}
		at, heading := place{-s.Short.Inches(), 0}, 0.0
		for range s.Count {
			heading -= 2 * s.Miter.Radians()
			from := at
			at = place{at.x + s.Back.Inches()*math.Cos(heading), at.y + s.Back.Inches()*math.Sin(heading)}
			nearest := math.Inf(1)
			for i := range 1001 {
				f := float64(i) / 1000
				nearest = min(nearest, math.Hypot(from.x+f*(at.x-from.x)-center.x, from.y+f*(at.y-from.y)-center.y))
			}
			if math.Abs(nearest-r) > 1e-5 {
				t.Fatalf("%+v: a piece is %v from the center of a bead of %v", n, nearest, r)
			}
		}
		end := place{s.Short.Inches() * math.Cos(delta), -s.Short.Inches() * math.Sin(delta)}
		if math.Hypot(at.x-end.x, at.y-end.y) > 1e-5 || math.Abs(heading-2*s.Miter.Radians()+delta) > 1e-9*float64(s.Count+1) {
			t.Fatalf("%+v ends at %v in direction %v, want %v, %v", n, at, heading, end, -delta)
		}
	})
}

// Nothing panics or hangs, and every error names a field.
func TestHostile(t *testing.T) {
	wild := rapid.OneOf(rapid.Int64(), rapid.SampledFrom([]int64{0, 1, -1, math.MaxInt64, math.MinInt64, int64(in), int64(60 * in), int64(5280 * measure.Foot)}))
	rapid.Check(t, func(t *rapid.T) {
		l := func(name string) measure.Length {
			if rapid.Bool().Draw(t, name+"?") {
				return 0
			}
			return measure.Length(wild.Draw(t, name))
		}
		s := curve.Strip{
			Arc:  curve.Arc{Chord: l("chord"), Rise: l("rise"), Radius: l("radius"), Angle: measure.Angle(l("angle"))},
			Bend: curve.Bend(rapid.IntRange(0, 2).Draw(t, "bend")), Thickness: l("thickness"), Standoff: l("standoff"),
		}
		d, err := s.Arc.Dimensions()
		fields(t, err)
		if err == nil && (d.Radius < 0 || d.Length < 0 || d.Chord < 0 || d.Rise < 0 || d.Angle < 0) {
			t.Fatalf("%+v: %+v", s.Arc, d)
		}
		_, err = s.Flexible()
		fields(t, err)
		seg, err := s.Segments(l("tolerance"))
		fields(t, err)
		if err == nil && (seg.Count < 1 || seg.Count > 1000 || seg.Face <= 0) {
			t.Fatalf("%+v: %+v", s, seg)
		}
		_, err = s.Kerfs(curve.Kerf{Width: l("kerf"), Depth: l("depth"), Web: l("web")})
		fields(t, err)
		_, err = curve.Bullnose{Radius: l("bead"), Corner: measure.Angle(l("corner")), Pieces: int(l("pieces")), Thickness: l("thick")}.Segments()
		fields(t, err)
	})
}

func fields(t *rapid.T, err error) {
	if err == nil {
		return
	}
	for e := range measure.FieldErrors(err) {
		if e.Field != "" && e.Want != "" {
			return
		}
	}
	t.Fatalf("%v names no field", err)
}
