package drawing

import (
	"io"
	"strconv"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/svg"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/stair"
)

// Skirt draws the board beside a flight of steps twice: on the wall with the steps and the
// adjoining base, and on the bench, with the positions of its corners and the cuts at its ends.
// The flight rises to the right; one that rises to the left is its mirror image.
//
// The error is that of stair.Flight.Skirt or joins a *measure.FieldError for each invalid field
// of o; or it is that of w.
func Skirt(w io.Writer, f stair.Flight, k stair.Skirt, o *Options) error {
	var bad fault.List
	opt, err := o.filled()
	bad.Under("", err)
	board, err := f.Skirt(k)
	bad.Under("", err)
	if len(bad) > 0 {
		return bad.Err()
	}
	rake, err := f.Rake()
	if err != nil {
		return err
	}
	s := skirt{o: &opt, flight: f, skirt: k, board: board, rake: rake}
	s.draw()
	_, err = s.p.WriteTo(w)
	return err
}

type skirt struct {
	o      *Options
	flight stair.Flight
	skirt  stair.Skirt
	board  stair.Board
	rake   stair.Rake
	p      *svg.Picture
}

// run is the board as a run on a wall whose left end is the first riser.
func (s *skirt) run() *stock.Run {
	return &stock.Run{Bottom: 0, Reach: s.board.Reach, Slope: s.rake.Angle, Length: s.board.Length, Outline: s.board.Outline}
}

func (s *skirt) words() []string {
	b := &s.board
	out := []string{
		plural(s.flight.Risers, "riser") + " of " + s.o.fine(s.flight.Rise) + ", run " + s.o.fine(s.flight.Run) + "; slope " + s.o.angle(s.rake.Angle) + ".",
		"The board is " + s.o.fine(b.Length) + " from long point to long point and " + s.o.fine(s.skirt.Width) + " wide; in a plumb section " + s.o.fine(b.Plumb) + ".",
	}
	switch {
	case b.AboveNosings > 0:
		out = append(out, "Its upper edge lies "+s.o.fine(b.AboveNosings)+" above the line of the nosings, square to it.")
	default:
		out = append(out, "The nosings stand out beyond its upper edge by "+s.o.fine(-b.AboveNosings)+".")
	}
	end := func(where string, e stock.End, level measure.Length, base measure.Length, lack measure.Length) {
		text := where + ": " + e.Kind.String() + ", " + s.o.angle(max(e.Angle, -e.Angle)) + " from square"
		if level > 0 {
			text += ", with a level cut of " + s.o.fine(level) + " on the floor"
		}
		if base > 0 {
			text += "; it meets base of " + s.o.fine(base)
		}
		if lack > 0 {
			text += ", which stands " + s.o.fine(lack) + " above it"
		}
		out = append(out, text+".")
	}
	end("Foot", b.Foot, b.FootLevel, s.skirt.Foot, b.FootLack)
	end("Head", b.Head, b.HeadLevel, s.skirt.Head, b.HeadLack)
	if s.skirt.Foot > 0 {
		out = append(out, "The base on the lower floor ends "+s.place(-b.BaseEnd, "before", "beyond")+" the first riser.")
	}
	if s.skirt.Head > 0 {
		out = append(out, "The base on the upper floor begins "+s.place(b.BaseStart, "beyond", "before")+" the last riser.")
	}
	return out
}

// place writes a distance to one side, or to the other if it is negative.
func (s *skirt) place(l measure.Length, side, other string) string {
	switch {
	case l == 0:
		return "at"
	case l < 0:
		return s.o.fine(-l) + " " + other
	}
	return s.o.fine(l) + " " + side
}

