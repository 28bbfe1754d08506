package paper_test

import (
	"encoding/xml"
	"fmt"
	"io"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
	ucd "unicode"
	"unicode/utf8"

	"example.com/longpoint/finish/paper"
	"example.com/longpoint/internal/typeset"
	"pgregory.net/rapid"
)

// hostile are texts that a person or a program might hand over, by mistake or not.
var hostile = []string{
	`<script>alert("x")</script>`, `</script><img src=x onerror=alert(1)>`, `"><svg onload='alert(1)'>`, `]]><!--`, `-->`, `</title></style>`,
	`&lt;b&gt; &amp; &#x3c;script&#x3e;`, `{{.}} ${7*7} <?php ?>`, `javascript:alert(1)`, `} body { display: none } @import url(x);`,
	"NUL \x00 BEL \x07 ESC \x1b[31m DEL \x7f", "form\ffeed", "C1 \u0085 \u009b31m", "lines\u2028and\u2029paragraphs", "no character \ufffe \uffff \ufdd0 \U0001ffff",
	"right to left override \u202egnp.exe", "isolate \u2067 without end", "pop \u2069\u2069", "شباك الفصل", "חלון הכיתה 12", "\u200fmark",
	"👩🏽\u200d🔧 bay window 🪟🪟", "e\u0301\u0301\u0301\u0301 marks", "\u0301 starts with a mark", "全角の窓枠", "ﬁ ligature", "\ufeffBOM", "soft\u00adhyphen", "\U000e0041 tag",
	strings.Repeat("w", 5000), strings.Repeat("long words ", 400), strings.Repeat("窓", 300), "   spaces   ", "tab\tand\nline\r\n", `back\slash`, "�", `7' 4-3/4" and 12 ft 3 in`, `[ ] - ! = _`,
}

// everywhere puts a text into every text field of a document.
func everywhere(v reflect.Value, text string) {
	switch v.Kind() {
	case reflect.String:
		v.SetString(text)
	case reflect.Pointer:
		everywhere(v.Elem(), text)
	case reflect.Slice:
		for i := range v.Len() {
			everywhere(v.Index(i), text)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				everywhere(v.Field(i), text)
			}
		}
	}
}

// papersOf are both documents with one text in every place.
func papersOf(text string) []paperOf {
	p, s := schoolhouse(), week()
	p.ChangeRule = "x"
	p.Cautions = []paper.Caution{{About: "x", Text: "x", Source: "x"}}
	everywhere(reflect.ValueOf(p), text)
	everywhere(reflect.ValueOf(s), text)
	return []paperOf{p, s}
}

// elements are all that a page may consist of, with their attributes.
var elements = map[string]string{
	"html": "lang", "head": "", "meta": "charset http-equiv content name", "title": "", "style": "", "body": "", "main": "", "header": "",
	"h1": "", "h2": "", "h3": "", "h4": "", "p": "class", "b": "", "bdi": "", "span": "class", "section": "class", "div": "class role aria-label",
	"dl": "", "dt": "", "dd": "", "ul": "class", "li": "", "label": "",
	"table": "", "thead": "", "tbody": "", "tfoot": "", "tr": "class", "th": "scope class colspan", "td": "class colspan data-column",
	"input": "type aria-label autocomplete",
}

// page is the list of the parts of a page, in order.
type page struct {
	texts []string // character data and values
	marks []xml.Token
}

// read takes a page apart and verifies that it is well-formed and of known elements.
func read(t *testing.T, markup string) (p page) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(markup))
	depth := 0
	for {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		token = xml.CopyToken(token)
		p.marks = append(p.marks, token)
		switch token := token.(type) {
		case xml.StartElement:
			known, ok := elements[token.Name.Local]
			if !ok {
				t.Errorf("unexpected element %s", token.Name.Local)
			}
			for _, a := range token.Attr {
				if !slices.Contains(strings.Fields(known), a.Name.Local) {
					t.Errorf("unexpected attribute %s of %s", a.Name.Local, token.Name.Local)
				}
				p.texts = append(p.texts, a.Value)
			}
			depth++
		case xml.EndElement:
			depth--
		case xml.CharData:
			p.texts = append(p.texts, string(token))
		case xml.Comment, xml.ProcInst:
			t.Errorf("unexpected %T", token)
		case xml.Directive:
			if string(token) != "DOCTYPE html" {
				t.Errorf("unexpected directive %q", token)
			}
		}
	}
	if depth != 0 {
		t.Errorf("%d elements are left open", depth)
	}
	return p
}

