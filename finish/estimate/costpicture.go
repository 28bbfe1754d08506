package estimate

import (
	"io"
	"strconv"
	"strings"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/svg"
)

// pricePart is a drawn part of a price.
type pricePart struct {
	name  string
	style svg.Entry // style of its part of the bar
}

// priceParts are the kinds of direct cost, in the order of a bar, and then the additions.
// Neighbors differ in hatching, and each has a letter.
var priceParts = [...]pricePart{
	{"trim", look(svg.Wood, svg.HatchNone)},
	{"consumables", look(svg.Paper, svg.HatchRising)},
	{"labor with burden", look(svg.Shade, svg.HatchNone)},
	{"disposal", look(svg.Paper, svg.HatchCrossed)},
	{"delivery", look(svg.Wood, svg.HatchFalling)},
	{"equipment", look(svg.Paper, svg.HatchUpright)},
	{"subcontractors", look(svg.Shade, svg.HatchRising)},
	{"other costs", look(svg.Paper, svg.HatchLevel)},
	{"tax", look(svg.Wood, svg.HatchCrossed)},
	{"overhead", look(svg.Paper, svg.HatchNone)},
	{"contingency", look(svg.Shade, svg.HatchFalling)},
	{"markup and rounding", look(svg.Paper, svg.HatchGrid)},
	{"client's tax", look(svg.Wood, svg.HatchUpright)},
	{"not itemized", look(svg.Shade, svg.HatchDense)},
}

func look(fill string, h svg.Hatch) svg.Entry {
	return svg.Entry{Style: svg.Style{Fill: fill, Stroke: svg.Ink}, Hatch: h}
}

// partOfKind is the index of each kind of cost among the parts.
var partOfKind = map[CostKind]int{
	CostTrim: 0, CostConsumables: 1, CostLabor: 2, CostDisposal: 3, CostDelivery: 4, CostEquipment: 5, CostSubcontract: 6, CostOther: 7,
}

// partsOf divides the total of a quote. The parts sum to it exactly.
func partsOf(q *Quote) (parts [len(priceParts)]int64) {
	left := q.Total
	add := func(i int, n int64) {
		parts[i] += n
		left -= n
	}
	for i := range q.Costs {
		c := &q.Costs[i]
		at, known := partOfKind[c.Kind]
		if !known {
			at = partOfKind[CostOther]
		}
		add(at, c.Direct)
	}
	for _, l := range q.Lines {
		switch l.Part {
		case PartTax:
			add(8, l.Amount)
		case PartOverhead:
			add(9, l.Amount)
		case PartContingency:
			add(10, l.Amount)
		case PartMarkup, PartMinimum, PartRounding:
			add(11, l.Amount)
		case PartClientTax:
			add(12, l.Amount)
		}
	}
	parts[len(parts)-1] = left
	return parts
}

// CostPicture draws the costs of several ways to do a job, one bar for each quote, to one scale
// from zero, with the parts of each total: direct costs by kind, labor with its burden, and the
// additions. The parts differ in their hatching, have a letter each and sum to the total
// exactly.
//
// The errors are a [*measure.FieldError] for each nil quote (quotes[1]) and each invalid
// option, joined, and that of w.
func CostPicture(w io.Writer, quotes []*Quote, o *PictureOptions) error {
	var bad fault.List
	opts, err := o.filled()
	bad.Under("", err)
	for i, q := range quotes {
		if q == nil {
			bad.Add(fault.At("quotes", i), "nil", "a quote")
		}
	}
	if err := bad.Err(); err != nil {
		return err
	}
	d := costDrawing{quotes: quotes, o: &opts}
	d.draw()
	_, err = d.p.WriteTo(w)
	return err
}

const mostQuotes = 60 // greatest number drawn

type costDrawing struct {
	quotes []*Quote
	o      *PictureOptions
	p      *svg.Picture
	most   int64                    // the longest bar
	letter [len(priceParts)]string  // "" for a part that no quote has
	parts  [][len(priceParts)]int64 // of the quotes that are drawn
}

func (d *costDrawing) money(n int64) string { return d.o.Locale.FormatMoney(n) }

