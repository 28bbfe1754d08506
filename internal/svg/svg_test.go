package svg_test

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"example.com/longpoint/internal/svg"
	"example.com/longpoint/internal/svg/svgcheck"
	"example.com/longpoint/measure"
)

func check(t *testing.T, p *svg.Picture) *svgcheck.Picture {
	t.Helper()
	var b bytes.Buffer
	if _, err := p.WriteTo(&b); err != nil {
		t.Fatal(err)
	}
	got, err := svgcheck.Check(b.Bytes())
	if err != nil {
		t.Fatalf("%v\n%.2000s", err, b.String())
	}
	return got
}

func TestScale(t *testing.T) {
	k := svg.Fit(16*measure.Foot, 640*svg.One)
	for _, c := range []struct {
		l    measure.Length
		want svg.Unit
	}{
		{16 * measure.Foot, 64000}, {measure.Foot, 4000}, {-measure.Foot, -4000}, {measure.Inch / 16, 21}, {0, 0},
		{1 << 62, 100_000_000}, {-1 << 62, -100_000_000},
	} {
		if got := k.Of(c.l); got != c.want {
			t.Errorf("Of(%v) = %d, want %d", c.l, got, c.want)
		}
	}
	if got := k.Length(4000); got != measure.Foot {
		t.Errorf("Length = %v", got)
	}
	if k.Smaller(svg.Fit(measure.Foot, svg.One)) != svg.Fit(measure.Foot, svg.One) || svg.Fit(measure.Foot, svg.One).Smaller(k) != svg.Fit(measure.Foot, svg.One) {
		t.Error("Smaller")
	}
	if (svg.Scale{}).Of(measure.Foot) != 0 || svg.Fit(0, svg.Wide).Of(measure.Inch) != svg.Wide {
		t.Error("zeros")
	}
}

// Whatever is drawn, labels are legible, and hatching stays inside its shape.
func TestRandomPictures(t *testing.T) {
	texts := []string{"12' 4-1/2\"", "base 3", "кабинет", "教室の壁", "<script>alert(1)</script>", "a\x00b\u202ec", strings.Repeat("long ", 40), "", "e\u0301"}
	for seed := range uint64(400) {
		rng := rand.New(rand.NewPCG(seed, 1))
		width := []svg.Unit{svg.Wide, svg.Narrow}[seed%2]
		p := svg.New(width, "Test "+texts[rng.IntN(len(texts))], "What it shows.")
		at := func() svg.Point {
			return svg.Point{X: svg.Unit(rng.Int64N(int64(width))), Y: svg.Unit(rng.Int64N(40000))}
		}
		p.Group("shapes")
		for range 5 {
			poly := []svg.Point{at(), at(), at(), at(), at()}
			p.Polygon(poly, svg.Style{Fill: svg.Wood, Stroke: svg.Ink})
			p.Hatch(poly, svg.Hatch(rng.IntN(8)), svg.Style{Stroke: svg.Quiet})
		}
		p.End()
		put := 0
		for range 60 {
			tx := svg.Text{At: at(), S: texts[rng.IntN(len(texts))], Upright: rng.IntN(4) == 0, Anchor: svg.Anchor(rng.IntN(3)), Plate: true}
			if p.Label(tx, svg.Spot{At: at()}, svg.Spot{At: at(), Anchor: svg.End}) {
				put++
			}
		}
		inner := func() svg.Point {
			return svg.Point{X: 10000 + svg.Unit(rng.Int64N(int64(width)-20000)), Y: 10000 + svg.Unit(rng.Int64N(20000))}
		}
		for i := range 10 {
			a, b := inner(), inner()
			switch i % 3 {
			case 0:
				b.Y = a.Y
			case 1:
				b.X = a.X
			}
			p.Dimension(a, b, []svg.Unit{1500, -1500, 0}[rng.IntN(3)], fmt.Sprint(i, " ft"))
		}
		y := p.Legend(p.Height(), []svg.Entry{
			{Style: svg.Style{Fill: svg.Wood, Stroke: svg.Ink}, Text: "piece"}, {Style: svg.Style{Stroke: svg.Ink, Dashed: true}, Text: texts[rng.IntN(len(texts))]},
			{Sample: "C", Text: "cope"}, {Hatch: svg.HatchCrossed, Style: svg.Style{Stroke: svg.Ink}, Text: "hatched"},
		})
		y = p.ScaleBar(y, svg.Fit(measure.Length(1+rng.Int64N(1<<40)), width), []measure.Length{measure.Inch, measure.Foot, 10 * measure.Foot}, measure.Length.String)
		p.Paragraph(y, texts[rng.IntN(len(texts))], svg.Normal, true)
		if check(t, p); put < 5 {
			t.Errorf("seed %d: only %d labels written", seed, put)
		}
	}
}

// Lines of a hatching lie in a concave shape, and cover it: its area is their length times the
// distance between them, as far as that goes.
func TestHatchCoversShape(t *testing.T) {
	u := []svg.Point{{X: 1000, Y: 1000}, {X: 21000, Y: 1000}, {X: 21000, Y: 21000}, {X: 15000, Y: 21000}, {X: 15000, Y: 6000}, {X: 6000, Y: 6000}, {X: 6000, Y: 21000}, {X: 1000, Y: 21000}}
	for kind, gap := range map[svg.Hatch]float64{svg.HatchUpright: 5, svg.HatchLevel: 5} {
		p := svg.New(svg.Narrow, "Hatching", "A shape like a U.")
		p.Hatch(u, kind, svg.Style{Stroke: svg.Ink})
		got := check(t, p)
		sum := 0.0
		points := got.Shapes[1].Points
		for i := 0; i < len(points); i += 2 {
			a, b := points[i], points[i+1]
			mx, my := (a[0]+b[0])/2, (a[1]+b[1])/2
			if mx > 60 && mx < 150 && my > 60 {
				t.Errorf("hatch %d: line %v %v outside the shape", kind, a, b)
			}
			sum += math.Abs(b[0]-a[0]+b[1]-a[1]) * gap
		}
		if area := 200*200 - 90*150.0; sum < 0.95*area || sum > 1.05*area {
			t.Errorf("hatch %d covers %v of %v", kind, sum, area)
		}
	}
}