// noHidden verifies that text has no control characters.
func noHidden(t *testing.T, text, allowed string) {
	t.Helper()
	if !utf8.ValidString(text) {
		t.Error("not UTF-8")
	}
	for i, r := range text {
		bad := ucd.Is(ucd.Cc, r) || 0x2028 <= r && r <= 0x202e || 0x2066 <= r && r <= 0x2067 || r == 0xfeff || r == 0x200b || r&0xfffe == 0xfffe
		if bad && !strings.ContainsRune(allowed, r) {
			t.Errorf("%U at %d", r, i)
			return
		}
	}
}

// isolated verifies that every isolate begins and ends on the same line.
func isolated(t *testing.T, lines string) {
	t.Helper()
	for line := range strings.Lines(lines) {
		depth := 0
		for _, r := range line {
			switch r {
			case 0x2068:
				depth++
			case 0x2069:
				depth--
			}
			if depth < 0 || depth > 1 {
				t.Fatalf("bidirectional isolates are not paired: %q", line)
			}
		}
		if depth != 0 {
			t.Fatalf("a bidirectional isolate does not end: %q", line)
		}
	}
}

var widths = []int{32, 33, 40, 80, 200, 1000}

// fits verifies that no line is longer than asked for or ends in a blank.
func fits(t *testing.T, p paperOf, width int) string {
	t.Helper()
	got := text(t, func(w io.Writer) error { return p.WriteText(w, width) })
	for line := range strings.Lines(got) {
		line = strings.TrimSuffix(line, "\n")
		if n := typeset.Cells(line); n > width || strings.HasSuffix(line, " ") {
			t.Fatalf("a line of %d cells, want at most %d: %q", n, width, line)
		}
	}
	return got
}

// footRule is the only foreign text in the style.
var footRule = regexp.MustCompile(`\n@page \{ @bottom-left \{ content: "([0-9A-Za-z]|\\[0-9a-f]{6})*" \} \}\n</style>`)

// Any text in any place leaves the page well-formed, is displayed literally, and stays within the width
// of a terminal.
func TestHostileText(t *testing.T) {
	for _, s := range hostile {
		t.Run(fmt.Sprintf("%.20q", s), func(t *testing.T) {
			for _, p := range papersOf(s) {
				got := text(t, p.WriteHTML)
				noHidden(t, got, "\n")
				if strings.Contains(strings.ToLower(got), "<script") || strings.Contains(got, " id=") || strings.Contains(got, " style=") {
					t.Error("a script, an id or a style")
				}
				if foot := footRule.FindString(got); foot == "" {
					t.Error("the foot of the page has special characters")
				}
				// Lengths and parts of texts have their own elements.
				var all strings.Builder
				for _, mark := range read(t, got).marks {
					if c, ok := mark.(xml.CharData); ok {
						all.Write(c)
					}
				}
				if n := strings.Count(all.String(), typeset.Visible(s)); n < 20 {
					t.Errorf("the text occurs %d times", n)
				}
				for _, width := range widths {
					got := fits(t, p, width)
					noHidden(t, got, "\n\f")
					isolated(t, got)
				}
			}
		})
	}
}

// Nothing is lost on the way to text: all that is not a blank is there.
func TestNothingIsLost(t *testing.T) {
	spaceless := func(s string) string { return strings.Join(strings.Fields(s), "") }
	for _, s := range hostile {
		long := strings.Repeat("w", 5000) == s
		for _, p := range papersOf(s) {
			for _, width := range []int{60, 1000} {
				got := spaceless(fits(t, p, width))
				want := spaceless(typeset.Visible(s))
				got = strings.NewReplacer("\u2068", "", "\u2069", "").Replace(got)
				if n := strings.Count(got, want); width == 1000 && !long && typeset.Cells(s) < 60 && n < 20 {
					t.Errorf("%.40q occurs %d times at width %d", s, n, width)
				}
			}
		}
	}
}

func TestAnyText(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s := rapid.String().Draw(rt, "text")
		if strings.TrimSpace(s) == "" {
			s = "x"
		}
		width := rapid.IntRange(32, 120).Draw(rt, "width")
		for _, p := range papersOf(s) {
			page := text(t, p.WriteHTML)
			noHidden(t, page, "\n")
			read(t, page)
			got := fits(t, p, width)
			noHidden(t, got, "\n\f")
			isolated(t, got)
		}
	})
}
