package stock_test

import (
	"errors"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"pgregory.net/rapid"
)

func TestRip(t *testing.T) {
	const in = measure.Inch
	for _, c := range []struct {
		name string
		rip  stock.Rip
		want stock.RipResult
	}{
		// All derived from n·strip + (n − 1)·kerf.
		{"1×12 to 3 1/2", stock.Rip{Width: 45 * in / 4, Strip: 7 * in / 2, Kerf: in / 8, FinishedEdges: 2},
			stock.RipResult{Strips: 3, Finished: 2, Cuts: 3, Rest: 3 * in / 8, Narrow: true}},
		{"no rest", stock.Rip{Width: 8*in + in/8, Strip: 4 * in, Kerf: in / 8}, stock.RipResult{Strips: 2, Cuts: 1}},
		{"rest is dust", stock.Rip{Width: 8*in + in/4, Strip: 4 * in, Kerf: in / 8}, stock.RipResult{Strips: 2, Cuts: 2}},
		// A molded base has its molding at one edge: one strip keeps it.
		{"7 1/4 base to 5 1/4", stock.Rip{Width: 29 * in / 4, Strip: 21 * in / 4, Kerf: in / 8, FinishedEdges: 1, KeepEdge: true},
			stock.RipResult{Strips: 1, Finished: 1, Cuts: 1, Rest: 15 * in / 8}},
		// Field tile of 12 in gives two strips with a factory edge on top and a third
		// without, which has to be polished.
		{"tile, any", stock.Rip{Width: 12 * in, Strip: 31 * in / 8, Kerf: in / 16, FinishedEdges: 2},
			stock.RipResult{Strips: 3, Finished: 2, Cuts: 3, Rest: 12*in - 3*31*in/8 - 3*in/16, Narrow: true}},
		{"tile, finished", stock.Rip{Width: 12 * in, Strip: 31 * in / 8, Kerf: in / 16, FinishedEdges: 2, KeepEdge: true},
			stock.RipResult{Strips: 2, Finished: 2, Cuts: 2, Rest: 12*in - 31*in/4 - in/8}},
		{"slab", stock.Rip{Width: 25 * in, Strip: 4 * in, Kerf: in / 8, Trim: in / 2},
			stock.RipResult{Strips: 5, Cuts: 5, Rest: 24*in - 20*in - 5*in/8}},
		{"slab keeps none", stock.Rip{Width: 25 * in, Strip: 4 * in, Kerf: in / 8, KeepEdge: true}, stock.RipResult{Rest: 25 * in}},
	} {
		got, err := c.rip.Blank()
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
		} else if got != c.want {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
	}
	if n, err := (stock.Rip{Width: 12 * in, Strip: 4 * in, FinishedEdges: 2, KeepEdge: true}).Blanks(25); n != 13 || err != nil {
		t.Errorf("25 strips from %d tiles, %v", n, err)
	}
}

func TestRipErrors(t *testing.T) {
	const in = measure.Inch
	good := stock.Rip{Width: 12 * in, Strip: 4 * in, Kerf: in / 8}
	for _, c := range []struct {
		field string
		spoil func(*stock.Rip)
	}{
		{"width", func(r *stock.Rip) { r.Width = 0 }},
		{"kerf", func(r *stock.Rip) { r.Kerf = -1 }},
		{"trim", func(r *stock.Rip) { r.Trim = -1 }},
		{"min_strip", func(r *stock.Rip) { r.MinStrip = -1 }},
		{"finished_edges", func(r *stock.Rip) { r.FinishedEdges = 3 }},
		{"finished_edges", func(r *stock.Rip) { r.FinishedEdges = -1 }},
		{"strip", func(r *stock.Rip) { r.Strip = in / 2 }},                      // narrower than is safe
		{"strip", func(r *stock.Rip) { r.Strip = 13 * in }},                     // wider than the blank
		{"strip", func(r *stock.Rip) { r.Strip, r.MinStrip, r.Kerf = 1, 1, 0 }}, // a million strips and more
		{"strip", func(r *stock.Rip) { r.Trim, r.Strip = 5*in, 3*in }},          // nothing left
	} {
		r := good
		c.spoil(&r)
		var fe *measure.FieldError
		if _, err := r.Blank(); !errors.As(err, &fe) || fe.Field != c.field {
			t.Errorf("%s: %v", c.field, err)
		}
	}
	var fe *measure.FieldError
	if _, err := good.Blanks(-1); !errors.As(err, &fe) || fe.Field != "strips" {
		t.Errorf("%v", err)
	}
	good.KeepEdge = true
	if _, err := good.Blanks(3); !errors.As(err, &fe) || fe.Field != "finished_edges" {
		t.Errorf("%v", err)
	}
}

// Strips, kerfs and the rest make up the blank, and one strip more would not fit.
func TestRipAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := func(what string, hi measure.Length) measure.Length {
			return measure.Length(rapid.Int64Range(0, int64(hi)).Draw(t, what))
		}
		r := stock.Rip{
			Width: 1 + l("width", 4*measure.Foot), Strip: measure.Inch + l("strip", measure.Foot), Kerf: l("kerf", measure.Inch/4),
			Trim: l("trim", measure.Inch), FinishedEdges: rapid.IntRange(0, 2).Draw(t, "finished edges"),
		}
		got, err := r.Blank()
		if err != nil {
			return
		}
		width := r.Width - measure.Length(2-r.FinishedEdges)*r.Trim
		used := measure.Length(got.Strips)*r.Strip + measure.Length(got.Cuts)*r.Kerf + got.Rest
		if used != width && !(got.Rest == 0 && used > width && used-width < r.Kerf) {
			t.Fatalf("%+v uses %v of %v", got, used, width)
		}
		if n := measure.Length(got.Strips + 1); n*r.Strip+(n-1)*r.Kerf <= width {
			t.Fatalf("%+v: one more strip fits", got)
		}
	})
}
