package cutsheet_test

import (
	"html"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// A stick that is called by its length is not named twice in anything that people read; any other
// label stands behind the length.
func TestStickCalledByItsLength(t *testing.T) {
	for label, twice := range map[string]bool{"12'": false, "12 ft": true, "primed": true} {
		p := optimize.Problem{
			Sticks: []stock.Stick{{Label: label, Length: 12 * measure.Foot, Bundle: 2, TrimEnd: measure.Inch}},
			Pieces: []stock.Piece{{Label: "rail", Length: ft(8, 0, 0)}},
		}
		for _, r := range renderings {
			out := html.UnescapeString(render(t, sheet(t, p, nil), r))
			if r.ext == "csv" || r.ext == "json" { // for programs
				continue
			}
			named := strings.Contains(out, ", "+label) || strings.Contains(out, label+";") || strings.Contains(out, "; "+label) || strings.Contains(out, label+"</bdi>;")
			if named != twice {
				t.Errorf("%s of a stick %q names it besides its length: %v", r.ext, label, named)
			}
		}
	}
}
