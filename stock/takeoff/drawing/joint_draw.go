package drawing

import (
	"strings"

	"example.com/longpoint/internal/svg"
)

// draw lays out a joint and writes its text.
func (d *detail) draw() {
	notes := append(append([]string{}, d.notes...), d.allowance(), d.setting())
	p, y := d.o.begin(d.title, d.describe(notes))
	d.p = p
	y = p.Paragraph(y, d.seen, svg.Small, false) + 4*svg.One
	y = d.lay(y)
	k := d.scale()
	y = d.o.bar(p, y, k) + 6*svg.One
	entries := []svg.Entry{{Style: cutStyle, Hatch: svg.HatchRising, Text: "the piece to cut"}}
	if len(d.pieces) > 1 {
		entries = append(entries, svg.Entry{Style: piece, Text: d.pieces[other(d.pieces)].name})
	}
	if len(d.lines) > 0 {
		entries = append(entries, svg.Entry{Style: svg.Style{Stroke: svg.Mark, Width: 100, Dashed: true}, Text: "the first cut"})
	}
	y = p.Legend(y, entries) + 6*svg.One
	for _, n := range notes {
		y = p.Paragraph(y, n, svg.Small, false) + 3*svg.One
	}
}

var cutStyle = svg.Style{Fill: svg.Wood, Stroke: svg.Ink, Width: 140}

func other(ps []detailPiece) int {
	for i := range ps {
		if !ps[i].cut {
			return i
		}
	}
	return 0
}

func (d *detail) describe(notes []string) string {
	return d.seen + " " + strings.Join(notes, " ")
}

// bounds returns the extents of the drawing.
func (d *detail) bounds() (lo, hi at) {
	grow := func(q at) { lo, hi = at{min(lo.x, q.x), min(lo.y, q.y)}, at{max(hi.x, q.x), max(hi.y, q.y)} }
	for _, w := range d.walls {
		grow(w[0])
		grow(w[1])
	}
	for _, q := range d.pieces {
		for _, s := range q.shape {
			grow(s)
		}
	}
	return lo, hi
}

// scale fits the joint into the width, and not much more than half of it in height.
func (d *detail) scale() svg.Scale {
	lo, hi := d.bounds()
	room := min(d.o.width()-150*svg.One, 420*svg.One)
	return svg.Fit(max(hi.x-lo.x, 1), room).Smaller(svg.Fit(max(hi.y-lo.y, 1), room*3/4))
}

// lay draws the joint from y down, and returns where it ends.
func (d *detail) lay(y svg.Unit) svg.Unit {
	lo, hi := d.bounds()
	k := d.scale()
	zero := svg.Point{X: d.p.Left() + 70*svg.One - k.Of(lo.x), Y: y + 40*svg.One - k.Of(lo.y)}
	point := func(q at) svg.Point { return zero.Add(k.Of(q.x), k.Of(q.y)) }
	for _, q := range d.pieces {
		points := make([]svg.Point, len(q.shape))
		for i, s := range q.shape {
			points[i] = point(s)
		}
		d.p.Group(q.name)
		if q.cut {
			d.p.Polygon(points, cutStyle)
			d.p.Hatch(points, svg.HatchRising, svg.Style{Stroke: svg.Quiet, Width: 50})
			d.p.Polygon(points, svg.Style{Stroke: svg.Ink, Width: 140})
		} else {
			d.p.Polygon(points, piece)
		}
		d.p.End()
	}
	for _, w := range d.walls {
		d.p.Line(point(w[0]), point(w[1]), svg.Style{Stroke: svg.Ink, Width: 240})
	}
	for _, l := range d.lines {
		d.p.Line(point(l[0]), point(l[1]), svg.Style{Stroke: svg.Mark, Width: 100, Dashed: true})
	}
	for _, m := range d.dims {
		d.p.Dimension(point(m.a), point(m.b), m.off, d.length(m.l))
	}
	return max(d.p.Height(), point(at{0, hi.y}).Y+34*svg.One) + 8*svg.One
}
