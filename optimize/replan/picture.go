package replan

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/svg"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// PictureOptions configure a picture. Nil and the zero value are the usual settings.
type PictureOptions struct {
	Locale measure.Locale // format of lengths and money

	// Width is in CSS pixels, 320 to 2000, zero for 672, which is 7 in on paper; 360 suits a
	// telephone.
	Width int
}

// Picture draws the job before and after the revision, all sticks to one scale. For the old
// plan it shows what is cut, what stays as planned and what does not, and why; for the new plan
// the sticks on hand, the sticks to buy, and what is cut differently from the plan or again.
// Problem, plan and progress are those for which the revision was made.
//
// The errors are a [*measure.FieldError] for each value that does not belong to the revision
// (plan.patterns[2].stick, revision.pieces[1]) and each invalid option, joined, and that of w.
func (r *Revision) Picture(w io.Writer, p optimize.Problem, plan *optimize.Plan, progress Progress, o *PictureOptions) error {
	if r == nil {
		r = new(Revision)
	}
	if o == nil {
		o = &PictureOptions{}
	}
	var bad fault.List
	bad.Under("options.locale", o.Locale.Validate())
	bad.Under("options", svg.CheckWidth(o.Width))
	if plan == nil {
		bad.Add("plan", "nil", "the plan that the revision was made for")
	} else {
		checkPatterns(&bad, "plan", plan, len(p.Sticks), len(p.Pieces)+len(plan.Parts))
		r.checkPicture(&bad, &p, plan, &progress)
	}
	if err := bad.Err(); err != nil {
		return err
	}
	d := picture{r: r, p: &p, plan: plan, progress: &progress, o: o, names: make(map[*stock.Piece]string)}
	d.draw()
	_, err := d.pic.WriteTo(w)
	return err
}

// checkPatterns reports indices out of range.
func checkPatterns(bad *fault.List, name string, plan *optimize.Plan, sticks, pieces int) {
	for i := range plan.Patterns {
		pat := &plan.Patterns[i]
		at := name + "." + fault.At("patterns", i)
		if pat.Stick < 0 || pat.Stick >= sticks {
			bad.Add(at+".stick", pat.Stick, wantIndex("stick", sticks))
		}
		for j, n := range pat.Pieces {
			if n < 0 || n >= pieces {
				bad.Add(at+"."+fault.At("pieces", j), n, wantIndex("piece", pieces))
			}
		}
	}
}

func wantIndex(what string, n int) string {
	return fmt.Sprintf("the number of a %s, of which there are %d, from 0", what, n)
}

// checkPicture reports indices out of range in revision and progress.
func (r *Revision) checkPicture(bad *fault.List, p *optimize.Problem, plan *optimize.Plan, progress *Progress) {
	pieces := len(p.Pieces) + len(plan.Parts)
	check := func(field string, i, n int, what string) {
		if i < 0 || i >= n {
			bad.Add(field, i, wantIndex(what, n))
		}
	}
	if r.Plan != nil {
		checkPatterns(bad, "revision.plan", r.Plan, len(r.Sticks), len(r.Problem.Pieces)+len(r.Plan.Parts))
		check("revision.sticks", len(r.Sticks)-1, len(r.Problem.Sticks), "stick")
	}
	for i, s := range r.Sticks {
		check("revision."+fault.At("sticks", i)+".stick", s.Stick, len(p.Sticks), "stick")
	}
	for i, n := range r.Pieces {
		check("revision."+fault.At("pieces", i), n, pieces, "piece")
	}
	for i, c := range r.Changes {
		check("revision."+fault.At("changes", i)+".pattern", c.Pattern, len(plan.Patterns), "pattern")
		check("revision."+fault.At("changes", i)+".piece", c.Piece, pieces, "piece")
	}
	for i, b := range r.Buy {
		check("revision."+fault.At("buy", i)+".stick", b.Stick, len(p.Sticks), "stick")
	}
	for i, s := range r.Surplus {
		check("revision."+fault.At("surplus", i)+".stick", s.Stick, len(p.Sticks), "stick")
	}
	for i, s := range r.Recut {
		check("revision."+fault.At("recut", i)+".piece", s.Piece, pieces, "piece")
	}
	if len(progress.Cut) > len(plan.Patterns) {
		bad.Add("progress.cut", len(progress.Cut), wantIndex("pattern", len(plan.Patterns)))
	}
	for i, s := range progress.Started {
		check("progress."+fault.At("started", i)+".stick", s.Stick, len(p.Sticks), "stick")
		for j, n := range s.Pieces {
			check("progress."+fault.At("started", i)+"."+fault.At("pieces", j), n, pieces, "piece")
		}
	}
}

