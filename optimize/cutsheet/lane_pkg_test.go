package cutsheet

import (
	"context"
	"math"
	"math/big"
	"strings"
	"testing"

	"example.com/longpoint/internal/typeset"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
	"pgregory.net/rapid"
)

func (b box) meets(c box) bool {
	return b.x < c.x+c.w && c.x < b.x+b.w && b.y < c.y+c.h && c.y < b.y+b.h
}

// checkDrawing verifies the visible drawing: labels inside the drawing, none over another, no
// line through one, every part inside its stick and at its place by length.
func checkDrawing(t interface{ Errorf(string, ...any) }, s *Sheet) {
	d := s.drawing()
	labels := append([]label(nil), d.labels...)
	var leaders []leader
	for k := range d.lanes {
		ln := &d.lanes[k]
		labels = append(labels, ln.labels...)
		leaders = append(leaders, ln.leaders...)
		for _, p := range ln.parts {
			if p.w < 0 || p.x < ln.stick.x || p.x+p.w > ln.stick.x+ln.stick.w {
				t.Errorf("pattern %d: part %+v is outside its stick %+v", k, p.box, ln.stick)
			}
		}
		checkParts(t, s, k, ln)
		for i := 1; i < len(ln.parts); i++ {
			a, b := ln.parts[i-1], ln.parts[i]
			shared := unit(0)
			if b.lie.shared {
				shared = scale(s.longest()).of(b.lie.left.Setback) + 1
			}
			if a.x+a.w > b.x+shared {
				t.Errorf("pattern %d: part %d begins before part %d ends", k, i, i-1)
			}
		}
	}
	for i, a := range labels {
		if a.x < 0 || a.y < 0 || a.x+a.w > drawWidth || a.y+a.h > d.height {
			t.Errorf("label %q %+v is outside the drawing of %d by %d", a.lead+a.text, a.box, drawWidth, d.height)
		}
		if want := unit(typeset.Cells(a.lead)+typeset.Cells(a.text)) * a.size * 61 / 100; a.w < want-unit(typeset.Cells(a.text)) {
			t.Errorf("label %q has a box of %d, its cells take %d", a.lead+a.text, a.w, want)
		}
		for _, b := range labels[i+1:] {
			if a.meets(b.box) {
				t.Errorf("labels %q %+v and %q %+v overlap", a.lead+a.text, a.box, b.lead+b.text, b.box)
			}
		}
		for _, l := range leaders {
			if (box{l.x, l.from, 1, l.to - l.from}).meets(a.box) {
				t.Errorf("a line at %d goes through label %q %+v", l.x, a.lead+a.text, a.box)
			}
		}
	}
}

// checkParts walks along the stick and finds every piece in a part, to scale.
func checkParts(t interface{ Errorf(string, ...any) }, s *Sheet, k int, ln *lane) {
	ratio := new(big.Rat).SetFrac64(int64(barLength), int64(s.longest()))
	at := func(l measure.Length) float64 {
		x, _ := new(big.Rat).Mul(ratio, new(big.Rat).SetInt64(int64(l))).Float64()
		return x + float64(barLeft)
	}
	near := func(what string, got unit, want float64) {
		if math.Abs(float64(got)-want) > 0.51 {
			t.Errorf("pattern %d: %s is at %d, want %.2f", k, what, got, want)
		}
	}
	pat := s.patterns[k]
	want := laid(&s.problem, s.plan, pat.Pattern)
	i := 0
	for n := range ln.parts {
		p := &ln.parts[n]
		if i+p.n > len(want.at) {
			t.Errorf("pattern %d: more than %d pieces are drawn", k, len(want.at))
			return
		}
		near("the start of a part", p.x, at(want.at[i].From))
		i += p.n
		near("the end of a part", p.x+p.w, at(want.at[i-1].To))
	}
	if i != len(pat.Pieces) {
		t.Errorf("pattern %d: %d pieces are drawn, want %d", k, i, len(pat.Pieces))
	}
	var left []stock.Defect
	for _, o := range want.left {
		if o.To > o.From {
			left = append(left, o)
		}
	}
	if len(left) != len(ln.offcuts) {
		t.Errorf("pattern %d: %d offcuts are drawn, want %v", k, len(ln.offcuts), left)
		return
	}
	for n, o := range left {
		near("an offcut", ln.offcuts[n].x, at(o.From))
		near("the end of an offcut", ln.offcuts[n].x+ln.offcuts[n].w, at(o.To))
	}
}

