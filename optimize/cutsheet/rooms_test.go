package cutsheet_test

import (
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
)

// rooms is casing and base for two rooms and a run along a third, whose studs are assumed, with work on
// it; a wall of the cloakroom is to be measured again.
func rooms() (optimize.Problem, *cutsheet.Options) {
	piece := func(label, room, wall string, l measure.Length, left, right stock.EndKind) stock.Piece {
		return stock.Piece{Label: label, Room: room, Wall: wall, Length: l, Left: stock.End{Kind: left}, Right: stock.End{Kind: right}}
	}
	const square, cope, out = stock.EndSquare, stock.EndCope, stock.EndOutsideMiter
	return optimize.Problem{
			Kerf:   measure.Inch / 8,
			Sticks: []stock.Stick{{Label: "pine 8", Length: ft(8, 0, 0), Price: 1210}, {Label: "pine 12", Length: ft(12, 0, 0), Price: 1815}},
			Pieces: []stock.Piece{
				piece("classroom N base", "classroom", "N", ft(7, 9, 4), square, cope),
				piece("classroom chimney", "classroom", "chimney", ft(4, 1, 1), out, out),
				piece("classroom chimney side", "classroom", "chimney", ft(1, 2, 9), cope, out),
				piece("cloakroom N base", "cloakroom", "N", ft(9, 2, 8), cope, square),
				piece("cloakroom E base", "cloakroom", "E", ft(5, 5, 5), square, square),
				piece("peg rail return", "", "", ft(0, 4, 0), square, square),
			},
			Runs: []stock.Run{{
				Label: "corridor N base", Room: "corridor", Wall: "N", Length: ft(15, 3, 0),
				Splice: stock.SpliceRule{At: studs(ft(2, 8, 0), ft(13, 0, 0)), Bevel: 45 * measure.Degree, Overlap: ft(0, 0, 9), Assumed: true},
				Notes:  []stock.RunNote{{From: ft(12, 0, 0), To: ft(13, 0, 0), Text: `notch the lower edge 12" x 4" up, 12' from the left end`}},
			}},
		}, &cutsheet.Options{
			Title: "Base", Job: "The old schoolhouse", Date: "November 30", Revision: "2", Width: 72,
			Locale: measure.Locale{Currency: measure.Currency{Symbol: "$"}},
			Hold:   []cutsheet.Hold{{Room: "cloakroom", Reason: "wall N was read twice, with two results"}},
			Tags:   cutsheet.TagGrid{ByRoom: true},
		}
}

// A room on hold for many reasons lists the first few, each once.
func TestReasonsToWait(t *testing.T) {
	p, o := rooms()
	for i := range 400 {
		o.Hold = append(o.Hold, cutsheet.Hold{Room: "cloakroom", Reason: strings.Repeat("x", i%20+1)})
	}
	text := flow(t, sheet(t, p, o), renderings[0])
	if want := "cloakroom, 2 pieces: wall N was read twice, with two results; x; xx; xxx; xxxx; xxxxx; xxxxxx; xxxxxxx; and 13 reasons more"; !strings.Contains(text, want) {
		t.Errorf("no %q in\n%s", want, text)
	}
}

// What is known about a piece is in every output for people: job and plan, order of the cuts, assumed
// studs, rooms on hold, work on one part of a run only, and how good the plan is.
func TestEveryFormSaysIt(t *testing.T) {
	p, o := rooms()
	p.MinRemnant = ft(7, 0, 0) // so that something is cut from a shorter one
	s := sheet(t, p, o)
	for _, c := range []struct{ in, want string }{
		{"txt svg html csv", "The old schoolhouse; November 30; revision 2; fingerprint " + s.Fingerprint()},
		{"txt html csv", "Cut in numbered order from the start of the stick, and measure each piece from the last cut."},
		{"svg", "Cut each stick from its start at the left, piece by piece, and measure each piece from the last cut."},
		{"txt svg html csv", "spliced on an assumed stud: find it first"},
		{"txt html csv", "from the left long point, on assumed studs: find them first"},
		{"txt svg html", "wait: cloakroom is on hold"},
		{"txt html csv", "wall N was read twice, with two results"},
		{"txt html csv", `notch the lower edge 12" x 4" up, 12' from the left end`},
		{"txt svg html csv", "clamp it; it is too short to hold by hand"},
		{"txt svg html", "Proven: no plan that keeps the rules of this job costs less than"},
	} {
		for _, r := range renderings[:4] {
			if text := flow(t, s, r); strings.Contains(" "+c.in+" ", " "+r.ext+" ") && !strings.Contains(text, c.want) {
				t.Errorf("%s: no %q in\n%s", r.ext, c.want, text)
			}
		}
	}
}
