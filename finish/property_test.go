package finish_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
)

// quantity is any of the structs with a Need.
type quantity interface {
	Need() (finish.Need, error)
}

// dims draws the dimensions that do not depend on the length, once for all lengths.
type dims struct {
	a, b, c, d measure.Length
	n          int64
	waste      finish.Waste
}

func drawWaste(t *rapid.T, label string) finish.Waste {
	return finish.Waste{
		Share:      measure.Ratio(rapid.Int64Range(0, 900_000).Draw(t, label)),
		OfPurchase: rapid.Bool().Draw(t, label+" of purchase"),
	}
}

func drawDims(t *rapid.T) dims {
	l := func(s string) measure.Length {
		return measure.Length(rapid.Int64Range(int64(measure.Inch/64), int64(12*measure.Inch)).Draw(t, s))
	}
	return dims{l("a"), l("b"), l("c"), l("d"), rapid.Int64Range(0, 50).Draw(t, "n"), drawWaste(t, "waste")}
}

// linear lists the quantities whose need is in proportion to a length.
func linear(d dims, l measure.Length) []quantity {
	spread := finish.Yield{Covers: finish.AmountOf(350 * measure.SquareFoot), Of: finish.AmountOf(measure.Gallon)}
	coverage := finish.Yield{Covers: finish.AmountOf(80 * measure.SquareFoot), Of: finish.AmountOf(50 * measure.Pound)}
	return []quantity{
		finish.Bead{Section: finish.Section{Width: d.a, Depth: d.b}, Length: l, Waste: d.waste},
		finish.Bead{Section: finish.Section{Shape: finish.BeadFillet, Width: d.a, Depth: d.b}, Length: l, Waste: d.waste},
		finish.Bead{Section: finish.Section{Shape: finish.BeadHalfRound, Width: d.a}, Length: l, Waste: d.waste},
		finish.Bead{Section: finish.Section{Shape: finish.BeadRound, Width: d.a}, Length: l, Waste: d.waste},
		finish.Bead{Length: l, Section: finish.Section{Depth: d.a}, Readings: []finish.GapReading{{Width: d.b}, {At: l / 2, Width: d.c}, {At: l, Width: d.d}}, Waste: d.waste},
		finish.Adhesive{Section: finish.Section{Width: d.a}, Length: l, Waste: d.waste},
		finish.Sanding{Length: l, Times: d.n, Waste: d.waste},
		finish.Coating{Length: l, Face: d.a, Coats: d.n, Spread: spread, Waste: d.waste},
		finish.Masking{Length: l, Lines: d.n, Waste: d.waste},
		finish.Mortar{Length: l, Height: d.a, Coverage: coverage, Waste: d.waste},
		finish.Grout{Area: measure.Area(l), Tile: finish.Tile{Length: d.a, Width: d.b, Thickness: d.c, Joint: d.d}, Waste: d.waste},
		finish.Holes{Count: int64(l / measure.Inch), Waste: d.waste},
		finish.BackerRod{Length: l, Joint: d.a, Waste: d.waste},
		finish.Coating{Material: "cleaner", Length: l, Face: d.a, Coats: d.n, Spread: spread, Waste: d.waste},
	}
}

// stepped lists those that count whole things along a length.
func stepped(d dims, l measure.Length) []quantity {
	return []quantity{
		finish.Nails{Length: l, Spacing: d.a, PerStud: d.n, Waste: d.waste},
		finish.Grout{Length: l, Tile: finish.Tile{Length: d.a, Width: d.b, Thickness: d.c, Joint: d.d}, Bottom: d.n%2 == 0, Waste: d.waste},
	}
}

// raw returns an amount in its small unit.
func raw(a finish.Amount) int64 {
	if l, ok := a.Length(); ok {
		return int64(l)
	}
	if s, ok := a.Area(); ok {
		return int64(s)
	}
	if v, ok := a.Volume(); ok {
		return int64(v)
	}
	if w, ok := a.Weight(); ok {
		return int64(w)
	}
	n, _ := a.Pieces()
	return n
}

