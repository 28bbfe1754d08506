package takeoff

import (
	"fmt"
	"strings"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/curve"
)

// cutout is the position of a notch on a run: along from the left long point, open at the lower
// or the upper edge, or at neither.
type cutout struct {
	at, width, height, above measure.Length // above is from the lower edge
	low, high                bool
}

// noted adds to a run and its pieces notes of all work besides the two cuts: first the ripping,
// then the ends, then the edges, the cutouts and the back.
func (w words) noted(run *stock.Run, pieces []stock.Piece, cut []cutout, kerfs *curve.Kerfs) {
	early := run.Splice.Overlap / 2
	late := run.Splice.Overlap - early
	run.Notes = w.notesOn(run, 0, run.Length, cut, kerfs)
	for i := range pieces {
		from, to := measure.Length(0), run.Length
		if i > 0 {
			from = run.Splices[i-1] - late
		}
		if i < len(pieces)-1 {
			to = run.Splices[i] + early
		}
		pieces[i].Notes = nil
		for _, n := range w.notesOn(run, from, to, cut, kerfs) {
			pieces[i].Notes = append(pieces[i].Notes, n.Text)
		}
	}
}

// notesOn returns the notes for a stretch of a run, counted from the left end of the stretch.
func (w words) notesOn(run *stock.Run, from, to measure.Length, cut []cutout, kerfs *curve.Kerfs) []stock.RunNote {
	n := noter{words: w, run: run, from: from, to: to, left: "left end", right: "right end"}
	switch run.Slope {
	case rightAngle:
		n.left, n.right = "bottom end", "top end"
	case -rightAngle:
		n.left, n.right = "top end", "bottom end"
	}
	n.over(from, to)
	if run.Ripped != 0 {
		n.add("rip it to %s wide over all", w.mark(run.Ripped))
	}
	if from <= 0 {
		n.over(0, 0)
		n.end(n.left, run.LeanLeft, run.DropLeft)
	}
	if to >= run.Length {
		n.over(run.Length, run.Length)
		n.end(n.right, run.LeanRight, run.DropRight)
	}
	n.over(from, to)
	n.outline()
	n.scribe()
	n.cutouts(cut)
	n.over(from, to)
	n.kerfs(kerfs)
	return n.out
}

// noter writes the notes of one piece, which goes along its run between two long points.
type noter struct {
	words
	run         *stock.Run
	from, to    measure.Length
	left, right string        // names of its ends
	on          stock.RunNote // stretch of the next note
	out         []stock.RunNote
}

// over sets the stretch of the run for the next notes.
func (n *noter) over(from, to measure.Length) { n.on.From, n.on.To = from, to }

func (n *noter) add(format string, args ...any) {
	n.on.Text = fmt.Sprintf(format, args...)
	n.out = append(n.out, n.on)
}

// mark writes a length as marked on a piece: to the nearest 1/32 in or 1/2 mm unless it is
// already on a mark (common practice, no source).
func (w words) mark(l measure.Length) string { return w.About(w.markable(l), measure.Inch/32) }

func (w words) markable(l measure.Length) measure.Length {
	fine, grain := measure.Inch/64, measure.Inch/32
	if w.Metric {
		fine, grain = measure.Millimeter/10, measure.Millimeter/2
	}
	if l%fine == 0 {
		return l
	}
	return l.Round(grain, measure.RoundHalfEven)
}

// at writes a position, from the left end of the piece.
func (n *noter) at(x measure.Length) string { return n.mark(x - n.from) }

// end describes an end that is not square to the edges, or an end of crown that is rolled.
func (n *noter) end(which string, lean, drop measure.Length) {
	switch {
	case lean > 0:
		n.add("%s out of square: the top stands out %s beyond the bottom", which, n.mark(lean))
	case lean < 0:
		n.add("%s out of square: the top stays %s short of the bottom", which, n.mark(-lean))
	}
	if drop != 0 {
		n.add("cut the %s with the crown rolled to a drop of %s", which, n.mark(drop))
	}
}

// scribe describes the material to remove from an edge. Beyond the marks the depth is that of
// the last mark.
func (n *noter) scribe() {
	edge, how := "lower edge", "scribe"
	switch n.run.Role {
	case stock.RoleStool:
		edge, how = "back edge", "notch"
	case stock.RoleExtension:
		edge = "outer edge"
	}
	marks := marksOn(n.run.Scribe, n.from-n.run.Reach, n.to-n.run.Reach)
	deepest, level := measure.Length(0), true
	for i := range marks {
		marks[i].Depth = n.markable(marks[i].Depth)
	}
	for _, m := range marks {
		deepest, level = max(deepest, m.Depth), level && m.Depth == marks[0].Depth
	}
	switch {
	case deepest == 0:
	case level:
		n.add("rip %s off the %s", n.mark(deepest), edge)
	case len(marks) == 2:
		n.add("taper the %s: take off %s at the %s, %s at the %s", edge, n.mark(marks[0].Depth), n.left, n.mark(marks[1].Depth), n.right)
	default:
		off := make([]string, len(marks))
		for i, m := range marks {
			off[i] = n.mark(m.Depth) + " at " + n.mark(m.At)
		}
		n.add("%s the %s, from the %s: take off %s", how, edge, n.left, strings.Join(off, ", "))
	}
}