func (s *skirt) draw() {
	words := s.words()
	desc := "The board beside a stair, on the wall and as it lies on the bench."
	for _, t := range words {
		desc += " " + t
	}
	p, y := s.o.begin("Skirt of a stair", desc)
	s.p = p
	y = s.onWall(y + 2*svg.One)
	y = s.onBench(y)
	entries := []svg.Entry{{Style: piece, Text: "skirt"}, {Style: svg.Style{Fill: svg.Paper, Stroke: svg.Quiet}, Hatch: svg.HatchFalling, Text: "steps"}}
	if s.skirt.Foot > 0 || s.skirt.Head > 0 {
		entries = append(entries, svg.Entry{Style: svg.Style{Fill: svg.Shade, Stroke: svg.Ink, Width: 60}, Text: "base"})
	}
	y = p.Legend(y, entries) + 6*svg.One
	for _, t := range words {
		y = p.Paragraph(y, t, svg.Small, false) + 3*svg.One
	}
	y = p.Paragraph(y+3*svg.One, "Corners, from the left long point along the lower edge, and up from it", svg.Normal, true) + 2*svg.One
	for i, q := range s.board.Outline {
		p.Put(svg.Text{At: svg.Point{X: p.Left() + 18*svg.One, Y: y + svg.HeightOf(svg.Small)/2}, S: strconv.Itoa(i + 1), Anchor: svg.End, Bold: true})
		y = p.Block(svg.Point{X: p.Left() + 24*svg.One, Y: y}, p.Right()-p.Left()-24*svg.One, s.o.fine(q.Along)+" along, "+s.o.fine(q.Up)+" up", svg.Small, false) + svg.One
	}
	p.Paragraph(y+4*svg.One, "Long raked cuts bind: support both sides. Stairs are the business of local codes and licensed people.", svg.Small, false)
}

// onWall draws the board with the steps and the base, and returns where that ends.
func (s *skirt) onWall(y svg.Unit) svg.Unit {
	f := &s.flight
	y = s.p.Paragraph(y, "On the wall:", svg.Small, false)
	board := shape(s.run(), s.skirt.Width, 0, s.board.Length, false)
	n := measure.Length(f.Risers - 1)
	lo, hi := at{0, 0}, at{n * f.Run, measure.Length(f.Risers) * f.Rise}
	for _, q := range board {
		lo, hi = at{min(lo.x, q.x), min(lo.y, q.y)}, at{max(hi.x, q.x), max(hi.y, q.y)}
	}
	hi.y = max(hi.y, s.skirt.Foot, measure.Length(f.Risers)*f.Rise+s.skirt.Head)
	beside := max(hi.x-lo.x, measure.Foot) / 8 // floor and base at both ends
	lo.x, hi.x = min(lo.x, s.board.BaseEnd)-beside, max(hi.x, n*f.Run+s.board.BaseStart)+beside
	k := svg.Fit(hi.x-lo.x, s.p.Right()-s.p.Left()-60*svg.One).Smaller(svg.Fit(max(hi.y-lo.y, 1), s.p.Width()*4/5))
	zero := svg.Point{X: s.p.Left() + 46*svg.One - k.Of(lo.x), Y: y + 20*svg.One + k.Of(hi.y)}
	point := func(q at) svg.Point { return zero.Add(k.Of(q.x), -k.Of(q.y)) }

	s.base(point, lo.x, hi.x)
	s.p.Group("skirt")
	s.p.Polygon(points(board, point), piece)
	s.p.End()
	steps := []at{{0, 0}}
	for i := range n {
		steps = append(steps, at{i * f.Run, (i + 1) * f.Rise}, at{(i + 1) * f.Run, (i + 1) * f.Rise})
	}
	top := at{n * f.Run, (n + 1) * f.Rise}
	s.p.Hatch(points(append(append([]at{}, steps...), at{n * f.Run, 0}), point), svg.HatchFalling, svg.Style{Stroke: svg.Quiet, Width: 40})
	line := append(append([]at{{lo.x, 0}}, steps...), top, at{hi.x, top.y})
	s.p.Group("steps")
	s.p.Polyline(points(line, point), svg.Style{Stroke: svg.Ink, Width: 140})
	s.p.End()
	if f.Nosing > 0 {
		var ends []svg.Point
		for i := range n + 1 {
			a := at{i * f.Run, (i + 1) * f.Rise}
			ends = append(ends, point(a), point(at{a.x - f.Nosing, a.y}))
		}
		s.p.Lines(ends, svg.Style{Stroke: svg.Ink, Width: 200})
	}
	s.p.Dimension(point(at{0, 0}), point(at{n * f.Run, 0}), 20*svg.One, s.o.fine(n*f.Run))
	s.p.Dimension(point(at{lo.x, 0}), point(at{lo.x, top.y}), -14*svg.One, s.o.fine(top.y))
	y = max(point(at{0, min(lo.y, 0)}).Y+44*svg.One, s.p.Height()+4*svg.One)
	return s.o.bar(s.p, y, k) + 12*svg.One
}