func TestLabelsNeverOverlap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := optimize.Problem{Kerf: measure.Length(rapid.IntRange(0, 4).Draw(t, "kerf")) * measure.Inch / 16}
		p.Sticks = []stock.Stick{
			{Label: "long", Length: 16 * measure.Foot, Price: 2600, TrimStart: measure.Length(rapid.IntRange(0, 40).Draw(t, "trim")) * measure.Inch / 16},
			{Label: "short", Length: 8 * measure.Foot, Price: 1400},
		}
		kinds := rapid.SampledFrom([]stock.EndKind{stock.EndSquare, stock.EndCope, stock.EndInsideMiter, stock.EndOutsideMiter, stock.EndScarfOver, stock.EndReturn, stock.EndFlatMiter, stock.EndButt, stock.EndScribe, stock.EndPlumb, stock.EndLevel, stock.EndRake})
		for i := range rapid.IntRange(1, 12).Draw(t, "kinds") {
			// Squared, so that many are short.
			x := rapid.IntRange(1, 36).Draw(t, "length")
			p.Pieces = append(p.Pieces, stock.Piece{
				Label:    strings.Repeat(string(rune('a'+i)), rapid.IntRange(1, 40).Draw(t, "label")),
				Length:   measure.Length(x*x) * measure.Inch / 16,
				Quantity: rapid.IntRange(1, 12).Draw(t, "quantity"),
				Left:     stock.End{Kind: kinds.Draw(t, "left")},
				Right:    stock.End{Kind: kinds.Draw(t, "right")},
			})
		}
		o := &Options{Title: rapid.StringN(0, 80, -1).Draw(t, "title")}
		if rapid.Bool().Draw(t, "words") {
			o.Locale.Length = measure.Style{Spoken: true, Graduation: measure.Inch / 16}
		}
		plan, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: 200_000})
		if err != nil {
			t.Skip(err)
		}
		s, err := New(context.Background(), p, plan, o)
		if err != nil {
			t.Fatal(err)
		}
		checkDrawing(t, s)
		if bars := textBars(s); bars != "" {
			t.Error(bars)
		}
	})
}

// textBars reports a bar of the text that is wider than its stick.
func textBars(s *Sheet) string {
	ts := textSheet{Sheet: s, wide: s.options.width()}
	for k := range s.patterns {
		if bar := ts.bar(&s.patterns[k])[0]; len(bar) > ts.wide-4 {
			return bar
		}
	}
	return ""
}

// A plan written by hand may alternate tiny pieces; they are drawn together.
func TestManyTinyPieces(t *testing.T) {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 16 * measure.Foot}},
		Pieces: []stock.Piece{
			{Label: "plug", Length: measure.Inch / 64, Quantity: 5000},
			{Label: "button", Length: measure.Inch / 50, Quantity: 5000},
		},
		Kerf: measure.Inch / 1000,
	}
	plan := &optimize.Plan{
		Patterns: []optimize.Pattern{{Stick: 0, Count: 1}},
		Buy:      []optimize.Purchase{{Count: 1, Cost: int64(16 * measure.Foot)}},
		ByLength: true, Cost: int64(16 * measure.Foot),
	}
	pat := &plan.Patterns[0]
	rest := 16*measure.Foot + p.Kerf
	for range 5000 {
		pat.Pieces = append(pat.Pieces, 0, 1)
		rest -= p.Pieces[0].Length + p.Pieces[1].Length + 2*p.Kerf
	}
	pat.Offcut = rest - p.Kerf
	s, err := New(context.Background(), p, plan, nil)
	if err != nil {
		t.Fatal(err)
	}
	checkDrawing(t, s)
	if d := s.drawing(); len(d.lanes[0].parts) > 300 || len(d.lanes[0].kerfs) > 300 {
		t.Errorf("10,000 pieces are drawn as %d parts with %d cuts", len(d.lanes[0].parts), len(d.lanes[0].kerfs))
	}
	var b strings.Builder
	if err := s.WriteSVG(&b); err != nil || b.Len() > 60_000 {
		t.Errorf("the drawing of 10,000 tiny pieces takes %d bytes, error %v", b.Len(), err)
	}
}
