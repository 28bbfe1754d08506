package devtools

import (
	"bytes"
	"compress/zlib"
	"io"
	"regexp"
	"testing"
)

// Filled returns the pure colors with which each page of a PDF is painted, in the order of the
// file, omitting repetitions.
func Filled(t testing.TB, pdf []byte) (pages [][]string) {
	t.Helper()
	objects := map[string][]byte{}
	for _, m := range regexp.MustCompile(`(?s)\n(\d+) 0 obj\n(.*?)\nendobj`).FindAllSubmatch(pdf, -1) {
		objects[string(m[1])] = m[2]
	}
	for _, m := range regexp.MustCompile(`(?s)\n\d+ 0 obj\n<<[^\n]*/Type /Page\n.*?/Contents (\d+) 0 R`).FindAllSubmatch(pdf, -1) {
		_, stream, _ := bytes.Cut(objects[string(m[1])], []byte("stream\n"))
		r, err := zlib.NewReader(bytes.NewReader(stream))
		if err != nil {
			t.Fatal(err)
		}
		content, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		fills := []string{}
		for _, c := range regexp.MustCompile(`(?m)^([01] [01] [01]) RG`).FindAllSubmatch(content, -1) {
			if c := string(c[1]); len(fills) == 0 || fills[len(fills)-1] != c {
				fills = append(fills, c)
			}
		}
		pages = append(pages, fills)
	}
	return pages
}