func (d *costDrawing) draw() {
	shown := d.quotes[:min(len(d.quotes), mostQuotes)]
	for _, q := range shown {
		parts := partsOf(q)
		d.parts = append(d.parts, parts)
		sum := int64(0)
		for i, n := range parts {
			if n != 0 {
				d.letter[i] = "x"
			}
			if n > 0 && sum <= 1<<62 {
				sum += min(n, 1<<62)
			}
		}
		d.most = max(d.most, sum)
	}
	next := 'a'
	for i := range d.letter {
		if d.letter[i] != "" {
			d.letter[i] = string(next)
			next++
		}
	}
	var y svg.Unit
	d.p, y = svg.Titled(d.o.Width, "What it costs", d.words(shown))
	var entries []svg.Entry
	for i, l := range d.letter {
		if l != "" {
			e := priceParts[i].style
			e.Text = l + " " + priceParts[i].name
			entries = append(entries, e)
		}
	}
	y = d.p.Legend(y, entries) + 6*svg.One
	for i, q := range shown {
		y = d.bar(y, i, q)
	}
	if n := len(d.quotes) - len(shown); n > 0 {
		d.p.Paragraph(y, "and "+strconv.Itoa(n)+" more", svg.Normal, false)
	}
}

// least returns the index of the lowest total.
func least(quotes []*Quote) int {
	at := 0
	for i, q := range quotes {
		if q.Total < quotes[at].Total {
			at = i
		}
	}
	return at
}

// name returns the name of a quote.
func (d *costDrawing) name(i int) string {
	if l := d.quotes[i].Label; l != "" {
		return svg.Clip(l, svg.Small, 80*svg.Small)
	}
	return "quote " + strconv.Itoa(i+1)
}

// head describes the total of a quote, compared with the lowest.
func (d *costDrawing) head(i int) string {
	q := d.quotes[i]
	text := d.name(i) + ": " + d.money(q.Total)
	if len(d.quotes) < 2 {
		return text
	}
	low := d.quotes[least(d.quotes)].Total
	switch more := q.Total - low; {
	case more > 0:
		return text + ", " + d.money(more) + " more than the lowest"
	case more == 0:
		return text + ", the lowest"
	}
	return text // out of the range of amounts
}

func (d *costDrawing) bar(y svg.Unit, i int, q *Quote) svg.Unit {
	const high = 24 * svg.One
	y = d.p.Paragraph(y, d.head(i), svg.Normal, true) + svg.One
	room := d.p.Right() - d.p.Left()
	from := int64(0)
	for k, n := range d.parts[i] {
		if n <= 0 {
			continue
		}
		to := from + min(n, d.most-from)
		x0, x1 := portion(from, d.most, room), portion(to, d.most, room)
		from = to
		b := svg.Box{X: d.p.Left() + x0, Y: y, W: x1 - x0, H: high}
		e := priceParts[k].style
		d.p.Rect(b, e.Style)
		d.p.Hatch(b.Corners(), e.Hatch, fineHatch)
		if b.W > 10*svg.One {
			d.p.Label(svg.Text{At: svg.Point{X: b.X + b.W/2, Y: y + high/2}, S: d.letter[k], Bold: true, Plate: e.Hatch != svg.HatchNone})
		}
	}
	return d.p.Paragraph(y+high+2*svg.One, d.listed(i), svg.Small, false) + 8*svg.One
}

// listed lists the parts of a quote.
func (d *costDrawing) listed(i int) string {
	var out []string
	for k, n := range d.parts[i] {
		if n != 0 {
			out = append(out, d.letter[k]+" "+priceParts[k].name+" "+d.money(n))
		}
	}
	return strings.Join(out, ", ")
}

func (d *costDrawing) words(shown []*Quote) string {
	var b strings.Builder
	for i := range shown {
		if i == 20 {
			b.WriteString("And " + strconv.Itoa(len(d.quotes)-i) + " more.")
			break
		}
		b.WriteString(d.head(i) + ": " + d.listed(i) + ". ")
	}
	if b.Len() == 0 {
		return "No quotes."
	}
	return b.String()
}
