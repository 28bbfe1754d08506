package svg

import (
	"io"
	"slices"

	"example.com/longpoint/internal/typeset"
)

// fontStack is monospaced, so that the width of a text is known.
const fontStack = "ui-monospace, Menlo, Consolas, 'DejaVu Sans Mono', 'Liberation Mono', monospace"

// margin is the free space around a picture.
const margin = 8 * One

// A Picture is drawn from the back to the front. Make one with New.
type Picture struct {
	width, height Unit
	title, desc   string
	shapes, texts typeset.Markup
	taken         boxes
	loose         boxes
	groups        int
}

// New returns an empty picture. The title names it; the description is its text alternative.
// Widths are clamped to 120 to 4000.
func New(width Unit, title, desc string) *Picture {
	return &Picture{width: min(max(width, 120*One), 4000*One), title: title, desc: desc}
}

// Width returns the width, and Height the current height.
func (p *Picture) Width() Unit  { return p.width }
func (p *Picture) Height() Unit { return p.height }

// Left and Right return the ends of the margins.
func (p *Picture) Left() Unit  { return margin }
func (p *Picture) Right() Unit { return p.width - margin }

// Group begins a group of shapes with its own title, which a pointer shows; End ends it.
func (p *Picture) Group(title string) {
	p.shapes.Open("g")
	if title != "" {
		p.shapes.Leaf("title", title)
	}
	p.shapes.Line()
	p.groups++
}

// End ends the group begun last.
func (p *Picture) End() {
	if p.groups > 0 {
		p.shapes.Close()
		p.shapes.Line()
		p.groups--
	}
}

// Grow makes the picture reach down to at least y.
func (p *Picture) Grow(y Unit) { p.height = max(p.height, min(y, farthest)) }

// Keep keeps labels out of a box.
func (p *Picture) Keep(b Box) { p.taken.add(b) }

// Spare keeps labels out of a box if they find another place, see Clear.
func (p *Picture) Spare(b Box) { p.loose.add(b) }

// Clear reports whether a box is Free and meets no spared box.
func (p *Picture) Clear(b Box) bool { return p.Free(b) && !p.loose.meet(b) }

// Free reports whether a box lies between the margins and meets no occupied box.
func (p *Picture) Free(b Box) bool {
	return b.X >= margin/2 && b.X+b.W <= p.width-margin/2 && b.Y >= 0 && !p.taken.meet(b)
}

// boxes finds the boxes that meet a given one, by the bands of the picture in which they lie,
// so that the time for thousands of labels is not quadratic.
type boxes map[Unit][]Box

const band = 64 * One

func (bs *boxes) add(b Box) {
	if *bs == nil {
		*bs = boxes{}
	}
	first := floorDiv(b.Y, band)
	for k := first; k <= min(floorDiv(b.Y+b.H, band), first+mostLines); k++ {
		(*bs)[k] = append((*bs)[k], b)
	}
}

func (bs boxes) meet(b Box) bool {
	for k := floorDiv(b.Y, band); k <= floorDiv(b.Y+b.H, band); k++ {
		if slices.ContainsFunc(bs[k], b.Meets) {
			return true
		}
	}
	return false
}

// WriteTo writes the picture. The error is that of w.
func (p *Picture) WriteTo(w io.Writer) (int64, error) {
	for p.groups > 0 {
		p.End()
	}
	var m typeset.Markup
	high := (p.height + margin).String()
	m.Open("svg", "xmlns", "http://www.w3.org/2000/svg", "role", "img", "aria-label", p.title,
		"viewBox", "0 0 "+p.width.String()+" "+high, "width", p.width.String(), "height", high, "font-family", fontStack)
	m.Line()
	m.Leaf("title", p.title)
	m.Line()
	m.Leaf("desc", p.desc)
	m.Line()
	m.Void("rect", "width", p.width.String(), "height", high, "fill", Paper)
	m.Line()
	m.Raw(p.shapes.String())
	m.Raw(p.texts.String())
	m.Close()
	m.Line()
	n, err := io.WriteString(w, m.String())
	return int64(n), err
}
