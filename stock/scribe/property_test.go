package scribe_test

import (
	"math"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/scribe"
	"pgregory.net/rapid"
)

// surfaces are readings to a sixteenth, at whole inches.
func surfaces(t *rapid.T, label string) scribe.Surface {
	var s scribe.Surface
	at := measure.Length(0)
	for range rapid.IntRange(1, 8).Draw(t, label+" stations") {
		s = append(s, scribe.Reading{At: at, FromLine: measure.Length(rapid.IntRange(0, 32).Draw(t, label+" reading")) * in / 16})
		at += measure.Length(rapid.IntRange(1, 60).Draw(t, label+" step")) * in
	}
	return s
}

// stretch is a part of a wall, to the sixteenth.
func stretch(t *rapid.T) (from, to measure.Length) {
	from = measure.Length(rapid.IntRange(0, 16*240).Draw(t, "from")) * in / 16
	return from, from + measure.Length(rapid.IntRange(1, 16*240).Draw(t, "long"))*in/16
}

// The trim, cut as the marks say and set on the floor, has its top at the same height above
// the level line wherever one looks, and the floor is nowhere inside it: every quarter inch,
// with the floor interpolated here.
func TestTopIsLevel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := surfaces(t, "floor")
		from, to := stretch(t)
		_, low := s.Extremes(0, to+from)
		floor := func(x float64) float64 { // below the line, in inches
			for i := range s {
				if at := s[i].At.Inches(); x <= at {
					if i == 0 {
						return s[0].FromLine.Inches()
					}
					before := s[i-1]
					share := (x - before.At.Inches()) / (at - before.At.Inches())
					return before.FromLine.Inches() + share*(s[i].FromLine-before.FromLine).Inches()
				}
			}
			return s[len(s)-1].FromLine.Inches()
		}
		tolerance := measure.Length(rapid.IntRange(0, 4).Draw(t, "tolerance")) * in / 16
		cut := s.Cut(from, to, low.FromLine, tolerance)
		depth := func(x float64) float64 { // of the cut, at x of the wall
			x -= from.Inches()
			for i := 1; i < len(cut.Marks); i++ {
				a, b := cut.Marks[i-1], cut.Marks[i]
				if x <= b.At.Inches() {
					return a.Depth.Inches() + (x-a.At.Inches())/(b.At-a.At).Inches()*(b.Depth-a.Depth).Inches()
				}
			}
			return 0 // no cut
		}
		const eps = 1e-5
		deepest, gap := 0.0, 0.0
		for x := from.Inches(); x <= to.Inches(); x += .25 {
			// The lower edge after the cut, below the line, where the uncut one is at low.
			foot, f := low.FromLine.Inches()-depth(x), floor(x)
			if foot > f+eps {
				t.Fatalf("at %v the trim reaches %v into the floor: %+v", x, foot-f, cut)
			}
			if f-foot > gap {
				gap = f - foot
			}
			if cut.Kind == scribe.CutScribe && f-foot > eps {
				t.Fatalf("at %v the trim is %v off the floor: %+v", x, f-foot, cut)
			}
			deepest = max(deepest, low.FromLine.Inches()-f)
		}
		if cut.Deepest.Inches() < deepest-eps {
			t.Fatalf("deepest %v, on the grid %v", cut.Deepest.Inches(), deepest)
		}
		if cut.Kind != scribe.CutScribe && (gap > tolerance.Inches()+eps || gap > cut.Gap.Inches()+eps) {
			t.Fatalf("a gap of %v with %+v, tolerance %v", gap, cut, tolerance)
		}
		if cut.Kind == scribe.CutScribe && cut.Gap <= tolerance {
			t.Fatalf("scribed for a gap of %v, tolerance %v", cut.Gap, tolerance)
		}
	})
}

