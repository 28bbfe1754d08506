package svgcheck_test

import (
	"strings"
	"testing"

	"example.com/longpoint/internal/svg/svgcheck"
)

const frame = `<svg role="img" aria-label="t" viewBox="0 0 100 50"><title>t</title><desc>d</desc>BODY</svg>`

// A check that finds nothing wrong with anything would pass every picture.
func TestCheckFinds(t *testing.T) {
	for name, c := range map[string]struct{ body, want string }{
		"nothing":       {`<g><title>one</title><line x1="0" y1="0" x2="100" y2="50"/></g><text x="10" y="20" font-size="10">abc</text><text x="10" y="40" font-size="10">def</text>`, ""},
		"overlap":       {`<text x="10" y="20" font-size="10">abc</text><text x="20" y="22" font-size="10">def</text>`, "overlaps"},
		"outside":       {`<text x="90" y="20" font-size="10">abc</text>`, "not within"},
		"anchored":      {`<text x="10" y="20" font-size="10" text-anchor="end">abc</text>`, "not within"},
		"turned":        {`<text x="20" y="5" font-size="10" transform="rotate(-90 20 5)">abc</text>`, "not within"},
		"shape outside": {`<rect x="90" y="0" width="20" height="5"/>`, "outside"},
		"circle":        {`<circle cx="5" cy="5" r="6"/>`, "outside"},
		"path":          {`<path d="M10 10L10 60"/>`, "outside"},
		"id":            {`<rect id="a" width="1" height="1"/>`, "attribute id"},
		"script":        {`<script>alert(1)</script>`, "<script>"},
		"handler":       {`<rect onclick="x" width="1" height="1"/>`, "attribute onclick"},
		"open":          {`<g>`, "EOF"},
		"stray text":    {`<g>abc</g>`, "text"},
		"odd transform": {`<text x="20" y="5" font-size="10" transform="scale(2)">abc</text>`, "transform"},
	} {
		p, err := svgcheck.Check([]byte(strings.Replace(frame, "BODY", c.body, 1)))
		switch {
		case c.want == "" && err != nil, c.want != "" && err == nil:
			t.Errorf("%s: %v", name, err)
		case c.want == "" && (len(p.Texts) != 2 || p.Words() != "abc\ndef\n" || p.Shapes[0].Group != "one"):
			t.Errorf("%s: %+v", name, p)
		case c.want == "open" || err != nil && !strings.Contains(err.Error(), c.want) && name != "open":
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
	if _, err := svgcheck.Check([]byte(`<svg role="img" aria-label="t" viewBox="0 0 9 9"><title> </title><desc>d</desc></svg>`)); err == nil {
		t.Error("a picture without a title passes")
	}
	if _, err := svgcheck.Check([]byte("<svg\xff>")); err == nil {
		t.Error("text that is not UTF-8 passes")
	}
}
