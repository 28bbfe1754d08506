package replan

import (
	"cmp"
	"slices"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// usable returns the usable length of a stick, ignoring defects.
func usable(s *stock.Stick) measure.Length { return s.Length - s.TrimStart - s.TrimEnd }

// clearest returns the length of the longest usable stretch of a stick.
func clearest(s *stock.Stick) (longest measure.Length) {
	bad := slices.SortedFunc(slices.Values(s.Defects), func(a, b stock.Defect) int { return cmp.Compare(a.From, b.From) })
	at := s.TrimStart
	for _, d := range append(bad, stock.Defect{From: s.Length - s.TrimEnd, To: s.Length}) {
		longest = max(longest, min(d.From, s.Length-s.TrimEnd)-at)
		at = max(at, d.To)
	}
	return longest
}

// inYard reports whether a stick must be cut in the yard before transport.
func inYard(p *optimize.Problem, s *stock.Stick) bool {
	t := p.Rules.MaxTransport
	return t > 0 && !s.Rack && s.Length > t
}

// soldTogether reports whether the number to buy may exceed the number cut, or the price
// depends on the number.
func soldTogether(s *stock.Stick) bool { return s.Bundle > 1 || s.Minimum > 1 || len(s.Breaks) > 0 }

// sells reports whether the purchases do not follow directly from the patterns.
func sells(p *optimize.Problem) bool {
	return len(p.Rules.Charges) > 0 || p.Rules.Spare > 0 || p.Rules.MaxTransport > 0 ||
		slices.ContainsFunc(p.Sticks, func(s stock.Stick) bool { return soldTogether(&s) })
}