func TestDoubleLengthDoubleNeed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDims(t)
		l := measure.Length(rapid.Int64Range(0, int64(500*measure.Foot)).Draw(t, "length"))
		l -= l % measure.Inch // so that holes, one an inch, double as well
		one, two := linear(d, l), linear(d, 2*l)
		for i := range one {
			a, err1 := one[i].Need()
			b, err2 := two[i].Need()
			if err1 != nil || err2 != nil {
				t.Fatalf("%T: %v, %v", one[i], err1, err2)
			}
			// Each need is rounded up once, so twice the half is over by less than
			// one unit of volume, area, weight; grout rounds joint and weight.
			slack := int64(1)
			if _, ok := one[i].(finish.Grout); ok {
				slack = 3
			}
			if diff := 2*raw(a.Net) - raw(b.Net); diff < 0 || diff > slack {
				t.Fatalf("%T: %v for %v, %v for twice that amount amount (off by %d units)", one[i], a.Net, l, b.Net, diff)
			}
		}
		one, two = stepped(d, l), stepped(d, 2*l)
		for i := range one {
			a, err1 := one[i].Need()
			b, err2 := two[i].Need()
			if err1 != nil || err2 != nil {
				t.Fatalf("%T: %v, %v", one[i], err1, err2)
			}
			if raw(b.Net) > 2*raw(a.Net) || raw(b.Net) < raw(a.Net) {
				t.Fatalf("%T: %v for %v, %v for twice that amount", one[i], a.Net, l, b.Net)
			}
		}
	})
}

func TestZeroLengthNeedsNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDims(t)
		for _, q := range append(linear(d, 0), stepped(d, 0)...) {
			n, err := q.Need()
			if err != nil || !n.Net.IsZero() || !n.Gross.IsZero() {
				t.Fatalf("%T of length zero: %v gross %v, %v", q, n.Net, n.Gross, err)
			}
		}
	})
}

func TestMoreWasteNeverLess(t *testing.T) {
	p := finish.Product{Label: "caulk", Material: "caulk", Packages: []finish.Package{
		{Size: quantityOf("10.1 fl oz"), Price: 549}, {Size: quantityOf("28 fl oz"), Price: 1129}, {Size: quantityOf("5.5 fl oz"), Price: 399}}}
	rapid.Check(t, func(t *rapid.T) {
		b := finish.Bead{
			Section: finish.Section{Width: measure.Length(rapid.Int64Range(1, int64(measure.Inch)).Draw(t, "width"))},
			Length:  measure.Length(rapid.Int64Range(0, int64(1000*measure.Foot)).Draw(t, "length")),
			Waste:   drawWaste(t, "waste"),
		}
		more := b
		more.Waste.Share = measure.Ratio(rapid.Int64Range(int64(b.Waste.Share), 980_000).Draw(t, "more"))
		x, err1 := b.Need()
		y, err2 := more.Need()
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		if raw(y.Gross) < raw(x.Gross) || raw(x.Gross) < raw(x.Net) {
			t.Fatalf("waste %v: %v, waste %v: %v", b.Waste.Share, x.Gross, more.Waste.Share, y.Gross)
		}
		px, err1 := finish.Buy(x.Gross, p)
		py, err2 := finish.Buy(y.Gross, p)
		if err1 != nil || err2 != nil {
			t.Skip("beyond the range")
		}
		if py.Cost < px.Cost || raw(px.Bought) < raw(x.Gross) {
			t.Fatalf("%v costs %d, %v costs %d", x.Gross, px.Cost, y.Gross, py.Cost)
		}
		// At the same share, losing it from the purchase takes no less than adding
		// it to the need.
		other := b
		b.Waste.OfPurchase, other.Waste.OfPurchase = false, true
		x, _ = b.Need()
		y, _ = other.Need()
		if raw(y.Gross) < raw(x.Gross) {
			t.Fatalf("waste %v of purchase %v, of need %v", b.Waste.Share, y.Gross, x.Gross)
		}
	})
}

// More waste on any quantity, and more of any need, never buys less: of packages
// of any sizes and prices.
func TestMoreNeverBuysLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDims(t)
		l := measure.Length(rapid.Int64Range(0, int64(500*measure.Foot)).Draw(t, "length"))
		more := d
		more.waste.Share = measure.Ratio(rapid.Int64Range(int64(d.waste.Share), 980_000).Draw(t, "more"))
		few, many := append(linear(d, l), stepped(d, l)...), append(linear(more, l), stepped(more, l)...)
		k := rapid.IntRange(0, len(few)-1).Draw(t, "quantity")
		x, err1 := few[k].Need()
		y, err2 := many[k].Need()
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		p := finish.Product{Label: "any", Material: "any"}
		for i := range rapid.IntRange(1, 4).Draw(t, "sizes") {
			unit := finish.Count(1)
			if _, ok := x.Gross.Length(); ok {
				unit = finish.AmountOf(measure.Yard)
			} else if _, ok := x.Gross.Volume(); ok {
				unit = finish.AmountOf(measure.Quart)
			} else if _, ok := x.Gross.Weight(); ok {
				unit = finish.AmountOf(measure.Pound)
			}
			size := unit
			for range rapid.IntRange(0, 30).Draw(t, "size") {
				size, _ = size.Add(unit)
			}
			p.Packages = append(p.Packages, finish.Package{Label: string(rune('a' + i)), Size: size, Price: rapid.Int64Range(0, 5000).Draw(t, "price")})
		}
		a, err1 := finish.Buy(x.Gross, p)
		b, err2 := finish.Buy(y.Gross, p)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		if b.Cost < a.Cost || a.Proven != b.Proven || !a.Proven {
			t.Fatalf("%T: %v costs %d, %v costs %d, proven %v and %v", few[k], x.Gross, a.Cost, y.Gross, b.Cost, a.Proven, b.Proven)
		}
	})
}

func TestBuyProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := finish.Product{Label: "paint", Material: "paint"}
		k := rapid.IntRange(1, 4).Draw(t, "sizes")
		for i := range k {
			p.Packages = append(p.Packages, finish.Package{
				Label: string(rune('a' + i)),
				Size:  finish.AmountOf(measure.Volume(rapid.Int64Range(1, 40).Draw(t, "size")) * measure.Quart / 2),
				Price: rapid.Int64Range(0, 9000).Draw(t, "price"),
			})
		}
		p.OnHand = finish.AmountOf(measure.Volume(rapid.Int64Range(0, 8).Draw(t, "hand")) * measure.Quart / 3)
		need := finish.AmountOf(measure.Volume(rapid.Int64Range(0, int64(50*measure.Gallon)).Draw(t, "need")))
		b, err := finish.Buy(need, p)
		if err != nil {
			t.Fatal(err)
		}
		cost, packs, bought := int64(0), int64(0), int64(0)
		for _, l := range b.Lines {
			if l.Count <= 0 || l.Cost != l.Count*l.Price {
				t.Fatalf("line %+v", l)
			}
			cost, packs, bought = cost+l.Cost, packs+l.Count, bought+l.Count*raw(l.Size)
		}
		if cost != b.Cost || packs != b.Packages || bought != raw(b.Bought) {
			t.Fatalf("lines make %d, %d packages, %d; %+v", cost, packs, bought, b)
		}
		if raw(b.Left) != raw(p.OnHand)+bought-raw(need) || raw(b.Left) < 0 {
			t.Fatalf("left %v of %v on hand and %v bought for %v", b.Left, p.OnHand, b.Bought, need)
		}
		rest := max(0, raw(need)-raw(p.OnHand))
		for _, one := range p.Packages {
			n := (rest + raw(one.Size) - 1) / raw(one.Size)
			if b.Cost > n*one.Price {
				t.Fatalf("mix costs %d, %d of %s alone %d", b.Cost, n, one.Label, n*one.Price)
			}
		}
	})
}

func TestQuoteSums(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		money := func(s string) int64 { return rapid.Int64Range(0, 10_000_000).Draw(t, s) }
		ratio := func(s string, most int64) measure.Ratio {
			return measure.Ratio(rapid.Int64Range(0, most).Draw(t, s))
		}
		c := estimate.Alternative{Label: "base", Net: measure.Length(rapid.Int64Range(1, int64(1000*measure.Foot)).Draw(t, "net")),
			StickCost: money("sticks"), Consumables: money("consumables"),
			Labor: measure.Duration(rapid.Int64Range(0, int64(500*hour)).Draw(t, "labor")),
			Costs: []estimate.Cost{{Label: "delivery", Amount: money("delivery"), Taxed: true}, {Label: "disposal", Amount: money("disposal")}}}
		terms := estimate.Terms{Wage: money("wage"), Burden: ratio("burden", 500_000), Tax: ratio("tax", 200_000),
			TaxRule: estimate.TaxRule{Base: rapid.SampledFrom([]estimate.TaxBase{estimate.TaxMaterialCost, estimate.TaxAll}).Draw(t, "base")}, Contingency: ratio("contingency", 300_000)}
		if rapid.Bool().Draw(t, "markup") {
			terms.Markup = ratio("markup rate", 2_000_000)
		} else {
			terms.Margin = ratio("margin rate", 900_000)
		}
		q, err := estimate.NewQuote(c, terms)
		var over *measure.RangeError
		if errors.As(err, &over) && c.Net < measure.Inch {
			t.Skip("a price per foot of almost no length")
		}
		if err != nil {
			t.Fatal(err)
		}
		sum := int64(0)
		for _, l := range q.Lines {
			sum += l.Amount
		}
		if sum != q.Total || q.Cost > q.Total {
			t.Fatalf("lines sum to %d, total %d, cost %d", sum, q.Total, q.Cost)
		}
		if terms.Margin > 0 { // the margin is a share of the price to within half a minor unit
			share := float64(q.Total-q.Cost) - float64(q.Total)*float64(terms.Margin)/1e6
			if math.Abs(share) > 0.51 {
				t.Fatalf("margin %v of %d is off by %g", terms.Margin, q.Total, share)
			}
		}
	})
}