// picture is the state of a picture of a revision.
type picture struct {
	r        *Revision
	p        *optimize.Problem
	plan     *optimize.Plan
	progress *Progress
	o        *PictureOptions
	pic      *svg.Picture
	scale    svg.Scale
	names    map[*stock.Piece]string
}

// look is the style of a piece or of the rest of a stick.
type look uint8

const (
	lookPlanned look = iota
	lookDone
	lookChanged // in the old plan, to be cut differently; in the new plan, not planned
	lookAgain
	lookRest
)

var looks = [...]svg.Entry{
	lookPlanned: {Style: svg.Style{Fill: svg.Wood, Stroke: svg.Ink}, Text: "as planned"},
	lookDone:    {Style: svg.Style{Fill: svg.Shade, Stroke: svg.Ink}, Hatch: svg.HatchDense, Text: "cut"},
	lookChanged: {Style: svg.Style{Fill: svg.Paper, Stroke: svg.Ink, Width: 200}, Text: "cut differently"},
	lookAgain:   {Style: svg.Style{Fill: svg.Paper, Stroke: svg.Ink, Width: 200}, Hatch: svg.HatchCrossed, Text: "cut again"},
	lookRest:    {Style: svg.Style{Fill: svg.Paper, Stroke: svg.Quiet, Dashed: true}, Text: "rest of the stick"},
}

const mostSticks = 150 // greatest number of kinds of sticks drawn before and after, each

func (d *picture) length(l measure.Length) string { return d.o.Locale.FormatLength(l) }

// amount writes a cost of the revision.
func (d *picture) amount(n int64) string {
	if d.r.ByLength {
		return d.length(measure.Length(n))
	}
	return d.o.Locale.FormatMoney(n)
}

func (d *picture) count(n int64) string {
	whole := measure.Locale{DecimalComma: d.o.Locale.DecimalComma, Currency: measure.Currency{Minor: 1}}
	return whole.FormatMoney(n)
}

// piece returns a piece of the old problem, named.
func (d *picture) piece(n int) (string, measure.Length) {
	if n < len(d.p.Pieces) {
		return d.named(n, &d.p.Pieces[n])
	}
	return d.named(n, &d.plan.Parts[n-len(d.p.Pieces)])
}

// named returns the name of the n-th piece, and its length. Names are truncated to a legible
// length, each once.
func (d *picture) named(n int, pc *stock.Piece) (string, measure.Length) {
	if pc.Label == "" {
		return "piece " + strconv.Itoa(n+1), pc.Length
	}
	name, known := d.names[pc]
	if !known {
		name = svg.Clip(pc.Label, svg.Small, 60*svg.Small)
		d.names[pc] = name
	}
	return name, pc.Length
}

// stick names a stick of the old problem.
func (d *picture) stick(n int) string {
	st := &d.p.Sticks[n]
	if st.Label == "" {
		return d.length(st.Length)
	}
	return d.length(st.Length) + ", " + svg.Clip(st.Label, svg.Small, 60*svg.Small)
}

