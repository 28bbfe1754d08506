package takeoff_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
	"pgregory.net/rapid"
)

// place is a point in plan, in inches.
type place struct{ x, y float64 }

// shadow is the convex outline of a piece in plan.
type shadow struct {
	label   string
	wall    int
	outline []place
}

// depth returns how far two convex outlines reach into each other: the least by which
// one has to be moved to be clear of the other (the separating axis theorem).
func depth(a, b []place) float64 {
	least := math.Inf(1)
	for _, p := range [][]place{a, b} {
		for i := range p {
			q := p[(i+1)%len(p)]
			nx, ny := p[i].y-q.y, q.x-p[i].x
			size := math.Hypot(nx, ny)
			if size < 1e-9 {
				continue
			}
			across := func(ps []place) (lo, hi float64) {
				lo, hi = math.Inf(1), math.Inf(-1)
				for _, r := range ps {
					d := (r.x*nx + r.y*ny) / size
					lo, hi = min(lo, d), max(hi, d)
				}
				return lo, hi
			}
			alo, ahi := across(a)
			blo, bhi := across(b)
			least = min(least, ahi-blo, bhi-alo)
		}
	}
	return least
}

// sawn returns the part of an outline on the right of the line from a to b.
func sawn(p []place, a, b place) []place {
	var out []place
	at := func(r place) float64 { return (b.x-a.x)*(r.y-a.y) - (b.y-a.y)*(r.x-a.x) }
	for i, r := range p {
		q := p[(i+1)%len(p)]
		if at(r) >= 0 {
			out = append(out, r)
		}
		if (at(r) < 0) != (at(q) < 0) {
			f := at(r) / (at(r) - at(q))
			out = append(out, place{r.x + f*(q.x-r.x), r.y + f*(q.y-r.y)})
		}
	}
	return out
}

// ground is a room in plan: where each wall begins and which way it runs.
type ground struct {
	from []place
	dir  []place
	long []float64
}

// wall returns the first sixteenth of an inch behind the face of a wall.
func (g ground) wall(i int) []place {
	return []place{g.at(i, 0, -1./16), g.at(i, g.long[i], -1./16), g.at(i, g.long[i], 0), g.at(i, 0, 0)}
}

func groundOf(r takeoff.Room) ground {
	var g ground
	at, heading := place{}, 0.0
	for _, w := range r.Walls {
		d := place{math.Cos(heading), math.Sin(heading)}
		g.from, g.dir = append(g.from, at), append(g.dir, d)
		at = place{at.x + w.Length.Inches()*d.x, at.y + w.Length.Inches()*d.y}
		g.long = append(g.long, w.Length.Inches())
		a := 90.0
		if w.Corner.Angle != 0 {
			a = float64(w.Corner.Angle) / float64(measure.Degree)
		}
		turn := 180 - a
		if w.Corner.Kind == takeoff.CornerOutside {
			turn = -turn
		}
		heading += turn * math.Pi / 180
	}
	return g
}

func (g ground) at(wall int, u, v float64) place {
	p, d := g.from[wall], g.dir[wall]
	return place{p.x + u*d.x - v*d.y, p.y + u*d.y + v*d.x}
}

