package finish

import (
	"strings"

	"example.com/longpoint/internal/natural"
	"example.com/longpoint/internal/suited"
	"example.com/longpoint/measure"
)

// words formats the quantities of the reasoning for a country.
type words struct{ measure.Locale }

// across writes a width, a height or a thickness: in inches, or millimeters.
func (w words) across(l measure.Length) string {
	if w.Metric {
		return w.places(l, measure.Millimeter, 2, " mm")
	}
	return w.places(l, measure.Inch, 4, " in")
}

// along writes a length of trim: in feet, or meters.
func (w words) along(l measure.Length) string {
	if w.Metric {
		return w.places(l, measure.Meter, 3, " m")
	}
	return w.places(l, measure.Foot, 2, " ft")
}

// places formats a length in a unit, and marks it if n places round it.
func (w words) places(l, unit measure.Length, n int, name string) string {
	text := w.mark(fixedSigned(int64(l), int64(unit), n)) + name
	rest := l % unit
	for range n {
		rest *= 10
	}
	if rest%unit != 0 {
		return "about " + text
	}
	return text
}

func fixedSigned(n, d int64, places int) string {
	if n < 0 {
		return "-" + fixed(max(-n, ^n), d, places)
	}
	return fixed(n, d, places)
}

// amount is [Amount.String] for the country.
func (w words) amount(a Amount) string {
	units := countUnits
	switch {
	case a.dim == byArea:
		return w.FormatArea(measure.Area(a.n))
	case a.dim == byVolume:
		return w.FormatVolume(measure.Volume(a.n))
	case a.dim == byWeight:
		return w.FormatWeight(measure.Weight(a.n))
	case a.dim == byLength && w.Metric:
		units = metricUnits
	case a.dim == byLength:
		units = materialUnits
	case a.dim != byCount:
		return "amount of unknown dimension"
	}
	return w.mark(string(suited.Append(make([]byte, 0, 32), a.n, units, min(1, len(units)-1))))
}

// yield is [Yield.String] for the country. Instead of an amount per 3.79 L, a metric
// reader sees an amount per liter or kilogram, rounded.
func (w words) yield(y Yield) string {
	if y.IsZero() {
		return "not stated"
	}
	of := strings.TrimPrefix(w.amount(y.Of), "1 ")
	if one := metricOne(y.Of.dim); w.Metric && one > 0 && y.Of.n%(one/1000) != 0 {
		if n, ok := natural.Quotient(natural.HalfEven, []int64{y.Covers.n, one}, []int64{y.Of.n}); ok && n > 0 {
			return w.amount(Amount{y.Covers.dim, n}) + " per " + strings.TrimPrefix(w.amount(Amount{y.Of.dim, one}), "1 ")
		}
	}
	return w.amount(y.Covers) + " per " + of
}

// metricOne returns a liter or a kilogram, or zero for other dimensions.
func metricOne(d dimension) int64 {
	switch d {
	case byVolume:
		return int64(measure.Liter)
	case byWeight:
		return int64(measure.Kilogram)
	}
	return 0
}

// section is [Section.String] for the country.
func (w words) section(s Section) string {
	if s.Shape < BeadHalfRound && s.Depth != 0 && s.Depth != s.Width {
		return w.across(s.Width) + " x " + w.across(s.Depth) + " " + s.Shape.String()
	}
	return w.across(s.Width) + " " + s.Shape.String()
}

// mark puts the decimal mark of the country into a text with one number.
func (w words) mark(s string) string {
	if w.DecimalComma {
		return strings.Replace(s, ".", ",", 1)
	}
	return s
}

// counted returns a number of things: "1 edge", "2 edges".
func counted(n int64, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return itoa(n) + " " + thing + "s"
}

// timesOver returns how often something is done: "once", "3 times".
func timesOver(n int64) string {
	if n == 1 {
		return "once"
	}
	return counted(n, "time")
}
