package drawing_test

import (
	"bytes"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/internal/svg/svgcheck"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
	"example.com/longpoint/stock/stair"
	"example.com/longpoint/stock/takeoff"
	"example.com/longpoint/stock/takeoff/drawing"
)

var oak = stock.Profile{Name: "oak base", Thickness: 9 * measure.Inch / 16, Width: 21 * measure.Inch / 4}

// Each joint is recorded, in both sizes.
func TestRecordedJoints(t *testing.T) {
	crown := stock.Profile{Name: "crown", Role: stock.RoleCrown, Thickness: 9 * measure.Inch / 16, Width: 29 * measure.Inch / 8}
	casing := stock.Profile{Name: "casing", Role: stock.RoleCasing, Thickness: 3 * measure.Inch / 4, Width: 7 * measure.Inch / 2}
	for name, c := range map[string]struct {
		p stock.Profile
		e stock.End
	}{
		"cope": {oak, stock.End{Kind: stock.EndCope}}, "cope-135": {oak, stock.End{Kind: stock.EndCope, Angle: 135 * measure.Degree}},
		"inside-miter": {oak, stock.End{Kind: stock.EndInsideMiter, Angle: 135 * measure.Degree}}, "outside-miter": {crown, stock.End{Kind: stock.EndOutsideMiter}},
		"scarf": {oak, stock.End{Kind: stock.EndScarfOver, Angle: 30 * measure.Degree}}, "return": {oak, stock.End{Kind: stock.EndReturn}},
		"flat-miter": {casing, stock.End{Kind: stock.EndFlatMiter}}, "butt": {oak, stock.End{Kind: stock.EndButt}},
		"plumb": {oak, stock.End{Kind: stock.EndPlumb, Angle: 36 * measure.Degree}}, "square": {oak, stock.End{}}, "scribe": {oak, stock.End{Kind: stock.EndScribe}},
	} {
		for size, width := range widths {
			got, _ := picture(t, func(w *bytes.Buffer) error { return drawing.Joint(w, c.p, c.e, &drawing.Options{Width: width}) })
			golden(t, "joint-"+name+"-"+size, got)
		}
	}
}

func TestRecordedDetails(t *testing.T) {
	s := load(t, "classroom")
	f := stair.Flight{Risers: 6, Rise: 15 * measure.Inch / 2, Run: 10 * measure.Inch, Nosing: measure.Inch}
	for size, width := range widths {
		o := &drawing.Options{Width: width}
		got, _ := picture(t, func(w *bytes.Buffer) error { return drawing.BuiltUp(w, s.Scheme, &s.List, "cornice", o) })
		golden(t, "cornice-"+size, got)
		got, _ = picture(t, func(w *bytes.Buffer) error {
			return drawing.Skirt(w, f, stair.Skirt{Width: 37 * measure.Inch / 4, Foot: 21 * measure.Inch / 4, Head: 21 * measure.Inch / 4}, o)
		})
		golden(t, "skirt-"+size, got)
	}
}

// extentOf returns the least and the greatest coordinates of the shapes of a group.
func extentOf(p *svgcheck.Picture, group string) (lo, hi [2]float64, points [][2]float64) {
	for _, s := range p.Shapes {
		if s.Group == group && s.Name == "polygon" {
			points = s.Points
			break
		}
	}
	if len(points) == 0 {
		return lo, hi, nil
	}
	lo, hi = points[0], points[0]
	for _, q := range points {
		for k := range q {
			lo[k], hi[k] = min(lo[k], q[k]), max(hi[k], q[k])
		}
	}
	return lo, hi, points
}

