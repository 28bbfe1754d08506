package drawing

import (
	"strconv"
	"strings"

	"example.com/longpoint/internal/svg"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// key explains the symbols that occur.
func (e *elevation) key() []svg.Entry {
	var out []svg.Entry
	add := func(is bool, entry svg.Entry) {
		if is {
			out = append(out, entry)
		}
	}
	var pieces, backing, spliced, holes, solid, assumed, given, existing, guessed bool
	for i := range e.views {
		v := &e.views[i]
		w := &e.room.Walls[v.wall]
		for _, m := range v.members {
			pieces = pieces || len(m.parts) > 0
			backing = backing || m.run.Role == stock.RoleBacking
			spliced = spliced || len(m.run.Splices) > 0
		}
		holes = holes || len(w.Openings) > 0
		solid = solid || len(w.Fixtures) > 0 || w.Stair != nil
		for _, t := range w.Stretches {
			existing = existing || t.Existing
		}
		assumed = assumed || v.place.StudsAssumed
		given = given || !v.place.StudsAssumed
		guessed = guessed || v.guessed
	}
	add(pieces, svg.Entry{Style: piece, Text: "new trim"})
	add(backing, svg.Entry{Style: hidden, Text: "backing, hidden"})
	add(spliced, svg.Entry{Style: splices, Text: "splice"})
	add(holes, svg.Entry{Style: openings, Text: "opening"})
	add(solid, svg.Entry{Style: svg.Style{Fill: svg.Paper, Stroke: svg.Quiet}, Hatch: svg.HatchFalling, Text: "fixture"})
	add(existing, svg.Entry{Style: svg.Style{Fill: svg.Paper, Stroke: svg.Quiet}, Hatch: svg.HatchDense, Text: "trim that stays"})
	add(assumed && !given, svg.Entry{Style: studs, Text: "stud, assumed " + e.o.onCenter() + ": find them first"})
	add(given && !assumed, svg.Entry{Style: studs, Text: "stud"})
	add(given && assumed, svg.Entry{Style: studs, Text: "stud; assumed ones are listed below"})
	add(guessed, svg.Entry{Style: hidden, Text: "ceiling, height not measured"})
	return out
}

// assumedStuds is the spacing that takeoff assumes for studs that were not found.
const assumedStuds = 16 * measure.Inch

// onCenter returns that spacing in inches, as the trade writes it.
func (o *Options) onCenter() string {
	if o.Locale.Metric {
		return o.length(assumedStuds) + " on center"
	}
	return "16\" on center"
}

// row is a line of the table.
type row struct {
	lead, text string
	head       bool
}

// table lists the pieces by wall, in one column or two, from y down.
func (e *elevation) table(y svg.Unit) {
	rows := e.rows()
	if len(rows) == 0 {
		return
	}
	columns, gap := svg.Unit(1), 14*svg.One
	if e.o.wide() {
		columns = 2
	}
	width := (e.p.Right() - e.p.Left() - (columns-1)*gap) / columns
	lead := svg.WidthOf("0", svg.Small)
	for _, r := range rows {
		if !r.head {
			lead = max(lead, svg.WidthOf(r.lead, svg.Small))
		}
	}
	lead += 6 * svg.One
	heights := make([]svg.Unit, len(rows))
	total := svg.Unit(0)
	for i, r := range rows {
		heights[i] = e.rowHeight(r, width, lead)
		total += heights[i]
	}
	second := len(rows) // where the second column begins
	if columns == 2 {
		second = half(rows, heights, total)
	}
	x, top := e.p.Left(), y
	for i, r := range rows {
		if i == second {
			x, y = x+width+gap, top
		}
		e.row(svg.Point{X: x, Y: y}, width, lead, r)
		y += heights[i]
	}
}

// half returns where to break rows into two columns: at the heading nearest to the middle or,
// if none is near, at any row.
func half(rows []row, heights []svg.Unit, total svg.Unit) int {
	best, off := len(rows), total
	for _, headed := range []bool{true, false} {
		done := svg.Unit(0)
		for i, r := range rows {
			if d := max(2*done-total, total-2*done); i > 0 && d < off && (r.head || !headed && !rows[i-1].head) {
				best, off = i, d
			}
			done += heights[i]
		}
		if off < total/3 {
			break
		}
	}
	return best
}

func (e *elevation) rowHeight(r row, width, lead svg.Unit) svg.Unit {
	if r.head {
		return svg.BlockHeight(r.text, svg.Normal, width) + 6*svg.One
	}
	return svg.BlockHeight(r.text, svg.Small, width-lead) + svg.One
}

func (e *elevation) row(at svg.Point, width, lead svg.Unit, r row) {
	if r.head {
		e.p.Block(at.Add(0, 5*svg.One), width, r.text, svg.Normal, true)
		return
	}
	if r.lead != "" {
		e.p.Put(svg.Text{At: at.Add(lead-6*svg.One, svg.HeightOf(svg.Small)/2), S: r.lead, Anchor: svg.End, Bold: true})
	}
	e.p.Block(at.Add(lead, 0), width-lead, r.text, svg.Small, false)
}

// rows lists the pieces on each wall.
func (e *elevation) rows() []row {
	var out []row
	assumed, given := false, false
	for i := range e.views {
		assumed, given = assumed || e.views[i].place.StudsAssumed, given || !e.views[i].place.StudsAssumed
	}
	for i := range e.views {
		v := &e.views[i]
		out = append(out, row{text: e.room.Walls[v.wall].Name, head: true})
		n := len(out)
		for k := range v.members {
			m := &v.members[k]
			for _, q := range m.parts {
				out = append(out, row{lead: strconv.Itoa(q.number), text: e.pieceText(q.piece, v)})
			}
			if t := e.spliceText(m); t != "" {
				out = append(out, row{text: t})
			}
		}
		for _, k := range v.unseen {
			out = append(out, row{lead: "-", text: e.pieceText(k, v) + "; not drawn"})
		}
		for _, t := range e.remarks(v, assumed && given) {
			out = append(out, row{text: t})
		}
		if len(out) == n {
			out = append(out, row{text: "no trim"})
		}
	}
	if len(e.loose) > 0 {
		out = append(out, row{text: "Not on a wall", head: true})
		for _, k := range e.loose {
			out = append(out, row{lead: "-", text: e.pieceText(k, nil) + "; not drawn"})
		}
	}
	return out
}

// pieceText describes a piece: its name, length, ends and stick.
func (e *elevation) pieceText(i int, v *view) string {
	p := &e.list.Pieces[i]
	name := strings.TrimPrefix(p.Label, e.room.Name+" ")
	if v != nil {
		name = strings.TrimPrefix(name, e.room.Walls[v.wall].Name+" ")
	}
	text := name + ", " + e.o.length(p.Length) + ", " + p.Left.Kind.String() + " | " + p.Right.Kind.String()
	if p.Quantity > 1 {
		text = strconv.Itoa(p.Quantity) + " of " + text
	}
	if s := e.o.Sticks[p.Label]; s != "" {
		text += ", from " + s
	}
	return text
}

// spliceText describes the splices of a run.
func (e *elevation) spliceText(m *member) string {
	if len(m.run.Splices) == 0 {
		return ""
	}
	var parts []string
	for i, s := range m.run.Splices {
		if i == 20 {
			parts = append(parts, "and more")
			break
		}
		if m.run.Slope == 0 {
			s += m.run.Start - m.run.Reach
		}
		parts = append(parts, e.o.length(s))
	}
	from := "the left end of the wall"
	if m.run.Slope != 0 {
		from = "its left long point, along it"
	}
	text := "spliced " + strings.Join(parts, ", ") + " from " + from
	if m.run.Splice.Assumed {
		text += ", on studs that are assumed"
	}
	return text
}

// remarks describes the parts that are too small to be seen at the scale.
func (e *elevation) remarks(v *view, mixed bool) []string {
	var out []string
	w := &e.room.Walls[v.wall]
	if n := len(w.Floor); n > 0 {
		lo, hi := measure.Length(0), measure.Length(0)
		for _, f := range w.Floor {
			y := e.floor(v, f.At)
			lo, hi = min(lo, y), max(hi, y)
		}
		if lo < 0 || hi > 0 {
			var how []string
			if lo < 0 {
				how = append(how, "falls "+e.o.length(-lo)+" below")
			}
			if hi > 0 {
				how = append(how, "rises "+e.o.length(hi)+" above")
			}
			out = append(out, "the floor "+strings.Join(how, " and ")+" its left end")
		}
	}
	if s := w.Stair; s != nil {
		out = append(out, "stair: "+plural(s.Flight.Risers, "riser")+" of "+e.o.length(s.Flight.Rise)+", run "+e.o.length(s.Flight.Run))
	}
	if v.guessed {
		out = append(out, "height not measured, drawn as "+e.o.length(v.high))
	}
	for i := range v.place.Openings {
		o := &v.place.Openings[i]
		if e.sill(o) != o.Sill {
			out = append(out, o.Name+": sill not measured, drawn at "+e.o.length(assumedSill))
		}
		if o.ArchRise > 0 {
			out = append(out, o.Name+": its arch rises "+e.o.length(o.ArchRise)+" above "+e.o.length(o.Height))
		}
	}
	if e.bent(v) {
		out = append(out, "curved: drawn as if it were unrolled")
	}
	if mixed && v.place.StudsAssumed {
		out = append(out, "studs assumed "+e.o.onCenter())
	}
	return out
}
