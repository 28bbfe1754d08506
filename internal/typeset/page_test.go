package typeset_test

import (
	"encoding/xml"
	"io"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/internal/typeset"
)

// The title of a page is one text whatever it contains: an element in it would be shown literally.
// Elsewhere lengths have spans.
func TestHead(t *testing.T) {
	for _, title := range []string{"Cut sheet", `base 12' 3-1/2" and 7 ft 4 in`, `</title><script>alert(1)</script>`, "a\x1bb"} {
		m := typeset.Markup{Spans: true}
		m.Head(title, "p { margin: 0; }\n")
		m.Chars(`12' 3"`)
		m.Close()
		m.Close()
		got := m.String()
		head, body, _ := strings.Cut(got, "<body>")
		if !strings.Contains(body, `<span class="one">12&#39; 3&#34;</span>`) {
			t.Errorf("%q: the body is %s", title, body)
		}
		if n := strings.Count(head, "<title>"+typeset.Escape(title)+"</title>"); n != 1 {
			t.Errorf("%q: the head is %s", title, head)
		}
		d := xml.NewDecoder(strings.NewReader(got))
		var err error
		for err == nil {
			_, err = d.Token()
		}
		if err != io.EOF {
			t.Errorf("%q: %v in\n%s", title, err, got)
		}
	}
}

// Nothing that a string of CSS is made of ends it, and all of it is there: a browser reads back
// the rules of CSS Syntax Module Level 3, section 4.3.7, for escapes.
func TestQuotedCSS(t *testing.T) {
	safe := regexp.MustCompile(`^"(?:[0-9A-Za-z]|\\[0-9a-f]{6})*"$`)
	number := regexp.MustCompile(`\\[0-9a-f]{6}`)
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{`"; } body { display: none`, `</style>`, "a\nb", `\`, "12' 3\"", "柱"})).Draw(t, "text")
		got := typeset.QuotedCSS(text)
		if !safe.MatchString(got) {
			t.Fatalf("%q becomes %s", text, got)
		}
		back := number.ReplaceAllStringFunc(strings.Trim(got, `"`), func(s string) string {
			var r rune
			for _, c := range s[1:] {
				r = r<<4 | rune(strings.IndexRune("0123456789abcdef", c))
			}
			return string(r)
		})
		if back != typeset.Visible(typeset.Unmarked(text)) {
			t.Fatalf("%q reads back as %q", text, back)
		}
	})
}
