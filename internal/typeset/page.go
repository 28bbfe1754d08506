package typeset

import (
	"fmt"
	"strings"
)

// Head begins a page of HTML, up to and including the start of its body. The page loads
// nothing and runs nothing, and a policy enforces that. The title may be untrusted text;
// the style must be trusted.
func (m *Markup) Head(title, style string) {
	m.Raw("<!DOCTYPE html>\n")
	m.Open("html", "lang", "en")
	m.Line()
	m.Open("head")
	m.Line()
	m.Void("meta", "charset", "utf-8")
	m.Line()
	m.Void("meta", "http-equiv", "Content-Security-Policy", "content", "default-src 'none'; style-src 'unsafe-inline'")
	m.Line()
	m.Void("meta", "name", "viewport", "content", "width=device-width, initial-scale=1")
	m.Line()
	spans := m.Spans
	m.Spans = false // a title has no elements
	m.Leaf("title", title)
	m.Spans = spans
	m.Line()
	m.Open("style")
	m.Raw("\n" + style)
	m.Close()
	m.Close()
	m.Line()
	m.Open("body")
}

// QuotedCSS returns untrusted text, made visible, as a CSS string. All characters except
// ASCII letters and digits are written as numeric escapes, so that nothing can end the
// string or the style, and no blank is lost, which a preceding escape would otherwise
// absorb.
func QuotedCSS(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range Visible(Unmarked(s)) {
		if '0' <= r && r <= '9' || 'A' <= r && r <= 'Z' || 'a' <= r && r <= 'z' {
			b.WriteRune(r)
		} else {
			fmt.Fprintf(&b, `\%06x`, r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