// Random joints at random angles: the cut is drawn to scale, its setback is that of package joint, and
// the words state its allowance.
func TestRandomJoints(t *testing.T) {
	n := uint64(4000)
	if testing.Short() {
		n = 800
	}
	drawn := 0
	for seed := range n {
		h := house{rand.New(rand.NewPCG(seed, 5))}
		p := stock.Profile{Name: pick(h, "base", "<цоколь>", strings.Repeat("long ", 30)), Thickness: h.length(measure.Inch/4, 3*measure.Inch), Width: h.length(measure.Inch, 12*measure.Inch),
			Role: pick(h, stock.RoleBase, stock.RoleCrown, stock.RoleCasing, stock.RoleSoffit)}
		e := stock.End{Kind: stock.EndKind(h.IntN(14))}
		if h.IntN(4) > 0 {
			e.Angle = measure.Angle(h.Int64N(int64(180 * measure.Degree)))
		}
		if e.Kind.Spliced() {
			e.Angle /= 2
		}
		o := &drawing.Options{Width: pick(h, 0, 320, 2000), Locale: measure.Locale{Metric: h.IntN(3) == 0}}
		cut, err := joint.NewCut(p, e)
		var b bytes.Buffer
		if got := drawing.Joint(&b, p, e, o); (got != nil) != (err != nil) {
			t.Fatalf("seed %d: %v, but the cut %v", seed, got, err)
		}
		if err != nil {
			continue
		}
		drawn++
		x, err := svgcheck.Check(b.Bytes())
		if err != nil {
			t.Fatalf("seed %d, %v %v: %v", seed, e.Kind, e.Angle, err)
		}
		if cut.Allowance == 0 && !strings.Contains(x.Desc, "Adds nothing") || cut.Allowance > 0 && !strings.Contains(x.Desc, "Adds ") || cut.Allowance < 0 && !strings.Contains(x.Desc, "Takes ") {
			t.Fatalf("seed %d: allowance %v, written as %q", seed, cut.Allowance, x.Desc)
		}
		// The slant of the end against the depth, wherever the scale is.
		switch e.Kind {
		case stock.EndInsideMiter, stock.EndOutsideMiter, stock.EndReturn, stock.EndFlatMiter, stock.EndPlumb, stock.EndRake:
		default:
			continue
		}
		lo, hi, points := extentOf(x, "cut")
		deep := p.Projection()
		switch e.Kind {
		case stock.EndFlatMiter:
			deep = p.Width
		case stock.EndPlumb, stock.EndRake:
			deep = p.Drop()
		}
		slant, high := math.Abs(points[1][0]-points[2][0]), hi[1]-lo[1]
		if want := float64(cut.End.Setback) / float64(deep) * high; math.Abs(slant-want) > 0.05+want*0.03/high {
			t.Fatalf("seed %d, %v %v: slants by %.2f over %.2f, want %.2f", seed, e.Kind, e.Angle, slant, high, want)
		}
	}
	if drawn < int(n)/3 {
		t.Errorf("only %d of %d joints could be drawn", drawn, n)
	}
}

// Random skirts have the corners of the board, to scale, and all of them in the list.
func TestRandomSkirts(t *testing.T) {
	n := uint64(1500)
	if testing.Short() {
		n = 300
	}
	drawn := 0
	for seed := range n {
		h := house{rand.New(rand.NewPCG(seed, 6))}
		f := stair.Flight{Risers: 2 + h.IntN(pick(h, 4, 20, 60)), Rise: h.length(3*measure.Inch, 12*measure.Inch), Run: h.length(4*measure.Inch, 16*measure.Inch), Nosing: h.length(0, 2*measure.Inch)}
		k := stair.Skirt{Width: h.length(5*measure.Inch, 20*measure.Inch), Foot: pick(h, 0, h.length(2*measure.Inch, 12*measure.Inch)), Head: pick(h, 0, h.length(2*measure.Inch, 12*measure.Inch)), Joint: stair.Joint(h.IntN(2))}
		o := &drawing.Options{Width: pick(h, 0, 320, 360, 2000)}
		board, err := f.Skirt(k)
		var b bytes.Buffer
		if got := drawing.Skirt(&b, f, k, o); (got != nil) != (err != nil) {
			t.Fatalf("seed %d: %v, but the board %v", seed, got, err)
		}
		if err != nil {
			continue
		}
		drawn++
		p, err := svgcheck.Check(b.Bytes())
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		lo, hi, points := extentOf(p, "skirt on the bench")
		var left, right measure.Length
		for _, q := range board.Outline {
			left, right = min(left, q.Along), max(right, q.Along)
		}
		scale := (hi[0] - lo[0]) / (right - left).Inches()
		if len(points) != len(board.Outline) {
			t.Fatalf("seed %d: %d corners, want %d", seed, len(points), len(board.Outline))
		}
		for i, q := range board.Outline {
			if x := lo[0] + (q.Along-left).Inches()*scale; math.Abs(points[i][0]-x) > 0.03 {
				t.Fatalf("seed %d: corner %d at %.2f, want %.2f", seed, i+1, points[i][0], x)
			}
			if y := points[0][1] - (q.Up-board.Outline[0].Up).Inches()*scale; math.Abs(points[i][1]-y) > 0.03 {
				t.Fatalf("seed %d: corner %d at height %.2f, want %.2f", seed, i+1, points[i][1], y)
			}
		}
		listed := 0
		for _, x := range p.Texts {
			if strings.Contains(x.S, " along, ") {
				listed++
			}
		}
		if listed != len(points) {
			t.Fatalf("seed %d: %d corners listed, want %d", seed, listed, len(points))
		}
	}
	if drawn < int(n)/4 {
		t.Errorf("only %d of %d skirts could be drawn", drawn, n)
	}
}

