package typeset

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

// A length broken between feet and inches reads as another length: 11' at the end of a
// line is a length, too. So lengths pass through the package between two marks, which
// every rendering removes after it has broken lines. The marks are bytes that never
// occur in UTF-8, so text must be valid UTF-8.
const (
	lengthStart = "\xfe"
	lengthEnd   = "\xff"
)

// Unbroken marks a length.
func Unbroken(length string) string { return lengthStart + length + lengthEnd }

// IsMark reports whether b is one of the two marks of [Unbroken].
func IsMark(b byte) bool { return b == lengthStart[0] || b == lengthEnd[0] }

// Unmarked removes the marks.
func Unmarked(s string) string {
	if strings.IndexByte(s, lengthStart[0]) < 0 && strings.IndexByte(s, lengthEnd[0]) < 0 {
		return s
	}
	b := make([]byte, 0, len(s))
	for i := range len(s) {
		if !IsMark(s[i]) {
			b = append(b, s[i])
		}
	}
	return string(b)
}

// spelled returns s with every character for which spell returns true replaced, and
// its marks unchanged.
func spelled(s string, spell func(rune) (string, bool)) string {
	var b strings.Builder
	for i, size := 0, 0; i < len(s); i += size {
		var r rune
		r, size = utf8.DecodeRuneInString(s[i:])
		if IsMark(s[i]) {
			b.WriteByte(s[i])
		} else if text, ok := spell(r); ok {
			b.WriteString(text)
		} else {
			b.WriteRune(r)
		}
	}
	return b.String()
}

// written finds text that looks like a length, such as 12' 3-1/2", 7 ft 4 in, 88 3/4 or
// 2253 mm. Its first group is the feet of feet and inches.
var written = regexp.MustCompile(`(\d+(?:\.\d+)?(?:['\x{2032}]| ?ft\b))[ -]?\d+(?:[ -]\d+/\d+|/\d+|\.\d+)?(?:["\x{2033}]| ?in\b)?` +
	`|\d+(?:[ -]\d+/\d+|/\d+|\.\d+)? ?(?:["\x{2033}]|(?:ft|in|mm|cm|m)\b)|\d+[ -]\d+/\d+`)

// other matches if the preceding number is not in inches.
var other = regexp.MustCompile(`^(?:['\x{2032}]| ?(?:ft|mm|cm|m)\b)`)

// KeepLengths marks the lengths in text that is not yet marked, such as labels.
func KeepLengths(s string) string {
	var b strings.Builder
	for s != "" {
		marked, rest := len(s), len(s)
		if i := strings.IndexByte(s, lengthStart[0]); i >= 0 {
			marked = i
			if i := strings.IndexByte(s, lengthEnd[0]); i > marked {
				rest = i + 1
			}
		}
		for free := s[:marked]; ; {
			m := written.FindStringSubmatchIndex(free)
			if m == nil {
				b.WriteString(free)
				break
			}
			end := m[1]
			if m[2] >= 0 && other.MatchString(free[end:]) {
				end = m[3] // 9' 12' 3" and 9' 12 mm: the twelve belongs to the next length
			}
			b.WriteString(free[:m[0]] + Unbroken(free[m[0]:end]))
			free = free[end:]
		}
		b.WriteString(s[marked:rest])
		s = s[rest:]
	}
	return b.String()
}

// words splits s at spaces, but not inside a length.
func words(s string) []string {
	var out []string
	start, inside := -1, false
	for i, r := range s {
		switch {
		case s[i] == lengthStart[0]:
			inside = true
		case s[i] == lengthEnd[0]:
			inside = false
		case unicode.IsSpace(r) && !inside:
			if start >= 0 {
				out = append(out, s[start:i])
			}
			start = -1
			continue
		}
		if start < 0 {
			start = i
		}
	}
	if start >= 0 {
		out = append(out, s[start:])
	}
	return out
}