// No straight cut leaves less than Gap: neither one through any two marks, which include the best one,
// nor a random one.
func TestStraightCutIsTheBest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := surfaces(t, "floor")
		from, to := stretch(t)
		_, low := s.Extremes(from, to)
		cut := s.Cut(from, to, low.FromLine, -1) // all marks, whatever the gap
		if cut.Kind == scribe.CutNone {
			return
		}
		gap := func(slope float64) float64 {
			least, most := math.Inf(1), math.Inf(-1)
			for _, m := range cut.Marks {
				d := m.Depth.Inches() - slope*m.At.Inches()
				least, most = min(least, d), max(most, d)
			}
			return most - least
		}
		best := gap(0)
		for i, a := range cut.Marks {
			for _, b := range cut.Marks[:i] {
				best = min(best, gap((a.Depth-b.Depth).Inches()/(a.At-b.At).Inches()))
			}
		}
		if got := cut.Gap.Inches(); math.Abs(got-best) > 1e-5 {
			t.Fatalf("gap %v, the best straight cut leaves %v: %+v", got, best, cut.Marks)
		}
		if g := gap(rapid.Float64Range(-.05, .05).Draw(t, "slope")); g < cut.Gap.Inches()-1e-5 {
			t.Fatalf("a cut leaves %v, the best %v", g, cut.Gap.Inches())
		}
	})
}

// Fall is the greatest difference of two places that are no farther apart, of all that lie
// on a grid of an inch.
func TestFallOnAGrid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := surfaces(t, "floor")
		from := measure.Length(rapid.IntRange(0, 60).Draw(t, "from")) * in
		to := from + measure.Length(rapid.IntRange(1, 240).Draw(t, "long"))*in
		over := measure.Length(rapid.IntRange(1, 90).Draw(t, "over")) * in
		most := measure.Length(0)
		for x := from; x <= to; x += in {
			for y := x; y <= min(to, x+over); y += in {
				most = max(most, s.Line(x)-s.Line(y), s.Line(y)-s.Line(x))
			}
		}
		// Stations and steps are whole inches; a difference of two rounded lines may be a tick off.
		if got := s.Fall(from, to, over); got-most > 1 || most-got > 1 {
			t.Fatalf("fall %v, on the grid %v", got, most)
		}
	})
}

// With the lowest point of the room, the tops of two walls meet in their corner, and no
// wall needs higher base than Needed says.
func TestTopsMeetInCorners(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := surfaces(t, "first"), surfaces(t, "second")
		b[0].FromLine = a[len(a)-1].FromLine // one corner, one reading
		height, least := 6*in, measure.Length(rapid.IntRange(1, 48).Draw(t, "least"))*in/8
		shape, err := scribe.Floor{Walls: []scribe.Surface{a, b}, Height: height, MinBase: least}.Shape()
		if err != nil {
			t.Fatal(err)
		}
		low := shape.Low.FromLine
		end, start := a[len(a)-1].At, b[0].At
		left := a.Cut(end-in/16, end, low, -1)
		right := b.Cut(start, start+in/16, low, -1)
		depth := func(c scribe.Cut, i int) measure.Length {
			if len(c.Marks) == 0 {
				return 0
			}
			return c.Marks[i*(len(c.Marks)-1)].Depth
		}
		if l, r := depth(left, 1), depth(right, 0); l != r {
			t.Fatalf("tops differ by %v", l-r)
		}
		deepest := measure.Length(0)
		for _, s := range []scribe.Surface{a, b} {
			for _, r := range s {
				deepest = max(deepest, low-r.FromLine)
			}
		}
		if deepest != shape.Rise || shape.Needed-deepest != least || shape.Remaining != height-deepest || shape.HighEnough != (height-deepest >= least) {
			t.Fatalf("%+v, deepest %v", shape, deepest)
		}
		if covers := (scribe.Floor{Walls: []scribe.Surface{a, b}, Height: height, Shoe: in}); true {
			shape, err := covers.Shape()
			if err != nil || shape.ShoeCovers != (deepest <= 3*in/4) {
				t.Fatalf("%+v, %v", shape, err)
			}
		}
	})
}

// Rolled crown still reaches from wall to ceiling over its width.
func TestRolledCrownIsAsWide(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := measure.Length(rapid.Int64Range(int64(in), int64(12*in)).Draw(t, "width"))
		drop := measure.Length(rapid.Int64Range(1, int64(w)-1).Draw(t, "drop"))
		roll, err := scribe.NewRoll(stock.Profile{Width: w}, drop)
		if err != nil {
			t.Fatal(err)
		}
		if got := math.Hypot(float64(roll.Drop), float64(roll.Projection)); math.Abs(got-float64(w)) > 1 {
			t.Fatalf("%v wide, want %v: %+v", got, w, roll)
		}
		if got := float64(w) * math.Cos(roll.Spring.Radians()); math.Abs(got-float64(drop)) > 1 {
			t.Fatalf("drop %v, want %v", got, drop)
		}
	})
}

