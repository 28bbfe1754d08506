package takeoff

import (
	"strings"

	"example.com/longpoint/measure"
)

// words formats the texts of findings and allowances for a locale.
type words struct{ measure.Locale }

func (o Options) words() words { return words{o.Locale} }

// about writes a length to the nearest 1/32 in, and marks rounding.
func (w words) about(l measure.Length) string { return w.About(l, measure.Inch/32) }

// called returns the name of a profile for people, with its kind before it unless the name has
// that word: "casing oak 3-1/2", but "oak casing" and not "casing oak casing".
func called(kind, name string) string {
	if strings.Contains(" "+strings.ToLower(name)+" ", " "+kind+" ") {
		return name
	}
	return kind + " " + name
}

// closing describes the closing error; zero needs another wording.
func (w words) closing(e measure.Length) string {
	least := measure.Inch / 32
	if w.Metric {
		least = measure.Millimeter
	}
	if e == 0 {
		return "exactly,"
	}
	return "within " + w.About(max(e, least).Round(least, measure.RoundHalfEven)) + " of"
}

// or returns the second text for metric locales. It may have one decimal point.
func (w words) or(us, metric string) string {
	if w.Metric {
		us = metric
	}
	return w.marks(us)
}

// marks puts the decimal mark between all digits of a text without names.
func (w words) marks(s string) string {
	if !w.DecimalComma {
		return s
	}
	b := []byte(s)
	digit := func(i int) bool { return i < len(b) && '0' <= b[i] && b[i] <= '9' }
	for i := 1; i < len(b); i++ {
		if b[i] == '.' && digit(i-1) && digit(i+1) {
			b[i] = ','
		}
	}
	return string(b)
}

// fitName writes the name of an allowance of a Fit, which has at most two temperatures.
func (w words) fitName(name string, temps ...measure.Temperature) string {
	for _, t := range temps {
		name = strings.ReplaceAll(name, t.String(), w.FormatTemperature(t))
	}
	return w.marks(name)
}