// shadows cuts every piece of a profile that stands off the wall by standoff: at its ends as sawn, and
// at copes by the face of the neighbor.
func shadows(r takeoff.Room, list *takeoff.List, p *stock.Profile, standoff measure.Length) []shadow {
	g := groundOf(r)
	var out []shadow
	for _, run := range list.Runs {
		if run.Profile != p.Name {
			continue
		}
		i := slices.IndexFunc(r.Walls, func(w takeoff.Wall) bool { return w.Name == run.Wall })
		left := (run.Start - run.Reach).Inches()
		right := left + run.Length.Inches()
		back, face := standoff.Inches(), (standoff + p.Thickness).Inches()
		lb, lf, rb, rf := left, left, right, right
		cut := func(e stock.End, b, f *float64, sign float64) {
			switch e.LongPoint() {
			case "back":
				*f += sign * e.Setback.Inches()
			case "face":
				*b += sign * e.Setback.Inches()
			}
		}
		if run.Left.Kind != stock.EndCope {
			cut(run.Left, &lb, &lf, 1)
		}
		if run.Right.Kind != stock.EndCope {
			cut(run.Right, &rb, &rf, -1)
		}
		s := shadow{run.Label, i, []place{g.at(i, lb, back), g.at(i, rb, back), g.at(i, rf, face), g.at(i, lf, face)}}
		n := len(r.Walls)
		if before := (i + n - 1) % n; run.Left.Kind == stock.EndCope {
			s.outline = sawn(s.outline, g.at(before, 0, face), g.at(before, 1, face))
		}
		if after := (i + 1) % n; run.Right.Kind == stock.EndCope {
			s.outline = sawn(s.outline, g.at(after, 0, face), g.at(after, 1, face))
		}
		out = append(out, s)
		if run.Left.Kind == stock.EndReturn {
			out = append(out, shadow{run.Label + " return", i, []place{g.at(i, lf, back), g.at(i, lb, back), g.at(i, lf, face)}})
		}
		if run.Right.Kind == stock.EndReturn {
			out = append(out, shadow{run.Label + " return", i, []place{g.at(i, rb, back), g.at(i, rf, back), g.at(i, rf, face)}})
		}
	}
	return out
}

// builder draws a room that closes: a rectangle, its sides broken by jogs, alcoves,
// breasts and bays, and those again.
type builder struct {
	t     *rapid.T
	small *rapid.Generator[measure.Length]
	walls []takeoff.Wall

	corners []int // the walls that end in a corner of the rectangle
}

func (b *builder) wall(l measure.Length, kind takeoff.CornerKind, angle measure.Angle) {
	b.walls = append(b.walls, takeoff.Wall{
		Name: fmt.Sprintf("w%d", len(b.walls)), Length: l, Corner: takeoff.Corner{Kind: kind, Angle: angle * measure.Degree},
	})
}

// side draws a stretch that runs straight for a length and ends in a corner.
func (b *builder) side(l measure.Length, deep int, kind takeoff.CornerKind, angle measure.Angle) {
	const in, out = takeoff.CornerInside, takeoff.CornerOutside
	what := rapid.SampledFrom([]string{"plain", "plain", "alcove", "breast", "bay"}).Draw(b.t, "side")
	w := b.small.Draw(b.t, "width")
	d := b.small.Draw(b.t, "depth")
	rest := l - w
	if what == "bay" {
		rest -= b.along(d)
	}
	if deep == 0 || what == "plain" || rest < measure.Inch/4 {
		b.wall(l, kind, angle)
		return
	}
	first := rest / 2
	switch rapid.IntRange(0, 3).Draw(b.t, "near") {
	case 0:
		first = min(rest-measure.Inch/8, b.small.Draw(b.t, "first"))
	case 1:
		first = max(measure.Inch/8, rest-b.small.Draw(b.t, "last"))
	}
	switch what {
	case "alcove":
		b.side(first, deep-1, out, 0)
		b.side(d, deep-1, in, 0)
		b.side(w, deep-1, in, 0)
		b.side(d, deep-1, out, 0)
	case "breast":
		b.side(first, deep-1, in, 0)
		b.side(d, deep-1, out, 0)
		b.side(w, deep-1, out, 0)
		b.side(d, deep-1, in, 0)
	case "bay":
		b.wall(first, out, 135)
		b.wall(d, in, 135)
		b.wall(w, in, 135)
		b.wall(d, out, 135)
	}
	b.side(rest-first, deep-1, kind, angle)
}

// along is the length of the wall taken by the two cheeks of a bay.
func (b *builder) along(cheek measure.Length) measure.Length {
	return measure.Length(2 * float64(cheek) * math.Sqrt2 / 2)
}

