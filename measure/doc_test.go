package measure_test

import (
	"flag"
	"os"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"example.com/longpoint/measure"
	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "rewrite the tables of spellings in doc.go")

// The tables of the package comment are made from the data of the parsers' tests, so that they show
// exactly the text that is parsed.
func TestSpellingTables(t *testing.T) {
	src, err := os.ReadFile("doc.go")
	if err != nil {
		t.Fatal(err)
	}
	head, _, ok := strings.Cut(string(src), "//\n// # Accepted spellings\n")
	if !ok {
		t.Fatal("doc.go has no heading for the tables")
	}

	var b strings.Builder
	b.WriteString(head)
	b.WriteString("//\n// # Accepted spellings\n//\n// [Parse] reads, among others, these; \\u and \\t stand for spaces that do not show:\n//\n")
	for _, c := range spellings {
		writeSpellings(&b, c.want, 0, c.idea, c.text)
	}
	b.WriteString("//\n// [ParseSpoken] reads these as well, and in them strong (+) and light (-):\n//\n")
	for _, c := range spoken {
		writeSpellings(&b, c.want, c.side, c.idea, c.text)
	}
	b.WriteString("package measure\n")

	if *update {
		if err := os.WriteFile("doc.go", []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if d := cmp.Diff(b.String(), string(src)); d != "" {
		t.Errorf("doc.go is not up to date; run go test ./measure -run TestSpellingTables -update (-want +got):\n%s", d)
	}
}

func writeSpellings(b *strings.Builder, l measure.Length, side int, idea string, texts []string) {
	mark := [...]string{" -", "", " +"}[side+1]
	b.WriteString("//\t" + l.String() + mark + ": " + idea + "\n")
	line := ""
	for i, s := range texts {
		s = visible(s)
		if i < len(texts)-1 {
			s += "   "
		}
		if utf8.RuneCountInString(line+s) > 76 {
			b.WriteString("//\t    " + strings.TrimRight(line, " ") + "\n")
			line = ""
		}
		line += s
	}
	b.WriteString("//\t    " + line + "\n")
}

// visible writes invisible spaces, or spaces that would be lost, as escapes.
func visible(s string) string {
	var b strings.Builder
	for i, r := range s {
		switch {
		case r == ' ' && (i == 0 || i == len(s)-1):
			b.WriteString(`\u0020`)
		case r != ' ' && !strconv.IsPrint(r):
			b.WriteString(strings.Trim(strconv.QuoteRuneToASCII(r), "'"))
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}
