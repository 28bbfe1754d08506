package curve

import "example.com/longpoint/measure"

// MinRadius returns the least radius to which flexible molding of a width (the height of
// a base) can be bent along a wall, from a flexible-molding maker's measuring sheet. For
// widths below those on the sheet, it returns the least radius on the sheet. It reports
// false for more than 10 in, which the sheet does not list, and for a width that is not
// positive. Ask the maker of the molding that you buy.
func MinRadius(width measure.Length) (radius measure.Length, ok bool) {
	for _, row := range [...]struct{ upTo, least measure.Length }{
		{3, 6}, {4, 8}, {5, 12}, {6, 18}, {8, 24}, {10, 36},
	} {
		if width <= row.upTo*measure.Inch {
			return row.least * measure.Inch, width > 0
		}
	}
	return 0, false
}
