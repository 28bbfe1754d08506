package measure

// appendSpoken appends a length as it is called out from the tape, in words that
// ParseSpoken reads back, in feet and inches or in inches alone; it reports
// false if the length is not a multiple of 1/128 inch.
func appendSpoken(b []byte, mag uint64, neg, zeros, feet bool) ([]byte, bool) {
	const grid = uint64(Inch) / 128
	n := mag / grid
	if n*grid != mag || !feet && n/128 >= 1e12 { // no words for more
		return b, false
	}
	if neg {
		b = append(b, "minus "...)
	}
	if ft := n / (12 * 128); feet && ft > 0 {
		b = append(appendCardinal(b, ft), plural(ft, " foot", " feet")...)
		if n -= ft * (12 * 128); n == 0 && !zeros {
			return b, true
		}
		b = append(b, ' ')
	}
	whole, num, den := n/128, n%128, uint64(128)
	for num != 0 && num%2 == 0 {
		num, den = num/2, den/2
	}
	switch {
	case num == 0:
		return append(appendCardinal(b, whole), plural(whole, " inch", " inches")...), true
	case whole != 0:
		b = append(appendCardinal(b, whole), " and "...)
		return append(appendRatio(b, num, den), " inches"...), true
	case num == 1 && den < 128:
		return append(appendRatio(b, num, den), " inch"...), true
	}
	return append(appendRatio(b, num, den), " of an inch"...), true
}

func plural(n uint64, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// appendRatio appends the proper fraction num/den of a tape: three quarters.
func appendRatio(b []byte, num, den uint64) []byte {
	b = append(appendCardinal(b, num), ' ')
	switch den {
	case 2:
		return append(b, "half"...)
	case 4:
		b = append(b, "quarter"...)
	case 8:
		b = append(b, "eighth"...)
	case 16:
		b = append(b, "sixteenth"...)
	case 32:
		b = append(b, "thirty-second"...)
	case 64:
		b = append(b, "sixty-fourth"...)
	default:
		// A hundred twenty-eighth could be 120 of something.
		return appendCardinal(append(b, "over "...), den)
	}
	return append(b, plural(num, "", "s")...)
}

var cardinals = [...]string{"zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine",
	"ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"}

var tens = [...]string{2: "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"}

var thousands = [...]struct {
	word string
	size uint64
}{{"billion", 1e9}, {"million", 1e6}, {"thousand", 1e3}}

// appendCardinal appends n, below 10^12, in words: three hundred eighty-eight.
func appendCardinal(b []byte, n uint64) []byte {
	if n < uint64(len(cardinals)) {
		return append(b, cardinals[n]...)
	}
	start := len(b)
	word := func(w string) {
		if len(b) > start {
			b = append(b, ' ')
		}
		b = append(b, w...)
	}
	for _, t := range thousands {
		if n >= t.size {
			if len(b) > start {
				b = append(b, ' ')
			}
			b = appendCardinal(b, n/t.size)
			word(t.word)
			n %= t.size
		}
	}
	if n >= 100 {
		word(cardinals[n/100])
		word("hundred")
		n %= 100
	}
	switch {
	case n >= 20:
		word(tens[n/10])
		if n %= 10; n > 0 {
			b = append(append(b, '-'), cardinals[n]...)
		}
	case n > 0:
		word(cardinals[n])
	}
	return b
}