// open puts doors and cabinets on some walls, in a corner or near one.
func (b *builder) open(s takeoff.Scheme) {
	margin := measure.Length(0)
	if s.Casing != nil {
		margin = s.Casing.Width + 3*measure.Inch/16
	}
	for i := range b.walls {
		w := &b.walls[i]
		if w.Length < 10*measure.Inch || !rapid.Bool().Draw(b.t, "something on the wall") {
			continue
		}
		width := min(b.small.Draw(b.t, "its width"), w.Length-2*margin-measure.Inch)
		if width <= 0 {
			continue
		}
		at := min(b.small.Draw(b.t, "its place")-measure.Inch/16, w.Length-2*margin-width) + margin
		if rapid.Bool().Draw(b.t, "from the right") {
			at = w.Length - width - at
		}
		if kind := rapid.SampledFrom([]takeoff.OpeningKind{takeoff.OpeningDoor, takeoff.OpeningPlain, takeoff.OpeningWindow}).Draw(b.t, "kind"); kind != takeoff.OpeningWindow {
			w.Openings = []takeoff.Opening{{Kind: kind, At: at, Width: width}}
		} else {
			w.Fixtures = []takeoff.Fixture{{
				Name: "cabinet", At: at, Width: width, Depth: b.small.Draw(b.t, "its depth"),
				Ends: rapid.SampledFrom([]stock.EndKind{stock.EndSquare, stock.EndReturn}).Draw(b.t, "ends"),
			}}
		}
	}
}

// standing is the outline of casings and cabinets in plan.
func standing(r takeoff.Room, s takeoff.Scheme) []shadow {
	g := groundOf(r)
	var out []shadow
	add := func(i int, name string, from, to, deep measure.Length) {
		a, b, d := from.Inches(), to.Inches(), deep.Inches()
		out = append(out, shadow{r.Walls[i].Name + " " + name, i, []place{g.at(i, a, 0), g.at(i, b, 0), g.at(i, b, d), g.at(i, a, d)}})
	}
	for i, w := range r.Walls {
		for _, o := range w.Openings {
			if o.Kind == takeoff.OpeningDoor && s.Casing != nil {
				m := s.Casing.Width + 3*measure.Inch/16
				add(i, "casing", o.At-m, o.At+o.Width+m, s.Casing.Thickness)
			}
		}
		for _, f := range w.Fixtures {
			add(i, f.Name, f.At, f.At+f.Width, f.Depth)
		}
	}
	return out
}

// lean turns the four corners of the rectangle to a parallelogram's.
func (b *builder) lean(off measure.Angle) {
	for _, i := range b.corners {
		b.walls[i].Corner.Angle = (90 + off) * measure.Degree
		off = -off
	}
}

func (b *builder) room() takeoff.Room {
	const in = takeoff.CornerInside
	x, y := length(2*measure.Foot, 12*measure.Foot).Draw(b.t, "x"), length(2*measure.Foot, 12*measure.Foot).Draw(b.t, "y")
	step := measure.Length(0)
	if rapid.Bool().Draw(b.t, "jog") {
		step = b.small.Draw(b.t, "step")
	}
	if step > 0 { // the first wall jogs: the next one is longer or shorter
		kind, other := takeoff.CornerOutside, takeoff.CornerInside
		if rapid.Bool().Draw(b.t, "forward") && step < y-measure.Foot {
			kind, other = other, kind
		}
		first := max(measure.Inch/8, min(b.small.Draw(b.t, "before"), x-measure.Foot))
		b.wall(first, kind, 0)
		b.wall(step, other, 0)
		b.side(x-first, 2, in, 0)
		if kind == takeoff.CornerInside {
			step = -step
		}
		b.side(y+step, 2, in, 0)
	} else {
		for _, l := range []measure.Length{x, y} {
			b.side(l, 2, in, 0)
			b.corners = append(b.corners, len(b.walls)-1)
		}
	}
	for _, l := range []measure.Length{x, y} {
		b.side(l, 2, in, 0)
		b.corners = append(b.corners, len(b.walls)-1)
	}
	// Out of square, a little or by more than is coped: all corners in one line lean.
	if step == 0 && rapid.IntRange(0, 3).Draw(b.t, "lean") == 0 {
		lean := measure.Angle(rapid.IntRange(-12, 12).Draw(b.t, "degrees"))
		b.lean(lean)
	}
	return takeoff.Room{Name: "hall", Height: 9 * measure.Foot, Walls: b.walls}
}

