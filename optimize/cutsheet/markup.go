package cutsheet

import (
	"strconv"
	"strings"
)

// markup writes SVG and HTML that is well-formed XML too. Names of elements and
// attributes are the package's own; text and values may be anybody's and are
// made visible and escaped here and nowhere else.
type markup struct {
	b     strings.Builder
	stack []string
	spans bool // lengths get an element that keeps them on one line
}

var escaper = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&#34;", "'", "&#39;")

func escape(s string) string { return escaper.Replace(visible(unmarked(s))) }

func (m *markup) tag(name string, attrs []string, end string) {
	m.b.WriteByte('<')
	m.b.WriteString(name)
	for i := 0; i+1 < len(attrs); i += 2 {
		m.b.WriteString(" " + attrs[i] + `="` + escape(attrs[i+1]) + `"`)
	}
	m.b.WriteString(end)
}

// open starts an element; attributes are names and values in turn.
func (m *markup) open(name string, attrs ...string) {
	m.tag(name, attrs, ">")
	m.stack = append(m.stack, name)
}

// close ends the element that was opened last.
func (m *markup) close() {
	last := len(m.stack) - 1
	m.b.WriteString("</" + m.stack[last] + ">")
	m.stack = m.stack[:last]
}

// void writes an element without content.
func (m *markup) void(name string, attrs ...string) { m.tag(name, attrs, "/>") }

func (m *markup) text(s string) {
	if m.spans {
		s = keepLengths(s)
	}
	for m.spans {
		before, rest, found := strings.Cut(s, lengthStart)
		length, after, closed := strings.Cut(rest, lengthEnd)
		if !found || !closed {
			break
		}
		m.b.WriteString(escape(before))
		m.open("span", "class", keptClass(length))
		m.b.WriteString(escape(length))
		m.close()
		s = after
	}
	m.b.WriteString(escape(s))
}

// leaf writes an element that holds text only.
func (m *markup) leaf(name, text string, attrs ...string) {
	m.open(name, attrs...)
	m.text(text)
	m.close()
}

// line starts a new line of the source.
func (m *markup) line() { m.b.WriteByte('\n') }

// num writes a coordinate.
func num(u unit) string {
	s := strconv.FormatInt(int64(u/100), 10)
	if u < 0 && u > -100 {
		s = "-0"
	}
	if f := u % 100; f != 0 {
		f = max(f, -f)
		s = strings.TrimRight(s+"."+strconv.Itoa(int(f/10))+strconv.Itoa(int(f%10)), "0")
	}
	return s
}