// The strips that a blank is said to give lie on it side by side, each cut a band as wide as
// the kerf, and one more does not, however they are turned: every order of turns is tried,
// with the strips laid down one after the other in the plane.
func TestTaperedStripsFit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		narrow := measure.Length(rapid.IntRange(16, 80).Draw(t, "narrow")) * in / 32
		wide := narrow + measure.Length(rapid.IntRange(0, 32).Draw(t, "taper"))*in/32
		r := scribe.TaperedRip{
			Rip: stock.Rip{
				Width: wide + measure.Length(rapid.IntRange(0, 32*8).Draw(t, "board"))*in/32, Strip: wide,
				Kerf: measure.Length(rapid.IntRange(0, 4).Draw(t, "kerf")) * in / 32, FinishedEdges: 2, MinStrip: in / 2,
			},
			Narrow: narrow, Length: measure.Length(rapid.IntRange(12, 96).Draw(t, "length")) * in,
		}
		got, err := r.Blank()
		if err != nil {
			t.Fatal(err)
		}
		board, kerf, long := r.Rip.Width.Inches(), r.Rip.Kerf.Inches(), r.Length.Inches()
		// reach is how much of the board's width a number of strips takes at the least.
		reach := func(n int) float64 {
			best := math.Inf(1)
			for turns := range 1 << n {
				y0, y1 := 0.0, 0.0 // the upper edge of the strip there, at the two ends
				for i := range n {
					if i > 0 { // the next edge is parallel to it, a kerf away
						up := kerf * math.Hypot(1, (y1-y0)/long)
						y0, y1 = y0+up, y1+up
					}
					a, b := wide.Inches(), narrow.Inches()
					if turns>>i&1 == 1 {
						a, b = b, a
					}
					y0, y1 = y0+a, y1+b
				}
				best = min(best, max(y0, y1))
			}
			return best
		}
		const tick = 1. / 2_032_000
		n := got.Strips
		if n > 12 {
			n = 12
		}
		if got := reach(n); got > board+tick {
			t.Fatalf("%d strips take %v of %v in", n, got, board)
		}
		if n == got.Strips {
			if more := reach(n + 1); more < board-float64(n+1)*tick {
				t.Fatalf("%d strips take %v of %v in, but the result is %d", n+1, more, board, n)
			}
		}
	})
}

// The boards of an extension, placed on the jamb and against each other, leave an opening that is wider
// and higher by the setbacks, do not overlap, and reach the wall at every corner.
func TestExtensionBoardsMeet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sixteenth := func(lo, hi int, label string) measure.Length {
			return measure.Length(rapid.IntRange(lo, hi).Draw(t, label)) * in / 16
		}
		d := scribe.Depths{
			TopLeft: sixteenth(48, 64, "top left"), TopRight: sixteenth(48, 64, "top right"),
			BottomLeft: sixteenth(48, 64, "bottom left"), BottomRight: sixteenth(48, 64, "bottom right"),
			Left: sixteenth(0, 1, "measured") * sixteenth(48, 64, "left") / (in / 16),
		}
		e := scribe.Extension{
			Depths: d, Width: sixteenth(200, 700, "width"), Height: sixteenth(200, 1400, "height"), Thickness: sixteenth(4, 16, "thickness"),
			FourSided: rapid.Bool().Draw(t, "four sides"), Setback: sixteenth(1, 6, "setback"), Proud: sixteenth(0, 1, "proud"),
		}
		for range rapid.IntRange(0, 2).Draw(t, "layers") {
			e.Layers = append(e.Layers, scribe.Layer{Width: sixteenth(4, 20, "layer"), Flush: true})
		}
		parts, err := e.Parts()
		if err != nil {
			t.Fatal(err)
		}
		each := 3
		if e.FourSided {
			each = 4
		}
		if len(parts) != each*(len(e.Layers)+1) {
			t.Fatalf("%d boards", len(parts))
		}
		filled := -e.Proud
		for k := 0; k < len(parts); k += each {
			set := measure.Length(0) // layers are flush
			if last := k+each == len(parts); last {
				set = e.Setback
			}
			left, right, head := parts[k], parts[k+1], parts[k+2]
			// From the jamb's left face and its lower end.
			foot := measure.Length(0)
			if e.FourSided {
				foot = -set
				if sill := parts[k+3]; sill.Length != e.Width+2*set+2*e.Thickness {
					t.Fatalf("sill %v", sill.Length)
				}
			}
			if top := foot + left.Length; top != e.Height+set || foot+right.Length != top {
				t.Fatalf("legs end %v and %v above the sill, the head lies on %v", top, foot+right.Length, e.Height+set)
			}
			if head.Length != e.Width+2*(set+e.Thickness) {
				t.Fatalf("head %v", head.Length)
			}
			// At a joint two boards stand out equally; the last ones reach the wall.
			if left.Right != head.Left || right.Right != head.Right || each == 4 && (left.Left != parts[k+3].Left || right.Left != parts[k+3].Right) {
				t.Fatalf("%+v", parts[k:k+each])
			}
			for _, p := range parts[k : k+each] {
				if p.Blank < p.Left || p.Blank < p.Right || p.Blank != max(p.Left, p.Right)+max(0, p.Bow) {
					t.Fatalf("%+v", p)
				}
			}
			filled += left.Right
			if k+each == len(parts) && filled != d.TopLeft {
				t.Fatalf("the boards reach %v, the wall %v", filled, d.TopLeft)
			}
			if k+each == len(parts) && d.Left != 0 && 2*(left.Bow+(left.Left+left.Right)/2)+(left.Left+left.Right)%2 != 2*(left.Left+d.Left-d.BottomLeft) {
				t.Fatalf("halfway the leg is %v off", left.Bow)
			}
		}
	})
}

