package cutsheet

import (
	"cmp"
	"errors"
	"io"
	"slices"
	"strings"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/svg"
	"example.com/longpoint/internal/typeset"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// shelf is the offcuts of one length and kind on the rack: their number before and after.
type shelf struct {
	profile, material, label string
	length                   measure.Length
	before, after            int64
}

// The kinds of offcuts, and how each is drawn.
var rackLegend = [3]svg.Entry{
	{Style: woodStyle, Text: "on the rack"},
	{Style: svg.Style{Fill: svg.Paper, Stroke: svg.Ink, Dashed: true}, Hatch: svg.HatchCrossed, Text: "used up"},
	{Style: svg.Style{Fill: svg.Wood, Stroke: svg.Ink, Width: 200}, Hatch: svg.HatchRising, Text: "added"},
}

// RackPicture draws the offcuts of a rack to scale, by profile and material, the longest first.
// After is the rack after a change, see [stock.Rack.Apply]: the picture then marks the offcuts
// used up and added; nil draws the rack as it is. Equal offcuts are one bar with their number.
//
// Of the options only Width and Locale are used; nil means the zero value. The errors are those
// of [stock.Rack.Validate], below before and after, a [*measure.FieldError] for each invalid
// option (options.width) and for each text that is not UTF-8 (before.offcuts[2].label), joined,
// and that of w.
func RackPicture(w io.Writer, before stock.Rack, after *stock.Rack, o *PictureOptions) error {
	options := o.sheet()
	err := errors.Join(o.checkWidth(), checkRack("before", &before), checkRack("after", after), options.check())
	if err != nil {
		return err
	}
	d := rackDrawing{s: &Sheet{options: *options, style: options.style()}, changed: after != nil}
	if after == nil {
		after = &before
	}
	d.shelves = shelves(&before, after)
	d.draw(o.width())
	_, err = d.p.WriteTo(w)
	return err
}

func checkRack(name string, r *stock.Rack) error {
	if r == nil {
		return nil
	}
	var bad fault.List
	bad.Under(name, r.Validate())
	for i := range r.Offcuts {
		o := &r.Offcuts[i]
		for _, f := range [...]struct{ name, text string }{{"label", o.Label}, {"profile", o.Profile}, {"material", o.Material}} {
			bad.Under(name+"."+fault.At("offcuts", i), checkText(f.name, f.text))
		}
	}
	return bad.Err()
}

// shelves groups equal offcuts, sorted by profile and material, the longest first.
func shelves(before, after *stock.Rack) []shelf {
	type kind struct {
		profile, material, label string
		length                   measure.Length
	}
	at := make(map[kind]int)
	var all []shelf
	for i, r := range [...]*stock.Rack{before, after} {
		for k := range r.Offcuts {
			o := &r.Offcuts[k]
			of := kind{o.Profile, o.Material, o.Label, o.Length}
			n, known := at[of]
			if !known {
				n = len(all)
				at[of] = n
				all = append(all, shelf{profile: o.Profile, material: o.Material, label: o.Label, length: o.Length})
			}
			count := int64(max(o.Count, 1))
			if i == 0 {
				all[n].before += count
			} else {
				all[n].after += count
			}
		}
	}
	slices.SortStableFunc(all, func(a, b shelf) int {
		return cmp.Or(cmp.Compare(a.profile, b.profile), cmp.Compare(a.material, b.material), cmp.Compare(b.length, a.length), cmp.Compare(a.label, b.label))
	})
	return all
}

type rackDrawing struct {
	s       *Sheet // for its formats of lengths and counts
	shelves []shelf
	changed bool
	p       *svg.Picture
	scale   svg.Scale
}

// counts returns how many of a shelf stay, are used up and are added.
func (a *shelf) counts() [3]int64 {
	return [3]int64{min(a.before, a.after), max(a.before-a.after, 0), max(a.after-a.before, 0)}
}

func (d *rackDrawing) draw(width int) {
	title := "The rack"
	if d.changed {
		title = "The rack, before and after"
	}
	var sums [3]int64
	var longest measure.Length
	for i := range d.shelves {
		for k, n := range d.shelves[i].counts() {
			sums[k] += n
		}
		longest = max(longest, d.shelves[i].length)
	}
	desc := d.s.plural(sums[0], "offcut")
	if d.changed {
		desc = "Offcuts that stay: " + d.s.count(sums[0]) + ", used up: " + d.s.count(sums[1]) + ", added: " + d.s.count(sums[2])
	}
	p, y := svg.Titled(width, title, desc+". "+d.longestWords())
	d.p = p
	y = p.Paragraph(y, desc+".", svg.Normal, false) + 4*svg.One
	d.scale = svg.Fit(longest, (p.Right()-p.Left())*6/10)
	if d.changed {
		y = p.Legend(y, rackLegend[:]) + 2*svg.One
	}
	head := ""
	rows := 0
	for i := range d.shelves {
		a := &d.shelves[i]
		if h := strings.Trim(a.profile+", "+a.material, ", "); h != head {
			head = h
			y = p.Paragraph(y+5*svg.One, typeset.Clip(h, 150, "…"), svg.Normal, true) + 2*svg.One
		}
		for k, n := range a.counts() {
			if n == 0 {
				continue
			}
			if rows++; rows > mostListed {
				d.p.Paragraph(y+4*svg.One, "and "+d.s.plural(int64(len(d.shelves)-i), "more kind")+" of offcut", svg.Normal, false)
				return
			}
			y = d.row(y, a, k, n)
		}
	}
	if len(d.shelves) > 0 {
		p.ScaleBar(y+6*svg.One, d.scale, barSteps(d.s.options.Locale), d.s.options.Locale.FormatLength)
	}
}

// longestWords names the longest offcut of each profile, for the text description.
func (d *rackDrawing) longestWords() string {
	text := ""
	for i := range d.shelves {
		a := &d.shelves[i]
		if i > 0 && d.shelves[i-1].profile == a.profile && d.shelves[i-1].material == a.material {
			continue
		}
		if len(text) > 1000 {
			return text + "And others."
		}
		text += "Longest of " + typeset.Clip(strings.Trim(a.profile+", "+a.material, ", "), 60, "…") + ": " + d.s.length(a.length) + ". "
	}
	return text
}

// row draws equal offcuts of one kind.
func (d *rackDrawing) row(y svg.Unit, a *shelf, kind int, n int64) svg.Unit {
	const high = 12 * svg.One
	p, e := d.p, rackLegend[kind]
	b := svg.Box{X: p.Left(), Y: y + svg.One, W: max(d.scale.Of(a.length), svg.One), H: high - 2*svg.One}
	p.Rect(b, e.Style)
	p.Hatch(b.Corners(), e.Hatch, hatchStyle)
	text := d.s.length(a.length)
	if n > 1 {
		text = d.s.count(n) + " @ " + text
	}
	text = d.labeled(text, a)
	if d.changed && kind > 0 {
		text += ", " + e.Text
	}
	x := b.X + b.W + 5*svg.One
	room := p.Right() - x
	if svg.WidthOf(text, svg.Small) > room { // a long bar with a long text
		p.Put(svg.Text{At: svg.Point{X: p.Left(), Y: y + high + 7*svg.One}, S: svg.Clip(text, svg.Small, p.Right()-p.Left()), Anchor: svg.Start})
		return y + high + 15*svg.One
	}
	p.Put(svg.Text{At: svg.Point{X: x, Y: y + high/2}, S: svg.Clip(text, svg.Small, room), Anchor: svg.Start})
	return y + high + 3*svg.One
}

// labeled appends the label of an offcut, unless it is empty.
func (d *rackDrawing) labeled(text string, a *shelf) string {
	if a.label == "" {
		return text
	}
	return text + "  " + typeset.Clip(a.label, 40, "…")
}