func (d *picture) draw() {
	title := "Before and after"
	var y svg.Unit
	d.pic, y = svg.Titled(d.o.Width, title, strings.Join(d.words(), " "))
	longest := measure.Inch
	for i := range d.p.Sticks {
		longest = max(longest, d.p.Sticks[i].Length)
	}
	d.scale = svg.Fit(longest, d.pic.Right()-d.pic.Left()-2*svg.One)
	y = d.pic.Legend(y, looks[:]) + 4*svg.One
	y = d.pic.Paragraph(y, "Before: the plan, and what was done of it", svg.Normal, true) + 2*svg.One
	y = d.before(y)
	y = d.pic.Paragraph(y+6*svg.One, "After: what is left to cut", svg.Normal, true) + 2*svg.One
	y = d.after(y)
	for _, line := range d.words() {
		y = d.pic.Paragraph(y+svg.One, line, svg.Small, false)
	}
}

// done returns how many sticks of an old pattern are cut, and its change, if any.
func (d *picture) done(k int) (cut int, change *PatternChange) {
	if k < len(d.progress.Cut) {
		cut = d.progress.Cut[k]
	}
	for i := range d.r.Changes {
		if d.r.Changes[i].Pattern == k {
			change = &d.r.Changes[i]
		}
	}
	return cut, change
}

// before draws the sticks of the old plan, in the order of the plan, and then those that were
// started differently.
func (d *picture) before(y svg.Unit) svg.Unit {
	for k := range d.plan.Patterns {
		if k == mostSticks {
			y = d.pic.Paragraph(y, "and "+d.count(int64(len(d.plan.Patterns)-k))+" more patterns", svg.Small, false)
			break
		}
		pat := &d.plan.Patterns[k]
		cut, change := d.done(k)
		how := lookPlanned
		text := d.count(int64(pat.Count)) + " @ " + d.stick(pat.Stick)
		var parts []string
		if cut > 0 {
			parts = append(parts, d.count(int64(cut))+" cut")
		}
		if change != nil {
			if change.Kept > 0 {
				parts = append(parts, d.count(int64(change.Kept))+" as planned")
			}
			if n := change.Left - change.Kept; n > 0 {
				parts = append(parts, d.count(int64(n))+" cut differently: "+change.Reason.says())
				how = lookChanged
			}
		} else if cut >= pat.Count {
			how = lookDone
		}
		y = d.row(y, text+sentence(parts), &d.p.Sticks[pat.Stick], d.lay(d.p, pat, func(int) look { return how }, func(n int) int { return n }), d.p.Sticks[pat.Stick].Length)
	}
	for i := range d.progress.Started {
		if i == mostSticks {
			return d.pic.Paragraph(y, "and "+d.count(int64(len(d.progress.Started)-i))+" more sticks that were started", svg.Small, false)
		}
		s := &d.progress.Started[i]
		pat := optimize.Pattern{Stick: s.Stick, Pieces: s.Pieces}
		pieces := d.lay(d.p, &pat, func(int) look { return lookDone }, func(n int) int { return n })
		// The bar ends where the usable rest ends: spoiled stretches are not drawn.
		far := min(s.Left, farthest)
		if n := len(pieces); n > 0 {
			far += min(pieces[n-1].to, farthest) + min(d.p.Kerf, farthest)
		}
		far = min(far, d.p.Sticks[s.Stick].Length)
		y = d.row(y, "started: "+d.stick(s.Stick)+", "+d.length(s.Left)+" left", &d.p.Sticks[s.Stick], pieces, far)
	}
	return y
}

func sentence(parts []string) string {
	if len(parts) == 0 {
		return ""
	}
	return " - " + strings.Join(parts, "; ")
}

