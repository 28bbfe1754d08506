package cutsheet_test

import (
	"context"
	"encoding/csv"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"
	ucd "unicode"
	"unicode/utf8"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
	"pgregory.net/rapid"
)

// hostile are labels that a person or a program might hand over, by mistake or not.
var hostile = []string{
	`<script>alert("x")</script>`, `</script><img src=x onerror=alert(1)>`, `"><svg onload='alert(1)'>`, `]]><!--`, `-->`, `</title></svg>`,
	`&lt;b&gt; &amp; &#x3c;script&#x3e;`, `{{.}} ${7*7} <?php ?>`, `javascript:alert(1)`,
	`=1+1`, `+1`, `-1`, `@SUM(A1)`, "\t=1", "\r=1", "  =HYPERLINK(\"http://example.com\")", `'=1`, `"=1`, `a;=1+1`, "a\n=1", "＝1＋1", "\u200b=1", "\u00a0=1", "|calc", "%0A",
	"NUL \x00 BEL \x07 ESC \x1b[31m DEL \x7f", "C1 \u0085 \u009b31m", "lines\u2028and\u2029paragraphs", "no character \ufffe \uffff \ufdd0 \U0001ffff",
	"right to left override \u202egnp.exe", "isolate \u2067 without end", "شباك الفصل", "חלון הכיתה 12", "\u200fmark",
	"👩🏽\u200d🔧 bay window 🪟🪟", "e\u0301\u0301\u0301\u0301 marks", "\u0301 starts with a mark", "全角の窓枠", "ﬁ ligature", "\ufeffBOM", "soft\u00adhyphen", "\U000e0041 tag",
	strings.Repeat("w", 5000), strings.Repeat("long words ", 400), strings.Repeat("窓", 300), " ", "   spaces   ", `back\slash`, `comma, "quote"`, "�",
}

// hostileJob has each hostile label on a stick, a piece, the title and wherever
// else text goes.
func hostileJob() (optimize.Problem, *cutsheet.Options) {
	p := optimize.Problem{Kerf: measure.Inch / 8}
	for i, l := range hostile {
		p.Sticks = append(p.Sticks, stock.Stick{Label: l, Length: ft(8, 0, measure.Length(i)), Price: 1000, Limit: 1})
		p.Pieces = append(p.Pieces, stock.Piece{Label: l, Length: ft(7, 0, measure.Length(i)), Run: l, Left: end(stock.EndCope, 0), Notes: []string{l, "rip 1/8\" off the lower edge"}})
	}
	return p, &cutsheet.Options{
		Title: strings.Join(hostile[:40], " "), Locale: measure.Locale{Currency: measure.Currency{Symbol: `<i>"&`}},
		Profile: &stock.Profile{Name: strings.Join(hostile[:30], " "), Thickness: measure.Inch, Width: measure.Inch},
	}
}

// elements are all that a sheet may consist of, with their attributes.
var elements = map[string]string{
	"svg":   "xmlns role aria-label viewBox width height font-family class preserveAspectRatio x y",
	"title": "", "desc": "", "g": "role aria-label",
	"rect": "x y width height fill stroke stroke-width class", "path": "d fill stroke stroke-width class",
	"text": "x y font-size fill font-weight textLength lengthAdjust xml:space class", "tspan": "class",
	"html": "lang", "head": "", "meta": "charset http-equiv content name", "style": "", "body": "", "main": "", "header": "",
	"h1": "", "h2": "", "p": "class aria-hidden", "bdi": "class", "section": "class", "table": "class", "caption": "", "colgroup": "", "col": "class", "thead": "", "tbody": "class", "tfoot": "",
	"tr": "class", "th": "scope class colspan", "td": "class colspan data-column", "input": "type aria-label autocomplete style", "label": "class", "span": "class", "div": "class", "b": "class", "details": "open", "summary": "",
}

// checkMarkup verifies that the text is well-formed XML of known elements and
// attributes and returns its character data and values.
func checkMarkup(t *testing.T, name, markup string) (texts []string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(markup))
	var open []string
	var text strings.Builder
	flush := func() {
		if text.Len() > 0 {
			texts = append(texts, text.String())
			text.Reset()
		}
	}
	for {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		switch token := token.(type) {
		case xml.StartElement:
			flush()
			known, ok := elements[token.Name.Local]
			if !ok {
				t.Errorf("%s: unexpected element %s", name, token.Name.Local)
			}
			for _, a := range token.Attr {
				attr := a.Name.Local
				if attr == "space" {
					attr = "xml:space"
				}
				if !slices.Contains(strings.Fields(known), attr) {
					t.Errorf("%s: unexpected attribute %s of %s", name, attr, token.Name.Local)
				}
				texts = append(texts, a.Value)
			}
			open = append(open, token.Name.Local)
		case xml.EndElement:
			flush()
			open = open[:len(open)-1]
		case xml.CharData:
			text.Write(token)
		case xml.Comment, xml.ProcInst:
			t.Errorf("%s: unexpected %T", name, token)
		case xml.Directive:
			if string(token) != "DOCTYPE html" {
				t.Errorf("%s: unexpected directive %q", name, token)
			}
		}
	}
	if len(open) != 0 {
		t.Errorf("%s: %v left open", name, open)
	}
	return texts
}

