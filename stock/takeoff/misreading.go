package takeoff

import (
	"fmt"

	"example.com/longpoint/measure"
)

// misreading is one usual slip that would explain a reading.
type misreading struct {
	kind    FindingCode
	instead measure.Length // the true length then
	why     string
}

// Slips are distinguished from chance by their distance from the missing amount. Any fraction
// of an inch fits some slip of fractions, so these count only if the other readings leave
// little doubt, and to a sixteenth; the others count to a quarter of their amount and an inch
// at most (derived).
const (
	exact  = measure.Inch / 16
	little = measure.Inch / 4
)

// missed is the mark at which a tape with a worn end is held, which is then subtracted: the
// first inch, or 100 mm (common practice, no source).
func missed(metric bool) measure.Length {
	if metric {
		return 100 * measure.Millimeter
	}
	return measure.Inch
}

// metric reports whether the tape shows millimeters: more readings are whole millimeters than
// are 64ths of an inch. Readings that are both do not count.
func (r *Room) metric() bool {
	balance := 0
	count := func(l measure.Length) {
		mm, inch := l%measure.Millimeter == 0, l%(measure.Inch/64) == 0
		switch {
		case mm && !inch:
			balance++
		case inch && !mm:
			balance--
		}
	}
	for _, w := range r.Walls {
		count(w.Length)
	}
	for _, d := range r.Diagonals {
		count(d.Length)
	}
	return balance > 0
}

// misreadings returns the slips that explain why a reading is too long by about the given
// amount, if all other readings together may be off by give. Metric digits differ from those of
// feet and inches.
func misreadings(w words, read, by, give measure.Length, metric bool) []misreading {
	var ms []misreading
	add := func(kind FindingCode, instead measure.Length, why string) {
		amount := max(read-instead, instead-read)
		most := min(give, amount/4, measure.Inch)
		if kind == FindingWrongSide || kind == FindingWrongFraction {
			amount, most = little, exact
		}
		rest := read - instead - by
		if instead <= 0 || instead == read || give > amount || max(rest, -rest) > most {
			return
		}
		for _, m := range ms {
			if m.kind == kind {
				return
			}
		}
		ms = append(ms, misreading{kind: kind, instead: instead, why: why})
	}
	for _, sign := range []measure.Length{1, -1} {
		if metric {
			add(FindingMissedDecimeter, read-sign*missed(metric), "a tape held at the 100 mm mark and that not subtracted, or subtracted twice")
			add(FindingMissedMeter, read-sign*measure.Meter, "a meter mark misread")
			continue
		}
		add(FindingMissedInch, read-sign*measure.Inch, w.or("an inch burned at the end of the tape and not subtracted, or subtracted twice", "a tape held at the 25.4 mm mark and that not subtracted, or subtracted twice"))
		add(FindingMissedFoot, read-sign*measure.Foot, w.or("a foot mark misread", "a mark every 304.8 mm misread"))
	}
	const swapped = "two digits swapped"
	units := []measure.Length{measure.Inch, measure.Foot}
	if metric {
		units = []measure.Length{measure.Millimeter}
	}
	for _, unit := range units {
		rest := read % unit
		for _, n := range swaps(int64(read / unit)) {
			add(FindingSwappedDigits, measure.Length(n)*unit+rest, swapped)
		}
	}
	feet, inches := read/measure.Foot, read%measure.Foot/measure.Inch
	if feet < 10 && inches < 10 && !metric {
		add(FindingSwappedDigits, inches*measure.Foot+feet*measure.Inch+read%measure.Inch, w.or("feet and inches swapped", "the numbers of two units swapped"))
	}
	if fraction := read % measure.Inch; !metric && fraction != 0 && fraction%(measure.Inch/64) == 0 {
		whole := read - fraction
		for _, mark := range []measure.Length{whole, whole + measure.Inch} {
			add(FindingWrongSide, 2*mark-read, fmt.Sprintf("read to the wrong side of the %v mark", w.About(mark)))
		}
		if 2*fraction < measure.Inch {
			add(FindingWrongFraction, whole+2*fraction, "eighths counted as sixteenths")
		}
		add(FindingWrongFraction, whole+fraction/2, "sixteenths counted as eighths")
	}
	return ms
}

// swaps returns a number with each pair of different neighboring digits exchanged, except if it
// would begin with a zero.
func swaps(n int64) []int64 {
	var out []int64
	for place := int64(1); place <= n/10; place *= 10 {
		low, high := n/place%10, n/place/10%10
		if low == high || low == 0 && n/place < 100 {
			continue
		}
		out = append(out, n+(low-high)*place*9)
	}
	return out
}
