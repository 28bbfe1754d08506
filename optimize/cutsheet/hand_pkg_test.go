package cutsheet

import (
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
)

// However a piece lies, for an end at the left of the blade the piece to the left is kept only if it is
// a right end, and the saw is swung toward the end's long point: seen from above, an end at the left
// whose long point is at the fence leans like a miter to the right. Derived from the drawing of the saw
// in the comment of joint.Cut.Hand.
func TestHandOfTurnedPieces(t *testing.T) {
	s := &Sheet{}
	seen := map[string]bool{}
	for _, kind := range []stock.EndKind{stock.EndInsideMiter, stock.EndOutsideMiter, stock.EndCope, stock.EndFlatMiter, stock.EndReturn, stock.EndScarfOver, stock.EndScarfUnder, stock.EndSquare} {
		for _, turn := range []optimize.Turn{{}, {EndForEnd: true}, {Rolled: true}, {EndForEnd: true, Rolled: true}} {
			pc := &stock.Piece{Left: stock.End{Kind: kind}, Right: stock.End{Kind: kind}}
			left, right := sides(pc, turn)
			for at, e := range map[joint.Side]side{joint.SideLeft: left, joint.SideRight: right} {
				want := ""
				if kind != stock.EndSquare {
					keep, swing := "right", "left"
					if upward(e) {
						swing = "right"
					}
					if at == joint.SideRight {
						keep = "left"
						swing = map[string]string{"left": "right", "right": "left"}[swing]
					}
					want = "miter " + swing + ", keep " + keep
				}
				got := s.handOf(e, at, turn)
				if got != want {
					t.Errorf("%v %v, at the %v: %q, want %q", kind, turn, at, got, want)
				}
				seen[got] = true
			}
		}
	}
	if len(seen) != 5 {
		t.Errorf("only %v were seen", seen)
	}
	crown := &Sheet{options: Options{Profile: &stock.Profile{Role: stock.RoleCrown}}}
	if got := crown.handOf(side{stock.End{Kind: stock.EndInsideMiter}, stock.SectionBack}, joint.SideLeft, optimize.Turn{EndForEnd: true}); got != "" {
		t.Errorf("turned crown: %q", got)
	}
}

// Two ends made by one cut are cut with the saw swung to the same side, and the pieces kept are at
// different sides of the blade.
func TestSharedCutsHaveOneSetting(t *testing.T) {
	s := &Sheet{}
	turns := []optimize.Turn{{}, {EndForEnd: true}, {Rolled: true}, {EndForEnd: true, Rolled: true}}
	shared := 0
	for _, kind := range []stock.EndKind{stock.EndInsideMiter, stock.EndOutsideMiter, stock.EndFlatMiter} {
		e := stock.End{Kind: kind, Setback: measure.Inch}
		for _, a := range turns {
			for _, b := range turns {
				_, right := sides(&stock.Piece{Left: e, Right: e}, a)
				left, _ := sides(&stock.Piece{Left: e, Right: e}, b)
				one, other := s.handOf(right, joint.SideRight, a), s.handOf(left, joint.SideLeft, b)
				same := strings.TrimSuffix(one, ", keep left") == strings.TrimSuffix(other, ", keep right")
				if parallel(right, left) != same {
					t.Errorf("%v, %v beside %v: %q and %q", kind, a, b, one, other)
				}
				if same {
					shared++
				}
			}
		}
	}
	if shared != 24 {
		t.Errorf("%d neighbors share a cut", shared)
	}
}
