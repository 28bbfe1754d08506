package cutsheet

import (
	"io"
	"math/big"

	"example.com/longpoint/internal/svg"
	"example.com/longpoint/internal/typeset"
	"example.com/longpoint/measure"
)

// shares are the parts of the sticks: in pieces, kept for later, and lost in saw cuts, unusable
// ends and offcuts too short to keep.
type shares struct{ used, kept, waste big.Int }

func (a *shares) all() *big.Int {
	sum := new(big.Int).Add(&a.used, &a.kept)
	return sum.Add(sum, &a.waste)
}

func (a *shares) add(b *shares) {
	a.used.Add(&a.used, &b.used)
	a.kept.Add(&a.kept, &b.kept)
	a.waste.Add(&a.waste, &b.waste)
}

func (a *shares) parts() [3]*big.Int { return [3]*big.Int{&a.used, &a.kept, &a.waste} }

// material is the use of one kind of stick, or of all.
type material struct {
	name   string
	count  int64
	length shares
	cost   shares // zero if the cost is a length
}

// materials returns the use of each kind of stick that is bought or taken off the rack, and of
// all of them. Lengths and money add up exactly; an indivisible remainder goes to the part with
// the largest remainder.
func (s *Sheet) materials() (rows []material, total material) {
	at := make(map[int]int)
	for _, l := range s.lines {
		st := &s.problem.Sticks[l.stick]
		m := material{name: s.stickName(l.stick), count: l.count}
		n := l.count
		if st.Rack {
			n, m.count = l.cut, l.cut // the others stay where they are
		}
		m.length.waste.Mul(big.NewInt(int64(st.Length)), big.NewInt(n))
		if !st.Rack {
			for _, c := range clearOf(st) {
				m.length.move(&m.length.kept, s.worthKeeping(width(c)), l.count-l.cut)
			}
		}
		at[l.stick] = len(rows)
		rows = append(rows, m)
	}
	for k := range s.patterns {
		p := &s.patterns[k]
		m := &rows[at[p.Stick]]
		for j := range p.layout.pieces {
			l := &p.layout.pieces[j]
			length := l.to - l.from
			if l.shared {
				length -= l.left.Setback // which the neighbor has too
			}
			m.length.move(&m.length.used, length, int64(p.Count))
		}
		for n := range p.bays {
			m.length.move(&m.length.kept, s.worthKeeping(width(p.bays[n].offcut)), int64(p.Count))
		}
	}
	for i, l := range s.lines {
		if s.priced() {
			rows[i].cost = divide(l.price(), &rows[i].length)
		}
		total.count += rows[i].count
		total.length.add(&rows[i].length)
		total.cost.add(&rows[i].cost)
	}
	return rows, total
}

// worthKeeping returns the length of an offcut if it is kept, else zero.
func (s *Sheet) worthKeeping(l measure.Length) measure.Length {
	if l < s.keep {
		return 0
	}
	return l
}

// move takes n times a length from the waste to another share.
func (a *shares) move(to *big.Int, l measure.Length, n int64) {
	x := new(big.Int).Mul(big.NewInt(int64(l)), big.NewInt(n))
	to.Add(to, x)
	a.waste.Sub(&a.waste, x)
}

// divide divides an amount in proportion to the lengths.
func divide(amount int64, by *shares) (out shares) {
	all := by.all()
	parts, from := out.parts(), by.parts()
	if all.Sign() == 0 {
		out.waste.SetInt64(amount)
		return out
	}
	left := amount
	var rests [3]*big.Int
	for i := range parts {
		rests[i] = new(big.Int)
		parts[i].Mul(big.NewInt(amount), from[i])
		parts[i].QuoRem(parts[i], all, rests[i])
		left -= parts[i].Int64()
	}
	for ; left > 0; left-- {
		most := 0
		for i := range rests {
			if rests[i].Cmp(rests[most]) > 0 {
				most = i
			}
		}
		parts[most].Add(parts[most], big.NewInt(1))
		rests[most].SetInt64(-1)
	}
	return out
}

// mostRows is the greatest number of rows with a separate bar in a picture.
const mostRows = 150

var purchaseLegend = []svg.Entry{
	{Style: woodStyle, Text: "used, in pieces"},
	{Style: bareStyle, Hatch: svg.HatchRising, Text: "kept: offcuts and whole sticks"},
	{Style: lostStyle, Hatch: svg.HatchCrossed, Text: "waste, with kerf and trimmed ends"},
}