// base draws the base on the two floors.
func (s *skirt) base(point func(at) svg.Point, left, right measure.Length) {
	style := svg.Style{Fill: svg.Shade, Stroke: svg.Ink, Width: 60}
	n := measure.Length(s.flight.Risers - 1)
	for _, e := range []struct {
		high, end, floor, x, far measure.Length
		kind                     stock.End
	}{
		{s.skirt.Foot, s.board.BaseEnd, 0, 0, left, s.board.FootBase},
		{s.skirt.Head, s.board.BaseStart, (n + 1) * s.flight.Rise, n * s.flight.Run, right, s.board.HeadBase},
	} {
		if e.high <= 0 {
			continue
		}
		// The long point is at the lower edge where the angle is less than zero.
		in := e.kind.Setback
		if e.far == left {
			in = -in
		}
		low, high := e.x+e.end, e.x+e.end
		if e.kind.Angle < 0 {
			high += in
		} else {
			low += in
		}
		s.p.Group("base")
		s.p.Polygon(points([]at{{e.far, e.floor}, {low, e.floor}, {high, e.floor + e.high}, {e.far, e.floor + e.high}}, point), style)
		s.p.End()
	}
}

// onBench draws the board on the bench, and returns where the drawing ends.
func (s *skirt) onBench(y svg.Unit) svg.Unit {
	y = s.p.Paragraph(y, "On the bench, face up, its upper edge at the top:", svg.Small, false)
	lo, hi := at{0, 0}, at{s.board.Length, s.skirt.Width}
	for _, q := range s.board.Outline {
		lo, hi = at{min(lo.x, q.Along), min(lo.y, q.Up)}, at{max(hi.x, q.Along), max(hi.y, q.Up)}
	}
	k := svg.Fit(max(hi.x-lo.x, 1), s.p.Right()-s.p.Left()-70*svg.One).Smaller(svg.Fit(max(hi.y-lo.y, 1), s.p.Width()/2))
	zero := svg.Point{X: s.p.Left() + 50*svg.One - k.Of(lo.x), Y: y + 30*svg.One + k.Of(hi.y)}
	point := func(q at) svg.Point { return zero.Add(k.Of(q.x), -k.Of(q.y)) }
	outline := make([]at, len(s.board.Outline))
	for i, q := range s.board.Outline {
		outline[i] = at{q.Along, q.Up}
	}
	s.p.Group("skirt on the bench")
	s.p.Polygon(points(outline, point), piece)
	s.p.End()
	s.p.Dimension(point(at{0, 0}), point(at{s.board.Length, 0}), 26*svg.One, s.o.fine(s.board.Length))
	s.p.Dimension(point(at{0, 0}), point(at{0, s.skirt.Width}), -16*svg.One, s.o.fine(s.skirt.Width))
	for i, q := range outline {
		c := point(q)
		s.p.Circle(c, 150, svg.Style{Fill: svg.Ink})
		out := svg.Unit(10 * svg.One)
		if q.y > s.skirt.Width/2 {
			out = -out
		}
		var spots []svg.Spot
		for _, d := range []svg.Unit{8, -8, 16, -16, 24, -24, 40, -40} {
			spots = append(spots, svg.Spot{At: c.Add(d*svg.One, out)}, svg.Spot{At: c.Add(d*svg.One, -out)})
		}
		s.p.Label(svg.Text{At: c.Add(0, out), S: strconv.Itoa(i + 1), Bold: true}, spots...)
	}
	return max(point(at{0, min(lo.y, 0)}).Y+52*svg.One, s.p.Height()+6*svg.One)
}