// after draws the sticks of the new plan.
func (d *picture) after(y svg.Unit) svg.Unit {
	if d.r.Plan == nil {
		return d.pic.Paragraph(y, "Nothing is left to cut.", svg.Normal, false)
	}
	again := make(map[int]int) // number of each piece that is cut again
	for _, s := range d.r.Recut {
		again[s.Piece] += max(s.Count, 1)
	}
	old := make(map[string]bool)
	for k := range d.plan.Patterns {
		old[same(d.plan.Patterns[k].Stick, d.plan.Patterns[k].Pieces)] = true
	}
	for k := range d.r.Plan.Patterns {
		if k == mostSticks {
			return d.pic.Paragraph(y, "and "+d.count(int64(len(d.r.Plan.Patterns)-k))+" more patterns", svg.Small, false)
		}
		pat := &d.r.Plan.Patterns[k]
		from := d.r.Sticks[pat.Stick]
		back := func(n int) int { // the piece of the old problem, -1 for a new part
			if n < len(d.r.Pieces) {
				return d.r.Pieces[n]
			}
			return -1
		}
		pieces := make([]int, len(pat.Pieces))
		for j, n := range pat.Pieces {
			pieces[j] = back(n)
		}
		how := lookPlanned
		if !old[same(from.Stick, pieces)] {
			how = lookChanged
		}
		style := func(n int) look {
			if again[n] > 0 { // of equal pieces the first ones
				again[n] -= max(pat.Count, 1)
				return lookAgain
			}
			return how
		}
		st := &d.r.Problem.Sticks[pat.Stick]
		text := d.source(int64(pat.Count), st.Length, from)
		y = d.row(y, text, st, d.lay(&d.r.Problem, pat, style, back), st.Length)
	}
	return y
}

// same is a key that two patterns share if they yield the same pieces from the same stick.
func same(stick int, pieces []int) string {
	sorted := slices.Clone(pieces)
	slices.Sort(sorted)
	key := strconv.AppendInt(nil, int64(stick), 10)
	for i := 0; i < len(sorted); {
		n := 1
		for i+n < len(sorted) && sorted[i+n] == sorted[i] {
			n++
		}
		key = strconv.AppendInt(append(key, ' '), int64(sorted[i]), 10)
		key = strconv.AppendInt(append(key, 'x'), int64(n), 10)
		i += n
	}
	return string(key)
}

// source describes a number of sticks of the new plan, and their place.
func (d *picture) source(n int64, length measure.Length, o Owned) string {
	of := d.stick(o.Stick)
	text := d.count(n) + " @ "
	switch st := &d.p.Sticks[o.Stick]; {
	case o.Place == PlaceWhole && length == st.Length:
		return text + of + ": on hand"
	case o.Place == PlaceSupplier && st.Rack:
		return text + of + ": off the rack"
	case o.Place == PlaceSupplier:
		return "BUY " + text + of
	default:
		return text + d.length(length) + ": on hand, " + o.Place.String() + ", of " + of
	}
}

// laid is a piece on a stick.
type laid struct {
	name     string
	from, to measure.Length
	as       look
}

// farthest is beyond every stick.
const farthest = measure.Length(1) << 60

// lay puts the pieces of a pattern side by side, in the order of the plan. Neighbors that share
// a cut overlap as needed to fit the stick.
func (d *picture) lay(p *optimize.Problem, pat *optimize.Pattern, style func(old int) look, back func(int) int) []laid {
	st := &p.Sticks[pat.Stick]
	out := make([]laid, 0, len(pat.Pieces))
	at := st.TrimStart
	for _, n := range pat.Pieces {
		l := laid{as: style(-1)} // a part of a run
		var length measure.Length
		switch old := back(n); {
		case old >= 0:
			l.name, length = d.piece(old)
			l.as = style(old)
		case n < len(d.r.Problem.Pieces):
			l.name, length = d.named(n, &d.r.Problem.Pieces[n])
		default:
			l.name, length = d.named(n, &d.r.Plan.Parts[n-len(d.r.Problem.Pieces)])
		}
		l.from, l.to = at, at+min(length, farthest)
		at = min(l.to+min(p.Kerf, farthest), farthest)
		out = append(out, l)
	}
	if n := len(out); n > 1 {
		if over := out[n-1].to - (st.Length - st.TrimEnd); over > 0 {
			for i := range out {
				by := over / measure.Length(n-1) * measure.Length(i)
				out[i].from, out[i].to = out[i].from-by, out[i].to-by
			}
		}
	}
	return out
}

