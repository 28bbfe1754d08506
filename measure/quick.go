package measure

// quick reads the usual American spellings without folding them first: feet
// with ' or ft, inches with " or in, a space or a hyphen between them, a whole
// number or a fraction of inches, all in plain lower-case ASCII: 7' 4-3/4",
// 7'-4 3/4", 7ft 4-3/4in, 88 3/4", 3/4in, 6'. Most lengths are written like
// that, also by String and MarshalText, and quick takes a third of the time.
//
// If it reports false, nothing is decided: the text may be a length in another
// spelling or not a length, and the full reader finds out which.
func quick[S string | []byte](s S) (Length, bool) {
	i, neg := 0, false
	if len(s) > 0 && s[0] == '-' {
		i, neg = 1, true
	}
	n, i := quickDigits(s, i)
	if i < 0 {
		return 0, false
	}
	total := uint64(0)
	if j := quickMark(s, i, '\'', "ft"); j >= 0 {
		total = n * uint64(Foot)
		if j < len(s) && (s[j] == ' ' || s[j] == '-') {
			j++
		} else if j == len(s) {
			return quickSign(total, neg), true
		}
		if n, i = quickDigits(s, j); i < 0 {
			return 0, false
		}
	}
	// n is the whole inches, or the numerator if a slash follows.
	if i+1 < len(s) && (s[i] == ' ' || s[i] == '-') && isDigit(s[i+1]) {
		total += n * uint64(Inch)
		if n, i = quickDigits(s, i+1); i < 0 || i == len(s) || s[i] != '/' {
			return 0, false
		}
	}
	size := uint64(Inch)
	if i < len(s) && s[i] == '/' {
		var den uint64
		if den, i = quickDigits(s, i+1); i < 0 || n >= den || den > 128 || den&(den-1) != 0 {
			return 0, false // not a fraction of a tape
		}
		size /= den
	}
	if quickMark(s, i, '"', "in") != len(s) {
		return 0, false
	}
	return quickSign(total+n*size, neg), true
}

// quickDigits reads one to nine digits at i, so that nothing can overflow. It
// returns an end of -1 if there is no such number.
func quickDigits[S string | []byte](s S, i int) (v uint64, end int) {
	start := i
	for i < len(s) && isDigit(s[i]) {
		v = v*10 + uint64(s[i]-'0')
		i++
	}
	if n := i - start; n == 0 || n > 9 {
		return 0, -1
	}
	return v, i
}

// quickMark reads a unit at i, as the mark or as the two letters of word, with
// or without a space before it. It returns -1 if there is no such unit.
func quickMark[S string | []byte](s S, i int, mark byte, word string) int {
	if i < len(s) && s[i] == mark {
		return i + 1
	}
	if i < len(s) && s[i] == ' ' {
		i++
	}
	if i+1 < len(s) && s[i] == word[0] && s[i+1] == word[1] {
		return i + 2
	}
	return -1
}

func quickSign(mag uint64, neg bool) Length {
	if neg {
		return -Length(mag)
	}
	return Length(mag)
}