// No two solids overlap, and none is in a wall, unless a finding says so: the pieces are laid out in
// plan as cut and compared with each other.
func TestSolidsAreApart(t *testing.T) {
	const in = measure.Inch
	// In inches: the overlap allowed without a finding, and the largest with one.
	const touch, share = .0001, .004
	rapid.Check(t, func(t *rapid.T) {
		s := takeoff.Scheme{Base: board("base", length(in/4, 7*in/8).Draw(t, "base"), 5*in)}
		s.Base.Inside = stock.InsideJoint(rapid.IntRange(0, 2).Draw(t, "inside"))
		if rapid.IntRange(0, 3).Draw(t, "tile") == 0 {
			s.Base.ButtSpliced, s.Base.StripJoint = true, in/16
		}
		if rapid.Bool().Draw(t, "with shoe") {
			s.Shoe = board("shoe", length(in/4, 5*in/8).Draw(t, "shoe"), 3*in/4)
		}
		b := builder{t: t, small: rapid.OneOf(length(in/16, 3*in), length(in/16, 3*in), length(in/16, 30*in))}
		if rapid.Bool().Draw(t, "casing") {
			s.Casing = casing(length(in/2, 4*in).Draw(t, "casing width"))
		}
		furnished := rapid.Bool().Draw(t, "furnished")
		r := b.room()
		if furnished {
			b.open(s)
		}
		list, err := takeoff.Take([]takeoff.Room{r}, s, nil)
		if err != nil {
			t.Fatal(err)
		}
		told := map[string]bool{}
		for _, f := range list.Findings {
			if f.Code != takeoff.FindingSliver {
				continue
			}
			if f.Severity == takeoff.SeverityDoubt {
				told[f.Suspects[0]+" "+f.Suspects[1]] = true
			} else {
				told[f.Wall] = true
			}
		}
		g := groundOf(r)
		n := len(r.Walls)
		solids := shadows(r, list, s.Base, 0)
		if s.Shoe != nil {
			solids = append(solids, shadows(r, list, s.Shoe, s.Base.Thickness)...)
		}
		trim := len(solids)
		solids = append(solids, standing(r, s)...)
		really := map[string]bool{}
		meet := func(i, j int, a, b string, d float64) {
			if d <= touch {
				return
			}
			if i > j {
				i, j = j, i
			}
			pair := r.Walls[i].Name + " " + r.Walls[j].Name
			if really[pair] = true; d > share && !told[pair] {
				t.Fatalf("%s and %s share %.4f in without a finding: %+v", a, b, d, list.Findings)
			}
		}
		for i, a := range solids {
			if i >= trim {
				break
			}
			for k, b := range solids {
				if k >= i && k < trim {
					continue
				}
				meet(a.wall, b.wall, a.label, b.label, depth(a.outline, b.outline))
			}
			for w := range r.Walls {
				meet(a.wall, w, a.label, r.Walls[w].Name, depth(a.outline, g.wall(w)))
			}
		}
		for pair := range told {
			if s.Base.StripJoint == 0 && strings.Contains(pair, " ") && !really[pair] { // open joints give way a little
				t.Fatalf("%s are reported to overlap but do not", pair)
			}
		}
		// Bare wall is reported, and reported walls are narrow, or face narrow ones.
		for _, p := range []*stock.Profile{s.Base, s.Shoe} {
			if p == nil {
				continue
			}
			thick := p.Thickness
			if p == s.Shoe {
				thick += s.Base.Thickness
			}
			has := map[string]bool{}
			for _, run := range list.Runs {
				has[run.Wall] = has[run.Wall] || run.Profile == p.Name
			}
			for i, w := range r.Walls {
				if has[w.Name] || len(w.Openings)+len(w.Fixtures) > 0 {
					continue
				}
				if !told[w.Name] {
					t.Fatalf("%s has no %s, and no finding says so", w.Name, p.Name)
				}
				bare := func(j int) bool { // maybe at the corner only
					w := r.Walls[(j+n)%n]
					return !has[w.Name] || len(w.Openings)+len(w.Fixtures) > 0
				}
				before := r.Walls[(i+n-1)%n].Corner
				jog := (before.Kind == takeoff.CornerOutside || w.Corner.Kind == takeoff.CornerOutside) && before.Angle == 0 && w.Corner.Angle == 0
				// The length of wall taken by the trim of two neighbors at an inside corner of angle A
				// is its thickness times cot(A/2): more than that if it is sharp.
				need := 0.0
				for _, c := range [...]takeoff.Corner{before, w.Corner} {
					k := 1.0
					if c.Angle != 0 {
						k = max(1, 1/math.Tan(c.Angle.Radians()/2))
					}
					need += thick.Inches() * k
				}
				if s.Base.StripJoint == 0 && (jog || w.Length.Inches() > need) && !bare(i-1) && !bare(i+1) {
					t.Fatalf("%s of %v has no %s", w.Name, w.Length, p.Name)
				}
			}
		}
	})
}