// A dimension reports where its text went: between the heads, outside if they are too close, or
// nowhere.
func TestDimensionText(t *testing.T) {
	p := svg.New(svg.Wide, "Dimensions", "Two.")
	a := svg.Point{X: 10000, Y: 10000}
	if !p.Dimension(a, a.Add(20000, 0), 2000, "5'") || !p.Dimension(a, a.Add(500, 0), 6000, "1/2\"") {
		t.Error("no room")
	}
	if p.Dimension(a, a, 100, "0") {
		t.Error("a dimension of nothing")
	}
	got := check(t, p)
	five, half := got.Texts[0], got.Texts[1]
	if five.X < 190 || five.X+five.W > 210 || five.Y > 120 || five.Y+five.H < 120 {
		t.Errorf("5' at %+v", five)
	}
	if half.X < 105 {
		t.Errorf("1/2 in at %+v, not outside", half)
	}
	p.Keep(svg.Box{W: svg.Wide, H: 100000})
	if p.Dimension(a, a.Add(20000, 0), 2000, "5'") {
		t.Error("text where there is no room")
	}
}

// In a chain every text is over its own stretch, however narrow that is, so that none is mistaken for
// that of a neighbor.
func TestChainTexts(t *testing.T) {
	for seed := range uint64(300) {
		rng := rand.New(rand.NewPCG(seed, 2))
		p := svg.New(svg.Wide, "Chain", "Distances one after the other.")
		points, texts := []svg.Point{{X: 6000, Y: 10000}}, []string(nil)
		for i := range 2 + rng.IntN(6) {
			last := points[len(points)-1]
			points = append(points, last.Add(400+svg.Unit(rng.Int64N(9000)), 0))
			texts = append(texts, fmt.Sprint(i, "' ", rng.IntN(12), "-1/2\""))
		}
		left := p.Chain(points, 2500, texts)
		got := check(t, p)
		if len(got.Texts)+len(left) != len(texts) {
			t.Fatalf("seed %d: %d texts written and %d left of %d", seed, len(got.Texts), len(left), len(texts))
		}
		for _, x := range got.Texts {
			for i, s := range texts {
				mid := float64(points[i].X+points[i+1].X) / 200
				if s == x.S && (x.X+x.W/2 < mid-0.1 || x.X+x.W/2 > mid+0.1) {
					t.Fatalf("seed %d: %s at %.2f, want over the middle of its stretch, %.2f", seed, s, x.X+x.W/2, mid)
				}
			}
		}
	}
}

// An area to spare yields if there is no other place, an area to keep never does.
func TestSpareAndKeep(t *testing.T) {
	p := svg.New(svg.Wide, "Places", "Where labels may stand.")
	b := svg.Box{X: 10000, Y: 10000, W: 5000, H: 5000}
	p.Spare(b)
	if p.Clear(b) || !p.Free(b) {
		t.Error("a spared box is clear, or not free")
	}
	p.Keep(b)
	if p.Free(b) || p.Free(svg.Box{X: -100, W: 200, H: 200}) || !p.Free(svg.Box{X: 20000, Y: 10000, W: 10, H: 10}) {
		t.Error("free where it is not")
	}
	tall := svg.Box{X: 30000, Y: 0, W: 100, H: 1_000_000}
	p.Keep(tall)
	if p.Free(svg.Box{X: 30050, Y: 900_000, W: 10, H: 10}) {
		t.Error("free within a tall box")
	}
}

// A text that is too long loses whole words of its middle, if enough of it remains.
func TestClip(t *testing.T) {
	for _, c := range []struct {
		s     string
		cells svg.Unit
		want  string
	}{
		{"opening with drywall return", 18, "opening … return"},
		{"pine 1x10: glue joints, install, teacher's room", 37, "pine 1x10: glue … teacher's room"},
		{"a teachersroomwallwithoutanyblank b", 11, "a tea…ank b"},
		{"short", 5, "short"},
		{"north wall", 1, "…"},
	} {
		if got := svg.Clip(c.s, svg.Small, c.cells*svg.Small*61/100); got != c.want {
			t.Errorf("%q in %d cells is %q, want %q", c.s, c.cells, got, c.want)
		}
	}
	rng := rand.New(rand.NewPCG(11, 3))
	for range 2000 {
		var s string
		for range rng.IntN(40) {
			s += string([]rune("ab  …é漢-")[rng.IntN(8)])
		}
		room := svg.Unit(rng.IntN(20000))
		if got := svg.Clip(s, svg.Small, room); svg.WidthOf(got, svg.Small) > max(room, svg.WidthOf("…", svg.Small)) {
			t.Fatalf("%q is clipped to %q, %d wide, want at most %d", s, got, svg.WidthOf(got, svg.Small), room)
		}
	}
}

func TestWidths(t *testing.T) {
	for width, ok := range map[int]bool{0: true, 320: true, 672: true, 2000: true, 319: false, 2001: false, -1: false, math.MinInt: false, math.MaxInt: false} {
		err := svg.CheckWidth(width)
		var f *measure.FieldError
		if ok != (err == nil) || err != nil && (!errors.As(err, &f) || f.Field != "width") {
			t.Errorf("width %d: %v", width, err)
		}
	}
}