// The plane through three corners' means misses each corner by a quarter of the twist: least
// squares of a plane over a rectangle, worked out here by its three sums.
func TestTwistOfThePlane(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(label string) measure.Length {
			return measure.Length(rapid.IntRange(-64, 64).Draw(t, label)) * in / 16
		}
		d := scribe.Depths{TopLeft: draw("tl"), TopRight: draw("tr"), BottomLeft: draw("bl"), BottomRight: draw("br")}
		_, miss := d.Twist()
		tl, tr, bl, br := d.TopLeft.Inches(), d.TopRight.Inches(), d.BottomLeft.Inches(), d.BottomRight.Inches()
		mean, across, up := (tl+tr+bl+br)/4, (tr+br-tl-bl)/4, (tl+tr-bl-br)/4
		for _, off := range []float64{tl - (mean - across + up), tr - (mean + across + up), bl - (mean - across - up), br - (mean + across - up)} {
			if math.Abs(math.Abs(off)-miss.Inches()) > 1e-6 {
				t.Fatalf("off by %v, reported %v", off, miss)
			}
		}
	})
}

// The corner at a height is where the planes of two leaning walls meet there: their lines in plan are
// intersected here.
func TestCornerOfLeaningWalls(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		out := func(label string) scribe.Lean {
			return scribe.Lean{Out: measure.Length(rapid.IntRange(-16, 16).Draw(t, label)) * in / 16, Over: 48 * in}
		}
		own, next := out("own"), out("next")
		outside := rapid.Bool().Draw(t, "outside")
		corner := measure.Angle(rapid.IntRange(30, 150).Draw(t, "corner")) * measure.Degree
		height := measure.Length(rapid.IntRange(1, 96).Draw(t, "height")) * in
		got, err := own.Corner(next, corner, outside, height)
		if err != nil {
			t.Fatal(err)
		}
		// The first wall comes along the x axis from the left to the origin, the room to the
		// right of it, below. The next one turns right by 180° less the room's angle.
		room := corner.Radians()
		if outside {
			room = 2*math.Pi - room
		}
		turn := room - math.Pi // counterclockwise
		dx, dy := math.Cos(turn), math.Sin(turn)
		nx, ny := -dy, dx // its left is away from the room
		o, n := height.Inches()*own.Out.Inches()/48, height.Inches()*next.Out.Inches()/48
		// y = o, and x·nx + y·ny = n.
		want := (n - o*ny) / nx
		if math.Abs(got.Inches()-want) > 1e-5 {
			t.Fatalf("%v beyond, the planes meet at %v", got.Inches(), want)
		}
	})
}

// A piece that follows the floor is on it at both ends.
func TestSlope(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := surfaces(t, "floor")
		from, to := stretch(t)
		rise := math.Tan(s.Slope(from, to).Radians()) * (to - from).Inches()
		if want := (s.Line(from) - s.Line(to)).Inches(); math.Abs(rise-want) > 1e-5 {
			t.Fatalf("rises %v, the floor %v", rise, want)
		}
	})
}
