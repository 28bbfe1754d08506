package typeset

import "strings"

// Markup writes SVG and HTML that is also well-formed XML. Names of elements
// and attributes must be trusted; text and values may be untrusted and are made
// visible and escaped only here. The zero value is empty.
type Markup struct {
	Spans bool // each length gets a span that keeps it on one line: of class one, or long beyond KeptMost cells

	b     strings.Builder
	stack []string
}

var escaper = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&#34;", "'", "&#39;")

// Escape returns foreign text as XML, with invisible characters spelled out.
func Escape(s string) string { return escaper.Replace(Visible(Unmarked(s))) }

func (m *Markup) tag(name string, attrs []string, end string) {
	m.b.WriteByte('<')
	m.b.WriteString(name)
	for i := 0; i+1 < len(attrs); i += 2 {
		m.b.WriteString(" " + attrs[i] + `="` + Escape(attrs[i+1]) + `"`)
	}
	m.b.WriteString(end)
}

// Open starts an element; attributes are names and values in turn.
func (m *Markup) Open(name string, attrs ...string) {
	m.tag(name, attrs, ">")
	m.stack = append(m.stack, name)
}

// Close ends the element that was opened last.
func (m *Markup) Close() {
	last := len(m.stack) - 1
	m.b.WriteString("</" + m.stack[last] + ">")
	m.stack = m.stack[:last]
}

// Void writes an element without content.
func (m *Markup) Void(name string, attrs ...string) { m.tag(name, attrs, "/>") }

// Chars writes text, with lengths in separate spans if Spans is set.
func (m *Markup) Chars(s string) {
	if m.Spans {
		s = KeepLengths(s)
	}
	for m.Spans {
		before, rest, found := strings.Cut(s, lengthStart)
		length, after, closed := strings.Cut(rest, lengthEnd)
		if !found || !closed {
			break
		}
		m.b.WriteString(Escape(before))
		m.Open("span", "class", keptClass(length))
		m.b.WriteString(Escape(length))
		m.Close()
		s = after
	}
	m.b.WriteString(Escape(s))
}

// Leaf writes an element that holds text only.
func (m *Markup) Leaf(name, text string, attrs ...string) {
	m.Open(name, attrs...)
	m.Chars(text)
	m.Close()
}

// Line starts a new line of the source.
func (m *Markup) Line() { m.b.WriteByte('\n') }

// Raw writes markup of the caller's own as it is.
func (m *Markup) Raw(s string) { m.b.WriteString(s) }

// String returns the text written so far.
func (m *Markup) String() string { return m.b.String() }

// KeptMost is the greatest number of cells of a length that is never broken: what a
// telephone shows in one line. Only lengths in words are longer.
const KeptMost = 24

// keptClass is the class of a length in running text.
func keptClass(length string) string {
	if Cells(length) > KeptMost {
		return "long"
	}
	return "one"
}