func TestMarkupIsWellFormed(t *testing.T) {
	for name, job := range jobs {
		p, o := job()
		s := sheet(t, p, o)
		svg, html := render(t, s, renderings[1]), render(t, s, renderings[2])
		checkMarkup(t, name+" SVG", svg)
		checkMarkup(t, name+" HTML", html)
		for _, text := range []string{svg, html} {
			if strings.Contains(strings.ToLower(text), "<script") || strings.Contains(text, " id=") || strings.Contains(text, "href") && name != "hostile" {
				t.Errorf("%s: a script, an id or a link", name)
			}
			noHidden(t, name, text, "\n")
		}
	}
}

// noHidden verifies that text has no character that acts instead of showing.
func noHidden(t *testing.T, name, text, allowed string) {
	t.Helper()
	if !utf8.ValidString(text) {
		t.Errorf("%s: not UTF-8", name)
	}
	for i, r := range text {
		bad := ucd.Is(ucd.Cc, r) || 0x2028 <= r && r <= 0x202e || 0x2066 <= r && r <= 0x2067 || r == 0xfeff || r == 0x200b || r&0xfffe == 0xfffe
		if bad && !strings.ContainsRune(allowed, r) {
			t.Errorf("%s: %U at %d", name, r, i)
			return
		}
	}
}

// What is escaped reads back: nothing is dropped on the way.
func TestLabelsSurviveInHTML(t *testing.T) {
	p, o := hostileJob()
	texts := checkMarkup(t, "HTML", kept.ReplaceAllString(render(t, sheet(t, p, o), renderings[2]), "$1"))
	for _, want := range []string{
		`<script>alert("x")</script>`, `</script><img src=x onerror=alert(1)>`, `&lt;b&gt; &amp; &#x3c;script&#x3e;`, "شباك الفصل", "全角の窓枠",
		`NUL \x00 BEL \x07 ESC \x1b[31m DEL \x7f`, `right to left override \u202egnp.exe`, strings.Repeat("w", 5000), `no character \ufffe \uffff \ufdd0 \U0001ffff`,
	} {
		if !slices.Contains(texts, want) {
			t.Errorf("label %.60q is not in the page", want)
		}
	}
}

func TestTextFitsTheTerminal(t *testing.T) {
	for name, job := range jobs {
		for _, style := range []measure.Style{{}, {Spoken: true}, {Unit: measure.Millimeter}} {
			for _, unicode := range []bool{false, true} {
				p, o := job()
				if o == nil {
					o = new(cutsheet.Options)
				}
				style.Graduation, style.Typographic = measure.Inch/16, true
				o.Unicode, o.Locale.Length = unicode, style
				plain := render(t, sheet(t, p, o), renderings[0])
				noHidden(t, name, plain, "\n")
				for line := range strings.Lines(plain) {
					line = strings.TrimSuffix(line, "\n")
					n := 0
					for _, r := range line {
						switch {
						case ucd.In(r, ucd.Mn, ucd.Me, ucd.Cf): // takes no cell
						case ucd.In(r, ucd.Han) || 0x1f000 <= r && r <= 0x1faff:
							n += 2
						default:
							n++
						}
					}
					if n > 80 {
						t.Fatalf("%s: a line of %d: %q", name, n, line)
					}
					if !unicode {
						for _, r := range line {
							if r < ' ' || r > '~' {
								t.Fatalf("%s: %U in ASCII: %q", name, r, line)
							}
						}
						if len(line) > 80 {
							t.Fatalf("%s: a line of %d: %q", name, len(line), line)
						}
					}
				}
				o.Color = true
				colored := render(t, sheet(t, p, o), renderings[0])
				if colored == plain {
					t.Errorf("%s: Color changes nothing", name)
				}
				if strings.NewReplacer("\x1b[1m", "", "\x1b[2m", "", "\x1b[0m", "").Replace(colored) != plain {
					t.Errorf("%s: Color changes more than the escape sequences", name)
				}
			}
		}
	}
}