// row draws a stick with its pieces, with a line above and a line below that names the pieces.
func (d *picture) row(y svg.Unit, text string, st *stock.Stick, pieces []laid, length measure.Length) svg.Unit {
	const high = 16 * svg.One
	y = d.pic.Paragraph(y, text, svg.Small, true) + svg.One
	left := d.pic.Left() + svg.One
	end := left + d.scale.Of(length)
	rest := svg.Box{X: left, Y: y, W: end - left, H: high}
	d.pic.Rect(rest, looks[lookRest].Style)
	const most = 300
	for i, l := range pieces {
		if i == most {
			break
		}
		x := min(max(left+d.scale.Of(l.from), left), end)
		b := svg.Box{X: x, Y: y, W: min(d.scale.Of(l.to-l.from), max(end-x, 0)), H: high}
		d.pic.Rect(b, looks[l.as].Style)
		d.pic.Hatch(b.Corners(), looks[l.as].Hatch, svg.Style{Stroke: svg.Quiet, Width: 50})
		if svg.WidthOf(l.name, svg.Small) < b.W-4*svg.One {
			d.pic.Label(svg.Text{At: svg.Point{X: b.X + b.W/2, Y: y + high/2}, S: l.name, Plate: looks[l.as].Hatch != svg.HatchNone})
		}
	}
	return d.pic.Paragraph(y+high+svg.One, d.listed(pieces), svg.Small, false) + 5*svg.One
}

// listed names the pieces of a stick, with equal neighbors once.
func (d *picture) listed(pieces []laid) string {
	var parts []string
	for i := 0; i < len(pieces); {
		n := 1
		for i+n < len(pieces) && pieces[i+n].name == pieces[i].name && pieces[i+n].to-pieces[i+n].from == pieces[i].to-pieces[i].from {
			n++
		}
		text := pieces[i].name + " " + d.length(pieces[i].to-pieces[i].from)
		if n > 1 {
			text = d.count(int64(n)) + " of " + text
		}
		if pieces[i].as == lookAgain {
			text += " (again)"
		}
		if parts = append(parts, text); len(parts) == 40 && i+n < len(pieces) {
			parts = append(parts, "and "+d.count(int64(len(pieces)-i-n))+" more")
			break
		}
		i += n
	}
	return strings.Join(parts, ", ")
}

// words describes the purchases, the surplus and the cost.
func (d *picture) words() []string {
	var out []string
	for _, s := range d.r.Recut {
		name, length := d.piece(s.Piece)
		out = append(out, "Cut again: "+d.count(int64(max(s.Count, 1)))+" of "+name+", "+d.length(length)+".")
	}
	for _, b := range d.r.Buy {
		verb := "Buy "
		if d.p.Sticks[b.Stick].Rack {
			verb = "Take off the rack "
		}
		out = append(out, verb+d.count(int64(b.Count))+" @ "+d.stick(b.Stick)+": "+d.amount(b.Cost)+".")
	}
	for _, s := range d.r.Surplus {
		text := "Not needed: " + d.count(int64(max(s.Count, 1))) + " @ " + d.stick(s.Stick) + ", " + s.Place.String() + ", " + d.length(s.Length)
		if s.Refund > 0 {
			text += ", refund each " + d.amount(s.Refund)
		}
		out = append(out, text+".")
	}
	const most = 60
	if len(out) > most {
		out = append(out[:most], "And "+d.count(int64(len(out)-most))+" more lines like these.")
	}
	text := "Still to pay: "
	if d.r.ByLength {
		text = "Still to buy: "
	}
	text += d.amount(d.r.Cost)
	switch extra := d.r.Extra(); {
	case extra > 0:
		text += ", " + d.amount(extra) + " more than planned"
	case extra < 0:
		text += ", " + d.amount(-extra) + " less than planned"
	}
	if d.r.Proven {
		text += "; no plan for what is left costs less"
	}
	return append(out, text+".")
}
