package svg

import "strings"

// A Style is the style of a shape. An empty Fill or Stroke means none; a zero Width is 0.8.
type Style struct {
	Fill, Stroke string
	Width        Unit
	Dashed       bool
}

func (s Style) attrs(more ...string) []string {
	fill := s.Fill
	if fill == "" {
		fill = "none"
	}
	out := append(more, "fill", fill)
	if s.Stroke != "" {
		w := s.Width
		if w == 0 {
			w = 80
		}
		out = append(out, "stroke", s.Stroke, "stroke-width", w.String())
		if s.Dashed {
			out = append(out, "stroke-dasharray", "4 3")
		}
	}
	return out
}

func (p *Picture) shape(name string, attrs []string, reach ...Point) {
	for _, r := range reach {
		p.Grow(r.Y)
	}
	p.shapes.Void(name, attrs...)
	p.shapes.Line()
}

// Line draws a line.
func (p *Picture) Line(a, b Point, s Style) {
	p.shape("line", s.attrs("x1", a.X.String(), "y1", a.Y.String(), "x2", b.X.String(), "y2", b.Y.String()), a, b)
}

// Rect draws a rectangle.
func (p *Picture) Rect(b Box, s Style) {
	p.shape("rect", s.attrs("x", b.X.String(), "y", b.Y.String(), "width", max(b.W, 0).String(), "height", max(b.H, 0).String()), Point{b.X, b.Y + b.H})
}

// Polygon draws a closed outline, Polyline an open one.
func (p *Picture) Polygon(points []Point, s Style)  { p.poly("polygon", points, s) }
func (p *Picture) Polyline(points []Point, s Style) { p.poly("polyline", points, s) }

func (p *Picture) poly(name string, points []Point, s Style) {
	if len(points) == 0 {
		return
	}
	var b strings.Builder
	for i, q := range points {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(q.X.String() + "," + q.Y.String())
	}
	p.shape(name, s.attrs("points", b.String()), points...)
}

// Circle draws a circle.
func (p *Picture) Circle(c Point, r Unit, s Style) {
	p.shape("circle", s.attrs("cx", c.X.String(), "cy", c.Y.String(), "r", r.String()), c.Add(0, r))
}

// Arc draws the shorter arc from a to b, which bulges to the left of the direction from a to b,
// or to the right. The caller grows the picture if the arc reaches below both.
func (p *Picture) Arc(a, b Point, radius Unit, right bool, s Style) {
	sweep := " 0 0 1 " // clockwise on the page: the bulge is to the left
	if right {
		sweep = " 0 0 0 "
	}
	p.shape("path", s.attrs("d", "M"+pair(a)+"A"+radius.String()+" "+radius.String()+sweep+pair(b)), a, b)
}

// Lines draws many lines of one style as one shape: from each point with an even index to the
// next.
func (p *Picture) Lines(ends []Point, s Style) {
	if len(ends) < 2 {
		return
	}
	var b strings.Builder
	for i := 0; i+1 < len(ends); i += 2 {
		b.WriteString("M" + pair(ends[i]) + "L" + pair(ends[i+1]))
	}
	p.shape("path", s.attrs("d", b.String()), ends...)
}
