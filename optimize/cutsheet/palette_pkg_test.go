package cutsheet

import (
	"math"
	"strconv"
	"testing"
)

// luminance and contrast follow the definitions of "relative luminance" and
// "contrast ratio" in the Web Content Accessibility Guidelines (WCAG) 2.2, W3C.
func luminance(t *testing.T, color string) float64 {
	t.Helper()
	if len(color) != 7 || color[0] != '#' {
		t.Fatalf("color %q: want # and six digits", color)
	}
	sum := 0.0
	for i, weight := range [...]float64{0.2126, 0.7152, 0.0722} {
		n, err := strconv.ParseUint(color[1+2*i:3+2*i], 16, 8)
		if err != nil {
			t.Fatal(err)
		}
		c := float64(n) / 255
		if c <= 0.04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		sum += float64(weight * c)
	}
	return sum
}

func contrast(t *testing.T, a, b string) float64 {
	t.Helper()
	la, lb := luminance(t, a), luminance(t, b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

func TestContrast(t *testing.T) {
	// The ends of the scale, by the same definitions.
	if c := contrast(t, "#000000", "#ffffff"); math.Abs(c-21) > 1e-9 {
		t.Fatalf("black on white has a contrast of %v, want 21", c)
	}
	if c := contrast(t, "#123456", "#123456"); c != 1 {
		t.Fatalf("a color on itself has a contrast of %v, want 1", c)
	}
	type palette struct{ paper, ink, quiet, wood, waste, hatch, blade string }
	for name, c := range map[string]palette{
		"light": {paper, ink, quiet, wood, waste, hatch, blade},
		"dark":  {darkPaper, darkInk, darkQuiet, darkWood, darkWaste, darkHatch, darkBlade},
	} {
		for _, pair := range []struct {
			what, front, back string
			want              float64
		}{
			{"text on the page", c.ink, c.paper, 7},
			{"keys and what is counted", c.paper, c.ink, 7},
			{"text on a piece", c.ink, c.wood, 4.5},
			{"notes on the page", c.quiet, c.paper, 4.5},
			{"headings on the page", c.blade, c.paper, 4.5},
			{"edge of a piece", c.ink, c.wood, 3},
			{"edge of a piece against its waste", c.ink, c.waste, 3},
			{"edge of a piece on the page", c.ink, c.paper, 3},
			{"saw cut in a piece", c.blade, c.wood, 3},
			{"saw cut in the waste", c.blade, c.waste, 3},
			{"hatching of an offcut", c.hatch, c.paper, 3},
			{"crosses on what is squared off", c.hatch, c.waste, 3},
			{"uprights of pieces drawn together", c.hatch, c.wood, 3},
			{"line to a label", c.quiet, c.paper, 3},
		} {
			if got := contrast(t, pair.front, pair.back); got < pair.want {
				t.Errorf("%s, %s: %s on %s has a contrast of %.2f, want %v", name, pair.what, pair.front, pair.back, got, pair.want)
			}
		}
	}
}
