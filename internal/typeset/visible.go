// Package typeset prepares untrusted text for a terminal and for a page. Characters that
// are invisible, control a terminal or move the text around them are spelled out, so
// that the reader sees every character; markup is escaped; and lines never break inside
// lengths.
package typeset

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Visible spells out control characters, formatting characters that affect the
// direction of other text, line separators and invalid characters.
func Visible(s string) string {
	if !strings.ContainsFunc(s, hidden) {
		return s
	}
	return spelled(s, func(r rune) (string, bool) {
		if hidden(r) {
			return spell(r), true
		}
		return "", false
	})
}

func hidden(r rune) bool {
	switch {
	case r >= ' ' && r < 0x7f:
		return false
	case unicode.In(r, unicode.Cc, unicode.Zl, unicode.Zp), r&0xfffe == 0xfffe, 0xfdd0 <= r && r <= 0xfdef:
		return true
	case 0x200c <= r && r <= 0x200f, r == 0x061c: // joiners of scripts and emoji, marks of direction
		return false
	}
	return unicode.Is(unicode.Cf, r)
}

func spell(r rune) string {
	switch {
	case r == '\n':
		return `\n`
	case r == '\r':
		return `\r`
	case r == '\t':
		return `\t`
	case r < 0x80:
		return fmt.Sprintf(`\x%02x`, r)
	case r < 0x10000:
		return fmt.Sprintf(`\u%04x`, r)
	}
	return fmt.Sprintf(`\U%08x`, r)
}

// ASCII is Visible for a device that shows only ASCII.
func ASCII(s string) string {
	return spelled(s, func(r rune) (string, bool) {
		switch {
		case r == '°':
			return " deg", true
		case r >= 0x80 || hidden(r):
			return spell(r), true
		}
		return "", false
	})
}

// wide lists the blocks whose characters take two cells of a terminal: East
// Asian wide and full-width characters and emoji. From memory, and generous: an
// extra cell does no harm.
var wide = &unicode.RangeTable{
	R16: []unicode.Range16{
		{0x1100, 0x115f, 1}, {0x231a, 0x231b, 1}, {0x23e9, 0x23fa, 1}, {0x25fd, 0x25fe, 1}, {0x2600, 0x27bf, 1},
		{0x2b05, 0x2b55, 1}, {0x2e80, 0x303e, 1}, {0x3041, 0xa4cf, 1}, {0xa960, 0xa97f, 1}, {0xac00, 0xd7a3, 1},
		{0xf900, 0xfaff, 1}, {0xfe10, 0xfe19, 1}, {0xfe30, 0xfe6f, 1}, {0xff00, 0xff60, 1}, {0xffe0, 0xffe6, 1},
	},
	R32: []unicode.Range32{
		{0x16fe0, 0x18cff, 1}, {0x1aff0, 0x1b2ff, 1}, {0x1f000, 0x1faff, 1}, {0x20000, 0x3fffd, 1},
	},
}

// Cells returns the number of terminal cells of s.
func Cells(s string) int {
	n := 0
	for i, r := range s {
		if !IsMark(s[i]) {
			n += RuneCells(r)
		}
	}
	return n
}

// RuneCells returns the number of terminal cells of a character: 0, 1 or 2.
func RuneCells(r rune) int {
	switch {
	case r < 0x300:
		return 1
	case unicode.In(r, unicode.Mn, unicode.Me, unicode.Cf):
		return 0
	case unicode.Is(wide, r):
		return 2
	}
	return 1
}

// Clip shortens s to n cells. It omits the middle, since labels that begin alike
// ("door casing leg left", "... leg right") differ at the end.
func Clip(s string, n int, dots string) string {
	s = Unmarked(s)
	if Cells(s) <= n {
		return s
	}
	n -= Cells(dots)
	if n < 1 {
		return firstCells(dots, max(0, n+Cells(dots)))
	}
	head := firstCells(s, (n+1)/2)
	rest, tail := n-Cells(head), len(s)
	for tail > len(head) {
		r, size := utf8.DecodeLastRuneInString(s[:tail])
		if rest -= RuneCells(r); rest < 0 {
			break
		}
		tail -= size
	}
	// A combining mark belongs to the omitted character.
	for tail < len(s) {
		r, size := utf8.DecodeRuneInString(s[tail:])
		if RuneCells(r) > 0 {
			break
		}
		tail += size
	}
	return head + dots + s[tail:]
}

// firstCells returns the start of s that takes at most n cells.
func firstCells(s string, n int) string {
	for i, r := range s {
		if IsMark(s[i]) {
			continue
		}
		if n -= RuneCells(r); n < 0 {
			return s[:i]
		}
	}
	return s
}

// Wrap breaks s into lines of at most n cells, at spaces if possible, and inside
// a length only if it is longer than a line.
func Wrap(s string, n int) []string {
	var lines []string
	line, used := "", 0
	flush := func() {
		lines, line, used = append(lines, line), "", 0
	}
	all := words(s)
	for len(all) > 0 {
		word := all[0]
		all = all[1:]
		w := Cells(word)
		if w > n && strings.Contains(word, lengthStart) {
			all = append(strings.Fields(Unmarked(word)), all...)
			continue
		}
		if used > 0 && used+1+w > n {
			flush()
		}
		for w > n {
			head := firstCells(word, max(n, 2))
			if i := splits(word, len(head)); i > 0 {
				head = word[:i]
			}
			if head == "" {
				break
			}
			line = head
			flush()
			word = word[len(head):]
			w -= Cells(head)
		}
		if used > 0 {
			line, used = line+" ", used+1
		}
		line, used = line+word, used+w
	}
	if line != "" || len(lines) == 0 {
		flush()
	}
	return lines
}

// splits returns the start of the spelled-out character that a break at an index of s
// would split, or zero if there is none.
func splits(s string, at int) int {
	for i := at - 1; i >= 0 && i > at-len(`\U00000000`); i-- {
		if s[i] != '\\' || i+1 >= len(s) {
			continue
		}
		long := map[byte]int{'x': 4, 'u': 6, 'U': 10}[s[i+1]]
		if long == 0 || i+long <= at {
			return 0
		}
		return i
	}
	return 0
}

var rightToLeft = &unicode.RangeTable{
	R16: []unicode.Range16{{0x0590, 0x08ff, 1}, {0x200f, 0x200f, 1}, {0xfb1d, 0xfdff, 1}, {0xfe70, 0xfefc, 1}},
	R32: []unicode.Range32{{0x10800, 0x10fff, 1}, {0x1e800, 0x1efff, 1}},
}

// Isolate keeps right-to-left text from reversing the line around it.
func Isolate(s string) string {
	if strings.ContainsFunc(s, func(r rune) bool { return unicode.Is(rightToLeft, r) }) {
		return "\u2068" + s + "\u2069"
	}
	return s
}
