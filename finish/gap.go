package finish

import (
	"math/big"
	"strconv"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

// GapReading is the width of a gap at a place along it.
type GapReading struct {
	At    measure.Length `json:"at"`    // from the start; ascending, within the length
	Width measure.Length `json:"width"` // >= 0
}

// gap returns the volume of the gap between straight trim and a wavy wall: the gap
// changes linearly between two readings and is constant before the first and after the
// last.
func (g Bead) gap(w words) (Need, error) {
	switch {
	case g.Length < 0:
		return Need{}, fault.Field("length", AmountOf(g.Length), "zero or more")
	case g.Section.Shape != BeadRectangle:
		return Need{}, fault.Field("section.shape", g.Section.Shape, "rectangle, beside readings")
	case g.Section.Width != 0:
		return Need{}, fault.Field("section.width", AmountOf(g.Section.Width), "zero, since the readings have the width")
	case g.Section.Depth <= 0:
		return Need{}, fault.Field("section.depth", AmountOf(g.Section.Depth), "more than zero, beside readings")
	}
	// Twice the face of the gap, in square ticks: trapezoids between readings.
	var twice, t, u big.Int
	strip := func(long, a, b measure.Length) {
		t.Add(t.SetInt64(int64(a)), u.SetInt64(int64(b)))
		twice.Add(&twice, t.Mul(&t, u.SetInt64(int64(long))))
	}
	last := GapReading{At: 0, Width: g.Readings[0].Width}
	for i, r := range g.Readings {
		at := "readings[" + strconv.Itoa(i) + "]"
		switch {
		case r.At < last.At || r.At > g.Length:
			return Need{}, fault.Field(at+".at", AmountOf(r.At), "at or after the reading before it and within the length")
		case r.Width < 0:
			return Need{}, fault.Field(at+".width", AmountOf(r.Width), "zero or more")
		}
		strip(r.At-last.At, last.Width, r.Width)
		last = r
	}
	strip(g.Length-last.At, last.Width, last.Width)
	v, ok := natural.Round(natural.Up, twice.Mul(&twice, t.SetInt64(int64(g.Section.Depth))), u.SetInt64(2*cubicTicksPerUnit))
	if !ok {
		return Need{}, tooLarge("the volume of the gap")
	}
	net := AmountOf(measure.Volume(v))
	return w.need(or(g.Material, "caulk"), net, g.Waste,
		w.along(g.Length)+" of gap "+w.across(g.Section.Depth)+" deep, "+counted(int64(len(g.Readings)), "reading")+" of its width: "+w.amount(net))
}