// An alcove narrower than base on both of its sides has no room for any: it stays bare, and the trim in
// front of it is returned.
func TestNarrowAlcove(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	outside := takeoff.Corner{Kind: takeoff.CornerOutside}
	for _, alcove := range []measure.Length{in / 2, 5 * in / 8, in, 19 * in / 16} {
		r := takeoff.Room{Name: "hall", Walls: []takeoff.Wall{
			{Name: "left", Length: 4 * ft, Corner: outside},
			{Name: "in", Length: 8 * in},
			{Name: "back", Length: alcove},
			{Name: "out", Length: 8 * in, Corner: outside},
			{Name: "right", Length: 4 * ft, Corner: takeoff.Corner{Kind: takeoff.CornerStop}},
		}}
		list := take(t, r, takeoff.Scheme{Base: board("base", 5*in/8, 5*in)})
		var told, run []string
		for _, f := range list.Findings {
			if f.Code == takeoff.FindingSliver {
				told = append(told, fmt.Sprint(f.Wall, " ", f.Severity, " ", f.Length))
			}
		}
		for _, x := range list.Runs {
			run = append(run, fmt.Sprint(x.Wall, " ", x.Left.Kind, " ", x.Right.Kind))
		}
		if want := []string{`in advice 8"`, fmt.Sprint("back advice ", alcove), `out advice 8"`}; !slices.Equal(told, want) {
			t.Errorf("%v: reported %q, want %q", alcove, told, want)
		}
		if want := []string{"left square return", "right return square"}; !slices.Equal(run, want) {
			t.Errorf("%v: run %q, want %q", alcove, run, want)
		}
	}
}

// A jog that is no deeper than the trim is thick is mitered at both corners: a cope would
// take away all of its back. Deeper ones are coped.
func TestShallowJog(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	for depth, want := range map[measure.Length]stock.EndKind{
		in / 16: stock.EndInsideMiter, in / 2: stock.EndInsideMiter, 5 * in / 8: stock.EndInsideMiter,
		11 * in / 16: stock.EndCope, 6 * in: stock.EndCope,
	} {
		r := takeoff.Room{Name: "hall", Walls: []takeoff.Wall{
			{Name: "N", Length: 2 * ft},
			{Name: "jog", Length: depth, Corner: takeoff.Corner{Kind: takeoff.CornerOutside}},
			{Name: "E", Length: 4 * ft, Corner: takeoff.Corner{Kind: takeoff.CornerStop}},
			{Name: "door side", Length: 3 * ft, Corner: takeoff.Corner{Kind: takeoff.CornerStop}, Openings: []takeoff.Opening{{At: ft, Width: ft}}},
		}}
		s := takeoff.Scheme{Base: board("base", 5*in/8, 5*in), Shoe: board("shoe", 5*in/8, 3*in/4)}
		list := take(t, r, s)
		for _, f := range list.Findings {
			if f.Code == takeoff.FindingSliver {
				t.Errorf("%v: %s", depth, f.Reason)
			}
		}
		ends := map[stock.EndKind]int{}
		for _, x := range list.Runs {
			if x.Wall != "jog" && x.Wall != "N" {
				continue
			}
			ends[x.Left.Kind]++
			ends[x.Right.Kind]++
			if x.Wall == "jog" && want == stock.EndInsideMiter && (x.Length != depth+5*in/8 || x.Left.LongPoint() != "back" || x.Right.LongPoint() != "face") {
				t.Errorf("%v: %s is %v, %v to %v", depth, x.Label, x.Length, x.Left, x.Right)
			}
		}
		if n := ends[want]; want == stock.EndInsideMiter && n != 4 || want == stock.EndCope && n != 2 {
			t.Errorf("%v: ends %v", depth, ends)
		}
	}
}
