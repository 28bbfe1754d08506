package measure

// About returns l for a text that people read, such as an error. A length that a tape, a
// rule or a caliper shows is written as [Length.String] does: multiples of 1/128 in, of
// 0.001 in and of 0.1 mm. Any other length, such as one computed from an angle, is rounded
// to the nearest graduation and marked as rounded, even if it happens to be a whole tenth
// of a millimeter in a job in inches, or the reverse:
//
//	about 10' 9/16"     nearest 1/16 in
//	about 3063 mm       nearest 1 mm
//	less than 1/16"     so small that it would round to nothing
//	just below 0"       the same below zero
//
// like are lengths of the same job, such as the ones from which l was computed. The
// first of them that is either an inch length or a metric one decides which l is. If one
// of them is finer than 1/16 in or 1 mm, so is the graduation, down to 1/128 in and 0.1
// mm. Without like, a whole number of micrometers is taken as a given length and written
// exactly, and any other length is an inch length.
//
// [Parse] rejects text with such words, since it has no exact value.
func (l Length) About(like ...Length) string {
	metric, given := isMetric(like)
	inches, millimeters := l%(Inch/128) == 0 || l%(Inch/1000) == 0, l%(Millimeter/10) == 0
	if inches && !(given && metric) || millimeters && !(given && !metric) {
		return l.String()
	}
	if !given && l%Micrometer == 0 {
		return l.String()
	}
	s, finest := Style{Graduation: Inch / 16}, Inch/128
	if metric {
		s, finest = Style{Unit: Millimeter, Graduation: Millimeter}, Millimeter/10
	}
	for _, g := range like {
		if g%finest != 0 {
			continue // of the other kind, or itself rounded
		}
		for g%s.Graduation != 0 {
			if metric {
				s.Graduation = finest
			} else {
				s.Graduation /= 2
			}
		}
	}
	return l.about(s)
}

// about returns a length that the style's graduation rounds, and says so.
func (l Length) about(s Style) string {
	switch r := l.Round(s.Graduation, s.Rounding); {
	case r == 0 && l > 0:
		return "less than " + s.Graduation.Format(s)
	case r == 0:
		return "just below " + r.Format(s)
	default:
		return "about " + r.Format(s)
	}
}

// isMetric reports whether the first conclusive length is a metric one, and whether any
// length is conclusive. Multiples of 5 in are whole millimeters, too; they and lengths that
// are not whole micrometers decide only if no other length does. Other halves of an inch
// have tenths of a millimeter, a unit that is never used for measuring.
func isMetric(lengths []Length) (metric, given bool) {
	for _, l := range lengths {
		switch inches := l%(Inch/128) == 0; {
		case l == 0 || inches && l%Millimeter == 0 || l%Micrometer != 0 && !inches:
			given = given || l != 0
		case inches:
			return false, true
		case l%(Millimeter/10) == 0:
			return true, true
		}
	}
	return false, given
}