// Built-up trim is where the list has it: each member is drawn at its standoff, to scale.
func TestRandomBuiltUp(t *testing.T) {
	n := uint64(1000)
	if testing.Short() {
		n = 200
	}
	drawn := 0
	for seed := range n {
		h := house{rand.New(rand.NewPCG(seed, 7))}
		a := takeoff.Assembly{Name: pick(h, "cornice", "<foot>"), FromCeiling: h.IntN(2) == 0}
		at := measure.Length(0)
		for i := range 1 + h.IntN(5) {
			p := stock.Profile{Name: "p" + string(rune('a'+i)), Role: pick(h, stock.RoleBand, stock.RoleFrieze, stock.RoleFillet), Thickness: h.length(measure.Inch/4, 2*measure.Inch), Width: h.length(measure.Inch, 6*measure.Inch)}
			if a.FromCeiling && i > 0 {
				p.Role = pick(h, stock.RoleBed, stock.RoleCrown, stock.RoleBand)
			}
			a.Members = append(a.Members, takeoff.Member{Profile: p, Name: p.Name, At: at, Off: pick(h, 0, h.length(0, measure.Inch))})
			at += h.length(0, 2*measure.Inch)
		}
		s := takeoff.Scheme{Assemblies: []takeoff.Assembly{a}}
		room := takeoff.Room{Name: "hall", Height: 10 * measure.Foot, Walls: []takeoff.Wall{{Name: "N", Length: 12 * measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerStop}}}}
		l, err := takeoff.Take([]takeoff.Room{room}, s, nil)
		if err != nil {
			continue
		}
		drawn++
		_, p := picture(t, func(w *bytes.Buffer) error {
			return drawing.BuiltUp(w, s, l, a.Name, &drawing.Options{Width: pick(h, 0, 320, 2000)})
		})
		var first [2]float64 // place of the wall and units an inch, from the first two members that tell
		for i, m := range a.Members {
			name := m.Profile.Role.String() + ", " + m.Profile.Name
			lo, hi, points := extentOf(p, name)
			k := slices.IndexFunc(l.Runs, func(r stock.Run) bool { return r.Profile == m.Profile.Name })
			if points == nil || k < 0 {
				t.Fatalf("seed %d: %s is not drawn", seed, name)
			}
			scale := (hi[0] - lo[0]) / m.Profile.Projection().Inches()
			wall := lo[0] - l.Runs[k].Standoff.Inches()*scale
			if i == 0 {
				first = [2]float64{wall, scale}
				continue
			}
			if math.Abs(scale-first[1]) > first[1]*0.01 || math.Abs(lo[0]-(first[0]+l.Runs[k].Standoff.Inches()*first[1])) > 0.5 {
				t.Fatalf("seed %d: %s stands at %.2f, want %v off a wall at %.2f with %.2f an inch", seed, name, lo[0], l.Runs[k].Standoff, first[0], first[1])
			}
		}
	}
	if drawn < int(n)/3 {
		t.Errorf("only %d of %d assemblies could be drawn", drawn, n)
	}
}

// A fault that prevents a drawing names its field.
func TestDetailErrors(t *testing.T) {
	field := func(err error) string {
		var names []string
		for f := range measure.FieldErrors(err) {
			names = append(names, f.Field)
		}
		return strings.Join(names, " ")
	}
	bad := &drawing.Options{Width: -1}
	for _, c := range []struct {
		got  error
		want string
	}{
		{drawing.Joint(new(bytes.Buffer), oak, stock.End{Kind: 99}, bad), "options.width end.kind"},
		{drawing.BuiltUp(new(bytes.Buffer), takeoff.Scheme{}, nil, "cornice", bad), "options.width assembly"},
		{drawing.Skirt(new(bytes.Buffer), stair.Flight{Risers: 1, Rise: measure.Inch, Run: measure.Inch}, stair.Skirt{Width: measure.Foot}, bad), "options.width risers"},
	} {
		if got := field(c.got); got != c.want {
			t.Errorf("faults of %q, want %q: %v", got, c.want, c.got)
		}
	}
	broken := errors.New("disk full")
	if err := drawing.Joint(failing{broken}, oak, stock.End{}, nil); !errors.Is(err, broken) {
		t.Error(err)
	}
}

// Whatever follows from a corner that is not square, it is named.
func TestJointNamesTheCorner(t *testing.T) {
	base := stock.Profile{Name: "base", Thickness: measure.Inch / 2, Width: 5 * measure.Inch}
	for kind, angle := range map[stock.EndKind]measure.Angle{
		stock.EndSquare: 60 * measure.Degree, stock.EndFlatMiter: 135 * measure.Degree, stock.EndButt: 100 * measure.Degree, stock.EndCope: 80 * measure.Degree,
	} {
		var b bytes.Buffer
		if err := drawing.Joint(&b, base, stock.End{Kind: kind, Angle: angle}, nil); err != nil {
			t.Fatal(err)
		}
		if want := "The corner is " + angle.String() + "."; !strings.Contains(desc(b.String()), want) {
			t.Errorf("%v: no %q in %s", kind, want, desc(b.String()))
		}
		if kind == stock.EndSquare && !strings.Contains(desc(b.String()), "Saw: a square cut, miter and bevel 0.") {
			t.Errorf("%v: %s", kind, desc(b.String()))
		}
	}
}