// PurchasePicture draws the use of each kind of stick that is bought or taken off the rack: the
// parts used, kept for later and wasted, in length and in money. The parts add up exactly. An
// offcut of Options.Keep or more is kept. Of the picture's options only Width is used; nil means
// the zero value. The error is a [*measure.FieldError] for a width out of range (options.width),
// or that of w.
func (s *Sheet) PurchasePicture(w io.Writer, o *PictureOptions) error {
	s = s.orEmpty()
	if err := o.checkWidth(); err != nil {
		return err
	}
	rows, total := s.materials()
	title := "Where the stock goes"
	desc := "Total: " + s.materialWords(&total, "; ")
	p, y := svg.Titled(o.width(), title, desc)
	var most big.Int
	for i := range rows {
		if all := rows[i].length.all(); all.Cmp(&most) > 0 {
			most.Set(all)
		}
	}
	y = p.Legend(y, purchaseLegend) + 4*svg.One
	for i := range rows {
		if i == mostRows {
			y = p.Paragraph(y, "and "+s.plural(int64(len(rows)-i), "more kind")+" of stick, counted below", svg.Normal, false) + 6*svg.One
			break
		}
		r := &rows[i]
		y = p.Paragraph(y, s.count(r.count)+" @ "+typeset.Clip(r.name, 100, "…"), svg.Normal, true)
		y = s.materialBar(p, y+svg.One, &r.length, &most)
		y = s.materialText(p, y, r) + 8*svg.One
	}
	if len(rows) > 1 {
		y = p.Paragraph(y, "Total: "+s.plural(total.count, "stick"), svg.Normal, true)
		y = s.materialBar(p, y+svg.One, &total.length, total.length.all())
		y = s.materialText(p, y, &total)
	}
	if besides := s.besides(); besides != "" {
		p.Paragraph(y+2*svg.One, besides, svg.Small, false)
	}
	_, err := p.WriteTo(w)
	return err
}

// besides describes the costs other than sticks.
func (s *Sheet) besides() string {
	text := ""
	for i := range s.bill {
		if c := &s.bill[i]; c.kind != "rack" {
			text += "Also: " + typeset.Clip(s.chargeWords(c), 100, "…") + ", " + s.money(c.amount) + ". "
		}
	}
	return text
}

// materialBar draws the shares of a length; the longest bar is as wide as the picture.
func (s *Sheet) materialBar(p *svg.Picture, y svg.Unit, a *shares, most *big.Int) svg.Unit {
	const high = 18 * svg.One
	room := big.NewInt(int64(p.Right() - p.Left()))
	from := new(big.Int)
	for i, part := range a.parts() {
		to := new(big.Int).Add(from, part)
		x0, x1 := portion(from, room, most), portion(to, room, most)
		from = to
		b := svg.Box{X: p.Left() + x0, Y: y, W: x1 - x0, H: high}
		if part.Sign() <= 0 {
			continue
		}
		e := purchaseLegend[i]
		p.Rect(b, e.Style)
		p.Hatch(b.Corners(), e.Hatch, hatchStyle)
	}
	return y + high + 2*svg.One
}

// portion is a share part/all of the room, rounded down.
func portion(part, room, all *big.Int) svg.Unit {
	if all.Sign() <= 0 {
		return 0
	}
	x := new(big.Int).Mul(part, room)
	return svg.Unit(x.Quo(x, all).Int64())
}

func (s *Sheet) materialText(p *svg.Picture, y svg.Unit, m *material) svg.Unit {
	return p.Paragraph(y, s.materialWords(m, "  ·  "), svg.Small, false)
}

// materialWords describes the parts used, kept and wasted.
func (s *Sheet) materialWords(m *material, between string) string {
	text := ""
	costs := m.cost.parts()
	paid := m.cost.all().Sign() > 0
	for i, part := range m.length.parts() {
		if part.Sign() == 0 && costs[i].Sign() == 0 {
			continue
		}
		if text != "" {
			text += between
		}
		text += [...]string{"used ", "kept ", "waste "}[i] + s.bigLength(part)
		if paid {
			text += " " + s.bigMoney(costs[i])
		}
	}
	if text != "" {
		text += between
	}
	text += "total " + s.bigLength(m.length.all())
	if paid {
		text += " " + s.bigMoney(m.cost.all())
	}
	return text
}

// bigLength writes a length that may be out of the range of measure.Length.
func (s *Sheet) bigLength(n *big.Int) string {
	if n.IsInt64() {
		return s.length(measure.Length(n.Int64()))
	}
	unit, name := measure.Foot, " ft"
	if metric(s.style) {
		unit, name = measure.Meter, " m"
	}
	q := new(big.Int).Quo(n, big.NewInt(int64(unit)))
	if !q.IsInt64() {
		return "more than can be counted"
	}
	return "about " + s.count(q.Int64()) + name
}

// bigMoney writes an amount. The cost of all sticks fits an int64.
func (s *Sheet) bigMoney(n *big.Int) string { return s.money(n.Int64()) }