// marksOn returns the marks on a stretch, counted from its beginning, with one at either end,
// and one where the line leaves the edge: beyond it nothing is cut.
func marksOn(marks []stock.ScribeMark, from, to measure.Length) []stock.ScribeMark {
	if len(marks) == 0 {
		return nil
	}
	on := []stock.ScribeMark{{At: from, Depth: marks[0].Depth}}
	for _, m := range marks {
		if m.At <= from { // of two at one place the right one counts
			on[0].Depth = m.Depth
		}
	}
	for i, m := range marks {
		if i > 0 && marks[i-1].At <= from && m.At > from {
			on[0].Depth = depthAt(marks[i-1], m, from)
		}
		if m.At > from && m.At < to {
			on = append(on, m)
		}
	}
	end := stock.ScribeMark{At: to, Depth: marks[len(marks)-1].Depth}
	for i, m := range marks {
		if m.At >= to {
			if end.Depth = m.Depth; i > 0 {
				end.Depth = depthAt(marks[i-1], m, to)
			}
			break
		}
	}
	on = append(on, end)
	var out []stock.ScribeMark
	for i, m := range on {
		if i > 0 {
			if a := on[i-1]; a.Depth < 0 && m.Depth > 0 || a.Depth > 0 && m.Depth < 0 {
				x, _, _ := (m.At - a.At).MulDiv(int64(a.Depth), int64(a.Depth-m.Depth), measure.RoundHalfEven)
				out = append(out, stock.ScribeMark{At: a.At + x - from})
			}
		}
		out = append(out, stock.ScribeMark{At: m.At - from, Depth: max(0, m.Depth)})
	}
	return out
}

// depthAt returns the depth on the straight line between two marks.
func depthAt(a, b stock.ScribeMark, x measure.Length) measure.Length {
	if b.At <= a.At {
		return b.Depth
	}
	off, _, _ := (x - a.At).MulDiv(int64(b.Depth-a.Depth), int64(b.At-a.At), measure.RoundHalfEven)
	return a.Depth + off
}

// outline lists the corners of a piece with more edges than two and its ends.
func (n *noter) outline() {
	ps := within(within(n.run.Outline, n.from, 1), n.to, -1)
	if len(ps) == 0 {
		return
	}
	at := make([]string, len(ps))
	for i, p := range ps {
		at[i] = n.at(p.Along) + " x " + n.mark(p.Up)
	}
	n.add("cut it around these corners, each along from the %s x up from the lower edge: %s", n.left, strings.Join(at, ", "))
}

// within returns the part of a polygon beyond a position along it: to the right of it for 1, to
// the left for -1.
func within(ps []stock.Point, place measure.Length, side measure.Length) []stock.Point {
	var out []stock.Point
	add := func(p stock.Point) {
		if k := len(out); k == 0 || out[k-1] != p {
			out = append(out, p)
		}
	}
	for i, p := range ps {
		a := ps[(i+len(ps)-1)%len(ps)]
		before, now := (a.Along-place)*side, (p.Along-place)*side
		if before < 0 && now > 0 || before > 0 && now < 0 {
			up, _, _ := (place - a.Along).MulDiv(int64(p.Up-a.Up), int64(p.Along-a.Along), measure.RoundHalfEven)
			add(stock.Point{Along: place, Up: a.Up + up})
		}
		if now >= 0 {
			add(p)
		}
	}
	if k := len(out); k > 1 && out[0] == out[k-1] {
		out = out[:k-1]
	}
	return out
}

// cutouts describes the notches of the piece around fixtures.
func (n *noter) cutouts(cut []cutout) {
	for _, c := range cut {
		from, to := max(c.at, n.from), min(c.at+c.width, n.to)
		if from >= to {
			continue
		}
		n.over(from, to)
		size, where := n.mark(to-from)+" x "+n.mark(c.height), n.at(from)+" from the "+n.left
		switch {
		case c.low:
			n.add("notch the lower edge %s up, %s", size, where)
		case c.high:
			n.add("notch the upper edge %s down, %s", size, where)
		default:
			n.add("cut out %s up, %s and %s above the lower edge", size, where, n.mark(c.above))
		}
	}
}

// kerfs describes the kerfs of the back, which begin where the run covers the wall.
func (n *noter) kerfs(k *curve.Kerfs) {
	if k == nil {
		return
	}
	count, first := 0, measure.Length(0)
	for i := range k.Count {
		x, _, _ := k.EvenSpacing.MulDiv(int64(2*i+1), 2, measure.RoundHalfEven)
		if x += n.run.Reach; x < n.from || x >= n.to {
			continue
		}
		if count++; count == 1 {
			first = x
		}
	}
	switch {
	case count == 1:
		n.add("kerf the back once, %s deep, %s from the %s", n.mark(k.Depth), n.at(first), n.left)
	case count > 1:
		n.add("kerf the back %d times, %s deep, %s apart from middle to middle, the first %s from the %s", count, n.mark(k.Depth), n.mark(k.EvenSpacing), n.at(first), n.left)
	}
}