func TestCSVIsHarmless(t *testing.T) {
	p, o := hostileJob()
	text := render(t, sheet(t, p, o), renderings[3])
	noHidden(t, "CSV", strings.TrimPrefix(text, "\ufeff"), "\r\n")
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll() // every row has as many fields as the first
	if err != nil {
		t.Fatal(err)
	}
	if want := 2 + 3*len(hostile); len(rows) != want { // head, sheet, and buy, piece and offcut of each
		t.Errorf("%d rows, want %d", len(rows), want)
	}
	labels := make(map[string]bool)
	for _, row := range rows {
		for _, field := range row {
			labels[field] = true
			bare := strings.TrimLeft(field, " \u00a0\u3000\"")
			if bare != "" && strings.ContainsAny(bare[:1], "=+-@\t\r\n|%") || strings.HasPrefix(bare, "＝") {
				t.Errorf("field %q starts a formula", field)
			}
		}
	}
	for _, want := range []string{`'=1+1`, `'+1`, `'-1`, `'@SUM(A1)`, `\t=1`, `'  =HYPERLINK("http://example.com")`, `''=1`, `'"=1`, `'＝1＋1`, `comma, "quote"`, `a;=1+1`} {
		if !labels[want] {
			t.Errorf("no field is %q", want)
		}
	}
	// By RFC 4180 lines end with CR LF; and a text is never bare, whatever the separator.
	if strings.Count(text, "\n") != strings.Count(text, "\r\n") || !strings.HasSuffix(text, "\r\n") {
		t.Error("a line does not end with CR LF")
	}
	_, below, _ := strings.Cut(text, "\r\n")
	for line := range strings.SplitSeq(strings.TrimSuffix(below, "\r\n"), "\r\n") {
		for i, part := range strings.Split(line, `"`) {
			if i%2 == 0 && strings.Trim(part, "0123456789.,") != "" {
				t.Errorf("outside of quotes: %q", part)
			}
		}
	}
}

func TestNotUTF8(t *testing.T) {
	bad := "a\xffb"
	p, o := base()
	plan := solve(t, p)
	for field, job := range map[string]func(p *optimize.Problem, o *cutsheet.Options){
		"sticks[1].label":                func(p *optimize.Problem, o *cutsheet.Options) { p.Sticks[1].Label = bad },
		"pieces[2].label":                func(p *optimize.Problem, o *cutsheet.Options) { p.Pieces[2].Label = bad },
		"pieces[2].run":                  func(p *optimize.Problem, o *cutsheet.Options) { p.Pieces[2].Run = bad },
		"sticks[0].profile":              func(p *optimize.Problem, o *cutsheet.Options) { p.Sticks[0].Profile = bad },
		"options.title":                  func(p *optimize.Problem, o *cutsheet.Options) { o.Title = bad },
		"options.locale.currency.symbol": func(p *optimize.Problem, o *cutsheet.Options) { o.Locale.Currency.Symbol = bad },
		"pieces[3].notes[1]":             func(p *optimize.Problem, o *cutsheet.Options) { p.Pieces[3].Notes = []string{"", bad} },
		"pieces[0].allowances[0].name": func(p *optimize.Problem, o *cutsheet.Options) {
			p.Pieces[0].Allowances = []stock.Allowance{{Name: bad}}
		},
	} {
		q, o := p, *o
		q.Sticks, q.Pieces = slices.Clone(p.Sticks), slices.Clone(p.Pieces)
		job(&q, &o)
		_, err := cutsheet.New(context.Background(), q, plan, &o)
		var input *measure.FieldError
		if !errors.As(err, &input) || input.Field != field {
			t.Errorf("%s: %v", field, err)
		}
	}
}

// Whatever a label is, every rendering can be made and read.
func TestAnyLabel(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		label := rapid.String().Draw(rt, "label")
		if label == "" {
			label = "x"
		}
		p := optimize.Problem{
			Sticks: []stock.Stick{{Label: label, Length: ft(8, 0, 0)}},
			Pieces: []stock.Piece{{Label: label, Length: ft(rapid.SampledFrom([]measure.Length{1, 7}).Draw(rt, "feet"), 0, 0)}},
		}
		s := sheet(t, p, &cutsheet.Options{Title: label, Unicode: rapid.Bool().Draw(rt, "unicode")})
		for _, r := range renderings[:3] {
			noHidden(t, fmt.Sprintf("%s of %q", r.ext, label), render(t, s, r), "\n")
		}
		checkMarkup(t, "SVG", render(t, s, renderings[1]))
		checkMarkup(t, "HTML", render(t, s, renderings[2]))
		if _, err := csv.NewReader(strings.NewReader(render(t, s, renderings[3]))).ReadAll(); err != nil {
			rt.Error(err)
		}
	})
}
