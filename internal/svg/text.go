package svg

import (
	"strings"

	"example.com/longpoint/internal/typeset"
)

// Sizes of text: Small is the smallest that is legible on paper and on a telephone.
const (
	Small  = 10 * One
	Normal = 11 * One
	Large  = 15 * One
)

// An Anchor is the part of a text that is at its point.
type Anchor uint8

const (
	Middle Anchor = iota
	Start
	End
)

// A Text is a line of text. Its middle line goes through At.
type Text struct {
	At      Point
	S       string
	Size    Unit // zero is Small
	Anchor  Anchor
	Bold    bool
	Upright bool // turned a quarter to the left: read from the right
	Color   string
	Plate   bool // white background, over lines
}

// A Spot is a possible position of a text.
type Spot struct {
	At      Point
	Anchor  Anchor
	Upright bool
}

// WidthOf returns the width reserved for a text of a size, a little more than monospaced fonts
// take (0.6 of the size from memory). Text that may use other fonts is fitted into it.
func WidthOf(s string, size Unit) Unit {
	return Unit(typeset.Cells(typeset.Visible(typeset.Unmarked(s)))) * size * 61 / 100
}

// HeightOf returns the height of a line of text of a size.
func HeightOf(size Unit) Unit { return size * 12 / 10 }

// Clip shortens a text in its middle to fit a width. It omits whole words if that costs at most
// half of the rest before or after: "opening … return" is clearer than "opening w…l return".
func Clip(s string, size, room Unit) string {
	const dots = "…"
	s = typeset.Visible(typeset.Unmarked(s))
	short := typeset.Clip(s, max(int(room*100/(size*61)), 1), dots)
	if short == s {
		return s
	}
	for i := range short {
		head, tail := short[:i], strings.TrimPrefix(short[i:], dots)
		if len(tail) == len(short)-i || !strings.HasPrefix(s, head) || !strings.HasSuffix(s, tail) {
			continue
		}
		if k := strings.LastIndexByte(head, ' '); k > 0 && 2*k >= len(head) && s[i] != ' ' {
			head = head[:k+1]
		}
		if k := strings.IndexByte(tail, ' '); k > 0 && 2*k <= len(tail) && s[len(s)-len(tail)-1] != ' ' {
			tail = tail[k:]
		}
		return head + dots + tail
	}
	return short
}

func (t Text) size() Unit {
	if t.Size == 0 {
		return Small
	}
	return t.Size
}

// Box returns the box of the text.
func (t Text) Box() Box {
	w, h := WidthOf(t.S, t.size()), HeightOf(t.size())
	before := w / 2
	switch t.Anchor {
	case Start:
		before = 0
	case End:
		before = w
	}
	if t.Upright {
		return Box{t.At.X - h/2, t.At.Y - (w - before), h, w}
	}
	return Box{t.At.X - before, t.At.Y - h/2, w, h}
}

// Put writes a text unconditionally, and keeps labels off it.
func (p *Picture) Put(t Text) {
	if t.S == "" {
		return
	}
	b := t.Box()
	p.Keep(b)
	p.Grow(b.Y + b.H)
	if t.Plate {
		p.texts.Void("rect", "x", (b.X - One).String(), "y", b.Y.String(), "width", (b.W + 2*One).String(), "height", b.H.String(), "fill", Paper)
	}
	s, size := typeset.Unmarked(t.S), t.size()
	base := t.At.Add(0, size*34/100)
	attrs := []string{"x", base.X.String(), "y", base.Y.String(), "font-size", size.String(), "fill", Ink}
	if t.Upright {
		base = t.At.Add(size*34/100, 0)
		attrs = []string{"x", base.X.String(), "y", base.Y.String(), "transform", "rotate(-90 " + pair(base) + ")", "font-size", size.String(), "fill", Ink}
	}
	if t.Color != "" {
		attrs[len(attrs)-1] = t.Color
	}
	switch t.Anchor {
	case Middle:
		attrs = append(attrs, "text-anchor", "middle")
	case End:
		attrs = append(attrs, "text-anchor", "end")
	}
	if t.Bold {
		attrs = append(attrs, "font-weight", "bold")
	}
	if foreign(s) {
		attrs = append(attrs, "textLength", WidthOf(s, size).String(), "lengthAdjust", "spacingAndGlyphs")
	}
	p.texts.Leaf("text", s, attrs...)
	p.texts.Line()
}

// Letter writes a letter or a number into a drawn mark, among the shapes, around a point. It
// ignores the placement of labels: keep them off the mark.
func (p *Picture) Letter(at Point, s string, size Unit) {
	p.Grow(at.Y + size)
	p.shapes.Leaf("text", s, "x", at.X.String(), "y", (at.Y + size*34/100).String(), "font-size", size.String(), "fill", Ink, "text-anchor", "middle", "font-weight", "bold")
	p.shapes.Line()
}

// Label writes a text at the first of its positions - its own, then the spots - that is inside
// the picture and overlaps no other text. If there is none, it writes nothing and returns
// false.
func (p *Picture) Label(t Text, spots ...Spot) bool {
	if p.Free(t.Box()) {
		p.Put(t)
		return true
	}
	for _, s := range spots {
		t.At, t.Anchor, t.Upright = s.At, s.Anchor, s.Upright
		if p.Free(t.Box()) {
			p.Put(t)
			return true
		}
	}
	return false
}

// Paragraph writes wrapped text from the left margin, from y down, and returns where it ends.
func (p *Picture) Paragraph(y Unit, s string, size Unit, bold bool) Unit {
	return p.Block(Point{p.Left(), y}, p.Right()-p.Left(), s, size, bold)
}

// Block writes wrapped text within a width, from a point down, and returns where it ends.
func (p *Picture) Block(at Point, width Unit, s string, size Unit, bold bool) Unit {
	for _, l := range typeset.Wrap(typeset.Visible(s), max(int(width*100/(size*61)), 1)) {
		p.Put(Text{At: Point{at.X, at.Y + HeightOf(size)/2}, S: l, Size: size, Anchor: Start, Bold: bold})
		at.Y += HeightOf(size)
	}
	return at.Y
}

// foreign reports whether a text has characters that may need another font.
func foreign(s string) bool {
	for _, r := range s {
		if r > 0x24f && r != '…' {
			return true
		}
	}
	return false
}

// BlockHeight returns the height of a text written by Block.
func BlockHeight(s string, size, width Unit) Unit {
	return Unit(len(typeset.Wrap(typeset.Visible(s), max(int(width*100/(size*61)), 1)))) * HeightOf(size)
}
