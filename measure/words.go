package measure

import (
	"slices"
	"strings"
	"unicode/utf8"
)

// maxSpoken is the longest text that ParseSpoken reads, in bytes. The longest
// length takes about 150.
const maxSpoken = 256

// word is a word, a number in digits, a fraction or a mark of a spoken text.
type word struct {
	text    string // lower case, of a number the digits
	n       number // of digits and fractions, which are not words
	digits  bool
	at, end int // in the input, in bytes
}

// words splits s into words. It also returns the offset of the first text that
// no spoken length has, or -1.
func words(s string) (ws []word, bad int) {
	folded, at := foldAll(s)
	n := len(folded)
	folded, at = append(folded, 0, 0, 0), append(at, len(s), len(s), len(s))

	for i := 0; i < n; {
		j := i
		w := word{at: at[i]}
		switch c := folded[i]; {
		case c == ' ':
			i++
			continue
		case isLetter(c):
			for isLetter(folded[j]) {
				j++
			}
			w.text = string(folded[i:j])
			if folded[j] == '.' && !isDigit(folded[j+1]) { // of an abbreviation, or of the sentence
				j++
			}
		case isDigit(c) || isVulgar(c) || isRaised(c) || c == '.' && isDigit(folded[j+1]):
			var t text
			t.n = copy(t.b[:maxText], folded[i:n])
			k := t.number(0, &w.n)
			if k < 0 || k == maxText {
				return nil, at[i]
			}
			j, w.digits = i+k, true
			w.text = plain(folded[i:j])
			if folded[j] == '.' && j+1 == n {
				j++
			}
		case c == '\'' || c == '"':
			j++
			if w.text = "inch"; c == '\'' {
				if w.text = "foot"; folded[j] == '\'' {
					w.text = "inch"
					j++
				}
			}
		case c == '-' && len(ws) == 0 && folded[i+1] != '-':
			w.text, j = "minus", i+1
		case c == '-' && i > 0 && isLetter(folded[i-1]) && isLetter(folded[i+1]), // eighty-eight
			c == ',' && i > 0 && folded[i-1] != ' ' && folded[i+1] == ' ':
			i++
			continue
		default:
			return nil, at[i]
		}
		w.end = at[j]
		ws, i = append(ws, w), j
	}
	return ws, -1
}

// foldAll folds a text, so that every rune is one byte, and returns where each was.
func foldAll(s string) (folded []byte, at []int) {
	for i := 0; i < len(s); {
		c, size := foldRune(s[i:])
		folded, at = append(folded, c), append(at, i)
		i += size
	}
	return folded, at
}

// leaning removes strong or light from the end of s, as a word or as a sign.
func leaning(s string) (rest string, side int) {
	rest = strings.TrimRight(s, " .")
	if r, size := utf8.DecodeLastRuneInString(rest); r != utf8.RuneError {
		switch foldAny(r) {
		case '+':
			return rest[:len(rest)-size], 1
		case '-':
			return rest[:len(rest)-size], -1
		}
	}
	last := rest[strings.LastIndexAny(rest, " -\u00a0")+1:]
	if side = lean(strings.ToLower(last)); side != 0 {
		return strings.TrimRight(rest[:len(rest)-len(last)], " ,\u00a0"), side
	}
	return s, 0
}

func foldAny(r rune) byte {
	if r < utf8.RuneSelf {
		return foldASCII[r]
	}
	return fold(r)
}

// lean returns the side of the mark that a word names: over or under.
func lean(w string) int {
	switch w {
	case "strong", "heavy", "fat":
		return 1
	case "light", "shy", "scant":
		return -1
	}
	return 0
}

// small returns the value of a word below one hundred, and whether a digit from
// one to nine may follow, as in eighty-eight.
func small(w string) (v uint64, tensDigit, ok bool) {
	if i := slices.Index(cardinals[:], w); i >= 0 {
		return uint64(i), false, true
	}
	if i := slices.Index(tens[2:], w); i >= 0 {
		return uint64(i+2) * 10, true, true
	}
	return 0, false, false
}

// denominator returns the denominator that a word names: 8 for eighth and
// eighths; many reports that it is the plural.
func denominator(w string) (den uint64, many, ok bool) {
	if w == "halves" {
		return 2, true, true
	}
	one, many := strings.CutSuffix(w, "s")
	switch one {
	case "half":
		return 2, many, !many
	case "third":
		return 3, many, true
	case "quarter", "fourth":
		return 4, many, true
	case "fifth":
		return 5, many, true
	case "sixth":
		return 6, many, true
	case "eighth":
		return 8, many, true
	case "tenth":
		return 10, many, true
	case "twelfth":
		return 12, many, true
	case "sixteenth":
		return 16, many, true
	case "hundredth":
		return 100, many, true
	case "thousandth":
		return 1000, many, true
	}
	return 0, false, false
}
