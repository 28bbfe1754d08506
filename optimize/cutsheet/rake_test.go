package cutsheet_test

import (
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
)

// A skirt is cut flat, at the angle from square that the saw reads, and every list says at
// which edge it is the longer. Crown that turns up a slope stays nested.
func TestRakedEndsInWords(t *testing.T) {
	turn := 73 * measure.Degree / 2
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: ft(16, 0, 0), Price: 3600}},
		Pieces: []stock.Piece{{
			Label: "skirt", Length: ft(14, 1, 7),
			Left:  stock.End{Kind: stock.EndPlumb, Angle: -turn, Setback: ft(0, 6, 15)},
			Right: stock.End{Kind: stock.EndRake, Angle: turn / 2, Setback: ft(0, 3, 1)},
		}},
	}
	board := stock.Profile{Name: "skirt board", Thickness: ft(0, 0, 12), Width: ft(0, 9, 4), Role: stock.RoleBase}
	crown := stock.Profile{Name: "crown", Thickness: ft(0, 0, 11), Width: ft(0, 3, 10), Role: stock.RoleCrown}
	for _, c := range []struct {
		of   stock.Profile
		want []string
	}{
		{board, []string{
			"left plumb cut 36.5 deg, long at the lower edge, right rake miter 18.2 deg+, long at the upper edge",
			"plumb cut 36.5 deg left end, upright: bevel 36.5 deg, or flat: miter 36.5 deg; miter left, keep right (flat)",
			"rake miter 18.2 deg+ right end, upright: bevel 18.2 deg+, or flat: miter 18.2 deg+; miter left, keep left (flat)",
			"at a flat miter or a cut for a slope, flat",
		}},
		{crown, []string{
			"right rake miter, bevel 18.2 deg+, long at the upper edge",
			"rake miter 18.2 deg+ right end, nested: bevel 18.2 deg+, or flat: miter 14.6 deg-, bevel 11.1 deg+",
		}},
	} {
		s := sheet(t, p, &cutsheet.Options{Profile: &c.of})
		text := strings.Join(strings.Fields(render(t, s, renderings[0])), " ")
		for _, want := range c.want {
			if !strings.Contains(text, want) {
				t.Errorf("%s: want %q in\n%s", c.of.Name, want, text)
			}
		}
		for _, r := range renderings {
			if out := render(t, s, r); r.ext == "html" && !strings.Contains(out, "lower edge") {
				t.Errorf("%s: the page does not say where the skirt is longer", c.of.Name)
			}
		}
	}
}
